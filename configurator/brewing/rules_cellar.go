package brewing

import (
	"fmt"
	"math"
	"slices"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

var tankVolumes = rule.Rule[Facts]{
	ID: "BR-031", Severity: rule.Notice, Title: "A tank's volume looks like its net volume",
	Why:      "A tank named by what is filled into it has a gross volume larger by its headspace; taken as gross it seems too small, taken as net it seems too large.",
	Compares: "gross volume of each fermenter against whole brews", Source: source.Practice("a volume is named with its state: net or gross, hot or cold"),
	Check: checked(onSheet(judgeVolumes), mendVolumes),
}

func judgeVolumes(f Facts) []rule.Answer {
	if f.Result.ProposedTanks || len(f.Result.Fermenters) == 0 {
		return []rule.Answer{rule.DoesNotApply("no tanks are chosen")}
	}
	length := f.Result.BrewLength
	for _, t := range f.Result.Fermenters {
		brews := t.Tank.Gross.L() / length.L()
		whole := math.Round(brews)
		if whole < 1 || math.Abs(brews-whole) > 0.01*whole {
			continue
		}
		words := fmt.Sprintf("%s is said to have %s gross, just %s brews of %s: confirm that this is its gross volume", t.Tank.Tag, hl(t.Tank.Gross), unit.Digits(whole, 2), hl(length))
		return []rule.Answer{rule.Fails(t.Tank.Tag, unit.Volume(whole)*length, t.Tank.Gross, words)}
	}
	return []rule.Answer{rule.Passes("", length, f.Result.Fermenters[0].Tank.Gross, "no fermenter's gross volume is just that of its brews")}
}

// mendVolumes takes the figure as net, with a quarter of headspace.
func mendVolumes(f Facts, a rule.Answer, j judge) []rule.Remedy {
	in := f.Input
	in.Fermenters = append([]Tank{}, in.Fermenters...)
	for i := range in.Fermenters {
		if in.Fermenters[i].Gross.SI() == a.Have.SI() {
			in.Fermenters[i].Gross /= 0.75
		}
	}
	gross := unit.CubicMetres(a.Have.SI() / 0.75)
	facts, _, _ := tried(in, a.Subject, j)
	for _, got := range j.answer(facts) {
		if got.Subject == a.Subject {
			return nil
		}
	}
	return []rule.Remedy{{Kind: "confirm-net", Words: "if it is the net volume, enter " + hl(gross) + " gross", Need: a.Need, Have: gross, Params: []rule.Param{{Name: "tank", Text: a.Subject}, {Name: "gross", Quantity: gross}}}}
}

var fermenterHolds = rule.Rule[Facts]{
	ID: "BR-035", Fills: "fermenter", Severity: rule.Blocker, Title: "A batch of this beer is larger than its fermenters",
	Why:      "The tank is full to the rim before the last brew is in.",
	Compares: "cold wort of the batch against the gross volume of the fermenters of its class", Source: grossHolds,
	Check: checked(onSheet(judgeHeld), mendFermenter),
}

func judgeHeld(f Facts) []rule.Answer {
	out := make([]rule.Answer, 0, len(f.Result.Beers))
	for i := range f.Result.Beers {
		out = append(out, heldBy(f.Result, i))
	}
	return out
}

func heldBy(r Result, at int) rule.Answer {
	p := &r.Beers[at]
	best := unit.Volume(0)
	for _, t := range r.Fermenters {
		if t.Tank.Class == p.Dedicated {
			best = max(best, t.Tank.Gross)
		}
	}
	words := fmt.Sprintf("%s: %d × %s are %s of cold wort; the largest tank for it has %s gross", p.Beer.Name, p.BrewsPerTank, hl(r.BrewLength), hl(p.Charge.Wort), hl(best))
	if best == 0 {
		words = fmt.Sprintf("%s: no fermenter of class %q is chosen for %s of cold wort", p.Beer.Name, p.Dedicated, hl(p.Charge.Wort))
	}
	if fits(best.L(), p.Charge.Wort.L()) {
		return rule.Passes(p.Beer.Name, p.Charge.Wort, best, words)
	}
	return rule.Fails(p.Beer.Name, p.Charge.Wort, best, words)
}

var fermenterFits = rule.Rule[Facts]{
	ID: "BR-014", Severity: rule.Warning, Title: "No fermenter takes a batch of this beer as tanks are usually filled",
	Why:      "Without headspace for its foam the beer climbs out of the tank and blocks the relief valve.",
	Compares: "batch with the least headspace against the gross volume of the fermenters of its class", Source: source.Practice("headspace at least 20 % of gross, from brewers' answers; ale fills 75 % of a lager charge"), DependsOn: []string{"BR-035"},
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
	least := unit.Litres(p.Charge.Wort.L() / (1 - p.LeastSpace.Value()))
	for _, t := range r.Fermenters {
		if t.Tank.Class != class {
			continue
		}
		best = max(best, t.Tank.Gross)
		if !fits(t.Tank.Gross.L(), least.L()) || !filled(p.Charge.Wort.L(), t.Tank, r.Settled.Practice) {
			continue
		}
		if fit.Gross == 0 || t.Tank.Gross < fit.Gross {
			fit = t.Tank
		}
	}
	if fit.Gross > 0 {
		return rule.Passes(p.Beer.Name, least, fit.Gross, fmt.Sprintf("%s: %d × %s are %s of cold wort and need %s gross at %s headspace; %s has %s", p.Beer.Name, p.BrewsPerTank, hl(r.BrewLength), hl(p.Charge.Wort), hl(least), unit.Fixed(p.LeastSpace, 0), fit.Tag, hl(fit.Gross)))
	}
	words := fmt.Sprintf("%s: %d × %s are %s of cold wort and need %s gross at %s headspace; the largest tank for it has %s", p.Beer.Name, p.BrewsPerTank, hl(r.BrewLength), hl(p.Charge.Wort), hl(least), unit.Fixed(p.LeastSpace, 0), hl(best))
	if best > least {
		words = fmt.Sprintf("%s: %s fill the chosen tanks below %s of their %s", p.Beer.Name, hl(p.Charge.Wort), unit.Fixed(r.Settled.Practice.LeastFill, 0), hl(best))
	}
	return rule.Fails(p.Beer.Name, least, best, words)
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
	out = append(out, largerFermenters(f, a, j, p)...)
	return append(out, addFermenter(f, a, j, p.TankGross, p.Dedicated)...)
}

// largerFermenters tries the next offered size in place of one to three tanks that are
// too small for the beer, the largest of them first.
func largerFermenters(f Facts, a rule.Answer, j judge, p *BeerPlan) []rule.Remedy {
	o, ok := smallest(f.Input.FermenterOptions, p.TankGross)
	if !ok {
		return nil
	}
	in := f.Input
	in.Fermenters = slices.Clone(f.Result.Settled.Fermenters)
	params := []rule.Param{{Name: "code", Text: o.Code}, {Name: "gross", Quantity: o.Gross}}
	tags := ""
	for range 3 {
		at := -1
		for i, t := range in.Fermenters {
			if t.Class == p.Dedicated && t.Gross < p.TankGross && (at < 0 || t.Gross > in.Fermenters[at].Gross) {
				at = i
			}
		}
		if at < 0 {
			return nil
		}
		t := &in.Fermenters[at]
		tags = joinWords(tags, t.Tag)
		params = append(params, rule.Param{Name: "tank", Text: t.Tag})
		*t = Tank{Tag: t.Tag, Code: o.Code, Gross: o.Gross, Pressure: o.Pressure, Jacket: o.Jacket, Class: t.Class}
		if rs := remedy(in, a, j, "larger-fermenter", fmt.Sprintf("take %s of %s gross for %s", o.Code, hl(o.Gross), tags), params...); rs != nil {
			return rs
		}
	}
	return nil
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

var foamSpace = rule.Rule[Facts]{
	ID: "BR-033", Severity: rule.Warning, Title: "The fermenter has less headspace than this kind of beer foams",
	Why:      "Beer and yeast leave through the blow-off in the days of high foam: loss, mess, and CO2 pipes that clog.",
	Compares: "batch with the headspace of its kind against the gross volume of the tank it lies on", Source: source.Practice("headspace by kind of beer: lager 20 %, ale 25 %, wheat and top-cropped 30 to 35 %"), DependsOn: []string{"BR-014"},
	Check: checked(onSchedule(judgeFoam), mendFermenter),
}

func judgeFoam(f Facts) []rule.Answer {
	r := f.Result
	out := make([]rule.Answer, 0, len(r.Beers))
	tightest := make([]int, len(r.Beers))
	for i := range tightest {
		tightest[i] = -1
	}
	for i := range r.Batches {
		b := &r.Batches[i]
		if t := tightest[b.Beer]; b.Fermenter >= 0 && (t < 0 || r.Fermenters[b.Fermenter].Tank.Gross < r.Fermenters[t].Tank.Gross) {
			tightest[b.Beer] = b.Fermenter
		}
	}
	for i, t := range tightest {
		p := &r.Beers[i]
		if t < 0 {
			out = append(out, rule.Lacks(p.Beer.Name, p.Beer.Name+": no batch lies on a tank", "Fermenters"))
			continue
		}
		tank := r.Fermenters[t].Tank
		words := fmt.Sprintf("%s: %s of cold wort with %s headspace need %s gross; %s has %s", p.Beer.Name, hl(p.Charge.Wort), unit.Fixed(p.Headspace, 0), hl(p.TankGross), tank.Tag, hl(tank.Gross))
		if fits(tank.Gross.L(), p.TankGross.L()) {
			out = append(out, rule.Passes(p.Beer.Name, p.TankGross, tank.Gross, words))
			continue
		}
		out = append(out, rule.Fails(p.Beer.Name, p.TankGross, tank.Gross, words))
	}
	return out
}

var fermentersEnough = rule.Rule[Facts]{
	ID: "BR-015", Severity: rule.Blocker, Title: "There are too few fermenters for the busiest weeks",
	Why:      "Batches wait for an empty tank, and beer runs out in the weeks that earn most.",
	Compares: "batches of the year against those that start within the limit of lateness", Source: source.Derivation("dated schedule of all batches without overlap"), DependsOn: []string{"BR-035"},
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
		return []rule.Answer{rule.Fails("", unit.PureNumber(float64(len(r.Batches))), unit.PureNumber(float64(len(r.Batches)-late)), words)}
	}
	all := unit.PureNumber(float64(len(r.Batches)))
	return []rule.Answer{rule.Passes("", all, all, fmt.Sprintf("%d batches lie on %d fermenters without overlap; the latest starts %s after it is asked for", len(r.Batches), len(r.Fermenters), unit.In(need, "days", 0)))}
}

// mendSchedule tries more tanks of the class that waits most, fewer cold days, more
// bright tanks where beer waits for one, and more brews in a week.
func mendSchedule(f Facts, a rule.Answer, j judge) []rule.Remedy {
	var out []rule.Remedy
	if p := longestWait(f.Result); p != nil {
		out = addFermenter(f, a, j, p.TankGross, p.Dedicated)
		out = append(out, shorterCold(f, a, j, beerNamed(f.Result, p.Beer.Name))...)
	}
	if gross := waitingGross(f.Result); gross > 0 {
		out = append(out, addBright(f, a, j, gross)...)
	}
	in := f.Input
	in.Year.BrewsPerWeek = f.Result.Settled.Year.BrewsPerWeek + 1
	in.Year.BrewsPerDay = max(f.Result.Settled.Year.BrewsPerDay, roundUp(in.Year.BrewsPerWeek.Value()/float64(f.Result.Settled.Year.BrewDays)))
	words := fmt.Sprintf("allow %s brews in a week, %d a day", unit.Digits(in.Year.BrewsPerWeek.Value(), 3), in.Year.BrewsPerDay)
	return append(out, remedy(in, a, j, "more-brews", words, rule.Param{Name: "brews-per-week", Quantity: unit.PureNumber(in.Year.BrewsPerWeek.Value())}, rule.Param{Name: "brews-per-day", Quantity: unit.PureNumber(float64(in.Year.BrewsPerDay))})...)
}

// waitingGross is the bright tank that takes any batch which waits for one longer than
// a week; 0 where none does.
func waitingGross(r Result) unit.Volume {
	gross := unit.Volume(0)
	for _, b := range r.Batches {
		if b.BrightWait > leadDays {
			gross = max(gross, r.Beers[b.Beer].BrightGross)
		}
	}
	return gross
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
