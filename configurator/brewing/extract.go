package brewing

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

// rho20 is the density of water at 20 °C in kg/L, to which relative densities
// refer (IAPWS R7-97: 998.21 kg/m³).
const rho20 = 0.9982

// PlatoToGravity gives the relative density 20/20 of wort from its extract.
//
//	SG = 1 + P / (258.6 − 227.1·P/258.2)
//
// P is mass per cent of extract. Valid from 0 to 30 °P (printed for 0 to 25); down to
// −3 °P it serves for apparent extracts.
// Source: 48bottles.com/abv; meets the ASBC table at 10 and 12 °P.
func PlatoToGravity(p unit.Plato) (unit.Gravity, error) {
	if err := unit.InRange("extract in °P", p.P(), -3, 30); err != nil {
		return 0, fmt.Errorf("gravity from extract: %w", err)
	}
	return unit.SG(gravity(p.P())), nil
}

func gravity(p float64) float64 { return 1 + p/(258.6-p/258.2*227.1) }

// GravityToPlato gives the extract of wort from its relative density 20/20.
//
//	P = −616.868 + 1111.14·SG − 630.272·SG² + 135.997·SG³
//
// Valid from 0.99 to 1.13; agrees with PlatoToGravity within 0.0035 °P from 1 to
// 25 °P. Source: ASBC Methods of Analysis, cubic of the extract table, as quoted by
// A. J. deLange, Brix and SG.
func GravityToPlato(sg unit.Gravity) (unit.Plato, error) {
	x := sg.SG()
	if err := unit.InRange("relative density", x, 0.99, 1.13); err != nil {
		return 0, fmt.Errorf("extract from gravity: %w", err)
	}
	return unit.DegreesPlato(-616.868 + 1111.14*x - 630.272*x*x + 135.997*x*x*x), nil
}

// GravityToPlatoFitted is the cubic fitted to the ASBC table with a mean error
// below 0.00053 °P.
//
//	P = 133.5892·SG³ − 622.5576·SG² + 1102.9079·SG − 613.9427
//
// Valid from 0.99 to 1.13. Source: Buhl, osf.io/9wfym; its last constant from memory.
func GravityToPlatoFitted(sg unit.Gravity) (unit.Plato, error) {
	x := sg.SG()
	if err := unit.InRange("relative density", x, 0.99, 1.13); err != nil {
		return 0, fmt.Errorf("extract from gravity: %w", err)
	}
	return unit.DegreesPlato(133.5892*x*x*x - 622.5576*x*x + 1102.9079*x - 613.9427), nil
}

// ExtractMass gives the mass of extract in a cold volume of wort.
//
//	E = V · SG · 0.9982 · P / 100
//
// V at 20 °C in L, E in kg. °P is mass per cent, not kg/hL: 12 °P is 12.56 kg/hL.
// Valid where PlatoToGravity is; a volume below 0 is an error.
// Source: mass of wort times its extract; density of water at 20 °C by IAPWS R7-97.
func ExtractMass(v unit.Volume, p unit.Plato) (unit.Mass, error) {
	if err := unit.NotNegative("cold volume", v); err != nil {
		return 0, fmt.Errorf("mass of extract: %w", err)
	}
	sg, err := PlatoToGravity(p)
	if err != nil {
		return 0, fmt.Errorf("mass of extract: %w", err)
	}
	return unit.Kilograms(v.L() * sg.SG() * rho20 * p.P() / 100), nil
}

// MaltMass gives the malt that yields an extract in the kettle.
//
//	m = E / (x · η)
//
// E in kg; x is the laboratory extract of the malt as it is, 0.3 to 1, η the brewhouse
// efficiency on laboratory extract, 0.4 to 1: not the yield on grist mass, which is
// about x·η. Outside: *unit.RangeError. Source: definition of the two.
func MaltMass(e unit.Mass, labExtract, efficiency unit.Ratio) (unit.Mass, error) {
	if err := unit.InRange("laboratory extract", labExtract.Value(), 0.3, 1); err != nil {
		return 0, fmt.Errorf("malt: %w", err)
	}
	if err := unit.InRange("brewhouse efficiency", efficiency.Value(), 0.4, 1); err != nil {
		return 0, fmt.Errorf("malt: %w", err)
	}
	return unit.Kilograms(e.Kg() / (labExtract.Value() * efficiency.Value())), nil
}

// BrewhouseYield gives the yield on the mass of grist (Sudhausausbeute) from the
// hot volume in the kettle.
//
//	Y = P · SG · 0.96 · V_hot / m
//
// V_hot at 100 °C in L, m in kg, above 0. Valid where PlatoToGravity is.
// Source: Kunze (1962), p. 257 and 263. Not the efficiency on laboratory extract.
func BrewhouseYield(p unit.Plato, hot unit.Volume, malt unit.Mass) (unit.Ratio, error) {
	if err := unit.Positive("malt", malt); err != nil {
		return 0, fmt.Errorf("brewhouse yield: %w", err)
	}
	sg, err := PlatoToGravity(p)
	if err != nil {
		return 0, fmt.Errorf("brewhouse yield: %w", err)
	}
	return unit.Percent(p.P() * sg.SG() * 0.96 * hot.L() / malt.Kg()), nil
}

// ContractionFactor gives the cold volume (20 °C) of one hot volume of wort, from
// the density of water. At 100 °C it is 0.9601, the trade's 4 % rule.
//
//	k = ρ(T) / ρ(20 °C)
//
// Valid from 20 to 100 °C. Source: IAPWS R7-97(2012).
func ContractionFactor(t unit.Temperature) (unit.Ratio, error) {
	if err := unit.InRange("wort temperature in °C", t.C(), 20, 100); err != nil {
		return 0, fmt.Errorf("contraction: %w", err)
	}
	rho, err := waterTable.Between("t_c", "rho_kg_m3", t.C())
	if err != nil {
		return 0, fmt.Errorf("contraction: %w", err)
	}
	return unit.Fraction(rho / 998.21), nil
}

// WortSpecificHeat gives the specific heat of wort.
//
//	c = 4.187 − 0.0251·P   kJ/(kg·K)
//
// Valid from 0 to 30 °P at 20 °C; it lies some 2.5 % above other correlations, on
// the safe side. Source: sugar technology, from memory.
func WortSpecificHeat(p unit.Plato) (unit.SpecificHeat, error) {
	if err := unit.InRange("extract in °P", p.P(), 0, 30); err != nil {
		return 0, fmt.Errorf("specific heat of wort: %w", err)
	}
	return unit.KilojoulesPerKgK(wortHeat(p.P())), nil
}

func wortHeat(p float64) float64 { return 4.187 - 0.0251*p }

// roundUp is the ceiling of a count that came out of a division: a count that is
// whole but for the last bits of the float is not pushed up by one.
func roundUp(x float64) int { return int(math.Ceil(x - 1e-9)) }
