package electrician

import (
	"fmt"
	"slices"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/electrical"
	"tunwright/configurator/plan"
	"tunwright/pricing/pack/structure"
	"tunwright/pricing/paper/drawing"
)

// LocationPlan is the plan of the room with the board and the connection points.
func LocationPlan(r configurator.Report, width, most drawing.MM) (drawing.Drawing, error) {
	s, err := structure.NewSheet(r, structure.Unnamed, width, most)
	if err != nil {
		return drawing.Drawing{}, err
	}
	s.Drawing.Title = "Location plan of connection points"
	if r.Electrical != nil {
		spots := located(Facts(r))
		for i := range spots {
			g := &spots[i]
			at := s.At(g.at)
			s.Drawing.Add(drawing.Polygon{Points: []drawing.Point{at.Add(-1.3, 1.1), at.Add(1.3, 1.1), at.Add(0, -1.2)}, Pen: drawing.Fine, Fill: drawing.Tint(drawing.Ink)})
			s.Mark(g.at)
			p := s.Write(g.words(), true, at.Add(0, 4), at.Add(0, -2.2), at.Add(0, 7), at.Add(0, -5), at.Add(0, 4))
			if below := p.Add(0, 3.1); g.heights() != "" && p.Y > at.Y && s.Free(below, g.heights(), drawing.SmallType) {
				s.Write(g.heights(), false, below)
			}
		}
	}
	s.Rest(r)
	return *s.Drawing, nil
}

// unlocated are the points without a place in the room.
func unlocated(f electrical.Facts) []string {
	var out []string
	for _, p := range f.Points() {
		if p.X == nil || p.Y == nil {
			out = append(out, p.Tag)
		}
	}
	return out
}

// spot is one place with the points that are there.
type spot struct {
	at        plan.Point
	tags      []string
	low, high *unit.Length
}

// located gathers the points by place, in the order of the schedule.
func located(f electrical.Facts) []spot {
	var out []spot
	for _, p := range f.Points() {
		if p.X == nil || p.Y == nil {
			continue
		}
		at := plan.Point{X: *p.X, Y: *p.Y}
		i := slices.IndexFunc(out, func(s spot) bool { return s.at == at })
		if i < 0 {
			out = append(out, spot{at: at})
			i = len(out) - 1
		}
		out[i].add(p)
	}
	return out
}

func (s *spot) add(p electrical.Point) {
	s.tags = append(s.tags, p.Tag)
	if h := p.Height; h != nil {
		if s.low == nil || *h < *s.low {
			s.low = h
		}
		if s.high == nil || *h > *s.high {
			s.high = h
		}
	}
}

// heights are those of the terminals over the floor, in metres.
func (s *spot) heights() string {
	switch {
	case s.low == nil:
		return ""
	case *s.low == *s.high:
		return fmt.Sprintf("+%.2f", s.low.M())
	}
	return fmt.Sprintf("+%.2f–%.2f", s.low.M(), s.high.M())
}

// words are the refs at a place: FV1.1, or BH1.1–7 for a run of them.
func (s *spot) words() string {
	first, last := s.tags[0], s.tags[len(s.tags)-1]
	if first == last {
		return first
	}
	item, _, _ := strings.Cut(first, ".")
	if _, n, ok := strings.Cut(last, "."); ok && strings.HasPrefix(last, item+".") {
		return first + "–" + n
	}
	return first + "–" + last
}
