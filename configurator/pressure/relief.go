package pressure

import (
	"fmt"
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

var (
	api520   = source.Doc{ID: "API 520-1", Title: "Sizing, selection and installation of pressure-relieving devices", Edition: "9th ed."}
	annexI   = ped.Recalled("Annex I 7.3")
	beerLike = 1.01 // relative density of beer
)

const (
	atmosphere = 101325.0 // Pa
	kdValve    = 0.975    // gas, API 520-1
	kdDisc     = 0.62     // bursting disc, API 520-1
	kdLiquid   = 0.65     // API 520-1, certified liquid valve, from memory
	kCO2       = 1.29     // ratio of specific heats of carbon dioxide
	mCO2       = 44.01    // g/mol
	over       = 1.10     // accumulation, PED Annex I 7.3, from memory
)

// CriticalRatio returns the back pressure below which gas flows at the speed of sound.
//
//	p2/p1 = (2/(k+1))^(k/(k-1))
//
// Source: API 520-1, critical flow pressure ratio.
func CriticalRatio(k unit.Ratio) (unit.Ratio, error) {
	if err := unit.InRange("ratio of specific heats", k.Value(), 1.01, 1.7); err != nil {
		return 0, fmt.Errorf("critical ratio: %w", err)
	}
	return unit.Fraction(math.Pow(2/(k.Value()+1), k.Value()/(k.Value()-1))), nil
}

// GasRelief returns the flow area of a valve for gas at critical flow.
//
//	A = m/(C·Kd·P1) · √(T·Z/M), C = 0.03948·√(k·(2/(k+1))^((k+1)/(k-1)))
//
// m kg/h, P1 = 1.1·set + atmosphere in kPa absolute, T in kelvin, M 44.01 g/mol,
// k 1.29, Kd 0.975, Z = 1, Kb = Kc = 1: carbon dioxide out of a valve to the open air.
// Valid where the flow is critical (set above about 0.84 bar); below, the area is
// divided by the subcritical share of the flow.
//
// Source: API 520-1, sizing for gas or vapour relief, as the fluids library states it.
func GasRelief(flow unit.MassFlow, set unit.GaugePressure, t unit.Temperature) (unit.Area, error) {
	if err := unit.Within("set pressure", set, unit.BarGauge(0.05), unit.BarGauge(40)); err != nil {
		return 0, fmt.Errorf("gas relief: %w", err)
	}
	if err := unit.NotNegative("gas flow", flow); err != nil {
		return 0, fmt.Errorf("gas relief: %w", err)
	}
	if err := unit.Within("gas temperature", t, unit.Celsius(-40), unit.Celsius(150)); err != nil {
		return 0, fmt.Errorf("gas relief: %w", err)
	}
	k := kCO2
	c := 0.03948 * math.Sqrt(k*math.Pow(2/(k+1), (k+1)/(k-1)))
	p1 := (over*set.PaG() + atmosphere) / 1000
	a := flow.KgH() / (c * kdValve * p1) * math.Sqrt((t.C()+273.15)/mCO2)
	r := atmosphere / 1000 / p1
	if crit := math.Pow(2/(k+1), k/(k-1)); r > crit {
		// the share that flows below the speed of sound, by isentropic flow
		sub := math.Sqrt(2 / (k - 1) * (math.Pow(r, 2/k) - math.Pow(r, (k+1)/k)))
		a *= math.Sqrt(math.Pow(2/(k+1), (k+1)/(k-1))) / sub
	}
	return unit.SquareMillimetres(a), nil
}

// LiquidRelief returns the flow area of a valve for liquid.
//
//	A = 11.78·Q/(Kd·Kw·Kc·Kv) · √(G/(p1-p2))
//
// Q L/min, p in kPa gauge, p1 = 1.1·set, p2 = 0, G = 1.01 for beer, Kd 0.65, others 1.
//
// Source: API 520-1, sizing for liquid relief, from memory.
func LiquidRelief(flow unit.VolumeFlow, set unit.GaugePressure) (unit.Area, error) {
	if err := unit.Within("set pressure", set, unit.BarGauge(0.05), unit.BarGauge(40)); err != nil {
		return 0, fmt.Errorf("liquid relief: %w", err)
	}
	if err := unit.NotNegative("liquid flow", flow); err != nil {
		return 0, fmt.Errorf("liquid relief: %w", err)
	}
	return unit.SquareMillimetres(11.78 * flow.LMin() / kdLiquid * math.Sqrt(beerLike/(over*set.PaG()/1000))), nil
}

// ReliefCase is one way in which a vessel can be overpressed.
type ReliefCase struct {
	ID     string // "a" to "e"
	Name   string
	Flow   unit.Quantity // nil unknown
	Area   unit.Area     // needed at the valve's set pressure
	Known  bool
	Source source.Ref
	Words  string
}

// reliefCases lists the ways to overpressure a vessel and the area each asks for at
// the set pressure of its valve, or at PS where none is set.
func reliefCases(v Vessel) ([]ReliefCase, error) {
	set := unit.GaugePressure(0)
	if v.PS != nil {
		set = *v.PS
	}
	if v.Relief != nil && v.Relief.Fitted && v.Relief.Set > 0 {
		set = v.Relief.Set
	}
	if set.BarG() < 0.05 || !underPressure(v) || v.Kind == Keg || v.Kind == Bottle || v.Kind == Cylinder {
		return nil, nil
	}
	var cases []ReliefCase
	gas := func(id, name string, m unit.MassFlow, missing string) error {
		if m == 0 {
			cases = append(cases, ReliefCase{ID: id, Name: name, Words: missing, Source: api520.At("gas relief")})
			return nil
		}
		a, err := GasRelief(m, set, unit.Celsius(15))
		cases = append(cases, ReliefCase{ID: id, Name: name, Flow: m, Area: a, Known: true, Source: api520.At("gas relief"), Words: "critical flow of carbon dioxide at 15 °C"})
		return err
	}
	if v.Kind == Receiver || v.Kind == Generator {
		return []ReliefCase{{ID: "f", Name: "compressor or heater at full output", Words: "valve sized and set by the maker of the set", Source: annexI}}, nil
	}
	if (v.GasMax == nil || *v.GasMax > 0) && !liquid(v.Contents) {
		if err := gas("a", "gas regulator fails open", v.GasFlow, "flow of the regulator failed open from its supplier's Cv"); err != nil {
			return nil, err
		}
	}
	if v.PumpIn > 0 {
		a, err := LiquidRelief(v.PumpIn, set)
		if err != nil {
			return nil, err
		}
		cases = append(cases, ReliefCase{ID: "b", Name: "pump overfills", Flow: v.PumpIn, Area: a, Known: true, Source: api520.Recalled("liquid relief")})
	}
	if v.PeakGas > 0 {
		if err := gas("c", "peak of fermentation", v.PeakGas, ""); err != nil {
			return nil, err
		}
	}
	if yes(v.HotClean) {
		cases = append(cases, ReliefCase{ID: "d", Name: "hot cleaning or steam into a shut tank", Words: "keep the vent open while cleaning; interlock or procedure", Source: source.Practice("hot cleaning")})
	}
	if liquid(v.Contents) && v.PumpIn == 0 {
		cases = append(cases, ReliefCase{ID: "g", Name: "pump fills it, or its liquid warms while shut in", Words: "flow of the pump that can fill it; an open line to an expansion vessel serves for warming", Source: annexI})
	}
	if v.Contents == BeerCO2 || v.Contents == CO2 {
		cases = append(cases, ReliefCase{ID: "e", Name: "fire while shut in", Words: "competent person to judge where the tank can be shut in near a fire", Source: api520.At("fire case")})
	}
	return cases, nil
}

func yes(b *bool) bool { return b != nil && *b }

func underPressure(v Vessel) bool { return v.Contents != Atmosphere && !v.Vented }
