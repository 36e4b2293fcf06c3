package cooling

import (
	"strconv"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
)

type pipeIn struct {
	Flow   unit.VolumeFlow  `yaml:"flow_m3_h,required" range:"0.001..1000"`
	Bore   unit.Length      `yaml:"bore_mm,required" range:"3..500"`
	Rough  unit.Length      `yaml:"roughness_mm,required" range:"0..3"`
	Temp   unit.Temperature `yaml:"temperature_c,required" range:"-40..100"`
	Glycol unit.Ratio       `yaml:"glycol_mass_pct,required" range:"0..60"`
}

type pipeOut struct {
	Velocity unit.Velocity         `yaml:"velocity_m_s"`
	Reynolds unit.Number           `yaml:"reynolds_number"`
	Regime   string                `yaml:"regime"`
	Friction unit.Number           `yaml:"friction_number"`
	Gradient unit.PressureGradient `yaml:"gradient_pa_m"`
}

func runPipe(in pipeIn) (pipeOut, trace.Trace, error) {
	f, err := Glycol(in.Temp, in.Glycol)
	if err != nil {
		return pipeOut{}, nil, err
	}
	p, err := FlowInPipe(in.Flow, Pipe{Bore: in.Bore, Rough: in.Rough}, f)
	t := trace.Trace{
		{Title: "Reynolds number", Symbol: "Re", Formula: "v d ρ/μ", Values: []trace.Value{trace.V("v", p.Velocity), trace.V("d", in.Bore), trace.V("ρ", f.Density), trace.V("μ", f.Viscosity)}, Result: p.Reynolds, Source: source.Derivation("definition"), Note: string(p.Regime)},
		{Title: "Gradient", Symbol: "Δp/L", Formula: "f/d · ρ v²/2", Values: []trace.Value{trace.V("f", p.Friction)}, Result: p.Gradient, Source: fromColebrok},
	}
	return pipeOut{p.Velocity, p.Reynolds, string(p.Regime), p.Friction, p.Gradient}, t, err
}

type fittingIn struct {
	Fitting  string      `yaml:"fitting,required" enum:"elbow-threaded|elbow-welded|elbow-long|elbow-45|return-bend|tee-through|tee-branch-threaded|tee-branch|gate|ball-reduced|globe|diaphragm|butterfly|check-swing|check-lift"`
	Reynolds unit.Number `yaml:"reynolds_number,required" range:"1..100000000"`
	Bore     unit.Length `yaml:"bore_mm,required" range:"3..500"`
}

type fittingOut struct {
	K unit.Number `yaml:"resistance_number"`
}

func runFitting(in fittingIn) (fittingOut, trace.Trace, error) {
	k, err := FittingLoss(in.Fitting, in.Reynolds, in.Bore)
	t := trace.Trace{{Title: "Resistance", Symbol: "K", Formula: "K1/Re + K∞ (1 + 25.4/d)", Values: []trace.Value{trace.V("Re", in.Reynolds), trace.V("d", in.Bore)}, Result: k, Source: fromHooper}}
	return fittingOut{k}, t, err
}

type valveIn struct {
	Flow    unit.VolumeFlow      `yaml:"flow_m3_h,required" range:"0.001..1000"`
	Kv      unit.FlowCoefficient `yaml:"kv,required" range:"0.01..10000"`
	Density unit.Density         `yaml:"density_kg_m3,required" range:"500..2000"`
}

type valveOut struct {
	Drop unit.PressureDiff `yaml:"drop_kpa"`
}

func runValve(in valveIn) (valveOut, trace.Trace, error) {
	p, err := ValveDrop(in.Flow, in.Kv, in.Density)
	t := trace.Trace{{Title: "Pressure lost", Symbol: "Δp", Formula: "(V/Kv)² ρ/1000 in bar", Values: []trace.Value{trace.V("V", in.Flow), trace.V("Kv", in.Kv), trace.V("ρ", in.Density)}, Result: p, Source: fromValve}}
	return valveOut{p}, t, err
}

type pipeGainIn struct {
	Outside    unit.Length        `yaml:"outside_mm,required" range:"5..500"`
	Insulation unit.Length        `yaml:"insulation_mm,required" range:"1..300"`
	Lambda     *unit.Conductivity `yaml:"lambda_w_mk" range:"0.01..1" doc:"0.036 where left out"`
	Film       *unit.HeatTransfer `yaml:"film_w_m2k" range:"1..100" doc:"8 indoors where left out"`
	Room       unit.Temperature   `yaml:"room_c,required" range:"-30..60"`
	Glycol     unit.Temperature   `yaml:"glycol_c,required" range:"-30..150"`
}

type pipeGainOut struct {
	Gain    unit.Power       `yaml:"gain_per_metre_w"`
	Surface unit.Temperature `yaml:"surface_c"`
}

func runPipeGain(in pipeGainIn) (pipeGainOut, trace.Trace, error) {
	lambda, film := unit.WattsPerMK(lambdaPipe), unit.WattsPerM2K(filmIndoor)
	if in.Lambda != nil {
		lambda = *in.Lambda
	}
	if in.Film != nil {
		film = *in.Film
	}
	q, err := PipeGain(in.Outside, in.Insulation, lambda, in.Room, in.Glycol, film)
	if err != nil {
		return pipeGainOut{}, nil, err
	}
	s, err := PipeSurface(in.Outside, in.Insulation, lambda, in.Room, in.Glycol, film)
	t := trace.Trace{{Title: "Gain of one metre", Symbol: "q", Formula: "2πλΔt/[ln((d+2s)/d) + 2λ/(h(d+2s))]", Values: []trace.Value{trace.V("d", in.Outside), trace.V("s", in.Insulation), trace.V("λ", lambda), trace.V("h", film)}, Result: q, Source: fromIncrop}}
	return pipeGainOut{q, s}, t, err
}

type dewIn struct {
	Air      unit.Temperature `yaml:"air_c,required" range:"-45..60"`
	Humidity unit.Ratio       `yaml:"humidity_pct,required" range:"1..100"`
}

type dewOut struct {
	Dew unit.Temperature `yaml:"dew_point_c"`
}

func runDew(in dewIn) (dewOut, trace.Trace, error) {
	td, err := DewPoint(in.Air, in.Humidity)
	t := trace.Trace{{Title: "Dew point", Symbol: "T_d", Formula: "243.12 γ/(17.62 - γ)", Values: []trace.Value{trace.V("T", in.Air), trace.V("φ", in.Humidity)}, Result: td, Source: docWMO.Recalled("annex 4.B")}}
	return dewOut{td}, t, err
}

type cyclingIn struct {
	Stage  unit.Power       `yaml:"stage_kw,required" range:"0.1..500" doc:"smallest stage of the compressor"`
	Load   unit.Power       `yaml:"load_kw,required" range:"0..500" doc:"lowest load"`
	Supply unit.Temperature `yaml:"supply_c,required" range:"-30..20"`
	Glycol unit.Ratio       `yaml:"glycol_mass_pct,required" range:"0..60"`
}

type cyclingOut struct {
	Short  unit.Volume `yaml:"least_run_l"`
	Starts unit.Volume `yaml:"starts_l"`
}

func runCycling(in cyclingIn) (cyclingOut, trace.Trace, error) {
	f, err := Glycol(in.Supply, in.Glycol)
	if err != nil {
		return cyclingOut{}, nil, err
	}
	a, err := ShortCycling(in.Stage, in.Load, unit.Minutes(minRunMin), unit.Kelvins(bandK), f)
	if err != nil {
		return cyclingOut{}, nil, err
	}
	b, err := StartsStore(in.Stage, unit.PureNumber(startsHour), unit.Kelvins(bandK), f)
	t := trace.Trace{
		{Title: "Store for a run of 5 min", Symbol: "V", Formula: "(Q_s - Q_l) t/(ρ c ΔT)", Values: []trace.Value{trace.V("Q_s", in.Stage), trace.V("Q_l", in.Load)}, Result: a, Source: source.Derivation("heat balance")},
		{Title: "Store for 6 starts an hour", Symbol: "V", Formula: "3600 Q_s/(4 N ρ c ΔT)", Values: []trace.Value{trace.V("Q_s", in.Stage)}, Result: b, Source: source.Derivation("heat balance")},
	}
	return cyclingOut{a, b}, t, err
}

type vesselIn struct {
	Fill    unit.Volume        `yaml:"fill_l,required" range:"1..100000"`
	Cold    unit.Temperature   `yaml:"cold_c,required" range:"-30..50"`
	Warm    unit.Temperature   `yaml:"warm_c,required" range:"-10..100" doc:"at standstill"`
	Glycol  unit.Ratio         `yaml:"glycol_mass_pct,required" range:"0..60"`
	Gas     unit.GaugePressure `yaml:"gas_bar_g,required" range:"0..10"`
	Highest unit.GaugePressure `yaml:"highest_bar_g,required" range:"0.1..16"`
}

type vesselOut struct {
	Share  unit.Ratio  `yaml:"expansion_pct"`
	Swell  unit.Volume `yaml:"swelling_l"`
	Vessel unit.Volume `yaml:"vessel_l"`
}

func runVessel(in vesselIn) (vesselOut, trace.Trace, error) {
	e, err := ExpansionShare(in.Cold, in.Warm, in.Glycol)
	if err != nil {
		return vesselOut{}, nil, err
	}
	v, err := ExpansionVessel(in.Fill, e, in.Gas, in.Highest)
	swell := unit.CubicMetres(e.Value() * in.Fill.M3())
	t := trace.Trace{
		{Title: "Swelling", Symbol: "e", Formula: "ρ_cold/ρ_warm - 1", Values: []trace.Value{trace.V("t_cold", in.Cold), trace.V("t_warm", in.Warm)}, Result: e, Source: fromMelinder},
		{Title: "Vessel", Symbol: "V", Formula: "(e V_s + reserve)(p_e + 1)/(p_e - p_0)", Values: []trace.Value{trace.V("V_s", in.Fill), trace.V("p_e", in.Highest), trace.V("p_0", in.Gas)}, Result: v, Source: fromVessel},
	}
	return vesselOut{e, swell, v}, t, err
}

type rejectionIn struct {
	Cooling unit.Power     `yaml:"cooling_kw,required" range:"0.1..1000"`
	Input   unit.Power     `yaml:"input_kw,required" range:"0..1000" doc:"electrical"`
	Rise    *unit.TempDiff `yaml:"rise_k" range:"1..40" doc:"of the air; 10 K where left out"`
}

type rejectionOut struct {
	Rejected unit.Power      `yaml:"rejected_kw"`
	Air      unit.VolumeFlow `yaml:"air_m3_h"`
	Free     unit.Area       `yaml:"free_area_m2"`
}

func runRejection(in rejectionIn) (rejectionOut, trace.Trace, error) {
	rise := unit.Kelvins(airRise)
	if in.Rise != nil {
		rise = *in.Rise
	}
	q := HeatRejection(in.Cooling, in.Input)
	v, err := CondenserAir(q, rise)
	t := trace.Trace{
		{Title: "Heat to the air", Symbol: "Q", Formula: "Q_0 + P", Values: []trace.Value{trace.V("Q_0", in.Cooling), trace.V("P", in.Input)}, Result: q, Source: source.Derivation("heat balance")},
		{Title: "Air", Symbol: "V", Formula: "Q/(1.15 · 1.006 · ΔT)", Values: []trace.Value{trace.V("ΔT", rise)}, Result: v, Source: source.Derivation("heat balance")},
	}
	return rejectionOut{q, v, unit.SquareMetres(v.M3S() / louvreSpeed)}, t, err
}

type soundIn struct {
	Power    unit.SoundLevel `yaml:"sound_power_dba,required" range:"0..140"`
	Distance unit.Length     `yaml:"distance_m,required" range:"1..2000"`
	Surfaces int             `yaml:"surfaces,omitempty" range:"0..3" doc:"reflecting: 0 free, 1 ground, 2 wall, 3 corner"`
}

type soundOut struct {
	Level unit.SoundLevel `yaml:"level_dba"`
}

func runSound(in soundIn) (soundOut, trace.Trace, error) {
	l, err := SoundAt(in.Power, in.Distance, in.Surfaces)
	t := trace.Trace{{Title: "Level", Symbol: "Lp", Formula: "Lw - 20 log r - 11 + 10 log Q", Values: []trace.Value{trace.V("Lw", in.Power), trace.V("r", in.Distance)}, Result: l, Source: fromSound}}
	return soundOut{l}, t, err
}

type nominalIn struct {
	Duty   unit.Power `yaml:"duty_kw,required" range:"0.1..1000"`
	Factor unit.Ratio `yaml:"factor_ratio,required" range:"0.05..2" doc:"output at the conditions over the catalogue's"`
}

type nominalOut struct {
	Capacity unit.Power `yaml:"catalogue_kw"`
}

func runNominal(in nominalIn) (nominalOut, trace.Trace, error) {
	q, err := NominalCapacity(in.Duty, in.Factor)
	t := trace.Trace{{Title: "Catalogue capacity", Symbol: "Q_n", Formula: "Q/F", Values: []trace.Value{trace.V("Q", in.Duty), trace.V("F", in.Factor)}, Result: q, Source: source.Derivation("definition of the factor")}}
	return nominalOut{q}, t, err
}

type cellarIn struct {
	Fermenters int               `yaml:"fermenters,required" range:"1..40"`
	Volume     unit.Volume       `yaml:"volume_hl,required" range:"0.5..400" doc:"working volume of each"`
	Bright     int               `yaml:"bright_tanks,omitempty" range:"0..40"`
	Room       *unit.Temperature `yaml:"room_c" range:"0..45"`
	Supply     *unit.Temperature `yaml:"supply_c" range:"-15..10"`
}

type cellarOut struct {
	Process unit.Power       `yaml:"highest_hour_kw"`
	Mean    unit.Power       `yaml:"mean_kw"`
	Design  unit.Power       `yaml:"with_crashes_kw"`
	Pipe    unit.Power       `yaml:"pipes_kw"`
	Duty    unit.Power       `yaml:"duty_kw"`
	Supply  unit.Temperature `yaml:"supply_c"`
}

// runCellar sizes a cellar from two figures, everything else assumed: an answer for
// the telephone. The chiller is left open.
func runCellar(in cellarIn) (cellarOut, trace.Trace, error) {
	p := Input{Room: in.Room, Supply: in.Supply, Chiller: Chiller{Ratings: []Rating{{}}}}
	for i := range in.Fermenters {
		p.Tanks = append(p.Tanks, Tank{Tag: "FV" + strconv.Itoa(i+1), Use: Ferment, Volume: in.Volume})
	}
	for i := range in.Bright {
		p.Tanks = append(p.Tanks, Tank{Tag: "BT" + strconv.Itoa(i+1), Use: Bright, Volume: in.Volume})
	}
	r, err := Size(p)
	if err != nil {
		return cellarOut{}, nil, err
	}
	s := r.Load
	var steps trace.Trace
	glycolSteps(&steps, &r)
	tankSteps(&steps, &r)
	loadSteps(&steps, &r)
	return cellarOut{s.Process, s.Mean, s.Design, s.Pipe, s.Duty, r.Fluid.Supply}, steps, nil
}
