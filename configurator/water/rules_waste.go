package water

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

func wasteRules() []rule.Rule[Facts] {
	return []rule.Rule[Facts]{
		{
			ID: "WA-020", Severity: rule.Blocker, Title: "No leave to discharge trade effluent is in the plan",
			Why:      "Discharging without it is an offence; the authority can stop the brewery on its first day.",
			Compares: "trade effluent consent or licence held or planned, against none", Source: wia.At("ss. 118-119"), Law: abroad(consentAbroad),
			Check: check(wastePart, judgeConsent, func(t trier, a rule.Answer) (list []rule.Remedy) {
				in := t.in
				in.Consent.Planned = ptr(true)
				t.try(&list, a.Subject, in, func(r Result, _ rule.Answer) rule.Remedy {
					return rule.Remedy{Kind: "plan-consent", Words: "apply for " + r.Waste.Day.String() + " a day at up to " + litres(r.Waste.Released) + "; allow 8 to 16 weeks", Params: []rule.Param{{Name: "day", Quantity: r.Waste.Day}, {Name: "rate", Quantity: r.Waste.Released}}}
				})
				return list
			}),
		},
		{
			ID: "WA-021", Fills: "gully", Severity: rule.Warning, Title: "A gully takes less than what is dumped into it",
			Why:      "Hot or caustic water stands on the floor and finds its own way, also downstairs.",
			Compares: "two fastest dumps into the gully against its flow", Source: en12056.At("Table 2, 6.3"),
			Check: check(wastePart, judgeGullies, mendGully),
		},
		{
			ID: "WA-022", Fills: "drain", Severity: rule.Warning, Title: "A drain pipe takes less than what runs into it",
			Why:      "The lowest gully floods.",
			Compares: "two fastest dumps with the sanitary flow against the part-full pipe", Source: en12056.At("annex B"),
			Check: check(wastePart, judgeDrains, mendDrain),
		},
		{
			ID: "WA-023", Severity: rule.Warning, Title: "Waste is too hot or its pH out of range",
			Why:      "It breaks the consent, softens plastic pipe and harms people in the sewer.",
			Compares: "temperature and pH of what reaches the sewer against the consent, or 43 °C and pH 6 to 10, in Germany 35 °C and pH 6.5 to 10", Source: sewer, Law: abroad(sewerAbroad),
			Check: check(wastePart, judgeHot, mendHot),
		},
		{
			ID: "WA-024", Severity: rule.Warning, Title: "Yeast and trub go to the drain",
			Why:      "They carry two to four times the load of all other waste.",
			Compares: "way of yeast and trub: drain against side stream", Source: source.Practice("yeast and trub to the drain double to quadruple the load"),
			Check: check(wastePart, judgeYeast, func(t trier, a rule.Answer) (list []rule.Remedy) {
				in := t.in
				in.Yeast = "side-stream"
				t.try(&list, a.Subject, in, func(r Result, _ rule.Answer) rule.Remedy {
					return rule.Remedy{Kind: "side-stream", Words: "keep yeast, trub and last runnings in a tank for feed or tanker: " + r.Waste.COD.String() + " COD a day instead of " + t.result.Waste.COD.String(), Need: r.Waste.COD, Have: t.result.Waste.COD, Params: []rule.Param{{Name: "cod", Quantity: r.Waste.COD}}}
				})
				return list
			}),
		},
		{
			ID: "WA-025", Fills: "consent", Severity: rule.Warning, Title: "The waste passes the consent's volume, rate or strength", DependsOn: []string{"WA-020"},
			Why:      "A consent broken is prosecuted.",
			Compares: "volume in a day, rate and mean COD against the consent", Source: wia.At("ss. 118-119"), Law: abroad(consentAbroad),
			Check: check(wastePart, judgeLimits, mendLimits),
		},
		{
			ID: "WA-026", Fills: "balance tank", Severity: rule.Warning, Title: "The balance tank is smaller than the largest dump",
			Why:      "What it should mix and hold overflows.",
			Compares: "balance tank against the largest dump that is led through it", Source: source.Practice("balance tank at least the largest dump"),
			Check: check(wastePart, judgeBalance, func(t trier, a rule.Answer) (list []rule.Remedy) {
				in := t.in
				in.Balance = ptr(roundUp(largestHeld(t.result), 100))
				t.try(&list, a.Subject, in, func(Result, rule.Answer) rule.Remedy {
					return rule.Remedy{Kind: "balance-tank", Words: "balance tank of " + in.Balance.String(), Params: []rule.Param{{Name: "tank", Quantity: *in.Balance}}}
				})
				return list
			}),
		},
		{
			ID: "WA-027", Severity: rule.Warning, Title: "A grating is too weak for what rolls over it",
			Why:      "It bends, rocks and tears the floor; a stacker's wheel drops in.",
			Compares: "load class of the grating against the traffic", Source: en1253.Recalled("load classes"),
			Check: check(wastePart, judgeGrating, func(t trier, a rule.Answer) (list []rule.Remedy) {
				in := t.in
				in.Gullies = append([]Gully(nil), t.in.Gullies...)
				class := ""
				for i, g := range t.result.Gullies {
					if g.Name == a.Subject {
						class = g.Needs
						in.Gullies[i].Class = class
					}
				}
				t.try(&list, a.Subject, in, func(Result, rule.Answer) rule.Remedy {
					return rule.Remedy{Kind: "grating-class", Words: "grating of class " + class + "; one more for hard pallet-truck wheels", Params: []rule.Param{{Name: "gully", Text: a.Subject}, {Name: "class", Text: class}}}
				})
				return list
			}),
		},
	}
}

var sewer = source.Doc{ID: "Public Health Act 1936", Title: "Public Health Act 1936"}.Recalled("s. 27; pH as water companies' consents")

func judgeConsent(f Facts) []rule.Answer {
	if len(f.Input.Discharges) == 0 {
		return []rule.Answer{rule.Lacks("", "no discharge was named", "Discharges")}
	}
	name := consentName(f.Input.Country)
	switch p := f.Input.Consent.Planned; {
	case p == nil:
		return []rule.Answer{rule.Lacks("", "whether a "+name+" is held or planned is not known", "Consent.Planned")}
	case !*p:
		return []rule.Answer{rule.Fails("", nil, nil, "no "+name+" is held or planned."+checkText)}
	}
	return []rule.Answer{rule.Passes("", nil, nil, "a "+name+" is held or planned."+checkText)}
}

func consentName(c Country) string {
	switch c {
	case IE:
		return "trade effluent licence (Local Government (Water Pollution) Acts s. 16)"
	case DE:
		return "permit for indirect discharge (WHG s. 58, municipal by-law; from memory)"
	case US:
		return "local pretreatment permit (40 CFR 403; from memory)"
	}
	return "trade effluent consent (Water Industry Act 1991 s. 118)"
}

func judgeGullies(f Facts) []rule.Answer {
	answers := make([]rule.Answer, 0, len(f.Result.Gullies))
	for _, g := range f.Result.Gullies {
		words := g.Size + " takes " + litres(g.Capacity) + " (" + g.From + "), " + litres(g.Inflow) + " run in"
		if len(g.Names) > 0 {
			words += " from " + joinNames(g.Names)
		}
		switch {
		case g.Inflow > g.Capacity:
			answers = append(answers, rule.Fails(g.Name, g.Inflow, g.Capacity, words))
		case !g.Known:
			answers = append(answers, rule.Lacks(g.Name, words+"; of some streams the rate is not known", "Discharges.Flow"))
		default:
			answers = append(answers, rule.Passes(g.Name, g.Inflow, g.Capacity, words))
		}
	}
	if len(answers) == 0 {
		return []rule.Answer{rule.Lacks("", "no gully was named", "Gullies")}
	}
	return answers
}

// mendGully tries throttled dumps and the next larger gully.
func mendGully(t trier, a rule.Answer) (list []rule.Remedy) {
	at := -1
	for i, g := range t.result.Gullies {
		if g.Name == a.Subject {
			at = i
		}
	}
	g := t.result.Gullies[at]
	t.throttle(&list, a.Subject, g.Capacity, func(d Discharge) bool { return d.Gully == a.Subject })
	for _, size := range []string{"DN70", "DN100"} {
		du, err := DischargeUnits("floor gully "+size, "I")
		if err != nil || du < g.Inflow {
			continue
		}
		larger := t.in
		larger.Gullies = append([]Gully(nil), t.in.Gullies...)
		larger.Gullies[at].Size, larger.Gullies[at].Flow = size, nil
		if t.try(&list, a.Subject, larger, func(Result, rule.Answer) rule.Remedy {
			return rule.Remedy{Kind: "larger-gully", Words: "gully " + size + " with " + litres(du), Params: []rule.Param{{Name: "gully", Text: a.Subject}, {Name: "size", Text: size}}}
		}) {
			break
		}
	}
	channel := t.in
	channel.Gullies = append([]Gully(nil), t.in.Gullies...)
	channel.Gullies[at].Flow = ptr(unit.LitresPerSecond(g.Inflow.LS() * 1.1))
	t.try(&list, a.Subject, channel, func(Result, rule.Answer) rule.Remedy {
		return rule.Remedy{Kind: "drain-channel", Words: "a channel with an outlet tested for " + litres(*channel.Gullies[at].Flow), Params: []rule.Param{{Name: "gully", Text: a.Subject}, {Name: "flow", Quantity: *channel.Gullies[at].Flow}}}
	})
	return list
}

// throttle tries every dump into a gully or drain held to half of what it takes, so
// that any two can run together. Dumps of unknown rate are throttled too.
func (t trier) throttle(list *[]rule.Remedy, subject string, capacity unit.VolumeFlow, into func(Discharge) bool) {
	each := unit.M3PerSecond(capacity.M3S() / 2)
	in := t.in
	in.Discharges = append([]Discharge(nil), t.in.Discharges...)
	for i, d := range in.Discharges {
		if q := t.result.Waste.Streams[i].Flow; into(d) && (q == 0 || q > each) {
			in.Discharges[i].Flow = each
		}
	}
	t.try(list, subject, in, func(Result, rule.Answer) rule.Remedy {
		return rule.Remedy{Kind: "throttle-dumps", Words: "throttle each dump into " + subject + " to " + litres(each), Params: []rule.Param{{Name: "into", Text: subject}, {Name: "flow", Quantity: each}}}
	})
}

func judgeDrains(f Facts) []rule.Answer {
	answers := make([]rule.Answer, 0, len(f.Result.Drains))
	for _, d := range f.Result.Drains {
		words := "bore " + d.Bore.String() + " at " + d.Gradient.String() + ", " + d.Filling.String() + " full takes " + litres(d.Capacity) + " (" + d.Velocity.String() + "); " + litres(d.Inflow) + " run in"
		switch {
		case d.Inflow > d.Capacity:
			answers = append(answers, rule.Fails(d.Name, d.Inflow, d.Capacity, words))
		case !d.Known:
			answers = append(answers, rule.Lacks(d.Name, words+"; of some streams the rate is not known", "Discharges.Flow"))
		default:
			answers = append(answers, rule.Passes(d.Name, d.Inflow, d.Capacity, words))
		}
	}
	if len(answers) == 0 {
		return []rule.Answer{rule.Lacks("", "no drain pipe was named", "Drains")}
	}
	return answers
}

func mendDrain(t trier, a rule.Answer) (list []rule.Remedy) {
	at := -1
	for i, d := range t.result.Drains {
		if d.Name == a.Subject {
			at = i
		}
	}
	d := t.result.Drains[at]
	t.throttle(&list, a.Subject, d.Capacity, func(x Discharge) bool { return x.Drain == a.Subject || drainOf(t.in, x.Gully) == a.Subject })
	if d.Proposed != "" {
		in := t.in
		in.Drains = append([]Drain(nil), t.in.Drains...)
		in.Drains[at].Size, in.Drains[at].Bore = d.Proposed, 0
		t.try(&list, a.Subject, in, func(r Result, _ rule.Answer) rule.Remedy {
			return rule.Remedy{Kind: "larger-drain", Words: d.Proposed + " at the same fall takes " + litres(r.Drains[at].Capacity), Params: []rule.Param{{Name: "drain", Text: a.Subject}, {Name: "size", Text: d.Proposed}}}
		})
	}
	for _, fall := range []float64{1.5, 2, 2.5, 3} {
		if fall <= d.Gradient.Pct() {
			continue
		}
		in := t.in
		in.Drains = append([]Drain(nil), t.in.Drains...)
		in.Drains[at].Gradient = unit.Percent(fall)
		if t.try(&list, a.Subject, in, func(r Result, _ rule.Answer) rule.Remedy {
			return rule.Remedy{Kind: "steeper-drain", Words: "fall of " + unit.Percent(fall).String() + " takes " + litres(r.Drains[at].Capacity), Params: []rule.Param{{Name: "drain", Text: a.Subject}, {Name: "gradient", Quantity: unit.Percent(fall)}}}
		}) {
			break
		}
	}
	return list
}

func judgeHot(f Facts) []rule.Answer {
	if len(f.Result.Waste.Streams) == 0 {
		return []rule.Answer{rule.Lacks("", "no discharge was named", "Discharges")}
	}
	var answers []rule.Answer
	for _, row := range f.Result.Waste.Consent {
		if row.Parameter != "Highest temperature" && row.Parameter != "Highest pH" && row.Parameter != "Lowest pH" {
			continue
		}
		words := row.Parameter + " to the sewer is " + figure(row.Have) + ", the limit " + figure(row.Limit) + " (" + row.Words + ")"
		if row.OK {
			answers = append(answers, rule.Passes(row.Parameter, row.Have, row.Limit, words))
		} else {
			answers = append(answers, rule.Fails(row.Parameter, row.Have, row.Limit, words+"."+checkText))
		}
	}
	return answers
}

// mendHot tries to hold everything that is out of range in a balance tank, alone
// or with all other waste; and to cool or neutralise each stream before it leaves.
func mendHot(t trier, a rule.Answer) (list []rule.Remedy) {
	hold := t.in
	hold.Discharges = append([]Discharge(nil), t.in.Discharges...)
	for i := range hold.Discharges {
		hold.Discharges[i].Held = true
	}
	hold.Balance = ptr(roundUp(t.result.Waste.BalanceNeed, 100))
	t.try(&list, a.Subject, hold, func(_ Result, ans rule.Answer) rule.Remedy {
		return rule.Remedy{Kind: "balance-tank", Words: "lead all process waste through a balance tank of " + hold.Balance.String() + ": " + a.Subject + " becomes " + figure(ans.Need), Params: []rule.Param{{Name: "tank", Quantity: *hold.Balance}}}
	})
	treat := t.in
	treat.Discharges = append([]Discharge(nil), t.in.Discharges...)
	cold := unit.Volume(0)
	limit, low, high := t.in.consentLimits()
	for i, s := range t.result.Waste.Streams {
		if s.Side {
			continue
		}
		d := &treat.Discharges[i]
		if s.Temp > limit {
			d.Temp = ptr(limit)
			d.Volume += s.Blend
			cold += unit.CubicMetres(s.Blend.M3() * float64(max(d.Times, 1)))
		}
		if s.PH < low || s.PH > high {
			d.PH = ptr((low + high) / 2)
		}
	}
	t.try(&list, a.Subject, treat, func(_ Result, ans rule.Answer) rule.Remedy {
		if a.Subject == "Highest temperature" {
			return rule.Remedy{Kind: "blend-cold", Words: "blend each hot dump with cold water to " + limit.String() + ": " + cold.String() + " a day", Params: []rule.Param{{Name: "cold-water", Quantity: cold}}}
		}
		return rule.Remedy{Kind: "neutralise", Words: "hold caustic and acid, neutralise to " + figure(low) + " to " + unit.Digits(high.PH(), 3) + " and measure before letting go: " + a.Subject + " becomes " + figure(ans.Need)}
	})
	return list
}

func judgeYeast(f Facts) []rule.Answer {
	switch f.Input.Yeast {
	case "":
		return []rule.Answer{rule.Lacks("", "where yeast and trub go is not settled", "Yeast")}
	case "drain":
		return []rule.Answer{rule.Fails("", nil, nil, "yeast and trub go to the drain: the day's COD is "+f.Result.Waste.COD.String())}
	}
	return []rule.Answer{rule.Passes("", nil, nil, "yeast and trub are kept from the drain; the day's COD is "+f.Result.Waste.COD.String())}
}

func judgeLimits(f Facts) []rule.Answer {
	var answers []rule.Answer
	for _, row := range f.Result.Waste.Consent {
		if row.Parameter != "Volume in a day" && row.Parameter != "Highest rate" && row.Parameter != "COD, mean of the day" {
			continue
		}
		words := row.Parameter + ": " + figure(row.Have)
		switch {
		case !row.Known:
			answers = append(answers, rule.Lacks(row.Parameter, words+"; the consent's figure is not known", "Consent"))
		case row.OK:
			answers = append(answers, rule.Passes(row.Parameter, row.Have, row.Limit, words+", consent "+figure(row.Limit)))
		default:
			answers = append(answers, rule.Fails(row.Parameter, row.Have, row.Limit, words+", consent "+figure(row.Limit)))
		}
	}
	return answers
}

func mendLimits(t trier, a rule.Answer) (list []rule.Remedy) {
	hold := t.in
	hold.Discharges = append([]Discharge(nil), t.in.Discharges...)
	for i := range hold.Discharges {
		hold.Discharges[i].Held = true
	}
	hold.Balance = ptr(roundUp(t.result.Waste.BalanceNeed, 100))
	t.try(&list, a.Subject, hold, func(r Result, _ rule.Answer) rule.Remedy {
		return rule.Remedy{Kind: "balance-tank", Words: "balance tank of " + hold.Balance.String() + " let go over the day at " + litres(r.Waste.Released), Params: []rule.Param{{Name: "tank", Quantity: *hold.Balance}}}
	})
	side := t.in
	side.Yeast = "side-stream"
	t.try(&list, a.Subject, side, func(r Result, _ rule.Answer) rule.Remedy {
		return rule.Remedy{Kind: "side-stream", Words: "keep yeast, trub and last runnings from the drain: " + r.Waste.Day.String() + " with a mean COD of " + r.Waste.MeanCOD.String()}
	})
	ask := t.in
	switch a.Subject {
	case "Volume in a day":
		ask.Consent.MaxDay = ptr(t.result.Waste.Day)
	case "Highest rate":
		ask.Consent.MaxRate = ptr(t.result.Waste.Released)
	default:
		ask.Consent.MaxCOD = ptr(t.result.Waste.MeanCOD)
	}
	t.try(&list, a.Subject, ask, func(Result, rule.Answer) rule.Remedy {
		return rule.Remedy{Kind: "higher-consent", Words: "ask for a consent of " + figure(a.Need) + " (" + a.Subject + ")"}
	})
	return list
}

func largestHeld(r Result) unit.Volume {
	v := unit.Volume(0)
	for _, s := range r.Waste.Streams {
		if s.Held && !s.Side {
			v = max(v, s.Each)
		}
	}
	return v
}

func judgeBalance(f Facts) []rule.Answer {
	need := largestHeld(f.Result)
	if need == 0 {
		return []rule.Answer{rule.DoesNotApply("nothing is led through a balance tank")}
	}
	if f.Input.Balance == nil {
		return []rule.Answer{rule.Fails("", need, unit.Volume(0), "streams are to be held but no balance tank is chosen")}
	}
	words := "balance tank " + f.Input.Balance.String() + ", largest dump " + need.String()
	if *f.Input.Balance < need {
		return []rule.Answer{rule.Fails("", need, *f.Input.Balance, words)}
	}
	return []rule.Answer{rule.Passes("", need, *f.Input.Balance, words)}
}

func judgeGrating(f Facts) []rule.Answer {
	var answers []rule.Answer
	for _, g := range f.Result.Gullies {
		if g.Needs == "" {
			answers = append(answers, rule.Lacks(g.Name, "what rolls over the grating is not known", "Gullies.Traffic"))
			continue
		}
		words := "the traffic asks for class " + g.Needs
		switch have := classRank(g.Class); {
		case g.Class == "":
			answers = append(answers, rule.Lacks(g.Name, words+"; the grating's class is not known", "Gullies.Class"))
		case have < classRank(g.Needs):
			answers = append(answers, rule.Fails(g.Name, nil, nil, words+", the grating has "+g.Class))
		default:
			answers = append(answers, rule.Passes(g.Name, nil, nil, words+", the grating has "+g.Class))
		}
	}
	if len(answers) == 0 {
		return []rule.Answer{rule.Lacks("", "no gully was named", "Gullies")}
	}
	return answers
}

func classRank(class string) float64 {
	row, ok := loadClasses.Find("class", class)
	if !ok {
		return 0
	}
	n, _ := loadClasses.Number(row, "rank")
	return n
}
