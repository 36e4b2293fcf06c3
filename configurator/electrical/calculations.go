package electrical

import (
	"fmt"
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/trace"
)

// Calculations are the single calculations that can be run by name.
func Calculations() []calc.Calculation {
	ac := source.Derivation("arithmetic of alternating current")
	return []calc.Calculation{
		calc.New("electrical.design-current", "Design current of a load", "Ib = P / (√3 · U · cos φ · η), on one phase without √3", ac,
			`{"power_kw": 24, "phases": 3, "voltage_v": 400, "power_factor_ratio": 1, "efficiency_ratio": 1}`, calcCurrent),
		calc.New("electrical.element-at-voltage", "Heating element on another voltage", "P = Pr · (U/Ur)²", source.Derivation("Ohm's law"),
			`{"power_kw": 24, "phases": 3, "rated_voltage_v": 400, "voltage_v": 440}`, calcElement),
		calc.New("electrical.supply-power", "Apparent power of a supply", "S = √3 · U · I, on one phase U · I", ac,
			`{"phases": 3, "voltage_v": 400, "current_a": 100}`, calcSupply),
		calc.New("electrical.neutral-current", "Neutral current of single-phase loads", "sum of phasors of the three lines", ac,
			`{"l1_a": 10, "l2_a": 0, "l3_a": 0}`, calcNeutral),
		calc.New("electrical.delta-line-currents", "Line currents of loads between lines", "Ia = √(Iab² + Ica² + Iab · Ica)", ac,
			`{"l1_l2_a": 15, "l2_l3_a": 10, "l3_l1_a": 5}`, calcDelta),
		calc.New("electrical.phase-balance", "Best assignment of single-phase loads to three lines", "min over assignments of the greatest line current", source.Derivation("branch and bound over all assignments"),
			`{"loads_a": [13, 10, 9, 6, 6, 4, 3, 2]}`, calcBalance),
		calc.New("electrical.cable-capacity", "Current-carrying capacity of a cable as laid", "Iz = It · Ca · Cg", bs7671.At("Appendix 4"),
			`{"cable": "armoured", "method": "E", "loaded_conductors": 3, "size_mm2": 10, "ambient_c": 35, "grouped": 6}`, calcCapacity),
		calc.New("electrical.voltage-drop", "Voltage drop of a cable", "ΔU = (Ct · cos φ · r + sin φ · x) · Ib · L", bs7671.At("Appendix 4, 6"),
			`{"size_mm2": 10, "phases": 3, "insulation_c": 70, "current_a": 34.64, "length_m": 18, "voltage_v": 400, "power_factor_ratio": 1}`, calcDrop),
		calc.New("electrical.max-loop-impedance", "Greatest earth fault loop of a breaker", "Zs = U0 · 0.95 / (m · In)", bs7671.At("411.4.4, Table 41.3"),
			`{"curve": "B", "rating_a": 32, "voltage_v": 230}`, calcMaxLoop),
		calc.New("electrical.loop-impedance", "Earth fault loop of a circuit", "Zs = Ze + (R1 + R2)", bs7671.At("411.4.4"),
			`{"ze_ohm": 0.35, "size_mm2": 10, "protective_mm2": 10, "insulation_c": 70, "length_m": 18}`, calcLoop),
		calc.New("electrical.protective-conductor", "Protective conductor by size and by the heat of a fault", "Table 54.7; S = I · √t / k", bs7671.At("543.1, Table 54.7"),
			`{"line_mm2": 25, "fault_current_a": 1000, "time_s": 0.4, "k": 115}`, calcProtective),
		calc.New("electrical.circuit", "Whole circuit: device, cable, drop and loop", "Ib ≤ In ≤ Iz, then ΔU, then Zs", bs7671.At("433.1.1, 525, 411.4.4"),
			`{"rules": "IEC", "kind": "element", "power_kw": 24, "phases": 3, "length_m": 18, "method": "E", "ambient_c": 35, "grouped": 6, "ze_ohm": 0.35}`, calcCircuit),
		calc.New("electrical.heating-time", "Time to heat a volume of water", "t = m · cp · ΔT / (P · η), cp 4.186 kJ/(kg·K)", source.Derivation("energy over power, 1 kg for a litre"),
			`{"volume_l": 2200, "from_c": 12, "to_c": 78, "power_kw": 24, "efficiency_ratio": 0.95}`, calcHeating),
		calc.New("electrical.ingress-protection", "Whether one protection code covers another", "numerals compared; 7, 8 and 9 do not include 5 and 6", iec60529.At("clause 6"),
			`{"has": "IP67", "needs": "IP66"}`, calcIngress),
	}
}

// one is the working of a calculation of one step.
func one(title, symbol, formula string, result unit.Quantity, src source.Ref, values ...trace.Value) trace.Trace {
	return trace.Trace{{Title: title, Symbol: symbol, Formula: formula, Values: values, Result: result, Source: src}}
}

type currentIn struct {
	Power      unit.Power   `yaml:"power_kw,required" doc:"rated power"`
	Phases     int          `yaml:"phases,required" range:"1..3" doc:"1 or 3"`
	Voltage    unit.Voltage `yaml:"voltage_v,required" doc:"across the load; between lines for three phases"`
	Factor     *unit.Ratio  `yaml:"power_factor_ratio" range:"0.01..1" doc:"power factor; left out 1"`
	Efficiency *unit.Ratio  `yaml:"efficiency_ratio" range:"0.05..1" doc:"shaft over input power; left out 1"`
}

type currentOut struct {
	Current unit.Current `yaml:"current_a"`
	Input   unit.Power   `yaml:"input_kw"`
}

// orOne gives a ratio, or one where it is left out.
func orOne(r *unit.Ratio) unit.Ratio {
	if r == nil {
		return 1
	}
	return *r
}

func calcCurrent(in currentIn) (currentOut, trace.Trace, error) {
	pf, eta := orOne(in.Factor), orOne(in.Efficiency)
	i, err := DesignCurrent(in.Power, in.Phases, in.Voltage, pf, eta)
	if err != nil {
		return currentOut{}, nil, err
	}
	t := one("Design current", "Ib", "P / (√3 · U · cos φ · η), on one phase without √3", i, source.Derivation("arithmetic of alternating current"),
		trace.V("P", in.Power), trace.V("U", in.Voltage), trace.V("cos φ", pf), trace.V("η", eta))
	return currentOut{i, unit.Watts(in.Power.W() / eta.Value())}, t, nil
}

type elementIn struct {
	Power   unit.Power   `yaml:"power_kw,required" doc:"rated power"`
	Phases  int          `yaml:"phases,required" range:"1..3"`
	Rated   unit.Voltage `yaml:"rated_voltage_v,required"`
	Voltage unit.Voltage `yaml:"voltage_v,required"`
}

type elementOut struct {
	Power   unit.Power   `yaml:"power_kw"`
	Current unit.Current `yaml:"current_a"`
}

func calcElement(in elementIn) (elementOut, trace.Trace, error) {
	i, err := DesignCurrent(in.Power, in.Phases, in.Rated, 1, 1)
	if err != nil {
		return elementOut{}, nil, err
	}
	p, a, err := ElementAt(in.Power, i, in.Rated, in.Voltage)
	t := one("Power on another voltage", "P", "Pr · (U/Ur)²", p, source.Derivation("Ohm's law"), trace.V("Pr", in.Power), trace.V("U", in.Voltage), trace.V("Ur", in.Rated))
	return elementOut{p, a}, t, err
}

type supplyIn struct {
	Phases  int          `yaml:"phases,required" range:"1..3"`
	Voltage unit.Voltage `yaml:"voltage_v,required"`
	Current unit.Current `yaml:"current_a,required"`
}

type supplyOut struct {
	Power unit.ApparentPower `yaml:"power_kva"`
}

func calcSupply(in supplyIn) (supplyOut, trace.Trace, error) {
	s := SupplyPower(in.Phases, in.Voltage, in.Current)
	return supplyOut{s}, one("Apparent power", "S", "√3 · U · I, on one phase U · I", s, source.Derivation("arithmetic"), trace.V("U", in.Voltage), trace.V("I", in.Current)), unit.Positive("voltage", in.Voltage)
}

type neutralIn struct {
	L1 unit.Current `yaml:"l1_a"`
	L2 unit.Current `yaml:"l2_a"`
	L3 unit.Current `yaml:"l3_a"`
	P1 *unit.Ratio  `yaml:"l1_power_factor_ratio" range:"0.01..1"`
	P2 *unit.Ratio  `yaml:"l2_power_factor_ratio" range:"0.01..1"`
	P3 *unit.Ratio  `yaml:"l3_power_factor_ratio" range:"0.01..1"`
}

type oneCurrent struct {
	Current unit.Current `yaml:"current_a"`
}

func calcNeutral(in neutralIn) (oneCurrent, trace.Trace, error) {
	n := Neutral([3]unit.Current{in.L1, in.L2, in.L3}, [3]unit.Ratio{orOne(in.P1), orOne(in.P2), orOne(in.P3)})
	return oneCurrent{n}, one("Neutral current", "In", "|Σ phasors|", n, source.Derivation("sum of phasors"), trace.V("I1", in.L1), trace.V("I2", in.L2), trace.V("I3", in.L3)), nil
}

type deltaIn struct {
	AB unit.Current `yaml:"l1_l2_a"`
	BC unit.Current `yaml:"l2_l3_a"`
	CA unit.Current `yaml:"l3_l1_a"`
}

type lineCurrents struct {
	L1 unit.Current `yaml:"l1_a"`
	L2 unit.Current `yaml:"l2_a"`
	L3 unit.Current `yaml:"l3_a"`
}

func calcDelta(in deltaIn) (lineCurrents, trace.Trace, error) {
	i := DeltaLineCurrents(in.AB, in.BC, in.CA)
	t := one("Line current L1", "Ia", "√(Iab² + Ica² + Iab · Ica)", i[0], source.Derivation("sum of phasors"), trace.V("Iab", in.AB), trace.V("Ica", in.CA))
	return lineCurrents{i[0], i[1], i[2]}, t, nil
}

type balanceIn struct {
	Loads []unit.Current `yaml:"loads_a,required" doc:"currents of the single-phase loads that run together"`
	Base  unit.Current   `yaml:"base_a,omitempty" doc:"three-phase load on each line"`
}

type balanceOut struct {
	Lines   []int          `yaml:"lines" doc:"line of each load, in the order given"`
	Sums    []unit.Current `yaml:"line_a"`
	Worst   unit.Current   `yaml:"worst_a"`
	Bound   unit.Current   `yaml:"bound_a" doc:"nothing lower is possible"`
	Proven  bool           `yaml:"proven"`
	Neutral unit.Current   `yaml:"neutral_a"`
}

func calcBalance(in balanceIn) (balanceOut, trace.Trace, error) {
	if len(in.Loads) > 200 {
		return balanceOut{}, nil, fmt.Errorf("loads_a has %d loads: at most 200 are balanced", len(in.Loads))
	}
	var pieces []piece
	for k, a := range in.Loads {
		if err := unit.NotNegative(fmt.Sprintf("loads_a[%d]", k+1), a); err != nil {
			return balanceOut{}, nil, err
		}
		pieces = append(pieces, piece{poles: 1, amps: []float64{a.A()}, most: a.A()})
	}
	b := in.Base.A()
	sol := solve(3, [][3]float64{{b, b, b}}, pieces, math.Inf(1))
	sum := [3]unit.Current{in.Base, in.Base, in.Base}
	out := balanceOut{Worst: unit.Amperes(sol.worst), Bound: unit.Amperes(sol.bound), Proven: sol.proven}
	for k, l := range sol.at {
		sum[l] += in.Loads[k]
		out.Lines = append(out.Lines, l+1)
	}
	out.Sums, out.Neutral = sum[:], Neutral(sum, [3]unit.Ratio{1, 1, 1})
	return out, one("Worst line", "Iworst", "min over assignments of the greatest line current", out.Worst, source.Derivation("branch and bound"), trace.V("bound", out.Bound)), nil
}

type capacityIn struct {
	Cable   string            `yaml:"cable,required" enum:"armoured|thermoplastic|thermosetting"`
	Method  string            `yaml:"method,required" enum:"B1|B2|C|E|D1"`
	Loaded  int               `yaml:"loaded_conductors,required" range:"2..3"`
	Size    unit.CrossSection `yaml:"size_mm2,required"`
	Ambient unit.Temperature  `yaml:"ambient_c,required"`
	Grouped int               `yaml:"grouped,required" range:"1..20" doc:"cables side by side, this one included"`
}

type capacityOut struct {
	It unit.Current `yaml:"tabulated_a"`
	Ca unit.Ratio   `yaml:"ambient_factor_ratio"`
	Cg unit.Ratio   `yaml:"grouping_factor_ratio"`
	Iz unit.Current `yaml:"capacity_a"`
}

func calcCapacity(in capacityIn) (capacityOut, trace.Trace, error) {
	it, err := Capacity(CableType(in.Cable), Method(in.Method), in.Loaded, in.Size)
	if err != nil {
		return capacityOut{}, nil, err
	}
	tp := unit.Celsius(70)
	if CableType(in.Cable) == Thermosetting {
		tp = unit.Celsius(90)
	}
	ca, err := airOrGround(Method(in.Method), in.Ambient, tp)
	if err != nil {
		return capacityOut{}, nil, err
	}
	cg, err := GroupFactor(in.Grouped, Method(in.Method))
	if err != nil {
		return capacityOut{}, nil, err
	}
	iz := unit.Amperes(it.A() * ca.Value() * cg.Value())
	return capacityOut{it, ca, cg, iz}, one("Capacity as laid", "Iz", "It · Ca · Cg", iz, bs7671.At("Appendix 4"), trace.V("It", it), trace.V("Ca", ca), trace.V("Cg", cg)), nil
}
