package pressure

import (
	"math"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// maxRinses is the most steps a cleaning programme is asked for; common practice, no source.
const maxRinses = 6

func judgeSupply(v Vessel, r VesselResult, _ []Row) rule.Answer {
	if !underPressure(v) || v.Kind != Tank || v.GasMax != nil && *v.GasMax == 0 || liquid(v.Contents) {
		return rule.DoesNotApply("")
	}
	if v.PS == nil {
		return rule.Lacks("", "PS is not known, so nobody can say what supply it bears", "Vessels.PS")
	}
	if v.GasMax == nil {
		return rule.Lacks("", "the highest pressure of the gas supply with its regulator failed open is not known", "Vessels.GasMax")
	}
	words := "gas supply up to " + v.GasMax.String() + ", PS " + v.PS.String()
	if *v.GasMax <= *v.PS {
		return rule.Passes("", *v.GasMax, *v.PS, words)
	}
	for _, c := range r.Cases {
		if c.ID != "a" {
			continue
		}
		if !c.Known {
			if v.Relief == nil {
				return rule.Lacks("", words+"; relief and flow of the failed regulator are not known", "Vessels.Relief", "Vessels.GasFlow")
			}
			return rule.Fails("", *v.GasMax, *v.PS, words+"; no relief is sized for the regulator failed open")
		}
		if v.Relief == nil {
			return rule.Lacks("", words+"; the relief valve is not known, "+unit.In(c.Area, "mm2", 1)+" are needed", "Vessels.Relief")
		}
		if v.Relief.Fitted && v.Relief.Area == 0 {
			return rule.Lacks("", words+"; "+unit.In(c.Area, "mm2", 1)+" are needed, the valve's flow area is not known", "Vessels.Relief.Area")
		}
		words += "; needed " + unit.In(c.Area, "mm2", 1) + ", valve " + unit.In(v.Relief.Area, "mm2", 1)
		if !v.Relief.Fitted || v.Relief.Area < c.Area {
			return rule.Fails("", c.Area, v.Relief.Area, words)
		}
		return rule.Passes("", c.Area, v.Relief.Area, words)
	}
	return rule.Lacks("", words, "Vessels.GasFlow")
}

func mendSupply(v *Vessel, _ VesselResult) (string, []rule.Param, bool) {
	v.GasMax = ptr(*v.PS)
	return "limit the supply with a relief valve behind the regulator, set at " + v.PS.String() + " or less", []rule.Param{{Name: "limit", Quantity: *v.PS}}, true
}

// mendRelief fits a valve at PS with the area of the largest known case; that of a
// compressor's or heater's set is sized by its maker.
func mendRelief(v *Vessel, r VesselResult) (string, []rule.Param, bool) {
	if v.PS == nil {
		return "", nil, false
	}
	if v.Kind == Receiver || v.Kind == Generator {
		v.Relief = &Relief{Fitted: true, Set: *v.PS}
		return "have the maker of the set fit a relief valve set at " + v.PS.String() + " or less, for the full output of compressor or heater", []rule.Param{{Name: "set", Quantity: *v.PS}}, true
	}
	probe := *v
	probe.Relief = &Relief{Fitted: true, Set: *v.PS}
	cases, err := reliefCases(probe)
	if err != nil {
		return "", nil, false
	}
	need := unit.Area(0)
	for _, c := range cases {
		need = max(need, c.Area)
	}
	if need == 0 {
		return "", nil, false
	}
	v.Relief = &Relief{Fitted: true, Set: *v.PS, Area: unit.SquareMetres(need.M2() * 1.05)}
	return "relief valve set at " + v.PS.String() + " with at least " + unit.In(v.Relief.Area, "mm2", 1) + " flow area, on its own port away from foam and hops", []rule.Param{{Name: "set", Quantity: *v.PS}, {Name: "area", Quantity: v.Relief.Area}}, true
}

func judgeRelief(v Vessel, r VesselResult, _ []Row) rule.Answer {
	if v.PS == nil && underPressure(v) && !carries(v.Kind) {
		return rule.Lacks("", "PS is not known, so no relief valve can be said to be set right", "Vessels.PS")
	}
	if len(r.Cases) == 0 {
		return rule.DoesNotApply("")
	}
	if v.Relief == nil {
		return rule.Lacks("", "whether a relief valve is fitted is not known", "Vessels.Relief")
	}
	if !v.Relief.Fitted && liquid(v.Contents) && r.Governs < 0 {
		return rule.Lacks("", "no relief valve is fitted; whether an open line to an expansion vessel keeps the liquid from shutting in, and what pump fills it, is not known", "Vessels.PumpIn")
	}
	if !v.Relief.Fitted {
		return rule.Fails("", *v.PS, unit.GaugePressure(0), "no relief valve is fitted to a vessel of PS "+v.PS.String())
	}
	if v.Relief.Set <= 0 {
		return rule.Lacks("", "the pressure at which the relief valve opens is not known", "Vessels.Relief.Set")
	}
	if v.Relief.Set > *v.PS {
		return rule.Fails("", v.Relief.Set, *v.PS, "the valve is set at "+v.Relief.Set.String()+", above PS "+v.PS.String())
	}
	if v.Kind == Receiver || v.Kind == Generator {
		return rule.Passes("", v.Relief.Set, *v.PS, "valve of the maker set at "+v.Relief.Set.String()+", PS "+v.PS.String())
	}
	if r.Governs < 0 {
		return rule.Lacks("", "no case can be sized: give the pump, the regulator's flow or the peak of fermentation", "Vessels.PumpIn", "Vessels.GasFlow")
	}
	if regulatorUnknown(v, r) {
		return rule.Lacks("", "the gas supply can pass PS "+v.PS.String()+" with its regulator failed open; what the regulator then passes is not known, so no valve can be said to be large enough", "Vessels.GasFlow")
	}
	c := r.Cases[r.Governs]
	words := c.Name + " needs " + unit.In(c.Area, "mm2", 1)
	if v.Relief.Area == 0 {
		return rule.Lacks("", words+"; the valve's flow area is not known", "Vessels.Relief.Area")
	}
	words += ", the valve has " + unit.In(v.Relief.Area, "mm2", 1)
	if v.Relief.Area < c.Area {
		return rule.Fails("", c.Area, v.Relief.Area, words)
	}
	return rule.Passes("", c.Area, v.Relief.Area, words)
}

// regulatorUnknown tells whether the gas supply could pass PS with a flow that nobody
// has stated: the case counts, and the largest of the others must not speak for it.
func regulatorUnknown(v Vessel, r VesselResult) bool {
	for _, c := range r.Cases {
		if c.ID == "a" && !c.Known {
			return v.GasMax == nil || *v.GasMax > *v.PS
		}
	}
	return false
}

// judgeSteamSupply holds the feed of a steam jacket to what the jacket bears.
func judgeSteamSupply(v Vessel, _ VesselResult, _ []Row) rule.Answer {
	j := v.Jacket
	if j == nil || j.Contents != Steam {
		return rule.DoesNotApply("")
	}
	if j.PS == nil || j.Supply == nil {
		return rule.Lacks("", "PS of the jacket or the highest pressure of the steam that feeds it is not known", "Vessels.Jacket.PS", "Vessels.Jacket.Supply")
	}
	words := "steam of up to " + j.Supply.String() + ", jacket of PS " + j.PS.String()
	switch {
	case *j.Supply <= *j.PS:
		return rule.Passes("", *j.Supply, *j.PS, words)
	case j.Relief == nil:
		return rule.Lacks("", words+"; whether a reducing valve with a relief valve behind it is in the feed is not known", "Vessels.Jacket.Relief")
	case !j.Relief.Fitted:
		return rule.Fails("", *j.Supply, *j.PS, words+"; no relief valve is in the feed")
	case j.Relief.Set <= 0:
		return rule.Lacks("", words+"; the pressure at which the relief valve in the feed opens is not known", "Vessels.Jacket.Relief.Set")
	case j.Relief.Set > *j.PS:
		return rule.Fails("", j.Relief.Set, *j.PS, words+"; the relief valve in the feed is set at "+j.Relief.Set.String())
	}
	return rule.Passes("", j.Relief.Set, *j.PS, words+"; a relief valve in the feed is set at "+j.Relief.Set.String())
}

func mendSteam(v *Vessel, _ VesselResult) (string, []rule.Param, bool) {
	j := *v.Jacket
	j.Relief = &Relief{Fitted: true, Set: *j.PS}
	v.Jacket = &j
	return "reducing valve in the feed, and behind it a relief valve set at " + j.PS.String() + " or less for the whole flow of the reducing valve failed open, piped to a safe place", []rule.Param{{Name: "set", Quantity: *j.PS}}, true
}

// carries tells whether a vessel carries drinks or gas: its maker protects it.
func carries(k Kind) bool { return k == Keg || k == Bottle || k == Cylinder || k == Pipe }

func vacuumNeed(r VesselResult) unit.Area {
	need := unit.Area(0)
	for _, c := range r.Vacuum {
		need = max(need, c.Area)
	}
	return need
}

func judgeVacuum(v Vessel, r VesselResult, _ []Row) rule.Answer {
	if !r.Needs {
		return vacuumUnknown(v)
	}
	words := ""
	for i, c := range r.Vacuum {
		if i > 0 {
			words += "; "
		}
		words += c.Name
		if c.Inside > 0 {
			words += " leaves " + c.Inside.String() + " in a shut tank"
		}
	}
	if v.Vacuum == nil {
		return rule.Lacks("", words+"; whether a vacuum valve is fitted is not known", "Vessels.Vacuum")
	}
	if !v.Vacuum.Fitted {
		return rule.Fails("", vacuumNeed(r), unit.Area(0), words+"; no vacuum valve is fitted")
	}
	need := vacuumNeed(r)
	if v.Vacuum.Area > 0 && v.Vacuum.Area < need {
		return rule.Fails("", need, v.Vacuum.Area, words+"; the valve has "+unit.In(v.Vacuum.Area, "mm2", 0)+", needed "+unit.In(need, "mm2", 0))
	}
	if yes(v.CausticCO2) && v.Soda == 0 {
		return rule.Lacks("", words+"; a vacuum valve is fitted, how fast the caustic binds the gas is not known, so it cannot be said to be large enough: purge the gas with air first", "Vessels.CausticCO2", "Vessels.Soda")
	}
	if v.HotClean == nil || v.CausticCO2 == nil {
		return rule.Lacks("", words+"; a vacuum valve is fitted; the rest of how the tank is cleaned is not known", "Vessels.HotClean", "Vessels.CausticCO2")
	}
	if v.Vacuum.Area == 0 && need > 0 {
		return rule.Lacks("", words+"; a vacuum valve is fitted, "+unit.In(need, "mm2", 0)+" are needed, its flow area is not known", "Vessels.Vacuum.Area")
	}
	if need > 0 {
		words += "; needed " + unit.In(need, "mm2", 0) + ", the valve has " + unit.In(v.Vacuum.Area, "mm2", 0)
	}
	return rule.Passes("", need, v.Vacuum.Area, words+"; a vacuum valve is fitted")
}

// vacuumUnknown answers for a tank of which nothing is known that sucks it in.
func vacuumUnknown(v Vessel) rule.Answer {
	switch {
	case !underPressure(v) || v.Kind != Tank || liquid(v.Contents) || v.HotClean != nil && v.CausticCO2 != nil:
		return rule.DoesNotApply("")
	case v.Vacuum != nil && v.Vacuum.Fitted:
		return rule.Lacks("", "a vacuum valve is fitted; whether it is large enough hangs on how the tank is cleaned, which is not known", "Vessels.HotClean", "Vessels.CausticCO2")
	}
	return rule.Lacks("", "how the tank is cleaned is not known; cleaned hot, or with caustic over carbon dioxide, it needs a vacuum valve", "Vessels.HotClean", "Vessels.CausticCO2")
}

// mendVacuum fits a valve for the largest case that can be sized. Caustic over carbon
// dioxide that nobody can size is not left to a valve.
func mendVacuum(v *Vessel, r VesselResult) (string, []rule.Param, bool) {
	need := unit.SquareMetres(vacuumNeed(r).M2() * 1.05)
	purge := yes(v.CausticCO2) && v.Soda == 0
	if purge && need == 0 {
		return "", nil, false
	}
	v.Vacuum = &Vacuum{Fitted: true, Area: need}
	if purge {
		v.CausticCO2 = ptr(false)
	}
	words := "vacuum valve opening at 2 to 5 mbar"
	if need > 0 {
		words += " with " + unit.In(need, "mm2", 0) + " flow area"
	}
	if purge {
		words += ", and purge the carbon dioxide with air before every caustic"
	}
	return words + "; it is kept clean and never valved off", []rule.Param{{Name: "area", Quantity: need}}, true
}

// mendRinse looks for the fewest rinses, stepping down evenly, that the valve fitted
// can follow.
func mendRinse(v *Vessel, _ VesselResult) (string, []rule.Param, bool) {
	if !yes(v.HotClean) || v.Vacuum == nil || !v.Vacuum.Fitted {
		return "", nil, false
	}
	for steps := max(v.RinseSteps, 1) + 1; steps <= maxRinses; steps++ {
		v.RinseSteps = steps
		cases, err := vacuumCases(*v)
		if err != nil {
			return "", nil, false
		}
		need := vacuumNeed(VesselResult{Vacuum: cases})
		if need <= v.Vacuum.Area {
			return "rinse in " + unit.Digits(float64(steps), 2) + " steps of falling temperature, the warmest first, by an interlocked programme: the valve then needs " + unit.In(need, "mm2", 0), []rule.Param{{Name: "rinses", Quantity: unit.Fraction(float64(steps))}}, true
		}
	}
	return "", nil, false
}

func mendCold(v *Vessel, _ VesselResult) (string, []rule.Param, bool) {
	if v.PumpOut > 0 {
		return "", nil, false
	}
	v.HotClean, v.CausticCO2 = ptr(false), ptr(false)
	return "clean cold, with acid while carbon dioxide is inside, and by procedure only", nil, true
}

func judgeCarbonation(v Vessel, r VesselResult, _ []Row) rule.Answer {
	if v.Carbonation == nil {
		return rule.DoesNotApply("")
	}
	words := unit.Digits(v.Carbonation.GL(), 3) + " g/L carbon dioxide at " + v.BeerTemp.String()
	if r.Equal == nil {
		return rule.Lacks("", words+" lie beyond the table of solubility", "Vessels.BeerTemp", "Vessels.Carbonation")
	}
	words += " stand at " + [3]string{"most ", "", "least "}[r.Bound+1] + r.Equal.String()
	if v.PS == nil {
		return rule.Lacks("", words+"; PS is not known", "Vessels.PS")
	}
	words += "; PS is " + v.PS.String()
	switch {
	case r.Bound >= 0 && *r.Equal > *v.PS:
		return rule.Fails("", *r.Equal, *v.PS, words)
	case r.Bound > 0 || *r.Equal > *v.PS:
		return rule.Lacks("", words+"; the table ends at 20 °C and 4 volumes", "Vessels.BeerTemp", "Vessels.Carbonation")
	}
	return rule.Passes("", *r.Equal, *v.PS, words)
}

// mendColder looks for the warmest temperature at which PS holds the carbonation.
func mendColder(v *Vessel, _ VesselResult) (string, []rule.Param, bool) {
	for t := v.BeerTemp.C() - 0.5; t >= 0; t -= 0.5 {
		p, err := EquilibriumPressure(*v.Carbonation, unit.Celsius(t))
		if err == nil && p <= *v.PS {
			v.BeerTemp = unit.Celsius(t)
			return "keep the beer at " + unit.Celsius(t).String() + " or below: it stands at " + p.String(), []rule.Param{{Name: "temperature", Quantity: unit.Celsius(t)}}, true
		}
	}
	return "", nil, false
}

// mendFlatter looks for the most carbonation that PS holds, for beer livelier than the
// table: what it would need cannot be told.
func mendFlatter(v *Vessel, r VesselResult) (string, []rule.Param, bool) {
	if *v.Carbonation <= mostCO2 {
		return "", nil, false
	}
	for c := math.Floor(mostCO2.GL()*10) / 10; c >= leastCO2.GL(); c -= 0.1 {
		p, err := EquilibriumPressure(unit.CO2GramsPerLitre(c), v.BeerTemp)
		if err == nil && p <= *v.PS {
			v.Carbonation = ptr(unit.CO2GramsPerLitre(c))
			return "keep no more than " + unit.Digits(c, 2) + " g/L of carbon dioxide in this tank: it stands at " + p.String(), []rule.Param{{Name: "carbonation", Quantity: *v.Carbonation}}, true
		}
	}
	return "", nil, false
}

// mendHigherPS asks for a tank rated above the equilibrium pressure, to the next 0.5 bar.
func mendHigherPS(v *Vessel, r VesselResult) (string, []rule.Param, bool) {
	need := unit.BarGauge(math.Ceil((r.Equal.BarG()+0.3)*2) / 2)
	v.PS = &need
	return "take a tank rated at " + need.String() + " or more; its category then follows anew", []rule.Param{{Name: "ps", Quantity: need}}, true
}
