package water

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
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
	fittingsAbroad = map[Country]source.Ref{
		IE: recalled("I.S. EN 1717", "fluid categories", "with the connection conditions of Uisce Éireann"),
		DE: recalled("DIN EN 1717", "fluid categories", "with DIN 1988-100 and the Trinkwasserverordnung"),
		US: recalled("Plumbing code as adopted", "cross-connection control", "International or Uniform Plumbing Code: look up the state's; devices by ASSE and ASME"),
	}
	consentAbroad = map[Country]source.Ref{
		IE: {Doc: source.Doc{ID: "Local Government (Water Pollution) Act 1977"}, Place: "s. 16", Provenance: source.LookedUp},
		DE: recalled("WHG", "§ 58", "indirect discharge, with the municipal by-law"),
		US: recalled("40 CFR 403", "pretreatment", "with the local ordinance: look it up"),
	}
	sewerAbroad = map[Country]source.Ref{
		IE: recalled("Local Government (Water Pollution) Act 1977", "s. 16", "the limits stand in the licence; those of British consents are taken meanwhile"),
		DE: recalled("DWA-M 115-2", "35 °C, pH 6.5 to 10", "the municipal by-law or the permit decides"),
		US: recalled("40 CFR 403.5(b)", "pH not below 5.0, no more than 40 °C at the works", "the local ordinance has the limits at the outlet: look them up; those of British consents are taken meanwhile"),
	}
)

// sewerLimits are what a public sewer usually takes where no consent says otherwise:
// 43 °C (110 °F, Public Health Act 1936 s. 27) and pH 6 to 10 as water companies'
// pages quote; in Germany 35 °C and pH 6.5 to 10 by DWA-M 115-2. All but the pages
// from memory.
func sewerLimits(c Country) (temp unit.Temperature, low, high unit.Acidity) {
	if c == DE {
		return unit.Celsius(35), unit.PH(6.5), unit.PH(phHigh)
	}
	return unit.Celsius(sewerMax), unit.PH(phLow), unit.PH(phHigh)
}

// consentLimits are those of the consent, or the usual ones of the country.
func (in Input) consentLimits() (temp unit.Temperature, low, high unit.Acidity) {
	temp, low, high = sewerLimits(in.Country)
	if in.Consent.MaxTemp != nil {
		temp = *in.Consent.MaxTemp
	}
	if in.Consent.PHLow != nil {
		low = *in.Consent.PHLow
	}
	if in.Consent.PHHigh != nil {
		high = *in.Consent.PHHigh
	}
	return temp, low, high
}
