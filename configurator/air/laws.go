package air

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// What the checks rest on outside Great Britain. From memory unless it says otherwise:
// each paper says so, and that the current text is to be checked.

func country(f Facts) Country { return f.Input.Country }

// byLimit cites where the country's own exposure limit stands.
func byLimit(part string) func(Facts) source.Ref {
	return func(f Facts) source.Ref {
		if c := f.Input.Country; c == GB || c == "" {
			return source.Ref{}
		}
		return role(f.Result.Limits, part).Source
	}
}

func recalled(id, place, note string) source.Ref {
	return source.Ref{Doc: source.Doc{ID: id}, Place: place, Provenance: source.FromMemory, Note: note}
}

var (
	irishAgents = "S.I. 619/2001"
	ifc         = "International Fire Code 2018"

	detectionAbroad = map[Country]source.Ref{
		IE: recalled(irishAgents, "chemical agents at work", "exposure is prevented or controlled; look up the national guidance on gas detection, BCGA GN30 of Great Britain is taken meanwhile"),
		DE: {Doc: source.Doc{ID: "DIN 6653-2"}, Place: "gas warning systems", Provenance: source.LookedUp, Note: "as BGN quotes it for dispense installations; the risk assessment of the Gefahrstoffverordnung decides"},
		US: {Doc: source.Doc{ID: ifc}, Place: "section 5307", Provenance: source.LookedUp, Note: "as a detector manual summarises it; the code as the state adopted it decides"},
	}
	lowPointAbroad = map[Country]source.Ref{
		IE: recalled(irishAgents, "chemical agents at work", "exposure shall be prevented or adequately controlled; look up the national guidance on gas detection"),
		DE: recalled("Gefahrstoffverordnung", "§§ 7, 9", "exposure shall be prevented or controlled; DIN 6653-2 has the warning systems of dispense installations"),
		US: recalled("29 USC 654(a)(1)", "general duty", "the workplace shall be free from recognised deadly hazards; International Fire Code section 5307 has detection"),
	}
	sewerAbroad = map[Country]source.Ref{
		IE: recalled("Local Government (Water Pollution) Act 1977", "s. 16", "limits stand in the licence"),
		DE: recalled("DWA-M 115-2", "temperature 35 °C", "the municipal by-law or the permit decides"),
		US: recalled("40 CFR 403.5(b)", "heat", "the local ordinance has the limit at the outlet: look it up"),
	}
	noiseAbroad = map[Country]source.Ref{
		IE: recalled("EPA NG4", "noise", "BS 4142 is used in Ireland too; the planning condition decides"),
		DE: recalled("TA Lärm", "no. 6.1", "the law has fixed levels by area, not a margin over the background: look up the area's, such as 40 dB(A) at night in a general residential area; this comparison is that of BS 4142"),
		US: {Provenance: source.Derived, Note: "comparison of BS 4142; the local noise ordinance decides: look it up"},
	}
)

// sewerLimitOf is the temperature that a public sewer usually takes, °C: 43 (110 °F) by
// the Public Health Act 1936 s. 27, 35 in Germany by DWA-M 115-2; both from memory.
func sewerLimitOf(c Country) float64 {
	if c == DE {
		return 35
	}
	return sewerLimit
}

// overnightLaw is the short-term limit of the country. In the United States OSHA has
// none; the lower of two that are known is taken.
func overnightLaw(f Facts) source.Ref {
	if f.Input.Country == US {
		return source.Ref{Doc: source.Doc{ID: "29 CFR 1910.1000"}, Place: "Table Z-1", Provenance: source.LookedUp, Note: "it has no short-term limit; 15 000 ppm of EH40/2005 is taken, lower than the 30 000 of the NIOSH Pocket Guide"}
	}
	return byLimit("short")(f)
}

// in fills in what the country decides.
func (s Steam) in(c Country) Steam {
	if s.Sewer == 0 {
		s.Sewer = unit.Celsius(sewerLimitOf(c))
	}
	return s
}

func abroad(laws map[Country]source.Ref) func(Facts) source.Ref { return rule.ByCountry(country, laws) }
