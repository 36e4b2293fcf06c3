package pdf

import (
	"github.com/signintech/gopdf"

	"tunwright/pricing/paper"
)

// canvas puts lines, areas and text on the current page. It remembers what is set,
// since setting it again costs time and bytes, and keeps the first error.
type canvas struct {
	gp     *gopdf.GoPdf
	face   faceID
	size   float64
	hasInk bool
	ink    paper.Colour
	pen    float64
	stroke paper.Colour
	err    error
}

func newCanvas(gp *gopdf.GoPdf) *canvas { return &canvas{gp: gp} }

// newPage starts a page; a page begins with nothing set but the font.
func (c *canvas) newPage(sh sheet) {
	c.gp.AddPageWithOption(gopdf.PageOption{PageSize: &gopdf.Rect{W: sh.width, H: sh.height}})
	c.pen = 0
	c.stroke = paper.Colour{}
}

// text puts a line's runs down with its start at x and its base line at y.
func (c *canvas) text(l line, st style, x, y float64) {
	if !c.hasInk || c.ink != st.colour {
		c.gp.SetTextColor(st.colour.R, st.colour.G, st.colour.B)
		c.ink, c.hasInk = st.colour, true
	}
	for _, r := range l.runs {
		size, drop := st.size, 0.0
		if r.sub {
			size, drop = st.size*subScale, st.size*subDrop
		}
		if c.size != size || c.face != r.face {
			if err := c.gp.SetFont(families[r.face], "", size); err != nil && c.err == nil {
				c.err = err
			}
			c.size, c.face = size, r.face
		}
		c.gp.SetXY(x+r.x, y+drop)
		if err := c.gp.Text(r.text); err != nil && c.err == nil {
			c.err = err
		}
	}
}

func (c *canvas) setPen(width float64, colour paper.Colour) {
	if c.pen != width {
		c.gp.SetLineWidth(width)
		c.pen = width
	}
	if c.stroke != colour {
		c.gp.SetStrokeColor(colour.R, colour.G, colour.B)
		c.stroke = colour
	}
}

func (c *canvas) rule(x1, y1, x2, y2, width float64, colour paper.Colour) {
	c.setPen(width, colour)
	c.gp.Line(x1, y1, x2, y2)
}

func (c *canvas) area(x, y, w, h float64, colour paper.Colour) {
	c.gp.SetFillColor(colour.R, colour.G, colour.B)
	c.gp.RectFromUpperLeftWithStyle(x, y, w, h, "F")
}

func (c *canvas) frame(x, y, w, h, width float64, colour paper.Colour) {
	c.setPen(width, colour)
	c.gp.RectFromUpperLeftWithStyle(x, y, w, h, "D")
}

// shape draws a polygon, stroked when width is not zero and filled when fill is
// given.
func (c *canvas) shape(points []gopdf.Point, width float64, colour paper.Colour, fill *paper.Colour) {
	mode := "D"
	if fill != nil {
		c.gp.SetFillColor(fill.R, fill.G, fill.B)
		mode = "FD"
		if width == 0 {
			mode = "F"
		}
	}
	if width > 0 {
		c.setPen(width, colour)
	}
	c.gp.Polygon(points, mode)
}
