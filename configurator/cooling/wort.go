package cooling

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

// Effectiveness returns what share of the greatest possible heat a counterflow
// exchanger takes.
//
//	ε = (1 - e^{-N(1-C)})/(1 - C e^{-N(1-C)}), N/(1 + N) where C = 1
//
// ntu is UA over the smaller heat capacity flow, ratio the smaller over the larger, 0 to 1.
//
// Source: Kays and London, Compact Heat Exchangers, counterflow.
func Effectiveness(ntu unit.Number, ratio unit.Ratio) (unit.Ratio, error) {
	if err := unit.InRange("transfer units", ntu.N(), 0, 1000); err != nil {
		return 0, err
	}
	if err := unit.InRange("ratio of heat capacity flows", ratio.Value(), 0, 1); err != nil {
		return 0, err
	}
	n, c := ntu.N(), ratio.Value()
	if 1-c < 1e-9 {
		return unit.Fraction(n / (1 + n)), nil
	}
	e := math.Exp(-n * (1 - c))
	return unit.Fraction((1 - e) / (1 - c*e)), nil
}

// PlateCooler is a counterflow stage at work.
type PlateCooler struct {
	Units         unit.Number // NTU
	Effectiveness unit.Ratio
	Duty          unit.Power
	WortOut       unit.Temperature
	WaterOut      unit.Temperature
}

// PlateStage returns what one stage of a plate cooler does.
//
//	NTU = UA/C_min;  Q = ε C_min (T_wort - T_water)
//
// wort and water are heat capacity flows ṁ c. Source: Kays and London, counterflow.
func PlateStage(ua, wort, water unit.Conductance, wortIn, waterIn unit.Temperature) (PlateCooler, error) {
	if err := unit.Positive("UA", ua); err != nil {
		return PlateCooler{}, err
	}
	if err := unit.Positive("heat capacity flow", min(wort, water)); err != nil {
		return PlateCooler{}, err
	}
	if waterIn >= wortIn {
		return PlateCooler{}, fmt.Errorf("coolant enters at %s: it must be colder than the wort at %s", waterIn, wortIn)
	}
	least, most := min(wort.WK(), water.WK()), max(wort.WK(), water.WK())
	units := unit.PureNumber(ua.WK() / least)
	eff, err := Effectiveness(units, unit.Fraction(least/most))
	if err != nil {
		return PlateCooler{}, err
	}
	q := eff.Value() * least * (wortIn.C() - waterIn.C())
	return PlateCooler{
		Units: units, Effectiveness: eff, Duty: unit.Watts(q),
		WortOut: unit.Celsius(wortIn.C() - q/wort.WK()), WaterOut: unit.Celsius(waterIn.C() + q/water.WK()),
	}, nil
}

// SecondStage returns the duty of cooling the wort on from the first stage's outlet.
//
//	Q = ṁ c (T_mid - T_pitch)
//
// wort is ṁ c, above 0. Wort that already is cold enough gives 0. Source: heat balance.
func SecondStage(wort unit.Conductance, mid, pitch unit.Temperature) (unit.Power, error) {
	if err := unit.Positive("heat capacity flow of the wort", wort); err != nil {
		return 0, err
	}
	return unit.Watts(wort.WK() * max(mid.C()-pitch.C(), 0)), nil
}
