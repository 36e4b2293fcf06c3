package pdf

import (
	"fmt"
	"strconv"
	"strings"

	"tunwright/pricing/paper"
)

// setWorking sets the steps of a calculation: at the left what each computes and
// where it comes from, at the right the formula, the values put in and the result.
func (s *setter) setWorking(w paper.Working) error {
	outer := s.where
	defer func() { s.where = outer }()
	start := len(s.boxes)
	if w.Title != "" {
		if err := s.setHeading(w.Title, h3Style, 10, 2, 3); err != nil {
			return err
		}
	}
	repeated, err := s.continued(w.Title)
	if err != nil {
		return err
	}
	for i, step := range w.Steps {
		s.where = fmt.Sprintf("%s, working %q step %d", outer, w.Title, i+1)
		if err := s.setStep(i+1, step); err != nil {
			return err
		}
		if i > 0 {
			s.boxes[len(s.boxes)-1].head = repeated
		}
	}
	s.space(start, tableGap)
	return nil
}

type styledLine struct {
	line  line
	style style
}

func (s *setter) setStep(number int, step paper.Step) error {
	const indent, gap = 18, 14
	width := s.sheet.measure()
	leftWidth := (width - indent) * 0.4
	rightWidth := width - indent - leftWidth - gap

	sign, err := s.one(strconv.Itoa(number), labelStyle, indent)
	if err != nil {
		return err
	}
	var left, right []styledLine
	for _, part := range []struct {
		text  string
		style style
	}{{step.Title, cellStyle}, {step.Note, noteStyle}, {withLabel(s.labels.Source, step.Source), noteStyle}} {
		if left, err = s.append(left, paper.Plain(part.text), part.style, leftWidth); err != nil {
			return err
		}
	}
	formula := step.Formula
	if step.Symbol != "" && formula != "" {
		formula = step.Symbol + " = " + formula
	}
	if right, err = s.append(right, paper.Symbols(formula), formulaStyle, rightWidth); err != nil {
		return err
	}
	if len(step.Values) > 0 {
		values := s.labels.With + " " + strings.Join(step.Values, ", ")
		if right, err = s.append(right, paper.Symbols(values), labelStyle, rightWidth); err != nil {
			return err
		}
	}
	result := step.Result
	if step.Symbol != "" {
		result = step.Symbol + " = " + result
	}
	if right, err = s.append(right, paper.Symbols(result), cellStyle.inBold(), rightWidth); err != nil {
		return err
	}
	height := max(depth(left), depth(right)) + 2*cellPad + 2
	s.add(box{height: height, draw: func(c *canvas, x, y float64) {
		c.rule(x, y, x+width, y, 0.25, pale)
		c.text(sign, labelStyle, x, y+cellPad+labelStyle.base())
		drawStack(c, left, x+indent, y+cellPad)
		drawStack(c, right, x+indent+leftWidth+gap, y+cellPad)
	}})
	return nil
}

func (s *setter) append(stack []styledLine, t paper.Text, st style, width float64) ([]styledLine, error) {
	if len(t) == 0 {
		return stack, nil
	}
	lines, err := s.wrap(t, st, width)
	if err != nil {
		return nil, err
	}
	for _, l := range lines {
		stack = append(stack, styledLine{l, st})
	}
	return stack, nil
}

func depth(stack []styledLine) float64 {
	h := 0.0
	for _, l := range stack {
		h += l.style.leading
	}
	return h
}

func drawStack(c *canvas, stack []styledLine, x, y float64) {
	for _, l := range stack {
		c.text(l.line, l.style, x, y+l.style.base())
		y += l.style.leading
	}
}

func withLabel(label, text string) string {
	if text == "" {
		return ""
	}
	return label + ": " + text
}
