package structure

import (
	"fmt"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/floor"
	"tunwright/configurator/plan"
	"tunwright/pricing/paper/drawing"
)

// scales are the scales a plan is drawn at, the largest that fits (1:20, 1:50, 1:100,
// 1:200 by ISO 5455:1979, 4; the others are common practice, no source).
var scales = []drawing.Scale{20, 25, 50, 75, 100, 125, 150, 200, 250, 500}

// Room on the sheet around the plan for axes, dimensions, scale bar and north.
const (
	leftRoom  drawing.MM = 16
	rightRoom drawing.MM = 16
	topRoom   drawing.MM = 9
	footRoom  drawing.MM = 24
)

// Sheet is a plan of the room to scale, on which a trade marks its own things.
type Sheet struct {
	View    drawing.View
	Drawing *drawing.Drawing
	lo, hi  plan.Point
	taken   []span // where words stand already
	bodies  []span // where pieces stand
	marked  []plan.Point
}

// Kind chooses what a plan shows beside walls, doors, columns, gullies and pieces.
type Kind uint8

// The kinds of plan.
const (
	Loads   Kind = 1 << iota // members with how full they are, feet with their loads
	Spaces                   // service spaces, door sweeps, ground to be kept free
	Unnamed                  // without the names of the pieces, for a trade's own marks
)

// Plan draws the room to scale with everything that stands in it: walls, columns,
// doors, gullies, members with how full each is along its span, pieces with their
// tags and the load on a foot. width and most are the space on the sheet; the drawing
// is no higher than it needs to be.
//
// How full a member is shows in the number on it and in the line's weight and
// pattern, not by colour alone.
func Plan(r configurator.Report, width, most drawing.MM) (drawing.Drawing, error) {
	s, err := NewSheet(r, Loads|Spaces, width, most)
	if err != nil {
		return drawing.Drawing{}, err
	}
	return *s.Drawing, nil
}

// LoadingPlan is the plan for the structural engineer.
func LoadingPlan(r configurator.Report, width, most drawing.MM) (drawing.Drawing, error) {
	s, err := NewSheet(r, Loads, width, most)
	if err != nil {
		return drawing.Drawing{}, err
	}
	return *s.Drawing, nil
}

// RoomPlan is the plan for the architect.
func RoomPlan(r configurator.Report, width, most drawing.MM) (drawing.Drawing, error) {
	s, err := NewSheet(r, Spaces, width, most)
	if err != nil {
		return drawing.Drawing{}, err
	}
	return *s.Drawing, nil
}

// NewSheet draws a plan that can be added to.
func NewSheet(r configurator.Report, kind Kind, width, most drawing.MM) (*Sheet, error) {
	room := configurator.Room(r.Project)
	if len(room.Outline) < 3 {
		return nil, fmt.Errorf("the room has %d corners: a plan needs at least three", len(room.Outline))
	}
	lo, hi := room.Outline.Bounds()
	foot := footRoom
	if kind&Loads != 0 && r.Floor != nil && len(r.Floor.Members) > 0 {
		foot += keyRoom
	}
	for _, scale := range scales {
		v := drawing.View{Scale: scale}
		w, h := v.MM(hi.X-lo.X), v.MM(hi.Y-lo.Y)
		if w > width-leftRoom-rightRoom || h > most-topRoom-foot {
			continue
		}
		v.Origin = drawing.P(leftRoom+(width-leftRoom-rightRoom-w)/2-v.MM(lo.X), topRoom+h+v.MM(lo.Y))
		s := &Sheet{View: v, lo: lo, hi: hi, Drawing: &drawing.Drawing{
			Width: width, Height: h + topRoom + foot, Title: "Plan of " + r.Project.Site.Name,
			Description: "Room to scale with walls, columns, doors, gullies and the equipment by its tags.",
		}}
		s.draw(r, &room, kind)
		return s, nil
	}
	return nil, fmt.Errorf("a room of %s by %s is too large for the sheet", metres(hi.X-lo.X), metres(hi.Y-lo.Y))
}

func (s *Sheet) draw(r configurator.Report, room *plan.Room, kind Kind) {
	items := make([]plan.Item, len(r.Pieces))
	for i, p := range r.Pieces {
		items[i] = r.PlanItem(p)
	}
	var marks plan.Marks
	if kind&Loads != 0 && r.Floor != nil {
		f := Facts(r)
		marks = floor.Marks(f.Input, f.Result)
		marks.Bays = nil // members say it finer
	}
	fig := plan.Draw(room, items, marks)
	for _, shape := range fig.Shapes {
		s.shape(shape, kind)
	}
	if kind&Spaces != 0 {
		s.zones(r)
	}
	s.names(r, items, kind)
	if kind&Loads != 0 {
		s.uses(r.Floor)
	}
	s.measure()
	if kind&Loads != 0 && r.Floor != nil && len(r.Floor.Members) > 0 {
		s.key()
	}
}

// At is a place of the room on the sheet.
func (s *Sheet) At(p plan.Point) drawing.Point { return s.View.At(p.X, p.Y) }

func (s *Sheet) points(g []plan.Point) []drawing.Point {
	out := make([]drawing.Point, len(g))
	for i, p := range g {
		out[i] = s.At(p)
	}
	return out
}

// pens and fills of the classes of the plan's figure.
var (
	spacePen = drawing.Pen{Width: 0.13, Colour: drawing.Grey, Dash: drawing.Dashed}
	zonePen  = drawing.Pen{Width: 0.18, Colour: drawing.Grey, Dash: drawing.Dotted}
	swingPen = drawing.Pen{Width: 0.18, Colour: drawing.Grey}
	clashPen = drawing.Pen{Width: 0.7, Colour: drawing.Rust}
)

// shape draws one shape of the figure; what this plan does not show, and what is
// written better on paper, is passed over.
func (s *Sheet) shape(x plan.Shape, kind Kind) {
	pen, fill, ok := style(x, kind)
	if !ok {
		return
	}
	switch x.Form {
	case plan.FormPolygon:
		s.Drawing.Add(drawing.Polygon{Points: s.points(x.Points), Pen: pen, Fill: fill})
	case plan.FormLine:
		s.Drawing.Add(drawing.Polyline{Points: s.points(x.Points), Pen: pen})
	case plan.FormCircle:
		s.Drawing.Add(drawing.Circle{Centre: s.At(x.Points[0]), Radius: max(s.View.MM(x.Radius), leastRadius(x.Class)), Pen: pen, Fill: fill})
	case plan.FormArc:
		from, to := x.From.Deg(), x.From.Deg()+x.Sweep.Deg()
		s.Drawing.Add(drawing.Arc{Centre: s.At(x.Points[0]), Radius: s.View.MM(x.Radius), From: drawing.Degrees(-to), To: drawing.Degrees(-from), Pen: pen})
	}
}

// leastRadius keeps small round things in sight at small scales.
func leastRadius(c plan.Class) drawing.MM {
	if c == plan.ClassGully {
		return 1.1
	}
	return 0.4
}

func style(x plan.Shape, kind Kind) (drawing.Pen, drawing.Fill, bool) {
	spaces := kind&Spaces != 0
	switch x.Class {
	case plan.ClassMember:
		return levelPens[x.Level], drawing.Fill{}, kind&Loads != 0
	case plan.ClassService:
		return spacePen, drawing.Fill{}, spaces
	case plan.ClassKeepFree, plan.ClassLow:
		return zonePen, drawing.Fill{Hatch: drawing.Falling}, spaces
	case plan.ClassSwing:
		return swingPen, drawing.Fill{}, true
	case plan.ClassWall:
		return drawing.Heavy, drawing.Fill{}, true
	case plan.ClassColumn:
		return drawing.Fine, drawing.Tint(drawing.Ink), true
	case plan.ClassDoor:
		return drawing.Pen{Width: 1, Colour: drawing.White}, drawing.Fill{}, true
	case plan.ClassBoard:
		return drawing.Fine, drawing.Fill{Colour: drawing.White, Solid: true, Hatch: drawing.Rising}, true
	case plan.ClassGully:
		return drawing.Fine, drawing.Fill{Colour: drawing.White, Solid: true, Hatch: drawing.Crossed}, true
	case plan.ClassBody:
		if kind&Loads != 0 {
			return drawing.Medium, drawing.Fill{}, true // what runs below it stays in sight
		}
		return drawing.Medium, drawing.Tint(drawing.Mist), true
	case plan.ClassConflict:
		if !spaces {
			return style(plan.Shape{Class: plan.ClassBody}, kind)
		}
		return clashPen, drawing.Fill{Colour: drawing.White, Solid: true, Hatch: drawing.Rising}, true
	case plan.ClassFoot:
		return drawing.Fine, drawing.Tint(drawing.Black), true
	case plan.ClassFront:
		return drawing.Fine, drawing.Fill{}, spaces
	}
	return drawing.Pen{}, drawing.Fill{}, false
}

func metres(l unit.Length) string { return fmt.Sprintf("%.2f m", l.M()) }
