package pack

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/floor"
	"tunwright/configurator/plan"
	"tunwright/pricing/paper/drawing"
)

// planScales are the scales a plan is drawn at, the largest that fits (1:20, 1:50,
// 1:100, 1:200 by ISO 5455:1979, 4; the others are common practice, no source).
var planScales = []drawing.Scale{20, 25, 50, 75, 100, 125, 150, 200, 250, 500}

// Room on the sheet around the plan for dimensions, scale bar and north.
const (
	planLeft  drawing.MM = 12
	planRight drawing.MM = 14
	planTop   drawing.MM = 8
	planFoot  drawing.MM = 24
)

// Plan draws the room to scale with everything that stands in it: walls, columns,
// doors, gullies, members with how full each is, pieces with their tags. width and
// most are the space on the sheet; the drawing is no higher than it needs to be.
//
// How full a member is shows in the number on it and in the line's weight and
// pattern, not by colour alone.
func Plan(r configurator.Report, width, most drawing.MM) (drawing.Drawing, error) {
	room := configurator.Room(r.Project)
	lo, hi := room.Outline.Bounds()
	for _, scale := range planScales {
		v := drawing.View{Scale: scale}
		w, h := v.MM(hi.X-lo.X), v.MM(hi.Y-lo.Y)
		if w > width-planLeft-planRight || h > most-planTop-planFoot {
			continue
		}
		d := drawing.Drawing{
			Width: width, Height: h + planTop + planFoot, Title: "Plan of " + r.Project.Site.Name,
			Description: "Room to scale with walls, columns, doors, gullies, floor members and the equipment by its tags.",
		}
		v.Origin = drawing.P(planLeft+(width-planLeft-planRight-w)/2-v.MM(lo.X), planTop+h+v.MM(lo.Y))
		drawPlan(planSheet{v: v, d: &d}, room, r)
		return d, nil
	}
	return drawing.Drawing{}, fmt.Errorf("a room of %s by %s is too large for the sheet", metres(hi.X-lo.X), metres(hi.Y-lo.Y))
}

func drawPlan(s planSheet, room plan.Room, r configurator.Report) {
	lo, hi := room.Outline.Bounds()
	s.members(r.Floor)
	s.walls(room)
	s.fixed(room, r)
	for _, p := range r.Pieces {
		s.piece(p)
	}
	s.uses(r.Floor)
	s.measure(lo, hi)
}

// planSheet puts world things on a drawing.
type planSheet struct {
	v drawing.View
	d *drawing.Drawing
}

func (s planSheet) at(p plan.Point) drawing.Point { return s.v.At(p.X, p.Y) }

func (s planSheet) polygon(g plan.Polygon, pen drawing.Pen, fill drawing.Fill) {
	points := make([]drawing.Point, len(g))
	for i, p := range g {
		points[i] = s.at(p)
	}
	s.d.Add(drawing.Polygon{Points: points, Pen: pen, Fill: fill})
}

func (s planSheet) walls(room plan.Room) {
	s.polygon(room.Outline, drawing.Heavy, drawing.Fill{})
	for _, c := range room.Columns {
		box := plan.Polygon{
			{X: c.At.X - c.A/2, Y: c.At.Y - c.B/2}, {X: c.At.X + c.A/2, Y: c.At.Y - c.B/2}, {X: c.At.X + c.A/2, Y: c.At.Y + c.B/2}, {X: c.At.X - c.A/2, Y: c.At.Y + c.B/2},
		}
		s.polygon(box, drawing.Fine, drawing.Tint(drawing.Ink))
	}
	for _, door := range room.Doors {
		s.door(door)
	}
}

// door is a gap in the wall; a leaf that swings in sweeps a quarter circle.
func (s planSheet) door(d plan.Door) {
	a, b := s.at(d.Hinge), s.at(d.Latch)
	s.d.Add(
		drawing.Line{From: a, To: b, Pen: drawing.Pen{Width: 1.2, Colour: drawing.White}},
		drawing.Line{From: a, To: b, Pen: drawing.Pen{Width: 0.25, Colour: drawing.Ink, Dash: drawing.Dashed}},
	)
	mid := s.at(d.Middle())
	s.d.Add(drawing.Text{At: mid.Add(0, 3.4), Text: d.Name, Size: drawing.SmallType, Anchor: drawing.Middle, Colour: drawing.Ink, Halo: true})
}

func (s planSheet) fixed(room plan.Room, r configurator.Report) {
	for _, g := range room.Gullies {
		p := s.at(g.At)
		s.d.Add(
			drawing.Circle{Centre: p, Radius: 1.3, Pen: drawing.Fine, Fill: drawing.Tint(drawing.White)},
			drawing.Line{From: p.Add(-0.9, -0.9), To: p.Add(0.9, 0.9), Pen: drawing.Fine}, drawing.Line{From: p.Add(-0.9, 0.9), To: p.Add(0.9, -0.9), Pen: drawing.Fine},
			drawing.Text{At: p.Add(2, 0.8), Text: g.Name, Size: drawing.SmallType, Colour: drawing.Ink, Halo: true},
		)
	}
	for _, b := range room.Boards {
		p := s.at(b.At)
		s.d.Add(drawing.Rect(p.X-1.6, p.Y-1.6, 3.2, 3.2, drawing.Fine, drawing.Fill{Hatch: drawing.Rising}), drawing.Text{At: p.Add(0, -2.2), Text: b.Name, Size: drawing.SmallType, Anchor: drawing.Middle, Colour: drawing.Ink, Halo: true})
	}
	for _, z := range r.Project.Site.Room.Zones {
		g := plan.Polygon{{X: z.From.X, Y: z.From.Y}, {X: z.To.X, Y: z.From.Y}, {X: z.To.X, Y: z.To.Y}, {X: z.From.X, Y: z.To.Y}}
		s.polygon(g, drawing.Pen{Width: 0.18, Colour: drawing.Grey, Dash: drawing.Dotted}, drawing.Fill{})
		c := s.at(plan.Point{X: (z.From.X + z.To.X) / 2, Y: (z.From.Y + z.To.Y) / 2})
		s.d.Add(drawing.Text{At: c.Add(0, 0.8), Text: z.Name, Size: drawing.SmallType, Anchor: drawing.Middle, Colour: drawing.Grey})
	}
}

// members draws joists and beams as lines whose weight grows with the use.
func (s planSheet) members(f *floor.Result) {
	if f == nil {
		return
	}
	for i := range f.Members {
		m := &f.Members[i]
		pen := drawing.Pen{Width: 0.25, Colour: drawing.Grey, Dash: drawing.Chain}
		if m.Given() {
			use := m.Operating.Use.Value()
			switch {
			case use > 1:
				pen = drawing.Pen{Width: 1.4, Colour: drawing.Rust}
			case use > 0.8:
				pen = drawing.Pen{Width: 0.9, Colour: drawing.Blue}
			case use > 0.5:
				pen = drawing.Pen{Width: 0.5, Colour: drawing.Blue, Dash: drawing.Dashed}
			}
		}
		s.d.Add(drawing.Line{From: s.at(m.From), To: s.at(m.To), Pen: pen})
	}
}

// uses writes how full each member is a little way in from its first support, on top
// of everything else.
func (s planSheet) uses(f *floor.Result) {
	if f == nil {
		return
	}
	const along = 0.12
	for i := range f.Members {
		m := &f.Members[i]
		if !m.Given() {
			continue
		}
		a, b := s.at(m.From), s.at(m.To)
		at := drawing.P(a.X+(b.X-a.X)*along, a.Y+(b.Y-a.Y)*along)
		s.d.Add(drawing.Text{At: at.Add(0.6, 0.8), Text: fmt.Sprintf("%.0f %%", m.Operating.Use.Pct()), Size: drawing.SmallType, Colour: drawing.Ink, Halo: true})
	}
}

// piece draws one body with its tag; one without a place is left out, and the table
// says so.
func (s planSheet) piece(p configurator.Piece) {
	if p.Place == nil || p.Body.Wall {
		return
	}
	it := configurator.PlanItem(p)
	place := *it.Place
	s.polygon(it.Outline(place), drawing.Medium, drawing.Tint(drawing.Mist))
	c := s.at(place.At)
	size := drawing.SmallType
	s.d.Add(drawing.Text{At: c.Add(0, 0.4), Text: p.Item, Size: size, Anchor: drawing.Middle, Bold: true, Colour: drawing.Ink})
	if small := min(p.Body.Length.M(), p.Body.Width.M()) < 1.2; p.Part != "" && !small {
		s.d.Add(drawing.Text{At: c.Add(0, 3), Text: shortPart(p.Part), Size: 1.9, Anchor: drawing.Middle, Colour: drawing.Ink})
	}
}

// shortPart keeps the first word or two of a part, which is what fits on a plan.
func shortPart(part string) string {
	const most = 12
	if len(part) <= most {
		return part
	}
	cut := most
	for i := most; i > 3; i-- {
		if part[i] == ' ' {
			cut = i
			break
		}
	}
	return part[:cut]
}

// measure adds overall dimensions, scale bar and north.
func (s planSheet) measure(lo, hi plan.Point) {
	a, b, c := s.v.At(lo.X, lo.Y), s.v.At(hi.X, lo.Y), s.v.At(lo.X, hi.Y)
	s.d.Add(
		drawing.Dimension(a, b, 7, metres(hi.X-lo.X)),
		drawing.Dimension(c, a, 6, metres(hi.Y-lo.Y)),
	)
	n := int(math.Max(1, math.Min(5, math.Floor((hi.X-lo.X).M()/3))))
	s.d.Add(s.v.ScaleBar(drawing.P(planLeft, s.d.Height-6), n), drawing.NorthArrow(drawing.P(s.d.Width-6, 14), 0))
}

func metres(l unit.Length) string { return fmt.Sprintf("%.2f m", l.M()) }
