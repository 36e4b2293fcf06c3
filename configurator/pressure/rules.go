package pressure

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

const checkText = " Check the current text; a competent person decides."

// judgement looks at one vessel without trying remedies.
type judgement func(v Vessel, r VesselResult, rows []Row) rule.Answer

// mending changes a copy of the vessel and says what it did; false leaves it out.
type mending struct {
	kind   string
	change func(v *Vessel, r VesselResult) (words string, params []rule.Param, ok bool)
}

// eachVessel puts a judgement to every vessel and tries the remedies of failures.
func eachVessel(none string, judge judgement, mends ...mending) func(Facts) []rule.Answer {
	return func(f Facts) []rule.Answer {
		var answers []rule.Answer
		for i, v := range f.Input.Vessels {
			res := f.Result.Vessels[i]
			a := judge(v, res, rowsOf(f.Result, res))
			if a.Outcome == rule.NotApplicable {
				continue
			}
			a.Subject = v.Tag
			if a.Outcome == rule.Fail {
				a.Remedies = tryAll(f, i, judge, mends)
			}
			answers = append(answers, a)
		}
		if len(answers) == 0 {
			return []rule.Answer{rule.DoesNotApply(none)}
		}
		return answers
	}
}

func rowsOf(r Result, v VesselResult) []Row {
	if len(v.Register) == 0 {
		return nil
	}
	return r.Register[v.Register[0] : v.Register[len(v.Register)-1]+1]
}

// tryAll changes one vessel, sizes it again and keeps what passes.
func tryAll(f Facts, i int, judge judgement, mends []mending) (list []rule.Remedy) {
	for _, m := range mends {
		v := f.Input.Vessels[i]
		words, params, ok := m.change(&v, f.Result.Vessels[i])
		if !ok {
			continue
		}
		r, err := Size(Input{Country: f.Input.Country, Vessels: []Vessel{v}})
		if err != nil {
			continue
		}
		a := judge(v, r.Vessels[0], r.Register)
		if a.Outcome == rule.Pass || a.Outcome == rule.NotApplicable {
			list = append(list, rule.Remedy{Kind: m.kind, Words: words, Need: a.Need, Have: a.Have, Params: append([]rule.Param{{Name: "vessel", Text: v.Tag}}, params...)})
		}
	}
	return list
}

func ptr[T any](v T) *T { return &v }

// Rules lists the checks of the discipline in print order.
func Rules() []rule.Rule[Facts] {
	return []rule.Rule[Facts]{
		{
			ID: "PR-001", Severity: rule.Warning, Title: "PS or total volume of a vessel is not known",
			Why:      "Without them nobody can tell the category, and a vessel may stand in the brewery that must not be used.",
			Compares: "PS and total inside volume told by the maker, against estimates", Source: ped.At("Art. 4(1)"), Law: abroad(thresholdsAbroad),
			Check: eachVessel("no vessel is under pressure", judgeKnown),
		},
		{
			ID: "PR-002", Severity: rule.Blocker, Title: "A vessel of category II or above comes without its papers",
			Why:      "It must not be put into service; insurer and inspector refuse it, and nobody can make the papers later.",
			Compares: "declaration and body's certificate promised by the maker, where PS·V asks for a body", Source: pesr.At("Sch. 1B para 1"), Law: abroad(placingAbroad),
			Check: eachVessel("no vessel needs a notified or approved body", judgePapers, mending{"demand-papers", mendPapers}),
		},
		{
			ID: "PR-003", Severity: rule.Warning, Title: "A vessel of category I comes without a declaration of conformity",
			Why:      "It may not bear its mark and not be sold.",
			Compares: "declaration of conformity promised by the maker", Source: pesr.At("Sch. 1B para 1"), Law: abroad(placingAbroad),
			Check: eachVessel("no vessel is of category I", judgeDeclaration, mending{"demand-papers", mendPapers}),
		},
		{
			ID: "PR-004", Severity: rule.Warning, Title: "A verdict hangs on the 4 bar line, which is not confirmed",
			Why:      "If the line does not hold the vessel is category IV and its certificate is of the wrong module.",
			Compares: "PS·V above 3000 bar·L at PS up to 4 bar, against a certificate that settles it", Source: annex("Annex II Table 2"), Law: abroad(thresholdsAbroad),
			Check: eachVessel("no vessel lies beyond 3000 bar·L", judgeLine, mending{"confirm-line", mendPapers}),
		},
		{
			ID: "PR-005", Severity: rule.Warning, Title: "Gas supply can pass the vessel's PS and no relief is sized for it",
			Why:      "A regulator that fails open puts the cylinder's pressure on a thin tank.",
			Compares: "highest pressure of the gas supply against PS, and the valve's area against the regulator's flow", Source: annexI, Law: abroad(reliefAbroad),
			Check: eachVessel("no gas is connected to a vessel", judgeSupply, mending{"limit-supply", mendSupply}, mending{"size-relief", mendRelief}),
		},
		{
			ID: "PR-006", Severity: rule.Blocker, Title: "The relief valve is set above PS or too small",
			Why:      "It opens too late or lets too little out; the tank bursts or its manway flies.",
			Compares: "set pressure against PS, and flow area against the largest case", Source: annexI, Law: abroad(reliefAbroad),
			Check: eachVessel("no relief valve is needed", judgeRelief, mending{"size-relief", mendRelief}),
		},
		{
			ID: "PR-012", Severity: rule.Blocker, Title: "The steam supply can pass the PS of a jacket",
			Why:      "The jacket tears open beside whoever stirs the kettle, and lets steam into the room.",
			Compares: "highest pressure of the steam supply against the jacket's PS, and a reducing valve with a relief valve behind it", Source: annexI, Law: abroad(reliefAbroad),
			Check: eachVessel("no jacket is heated by steam", judgeSteamSupply, mending{"reduce-steam", mendSteam}),
		},
		{
			ID: "PR-007", Fills: "vacuum valve", Severity: rule.Blocker, Title: "The tank can be sucked in and has no vacuum relief",
			Why:      "A cold rinse after a hot clean, caustic in carbon dioxide or a pump crushes a tank in seconds.",
			Compares: "hot cleaning, caustic with carbon dioxide or pumping out, against a vacuum valve of the area needed", Source: source.Derivation("cooling from 70 to 15 °C leaves 0.6 bar absolute in a shut tank"),
			Check: eachVessel("no tank can be sucked in as used", judgeVacuum, mending{"fit-vacuum-valve", mendVacuum}, mending{"rinse-in-steps", mendRinse}, mending{"clean-cold", mendCold}),
		},
		{
			ID: "PR-008", Severity: rule.Notice, Title: "The examination before first pressure is not in the plan",
			Why:      "Without it the equipment must not be used; ordered after start-up, it holds the first brew up for weeks.",
			Compares: "steam, or gas of 250 bar·L and more (by the law of the country), against a written scheme or inspection in the plan", Source: pssr.At("reg. 8"), Law: abroad(schemeAbroad),
			Check: checkScheme,
		},
		{
			ID: "PR-009", Fills: "rating of the tank", Severity: rule.Warning, Title: "The tank's PS is too low for carbonated beer",
			Why:      "The beer loses its gas through the relief valve, or the valve is screwed down.",
			Compares: "equilibrium pressure of the beer at its warmest against PS", Source: asbc.Recalled("carbonation table"),
			Check: eachVessel("no carbonated beer is kept", judgeCarbonation, mending{"keep-colder", mendColder}, mending{"higher-ps", mendHigherPS}, mending{"carbonate-less", mendFlatter}),
		},
		{
			ID: "PR-010", Severity: rule.Notice, Title: "A vessel of sound engineering practice bears a pressure equipment mark",
			Why:      "The mark is not allowed on it; it shows that the maker does not know the rules.",
			Compares: "mark on the vessel against category SEP", Source: pesr.At("reg. 8, Sch. 1B"), Law: abroad(markAbroad),
			Check: eachVessel("no vessel of sound engineering practice is marked", judgeMark, mending{"remove-mark", func(v *Vessel, _ VesselResult) (string, []rule.Param, bool) {
				v.Papers.Marked = ptr(false)
				return "have the maker leave the mark off and state sound engineering practice, Art. 4(3)", nil, true
			}}),
		},
		{
			ID: "PR-011", Severity: rule.Warning, Title: "A fluid of group 1 is outside this tool",
			Why:      "Flammable and toxic refrigerants fall under stricter tables.",
			Compares: "fluid group against 2", Source: decree.At("Art. 13"),
			Check: eachVessel("no fluid of group 1", func(_ Vessel, _ VesselResult, rows []Row) rule.Answer {
				for _, r := range rows {
					if r.Verdict.Category == Spec {
						return rule.Lacks("", r.Verdict.Words, "Vessels.Contents")
					}
				}
				return rule.DoesNotApply("")
			}),
		},
	}
}

func judgeKnown(v Vessel, _ VesselResult, rows []Row) rule.Answer {
	if !underPressure(v) {
		return rule.DoesNotApply("")
	}
	for _, r := range rows {
		if r.Unknown != "" {
			return rule.Lacks("", r.Chamber+": "+r.Unknown, "Vessels.PS", "Vessels.Volume")
		}
		if r.Assumed {
			return rule.Lacks("", "volume "+r.Volume.String()+" is estimated as 1.25 times the working volume; ask the maker", "Vessels.Volume")
		}
	}
	return rule.Passes("", nil, nil, "PS and volume are told by the maker")
}

func judgePapers(v Vessel, _ VesselResult, rows []Row) rule.Answer {
	for _, r := range rows {
		if r.Verdict.Category.rank() < II.rank() || r.Verdict.Category == Spec {
			continue
		}
		words := r.Chamber + " is " + r.Verdict.Text() + " (" + unit.In(r.PV, "bar_l", 0) + "): " + r.Consequence.Papers
		need, have := unit.Quantity(r.PV), unit.Quantity(unit.BarLitres(t2I))
		if r.Verdict.Category == Code { // by pressure alone
			need, have = nil, nil
		}
		switch {
		case v.Papers.Conformity == nil || v.Papers.Body == nil:
			return rule.Lacks("", words+"; what the maker gives is not known", "Vessels.Papers")
		case !*v.Papers.Conformity || !*v.Papers.Body:
			return rule.Fails("", need, have, words+"; the maker does not promise them."+checkText)
		}
		return rule.Passes("", need, need, words+"; promised")
	}
	return unsettled(rows)
}

// unsettled answers where no chamber of a vessel is of the category asked for: one whose
// category cannot be told may be.
func unsettled(rows []Row) rule.Answer {
	for _, r := range rows {
		if r.Unknown != "" {
			return rule.Lacks("", "the category of the "+r.Chamber+" cannot be told: "+r.Unknown, "Vessels.PS", "Vessels.Volume")
		}
	}
	return rule.DoesNotApply("")
}

func mendPapers(v *Vessel, _ VesselResult) (string, []rule.Param, bool) {
	v.Papers.Conformity, v.Papers.Body = ptr(true), ptr(true)
	return "make these papers a condition of the order, or take another maker", nil, true
}

func judgeDeclaration(v Vessel, _ VesselResult, rows []Row) rule.Answer {
	for _, r := range rows {
		if r.Verdict.Category != I {
			continue
		}
		switch {
		case v.Papers.Conformity == nil:
			return rule.Lacks("", r.Chamber+" is category I; whether a declaration comes is not known", "Vessels.Papers.Conformity")
		case !*v.Papers.Conformity:
			return rule.Fails("", nil, nil, r.Chamber+" is category I: "+r.Consequence.Papers+"; the maker does not promise it."+checkText)
		}
		return rule.Passes("", nil, nil, r.Chamber+" is category I; the declaration is promised")
	}
	return unsettled(rows)
}

func judgeLine(v Vessel, _ VesselResult, rows []Row) rule.Answer {
	for _, r := range rows {
		if r.Verdict.Alternative == "" {
			continue
		}
		words := "PS·V " + unit.In(r.PV, "bar_l", 0) + " at " + r.PS.String() + ": " + r.Verdict.Text()
		switch {
		case v.Papers.Body == nil:
			return rule.Lacks("", words+"; whether a body's certificate settles it is not known", "Vessels.Papers.Body")
		case *v.Papers.Body:
			return rule.Passes("", nil, nil, "the body's certificate settles the module")
		}
		return rule.Fails("", r.PV, unit.BarLitres(t2III), words+"."+checkText)
	}
	return unsettled(rows)
}

func checkScheme(f Facts) []rule.Answer {
	due, open, what := "", "", schemeWords(f.Input.Country)
	for _, r := range f.Result.Register {
		if r.Unknown != "" {
			open = r.Tag + " (" + r.Chamber + "): " + r.Unknown
		}
		if r.InUse.Scheme {
			if due != "" {
				due += ", "
			}
			due += r.Tag + " (" + r.Chamber + ", " + unit.In(r.PV, "bar_l", 0) + ")"
		}
	}
	switch {
	case due == "" && open != "":
		return []rule.Answer{rule.Lacks("", "whether "+what+" is due cannot be told: "+open, "Vessels.PS", "Vessels.Volume")}
	case due == "":
		return []rule.Answer{rule.DoesNotApply("nothing needs " + what)}
	case f.Input.Scheme == nil:
		return []rule.Answer{rule.Lacks("", what+" is due for "+due+"; whether it is in the plan is not known", "Scheme")}
	case !*f.Input.Scheme:
		return []rule.Answer{rule.Fails("", nil, nil, what+" is due for "+due+"; not in the plan."+checkText, rule.Remedy{Kind: "plan-scheme", Words: "put " + what + " by a competent person or body into the plan, with the first examination before first pressure; allow 4 weeks"})}
	}
	return []rule.Answer{rule.Passes("", nil, nil, what+" is in the plan for "+due)}
}

func judgeMark(v Vessel, r VesselResult, rows []Row) rule.Answer {
	if r.Overall.rank() > SEP.rank() {
		return rule.DoesNotApply("")
	}
	if a := unsettled(rows); a.Outcome == rule.Unknown {
		return a
	}
	switch {
	case r.Overall != SEP:
		return rule.DoesNotApply("")
	case v.Papers.Marked == nil:
		return rule.Lacks("", "of sound engineering practice; whether the maker marks it is not known", "Vessels.Papers.Marked")
	case *v.Papers.Marked:
		return rule.Fails("", nil, nil, "the vessel is of sound engineering practice and must not bear a mark for pressure equipment."+checkText)
	}
	return rule.Passes("", nil, nil, "no mark on a vessel of sound engineering practice")
}
