package brewing

import (
	"fmt"
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

func hl(v unit.Volume) string { return unit.In(v, "hl", 1) }

func litres(v unit.Volume) string { return unit.In(v, "l", 0) }

var brewDaysEnough = rule.Rule[Facts]{
	ID: "BR-001", Fills: "brew days of the peak week", Severity: rule.Blocker, Title: "The brew length is too small for the brew days",
	Why:      "In the busiest weeks more brews are needed than the client will brew, so beer runs out.",
	Compares: "brews of the peak week against the most brews in a week", Source: source.Derivation("brews = batches for the asked volume; peak = mean · peak factor"),
	Check: checked(onSheet(judgeBrewDays), mendBrewDays),
}

func judgeBrewDays(f Facts) []rule.Answer {
	have := unit.PureNumber(f.Result.Settled.Year.BrewsPerWeek.Value())
	need := f.Result.Totals.BrewsPeak
	words := fmt.Sprintf("the peak week takes %s brews of %s cold wort; %s are allowed", unit.Digits(need.N(), 3), hl(f.Result.BrewLength), unit.Digits(have.N(), 3))
	if need <= have {
		return []rule.Answer{rule.Passes("", need, have, words)}
	}
	return []rule.Answer{rule.Fails("", need, have, words)}
}

func mendBrewDays(f Facts, a rule.Answer, j judge) []rule.Remedy {
	out := otherBrewhouse(f, a, j)
	in := f.Input
	in.Year.BrewsPerWeek = unit.Fraction(float64(roundUp(f.Result.Totals.BrewsPeak.N())))
	year := f.Result.Settled.Year
	in.Year.BrewsPerDay = max(year.BrewsPerDay, roundUp(in.Year.BrewsPerWeek.Value()/float64(year.BrewDays)))
	words := fmt.Sprintf("brew %s times in a peak week, up to %d a day", unit.Digits(in.Year.BrewsPerWeek.Value(), 3), in.Year.BrewsPerDay)
	return append(out, remedy(in, a, j, "more-brews", words, rule.Param{Name: "brews-per-week", Quantity: unit.PureNumber(in.Year.BrewsPerWeek.Value())}, rule.Param{Name: "brews-per-day", Quantity: unit.PureNumber(float64(in.Year.BrewsPerDay))})...)
}

// ends gives the beers with the largest and the smallest grist.
func ends(r Result) (strongest, weakest int) {
	for i := range r.Beers {
		if r.Beers[i].Brew.Malt > r.Beers[strongest].Brew.Malt {
			strongest = i
		}
		if r.Beers[i].Brew.Malt < r.Beers[weakest].Brew.Malt {
			weakest = i
		}
	}
	return strongest, weakest
}

var lauterStrongest = rule.Rule[Facts]{
	ID: "BR-002", Fills: "lauter floor", Severity: rule.Warning, Title: "The lauter floor is too small for the strongest beer",
	Why:      "A bed loaded beyond its floor sets: run-off takes hours longer and extract stays in the grain.",
	Compares: "grain loading of the largest grist against the highest loading", Source: docLauter.At("dry malt milling, 140 to 175 kg/m²"),
	Check: checked(onSheet(judgeStrongest), mendStrongest),
}

func judgeStrongest(f Facts) []rule.Answer {
	at, _ := ends(f.Result)
	p := f.Result.Beers[at]
	limit := or(f.Input.Brewhouse.MaxLoading, f.Result.Settled.Practice.MaxLoading)
	if f.Result.ProposedLength {
		return []rule.Answer{rule.DoesNotApply("no brewhouse is chosen: the sheet gives the floor it needs, " + unit.Text(p.Brew.LauterArea))}
	}
	if f.Input.Brewhouse.LauterArea == nil {
		return []rule.Answer{rule.Lacks(p.Beer.Name, "the lauter floor is not known; "+unit.Text(p.Brew.LauterArea)+" are needed", "Brewhouse.LauterArea")}
	}
	words := fmt.Sprintf("%s: %s of malt on %s is %s; %s is the most", p.Beer.Name, unit.Fixed(p.Brew.Malt, 0), unit.Text(*f.Input.Brewhouse.LauterArea), unit.Fixed(p.Brew.Loading, 0), unit.Fixed(limit, 0))
	if p.Brew.Loading <= limit*(1+1e-9) {
		return []rule.Answer{rule.Passes(p.Beer.Name, p.Brew.Loading, limit, words)}
	}
	return []rule.Answer{rule.Fails(p.Beer.Name, p.Brew.Loading, limit, words)}
}

func mendStrongest(f Facts, a rule.Answer, j judge) []rule.Remedy {
	out := brewLess(f, a, j, a.Have.SI()/a.Need.SI())
	return append(out, otherBrewhouse(f, a, j)...)
}

// brewLess tries a shorter brew of the failing beer.
func brewLess(f Facts, a rule.Answer, j judge, share float64) []rule.Remedy {
	if share <= 0.3 || share >= 1 {
		return nil
	}
	in := f.Input
	in.Brewhouse.BrewLength = unit.Volume(share*0.999) * f.Result.BrewLength
	words := fmt.Sprintf("brew %s at %s of cold wort instead of %s", a.Subject, hl(in.Brewhouse.BrewLength), hl(f.Result.BrewLength))
	return remedy(in, a, j, "shorter-brew", words, rule.Param{Name: "beer", Text: a.Subject}, rule.Param{Name: "brew-length", Quantity: in.Brewhouse.BrewLength})
}

var lauterWeakest = rule.Rule[Facts]{
	ID: "BR-003", Severity: rule.Warning, Title: "The grain bed of the weakest beer is too shallow",
	Why:      "A thin bed does not filter, and rakes or plough touch the floor before they touch grain.",
	Compares: "bed of the smallest grist against the least bed", Source: docPalmer.At("ch. 17.2"),
	Check: checked(onSheet(judgeWeakest), otherBrewhouse),
}

func judgeWeakest(f Facts) []rule.Answer {
	_, at := ends(f.Result)
	p := f.Result.Beers[at]
	least := or(f.Input.Brewhouse.MinBed, f.Result.Settled.Practice.MinBed)
	if f.Result.ProposedLength {
		return []rule.Answer{rule.DoesNotApply("no brewhouse is chosen")}
	}
	if f.Input.Brewhouse.LauterArea == nil {
		return []rule.Answer{rule.Lacks(p.Beer.Name, "the lauter floor is not known", "Brewhouse.LauterArea")}
	}
	words := fmt.Sprintf("%s: the bed is %s deep; %s is the least", p.Beer.Name, unit.Fixed(p.Brew.Bed, 0), unit.Fixed(least, 0))
	if p.Brew.Bed >= least*(1-1e-9) {
		return []rule.Answer{rule.Passes(p.Beer.Name, least, p.Brew.Bed, words)}
	}
	return []rule.Answer{rule.Fails(p.Beer.Name, least, p.Brew.Bed, words)}
}

var mashFits = rule.Rule[Facts]{
	ID: "BR-004", Fills: "mash tun", Severity: rule.Blocker, Title: "The mash tun is too small",
	Why:      "The mash spills, or the strongest beer must be mashed twice.",
	Compares: "mash of the largest grist against the tun's gross volume", Source: grossHolds,
	Check: checked(onSheet(judgeMash), mendMash),
}

var mashFreeboard = rule.Rule[Facts]{
	ID: "BR-034", Severity: rule.Warning, Title: "The mash tun has little freeboard",
	Why:      "Mash slops over the rim when it is stirred or underlet, and the next malt of the grist has no room.",
	Compares: "mash of the largest grist with freeboard against the tun's gross volume", Source: source.Practice("freeboard over the mash, for stirring and underletting"), DependsOn: []string{"BR-004"},
	Check: checked(onSheet(judgeFreeboard), mendMash),
}

// grossHolds is what a vessel may be held against without any practice of filling.
var grossHolds = source.Derivation("a vessel holds no more than its gross volume")

func mendMash(f Facts, a rule.Answer, j judge) []rule.Remedy {
	return append(brewLess(f, a, j, a.Have.SI()/a.Need.SI()), append(thickerMash(f, a, j), otherBrewhouse(f, a, j)...)...)
}

func judgeMash(f Facts) []rule.Answer {
	at, _ := ends(f.Result)
	return mashWith(f, at, f.Result.Beers[at].Brew.MashVolume, "")
}

func judgeFreeboard(f Facts) []rule.Answer {
	at, _ := ends(f.Result)
	return mashWith(f, at, f.Result.Beers[at].Brew.TunGross, " with freeboard")
}

// mashWith sets the tun against the volume a mash needs.
func mashWith(f Facts, at int, need unit.Volume, how string) []rule.Answer {
	p := &f.Result.Beers[at]
	if f.Result.ProposedLength {
		return []rule.Answer{rule.DoesNotApply("no brewhouse is chosen: the tun needs " + litres(p.Brew.TunGross) + " gross")}
	}
	if f.Input.Brewhouse.TunGross == nil {
		return []rule.Answer{rule.Lacks(p.Beer.Name, "the tun's volume is not known; "+litres(p.Brew.TunGross)+" are needed", "Brewhouse.TunGross")}
	}
	have := *f.Input.Brewhouse.TunGross
	words := fmt.Sprintf("%s: the mash of %s needs %s gross%s; the tun has %s", p.Beer.Name, litres(p.Brew.MashVolume), litres(need), how, litres(have))
	if fits(have.L(), need.L()) {
		return []rule.Answer{rule.Passes(p.Beer.Name, need, have, words)}
	}
	return []rule.Answer{rule.Fails(p.Beer.Name, need, have, words)}
}

// thickerMash tries a mash as thick as 2.2 L/kg, the thick end of infusion mashes.
func thickerMash(f Facts, a rule.Answer, j judge) []rule.Remedy {
	in := f.Input
	in.Practice.MashRatio = unit.LitresPerKg(2.2)
	return remedy(in, a, j, "thicker-mash", "mash at 2.2 L/kg", rule.Param{Name: "mash-ratio", Quantity: in.Practice.MashRatio})
}

var kettleFits = rule.Rule[Facts]{
	ID: "BR-005", Fills: "kettle", Severity: rule.Blocker, Title: "The kettle is too small",
	Why:      "The wort runs over the rim before it boils: scalding for who stands by, and lost hops and extract.",
	Compares: "hot wort before the boil against the kettle's gross volume", Source: grossHolds,
	Check: checked(onSheet(judgeKettle), mendKettle),
}

var kettleFoam = rule.Rule[Facts]{
	ID: "BR-032", Severity: rule.Warning, Title: "The kettle has little headspace for its foam",
	Why:      "When the hot break rises the heat must be turned down in time, by someone who stands by.",
	Compares: "hot wort before the boil with the headspace planned for the kind of beer against the kettle's gross volume", Source: docStorchen.At("headspace 15 to 30 % of the vessel"), DependsOn: []string{"BR-005"},
	Check: checked(onSheet(judgeFoaming), mendKettle),
}

func mendKettle(f Facts, a rule.Answer, j judge) []rule.Remedy {
	return append(brewLess(f, a, j, a.Have.SI()/a.Need.SI()), otherBrewhouse(f, a, j)...)
}

func judgeKettle(f Facts) []rule.Answer { return kettleWith(f, 0) }

func judgeFoaming(f Facts) []rule.Answer { return kettleWith(f, 1) }

// kettleWith sets the kettle against the headspace planned, or a smaller one; 0 is a
// kettle full to the rim.
func kettleWith(f Facts, most float64) []rule.Answer {
	p := f.Result.Beers[fullestKettle(f.Result)]
	space := math.Min(p.Brew.KettleSpace.Value(), most)
	need := unit.Litres(p.Brew.KettleFull.L() / (1 - space))
	if f.Result.ProposedLength {
		return []rule.Answer{rule.DoesNotApply("no brewhouse is chosen: the kettle needs " + litres(need) + " gross")}
	}
	if f.Input.Brewhouse.KettleGross == nil {
		return []rule.Answer{rule.Lacks(p.Beer.Name, "the kettle's volume is not known; "+litres(need)+" are needed", "Brewhouse.KettleGross")}
	}
	have := *f.Input.Brewhouse.KettleGross
	words := fmt.Sprintf("%s: %s of hot wort before the boil need %s gross at %s headspace; the kettle has %s", p.Beer.Name, litres(p.Brew.KettleFull), litres(need), unit.Fixed(unit.Fraction(space), 0), litres(have))
	if fits(have.L(), need.L()) {
		return []rule.Answer{rule.Passes(p.Beer.Name, need, have, words)}
	}
	return []rule.Answer{rule.Fails(p.Beer.Name, need, have, words)}
}

var heaterCovered = rule.Rule[Facts]{
	ID: "BR-006", Severity: rule.Blocker, Title: "The smallest brew does not cover the kettle's heater",
	Why:      "An element or jacket above the wort burns it on and fails.",
	Compares: "hot wort at cast-out against the volume that covers the heater", Source: source.Derivation("the heater must stay covered to the end of the boil"),
	Check: checked(onSheet(judgeCovered), otherBrewhouse),
}

func judgeCovered(f Facts) []rule.Answer {
	if f.Result.ProposedLength {
		return []rule.Answer{rule.DoesNotApply("no brewhouse is chosen")}
	}
	at := 0
	for i := range f.Result.Beers {
		if f.Result.Beers[i].Brew.HotCast < f.Result.Beers[at].Brew.HotCast {
			at = i
		}
	}
	p := f.Result.Beers[at]
	if f.Input.Brewhouse.KettleLeast == nil {
		return []rule.Answer{rule.Lacks(p.Beer.Name, "the volume that covers the heater is not known", "Brewhouse.KettleLeast")}
	}
	need := *f.Input.Brewhouse.KettleLeast
	words := fmt.Sprintf("%s: %s hot at cast-out; the heater needs %s", p.Beer.Name, litres(p.Brew.HotCast), litres(need))
	if p.Brew.HotCast >= need {
		return []rule.Answer{rule.Passes(p.Beer.Name, need, p.Brew.HotCast, words)}
	}
	return []rule.Answer{rule.Fails(p.Beer.Name, need, p.Brew.HotCast, words)}
}

var spargeEnough = rule.Rule[Facts]{
	ID: "BR-007", Severity: rule.Warning, Title: "There is too little sparge for the efficiency planned",
	Why:      "A strong wort leaves little liquor to rinse the grain: the yield falls below the plan and more malt is needed.",
	Compares: "sparge against half of the mash liquor", Source: source.Derivation("liquor by mass balance; below half the mash liquor the yield falls short"),
	Check: checked(onSheet(judgeSparge), mendSparge),
}

func judgeSparge(f Facts) []rule.Answer {
	out := make([]rule.Answer, 0, len(f.Result.Beers))
	for i := range f.Result.Beers {
		p := &f.Result.Beers[i]
		need := unit.Volume(0.5) * p.Brew.MashLiquor
		words := fmt.Sprintf("%s: %s of sparge on %s of mash liquor", p.Beer.Name, litres(p.Brew.Sparge), litres(p.Brew.MashLiquor))
		if p.Brew.Sparge >= need {
			out = append(out, rule.Passes(p.Beer.Name, need, p.Brew.Sparge, words))
			continue
		}
		out = append(out, rule.Fails(p.Beer.Name, need, p.Brew.Sparge, words))
	}
	return out
}

// mendSparge tries lower efficiencies and thicker mashes.
func mendSparge(f Facts, a rule.Answer, j judge) []rule.Remedy {
	out := thickerMash(f, a, j)
	in := f.Input
	in.Practice.BoilTime = unit.Minutes(90)
	return append(out, remedy(in, a, j, "longer-boil", "boil 90 minutes, so that more sparge can be boiled off", rule.Param{Name: "boil-time", Quantity: in.Practice.BoilTime})...)
}

var liquorTankEnough = rule.Rule[Facts]{
	ID: "BR-008", Fills: "hot-liquor tank", Severity: rule.Warning, Title: "The hot-liquor tank holds less than one brew and its cleaning",
	Why:      "The sparge stops while the tank is filled and heated again, and cleaning finds no hot water.",
	Compares: "hot liquor of the thirstiest brew and one cleaning solution of the kettle against the tank", Source: source.Derivation("mash and sparge liquor by mass balance"),
	Check: checked(onSheet(judgeLiquorTank), func(f Facts, a rule.Answer, j judge) []rule.Remedy {
		in := f.Input
		v := unit.Litres(50 * float64(roundUp(a.Need.SI()*1000/50)))
		in.Brewhouse.LiquorTank = &v
		larger := remedy(in, a, j, "larger-liquor-tank", "take a hot-liquor tank of "+litres(v)+" or add one", rule.Param{Name: "liquor-tank", Quantity: v})
		return append(larger, otherBrewhouse(f, a, j)...)
	}),
}

func judgeLiquorTank(f Facts) []rule.Answer {
	at := 0
	for i := range f.Result.Beers {
		if f.Result.Beers[i].Brew.HotLiquor > f.Result.Beers[at].Brew.HotLiquor {
			at = i
		}
	}
	p := f.Result.Beers[at]
	cip := unit.Volume(f.Result.Settled.Practice.CIPShare) * or(f.Input.Brewhouse.KettleGross, p.Brew.KettleGross)
	need := p.Brew.HotLiquor + cip
	if f.Result.ProposedLength {
		return []rule.Answer{rule.DoesNotApply("no brewhouse is chosen: one brew takes " + litres(p.Brew.HotLiquor))}
	}
	if f.Input.Brewhouse.LiquorTank == nil {
		return []rule.Answer{rule.Lacks(p.Beer.Name, "the hot-liquor tank is not known; one brew and its cleaning take "+litres(need), "Brewhouse.LiquorTank")}
	}
	have := *f.Input.Brewhouse.LiquorTank
	words := fmt.Sprintf("%s takes %s of hot liquor (cold volume) a brew and %s to clean the kettle; the tank has %s gross", p.Beer.Name, litres(p.Brew.HotLiquor), litres(cip), litres(have))
	if have >= need {
		return []rule.Answer{rule.Passes(p.Beer.Name, need, have, words)}
	}
	return []rule.Answer{rule.Fails(p.Beer.Name, need, have, words)}
}
