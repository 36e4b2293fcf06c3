package brewing

import (
	"fmt"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

var lossesConsistent = rule.Rule[Facts]{
	ID: "BR-025", Severity: rule.Warning, Title: "The losses from hot wort to sold beer are out of the ordinary",
	Why:      "Taking the contraction off twice, or leaving it out, shifts every vessel by 4 %.",
	Compares: "total loss on hot cast-out wort against 8 to 24 %", Source: docNarziss.At("p. 353: 8 to 24 %, contraction included"),
	Check: checked(onSheet(judgeLosses), func(f Facts, a rule.Answer, j judge) []rule.Remedy {
		in := withBeer(f.Input, beerNamed(f.Result, a.Subject), func(b *Beer) { b.FermenterLoss = nil })
		in.Practice.TrubLoss, in.Practice.BrightLoss, in.Practice.PackLoss, in.Practice.Contraction = nil, nil, nil, 0
		return remedy(in, a, j, "usual-losses", "take the usual losses of the trade for "+a.Subject, rule.Param{Name: "beer", Text: a.Subject})
	}),
}

func judgeLosses(f Facts) []rule.Answer {
	out := make([]rule.Answer, 0, len(f.Result.Beers))
	for i := range f.Result.Beers {
		p := &f.Result.Beers[i]
		loss := unit.Fraction(1 - p.Charge.Packaged.L()/float64(p.BrewsPerTank)/p.Brew.HotCast.L())
		words := fmt.Sprintf("%s: %s lost from hot wort to packaged beer, contraction included", p.Beer.Name, unit.Fixed(loss, 1))
		if loss.Pct() >= 8 && loss.Pct() <= 24 {
			out = append(out, rule.Passes(p.Beer.Name, loss, unit.Percent(24), words))
			continue
		}
		out = append(out, rule.Fails(p.Beer.Name, loss, unit.Percent(24), words))
	}
	return out
}

var plannedAgainstAsked = rule.Rule[Facts]{
	ID: "BR-026", Severity: rule.Notice, Title: "Whole batches make much more beer than is asked",
	Why:      "What is not sold gets old, and malt, duty and tank-days are spent on it.",
	Compares: "beer packaged by whole batches against the volume asked", Source: source.Derivation("batches are rounded up"),
	Check: checked(onSheet(judgePlanned), func(f Facts, a rule.Answer, j judge) []rule.Remedy {
		at := beerNamed(f.Result, a.Subject)
		in := withBeer(f.Input, at, func(b *Beer) { b.BrewsPerTank = 1 })
		return remedy(in, a, j, "fewer-brews-per-tank", "ferment "+a.Subject+" in single brews", rule.Param{Name: "beer", Text: a.Subject}, rule.Param{Name: "brews-per-tank", Quantity: unit.PureNumber(1)})
	}),
}

func judgePlanned(f Facts) []rule.Answer {
	out := make([]rule.Answer, 0, len(f.Result.Beers))
	for i := range f.Result.Beers {
		p := &f.Result.Beers[i]
		most := unit.Volume(1.1) * p.Beer.Yearly
		words := fmt.Sprintf("%s: %d batches make %s for %s asked", p.Beer.Name, p.Batches, hl(p.Packaged), hl(p.Beer.Yearly))
		if p.Packaged <= most {
			out = append(out, rule.Passes(p.Beer.Name, p.Packaged, most, words))
			continue
		}
		out = append(out, rule.Fails(p.Beer.Name, p.Packaged, most, words))
	}
	return out
}

var nextBottleneck = rule.Rule[Facts]{
	ID: "BR-027", Severity: rule.Notice, Title: "The brewery has no room to grow as asked",
	Why:      "The first good summer needs equipment that was not planned for.",
	Compares: "brew days and tanks against a year with the growth asked for, 10 % where nothing is asked", Source: source.Derivation("the plan repeated with more volume"), DependsOn: []string{"BR-001", "BR-015"},
	Check: checked(onYear(judgeGrowth), mendGrowth),
}

func judgeGrowth(f Facts) []rule.Answer {
	if len(f.Result.Growth) == 0 {
		return []rule.Answer{rule.Lacks("", "no growth was worked out", "Beers")}
	}
	g := askedGrowth(f)
	have := unit.PureNumber(f.Result.Settled.Year.BrewsPerWeek.Value())
	words := unit.Digits(g.By.Pct(), 3) + " % more " + g.Words + "; " + f.Result.Bottleneck.Words
	if g.Fits {
		return []rule.Answer{rule.Passes("", g.BrewsPeak, have, words)}
	}
	return []rule.Answer{rule.Fails("", g.BrewsPeak, have, words)}
}

// askedGrowth is the year that the client wants room for.
func askedGrowth(f Facts) Growth {
	want := f.Input.Year.Growth
	if want <= 0 {
		want = unit.Percent(10)
	}
	for _, g := range f.Result.Growth {
		if g.By >= want {
			return g
		}
	}
	return f.Result.Growth[len(f.Result.Growth)-1]
}

// mendGrowth tries the brews and the tanks that the larger year needs, together.
func mendGrowth(f Facts, a rule.Answer, j judge) []rule.Remedy {
	g := askedGrowth(f)
	in := f.Input
	if g.BrewsPeak.N() > f.Result.Settled.Year.BrewsPerWeek.Value() {
		in.Year.BrewsPerWeek = unit.Fraction(float64(roundUp(g.BrewsPeak.N())))
		in.Year.BrewsPerDay = max(f.Result.Settled.Year.BrewsPerDay, roundUp(in.Year.BrewsPerWeek.Value()/float64(f.Result.Settled.Year.BrewDays)))
	}
	in.Brewhouse.BrewLength = f.Result.BrewLength
	in.Fermenters, in.Brights = tanksOf(f.Result.Fermenters), tanksOf(f.Result.Brights)
	params := []rule.Param{{Name: "brews-per-week", Quantity: unit.PureNumber(in.Year.BrewsPerWeek.Value())}}
	for i, c := range f.Result.Classes {
		for n := g.Classes[i].Now; n < g.Classes[i].Needs; n++ {
			t := Tank{Tag: c.Name + " more", Gross: c.Gross, Jacket: true, Class: c.Dedicated}
			if c.Bright {
				in.Brights = append(in.Brights, t)
			} else {
				in.Fermenters = append(in.Fermenters, t)
			}
			params = append(params, rule.Param{Name: "tank " + c.Name, Quantity: c.Gross})
		}
	}
	return remedy(in, a, j, "room-to-grow", "plan for "+g.Words, params...)
}

func tanksOf(plans []TankPlan) []Tank {
	out := make([]Tank, len(plans))
	for i := range plans {
		out[i] = plans[i].Tank
	}
	return out
}

var liftPath = rule.Rule[Facts]{
	ID: "BR-028", Fills: "lift for malt and grain", Severity: rule.Warning, Title: "Malt and spent grain have no lift",
	Why:      "Hundreds of kilograms up and more down for every brew are not carried by hand for long.",
	Compares: "load of a trip against the lift's rated load", Source: docHSE.Recalled("avoid, assess, reduce"),
	Check: checked(onYear(judgeLift), func(f Facts, a rule.Answer, j judge) []rule.Remedy {
		in := f.Input
		load := unit.Kilograms(50 * float64(roundUp(a.Need.SI()/50)))
		in.Handling.LiftLoad = &load
		return remedy(in, a, j, "larger-lift", "use a lift or hoist rated "+unit.Fixed(load, 0)+" or more", rule.Param{Name: "rated", Quantity: load})
	}),
}

func judgeLift(f Facts) []rule.Answer {
	h := f.Result.Settled.Handling
	plan := f.Result.Handling
	if !h.UpperFloor {
		return []rule.Answer{rule.DoesNotApply("the brewery is on ground level")}
	}
	if h.LiftLoad == nil {
		words := fmt.Sprintf("the lift's rated load is not known; %d bags up and %s of wet grain down a brew", plan.Bags, unit.Fixed(plan.GrainBrew, 0))
		if h.Stairs {
			words += "; carrying on stairs lies outside the lifting filter and asks for an assessment of its own"
		}
		return []rule.Answer{rule.Lacks("", words, "Handling.LiftLoad")}
	}
	need := h.Trolley + h.Person + f.Result.Settled.Practice.BagMass
	words := fmt.Sprintf("a trip with one bag, trolley and person is %s; the lift carries %s", unit.Fixed(need, 0), unit.Fixed(*h.LiftLoad, 0))
	if plan.MaltTrips != nil && *plan.MaltTrips > 0 && plan.GrainTrips != nil {
		words = fmt.Sprintf("%d bags up in %d trips, %s of wet grain down in %d trips a brew", plan.Bags, *plan.MaltTrips, unit.Fixed(plan.GrainBrew, 0), *plan.GrainTrips)
	}
	if need <= *h.LiftLoad {
		return []rule.Answer{rule.Passes("", need, *h.LiftLoad, words)}
	}
	return []rule.Answer{rule.Fails("", need, *h.LiftLoad, words)}
}

var bagLift = rule.Rule[Facts]{
	ID: "BR-029", Severity: rule.Warning, Title: "The bag of malt asks for a detailed handling assessment",
	Why:      "A 25 kg bag never passes the lifting filter; it is no breach of law, but an assessment must be made and kept.",
	Compares: "bag against the filter's figure in the zone it is tipped in", Source: docHSE.At("lifting and lowering filter; passing means less than the figure"),
	Check: checked(onInput(judgeBag), mendBag),
}

func judgeBag(f Facts) []rule.Answer {
	h := f.Result.Settled.Handling
	bag := f.Result.Settled.Practice.BagMass
	if h.Hopper == nil {
		return []rule.Answer{rule.Lacks("", "the tip height of the mill hopper is not known", "Handling.Hopper")}
	}
	zone := liftZone(*h.Hopper)
	row := liftRow(bag, zone)
	words := fmt.Sprintf("a bag of %s tipped at %s (%s): the filter passes below %s for men, %s for women, with the load close", unit.Fixed(bag, 1), unit.Fixed(*h.Hopper, 0), zone, unit.Fixed(row.MenClose, 0), unit.Fixed(row.WomenClose, 0))
	if row.PassesMen && row.PassesWomen {
		return []rule.Answer{rule.Passes("", bag, row.WomenClose, words)}
	}
	return []rule.Answer{rule.Fails("", bag, row.WomenClose, words)}
}

func liftRow(bag unit.Mass, zone string) LiftRow {
	for _, r := range LiftFilter(bag) {
		if r.Zone == zone {
			return r
		}
	}
	return LiftRow{}
}

// mendBag tries a lower hopper and smaller bags.
func mendBag(f Facts, a rule.Answer, j judge) []rule.Remedy {
	var out []rule.Remedy
	for _, kg := range [...]float64{20, 15, 12.5, 10, 5} {
		in := f.Input
		in.Practice.BagMass = unit.Kilograms(kg)
		if kg < a.Need.SI() {
			if rs := remedy(in, a, j, "smaller-bags", "buy malt in bags of "+unit.Digits(kg, 3)+" kg", rule.Param{Name: "bag", Quantity: in.Practice.BagMass}); rs != nil {
				out = append(out, rs...)
				break
			}
		}
	}
	in := f.Input
	low := unit.Metres(0.9)
	in.Handling.Hopper = &low
	in.Practice.BagMass = unit.Kilograms(15)
	return append(out, remedy(in, a, j, "lower-hopper", "set the mill hopper to be tipped at 0.9 m and buy bags of 15 kg", rule.Param{Name: "hopper", Quantity: low}, rule.Param{Name: "bag", Quantity: in.Practice.BagMass})...)
}

var dutyRelief = rule.Rule[Facts]{
	ID: "BR-030", Severity: rule.Notice, Title: "The plan crosses a threshold of duty relief",
	Why:      "Relief lost on strength, container or size puts the full duty on every pint of the year.",
	Compares: "pure alcohol, strength and container against the thresholds of relief; check the current text", Source: docSPR.At("ss. 54 to 59; HMRC CIDER05013; Ireland s. 78A Finance Act 2003"),
	Check: checked(onYear(judgeDuty), mendDuty),
}

func judgeDuty(f Facts) []rule.Answer {
	rows := f.Result.Duty.Rows
	if len(rows) == 0 {
		return []rule.Answer{rule.DoesNotApply("no thresholds are held for this country")}
	}
	out := make([]rule.Answer, 0, len(rows))
	for _, row := range rows {
		words := row.Name + ": " + row.Plan + "; " + row.Threshold + "; " + CheckText
		if row.Met {
			out = append(out, rule.Passes(row.Name, nil, nil, words))
			continue
		}
		out = append(out, rule.Fails(row.Name, nil, nil, words))
	}
	return out
}

// mendDuty tries a container of 20 L where a keg misses draught relief.
func mendDuty(f Facts, a rule.Answer, j judge) []rule.Remedy {
	for i := range f.Result.Beers {
		name := f.Result.Beers[i].Beer.Name
		if a.Subject != name+": draught relief" {
			continue
		}
		in := withBeer(f.Input, i, func(b *Beer) { b.Container = unit.Litres(draughtLitres) })
		return remedy(in, a, j, "larger-keg", "fill "+name+" into kegs of 20 L", rule.Param{Name: "beer", Text: name}, rule.Param{Name: "container", Quantity: unit.Litres(draughtLitres)})
	}
	return nil
}
