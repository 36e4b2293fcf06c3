package structure

import (
	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/floor"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
)

// workTable is each member at work, with the people beside the equipment.
func workTable(f floor.Facts) paper.Table {
	n, w := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "floor-members", Title: "Members at work, people included",
		Columns: []paper.Column{
			w("member", "Member"), n("span", "Span", "m"), n("carries", "Carries", "m"), n("sum", "Σ equipment", "kN"),
			n("m_eq", "M equipment", "kN·m"), n("m", "M in all", "kN·m"), n("at", "at", "m"), n("left", "R start", "kN"), n("right", "R end", "kN"),
			n("by_m", "UDL by M", "kN/m²"), n("by_v", "UDL by R", "kN/m²"), n("use", "Of what was given", "%"), w("against", "Given, and by whom"), w("reading", "Reading"),
		},
		Notes: []string{
			"Simply supported spans; loads between members by the lever rule. Continuity moves load: the line over an inner support of two equal spans takes up to 1.25 times as much. Start and end as the member is drawn, from its first coordinate.",
			"Reading (common practice, no source): to 80 %, below what was given; to 100 %, the engineer confirms before the order; beyond, or nothing given, the engineer designs before the order.",
		},
	}
	for i := range f.Result.Members {
		m := &f.Result.Members[i]
		c := &m.Operating
		use := paper.W("—")
		if m.Given() {
			use = say.Number(c.Use, "pct", 0)
		}
		row := say.Row(
			paper.W(m.Name), say.Number(m.Length, "m", 2), some(m.Tributary, "m", 2), say.Number(c.Equipment, "kn", 1),
			say.Number(c.EquipmentMoment, "knm", 1), say.Number(c.Moment, "knm", 1), say.Number(c.At, "m", 2), say.Number(c.Left, "kn", 1), say.Number(c.Right, "kn", 1),
			some(c.ByMoment, "kn_m2", 2), some(c.ByShear, "kn_m2", 2), use, paper.W(against(f, m.Name)), paper.W(reading(m, c)))
		if m.Given() && c.Use.Value() > 1 {
			for k := range row.Cells {
				row.Cells[k].Strong = true
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return trade.Fit(trade.Same(t, "against"), trade.Sideways)
}

// against is the figure a member is measured by, as the case rows print it.
func against(f floor.Facts, member string) string {
	for _, row := range floor.MemberRows(f.Result) {
		if row.Member == member {
			return row.Against
		}
	}
	return ""
}

func reading(m *floor.MemberLoad, c *floor.CaseLoad) string {
	switch use := c.Use.Value(); {
	case !m.Given():
		return "nothing given: engineer to design"
	case use > 1:
		return "over: engineer to design"
	case use > 0.8 || !m.Settled:
		return "engineer to confirm"
	}
	return "below what was given"
}

// caseTable sets the cases side by side: moment and greater end reaction.
func caseTable(f floor.Facts) paper.Table {
	n, w := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "floor-member-cases", Title: "Members case by case, people included",
		Columns: []paper.Column{
			w("member", "Member"), n("m_empty", "M empty", "kN·m"), n("r_empty", "R", "kN"), n("m_work", "M at work", "kN·m"), n("r_work", "R", "kN"),
			n("m_over", "M one brim-full", "kN·m"), n("r_over", "R", "kN"), n("u_over", "Use", "%"), w("with", "Brim-full"),
			n("m_comm", "M one brim-full, others empty", "kN·m"), n("r_comm", "R", "kN"),
			n("m_all", "M all brim-full", "kN·m"), n("r_all", "R", "kN"), n("u_all", "Use", "%"),
		},
		Notes: []string{"M: greatest moment; R: greater of the two end reactions; use: of what was given. All brim-full at once counts only where the client cannot exclude it."},
	}
	for i := range f.Result.Members {
		m := &f.Result.Members[i]
		mr := func(c *floor.CaseLoad) (paper.Cell, paper.Cell) {
			return say.Number(c.Moment, "knm", 1), say.Number(max(c.Left, c.Right), "kn", 1)
		}
		use := func(c *floor.CaseLoad) paper.Cell {
			if !m.Given() {
				return paper.W("—")
			}
			return say.Number(c.Use, "pct", 0)
		}
		me, re := mr(&m.Empty)
		mw, rw := mr(&m.Operating)
		mo, ro := mr(&m.Overfill)
		mc, rc := mr(&m.Commission)
		ma, ra := mr(&m.Test)
		t.Rows = append(t.Rows, say.Row(paper.W(m.Name), me, re, mw, rw, mo, ro, use(&m.Overfill), paper.W(m.Overfill.With), mc, rc, ma, ra, use(&m.Test)))
	}
	return trade.Fit(t, trade.Sideways)
}

func bayTable(f floor.Facts) paper.Table {
	n, w := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "floor-bays", Title: "Bays, equipment alone",
		Columns: []paper.Column{
			w("bay", "Bay"), n("area", "Area", "m²"), n("empty", "Empty", "kN/m²"), n("work", "At work", "kN/m²"), n("brim", "All brim-full", "kN/m²"), n("use", "At work and people, of what is left", "%"),
		},
	}
	for _, b := range f.Result.Bays {
		t.Rows = append(t.Rows, say.Row(paper.W(b.Name), say.Number(b.Area, "m2", 1), say.Number(b.Empty, "kn_m2", 2), say.Number(b.Operating, "kn_m2", 2), say.Number(b.Test, "kn_m2", 2), some(b.Use, "pct", 0)))
	}
	return trade.Fit(trade.Plain(trade.Dense(t)), trade.Sideways)
}

// buildUpTable is what is laid on the floor for the job; the loads are the worked ones.
func buildUpTable(r configurator.Report, f floor.Facts) paper.Table {
	n, w := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "build-up", Title: "Build-up laid on the floor, from the top of the structure",
		Columns: []paper.Column{w("layer", "Layer"), n("thickness", "Mean thickness", "mm"), n("weight", "Unit weight", "kN/m³"), n("load", "Load", "kN/m²"), w("note", "")},
	}
	for _, l := range f.BuildUp {
		note := ""
		if l.Removed {
			note = "taken off"
		}
		load := paper.Cell{}
		for _, s := range r.Floor.Trace {
			if s.Title == l.Name && s.Result != nil {
				load = say.Number(s.Result, "kn_m2", 2)
				break
			}
		}
		t.Rows = append(t.Rows, say.Row(paper.W(l.Name), say.Number(l.Thickness, "mm", 0), say.Number(l.Weight, "kn_m3", 1), load, paper.W(note)))
	}
	if len(t.Rows) > 0 {
		t.Rows = append(t.Rows, paper.Row{Kind: paper.Total, Name: "added", Cells: []paper.Cell{paper.W("Added"), {}, {}, say.Number(r.Floor.AddedLoad, "kn_m2", 2), {}}})
	}
	return trade.Fit(trade.Plain(trade.Dense(t)), trade.Upright)
}

// gullyTable is each hole in the floor with what it has to take.
func gullyTable(r configurator.Report) paper.Table {
	n, w := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "floor-openings", Title: "Gullies and openings in the floor",
		Columns: []paper.Column{w("name", "Opening"), n("x", "x", "m"), n("y", "y", "m"), n("flow", "Takes", "L/s"), w("basis", "Known how"), w("why", "By whom, or why")},
		Notes:   []string{"Openings for pipes and cables through the floor are not placed yet: the trades send them to the engineer before anything is cut. Every opening in a suspended floor is fire-stopped."},
	}
	for i, d := range r.Project.Site.Room.Drains {
		t.Rows = append(t.Rows, say.Row(
			paper.W(configurator.Room(r.Project).Gullies[i].Name), say.Number(d.At.X, "m", 2), say.Number(d.At.Y, "m", 2),
			say.Maybe(d.Flow.Ptr(), "l_s", 1), paper.W(d.Flow.Basis.Word()), paper.W(d.Flow.By+d.Flow.Why)))
	}
	return trade.Fit(t, trade.Upright)
}

// hungTable is what hangs on walls and ceilings or stands outside: it loads the
// building, not this floor.
func hungTable(r configurator.Report) paper.Table {
	n, w := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "hung-pieces", Title: "On walls, under the ceiling, or outside",
		Columns: []paper.Column{w("tag", "Piece"), w("item", "Item"), w("where", "Where"), n("length", "Length", "mm"), n("width", "Width", "mm"), n("height", "Height", "mm"), n("mass", "Mass", "kg"), w("basis", "Basis")},
		Notes:   []string{"Fixings are chosen for the wall or ceiling found on site. Loads of pipes and cable trays hung in the room follow with the pipe plan."},
	}
	for _, p := range r.Pieces {
		it := r.PlanItem(p)
		if !it.Wall && !it.Outside {
			continue
		}
		where := "wall or ceiling"
		if it.Outside {
			where = "outside"
		}
		t.Rows = append(t.Rows, say.Row(
			paper.W(p.Tag), paper.W(it.Name), paper.W(where), say.Number(it.Length, "mm", 0), say.Number(it.Width, "mm", 0), say.Number(it.Height, "mm", 0),
			say.Number(p.Body.Empty, "kg", 0), paper.W(p.Body.MassBasis)))
	}
	return trade.Fit(t, trade.Upright)
}

// drainTable sets what each tank lets out against its gully. A piece that holds
// nothing lets out nothing.
func drainTable(f *floor.Result) paper.Table {
	n, w := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "floor-drainage", Title: "Emptying a tank onto the floor",
		Columns: []paper.Column{
			w("tag", "Item"), w("gully", "Gully"), n("way", "Way", "m"), n("volume", "Volume", "L"), n("takes", "Gully takes", "L/s"), n("peak", "Full-bore", "L/s"),
			n("time", "Empty in", "min"), n("buffer", "Stands on the floor", "L"), n("throttle", "Bore that the gully carries", "mm"), w("hot", "Hot"),
		},
	}
	open, full := false, false
	for _, d := range f.Drains {
		if d.Volume == 0 {
			continue
		}
		hot := ""
		if d.Hot {
			hot = "hot: pipe and trap to suit"
		}
		open, full = open || d.Peak == 0, full || d.Peak > 0
		t.Rows = append(t.Rows, say.Row(
			paper.W(d.Tag), paper.W(d.Gully), say.Number(d.Way, "m", 1), say.Number(d.Volume, "l", 0), say.Maybe(d.GullyFlow, "l_s", 1), some(d.Peak, "l_s", 1),
			some(d.Time, "min", 1), some(d.Buffer, "l", 0), some(d.Throttle, "mm", 0), paper.W(hot)))
	}
	if full {
		t.Notes = append(t.Notes, "Full-bore: the flow at the start through the open outlet. What the gully does not take meanwhile stands on the floor; throttle the outlet to the bore given, or keep a channel or kerb that holds it.")
	}
	if open {
		t.Notes = append(t.Notes, "Where no full-bore flow stands, the bore of the outlet is not known yet: open the outlet no further than the gully takes.")
	}
	return trade.Fit(trade.Plain(trade.Dense(t)), trade.Upright)
}

// fallFacts is the build-up that falls and a channel ask for.
func fallFacts(f *floor.Result) *paper.Facts {
	if f.Falls == nil {
		return nil
	}
	x := f.Falls
	fact := func(name, value, note string) paper.Fact {
		return paper.Fact{Name: name, Value: paper.W(value), Note: note}
	}
	out := paper.Facts{Columns: 2, Facts: []paper.Fact{
		fact("Rise to the wall", unit.Fixed(x.Rise, 0), ""), fact("Mean thickness", unit.Fixed(x.Mean, 0), ""),
		fact("Deepest", unit.Fixed(x.Deepest, 0), "at the edge"), fact("Load of the falls", unit.Fixed(x.Load, 2), "permanent"),
	}}
	if x.ChannelDepth > 0 {
		out.Facts = append(out.Facts, fact("Channel at its outlet", unit.Fixed(x.ChannelDepth, 0), ""))
	}
	out.Facts = append(out.Facts, fact("Depth that may be laid", say.Known(x.Depth), ""))
	return &out
}

// questionTable is what somebody else has to answer, with room for the answer. The
// works is asked for all masses at once.
func questionTable(f floor.Facts) paper.Table {
	t := paper.Table{Name: "engineer-questions", Title: "Questions", Columns: []paper.Column{{Title: "To", Width: 12}, {Title: "Question", Width: 60}, {Title: "Answer", Width: 28}}}
	masses := 0
	for _, q := range floor.Questions(f.Input, f.Result) {
		if q.Who == "works" {
			masses++
			continue
		}
		t.Rows = append(t.Rows, say.Row(paper.W(q.Who), paper.W(say.Sentence(q.What)), paper.Cell{}))
	}
	if masses > 0 {
		t.Rows = append(t.Rows, say.Row(paper.W("works"), say.Words("Weighed masses of the %d pieces marked estimated in the schedule.", masses), paper.Cell{}))
	}
	return t
}
