package catalog_test

import (
	"math"
	"slices"
	"testing"

	"tunwright/catalog"
	"tunwright/catalog/unit"
)

func rating(t *testing.T, p *catalog.Product, leaving, ambient float64) catalog.Rating {
	t.Helper()
	for _, r := range p.Chiller.Ratings {
		if r.Leaving == unit.Celsius(leaving) && r.Ambient == unit.Celsius(ambient) {
			return r
		}
	}
	t.Fatalf("%s is not rated at %g/%g °C", p.Code, leaving, ambient)
	return catalog.Rating{}
}

// TestChillersLoseOutputAsChillersDo compares the tables with the factors of a
// packaged air-cooled chiller for glycol.
func TestChillersLoseOutputAsChillersDo(t *testing.T) {
	const source = "YLCC-h technical manual, nominal capacity correcting factors, page 18 (easymanua.ls/york/ylcc-h): 1.045 at 5/25 °C"
	cases := []struct{ leaving, ambient, factor float64 }{
		{5, 35, 0.902 / 1.045},
		{2, 25, 0.921 / 1.045},
		{0, 25, 0.838 / 1.045},
		{0, 35, 0.722 / 1.045},
		{-2, 35, 0.652 / 1.045},
		{-4, 25, 0.703 / 1.045},
		{-4, 35, 0.594 / 1.045},
	}
	for _, p := range stocked(t, load(t), catalog.ClassChiller) {
		best := rating(t, p, 5, 25).Capacity.KW()
		for _, c := range cases {
			got := rating(t, p, c.leaving, c.ambient).Capacity.KW() / best
			within(t, p.Code, got/c.factor, 0.9, 1.1, source)
		}
	}
}

func TestChillerFigures(t *testing.T) {
	low := map[string]float64{"R290": 0.02, "R455A": 146} // Regulation (EU) 2024/573, annexes I and II, as configurator/cooling/tables has it
	for _, p := range stocked(t, load(t), catalog.ClassChiller) {
		cold := rating(t, p, -4, 35)
		within(t, p.Code+": cooling over input at -4/35 °C", cold.Capacity.KW()/cold.Input.KW(), 1.9, 2.8, "2.0 to 2.8, from memory")
		nominal := rating(t, p, 5, 30).Capacity.KW()
		within(t, p.Code+": air, m³/h per kW", p.Chiller.AirFlow.M3H()/nominal, 290, 580, "600 to 1200 cfm per ton: ref-wiki.com, condensers")
		if gwp, known := low[p.Chiller.Refrigerant]; !known || gwp >= 150 {
			t.Errorf("%s: refrigerant %s is not one of low warming potential", p.Code, p.Chiller.Refrigerant)
		}
		var drawn float64
		for _, l := range p.Loads {
			if l.Kind == "compressor" || l.Kind == "fan" {
				drawn += l.Power.KW()
			}
		}
		within(t, p.Code+": compressor and fans over the highest input", drawn/rating(t, p, 5, 40).Input.KW(), 0.98, 1.02, "own arithmetic: the rating counts both")
		leaving, ambient := p.Chiller.Axes()
		if leaving[0] > unit.Celsius(-8) || leaving[len(leaving)-1] < unit.Celsius(5) || ambient[0] > unit.Celsius(25) || ambient[len(ambient)-1] < unit.Celsius(40) {
			t.Errorf("%s: rated for %v leaving and %v ambient, want -8 to 5 °C and 25 to 40 °C", p.Code, leaving, ambient)
		}
		// Flow that carries the nominal output at a rise of 4 K in 33 % glycol:
		// 1037 kg/m³ and 3.75 kJ/kgK at 0 °C (Melinder 2010, interpolated).
		flow := nominal / (1037 * 3.75 * 4) * 3600
		if flow < p.Chiller.MinFlow.M3H() || flow > p.Chiller.MaxFlow.M3H() {
			t.Errorf("%s: the flow of %.2f m³/h for 4 K lies outside %s to %s", p.Code, flow, p.Chiller.MinFlow, p.Chiller.MaxFlow)
		}
	}
}

// TestWortCoolersCool follows one brew of 12 °P through the exchanger in 45 minutes, by
// effectiveness and number of transfer units in counterflow.
//
//	ε = (1 − e^(−N(1−C))) / (1 − C e^(−N(1−C))), N = UA / C_min, C = C_min / C_max
func TestWortCoolersCool(t *testing.T) {
	const source = "effectiveness of a counterflow exchanger (from memory); 96 to 18 °C on water of 10 °C, common practice, no source"
	outlet := func(ua, wort, water, hotIn, coldIn float64) float64 {
		least, most := min(wort, water), max(wort, water)
		n, c := ua/least, least/most
		e := math.Exp(-n * (1 - c))
		eff := (1 - e) / (1 - c*e)
		return hotIn - eff*least*(hotIn-coldIn)/wort
	}
	for _, p := range stocked(t, load(t), catalog.ClassWortCooler) {
		w := p.WortCooler
		litres := w.MaxWort.HLH() * 100 / 1.4 // the brew the cooler is named for
		seconds := 45 * 60.0
		wort := litres * 1.0484 * 0.9982 * 3.9 / seconds // kW/K
		water := litres * 1.15 * 4.19 / seconds
		if w.Stages == 1 {
			within(t, p.Code+": wort leaves at, °C", outlet(w.UA1.KWK(), wort, water, 96, 10), 10, 18.5, source)
			continue
		}
		first := outlet(w.UA1.KWK(), wort, water, 96, 18)
		coolant := litres * 1.5 * 1.037 * 3.75 / seconds
		second := outlet(w.UA2.KWK(), wort, coolant, first, -3)
		within(t, p.Code+": wort leaves at, °C, on summer mains of 18 °C and coolant of -3 °C", second, 4, 11, source)
	}
}

// TestCondensersTakeTheVapour: cooling water leaves hot but well below the boil.
func TestCondensersTakeTheVapour(t *testing.T) {
	for _, p := range stocked(t, load(t), catalog.ClassCondenser) {
		heat := p.Condenser.Vapour.KgH() * evaporation / 3600
		rise := heat / (p.Condenser.Water.LMin() / 60 * 4.19)
		within(t, p.Code+": warming of the water, K", rise, 30, 60, "own arithmetic, 2256.5 kJ/kg (IAPWS-IF97)")
	}
}

// TestVapourHasAPlaceToGo: for each kettle there is a condenser that takes its vapour.
func TestVapourHasAPlaceToGo(t *testing.T) {
	c := load(t)
	all := stocked(t, c, catalog.ClassCondenser)
	largest := all[len(all)-1].Condenser.Vapour.KgH()
	for _, p := range stocked(t, c, catalog.ClassBrewhouse) {
		h := p.Brewhouse
		vapour := (h.KettleHeat.KW()*float64(h.Efficiency) - h.LossUA.KWK()*80) * 3600 / evaporation
		if vapour > largest {
			t.Errorf("%s gives off %.0f kg/h, the largest condenser takes %.0f kg/h", p.Code, vapour, largest)
		}
	}
}

// TestCanopiesCoverTheKettle: there is a canopy that overhangs each kettle by 300 mm all
// round, and each draws 0.25 m/s over its plan.
func TestCanopiesCoverTheKettle(t *testing.T) {
	const source = "DW/172: 0.25 m/s for light loading, overhang 300 mm (second-hand)"
	c := load(t)
	all := stocked(t, c, catalog.ClassCanopy)
	for _, p := range all {
		x := p.Extract
		area := x.Length.M() * x.Width.M()
		within(t, p.Code+": velocity over the plan, m/s", x.AirFlow.M3S()/area, 0.25, 0.35, source)
		duct := x.AirFlow.M3S() / (math.Pi / 4 * x.Duct.M() * x.Duct.M())
		within(t, p.Code+": velocity in the duct, m/s", duct, 5, 10, "common practice, no source")
	}
	widest := all[len(all)-1].Extract.Width.M()
	for _, p := range stocked(t, c, catalog.ClassBrewhouse) {
		for _, b := range p.Bodies {
			if b.Vessel != nil && slices.Contains(b.Vessel.Duties, catalog.DutyKettle) && b.Length.M()+0.6 > widest {
				t.Errorf("%s: no canopy covers its kettle of %s", p.Code, b.Length)
			}
		}
	}
}

// TestSmallPlantRunsOnOnePhase: a gas brewery of 5 hL with its cellar can be had
// without a three-phase supply, as farms need it.
func TestSmallPlantRunsOnOnePhase(t *testing.T) {
	c := load(t)
	for _, code := range []string{"BH-2.5-E-1V", "BH-2.5-E-2V", "BH-2.5-G-2V", "BH-5-G-2V", "CH-3", "CH-5", "CP-B-10", "CP-C-8", "CIP-60", "ML-150", "KW-1", "AC-12", "PU-G-3", "PU-T-5", "EX-1", "EX-2", "GA-2"} {
		p, err := c.Lookup(code)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range p.Loads {
			if l.Phases != 1 {
				t.Errorf("%s: %s has %d phases", code, l.Name, l.Phases)
			}
		}
	}
}
