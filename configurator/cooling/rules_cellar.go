package cooling

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

const leastApproach = 3.0 // K

var reach = rule.Rule[Facts]{
	ID: "CO-005", Severity: rule.Blocker,
	Title:    "The glycol is too warm for the temperature wanted",
	Why:      "The last kelvins come ever more slowly: with less than 3 K between beer and glycol the jacket only balances what leaks in.",
	Compares: "coldest temperature wanted in the tank against glycol supply and 3 K",
	Source:   source.Derivation("batch cooling against a finite glycol flow"),
	Check:    mended(judgeReach, []option{colderGlycol, colderChiller}, judgeLeaving, judgeCovers),
}

func judgeReach(f Facts) []rule.Answer {
	least := unit.Celsius(f.Result.Fluid.Supply.C() + leastApproach)
	var answers []rule.Answer
	for i := range f.Result.Tanks {
		if t := &f.Result.Tanks[i]; t.Hold < least && t.JacketFlow > 0 {
			answers = append(answers, rule.Fails(t.Tag, least, t.Hold, t.Tag+" is wanted at "+t.Hold.String()+"; glycol at "+f.Result.Fluid.Supply.String()+" reaches "+least.String()))
		}
	}
	for i := range f.Result.Crashes {
		if c := &f.Result.Crashes[i]; !c.Reached && c.To >= least {
			answers = append(answers, rule.Fails(c.Tank, c.To, nil, c.Tank+" never reaches "+c.To.String()+": the gain through its skin balances the jacket"))
		}
	}
	if answers == nil {
		return one(rule.Passes("", f.Result.Fluid.Coldest, least, "the coldest tank at "+f.Result.Fluid.Coldest.String()+" lies above "+least.String()))
	}
	return answers
}

// rampGrace is how much longer than wished a ramp may take: the tail in which the
// jacket, and no longer the ramp, decides.
const rampGrace = 1.10

var crashTime = rule.Rule[Facts]{
	ID: "CO-006", Severity: rule.Warning,
	Title:     "The jacket is too small for the crash wanted",
	Why:       "The tank is not free on the day the plan says, and the next batch waits.",
	Compares:  "time to cool down through the real jacket against the time allowed and a tenth",
	Source:    docKern.At("batch cooling with a non-isothermal medium"),
	DependsOn: []string{"CO-005"},
	Check:     mended(judgeCrash, []option{largerJacket, slowerCrash, colderGlycol}, judgeLeaving, judgeCovers, judgeCapacity),
}

func judgeCrash(f Facts) []rule.Answer {
	if len(f.Result.Crashes) == 0 {
		return one(rule.DoesNotApply("no tank is cooled down"))
	}
	var answers []rule.Answer
	worst := &f.Result.Crashes[0]
	for i := range f.Result.Crashes {
		c := &f.Result.Crashes[i]
		if c.Ramped.H()*worst.Wish.H() > worst.Ramped.H()*c.Wish.H() {
			worst = c
		}
		if c.Reached && c.Ramped.H() <= c.Wish.H()*rampGrace || answered(answers, c.Tank) {
			continue
		}
		answers = append(answers, rule.Fails(c.Tank, c.Ramped, c.Wish, crashWords(c)))
	}
	if answers == nil {
		return one(rule.Passes("", worst.Ramped, worst.Wish, crashWords(worst)))
	}
	return answers
}

func crashWords(c *CrashResult) string {
	return c.Tank + " takes " + c.Ramped.String() + " from " + c.From.String() + " to " + c.To.String() + "; " + c.Wish.String() + " are allowed"
}

func answered(answers []rule.Answer, subject string) bool {
	for i := range answers {
		if answers[i].Subject == subject {
			return true
		}
	}
	return false
}

var openValves = rule.Rule[Facts]{
	ID: "CO-007", Severity: rule.Warning,
	Title:     "Open crash valves draw more than the chiller gives",
	Why:       "A fully open jacket on a warm tank draws several times the mean; the supply warms for every other tank.",
	Compares:  "first draw of the tanks crashed at once against output and store over an hour",
	Source:    source.Derivation("jacket with its glycol flow at the first temperature difference"),
	DependsOn: []string{"CO-018"},
	Check:     mended(judgeValves, []option{rampSetPoints, oneCrash}),
}

func judgeValves(f Facts) []rule.Answer {
	s, c := f.Result.Load, f.Result.Chiller
	if len(f.Result.Crashes) == 0 {
		return one(rule.DoesNotApply("no tank is cooled down"))
	}
	if f.Input.Ramped != nil && *f.Input.Ramped {
		return one(rule.Passes("", s.Duty, c.Capacity, "set points are lowered by a ramp: the first draw of "+s.OpenValves.String()+" does not come"))
	}
	have := c.Capacity + unit.Watts(f.Result.Store.Energy.J()/3600)
	words := "the first draw of the open valves is " + s.OpenValves.String() + "; chiller and store give " + have.String()
	if s.OpenValves > have {
		return one(rule.Fails("", s.OpenValves, have, words))
	}
	return one(rule.Passes("", s.OpenValves, have, words))
}

var entering = rule.Rule[Facts]{
	ID: "CO-019", Severity: rule.Warning,
	Title:     "On a first crash the glycol comes back too warm for the chiller",
	Why:       "Above its highest entering temperature the chiller trips on high pressure, just when it is needed.",
	Compares:  "mixed return while crash valves stand open against the chiller's highest entering temperature",
	Source:    source.Derivation("heat balance of the return; limit stated by the maker"),
	DependsOn: []string{"CO-018"},
	Check:     mended(judgeEntering, []option{rampSetPoints, oneCrash}),
}

func judgeEntering(f Facts) []rule.Answer {
	if f.Input.Ramped != nil && *f.Input.Ramped {
		return one(rule.Passes("", f.Result.Fluid.Return, nil, "set points are lowered by a ramp: the return stays at "+f.Result.Fluid.Return.String()))
	}
	if f.Input.Chiller.MaxEntering == nil {
		return one(rule.Lacks("", "the chiller's highest entering temperature is unknown", "Chiller.MaxEntering"))
	}
	need, have := f.Result.Chiller.Entering, *f.Input.Chiller.MaxEntering
	words := "mixed return " + need.String() + ", chiller takes " + have.String()
	if need > have {
		return one(rule.Fails("", need, have, words))
	}
	return one(rule.Passes("", need, have, words))
}

var icyWall = rule.Rule[Facts]{
	ID: "CO-026", Severity: rule.Warning,
	Title:    "Glycol so cold that beer freezes on the wall",
	Why:      "Ice on the jacket insulates it, and the probe in it reads a lie.",
	Compares: "glycol supply against -5 °C",
	Source:   source.Practice("below about -5 °C the wall passes the freezing point of ordinary beer"),
	Check:    mended(judgeIce, []option{warmerGlycol, icyLimit}, judgeReach),
}

func judgeIce(f Facts) []rule.Answer {
	need, have := f.Result.Fluid.Supply, unit.Celsius(coldSupply)
	words := "glycol at " + need.String() + "; the beer begins to freeze at " + f.Result.Fluid.BeerFreeze.String()
	if need < have {
		return one(rule.Fails("", need, have, words))
	}
	return one(rule.Passes("", need, have, words))
}

var freezeStop = rule.Rule[Facts]{
	ID: "CO-003", Severity: rule.Blocker,
	Title:    "The glycol freezes in the evaporator",
	Why:      "The evaporator's wall is colder than the glycol that leaves it; ice bursts it, and refrigerant goes into the circuit.",
	Compares: "first ice against supply less 4 K",
	Source:   source.Derivation("evaporator wall below the leaving glycol; makers' cut-outs"),
	Check:    mended(judgeFreezes(4), []option{strongerGlycol}),
}

var freezeMargin = rule.Rule[Facts]{
	ID: "CO-024", Severity: rule.Warning,
	Title:     "Little margin against freezing",
	Why:       "Topping up with water and a dirty evaporator use up a thin margin within a season.",
	Compares:  "first ice against supply less 8 K",
	Source:    source.Practice("evaporator wall 5 to 6 K below the supply, and 2 to 3 K for mixing"),
	DependsOn: []string{"CO-003"},
	Check:     mended(judgeFreezes(freezeBelow), []option{strongerGlycol}),
}

func judgeFreezes(margin float64) judge {
	return func(f Facts) []rule.Answer {
		m := f.Result.Fluid
		limit := unit.Celsius(m.Supply.C() - margin)
		words := m.Mass.String() + " glycol by mass freezes from " + m.Freeze.String() + "; it should not above " + limit.String()
		if m.Freeze.C() > limit.C()+1e-9 {
			return one(rule.Fails("", limit, m.Freeze, words))
		}
		return one(rule.Passes("", limit, m.Freeze, words))
	}
}

var strength = rule.Rule[Facts]{
	ID: "CO-004", Severity: rule.Warning,
	Title:    "The glycol is too thin or too thick",
	Why:      "Below 25 % by volume the inhibitors are too weak and microbes feed on it; above 40 % it costs flow, head and heat transfer and buys nothing.",
	Compares: "glycol by volume against 25 to 40 %",
	Source:   source.Practice("makers of inhibited glycol"),
	Check:    mended(judgeStrength, []option{usualGlycol}, judgeFreezes(4)),
}

func judgeStrength(f Facts) []rule.Answer {
	v := f.Result.Fluid.Volume
	words := v.String() + " by volume"
	switch {
	case v.Pct() < 25:
		return one(rule.Fails("", unit.Percent(25), v, words))
	case v.Pct() > 40:
		return one(rule.Fails("", v, unit.Percent(40), words))
	}
	return one(rule.Passes("", v, unit.Percent(40), words))
}

var winterPipes = rule.Rule[Facts]{
	ID: "CO-025", Severity: rule.Warning,
	Title:    "Standing glycol outdoors may freeze in winter",
	Why:      "Slush blocks a circuit that stands still over a cold night.",
	Compares: "first ice against the coldest air less 3 K",
	Source:   source.Practice("3 K below the winter minimum"),
	Check:    mended(judgeWinter, []option{winterGlycol}),
}

func judgeWinter(f Facts) []rule.Answer {
	if f.Input.Siting.Where == "inside" && f.Input.Route.Outdoor == 0 {
		return one(rule.DoesNotApply("chiller and pipes stand indoors"))
	}
	if f.Input.Winter == nil {
		return one(rule.Lacks("", "the coldest air is unknown", "Winter"))
	}
	limit, have := unit.Celsius(f.Input.Winter.C()-3), f.Result.Fluid.Freeze
	words := "first ice at " + have.String() + ", wanted at " + limit.String() + " or below"
	if have > limit {
		return one(rule.Fails("", limit, have, words))
	}
	return one(rule.Passes("", limit, have, words))
}
