package office_test

import (
	"strings"
	"testing"

	"tunwright/pricing"
	"tunwright/pricing/money"
	"tunwright/pricing/pack/client/office"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/svg"
)

func sum(t *testing.T, s string) money.Amount {
	t.Helper()
	a, err := money.New(s, money.GBP)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func exposures(t *testing.T) []pricing.Exposure {
	return []pricing.Exposure{
		{Stage: "Deposit", Committed: sum(t, "10000.00"), Received: sum(t, "40000.00"), Before: sum(t, "10000.00"), After: sum(t, "-30000.00")},
		{Stage: "Before dispatch", Committed: sum(t, "95000.00"), Received: sum(t, "60000.00"), Before: sum(t, "55000.00"), After: sum(t, "35000.00"), Over: true},
	}
}

// An exposure above the limit is said in words, not by weight of type alone.
func TestExposure(t *testing.T) {
	d, err := office.Exposure(exposures(t), paper.EnGB)
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Check(); err != nil {
		t.Error(err)
	}
	got, err := svg.String(d, svg.Options{ID: "x-"})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Before dispatch", "£35,000.00", "-£30,000.00", "over the limit"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not in the drawing", want)
		}
	}
	if n := strings.Count(got, "over the limit"); n != 1 {
		t.Errorf("%d stages are over the limit, one is", n)
	}
	table := office.Table(exposures(t))
	if err := table.Check(); err != nil {
		t.Error(err)
	}
}

func TestExposureOfNothing(t *testing.T) {
	if _, err := office.Exposure(nil, paper.EnGB); err == nil {
		t.Error("no stages gave a drawing")
	}
	nothing := []pricing.Exposure{{Stage: "All", Committed: sum(t, "0.00"), Received: sum(t, "0.00"), Before: sum(t, "0.00"), After: sum(t, "0.00")}}
	if _, err := office.Exposure(nothing, paper.EnGB); err == nil {
		t.Error("nothing committed and nothing received gave a drawing")
	}
}
