package docx

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"tunwright/pricing/paper"
)

// facts is a table without rules: name, value with its unit, and how sure.
func (b *body) facts(f paper.Facts) {
	t := grid([]int{30, 70})
	for _, x := range f.Facts {
		value := x.Value.Print(b.doc.Locale, x.Unit != "")
		if x.Unit != "" {
			value += " " + x.Unit
		}
		text := paper.Text{{Text: value, Bold: x.Value.Strong}}
		if x.Note != "" {
			text = append(text, paper.Span{Text: " (" + x.Note + ")", Italic: true})
		}
		t.add(el("w:tr").with(cell(30, "TableCell", "", paper.Plain(x.Name)), cell(70, "TableCell", "", text)))
	}
	b.put(t, gap())
}

// table is a grid under a head that is repeated on each page.
func (b *body) table(t paper.Table) {
	if t.Title != "" {
		b.put(b.styled("Heading3", t.Title, false))
	}
	shares := b.shares(t)
	out := grid(shares)
	head := el("w:tr").with(el("w:trPr").with(el("w:cantSplit"), el("w:tblHeader")))
	for i, c := range t.Columns {
		head.add(cell(shares[i], "TableHead", justify(c), paper.Plain(c.Head())))
	}
	out.add(head)
	for _, r := range t.Rows {
		out.add(b.row(t, r, shares))
	}
	b.put(out)
	if len(t.Rows) == 0 {
		b.put(b.styled("Small", b.labels.Empty, false))
	}
	for _, n := range t.Notes {
		b.put(b.styled("Small", n, false))
	}
	for _, s := range t.Sources {
		b.put(para("Small", labelled(b.labels.Source, paper.Plain(s))))
	}
	b.put(gap())
}

func (b *body) row(t paper.Table, r paper.Row, shares []int) node {
	row := el("w:tr").with(el("w:trPr").with(el("w:cantSplit")))
	if r.Kind == paper.Group {
		all := 0
		for _, s := range shares {
			all += s
		}
		c := el("w:tc").with(el("w:tcPr").with(width(all), num("w:gridSpan", len(shares)), el("w:shd").set("w:val", "clear").set("w:color", "auto").set("w:fill", "F1F3F4")))
		return row.with(c.with(para("TableHead", paper.Plain(r.Cells[0].Print(b.doc.Locale, false)))))
	}
	for i, c := range r.Cells {
		style := "TableCell"
		if r.Kind != paper.Item || c.Strong {
			style = "TableHead"
		}
		row.add(cell(shares[i], style, justify(t.Columns[i]), paper.Plain(c.Print(b.doc.Locale, t.Columns[i].Unit != ""))))
	}
	return row
}

// justify is how a column is set, in the format's words.
func justify(c paper.Column) string {
	switch c.SetAlign() {
	case paper.Right:
		return "right"
	case paper.Centre:
		return "center"
	}
	return ""
}

// full is the width of a table in the format's fiftieths of a percent.
const full = 5000

// shares are the widths of the columns as whole parts of a thousand: as the table
// states them or, where it states none, by what stands in them.
func (b *body) shares(t paper.Table) []int {
	want := make([]float64, len(t.Columns))
	sum := 0.0
	for i, c := range t.Columns {
		want[i] = float64(c.Width)
		sum += want[i]
	}
	if sum == 0 {
		for i := range t.Columns {
			want[i] = b.letters(t, i)
			sum += want[i]
		}
	}
	out := make([]int, len(want))
	for i, w := range want {
		out[i] = int(1000 * w / sum)
	}
	return out
}

// The letters that a column is given at least and at most when it is fitted to what
// stands in it; longer words break the line.
const (
	leastLetters = 8
	mostLetters  = 28
)

// letters is about how wide a column would like to be.
func (b *body) letters(t paper.Table, column int) float64 {
	most := leastLetters
	see := func(s string) { most = max(most, min(utf8.RuneCountInString(s), mostLetters)) }
	for _, word := range strings.Fields(t.Columns[column].Head()) {
		see(word)
	}
	for _, r := range t.Rows {
		if r.Kind != paper.Group {
			see(r.Cells[column].Print(b.doc.Locale, t.Columns[column].Unit != ""))
		}
	}
	return float64(most)
}

// grid is an empty table over the full width.
func grid(shares []int) node {
	all := 0
	for _, s := range shares {
		all += s
	}
	side := func(name string) node {
		return el(name).set("w:val", "single").set("w:sz", "4").set("w:space", "0").set("w:color", "B4BAC0")
	}
	columns := el("w:tblGrid")
	for _, s := range shares {
		columns.add(el("w:gridCol").set("w:w", strconv.Itoa(s*textWidth/max(all, 1))))
	}
	return el("w:tbl").with(
		el("w:tblPr").with(
			el("w:tblW").set("w:w", strconv.Itoa(full)).set("w:type", "pct"),
			el("w:tblBorders").with(side("w:top"), side("w:bottom"), side("w:insideH")),
			el("w:tblCellMar").with(margin("w:left"), margin("w:right")),
		),
		columns,
	)
}

func margin(name string) node { return el(name).set("w:w", "70").set("w:type", "dxa") }

func width(share int) node {
	return el("w:tcW").set("w:w", strconv.Itoa(share*full/1000)).set("w:type", "pct")
}

func cell(share int, style, align string, t paper.Text) node {
	p := el("w:pPr").with(val("w:pStyle", style))
	if align != "" {
		p.add(val("w:jc", align))
	}
	return el("w:tc").with(el("w:tcPr").with(width(share)), el("w:p").with(p).with(runs(t)...))
}

// gap is a small empty line behind a table, without which two tables would join.
func gap() node { return el("w:p").with(el("w:pPr").with(val("w:pStyle", "Gap"))) }
