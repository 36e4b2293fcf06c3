// Package sheet writes tables as data: CSV for any program (RFC 4180) and XLSX
// workbooks with real numbers, number formats and live formulas.
//
// Text that a spreadsheet might take for a formula is kept text.
package sheet

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"unicode/utf8"

	"tunwright/pricing/paper"
)

// WriteCSV writes the table as comma-separated values by RFC 4180: one line of
// headings with units, CRLF at line ends, numbers plain with a point whatever the
// locale. Where the table has group rows, a first column repeats the group, so that
// every line stands on its own.
func WriteCSV(w io.Writer, t paper.Table) error {
	if err := t.Check(); err != nil {
		return err
	}
	var buffer bytes.Buffer
	out := csv.NewWriter(&buffer)
	out.UseCRLF = true
	grouped := hasGroups(t)
	record := make([]string, 0, len(t.Columns)+1)
	if grouped {
		record = append(record, "Group")
	}
	for _, c := range t.Columns {
		record = append(record, Guard(c.Head()))
	}
	if err := out.Write(record); err != nil {
		return fmt.Errorf("table %q: %w", t.Label(), err)
	}
	group := ""
	for _, r := range t.Rows {
		if r.Kind == paper.Group {
			group = r.Cells[0].Text
			continue
		}
		if r.Kind == paper.Total {
			group = ""
		}
		record = record[:0]
		if grouped {
			record = append(record, Guard(group))
		}
		for _, c := range r.Cells {
			record = append(record, plain(c))
		}
		if err := out.Write(record); err != nil {
			return fmt.Errorf("table %q: %w", t.Label(), err)
		}
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return fmt.Errorf("table %q: %w", t.Label(), err)
	}
	_, err := w.Write(buffer.Bytes())
	return err
}

// plain is the cell as data: a figure unguarded, text guarded.
func plain(c paper.Cell) string {
	if c.Kind == paper.CellWords {
		return Guard(c.Text)
	}
	return c.Figure
}

// Guard puts an apostrophe before text that a spreadsheet would run as a formula.
//
// Source: OWASP, "CSV Injection": a field that begins with = + - @, a tab or a
// carriage return; the full-width forms of the signs and a line feed count too,
// since some programs read them the same way.
func Guard(s string) string {
	first, _ := utf8.DecodeRuneInString(s)
	switch first {
	case '=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠':
		return "'" + s
	}
	return s
}

func hasGroups(t paper.Table) bool {
	for _, r := range t.Rows {
		if r.Kind == paper.Group {
			return true
		}
	}
	return false
}

// Tables are the document's tables in the order they stand in.
func Tables(d paper.Doc) []paper.Table {
	var out []paper.Table
	for _, s := range d.Sections {
		out = collect(out, s.Blocks)
	}
	return append(out, d.Data...)
}

func collect(out []paper.Table, blocks []paper.Block) []paper.Table {
	for _, b := range blocks {
		switch b := b.(type) {
		case paper.Table:
			out = append(out, b)
		case paper.Together:
			out = collect(out, b.Blocks)
		}
	}
	return out
}
