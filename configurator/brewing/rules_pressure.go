package brewing

import (
	"fmt"
	"slices"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

var fermenterPressure = rule.Rule[Facts]{
	ID: "BR-020", Severity: rule.Blocker, Title: "The fermenter is not rated for natural carbonation",
	Why:      "The relief valve opens and the carbonation is lost; a valve that is blocked lets the tank burst.",
	Compares: "spunding pressure with the head of the beer against the rated pressure", Source: docHenry.At("solubility of CO2; head 1010 kg/m³ · g · depth"),
	Check: checked(onSchedule(judgeSpunding), mendSpunding),
}

func judgeSpunding(f Facts) []rule.Answer {
	var out []rule.Answer
	for i := range f.Result.Beers {
		p := &f.Result.Beers[i]
		if p.Charge.TankNeeds != nil {
			out = append(out, spundingOf(f.Result, i))
		}
	}
	if len(out) == 0 {
		return []rule.Answer{rule.DoesNotApply("no beer is carbonated by closing its tank")}
	}
	return out
}

func spundingOf(r Result, at int) rule.Answer {
	p := &r.Beers[at]
	need := *p.Charge.TankNeeds
	if len(r.Fermenters) == 0 {
		return rule.Lacks(p.Beer.Name, "no fermenter is chosen", "Fermenters")
	}
	least, tag, found := unit.BarGauge(1e9), "", false
	for _, b := range r.Batches {
		if b.Beer != at || b.Fermenter < 0 {
			continue
		}
		t := r.Fermenters[b.Fermenter].Tank
		if t.Pressure == nil {
			return rule.Lacks(p.Beer.Name, fmt.Sprintf("%s: the rated pressure of %s is not known; %s are needed", p.Beer.Name, t.Tag, unit.Fixed(need, 2)), "Fermenters.Pressure")
		}
		if *t.Pressure < least {
			least, tag, found = *t.Pressure, t.Tag, true
		}
	}
	if !found {
		return rule.Lacks(p.Beer.Name, p.Beer.Name+": no batch lies on a tank", "Fermenters")
	}
	words := fmt.Sprintf("%s: %s at %s takes %s at the bottom of the tank; %s is rated %s", p.Beer.Name, unit.Fixed(p.Charge.CO2, 1), unit.Fixed(p.Ferment, 0), unit.Fixed(need, 2), tag, unit.Fixed(least, 2))
	if need <= least {
		return rule.Passes(p.Beer.Name, need, least, words)
	}
	return rule.Fails(p.Beer.Name, need, least, words)
}

func mendSpunding(f Facts, a rule.Answer, j judge) []rule.Remedy {
	at := beerNamed(f.Result, a.Subject)
	out := ratedTanks(f, a, j)
	in := withBeer(f.Input, at, func(b *Beer) { b.Natural = false })
	if r, _, err := plan(in, sheets); err == nil && r.Beers[at].Charge.TankNeeds == nil {
		p := r.Beers[at].Charge
		words := fmt.Sprintf("carbonate %s in the bright tank: %s of CO2 to buy for each batch", a.Subject, unit.Fixed(p.AddedCO2, 1))
		out = append(out, rule.Remedy{Kind: "force-carbonate", Words: words, Need: unit.GaugePressure(0), Have: a.Have, Params: []rule.Param{{Name: "beer", Text: a.Subject}, {Name: "co2", Quantity: p.AddedCO2}}})
	}
	return out
}

// ratedTanks tries fermenters with the rating in place of those without.
func ratedTanks(f Facts, a rule.Answer, j judge) []rule.Remedy {
	in := f.Input
	tanks, params := stronger(in.Fermenters, in.FermenterOptions, a.Need.SI())
	if params == nil {
		return nil
	}
	in.Fermenters = tanks
	return remedy(in, a, j, "rated-tanks", "take fermenters rated for it: "+codesOf(params), params...)
}

// stronger puts the smallest offered tank with the rating, at most a third larger, in
// place of each tank without.
func stronger(tanks, options []Tank, need float64) ([]Tank, []rule.Param) {
	out := slices.Clone(tanks)
	var params []rule.Param
	for i, t := range out {
		if t.Pressure == nil || t.Pressure.SI() >= need {
			continue
		}
		best := -1
		for k, o := range options {
			ok := o.Pressure != nil && o.Pressure.SI() >= need && fits(o.Gross.L(), t.Gross.L()) && o.Gross <= unit.Volume(4.0/3)*t.Gross
			if ok && (best < 0 || o.Gross < options[best].Gross) {
				best = k
			}
		}
		if best < 0 {
			continue
		}
		o := options[best]
		out[i] = Tank{Tag: t.Tag, Code: o.Code, Gross: o.Gross, Pressure: o.Pressure, Jacket: o.Jacket, Class: t.Class}
		params = append(params, rule.Param{Name: t.Tag, Text: o.Code, Quantity: *o.Pressure})
	}
	return out, params
}

func codesOf(params []rule.Param) string {
	words := ""
	for _, p := range params {
		words = joinWords(words, p.Name+" as "+p.Text)
	}
	return words
}

var brightPressure = rule.Rule[Facts]{
	ID: "BR-021", Severity: rule.Blocker, Title: "The bright tank is not rated for the carbonation",
	Why:      "The beer cannot hold its carbonation below the pressure it needs; a tank closed beyond its rating can burst.",
	Compares: "equilibrium pressure at the cold temperature, with 0.3 bar to push, against the rated pressure", Source: docHenry.At("solubility of CO2"),
	Check: checked(onSchedule(judgeBrightPressure), mendBrightPressure),
}

// pushBar is the pressure that moves beer to a filler, in bar: common practice.
const pushBar = 0.3

func judgeBrightPressure(f Facts) []rule.Answer {
	var out []rule.Answer
	for i := range f.Result.Beers {
		if f.Result.Beers[i].Days.Bright > 0 && f.Result.Beers[i].Beer.Package != "cask" {
			out = append(out, brightPressureOf(f.Result, i))
		}
	}
	if len(out) == 0 {
		return []rule.Answer{rule.DoesNotApply("no carbonated beer goes through a bright tank")}
	}
	return out
}

func brightPressureOf(r Result, at int) rule.Answer {
	p := &r.Beers[at]
	need := unit.BarGauge(max(0, p.Charge.Hold.BarG()) + pushBar)
	least, tag, found := unit.BarGauge(1e9), "", false
	for _, b := range r.Batches {
		for _, ti := range b.Brights {
			if b.Beer != at {
				continue
			}
			t := r.Brights[ti].Tank
			if t.Pressure == nil {
				return rule.Lacks(p.Beer.Name, fmt.Sprintf("%s: the rated pressure of %s is not known; %s are needed", p.Beer.Name, t.Tag, unit.Fixed(need, 2)), "Brights.Pressure")
			}
			if *t.Pressure < least {
				least, tag, found = *t.Pressure, t.Tag, true
			}
		}
	}
	if !found {
		return rule.Lacks(p.Beer.Name, p.Beer.Name+": no batch lies on a bright tank", "Brights")
	}
	words := fmt.Sprintf("%s: %s at %s and the push to the filler take %s; %s is rated %s", p.Beer.Name, unit.Fixed(p.Charge.CO2, 1), unit.Fixed(p.Cold, 0), unit.Fixed(need, 2), tag, unit.Fixed(least, 2))
	if need <= least {
		return rule.Passes(p.Beer.Name, need, least, words)
	}
	return rule.Fails(p.Beer.Name, need, least, words)
}

func mendBrightPressure(f Facts, a rule.Answer, j judge) []rule.Remedy {
	at := beerNamed(f.Result, a.Subject)
	cold := unit.Celsius(1)
	in := withBeer(f.Input, at, func(b *Beer) { b.Cold = &cold })
	out := remedy(in, a, j, "colder-bright", "hold "+a.Subject+" at 1 °C in the bright tank", rule.Param{Name: "beer", Text: a.Subject}, rule.Param{Name: "cold", Quantity: cold})
	in = f.Input
	tanks, params := stronger(in.Brights, in.BrightOptions, a.Need.SI())
	if params == nil {
		return out
	}
	in.Brights = tanks
	return append(out, remedy(in, a, j, "rated-brights", "take bright tanks rated for it: "+codesOf(params), params...)...)
}

var summerMains = rule.Rule[Facts]{
	ID: "BR-022", Severity: rule.Blocker, Title: "Summer mains water does not cool the wort to pitching",
	Why:      "In July the wort reaches the fermenter warm: the yeast throws off-flavours, or the batch waits unpitched and spoils.",
	Compares: "pitching temperature against the coldest the cooler reaches", Source: source.Derivation("wort leaves above the water that cools it"),
	Check: checkSummer,
}

func judgeSummer(f Facts) []rule.Answer {
	out := make([]rule.Answer, 0, len(f.Result.Beers))
	for i := range f.Result.Beers {
		p := &f.Result.Beers[i]
		if p.Summer == nil {
			out = append(out, rule.Lacks(p.Beer.Name, "the summer temperature of the mains is not known; UK cities see 18 to 22 °C", "Water.Summer"))
			continue
		}
		have := p.Summer.Stage1To
		if p.Summer.Reaches {
			have = min(have, p.Pitch)
		}
		words := fmt.Sprintf("%s: pitched at %s; on mains of %s the cooler reaches %s", p.Beer.Name, unit.Fixed(p.Pitch, 0), unit.Fixed(p.Summer.Mains, 0), unit.Fixed(have, 0))
		if p.Summer.Reaches {
			out = append(out, rule.Passes(p.Beer.Name, p.Pitch, have, words))
			continue
		}
		out = append(out, rule.Fails(p.Beer.Name, p.Pitch, have, words))
	}
	return out
}

// checkSummer tries each change of the cooler once for all beers that fail.
func checkSummer(f Facts) []rule.Answer {
	answers := judgeSummer(f)
	if !slices.ContainsFunc(answers, func(a rule.Answer) bool { return a.Outcome == rule.Fail }) {
		return answers
	}
	j := onSheet(judgeSummer)
	two, cold := f.Input, f.Input
	two.Cooler.Stages = 2
	cold.Cooler.ColdLiquor = true
	second, chilled := try(two, j), try(cold, j)
	for i := range answers {
		a := &answers[i]
		if a.Outcome != rule.Fail {
			continue
		}
		if got, ok := second.passes(a.Subject); ok {
			a.Remedies = append(a.Remedies, secondStage(second.facts.Result.Beers[i].Summer.Stage2, got))
		}
		if got, ok := chilled.passes(a.Subject); ok {
			v := chilled.facts.Result.Beers[i].Summer.Stage1.Water
			a.Remedies = append(a.Remedies, rule.Remedy{Kind: "cold-liquor", Words: "cool on a cold-liquor tank: " + litres(v) + " of liquor a brew", Need: got.Need, Have: got.Have, Params: []rule.Param{{Name: "cold-liquor", Quantity: v}}})
		}
	}
	return answers
}

func secondStage(s *StageTwo, got rule.Answer) rule.Remedy {
	r := rule.Remedy{Kind: "second-stage", Words: "add a second stage on chilled liquor or glycol", Need: got.Need, Have: got.Have}
	if s != nil {
		r.Words = fmt.Sprintf("add a second stage: %s at %s, or %s of chilled liquor a brew", unit.Fixed(s.Heat, 1), unit.Fixed(s.Power, 1), unit.Fixed(s.Chilled, 0))
		r.Params = []rule.Param{{Name: "heat", Quantity: s.Heat}, {Name: "power", Quantity: s.Power}, {Name: "chilled-liquor", Quantity: s.Chilled}}
	}
	return r
}

var knockoutTime = rule.Rule[Facts]{
	ID: "BR-023", Fills: "time of knock-out", Severity: rule.Warning, Title: "Knock-out takes too long or the exchanger is cut too fine",
	Why:      "Wort that stands hot for longer than an hour darkens and turns vegetal; an exchanger within 3 K of its water grows beyond reason.",
	Compares: "time of knock-out against 60 minutes", Source: source.Practice("knock-out 30 to 60 minutes"),
	Check: checked(onSheet(judgeKnockout), mendKnockout),
}

func judgeKnockout(f Facts) []rule.Answer {
	worst := -1
	for i := range f.Result.Beers {
		k := f.Result.Beers[i].Summer
		if k != nil && (worst < 0 || k.Time > f.Result.Beers[worst].Summer.Time) {
			worst = i
		}
	}
	if worst < 0 {
		return []rule.Answer{rule.Lacks("", "the summer temperature of the mains is not known", "Water.Summer")}
	}
	p := &f.Result.Beers[worst]
	need, have := p.Summer.Time, unit.Minutes(60)
	words := fmt.Sprintf("%s: %s to knock out on mains of %s; in %s the first stage would need %s", p.Beer.Name, unit.In(need, "min", 0), unit.Fixed(p.Summer.Mains, 0), unit.In(have, "min", 0), unit.Text(unit.Conductance(p.Summer.Stage1.UA.SI()*need.SI()/have.SI())))
	if need <= have {
		return []rule.Answer{rule.Passes("", need, have, words)}
	}
	return []rule.Answer{rule.Fails("", need, have, words)}
}

// mendKnockout tries an exchanger larger by what the time is too long, in both stages.
func mendKnockout(f Facts, a rule.Answer, j judge) []rule.Remedy {
	if f.Input.Cooler.UA == nil {
		return nil
	}
	in := f.Input
	larger := unit.Conductance(a.Need.SI() / a.Have.SI() * 1.01)
	ua := larger * *f.Input.Cooler.UA
	in.Cooler.UA = &ua
	words, params := "take a wort cooler of "+unit.Text(ua), []rule.Param{{Name: "ua", Quantity: ua}}
	if f.Input.Cooler.UA2 != nil {
		ua2 := larger * *f.Input.Cooler.UA2
		in.Cooler.UA2 = &ua2
		words += " in the first and " + unit.Text(ua2) + " in the second stage"
		params = append(params, rule.Param{Name: "ua2", Quantity: ua2})
	}
	return remedy(in, a, j, "larger-cooler", words, params...)
}

var coldLiquorEnough = rule.Rule[Facts]{
	ID: "BR-024", Fills: "cold-liquor tank", Severity: rule.Warning, Title: "The cold-liquor tank is too small for one knock-out",
	Why:      "The tank runs warm in the middle of the knock-out and the wort after it.",
	Compares: "cold liquor of one brew against the tank", Source: source.Derivation("heat balance of the wort cooler"),
	Check: checked(onSheet(judgeColdLiquor), func(f Facts, a rule.Answer, j judge) []rule.Remedy {
		in := f.Input
		v := unit.Litres(50 * float64(roundUp(a.Need.SI()*1000/50)))
		in.Brewhouse.ColdLiquor = &v
		return remedy(in, a, j, "larger-cold-liquor", "take a cold-liquor tank of "+litres(v), rule.Param{Name: "cold-liquor", Quantity: v})
	}),
}

func judgeColdLiquor(f Facts) []rule.Answer {
	c := f.Result.Settled.Cooler
	tank := f.Input.Brewhouse.ColdLiquor
	need, name := unit.Volume(0), ""
	for i := range f.Result.Beers {
		k := f.Result.Beers[i].Summer
		if k == nil {
			continue
		}
		v := unit.Volume(0)
		if c.ColdLiquor {
			v = k.Stage1.Water
		} else if k.Stage2 != nil && tank != nil {
			v = unit.Litres(k.Stage2.Chilled.Kg())
		}
		if v > need {
			need, name = v, f.Result.Beers[i].Beer.Name
		}
	}
	if need == 0 {
		return []rule.Answer{rule.DoesNotApply("no wort is cooled on cold liquor")}
	}
	if tank == nil {
		return []rule.Answer{rule.Lacks(name, "the cold-liquor tank is not known; "+litres(need)+" are needed a brew", "Brewhouse.ColdLiquor")}
	}
	words := fmt.Sprintf("%s: %s of cold liquor a brew; the tank has %s", name, litres(need), litres(*tank))
	if *tank >= need {
		return []rule.Answer{rule.Passes(name, need, *tank, words)}
	}
	return []rule.Answer{rule.Fails(name, need, *tank, words)}
}
