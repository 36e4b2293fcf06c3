package cooling

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/trace"
)

// Calculations lists what can be run by name.
func Calculations() []calc.Calculation {
	return []calc.Calculation{
		calc.New("cooling.glycol-properties", "Properties of propylene glycol in water", "f = Σ c_ij (T - 305.8583)^i (x - 0.307031)^j", fromMelinder,
			`{"temperature_c": -4, "glycol_mass_pct": 33}`, runGlycol),
		calc.New("cooling.glycol-concentration", "Glycol by mass for a supply temperature", "first ice 8 K below the supply", fromASHRAE,
			`{"supply_c": -4}`, runConcentration),
		calc.New("cooling.fermentation-heat", "Heat of a fermentation, in all and at its peak", "E = V ρ OE/100 · 0.8192 (OE - AE)/OE;  Q = 650 E;  q = Q/(3600 · full-rate hours)", source.Practice("650 kJ for each kg of real extract; straightened course"),
			`{"volume_hl": 10, "original_plato": 12, "final_plato": 2.5}`, runFermentation),
		calc.New("cooling.tank-geometry", "Surfaces of a tank from its volume and diameter", "H = (V - V_ends)/(π D²/4)", source.Derivation("solid geometry; torispherical ends by DIN 28011"),
			`{"gross_l": 1250, "diameter_mm": 1000, "bottom": "cone", "top": "dished", "cone_deg": 60}`, runGeometry),
		calc.New("cooling.heat-gain", "Heat gain of an insulated tank", "Q = 1.20 · A (t_room - t)/(s/λ + 1/h)", fromPractice,
			`{"surface_m2": 6.258, "insulation_mm": 80, "room_c": 30, "beer_c": 1}`, runGain),
		calc.New("cooling.crash-duty", "Mean duty of cooling a tank down", "Q = (m_beer c + m_steel c_s)(T1 - T2)/t", source.Derivation("heat balance"),
			`{"volume_hl": 10, "steel_kg": 320, "from_c": 20, "to_c": 1, "time_h": 24}`, runCrash),
		calc.New("cooling.jacket-crash", "Cooling a tank down through its jacket with the valve open", "t = ∫ C dT/[UA_eff(T)(T - t_g) - Q_gain]", fromKern,
			`{"volume_hl": 10, "steel_kg": 320, "jacket_m2": 2.107, "flow_l_h": 408.8, "supply_c": -4, "glycol_mass_pct": 33, "from_c": 20, "to_c": 1, "gain_w_k": 2.345, "room_c": 30}`, runJacket),
		calc.New("cooling.batch-cooling", "Cooling time of a stirred body at a constant coefficient", "t = C/(UA_eff + UA_a) · ln[(T1 - T∞)/(T2 - T∞)]", fromKern,
			`{"capacity_kj_k": 4250.5, "ua_w_k": 358.2, "flow_w_k": 441.2, "from_c": 20, "to_c": 1, "glycol_c": -4}`, runBatch),
		calc.New("cooling.cold-liquor", "Duty of cooling a refill of cold liquor", "Q = V ρ c (t_mains - t)/time", source.Derivation("heat balance"),
			`{"volume_l": 1100, "mains_c": 15, "to_c": 3, "time_h": 20}`, runLiquor),
		calc.New("cooling.plate-cooler", "One stage of a plate wort cooler", "Q = ε C_min (t_wort - t_water)", docKays.At("counterflow"),
			`{"ua_kw_k": 8.75, "wort_kw_k": 1.514, "water_kw_k": 1.785, "wort_c": 96, "water_c": 15, "pitch_c": 10}`, runPlate),
		calc.New("cooling.lmtd", "Logarithmic mean of two temperature differences", "(Δ1 - Δ2)/ln(Δ1/Δ2)", source.Derivation("integration along the surface"),
			`{"first_k": 59.8, "second_k": 30}`, runLMTD),
		calc.New("cooling.pipe-flow", "Flow of glycol in a pipe: regime and loss", "Δp/L = f/d · ρ v²/2", fromColebrok,
			`{"flow_m3_h": 1.635, "bore_mm": 38.4, "roughness_mm": 0.05, "temperature_c": -4, "glycol_mass_pct": 33}`, runPipe),
		calc.New("cooling.fitting-loss", "Resistance of a fitting by the two-K method", "K = K1/Re + K∞ (1 + 25.4/d)", fromHooper,
			`{"fitting": "globe", "reynolds_number": 10000, "bore_mm": 50.8}`, runFitting),
		calc.New("cooling.valve-drop", "Pressure lost in a valve", "Δp = (V/Kv)² ρ/1000", fromValve,
			`{"flow_m3_h": 0.4088, "kv": 6.3, "density_kg_m3": 1036}`, runValve),
		calc.New("cooling.pipe-gain", "Heat gain and surface temperature of an insulated pipe", "q = 2πλΔt/[ln((d+2s)/d) + 2λ/(h(d+2s))]", fromIncrop,
			`{"outside_mm": 42.4, "insulation_mm": 25, "room_c": 30, "glycol_c": -4}`, runPipeGain),
		calc.New("cooling.dew-point", "Dew point of room air", "γ = ln φ + 17.62 T/(243.12 + T);  T_d = 243.12 γ/(17.62 - γ)", docWMO.Recalled("annex 4.B"),
			`{"air_c": 30, "humidity_pct": 80}`, runDew),
		calc.New("cooling.short-cycling", "Store against short running and many starts", "V = (Q_s - Q_l) t/(ρ c ΔT);  V = 3600 Q_s/(4 N ρ c ΔT)", source.Derivation("heat balance"),
			`{"stage_kw": 2.389, "load_kw": 0.3, "supply_c": -4, "glycol_mass_pct": 33}`, runCycling),
		calc.New("cooling.expansion-vessel", "Expansion vessel of a closed circuit", "V = (e V_s + reserve)(p_e + 1)/(p_e - p_0)", fromVessel,
			`{"fill_l": 729.5, "cold_c": -4, "warm_c": 35, "glycol_mass_pct": 33, "gas_bar_g": 1, "highest_bar_g": 2.5}`, runVessel),
		calc.New("cooling.heat-rejection", "Heat and air of an air-cooled condenser", "Q = Q_0 + P;  V = Q/(1.15 · 1.006 · ΔT)", source.Derivation("heat balance"),
			`{"cooling_kw": 4.777, "input_kw": 1.99, "rise_k": 10}`, runRejection),
		calc.New("cooling.sound-at-distance", "Sound pressure at a distance", "Lp = Lw - 20 log r - 11 + 10 log Q", fromSound,
			`{"sound_power_dba": 70, "distance_m": 10, "surfaces": 1}`, runSound),
		calc.New("cooling.nominal-capacity", "Catalogue capacity that gives a duty at a derating factor", "Q_n = Q/F", source.Derivation("definition of the factor"),
			`{"duty_kw": 4.777, "factor_ratio": 0.594}`, runNominal),
		calc.New("cooling.cellar", "Duty of a cellar of equal fermenters, each filled once in two weeks", "(Q_max + further crashes + pipes + pump)(1 + margin)", source.Derivation("hour by hour over two weeks"),
			`{"fermenters": 6, "volume_hl": 10, "bright_tanks": 2, "room_c": 30}`, runCellar),
	}
}

type glycolIn struct {
	Temp unit.Temperature `yaml:"temperature_c,required" range:"-50..100"`
	Mass unit.Ratio       `yaml:"glycol_mass_pct,required" range:"0..60" doc:"propylene glycol by mass"`
}

type glycolOut struct {
	Volume       unit.Ratio              `yaml:"glycol_volume_pct"`
	Freeze       unit.Temperature        `yaml:"first_ice_c"`
	Density      unit.Density            `yaml:"density_kg_m3"`
	Heat         unit.SpecificHeat       `yaml:"heat_capacity_kj_kgk"`
	Conductivity unit.Conductivity       `yaml:"conductivity_w_mk"`
	Viscosity    unit.DynamicViscosity   `yaml:"viscosity_mpa_s"`
	Kinematic    unit.KinematicViscosity `yaml:"kinematic_mm2_s"`
	Prandtl      unit.Number             `yaml:"prandtl_number"`
}

func runGlycol(in glycolIn) (glycolOut, trace.Trace, error) {
	f, err := Glycol(in.Temp, in.Mass)
	if err != nil {
		return glycolOut{}, nil, err
	}
	v, err := ByVolume(in.Mass)
	if err != nil {
		return glycolOut{}, nil, err
	}
	tf, err := FreezingPoint(in.Mass)
	given := []trace.Value{trace.V("t", in.Temp), trace.V("x", in.Mass)}
	t := trace.Trace{
		{Title: "First ice", Symbol: "t_f", Formula: "table by mass", Values: given[1:], Result: tf, Source: fromASHRAE},
		{Title: "Density", Symbol: "ρ", Formula: "Σ c_ij (T - T_b)^i (x - x_b)^j", Values: given, Result: f.Density, Source: fromMelinder},
		{Title: "Viscosity", Symbol: "μ", Formula: "exp Σ c_ij (T - T_b)^i (x - x_b)^j", Values: given, Result: f.Viscosity, Source: fromMelinder},
	}
	return glycolOut{v, tf, f.Density, f.Heat, f.Conductivity, f.Viscosity, f.Kinematic, f.Prandtl}, t, err
}

type concentrationIn struct {
	Supply unit.Temperature `yaml:"supply_c,required" range:"-40..10"`
	Below  *unit.TempDiff   `yaml:"below_k" range:"0..20" doc:"first ice below the supply; 8 K where left out"`
}

type concentrationOut struct {
	Mass   unit.Ratio       `yaml:"glycol_mass_pct"`
	Volume unit.Ratio       `yaml:"glycol_volume_pct"`
	Freeze unit.Temperature `yaml:"first_ice_c"`
}

func runConcentration(in concentrationIn) (concentrationOut, trace.Trace, error) {
	below := unit.Kelvins(freezeBelow)
	if in.Below != nil {
		below = *in.Below
	}
	x, err := Concentration(unit.Celsius(in.Supply.C() - below.K()))
	if err != nil {
		return concentrationOut{}, nil, err
	}
	v, err := ByVolume(x)
	if err != nil {
		return concentrationOut{}, nil, err
	}
	tf, err := FreezingPoint(x)
	t := trace.Trace{{
		Title: "Glycol by mass", Symbol: "x", Formula: "t_f(x) ≤ t_supply - Δ", Values: []trace.Value{trace.V("t_supply", in.Supply), trace.V("Δ", below)},
		Result: x, Source: fromASHRAE, Note: "30 % and more keep the inhibitors strong",
	}}
	return concentrationOut{x, v, tf}, t, err
}

type fermentIn struct {
	Volume   unit.Volume `yaml:"volume_hl,required" range:"0.1..1000"`
	Original unit.Plato  `yaml:"original_plato,required" range:"2..30"`
	Final    unit.Plato  `yaml:"final_plato,required" range:"-2..15" doc:"apparent"`
	Lager    bool        `yaml:"lager,omitempty" doc:"slow and long course"`
}

type fermentOut struct {
	Extract unit.Mass           `yaml:"real_extract_kg"`
	Heat    unit.Energy         `yaml:"heat_kwh"`
	Peak    unit.Power          `yaml:"peak_kw"`
	PerHL   unit.PowerPerVolume `yaml:"peak_w_hl"`
}

func runFermentation(in fermentIn) (fermentOut, trace.Trace, error) {
	e, err := FermentedExtract(in.Volume, in.Original, in.Final)
	if err != nil {
		return fermentOut{}, nil, err
	}
	q := FermentationHeat(e)
	p := PeakFermentation(q, in.Lager)
	t := trace.Trace{
		{Title: "Real extract fermented", Symbol: "E", Formula: "V ρ/100 · 0.8192 (OE - AE)", Values: []trace.Value{trace.V("V", in.Volume), trace.V("OE", in.Original), trace.V("AE", in.Final)}, Result: e, Source: source.Derivation("Balling's attenuation, from memory")},
		{Title: "Heat", Symbol: "Q", Formula: "650 kJ/kg · E", Values: []trace.Value{trace.V("E", e)}, Result: q, Source: source.Derivation("molar heats of the sugars of a wort")},
		{Title: "Peak", Symbol: "q", Formula: "Q/(3600 · full-rate hours)", Values: []trace.Value{trace.V("Q", q)}, Result: p, Source: fromPractice},
	}
	return fermentOut{e, q, p, unit.WattsPerM3(p.W() / in.Volume.M3())}, t, nil
}

type geometryIn struct {
	Gross    unit.Volume `yaml:"gross_l,required" range:"5..100000"`
	Diameter unit.Length `yaml:"diameter_mm,required" range:"100..5000"`
	Bottom   string      `yaml:"bottom,required" enum:"cone|dished|flat"`
	Top      string      `yaml:"top,required" enum:"cone|dished|flat"`
	Cone     unit.Angle  `yaml:"cone_deg,omitempty" range:"30..150" doc:"full angle of a cone"`
}

type geometryOut struct {
	Cylinder unit.Length `yaml:"cylinder_mm"`
	Height   unit.Length `yaml:"height_mm"`
	Shell    unit.Area   `yaml:"shell_m2"`
	Bottom   unit.Area   `yaml:"bottom_m2"`
	Top      unit.Area   `yaml:"top_m2"`
	Surface  unit.Area   `yaml:"surface_m2"`
}

func runGeometry(in geometryIn) (geometryOut, trace.Trace, error) {
	b, err := Geometry(in.Gross, in.Diameter, 0, End(in.Bottom), End(in.Top), in.Cone)
	t := trace.Trace{{
		Title: "Straight shell", Symbol: "H", Formula: "(V - V_ends)/(π D²/4)", Values: []trace.Value{trace.V("V", in.Gross), trace.V("D", in.Diameter)},
		Result: b.Cylinder, Source: source.Derivation("solid geometry"),
	}}
	return geometryOut{b.Cylinder, b.Height, b.Shell, b.BottomA, b.TopA, b.Surface}, t, err
}
