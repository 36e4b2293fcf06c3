package brewing

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/trace"
)

// Calculations lists what can be run by name, in the order of a brew.
func Calculations() []calc.Calculation {
	var all []calc.Calculation
	for _, part := range [][]calc.Calculation{extractCalculations(), mashCalculations(), heatCalculations(), coolerCalculations(), beerCalculations(), gasCalculations(), planCalculations()} {
		all = append(all, part...)
	}
	return all
}

// oneStep is the working of a calculation that is a single formula.
func oneStep(title, symbol, formula string, src source.Ref, result unit.Quantity, values ...trace.Value) trace.Trace {
	return trace.Trace{{Title: title, Symbol: symbol, Formula: formula, Values: values, Result: result, Source: src}}
}

type platoIn struct {
	Extract unit.Plato `yaml:"extract_plato,required" doc:"mass per cent of extract"`
}

type gravityValue struct {
	Gravity unit.Gravity `yaml:"gravity_sg,required" doc:"relative density 20/20"`
}

type platoOut struct {
	Extract unit.Plato `yaml:"extract_plato"`
}

type wortIn struct {
	Volume  unit.Volume `yaml:"cold_l,required" doc:"wort at 20 °C"`
	Extract unit.Plato  `yaml:"extract_plato,required" doc:"mass per cent of extract"`
}

type massOut struct {
	Mass unit.Mass `yaml:"mass_kg"`
}

type maltIn struct {
	Extract    unit.Mass  `yaml:"extract_kg,required" doc:"extract in the kettle"`
	Lab        unit.Ratio `yaml:"laboratory_extract_pct,required" doc:"of malt as it is"`
	Efficiency unit.Ratio `yaml:"efficiency_pct,required" doc:"brewhouse efficiency on laboratory extract"`
}

type yieldIn struct {
	Extract unit.Plato  `yaml:"extract_plato,required"`
	Hot     unit.Volume `yaml:"hot_l,required" doc:"hot wort at cast-out"`
	Malt    unit.Mass   `yaml:"malt_kg,required"`
}

type ratioOut struct {
	Share unit.Ratio `yaml:"share_pct"`
}

type temperatureIn struct {
	Temperature unit.Temperature `yaml:"temperature_c,required"`
}

type factorOut struct {
	Factor unit.Ratio `yaml:"factor_ratio"`
}

type specificHeatOut struct {
	Heat unit.SpecificHeat `yaml:"specific_heat_kj_kgk"`
}

func extractCalculations() []calc.Calculation {
	const cubic = "−616.868 + 1111.14·SG − 630.272·SG² + 135.997·SG³"
	const fitted = "133.5892·SG³ − 622.5576·SG² + 1102.9079·SG − 613.9427"
	const plato = "1 + P/(258.6 − 227.1·P/258.2)"
	asbc := docASBC.At("cubic of the extract table")
	buhl := source.Doc{ID: "Buhl", Title: "Cubic fit to the ASBC extract table, osf.io/9wfym"}.At("cubic")
	kunze := docKunze.At("p. 257 and 263")
	return []calc.Calculation{
		calc.New("brewing.plato-to-gravity", "Relative density of wort from its extract", "SG = "+plato, refGravity, `{"extract_plato": 12}`,
			func(in platoIn) (gravityValue, trace.Trace, error) {
				x, err := PlatoToGravity(in.Extract)
				return gravityValue{x}, oneStep("relative density", "SG", plato, refGravity, x, trace.V("P", in.Extract)), err
			}),
		calc.New("brewing.gravity-to-plato", "Extract of wort from its relative density", "P = "+cubic, asbc, `{"gravity_sg": 1.048}`,
			func(in gravityValue) (platoOut, trace.Trace, error) {
				x, err := GravityToPlato(in.Gravity)
				return platoOut{x}, oneStep("extract", "P", cubic, asbc, x, trace.V("SG", in.Gravity)), err
			}),
		calc.New("brewing.gravity-to-plato-fitted", "Extract of wort by the cubic fitted to the ASBC table", "P = "+fitted, buhl, `{"gravity_sg": 1.048}`,
			func(in gravityValue) (platoOut, trace.Trace, error) {
				x, err := GravityToPlatoFitted(in.Gravity)
				return platoOut{x}, oneStep("extract", "P", fitted, buhl, x, trace.V("SG", in.Gravity)), err
			}),
		calc.New("brewing.extract-mass", "Extract in a volume of cold wort", "E = V · SG · 0.9982 · P/100", refExtract, `{"cold_l": 1000, "extract_plato": 12}`,
			func(in wortIn) (massOut, trace.Trace, error) {
				x, err := ExtractMass(in.Volume, in.Extract)
				return massOut{x}, oneStep("extract", "E", "V · SG · 0.9982 · P/100", refExtract, x, trace.V("V", in.Volume), trace.V("P", in.Extract)), err
			}),
		calc.New("brewing.malt", "Malt for an extract in the kettle", "m = E / (x · η)", refMalt, `{"extract_kg": 129.5, "laboratory_extract_pct": 78.5, "efficiency_pct": 88}`,
			func(in maltIn) (massOut, trace.Trace, error) {
				x, err := MaltMass(in.Extract, in.Lab, in.Efficiency)
				return massOut{x}, oneStep("malt", "m", "E / (x · η)", refMalt, x, trace.V("E", in.Extract), trace.V("x", in.Lab), trace.V("η", in.Efficiency)), err
			}),
		calc.New("brewing.brewhouse-yield", "Yield on the mass of grist", "Y = P · SG · 0.96 · V_hot / m", kunze, `{"extract_plato": 12, "hot_l": 1074, "malt_kg": 187.4}`,
			func(in yieldIn) (ratioOut, trace.Trace, error) {
				x, err := BrewhouseYield(in.Extract, in.Hot, in.Malt)
				return ratioOut{x}, oneStep("yield", "Y", "P · SG · 0.96 · V_hot / m", kunze, x, trace.V("P", in.Extract), trace.V("V_hot", in.Hot), trace.V("m", in.Malt)), err
			}),
		calc.New("brewing.contraction", "Cold volume of one hot volume of wort", "k = ρ(T) / ρ(20 °C)", refDensity, `{"temperature_c": 100}`,
			func(in temperatureIn) (factorOut, trace.Trace, error) {
				x, err := ContractionFactor(in.Temperature)
				return factorOut{x}, oneStep("contraction", "k", "ρ(T) / ρ(20 °C)", refDensity, x, trace.V("T", in.Temperature)), err
			}),
		calc.New("brewing.wort-specific-heat", "Specific heat of wort", "c = 4.187 − 0.0251·P", refSugar, `{"extract_plato": 12}`,
			func(in platoIn) (specificHeatOut, trace.Trace, error) {
				x, err := WortSpecificHeat(in.Extract)
				return specificHeatOut{x}, oneStep("specific heat", "c", "4.187 − 0.0251·P", refSugar, x, trace.V("P", in.Extract)), err
			}),
	}
}

var refSugar = source.Doc{ID: "Sugar technology", Title: "Specific heat of sugar solutions"}.Recalled("correlation at 20 °C")

type mashIn struct {
	Malt  unit.Mass      `yaml:"malt_kg,required"`
	Ratio unit.MashRatio `yaml:"liquor_l_kg,required" doc:"litres of liquor on a kilogram of grist"`
}

type volumeOut struct {
	Volume unit.Volume `yaml:"volume_l"`
}

type areaIn struct {
	Malt    unit.Mass        `yaml:"malt_kg,required"`
	Loading unit.MassPerArea `yaml:"loading_kg_m2,required"`
}

type areaOut struct {
	Area     unit.Area   `yaml:"area_m2"`
	Diameter unit.Length `yaml:"diameter_m"`
	Bed      unit.Length `yaml:"bed_m"`
}

type grainIn struct {
	Malt    unit.Mass  `yaml:"malt_kg,required"`
	Extract unit.Mass  `yaml:"extract_kg,required"`
	Malty   unit.Ratio `yaml:"malt_moisture_pct,required"`
	Grainy  unit.Ratio `yaml:"grain_moisture_pct,required"`
}

type grainOut struct {
	Wet  unit.Mass `yaml:"wet_grain_kg"`
	Held unit.Mass `yaml:"water_held_kg"`
}

type strikeIn struct {
	Ratio    unit.MashRatio   `yaml:"liquor_l_kg,required"`
	Grist    unit.Temperature `yaml:"grist_c,required"`
	Moisture unit.Ratio       `yaml:"malt_moisture_pct,required"`
	Mash     unit.Temperature `yaml:"mash_c,required" doc:"rest of the mash; for the mash temperature, the liquor"`
}

type temperatureOut struct {
	Temperature unit.Temperature `yaml:"temperature_c"`
}

func mashCalculations() []calc.Calculation {
	return []calc.Calculation{
		calc.New("brewing.mash-volume", "Volume of a mash", "V = m · (r + 0.7)", refMash, `{"malt_kg": 187.4, "liquor_l_kg": 2.7}`,
			func(in mashIn) (volumeOut, trace.Trace, error) {
				x, err := MashVolume(in.Malt, in.Ratio)
				return volumeOut{x}, oneStep("mash", "V", "m · (r + 0.7)", refMash, x, trace.V("m", in.Malt), trace.V("r", in.Ratio)), err
			}),
		calc.New("brewing.lauter-area", "Lauter floor, its diameter and the grain bed", "A = m/L, Ø = √(4A/π), h = 1.81·m/A", docLauter.At("unit load of false bottom, grain depth"), `{"malt_kg": 187.4, "loading_kg_m2": 165}`, lauterSheet),
		calc.New("brewing.spent-grain", "Wet spent grain and the water it holds", "m_wet = (m·(1 − w_m) − E)/(1 − w_sg)", refGrain, `{"malt_kg": 187.4, "extract_kg": 129.5, "malt_moisture_pct": 4, "grain_moisture_pct": 78}`,
			func(in grainIn) (grainOut, trace.Trace, error) {
				wet, held, err := SpentGrain(in.Malt, in.Extract, in.Malty, in.Grainy)
				return grainOut{wet, held}, oneStep("wet grain", "m_wet", "(m·(1 − w_m) − E)/(1 − w_sg)", refGrain, wet, trace.V("m", in.Malt), trace.V("E", in.Extract), trace.V("w_m", in.Malty), trace.V("w_sg", in.Grainy)), err
			}),
		calc.New("brewing.strike-temperature", "Liquor temperature that brings a mash to its rest, tun preheated", "T = ((r + S)·(T_m − Sc) − S·T_g)/r", refStrike, `{"liquor_l_kg": 2.7, "grist_c": 15, "malt_moisture_pct": 4, "mash_c": 66}`,
			func(in strikeIn) (temperatureOut, trace.Trace, error) { return mashSheet(in, true) }),
		calc.New("brewing.mash-temperature", "Temperature of a mash from that of its liquor", "T = (r·T_l + S·T_g)/(r + S) + Sc", refStrike, `{"liquor_l_kg": 2.7, "grist_c": 15, "malt_moisture_pct": 4, "mash_c": 71.6}`,
			func(in strikeIn) (temperatureOut, trace.Trace, error) { return mashSheet(in, false) }),
	}
}

func lauterSheet(in areaIn) (areaOut, trace.Trace, error) {
	a, d, err := LauterArea(in.Malt, in.Loading)
	if err != nil {
		return areaOut{}, nil, err
	}
	bed, err := BedDepth(in.Malt, a)
	return areaOut{a, d, bed}, oneStep("lauter floor", "A", "m / L", source.Derivation("definition of the loading"), a, trace.V("m", in.Malt), trace.V("L", in.Loading)), err
}

func mashSheet(in strikeIn, strike bool) (temperatureOut, trace.Trace, error) {
	s, sc, err := MaltHeat(in.Moisture)
	if err != nil {
		return temperatureOut{}, nil, err
	}
	m := Mash{Ratio: in.Ratio, Grist: in.Grist, Relative: s, Slaking: sc}
	formula, f := "(r·T_l + S·T_g)/(r + S) + Sc", MashTemperature
	if strike {
		formula, f = "((r + S)·(T_m − Sc) − S·T_g)/r", StrikeTemperature
	}
	t, err := f(m, in.Mash)
	return temperatureOut{t}, oneStep("temperature", "T", formula, refStrike, t, trace.V("r", in.Ratio), trace.V("S", s), trace.V("Sc", sc), trace.V("T_g", in.Grist)), err
}
