package water

import (
	_ "embed"
	"fmt"
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

//go:embed tables/pe_pipes.csv
var pePipesCSV string

var pePipes = source.MustTable("pe_pipes", pePipesCSV)

const (
	maxMain      = 2.0     // m/s in mains and risers, EN 806-3:2006 4.4
	maxDeadLeg   = 4.0     // m/s in single dead legs, EN 806-3:2006 4.4
	barPerMetre  = 0.0981  // bar, water column
	viscosity    = 1.31e-6 // m²/s, water at 10 °C
	pipeRough    = 0.01e-3 // m, polyethylene and stainless steel, from memory
	fittings     = 1.25    // length for fittings, common practice, no source
	hardLimit    = 200.0   // mg/L CaCO3 on elements and steam generators, common practice, no source
	degreeGerman = 17.8    // mg/L CaCO3 for one German degree, from memory
)

// BoreFor returns the bore that carries a flow at a velocity, d = √(4Q/(πv)).
//
// Source: continuity.
func BoreFor(flow unit.VolumeFlow, v unit.Velocity) (unit.Length, error) {
	if err := unit.Positive("velocity", v); err != nil {
		return 0, fmt.Errorf("bore: %w", err)
	}
	return unit.Metres(math.Sqrt(4 * flow.M3S() / (math.Pi * v.MS()))), nil
}

// Capacity returns the flow of a bore at a velocity, Q = π·d²·v/4.
//
// Source: continuity.
func Capacity(bore unit.Length, v unit.Velocity) unit.VolumeFlow {
	return unit.M3PerSecond(math.Pi * bore.M() * bore.M() * v.MS() / 4)
}

// Friction returns the pressure lost in a full pipe of cold water.
//
//	Δp = f · L/d · ρ·v²/2, 1/√f = -2·log10(k/(3.7·d) + 2.51/(Re·√f))
//
// The Colebrook equation is solved by repetition; below Re 2300, f = 64/Re.
// k is 0.01 mm, ν 1.31·10⁻⁶ m²/s (10 °C). Valid for bores of 5…500 mm.
//
// Source: Darcy-Weisbach with Colebrook-White.
func Friction(flow unit.VolumeFlow, bore, length unit.Length) (unit.PressureDiff, error) {
	if err := unit.Within("bore", bore, unit.Millimetres(5), unit.Millimetres(500)); err != nil {
		return 0, fmt.Errorf("pipe friction: %w", err)
	}
	if err := unit.NotNegative("flow", flow); err != nil {
		return 0, fmt.Errorf("pipe friction: %w", err)
	}
	d := bore.M()
	v := 4 * flow.M3S() / (math.Pi * d * d)
	if v == 0 {
		return 0, nil
	}
	re := v * d / viscosity
	f := 64 / re
	if re >= 2300 {
		f = colebrook(re, pipeRough/d)
	}
	return unit.Pascals(f * length.M() / d * 1000 * v * v / 2), nil
}

func colebrook(re, rough float64) float64 {
	x := 7.0 // 1/√f
	for range 12 {
		x = -2 * math.Log10(rough/3.7+2.51*x/re)
	}
	return 1 / (x * x)
}

// PressureAt returns what is left at the furthest outlet.
//
//	p = p_main - 0.0981·h - Δp_friction - Δp_meter
//
// Source: Bernoulli; 0.0981 bar is one metre of water.
func PressureAt(main unit.GaugePressure, rise unit.Length, friction, meter unit.PressureDiff) unit.GaugePressure {
	return unit.BarGauge(main.BarG() - barPerMetre*rise.M() - friction.Bar() - meter.Bar())
}

// SupplyResult is the incoming water against what is drawn.
type SupplyResult struct {
	Needed      unit.VolumeFlow // on the main at once
	BoreNeeded  unit.Length     // at 2.0 m/s
	Pipe        string          // polyethylene pipe that does
	PipeBore    unit.Length
	Capacity    unit.VolumeFlow // what there is: the lesser of bore at 2.0 m/s and measured flow; 0 unknown
	CapacityBy  string
	Friction    unit.PressureDiff
	Meter       unit.PressureDiff
	Static      unit.PressureDiff  // height
	StaticKnown bool               // the rise is known
	Outlet      unit.GaugePressure // while the peak is drawn; only where the pressure is known
	OutletKnown bool
	Need        unit.PressureDiff
	BoosterHead unit.PressureDiff // a booster behind a break tank needs, at the outlet flow; only where the rise is known
	TankFull    unit.Volume       // break tank if every draw came from it, at the capacity there is
	TankOK      bool
	DayShare    unit.Ratio // day's water over 24 h of capacity
	Schedule    []Line
}

func sizeSupply(in Input, d Demand) (SupplyResult, error) {
	s := in.Supply
	r := SupplyResult{Needed: d.MainPeak, Meter: s.Meter, Need: s.Need}
	if s.Rise != nil {
		r.Static, r.StaticKnown = unit.Bars(barPerMetre*s.Rise.M()), true
	}
	if r.Meter == 0 {
		r.Meter = unit.Bars(0.3) // common practice, no source
	}
	if r.Need == 0 {
		r.Need = unit.Bars(1.0) // common practice, no source
	}
	var err error
	if r.BoreNeeded, err = BoreFor(r.Needed, unit.MetresPerSecond(maxMain)); err != nil {
		return r, err
	}
	row, err := pePipes.AtLeast("bore_mm", r.BoreNeeded.MM())
	if err != nil {
		return r, fmt.Errorf("incoming pipe for %v: %w", r.Needed, err)
	}
	mm, _ := pePipes.Number(row, "bore_mm")
	r.Pipe, r.PipeBore = "PE "+pePipes.Text(row, "outside_mm")+" mm", unit.Millimetres(mm)
	bore := r.PipeBore
	if s.Bore != nil {
		if err := unit.Positive("bore of the service pipe", *s.Bore); err != nil {
			return r, err
		}
		bore = *s.Bore
		r.Capacity, r.CapacityBy = Capacity(bore, unit.MetresPerSecond(maxMain)), "bore at 2.0 m/s"
	}
	if s.Flow != nil && (r.Capacity == 0 || *s.Flow < r.Capacity) {
		r.Capacity, r.CapacityBy = *s.Flow, "measured flow"
	}
	if r.Friction, err = Friction(r.Needed, bore, unit.Metres(s.Run.M()*fittings)); err != nil {
		return r, err
	}
	if s.Pressure != nil && s.Rise != nil {
		r.Outlet, r.OutletKnown = PressureAt(*s.Pressure, *s.Rise, r.Friction, r.Meter), true
	}
	if r.StaticKnown {
		r.BoosterHead = unit.Bars(r.Static.Bar() + r.Friction.Bar() + r.Need.Bar())
	}
	if r.Capacity > 0 {
		r.TankFull, r.TankOK = TankVolume(d.Steps, refill(in, d, r.Capacity))
		r.DayShare = unit.Fraction(d.Day.M3() / (r.Capacity.M3S() * 86400))
	}
	return r, nil
}

// refill is what the main has left for a break tank: its capacity less other users
// and the sanitary water, which is taken as drawn over eight hours.
func refill(in Input, d Demand, capacity unit.VolumeFlow) unit.VolumeFlow {
	return max(capacity-unit.M3PerSecond(d.Sanitary.M3()/(8*3600))-in.Supply.Others, 0)
}

func supplySchedule(in Input, d Demand, r SupplyResult) []Line {
	lines := []Line{
		{Label: "Loading units of the fixtures", Value: d.Units, Note: "EN 806-3"},
		{Label: "Peak of the fixtures", Key: "l_s", Value: d.FixturePeak, Note: "DIN 1988-300, from memory"},
		{Label: "Peak of the process", Key: "l_s", Value: d.ProcessPeak, Note: joinNames(d.PeakDraws)},
		{Label: "Peak in all", Key: "l_s", Value: d.Peak},
		{Label: "Peak on the main", Key: "l_s", Value: d.MainPeak, Note: "break tank filled steadily"},
		{Label: "Water on the busiest day", Key: "m3", Value: d.Day},
	}
	if d.PerBeer > 0 {
		lines = append(lines, Line{Label: "Water on one volume of beer", Text: unit.Digits(d.PerBeer.Value(), 3), Note: "6 to 10 in small breweries, common practice"})
	}
	lines = append(lines, Line{Label: "Bore needed at 2.0 m/s", Value: r.BoreNeeded}, Line{Label: "Incoming pipe", Text: r.Pipe, Note: "SDR 11, bore from memory"})
	if r.Capacity > 0 {
		lines = append(lines, Line{Label: "Flow there is", Key: "l_s", Value: r.Capacity, Note: r.CapacityBy})
	} else {
		lines = append(lines, Line{Label: "Flow there is", Text: "unknown", Note: "measure at the stopcock: bucket and clock"})
	}
	height := Line{Label: "Height to the outlet", Value: r.Static}
	if !r.StaticKnown {
		height = Line{Label: "Height to the outlet", Text: "unknown", Note: "measure from the boundary to the highest outlet"}
	}
	lines = append(lines, height, Line{Label: "Friction at the peak", Value: r.Friction}, Line{Label: "Meter, filter, valves", Value: r.Meter})
	if r.OutletKnown {
		lines = append(lines, Line{Label: "Pressure at the outlet at the peak", Value: r.Outlet})
	} else {
		lines = append(lines, Line{Label: "Pressure at the outlet at the peak", Text: "unknown", Note: "pressure and height at the boundary to be measured"})
	}
	if !r.StaticKnown {
		return lines
	}
	return append(lines, Line{Label: "Head of a booster, if one is fitted", Value: r.BoosterHead})
}

func joinNames(names []string) string {
	s := ""
	for i, n := range names {
		if i > 0 {
			s += " + "
		}
		s += n
	}
	return s
}

// Softening returns the salt and waste water that soften a volume: 2.5 kg of salt
// and 80 L of brine for each kilogram of hardness as CaCO3.
//
// Source: common practice, no source.
func Softening(v unit.Volume, hardness unit.Concentration) (salt unit.Mass, waste unit.Volume) {
	kg := v.M3() * hardness.KgM3()
	return unit.Kilograms(2.5 * kg), unit.Litres(80 * kg)
}

func treatment(in Input, d Demand) []Line {
	lines := []Line{{Label: "Carbon filter on brewing liquor", Text: "where the supply is chlorinated", Note: "dechlorinated water is not kept in pipes overnight"}}
	h := in.Supply.Hardness
	limit, _, _ := in.consentLimits()
	if h == nil {
		return append(lines, Line{Label: "Hardness", Text: "unknown", Note: "ask the supplier's report"})
	}
	lines = append(lines, Line{Label: "Hardness", Value: *h, Note: unit.Digits(h.MgL()/degreeGerman, 3) + " German degrees"})
	if h.MgL() > hardLimit {
		salt, waste := Softening(d.Process, *h)
		lines = append(lines, Line{Label: "Softener on elements and steam", Text: "needed above 200 mg/L", Note: "common practice"}, Line{Label: "Salt if all process water is softened", Value: salt, Note: "a day, common practice"}, Line{Label: "Brine to the drain", Value: waste, Note: "a day"})
	}
	return append(lines, Line{Label: "Steam generator feed", Text: "softened; blow-down to the drain below " + limit.String() + " through a vessel"})
}
