package rigging

import (
	"fmt"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/access"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
)

// routeTable is every piece at every step of one way in.
func routeTable(r *access.RouteResult, best bool) paper.Table {
	title := "By the " + r.Name
	if best {
		title += ", the best of the ways described"
	}
	t := paper.Table{
		Name: "route-" + say.Slug(r.Name), Title: title,
		Columns: []paper.Column{trade.Text("piece", "Piece"), trade.Text("answer", "Answer")},
		Notes:   []string{fmt.Sprintf("%d pass, %d are tight, %d do not pass, %d cannot be told yet. Millimetres are what is free beside the piece in the measure that decides, without any margin.", r.Passing, r.Tight, r.Fail, r.Unsure)},
	}
	if len(r.Pieces) == 0 {
		return t
	}
	stands := false
	for i := range r.Pieces {
		stands = stands || r.Pieces[i].Stands != nil
	}
	for k, s := range r.Pieces[0].Steps {
		t.Columns = append(t.Columns, trade.Text(fmt.Sprintf("step_%d", k+1), fmt.Sprintf("%d %s", k+1, s.Step)))
	}
	if stands {
		t.Columns = append(t.Columns, trade.Text("stands", "Standing up in the room"))
	}
	t.Columns = append(t.Columns, trade.Text("off", "Comes off"), trade.Quantity("refit", "Fitters", "h"))
	var m merged
	for i := range r.Pieces {
		p := &r.Pieces[i]
		m.add(packed{p.Tag, p.Piece}, routeRow(p, stands))
	}
	t.Rows = m.table()
	return trade.Fit(trade.Plain(trade.Dense(t)), trade.Sideways)
}

func routeRow(p *access.PieceResult, stands bool) paper.Row {
	row := say.Row(paper.W(p.Verdict.String()))
	for k := range p.Steps {
		row.Cells = append(row.Cells, paper.W(at(&p.Steps[k])))
	}
	if stands {
		words := ""
		if p.Stands != nil {
			words = at(p.Stands)
		}
		row.Cells = append(row.Cells, paper.W(words))
	}
	refit := paper.Cell{}
	if p.Refit > 0 {
		refit = say.Number(p.Refit, "h", 1)
	}
	row.Cells = append(row.Cells, paper.W(strings.Join(p.Off, ", ")), refit)
	if p.Verdict == access.Fails {
		for k := range row.Cells {
			row.Cells[k].Strong = true
		}
	}
	return row
}

// at says in short how a piece does at a step.
func at(s *access.StepResult) string {
	switch {
	case s.Verdict == access.Outdoors:
		return "stays outdoors"
	case s.Verdict == access.Unknown:
		return "not known"
	case s.NoCrane:
		return "no crane can stand there"
	case s.Overload:
		return fmt.Sprintf("too heavy: %.0f of %.0f kg", s.Load.Kg(), s.Rated.Kg())
	case s.Verdict == access.Fails:
		return fmt.Sprintf("%.0f mm short in %s", (s.Need - s.Have).MM(), s.Governing)
	}
	words := fmt.Sprintf("%s, %.0f mm free", held(s), s.Clear.MM())
	if s.Kind == access.Upending {
		words = fmt.Sprintf("stands up, %.0f mm to spare", s.Clear.MM())
	}
	if s.Verdict == access.Tight {
		words += ": tight"
	}
	return words
}

func held(s *access.StepResult) string {
	if s.Attitude == access.Tilted {
		return fmt.Sprintf("tilted %.0f°", s.Tilt.Deg())
	}
	return string(s.Attitude)
}

// shortTable names the millimetres that are missing or tight, on every way in.
func shortTable(f access.Facts) paper.Table {
	n, w := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "access-short", Title: "Where it does not pass or is tight",
		Columns: []paper.Column{
			w("piece", "Piece"), w("route", "Way in"), w("step", "Step"), w("answer", "Answer"), w("measure", "In"), n("need", "Needs with margin", "mm"), n("have", "There", "mm"), n("short", "Short", "mm"), w("how", "Held"), w("off", "With these off"),
		},
		Notes: []string{"A piece that does not pass was tried upright, lying, tilted and with every part off that comes off. Short counts the margin; what is tight passes with less margin than wanted."},
	}
	for k := range f.Result.Routes {
		var m merged
		route := &f.Result.Routes[k]
		for i := range route.Pieces {
			p := &route.Pieces[i]
			for _, s := range stepsOf(p) {
				if s.Verdict == access.Fails || s.Verdict == access.Tight {
					m.add(packed{p.Tag, p.Piece}, shortRow(route.Name, s))
				}
			}
		}
		t.Rows = append(t.Rows, m.table()...)
	}
	return trade.Fit(trade.Plain(trade.Dense(t)), trade.Sideways)
}

// stepsOf are a piece's steps, standing up last.
func stepsOf(p *access.PieceResult) []*access.StepResult {
	var out []*access.StepResult
	for i := range p.Steps {
		out = append(out, &p.Steps[i])
	}
	if p.Stands != nil {
		out = append(out, p.Stands)
	}
	return out
}

func shortRow(route string, s *access.StepResult) paper.Row {
	if s.Overload {
		return say.Row(paper.W(route), paper.W(s.Step), paper.W(s.Verdict.String()), paper.W(fmt.Sprintf("load: %.0f kg with carrier and people, rated %.0f kg", s.Load.Kg(), s.Rated.Kg())),
			paper.Cell{}, paper.Cell{}, paper.Cell{}, paper.Cell{}, paper.W(strings.Join(s.Off, ", ")))
	}
	missing, how := paper.Cell{}, ""
	if s.Need > s.Have {
		missing = say.Number(s.Need-s.Have, "mm", 0)
	}
	if s.Verdict == access.Tight {
		how = held(s)
	}
	return say.Row(paper.W(route), paper.W(s.Step), paper.W(s.Verdict.String()), paper.W(s.Governing),
		say.Number(s.Need, "mm", 0), say.Number(s.Have, "mm", 0), missing, paper.W(how), paper.W(strings.Join(s.Off, ", ")))
}

// partTable is what comes off for the best way in.
func partTable(f access.Facts) paper.Table {
	n, w := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "access-parts", Title: "Ships loose or comes off for the best way in",
		Columns: []paper.Column{w("piece", "Piece"), w("part", "Part"), n("mass", "Mass", "kg"), n("height", "Saves height", "mm"), n("width", "Saves width", "mm"), n("refit", "Off and on again", "h")},
	}
	for _, x := range access.PartRows(f.Input, f.Result, f.Best) {
		t.Rows = append(t.Rows, say.Row(paper.W(x.Piece), paper.W(x.Part), some(x.Mass, "kg", 0), some(x.Height, "mm", 0), some(x.Width, "mm", 0), some(x.Refit, "h", 1)))
	}
	return trade.Fit(trade.Plain(trade.Dense(t)), trade.Upright)
}

// WheelTable is the heaviest wheel at each step of the best way in, for the rigger
// and the structural engineer.
func WheelTable(r configurator.Report) paper.Table {
	n, w := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "route-wheel-loads", Title: "Wheel loads on the way in",
		Columns: []paper.Column{
			w("step", "Step"), w("piece", "Heaviest piece"), n("moved", "Piece", "kg"), n("load", "With carrier and people", "kg"), n("wheel", "One skate", "kN"), n("given", "Given for the floor", "kN"), w("by", "Floor, and by whom"),
		},
	}
	if r.Access == nil || r.Access.Best < 0 {
		return t
	}
	f := Facts(r)
	c := f.Result.Carrier
	t.Title += ", by the " + f.Result.Routes[f.Best].Name
	t.Notes = []string{fmt.Sprintf("Four skates on an uneven floor: two carry all, with a factor of %.1f for rolling by hand. Carrier of %s and %d people. Lay boards or steel plates where rollers would crush the screed.", c.Dynamic.Value(), unit.Fixed(c.Mass, 0), c.People)}
	for _, x := range access.WheelRows(f.Input, f.Result, f.Best) {
		by := x.By
		if x.Ground {
			by = "on the ground"
		}
		given := paper.W("—")
		if x.Given != nil && !x.Ground {
			given = say.Number(*x.Given, "kn", 1)
		} else if !x.Ground {
			given = paper.W("unknown")
		}
		t.Rows = append(t.Rows, say.Row(paper.W(x.Step), paper.W(x.Piece), say.Number(x.Moved, "kg", 0), say.Number(x.Load, "kg", 0), say.Number(x.Wheel, "kn", 2), given, paper.W(by)))
	}
	return trade.Fit(t, trade.Upright)
}

// some leaves a cell empty where a figure does not apply.
func some(q unit.Quantity, key string, decimals int) paper.Cell {
	if q.SI() == 0 {
		return paper.Cell{}
	}
	return say.Number(q, key, decimals)
}
