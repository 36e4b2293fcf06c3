package production

import (
	"slices"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/brewing"
	"tunwright/configurator/enquiry"
)

func TestMarksTellBeersApart(t *testing.T) {
	plan := &brewing.Result{}
	for _, name := range []string{"Loom Pale", "Lamp Porter", "Ährengold", "Light Pils"} {
		plan.Beers = append(plan.Beers, brewing.BeerPlan{Beer: brewing.Beer{Name: name}})
	}
	if got, want := marks(plan), []string{"LP", "LPb", "Ä", "LPc"}; !slices.Equal(got, want) {
		t.Errorf("marks are %v, want %v", got, want)
	}
}

// A batch is named once in each tank, on the longest of its stages.
func TestBatchIsNamedOnce(t *testing.T) {
	plan := &brewing.Result{Beers: []brewing.BeerPlan{{Beer: brewing.Beer{Name: "Loom Pale"}}}, Batches: []brewing.Batch{{Number: 7}, {Number: 8}}}
	spans := []brewing.Span{{Start: 0, End: 5, Batch: 0}, {Start: 5, End: 8, Batch: 0}, {Start: 8, End: 13, Batch: 0}, {Start: 13, End: 14, Batch: 1}}
	for i, want := range []string{"LP7", "", "", "LP8"} {
		if got := barLabel(plan, marks(plan), spans, spans[i]); got != want {
			t.Errorf("span %d is named %q, want %q", i, got, want)
		}
	}
}

func TestWholeFigures(t *testing.T) {
	for _, row := range []struct {
		q    unit.Quantity
		key  string
		want string
	}{
		{unit.KilowattHours(1428.7), "kwh", "1429 kWh"},
		{unit.KilowattHours(14286.7), "kwh", "14\u00a0287 kWh"},
		{unit.Kilograms(1234567), "kg", "1\u00a0234\u00a0567 kg"},
	} {
		if got := grouped(row.q, row.key); got != row.want {
			t.Errorf("%v is printed %q, want %q", row.q, got, row.want)
		}
	}
	for _, row := range []struct {
		q    unit.Quantity
		want string
	}{{unit.Hours(8400), "350 d"}, {unit.Hours(0.75), "45 min"}, {unit.Hours(10), "10 h"}, {unit.Percent(700), "7 to 1"}, {unit.Percent(3), "3%"}, {nil, "—"}} {
		if got := taken(row.q); got != row.want {
			t.Errorf("%v is printed %q, want %q", row.q, got, row.want)
		}
	}
	if got := clock(unit.Hours(-4.0833)); got != "−4:05" {
		t.Errorf("a time before the first mash is printed %q", got)
	}
}

// The year's sales are never said to be known better than those of any beer.
func TestBasisOfSales(t *testing.T) {
	beer := func(b enquiry.Basis) enquiry.Beer {
		return enquiry.Beer{Volume: enquiry.Fact[unit.Volume]{Basis: b}}
	}
	for _, row := range []struct {
		beers []enquiry.Beer
		want  string
	}{
		{[]enquiry.Beer{beer(enquiry.Told), beer(enquiry.Told)}, "told"},
		{[]enquiry.Beer{beer(enquiry.Told), beer(enquiry.Assumed)}, "told, assumed for 1 of 2 beers"},
		{[]enquiry.Beer{beer(enquiry.Unknown)}, "assumed"},
	} {
		if got := askedBasis(row.beers); got != row.want {
			t.Errorf("basis is %q, want %q", got, row.want)
		}
	}
}
