package pressure

import "strings"

// PaperRow is one paper that the buyer must receive with a vessel.
type PaperRow struct {
	Tag    string
	Paper  string
	From   string // maker, body, competent person, installer
	Why    string // instrument or use
	Before string // delivery, first pressure, handover
}

// papersFor lists what must come with a vessel: of its chambers' categories, its
// devices, its contact with food, and of the user's duties.
//
// Source: SI 2016/1105 Sch. 1B (Directive 2014/68/EU Annexes II and III), PSSR 2000
// regs 5, 8 and 9, Regulation (EC) 1935/2004 Art. 16; safety valves: Annex II point 2.
func papersFor(v Vessel, rows []Row) []PaperRow {
	var list []PaperRow
	add := func(paper, from, why, before string) {
		for _, have := range list {
			if have.Paper == paper {
				return
			}
		}
		list = append(list, PaperRow{Tag: v.Tag, Paper: paper, From: from, Why: why, Before: before})
	}
	scheme := false
	for _, r := range rows {
		for _, p := range strings.Split(r.Consequence.Papers, ";") {
			if p = strings.TrimSpace(p); p == "" {
				continue
			}
			from := "maker"
			if strings.Contains(p, "certificate of the body") {
				from = "notified or approved body, through the maker"
			}
			add(p, from, r.Chamber+": "+r.Verdict.Text(), "delivery")
		}
		scheme = scheme || r.InUse.Scheme
	}
	if len(list) == 0 {
		return nil
	}
	if underPressure(v) {
		add("drawing with PS, TS, V and test pressure of each chamber; test certificate", "maker", "register of the competent person", "delivery")
		add("statement on vacuum: rated value, or that none is allowed", "maker", "cleaning and pumping out", "delivery")
	}
	if v.Relief != nil && v.Relief.Fitted {
		add("declaration of conformity of the relief valve, with set pressure and flow area", "maker of the valve", "safety devices are category IV unless made for this vessel alone", "delivery")
	}
	if v.Contents == BeerCO2 {
		add("declaration of compliance for food contact", "maker", "Regulation (EC) 1935/2004 Art. 16", "delivery")
	}
	if scheme {
		add("written scheme of examination", "competent person", "user's duty, see the register", "first pressure")
		add("report of the first examination", "competent person", "user's duty, see the register", "first pressure")
		add("safe operating limits and information on the system", "installer", "PSSR 2000 regs 5 and 7 or the country's rule", "handover")
	}
	return list
}
