package haccp

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// Rules lists the checks of the discipline in print order.
func Rules() []rule.Rule[Facts] {
	return []rule.Rule[Facts]{
		{
			ID: "HA-001", Severity: rule.Warning, Title: "A beer of low alcohol has no kill step",
			Why:      "Without alcohol and with a high pH, germs that make people ill can grow in the pack.",
			Compares: "alcohol below 2.5 % against pasteurisation or a pH of at most 4.2", Source: source.Practice("kill step or validated pH for low and no alcohol beer"),
			Check: perBeer(judgeLowAlcohol, mend{"pasteurise", "pasteurise the beer by a validated programme", func(in *Input, _ int) { in.Pasteurised = true }}),
		},
		{
			ID: "HA-002", Severity: rule.Warning, Title: "A recipe is not known, so its allergens are not",
			Why:      "An undeclared allergen can kill, and the whole brew is withdrawn.",
			Compares: "ingredients told for each beer", Source: fic.At("Annex II"), Law: american("21 USC 343(w)", "major food allergens", "labels of malt beverages by 27 CFR 7: look both up"),
			Check: perBeer(func(_ Input, b Beer) rule.Answer {
				if len(b.Ingredients) == 0 {
					return rule.Lacks("", "the ingredients are not told", "Beers.Ingredients")
				}
				return rule.Passes("", nil, nil, "allergens follow from the recipe told")
			}),
		},
		{
			ID: "HA-003", Severity: rule.Warning, Title: "Coolant is not fit for food",
			Why:      "A leak in the cooler poisons the beer; ethylene glycol is toxic.",
			Compares: "coolant against food-grade propylene glycol or water", Source: hygiene.Recalled("Annex II chapter V; regulation (EC) 1935/2004 Art. 3"), Law: american("21 CFR 117", "subpart B, equipment; 21 CFR 174 to 178 for what touches food", ""),
			Check: checkCoolant,
		},
		{
			ID: "HA-004", Severity: rule.Warning, Title: "A pack may burst under its own fermentation",
			Why:      "Bottles and cans that burst blind and cut people.",
			Compares: "pressure of the beer at 30 °C against the rating of the weakest pack", Source: source.Practice("pressure at 30 °C below the pack's rating"),
			Check: perBeer(judgePack, mend{"lower-carbonation", "lower the carbonation or the priming until the pressure at 30 °C lies below the pack's rating", lowerCarbonation}),
		},
		{
			ID: "HA-005", Severity: rule.Notice, Title: "Malt dust, glass lamps or missing basins spoil the hygiene of the room",
			Why:      "The inspector of the first visit asks for them; later they mean work in a brewery that already brews.",
			Compares: "separate malt side, covered lamps, wash basins against what is planned", Source: hygiene.At("Annex II"), Law: american("21 CFR 117", "subpart B, plant and grounds", ""),
			Check: checkPremises,
		},
	}
}

// mend is a remedy that changes the input.
type mend struct {
	kind, words string
	change      func(in *Input, beer int)
}

func perBeer(judge func(Input, Beer) rule.Answer, mends ...mend) func(Facts) []rule.Answer {
	return func(f Facts) []rule.Answer {
		var answers []rule.Answer
		for i, b := range f.Input.Beers {
			a := judge(f.Input, b)
			if a.Outcome == rule.NotApplicable {
				continue
			}
			a.Subject = b.Name
			if a.Outcome == rule.Fail {
				a.Remedies = try(f.Input, i, judge, mends)
			}
			answers = append(answers, a)
		}
		if len(answers) == 0 {
			return []rule.Answer{rule.DoesNotApply("no beer is concerned")}
		}
		return answers
	}
}

func try(in Input, beer int, judge func(Input, Beer) rule.Answer, mends []mend) (list []rule.Remedy) {
	for _, m := range mends {
		changed := in
		changed.Beers = append([]Beer(nil), in.Beers...)
		m.change(&changed, beer)
		if a := judge(changed, changed.Beers[beer]); a.Outcome == rule.Pass || a.Outcome == rule.NotApplicable {
			list = append(list, rule.Remedy{Kind: m.kind, Words: m.words, Need: a.Need, Have: a.Have, Params: []rule.Param{{Name: "beer", Text: in.Beers[beer].Name}}})
		}
	}
	return list
}

func judgeLowAlcohol(in Input, b Beer) rule.Answer {
	if b.ABV == nil {
		return rule.Lacks("", "the alcohol is not told", "Beers.ABV")
	}
	limit := unit.PercentABV(lowABV)
	switch {
	case *b.ABV >= limit:
		return rule.DoesNotApply("")
	case in.Pasteurised:
		return rule.Passes("", limit, *b.ABV, "low alcohol of "+b.ABV.String()+"; pasteurised by a validated programme")
	case b.PH == nil:
		return rule.Lacks("", "low alcohol of "+b.ABV.String()+", not pasteurised; the pH is not told", "Beers.PH")
	case b.PH.PH() <= 4.2:
		return rule.Passes("", unit.PH(4.2), *b.PH, "low alcohol of "+b.ABV.String()+"; pH "+unit.Digits(b.PH.PH(), 3)+", to be validated")
	}
	return rule.Fails("", limit, *b.ABV, "low alcohol of "+b.ABV.String()+", pH "+unit.Digits(b.PH.PH(), 3)+" and not pasteurised")
}

func judgePack(in Input, b Beer) rule.Answer {
	if !in.Refermented {
		return rule.DoesNotApply("")
	}
	if b.Carbonation == nil || in.PackRating == nil {
		return rule.Lacks("", "highest carbonation or the pack's rating is not told", "Beers.Carbonation", "PackRating")
	}
	p, err := PackPressure(*b.Carbonation, warmest)
	if err != nil {
		return rule.Lacks("", err.Error(), "Beers.Carbonation")
	}
	words := unit.Digits(b.Carbonation.GL(), 3) + " g/L stand at " + p.String() + " at 30 °C; the pack bears " + in.PackRating.String()
	if p > *in.PackRating {
		return rule.Fails("", p, *in.PackRating, words)
	}
	return rule.Passes("", p, *in.PackRating, words)
}

func lowerCarbonation(in *Input, beer int) {
	if in.PackRating == nil || in.Beers[beer].Carbonation == nil {
		return
	}
	c := *in.Beers[beer].Carbonation
	for p, err := PackPressure(c, warmest); err == nil && c.GL() > 2 && p > *in.PackRating; p, err = PackPressure(c, warmest) {
		c = unit.CO2GramsPerLitre(c.GL() - 0.1)
	}
	in.Beers[beer].Carbonation = &c
}

func checkCoolant(f Facts) []rule.Answer {
	switch f.Input.Coolant {
	case "":
		return []rule.Answer{rule.Lacks("", "the coolant is not known", "Coolant")}
	case "propylene-glycol", "water":
		return []rule.Answer{rule.Passes("", nil, nil, "the coolant is "+f.Input.Coolant+"; food grade by its sheet")}
	}
	return []rule.Answer{rule.Fails("", nil, nil, "the coolant is "+f.Input.Coolant, rule.Remedy{Kind: "food-grade-coolant", Words: "fill with food-grade propylene glycol", Params: []rule.Param{{Name: "coolant", Text: "propylene-glycol"}}})}
}

func checkPremises(f Facts) []rule.Answer {
	var answers []rule.Answer
	add := func(subject string, ok *bool, applies bool, good, bad, kind, words, field string) {
		switch {
		case !applies:
		case ok == nil:
			answers = append(answers, rule.Lacks(subject, "not known", field))
		case *ok:
			answers = append(answers, rule.Passes(subject, nil, nil, good))
		default:
			answers = append(answers, rule.Fails(subject, nil, nil, bad, rule.Remedy{Kind: kind, Words: words}))
		}
	}
	add("malt side", f.Input.MillSeparate, f.Input.Mill, "malt is tipped and milled apart", "malt dust falls into the clean side", "separate-mill", "put the mill in its own room or cabinet", "MillSeparate")
	add("lamps", f.Input.LampsCovered, true, "no glass lamp above open vessels", "glass lamps hang above open vessels", "cover-lamps", "shatterproof lamps or covers", "LampsCovered")
	add("wash basins", f.Input.WashBasins, true, "hand-wash basins in the production area", "no hand-wash basin in the production area", "wash-basins", "a hand-wash basin with warm water at each entry", "WashBasins")
	return answers
}
