package pdf

import (
	"cmp"
	"fmt"

	"github.com/signintech/gopdf"

	"tunwright/pricing/paper"
	"tunwright/pricing/paper/drawing"
)

// setFigure sets a drawing at its true size, with its caption below.
func (s *setter) setFigure(f paper.Figure) error {
	outer := s.where
	defer func() { s.where = outer }()
	s.where = fmt.Sprintf("%s, figure %q", outer, cmp.Or(f.Drawing.Title, f.Caption))
	width, height := float64(f.Drawing.Width)*pointsPerMM, float64(f.Drawing.Height)*pointsPerMM
	if measure := s.sheet.measure(); width > measure+0.5 {
		return &OverflowError{Where: s.where, Word: "the drawing", Need: width, Have: measure}
	}
	art := sketch{}
	if err := s.collect(&art, f.Drawing.Items); err != nil {
		return err
	}
	start := len(s.boxes)
	s.add(box{height: height, keep: f.Caption != "", draw: art.draw})
	s.space(start, tableGap)
	if f.Caption == "" {
		return nil
	}
	return s.setLines(paper.Plain(f.Caption), noteStyle, 0, s.sheet.measure(), 4)
}

// sketch is a drawing made ready: its lettering is measured before anything is put
// down, so that a missing character is found in time.
type sketch struct {
	strokes []func(c *canvas, x, y float64)
}

func (a *sketch) draw(c *canvas, x, y float64) {
	for _, stroke := range a.strokes {
		stroke(c, x, y)
	}
}

func (a *sketch) add(stroke func(c *canvas, x, y float64)) { a.strokes = append(a.strokes, stroke) }

func (s *setter) collect(a *sketch, items []drawing.Item) error {
	for _, item := range items {
		switch it := item.(type) {
		case drawing.Line:
			a.add(strokePath([]drawing.Point{it.From, it.To}, it.Pen))
		case drawing.Polyline:
			a.add(strokePath(it.Points, it.Pen))
		case drawing.Arc:
			a.add(strokePath(it.Points(), it.Pen))
		case drawing.Polygon:
			a.add(fillPath(it.Points, it.Pen, it.Fill))
		case drawing.Circle:
			a.add(fillPath(it.Points(), it.Pen, it.Fill))
		case drawing.Text:
			stroke, err := s.letter(it)
			if err != nil {
				return err
			}
			a.add(stroke)
		case drawing.Group:
			if err := s.collect(a, it.Items); err != nil {
				return err
			}
		}
	}
	return nil
}

func at(p drawing.Point, x, y float64) gopdf.Point {
	return gopdf.Point{X: x + float64(p.X)*pointsPerMM, Y: y + float64(p.Y)*pointsPerMM}
}

// strokePath draws a run of lines; gopdf begins a pattern anew at every point, so
// the dashes are cut beforehand.
func strokePath(points []drawing.Point, pen drawing.Pen) func(*canvas, float64, float64) {
	pieces := pen.Dash.Cut(points)
	return func(c *canvas, x, y float64) {
		if pen.Width == 0 {
			return
		}
		c.setPen(float64(pen.Width)*pointsPerMM, pen.Colour)
		for _, piece := range pieces {
			for i := 1; i < len(piece); i++ {
				p, q := at(piece[i-1], x, y), at(piece[i], x, y)
				c.gp.Line(p.X, p.Y, q.X, q.Y)
			}
		}
	}
}

// fillPath draws a closed area: its colour, its hatch, its outline.
func fillPath(points []drawing.Point, pen drawing.Pen, fill drawing.Fill) func(*canvas, float64, float64) {
	hatching := fill.Hatch.Lines(points)
	var outline func(*canvas, float64, float64)
	if pen.Dash != drawing.Solid && len(points) > 0 {
		outline = strokePath(append(points[:len(points):len(points)], points[0]), pen)
	}
	return func(c *canvas, x, y float64) {
		path := make([]gopdf.Point, len(points))
		for i, p := range points {
			path[i] = at(p, x, y)
		}
		if fill.Solid {
			c.shape(path, 0, pen.Colour, &fill.Colour)
		}
		for _, l := range hatching {
			c.setPen(float64(drawing.HatchPen.Width)*pointsPerMM, drawing.HatchPen.Colour)
			p, q := at(l[0], x, y), at(l[1], x, y)
			c.gp.Line(p.X, p.Y, q.X, q.Y)
		}
		switch {
		case outline != nil:
			outline(c, x, y)
		case pen.Width > 0:
			c.shape(path, float64(pen.Width)*pointsPerMM, pen.Colour, nil)
		}
	}
}

// letter measures a text of the drawing and hangs it on its anchor.
func (s *setter) letter(t drawing.Text) (func(*canvas, float64, float64), error) {
	st := style{face: regular, size: float64(t.Height()) * pointsPerMM, colour: t.Colour}
	if t.Bold {
		st.face = bold
	}
	l, err := s.one(t.Text, st, 1e6)
	if err != nil {
		return nil, err
	}
	shift := 0.0
	switch t.Anchor {
	case drawing.Middle:
		shift = l.width / 2
	case drawing.End:
		shift = l.width
	}
	return func(c *canvas, x, y float64) {
		p := at(t.At, x, y)
		if t.Turn != 0 {
			c.gp.Rotate(-float64(t.Turn), p.X, p.Y)
			defer c.gp.RotateReset()
		}
		if t.Halo {
			c.area(p.X-shift-1, p.Y-st.size*0.72, l.width+2, st.size*0.95, drawing.White)
		}
		c.text(l, st, p.X-shift, p.Y)
	}, nil
}
