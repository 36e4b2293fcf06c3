package water

import (
	"tunwright/catalog/source"
	"tunwright/configurator/rule"
)

func gasRules() []rule.Rule[Facts] {
	return []rule.Rule[Facts]{
		{
			ID: "WA-040", Fills: "compressor", Severity: rule.Warning, Title: "The compressor gives too little air or pressure",
			Why:      "Valves move slowly or not at all, and the line stands.",
			Compares: "free air and pressure of the users with a margin of 30 % against the compressor", Source: source.Practice("30 % margin on compressed air"),
			Check: check(gasPart, judgeAir, func(t trier, a rule.Answer) (list []rule.Remedy) {
				for _, c := range t.in.Air.Others {
					in := t.in
					in.Air.Compressor = &c
					if t.try(&list, a.Subject, in, func(Result, rule.Answer) rule.Remedy {
						return rule.Remedy{Kind: "other-compressor", Words: "compressor " + c.Name + " with " + c.Flow.String() + " at " + c.Pressure.String(), Params: []rule.Param{{Name: "compressor", Text: c.Name}}}
					}) {
						break
					}
				}
				return list
			}),
		},
		{
			ID: "WA-041", Severity: rule.Notice, Title: "Air that touches the product needs its purity stated",
			Why:      "Oil and germs from the compressor end in the wort.",
			Compares: "purity class of the compressor against ISO 8573-1 class 1.4.1 with a sterile filter", Source: source.Practice("ISO 8573-1 class 1.4.1 with 0.2 µm filter for air to product"),
			Check: check(gasPart, judgePurity, func(t trier, a rule.Answer) (list []rule.Remedy) {
				in := t.in
				c := Compressor{}
				if t.in.Air.Compressor != nil {
					c = *t.in.Air.Compressor
				}
				c.Class = "1.4.1"
				in.Air.Compressor = &c
				t.try(&list, a.Subject, in, func(Result, rule.Answer) rule.Remedy {
					return rule.Remedy{Kind: "sterile-air", Words: "oil-free air or filters to ISO 8573-1 class 1.4.1, with a 0.2 µm sterile filter at each point of use"}
				})
				return list
			}),
		},
	}
}

func judgeAir(f Facts) []rule.Answer {
	g, c := f.Result.Gas, f.Input.Air.Compressor
	if len(g.Air) == 0 {
		return []rule.Answer{rule.DoesNotApply("nothing takes compressed air")}
	}
	if c == nil {
		return []rule.Answer{rule.Lacks("", "no compressor is chosen; "+g.AirNeed.String()+" at "+g.Pressure.String()+" are needed", "Air.Compressor")}
	}
	words := "needed " + g.AirNeed.String() + " at " + g.Pressure.String() + "; " + c.Name + " gives " + c.Flow.String() + " at " + c.Pressure.String()
	switch {
	case c.Flow < g.AirNeed:
		return []rule.Answer{rule.Fails("", g.AirNeed, c.Flow, words)}
	case c.Pressure < g.Pressure:
		return []rule.Answer{rule.Fails("", g.Pressure, c.Pressure, words)}
	}
	return []rule.Answer{rule.Passes("", g.AirNeed, c.Flow, words)}
}

func judgePurity(f Facts) []rule.Answer {
	product := ""
	for _, u := range f.Input.Air.Users {
		if u.Product {
			product = u.Name
		}
	}
	c := f.Input.Air.Compressor
	switch {
	case product == "":
		return []rule.Answer{rule.DoesNotApply("no air touches the product")}
	case c == nil || c.Class == "":
		return []rule.Answer{rule.Lacks("", product+" touches the product; the purity of the air is not known", "Air.Compressor.Class")}
	case c.Class != "1.4.1" && c.Class != "0":
		return []rule.Answer{rule.Fails("", nil, nil, product+" touches the product; the air is of class "+c.Class+", class 1.4.1 is usual")}
	}
	return []rule.Answer{rule.Passes("", nil, nil, "air to the product is of class "+c.Class)}
}
