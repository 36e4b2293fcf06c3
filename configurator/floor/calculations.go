package floor

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/plan"
	"tunwright/configurator/trace"
)

type headIn struct {
	Diameter unit.Length `yaml:"diameter_mm,required" range:"10..10000" doc:"inside"`
	Crown    unit.Ratio  `yaml:"crown_ratio,required" range:"0.501..1.5" doc:"crown radius over diameter: 1 Kloepper, 0.8 Korbbogen"`
	Knuckle  unit.Ratio  `yaml:"knuckle_ratio,required" range:"0.02..0.499" doc:"knuckle radius over diameter: 0.1 Kloepper, 0.154 Korbbogen"`
}

type headOut struct {
	Height unit.Length `yaml:"height_mm"`
	Volume unit.Volume `yaml:"volume_l"`
	Area   unit.Area   `yaml:"area_m2"`
}

type vesselIn struct {
	Diameter   unit.Length `yaml:"diameter_mm,required" range:"200..5000" doc:"inside"`
	Cylinder   unit.Length `yaml:"cylinder_mm,required" range:"50..12000"`
	Bottom     string      `yaml:"bottom,required" enum:"flat|dished|korbbogen|elliptical|asme|cone"`
	Top        string      `yaml:"top,required" enum:"open|flat|dished|korbbogen|elliptical|asme"`
	Outlet     unit.Length `yaml:"outlet_mm" range:"0..1000"`
	Jacket     unit.Ratio  `yaml:"jacket_pct" range:"0..100" doc:"share of cylinder and bottom"`
	Insulation unit.Length `yaml:"insulation_mm" range:"0..300"`
	Legs       int         `yaml:"legs" range:"0..8"`
	LegLength  unit.Length `yaml:"leg_mm" range:"0..5000"`
}

type vesselOut struct {
	Empty   unit.Mass   `yaml:"empty_kg" doc:"±15 %"`
	Volume  unit.Volume `yaml:"brim_l"`
	Outside unit.Length `yaml:"outside_mm"`
}

type footIn struct {
	Mass   unit.Mass   `yaml:"mass_kg,required" range:"1..100000"`
	Feet   int         `yaml:"feet,required" range:"3..12"`
	Circle unit.Length `yaml:"circle_mm,required" range:"50..10000" doc:"bolt circle diameter"`
	Moment unit.Moment `yaml:"moment_knm" range:"0..1000" doc:"towards the first foot"`
}

type footOut struct {
	Each    unit.Force `yaml:"nominal_kn"`
	Largest unit.Force `yaml:"largest_kn"`
	Rocking unit.Force `yaml:"on_two_feet_kn"`
}

type beamIn struct {
	Span    unit.Length   `yaml:"span_m,required" range:"0.05..60"`
	Loads   []unit.Force  `yaml:"loads_kn"`
	At      []unit.Length `yaml:"at_m" doc:"from the first end, one for each load"`
	Uniform unit.LineLoad `yaml:"uniform_kn_m" range:"0..1000"`
	Width   unit.Length   `yaml:"tributary_m,required" range:"0.01..50"`
}

type beamOut struct {
	Left     unit.Force    `yaml:"left_kn"`
	Right    unit.Force    `yaml:"right_kn"`
	Moment   unit.Moment   `yaml:"moment_knm"`
	Where    unit.Length   `yaml:"where_m"`
	ByMoment unit.AreaLoad `yaml:"equal_moment_kn_m2"`
	ByShear  unit.AreaLoad `yaml:"equal_reaction_kn_m2"`
}

type dumpIn struct {
	Bore   unit.Length     `yaml:"bore_mm,required" range:"1..300"`
	Head   unit.Length     `yaml:"head_mm,required" range:"1..15000"`
	Volume unit.Volume     `yaml:"volume_l,required" range:"1..100000"`
	Gully  unit.VolumeFlow `yaml:"gully_l_s,required" range:"0..100"`
}

type dumpOut struct {
	Peak   unit.VolumeFlow `yaml:"peak_l_s"`
	Time   unit.Duration   `yaml:"emptying_min"`
	Buffer unit.Volume     `yaml:"buffer_l"`
}

type fallIn struct {
	Run     unit.Length `yaml:"run_m,required" range:"0..30"`
	Fall    unit.Ratio  `yaml:"fall_pct,required" range:"0..10"`
	FourWay bool        `yaml:"four_way"`
	Least   unit.Length `yaml:"least_mm,required" range:"0..500"`
}

type fallOut struct {
	Rise unit.Length   `yaml:"rise_mm"`
	Mean unit.Length   `yaml:"mean_mm"`
	Load unit.AreaLoad `yaml:"load_kn_m2"`
}

func step(title, symbol, formula string, src source.Ref, result unit.Quantity, values ...trace.Value) trace.Trace {
	return trace.Trace{{Title: title, Symbol: symbol, Formula: formula, Values: values, Result: result, Source: src}}
}

// Calculations of the floor, each reachable by name.
func Calculations() []calc.Calculation {
	statics := source.Derivation("statics")
	return []calc.Calculation{
		calc.New("floor.head", "Dished end", "h, V, A by crown and knuckle radius", source.Derivation("integration of crown and knuckle"), `{"diameter_mm": 1000, "crown_ratio": 1, "knuckle_ratio": 0.1}`,
			func(in headIn) (headOut, trace.Trace, error) {
				h, v, a, err := Head(in.Diameter, in.Crown, in.Knuckle)
				return headOut{h, v, a}, step("Height of the end", "h", "R − √((R − r)² − c²)", source.Derivation("geometry"), h, trace.V("D", in.Diameter), trace.V("R/D", in.Crown), trace.V("r/D", in.Knuckle)), err
			}),
		calc.New("floor.vessel-mass", "Empty mass of a vessel from its geometry", "(ρ·t·ΣA + jacket + cladding + insulation + legs)·(1 + f)", source.Practice("good to ±15 % until weighed"),
			`{"diameter_mm": 1000, "cylinder_mm": 1350, "bottom": "cone", "top": "dished", "outlet_mm": 100, "jacket_pct": 55, "insulation_mm": 80, "legs": 4, "leg_mm": 1100}`,
			func(in vesselIn) (vesselOut, trace.Trace, error) {
				e, err := EstimateVessel(Vessel{Diameter: in.Diameter, Cylinder: in.Cylinder, Bottom: End(in.Bottom), Top: End(in.Top), Outlet: in.Outlet, JacketShare: in.Jacket, Insulation: in.Insulation, Legs: in.Legs, LegLength: in.LegLength})
				return vesselOut{e.Empty, e.Total, e.Outside}, step("Empty mass", "m", "(shell + jacket + cladding + insulation + legs)·(1 + f)", source.Practice("±15 %"), e.Empty, trace.V("shell", e.Shell), trace.V("jacket", e.Jacket), trace.V("cladding", e.Cladding), trace.V("insulation", e.Insulation), trace.V("legs", e.Legs)), err
			}),
		calc.New("floor.feet", "Load of each foot", "W/n + 2M/(n·r)", statics, `{"mass_kg": 2716.7, "feet": 4, "circle_mm": 1000, "moment_knm": 0.8837}`,
			func(in footIn) (footOut, trace.Trace, error) {
				w := Weight(in.Mass)
				feet := (&Feet{Count: in.Feet, Circle: in.Circle, Turn: unit.Degrees(360)}).points()
				all, err := Reactions(w, feet, in.Moment, 0)
				if err != nil {
					return footOut{}, nil, err
				}
				return footOut{w / unit.Force(in.Feet), all[0], w / 2}, step("Largest foot", "R", "W/n + 2M/(n·r)", statics, all[0], trace.V("W", w), trace.V("M", in.Moment), trace.V("PCD", in.Circle)), nil
			}),
		calc.New("floor.beam", "Simply supported member", "R, M, 8M/(L²·s), 2V/(L·s)", statics, `{"span_m": 8, "loads_kn": [10, 10], "at_m": [2, 5], "uniform_kn_m": 4.5, "tributary_m": 3}`,
			func(in beamIn) (beamOut, trace.Trace, error) {
				if len(in.Loads) != len(in.At) {
					return beamOut{}, nil, &unit.RangeError{Name: "number of places at_m", Value: float64(len(in.At)), Min: float64(len(in.Loads)), Max: float64(len(in.Loads))}
				}
				loads := make([]PointLoad, len(in.Loads))
				for i := range loads {
					loads[i] = PointLoad{P: in.Loads[i], At: in.At[i]}
				}
				s, err := Beam(in.Span, loads, in.Uniform)
				if err != nil {
					return beamOut{}, nil, err
				}
				qm, qv, err := EquivalentUniform(s.Moment, s.Shear(), in.Span, in.Width)
				return beamOut{s.Left, s.Right, s.Moment, s.At, qm, qv}, step("Largest moment", "M", "R_A·x − w·x²/2 − ΣP·(x − a)", statics, s.Moment, trace.V("R_A", s.Left), trace.V("x", s.At), trace.V("w", in.Uniform)), err
			}),
		calc.New("floor.dump", "A tank dumped into a gully", "C_d·A·√(2gh)", source.Derivation("Torricelli's law"), `{"bore_mm": 48.5, "head_mm": 2500, "volume_l": 1000, "gully_l_s": 0.8}`,
			func(in dumpIn) (dumpOut, trace.Trace, error) {
				q, err := DumpFlow(in.Bore, in.Head)
				return dumpOut{q, EmptyingTime(in.Volume, q), Buffer(in.Volume, q, in.Gully)}, step("Flow at the start", "Q", "C_d·A·√(2gh)", source.Derivation("Torricelli's law, C_d 0.6"), q, trace.V("bore", in.Bore), trace.V("h", in.Head)), err
			}),
		calc.New("floor.falls", "Build-up of falls", "Δ = run·slope; mean Δ/2 or 2Δ/3", source.Derivation("geometry"), `{"run_m": 2, "fall_pct": 1.25, "four_way": true, "least_mm": 15}`,
			func(in fallIn) (fallOut, trace.Trace, error) {
				rise, mean, err := FallBuildUp(in.Run, in.Fall, in.FourWay, in.Least)
				load := unit.AreaLoad(mean.M() * screedUnits)
				return fallOut{rise, mean, load}, step("Mean thickness", "t", "least + 2Δ/3", source.Derivation("inverted pyramid"), mean, trace.V("run", in.Run), trace.V("slope", in.Fall)), err
			}),
		calc.New("floor.escape-width", "Width of a way out", "table by persons", plan.ADB.At("table 2.3"), `{"persons": 12}`,
			func(in escapeIn) (escapeOut, trace.Trace, error) {
				w, err := plan.EscapeWidth(in.Persons)
				return escapeOut{w}, step("Least width", "w", "table", plan.ADB.At("table 2.3"), w), err
			}),
	}
}

type escapeIn struct {
	Persons int `yaml:"persons,required" range:"0..20000"`
}

type escapeOut struct {
	Width unit.Length `yaml:"width_mm"`
}
