package electrical

import (
	"fmt"
	"slices"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
)

type dropIn struct {
	Size       unit.CrossSection `yaml:"size_mm2,required"`
	Phases     int               `yaml:"phases,required" range:"1..3" doc:"1 or 3"`
	Insulation unit.Temperature  `yaml:"insulation_c,required" doc:"70 or 90: full conductor temperature"`
	Current    unit.Current      `yaml:"current_a,required"`
	Length     unit.Length       `yaml:"length_m,required" doc:"one way"`
	Voltage    unit.Voltage      `yaml:"voltage_v,required" doc:"of the circuit, for the share"`
	Factor     *unit.Ratio       `yaml:"power_factor_ratio" range:"0.1..1" doc:"left out 1"`
	Tabulated  *unit.Current     `yaml:"tabulated_a" doc:"capacity It, for the conductor's own temperature"`
	Ca         *unit.Ratio       `yaml:"ambient_factor_ratio" range:"0.3..1"`
	Cg         *unit.Ratio       `yaml:"grouping_factor_ratio" range:"0.3..1"`
}

type dropOut struct {
	Safe    unit.Voltage `yaml:"safe_v" doc:"conductor at its full temperature, worst power factor"`
	Refined unit.Voltage `yaml:"refined_v"`
	Share   unit.Ratio   `yaml:"safe_pct"`
	Ct      unit.Ratio   `yaml:"temperature_factor_ratio"`
}

// sizeRow finds a standard size.
func sizeRow(size unit.CrossSection) (int, error) {
	row := slices.Index(sizesIEC, size.MM2())
	if row < 0 {
		return 0, fmt.Errorf("%s is not a size of the tables: 1.5 to 240 mm²", size)
	}
	return row, nil
}

func hotInsulation(t unit.Temperature) (bool, error) {
	switch t.C() {
	case 70:
		return false, nil
	case 90:
		return true, nil
	}
	return false, fmt.Errorf("insulation is %s: it must be 70 or 90 °C", t)
}

func calcDrop(in dropIn) (dropOut, trace.Trace, error) {
	row, err := sizeRow(in.Size)
	if err != nil {
		return dropOut{}, nil, err
	}
	hot, err := hotInsulation(in.Insulation)
	if err != nil {
		return dropOut{}, nil, err
	}
	if err := unit.Positive("voltage", in.Voltage); err != nil {
		return dropOut{}, nil, err
	}
	c := conductorAt(row, in.Phases, hot)
	out := dropOut{Safe: VoltageDrop(c.z(), in.Current, in.Length), Ct: 1}
	it := in.Current.A()
	if in.Tabulated != nil {
		it = in.Tabulated.A()
		if out.Ct, err = TemperatureFactor(in.Insulation, orOne(in.Ca), orOne(in.Cg), in.Current, *in.Tabulated); err != nil {
			return dropOut{}, nil, err
		}
	}
	out.Refined = unit.Volts(refinedDrop(c, in.Insulation.C(), orOne(in.Ca).Value(), orOne(in.Cg).Value(), in.Current.A(), it, orOne(in.Factor).Value(), in.Length.M()))
	out.Share = unit.Fraction(out.Safe.V() / in.Voltage.V())
	return out, one("Voltage drop", "ΔU", "z · Ib · L", out.Safe, bs7671.At("Appendix 4, 6"), trace.V("z", c.z()), trace.V("Ib", in.Current), trace.V("L", in.Length)), nil
}

type maxLoopIn struct {
	Curve   string       `yaml:"curve,required" enum:"B|C|D"`
	Rating  unit.Current `yaml:"rating_a,required"`
	Voltage unit.Voltage `yaml:"voltage_v,required" doc:"to earth"`
	Five    bool         `yaml:"five_seconds" doc:"whether five seconds are allowed"`
}

type oneImpedance struct {
	Impedance unit.Impedance `yaml:"impedance_ohm"`
}

func calcMaxLoop(in maxLoopIn) (oneImpedance, trace.Trace, error) {
	if err := unit.Positive("rating", in.Rating); err != nil {
		return oneImpedance{}, nil, err
	}
	z := MaxLoop(in.Voltage, Curve(in.Curve), in.Rating, in.Five)
	return oneImpedance{z}, one("Greatest loop impedance", "Zs", "U0 · 0.95 / (m · In)", z, bs7671.At("Table 41.3"), trace.V("U0", in.Voltage), trace.V("In", in.Rating)), nil
}

type loopIn struct {
	Ze         unit.Impedance    `yaml:"ze_ohm,required"`
	Size       unit.CrossSection `yaml:"size_mm2,required"`
	Protective unit.CrossSection `yaml:"protective_mm2,required"`
	Insulation unit.Temperature  `yaml:"insulation_c,required" doc:"70 or 90"`
	Length     unit.Length       `yaml:"length_m,required"`
}

type loopOut struct {
	R1R2 unit.Impedance `yaml:"r1_r2_ohm"`
	Zs   unit.Impedance `yaml:"zs_ohm"`
}

func calcLoop(in loopIn) (loopOut, trace.Trace, error) {
	line, err := sizeRow(in.Size)
	if err != nil {
		return loopOut{}, nil, err
	}
	cpc, err := sizeRow(in.Protective)
	if err != nil {
		return loopOut{}, nil, err
	}
	hot, err := hotInsulation(in.Insulation)
	if err != nil {
		return loopOut{}, nil, err
	}
	r := LoopResistance(unit.MilliohmsPerMetre(resistance20[line]), unit.MilliohmsPerMetre(resistance20[cpc]), hot, in.Length)
	zs := unit.Ohms(in.Ze.Ohm() + r.Ohm())
	return loopOut{r, zs}, one("Earth fault loop", "Zs", "Ze + (R1 + R2)", zs, bs7671.At("411.4.4"), trace.V("Ze", in.Ze), trace.V("R1+R2", r)), nil
}

type protectiveIn struct {
	Line  unit.CrossSection `yaml:"line_mm2,required"`
	Fault unit.Current      `yaml:"fault_current_a,required"`
	Time  unit.Duration     `yaml:"time_s,required" range:"0.1..5"`
	K     float64           `yaml:"k,required" range:"20..250" doc:"115 for a 70 °C core of a cable, 143 for a 90 °C one"`
}

type protectiveOut struct {
	BySize unit.CrossSection `yaml:"by_table_mm2"`
	ByHeat unit.CrossSection `yaml:"by_heat_mm2"`
}

func calcProtective(in protectiveIn) (protectiveOut, trace.Trace, error) {
	s, err := Adiabatic(in.Fault, in.Time, unit.PureNumber(in.K))
	if err != nil {
		return protectiveOut{}, nil, err
	}
	return protectiveOut{ProtectiveConductor(in.Line), s}, one("By the heat of a fault", "S", "I · √t / k", s, bs7671.At("543.1.3"), trace.V("I", in.Fault), trace.V("t", in.Time)), nil
}

type circuitIn struct {
	Rules      string            `yaml:"rules,required" enum:"IEC|NEC"`
	Kind       string            `yaml:"kind,required" enum:"element|motor|electronics|lighting|socket"`
	Power      unit.Power        `yaml:"power_kw,required"`
	Phases     int               `yaml:"phases,required" range:"1..3"`
	Voltage    *unit.Voltage     `yaml:"line_voltage_v" doc:"of the supply between lines; left out the usual one"`
	Factor     *unit.Ratio       `yaml:"power_factor_ratio" range:"0.1..1"`
	Efficiency *unit.Ratio       `yaml:"efficiency_ratio" range:"0.05..1"`
	Starter    string            `yaml:"starter,omitempty" enum:"none|direct|star-delta|soft-start|variable-speed"`
	Length     unit.Length       `yaml:"length_m,required"`
	Cable      string            `yaml:"cable,omitempty" enum:"armoured|thermoplastic|thermosetting"`
	Method     string            `yaml:"method,omitempty" enum:"B1|B2|C|E|D1"`
	Ambient    *unit.Temperature `yaml:"ambient_c"`
	Grouped    int               `yaml:"grouped,omitempty" range:"1..20"`
	Ze         *unit.Impedance   `yaml:"ze_ohm"`
	Terminals  bool              `yaml:"terminals_75c" doc:"terminals marked 75 °C (NEC)"`
}

type circuitOut struct {
	Ib         unit.Current    `yaml:"design_current_a"`
	Device     string          `yaml:"device"`
	Live       string          `yaml:"live"`
	Protective string          `yaml:"protective"`
	Iz         unit.Current    `yaml:"capacity_a"`
	Drop       unit.Voltage    `yaml:"drop_v"`
	Share      unit.Ratio      `yaml:"drop_pct"`
	Zs         *unit.Impedance `yaml:"zs_ohm"`
	ZsMax      unit.Impedance  `yaml:"zs_max_ohm"`
	Governed   string          `yaml:"governed_by"`
}

func calcCircuit(in circuitIn) (circuitOut, trace.Trace, error) {
	phases := in.Phases
	input := Input{
		Rules: RuleSet(in.Rules),
		Loads: []Load{{
			Tag: "load", Kind: Kind(in.Kind), Power: in.Power, Phases: in.Phases, PowerFactor: in.Factor, Efficiency: in.Efficiency, Starter: Starter(in.Starter),
			Length: &in.Length, Method: Method(in.Method), Ambient: in.Ambient, Grouped: in.Grouped,
		}},
		Supply:  Supply{Phases: &phases, Voltage: in.Voltage, Ze: in.Ze},
		Install: Installation{Cable: CableType(in.Cable), Terminals75: in.Terminals},
	}
	r, err := Size(input)
	if err != nil {
		return circuitOut{}, nil, err
	}
	c := &r.Circuits[0]
	if c.Problem != "" {
		return circuitOut{}, r.Trace, fmt.Errorf("%s", c.Problem)
	}
	return circuitOut{c.Ib, c.Device.Text(), c.Cable.Live(), c.Cable.Protective(), c.Cable.Iz, c.Drop, c.DropShare, c.Zs, c.ZsMax, c.Governed}, r.Trace, nil
}

type heatingIn struct {
	Volume     unit.Volume      `yaml:"volume_l,required"`
	From       unit.Temperature `yaml:"from_c,required"`
	To         unit.Temperature `yaml:"to_c,required"`
	Power      unit.Power       `yaml:"power_kw,required"`
	Efficiency *unit.Ratio      `yaml:"efficiency_ratio" range:"0.3..1" doc:"left out 1"`
}

type heatingOut struct {
	Energy unit.Energy   `yaml:"energy_kwh"`
	Time   unit.Duration `yaml:"time_h"`
}

func calcHeating(in heatingIn) (heatingOut, trace.Trace, error) {
	if err := unit.Positive("power", in.Power); err != nil {
		return heatingOut{}, nil, err
	}
	rise := unit.Kelvins(in.To.C() - in.From.C())
	if err := unit.Positive("rise of temperature", rise); err != nil {
		return heatingOut{}, nil, err
	}
	const cp = 4.186 // kJ/(kg·K), water about 40 °C: handbook value, from memory
	e := unit.Kilojoules(in.Volume.L() * cp * rise.K())
	t := unit.Hours(e.KWh() / (in.Power.KW() * orOne(in.Efficiency).Value()))
	return heatingOut{e, t}, one("Heating time", "t", "m · cp · ΔT / (P · η)", t, source.Derivation("energy over power"), trace.V("V", in.Volume), trace.V("ΔT", rise), trace.V("P", in.Power)), nil
}

type ingressIn struct {
	Has   string `yaml:"has,required" doc:"such as IP67"`
	Needs string `yaml:"needs,required" doc:"such as IP66"`
}

type ingressOut struct {
	Covers bool   `yaml:"covers"`
	Words  string `yaml:"words"`
}

func calcIngress(in ingressIn) (ingressOut, trace.Trace, error) {
	for _, code := range []string{in.Has, in.Needs} {
		if _, _, ok := digitsIP(code[:min(len(code), 4)]); !ok {
			return ingressOut{}, nil, fmt.Errorf("%q is not a protection code: write it as IP66", code)
		}
	}
	if MeetsIP(in.Has, in.Needs) {
		return ingressOut{true, in.Has + " covers " + in.Needs}, nil, nil
	}
	return ingressOut{false, in.Has + " does not cover " + in.Needs}, nil, nil
}
