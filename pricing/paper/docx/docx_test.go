package docx_test

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"path"
	"strings"
	"testing"
	"time"

	"tunwright/pricing/paper"
	"tunwright/pricing/paper/docx"
	"tunwright/pricing/paper/drawing"
	"tunwright/pricing/paper/internal/sample"
)

func written(t testing.TB, doc paper.Doc) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := docx.Write(&b, doc); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// unpacked reads the parts back with the standard library's zip reader.
func unpacked(t testing.TB, file []byte) map[string]string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		out[f.Name] = string(text)
	}
	return out
}

// each calls see for every element of a part; a part that is not well-formed fails.
func each(t testing.TB, name, text string, see func(xml.StartElement)) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if s, ok := token.(xml.StartElement); ok {
			see(s)
		}
	}
}

func attr(s xml.StartElement, local string) string {
	for _, a := range s.Attr {
		if a.Name.Local == local {
			return a.Value
		}
	}
	return ""
}

func minimal(blocks ...paper.Block) paper.Doc {
	return paper.Doc{
		Title: "Paper", Number: "T-1", Revision: "A", Date: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC), Firm: paper.Firm{Name: "Firm"},
		Sections: []paper.Section{{Title: "Part", Blocks: blocks}},
	}
}

// The package is whole: what a relation or a content type names is there, and every
// style and list that the text uses is defined.
//
// Source: ECMA-376 part 2 (open packaging conventions), 8.3 relationships, 7.2 content types.
func TestPackageIsWhole(t *testing.T) {
	doc := sample.Doc()
	parts := unpacked(t, written(t, doc))
	for name, text := range parts {
		each(t, name, text, func(s xml.StartElement) {
			switch s.Name.Local {
			case "Relationship":
				base := path.Dir(path.Dir(name))
				if target := path.Join(base, attr(s, "Target")); parts[target] == "" {
					t.Errorf("%s points to %s, which is not in the package", name, target)
				}
			case "Override":
				if target := strings.TrimPrefix(attr(s, "PartName"), "/"); parts[target] == "" {
					t.Errorf("the content types name %s, which is not in the package", target)
				}
			}
		})
	}
	defined := map[string]bool{}
	each(t, "styles", parts["word/styles.xml"], func(s xml.StartElement) {
		if s.Name.Local == "style" {
			defined[attr(s, "styleId")] = true
		}
	})
	each(t, "numbering", parts["word/numbering.xml"], func(s xml.StartElement) {
		if s.Name.Local == "num" {
			defined["list "+attr(s, "numId")] = true
		}
	})
	used := 0
	for _, name := range []string{"word/document.xml", "word/header1.xml", "word/footer1.xml"} {
		each(t, name, parts[name], func(s xml.StartElement) {
			key := attr(s, "val")
			switch s.Name.Local {
			case "numId":
				key = "list " + key
			case "pStyle":
			default:
				return
			}
			used++
			if !defined[key] {
				t.Errorf("%s uses %q, which is not defined", name, key)
			}
		})
	}
	if used < 20 {
		t.Errorf("only %d styles are used: the sample did not get through", used)
	}
}

func TestSameDocumentSameBytes(t *testing.T) {
	doc := sample.Doc()
	if !bytes.Equal(written(t, doc), written(t, doc)) {
		t.Error("the same document was written as different bytes")
	}
	other := doc
	other.Revision = "Z"
	if bytes.Equal(written(t, doc), written(t, other)) {
		t.Error("another revision was written as the same bytes")
	}
}

// words is all text of a part; paragraphs and breaks end a line.
func words(t testing.TB, text string) string {
	t.Helper()
	var b strings.Builder
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return b.String()
		}
		if err != nil {
			t.Fatal(err)
		}
		switch x := token.(type) {
		case xml.CharData:
			b.Write(x)
		case xml.StartElement:
			if x.Name.Local == "br" {
				b.WriteByte('\n')
			}
		case xml.EndElement:
			if x.Name.Local == "p" {
				b.WriteByte('\n')
			}
		}
	}
}

func TestEveryBlockIsSaid(t *testing.T) {
	all := minimal(
		paper.Heading{Level: 2, Text: "second level"}, paper.Heading{Level: 3, Text: "third level"},
		paper.Paragraph{Text: paper.Marked("plain **bold** end")}, paper.Paragraph{Voice: paper.Lead, Text: paper.Plain("leading words")},
		paper.List{Items: []paper.Text{paper.Plain("first point")}}, paper.List{Numbered: true, Items: []paper.Text{paper.Plain("numbered point")}},
		paper.Facts{Facts: []paper.Fact{{Name: "Mass", Value: paper.N(1234.5, 1), Unit: "kg", Note: "weighed"}}},
		paper.Table{
			Name: "t", Title: "A table", Columns: []paper.Column{{Title: "What"}, {Title: "Load", Unit: "kN", Kind: paper.Number}},
			Rows:  []paper.Row{{Kind: paper.Group, Cells: []paper.Cell{paper.W("group head")}}, {Cells: []paper.Cell{paper.W("tank <FV1> & co"), paper.N(12.5, 2)}}},
			Notes: []string{"a table note"}, Sources: []string{"a table source"},
		},
		paper.Note{Text: paper.Plain("a remark")}, paper.Caution{Title: "Gas", Lines: []paper.Text{paper.Plain("it kills")}},
		paper.Findings{Items: []paper.Finding{{Gravity: paper.Stops, ID: "XX-001", Title: "too heavy", Need: "5 kN", Have: "4 kN", Words: "the floor bends", Remedies: []string{"spread it"}, Accepted: "by E. Marchbank", Source: "a standard"}}},
		paper.Working{Title: "How", Steps: []paper.Step{{Title: "current", Symbol: "I_b", Formula: "P / U", Values: []string{"P = 24 kW"}, Result: "60 A", Source: "a book", Note: "balanced"}}},
		paper.Sources{Items: []string{"last source"}}, paper.Figure{Drawing: drawing.Drawing{Width: 10, Height: 10, Title: "Plan", Description: "of the room"}, Caption: "drawn to scale"},
		paper.Signatures{Items: []string{"the client"}}, paper.PageBreak{}, paper.Together{Blocks: []paper.Block{paper.Paragraph{Text: paper.Plain("kept\ntogether")}}},
	)
	all.Assumptions = []paper.Assumption{{Text: "a guess", Basis: "told", Confirm: "the owner"}}
	all.OpenPoints = []paper.OpenPoint{{Text: "how high?", Who: "surveyor", When: "Friday"}}
	text := words(t, unpacked(t, written(t, all))["word/document.xml"])
	for _, want := range []string{
		"second level\n", "third level\n", "plain bold end\n", "leading words", "first point", "numbered point", "1,234.5 kg (weighed)", "A table\n", "Load (kN)", "group head",
		"tank <FV1> & co\n12.50", "a table note", "a table source", "a remark", "Caution: Gas\nit kills", "Must be solved: too heavy (XX-001)", "5 kN", "4 kN", "the floor bends", "spread it", "by E. Marchbank",
		"Ib = P / U", "with P = 24 kW", "Ib = 60 A", "a book", "balanced", "last source", "Plan: of the room", "drawn to scale", "the client", "kept\ntogether", "a guess\ntold\nthe owner", "how high?\nsurveyor\nFriday",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in the document", want)
		}
	}
	empty := words(t, unpacked(t, written(t, minimal()))["word/document.xml"])
	for _, want := range []string{"No assumptions are recorded", "No open points are recorded"} {
		if !strings.Contains(empty, want) {
			t.Errorf("%q is not in a document without any", want)
		}
	}
}

// Pages turn where a section asks for it, and back before the lists that close it.
//
// Source: ECMA-376 part 1, 17.6.13 (page size): w:orient="landscape" with width over height.
func TestPagesTurn(t *testing.T) {
	doc := minimal()
	doc.Sections = []paper.Section{{Title: "Upright"}, {Title: "Turned", Wide: true}, {Title: "Turned too", Wide: true}, {Title: "Upright again"}}
	var turns []string
	each(t, "document", unpacked(t, written(t, doc))["word/document.xml"], func(s xml.StartElement) {
		if s.Name.Local == "pgSz" {
			turns = append(turns, attr(s, "orient"))
		}
	})
	if got := strings.Join(turns, ","); got != ",landscape," {
		t.Errorf("pages turn %q, upright, turned, upright is right", got)
	}
}

func TestOfADocumentThatCannotBeDrawn(t *testing.T) {
	var b bytes.Buffer
	if err := docx.Write(&b, paper.Doc{}); err == nil || b.Len() > 0 {
		t.Errorf("a document without a title was written: %v, %d bytes", err, b.Len())
	}
}

// Whatever a person typed, the file stays well-formed.
func FuzzText(f *testing.F) {
	for _, s := range []string{"a", "<w:p>", "&amp;", "\x00\x0b", "\xff\xfe", "]]>", "two\nlines", "\u00ad\u202e"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		doc := minimal(paper.Paragraph{Text: paper.Plain(s)}, paper.Table{Name: "t", Columns: []paper.Column{{Title: s}}, Rows: []paper.Row{{Cells: []paper.Cell{paper.W(s)}}}})
		doc.Subtitle = s
		for name, text := range unpacked(t, written(t, doc)) {
			each(t, name, text, func(xml.StartElement) {})
		}
	})
}

func BenchmarkWrite(b *testing.B) {
	doc := sample.Doc()
	b.ReportAllocs()
	for b.Loop() {
		written(b, doc)
	}
}
