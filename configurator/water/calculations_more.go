package water

import (
	"fmt"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/trace"
)

type boreIn struct {
	Flow     unit.VolumeFlow `yaml:"flow_l_s,required" range:"0..1000"`
	Velocity unit.Velocity   `yaml:"velocity_m_s,required" range:"0.1..10" doc:"2.0 in mains and risers, 4.0 in single dead legs (EN 806-3)"`
}

type boreOut struct {
	Bore unit.Length `yaml:"bore_mm"`
}

type backflowIn struct {
	Use string `yaml:"use,required" doc:"as in the table of uses: hose, cip, hot-liquor, …"`
}

type backflowOut struct {
	Category int    `yaml:"fluid_category"`
	Device   string `yaml:"device"`
	Words    string `yaml:"words"`
}

type mixIn struct {
	Volumes []unit.Volume      `yaml:"volumes_l,required"`
	Temps   []unit.Temperature `yaml:"temperatures_c,required"`
	PH      []unit.Acidity     `yaml:"acidities_ph,required"`
}

type mixOut struct {
	Temp unit.Temperature `yaml:"temperature_c"`
	PH   unit.Acidity     `yaml:"acidity_ph" doc:"without buffers; real waste lies nearer to neutral"`
}

type softenIn struct {
	Volume   unit.Volume        `yaml:"volume_m3,required" range:"0..10000"`
	Hardness unit.Concentration `yaml:"hardness_mg_l,required" range:"0..2000" doc:"as CaCO3"`
}

type softenOut struct {
	Salt  unit.Mass   `yaml:"salt_kg"`
	Brine unit.Volume `yaml:"brine_l"`
}

// moreCalculations are pipes, backflow, mixtures and softening.
func moreCalculations() []calc.Calculation {
	balance := source.Derivation("heat balance; charge balance of strong electrolytes at 25 °C")
	soften := source.Practice("2.5 kg of salt and 80 L of brine for each kilogram of hardness")
	return []calc.Calculation{
		calc.New("water.pipe-bore", "Bore that carries a flow at a velocity", "√(4·Q/(π·v))", en806.At("4.4"), `{"flow_l_s": 0.63, "velocity_m_s": 2}`,
			func(in boreIn) (boreOut, trace.Trace, error) {
				d, err := BoreFor(in.Flow, in.Velocity)
				return boreOut{d}, trace.Trace{{Title: "Bore", Symbol: "d", Formula: "√(4·Q/(π·v))", Values: []trace.Value{trace.V("Q", in.Flow), trace.V("v", in.Velocity)}, Result: d, Source: en806.At("4.4")}}, err
			}),
		calc.New("water.backflow", "Fluid category of a point of use and its protection", "table of uses", uses.Ref(), `{"use": "hose"}`,
			func(in backflowIn) (backflowOut, trace.Trace, error) {
				c, device, err := Category(in.Use)
				return backflowOut{c, device, DeviceName(device)}, trace.Trace{{Title: "Fluid category of " + in.Use, Symbol: "c", Formula: "table", Result: unit.Fraction(float64(c)), Source: uses.Ref()}}, err
			}),
		calc.New("water.mixture", "Temperature and pH of streams mixed", "Σ V·t/ΣV; Σ V·(10^(pH-14) - 10^-pH)", balance, `{"volumes_l": [100, 300], "temperatures_c": [80, 12], "acidities_ph": [13, 7]}`, calcMixture),
		calc.New("water.softening", "Salt and brine of a softener", "2.5·m; 80·m", soften, `{"volume_m3": 5, "hardness_mg_l": 300}`,
			func(in softenIn) (softenOut, trace.Trace, error) {
				salt, brine := Softening(in.Volume, in.Hardness)
				return softenOut{salt, brine}, trace.Trace{{Title: "Salt", Symbol: "m", Formula: "2.5·V·c", Values: []trace.Value{trace.V("V", in.Volume), trace.V("c", in.Hardness)}, Result: salt, Source: soften}}, nil
			}),
	}
}

func calcMixture(in mixIn) (mixOut, trace.Trace, error) {
	ph, err := MixPH(in.Volumes, in.PH)
	if err != nil {
		return mixOut{}, nil, err
	}
	if len(in.Temps) != len(in.Volumes) {
		return mixOut{}, nil, fmt.Errorf("temperature of a mixture: %d volumes and %d temperatures: give one for each volume", len(in.Volumes), len(in.Temps))
	}
	t := MixTemperature(in.Volumes, in.Temps)
	balance := source.Derivation("heat balance")
	return mixOut{t, ph}, trace.Trace{
		{Title: "Temperature", Symbol: "t", Formula: "Σ V·t/ΣV", Result: t, Source: balance},
		{Title: "pH without buffers", Symbol: "pH", Formula: "Σ V·(10^(pH-14) - 10^-pH)/ΣV", Result: ph, Source: source.Derivation("charge balance")},
	}, nil
}
