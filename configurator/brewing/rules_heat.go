package brewing

import (
	"fmt"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

var kettleBoils = rule.Rule[Facts]{
	ID: "BR-009", Severity: rule.Blocker, Title: "The kettle never boils",
	Why:      "The heat only covers the losses of the vessel.",
	Compares: "heat into the kettle against its losses at the boil", Source: source.Derivation("heat balance of the kettle at 100 °C"),
	Check: checked(onSheet(judgeBoils), mendHeat),
}

func judgeBoils(f Facts) []rule.Answer {
	src := f.Input.Brewhouse.Kettle
	if src == nil {
		if f.Result.ProposedLength {
			return []rule.Answer{rule.DoesNotApply("no brewhouse is chosen: the sheet gives the power it needs")}
		}
		return []rule.Answer{rule.Lacks("", "the kettle's heat source is not known", "Brewhouse.Kettle")}
	}
	need := unit.Kilowatts(src.ua() * (boilTemp - f.Result.Settled.Practice.Room.C()))
	have := unit.Kilowatts(src.delivered())
	words := fmt.Sprintf("%s reach the kettle, %s are lost at 100 °C", unit.Text(have), unit.Text(need))
	if have > need {
		return []rule.Answer{rule.Passes("", need, have, words)}
	}
	return []rule.Answer{rule.Fails("", need, have, words)}
}

// mendHeat tries lagging, then other brewhouses.
func mendHeat(f Facts, a rule.Answer, j judge) []rule.Remedy {
	var out []rule.Remedy
	if src := f.Input.Brewhouse.Kettle; src != nil && src.Loss != nil {
		in, better := f.Input, *src
		ua := *src.Loss / 3
		better.Loss = &ua
		in.Brewhouse.Kettle = &better
		out = remedy(in, a, j, "lag-kettle", "lag the kettle to a loss of "+unit.Text(ua), rule.Param{Name: "loss", Quantity: ua})
	}
	return append(out, otherBrewhouse(f, a, j)...)
}

var evaporationReached = rule.Rule[Facts]{
	ID: "BR-010", Severity: rule.Warning, Title: "The heat source does not reach the planned evaporation",
	Why:      "A weak boil leaves sulphur compounds in the beer and the wort thinner than planned.",
	Compares: "evaporation at full power against the planned evaporation, of the cast volume in an hour", Source: docBEMP.At("node 237: 5 to 8 % an hour"), DependsOn: []string{"BR-009"},
	Check: checked(onSheet(judgeEvaporation), mendEvaporation),
}

func judgeEvaporation(f Facts) []rule.Answer {
	need := f.Result.Settled.Practice.Evaporation
	at := 0
	for i := range f.Result.Beers {
		if f.Result.Beers[i].Brew.HotCast > f.Result.Beers[at].Brew.HotCast {
			at = i
		}
	}
	b := f.Result.Beers[at].Brew
	if b.EvapFull == nil {
		return []rule.Answer{rule.DoesNotApply("no heat source is chosen")}
	}
	words := fmt.Sprintf("the source evaporates %s of the cast volume an hour where %s are planned", unit.Fixed(*b.EvapFull, 1), unit.Fixed(need, 1))
	if *b.EvapFull >= need {
		return []rule.Answer{rule.Passes("", need, *b.EvapFull, words)}
	}
	return []rule.Answer{rule.Fails("", need, *b.EvapFull, words)}
}

// mendEvaporation tries a longer boil that evaporates the same water, at a rate of
// at least 4 % an hour, then what mendHeat tries.
func mendEvaporation(f Facts, a rule.Answer, j judge) []rule.Remedy {
	var out []rule.Remedy
	full, need := a.Have.SI(), a.Need.SI()
	if full >= 0.04 {
		in := f.Input
		base := f.Result.Settled.Practice.BoilTime
		rate := full * 0.98 // the longer boil starts from a fuller kettle of the same cast
		in.Practice.Evaporation = unit.Fraction(rate)
		in.Practice.BoilTime = unit.Minutes(5 * float64(roundUp(base.Min()*need/rate/5)))
		words := fmt.Sprintf("boil %s at %s an hour: the same water leaves", unit.In(in.Practice.BoilTime, "min", 0), unit.Fixed(in.Practice.Evaporation, 1))
		out = remedy(in, a, j, "longer-boil", words, rule.Param{Name: "boil-time", Quantity: in.Practice.BoilTime}, rule.Param{Name: "evaporation", Quantity: in.Practice.Evaporation})
	}
	return append(out, mendHeat(f, a, j)...)
}

var heatTogether = rule.Rule[Facts]{
	ID: "BR-011", Severity: rule.Warning, Title: "Kettle and hot-liquor tank together ask more heat than there is",
	Why:      "The main fuse opens or the boiler's pressure falls in the middle of a brew.",
	Compares: "most heat asked at a time in the brew day against the heat allowed", Source: source.Derivation("sum of the steps of the brew day at a time"),
	Check: checked(onSheet(judgeTogether), mendTogether),
}

func judgeTogether(f Facts) []rule.Answer {
	if f.Input.HeatAllowed == nil || len(f.Result.BrewDays) == 0 {
		return []rule.Answer{rule.DoesNotApply("the supply is checked by the electrical schedule")}
	}
	d := f.Result.BrewDays[min(f.Result.Settled.Year.BrewsPerDay, len(f.Result.BrewDays))-1]
	have := *f.Input.HeatAllowed
	words := fmt.Sprintf("%s at %s of the brew day; %s are allowed", unit.Text(d.Peak), unit.In(d.PeakAt, "h", 1), unit.Text(have))
	if d.Peak <= have {
		return []rule.Answer{rule.Passes("", d.Peak, have, words)}
	}
	return []rule.Answer{rule.Fails("", d.Peak, have, words)}
}

// mendTogether tries locking the hot-liquor heater out while the kettle heats, and
// one brew a day.
func mendTogether(f Facts, a rule.Answer, j judge) []rule.Remedy {
	in := f.Input
	in.Brewhouse.Interlock = true
	out := remedy(in, a, j, "interlock", "lock the hot-liquor heater out while the kettle heats")
	in = f.Input
	in.Year.BrewsPerDay = 1
	return append(out, remedy(in, a, j, "one-brew-a-day", "brew once a day and heat the liquor at night", rule.Param{Name: "brews-per-day", Quantity: unit.PureNumber(1)})...)
}

var dayLength = rule.Rule[Facts]{
	ID: "BR-012", Fills: "brew day", Severity: rule.Warning, Title: "The brews do not fit one working day",
	Why:      "The second brew runs into the night: overtime, tired people and hot liquor.",
	Compares: "length of the brew day against the longest day", Source: docORourke.At("cycle of a mash tun 300 to 440 min"),
	Check: checked(onSheet(judgeDay), mendDay),
}

func judgeDay(f Facts) []rule.Answer {
	n := f.Result.Settled.Year.BrewsPerDay
	if len(f.Result.BrewDays) < n {
		return []rule.Answer{rule.Lacks("", "no brew day could be laid out", "Beers")}
	}
	d := f.Result.BrewDays[n-1]
	have := f.Result.Settled.Year.DayLength
	words := fmt.Sprintf("%d brews of %s take %s from mash-in to clean kettle; the day has %s", n, f.Result.Beers[d.Beer].Beer.Name, unit.In(d.Length, "h", 1), unit.In(have, "h", 1))
	if d.Length <= have {
		return []rule.Answer{rule.Passes("", d.Length, have, words)}
	}
	return []rule.Answer{rule.Fails("", d.Length, have, words)}
}

func mendDay(f Facts, a rule.Answer, j judge) []rule.Remedy {
	var out []rule.Remedy
	n := f.Result.Settled.Year.BrewsPerDay
	if n > 1 {
		in := f.Input
		in.Year.BrewsPerDay = 1
		out = remedy(in, a, j, "one-brew-a-day", "brew once a day, on two days in a row for a double batch", rule.Param{Name: "brews-per-day", Quantity: unit.PureNumber(1)})
	}
	if d := f.Result.BrewDays[min(n, len(f.Result.BrewDays))-1]; n > 1 {
		in := f.Input
		v := unit.Litres(100 * float64(roundUp(2*f.Result.Beers[d.Beer].Brew.HotLiquor.L()/100)))
		in.Brewhouse.LiquorTank = &v
		out = append(out, remedy(in, a, j, "larger-liquor-tank", "take a hot-liquor tank of "+litres(v)+", which holds both brews", rule.Param{Name: "liquor-tank", Quantity: v})...)
	}
	in := f.Input
	in.Year.DayLength = unit.Minutes(30 * float64(roundUp(a.Need.SI()/1800)))
	words := "plan a day of " + unit.In(in.Year.DayLength, "h", 1) + ", in two shifts where it is longer than the working time allowed"
	out = append(out, remedy(in, a, j, "longer-day", words, rule.Param{Name: "day-length", Quantity: in.Year.DayLength})...)
	return append(out, otherBrewhouse(f, a, j)...)
}

var kettleSours = rule.Rule[Facts]{
	ID: "BR-013", Severity: rule.Notice, Title: "Kettle sours hold the kettle for days that brewing needs",
	Why:      "While a kettle sour rests the kettle takes no other brew.",
	Compares: "brew days and rest days in a year against the brew days there are", Source: source.Practice("a kettle sour rests one to two days before the boil"),
	Check: checked(onSheet(judgeSours), mendSours),
}

func judgeSours(f Facts) []rule.Answer {
	rest, sours := 0, 0
	for i := range f.Result.Beers {
		p := &f.Result.Beers[i]
		rest += p.Brews * p.KettleDays
		if p.Beer.Kind == KettleSour {
			sours++
		}
	}
	if rest == 0 && sours == 0 {
		return []rule.Answer{rule.DoesNotApply("no beer rests in the kettle")}
	}
	y := f.Result.Settled.Year
	days := float64(y.Weeks * y.BrewDays)
	need := unit.Days(float64(rest) + float64(f.Result.Totals.Brews)/float64(y.BrewsPerDay))
	have := unit.Days(days)
	words := fmt.Sprintf("%s of brewing and %d days of rest in %s", unit.In(need-unit.Days(float64(rest)), "days", 0), rest, unit.In(have, "days", 0))
	if need <= have {
		return []rule.Answer{rule.Passes("", need, have, words)}
	}
	return []rule.Answer{rule.Fails("", need, have, words)}
}

// mendSours tries souring in a tank of its own.
func mendSours(f Facts, a rule.Answer, j judge) []rule.Remedy {
	in := f.Input
	none := unit.Duration(0)
	in.Beers = append([]Beer{}, in.Beers...)
	for i := range in.Beers {
		in.Beers[i].KettleDays = &none
	}
	return remedy(in, a, j, "souring-tank", "sour the wort in a tank of its own and bring it back for the boil")
}
