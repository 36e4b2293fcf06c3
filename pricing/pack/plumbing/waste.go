package plumbing

import (
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/water"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
)

// streamTable is every stream to the drain.
func streamTable(r configurator.Report) paper.Table {
	cold := "as usual where nobody told its temperature"
	if t := r.Inputs.Water.ColdWater; t != nil {
		cold = "at " + unit.Fixed(*t, 0)
	}
	n := func(title, symbol string) paper.Column {
		return paper.Column{Title: title, Unit: symbol, Kind: paper.Number}
	}
	t := paper.Table{
		Name: "waste-streams", Title: "Streams of the busiest day",
		Columns: []paper.Column{
			{Title: "Stream"},
			n("Each", "L"), n("Day", "L"), n("Rate", "L/s"), n("Lasts", "min"), n("Temperature", "°C"), n("pH", ""), n("COD", "mg/L"), n("Load", "kg/day"),
			n("Cold water to reach "+unit.Fixed(r.Water.Waste.SewerMax, 0), "L"),
			{Title: "Goes to"},
			{Title: "Remark"},
		},
		Notes: []string{"* of the table of usual values, common practice; the others were told or follow from the plan. Cold water: each time, from the main " + cold + ". Rates without a figure are not known and must be throttled or measured."},
	}
	for _, s := range r.Water.Waste.Streams {
		rate, lasts := paper.W("unknown"), paper.Cell{}
		if s.Flow > 0 {
			rate, lasts = say.Number(s.Flow, "l_s", 2), say.Number(s.Lasts, "min", 0)
		}
		blend := paper.Cell{}
		if s.Blend > 0 {
			blend = say.Number(s.Blend, "l", 0)
		}
		t.Rows = append(t.Rows, say.Row(
			paper.W(s.Name), say.Number(s.Each, "l", 0), say.Number(s.Day, "l", 0), rate, lasts,
			marked(s.Temp, "c", 0, s.TempFrom), marked(s.PH, "ph", 1, s.PHFrom), marked(s.COD, "mg_l", 0, s.CODFrom), say.Number(s.Load, "kg", 2), blend,
			paper.W(whereTo(s)), paper.W(s.Words)))
	}
	return t
}

// marked is a figure with a star where it comes from the table of usual values.
func marked(q unit.Quantity, key string, decimals int, from string) paper.Cell {
	cell := say.Number(q, key, decimals)
	if strings.HasPrefix(from, "told") {
		return cell
	}
	return paper.W(cell.Figure + " *")
}

func whereTo(s water.StreamRow) string {
	switch {
	case s.Side:
		return "side stream, not the drain"
	case s.Held:
		return "balance tank"
	case s.Gully != "":
		return s.Gully
	case s.Drain != "":
		return s.Drain
	}
	return "not settled"
}

func consentTable(w *water.Result) paper.Table {
	t := paper.Table{
		Name: "consent", Title: "Limits of the consent",
		Columns: []paper.Column{trade.Text("what", "What"), {Title: "Limit", Align: paper.Right}, {Title: "This brewery", Align: paper.Right}, trade.Text("verdict", "Verdict"), trade.Text("words", "Remark")},
	}
	for _, c := range w.Waste.Consent {
		limit, verdict := "not known", "open"
		if c.Known {
			limit, verdict = quantity(c.Limit), "kept"
			if !c.OK {
				verdict = "not kept"
			}
		}
		t.Rows = append(t.Rows, say.Row(paper.W(c.Parameter), paper.W(limit), paper.W(quantity(c.Have)), paper.W(verdict), paper.W(c.Words)))
	}
	return t
}

// quantity prints as the trade says it.
func quantity(q unit.Quantity) string {
	switch x := q.(type) {
	case unit.Volume:
		return unit.In(x, "m3", 2)
	case unit.VolumeFlow:
		return unit.In(x, "l_s", 2)
	case unit.Concentration:
		return unit.In(x, "mg_l", 0)
	case unit.Acidity:
		return unit.Digits(x.PH(), 3)
	case nil:
		return ""
	}
	return q.String()
}

func gullyTable(w *water.Result) paper.Table {
	n, x := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "gullies", Title: "Gullies",
		Columns: []paper.Column{x("gully", "Gully"), x("size", "Size"), n("takes", "Takes", "L/s"), x("from", "Known from"), n("gets", "Gets at once", "L/s"), x("of", "Of"), x("class", "Grating"), x("needs", "Asked for"), n("seal", "Water seal", "mm")},
		Notes:   []string{"Gets at once: the two fastest streams together. Gratings by load class of EN 1253-1; water seal at least 50 mm."},
	}
	for _, g := range w.Gullies {
		gets := say.Number(g.Inflow, "l_s", 2)
		of := strings.Join(g.Names, " + ")
		if !g.Known {
			of = say.Join(of, "and streams of unknown rate")
		}
		seal := paper.Cell{}
		if g.Seal != nil {
			seal = say.Number(*g.Seal, "mm", 0)
		}
		t.Rows = append(t.Rows, say.Row(paper.W(g.Name), paper.W(g.Size), say.Number(g.Capacity, "l_s", 2), paper.W(g.From), gets, paper.W(of), paper.W(say.Or(g.Class, "unknown")), paper.W(g.Needs), seal))
	}
	return trade.Dense(t)
}

func drainTable(w *water.Result) paper.Table {
	n, x := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "drains", Title: "Drains",
		Columns: []paper.Column{x("drain", "Pipe"), n("bore", "Bore", "mm"), n("fall", "Fall", "%"), n("fill", "Filling", "%"), n("v", "Velocity", "m/s"), n("takes", "Takes", "L/s"), n("gets", "Gets at once", "L/s"), x("size", "Size that does"), x("known", "Remark")},
		Notes:   []string{"Capacity by EN 12056-2 annex B, roughness 1 mm. Size that does: the smallest of the series at the same fall and filling."},
	}
	for _, d := range w.Drains {
		remark := ""
		if !d.Known {
			remark = "further streams of unknown rate run into it"
		}
		t.Rows = append(t.Rows, say.Row(
			paper.W(d.Name), say.Number(d.Bore, "mm", 0), say.Number(d.Gradient, "pct", 1), say.Number(d.Filling, "pct", 0), say.Number(d.Velocity, "m_s", 2),
			say.Number(d.Capacity, "l_s", 2), say.Number(d.Inflow, "l_s", 2), paper.W(say.Or(d.Proposed, "none of the series")), paper.W(remark)))
	}
	return trade.Dense(t)
}
