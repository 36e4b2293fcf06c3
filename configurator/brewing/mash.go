package brewing

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

// grainDisplacement is the volume in L that a kilogram of malt adds to the liquor.
// Source: Brew Your Own, More Mash Space: 0.7 L/kg, found by measuring.
const grainDisplacement = 0.7

// wetGrainVolume is the settled volume in L of the wet grains of a kilogram of malt.
// Source: docLauter: 0.38 m³ of grains from 210 kg.
const wetGrainVolume = 1.81

// MashVolume gives the volume of a mash.
//
//	V = m · (r + 0.7)
//
// m is the grist in kg, r the liquor in L/kg, 1.5 to 6; outside: *unit.RangeError.
// Source: Brew Your Own, More Mash Space.
func MashVolume(malt unit.Mass, r unit.MashRatio) (unit.Volume, error) {
	if err := unit.InRange("liquor on grist in L/kg", r.LKg(), 1.5, 6); err != nil {
		return 0, fmt.Errorf("mash volume: %w", err)
	}
	return unit.Litres(malt.Kg() * (r.LKg() + grainDisplacement)), nil
}

// LauterArea gives the floor a grist needs at a loading, with the diameter of the
// round vessel that has it.
//
//	A = m / L,   Ø = √(4A/π)
//
// m is the grist in kg, L the loading in kg/m², above 0. Usual are 140 to 175 kg/m² dry
// milled (docLauter) and 250 to 350 in an infusion tun (from memory).
// Source: definition of the loading.
func LauterArea(malt unit.Mass, loading unit.MassPerArea) (unit.Area, unit.Length, error) {
	if err := unit.Positive("grain loading", loading); err != nil {
		return 0, 0, fmt.Errorf("lauter area: %w", err)
	}
	a := malt.Kg() / loading.KgM2()
	return unit.SquareMetres(a), unit.Metres(math.Sqrt(4 * a / math.Pi)), nil
}

// BedDepth gives the depth of the grain bed.
//
//	h = 1.81 · m / (1000·A)   m, with m in kg and A in m²
//
// A must be above 0. Valid for barley malt, dry milled and settled; a bed that is cut
// or pulled tight is another.
// Source: 1.81 L/kg by docLauter.
func BedDepth(malt unit.Mass, area unit.Area) (unit.Length, error) {
	if err := unit.Positive("lauter area", area); err != nil {
		return 0, fmt.Errorf("bed depth: %w", err)
	}
	return unit.Metres(wetGrainVolume * malt.Kg() / 1000 / area.M2()), nil
}

// SpentGrain gives the wet grain that leaves the tun and the water it holds beyond
// the moisture that came in with the malt, by mass balance.
//
//	m_wet = (m·(1 − w_m) − E) / (1 − w_sg),   W = m_wet·w_sg − m·w_m
//
// w_m is the malt's moisture, w_sg the moisture of the wet grain: 0.80 and more from
// a mash tun, about 0.75 from a lauter tun. Source: mass balance; moistures Farber (2019).
func SpentGrain(malt, extract unit.Mass, maltMoisture, grainMoisture unit.Ratio) (wet, held unit.Mass, err error) {
	if err := unit.InRange("moisture of the wet grain", grainMoisture.Value(), 0.5, 0.9); err != nil {
		return 0, 0, fmt.Errorf("spent grain: %w", err)
	}
	m, wm, wsg := malt.Kg(), maltMoisture.Value(), grainMoisture.Value()
	dry := m*(1-wm) - extract.Kg()
	if dry < 0 {
		return 0, 0, fmt.Errorf("spent grain: %s of extract is more than the dry matter of %s of malt: check laboratory extract and efficiency", extract, malt)
	}
	w := dry / (1 - wsg)
	return unit.Kilograms(w), unit.Kilograms(w*wsg - m*wm), nil
}

// MaltHeat gives the relative specific heat and the slaking heat of malt by its
// moisture from 0 to 8 %. Source: Pauls & Whites, Brewing Room Book (1984/85).
func MaltHeat(moisture unit.Ratio) (relative unit.Ratio, slaking unit.TempDiff, err error) {
	s, err := maltHeatTable.Between("moisture_pct", "relative_heat", moisture.Pct())
	if err != nil {
		return 0, 0, fmt.Errorf("heat of malt: %w", err)
	}
	k, err := maltHeatTable.Between("moisture_pct", "slaking_k", moisture.Pct())
	if err != nil {
		return 0, 0, fmt.Errorf("heat of malt: %w", err)
	}
	return unit.Fraction(s), unit.Kelvins(k), nil
}

// Mash is a mash with the heat of its parts.
type Mash struct {
	Ratio    unit.MashRatio
	Grist    unit.Temperature
	Relative unit.Ratio    // specific heat of the malt against water
	Slaking  unit.TempDiff // rise from the slaking heat
	// Vessel is the heat capacity of a cold tun for each kilogram of malt, against
	// 4.187 kJ/K of water; 0 when the tun is preheated.
	Vessel     unit.Ratio
	VesselTemp unit.Temperature
}

// MashTemperature gives the temperature of a mash from that of its liquor.
//
//	T_mash = (r·T_liquor + S·T_grist) / (r + S) + Sc
//
// Source: Pauls & Whites, Brewing Room Book; a reprint of its example adds S and
// T_grist where it should multiply and prints a mash hotter than its liquor.
func MashTemperature(m Mash, liquor unit.Temperature) (unit.Temperature, error) {
	r, s, k := m.Ratio.LKg(), m.Relative.Value(), m.Vessel.Value()
	if err := unit.InRange("liquor on grist in L/kg", r, 1, 8); err != nil {
		return 0, fmt.Errorf("mash temperature: %w", err)
	}
	t := (r*liquor.C()+s*m.Grist.C()+k*m.VesselTemp.C())/(r+s+k) + m.Slaking.K()*(r+s)/(r+s+k)
	return unit.Celsius(t), nil
}

// StrikeTemperature gives the temperature of the liquor that brings the mash to
// its rest.
//
//	T = ((r + S)·(T_m − Sc) − S·T_g + κ·(T_m − Sc − T_v)) / r
//
// Source: the mash balance of Pauls & Whites, Brewing Room Book, solved for the liquor.
// Liquor above 95 °C is an error: thicken nothing, preheat the tun or raise the ratio.
func StrikeTemperature(m Mash, rest unit.Temperature) (unit.Temperature, error) {
	r, s, k := m.Ratio.LKg(), m.Relative.Value(), m.Vessel.Value()
	if err := unit.InRange("liquor on grist in L/kg", r, 1, 8); err != nil {
		return 0, fmt.Errorf("strike temperature: %w", err)
	}
	x := rest.C() - m.Slaking.K()
	t := ((r+s)*x - s*m.Grist.C() + k*(x-m.VesselTemp.C())) / r
	if err := unit.InRange("strike temperature in °C", t, 20, 95); err != nil {
		return 0, fmt.Errorf("strike temperature: %w", err)
	}
	return unit.Celsius(t), nil
}
