package pdf

import (
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/drawing"
)

// sheet is the paper's size and its margins, in points.
type sheet struct {
	width, height      float64
	left, right        float64
	top, bottom        float64 // of the text area below the running head
	firstTop           float64 // of the first page, which has the letterhead instead
	headLine, footLine float64 // base lines of the running head and foot
	wide               bool
}

const pointsPerMM = 72 / 25.4

func sheetFor(size paper.PageSize, wide bool) sheet {
	sh := sheet{
		width: 210 * pointsPerMM, height: 297 * pointsPerMM,
		left: 54, right: 54, top: 72, bottom: 66, firstTop: 44,
	}
	if size == paper.USLetter {
		sh.width, sh.height = 612, 792
	}
	if wide {
		sh.wide = true
		sh.width, sh.height = sh.height, sh.width
	}
	sh.headLine, sh.footLine = 46, sh.height-44
	return sh
}

// measure is the width of the text area.
func (s sheet) measure() float64 { return s.width - s.left - s.right }

// depth is the height of the text area on a page with a running head.
func (s sheet) depth() float64 { return s.height - s.top - s.bottom }

var (
	black = paper.Colour{}
	ink   = drawing.Ink
	grey  = paper.Colour{R: 96, G: 102, B: 108}
	pale  = drawing.Pale
	mist  = drawing.Mist
)

// The type of the house. Leading is a multiple of half the body's, so that lines in
// neighbouring columns keep step.
var (
	bodyStyle    = style{face: regular, size: 10, leading: 13, colour: ink}
	leadStyle    = style{face: regular, size: 12, leading: 16, colour: ink}
	smallStyle   = style{face: regular, size: 8, leading: 10.5, colour: ink}
	titleStyle   = style{face: bold, size: 22, leading: 26, colour: ink}
	h1Style      = style{face: bold, size: 15, leading: 19.5, colour: ink}
	h2Style      = style{face: bold, size: 11.5, leading: 15, colour: ink}
	h3Style      = style{face: bold, size: 10, leading: 13, colour: ink}
	cellStyle    = style{face: regular, size: 8.8, leading: 11, colour: ink}
	headStyle    = style{face: bold, size: 8.2, leading: 10, colour: ink}
	unitStyle    = style{face: regular, size: 8.2, leading: 10, colour: grey}
	labelStyle   = style{face: regular, size: 8.8, leading: 11, colour: grey}
	noteStyle    = style{face: regular, size: 8, leading: 10, colour: grey}
	formulaStyle = style{face: italic, size: 9.5, leading: 12, colour: ink}
	markStyle    = style{face: bold, size: 8.8, leading: 11, colour: black}
)

// inBold is the same style in the bold face.
func (st style) inBold() style {
	st.face = bold
	return st
}

// in is the same style in another colour.
func (st style) in(c paper.Colour) style {
	st.colour = c
	return st
}

// maxMeasure keeps lines of running text short enough to read.
const maxMeasure = 410
