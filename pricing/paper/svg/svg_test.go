package svg_test

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"tunwright/pricing/paper/drawing"
	"tunwright/pricing/paper/internal/sample"
	"tunwright/pricing/paper/svg"
)

func drawings(t *testing.T) []drawing.Drawing {
	t.Helper()
	var out []drawing.Drawing
	for _, make := range []func() (drawing.Drawing, error){sample.Plan, sample.Bars, sample.Steps, sample.Full, sample.Circuits} {
		d, err := make()
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, d)
	}
	return out
}

// elements parses the markup with the standard library and returns its elements.
func elements(t interface{ Fatal(...any) }, markup string) []xml.StartElement {
	dec := xml.NewDecoder(strings.NewReader(markup))
	var out []xml.StartElement
	for {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := token.(xml.StartElement); ok {
			out = append(out, e.Copy())
		}
	}
}

// Source of what a strict policy forbids: W3C Content Security Policy Level 3, 6.7.3
// (inline style and event handler attributes); it lets presentation attributes pass.
func TestPassesAStrictPolicy(t *testing.T) {
	for _, d := range drawings(t) {
		markup, err := svg.String(d, svg.Options{ID: "a-", Class: "plan wide"})
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(t.ArtifactDir(), strings.ReplaceAll(d.Title, " ", "-")+".svg"), []byte(markup), 0o644); err != nil {
			t.Fatal(err)
		}
		for _, e := range elements(t, markup) {
			switch e.Name.Local {
			case "svg", "title", "desc", "g", "line", "polyline", "polygon", "circle", "path", "text":
			default:
				t.Errorf("%s: element %s", d.Title, e.Name.Local)
			}
			for _, a := range e.Attr {
				if a.Name.Local == "style" || strings.HasPrefix(a.Name.Local, "on") || a.Name.Local == "href" {
					t.Errorf("%s: attribute %s=%q", d.Title, a.Name.Local, a.Value)
				}
			}
		}
	}
}

func TestAccessible(t *testing.T) {
	d := drawings(t)[0]
	markup, err := svg.String(d, svg.Options{ID: "plan-"})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		`viewBox="0 0 170 110"`, `role="img"`, `aria-labelledby="plan-title plan-desc"`,
		`<title id="plan-title">Plan of the upper floor</title>`, `<desc id="plan-desc">A room of eight by five metres`,
	} {
		if !strings.Contains(markup, want) {
			t.Errorf("no %s", want)
		}
	}
}

// Whatever a person typed comes out as the same text and never as markup.
func TestTextIsEscaped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.StringMatching(`[a-zé<>&"'/= ;!\-\[\]]{0,30}`).Draw(t, "words")
		d := drawing.Drawing{Width: 10, Height: 10, Title: words, Items: []drawing.Item{
			drawing.Group{Name: words, Items: []drawing.Item{drawing.Text{Text: words}}},
		}}
		markup, err := svg.String(d, svg.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if n := len(elements(t, markup)); n != 4 {
			t.Fatalf("%q made %d elements", words, n)
		}
		var got struct {
			Title string `xml:"title"`
			Group struct {
				Name string `xml:"data-name,attr"`
				Text string `xml:"text"`
			} `xml:"g"`
		}
		if err := xml.Unmarshal([]byte(markup), &got); err != nil {
			t.Fatal(err)
		}
		if got.Title != words || got.Group.Text != words || got.Group.Name != words {
			t.Fatalf("%q came out as %+v", words, got)
		}
	})
}

// XML 1.0, 2.2: control characters have no form at all.
func TestControlCharactersAreDropped(t *testing.T) {
	markup, err := svg.String(drawing.Drawing{Width: 1, Height: 1, Title: "a\x00b\x1bc\nd"}, svg.Options{})
	if err != nil || !strings.Contains(markup, ">abc d<") {
		t.Errorf("%v: %s", err, markup)
	}
}

func TestRefusals(t *testing.T) {
	for name, try := range map[string]func() error{
		"no size": func() error { return svg.Write(io.Discard, drawing.Drawing{}, svg.Options{}) },
		"no number": func() error {
			return svg.Write(io.Discard, drawing.Drawing{Width: drawing.MM(math.NaN()), Height: 1}, svg.Options{})
		},
		"infinite": func() error {
			return svg.Write(io.Discard, drawing.Drawing{Width: drawing.MM(math.Inf(1)), Height: 1}, svg.Options{})
		},
		"hostile id": func() error {
			return svg.Write(io.Discard, drawing.Drawing{Width: 1, Height: 1}, svg.Options{ID: `"><script>`})
		},
		"hostile class": func() error {
			return svg.Write(io.Discard, drawing.Drawing{Width: 1, Height: 1}, svg.Options{Class: `x" onload="y`})
		},
		"nothing in list": func() error {
			return svg.Write(io.Discard, drawing.Drawing{Width: 1, Height: 1, Items: []drawing.Item{nil}}, svg.Options{})
		},
	} {
		if try() == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func TestSameMarkup(t *testing.T) {
	for _, d := range drawings(t) {
		first, _ := svg.String(d, svg.Options{})
		second, _ := svg.String(d, svg.Options{})
		if first != second {
			t.Errorf("%s: two drawings differ", d.Title)
		}
	}
}

func BenchmarkPlan(b *testing.B) {
	d, err := sample.Plan()
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := svg.Write(io.Discard, d, svg.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
