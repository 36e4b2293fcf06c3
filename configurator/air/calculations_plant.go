package air

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/trace"
)

type ductIn struct {
	Flow   unit.VolumeFlow `yaml:"flow_m3_h,required" range:"1..100000"`
	Length unit.Length     `yaml:"length_m,required" range:"0..200" doc:"straight duct from canopy to discharge"`
	Bends  int             `yaml:"bends,omitempty" range:"0..20"`
}

type ductOut struct {
	Diameter unit.Length       `yaml:"diameter_mm" doc:"least standard size with at most 9 m/s"`
	Velocity unit.Velocity     `yaml:"velocity_m_s"`
	Loss     unit.PressureDiff `yaml:"loss_pa" doc:"without canopy and cowl"`
}

type makeUpIn struct {
	Extract unit.VolumeFlow  `yaml:"extract_m3_h,required" range:"0..100000"`
	Share   unit.Ratio       `yaml:"supply_pct,required" range:"0..100" doc:"share that a supply fan brings, at most 85"`
	From    unit.Temperature `yaml:"outdoor_c,required" range:"-40..50"`
	To      unit.Temperature `yaml:"warmed_to_c,required" range:"-40..50"`
}

type heatOut struct {
	Heat unit.Power `yaml:"heat_kw"`
}

type sprayIn struct {
	Vapour unit.MassFlow    `yaml:"vapour_kg_h,required" range:"0..5000"`
	In     unit.Temperature `yaml:"water_in_c,required" range:"0..90"`
	Out    unit.Temperature `yaml:"to_drain_c,required" range:"1..100" doc:"what the sewer takes: 43 usual, 35 in Germany"`
}

type sprayOut struct {
	Water unit.VolumeFlow `yaml:"water_l_h"`
}

type stackIn struct {
	Vapour unit.MassFlow `yaml:"vapour_kg_h,required" range:"1..5000"`
}

type stackOut struct {
	Diameter unit.Length   `yaml:"diameter_mm"`
	Velocity unit.Velocity `yaml:"velocity_m_s"`
}

type peakIn struct {
	Volume   unit.Volume      `yaml:"volume_hl,required" range:"0.01..10000"`
	Original unit.Plato       `yaml:"original_plato,required" range:"4..30"`
	Final    unit.Plato       `yaml:"final_plato,required" range:"-4..30"`
	Fall     unit.ExtractRate `yaml:"fall_plato_day,required" range:"0..20" doc:"steepest fall of the apparent extract; ale 3 to 5, lager 1 to 2"`
}

type peakOut struct {
	Mass   unit.MassFlow   `yaml:"co2_kg_h"`
	Volume unit.VolumeFlow `yaml:"co2_m3_h"`
}

type purgeIn struct {
	From    unit.VolumeFraction `yaml:"from_ppm,required" range:"421..1000000"`
	To      unit.VolumeFraction `yaml:"to_ppm,required" range:"421..1000000"`
	Extract unit.VolumeFlow     `yaml:"extract_m3_h,required" range:"0.1..100000"`
	Room    unit.Volume         `yaml:"room_m3,required" range:"0.1..100000"`
}

type purgeOut struct {
	Time unit.Duration `yaml:"time_min"`
}

type headspaceIn struct {
	Volume   unit.Volume        `yaml:"volume_l,required" range:"0..1000000" doc:"headspace, or the whole tank where it is emptied"`
	Pressure unit.GaugePressure `yaml:"pressure_bar_g,required" range:"0..40"`
	Temp     unit.Temperature   `yaml:"temperature_c,required" range:"-10..60"`
	Air      unit.Volume        `yaml:"air_m3,required" range:"0.1..100000" doc:"air that it is lost into: floor area times one metre"`
}

type headspaceOut struct {
	Mass  unit.Mass           `yaml:"co2_kg"`
	Share unit.VolumeFraction `yaml:"share_pct_vol"`
	Room  unit.Volume         `yaml:"room_for_5000_ppm_m3" doc:"air that takes the loss without passing 5000 ppm"`
}

// plantCalculations are those of ducts, make-up air, condensers and losses.
func plantCalculations() []calc.Calculation {
	balance := source.Derivation("heat balance")
	return []calc.Calculation{
		calc.New("air.duct", "Round duct for an extract, with its loss", "D ≥ √(4·Q/(π·v)); Δp = (f·L/D + Σζ)·ρ·v²/2", dw172Quoted, `{"flow_m3_h": 3240, "length_m": 6, "bends": 2}`, calcDuct),
		calc.New("air.make-up-heat", "Heat for the make-up air", "P = share·Q·1.207·(to - from)", balance, `{"extract_m3_h": 3240, "supply_pct": 85, "outdoor_c": -3, "warmed_to_c": 18}`, calcMakeUp),
		calc.New("air.spray-condenser", "Cold water of a spray condenser", "V = mv·(2256.5 + 4.2·(100-out))/(4.19·(out-in))", balance, `{"vapour_kg_h": 84, "water_in_c": 12, "to_drain_c": 43}`, calcSpray),
		calc.New("air.vapour-stack", "Stack of a sealed kettle", "v = mv·1.67/A, at most 6 m/s", steamTables.At("steam at 100 °C"), `{"vapour_kg_h": 84}`, calcStack),
		calc.New("air.peak-gas", "Carbon dioxide at the peak of a fermentation", "g = m/(OE - AE)·dP/dt", balling.At(""), `{"volume_hl": 10, "original_plato": 12, "final_plato": 2.5, "fall_plato_day": 4}`, calcPeak),
		calc.New("air.purge", "Time to purge a room", "t = V/Q·ln((C1 - C0)/(C2 - C0))", source.Derivation("mass balance of a mixed room"), `{"from_ppm": 30000, "to_ppm": 5000, "extract_m3_h": 605, "room_m3": 180}`, calcPurge),
		calc.New("air.tank-release", "Carbon dioxide of a tank that is opened", "m = p·V/(R·T)·M; C = m·0.552/V", oxygenNote.At(""), `{"volume_l": 1300, "pressure_bar_g": 0.1, "temperature_c": 4, "air_m3": 60}`, calcHeadspace),
	}
}

func calcDuct(in ductIn) (ductOut, trace.Trace, error) {
	d, err := DuctFor(in.Flow, unit.MetresPerSecond(ductHigh))
	if err != nil {
		return ductOut{}, nil, err
	}
	v, err := DuctVelocity(in.Flow, d)
	if err != nil {
		return ductOut{}, nil, err
	}
	loss, err := DuctLoss(in.Flow, d, in.Length, in.Bends)
	t := trace.Trace{
		{Title: "Duct", Symbol: "D", Formula: "√(4·Q/(π·9))", Values: []trace.Value{trace.V("Q", in.Flow)}, Result: d, Source: dw172Quoted},
		{Title: "Loss of the duct", Symbol: "Δp", Formula: "(f·L/D + 0.3·n + 1)·1.2·v²/2", Values: []trace.Value{trace.V("L", in.Length), trace.V("v", v)}, Result: loss, Source: source.Practice("losses of bends and outlet")},
	}
	return ductOut{d, v, loss}, t, err
}

func calcMakeUp(in makeUpIn) (heatOut, trace.Trace, error) {
	p, err := MakeUpHeat(in.Extract, in.Share, in.From, in.To)
	return heatOut{p}, trace.Trace{{Title: "Heat of the make-up air", Symbol: "P", Formula: "share·Q·1.207·(to - from)", Values: []trace.Value{trace.V("Q", in.Extract), trace.V("from", in.From), trace.V("to", in.To)}, Result: p, Source: source.Derivation("heat balance")}}, err
}

func calcSpray(in sprayIn) (sprayOut, trace.Trace, error) {
	q, err := SprayWater(in.Vapour, in.In, in.Out)
	return sprayOut{q}, trace.Trace{{Title: "Spray water", Symbol: "V", Formula: "mv·(2256.5 + 4.2·(100-out))/(4.19·(out-in))", Values: []trace.Value{trace.V("mv", in.Vapour), trace.V("in", in.In), trace.V("out", in.Out)}, Result: q, Source: source.Derivation("heat balance")}}, err
}

func calcStack(in stackIn) (stackOut, trace.Trace, error) {
	d, v, err := StackFor(in.Vapour)
	return stackOut{d, v}, trace.Trace{{Title: "Vapour stack", Symbol: "D", Formula: "√(4·mv·1.67/(π·6))", Values: []trace.Value{trace.V("mv", in.Vapour)}, Result: d, Source: steamTables.At("steam at 100 °C")}}, err
}

func calcPeak(in peakIn) (peakOut, trace.Trace, error) {
	m, err := FermentationGas(in.Volume, in.Original, in.Final)
	if err != nil {
		return peakOut{}, nil, err
	}
	g, err := PeakGas(m, in.Original, in.Final, in.Fall)
	return peakOut{g, gasFlow(g)}, trace.Trace{{Title: "Gas at the peak", Symbol: "g", Formula: "m/(OE - AE)·dP/dt", Values: []trace.Value{trace.V("m", m), trace.V("OE", in.Original), trace.V("AE", in.Final), trace.V("dP/dt", in.Fall)}, Result: g, Source: balling.At("")}}, err
}

func calcPurge(in purgeIn) (purgeOut, trace.Trace, error) {
	d, err := Purge(in.From, in.To, in.Extract, in.Room)
	return purgeOut{d}, trace.Trace{{Title: "Time to purge", Symbol: "t", Formula: "V/Q·ln((C1 - C0)/(C2 - C0))", Values: []trace.Value{trace.V("V", in.Room), trace.V("Q", in.Extract), trace.V("C1", in.From), trace.V("C2", in.To)}, Result: d, Source: source.Derivation("mass balance of a mixed room")}}, err
}

func calcHeadspace(in headspaceIn) (headspaceOut, trace.Trace, error) {
	m := HeadspaceGas(in.Volume, in.Pressure, in.Temp)
	r, err := Release(m, in.Air)
	if err != nil {
		return headspaceOut{}, nil, err
	}
	room, err := RoomFor(m, unit.PPM(5000))
	t := trace.Trace{
		{Title: "Gas in the tank", Symbol: "m", Formula: "p·V/(R·T)·M", Values: []trace.Value{trace.V("p", in.Pressure), trace.V("V", in.Volume), trace.V("T", in.Temp)}, Result: m, Source: source.Derivation("ideal gas")},
		{Title: "Share after the loss", Symbol: "C", Formula: "m·0.552/V", Values: []trace.Value{trace.V("m", m), trace.V("V", in.Air)}, Result: r.Share, Source: oxygenNote.At("")},
	}
	return headspaceOut{m, r.Share, room}, t, err
}
