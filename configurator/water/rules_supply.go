package water

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

func supplyRules() []rule.Rule[Facts] {
	return []rule.Rule[Facts]{
		{
			ID: "WA-001", Severity: rule.Blocker, Title: "A hose, cleaning set or filler can suck back into the main",
			Why:      "Caustic or beer in the street's drinking water: an offence, and people are poisoned.",
			Compares: "category of the protection at every outlet of category 5 against 5", Source: fittings1999.At("Sch. 2 para 15"), Law: abroad(fittingsAbroad),
			Check: check(supplyPart, judgeBackflow(5, 5), mendBackflow),
		},
		{
			ID: "WA-002", Severity: rule.Warning, Title: "An outlet has less backflow protection than its use asks",
			Why:      "The undertaker's inspector refuses the connection, and the brewery stands without water.",
			Compares: "category of the protection against the fluid category of the use, below 5", Source: fittings1999.At("Sch. 1, Sch. 2 para 15"), Law: abroad(fittingsAbroad),
			Check: check(supplyPart, judgeBackflow(2, 4), mendBackflow),
		},
		{
			ID: "WA-003", Fills: "service pipe", Severity: rule.Warning, Title: "The service pipe is too small for what is drawn at once",
			Why:      "While the wort is cooled the hoses run dry, and the cooling takes an hour longer.",
			Compares: "draws at once against the bore at 2.0 m/s and the measured flow", Source: en806.At("4.4"),
			Check: check(supplyPart, judgePeak, mendPeak),
		},
		{
			ID: "WA-004", Severity: rule.Warning, Title: "There is too little pressure at the outlet", DependsOn: []string{"WA-003"},
			Why:      "Upstairs the tap only drips; spray balls clean nothing below their pressure.",
			Compares: "pressure at the main less height, friction and meter against what the outlet needs", Source: source.Derivation("Bernoulli; 0.0981 bar for each metre"),
			Check: check(supplyPart, judgePressure, mendPressure),
		},
		{
			ID: "WA-005", Severity: rule.Warning, Title: "The water is too hard for elements or steam",
			Why:      "Scale bakes on the elements; they burn out within the year.",
			Compares: "hardness as CaCO3 against 200 mg/L where elements or a generator boil the water", Source: source.Practice("softener above 200 mg/L CaCO3"),
			Check: check(supplyPart, judgeHardness, func(t trier, a rule.Answer) (list []rule.Remedy) {
				in := t.in
				in.Softener = true
				t.try(&list, a.Subject, in, func(r Result, _ rule.Answer) rule.Remedy {
					salt, waste := Softening(r.Demand.Process, *in.Supply.Hardness)
					return rule.Remedy{Kind: "softener", Words: "softener on the feed of elements and generator; at most " + salt.String() + " of salt and " + waste.String() + " of brine a day", Params: []rule.Param{{Name: "salt", Quantity: salt}, {Name: "brine", Quantity: waste}}}
				})
				return list
			}),
		},
		{
			ID: "WA-006", Fills: "break tank", Severity: rule.Warning, Title: "The break tank is too small for the day",
			Why:      "It runs empty in the middle of the brew.",
			Compares: "break tank against the mass balance of the draws on it with the flow of the main", Source: source.Derivation("mass balance of the tank over the day"),
			Check: check(supplyPart, judgeTank, func(t trier, a rule.Answer) (list []rule.Remedy) {
				in := t.in
				need, ok := tankNeed(t.in, t.result)
				if !ok {
					return mendDay(t, a)
				}
				in.Supply.Break = ptr(need)
				t.try(&list, a.Subject, in, func(Result, rule.Answer) rule.Remedy {
					return rule.Remedy{Kind: "break-tank", Words: "break tank of " + need.String(), Params: []rule.Param{{Name: "tank", Quantity: need}}}
				})
				return list
			}),
		},
	}
}

func judgeBackflow(low, high int) judge {
	return func(f Facts) []rule.Answer {
		var answers []rule.Answer
		for _, r := range f.Result.Backflow {
			if r.Category < low || r.Category > high {
				continue
			}
			needs := DeviceName(r.Needs)
			if f.Input.Country == US {
				needs = r.NeedsUS
			}
			words := r.Outlet + " (" + r.Use + ") is fluid category " + unit.Digits(float64(r.Category), 1) + "; it needs " + needs
			switch {
			case r.Has == "":
				answers = append(answers, rule.Lacks(r.Outlet, words+"; what is fitted is not known", "Outlets.Device"))
			case r.HasUpTo < r.Category:
				answers = append(answers, rule.Fails(r.Outlet, nil, nil, words+"; it has "+DeviceName(r.Has)+"."+checkText))
			default:
				answers = append(answers, rule.Passes(r.Outlet, nil, nil, words+"; it has "+DeviceName(r.Has)))
			}
		}
		switch {
		case len(f.Result.Backflow) == 0:
			return []rule.Answer{rule.Lacks("", "no point of use was named", "Outlets")}
		case len(answers) == 0:
			return []rule.Answer{rule.DoesNotApply("no outlet of this category was named")}
		}
		return answers
	}
}

func mendBackflow(t trier, a rule.Answer) (list []rule.Remedy) {
	in := t.in
	in.Outlets = append([]Outlet(nil), t.in.Outlets...)
	device := ""
	for i, row := range t.result.Backflow {
		if row.Outlet == a.Subject {
			device = row.Needs
			in.Outlets[i].Device = device
		}
	}
	t.try(&list, a.Subject, in, func(Result, rule.Answer) rule.Remedy {
		return rule.Remedy{Kind: "backflow-device", Words: "fit " + DeviceName(device) + " at " + a.Subject, Params: []rule.Param{{Name: "outlet", Text: a.Subject}, {Name: "device", Text: device}}}
	})
	return list
}

func judgePeak(f Facts) []rule.Answer {
	s := f.Result.Supply
	words := "the main sees " + litres(s.Needed) + " at once"
	if len(f.Result.Demand.PeakDraws) > 0 {
		words += " (" + joinNames(f.Result.Demand.PeakDraws) + " at the worst)"
	}
	if s.Capacity == 0 {
		return []rule.Answer{rule.Lacks("", words+"; bore and flow of the service pipe are not known", "Supply.Bore", "Supply.Flow")}
	}
	words += "; there is " + litres(s.Capacity) + " by " + s.CapacityBy
	if s.Needed > s.Capacity {
		return []rule.Answer{rule.Fails("", s.Needed, s.Capacity, words)}
	}
	return []rule.Answer{rule.Passes("", s.Needed, s.Capacity, words)}
}

// mendPeak tries a break tank that carries every draw, the draws one after the
// other, and a new service pipe.
func mendPeak(t trier, a rule.Answer) (list []rule.Remedy) {
	tank := t.in
	tank.Draws = append([]Draw(nil), t.in.Draws...)
	for i := range tank.Draws {
		tank.Draws[i].Break = true
	}
	if t.result.Supply.TankOK {
		v := roundUp(t.result.Supply.TankFull, 100)
		tank.Supply.Break = ptr(v)
		t.try(&list, a.Subject, tank, func(r Result, _ rule.Answer) rule.Remedy {
			return rule.Remedy{Kind: "break-tank", Words: "break tank of " + v.String() + " with a booster for " + litres(r.Demand.ProcessPeak) + " at " + r.Supply.BoosterHead.String() + "; the main then sees " + litres(r.Supply.Needed), Params: []rule.Param{{Name: "tank", Quantity: v}, {Name: "booster-flow", Quantity: r.Demand.ProcessPeak}, {Name: "booster-head", Quantity: r.Supply.BoosterHead}}}
		})
	}
	if staggered, ok := stagger(t.in); ok {
		t.try(&list, a.Subject, staggered, func(r Result, _ rule.Answer) rule.Remedy {
			return rule.Remedy{Kind: "stagger-draws", Words: "draw one after the other: the peak falls to " + litres(r.Supply.Needed), Params: []rule.Param{{Name: "peak", Quantity: r.Supply.Needed}}}
		})
	}
	larger := t.in
	larger.Supply.Bore, larger.Supply.Flow = ptr(t.result.Supply.PipeBore), nil
	t.try(&list, a.Subject, larger, func(r Result, _ rule.Answer) rule.Remedy {
		return rule.Remedy{Kind: "larger-service", Words: "ask the undertaker for a service of " + t.result.Supply.Pipe + " (bore " + t.result.Supply.PipeBore.String() + ") giving " + litres(r.Supply.Needed) + "; this takes weeks to months", Params: []rule.Param{{Name: "bore", Quantity: t.result.Supply.PipeBore}, {Name: "pipe", Text: t.result.Supply.Pipe}}}
	})
	return list
}

// stagger moves movable draws behind each other, in the order of their start,
// around those that are fixed. ok is false where they do not fit before midnight.
func stagger(in Input) (Input, bool) {
	out := in
	out.Draws = append([]Draw(nil), in.Draws...)
	free := unit.Duration(0)
	changed := false
	for _, i := range byStart(out.Draws) {
		d := &out.Draws[i]
		if d.Break {
			continue
		}
		if !d.Fixed && d.Start < free {
			d.Start = free
			changed = true
		}
		free = max(free, d.Start+d.Length)
	}
	return out, changed && free <= unit.Days(1)
}

func byStart(draws []Draw) []int {
	order := make([]int, len(draws))
	for i := range order {
		order[i] = i
		for j := i; j > 0 && draws[order[j]].Start < draws[order[j-1]].Start; j-- {
			order[j], order[j-1] = order[j-1], order[j]
		}
	}
	return order
}

func roundUp(v unit.Volume, litres float64) unit.Volume {
	n := int(v.L()/litres-1e-9) + 1
	return unit.Litres(float64(n) * litres)
}

func judgePressure(f Facts) []rule.Answer {
	s := f.Result.Supply
	need := unit.BarGauge(s.Need.Bar())
	if !s.StaticKnown {
		return []rule.Answer{rule.Lacks("", "how high the outlets lie above the boundary is not known; each metre takes 0.1 bar and the outlet needs "+need.String(), "Supply.Rise")}
	}
	if b := f.Input.Supply.Booster; b != nil {
		have := unit.BarGauge(b.Head.Bar() - s.Static.Bar() - s.Friction.Bar())
		words := "booster " + b.Name + " gives " + have.String() + " at the outlet; it needs " + need.String()
		if have < need {
			return []rule.Answer{rule.Fails("", need, have, words)}
		}
		return []rule.Answer{rule.Passes("", need, have, words)}
	}
	if !s.OutletKnown {
		return []rule.Answer{rule.Lacks("", "the pressure at the boundary is not known; height takes "+s.Static.String()+" and the outlet needs "+need.String(), "Supply.Pressure")}
	}
	words := "at the peak " + s.Outlet.String() + " are left at the outlet after height " + s.Static.String() + ", friction " + s.Friction.String() + " and meter " + s.Meter.String() + "; it needs " + need.String()
	if s.Outlet < need {
		return []rule.Answer{rule.Fails("", need, s.Outlet, words)}
	}
	return []rule.Answer{rule.Passes("", need, s.Outlet, words)}
}

func mendPressure(t trier, a rule.Answer) (list []rule.Remedy) {
	for _, b := range t.in.Supply.Boosters {
		if b.Flow < t.result.Demand.ProcessPeak {
			continue
		}
		in := t.in
		in.Supply.Booster = &b
		if t.try(&list, a.Subject, in, func(_ Result, ans rule.Answer) rule.Remedy {
			return rule.Remedy{Kind: "booster", Words: "break tank and booster " + b.Name + " (" + litres(b.Flow) + " at " + b.Head.String() + ")", Params: []rule.Param{{Name: "booster", Text: b.Name}}}
		}) {
			break
		}
	}
	if len(list) == 0 {
		in := t.in
		b := Booster{Name: "to be chosen", Flow: t.result.Demand.ProcessPeak, Head: unit.Bars(t.result.Supply.BoosterHead.Bar() * 1.05)}
		in.Supply.Booster = &b
		t.try(&list, a.Subject, in, func(Result, rule.Answer) rule.Remedy {
			return rule.Remedy{Kind: "booster", Words: "break tank and a booster of " + litres(b.Flow) + " at " + b.Head.String(), Params: []rule.Param{{Name: "flow", Quantity: b.Flow}, {Name: "head", Quantity: b.Head}}}
		})
	}
	if t.in.Supply.Bore == nil {
		return list
	}
	in := t.in
	in.Supply.Bore = ptr(max(t.result.Supply.PipeBore, *t.in.Supply.Bore))
	t.try(&list, a.Subject, in, func(r Result, _ rule.Answer) rule.Remedy {
		return rule.Remedy{Kind: "larger-service", Words: "a pipe of " + in.Supply.Bore.String() + " bore leaves " + r.Supply.Outlet.String(), Params: []rule.Param{{Name: "bore", Quantity: *in.Supply.Bore}}}
	})
	return list
}

func judgeHardness(f Facts) []rule.Answer {
	if f.Input.Heating == "" && !f.Input.Softener {
		return []rule.Answer{rule.Lacks("", "how water is heated is not known", "Heating")}
	}
	if f.Input.Heating != "electric" && f.Input.Heating != "steam" {
		return []rule.Answer{rule.DoesNotApply("no element and no steam generator boils water")}
	}
	limit := unit.MilligramsPerLitre(hardLimit)
	h := f.Input.Supply.Hardness
	switch {
	case f.Input.Softener:
		return []rule.Answer{rule.Passes("", nil, nil, "a softener is planned")}
	case h == nil:
		return []rule.Answer{rule.Lacks("", "the hardness is not known: ask the supplier's report", "Supply.Hardness")}
	case h.MgL() > hardLimit:
		return []rule.Answer{rule.Fails("", *h, limit, "hardness "+unit.Digits(h.MgL(), 4)+" mg/L as CaCO3 ("+unit.Digits(h.MgL()/degreeGerman, 3)+" German degrees), more than 200 mg/L")}
	}
	return []rule.Answer{rule.Passes("", *h, limit, "hardness "+unit.Digits(h.MgL(), 4)+" mg/L as CaCO3")}
}

// tankNeed is the break tank for the draws on it, at the flow the main has left.
func tankNeed(in Input, r Result) (unit.Volume, bool) {
	if r.Supply.Capacity == 0 {
		return 0, false
	}
	steps := make([]Step, len(r.Demand.Steps))
	for i, s := range r.Demand.Steps {
		steps[i] = Step{From: s.From, To: s.To}
		for _, j := range s.Draws {
			if r.Demand.Draws[j].Break {
				steps[i].Flow += r.Demand.Draws[j].Flow
			}
		}
	}
	v, ok := TankVolume(steps, refill(in, r.Demand, r.Supply.Capacity))
	return roundUp(v, 50), ok
}

// mendDay asks for a service pipe that brings the day's water, with its tank.
func mendDay(t trier, a rule.Answer) (list []rule.Remedy) {
	for i := range pePipes.Len() {
		mm, _ := pePipes.Number(i, "bore_mm")
		in := t.in
		in.Supply.Bore, in.Supply.Flow = ptr(unit.Millimetres(mm)), nil
		r, err := t.size(in)
		if err != nil {
			continue
		}
		need, ok := tankNeed(in, r)
		if !ok {
			continue
		}
		in.Supply.Break = ptr(need)
		if t.try(&list, a.Subject, in, func(Result, rule.Answer) rule.Remedy {
			return rule.Remedy{Kind: "larger-service", Words: "a service of PE " + pePipes.Text(i, "outside_mm") + " mm with a break tank of " + need.String(), Params: []rule.Param{{Name: "bore", Quantity: unit.Millimetres(mm)}, {Name: "tank", Quantity: need}}}
		}) {
			return list
		}
	}
	return list
}

func judgeTank(f Facts) []rule.Answer {
	if f.Result.Demand.TankFlow == 0 {
		return []rule.Answer{rule.DoesNotApply("nothing draws from a break tank")}
	}
	if f.Result.Supply.Capacity == 0 {
		return []rule.Answer{rule.Lacks("", "the flow that fills the break tank is not known", "Supply.Flow")}
	}
	need, ok := tankNeed(f.Input, f.Result)
	if !ok {
		return []rule.Answer{rule.Fails("", f.Result.Demand.Day, unit.CubicMetres(f.Result.Supply.Capacity.M3S()*86400), "the day draws more than the main brings in 24 hours; no tank helps")}
	}
	have := f.Input.Supply.Break
	if have == nil {
		return []rule.Answer{rule.Fails("", need, unit.Volume(0), "draws come from a break tank but none is chosen; it takes "+need.String())}
	}
	words := "break tank " + have.String() + ", needed " + need.String()
	if *have < need {
		return []rule.Answer{rule.Fails("", need, *have, words)}
	}
	return []rule.Answer{rule.Passes("", need, *have, words)}
}
