package pdf

import (
	"fmt"
	"strconv"

	"tunwright/pricing/paper"
)

// Gaps above the kinds of block, in points.
const (
	paragraphGap = 6
	tableGap     = 10
	itemGap      = 2

	gapBelowHeading = 2
)

func (s *setter) setBlock(b paper.Block) error {
	switch b := b.(type) {
	case paper.Heading:
		return s.setSubheading(b)
	case paper.Paragraph:
		return s.setParagraph(b)
	case paper.List:
		return s.setList(b)
	case paper.Facts:
		return s.setFacts(b)
	case paper.Table:
		return s.setTable(b)
	case paper.Note:
		return s.setNote(b)
	case paper.Caution:
		return s.setCaution(b)
	case paper.Findings:
		return s.setFindings(b)
	case paper.Working:
		return s.setWorking(b)
	case paper.Sources:
		return s.setSources(b)
	case paper.Figure:
		return s.setFigure(b)
	case paper.Signatures:
		return s.setSignatures(b)
	case paper.Together:
		return s.setTogether(b)
	case paper.PageBreak:
		s.turn = true
		return nil
	}
	return fmt.Errorf("%s: no way to draw a %T", s.where, b)
}

func (s *setter) setSubheading(h paper.Heading) error {
	if h.Level == 2 {
		return s.setHeading(h.Text, h2Style, 15, 3, 2)
	}
	return s.setHeading(h.Text, h3Style, 10, 1, 3)
}

// setHeading sets a heading that stays with what follows; levels 1 and 2 are
// entered in the outline.
func (s *setter) setHeading(text string, st style, above, below float64, level int) error {
	lines, err := s.wrap(paper.Plain(text), st, s.sheet.measure())
	if err != nil {
		return err
	}
	start := len(s.boxes)
	for _, l := range lines {
		s.add(box{height: st.leading, keep: true, draw: func(c *canvas, x, y float64) { c.text(l, st, x, y+st.base()) }})
	}
	if start == len(s.boxes) {
		return nil
	}
	s.boxes[len(s.boxes)-1].height += below
	s.boxes[start].before = above
	s.heading = len(s.boxes)
	if level == 1 || level == 2 {
		m := &bookmark{title: text, level: level}
		s.marks = append(s.marks, m)
		s.boxes[start].mark = m
	}
	return nil
}

func (s *setter) setParagraph(p paper.Paragraph) error {
	st := bodyStyle
	switch p.Voice {
	case paper.Lead:
		st = leadStyle
	case paper.Small:
		st = smallStyle
	}
	return s.setLines(p.Text, st, 0, maxMeasure, paragraphGap)
}

// setLines sets running text: no single line of a paragraph is left alone at the
// foot or the head of a page.
func (s *setter) setLines(t paper.Text, st style, indent, measure, above float64) error {
	lines, err := s.wrap(t, st, min(measure, s.sheet.measure())-indent)
	if err != nil {
		return err
	}
	start := len(s.boxes)
	for i, l := range lines {
		held := len(lines) > 1 && (i == 0 || i == len(lines)-2)
		s.add(box{height: st.leading, keep: held, draw: func(c *canvas, x, y float64) { c.text(l, st, x+indent, y+st.base()) }})
	}
	s.space(start, above)
	return nil
}

func (s *setter) setList(l paper.List) error {
	const indent = 16
	st := bodyStyle
	for i, item := range l.Items {
		start := len(s.boxes)
		if err := s.setLines(item, st, indent, maxMeasure, itemGap); err != nil {
			return err
		}
		if start == len(s.boxes) {
			continue
		}
		sign := "•"
		if l.Numbered {
			sign = strconv.Itoa(i+1) + "."
		}
		signLine, err := s.one(sign, st, indent)
		if err != nil {
			return err
		}
		words := s.boxes[start].draw
		s.boxes[start].draw = func(c *canvas, x, y float64) {
			c.text(signLine, st, x+indent-5-signLine.width, y+st.base())
			words(c, x, y)
		}
		if i == 0 {
			s.space(start, paragraphGap-itemGap)
		}
	}
	return nil
}

func (s *setter) setNote(n paper.Note) error {
	const indent = 10
	t := append(paper.Text{{Text: s.labels.Note + ": ", Bold: true}}, n.Text...)
	start := len(s.boxes)
	if err := s.setLines(t, cellStyle, indent, maxMeasure, 8); err != nil {
		return err
	}
	for i := start; i < len(s.boxes); i++ {
		words, h := s.boxes[i].draw, s.boxes[i].height
		s.boxes[i].draw = func(c *canvas, x, y float64) {
			c.rule(x+1, y, x+1, y+h, 1, grey)
			words(c, x, y)
		}
	}
	return nil
}

func (s *setter) setSources(src paper.Sources) error {
	start := len(s.boxes)
	if err := s.setLines(paper.Text{{Text: s.labels.Sources, Bold: true}}, smallStyle, 0, s.sheet.measure(), 8); err != nil {
		return err
	}
	for _, item := range src.Items {
		if err := s.setLines(paper.Plain(item), smallStyle.in(grey), 10, s.sheet.measure(), 0); err != nil {
			return err
		}
	}
	for i := start; i < len(s.boxes)-1; i++ {
		s.boxes[i].soft = true
	}
	s.space(start, 8)
	return nil
}

// setTogether holds its blocks on one page if they fit one.
func (s *setter) setTogether(t paper.Together) error {
	start := len(s.boxes)
	for _, b := range t.Blocks {
		if err := s.setBlock(b); err != nil {
			return err
		}
	}
	for i := start; i < len(s.boxes)-1; i++ {
		s.boxes[i].soft = true
	}
	return nil
}

func (s *setter) setSignatures(sig paper.Signatures) error {
	const gap, room, perRow = 24, 34, 3
	for first := 0; first < len(sig.Items); first += perRow {
		row := sig.Items[first:min(first+perRow, len(sig.Items))]
		width := (s.sheet.measure() - gap*(perRow-1)) / perRow
		who := make([]line, len(row))
		for i, name := range row {
			l, err := s.one(name, labelStyle.in(ink), width)
			if err != nil {
				return err
			}
			who[i] = l
		}
		signed, err := s.one(s.labels.Signed, noteStyle, width)
		if err != nil {
			return err
		}
		start := len(s.boxes)
		s.add(box{height: room + labelStyle.leading + noteStyle.leading, draw: func(c *canvas, x, y float64) {
			for i, l := range who {
				left := x + float64(i)*(width+gap)
				c.rule(left, y+room, left+width, y+room, 0.6, ink)
				c.text(l, labelStyle.in(ink), left, y+room+2+labelStyle.base())
				c.text(signed, noteStyle, left, y+room+1+labelStyle.leading+noteStyle.base())
			}
		}})
		s.space(start, tableGap)
	}
	return nil
}
