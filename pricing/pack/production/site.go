package production

import (
	"slices"
	"strconv"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/brewing"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

// handling is how malt goes in and grain and beer go out by hand.
func handling(r configurator.Report, plan *brewing.Result) []paper.Block {
	h := &plan.Handling
	fact := func(name, value string) paper.Fact { return paper.Fact{Name: name, Value: paper.W(value)} }
	facts := []paper.Fact{
		fact("Storey of the brewery", storey(r.Project.Site.Level)),
		fact("Malt of the largest brew", unit.In(h.MaltBrew, "kg", 0)+say.Words(", %d bags of %s", h.Bags, h.BagMass).Text),
		fact("Wet spent grain of it", unit.In(h.GrainBrew, "kg", 0)+say.Words(", %d bins of %s, full %s", h.Bins, plan.Settled.Handling.Bin, unit.In(h.BinMass, "kg", 0)).Text),
		fact("Grist case for it", unit.In(h.GristCase, "l", 0)),
		fact("Lift, rated load", say.Known(plan.Settled.Handling.LiftLoad)),
		fact("Lift trips: malt up, grain down, a brew", trips(h.MaltTrips)+" and "+trips(h.GrainTrips)),
		fact("Full containers out, busiest week", say.Words("%d of %s each", h.Kegs, h.KegMass).Text),
		fact("Lift trips for them", trips(h.KegTrips)),
		fact("Malt and wet grain, busiest week", unit.In(h.WeekMalt, "kg", 0)+" and "+unit.In(h.WeekGrain, "kg", 0)),
		fact("Bag is tipped", h.Zone),
	}
	return []paper.Block{
		say.Para("Drawn for %s, the beer with the most malt. Trips leave room in the lift for a trolley of %s and a person of %s.", plan.Beers[h.Beer].Beer.Name, plan.Settled.Handling.Trolley, plan.Settled.Handling.Person),
		paper.Facts{Columns: 2, Facts: facts},
		liftTable(h),
	}
}

func storey(n int) string {
	switch {
	case n == 0:
		return "ground floor"
	case n < 0:
		return say.Words("%d below ground", -n).Text
	}
	return say.Words("%d above ground", n).Text
}

func trips(n *int) string {
	switch {
	case n == nil:
		return "no lift known"
	case *n == 0:
		return "the lift carries nothing beside trolley and person"
	}
	return strconv.Itoa(*n)
}

func liftTable(h *brewing.HandlingPlan) paper.Table {
	t := paper.Table{
		Name: "lifting-filter", Title: "A bag of " + h.BagMass.String() + " against the published lifting filter",
		Columns: []paper.Column{
			{Title: "Zone"}, number("Men, close", "kg"), number("Men, arms out", "kg"), number("Women, close", "kg"), number("Women, arms out", "kg"), {Title: "Passes, close"},
		},
		Notes:   []string{"For up to 30 lifts an hour with two hands and a stable body; below a figure passes, equal to it does not. The figures with arms out are from memory. A bag that does not pass asks for a detailed assessment; the filter is not a limit in law. Bold: the zone in which the bag is tipped."},
		Sources: []string{"HSE INDG143 (rev4), figure 1"},
	}
	for _, l := range h.Filter {
		cells := []paper.Cell{
			paper.W(l.Zone), say.Number(l.MenClose, "kg", 0), say.Number(l.MenExtended, "kg", 0), say.Number(l.WomenClose, "kg", 0), say.Number(l.WomenExtended, "kg", 0),
			paper.W("men " + say.YesNo(l.PassesMen) + ", women " + say.YesNo(l.PassesWomen)),
		}
		for k := range cells {
			cells[k].Strong = l.Governs
		}
		t.Rows = append(t.Rows, paper.Row{Cells: cells})
	}
	return t
}

// water is what is used and what leaves hot or strong.
func water(plan *brewing.Result) []paper.Block {
	return []paper.Block{dumpTable(plan), cleanTable(plan), waterTable(plan)}
}

func dumpTable(plan *brewing.Result) paper.Table {
	t := paper.Table{
		Name: "dumps", Title: "What goes to the drain at once",
		Columns: []paper.Column{{Title: "What"}, number("Volume", "L"), number("At", "°C"), number("Flow", "L/min"), {Title: "When"}, number("Times", "a year")},
		Notes:   []string{"— where the valve decides the flow. Drains, traps and consent have to bear the heat; the plumber's paper has the whole."},
	}
	for _, d := range plan.Dumps {
		flow, year := paper.W("—"), paper.W("—")
		if d.Flow != nil {
			flow = say.Number(*d.Flow, "l_min", 0)
		}
		if d.Year > 0 {
			year = paper.I(d.Year)
		}
		t.Rows = append(t.Rows, say.Row(paper.W(say.Capital(d.Name)), say.Number(d.Volume, "l", 0), say.Number(d.Temp, "c", 0), flow, paper.W(d.When), year))
	}
	return t
}

func cleanTable(plan *brewing.Result) paper.Table {
	t := paper.Table{
		Name: "cleaning", Title: "Cleaning in place",
		Columns: []paper.Column{{Title: "Tank"}, {Title: "One solution", Unit: "L", Kind: paper.Number}, {Title: "All rinses", Unit: "L", Kind: paper.Number}, {Title: "At", Unit: "°C", Kind: paper.Number}, {Title: "Times a year", Kind: paper.Number}, {Title: "Busiest week", Kind: paper.Number}},
	}
	for _, c := range plan.Clean {
		t.Rows = append(t.Rows, say.Row(paper.W(c.Item), say.Number(c.Solution, "l", 0), say.Number(c.Rinse, "l", 0), say.Number(c.Temp, "c", 0), paper.I(c.Year), paper.I(c.PeakWeek)))
	}
	return t
}

func waterTable(plan *brewing.Result) paper.Table {
	t := paper.Table{
		Name: "water-steps", Title: "Where water goes, by the shares published for industry",
		Columns: []paper.Column{{Title: "Step"}, number("Mean", "hL/hL"), number("Low", "hL/hL"), number("High", "hL/hL"), number("This plan", "m³/year")},
		Notes:   []string{"German industry, with the packaging named; a small site differs. The shares divide the water taken for this plan as a whole."},
		Sources: []string{"Multilateral Investment Guarantee Agency, Environmental guidelines for breweries"},
	}
	for _, w := range plan.WaterSteps {
		t.Rows = append(t.Rows, say.Row(paper.W(say.Capital(w.Step)), say.Number(w.Mean, "ratio", 1), say.Number(w.Low, "ratio", 1), say.Number(w.High, "ratio", 1), say.Number(w.Year, "m3", 0)))
	}
	t.Rows = append(t.Rows, paper.Row{Kind: paper.Total, Cells: []paper.Cell{paper.W("Together"), {}, {}, {}, say.Number(plan.Totals.Water, "m3", 0)}})
	return t
}

// duty sets the year against the thresholds; it states no amount of duty.
func duty(plan *brewing.Result) []paper.Block {
	d := &plan.Duty
	t := paper.Table{
		Name: "duty", Title: "Thresholds that the plan lies at",
		Columns: []paper.Column{{Title: "What"}, {Title: "Threshold"}, {Title: "This plan"}, {Title: "Met"}, {Title: "Instrument"}, {Title: "See", Align: paper.Right}},
	}
	for _, row := range d.Rows {
		at := slices.Index(t.Notes, say.Capital(row.Note))
		if at < 0 {
			at = len(t.Notes)
			t.Notes = append(t.Notes, say.Capital(row.Note))
		}
		t.Rows = append(t.Rows, say.Row(paper.W(say.Capital(row.Name)), paper.W(row.Threshold), paper.W(row.Plan), paper.W(say.YesNo(row.Met)), paper.W(say.Cite(row.Instrument)), paper.W(strconv.Itoa(at+1))))
	}
	for i := range t.Notes {
		t.Notes[i] = strconv.Itoa(i+1) + ": " + say.Sentence(t.Notes[i])
	}
	blocks := []paper.Block{say.Para("No amounts of duty are given: rates change. Each line is a threshold only: %s before relying on it.", brewing.CheckText)}
	if d.Step != "" {
		words := "Pure alcohol of the year: " + unit.In(d.PureAlcohol, "hl", 1) + ", in the step of " + d.Step + "."
		if d.Next > 0 {
			words += " The next step begins at " + unit.In(d.Next, "hl", 1) + ", " + unit.In(d.ToNext, "hl", 1) + " away."
		}
		blocks = append(blocks, say.Para("%s", words))
	}
	return append(blocks, t)
}
