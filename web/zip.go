package web

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"fmt"

	"tunwright/pricing/pack"
	"tunwright/pricing/paper/sheet"
	"tunwright/pricing/quotation"
)

// zipped is every paper of a revision in one file, with an index that says what each
// is, whom it is for and the SHA-256 by which it can be told from any other. The same
// revision gives the same bytes.
func zipped(q quotation.Quote, r quotation.Revision) ([]byte, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	index, err := indexOf(q, r)
	if err != nil {
		return nil, err
	}
	files := append([]quotation.Paper{{Name: "index.csv", Bytes: index}}, r.Snapshot.Papers...)
	for _, f := range files {
		w, err := z.CreateHeader(&zip.FileHeader{Name: f.Name, Method: zip.Deflate, Modified: r.IssuedAt})
		if err != nil {
			return nil, fmt.Errorf("zip %s: %w", f.Name, err)
		}
		if _, err := w.Write(f.Bytes); err != nil {
			return nil, fmt.Errorf("zip %s: %w", f.Name, err)
		}
	}
	if err := z.Close(); err != nil {
		return nil, fmt.Errorf("zip: %w", err)
	}
	return b.Bytes(), nil
}

func indexOf(q quotation.Quote, r quotation.Revision) ([]byte, error) {
	var b bytes.Buffer
	b.WriteString("\ufeff") // a spreadsheet takes the file for UTF-8 by this mark
	w := csv.NewWriter(&b)
	rows := [][]string{{"Quotation", "Revision", "State", "File", "Paper", "For", "SHA-256"}}
	for _, p := range r.Snapshot.Papers {
		title, who := paperOf(p.Name)
		sum := sha256.Sum256(p.Bytes)
		rows = append(rows, []string{q.Number, r.Letter, string(r.State), p.Name, title, who, hex.EncodeToString(sum[:])})
	}
	for _, row := range rows {
		for i := range row {
			row[i] = sheet.Guard(row[i])
		}
	}
	if err := w.WriteAll(rows); err != nil {
		return nil, fmt.Errorf("index: %w", err)
	}
	return b.Bytes(), nil
}

// paperOf tells title and receiver of a file by its name.
func paperOf(name string) (title, receiver string) {
	for _, p := range pack.Papers() {
		if of(p, name) {
			return p.Title, p.For
		}
	}
	return "Everything in one", "everybody"
}
