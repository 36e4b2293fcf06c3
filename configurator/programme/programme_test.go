package programme

import (
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/rule"
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

func TestRun(t *testing.T) {
	in := mill(t)
	r, err := Size(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range r.Steps {
		t.Logf("%-9s %-14s %-40.40s %-7s %s..%s float %3d spare %4d crit %v  %s", s.Group, s.ID, s.Name, s.Who, s.Start, s.LastDay, s.Float, s.Spare, s.Critical, s.When)
	}
	for _, f := range rule.Run(Rules(), Facts{in, r}) {
		t.Logf("%s %-15s %-12s %s", f.Rule.ID, f.Outcome, f.Subject, f.Words)
		for _, m := range f.Remedies {
			t.Logf("       -> %s: %s", m.Kind, m.Words)
		}
		if f.Outcome == rule.Fail && len(f.Remedies) == 0 {
			t.Errorf("%s fails without a remedy", f.Rule.ID)
		}
	}
}

func TestForm(t *testing.T) {
	if err := rule.Verify(rule.Infos(Rules())); err != nil {
		t.Fatal(err)
	}
}

func TestCalculations(t *testing.T) {
	if err := calc.Verify(Calculations()); err != nil {
		t.Fatal(err)
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
