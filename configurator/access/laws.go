package access

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// Country decides which law is named.
type Country string

const (
	GB Country = "GB"
	IE Country = "IE"
	DE Country = "DE"
	US Country = "US"
)

// What the checks rest on outside Great Britain, from memory: each paper says so.

func recalled(id, place, note string) source.Ref {
	return source.Ref{Doc: source.Doc{ID: id}, Place: place, Provenance: source.FromMemory, Note: note}
}

var (
	plannedAbroad = map[Country]source.Ref{
		IE: recalled("S.I. 299/2007", "Part 2, lifting equipment", "a lift is planned and supervised by a competent person"),
		DE: recalled("Betriebssicherheitsverordnung", "Annex 1 no. 2", "a lift is planned and supervised; DGUV Vorschrift 52 for cranes"),
		US: recalled("29 CFR 1926", "subpart CC", "cranes in construction; ASME B30.5, and P30.1 for the plan"),
	}
	liftsAbroad = map[Country]source.Ref{US: recalled("ASME A17.1", "rated load", "the code as the state adopted it; the plate in the car decides")}
	roadAbroad  = source.Practice("lead times of UK councils, 4 to 12 weeks, are taken meanwhile: ask the road authority of the place")
	wideAbroad  = map[Country]source.Ref{
		IE: recalled("Directive 96/53/EC", "Annex I", "wider than 2.55 m is an abnormal load: ask the county council and the Garda for the permit"),
		DE: recalled("StVZO", "§ 32", "wider than 2.55 m needs a permit under §§ 29 and 46 StVO"),
		US: recalled("23 CFR 658.15", "width 102 inches", "wider needs an oversize permit of each state on the way"),
	}
)

func country(f Facts) Country { return f.Input.Country }

func abroad(laws map[Country]source.Ref) func(Facts) source.Ref { return rule.ByCountry(country, laws) }

func roadLaw(f Facts) source.Ref {
	if c := f.Input.Country; c == GB || c == "" {
		return source.Ref{}
	}
	return roadAbroad
}

// widest is the width from which a load needs notice or a permit: 2.9 m in Great
// Britain by police forces' pages; elsewhere from memory, 2.55 m by Directive 96/53/EC
// and 102 inches by 23 CFR 658.15.
func widest(c Country) unit.Length {
	switch c {
	case IE, DE:
		return unit.Metres(2.55)
	case US:
		return unit.Metres(2.5908)
	}
	return unit.Metres(2.9)
}

// competent says who plans a lift, by the law of the country.
func competent(c Country) string {
	law := "LOLER 1998, regulation 8"
	if ref, ok := plannedAbroad[c]; ok {
		law = ref.Doc.ID + ", " + ref.Place + "; from memory"
	}
	return "A competent person plans the lift (" + law + "). These figures are data for that plan."
}
