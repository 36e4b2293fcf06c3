package production

import (
	"errors"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/brewing"
	"tunwright/configurator/enquiry"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/drawing"
)

// yearFacts are the figures a brewer asks for first, with how the client's wishes
// are known.
func yearFacts(r configurator.Report, plan *brewing.Result) paper.Facts {
	t, y := plan.Totals, plan.Settled.Year
	fact := func(name, value, note string) paper.Fact {
		return paper.Fact{Name: name, Value: paper.W(value), Note: note}
	}
	length, tanks := "chosen", "chosen"
	if plan.ProposedLength {
		length = "proposed"
	}
	if plan.ProposedTanks {
		tanks = "proposed"
	}
	busiest := plan.Weeks[plan.Busiest]
	facts := []paper.Fact{
		fact("Brew length, cold wort to the fermenter", unit.In(plan.BrewLength, "hl", 1), length),
		fact("Fermenters and bright tanks", say.Words("%d and %d", len(plan.Fermenters), len(plan.Brights)).Text, tanks),
		fact("Asked for in a year, packaged", grouped(t.Asked, "hl"), askedBasis(r.Project.Brief.Beers)),
		fact("Planned, packaged", unit.In(t.Packaged, "hl", 1), "worked out"),
		fact("Brewing weeks in a year", say.Words("%d", y.Weeks).Text, "from the brief"),
		fact("Brews in a year", say.Words("%d in %d batches", t.Brews, t.Batches).Text, "worked out"),
		fact("Brews in the mean and in the peak week", unit.Digits(t.BrewsWeek.N(), 3)+" and "+unit.Digits(t.BrewsPeak.N(), 3), "worked out"),
		fact("Most brews in a week", unit.Digits(y.BrewsPerWeek.Value(), 3), "from the brief"),
		fact("Peak over mean", unit.Digits(y.PeakFactor.Value(), 3), "from the brief"),
		fact("Busiest week", weekName(plan, busiest.Number), "worked out"),
		fact("Brewhouse could make, packaged", grouped(t.BrewhouseCapacity, "hl")+" a year", "worked out"),
		fact("Cellar could make, packaged", grouped(t.CellarCapacity, "hl")+" a year", "worked out"),
		fact("Heat for wort, at the source", grouped(t.Energy, "kwh")+", "+unit.Fixed(t.EnergyPerHL, 1), "worked out"),
		fact("Water, whole site", grouped(t.Water, "m3")+", "+unit.Digits(t.WaterPerHL.Value(), 3)+" L/L", "worked out"),
		fact("Mains water, winter", say.Known(r.Project.Site.Water.Winter.Ptr()), r.Project.Site.Water.Winter.Basis.Word()),
		fact("Mains water, summer", say.Known(r.Project.Site.Water.Summer.Ptr()), r.Project.Site.Water.Summer.Basis.Word()),
	}
	return paper.Facts{Columns: 2, Facts: facts}
}

// askedBasis says how the year's sales are known: as well as those of the beer known
// worst.
func askedBasis(beers []enquiry.Beer) string {
	told, assumed := "", 0
	for i := range beers {
		switch v := beers[i].Volume; v.Basis {
		case enquiry.Assumed, enquiry.Unknown:
			assumed++
		default:
			told = v.Basis.Word()
		}
	}
	switch {
	case assumed == 0:
		return told
	case told == "":
		return "assumed"
	}
	return say.Words("%s, assumed for %d of %d beers", told, assumed, len(beers)).Text
}

func annualTable(plan *brewing.Result) paper.Table {
	t := paper.Table{
		Name: "annual-plan", Title: "The year, beer by beer",
		Columns: []paper.Column{
			{Title: "Beer"},
			number("Asked", "hL"), number("Batches", ""), number("Brews", ""), number("Packaged", "hL"),
			number("OE", "°P"), number("AE", "°P"), number("ABV", "%"),
			{Title: "Tank"},
			number("FV", "days"), number("BBT", "days"), number("Malt", "kg/brew"), number("Bags", "a brew"),
		},
		Notes: []string{
			"Packaged is what the whole batches give, at least what is asked. Tank names the size class: FV20 is a fermenter for 20 hL of cold wort.",
			"FV days run from filling to clean again; BBT days from racking to clean again. OE is original extract, AE apparent final extract.",
		},
	}
	for i := range plan.Beers {
		b := &plan.Beers[i]
		t.Rows = append(t.Rows, say.Row(
			paper.W(b.Beer.Name), say.Number(b.Beer.Yearly, "hl", 0), paper.I(b.Batches), paper.I(b.Brews), say.Number(b.Packaged, "hl", 1),
			say.Number(b.Beer.OE, "plato", 1), say.Number(b.Beer.AE, "plato", 1), say.Number(b.Charge.Attenuation.ABV, "abv", 1),
			paper.W(b.Class), paper.I(b.Days.InTank()), paper.I(b.Days.Bright), say.Number(b.Brew.Malt, "kg", 0), paper.I(b.Brew.Bags),
		))
	}
	t.Rows = append(t.Rows, paper.Row{Kind: paper.Total, Cells: []paper.Cell{
		paper.W("Together"), say.Number(plan.Totals.Asked, "hl", 0), paper.I(plan.Totals.Batches), paper.I(plan.Totals.Brews),
		say.Number(plan.Totals.Packaged, "hl", 1),
		{},
		{},
		{},
		{},
		{},
		{},
		{},
		{},
	}})
	return t
}

// number is a column of figures.
func number(title, unit string) paper.Column {
	return paper.Column{Title: title, Unit: unit, Kind: paper.Number}
}

func lateTable(plan *brewing.Result) paper.Table {
	t := paper.Table{
		Name: "late-batches", Title: "Batches that are late or find no tank",
		Columns: []paper.Column{{Title: "Beer"}, {Title: "Batch", Kind: paper.Number}, {Title: "Asked for"}, {Title: "Starts"}, {Title: "Waits for"}},
	}
	for _, list := range [][]int{plan.Late, plan.Unplaced} {
		for _, i := range list {
			b := plan.Batches[i]
			starts := dayName(plan, b.Start)
			if b.Fermenter < 0 {
				starts = "no tank in the year"
			}
			t.Rows = append(t.Rows, say.Row(paper.W(plan.Beers[b.Beer].Beer.Name), paper.I(b.Number), paper.W(dayName(plan, b.Asked)), paper.W(starts), paper.W(waits(b))))
		}
	}
	return t
}

func waits(b brewing.Batch) string {
	words := ""
	for _, w := range []struct {
		days int
		what string
	}{{b.TankWait, "a fermenter"}, {b.BrewWait, "a brew day"}, {b.BrightWait, "a bright tank"}} {
		if w.days > 0 {
			words = say.Join(words, say.Words("%d d for %s", w.days, w.what).Text)
		}
	}
	return say.Or(words, "—")
}

// Limits draws how full brew days and tanks are in the peak.
func Limits(r configurator.Report) (drawing.Drawing, error) {
	if r.Brewing == nil {
		return drawing.Drawing{}, errNoPlan
	}
	f := drawing.FillBars{
		Title: "Limits of the brewery", Description: "Share of brew days and tanks taken in the peak, fullest first.",
		Width: uprightWidth, LimitLabel: "full", OverLabel: "over", Unknown: "not known",
	}
	for _, l := range r.Brewing.Bottleneck.Ranked {
		part := l.Full
		f.Rows = append(f.Rows, drawing.FillRow{Label: l.Name, Part: &part, Words: unit.In(l.Full, "pct", 0)})
	}
	return f.Draw()
}

var errNoPlan = errors.New("there is no production plan")

// day0 is the Monday that the plan's first day falls on. An undated plan is drawn
// from Monday, 1 January of the year 1, so that weeks count from 1.
func day0(plan *brewing.Result) time.Time {
	if d := plan.Date(0); !d.IsZero() {
		return d
	}
	return time.Date(1, 1, 1, 0, 0, 0, 0, time.UTC)
}

func dayName(plan *brewing.Result, day int) string {
	if d := plan.Date(day); !d.IsZero() {
		return d.Format(time.DateOnly)
	}
	return say.Words("day %d", day+1).Text
}

func weekName(plan *brewing.Result, number int) string {
	if d := plan.Date((number - 1) * 7); !d.IsZero() {
		return say.Words("%d, from %s", number, d.Format("2 January 2006")).Text
	}
	return say.Words("%d", number).Text
}

// marks gives each beer a short mark for bars: its initials, told apart by a figure
// where two beers share them.
func marks(plan *brewing.Result) []string {
	out := make([]string, len(plan.Beers))
	count := map[string]int{}
	for i := range plan.Beers {
		mark := ""
		for _, w := range strings.Fields(plan.Beers[i].Beer.Name) {
			r, _ := utf8.DecodeRuneInString(w)
			mark += string(unicode.ToUpper(r))
		}
		count[mark]++
		if n := count[mark]; n > 1 {
			mark += string(rune('a' + n - 1))
		}
		out[i] = mark
	}
	return out
}

// grouped prints a whole quantity with its thousands apart, as every locale reads it.
//
// Source: ISO 80000-1, 7.3.1 (from memory): groups of three by a space; four digits
// stay together.
func grouped(q unit.Quantity, key string) string {
	text := unit.In(q, key, 0)
	end := strings.IndexFunc(text, func(r rune) bool { return r < '0' || r > '9' })
	if end < 5 {
		return text
	}
	for i := end - 3; i > 0; i -= 3 {
		text = text[:i] + "\u00a0" + text[i:]
	}
	return text
}
