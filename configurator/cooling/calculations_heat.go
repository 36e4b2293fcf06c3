package cooling

import (
	"fmt"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
)

type gainIn struct {
	Surface    unit.Area          `yaml:"surface_m2,required" range:"0.1..1000"`
	Insulation unit.Length        `yaml:"insulation_mm,required" range:"0..400"`
	Lambda     *unit.Conductivity `yaml:"lambda_w_mk" range:"0.01..1" doc:"of the insulation; 0.026 where left out"`
	Outside    *unit.HeatTransfer `yaml:"film_w_m2k" range:"1..100" doc:"outside film; 8 where left out"`
	Room       unit.Temperature   `yaml:"room_c,required" range:"-30..60"`
	Beer       unit.Temperature   `yaml:"beer_c,required" range:"-5..60"`
}

type gainOut struct {
	U    unit.HeatTransfer `yaml:"u_w_m2k"`
	Gain unit.Power        `yaml:"gain_w"`
}

func runGain(in gainIn) (gainOut, trace.Trace, error) {
	lambda, film := unit.WattsPerMK(0.026), unit.WattsPerM2K(filmIndoor)
	if in.Lambda != nil {
		lambda = *in.Lambda
	}
	if in.Outside != nil {
		film = *in.Outside
	}
	u, err := Insulated(in.Insulation, lambda, film)
	if err != nil {
		return gainOut{}, nil, err
	}
	q := SkinGain(u, in.Surface, in.Room, in.Beer)
	t := trace.Trace{
		{Title: "Coefficient of the wall", Symbol: "U", Formula: "1/(s/λ + 1/h)", Values: []trace.Value{trace.V("s", in.Insulation), trace.V("λ", lambda), trace.V("h", film)}, Result: u, Source: source.Derivation("resistances in series")},
		{Title: "Gain", Symbol: "Q", Formula: "1.20 · U A (t_room - t)", Values: []trace.Value{trace.V("U", u), trace.V("A", in.Surface)}, Result: q, Source: fromPractice, Note: "1.20 for legs, manway and outlet"},
	}
	return gainOut{u, q}, t, nil
}

type crashIn struct {
	Volume unit.Volume      `yaml:"volume_hl,required" range:"0.1..1000"`
	Steel  unit.Mass        `yaml:"steel_kg,omitempty" range:"0..20000"`
	From   unit.Temperature `yaml:"from_c,required" range:"-2..40"`
	To     unit.Temperature `yaml:"to_c,required" range:"-3..40"`
	Time   unit.Duration    `yaml:"time_h,required" range:"1..500"`
}

type crashOut struct {
	Capacity unit.HeatCapacity `yaml:"capacity_kj_k"`
	Duty     unit.Power        `yaml:"duty_kw"`
}

func runCrash(in crashIn) (crashOut, trace.Trace, error) {
	c := TankCapacity(in.Volume, in.Steel)
	q, err := CrashDuty(c, in.From, in.To, in.Time)
	t := trace.Trace{
		{Title: "Heat capacity", Symbol: "C", Formula: "V ρ c + m_s c_s", Values: []trace.Value{trace.V("V", in.Volume), trace.V("m_s", in.Steel)}, Result: c, Source: source.Derivation("sum")},
		{Title: "Mean duty", Symbol: "Q", Formula: "C (T1 - T2)/t", Values: []trace.Value{trace.V("T1", in.From), trace.V("T2", in.To), trace.V("t", in.Time)}, Result: q, Source: source.Derivation("heat balance")},
	}
	return crashOut{c, q}, t, err
}

type jacketIn struct {
	Volume unit.Volume       `yaml:"volume_hl,required" range:"0.1..1000"`
	Steel  unit.Mass         `yaml:"steel_kg,omitempty" range:"0..20000"`
	Jacket unit.Area         `yaml:"jacket_m2,required" range:"0.01..100"`
	Flow   unit.VolumeFlow   `yaml:"flow_l_h,required" range:"1..100000"`
	Supply unit.Temperature  `yaml:"supply_c,required" range:"-20..20"`
	Glycol unit.Ratio        `yaml:"glycol_mass_pct,required" range:"0..60"`
	From   unit.Temperature  `yaml:"from_c,required" range:"-2..40"`
	To     unit.Temperature  `yaml:"to_c,required" range:"-3..40"`
	Gain   *unit.Conductance `yaml:"gain_w_k" range:"0..1000" doc:"through the skin for each kelvin; none where left out"`
	Room   *unit.Temperature `yaml:"room_c" range:"-20..50" doc:"30 °C where left out"`
}

type jacketOut struct {
	Time    unit.Duration `yaml:"time_h"`
	Initial unit.Power    `yaml:"first_draw_kw"`
	Rise    unit.TempDiff `yaml:"first_rise_k"`
	Last    unit.Power    `yaml:"last_draw_kw"`
}

func runJacket(in jacketIn) (jacketOut, trace.Trace, error) {
	f, err := Glycol(unit.Celsius(in.Supply.C()+2), in.Glycol)
	if err != nil {
		return jacketOut{}, nil, err
	}
	j := jacket{
		capacity: TankCapacity(in.Volume, in.Steel).JK(), area: in.Jacket.M2(), flow: in.Flow.M3S() * f.Density.KgM3() * f.Heat.JKgK(),
		glycol: in.Supply.C(), room: assumedRoom,
	}
	if in.Gain != nil {
		j.gain = in.Gain.WK()
	}
	if in.Room != nil {
		j.room = in.Room.C()
	}
	if in.To >= in.From {
		return jacketOut{}, nil, fmt.Errorf("target is %s: it must lie below %s", in.To, in.From)
	}
	hours, ok := j.time(in.From.C(), in.To.C())
	if !ok {
		return jacketOut{}, nil, fmt.Errorf("%s is never reached with glycol at %s: gain and jacket balance before", in.To, in.Supply)
	}
	first := j.takes(in.From.C())
	out := jacketOut{unit.Hours(hours), unit.Watts(first), unit.Kelvins(first / j.flow), unit.Watts(j.takes(in.To.C()))}
	t := trace.Trace{
		{Title: "First draw", Symbol: "Q_0", Formula: "ṁc (1 - exp(-U A/ṁc))(T1 - t_g)", Values: []trace.Value{trace.V("U", JacketU(in.From)), trace.V("A", in.Jacket), trace.V("ṁc", unit.WattsPerK(j.flow))}, Result: out.Initial, Source: fromKern},
		{Title: "Time", Symbol: "t", Formula: "∫ C dT/[UA_eff(T)(T - t_g) - Q_gain]", Values: []trace.Value{trace.V("T1", in.From), trace.V("T2", in.To)}, Result: out.Time, Source: jacketTable.Ref()},
	}
	return out, t, nil
}

type batchIn struct {
	Capacity unit.HeatCapacity `yaml:"capacity_kj_k,required" range:"1..1000000"`
	UA       unit.Conductance  `yaml:"ua_w_k,required" range:"0.1..1000000"`
	Flow     unit.Conductance  `yaml:"flow_w_k,required" range:"0.1..10000000" doc:"heat capacity flow of the coolant"`
	Gain     unit.Conductance  `yaml:"gain_w_k,omitempty" range:"0..10000"`
	From     unit.Temperature  `yaml:"from_c,required" range:"-50..200"`
	To       unit.Temperature  `yaml:"to_c,required" range:"-50..200"`
	Glycol   unit.Temperature  `yaml:"glycol_c,required" range:"-50..100"`
	Room     *unit.Temperature `yaml:"room_c" range:"-30..60" doc:"30 °C where left out"`
}

type batchOut struct {
	Effective unit.Conductance `yaml:"ua_effective_w_k"`
	Time      unit.Duration    `yaml:"time_h"`
	Initial   unit.Power       `yaml:"first_draw_kw"`
}

func runBatch(in batchIn) (batchOut, trace.Trace, error) {
	ua, err := EffectiveUA(in.UA, in.Flow)
	if err != nil {
		return batchOut{}, nil, err
	}
	room := unit.Celsius(assumedRoom)
	if in.Room != nil {
		room = *in.Room
	}
	d, err := BatchCooling(in.Capacity, ua, in.Gain, in.From, in.To, in.Glycol, room)
	t := trace.Trace{
		{Title: "Effective UA", Symbol: "UA_eff", Formula: "ṁc (1 - exp(-UA/ṁc))", Values: []trace.Value{trace.V("UA", in.UA), trace.V("ṁc", in.Flow)}, Result: ua, Source: fromKern},
		{Title: "Time", Symbol: "t", Formula: "C/k ln[(T1 - T∞)/(T2 - T∞)]", Values: []trace.Value{trace.V("C", in.Capacity), trace.V("T1", in.From), trace.V("T2", in.To)}, Result: d, Source: fromKern},
	}
	return batchOut{ua, d, unit.Watts(ua.WK() * (in.From.C() - in.Glycol.C()))}, t, err
}

type liquorIn struct {
	Volume unit.Volume      `yaml:"volume_l,required" range:"1..100000"`
	Mains  unit.Temperature `yaml:"mains_c,required" range:"0..45" doc:"in summer"`
	To     unit.Temperature `yaml:"to_c,required" range:"0..30"`
	Time   unit.Duration    `yaml:"time_h,required" range:"0.5..200"`
}

type liquorOut struct {
	Duty   unit.Power  `yaml:"duty_kw"`
	Energy unit.Energy `yaml:"energy_kwh"`
}

func runLiquor(in liquorIn) (liquorOut, trace.Trace, error) {
	q, err := LiquorDuty(in.Volume, in.Mains, in.To, in.Time)
	t := trace.Trace{{Title: "Duty", Symbol: "Q", Formula: "V ρ c (t_mains - t)/time", Values: []trace.Value{trace.V("V", in.Volume), trace.V("t_mains", in.Mains), trace.V("t", in.To)}, Result: q, Source: source.Derivation("heat balance")}}
	return liquorOut{q, unit.Joules(q.W() * in.Time.S())}, t, err
}

type plateIn struct {
	UA      unit.Conductance  `yaml:"ua_kw_k,required" range:"0.01..1000"`
	Wort    unit.Conductance  `yaml:"wort_kw_k,required" range:"0.01..1000" doc:"heat capacity flow"`
	Water   unit.Conductance  `yaml:"water_kw_k,required" range:"0.01..1000" doc:"heat capacity flow"`
	WortIn  unit.Temperature  `yaml:"wort_c,required" range:"0..110"`
	WaterIn unit.Temperature  `yaml:"water_c,required" range:"-10..60"`
	Pitch   *unit.Temperature `yaml:"pitch_c" range:"0..40" doc:"wanted after a second stage"`
}

type plateOut struct {
	Units         unit.Number      `yaml:"transfer_units_number"`
	Effectiveness unit.Ratio       `yaml:"effectiveness_pct"`
	Duty          unit.Power       `yaml:"duty_kw"`
	WortOut       unit.Temperature `yaml:"wort_out_c"`
	WaterOut      unit.Temperature `yaml:"water_out_c"`
	Second        unit.Power       `yaml:"second_stage_kw,omitempty"`
}

func runPlate(in plateIn) (plateOut, trace.Trace, error) {
	p, err := PlateStage(in.UA, in.Wort, in.Water, in.WortIn, in.WaterIn)
	if err != nil {
		return plateOut{}, nil, err
	}
	out := plateOut{Units: p.Units, Effectiveness: p.Effectiveness, Duty: p.Duty, WortOut: p.WortOut, WaterOut: p.WaterOut}
	t := trace.Trace{
		{Title: "Effectiveness", Symbol: "ε", Formula: "(1 - e^{-N(1-C)})/(1 - C e^{-N(1-C)})", Values: []trace.Value{trace.V("N", p.Units)}, Result: p.Effectiveness, Source: docKays.At("counterflow")},
		{Title: "Duty", Symbol: "Q", Formula: "ε C_min (t_wort - t_water)", Values: []trace.Value{trace.V("t_wort", in.WortIn), trace.V("t_water", in.WaterIn)}, Result: p.Duty, Source: source.Derivation("definition")},
	}
	if in.Pitch != nil {
		if out.Second, err = SecondStage(in.Wort, p.WortOut, *in.Pitch); err != nil {
			return plateOut{}, nil, err
		}
		t.Add(trace.Step{Title: "Second stage", Symbol: "Q_2", Formula: "C_wort (t_mid - t_pitch)", Values: []trace.Value{trace.V("t_mid", p.WortOut), trace.V("t_pitch", *in.Pitch)}, Result: out.Second, Source: source.Derivation("heat balance")})
	}
	return out, t, nil
}

type lmtdIn struct {
	First  unit.TempDiff `yaml:"first_k,required" range:"0..500"`
	Second unit.TempDiff `yaml:"second_k,required" range:"0..500"`
}

type lmtdOut struct {
	Mean unit.TempDiff `yaml:"mean_k"`
}

func runLMTD(in lmtdIn) (lmtdOut, trace.Trace, error) {
	m, err := LMTD(in.First, in.Second)
	t := trace.Trace{{Title: "Logarithmic mean", Symbol: "LMTD", Formula: "(Δ1 - Δ2)/ln(Δ1/Δ2)", Values: []trace.Value{trace.V("Δ1", in.First), trace.V("Δ2", in.Second)}, Result: m, Source: source.Derivation("integration along the surface")}}
	return lmtdOut{m}, t, err
}
