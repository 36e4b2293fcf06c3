package pdf

import (
	"github.com/signintech/gopdf"

	"tunwright/pricing/paper"
)

// setCaution sets a frame with a heavy left edge, a triangle with an exclamation
// mark and the word itself, so that it is a caution on any printer.
func (s *setter) setCaution(cau paper.Caution) error {
	const edge, sign, pad = 5, 34, 7
	width := s.sheet.measure()
	room := width - edge - sign - 2*pad
	head := s.labels.Caution
	if cau.Title != "" {
		head += ": " + cau.Title
	}
	title, err := s.wrap(paper.Plain(head), h3Style.in(black), room)
	if err != nil {
		return err
	}
	var lines []line
	for _, t := range cau.Lines {
		wrapped, err := s.wrap(t, cellStyle, room)
		if err != nil {
			return err
		}
		lines = append(lines, wrapped...)
	}
	mark, err := s.one("!", style{face: bold, size: 12, leading: 14, colour: black}, sign)
	if err != nil {
		return err
	}
	height := float64(len(title))*h3Style.leading + float64(len(lines))*cellStyle.leading + 2*pad
	height = max(height, 36)
	start := len(s.boxes)
	s.add(box{height: height + 2, draw: func(c *canvas, x, y float64) {
		c.frame(x, y, width, height, 1.2, black)
		c.area(x, y, edge, height, black)
		left, top := x+edge+pad, y+pad
		c.shape([]gopdf.Point{{X: left + 11, Y: top}, {X: left + 22, Y: top + 20}, {X: left, Y: top + 20}}, 1.4, black, nil)
		c.text(mark, style{face: bold, size: 12, leading: 14, colour: black}, left+11-mark.width/2, top+17.5)
		down := y + pad
		for _, l := range title {
			c.text(l, h3Style.in(black), x+edge+sign+pad, down+h3Style.base())
			down += h3Style.leading
		}
		for _, l := range lines {
			c.text(l, cellStyle, x+edge+sign+pad, down+cellStyle.base())
			down += cellStyle.leading
		}
	}})
	s.space(start, tableGap)
	return nil
}

// setFacts sets names and values in one or two columns under hairlines.
func (s *setter) setFacts(f paper.Facts) error {
	columns := max(1, min(f.Columns, 2))
	const gap, nameShare = 24, 0.38
	width := (s.sheet.measure() - gap*float64(columns-1)) / float64(columns)
	nameWidth := width * nameShare
	if columns == 1 {
		nameWidth = min(nameWidth, 150)
	}
	start := len(s.boxes)
	for i := 0; i < len(f.Facts); i += columns {
		row := make([]factEntry, 0, columns)
		height := 0.0
		for _, fact := range f.Facts[i:min(i+columns, len(f.Facts))] {
			e, err := s.factEntry(fact, nameWidth, width-nameWidth-8)
			if err != nil {
				return err
			}
			row = append(row, e)
			height = max(height, e.height())
		}
		s.add(box{height: height, keep: i == 0 && len(f.Facts) > columns, draw: func(c *canvas, x, y float64) {
			for k, e := range row {
				left := x + float64(k)*(width+gap)
				e.draw(c, left, y, nameWidth, width)
				c.rule(left, y+height, left+width, y+height, 0.25, pale)
			}
		}})
	}
	s.space(start, paragraphGap)
	return nil
}

type factEntry struct{ name, value []line }

func (e factEntry) height() float64 {
	return float64(max(1, len(e.name), len(e.value)))*cellStyle.leading + 2*cellPad
}

func (e factEntry) draw(c *canvas, x, y, nameWidth, width float64) {
	entry{lines: e.name, style: labelStyle, width: nameWidth}.draw(c, x, y+cellPad)
	entry{lines: e.value, style: cellStyle, width: width - nameWidth}.draw(c, x+nameWidth+8, y+cellPad)
}

func (s *setter) factEntry(f paper.Fact, nameWidth, valueWidth float64) (factEntry, error) {
	outer := s.where
	defer func() { s.where = outer }()
	s.where = outer + ", fact " + f.Name
	name, err := s.wrap(paper.Plain(f.Name), labelStyle, nameWidth)
	if err != nil {
		return factEntry{}, err
	}
	text := f.Value.Print(s.doc.Locale, f.Unit != "")
	if f.Unit != "" {
		text += "\u00a0" + f.Unit
	}
	t := paper.Text{{Text: text, Bold: f.Value.Strong}}
	if f.Note != "" {
		t = append(t, paper.Span{Text: "  (" + f.Note + ")", Italic: true})
	}
	value, err := s.wrap(t, cellStyle, valueWidth)
	return factEntry{name: name, value: value}, err
}
