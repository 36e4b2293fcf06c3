package programme

import (
	"slices"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/rule"
	"tunwright/configurator/rule/ruletest"
)

func yes() *bool { b := true; return &b }
func no() *bool  { b := false; return &b }

func date(t testing.TB, s string) Date {
	t.Helper()
	d, err := ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func mill(t testing.TB) Input {
	return Input{
		Country: GB, Today: date(t, "2026-11-25"), Opening: date(t, "2027-06-01"),
		Holidays: []Date{date(t, "2026-12-25"), date(t, "2026-12-28"), date(t, "2027-01-01"), date(t, "2027-03-26"), date(t, "2027-03-29"), date(t, "2027-05-03"), date(t, "2027-05-31")},
		Site:     Site{NewUse: yes(), BuildWork: yes(), Network: yes(), Effluent: yes(), Structural: yes(), Crane: yes(), RoadClosure: yes(), Taproom: yes(), Scheme: yes(), Noise: no(), Listed: no()},
		Supplies: []Supply{{Name: "Tanks", Code: "FV", Lead: unit.Days(98), Shipping: unit.Days(21), Faster: []Supply{{Name: "Stock tanks", Code: "FVS", Lead: unit.Days(14), Shipping: unit.Days(3)}}}, {Name: "Chiller", Code: "CH", Lead: unit.Days(56), Shipping: unit.Days(7), Needs: "P9-OFFER"}},
	}
}

func TestForm(t *testing.T) {
	if err := rule.Verify(rule.Infos(Rules())); err != nil {
		t.Fatal(err)
	}
}

// calm is a programme in good order, from which each case departs.
func calm(t testing.TB) Input {
	in := mill(t)
	in.Opening = date(t, "2028-03-01")
	in.Site.WaterSupply, in.Site.Trade, in.Site.GrainFeed, in.Site.LargeWorks, in.Site.NewUse = no(), yes(), no(), no(), no()
	return in
}

func TestRuleCases(t *testing.T) {
	seen := ruletest.Seen{}
	for _, c := range []struct {
		id     string
		want   rule.Outcome
		change func(in *Input)
	}{
		{"PG-001", rule.Pass, func(*Input) {}},
		{"PG-001", rule.Fail, func(in *Input) { in.Opening = date(t, "2027-03-01") }},
		{"PG-001", rule.Unknown, func(in *Input) { in.Opening = 0 }},
		{"PG-002", rule.Pass, func(*Input) {}},
		{"PG-002", rule.Pass, func(in *Input) { in.Order = date(t, "2027-01-11") }},
		{"PG-002", rule.Fail, func(in *Input) { in.Order = date(t, "2028-01-10") }},
		{"PG-002", rule.NotApplicable, func(in *Input) { in.Opening = 0 }},
		{"PG-003", rule.Pass, func(*Input) {}},
		{"PG-003", rule.Fail, func(in *Input) { in.Opening = earliest(t, *in) + 3 }},
		{"PG-003", rule.NotApplicable, func(in *Input) { in.Opening = 0 }},
		{"PG-004", rule.NotApplicable, func(*Input) {}},
		{"PG-004", rule.Fail, func(in *Input) { in.Site.NewUse = yes() }},
		{"PG-004", rule.Pass, func(in *Input) { in.Site.NewUse, in.Order = yes(), date(t, "2027-06-01") }},
		{"PG-004", rule.Unknown, func(in *Input) { in.Site.NewUse = nil }},
		{"PG-005", rule.Pass, func(*Input) {}},
		{"PG-005", rule.Unknown, func(in *Input) { in.Site.Crane = nil }},
		{"PG-006", rule.Pass, func(*Input) {}},
		{"PG-006", rule.Unknown, func(in *Input) { in.Holidays = nil }},
	} {
		in := calm(t)
		c.change(&in)
		r, err := Size(in)
		if err != nil {
			t.Fatalf("%s: %v", c.id, err)
		}
		seen.Add(c.id, c.want)
		for _, x := range Rules() {
			if x.ID != c.id {
				continue
			}
			a := x.Check(Facts{in, r})[0]
			if a.Outcome != c.want {
				t.Errorf("%s: %s, want %s: %s", c.id, a.Outcome, c.want, a.Words)
			}
			if a.Outcome == rule.Fail && len(a.Remedies) == 0 {
				t.Errorf("%s fails without a remedy that passes: %s", c.id, a.Words)
			}
			if a.Outcome == rule.Unknown && len(a.Missing) == 0 {
				t.Errorf("%s is unknown without saying what is missing", c.id)
			}
		}
	}
	seen.Complete(t, rule.Infos(Rules()), map[string]string{
		"PG-002 unknown": "without an opening date it does not apply, and PG-001 asks for the date",
		"PG-003 unknown": "without an opening date it does not apply, and PG-001 asks for the date",
		"PG-005 fails":   "it only asks: what is known is in order, what is not is unknown",
		"PG-006 fails":   "it only asks: what is known is in order, what is not is unknown",
	})
}

func earliest(t testing.TB, in Input) Date {
	t.Helper()
	r, err := Size(in)
	if err != nil {
		t.Fatal(err)
	}
	return r.Earliest
}

// The faster tanks are offered where they alone bring the date within reach.
func TestFasterSupplyIsOffered(t *testing.T) {
	in := calm(t)
	in.Site = Site{NewUse: no(), BuildWork: no(), Listed: no(), Network: no(), WaterSupply: no(), Effluent: no(), Structural: no(), Crane: no(), RoadClosure: no(), Taproom: no(), Trade: no(), Noise: no(), Scheme: no(), GrainFeed: no(), LargeWorks: no()}
	in.Supplies = in.Supplies[:1]
	slow := earliest(t, in)
	quick := in
	quick.Supplies = in.Supplies[0].Faster
	fast := earliest(t, quick)
	if fast >= slow {
		t.Fatalf("faster tanks open on %s, slower on %s", fast, slow)
	}
	in.Opening = fast
	r, err := Size(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range checkOpening(Facts{in, r})[0].Remedies {
		if m.Kind == "faster-supply" {
			return
		}
	}
	t.Error("the faster tanks are not offered")
}

// Every country's tasks stand together: links resolve, facts are known, the opening
// comes last, approval comes before the first brew.
func TestEveryCountry(t *testing.T) {
	if taskTable.Len() != len(rows) || len(rows) != 60 {
		t.Errorf("%d tasks, 60 were written down", len(rows))
	}
	for _, r := range rows {
		for n, l := range r.after {
			if rows[r.prior[n]].task.ID != l.ID {
				t.Errorf("task %s waits on %s, which is not in the table", r.task.ID, l.ID)
			}
		}
		if _, known := r.task, r.when; known == "" {
			t.Errorf("task %s has no condition", r.task.ID)
		}
		if v, known := (Site{}).fact(r.when); !known && v == nil && !contains(factNames, r.when) {
			t.Errorf("task %s hangs on %q, which is no fact", r.task.ID, r.when)
		}
	}
	registration := map[Country]string{GB: "P10", IE: "P11", DE: "D10", US: "U10"}
	effluent := map[Country]string{GB: "P7", IE: "P7", DE: "D7", US: "U7"}
	approval := map[Country]string{GB: "P12", IE: "P14", DE: "D12", US: "U12"}
	for _, c := range []Country{GB, IE, DE, US} {
		in := Input{Country: c, Today: date(t, "2026-11-25")}
		r, err := Size(in)
		if err != nil {
			t.Fatalf("%s: %v", c, err)
		}
		at := map[string]Step{}
		last := Date(0)
		for _, s := range r.Steps {
			at[s.ID] = s
			last = max(last, s.Finish)
		}
		if at["OPEN"].Finish != last || r.Earliest != last {
			t.Errorf("%s: the opening on %s is not the last, %s", c, at["OPEN"].Finish, last)
		}
		if at["BREW"].Start < at[approval[c]].Finish {
			t.Errorf("%s: the first brew on %s comes before the approval on %s", c, at["BREW"].Start, at[approval[c]].Finish)
		}
		// each of these alone holds up the first brew when it takes very long
		for _, id := range []string{approval[c], registration[c], effluent[c], "P22", "INSTALL", "P9"} {
			late := in
			late.Own = []Override{{ID: id, Days: 600}}
			x, err := Size(late)
			if err != nil {
				t.Fatalf("%s: %v", c, err)
			}
			if x.Earliest <= r.Earliest {
				t.Errorf("%s: %s takes 600 days and the opening stays on %s", c, id, x.Earliest)
			}
		}
		if len(r.Critical) == 0 || len(r.ByWho) != 3 {
			t.Errorf("%s: %d critical tasks, %d parties", c, len(r.Critical), len(r.ByWho))
		}
	}
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

func TestOwnFigures(t *testing.T) {
	in := calm(t)
	in.Own = []Override{{ID: "P9", Days: 10, Note: "operator's letter"}}
	in.Done = []string{"SURVEY", "DESIGN", "AGREE"}
	in.Times.Install = 20
	r, err := Size(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range r.Steps {
		switch s.ID {
		case "P9":
			if s.Days != 10 || s.Note != "operator's letter" {
				t.Errorf("P9 takes %d days, note %q", s.Days, s.Note)
			}
		case "INSTALL":
			if s.Days != 20 {
				t.Errorf("installation takes %d days", s.Days)
			}
		case "SURVEY":
			if !s.Over || s.When != "done" {
				t.Errorf("the survey is not over: %s", s.When)
			}
		}
	}
	in.Own = []Override{{ID: "P9", Days: -1}}
	if _, err := Size(in); err == nil {
		t.Error("a task of less than no days was taken")
	}
	if _, err := Size(Input{}); err == nil {
		t.Error("a programme without today's date was taken")
	}
}

func TestCalculations(t *testing.T) {
	if err := calc.Verify(Calculations()); err != nil {
		t.Fatal(err)
	}
}

func BenchmarkRules(b *testing.B) {
	in := mill(b)
	r, err := Size(in)
	if err != nil {
		b.Fatal(err)
	}
	rules := Rules()
	b.ReportAllocs()
	for b.Loop() {
		rule.Run(rules, Facts{in, r})
	}
}

func BenchmarkSize(b *testing.B) {
	in := mill(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Size(in); err != nil {
			b.Fatal(err)
		}
	}
}

// Nothing that a paper names happens on a day off: milestones, decisions and orders.
// source: calendar, 22 May 2027 is a Saturday (ISO 8601 weekday 6)
func TestNoDateFallsOnADayOff(t *testing.T) {
	for day := date(t, "2026-11-23"); day < date(t, "2026-12-21"); day++ {
		in := mill(t)
		in.Today, in.Site.NewUse = day, yes()
		r, err := Size(in)
		if err != nil {
			t.Fatal(err)
		}
		off := func(what string, d Date) {
			if w := d.Weekday(); w == 0 || w == 6 || slices.Contains(in.Holidays, d) {
				t.Errorf("from %s: %s on %s", day.Words(), what, d.Words())
			}
		}
		off("earliest opening", r.Earliest)
		for _, s := range r.Steps {
			if s.Days == 0 && !s.Over {
				off(s.Name, s.Start)
			}
			off("after "+s.Name, s.Known)
		}
		for _, f := range rule.Run(Rules(), Facts{in, r}) {
			for _, m := range f.Remedies {
				for _, p := range m.Params {
					if d, err := ParseDate(p.Text); err == nil && (p.Name == "order" || p.Name == "opening") {
						off("remedy of "+f.Rule.ID, d)
					}
				}
			}
		}
	}
}
