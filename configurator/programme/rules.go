package programme

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

const reserveDays = 10 // working days, common practice, no source

var everyPermit = source.Derivation("network of the tasks with the lead times of the table")

// Rules lists the checks of the discipline in print order.
func Rules() []rule.Rule[Facts] {
	return []rule.Rule[Facts]{
		{
			ID: "PG-001", Severity: rule.Warning, Title: "The client's opening date cannot be met",
			Why:      "The date is told to the bank, the landlord and the guests, and they count on it.",
			Compares: "latest start of every task for the opening date against today", Source: everyPermit,
			Check: checkOpening,
		},
		{
			ID: "PG-002", Severity: rule.Warning, Title: "The planned order comes too late for the opening date", DependsOn: []string{"PG-001"},
			Why:      "The order sets off making, approvals and works; a late one moves everything.",
			Compares: "planned day of the order against the latest for the opening date", Source: everyPermit,
			Check: checkOrder,
		},
		{
			ID: "PG-003", Severity: rule.Notice, Title: "Too little time is left in reserve", DependsOn: []string{"PG-001"},
			Why:      "One letter from an authority takes two weeks; without reserve the opening moves.",
			Compares: "working days between earliest finish and opening against the reserve wanted", Source: source.Practice("ten working days in reserve"),
			Check: checkReserve,
		},
		{
			ID: "PG-004", Severity: rule.Warning, Title: "The order is placed before planning has decided",
			Why:      "A refusal leaves the client with tanks and no brewery.",
			Compares: "earliest planning decision against the day of the order", Source: source.Practice("order after the decision"),
			Check: checkPlanning,
		},
		{
			ID: "PG-005", Severity: rule.Warning, Title: "Facts that decide about permits are not known",
			Why:      "A permit nobody thought of is the usual cause of a brewery that stands finished and shut.",
			Compares: "facts of the site that call up a permit against what is known", Source: everyPermit,
			Check: checkFacts,
		},
		{
			ID: "PG-006", Severity: rule.Notice, Title: "No public holidays are counted",
			Why:      "Christmas and Easter alone take two to three weeks out of a programme.",
			Compares: "public holidays told against none", Source: source.Derivation("calendar of the place"),
			Check: func(f Facts) []rule.Answer {
				if len(f.Input.Holidays) == 0 {
					return []rule.Answer{rule.Lacks("", "no public holidays were given", "Holidays")}
				}
				return []rule.Answer{rule.Passes("", nil, nil, unit.Digits(float64(len(f.Result.Holidays)), 4)+" public holidays fall into the programme")}
			},
		},
	}
}

func workDays(n int) unit.WorkingDays { return unit.WorkDays(float64(n)) }

func checkOpening(f Facts) []rule.Answer {
	if f.Input.Opening == 0 {
		return []rule.Answer{rule.Lacks("", "the opening date is not known; the earliest is "+f.Result.Earliest.Words(), "Opening")}
	}
	if len(f.Result.Late) == 0 {
		return []rule.Answer{rule.Passes("", nil, nil, "earliest opening "+f.Result.Earliest.Words()+", wanted "+f.Input.Opening.Words())}
	}
	worst := f.Result.Late[0]
	for _, i := range f.Result.Late {
		if f.Result.Steps[i].Needed < f.Result.Steps[worst].Needed {
			worst = i
		}
	}
	s := f.Result.Steps[worst]
	words := "for " + f.Input.Opening.Words() + ", " + s.Name + " should have begun on " + s.Needed.Words() + "; " + unit.Digits(float64(len(f.Result.Late)), 4) + " tasks are late. The earliest honest opening is " + f.Result.Earliest.Words()
	return []rule.Answer{rule.Fails("", nil, nil, words, openingRemedies(f)...)}
}

// openingRemedies tries a later opening, each faster supply, and no wait for a
// planned order date.
func openingRemedies(f Facts) (list []rule.Remedy) {
	later := f.Input
	later.Opening = f.Result.Earliest
	if f.passes(later) {
		list = append(list, rule.Remedy{Kind: "later-opening", Words: "open on " + f.Result.Earliest.Words() + " or later", Params: []rule.Param{{Name: "opening", Text: f.Result.Earliest.String()}}})
	}
	if f.Input.Order > f.Input.Today {
		soon := f.Input
		soon.Order = 0
		if f.passes(soon) {
			list = append(list, rule.Remedy{Kind: "order-sooner", Words: "order as soon as the drawings are agreed", Params: []rule.Param{{Name: "order", Text: ""}}})
		}
	}
	for i, s := range f.Input.Supplies {
		for _, q := range s.Faster {
			in := f.Input
			in.Supplies = append([]Supply(nil), f.Input.Supplies...)
			in.Supplies[i] = q
			if f.passes(in) {
				list = append(list, rule.Remedy{Kind: "faster-supply", Words: "take " + q.Name + " instead of " + s.Name + ": " + unit.In(q.Lead, "days", 0) + " instead of " + unit.In(s.Lead, "days", 0), Params: []rule.Param{{Name: "supply", Text: q.Code}, {Name: "instead-of", Text: s.Code}}})
			}
		}
	}
	return list
}

func (f Facts) passes(in Input) bool {
	t, ok := f.Result.try(in)
	return ok && t.inTime
}

func checkOrder(f Facts) []rule.Answer {
	switch {
	case f.Input.Opening == 0:
		return []rule.Answer{rule.DoesNotApply("no opening date is said")}
	case f.Input.Order == 0:
		return []rule.Answer{rule.Passes("", nil, nil, "ordered as soon as the drawings are agreed; the latest is "+f.Result.OrderBy.Words())}
	case f.Input.Order > f.Result.OrderBy:
		a := rule.Fails("", nil, nil, "the order is planned for "+f.Input.Order.Words()+"; the latest is "+f.Result.OrderBy.Words())
		in := f.Input
		in.Order = f.Result.OrderBy
		if t, ok := f.Result.try(in); ok && in.Order <= t.orderBy {
			a.Remedies = append(a.Remedies, rule.Remedy{Kind: "order-sooner", Words: "order by " + in.Order.Words(), Params: []rule.Param{{Name: "order", Text: in.Order.String()}}})
		}
		return []rule.Answer{a}
	}
	return []rule.Answer{rule.Passes("", nil, nil, "the order is planned for "+f.Input.Order.Words()+"; the latest is "+f.Result.OrderBy.Words())}
}

func checkReserve(f Facts) []rule.Answer {
	want := f.Input.Reserve
	if want == 0 {
		want = workDays(reserveDays)
	}
	if f.Input.Opening == 0 {
		return []rule.Answer{rule.DoesNotApply("no opening date is said")}
	}
	words := "in reserve " + f.Result.Spare.String() + ", wanted " + want.String()
	if f.Result.Spare >= want {
		return []rule.Answer{rule.Passes("", want, f.Result.Spare, words)}
	}
	a := rule.Fails("", want, f.Result.Spare, words)
	work := &f.Result.work
	date, err := work.Add(f.Result.Earliest, int(want.N()))
	if err != nil {
		return []rule.Answer{a}
	}
	in := f.Input
	in.Opening = date
	t, ok := f.Result.try(in)
	if spare := workDays(work.Count(t.earliest, date)); ok && spare >= want {
		a.Remedies = append(a.Remedies, rule.Remedy{Kind: "later-opening", Words: "open on " + date.Words() + " or later", Need: want, Have: spare, Params: []rule.Param{{Name: "opening", Text: date.String()}}})
	}
	return []rule.Answer{a}
}

// planning are the decisions on the use of the building.
var planning = map[string]bool{"P1": true, "P2": true, "D1": true, "U1": true}

func checkPlanning(f Facts) []rule.Answer {
	order, decision := -1, -1
	for i, s := range f.Result.Steps {
		if s.ID == "ORDER" && !s.Over {
			order = i
		}
		if planning[s.ID] && !s.Over {
			decision = i
		}
	}
	if order < 0 || decision < 0 {
		return []rule.Answer{rule.DoesNotApply("no planning decision is awaited")}
	}
	o, d := f.Result.Steps[order], f.Result.Steps[decision]
	if d.Open {
		return []rule.Answer{rule.Lacks("", "whether the premises change their use is not known; a decision would come on "+d.Known.Words(), "Site.NewUse")}
	}
	words := "order on " + o.Start.Words() + ", decision on " + d.Known.Words()
	if o.Start >= d.Finish {
		return []rule.Answer{rule.Passes("", nil, nil, words)}
	}
	a := rule.Fails("", nil, nil, words)
	in := f.Input
	in.Order = d.Known
	if t, ok := f.Result.try(in); ok && t.earliest > 0 {
		a.Remedies = append(a.Remedies, rule.Remedy{Kind: "order-after-decision", Words: "order on " + d.Known.Words() + ", after the decision; the earliest opening is then " + t.earliest.Words(), Params: []rule.Param{{Name: "order", Text: d.Known.String()}, {Name: "opening", Text: t.earliest.String()}}})
	}
	return []rule.Answer{a}
}

func checkFacts(f Facts) []rule.Answer {
	missing, names := []string(nil), ""
	seen := map[string]bool{}
	for _, s := range f.Result.Steps {
		if s.Open && !seen[s.Decides] {
			seen[s.Decides] = true
		}
	}
	for _, n := range factNames {
		if !seen[n] {
			continue
		}
		missing = append(missing, "Site."+n)
		if names != "" {
			names += ", "
		}
		names += n
	}
	if len(missing) == 0 {
		return []rule.Answer{rule.Passes("", nil, nil, "every fact that calls up a permit is known")}
	}
	return []rule.Answer{rule.Lacks("", "not known: "+names+"; the programme counts these permits as needed", missing...)}
}
