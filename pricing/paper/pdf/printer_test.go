package pdf_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tunwright/pricing/paper"
	"tunwright/pricing/paper/drawing"
	"tunwright/pricing/paper/internal/sample"
	"tunwright/pricing/paper/pdf"
)

var update = flag.Bool("update", false, "write the golden files anew")

// draw makes the PDF and leaves it among the test's artifacts.
func draw(t *testing.T, doc paper.Doc) (data []byte, path string) {
	t.Helper()
	var b bytes.Buffer
	if err := pdf.Write(&b, doc); err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(t.ArtifactDir(), "sample.pdf")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return b.Bytes(), path
}

// tool runs a program on the PDF. A machine without the program skips the test; the
// build server must have it.
func tool(t *testing.T, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s is not installed on the build server", name)
		}
		t.Skipf("%s is not installed: apt-get install poppler-utils qpdf", name)
	}
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

// variants are the sample document in every setting that changes its look.
func variants() map[string]paper.Doc {
	british := sample.Doc()
	german := sample.Doc()
	german.Title, german.Locale, german.Status = "Elektrische Verbraucherliste", paper.DeDE, "Überholt"
	american := sample.Doc()
	american.Locale, american.Size, american.Numbered, american.Contents = paper.EnUS, paper.USLetter, false, false
	american.Assumptions, american.OpenPoints = nil, nil
	american.Firm.Logo = logo(240, 80)
	return map[string]paper.Doc{"british": british, "german": german, "american": american}
}

func logo(w, h int) []byte {
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	for x := range w {
		for y := range h {
			img.Set(x, y, color.NRGBA{R: uint8(x), G: 84, B: 124, A: uint8(255 - y)})
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return nil
	}
	return b.Bytes()
}

func TestDraw(t *testing.T) {
	for name, doc := range variants() {
		t.Run(name, func(t *testing.T) {
			_, path := draw(t, doc)
			got := plain(tool(t, "pdftotext", "-layout", path, "-"))
			golden := filepath.Join("testdata", name+".txt")
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), got); diff != "" {
				t.Errorf("text of the PDF (-want +got):\n%s", diff)
			}
		})
	}
}

// plain takes the spacing out, which differs from version to version of the reader.
func plain(text string) string {
	var b strings.Builder
	for line := range strings.SplitSeq(text, "\n") {
		for i, word := range strings.Fields(line) {
			if i > 0 {
				b.WriteByte(' ')
			}
			b.WriteString(word)
		}
		if strings.TrimSpace(line) != "" {
			b.WriteByte('\n')
		}
	}
	return b.String()
}

// A second reader, which shares no code with the writer, finds nothing to complain of.
func TestReadByAnother(t *testing.T) {
	for name, doc := range variants() {
		t.Run(name, func(t *testing.T) {
			_, path := draw(t, doc)
			out := tool(t, "qpdf", "--check", path)
			if !strings.Contains(out, "No syntax or stream encoding errors found") || strings.Contains(out, "WARNING") {
				t.Errorf("qpdf: %s", out)
			}
		})
	}
}

func TestProperties(t *testing.T) {
	_, path := draw(t, sample.Doc())
	info := tool(t, "pdfinfo", "-isodates", path)
	for _, want := range []string{
		"Title:           Electrical load schedule", "Author:          R. Aldous", "Creator:         Tunwright",
		"Subject:         Loads, connections", "CreationDate:    2026-11-25T00:00:00Z", "595.28 x 841.89 pts (A4)",
	} {
		if !strings.Contains(info, want) {
			t.Errorf("no %q in\n%s", want, info)
		}
	}
	fonts := tool(t, "pdffonts", path)
	for line := range strings.SplitSeq(strings.TrimSpace(fonts), "\n") {
		if strings.Contains(line, "Tunwright") && !strings.Contains(line, "yes yes yes") {
			t.Errorf("a font is not embedded as a subset with a map to Unicode: %s", line)
		}
	}
}

// The outline as another program reads it.
func TestOutline(t *testing.T) {
	_, path := draw(t, sample.Doc())
	type entry struct {
		Title string
		Page  int `json:"destpageposfrom1"`
		Kids  []entry
	}
	var got struct{ Outlines []entry }
	if err := json.Unmarshal([]byte(tool(t, "qpdf", "--json", "--json-key=outlines", path)), &got); err != nil {
		t.Fatal(err)
	}
	var titles []string
	for _, e := range got.Outlines {
		titles = append(titles, strings.TrimLeft(e.Title, "0123456789\u00a0"))
	}
	want := []string{"Summary", "Findings", "Load schedule", "Price of the electrical options", "Drawings", "Circuit schedule", "Workings", "Acceptance", "Assumptions to confirm", "Open points"}
	if diff := cmp.Diff(want, titles); diff != "" {
		t.Errorf("outline (-want +got):\n%s", diff)
	}
	if kids := got.Outlines[0].Kids; len(kids) != 1 || kids[0].Title != "1.1\u00a0\u00a0What to do first" || kids[0].Page != 1 {
		t.Errorf("below the first section: %+v", kids)
	}
}

// Every page carries number, revision, date and its place among the pages.
func TestEveryPageIsIdentified(t *testing.T) {
	_, path := draw(t, sample.Doc())
	pages := strings.Split(strings.TrimSuffix(tool(t, "pdftotext", "-layout", path, "-"), "\f"), "\f")
	for i, page := range pages {
		for _, want := range []string{"Q-2026-0042-EL", "Revision B", "25 Nov 2026", fmt.Sprintf("Page %d of %d", i+1, len(pages))} {
			if !strings.Contains(page, want) {
				t.Errorf("page %d has no %q", i+1, want)
			}
		}
	}
}

func TestStatusOnEveryPage(t *testing.T) {
	doc := sample.Doc()
	doc.Status = "Superseded"
	_, path := draw(t, doc)
	pages := strings.Split(strings.TrimSuffix(tool(t, "pdftotext", path, "-"), "\f"), "\f")
	for i, page := range pages {
		if !strings.Contains(page, "SUPERSEDED") {
			t.Errorf("page %d does not say that it is superseded", i+1)
		}
	}
}

func TestSameBytes(t *testing.T) {
	for name, doc := range variants() {
		first, _ := draw(t, doc)
		fresh, err := pdf.New()
		if err != nil {
			t.Fatal(err)
		}
		var second bytes.Buffer
		if err := fresh.Write(&second, doc); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(first, second.Bytes()) {
			t.Errorf("%s: two prints differ", name)
		}
	}
}

func TestConcurrentUse(t *testing.T) {
	want, _ := draw(t, sample.Doc())
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			var b bytes.Buffer
			if err := pdf.Write(&b, sample.Doc()); err != nil {
				t.Error(err)
			}
			if !bytes.Equal(b.Bytes(), want) {
				t.Error("prints side by side differ")
			}
		})
	}
	wg.Wait()
}

func TestRefusals(t *testing.T) {
	with := func(blocks ...paper.Block) paper.Doc {
		d := sample.Doc()
		d.Sections = []paper.Section{{Title: "One", Blocks: blocks}}
		return d
	}
	cells := func(c paper.Cell) paper.Doc {
		return with(paper.Table{Name: "T", Columns: []paper.Column{{Title: "A", Width: 1}, {Title: "B", Width: 12}}, Rows: []paper.Row{{Cells: []paper.Cell{c, {}}}}})
	}
	for _, tc := range []struct {
		name string
		doc  paper.Doc
		want any
		says string
	}{
		{"missing character", with(paper.Paragraph{Text: paper.Plain("bière 麦")}), new(*pdf.GlyphError), `section "One"`},
		{"missing character in a cell", cells(paper.W("麦")), new(*pdf.GlyphError), `row 1, column "A"`},
		{"missing character in a drawing", with(paper.Figure{Drawing: drawing.Drawing{Width: 10, Height: 10, Title: "Plan", Items: []drawing.Item{drawing.Text{Text: "麦"}}}}), new(*pdf.GlyphError), `figure "Plan"`},
		{"invalid UTF-8", with(paper.Paragraph{Text: paper.Plain("a\xffb")}), nil, "UTF-8"},
		{"word too wide", cells(paper.W("Donaudampfschifffahrtsgesellschaft")), new(*pdf.OverflowError), `column "A"`},
		{"number too wide", cells(paper.N(123456789.123, 3)), new(*pdf.OverflowError), "123,456,789.123"},
		{"too many columns", with(wide(30)), new(*pdf.OverflowError), "30 columns"},
		{"drawing too wide", with(paper.Figure{Drawing: drawing.Drawing{Width: 300, Height: 10}}), new(*pdf.OverflowError), "drawing"},
		{"drawing too tall", with(paper.Figure{Drawing: drawing.Drawing{Width: 100, Height: 300}}), new(*pdf.TallError), "height"},
		{"row taller than a page", cells(paper.W(strings.Repeat("a\n", 90))), new(*pdf.TallError), "height"},
		{"logo is no picture", logoDoc([]byte("GIF89a")), nil, "PNG"},
		{"logo too wide", logoDoc(logo(900, 20)), nil, "too wide"},
		{"no number", func() paper.Doc { d := sample.Doc(); d.Number = ""; return d }(), nil, "no number"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			var b bytes.Buffer
			err := pdf.Write(&b, tc.doc)
			if err == nil {
				t.Fatal("no error")
			}
			if tc.want != nil && !errors.As(err, tc.want) {
				t.Errorf("%T is the wrong kind of error: %v", err, err)
			}
			if !strings.Contains(err.Error(), tc.says) {
				t.Errorf("error does not say %q: %v", tc.says, err)
			}
			if b.Len() > 0 {
				t.Error("something was written all the same")
			}
		})
	}
}

func wide(n int) paper.Table {
	t := paper.Table{Name: "wide"}
	row := paper.Row{}
	for range n {
		t.Columns = append(t.Columns, paper.Column{Title: "Temperature"})
		row.Cells = append(row.Cells, paper.W("x"))
	}
	t.Rows = []paper.Row{row}
	return t
}

func logoDoc(picture []byte) paper.Doc {
	d := sample.Doc()
	d.Firm.Logo = picture
	return d
}

// The signs that engineering papers need are all there.
func TestCharacters(t *testing.T) {
	const signs = "£€$¥²³°±×÷≤≥≈≠·–—“”‘’„‚…ΔΣΩηλμµπρφθαβγετω√∅Øøßäöüéèç₀₁₂₃→←↑↓■□●▲☐☑✓✗½¼¾‰−∞∠⊥′″\u00a0\u202f\u2009⚠"
	spaced := strings.Join(strings.Split(signs, ""), " ")
	doc := sample.Doc()
	doc.Sections = []paper.Section{{Title: "Signs", Blocks: []paper.Block{
		paper.Paragraph{Text: paper.Plain(spaced)}, paper.Paragraph{Text: paper.Text{{Text: spaced, Bold: true}, {Text: " "}, {Text: spaced, Italic: true}}},
	}}}
	_, path := draw(t, doc)
	text := strings.ReplaceAll(tool(t, "pdftotext", path, "-"), "\n", "")
	for _, r := range signs {
		if r != 'µ' && r != '\u00a0' && r != '\u202f' && r != '\u2009' && !strings.ContainsRune(text, r) {
			t.Errorf("%q (U+%04X) is not in the text of the PDF", r, r)
		}
	}
}

func BenchmarkSixPagePack(b *testing.B) {
	p, err := pdf.New()
	if err != nil {
		b.Fatal(err)
	}
	doc := sixPages()
	var once bytes.Buffer
	if err := p.Write(&once, doc); err != nil {
		b.Fatal(err)
	}
	if n := bytes.Count(once.Bytes(), []byte("/Type /Page\n")); n != 6 {
		b.Fatalf("the pack has %d pages", n)
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := p.Write(io.Discard, doc); err != nil {
			b.Fatal(err)
		}
	}
}

// sixPages is a pack of six pages with a table of 60 lines and a plan.
func sixPages() paper.Doc {
	doc := sample.Doc()
	sections := doc.Sections
	doc.Sections = append(sections[:2:2],
		paper.Section{Title: "Load schedule", NewPage: true, Blocks: []paper.Block{sample.LoadTable(60)}},
		sections[3], sections[6], sections[7])
	if plan, err := sample.Plan(); err == nil {
		doc.Sections = append(doc.Sections, paper.Section{Title: "Plan", NewPage: true, Blocks: []paper.Block{paper.Figure{Drawing: plan}}})
	}
	return doc
}

func BenchmarkNewPrinter(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := pdf.New(); err != nil {
			b.Fatal(err)
		}
	}
}
