package pressure

import (
	"tunwright/catalog/source"
	"tunwright/configurator/rule"
)

// What the checks rest on outside Great Britain. From memory unless it says otherwise:
// each paper says so, and that the current text is to be checked.

func country(f Facts) Country { return f.Input.Country }

func abroad(laws map[Country]source.Ref) func(Facts) source.Ref { return rule.ByCountry(country, laws) }

func recalled(id, place, note string) source.Ref {
	return source.Ref{Doc: source.Doc{ID: id}, Place: place, Provenance: source.FromMemory, Note: note}
}

var (
	thresholdsAbroad = map[Country]source.Ref{US: asme.At("U-1")}
	placingAbroad    = map[Country]source.Ref{
		IE: recalled("Directive 2014/68/EU", "Art. 4, 6, 14", "in Ireland S.I. 233/2017"),
		DE: recalled("Directive 2014/68/EU", "Art. 4, 6, 14", "in Germany the 14. ProdSV"),
		US: asme.Recalled("UG-116, UG-120"),
	}
	markAbroad = map[Country]source.Ref{
		IE: recalled("Directive 2014/68/EU", "Art. 4(3)", "in Ireland S.I. 233/2017"),
		DE: recalled("Directive 2014/68/EU", "Art. 4(3)", "in Germany the 14. ProdSV"),
		US: asme.Recalled("UG-116"),
	}
	reliefAbroad = map[Country]source.Ref{US: asme.Recalled("UG-125 to UG-137")}
	schemeAbroad = map[Country]source.Ref{IE: irishScheme, DE: germanInspection, US: stateLaw}

	irishScheme      = source.Doc{ID: "S.I. 299/2007"}.Recalled("as amended by S.I. 445/2012")
	germanInspection = source.Doc{ID: "BetrSichV"}.Recalled("§§ 15, 16, Annex 2 section 4")
	stateLaw         = recalled("State boiler and pressure vessel law", "permit and inspection", "look up the state's: most take ASME and the National Board's inspection code")
)

// schemeWords names what is due before first pressure in a country.
func schemeWords(c Country) string {
	switch c {
	case DE:
		return "an inspection before first use (BetrSichV)"
	case US:
		return "the state's permit and inspection"
	}
	return "a written scheme of examination"
}
