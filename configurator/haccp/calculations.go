package haccp

import (
	"fmt"
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/trace"
)

var sander = source.Doc{ID: "Sander 2015", Title: "Compilation of Henry's law constants for water as solvent"}

// warmest is what a pack is taken to reach in a shop window or a van; common practice,
// no source.
var warmest = unit.Celsius(30)

// PackPressure returns the gauge pressure in a shut pack of beer by Henry's law.
//
//	p = 1.01325 · (c/(44.01·kH) - 1), kH = 0.034·e^(2400·(1/T - 1/298.15))
//
// p in bar gauge, c the carbon dioxide in g/L, T in kelvin, kH in mol/(L·atm). Valid
// for 0…40 °C and up to 20 g/L; beyond, *unit.RangeError. The headspace is taken as
// small: what it holds is left out, and so is that beer dissolves a little less gas
// than water, by which the true pressure is some per cent higher.
//
// Source: Henry's constant of carbon dioxide in Sander's compilation, from memory.
func PackPressure(c unit.Carbonation, t unit.Temperature) (unit.GaugePressure, error) {
	if err := unit.Within("carbonation", c, 0, unit.CO2GramsPerLitre(20)); err != nil {
		return 0, fmt.Errorf("pressure of a pack: %w", err)
	}
	if err := unit.Within("temperature of the pack", t, 0, unit.Celsius(40)); err != nil {
		return 0, fmt.Errorf("pressure of a pack: %w", err)
	}
	kH := 0.034 * math.Exp(2400*(1/(t.C()+273.15)-1/298.15))
	return unit.BarGauge(1.01325 * (c.GL()/(44.01*kH) - 1)), nil
}

type packIn struct {
	Carbonation unit.Carbonation `yaml:"carbonation_g_l,required" range:"0..20" doc:"carbon dioxide in the beer, at its highest"`
	Temp        unit.Temperature `yaml:"pack_c,required" range:"0..40" doc:"warmest that the pack becomes"`
}

type packOut struct {
	Pressure unit.GaugePressure `yaml:"pressure_bar_g"`
}

// Calculations lists the calculations that can be run by name.
func Calculations() []calc.Calculation {
	return []calc.Calculation{
		calc.New("haccp.pack-pressure", "Pressure in a shut pack of beer", "1.01325·(c/(44.01·kH) - 1)", sander.Recalled("carbon dioxide"), `{"carbonation_g_l": 5, "pack_c": 30}`, calcPack),
	}
}

func calcPack(in packIn) (packOut, trace.Trace, error) {
	p, err := PackPressure(in.Carbonation, in.Temp)
	return packOut{p}, trace.Trace{{Title: "Pressure in the pack", Symbol: "p", Formula: "1.01325·(c/(44.01·kH) - 1)", Values: []trace.Value{trace.V("c", in.Carbonation), trace.V("T", in.Temp)}, Result: p, Source: sander.Recalled("carbon dioxide")}}, err
}
