package configurator

import (
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/brewing"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/water"
)

func TestWaterKeepsAnUnknownRiseUnknown(t *testing.T) {
	var s enquiry.Site
	if got := waterSupply(s).Rise; got != nil {
		t.Errorf("an unknown rise is carried as %v", *got)
	}
	s.Rise = told(unit.Metres(4.35))
	if got := waterSupply(s).Rise; got == nil || *got != unit.Metres(4.35) {
		t.Errorf("the rise is carried as %v", got)
	}
}

// The waste of a day holds what a brewing day gives: no failure, no yearly emptying, and
// each stream once.
func TestWasteOfTheDay(t *testing.T) {
	flow := unit.LitresPerMinute(25)
	plan := &brewing.Result{
		BrewLength: unit.Litres(1000), Totals: brewing.Totals{Brews: 140},
		Dumps: []brewing.Dump{
			{Name: "hot liquor won beyond the next brew's", Volume: unit.Litres(200), Temp: unit.Celsius(78), Flow: &flow, Year: 140},
			{Name: "hot liquor of a whole knock-out, tank full or valve wrong", Volume: unit.Litres(1100), Temp: unit.Celsius(78), Flow: &flow},
			{Name: "last runnings and drips of the tun", Volume: unit.Litres(60), Temp: unit.Celsius(70), Year: 140},
			{Name: "trub and hops", Volume: unit.Litres(40), Temp: unit.Celsius(80), Year: 140},
			{Name: "hot-liquor tank emptied", Volume: unit.Litres(2000), Temp: unit.Celsius(80), Year: 12},
			{Name: "kettle cleaning solution", Volume: unit.Litres(240), Temp: unit.Celsius(80), Year: 140},
		},
		Clean: []brewing.Cleaning{{Item: "FV1", Solution: unit.Litres(100), Rinse: unit.Litres(300), Temp: unit.Celsius(70)}},
	}
	p := enquiry.Project{Brief: enquiry.Brief{BrewsDay: 2}}
	var in water.Input
	discharges(&in, p, plan)
	want := []struct {
		name, kind string
		litres     float64
		times      int
	}{
		{"yeast of one tank", "yeast", 20, 1},
		{"hot liquor won beyond the next brew's", "hot-liquor", 200, 2},
		{"last runnings and drips of the tun", "last-runnings", 60, 2},
		{"trub and hops", "trub", 40, 2},
		{"kettle cleaning solution", "caustic", 240, 1},
		{"caustic of FV1", "caustic", 100, 1},
		{"rinse of FV1", "rinse", 300, 1},
		{"floor washing", "floor", 600, 1},
	}
	if len(in.Discharges) != len(want) {
		t.Fatalf("%d streams, want %d: %+v", len(in.Discharges), len(want), in.Discharges)
	}
	for i, w := range want {
		d := in.Discharges[i]
		if d.Name != w.name || d.Kind != w.kind || d.Volume != unit.Litres(w.litres) || max(d.Times, 1) != w.times || d.Flow <= 0 {
			t.Errorf("stream %d is %s, %s, %v × %d at %v, want %+v", i, d.Name, d.Kind, d.Volume, d.Times, d.Flow, w)
		}
	}
	if a, b := in.Discharges[5].Source, in.Discharges[6].Source; a == "" || a != b {
		t.Errorf("caustic and rinse of one set come from %q and %q", a, b)
	}
}

func TestWaterCarriesTheSummerMain(t *testing.T) {
	chosen, c := choose(t, "BH-10-E-2V")
	var p enquiry.Project
	p.Site.Water.Summer = told(unit.Celsius(22))
	if got := waterInput(p, chosen, c, nil).ColdWater; got == nil || *got != unit.Celsius(22) {
		t.Errorf("the main that cools hot waste is carried as %v", got)
	}
}
