package pdf

import (
	"fmt"
	"slices"
	"strconv"

	"tunwright/pricing/paper"
)

// setDocument makes the boxes of the whole document.
func (s *setter) setDocument() error {
	if err := s.setFront(); err != nil {
		return err
	}
	contents := len(s.boxes)
	for i, sec := range slices.Concat(s.doc.Sections, s.doc.Closing()) {
		if err := s.setSection(i+1, sec); err != nil {
			return err
		}
	}
	if !s.doc.Contents {
		return nil
	}
	return s.setContents(contents)
}

func (s *setter) setSection(number int, sec paper.Section) error {
	s.where = fmt.Sprintf("section %q", sec.Title)
	if turned := sheetFor(s.doc.Size, sec.Wide); turned.wide != s.sheet.wide {
		s.sheet = turned
		s.turn = true
	}
	title := sec.Title
	if s.doc.Numbered {
		title = strconv.Itoa(number) + "\u00a0\u00a0" + title
	}
	start := len(s.boxes)
	if err := s.setHeading(title, h1Style.in(s.headingColour()), 22, 6, 1); err != nil {
		return err
	}
	s.boxes[start].apart = sec.NewPage
	sub := 0
	for _, b := range sec.Blocks {
		if h, ok := b.(paper.Heading); ok && h.Level == 2 && s.doc.Numbered {
			sub++
			h.Text = fmt.Sprintf("%d.%d\u00a0\u00a0%s", number, sub, h.Text)
			b = h
		}
		if err := s.setBlock(b); err != nil {
			return err
		}
	}
	// The last box of a heading without text below it must not hold on to the next
	// section.
	last := &s.boxes[len(s.boxes)-1]
	last.keep, last.soft = false, false
	return nil
}

func (s *setter) headingColour() paper.Colour {
	if s.accent == (paper.Colour{}) {
		return ink
	}
	return s.accent
}

// setContents puts the list of sections in front of box at. Page numbers are known
// only when it is drawn.
func (s *setter) setContents(at int) error {
	s.where = "contents"
	s.sheet = sheetFor(s.doc.Size, false)
	start := len(s.boxes)
	if err := s.setHeading(s.labels.Contents, h2Style.in(s.headingColour()), 18, 4, 0); err != nil {
		return err
	}
	for _, m := range s.marks {
		if err := s.setContentsLine(m); err != nil {
			return err
		}
	}
	contents := append([]box(nil), s.boxes[start:]...)
	s.boxes = append(s.boxes[:at:at], append(contents, s.boxes[at:start]...)...)
	return nil
}

func (s *setter) setContentsLine(m *bookmark) error {
	st, indent := bodyStyle, 0.0
	if m.level == 2 {
		st, indent = cellStyle, 16
	}
	width := min(s.sheet.measure(), maxMeasure)
	const numberWidth = 24
	lines, err := s.wrap(paper.Plain(m.title), st, width-indent-numberWidth)
	if err != nil {
		return err
	}
	for i, l := range lines {
		last := i == len(lines)-1
		s.add(box{height: st.leading, keep: !last, draw: func(c *canvas, x, y float64) {
			base := y + st.base()
			c.text(l, st, x+indent, base)
			if !last {
				return
			}
			number := s.digits(strconv.Itoa(m.page), st)
			c.text(number, st, x+width-number.width, base)
			if from, to := x+indent+l.width+6, x+width-number.width-6; to > from {
				c.rule(from, base-0.5, to, base-0.5, 0.25, pale)
			}
		}})
	}
	return nil
}

// digits sets a number in the regular face, which every document uses.
func (s *setter) digits(number string, st style) line {
	width := 0
	for _, r := range number {
		w, _ := s.printer.faces[regular].width(r)
		width += int(w)
	}
	return line{runs: []run{{face: regular, text: number}}, width: float64(width) * st.size / emPerThou}
}
