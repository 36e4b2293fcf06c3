package pdf

import (
	"bytes"
	"errors"
	"testing"

	"pgregory.net/rapid"

	"tunwright/pricing/paper"
	"tunwright/pricing/paper/drawing"
	"tunwright/pricing/paper/internal/sample"
)

var anyWords = rapid.StringMatching(`([A-Za-zäöüß²°Ω√→☐.,\-–_*\x{ad}\n]{0,14} ){0,12}`)

func anyText(t *rapid.T) paper.Text {
	return rapid.SampledFrom([]func(string) paper.Text{paper.Plain, paper.Marked, paper.Symbols}).Draw(t, "how")(anyWords.Draw(t, "words"))
}

func anyTable(t *rapid.T) paper.Table {
	table := paper.Table{Title: anyWords.Draw(t, "title"), Notes: rapid.SliceOfN(anyWords, 0, 3).Draw(t, "notes"), Sources: rapid.SliceOfN(anyWords, 0, 2).Draw(t, "sources")}
	for range rapid.IntRange(1, 6).Draw(t, "columns") {
		table.Columns = append(table.Columns, paper.Column{
			Title: anyWords.Draw(t, "head"), Unit: rapid.SampledFrom([]string{"", "kW", "kg/m²"}).Draw(t, "unit"),
			Kind: rapid.SampledFrom([]paper.Kind{paper.Words, paper.Number}).Draw(t, "kind"), Align: rapid.SampledFrom([]paper.Align{paper.ByKind, paper.Centre}).Draw(t, "align"),
		})
	}
	for range rapid.IntRange(0, 40).Draw(t, "rows") {
		row := paper.Row{Kind: rapid.SampledFrom([]paper.RowKind{paper.Item, paper.Item, paper.Item, paper.Group, paper.Subtotal, paper.Total}).Draw(t, "row")}
		n := len(table.Columns)
		if row.Kind == paper.Group {
			n = 1
		}
		for range n {
			cell := paper.W(rapid.SampledFrom([]string{"", "pump", "Glycol chiller on the roof", "a\nb"}).Draw(t, "cell"))
			if rapid.Bool().Draw(t, "figure") {
				cell = paper.N(rapid.Float64Range(-1e6, 1e6).Draw(t, "value"), 2)
			}
			row.Cells = append(row.Cells, cell)
		}
		table.Rows = append(table.Rows, row)
	}
	return table
}

func anyBlock(t *rapid.T) paper.Block {
	switch rapid.IntRange(0, 12).Draw(t, "block") {
	case 0:
		return paper.Heading{Level: rapid.IntRange(2, 3).Draw(t, "level"), Text: anyWords.Draw(t, "words")}
	case 1:
		return paper.Paragraph{Text: anyText(t), Voice: rapid.SampledFrom([]paper.Voice{paper.Body, paper.Lead, paper.Small}).Draw(t, "voice")}
	case 2:
		return paper.List{Numbered: rapid.Bool().Draw(t, "numbered"), Items: []paper.Text{anyText(t), anyText(t)}}
	case 3:
		return paper.Facts{Columns: rapid.IntRange(0, 3).Draw(t, "columns"), Facts: []paper.Fact{{Name: anyWords.Draw(t, "name"), Value: paper.W(anyWords.Draw(t, "value"))}, {Value: paper.I(3), Unit: "K"}, {}}}
	case 4:
		return paper.Note{Text: anyText(t)}
	case 5:
		return paper.Caution{Title: anyWords.Draw(t, "title"), Lines: []paper.Text{anyText(t)}}
	case 6:
		return paper.Findings{Items: []paper.Finding{{Gravity: paper.Gravity(rapid.IntRange(0, 6).Draw(t, "gravity")), Title: anyWords.Draw(t, "title"), Words: anyWords.Draw(t, "words"), Remedies: rapid.SliceOfN(anyWords, 0, 3).Draw(t, "remedies")}, {}}}
	case 7:
		return paper.Working{Title: anyWords.Draw(t, "title"), Steps: []paper.Step{{Symbol: "x_1", Formula: anyWords.Draw(t, "formula"), Values: rapid.SliceOfN(anyWords, 0, 3).Draw(t, "values")}, {}}}
	case 8:
		return paper.Sources{Items: rapid.SliceOfN(anyWords, 0, 3).Draw(t, "sources")}
	case 9:
		return paper.Figure{Drawing: drawing.Drawing{Width: 100, Height: drawing.MM(rapid.IntRange(1, 260).Draw(t, "height"))}, Caption: anyWords.Draw(t, "caption")}
	case 10:
		return paper.Signatures{Items: []string{"client", "firm", "engineer", "witness"}[:rapid.IntRange(0, 4).Draw(t, "signatures")]}
	case 11:
		return paper.PageBreak{}
	}
	return paper.Together{Blocks: []paper.Block{anyTable(t), paper.Paragraph{Text: anyText(t)}}}
}

// Whatever stands in a document, it is drawn whole, every box inside its page and
// none over another, or refused with an error that says where.
func TestAnyDocument(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		doc := sample.Doc()
		doc.Contents = rapid.Bool().Draw(t, "contents")
		doc.Sections = nil
		for range rapid.IntRange(0, 3).Draw(t, "sections") {
			sec := paper.Section{Title: "Section", NewPage: rapid.Bool().Draw(t, "new page"), Wide: rapid.Bool().Draw(t, "wide")}
			for range rapid.IntRange(0, 6).Draw(t, "blocks") {
				sec.Blocks = append(sec.Blocks, anyBlock(t))
			}
			doc.Sections = append(doc.Sections, sec)
		}
		var file bytes.Buffer
		if err := printer.Write(&file, doc); err != nil {
			refused(t, err)
			return
		}
		s := newSetter(printer, &doc)
		if err := s.setDocument(); err != nil {
			t.Fatal(err)
		}
		pages, err := s.paginate()
		if err != nil {
			t.Fatal(err)
		}
		for i, pg := range pages {
			sh := sheetFor(doc.Size, pg.wide())
			y := 0.0
			for _, b := range pg {
				if b.y < y-0.01 || b.y+b.height > sh.height-sh.bottom+0.02 {
					t.Fatalf("page %d: %s lies from %.1f to %.1f, the one above ends at %.1f", i+1, b.where, b.y, b.y+b.height, y)
				}
				y = b.y + b.height
			}
		}
	})
}

func refused(t *rapid.T, err error) {
	if _, ok := errors.AsType[*OverflowError](err); ok {
		return
	}
	if _, ok := errors.AsType[*TallError](err); ok {
		return
	}
	t.Fatalf("refused for no good reason: %v", err)
}
