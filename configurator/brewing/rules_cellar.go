package brewing

import (
	"fmt"
	"sort"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

var fermenterFits = rule.Rule[Facts]{
	ID: "BR-014", Severity: rule.Blocker, Title: "No fermenter takes a batch of this beer",
	Why:      "Without headspace for its foam the beer climbs out of the tank and blocks the relief valve.",
	Compares: "batch with the headspace of its kind against the gross volume of the fermenters of its class", Source: docMBAA.At("headspace at least 20 % of gross; ale fills 75 % of a lager charge"),
	Check: checked(onSheet(judgeFermenter), mendFermenter),
}

func judgeFermenter(f Facts) []rule.Answer {
	out := make([]rule.Answer, 0, len(f.Result.Beers))
	for i := range f.Result.Beers {
		out = append(out, fermenterFor(f.Result, i))
	}
	return out
}

func fermenterFor(r Result, at int) rule.Answer {
	p := &r.Beers[at]
	class := p.Dedicated
	best, fit := unit.Volume(0), Tank{}
	for _, t := range r.Fermenters {
		if t.Tank.Class != class {
			continue
		}
		best = max(best, t.Tank.Gross)
		if !fits(t.Tank.Gross.L(), p.TankGross.L()) || !filled(p.Charge.Wort.L(), t.Tank, r.Settled.Practice) {
			continue
		}
		if fit.Gross == 0 || t.Tank.Gross < fit.Gross {
			fit = t.Tank
		}
	}
	if fit.Gross > 0 {
		return rule.Passes(p.Beer.Name, p.TankGross, fit.Gross, fmt.Sprintf("%s: %d × %s are %s of cold wort and need %s gross; %s has %s", p.Beer.Name, p.BrewsPerTank, hl(r.BrewLength), hl(p.Charge.Wort), hl(p.TankGross), fit.Tag, hl(fit.Gross)))
	}
	words := fmt.Sprintf("%s: %d × %s are %s of cold wort and need %s gross at %s headspace; the largest tank for it has %s", p.Beer.Name, p.BrewsPerTank, hl(r.BrewLength), hl(p.Charge.Wort), hl(p.TankGross), unit.Fixed(p.Headspace, 0), hl(best))
	if best == 0 {
		words = fmt.Sprintf("%s: no fermenter of class %q is chosen; %s gross are needed", p.Beer.Name, class, hl(p.TankGross))
	}
	if best > p.TankGross {
		words = fmt.Sprintf("%s: %s fill the chosen tanks below %s of their %s", p.Beer.Name, hl(p.Charge.Wort), unit.Fixed(r.Settled.Practice.LeastFill, 0), hl(best))
	}
	return rule.Fails(p.Beer.Name, p.TankGross, best, words)
}

func mendFermenter(f Facts, a rule.Answer, j judge) []rule.Remedy {
	at := beerNamed(f.Result, a.Subject)
	p := &f.Result.Beers[at]
	var out []rule.Remedy
	for n := 1; n < p.BrewsPerTank; n++ {
		in := withBeer(f.Input, at, func(b *Beer) { b.BrewsPerTank = n })
		out = append(out, remedy(in, a, j, "fewer-brews-per-tank", fmt.Sprintf("fill the fermenter of %s with %d brews", a.Subject, n), rule.Param{Name: "beer", Text: a.Subject}, rule.Param{Name: "brews-per-tank", Quantity: unit.PureNumber(float64(n))})...)
	}
	if p.Dedicated != "" {
		in := withBeer(f.Input, at, func(b *Beer) { b.Class = "common" })
		out = append(out, remedy(in, a, j, "share-tanks", "let "+a.Subject+" share the common tanks, with hoses and gaskets of its own", rule.Param{Name: "beer", Text: a.Subject})...)
	}
	return append(out, addFermenter(f, a, j, p.TankGross, p.Dedicated)...)
}

func beerNamed(r Result, name string) int {
	for i := range r.Beers {
		if r.Beers[i].Beer.Name == name {
			return i
		}
	}
	return 0
}

// withBeer copies an input with one beer changed.
func withBeer(in Input, at int, change func(*Beer)) Input {
	in.Beers = append([]Beer{}, in.Beers...)
	change(&in.Beers[at])
	return in
}

// addFermenter tries one to three more fermenters of at least a gross volume: the
// smallest that is offered, or one of that size where none is.
func addFermenter(f Facts, a rule.Answer, j judge, gross unit.Volume, class string) []rule.Remedy {
	t, ok := smallest(f.Input.FermenterOptions, gross)
	if !ok && len(f.Input.FermenterOptions) > 0 {
		return nil
	}
	if !ok {
		t = Tank{Gross: gross, Jacket: true}
	}
	t.Class = class
	for n := 1; n <= 3; n++ {
		in := f.Input
		in.Brewhouse.BrewLength = f.Result.BrewLength
		in.Fermenters = append([]Tank{}, in.Fermenters...)
		for k := range n {
			t.Tag = fmt.Sprintf("FV %d", len(f.Input.Fermenters)+k+1)
			in.Fermenters = append(in.Fermenters, t)
		}
		words := fmt.Sprintf("add %d fermenter of %s gross", n, hl(t.Gross))
		if n > 1 {
			words = fmt.Sprintf("add %d fermenters of %s gross", n, hl(t.Gross))
		}
		if rs := remedy(in, a, j, "add-fermenter", words, rule.Param{Name: "count", Quantity: unit.PureNumber(float64(n))}, rule.Param{Name: "gross", Quantity: t.Gross}, rule.Param{Name: "code", Text: t.Code}, rule.Param{Name: "class", Text: class}); rs != nil {
			return rs
		}
	}
	return nil
}

var fermentersEnough = rule.Rule[Facts]{
	ID: "BR-015", Severity: rule.Blocker, Title: "There are too few fermenters for the busiest weeks",
	Why:      "Batches wait for an empty tank, and beer runs out in the weeks that earn most.",
	Compares: "days a batch starts after the sales ask for it against the limit", Source: source.Derivation("dated schedule of all batches without overlap"), DependsOn: []string{"BR-014"},
	Check: checked(onSchedule(judgeSchedule), mendSchedule),
}

func judgeSchedule(f Facts) []rule.Answer {
	r := f.Result
	limit := r.Settled.Year.LateLimit
	worst, late := 0, len(r.Late)+len(r.Unplaced)
	for _, b := range r.Batches {
		if b.Fermenter >= 0 {
			worst = max(worst, b.Late())
		}
	}
	need := unit.Days(float64(worst))
	if len(r.Unplaced) > 0 {
		words := fmt.Sprintf("%d batches of the year find no fermenter or brew day, %d more start late", len(r.Unplaced), len(r.Late))
		return []rule.Answer{rule.Fails("", unit.PureNumber(float64(len(r.Batches))), unit.PureNumber(float64(len(r.Batches)-len(r.Unplaced))), words)}
	}
	if late > 0 {
		words := fmt.Sprintf("%d of %d batches start more than %s late, the worst %s", late, len(r.Batches), unit.In(limit, "days", 0), unit.In(need, "days", 0))
		return []rule.Answer{rule.Fails("", need, limit, words)}
	}
	return []rule.Answer{rule.Passes("", need, limit, fmt.Sprintf("%d batches lie on %d fermenters without overlap; the latest starts %s after it is asked for", len(r.Batches), len(r.Fermenters), unit.In(need, "days", 0)))}
}

// mendSchedule tries more tanks of the class that waits most, more brews in a week,
// and fewer cold days.
func mendSchedule(f Facts, a rule.Answer, j judge) []rule.Remedy {
	var out []rule.Remedy
	if p := longestWait(f.Result); p != nil {
		out = addFermenter(f, a, j, p.TankGross, p.Dedicated)
		out = append(out, shorterCold(f, a, j, beerNamed(f.Result, p.Beer.Name))...)
	}
	in := f.Input
	in.Year.BrewsPerWeek = f.Result.Settled.Year.BrewsPerWeek + 1
	in.Year.BrewsPerDay = max(f.Result.Settled.Year.BrewsPerDay, roundUp(in.Year.BrewsPerWeek.Value()/float64(f.Result.Settled.Year.BrewDays)))
	words := fmt.Sprintf("allow %s brews in a week, %d a day", unit.Digits(in.Year.BrewsPerWeek.Value(), 3), in.Year.BrewsPerDay)
	return append(out, remedy(in, a, j, "more-brews", words, rule.Param{Name: "brews-per-week", Quantity: unit.PureNumber(in.Year.BrewsPerWeek.Value())}, rule.Param{Name: "brews-per-day", Quantity: unit.PureNumber(float64(in.Year.BrewsPerDay))})...)
}

// longestWait is the beer whose late batches waited longest for a tank.
func longestWait(r Result) *BeerPlan {
	wait := make([]int, len(r.Beers))
	for _, list := range [...][]int{r.Late, r.Unplaced} {
		for _, i := range list {
			wait[r.Batches[i].Beer] += 1 + r.Batches[i].TankWait
		}
	}
	at := 0
	for i := range wait {
		if wait[i] > wait[at] {
			at = i
		}
	}
	if wait[at] == 0 {
		return nil
	}
	return &r.Beers[at]
}

// shorterCold tries the cold days of a beer with long lagering one and two weeks shorter.
func shorterCold(f Facts, a rule.Answer, j judge, at int) []rule.Remedy {
	p := f.Result.Beers[at]
	for _, less := range [...]int{7, 14} {
		if p.Days.Cold-less < 3 {
			return nil
		}
		cold := unit.Days(float64(p.Days.Cold - less))
		in := withBeer(f.Input, at, func(b *Beer) { b.ColdDays = &cold })
		words := fmt.Sprintf("hold %s cold for %s instead of %d days, where the brewer accepts that", p.Beer.Name, unit.In(cold, "days", 0), p.Days.Cold)
		if rs := remedy(in, a, j, "shorter-cold", words, rule.Param{Name: "beer", Text: p.Beer.Name}, rule.Param{Name: "cold-days", Quantity: cold}); rs != nil {
			return rs
		}
	}
	return nil
}

var brightFits = rule.Rule[Facts]{
	ID: "BR-016", Severity: rule.Warning, Title: "No bright tank takes the racked batch",
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

// addBright tries one or two more bright tanks.
func addBright(f Facts, a rule.Answer, j judge, gross unit.Volume) []rule.Remedy {
	t, ok := smallest(f.Input.BrightOptions, gross)
	if !ok && len(f.Input.BrightOptions) > 0 {
		return nil
	}
	if !ok {
		t = Tank{Gross: gross, Jacket: true}
	}
	t.Class = ""
	for n := 1; n <= 2; n++ {
		in := f.Input
		in.Brewhouse.BrewLength = f.Result.BrewLength
		in.Brights = append([]Tank{}, in.Brights...)
		for k := range n {
			t.Tag = fmt.Sprintf("BBT %d", len(f.Input.Brights)+k+1)
			in.Brights = append(in.Brights, t)
		}
		words := fmt.Sprintf("add %d bright tank of %s gross", n, hl(t.Gross))
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
		gross := unit.Volume(0)
		for i := range f.Result.Beers {
			gross = max(gross, f.Result.Beers[i].BrightGross)
		}
		return addBright(f, a, j, gross)
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
	ID: "BR-019", Severity: rule.Notice, Title: "The tanks have no slack in the peak",
	Why:      "One slow fermentation or one blocked valve makes a week's beer late.",
	Compares: "tank-days taken in the peak against the share that may be planned", Source: source.Practice("at most 85 to 90 % of tank-days in the peak"), DependsOn: []string{"BR-014", "BR-015"},
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
