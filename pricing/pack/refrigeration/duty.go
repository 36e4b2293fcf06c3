package refrigeration

import (
	"slices"
	"strconv"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/cooling"
	"tunwright/configurator/enquiry"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

func duty(r configurator.Report, c *cooling.Result) []paper.Block {
	return []paper.Block{
		paper.Paragraph{Voice: paper.Lead, Text: paper.Plain(verdict(c))},
		headFacts(r, c), dutyTable(c), loadTable(c),
		paper.Together{Blocks: []paper.Block{say.Heading("Notes"), say.List(c.Sheet.Notes)}},
	}
}

// verdict is the sentence that matters most: what is asked and what is there.
func verdict(c *cooling.Result) string {
	l := &c.Load
	asked := "The duty is " + shown(l.Duty) + " with the margin"
	if l.WithStore < l.Duty {
		asked += ", " + shown(l.WithStore) + " with the store shaving the peak"
	}
	if !c.Chiller.Rated {
		return asked + ". The chiller cannot be judged. " + say.Sentence(c.Chiller.Why)
	}
	words := asked + ". The chiller gives " + shown(c.Chiller.Capacity) + " at glycol of " + c.Fluid.Supply.String() + " and air of " + c.Ambient.String() + ": "
	if c.Chiller.Spare < 0 {
		return words + shown(-c.Chiller.Spare) + " too little."
	}
	return words + shown(c.Chiller.Spare) + " to spare."
}

// headFacts are what the design stands on, each with the way it is known.
func headFacts(r configurator.Report, c *cooling.Result) paper.Facts {
	s := r.Project.Site
	fact := func(name, value, basis string) paper.Fact {
		return paper.Fact{Name: name, Value: paper.W(value), Note: basis}
	}
	facts := []paper.Fact{
		fact("Air at the condenser", c.Ambient.String(), known(s.Climate.Summer)),
		fact("Tank room in summer", c.Room.String(), known(s.Climate.Room)),
		fact("Coldest air at pipes outdoors", say.Known(s.Climate.Winter.Ptr()), known(s.Climate.Winter)),
		fact("Mains water in summer", say.Known(s.Water.Summer.Ptr()), known(s.Water.Summer)),
		fact("Chiller stands", say.Or(place(s.Chiller.Where), "place unknown"), ""),
		fact("Pipe way to the first tank, one way", say.Known(s.Chiller.Distance.Ptr()), known(s.Chiller.Distance)),
		fact("Chiller above the tanks", say.Known(s.Chiller.Rise.Ptr()), known(s.Chiller.Rise)),
		fact("Nearest window of others", say.Known(s.Chiller.Neighbour.Ptr()), known(s.Chiller.Neighbour)),
		fact("Glycol supply and return", c.Fluid.Supply.String()+" and "+c.Fluid.Return.String(), taken(c, "Supply")),
		fact("Propylene glycol by mass", shown(c.Fluid.Mass), taken(c, "Glycol")),
		fact("Tanks cooled", strconv.Itoa(len(c.Tanks)), "chosen"),
		fact("Tanks cooled down at once", strconv.Itoa(c.Load.CrashAtOnce), ""),
		fact("Design weeks", strconv.Itoa(c.Horizon/24)+" days"+busiest(r), ""),
		fact("Highest hour", hourName(c.Load.PeakHour), "worked out"),
	}
	for i := range facts {
		if l, ok := metres(facts[i].Name, s.Chiller); ok {
			facts[i].Value = paper.W(l)
		}
	}
	return paper.Facts{Columns: 2, Facts: facts}
}

// metres prints the lengths of the site in metres.
func metres(name string, p enquiry.Place) (string, bool) {
	for _, l := range []struct {
		name string
		q    *unit.Length
	}{
		{"Pipe way to the first tank, one way", p.Distance.Ptr()}, {"Chiller above the tanks", p.Rise.Ptr()}, {"Nearest window of others", p.Neighbour.Ptr()},
	} {
		if l.name == name && l.q != nil {
			return unit.Digits(l.q.M(), 3) + " m", true
		}
	}
	return "", false
}

// known says how a fact of the site is known and by whom.
func known[Q any](f enquiry.Fact[Q]) string {
	if f.By != "" {
		return f.Basis.Word() + ", " + f.By
	}
	return f.Basis.Word()
}

// taken tells whether a figure of the design was assumed.
func taken(c *cooling.Result, field string) string {
	for _, a := range c.Assumptions {
		if a.Field == field {
			return "assumed"
		}
	}
	return "given"
}

func place(where string) string {
	switch where {
	case "roof":
		return "on the roof"
	case "yard":
		return "in the yard"
	case "inside":
		return "inside the building"
	}
	return where
}

// busiest names the week of the production plan that the design weeks lie around.
func busiest(r configurator.Report) string {
	plan := r.Brewing
	if plan == nil || plan.Busiest >= len(plan.Weeks) {
		return ""
	}
	words := ", around week " + strconv.Itoa(plan.Weeks[plan.Busiest].Number) + " of the production plan"
	if d := plan.Date(7 * plan.Busiest); !d.IsZero() {
		words += " (from " + d.Format("2 January 2006") + ")"
	}
	return words
}

func dutyTable(c *cooling.Result) paper.Table {
	l := &c.Load
	t := paper.Table{
		Name: "cooling-duty", Title: "Where the duty comes from",
		Columns: []paper.Column{{Title: "Item"}, number("Power", "kW")},
		Notes: []string{
			"If every item ran at its own highest at once it would be " + shown(l.SumOfMaxima) + "; the plan's diversity is " + shown(l.Diversity) + ". Mean over the weeks " + shown(l.Mean) + ", lowest hour with pipes and pump " + shown(l.Least) + ".",
			"Taken from the cellar over the design weeks: " + unit.In(l.WeekEnergy, "kwh", 0) + ". The first draw of " + strconv.Itoa(l.CrashAtOnce) + " valve(s) thrown fully open would be " + shown(l.OpenValves) + "; ramped set points keep it away from the chiller.",
		},
	}
	t.Rows = []paper.Row{
		say.Row(paper.W("Highest hour of the cellar, "+hourName(l.PeakHour)), say.Number(l.Process, "kw", 2)),
		say.Row(paper.W("Added, so that as many tanks as allowed are cooled down in it"), say.Number(l.ExtraCrash, "kw", 2)),
		say.Row(paper.W("Gain of the pipes"), say.Number(l.Pipe, "kw", 2)),
		say.Row(paper.W("Heat of the pump"), say.Number(l.Pump, "kw", 2)),
		say.Row(paper.W("Margin of "+shown(l.Margin)+", applied once"), say.Number(l.Duty-l.Design-l.Pipe-l.Pump, "kw", 2)),
		{Kind: paper.Total, Cells: []paper.Cell{paper.W("Duty"), say.Number(l.Duty, "kw", 2)}},
		say.Row(paper.W("Duty with the store shaving the peak"), say.Number(l.WithStore, "kw", 2)),
		say.Row(paper.W("Output of the chiller at these conditions"), say.Number(c.Chiller.Capacity, "kw", 2)),
	}
	if !c.Chiller.Rated {
		t.Rows[len(t.Rows)-1].Cells[1] = paper.W("not rated")
	}
	return t
}

func loadTable(c *cooling.Result) paper.Table {
	t := paper.Table{
		Name: "cooling-loads", Title: "Load table",
		Columns: []paper.Column{
			{Title: "Load"},
			number("No.", ""), number("Each", "L"), number("From", "°C"), number("To", "°C"), number("Mean", "kW"), number("Peak", "kW"),
			number("Takes", "h"), number("Runs", "h/week"), number("At once", ""), number("Skin", "kW"),
			{Title: "See", Align: paper.Right},
		},
	}
	notes := []string{}
	for i := range c.Sheet.Loads {
		l := &c.Sheet.Loads[i]
		at := slices.Index(notes, l.Basis)
		if at < 0 {
			at = len(notes)
			notes = append(notes, l.Basis)
		}
		cells := []paper.Cell{
			paper.W(say.Capital(l.Item)), paper.I(l.Count), dash(say.Number(l.Volume, "l", 0), l.Volume > 0), say.Number(l.From, "c", 0), say.Number(l.To, "c", 0),
			say.Number(l.Mean, "kw", 2), say.Number(l.Peak, "kw", 2), say.Number(l.For, "h", 0), say.Number(l.HoursWeek, "h", 0), paper.I(l.AtOnce), dash(say.Number(l.Gain, "kw", 2), l.Gain > 0), paper.W(strconv.Itoa(at + 1)),
		}
		if l.From == 0 && l.To == 0 || l.Volume == 0 && l.From == l.To {
			cells[3], cells[4] = paper.W("—"), paper.W("—")
		}
		t.Rows = append(t.Rows, paper.Row{Cells: cells})
	}
	t.Notes = []string{"No. is how many in the design weeks; takes is each time, runs all of them together; skin is the gain of one through its insulation at its coldest."}
	for i, n := range notes {
		t.Notes = append(t.Notes, strconv.Itoa(i+1)+": "+say.Sentence(n))
	}
	return t
}

// dash is the cell, or a dash where it does not apply.
func dash(cell paper.Cell, applies bool) paper.Cell {
	if !applies {
		return paper.W("—")
	}
	return cell
}
