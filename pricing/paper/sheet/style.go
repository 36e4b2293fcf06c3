package sheet

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"tunwright/pricing/paper"
)

// styleKey is what a cell's look depends on.
type styleKey struct {
	title, bold, wrap, quote, tint, over, under bool
	inset                                       bool // stands off the figures of the column before it
	align                                       paper.Align
	format                                      string
}

// style makes a look once and remembers it.
func (b *book) style(key styleKey) (int, error) {
	if id, ok := b.styles[key]; ok {
		return id, nil
	}
	st := &excelize.Style{
		Font:      &excelize.Font{Bold: key.bold || key.title, Size: 10, Family: "Calibri"},
		Alignment: &excelize.Alignment{Vertical: "top", WrapText: key.wrap},
	}
	if key.inset {
		st.Alignment.Horizontal, st.Alignment.Indent = "left", 1
	}
	if key.title {
		st.Font.Size = 14
	}
	switch key.align {
	case paper.Right:
		st.Alignment.Horizontal = "right"
	case paper.Centre:
		st.Alignment.Horizontal = "center"
	}
	if key.tint {
		st.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"F1F3F4"}}
	}
	if key.over {
		st.Border = append(st.Border, excelize.Border{Type: "top", Style: 1, Color: "262B30"})
	}
	if key.under {
		st.Border = append(st.Border, excelize.Border{Type: "bottom", Style: 1, Color: "262B30"})
	}
	if key.format != "" {
		st.CustomNumFmt = &key.format
	}
	id, err := b.file.NewStyle(st)
	if err != nil {
		return 0, err
	}
	if key.quote {
		if id, err = b.quoted(id); err != nil {
			return 0, err
		}
	}
	b.styles[key] = id
	return id, nil
}

// quoted is a copy of a style with the mark that keeps text text.
func (b *book) quoted(id int) (int, error) {
	xfs := b.file.Styles.CellXfs
	if id < 0 || id >= len(xfs.Xf) {
		return 0, fmt.Errorf("no style %d", id)
	}
	xf, yes := xfs.Xf[id], true
	xf.QuotePrefix = &yes
	xfs.Xf = append(xfs.Xf, xf)
	xfs.Count = len(xfs.Xf)
	return xfs.Count - 1, nil
}

// sheetNames gives every table a tab's name: at most 31 characters, none of those a
// spreadsheet forbids, and each one once (ECMA-376-1, 18.2.19, and common practice
// of the programs).
func sheetNames(tables []paper.Table, taken ...string) []string {
	const longest = 31
	used := map[string]bool{"history": true}
	for _, name := range taken {
		used[strings.ToLower(name)] = true
	}
	names := make([]string, len(tables))
	for i, t := range tables {
		base := strings.Trim(strings.Map(func(r rune) rune {
			if strings.ContainsRune(`[]:*?/\`, r) || r < 0x20 {
				return '-'
			}
			return r
		}, t.Label()), "' ")
		if base == "" {
			base = fmt.Sprintf("Table %d", i+1)
		}
		name := clip(base, longest)
		for n := 2; used[strings.ToLower(name)]; n++ {
			suffix := fmt.Sprintf(" (%d)", n)
			name = clip(base, longest-len(suffix)) + suffix
		}
		used[strings.ToLower(name)] = true
		names[i] = name
	}
	return names
}

func clip(s string, n int) string {
	letters := []rune(s)
	if len(letters) <= n {
		return s
	}
	return strings.TrimRight(string(letters[:n]), "' ")
}

// repack writes the parts of the file again in the order of their names and without
// times, since the library's order changes from run to run.
func repack(data []byte) ([]byte, error) {
	in, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, err
	}
	files := slices.Clone(in.File)
	// The list of content types comes first, as readers that stream expect it.
	slices.SortFunc(files, func(a, b *zip.File) int { return strings.Compare(a.Name, b.Name) })
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, f := range files {
		if err := copyPart(w, f); err != nil {
			return nil, fmt.Errorf("%s: %w", f.Name, err)
		}
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

func copyPart(w *zip.Writer, f *zip.File) error {
	r, err := f.Open()
	if err != nil {
		return err
	}
	defer r.Close()
	part, err := w.CreateHeader(&zip.FileHeader{Name: f.Name, Method: zip.Deflate})
	if err != nil {
		return err
	}
	_, err = io.Copy(part, r)
	return err
}
