package air

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/trace"
)

type moistIn struct {
	Temp     unit.Temperature `yaml:"temperature_c,required"`
	Humidity unit.Ratio       `yaml:"humidity_pct,required"`
	Altitude unit.Length      `yaml:"altitude_m,omitempty"`
}

type moistOut struct {
	Moisture unit.HumidityRatio  `yaml:"moisture_g_kg"`
	Enthalpy unit.SpecificEnergy `yaml:"enthalpy_kj_kg"`
	Volume   unit.SpecificVolume `yaml:"volume_m3_kg"`
	DewPoint unit.Temperature    `yaml:"dew_point_c"`
	Vapour   unit.AbsPressure    `yaml:"saturation_pressure_pa_a"`
}

type extractIn struct {
	Evaporation unit.MassFlow    `yaml:"evaporation_kg_h,required"`
	Temp        unit.Temperature `yaml:"room_c,required"`
	Humidity    unit.Ratio       `yaml:"room_humidity_pct,required"`
	Limit       unit.Ratio       `yaml:"humidity_limit_pct,required"`
}

type flowOut struct {
	Flow unit.VolumeFlow `yaml:"flow_m3_s"`
}

type canopyIn struct {
	Length      unit.Length      `yaml:"length_mm,required"`
	Width       unit.Length      `yaml:"width_mm,required"`
	Face        unit.Velocity    `yaml:"capture_m_s,required"`
	Evaporation unit.MassFlow    `yaml:"evaporation_kg_h,required"`
	Temp        unit.Temperature `yaml:"room_c,required"`
	Humidity    unit.Ratio       `yaml:"room_humidity_pct,required"`
}

type canopyOut struct {
	Flow       unit.VolumeFlow  `yaml:"flow_m3_s"`
	Stream     unit.Temperature `yaml:"stream_c"`
	Condensate unit.MassFlow    `yaml:"condensate_kg_h"`
	Duct       unit.Length      `yaml:"duct_mm"`
}

type condenserIn struct {
	Vapour     unit.MassFlow    `yaml:"vapour_kg_h,required"`
	In         unit.Temperature `yaml:"water_in_c,required"`
	Out        unit.Temperature `yaml:"water_out_c,required"`
	Condensate unit.Temperature `yaml:"condensate_c,required"`
}

type condenserOut struct {
	Duty  unit.Power      `yaml:"duty_kw"`
	Water unit.VolumeFlow `yaml:"water_l_h"`
}

type gasIn struct {
	Volume   unit.Volume `yaml:"volume_hl,required"`
	Original unit.Plato  `yaml:"original_plato,required"`
	Final    unit.Plato  `yaml:"final_plato,required"`
}

type gasOut struct {
	Mass unit.Mass   `yaml:"co2_kg"`
	Gas  unit.Volume `yaml:"gas_m3"`
}

type ventIn struct {
	Gas    unit.MassFlow       `yaml:"co2_kg_h,required"`
	Room   unit.Volume         `yaml:"room_m3,required"`
	Limit  unit.VolumeFraction `yaml:"limit_ppm,required"`
	Mixing unit.Ratio          `yaml:"mixing_ratio,required"`
}

type ventOut struct {
	Extract unit.VolumeFlow    `yaml:"extract_m3_h"`
	Changes unit.AirChangeRate `yaml:"air_changes_per_h"`
	FanOff  unit.Duration      `yaml:"fan_off_to_limit_h"`
}

type releaseIn struct {
	Mass unit.Mass   `yaml:"co2_kg,required"`
	Room unit.Volume `yaml:"air_m3,required"`
}

type releaseOut struct {
	Share  unit.VolumeFraction `yaml:"share_ppm"`
	Oxygen unit.VolumeFraction `yaml:"oxygen_pct_vol"`
}

type concentrationIn struct {
	Start   unit.VolumeFraction `yaml:"start_ppm,required"`
	Gas     unit.MassFlow       `yaml:"co2_kg_h,required"`
	Extract unit.VolumeFlow     `yaml:"extract_m3_h,required"`
	Room    unit.Volume         `yaml:"room_m3,required"`
	Time    unit.Duration       `yaml:"time_h,required"`
}

type concentrationOut struct {
	Share unit.VolumeFraction `yaml:"share_ppm"`
}

type dangerIn struct {
	Time unit.Duration `yaml:"time_min,required"`
}

type dangerOut struct {
	SLOT unit.VolumeFraction `yaml:"distress_pct_vol"`
	SLOD unit.VolumeFraction `yaml:"half_fatal_pct_vol"`
}

type noiseIn struct {
	Power      unit.SoundLevel `yaml:"sound_power_dba,required"`
	Count      int             `yaml:"count,required" range:"1..20"`
	Distance   unit.Length     `yaml:"distance_m,required"`
	Walls      int             `yaml:"walls,omitempty" range:"0..2"`
	Penalty    unit.SoundDiff  `yaml:"character_db,omitempty" range:"0..6"`
	Background unit.SoundLevel `yaml:"background_dba,required"`
}

type noiseOut struct {
	Specific unit.SoundLevel `yaml:"specific_dba"`
	Rating   unit.SoundLevel `yaml:"rating_dba"`
	Excess   unit.SoundDiff  `yaml:"over_background_db"`
}

// Calculations lists the calculations that can be run by name.
func Calculations() []calc.Calculation {
	return append([]calc.Calculation{
		calc.New("air.moist-air", "State of moist air", "W = 0.621945·pw/(p-pw); h = 1.006·t + W·(2501+1.86·t)", ashrae.At("eq. 3, 5, 6, 20, 26, 28"), `{"temperature_c": 20, "humidity_pct": 50}`, calcMoist),
		calc.New("air.extract-without-fog", "Smallest extract that carries vapour below a humidity", "W2 = W1 + mv/ma; h2 = h1 + mv·2687/ma", ashrae.At("eq. 20, 28"), `{"evaporation_kg_h": 84, "room_c": 20, "room_humidity_pct": 50, "humidity_limit_pct": 100}`, calcExtract),
		calc.New("air.canopy", "Canopy by capture velocity, with what falls out of its stream", "Q = v·L·B", dw172Quoted, `{"length_mm": 2000, "width_mm": 1800, "capture_m_s": 0.25, "evaporation_kg_h": 84, "room_c": 20, "room_humidity_pct": 50}`, calcCanopy),
		calc.New("air.vapour-condenser", "Vapour condenser: duty and cooling water", "P = mv·(2256.5 + 4.2·(100-tc))/3600", steamTables.At("heat of evaporation at 100 °C"), `{"vapour_kg_h": 84, "water_in_c": 12, "water_out_c": 80, "condensate_c": 85}`, calcCondenser),
		calc.New("air.fermentation-gas", "Carbon dioxide of a fermentation", "m = 0.9565·A/(100 + 1.0665·A) per kg of wort", balling.At(""), `{"volume_hl": 10, "original_plato": 12, "final_plato": 2.5}`, calcGas),
		calc.New("air.ventilation", "Extract that holds a room at a limit, and the time with the fan off", "Q = K·G/(Clim - C0); t = V·(Clim - C0)/G", source.Derivation("mass balance of a mixed room"), `{"co2_kg_h": 1.69, "room_m3": 180, "limit_ppm": 5000, "mixing_ratio": 3}`, calcVentilation),
		calc.New("air.release", "Carbon dioxide after a sudden loss", "C = m·0.552/V; O2 = 20.95·(1 - C)", oxygenNote.At(""), `{"co2_kg": 6.35, "air_m3": 40}`, calcRelease),
		calc.New("air.concentration", "Carbon dioxide in a room after a time", "C0 + G/Q·(1 - e^(-Qt/V)) + (Ci - C0)·e^(-Qt/V)", source.Derivation("mass balance of a mixed room"), `{"start_ppm": 420, "co2_kg_h": 1.69, "extract_m3_h": 100, "room_m3": 180, "time_h": 4}`, calcConcentration),
		calc.New("air.toxic-load", "Carbon dioxide that is fatal within a time", "c⁸·t = 1.5·10⁴⁰ and 1.5·10⁴¹ ppm⁸·min", source.Doc{ID: "HSE toxicity levels of chemicals"}.Recalled("carbon dioxide"), `{"time_min": 60}`, calcDanger),
		calc.New("air.noise", "Rating level of machines outdoors at a neighbour", "Lw - 20·log10(r) - 8, summed, with character", bs4142.At("clause 9"), `{"sound_power_dba": 82, "count": 2, "distance_m": 15, "character_db": 5, "background_dba": 38}`, calcNoise),
	}, plantCalculations()...)
}

func calcMoist(in moistIn) (moistOut, trace.Trace, error) {
	p, err := StandardPressure(in.Altitude)
	if err != nil {
		return moistOut{}, nil, err
	}
	m, err := State(AirState{Temp: in.Temp, Humidity: in.Humidity}, p)
	if err != nil {
		return moistOut{}, nil, err
	}
	ps, err := SaturationPressure(in.Temp)
	t := trace.Trace{{Title: "Saturation pressure", Symbol: "pws", Formula: "ln pws = C1/T + … + C7·ln T", Values: []trace.Value{trace.V("t", in.Temp)}, Result: ps, Source: ashrae.At("eq. 5, 6")}}
	return moistOut{m.Moisture, m.Enthalpy, m.Volume, m.DewPoint, ps}, t, err
}

func roomState(temp unit.Temperature, rh unit.Ratio) (MoistAir, error) {
	return State(AirState{Temp: temp, Humidity: rh}, unit.PascalsAbs(seaLevel))
}

func calcExtract(in extractIn) (flowOut, trace.Trace, error) {
	room, err := roomState(in.Temp, in.Humidity)
	if err != nil {
		return flowOut{}, nil, err
	}
	q, _, err := LeastFlow(room, in.Evaporation, 0, in.Limit)
	t := trace.Trace{{Title: "Extract without fog", Symbol: "Q", Formula: "W1 + mv/ma ≤ φ·Ws(t2)", Values: []trace.Value{trace.V("mv", in.Evaporation), trace.V("t1", in.Temp)}, Result: q, Source: ashrae.At("eq. 20, 28"), Note: "at the mixed state, sea level"}}
	return flowOut{q}, t, err
}

func calcCanopy(in canopyIn) (canopyOut, trace.Trace, error) {
	q, err := CaptureFlow(in.Length, in.Width, in.Face)
	if err != nil {
		return canopyOut{}, nil, err
	}
	t := trace.Trace{{Title: "Capture flow", Symbol: "Q", Formula: "v·L·B", Values: []trace.Value{trace.V("v", in.Face), trace.V("L", in.Length), trace.V("B", in.Width)}, Result: q, Source: dw172Quoted}}
	room, err := roomState(in.Temp, in.Humidity)
	if err != nil {
		return canopyOut{}, t, err
	}
	m, err := Mix(room, q, in.Evaporation, 0)
	if err != nil {
		return canopyOut{}, t, err
	}
	t.Add(trace.Step{Title: "Water falling out", Symbol: "mc", Formula: "ma·(W2 - Ws)", Values: []trace.Value{trace.V("mv", in.Evaporation)}, Result: m.Condensate, Source: ashrae.At("eq. 20, 28")})
	d, err := DuctFor(q, unit.MetresPerSecond(ductHigh))
	return canopyOut{q, m.Air.Temp, m.Condensate, d}, t, err
}

func calcCondenser(in condenserIn) (condenserOut, trace.Trace, error) {
	p, err := CondenserDuty(in.Vapour, in.Condensate)
	if err != nil {
		return condenserOut{}, nil, err
	}
	w, err := CoolingWater(p, in.In, in.Out)
	t := trace.Trace{
		{Title: "Condenser duty", Symbol: "P", Formula: "mv·(2256.5 + 4.2·(100-tc))/3600", Values: []trace.Value{trace.V("mv", in.Vapour), trace.V("tc", in.Condensate)}, Result: p, Source: steamTables.At("heat of evaporation at 100 °C")},
		{Title: "Cooling water", Symbol: "V", Formula: "P·3600/(4.19·(out-in))", Values: []trace.Value{trace.V("in", in.In), trace.V("out", in.Out)}, Result: w, Source: source.Derivation("heat balance")},
	}
	return condenserOut{p, w}, t, err
}

func calcGas(in gasIn) (gasOut, trace.Trace, error) {
	m, err := FermentationGas(in.Volume, in.Original, in.Final)
	t := trace.Trace{{Title: "Fermentation gas", Symbol: "m", Formula: "0.9565·A/(100 + 1.0665·A) · SG·0.9982·V", Values: []trace.Value{trace.V("V", in.Volume), trace.V("OE", in.Original), trace.V("AE", in.Final)}, Result: m, Source: balling.At("")}}
	return gasOut{m, GasVolume(m)}, t, err
}

func calcVentilation(in ventIn) (ventOut, trace.Trace, error) {
	if err := unit.Positive("room", in.Room); err != nil {
		return ventOut{}, nil, err
	}
	g := gasFlow(in.Gas)
	q, err := Ventilation(g, in.Limit, in.Mixing)
	if err != nil {
		return ventOut{}, nil, err
	}
	off, _ := TimeTo(in.Limit, g, in.Room)
	t := trace.Trace{
		{Title: "Extract", Symbol: "Q", Formula: "K·G/(Clim - C0)", Values: []trace.Value{trace.V("G", g), trace.V("K", in.Mixing), trace.V("Clim", in.Limit)}, Result: q, Source: source.Derivation("mass balance of a mixed room")},
		{Title: "Fan off to the limit", Symbol: "t", Formula: "V·(Clim - C0)/G", Values: []trace.Value{trace.V("V", in.Room)}, Result: off, Source: source.Derivation("mass balance of a mixed room")},
	}
	return ventOut{q, unit.AirChangesPerHour(q.M3H() / in.Room.M3()), off}, t, nil
}

func calcRelease(in releaseIn) (releaseOut, trace.Trace, error) {
	r, err := Release(in.Mass, in.Room)
	t := trace.Trace{{Title: "Share after the loss", Symbol: "C", Formula: "m·0.552/V", Values: []trace.Value{trace.V("m", in.Mass), trace.V("V", in.Room)}, Result: r.Share, Source: oxygenNote.At("")}}
	return releaseOut{r.Share, r.Oxygen}, t, err
}

func calcConcentration(in concentrationIn) (concentrationOut, trace.Trace, error) {
	g := gasFlow(in.Gas)
	c, err := After(in.Start, g, in.Extract, in.Room, in.Time)
	t := trace.Trace{{Title: "Concentration", Symbol: "C", Formula: "C0 + G/Q·(1 - e^(-Qt/V)) + (Ci - C0)·e^(-Qt/V)", Values: []trace.Value{trace.V("G", g), trace.V("Q", in.Extract), trace.V("V", in.Room), trace.V("t", in.Time)}, Result: c, Source: source.Derivation("mass balance of a mixed room")}}
	return concentrationOut{c}, t, err
}

func calcDanger(in dangerIn) (dangerOut, trace.Trace, error) {
	d, err := ToxicLoad(in.Time)
	t := trace.Trace{{Title: "Half fatal", Symbol: "c", Formula: "(1.5·10⁴¹/t)^(1/8)", Values: []trace.Value{trace.V("t", in.Time)}, Result: d.SLOD, Source: source.Doc{ID: "HSE toxicity levels of chemicals"}.Recalled("carbon dioxide")}}
	return dangerOut{d.SLOT, d.SLOD}, t, err
}

func calcNoise(in noiseIn) (noiseOut, trace.Trace, error) {
	r, err := sizeNoise(Noise{Neighbour: "neighbour", Background: &in.Background, Tonal: in.Penalty, Sources: []Sound{{Name: "machine", Power: &in.Power, Distance: in.Distance, Walls: in.Walls, Count: in.Count}}})
	t := trace.Trace{{Title: "Rating level", Symbol: "L_r", Formula: "Lw - 20·log10(r) - 8 + 10·log10(n) + character", Values: []trace.Value{trace.V("Lw", in.Power), trace.V("r", in.Distance)}, Result: r.Rating, Source: pointLoad}}
	return noiseOut{r.Specific, r.Rating, r.Excess}, t, err
}
