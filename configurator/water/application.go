package water

import "tunwright/catalog/unit"

// application fills the data that an application to discharge asks for: nature and
// composition, the most in a day, the highest rate (Water Industry Act 1991 s. 119,
// and alike elsewhere).
func application(in Input, w Waste) []Line {
	nitrogen := unit.Kilograms(w.COD.Kg() * 0.02)
	lines := []Line{
		{Label: "Nature of the trade", Text: "brewery: wash water, rinses, spent detergent"},
		{Label: "Application", Text: consentName(in.Country)},
		{Label: "Most in a day", Key: "m3", Value: w.Day},
		{Label: "Highest rate", Text: litres(w.Released)},
		{Label: "COD, mean", Key: "mg_l", Value: w.MeanCOD},
		{Label: "BOD5, mean", Key: "mg_l", Value: unit.KgPerM3Solute(w.MeanCOD.KgM3() / codBOD), Note: "COD over 1.65; untreated brewery waste 1000 to 1500 mg/L"},
		{Label: "COD in a day", Value: w.COD},
		{Label: "Suspended solids, mean", Text: "200 to 500 mg/L", Note: "usual for small breweries, common practice; to be measured"},
		{Label: "Nitrogen in a day", Value: nitrogen, Note: "2 % of the COD, common practice; untreated waste 30 to 100 mg/L"},
		{Label: "Highest temperature", Value: w.ToSewerTemp},
		{Label: "pH", Text: figure(w.ToSewerLow) + " to " + figure(w.ToSewerHigh)},
		{Label: "Chemicals", Text: chemicals(w), Note: "safety data sheet of each product to be added"},
	}
	if w.Balanced {
		lines = append(lines, Line{Label: "Balance tank", Value: *in.Balance})
	} else {
		lines = append(lines, Line{Label: "Balance tank", Text: "none"})
	}
	return append(lines, Line{Label: "Sampling point", Text: "chamber before the sewer, in reach of the authority"}, Line{Label: "Site plan", Text: "drains, gullies, sampling point and sewer to be marked"})
}

// chemicals names what the streams bring, in the order of the streams.
func chemicals(w Waste) string {
	words := map[string]string{"caustic": "sodium hydroxide", "acid": "nitric or phosphoric acid", "sanitiser": "peracetic acid", "brine": "sodium chloride", "blow-down": "boiler treatment"}
	var names []string
	seen := map[string]bool{}
	for _, s := range w.Streams {
		if n := words[s.Kind]; n != "" && !seen[n] {
			seen[n] = true
			names = append(names, n)
		}
	}
	if len(names) == 0 {
		return "none named"
	}
	return joinNames(names)
}
