package configurator

import (
	"reflect"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/air"
	"tunwright/configurator/brewing"
	"tunwright/configurator/enquiry"
)

func TestAirCarriesAnUnknownOutletAsUnknown(t *testing.T) {
	var s enquiry.Site
	if got := steamFree(s); got != nil {
		t.Errorf("an unknown steam outlet is carried as %v", *got)
	}
	s.Air.Steam = told(false)
	if got := steamFree(s); got == nil || !*got {
		t.Errorf("no steam outlet is carried as %v", got)
	}
}

func TestAirCarriesTheLowRoom(t *testing.T) {
	for _, c := range []struct {
		level int
		rise  enquiry.Fact[unit.Length]
		low   enquiry.Fact[bool]
		want  *bool
	}{
		{0, enquiry.Fact[unit.Length]{}, enquiry.Fact[bool]{}, nil},
		{0, enquiry.Fact[unit.Length]{}, told(false), ptr(false)},
		{0, told(unit.Metres(0.2)), told(true), ptr(true)},
		{0, told(unit.Metres(-0.9)), enquiry.Fact[bool]{}, ptr(true)},
		{-1, enquiry.Fact[unit.Length]{}, told(false), ptr(true)},
	} {
		if got := airRoom(enquiry.Site{Level: c.level, Rise: c.rise, Low: c.low}).LowPoint; !reflect.DeepEqual(got, c.want) {
			t.Errorf("storey %d, floor at %v, told %v: low point %v", c.level, c.rise.Ptr(), c.low.Ptr(), got)
		}
	}
}

func TestAirCountsTheHeadsOfAllAlarms(t *testing.T) {
	chosen, _ := choose(t, "GA-2", "GA-2")
	if a := gasAlarm(chosen); a.Detectors == nil || *a.Detectors != 4 {
		t.Errorf("two alarms of two heads carried as %+v", a)
	}
	if a := gasAlarm(nil); a.Detectors != nil {
		t.Error("no alarm chosen is carried as a known number of heads")
	}
}

func TestAirCarriesTheGasStore(t *testing.T) {
	for name, c := range map[string]struct {
		store  enquiry.GasStore
		stored *bool
		number int
	}{
		"nothing told":  {enquiry.GasStore{}, nil, 0},
		"place unknown": {enquiry.GasStore{Content: told(unit.Kilograms(34))}, nil, 0},
		"none":          {enquiry.GasStore{Content: told(unit.Mass(0))}, new(bool), 0},
		"in the room":   {enquiry.GasStore{Content: told(unit.Kilograms(34)), Count: 3, Outdoors: told(false)}, ptr(true), 1},
	} {
		stored, list := gasStores(c.store)
		if (stored == nil) != (c.stored == nil) || stored != nil && *stored != *c.stored || len(list) != c.number {
			t.Errorf("%s: carried as %v, %+v", name, stored, list)
		}
	}
}

func ptr[T any](v T) *T { return &v }

// The gas of a quiet week of strong beer passes that of the week of the most brews.
func TestAirTakesTheWeekOfTheMostGas(t *testing.T) {
	tank := brewing.TankPlan{Tank: brewing.Tank{Tag: "FV"}}
	beer := func(kg, peak float64) brewing.BeerPlan {
		return brewing.BeerPlan{Charge: brewing.Charge{Mass: brewing.Fermented{CO2: unit.Kilograms(kg)}, PeakCO2: unit.KgPerHour(peak)}}
	}
	plan := &brewing.Result{
		Busiest: 0, Fermenters: []brewing.TankPlan{tank}, Beers: []brewing.BeerPlan{beer(40, 0.6), beer(90, 1.4)},
		Batches: []brewing.Batch{
			{Beer: 0, Start: 0, FermentEnd: 5},
			{Beer: 0, Start: 1, FermentEnd: 6},
			{Beer: 1, Start: 21, FermentEnd: 26},
			{Beer: 1, Start: 22, FermentEnd: 27},
		},
	}
	batches := gasBatches(plan)
	if len(batches) != 2 || batches[0].CO2 != unit.Kilograms(90) || batches[0].Start != clock(0, 0, fillHour) {
		t.Errorf("batches of the gas week: %+v", batches)
	}
}

// A room whose height nobody measured does not take the rest of the ventilation with it.
func TestAirWithoutTheHeightOfTheRoom(t *testing.T) {
	chosen, c := choose(t, "FV-10", "BH-10-E-2V", "EX-3")
	var p enquiry.Project
	p.Site.Country = "GB"
	p.Site.Room.Outline = []enquiry.Point{{}, {X: unit.Metres(10)}, {X: unit.Metres(10), Y: unit.Metres(8)}, {Y: unit.Metres(8)}}
	out, err := air.Size(airInput(p, chosen, pieces(chosen), c, nil))
	if err != nil {
		t.Fatal(err)
	}
	if len(out.Unsized) != 1 || len(out.Gas) != 0 {
		t.Errorf("unsized %v, sized %d", out.Unsized, len(out.Gas))
	}
}

func TestAirCarriesFansAndStoresToTheRoom(t *testing.T) {
	chosen, c := choose(t, "BH-10-E-2V", "EX-3", "EF-800", "FV-10")
	var p enquiry.Project
	p.Site.Air.Extract = told(unit.M3PerHour(200))
	p.Site.Store = enquiry.GasStore{Content: told(unit.Kilograms(34)), Outdoors: told(true)}
	plan := &brewing.Result{Beers: []brewing.BeerPlan{{Brew: brewing.BrewSheet{Evaporation: unit.KgPerHour(80)}}}}
	in := airInput(p, chosen, pieces(chosen), c, plan)
	// the make-up air is for the canopy and for what else draws from the room: 800 + 200
	if in.Steam == nil || in.Steam.OtherDraw != unit.M3PerHour(1000) {
		t.Errorf("other fans carried as %+v", in.Steam)
	}
	if g := in.Gas[0]; g.Stored == nil || !*g.Stored || len(g.Stores) != 1 || !g.Stores[0].Outdoor {
		t.Errorf("stores carried as %v, %+v", g.Stored, g.Stores)
	}
}

// A kettle and fermenters that nobody could plan are unknown, not absent; so is the
// distance to a neighbour.
func TestAirCarriesWhatIsNotWorkedOutAsUnknown(t *testing.T) {
	chosen, c := choose(t, "BH-10-E-2V", "FV-10", "CH-18")
	in := airInput(enquiry.Project{}, chosen, pieces(chosen), c, nil)
	if in.Steam != nil || !in.Boils {
		t.Errorf("steam %v, boils %v", in.Steam, in.Boils)
	}
	if !in.Gas[0].Unplanned {
		t.Error("a fermenter without a plan is carried as a room free of gas")
	}
	if len(in.Noise) != 1 || in.Noise[0].Sources[0].Distance != 0 {
		t.Errorf("a chiller at an unknown distance is carried as %+v", in.Noise)
	}
	var p enquiry.Project
	p.Site.Chiller.Where = "inside"
	if in := airInput(p, chosen, pieces(chosen), c, nil); len(in.Noise) != 0 {
		t.Errorf("a chiller inside is heard outdoors: %+v", in.Noise)
	}
	chosen, c = choose(t, "CH-18")
	if in := airInput(p, chosen, pieces(chosen), c, nil); in.Boils || in.Gas[0].Unplanned {
		t.Errorf("without kettle and fermenter: boils %v, unplanned %v", in.Boils, in.Gas[0].Unplanned)
	}
}
