package cooling

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

var minLeaving = rule.Rule[Facts]{
	ID: "CO-002", Severity: rule.Blocker,
	Title:    "The glycol is wanted colder than the chiller may make it",
	Why:      "Below its lowest leaving temperature a chiller trips on low pressure or freezes its evaporator; the cellar never gets cold.",
	Compares: "glycol supply against the chiller's lowest leaving temperature",
	Source:   source.Derivation("the lowest leaving temperature its maker states for this chiller: outside it he promises no output"),
	Check:    mended(judgeLeaving, []option{otherChiller, warmerGlycol}),
}

func judgeLeaving(f Facts) []rule.Answer {
	need, have := f.Result.Fluid.Supply, f.Input.Chiller.MinLeaving
	words := "glycol is wanted at " + need.String() + "; the chiller makes " + have.String() + " at the coldest"
	if need < have {
		return one(rule.Fails("", need, have, words))
	}
	return one(rule.Passes("", need, have, words))
}

var ratingCovers = rule.Rule[Facts]{
	ID: "CO-018", Severity: rule.Blocker,
	Title:     "The maker's table does not reach these conditions",
	Why:       "An output that is not in the table is a guess; a chiller bought on a guess is the one that fails in July.",
	Compares:  "glycol supply and air at the condenser against the range of the rating table",
	Source:    source.Derivation("interpolation only, nothing beyond the table"),
	DependsOn: []string{"CO-002"},
	Check:     mended(judgeCovers, []option{otherChiller, warmerGlycol}),
}

func judgeCovers(f Facts) []rule.Answer {
	r := f.Result
	if f.Input.Ambient == nil {
		words := "the air at the condenser is unknown; "
		if r.Chiller.Rated {
			words += "at " + r.Ambient.String() + " the chiller would give " + r.Chiller.Capacity.String() + " of the " + r.Load.WithStore.String() + " needed"
		}
		return one(rule.Lacks("", words, "Ambient"))
	}
	words := "glycol at " + r.Fluid.Supply.String() + ", air at " + r.Ambient.String()
	if !r.Chiller.Rated {
		return one(rule.Fails("", r.Fluid.Supply, nil, words+": "+r.Chiller.Why))
	}
	return one(rule.Passes("", r.Fluid.Supply, nil, words+" lie within the maker's table"))
}

var capacity = rule.Rule[Facts]{
	ID: "CO-001", Fills: "chiller", Severity: rule.Blocker,
	Title:     "The chiller cannot carry the cellar",
	Why:       "On the hottest day the glycol warms, every tank drifts at once, and beer in fermentation runs away first.",
	Compares:  "duty of the highest hour with pipes, pump and one margin against output at the real glycol and air temperatures",
	Source:    physics,
	DependsOn: []string{"CO-002", "CO-018"},
	Check: mended(judgeCapacity, []option{otherChiller, secondChiller, staggerCrash, slowerCrash, bufferStore, warmerGlycol},
		judgeLeaving, judgeCovers, judgeReach),
}

func judgeCapacity(f Facts) []rule.Answer {
	s, c := f.Result.Load, f.Result.Chiller
	words := "needs " + s.WithStore.String() + " in the highest hour, has " + c.Capacity.String() + " at " +
		f.Result.Fluid.Supply.String() + " glycol and " + f.Result.Ambient.String() + " air"
	if s.WithStore < s.Duty {
		words += " (the store takes " + (s.Duty - s.WithStore).String() + " off the peak of " + s.Duty.String() + ")"
	}
	if s.WithStore > c.Capacity {
		return one(rule.Fails("", s.WithStore, c.Capacity, words))
	}
	return one(rule.Passes("", s.WithStore, c.Capacity, words))
}

var mainsEntered = rule.Rule[Facts]{
	ID: "CO-016", Severity: rule.Blocker,
	Title:    "The summer temperature of the mains is not known",
	Why:      "Cold liquor and wort are cooled from the mains: 8 K warmer in August than the yearly mean is two thirds more load.",
	Compares: "whether the summer temperature of the mains was given",
	Source:   source.Derivation("the load m·c·(T_mains − T_cold) has no figure while T_mains is assumed"),
	Check: func(f Facts) []rule.Answer {
		if len(f.Result.Refills) == 0 && f.Input.Wort == nil {
			return one(rule.DoesNotApply("nothing is cooled from the mains"))
		}
		if f.Input.Mains == nil {
			return one(rule.Lacks("", "20 °C is taken until somebody measures it in August", "Mains"))
		}
		return one(rule.Passes("", nil, *f.Input.Mains, "mains at "+f.Input.Mains.String()+" in summer"))
	},
}

var wortStage = rule.Rule[Facts]{
	ID: "CO-015", Severity: rule.Blocker,
	Title:     "The second stage of the wort cooler has nothing to draw on",
	Why:       "For three quarters of an hour it asks several times what the whole cellar does; the glycol warms and every tank with it.",
	Compares:  "second stage over one knock-out against the chiller's spare output and the store",
	Source:    physics,
	DependsOn: []string{"CO-002", "CO-018"},
	Check:     mended(judgeWort, []option{wortStore, wortChiller, wortByLiquor, longerKnockOut}, judgeLeaving, judgeCovers),
}

func judgeWort(f Facts) []rule.Answer {
	w, s := f.Input.Wort, f.Result.Store
	if w == nil || w.Power <= 0 {
		return one(rule.DoesNotApply("no wort is cooled by glycol"))
	}
	words := w.Power.String() + " for " + w.For.String() + "; " + s.WortNeed.String() + " must come out of a store, which holds " + s.Energy.String()
	switch {
	case !s.WortSettles:
		return one(rule.Fails("", f.Result.Load.Duty, f.Result.Chiller.Capacity, words+"; the chiller cannot win it back within the weeks"))
	case s.WortNeed > s.Energy:
		return one(rule.Fails("", s.WortNeed, s.Energy, words+"; "+s.WortVolume.String()+" of glycol would do"))
	}
	return one(rule.Passes("", s.WortNeed, s.Energy, words))
}

var cycling = rule.Rule[Facts]{
	ID: "CO-011", Severity: rule.Warning,
	Title:    "Too little glycol: the compressor will cycle",
	Why:      "Jackets open and close; without a store the compressor starts too often, starves of oil and dies young.",
	Compares: "store against what keeps the smallest stage running 5 min and below 6 starts an hour within 2 K",
	Source:   source.Doc{ID: "Cervera-Vázquez et al.", Edition: "2016, doi 10.1080/23744731.2016.1131569"}.At("oil return governs the least run"),
	Check:    mended(judgeCycling, []option{cyclingStore, otherChiller}, judgeLeaving, judgeCovers, judgeCapacity),
}

func judgeCycling(f Facts) []rule.Answer {
	s := f.Result.Store
	words := "needs " + s.Cycling.String() + " of glycol in a store, has " + s.Installed.String()
	if s.Installed < s.Cycling {
		return one(rule.Fails("", s.Cycling, s.Installed, words))
	}
	return one(rule.Passes("", s.Cycling, s.Installed, words))
}

const fullestRun = 0.8

var runTime = rule.Rule[Facts]{
	ID: "CO-021", Severity: rule.Notice,
	Title:     "The chiller would run nearly without rest",
	Why:       "More than 19 hours a day leave no time for defrost, service or a hot week.",
	Compares:  "mean load over output against 80 %",
	Source:    source.Practice("18 to 19 hours of running a day"),
	DependsOn: []string{"CO-001"},
	Check:     mended(judgeRun, []option{otherChiller, restChiller}, judgeLeaving, judgeCovers, judgeCapacity),
}

func judgeRun(f Facts) []rule.Answer {
	need, have := f.Result.Chiller.Run, unit.Fraction(fullestRun)
	words := "runs " + need.String() + " of the time over the design weeks"
	if need > have {
		return one(rule.Fails("", need, have, words))
	}
	return one(rule.Passes("", need, have, words))
}

// mostOutput is how many times the duty a chiller gives before it is called too large:
// margin and a further crash are in the duty, and three times still has room for a
// cellar that doubles.
const mostOutput = 3.0

var oversized = rule.Rule[Facts]{
	ID: "CO-029", Severity: rule.Notice,
	Title:     "The chiller is far larger than the cellar needs",
	Why:       "It starts with a higher current and runs in short spells; without a plan to grow, what it gives beyond the need is never used.",
	Compares:  "output, less one unit where there are several, against three times the duty of the highest hour, wort on glycol included",
	Source:    source.Practice("output up to three times the duty; whether the store keeps the compressor from cycling is another check"),
	DependsOn: []string{"CO-001"},
	Check:     mended(judgeOversize, []option{smallerChiller}, judgeLeaving, judgeCovers, judgeCapacity, judgeRun, judgeWort, judgeCycling),
}

// asked is the duty that the chiller is bought for.
func asked(f Facts) unit.Power {
	if w := f.Input.Wort; w != nil {
		return f.Result.Load.WithStore + w.Power
	}
	return f.Result.Load.WithStore
}

func judgeOversize(f Facts) []rule.Answer {
	c, duty := f.Result.Chiller, asked(f)
	gives, words := c.Capacity, ""
	if c.Units > 1 {
		gives, words = c.OneLess, "with one unit standing "
	}
	most := unit.Watts(duty.W() * mostOutput)
	words += "gives " + gives.String() + " where " + duty.String() + " are needed in the highest hour"
	if gives > most {
		return one(rule.Fails("", gives, most, words))
	}
	return one(rule.Passes("", gives, most, words))
}

var redundancy = rule.Rule[Facts]{
	ID: "CO-022", Severity: rule.Notice,
	Title:     "One failure leaves the cellar without cooling",
	Why:       "A compressor fails on the hottest day, and help takes a day or two.",
	Compares:  "output with one unit standing against the mean load",
	Source:    source.Practice("one unit more than the mean load needs"),
	DependsOn: []string{"CO-018"},
	Check:     mended(judgeSpare, []option{spareChiller}),
}

func judgeSpare(f Facts) []rule.Answer {
	c, s := f.Result.Chiller, f.Result.Load
	need := s.steady()
	words := "with one unit standing " + c.OneLess.String() + " are left for a mean load of " + need.String() +
		"; with none, " + c.WarmTank + " is 3 K warmer after " + c.ToWarm.String()
	if c.OneLess < need {
		return one(rule.Fails("", need, c.OneLess, words))
	}
	return one(rule.Passes("", need, c.OneLess, words))
}
