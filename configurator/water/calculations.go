package water

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/trace"
)

type fixturesIn struct {
	Basins  int `yaml:"washbasins,omitempty"`
	Sinks   int `yaml:"sinks,omitempty"`
	Showers int `yaml:"showers,omitempty"`
	WCs     int `yaml:"wcs,omitempty"`
}

type fixturesOut struct {
	Units unit.LoadingUnits `yaml:"loading_units_lu"`
	Sum   unit.VolumeFlow   `yaml:"sum_l_s"`
	Peak  unit.VolumeFlow   `yaml:"peak_l_s"`
}

type pressureIn struct {
	Main  unit.GaugePressure `yaml:"main_bar_g,required"`
	Flow  unit.VolumeFlow    `yaml:"flow_l_s,required"`
	Bore  unit.Length        `yaml:"bore_mm,required"`
	Run   unit.Length        `yaml:"run_m,required"`
	Rise  unit.Length        `yaml:"rise_m,omitempty"`
	Meter unit.PressureDiff  `yaml:"meter_bar,omitempty"`
}

type pressureOut struct {
	Friction unit.PressureDiff  `yaml:"friction_bar"`
	Outlet   unit.GaugePressure `yaml:"outlet_bar_g"`
	Velocity unit.Velocity      `yaml:"velocity_m_s"`
}

type drainIn struct {
	Bore     unit.Length `yaml:"bore_mm,required"`
	Gradient unit.Ratio  `yaml:"gradient_pct,required"`
	Filling  unit.Ratio  `yaml:"filling_pct,required"`
}

type drainOut struct {
	Flow     unit.VolumeFlow `yaml:"flow_l_s"`
	Velocity unit.Velocity   `yaml:"velocity_m_s"`
}

type outflowIn struct {
	Opening unit.Length `yaml:"opening_mm,required"`
	Head    unit.Length `yaml:"head_m,required"`
}

type flowOut struct {
	Flow unit.VolumeFlow `yaml:"flow_l_s"`
}

type wasteIn struct {
	Sum     unit.VolumeFlow `yaml:"discharge_units_l_s,required"`
	Largest unit.VolumeFlow `yaml:"largest_unit_l_s,required"`
	K       unit.Ratio      `yaml:"frequency_ratio,required"`
}

type blendIn struct {
	Hot   unit.Temperature `yaml:"hot_c,required"`
	Limit unit.Temperature `yaml:"limit_c,required"`
	Cold  unit.Temperature `yaml:"cold_c,required"`
}

type blendOut struct {
	Share unit.Ratio `yaml:"cold_on_hot_ratio"`
}

type codIn struct {
	Original unit.Plato `yaml:"original_plato,required"`
	Final    unit.Plato `yaml:"final_plato,required"`
}

type codOut struct {
	COD unit.Concentration `yaml:"cod_g_l"`
}

type receiverIn struct {
	Flow  unit.VolumeFlow   `yaml:"delivery_m3_h,required"`
	Band  unit.PressureDiff `yaml:"band_bar,required"`
	Cycle unit.Duration     `yaml:"between_starts_min,required"`
}

type receiverOut struct {
	Volume unit.Volume `yaml:"receiver_l"`
}

// Calculations lists the calculations that can be run by name.
func Calculations() []calc.Calculation {
	balance := source.Derivation("heat balance")
	return append([]calc.Calculation{
		calc.New("water.fixtures", "Loading units and peak of sanitary fixtures", "0.91·ΣQA^0.31 - 0.38", din1988.Recalled("office buildings"), `{"washbasins": 2, "sinks": 1, "wcs": 2}`, calcFixtures),
		calc.New("water.pressure-at-outlet", "Pressure left at an outlet", "p - 0.0981·h - Δp - Δp_meter", source.Derivation("Darcy-Weisbach with Colebrook-White; Bernoulli"), `{"main_bar_g": 3, "flow_l_s": 0.6, "bore_mm": 20.4, "run_m": 25, "rise_m": 6, "meter_bar": 0.3}`, calcPressure),
		calc.New("water.drain-capacity", "Flow of a part-full drain", "-2·√(8gRS)·log10(k/(14.8R) + 1.255ν/(R·√(32gRS)))", en12056.At("annex B"), `{"bore_mm": 96, "gradient_pct": 1, "filling_pct": 50}`, calcDrain),
		calc.New("water.vessel-outflow", "Flow out of a vessel's opening", "0.6·A·√(2gh)", source.Derivation("Torricelli, coefficient of discharge 0.6"), `{"opening_mm": 38, "head_m": 1.2}`, calcOutflow),
		calc.New("water.waste-flow", "Expected flow of sanitary appliances", "K·√ΣDU", en12056.At("6.3"), `{"discharge_units_l_s": 9, "largest_unit_l_s": 2, "frequency_ratio": 0.5}`, calcWaste),
		calc.New("water.blend", "Cold water that cools a hot discharge", "(Th-T)/(T-Tc)", balance, `{"hot_c": 85, "limit_c": 43, "cold_c": 12}`, calcBlend),
		calc.New("water.beer-cod", "Chemical oxygen demand of beer", "ρ·(2.087·A + 1.1·RE)", source.Derivation("oxidation of ethanol and extract"), `{"original_plato": 12, "final_plato": 2.5}`, calcCOD),
		calc.New("water.air-receiver", "Compressed air receiver for a switching compressor", "Q·1.013·0.25·t/Δp", source.Derivation("mass balance of the receiver"), `{"delivery_m3_h": 12, "band_bar": 2, "between_starts_min": 4}`, calcReceiver),
	}, moreCalculations()...)
}

func one(title, symbol, formula string, result unit.Quantity, ref source.Ref, values ...trace.Value) trace.Trace {
	return trace.Trace{{Title: title, Symbol: symbol, Formula: formula, Values: values, Result: result, Source: ref}}
}

func calcFixtures(in fixturesIn) (fixturesOut, trace.Trace, error) {
	lu, sum, err := FixtureDemand([]Fixture{{"washbasin", in.Basins}, {"sink", in.Sinks}, {"shower", in.Showers}, {"wc-cistern", in.WCs}})
	if err != nil {
		return fixturesOut{}, nil, err
	}
	peak, err := DiversityFlow(sum)
	return fixturesOut{lu, sum, peak}, one("Peak of fixtures", "Q_D", "0.91·ΣQA^0.31 - 0.38", peak, din1988.Recalled("office buildings"), trace.V("ΣQA", sum)), err
}

func calcPressure(in pressureIn) (pressureOut, trace.Trace, error) {
	dp, err := Friction(in.Flow, in.Bore, in.Run)
	if err != nil {
		return pressureOut{}, nil, err
	}
	p := PressureAt(in.Main, in.Rise, dp, in.Meter)
	v := unit.MetresPerSecond(in.Flow.M3S() / Capacity(in.Bore, unit.MetresPerSecond(1)).M3S())
	t := one("Friction", "Δp", "f·L/d·ρ·v²/2", dp, source.Derivation("Darcy-Weisbach with Colebrook-White"), trace.V("Q", in.Flow), trace.V("d", in.Bore), trace.V("L", in.Run))
	t.Add(trace.Step{Title: "Pressure at the outlet", Symbol: "p", Formula: "p_main - 0.0981·h - Δp - Δp_meter", Values: []trace.Value{trace.V("h", in.Rise)}, Result: p, Source: source.Derivation("Bernoulli")})
	return pressureOut{dp, p, v}, t, nil
}

func calcDrain(in drainIn) (drainOut, trace.Trace, error) {
	q, v, err := DrainCapacity(in.Bore, in.Gradient, in.Filling)
	return drainOut{q, v}, one("Drain capacity", "Q", "v·A", q, en12056.At("annex B"), trace.V("d", in.Bore), trace.V("S", in.Gradient), trace.V("h/d", in.Filling)), err
}

func calcOutflow(in outflowIn) (flowOut, trace.Trace, error) {
	q, err := VesselOutflow(in.Opening, in.Head)
	return flowOut{q}, one("Outflow", "Q", "0.6·A·√(2gh)", q, source.Derivation("Torricelli"), trace.V("d", in.Opening), trace.V("h", in.Head)), err
}

func calcWaste(in wasteIn) (flowOut, trace.Trace, error) {
	q, err := WasteFlow(in.Sum, in.Largest, in.K)
	return flowOut{q}, one("Waste flow", "Qww", "K·√ΣDU", q, en12056.At("6.3"), trace.V("ΣDU", in.Sum), trace.V("K", in.K)), err
}

func calcBlend(in blendIn) (blendOut, trace.Trace, error) {
	r, err := Blend(in.Hot, in.Limit, in.Cold)
	return blendOut{r}, one("Cold water on hot", "r", "(Th-T)/(T-Tc)", r, source.Derivation("heat balance"), trace.V("Th", in.Hot), trace.V("T", in.Limit), trace.V("Tc", in.Cold)), err
}

func calcCOD(in codIn) (codOut, trace.Trace, error) {
	c, err := BeerCOD(in.Original, in.Final)
	return codOut{c}, one("COD of beer", "c", "ρ·(2.087·A + 1.1·RE)", c, source.Derivation("oxidation of ethanol and extract"), trace.V("OE", in.Original), trace.V("AE", in.Final)), err
}

func calcReceiver(in receiverIn) (receiverOut, trace.Trace, error) {
	v, err := ReceiverVolume(in.Flow, in.Band, in.Cycle)
	return receiverOut{v}, one("Receiver", "V", "Q·1.013·0.25·t/Δp", v, source.Derivation("mass balance of the receiver"), trace.V("Q", in.Flow), trace.V("Δp", in.Band)), err
}
