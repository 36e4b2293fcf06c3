package configurator

import (
	"testing"

	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator/brewing"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/pressure"
	"tunwright/configurator/rule"
)

// choose resolves products by code, each under its own code as tag.
func choose(t *testing.T, codes ...string) ([]Chosen, *catalog.Catalogue) {
	t.Helper()
	c, err := catalog.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	var s enquiry.Selection
	for _, code := range codes {
		s.Items = append(s.Items, enquiry.Item{Tag: code, Product: code})
	}
	chosen, err := resolve(s, c)
	if err != nil {
		t.Fatal(err)
	}
	return chosen, c
}

func told[T any](v T) enquiry.Fact[T] { return enquiry.Fact[T]{Value: v, Basis: enquiry.Told} }

func pressureOf(t *testing.T, p enquiry.Project, plan *brewing.Result, codes ...string) pressure.Input {
	t.Helper()
	chosen, _ := choose(t, codes...)
	return pressureInput(p, pieces(chosen), chosen, plan)
}

func TestPressureCarriesHowTanksAreCleaned(t *testing.T) {
	var p enquiry.Project
	if v := pressureOf(t, p, nil, "FV-10").Vessels[0]; v.HotClean != nil || v.CausticCO2 != nil {
		t.Errorf("without a cleaning set the tank is said to be cleaned hot %v, under caustic %v: both are unknown", v.HotClean, v.CausticCO2)
	}
	p.Site.Clean = enquiry.Cleaning{CausticCO2: told(false), Rinses: told(3)}
	plan := &brewing.Result{Clean: []brewing.Cleaning{{Item: "FV-10", Temp: unit.Celsius(75)}}}
	v := pressureOf(t, p, plan, "FV-10", "CIP-120").Vessels[0]
	if v.HotClean == nil || !*v.HotClean || v.CleanTemp != unit.Celsius(75) || v.RinseSteps != 3 || v.CausticCO2 == nil || *v.CausticCO2 {
		t.Errorf("cleaning carried as %+v", v)
	}
}

func TestPressureCarriesTheGasLine(t *testing.T) {
	var p enquiry.Project
	p.Site.CO2, p.Site.CO2Flow = told(unit.BarGauge(3)), told(unit.KgPerHour(90))
	v := pressureOf(t, p, nil, "FV-10-LOW").Vessels[0]
	if v.GasMax == nil || *v.GasMax != unit.BarGauge(3) || v.GasFlow != unit.KgPerHour(90) {
		t.Errorf("gas line carried as %v, %v", v.GasMax, v.GasFlow)
	}
	// a tank for open fermentation has no connection for gas
	if v := pressureOf(t, p, nil, "FV-10-LP").Vessels[0]; v.GasMax == nil || *v.GasMax != 0 {
		t.Errorf("gas of %v is connected to a tank without a connection for it", v.GasMax)
	}
}

func TestPressureCarriesThePapersOfTheSteamPlant(t *testing.T) {
	in := pressureOf(t, enquiry.Project{}, nil, "SG-E-200", "BH-20-S-2V", "HLT-S-30")
	out, err := pressure.Size(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range rule.Run(pressure.Rules(), pressure.Facts{Input: in, Result: out}) {
		if (f.Rule.ID == "PR-002" || f.Rule.ID == "PR-003" || f.Rule.ID == "PR-010") && (f.Outcome == rule.Unknown || f.Outcome == rule.Fail) {
			t.Errorf("%s %s: %s: %s", f.Rule.ID, f.Subject, f.Outcome, f.Words)
		}
	}
	for _, v := range in.Vessels {
		if v.Jacket != nil && v.Jacket.Contents != pressure.Steam {
			t.Errorf("%s: the jacket holds %s, not steam", v.Tag, v.Jacket.Contents)
		}
	}
}

// source: Directive 2014/68/EU Annex I 2.10 and 7.3: no tank of the catalogue asks for
// gas above the pressure it is allowed
func TestNoTankAsksForGasAboveItsPressure(t *testing.T) {
	c, err := catalog.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range c.All() {
		for _, conn := range p.Connects {
			for _, b := range p.Bodies {
				if conn.Service == "co2" && b.Vessel != nil && conn.Pressure > b.Vessel.Pressure {
					t.Errorf("%s asks for gas of %s, its PS is %s", p.Code, conn.Pressure, b.Vessel.Pressure)
				}
			}
		}
	}
}

// Every closed tank of the catalogue can be cleaned at 70 °C and rinsed cold: its
// vacuum valve follows.
func TestVacuumValvesFollowHotCleaning(t *testing.T) {
	c, err := catalog.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	var codes []string
	for _, class := range []catalog.Class{catalog.ClassFermenter, catalog.ClassBrightTank} {
		for _, p := range c.ByClass(class) {
			codes = append(codes, p.Code)
		}
	}
	purged := enquiry.Project{Site: enquiry.Site{Clean: enquiry.Cleaning{CausticCO2: told(false)}}}
	in := pressureOf(t, purged, nil, append(codes, "CIP-120")...)
	out, err := pressure.Size(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range rule.Run(pressure.Rules(), pressure.Facts{Input: in, Result: out}) {
		if f.Rule.ID == "PR-007" && f.Outcome != rule.Pass {
			t.Errorf("%s %s: %s", f.Subject, f.Outcome, f.Words)
		}
	}
}

func TestPressureCarriesTheCarbonation(t *testing.T) {
	plan := &brewing.Result{
		Beers:   []brewing.BeerPlan{{Cold: unit.Celsius(1), Charge: brewing.Charge{CO2: unit.CO2GramsPerLitre(4)}}, {Cold: unit.Celsius(1), Charge: brewing.Charge{CO2: unit.CO2GramsPerLitre(5.5)}}},
		Brights: []brewing.TankPlan{{Tank: brewing.Tank{Tag: "BT-10"}}},
		Batches: []brewing.Batch{{Beer: 0, Fermenter: -1, Brights: []int{0}}, {Beer: 1, Fermenter: -1, Brights: []int{0}}},
	}
	v := pressureOf(t, enquiry.Project{}, plan, "BT-10").Vessels[0]
	if v.Carbonation == nil || *v.Carbonation != unit.CO2GramsPerLitre(5.5) || v.BeerTemp != unit.Celsius(1) {
		t.Errorf("carbonation carried as %v at %v: the livelier beer asks the most", v.Carbonation, v.BeerTemp)
	}
}

// A steam jacket is fed with what the generator chosen can give; where steam comes from
// elsewhere nobody knows.
func TestPressureCarriesTheSteamOfAJacket(t *testing.T) {
	jackets := func(in pressure.Input) (out []*pressure.Jacket) {
		for _, v := range in.Vessels {
			if v.Jacket != nil && v.Jacket.Contents == pressure.Steam {
				out = append(out, v.Jacket)
			}
		}
		return out
	}
	for _, j := range jackets(pressureOf(t, enquiry.Project{}, nil, "BH-5-S-2V")) {
		if j.Supply != nil {
			t.Errorf("without a generator the jacket is fed with %s", *j.Supply)
		}
	}
	fed := jackets(pressureOf(t, enquiry.Project{}, nil, "BH-5-S-2V", "SG-G-100"))
	if len(fed) == 0 {
		t.Fatal("a steam brewhouse has no steam jacket")
	}
	chosen, _ := choose(t, "SG-G-100")
	for _, j := range fed {
		if j.Supply == nil || *j.Supply != chosen[0].Product.Steam.Pressure {
			t.Errorf("the jacket is fed with %v, the generator gives %s", j.Supply, chosen[0].Product.Steam.Pressure)
		}
	}
}

// Beer beyond the table of solubility is carried, so that its pressure is unknown.
func TestPressureCarriesBeerBeyondTheTable(t *testing.T) {
	lively := brewing.BeerPlan{Cold: unit.Celsius(2), Charge: brewing.Charge{CO2: unit.CO2GramsPerLitre(9)}}
	still := brewing.BeerPlan{Cold: unit.Celsius(2), Charge: brewing.Charge{CO2: unit.CO2GramsPerLitre(4)}}
	plan := &brewing.Result{
		Beers:   []brewing.BeerPlan{still, lively},
		Brights: []brewing.TankPlan{{Tank: brewing.Tank{Tag: "BT-10"}}},
		Batches: []brewing.Batch{{Beer: 1, Fermenter: -1, Brights: []int{0}}, {Beer: 0, Fermenter: -1, Brights: []int{0}}},
	}
	v := pressureOf(t, enquiry.Project{}, plan, "BT-10").Vessels[0]
	if v.Carbonation == nil || v.Carbonation.GL() != 9 {
		t.Errorf("carried %v, want the beer of 9 g/L", v.Carbonation)
	}
}
