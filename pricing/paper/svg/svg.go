// Package svg draws a drawing.Drawing as SVG for a web page. It uses presentation
// attributes and classes only, no style attributes and no scripts, so that the
// picture passes a strict content security policy; all text is escaped.
//
// The picture has a title and a description for readers who can't see it.
package svg

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"tunwright/pricing/paper/drawing"
)

// Options are what differs from page to page.
type Options struct {
	ID    string // prefix of identifiers, for several pictures on one page
	Class string // class of the svg element
}

// Write draws the drawing as an svg element, ready to stand in an HTML page or, with
// its namespace, in a file of its own.
func Write(w io.Writer, d drawing.Drawing, o Options) error {
	if err := d.Check(); err != nil {
		return err
	}
	if !identifier(o.ID) || !identifier(strings.ReplaceAll(o.Class, " ", "")) {
		return fmt.Errorf("drawing %q: identifier %q or class %q has more than letters, digits, hyphens and underscores", d.Title, o.ID, o.Class)
	}
	p := &pen{}
	p.open(d, o)
	p.items(d.Items)
	p.text("</svg>\n")
	_, err := w.Write(p.Bytes())
	return err
}

// String is the drawing as text.
func String(d drawing.Drawing, o Options) (string, error) {
	var b strings.Builder
	err := Write(&b, d, o)
	return b.String(), err
}

func identifier(s string) bool {
	for _, r := range s {
		if !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_') {
			return false
		}
	}
	return true
}

// pen writes markup.
type pen struct{ bytes.Buffer }

func (p *pen) text(parts ...string) {
	for _, s := range parts {
		p.WriteString(s)
	}
}

func (p *pen) open(d drawing.Drawing, o Options) {
	title, description := o.ID+"title", o.ID+"desc"
	p.text(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 `, num(d.Width), " ", num(d.Height), `" width="`, num(d.Width), `mm" height="`, num(d.Height), `mm" role="img" aria-labelledby="`, title)
	if d.Description != "" {
		p.text(" ", description)
	}
	p.text(`"`)
	if o.Class != "" {
		p.text(` class="`, o.Class, `"`)
	}
	p.text(` font-family="'Source Sans 3', 'Segoe UI', Helvetica, Arial, sans-serif">`, "\n")
	p.text(`<title id="`, title, `">`, escape(d.Title), "</title>\n")
	if d.Description != "" {
		p.text(`<desc id="`, description, `">`, escape(d.Description), "</desc>\n")
	}
}

func (p *pen) items(items []drawing.Item) {
	for _, item := range items {
		switch it := item.(type) {
		case drawing.Line:
			p.text(`<line x1="`, num(it.From.X), `" y1="`, num(it.From.Y), `" x2="`, num(it.To.X), `" y2="`, num(it.To.Y), `"`)
			p.stroke(it.Pen)
			p.text("/>\n")
		case drawing.Polyline:
			p.path("polyline", it.Points, it.Pen, drawing.Fill{})
		case drawing.Arc:
			p.path("polyline", it.Points(), it.Pen, drawing.Fill{})
		case drawing.Polygon:
			p.area(it)
		case drawing.Circle:
			p.circle(it)
		case drawing.Text:
			p.letter(it)
		case drawing.Group:
			p.text("<g")
			if it.Name != "" {
				p.text(` data-name="`, escape(it.Name), `"`)
			}
			p.text(">\n")
			p.items(it.Items)
			p.text("</g>\n")
		}
	}
}

// area draws the colour and outline, with the hatch between them.
func (p *pen) area(a drawing.Polygon) {
	if a.Fill.Hatch == drawing.NoHatch {
		p.path("polygon", a.Points, a.Pen, a.Fill)
		return
	}
	if a.Fill.Solid {
		p.path("polygon", a.Points, drawing.Pen{}, a.Fill)
	}
	p.hatch(a.Fill.Hatch, a.Points)
	if a.Pen.Width > 0 {
		p.path("polygon", a.Points, a.Pen, drawing.Fill{})
	}
}

func (p *pen) circle(c drawing.Circle) {
	if c.Fill.Hatch != drawing.NoHatch {
		p.area(drawing.Polygon{Points: c.Points(), Pen: c.Pen, Fill: c.Fill})
		return
	}
	p.text(`<circle cx="`, num(c.Centre.X), `" cy="`, num(c.Centre.Y), `" r="`, num(c.Radius), `"`)
	p.fill(c.Fill)
	p.stroke(c.Pen)
	p.text("/>\n")
}

func (p *pen) hatch(h drawing.Hatch, points []drawing.Point) {
	lines := h.Lines(points)
	if len(lines) == 0 {
		return
	}
	p.text(`<path d="`)
	for _, l := range lines {
		p.text("M", num(l[0].X), " ", num(l[0].Y), "L", num(l[1].X), " ", num(l[1].Y))
	}
	p.text(`"`)
	p.stroke(drawing.HatchPen)
	p.text("/>\n")
}

func (p *pen) path(element string, points []drawing.Point, stroke drawing.Pen, fill drawing.Fill) {
	p.text("<", element, ` points="`)
	for i, at := range points {
		if i > 0 {
			p.text(" ")
		}
		p.text(num(at.X), ",", num(at.Y))
	}
	p.text(`"`)
	p.fill(fill)
	p.stroke(stroke)
	p.text("/>\n")
}

func (p *pen) fill(f drawing.Fill) {
	if f.Solid {
		p.text(` fill="`, colour(f.Colour), `"`)
		return
	}
	p.text(` fill="none"`)
}

func (p *pen) stroke(s drawing.Pen) {
	if s.Width == 0 {
		return
	}
	p.text(` stroke="`, colour(s.Colour), `" stroke-width="`, num(s.Width), `"`)
	for i, l := range s.Dash.Pattern() {
		if i == 0 {
			p.text(` stroke-dasharray="`)
		} else {
			p.text(" ")
		}
		p.text(num(l))
	}
	if s.Dash != drawing.Solid {
		p.text(`"`)
	}
}

func (p *pen) letter(t drawing.Text) {
	p.text(`<text x="`, num(t.At.X), `" y="`, num(t.At.Y), `" font-size="`, num(t.Height()), `" fill="`, colour(t.Colour), `"`)
	switch t.Anchor {
	case drawing.Middle:
		p.text(` text-anchor="middle"`)
	case drawing.End:
		p.text(` text-anchor="end"`)
	}
	if t.Bold {
		p.text(` font-weight="600"`)
	}
	if t.Turn != 0 {
		p.text(` transform="rotate(`, num(drawing.MM(t.Turn)), " ", num(t.At.X), " ", num(t.At.Y), `)"`)
	}
	if t.Halo {
		p.text(` stroke="#ffffff" stroke-width="`, num(t.Height()/4), `" stroke-linejoin="round" paint-order="stroke"`)
	}
	p.text(">", escape(t.Text), "</text>\n")
}

// num prints a length with a hundredth of a millimetre.
func num(v drawing.MM) string {
	s := strconv.FormatFloat(math.Round(float64(v)*100)/100, 'f', -1, 64)
	if s == "-0" {
		return "0"
	}
	return s
}

func colour(c drawing.Colour) string {
	if c == drawing.Black {
		return "#000000"
	}
	return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B)
}

// escape makes text safe in content and in attributes, and drops characters that XML
// has no way to hold (XML 1.0, 2.2).
func escape(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch r {
		case '&':
			b.WriteString("&amp;")
		case '<':
			b.WriteString("&lt;")
		case '>':
			b.WriteString("&gt;")
		case '"':
			b.WriteString("&quot;")
		case '\'':
			b.WriteString("&#39;")
		case '\t', '\n', '\r':
			b.WriteByte(' ')
		default:
			if r >= 0x20 && r != 0xfffe && r != 0xffff && r != '\ufffd' {
				b.WriteRune(r)
			}
		}
	}
	return b.String()
}
