package pdf

import (
	"math"

	"github.com/signintech/gopdf"

	"tunwright/pricing/paper"
)

const (
	findingIndent = 22
	findingGap    = 9
)

// setFindings sets each finding as a group: its gravity in words beside a shape,
// what is needed and had, the explanation, what would mend it, and the source.
func (s *setter) setFindings(f paper.Findings) error {
	if len(f.Items) == 0 {
		return s.setLines(paper.Plain(s.labels.NoFindings), bodyStyle, 0, maxMeasure, paragraphGap)
	}
	outer := s.where
	defer func() { s.where = outer }()
	for _, item := range f.Items {
		s.where = outer + ", finding " + item.ID
		start := len(s.boxes)
		if err := s.setFinding(item); err != nil {
			return err
		}
		for i := start; i < len(s.boxes)-1; i++ {
			s.boxes[i].soft = true
		}
		s.space(start, findingGap)
	}
	return nil
}

func (s *setter) setFinding(f paper.Finding) error {
	if err := s.findingHead(f); err != nil {
		return err
	}
	measure := s.sheet.measure()
	if f.Need != "" || f.Have != "" {
		if err := s.setLines(s.needAndHave(f), cellStyle, findingIndent, measure, 1); err != nil {
			return err
		}
	}
	if f.Words != "" {
		if err := s.setLines(paper.Plain(f.Words), cellStyle, findingIndent, measure, 2); err != nil {
			return err
		}
	}
	if err := s.remedies(f.Remedies); err != nil {
		return err
	}
	if f.Accepted != "" {
		t := paper.Text{{Text: s.labels.Accepted + ": ", Bold: true}, {Text: f.Accepted}}
		if err := s.setLines(t, cellStyle, findingIndent, measure, 2); err != nil {
			return err
		}
	}
	if f.Source != "" {
		return s.setLines(paper.Plain(s.labels.Source+": "+f.Source), noteStyle, findingIndent, measure, 2)
	}
	return nil
}

func (s *setter) needAndHave(f paper.Finding) paper.Text {
	var t paper.Text
	if f.Need != "" {
		t = append(t, paper.Span{Text: s.labels.Need + " "}, paper.Span{Text: f.Need, Bold: true})
	}
	if f.Have != "" {
		if len(t) > 0 {
			t = append(t, paper.Span{Text: "  ·  "})
		}
		t = append(t, paper.Span{Text: s.labels.Have + " "}, paper.Span{Text: f.Have, Bold: true})
	}
	return t
}

func (s *setter) remedies(remedies []string) error {
	if len(remedies) == 0 {
		return nil
	}
	measure := s.sheet.measure()
	if err := s.setLines(paper.Text{{Text: s.labels.Remedies, Bold: true}}, cellStyle, findingIndent, measure, 2); err != nil {
		return err
	}
	s.boxes[len(s.boxes)-1].keep = true
	for _, r := range remedies {
		if err := s.setLines(paper.Plain("→\u00a0\u00a0"+r), cellStyle, findingIndent+8, measure, 0.5); err != nil {
			return err
		}
	}
	return nil
}

// findingHead is the shape and the gravity in words, the title and, at the right,
// the identification.
func (s *setter) findingHead(f paper.Finding) error {
	st := h3Style
	id, err := s.one(f.ID, noteStyle, 90)
	if err != nil {
		return err
	}
	label, err := s.one(s.labels.Gravity(f.Gravity), markStyle, s.sheet.measure()/2)
	if err != nil {
		return err
	}
	title := f.Title
	if f.Subject != "" {
		title += ": " + f.Subject
	}
	width := s.sheet.measure()
	lines, err := s.wrap(paper.Plain(title), st, width-findingIndent)
	if err != nil {
		return err
	}
	gravity := f.Gravity
	s.add(box{height: markStyle.leading + 5, keep: true, draw: func(c *canvas, x, y float64) {
		c.rule(x, y, x+width, y, 0.5, grey)
		drawGravity(c, gravity, x+7, y+11)
		c.text(label, markStyle, x+findingIndent, y+4+markStyle.base())
		c.text(id, noteStyle, x+width-id.width, y+4+markStyle.base())
	}})
	for _, l := range lines {
		s.add(box{height: st.leading, keep: true, draw: func(c *canvas, x, y float64) {
			c.text(l, st, x+findingIndent, y+st.base())
		}})
	}
	return nil
}

// drawGravity draws a shape of its own for each gravity, told apart by outline and
// filling: a filled octagon, a filled triangle, an open circle, an open diamond and
// a tick.
func drawGravity(c *canvas, g paper.Gravity, x, y float64) {
	const r = 6
	switch g {
	case paper.Stops:
		c.shape(ring(x, y, r, 8, math.Pi/8), 0, ink, &ink)
		c.rule(x-3, y, x+3, y, 1.6, paper.Colour{R: 255, G: 255, B: 255})
	case paper.Warns:
		c.shape([]gopdf.Point{{X: x, Y: y - r}, {X: x + r, Y: y + r - 1}, {X: x - r, Y: y + r - 1}}, 0, ink, &ink)
	case paper.Mentions:
		c.shape(ring(x, y, r-1, 32, 0), 1.2, ink, nil)
	case paper.Unanswered:
		c.shape(ring(x, y, r, 4, 0), 1.2, ink, nil)
	case paper.InOrder:
		c.rule(x-4, y, x-1, y+3.5, 1.4, ink)
		c.rule(x-1, y+3.5, x+5, y-4, 1.4, ink)
	}
}

// ring is a regular polygon.
func ring(x, y, radius float64, corners int, turn float64) []gopdf.Point {
	points := make([]gopdf.Point, corners)
	for i := range points {
		sin, cos := math.Sincos(turn + 2*math.Pi*float64(i)/float64(corners))
		points[i] = gopdf.Point{X: x + radius*cos, Y: y + radius*sin}
	}
	return points
}
