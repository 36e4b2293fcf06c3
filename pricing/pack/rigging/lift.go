package rigging

import (
	"fmt"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/access"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
)

// LiftTable is the crane duty of each piece, as data for the crane firm.
func LiftTable(r *access.Result) paper.Table {
	n, w := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "lift-data", Title: "Lift data of each piece",
		Columns: []paper.Column{
			w("piece", "Piece"), n("lifts", "Lifts", ""), n("length", "Length", "mm"), n("width", "Width", "mm"), n("height", "Height", "mm"), n("mass", "Mass", "kg"), w("basis", "Basis"),
			n("gross", "On the hook", "kg"), w("sling", "Sling"), n("tension", "In a leg", "kN"), n("wll", "Leg WLL at least", "kg"), n("points", "Rated points", ""),
			n("radius", "Radius", "m"), n("tip", "Tip height", "m"), n("chart", "By chart", "kg"), n("use", "Of chart", "%"),
			n("area", "Sail area", "m²"), n("drag", "c_w", ""), n("force", "Wind force", "kN"), n("limit", "Wind limit", "m/s"),
		},
		Notes: []string{
			r.Planner,
			"Mass: packed; estimated masses with 15 % added. In a leg: two legs carrying, also where four are rigged. Wind force at the chart's limit; wind limit by the mass rule of 1.2 m² for each tonne: large, light tanks are held by wind before mass. The crane firm may judge by capacity at radius instead.",
		},
	}
	open := len(r.Lifts) > 0
	for _, x := range r.Lifts {
		open = open && x.Radius == nil && x.Chart == nil
	}
	m := merged{counted: true}
	for i := range r.Lifts {
		x := &r.Lifts[i]
		m.add(packed{x.Tag, x.Piece}, liftRow(x, open))
	}
	t.Rows = m.table()
	if len(r.Lifts) > 0 {
		x := &r.Lifts[0]
		t.Notes = append(t.Notes, fmt.Sprintf("On the hook: mass, %s of slings and shackles, %s of hook block.", unit.Fixed(x.Rigging, 0), unit.Fixed(x.Hook, 0)))
	}
	if open {
		t.Notes = append(t.Notes, "Radius, tip height and capacity by chart are not known: the crane firm fills them in after walking the site.")
	}
	return trade.Fit(trade.Plain(trade.Dense(t)), trade.Sideways)
}

func liftRow(x *access.LiftRow, open bool) paper.Row {
	basis := "maker"
	if x.Estimated {
		basis = "estimated"
	}
	radius, tip, chart, use := paper.Cell{}, paper.Cell{}, paper.Cell{}, paper.Cell{}
	if !open {
		radius, tip, chart, use = say.Maybe(x.Radius, "m", 1), say.Maybe(x.TipHeight, "m", 1), say.Maybe(x.Chart, "kg", 0), some(x.Use, "pct", 0)
	}
	points := paper.W("unknown")
	if x.Points > 0 {
		points = paper.I(x.Points)
	}
	return say.Row(
		say.Number(x.Length, "mm", 0), say.Number(x.Width, "mm", 0), say.Number(x.Height, "mm", 0), say.Number(x.Mass, "kg", 0), paper.W(basis),
		say.Number(x.Gross, "kg", 0), say.Words("%d legs, %.0f°", x.Legs, x.Beta.Deg()), say.Number(x.Tension, "kn", 1), say.Number(x.LegWLL, "kg", 0), points,
		radius, tip, chart, use, say.Number(x.SailArea, "m2", 1), say.Number(x.Drag, "ratio", 1), say.Number(x.WindForce, "kn", 2), say.Number(x.WindLimit, "m_s", 1))
}

// planTable is what the lift plan has to settle, and how long it takes to get.
func planTable(r configurator.Report) paper.Table {
	t := paper.Table{
		Name: "lift-plan", Title: "What the lift plan settles",
		Columns: []paper.Column{{Title: "Subject", Width: 12}, {Title: "To settle", Width: 60}, {Title: "By", Width: 26}, {Title: "Lead time", Unit: "weeks", Kind: paper.Number, Width: 12}},
		Notes:   []string{"Lead times are common practice, no source: confirm with the council."},
	}
	for _, x := range access.LiftPlan(roadClosed(r)) {
		weeks := paper.Cell{}
		if x.Weeks > 0 {
			weeks = paper.I(x.Weeks)
		}
		t.Rows = append(t.Rows, say.Row(paper.W(x.Subject), paper.W(x.What), paper.W(x.Who), weeks))
	}
	return t
}

// setDownTable is where pieces are taken off the hook or off the lorry.
func setDownTable(r configurator.Report, f access.Facts) paper.Table {
	n, w := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "set-down", Title: "Where pieces are set down",
		Columns: []paper.Column{w("route", "Way in"), w("place", "Place"), n("x", "x in plan", "m"), n("y", "y in plan", "m"), n("level", "Over the street", "m"), w("piece", "Heaviest piece"), n("mass", "Mass", "kg"), n("rated", "Rated", "kg"), w("needs", "To settle there")},
		Notes:   []string{"Set-down by crane adds a factor of 1.1 to 1.25 (common practice, no source)."},
	}
	for k := range f.Result.Routes {
		route := &f.Result.Routes[k]
		t.Rows = append(t.Rows, say.Row(paper.W(route.Name), paper.W("lorry"), paper.Cell{}, paper.Cell{}, paper.Cell{}, paper.Cell{}, paper.Cell{}, paper.Cell{}, paper.W("standing room, who unloads, dunnage of timber")))
		for i, s := range r.Project.Site.Routes[k].Steps {
			if s.Kind != "taking-in-door" && s.Kind != "hatch" && s.Kind != "lift" && s.Kind != "upend" {
				continue
			}
			name, mass := heaviest(route, i)
			x, y := door(r, s.Name)
			t.Rows = append(t.Rows, say.Row(paper.W(""), paper.W(s.Name), x, y, level(s.Level.Ptr()), paper.W(name), some(mass, "kg", 0), rated(s.Rated.Ptr()), paper.W(needs(s.Kind))))
		}
	}
	return trade.Fit(trade.Plain(trade.Dense(t)), trade.Upright)
}

func heaviest(route *access.RouteResult, step int) (string, unit.Mass) {
	name, most := "", unit.Mass(0)
	for i := range route.Pieces {
		p := &route.Pieces[i]
		if step < len(p.Steps) && p.Steps[step].Moved > most {
			name, most = p.Name(), p.Steps[step].Moved
		}
	}
	return name, most
}

func door(r configurator.Report, name string) (paper.Cell, paper.Cell) {
	for _, d := range r.Project.Site.Room.Doors {
		if d.Name == name {
			return say.Number(d.At.X, "m", 2), say.Number(d.At.Y, "m", 2)
		}
	}
	return paper.Cell{}, paper.Cell{}
}

func level(l *unit.Length) paper.Cell {
	if l == nil {
		return paper.Cell{}
	}
	return say.Number(*l, "m", 2)
}

func rated(m *unit.Mass) paper.Cell {
	if m == nil {
		return paper.Cell{}
	}
	return say.Number(*m, "kg", 0)
}

func needs(kind string) string {
	switch kind {
	case "taking-in-door":
		return "platform or beam at the sill, edge protection, steel plates inside"
	case "hatch":
		return "edge protection, weathering, plates at the foot"
	case "lift":
		return "consent of owner and lift maintainer; single wheel on the sill"
	}
	return "lifting point or gantry under the ceiling, plates under the heel"
}

// roadClosed tells whether the lift plan must reckon with a closed road: where it is
// ordered or not known, it must.
func roadClosed(r configurator.Report) bool {
	road := r.Inputs.Access.Lifting.Road
	return road == nil || *road
}
