package brewing

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

// Balling's shares: 2.0665 g of extract give 1 g ethanol, 0.9565 g CO2 and 0.11 g
// yeast. Source: Scandinavian School of Brewing.
const (
	ballingExtract = 2.0665
	ballingCO2     = 0.9565
	ballingYeast   = 0.11
	ballingA       = 0.010665 // extract lost to CO2 and yeast for each % w/w alcohol
)

// FermentHeat is the heat in kJ for each kg of extract fermented: 252 Btu/lb of
// extract as used by practitioners (probrewer.com, thread 11481). Sources run from 558 to 652; figures above 750
// are free energies and would double the chiller.
const FermentHeat = 586.6

// Attenuation is what becomes of the extract.
type Attenuation struct {
	RealExtract unit.Plato
	Alcohol     unit.Ratio // share by mass of the beer
	ABV         unit.ABV
	RDF         unit.Ratio // real degree of fermentation
	Gravity     unit.Gravity
}

// Attenuate gives alcohol and real extract from original and apparent extract.
//
//	RE = 0.1808·OE + 0.8192·AE
//	A = (OE − RE) / (2.0665 − 0.010665·OE)
//	ABV = A·SG / 0.7906
//	RDF = 100·(OE − RE)/OE / (1 − 0.005161·RE)
//
// Valid for OE 1 to 30 °P and AE −3 °P to OE. Source: Balling, as printed by the
// Scandinavian School of Brewing; RDF: ASBC Beer-6.
func Attenuate(oe, ae unit.Plato) (Attenuation, error) {
	if err := unit.InRange("original extract in °P", oe.P(), 1, 30); err != nil {
		return Attenuation{}, fmt.Errorf("attenuation: %w", err)
	}
	if err := unit.InRange("apparent extract in °P", ae.P(), -3, oe.P()); err != nil {
		return Attenuation{}, fmt.Errorf("attenuation: %w", err)
	}
	re := 0.1808*oe.P() + 0.8192*ae.P()
	a := (oe.P() - re) / (ballingExtract - ballingA*oe.P())
	sg := gravity(ae.P())
	return Attenuation{
		RealExtract: unit.DegreesPlato(re), Alcohol: unit.Percent(a), ABV: unit.PercentABV(a * sg / 0.7906),
		RDF: unit.Percent(100 * (oe.P() - re) / oe.P() / (1 - 0.005161*re)), Gravity: unit.SG(sg),
	}, nil
}

// Fermented is what one charge of wort gives.
type Fermented struct {
	Beer, Ethanol, CO2, Extract, Yeast unit.Mass
	Heat                               unit.Energy
}

// Ferment gives the masses and the heat of a fermentation.
//
//	m_beer = m_wort / (1 + 0.010665·A),  ethanol = m_beer·A/100,
//	CO2 = 0.9565·ethanol, yeast = 0.11·ethanol, extract = 2.0665·ethanol, Q = h·extract
//
// A is the alcohol by mass in per cent, from Attenuate; h is the heat of fermentation,
// 380 to 750 kJ/kg of extract, and 0 takes 586.6; outside: *unit.RangeError.
// Source: Balling, as printed by the Scandinavian School of Brewing; heat: FermentHeat.
func Ferment(wort unit.Mass, a Attenuation, h unit.SpecificEnergy) (Fermented, error) {
	if h == 0 {
		h = unit.KilojoulesPerKg(FermentHeat)
	}
	if err := unit.InRange("heat of fermentation in kJ/kg of extract", h.KJKg(), 380, 750); err != nil {
		return Fermented{}, fmt.Errorf("fermentation: %w; larger figures are free energies", err)
	}
	mb := wort.Kg() / (1 + ballingA*a.Alcohol.Pct())
	eth := mb * a.Alcohol.Value()
	return Fermented{
		Beer: unit.Kilograms(mb), Ethanol: unit.Kilograms(eth), CO2: unit.Kilograms(ballingCO2 * eth),
		Extract: unit.Kilograms(ballingExtract * eth), Yeast: unit.Kilograms(ballingYeast * eth),
		Heat: unit.Kilojoules(h.KJKg() * ballingExtract * eth),
	}, nil
}

// PeakHeat gives the heat flow of a fermentation from the fall of real extract.
//
//	q = m_wort · rate/100 · h
//
// m in kg; rate is the fall of real extract, 0 to 1 °P per hour, outside:
// *unit.RangeError; h in kJ/kg of extract. It understates by some 2 %, for real
// extract is a share of the beer's mass and m is the wort's. Source: heat balance.
func PeakHeat(wort unit.Mass, rate unit.ExtractRate, h unit.SpecificEnergy) (unit.Power, error) {
	if err := unit.InRange("fall of extract in °P/h", rate.PH(), 0, 1); err != nil {
		return 0, fmt.Errorf("heat flow of fermentation: %w", err)
	}
	return unit.Kilowatts(wort.Kg() * rate.PH() / 100 * h.KJKg() / 3600), nil
}

// CO2Rate gives the CO2 that comes off at a heat flow of fermentation.
//
//	ṁ = q / h · 0.9565 / 2.0665
//
// h in kJ/kg of extract, above 0. CO2 as it forms: what the beer keeps is not taken off.
// Source: Balling, as printed by the Scandinavian School of Brewing.
func CO2Rate(heat unit.Power, h unit.SpecificEnergy) (unit.MassFlow, error) {
	if err := unit.Positive("heat of fermentation", h); err != nil {
		return 0, fmt.Errorf("CO2 rate: %w", err)
	}
	return unit.KgPerHour(heat.KW() * 3600 / h.KJKg() * ballingCO2 / ballingExtract), nil
}

// DutyABV gives the strength declared for UK beer duty from the gravities before
// and after fermentation, cut to one decimal.
//
//	ABV = (OG − PG) · f,  f from HMRC Notice 226 section 30.3
func DutyABV(og, pg unit.Gravity) (unit.ABV, error) {
	fall := math.Round((og.SG()-pg.SG())*10000) / 10
	if err := unit.InRange("fall of gravity in degrees", fall, 0, 100.7); err != nil {
		return 0, fmt.Errorf("duty strength: %w", err)
	}
	row, err := dutyFactorTable.AtLeast("to", fall)
	if err != nil {
		return 0, fmt.Errorf("duty strength: %w", err)
	}
	f, _ := dutyFactorTable.Number(row, "factor")
	return unit.PercentABV(math.Floor(fall*f*10+1e-9) / 10), nil
}

// Dissolved gives the CO2 in beer at equilibrium with the pressure above it.
//
//	c = 10·(p + 1.013)·exp(−10.73797 + 2617.25/(T + 273.15))   g/L, p in bar gauge
//
// Valid from −2 to 30 °C and up to 5 bar. Source: braukaiser.com, Carbonation Tables;
// within 2 % of the ASBC Beer-13 chart from −1 to 8 °C.
func Dissolved(p unit.GaugePressure, t unit.Temperature) (unit.Carbonation, error) {
	if err := checkCO2(p, t); err != nil {
		return 0, fmt.Errorf("dissolved CO2: %w", err)
	}
	return unit.CO2GramsPerLitre((p.BarG() + 1.013) * henry(t.C())), nil
}

// SpundingPressure gives the gauge pressure that holds a carbonation; below the air's
// pressure it is negative.
//
//	p = c / (10·exp(−10.73797 + 2617.25/(T + 273.15))) − 1.013   bar gauge, c in g/L
//
// Valid from −2 to 30 °C. Source: Dissolved, solved for the pressure.
func SpundingPressure(c unit.Carbonation, t unit.Temperature) (unit.GaugePressure, error) {
	if err := checkCO2(0, t); err != nil {
		return 0, fmt.Errorf("spunding pressure: %w", err)
	}
	return unit.BarGauge(c.GL()/henry(t.C()) - 1.013), nil
}

func henry(tC float64) float64 { return 10 * math.Exp(-10.73797+2617.25/(tC+273.15)) }

func checkCO2(p unit.GaugePressure, t unit.Temperature) error {
	if err := unit.InRange("beer temperature in °C", t.C(), -2, 30); err != nil {
		return err
	}
	return unit.InRange("pressure in bar gauge", p.BarG(), -1.013, 5)
}

// ChartVolumes gives the volumes of CO2 by the fit of the ASBC Beer-13 chart.
//
//	v = (P + 14.695)·(0.01821 + 0.090115·e^(−(F−32)/43.11)) − 0.003342
//
// P in psi gauge, F in °F, from 30 to 70 °F and 0 to 30 psi, outside:
// *unit.RangeError; within 0.045 volumes of the chart.
// Source: docChart.
func ChartVolumes(p unit.GaugePressure, t unit.Temperature) (unit.Carbonation, error) {
	if err := unit.InRange("temperature in °F", t.F(), 30, 70); err != nil {
		return 0, fmt.Errorf("volumes of CO2: %w", err)
	}
	if err := unit.InRange("pressure in psi gauge", p.PSIG(), 0, 30); err != nil {
		return 0, fmt.Errorf("volumes of CO2: %w", err)
	}
	v := (p.PSIG()+14.695)*(0.01821+0.090115*math.Exp(-(t.F()-32)/43.11)) - 0.003342
	return unit.CO2Volumes(v), nil
}
