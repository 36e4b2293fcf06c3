package catalog_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"tunwright/catalog"
)

// hot is the wort at cast-out for one litre of cold wort in the fermenter: 3 % stays
// with the trub and 4 % is contraction on cooling (water at 100 and 20 °C, IAPWS-IF97).
const hot = 1 / (0.97 * 0.96)

// Water at the boil, IAPWS-IF97: heat of evaporation in kJ/kg and density in kg/L.
const (
	evaporation = 2256.5
	boiling     = 0.9584
)

// maltFor gives the kilograms of malt for one brew of 12.5 °P into litres of cold wort.
//
//	m = V / 0.97 · SG · 0.9982 · P/100 / (x · η)
//
// SG 1.0505 at 12.5 °P by SG = 1 + P/(258.6 − 227.1 P/258.2); x = 0.785 laboratory
// extract of pale malt (from memory).
func maltFor(litres, efficiency float64) float64 {
	return litres / 0.97 * 1.0505 * 0.9982 * 0.125 / (0.785 * efficiency)
}

func vesselWith(p *catalog.Product, d catalog.Duty) *catalog.Vessel {
	for _, b := range p.Bodies {
		if b.Vessel != nil && slices.Contains(b.Vessel.Duties, d) {
			return b.Vessel
		}
	}
	return nil
}

// TestKettlesBoil holds evaporation, heat-up and headspace of each brewhouse.
func TestKettlesBoil(t *testing.T) {
	for _, p := range stocked(t, load(t), catalog.ClassBrewhouse) {
		h := p.Brewhouse
		cast := h.Length.L() * hot
		into := h.KettleHeat.KW() * float64(h.Efficiency)
		ua := h.LossUA.KWK()
		rate := (into - ua*80) * 3600 / evaporation / (boiling * cast) * 100
		within(t, p.Code+": evaporation, % of cast an hour", rate, 5, 8.2,
			"5 to 8 %/h: JRC best practice for food and beverage, node 237")
		full := cast * 1.07
		within(t, p.Code+": share of the kettle free when full", 1-full/vesselWith(p, catalog.DutyKettle).Gross.L(), 0.25, 0.34,
			"15 to 30 % of the vessel: storchen-braeu.de, Brauberechnungen; a quarter and more by common practice, no source")
		heat := full*boiling*1.046*3.9 + h.KettleSteel.Kg()*0.5 // kJ/K; 12 °P wort 3.9 kJ/kgK (from memory)
		minutes := heat / ua * math.Log((into-ua*(74-20))/(into-ua*(100-20))) / 60
		within(t, p.Code+": minutes from 74 to 100 °C", minutes, 20, 90, "common practice, no source")
		if h.MinKettle.L() > cast/2 {
			t.Errorf("%s: half a brew of %.0f L does not cover the heating surface at %s", p.Code, cast/2, h.MinKettle)
		}
	}
}

// TestLautersTakeTheirMalt: 12.5 °P lies at 140 to 175 kg/m², and the strongest beer
// allowed by the floor is heavier. A basket in one vessel is an infusion mash and
// lies lower, since it must be lifted out.
func TestLautersTakeTheirMalt(t *testing.T) {
	for _, p := range stocked(t, load(t), catalog.ClassBrewhouse) {
		h, v := p.Brewhouse, vesselWith(p, catalog.DutyLauter)
		malt := maltFor(h.Length.L(), float64(h.BrewYield))
		lo := 140.0
		if h.Vessels == 1 {
			lo = 100
		}
		within(t, p.Code+": malt on the false bottom, kg/m²", malt/v.LauterArea.M2(), lo, 180,
			"160 to 175 kg/m² for dry-milled malt: craftbreweryequipment.com, How is false bottom constructed in lauter tun; from 140 by common practice, no source; 3 % for a lower yield")
		if bed := malt / v.LauterArea.M2(); bed > h.MaxBed.KgM2() {
			t.Errorf("%s: %.0f kg/m² at 12.5 °P is above the %s it takes", p.Code, bed, h.MaxBed)
		}
		mash := vesselWith(p, catalog.DutyMash)
		need := malt * (2.7 + 0.7) // liquor and displaced volume, L/kg: BYO, More Mash Space
		if need*1.1 > mash.Gross.L() {
			t.Errorf("%s: the mash of %.0f L leaves less than a tenth of %s free", p.Code, need, mash.Gross)
		}
	}
}

// TestWhirlpoolsHoldTheCast: hot wort and an eighth of freeboard.
func TestWhirlpoolsHoldTheCast(t *testing.T) {
	for _, p := range stocked(t, load(t), catalog.ClassBrewhouse) {
		v := vesselWith(p, catalog.DutyWhirlpool)
		within(t, p.Code+": share of the whirlpool free", 1-p.Brewhouse.Length.L()*hot/v.Gross.L(), 0.12, 0.40, "common practice, no source")
	}
}

// TestSteamMatchesTheJacket: the steam asked for gives the jacket's heat.
func TestSteamMatchesTheJacket(t *testing.T) {
	var seen int
	for _, p := range stocked(t, load(t), catalog.ClassBrewhouse) {
		for _, c := range p.Connects {
			if c.Service != "steam" {
				continue
			}
			seen++
			heat := c.Steam.KgH() * 2133 / 3600 // kJ/kg at 4 bar(a): IAPWS-IF97, from memory
			within(t, p.Code+": heat of the steam over jacket heat", heat/p.Brewhouse.KettleHeat.KW(), 0.97, 1.05, "IAPWS-IF97, from memory")
		}
	}
	if seen < 8 {
		t.Errorf("only %d steam brewhouses were seen", seen)
	}
}

// TestSteamGeneratorsCarryABrewhouse: for each steam brewhouse there is one gas and
// one electric generator large enough, save the largest on electricity.
func TestSteamGeneratorsCarryABrewhouse(t *testing.T) {
	c := load(t)
	var seen int
	largest := map[string]float64{}
	for _, p := range stocked(t, c, catalog.ClassSteam) {
		largest[p.Steam.Fuel] = max(largest[p.Steam.Fuel], p.Steam.Output.KgH())
	}
	for _, p := range stocked(t, c, catalog.ClassBrewhouse) {
		for _, k := range p.Connects {
			if k.Service != "steam" {
				continue
			}
			seen++
			if k.Steam.KgH() > largest["gas"] {
				t.Errorf("%s needs %s, the largest gas generator gives %.0f kg/h", p.Code, k.Steam, largest["gas"])
			}
			if p.Brewhouse.Length.HL() <= 20 && k.Steam.KgH() > largest["electric"] {
				t.Errorf("%s needs %s, the largest electric generator gives %.0f kg/h", p.Code, k.Steam, largest["electric"])
			}
		}
	}
	if seen < 8 {
		t.Errorf("only %d steam brewhouses were seen", seen)
	}
}

// TestHotLiquorIsReadyOvernight: 12 to 78 °C within ten hours, within four on steam.
func TestHotLiquorIsReadyOvernight(t *testing.T) {
	seen := map[string]int{}
	for _, p := range stocked(t, load(t), catalog.ClassLiquorTank) {
		v := p.Bodies[0].Vessel
		heat := v.Nominal.L() * 4.19 * (78 - 12) / 3600 // kWh
		for _, l := range p.Loads {
			seen["element"]++
			within(t, p.Code+": hours to heat", heat/l.Power.KW(), 1, 10, "common practice, no source: heated overnight")
		}
		for _, c := range p.Connects {
			if c.Service == "steam" {
				seen["steam"]++
				within(t, p.Code+": hours to heat", heat/(c.Steam.KgH()*2133/3600*0.95), 0.5, 4, "common practice, no source")
			}
		}
	}
	if seen["element"] < 5 || seen["steam"] < 5 {
		t.Errorf("too few liquor tanks were seen: %v", seen)
	}
}

// TestOneVesselBrewhousesAreSmall: a basket of wet grain must still be lifted.
func TestOneVesselBrewhousesAreSmall(t *testing.T) {
	var seen int
	for _, p := range stocked(t, load(t), catalog.ClassBrewhouse) {
		if !strings.HasSuffix(p.Code, "-1V") {
			continue
		}
		seen++
		if p.Brewhouse.Length.HL() > 5 {
			t.Errorf("%s lifts the grain of %s out in one basket", p.Code, p.Brewhouse.Length)
		}
	}
	if seen == 0 {
		t.Error("no brewhouse of one vessel was seen")
	}
}
