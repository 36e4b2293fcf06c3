package cooling

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

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
	Why:      "Below 25 % by volume the inhibitors are too weak and microbes feed on it; above 40 % it takes flow, head and heat transfer and gains nothing.",
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
