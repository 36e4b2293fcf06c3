package pdf

import (
	"slices"
	"strings"
	"testing"

	"github.com/signintech/gopdf"
	"pgregory.net/rapid"

	"tunwright/pricing/paper"
	"tunwright/pricing/paper/internal/sample"
)

// pagesOf lays the document out and tells which boxes came on which page.
func pagesOf(t interface{ Fatal(...any) }, doc paper.Doc) []page {
	p, err := New()
	if err != nil {
		t.Fatal(err)
	}
	s := newSetter(p, &doc)
	if err := s.setDocument(); err != nil {
		t.Fatal(err)
	}
	pages, err := s.paginate()
	if err != nil {
		t.Fatal(err)
	}
	return pages
}

var printer, printerErr = New()

// No table leaves a single row behind: at least two rows with the head, at least two
// on the last page, a group's name with its rows and a total with a row before it,
// wherever the page happens to end.
func TestNoWidowedRows(t *testing.T) {
	if printerErr != nil {
		t.Fatal(printerErr)
	}
	rapid.Check(t, func(t *rapid.T) {
		lines := rapid.IntRange(0, 40).Draw(t, "lines above")
		n := rapid.IntRange(1, 90).Draw(t, "rows")
		doc := sample.Doc()
		doc.Contents = false
		table := sample.LoadTable(n)
		if rapid.Bool().Draw(t, "plain") {
			table.Rows = slices.DeleteFunc(table.Rows, func(r paper.Row) bool { return r.Kind != paper.Item })
		}
		doc.Sections = []paper.Section{{Title: "Table", Blocks: []paper.Block{
			paper.Paragraph{Text: paper.Plain(strings.Repeat("line\n", lines) + "line")}, table,
		}}}
		s := newSetter(printer, &doc)
		if err := s.setDocument(); err != nil {
			t.Fatal(err)
		}
		pages, err := s.paginate()
		if err != nil {
			t.Fatal(err)
		}
		at := 0
		for k, pg := range pages {
			count := 0
			for _, b := range pg {
				if b.head != nil && strings.Contains(b.where, `"Loads"`) {
					count++
				}
			}
			if count == 0 {
				continue
			}
			if count < 2 && len(table.Rows) > 1 {
				t.Fatalf("page %d has a single row of the table", k+1)
			}
			first, last := table.Rows[at], table.Rows[at+count-1]
			if at > 0 && (first.Kind == paper.Total || first.Kind == paper.Subtotal) {
				t.Fatalf("page %d begins with a total", k+1)
			}
			if last.Kind == paper.Group {
				t.Fatalf("page %d ends with the name of a group", k+1)
			}
			at += count
		}
		if at != len(table.Rows) {
			t.Fatalf("%d of %d rows came on a page", at, len(table.Rows))
		}
	})
}

// Nothing runs into the foot of a page, and every page of a table begins with its
// head.
func TestPagesHoldTheirBoxes(t *testing.T) {
	doc := sample.Doc()
	doc.Sections = append(doc.Sections, paper.Section{Title: "Long", Blocks: []paper.Block{sample.LoadTable(200)}})
	pages := pagesOf(t, doc)
	sh := sheetFor(doc.Size, false)
	for i, pg := range pages {
		for _, b := range pg {
			if bottom := b.y + b.height; bottom > sh.height-sh.bottom+0.01 {
				t.Errorf("page %d: %s ends at %.1f, the text area at %.1f", i+1, b.where, bottom, sh.height-sh.bottom)
			}
		}
		for k, b := range pg {
			if b.head == nil {
				continue
			}
			if k == 0 {
				t.Errorf("page %d begins with a row without the table's head", i+1)
			}
			break
		}
	}
}

// A table of a wide section stays on wide pages however long it is, and nothing else
// gets there.
func TestWidePages(t *testing.T) {
	doc := sample.Doc()
	turned := 0
	for i, pg := range pagesOf(t, doc) {
		wide := pg.wide()
		if wide {
			turned++
		}
		for _, b := range pg {
			if b.wide != wide {
				t.Errorf("page %d: %s is for a page of the other shape", i+1, b.where)
			}
			if b.head != nil && strings.Contains(b.where, `"Circuits"`) != wide {
				t.Errorf("page %d is wide: %v, with %s", i+1, wide, b.where)
			}
		}
	}
	if turned != 2 {
		t.Errorf("%d wide pages; thirty circuits take two", turned)
	}
}

func TestHeadingStaysWithText(t *testing.T) {
	for lines := range 50 {
		doc := sample.Doc()
		doc.Contents = false
		doc.Sections = []paper.Section{
			{Title: "First", Blocks: []paper.Block{paper.Paragraph{Text: paper.Plain(strings.Repeat("line\n", lines) + "line")}}},
			{Title: "Second", Blocks: []paper.Block{paper.Heading{Level: 2, Text: "Under"}, paper.Paragraph{Text: paper.Plain("a\nb\nc")}}},
		}
		for i, pg := range pagesOf(t, doc) {
			if last := pg[len(pg)-1]; last.mark != nil {
				t.Errorf("%d lines above: page %d ends with the heading %q", lines, i+1, last.mark.title)
			}
		}
	}
}

// A section that begins on a fresh page takes the one before where most of that is
// free, so that no page is left nearly empty.
func TestFreshPageWhereTheLastIsFull(t *testing.T) {
	for _, c := range []struct{ lines, pages int }{{2, 1}, {20, 2}, {40, 2}} {
		doc := sample.Doc()
		doc.Contents = false
		doc.Assumptions, doc.OpenPoints, doc.FactsStand = nil, nil, "elsewhere"
		doc.Sections = []paper.Section{
			{Title: "First", Blocks: []paper.Block{paper.Paragraph{Text: paper.Plain(strings.Repeat("line\n", c.lines) + "line")}}},
			{Title: "Second", NewPage: true, Blocks: []paper.Block{paper.Paragraph{Text: paper.Plain("one line")}}},
		}
		if n := len(pagesOf(t, doc)); n != c.pages {
			t.Errorf("%d lines above: %d pages, want %d", c.lines, n, c.pages)
		}
	}
}

func TestPageBreakAndTogether(t *testing.T) {
	doc := sample.Doc()
	doc.Contents = false
	doc.Sections = []paper.Section{{Title: "A", Blocks: []paper.Block{
		paper.Paragraph{Text: paper.Plain("above")},
		paper.PageBreak{},
		paper.Heading{Level: 2, Text: "below"},
		paper.Paragraph{Text: paper.Plain(strings.Repeat("line\n", 40) + "line")},
		paper.Together{Blocks: []paper.Block{paper.Heading{Level: 3, Text: "held"}, paper.Paragraph{Text: paper.Plain(strings.Repeat("x\n", 20) + "x")}}},
	}}}
	pages := pagesOf(t, doc)
	if len(pages) != 3 {
		t.Fatalf("%d pages; the break makes two and the held blocks a third", len(pages))
	}
	if m := pages[1][0].mark; m == nil || m.title != "1.1\u00a0\u00a0below" {
		t.Errorf("the second page does not begin with what follows the break")
	}
	if top := pages[1][0].y; top != sheetFor(doc.Size, false).top {
		t.Errorf("the second page begins at %.1f, the text area at %.1f", top, sheetFor(doc.Size, false).top)
	}
}

// Our widths, with kerning, are those that gopdf sets the same text with.
func TestWidthsAreThoseOfTheWriter(t *testing.T) {
	gp := &gopdf.GoPdf{}
	gp.Start(gopdf.Config{PageSize: *gopdf.PageSizeA4})
	gp.AddPage()
	for _, id := range []faceID{regular, bold, italic} {
		if err := gp.AddTTFFontFromFontContainer(families[id], &printer.container); err != nil {
			t.Fatal(err)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		id := rapid.SampledFrom([]faceID{regular, bold, italic}).Draw(t, "face")
		text := rapid.StringMatching(`[ -~äöüÄÖÜß°²µΔ→]{1,40}[!-~]`).Draw(t, "text")
		size := rapid.SampledFrom([]float64{8, 8.8, 10, 22}).Draw(t, "size")
		if err := gp.SetFont(families[id], "", size); err != nil {
			t.Fatal(err)
		}
		want, err := gp.MeasureTextWidth(text)
		if err != nil {
			t.Fatal(err)
		}
		doc := sample.Doc()
		got, err := newSetter(printer, &doc).one(text, style{face: id, size: size}, 1e6)
		if err != nil {
			t.Fatal(err)
		}
		if d := got.width - want; d > 0.01 || d < -0.01 {
			t.Fatalf("%q at %.1f pt: %.3f pt here, %.3f pt there", text, size, got.width, want)
		}
	})
}

// A line never comes out wider than asked for and loses no letter.
func TestWrap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(rapid.StringMatching(`[A-Za-z0-9,.\-–ÄÖÜäöüß²³Ω√→☐]{1,9}`), 1, 60).Draw(t, "words")
		width := rapid.Float64Range(60, 500).Draw(t, "width")
		text := strings.Join(words, " ")
		doc := sample.Doc()
		s := newSetter(printer, &doc)
		lines, err := s.wrap(paper.Plain(text), bodyStyle, width)
		if err != nil {
			t.Fatal(err)
		}
		var got strings.Builder
		for _, l := range lines {
			if l.width > width+0.01 {
				t.Fatalf("a line of %.2f pt where %.2f pt were asked for", l.width, width)
			}
			for _, r := range l.runs {
				got.WriteString(r.text)
			}
		}
		if strip(got.String()) != strip(text) {
			t.Fatalf("%q came out as %q", text, got.String())
		}
	})
}

func strip(s string) string { return strings.ReplaceAll(s, " ", "") }

func TestSoftHyphenAndBreaks(t *testing.T) {
	doc := sample.Doc()
	s := newSetter(printer, &doc)
	for _, tc := range []struct {
		text  string
		width float64
		want  []string
	}{
		{"Kälte\u00admittel\u00adverdichter", 45, []string{"Kälte-", "mittel-", "verdichter"}},
		{"Kälte\u00admittel", 400, []string{"Kältemittel"}},
		{"mV/A/m\u200bnext", 40, []string{"mV/A/m", "next"}},
		{"10\u00a0kW of power", 40, []string{"10\u00a0kW of", "power"}},
		{"a\n\nb", 400, []string{"a", "", "b"}},
		{"residual-current", 50, []string{"residual-", "current"}},
		{"at 20-30 °C now", 40, []string{"at 20-30", "°C now"}},
		{"a\r\nb\tc\ufeff", 400, []string{"a", "b c"}},
		{"bie\u0300re", 400, []string{"bière"}},
		{"", 40, nil},
	} {
		lines, err := s.wrap(paper.Plain(tc.text), bodyStyle, tc.width)
		if err != nil {
			t.Errorf("%q: %v", tc.text, err)
			continue
		}
		var got []string
		for _, l := range lines {
			line := ""
			for _, r := range l.runs {
				line += r.text
			}
			got = append(got, line)
		}
		if strings.Join(got, "|") != strings.Join(tc.want, "|") || len(got) != len(tc.want) {
			t.Errorf("%q in %.0f pt: %q, want %q", tc.text, tc.width, got, tc.want)
		}
	}
}

// No paragraph leaves its first or its last line alone on a page.
func TestNoLonelyLines(t *testing.T) {
	doc := sample.Doc()
	doc.Contents = false
	for above := range 60 {
		doc.Sections = []paper.Section{{Title: "A", Blocks: []paper.Block{
			paper.Paragraph{Text: paper.Plain(strings.Repeat("above\n", above) + "above")},
			paper.Table{Name: "mark", Columns: []paper.Column{{Title: "x"}}, Rows: []paper.Row{{Cells: []paper.Cell{{}}}}},
			paper.Paragraph{Text: paper.Plain("1\n2\n3\n4\n5")},
		}}}
		pages := pagesOf(t, doc)
		for i, pg := range pages {
			after, lines := false, 0
			for _, b := range pg {
				switch {
				case strings.Contains(b.where, "mark"):
					after = true
				case b.mark != nil && b.mark.title != "1\u00a0\u00a0A":
					after = false
				case after && b.where == `section "A"`:
					lines++
				}
			}
			if after && lines != 0 && lines != 5 && (lines < 2 || lines > 3) {
				t.Errorf("%d lines above: page %d keeps %d lines of five", above, i+1, lines)
			}
		}
	}
}
