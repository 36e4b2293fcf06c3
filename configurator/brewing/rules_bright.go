package brewing

import (
	"fmt"
	"sort"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

var brightFits = rule.Rule[Facts]{
	ID: "BR-016", Fills: "bright tank", Severity: rule.Warning, Title: "No bright tank takes the racked batch",
	Why:      "A batch is racked in one go: what does not fit stays on the yeast or goes to a second tank.",
	Compares: "racked beer with headspace against the gross volume of one bright tank", Source: source.Derivation("brews · brew length · (1 − fermenter loss) / (1 − headspace)"),
	Check: checked(onSheet(judgeBright), mendBright),
}

func judgeBright(f Facts) []rule.Answer {
	out := make([]rule.Answer, 0, len(f.Result.Beers))
	for i := range f.Result.Beers {
		p := &f.Result.Beers[i]
		if p.Days.Bright > 0 {
			out = append(out, brightFor(f.Result, p))
		}
	}
	if len(out) == 0 {
		return []rule.Answer{rule.DoesNotApply("every beer is packed from its fermenter")}
	}
	return out
}

func brightFor(r Result, p *BeerPlan) rule.Answer {
	sizes := make([]unit.Volume, 0, len(r.Brights))
	for _, t := range r.Brights {
		if t.Tank.Class == "" {
			sizes = append(sizes, t.Tank.Gross)
		}
	}
	sort.Slice(sizes, func(i, j int) bool { return sizes[i] > sizes[j] })
	best := unit.Volume(0)
	if len(sizes) > 0 {
		best = sizes[0]
	}
	words := fmt.Sprintf("%s: %s racked need %s gross; the largest bright tank has %s", p.Beer.Name, hl(p.Charge.Racked), hl(p.BrightGross), hl(best))
	if fits(best.L(), p.BrightGross.L()) {
		return rule.Passes(p.Beer.Name, p.BrightGross, best, words)
	}
	if len(sizes) > 1 && fits((sizes[0]+sizes[1]).L(), p.BrightGross.L()) {
		words += fmt.Sprintf("; two tanks at a time take it (%s)", hl(sizes[0]+sizes[1]))
	}
	return rule.Fails(p.Beer.Name, p.BrightGross, best, words)
}

func mendBright(f Facts, a rule.Answer, j judge) []rule.Remedy {
	at := beerNamed(f.Result, a.Subject)
	p := &f.Result.Beers[at]
	out := addBright(f, a, j, p.BrightGross)
	if p.BrewsPerTank > 1 {
		in := withBeer(f.Input, at, func(b *Beer) { b.BrewsPerTank = 1 })
		out = append(out, remedy(in, a, j, "fewer-brews-per-tank", "ferment "+a.Subject+" in single brews", rule.Param{Name: "beer", Text: a.Subject}, rule.Param{Name: "brews-per-tank", Quantity: unit.PureNumber(1)})...)
	}
	return out
}

// addBright tries one to three more bright tanks.
func addBright(f Facts, a rule.Answer, j judge, gross unit.Volume) []rule.Remedy {
	t, ok := smallest(f.Input.BrightOptions, gross)
	if !ok && len(f.Input.BrightOptions) > 0 {
		return nil
	}
	if !ok {
		t = Tank{Gross: gross, Jacket: true}
	}
	t.Class = ""
	for n := 1; n <= 3; n++ {
		in := f.Input
		in.Brewhouse.BrewLength = f.Result.BrewLength
		in.Brights = append([]Tank{}, in.Brights...)
		for k := range n {
			t.Tag = fmt.Sprintf("BBT %d", len(f.Input.Brights)+k+1)
			in.Brights = append(in.Brights, t)
		}
		words := fmt.Sprintf("add %d bright tank of %s gross", n, hl(t.Gross))
		if n > 1 {
			words = fmt.Sprintf("add %d bright tanks of %s gross", n, hl(t.Gross))
		}
		if rs := remedy(in, a, j, "add-bright", words, rule.Param{Name: "count", Quantity: unit.PureNumber(float64(n))}, rule.Param{Name: "gross", Quantity: t.Gross}, rule.Param{Name: "code", Text: t.Code}); rs != nil {
			return rs
		}
	}
	return nil
}

var brightsEnough = rule.Rule[Facts]{
	ID: "BR-017", Severity: rule.Warning, Title: "Beer waits in its fermenter for a bright tank",
	Why:      "A fermenter full of finished beer brews nothing, and the beer lies on its yeast.",
	Compares: "longest wait for a bright tank against a week", Source: source.Derivation("dated schedule of the bright tanks"), DependsOn: []string{"BR-016"},
	Check: checked(onSchedule(judgeBrightWait), func(f Facts, a rule.Answer, j judge) []rule.Remedy {
		return addBright(f, a, j, waitingGross(f.Result))
	}),
}

func judgeBrightWait(f Facts) []rule.Answer {
	worst, used := 0, 0
	for _, b := range f.Result.Batches {
		worst = max(worst, b.BrightWait)
		used += len(b.Brights)
	}
	if used == 0 {
		return []rule.Answer{rule.DoesNotApply("no bright tanks are used")}
	}
	need, have := unit.Days(float64(worst)), unit.Days(leadDays)
	words := fmt.Sprintf("the longest wait for a bright tank is %s", unit.In(need, "days", 0))
	if need <= have {
		return []rule.Answer{rule.Passes("", need, have, words)}
	}
	return []rule.Answer{rule.Fails("", need, have, words)}
}

var secondBrew = rule.Rule[Facts]{
	ID: "BR-018", Severity: rule.Warning, Title: "The brews of one fermenter lie too far apart",
	Why:      "Wort that waits for its second half sours or starves the yeast.",
	Compares: "first to last brew of a batch against 48 hours", Source: source.Practice("all brews of a fermenter within 48 hours"),
	Check: checked(onSheet(judgeSecond), func(f Facts, a rule.Answer, j judge) []rule.Remedy {
		in := f.Input
		in.Year.BrewsPerDay = f.Result.Settled.Year.BrewsPerDay + 1
		return remedy(in, a, j, "more-brews-a-day", fmt.Sprintf("brew %d times a day", in.Year.BrewsPerDay), rule.Param{Name: "brews-per-day", Quantity: unit.PureNumber(float64(in.Year.BrewsPerDay))})
	}),
}

func judgeSecond(f Facts) []rule.Answer {
	worst, doubles := 0, 0
	for i := range f.Result.Beers {
		p := &f.Result.Beers[i]
		if p.BrewsPerTank > 1 {
			doubles++
			worst = max(worst, roundUp(float64(p.BrewsPerTank)/float64(f.Result.Settled.Year.BrewsPerDay))-1)
		}
	}
	if doubles == 0 {
		return []rule.Answer{rule.DoesNotApply("every fermenter is filled by one brew")}
	}
	need, have := unit.Days(float64(worst)), unit.Days(2)
	words := fmt.Sprintf("%d beers fill a fermenter with more than one brew, %s from first to last", doubles, unit.In(need, "h", 0))
	if need <= have {
		return []rule.Answer{rule.Passes("", need, have, words)}
	}
	return []rule.Answer{rule.Fails("", need, have, words)}
}

var tanksSlack = rule.Rule[Facts]{
	ID: "BR-019", Fills: "tanks in the peak", Severity: rule.Notice, Title: "The tanks have no slack in the peak",
	Why:      "One slow fermentation or one blocked valve makes a week's beer late.",
	Compares: "tank-days taken in the peak against the share that may be planned", Source: source.Practice("at most 85 to 90 % of tank-days in the peak"), DependsOn: []string{"BR-035", "BR-015"},
	Check: checked(onYear(judgeSlack), mendSlack),
}

func judgeSlack(f Facts) []rule.Answer {
	have := f.Result.Settled.Year.FillLimit
	var out []rule.Answer
	for _, l := range f.Result.Bottleneck.Ranked {
		if l.Name == "brew days" {
			continue
		}
		words := fmt.Sprintf("%s: %s of the tank-days are taken in the peak", l.Name, unit.Fixed(l.Full, 0))
		if l.Full <= have*(1+1e-9) {
			out = append(out, rule.Passes(l.Name, l.Full, have, words))
			continue
		}
		out = append(out, rule.Fails(l.Name, l.Full, have, words))
	}
	if len(out) == 0 {
		return []rule.Answer{rule.Lacks("", "no batch lies on a tank", "Fermenters")}
	}
	return out
}

// mendSlack tries one more tank of the class that is full.
func mendSlack(f Facts, a rule.Answer, j judge) []rule.Remedy {
	for _, c := range f.Result.Classes {
		switch {
		case a.Subject == "fermenters "+c.Name && f.Input.Fermenters != nil:
			return addFermenter(f, a, j, c.Gross, c.Dedicated)
		case a.Subject == "bright tanks "+c.Name && f.Input.Brights != nil:
			return addBright(f, a, j, c.Gross)
		}
	}
	return nil
}
