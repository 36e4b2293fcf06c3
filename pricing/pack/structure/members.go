package structure

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"tunwright/catalog/unit"
	"tunwright/configurator/floor"
	"tunwright/configurator/plan"
	"tunwright/pricing/paper/drawing"
)

// keyRoom is what the key of the members takes at the foot of the plan.
const keyRoom drawing.MM = 6

// levelPens tell how full a member is, by weight and pattern of the line.
var levelPens = [...]drawing.Pen{
	plan.LevelUnknown: {Width: 0.25, Colour: drawing.Grey, Dash: drawing.Chain},
	plan.LevelLow:     {Width: 0.3, Colour: drawing.Blue, Dash: drawing.Dotted},
	plan.LevelHalf:    {Width: 0.4, Colour: drawing.Blue, Dash: drawing.Dashed},
	plan.LevelHigh:    {Width: 0.6, Colour: drawing.Blue},
	plan.LevelFull:    {Width: 1.1, Colour: drawing.Blue},
	plan.LevelOver:    {Width: 1.8, Colour: drawing.Rust},
}

// key says what the lines of the members mean.
func (s *Sheet) key() {
	y := s.Drawing.Height - 2
	x := leftRoom
	s.Drawing.Add(drawing.Text{At: drawing.P(0, y+0.8), Text: "Members", Size: drawing.SmallType, Bold: true, Colour: drawing.Ink})
	for i, words := range plan.Legend() {
		s.Drawing.Add(
			drawing.Line{From: drawing.P(x, y), To: drawing.P(x+9, y), Pen: levelPens[i]},
			drawing.Text{At: drawing.P(x+10.5, y+0.8), Text: words, Size: drawing.SmallType, Colour: drawing.Ink},
		)
		x += 12 + drawing.MM(len(words))*1.35
	}
}

// uses writes each member's name with how full it is near one of its ends, the
// fullest first; where members lie close the fuller one keeps its words, another its
// figure alone, and the table has them all.
func (s *Sheet) uses(f *floor.Result) {
	if f == nil {
		return
	}
	order := make([]*floor.MemberLoad, len(f.Members))
	for i := range f.Members {
		order[i] = &f.Members[i]
	}
	slices.SortStableFunc(order, func(a, b *floor.MemberLoad) int { return cmp.Compare(b.Operating.Use, a.Operating.Use) })
	for _, m := range order {
		from, to := s.At(m.From), s.At(m.To)
		if !m.Given() {
			s.besideMember(m.Name, from, to)
			continue
		}
		full := fmt.Sprintf("%.0f %%", m.Operating.Use.Pct())
		if !s.besideMember(m.Name+": "+full, from, to) {
			s.besideMember(full, from, to)
		}
	}
}

// besideMember writes words along a member where neither words nor pieces stand, else
// where no words stand, and tells whether it found such a place.
func (s *Sheet) besideMember(words string, a, b drawing.Point) bool {
	left, right := s.At(s.lo).X, s.At(s.hi).X
	half := wordWidth(words) / 2
	var at []drawing.Point
	for _, t := range []drawing.MM{0.14, 0.86, 0.28, 0.72, 0.42, 0.58} {
		p := drawing.P(a.X+(b.X-a.X)*t, a.Y+(b.Y-a.Y)*t+0.8)
		p.X = min(max(p.X, left+half+1.5), right-half-1.5) // inside the room
		at = append(at, p)
	}
	for _, free := range []func(drawing.Point) bool{
		func(p drawing.Point) bool { return s.Free(p, words, drawing.SmallType) && !s.onPiece(p, words) },
		func(p drawing.Point) bool { return s.Free(p, words, drawing.SmallType) },
	} {
		if i := slices.IndexFunc(at, free); i >= 0 {
			s.write(at[i], words, drawing.SmallType, false)
			return true
		}
	}
	return false
}

// onPiece tells whether words would lie on a piece.
func (s *Sheet) onPiece(at drawing.Point, words string) bool {
	b := boxOf(at, words, drawing.SmallType)
	return slices.ContainsFunc(s.bodies, b.meets)
}

// measure adds axes in metres, overall dimensions, scale bar and north.
func (s *Sheet) measure() {
	a, b, c := s.View.At(s.lo.X, s.lo.Y), s.View.At(s.hi.X, s.lo.Y), s.View.At(s.lo.X, s.hi.Y)
	s.axis(s.lo.X, s.hi.X, func(m unit.Length) (drawing.Point, drawing.Point, drawing.Point) {
		p := s.View.At(m, s.lo.Y)
		return p.Add(0, 1.2), p.Add(0, 2.4), p.Add(0, 5)
	})
	s.axis(s.lo.Y, s.hi.Y, func(m unit.Length) (drawing.Point, drawing.Point, drawing.Point) {
		p := s.View.At(s.lo.X, m)
		return p.Add(-1.2, 0), p.Add(-2.4, 0), p.Add(-4, 0.8)
	})
	s.Drawing.Add(
		drawing.Dimension(a, b, 9, metres(s.hi.X-s.lo.X)),
		drawing.Dimension(c, a, 9, metres(s.hi.Y-s.lo.Y)),
		s.View.ScaleBar(drawing.P(a.X, a.Y+14), int(math.Max(1, math.Min(5, math.Floor((s.hi.X-s.lo.X).M()/3))))),
		drawing.NorthArrow(drawing.P(s.Drawing.Width-6, 14), 0),
	)
}

// axis marks whole metres from the room's corner, by which the tables give places.
func (s *Sheet) axis(from, to unit.Length, at func(unit.Length) (tick, end, label drawing.Point)) {
	every := 1
	for _, n := range []int{1, 2, 5, 10} {
		if every = n; s.View.MM(unit.Metres(float64(n))) >= 7 {
			break
		}
	}
	for m := 0; unit.Metres(float64(m)) <= to+1e-9; m += every {
		x := unit.Metres(float64(m))
		if x < from {
			continue
		}
		tick, end, label := at(x)
		s.Drawing.Add(drawing.Line{From: tick, To: end, Pen: drawing.Hair}, drawing.Text{At: label, Text: fmt.Sprint(m), Size: 1.9, Anchor: drawing.Middle, Colour: drawing.Grey})
	}
}
