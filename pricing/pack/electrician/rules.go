package electrician

import (
	"tunwright/configurator"
	"tunwright/configurator/electrical"
	"tunwright/configurator/enquiry"
)

// national is what each country calls its rules for electrical installations.
var national = map[string]string{
	"AT": "OVE E 8101", "DE": "DIN VDE 0100", "GB": "BS 7671", "IE": "I.S. 10101",
}

// rules names the rules of the site, and those whose tables the figures follow where
// these are others.
func rules(r configurator.Report, calculated string) string {
	country := r.Project.Site.Country
	if r.Inputs.Electrical.Rules == electrical.NEC || country == "GB" {
		return calculated
	}
	return National(country) + " at the site. Calculated by the tables of " + calculated + "; the electrician confirms by the rules of the site."
}

// National names a country's rules for electrical installations.
func National(country string) string {
	if name, ok := national[country]; ok {
		return name
	}
	return "the national adoption of IEC 60364"
}

// header is the head of the schedule: the rules named as the country of the site does,
// and every fact of the supply with how the enquiry knows it.
func header(r configurator.Report, f electrical.Facts) []electrical.Line {
	s := &r.Project.Site.Supply
	known := map[string]enquiry.Basis{
		"System": s.Phases.Basis, "Earthing": s.Earthing.Basis, "Supply fuse": s.Fuse.Basis, "Existing load, worst line": s.Existing.Basis,
		"Agreed capacity": s.Agreed.Basis, "External earth fault loop Ze": s.Ze.Basis, "Prospective fault current": s.Fault.Basis,
	}
	out := without(f.Header(), "Standing")
	for i := range out {
		if out[i].Label == "Rules" {
			out[i].Value = rules(r, out[i].Value)
		}
		if b, ok := known[out[i].Label]; ok && b != enquiry.Unknown {
			out[i].Basis = b.Word()
		}
	}
	return out
}
