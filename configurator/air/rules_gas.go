package air

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// overnight is how long nobody may look in; the fan must not be able to kill by morning.
const overnight = 12.0 // h, common practice, no source: the length of a night between shifts

func gasRules() []rule.Rule[Facts] {
	return []rule.Rule[Facts]{
		{
			ID: "AI-020", Fills: "air of the room overnight", Severity: rule.Blocker, Title: "Carbon dioxide builds up overnight",
			Why:      "Whoever opens the door in the morning breathes what the tanks gave off all night. It kills.",
			Compares: "time to the short-term limit without extract, against 12 hours; where a fan is relied on, the steady concentration beside the tanks against the short-term limit, 15 000 ppm at most", Source: exposure, Law: overnightLaw,
			Check: gasRule(judgeOvernight, func(t gasTrier) (list []rule.Remedy) {
				tryPipe(&list, t)
				tryFans(&list, t)
				return list
			}),
		},
		{
			ID: "AI-021", Fills: "air of the room while beer ferments", Severity: rule.Warning, Title: "The extract is too small for the fermenting tanks", DependsOn: []string{"AI-020"},
			Why:      "The shift limit is passed beside the tanks while everything works as it should.",
			Compares: "steady concentration at the highest gas rate with the mixing factor, against the shift limit", Source: exposure, Law: byLimit("long"),
			Check: gasRule(judgeExtract, func(t gasTrier) (list []rule.Remedy) {
				tryPipe(&list, t)
				tryFans(&list, t)
				return list
			}),
		},
		{
			ID: "AI-022", Severity: rule.Warning, Title: "A loss of gas needs detection that warns outside every door",
			Why:      "A cylinder or a tank empties in minutes; the first who goes in to look is the victim.",
			Compares: "share of carbon dioxide after the largest loss in the lowest metre of the room, against the shift limit", Source: detection, Law: abroad(detectionAbroad),
			Check: gasRule(judgeRelease, releaseRemedies),
		},
		{
			ID: "AI-023", Severity: rule.Blocker, Title: "Gas is stored or given off at a low point without detection",
			Why:      "Carbon dioxide is half as heavy again as air: a pit, a cellar or a stair foot fills and stays full.",
			Compares: "cylinders, tanks or blow-offs below ground or by a pit, against detection there", Source: coshhLowPoint, Law: abroad(lowPointAbroad),
			Check: gasRule(judgeLow, releaseRemedies),
		},
		{
			ID: "AI-024", Severity: rule.Warning, Title: "An oxygen monitor stands in for a carbon dioxide detector",
			Why:      "At a deadly share of carbon dioxide there is still almost all the oxygen; the monitor stays silent.",
			Compares: "kind of detector against carbon dioxide", Source: source.Derivation("dilution of oxygen: 19.5 % is reached only at 6.9 % carbon dioxide"),
			Check: gasRule(judgeOxygen, func(t gasTrier) (list []rule.Remedy) {
				t.try(&list, func(g *GasSpace) { g.Alarm.Oxygen, g.Alarm.Detectors = false, ptr(heads(*g)) }, func(g GasSpace, _ GasResult) rule.Remedy {
					return rule.Remedy{Kind: "co2-detector", Words: count(*g.Alarm.Detectors) + " carbon dioxide detector(s) set at " + t.alarms.Fan.String() + " and " + t.alarms.Evacuate.String(), Params: []rule.Param{{Name: "detectors", Quantity: unit.Fraction(float64(*g.Alarm.Detectors))}}}
				})
				return list
			}),
		},
		{
			ID: "AI-025", Severity: rule.Notice, Title: "The extract does not draw at floor level",
			Why:      "Carbon dioxide is 1.52 times as heavy as air and pools at the floor below a high fan.",
			Compares: "height of the extract against the floor", Source: source.Derivation("density of carbon dioxide against air, 1.52"),
			Check: gasRule(judgeLowExtract, func(t gasTrier) (list []rule.Remedy) {
				t.try(&list, func(g *GasSpace) { g.Low = ptr(true) }, func(GasSpace, GasResult) rule.Remedy {
					return rule.Remedy{Kind: "low-extract", Words: "take the extract down to 300 mm above the floor and from every pit; supply high up"}
				})
				return list
			}),
		},
		{
			ID: "AI-026", Severity: rule.Warning, Title: "A stopped fan raises no alarm",
			Why:      "With the fan stopped the room is deadly within hours, and nobody notices.",
			Compares: "fan-flow switch and detector mains failure against none, where a stopped fan passes the short-term limit within the week", Source: source.Practice("fail-safe alarm"),
			Check: gasRule(judgeFanSwitch, func(t gasTrier) (list []rule.Remedy) {
				t.try(&list, func(g *GasSpace) { g.Alarm.FanSwitch = true }, func(GasSpace, GasResult) rule.Remedy {
					return rule.Remedy{Kind: "fan-switch", Words: "fan-flow switch and detector mains failure wired to the alarm"}
				})
				return list
			}),
		},
	}
}

func tryPipe(list *[]rule.Remedy, t gasTrier) {
	if t.space.Piped {
		return
	}
	t.try(list, func(g *GasSpace) { g.Piped = true }, func(_ GasSpace, r GasResult) rule.Remedy {
		return rule.Remedy{Kind: "pipe-blow-off", Words: "pipe every blow-off to the open air, away from openings and pits: " + r.Chosen.Peak.String() + " instead of " + r.Open.Peak.String() + " reaches the room", Params: []rule.Param{{Name: "gas", Quantity: r.Chosen.Peak}}}
	})
}

// tryFans tries the extracts that can be chosen, then the exact need.
func tryFans(list *[]rule.Remedy, t gasTrier) {
	describe := func(g GasSpace, r GasResult) rule.Remedy {
		return rule.Remedy{Kind: "larger-extract", Words: "extract of " + g.Fan.String() + " at floor level: " + r.Chosen.SteadyNear.String() + " beside the tanks", Params: []rule.Param{{Name: "extract", Quantity: *g.Fan}}}
	}
	for _, q := range t.space.Fans {
		if q < t.result.Chosen.Need {
			continue
		}
		if t.try(list, func(g *GasSpace) { g.Fan = ptr(q) }, describe) {
			return
		}
	}
	need := unit.M3PerHour(t.result.Chosen.Need.M3H() * 1.001)
	t.try(list, func(g *GasSpace) { g.Fan = ptr(need) }, describe)
}

// nightMost is the most that a night without anybody may build up to, where the
// country's short-term limit is higher or there is none: that of EH40/2005.
var nightMost = unit.PPM(15000)

// noGas answers where no gas comes into the room: nothing ferments there, or nobody
// worked out what it gives off.
func noGas(g GasSpace) rule.Answer {
	if g.Unplanned {
		return rule.Lacks("", "tanks ferment here; what they give off is not worked out", "Gas.Batches")
	}
	return rule.DoesNotApply("no tank gives off gas here")
}

func judgeOvernight(g GasSpace, r GasResult, limits []Limit) rule.Answer {
	if r.Open.Peak == 0 {
		return noGas(g)
	}
	c := r.Chosen
	most := min(role(limits, "short").Share, nightMost)
	t, ever := TimeTo(most, c.PeakFlow, r.Volume)
	words := "with the fan off " + most.String() + " come after " + t.String() + " at the highest rate of " + c.Peak.String() + "." + checkText
	need := unit.Hours(overnight)
	switch {
	case !ever || t >= need:
		return rule.Passes("", need, t, words)
	case g.Fan == nil:
		return rule.Lacks("", "the extract is not known; "+words, "Gas.Fan")
	case *g.Fan > 0:
		words = "an extract of " + g.Fan.String() + " leaves " + c.SteadyNear.String() + " beside the tanks; " + words
		if c.SteadyNear <= most {
			return rule.Passes("", c.SteadyNear, most, words)
		}
		return rule.Fails("", c.SteadyNear, most, words)
	}
	return rule.Fails("", need, t, "there is no extract and blow-offs are not piped outdoors; "+words)
}

func judgeExtract(g GasSpace, r GasResult, limits []Limit) rule.Answer {
	long := role(limits, "long")
	if r.Chosen.Peak == 0 {
		return noGas(g)
	}
	if g.Fan == nil {
		return rule.Lacks("", "the extract is not known; "+r.Chosen.Need.String()+" is needed", "Gas.Fan")
	}
	near := r.Chosen.SteadyNear
	if *g.Fan == 0 {
		near = r.Chosen.HighestNear
	}
	words := "beside the tanks " + near.String() + " against " + long.Code + " " + long.Share.String() + "; needed " + r.Chosen.Need.String() + ", there is " + g.Fan.String()
	if near.PPM() > long.Share.PPM()*1.00001 {
		return rule.Fails("", near, long.Share, words)
	}
	return rule.Passes("", near, long.Share, words)
}

// detected tells whether enough heads stand in the room and warn outside.
func detected(g GasSpace) bool {
	return g.Alarm.Detectors != nil && *g.Alarm.Detectors >= heads(g) && g.Alarm.Outside && !g.Alarm.Oxygen
}

// undetected says what the detection falls short of.
func undetected(g GasSpace) string {
	if n := *g.Alarm.Detectors; n > 0 && n < heads(g) {
		return count(n) + " detector(s), " + count(heads(g)) + " are wanted for the floor of the room and its low points"
	}
	return "no detector warns outside every door"
}

// storesUnknown answers where nobody told what gas is kept in cylinders.
func storesUnknown(words string) rule.Answer {
	return rule.Lacks("", words+"what gas is kept in cylinders or in bulk, and where, is not known", "Gas.Stored", "Gas.Stores")
}

func judgeRelease(g GasSpace, r GasResult, limits []Limit) rule.Answer {
	if r.Largest < 0 {
		if g.Stored == nil {
			return storesUnknown("")
		}
		return rule.DoesNotApply("nothing in this room can lose its gas suddenly")
	}
	long, l := role(limits, "long"), r.Releases[r.Largest]
	words := l.Name + ": " + l.Mass.String() + " gives " + share(l.Share) + " in " + cubic(l.Zone) + ", oxygen still " + share(l.Oxygen)
	if l.Share <= long.Share && g.Stored == nil && !detected(g) {
		return storesUnknown(words + "; ")
	}
	if l.Share <= long.Share {
		return rule.Passes("", l.Share, long.Share, words)
	}
	if g.Alarm.Detectors == nil {
		return rule.Lacks("", words+"; whether there are detectors is not known", "Gas.Alarm.Detectors")
	}
	if detected(g) {
		return rule.Passes("", l.Share, long.Share, words+"; detectors warn outside every door")
	}
	return rule.Fails("", l.Share, long.Share, words+"; "+undetected(g))
}

func judgeLow(g GasSpace, r GasResult, _ []Limit) rule.Answer {
	low := g.Room.LowPoint
	if low != nil && !*low {
		return rule.DoesNotApply("the room has no low point")
	}
	if r.Largest < 0 && r.Chosen.Peak == 0 {
		switch {
		case g.Unplanned:
			return noGas(g)
		case g.Stored == nil:
			return storesUnknown("")
		}
		return rule.DoesNotApply("no gas is stored or given off here")
	}
	if g.Alarm.Detectors == nil {
		return rule.Lacks("", "gas lies at a low point; whether there are detectors is not known", "Gas.Alarm.Detectors")
	}
	if low == nil {
		return rule.Lacks("", "gas is stored or given off here; whether the room has a pit or a stair going down is not known", "Gas.Room.LowPoint")
	}
	if detected(g) {
		return rule.Passes("", nil, nil, "detectors stand at the low point and warn outside every door")
	}
	return rule.Fails("", nil, nil, "gas is stored or given off below ground or by a pit: "+undetected(g)+"."+checkText)
}

func releaseRemedies(t gasTrier) (list []rule.Remedy) {
	n := heads(t.space)
	t.try(&list, func(g *GasSpace) {
		g.Alarm.Detectors, g.Alarm.Outside, g.Alarm.Oxygen = ptr(n), true, false
	}, func(GasSpace, GasResult) rule.Remedy {
		return rule.Remedy{Kind: "fit-detectors", Words: count(n) + " carbon dioxide detector(s) 300 to 450 mm above the floor, set at " + t.alarms.Fan.String() + " and " + t.alarms.Evacuate.String() + ", with sounder and display outside every door", Params: []rule.Param{{Name: "detectors", Quantity: unit.Fraction(float64(n))}}}
	})
	if len(t.space.Stores) > 0 {
		t.try(&list, func(g *GasSpace) {
			stores := make([]Store, len(g.Stores))
			for i, s := range g.Stores {
				s.Outdoor = true
				stores[i] = s
			}
			g.Stores = stores
		}, func(GasSpace, GasResult) rule.Remedy {
			return rule.Remedy{Kind: "store-outdoors", Words: "keep cylinders and bulk gas outdoors and pipe the gas in"}
		})
	}
	return list
}

func judgeOxygen(g GasSpace, r GasResult, _ []Limit) rule.Answer {
	switch {
	case g.Alarm.Oxygen:
		return rule.Fails("", nil, nil, "an oxygen alarm at 19.5 % first speaks at "+share(r.OxygenBlind)+" of carbon dioxide")
	case g.Alarm.Detectors == nil:
		return rule.Lacks("", "whether there are detectors, and of what, is not known", "Gas.Alarm.Detectors")
	case *g.Alarm.Detectors == 0:
		return rule.DoesNotApply("no detector is planned")
	}
	return rule.Passes("", nil, nil, "the detectors measure carbon dioxide")
}

func judgeLowExtract(g GasSpace, r GasResult, _ []Limit) rule.Answer {
	if g.Fan != nil && *g.Fan == 0 {
		return rule.DoesNotApply("no extract carries fermentation gas")
	}
	if r.Chosen.Peak == 0 {
		return noGas(g)
	}
	if g.Fan == nil {
		return rule.Lacks("", "the extract is not known", "Gas.Fan")
	}
	if g.Low == nil {
		return rule.Lacks("", "the height of the extract is not known", "Gas.Low")
	}
	if !*g.Low {
		return rule.Fails("", nil, nil, "the extract draws high up; the gas lies at the floor")
	}
	return rule.Passes("", nil, nil, "the extract draws at floor level")
}

func judgeFanSwitch(g GasSpace, r GasResult, limits []Limit) rule.Answer {
	switch {
	case r.Chosen.Peak == 0:
		return noGas(g)
	case g.Fan == nil:
		return rule.Lacks("", "whether an extract is relied on is not known", "Gas.Fan")
	case *g.Fan == 0:
		return rule.DoesNotApply("no fan is relied on")
	}
	short := role(limits, "short")
	for _, l := range r.Chosen.FanOff {
		if l.Limit.Code != short.Code {
			continue
		}
		if !l.Reached {
			return rule.Passes("", nil, nil, "even with the fan off the week stays below "+short.Share.String())
		}
		words := "with the fan off " + short.Share.String() + " come after " + l.Week.String()
		if g.Alarm.FanSwitch {
			return rule.Passes("", nil, nil, words+"; fan-flow switch and mains failure raise the alarm")
		}
		return rule.Fails("", nil, nil, words+"; nothing tells that the fan stopped")
	}
	return rule.DoesNotApply("no short-term limit in this country")
}

func count(n int) string {
	return unit.Digits(float64(n), 4)
}
