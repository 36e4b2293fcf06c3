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

// papersFor adds to a list what must come with a vessel: of its chambers' categories, its
// devices, its contact with food, and of the user's duties.
//
// Source: SI 2016/1105 Sch. 1B (Directive 2014/68/EU Annexes II and III), PSSR 2000
// regs 5, 8 and 9, Regulation (EC) 1935/2004 Art. 16; safety valves: Annex II point 2.
func papersFor(list []PaperRow, country Country, v Vessel, rows []Row) []PaperRow {
	first := len(list)
	add := func(paper, from, why, before string) {
		for i := first; i < len(list); i++ {
			if list[i].Paper == paper {
				return
			}
		}
		list = append(list, PaperRow{Tag: v.Tag, Paper: paper, From: from, Why: why, Before: before})
	}
	scheme := false
	for i := range rows {
		r := &rows[i]
		for p := range strings.SplitSeq(r.Consequence.Papers, ";") {
			if p = strings.TrimSpace(p); p == "" {
				continue
			}
			maker := "maker"
			if strings.Contains(p, "certificate of the body") {
				maker = "notified or approved body, through the maker"
			}
			add(p, maker, r.Chamber+": "+r.Verdict.Text(), "delivery")
		}
		scheme = scheme || r.InUse.Scheme
	}
	if len(list) == first {
		return list
	}
	if underPressure(v) {
		add("drawing with PS, TS, V and test pressure of each chamber; test certificate", "maker", "register of the competent person", "delivery")
		add("statement on vacuum: rated value, or that none is allowed", "maker", "cleaning and pumping out", "delivery")
	}
	if v.Relief != nil && v.Relief.Fitted {
		if country == US {
			add("certificate of the relief valve with its UV stamp, set pressure and capacity", "maker of the valve", asme.ID+" UG-125 to UG-137, from memory", "delivery")
		} else {
			add("declaration of conformity of the relief valve, with set pressure and flow area", "maker of the valve", "safety devices are category IV unless made for this vessel alone", "delivery")
		}
	}
	if v.Contents == BeerCO2 {
		law := "Regulation (EC) 1935/2004 Art. 16"
		if country == US {
			law = "21 CFR 174 to 178, from memory"
		}
		add("declaration of compliance for food contact", "maker", law, "delivery")
	}
	if scheme {
		for _, p := range inUsePapers(country) {
			add(p.Paper, p.From, p.Why, p.Before)
		}
	}
	return list
}

// inUsePapers are those that the user of a pressure system owes by the law of the country.
func inUsePapers(c Country) []PaperRow {
	limits := PaperRow{Paper: "safe operating limits and information on the system", From: "installer", Before: "handover"}
	switch c {
	case DE:
		limits.Why = "BetrSichV § 12, from memory"
		return []PaperRow{{Paper: "record of the inspection before first use", From: "approved inspection body or qualified person", Why: "user's duty, see the register", Before: "first pressure"}, limits}
	case US:
		limits.Why = "the state's boiler and pressure vessel law: look it up"
		return []PaperRow{{Paper: "state permit and certificate of inspection", From: "state or insurer's inspector", Why: "user's duty, see the register", Before: "first pressure"}, limits}
	case IE:
		limits.Why = "S.I. 299/2007 as amended by S.I. 445/2012, from memory"
	default:
		limits.Why = "PSSR 2000 regs 5 and 7"
	}
	return []PaperRow{
		{Paper: "written scheme of examination", From: "competent person", Why: "user's duty, see the register", Before: "first pressure"},
		{Paper: "report of the first examination", From: "competent person", Why: "user's duty, see the register", Before: "first pressure"},
		limits,
	}
}
