package access

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/trace"
)

type cornerIn struct {
	A      unit.Length `yaml:"width_in_mm,required" range:"100..20000" doc:"clear width of the first corridor"`
	B      unit.Length `yaml:"width_out_mm,required" range:"100..20000" doc:"clear width of the second"`
	Length unit.Length `yaml:"length_mm,required" range:"10..20000" doc:"of the piece in plan"`
	Width  unit.Length `yaml:"width_mm,required" range:"10..20000" doc:"of the piece in plan"`
}

type cornerOut struct {
	Passes   bool        `yaml:"passes"`
	Sideways bool        `yaml:"sideways_without_turning"`
	Longest  unit.Length `yaml:"longest_turning_mm"`
}

type tiltIn struct {
	Height   unit.Length `yaml:"height_mm,required" range:"10..20000" doc:"of the standing body"`
	Diameter unit.Length `yaml:"diameter_mm,required" range:"10..20000"`
	Tilt     unit.Angle  `yaml:"tilt_deg" range:"0..90" doc:"from upright"`
}

type tiltOut struct {
	Height unit.Length `yaml:"height_mm"`
	Plan   unit.Length `yaml:"plan_length_mm"`
	Upend  unit.Length `yaml:"standing_up_mm" doc:"height needed while it is stood up"`
}

type slingIn struct {
	Mass unit.Mass  `yaml:"mass_kg,required" range:"1..100000"`
	Legs int        `yaml:"legs,required" range:"1..4"`
	Beta unit.Angle `yaml:"angle_deg" range:"0..60" doc:"of a leg from the vertical"`
}

type slingOut struct {
	Tension unit.Force `yaml:"tension_kn" doc:"each leg, two carrying where there are more"`
	Factor  unit.Ratio `yaml:"mode_factor_ratio"`
	LegWLL  unit.Mass  `yaml:"leg_wll_kg" doc:"working load one straight leg must have"`
}

type windIn struct {
	Mass  unit.Mass     `yaml:"mass_kg,required" range:"1..100000"`
	Area  unit.Area     `yaml:"area_m2,required" range:"0.01..200"`
	Drag  unit.Ratio    `yaml:"drag_ratio,required" range:"0.1..3" doc:"cylinder 1.0–1.2, box 2.0, unknown 2.4"`
	Chart unit.Velocity `yaml:"chart_m_s,required" range:"1..25"`
}

type windOut struct {
	Limit unit.Velocity `yaml:"limit_m_s"`
	Force unit.Force    `yaml:"force_n" doc:"at the chart's limit"`
}

type liftIn struct {
	Rated unit.Mass `yaml:"rated_kg,required" range:"100..10000"`
}

type liftOut struct {
	Area unit.Area `yaml:"largest_car_m2"`
}

type wheelIn struct {
	Mass    unit.Mass  `yaml:"mass_kg,required" range:"1..100000" doc:"piece and carrier"`
	Dynamic unit.Ratio `yaml:"factor_ratio,required" range:"1..2"`
}

type wheelOut struct {
	Skate  unit.Force `yaml:"skate_kn"`
	Roller unit.Force `yaml:"pallet_truck_roller_kn"`
}

type metresIn struct {
	Lengths []unit.Length `yaml:"lengths_mm,required" range:"10..20000"`
	Widths  []unit.Length `yaml:"widths_mm,required" range:"10..20000"`
}

type metresOut struct {
	Packed  unit.Length `yaml:"packed_m"`
	Formula unit.Length `yaml:"formula_m"`
}

func step(title, symbol, formula string, src source.Ref, result unit.Quantity, values ...trace.Value) trace.Trace {
	return trace.Trace{{Title: title, Symbol: symbol, Formula: formula, Values: values, Result: result, Source: src}}
}

// Calculations of the way in, each reachable by name.
func Calculations() []calc.Calculation {
	geometry := source.Derivation("geometry")
	return []calc.Calculation{
		calc.New("access.corner", "A piece round a right-angled corner", "L = min (a·sinθ + b·cosθ − w)/(sinθ·cosθ)", geometry,
			`{"width_in_mm": 1600, "width_out_mm": 1400, "length_mm": 1893, "width_mm": 1169}`,
			func(in cornerIn) (cornerOut, trace.Trace, error) {
				w := min(in.Length, in.Width)
				longest := CornerLength(in.A, in.B, w)
				ok, side := CornerPasses(in.A, in.B, in.Length, in.Width)
				return cornerOut{ok, side, longest}, step("Longest piece that turns", "L", "min (a·sinθ + b·cosθ − w)/(sinθ·cosθ)", geometry, longest, trace.V("a", in.A), trace.V("b", in.B), trace.V("w", w)), nil
			}),
		calc.New("access.tilt", "Height of a tilted piece, and to stand it up", "h·cosα + d·sinα; √(h² + d²)", geometry,
			`{"height_mm": 2873, "diameter_mm": 1169, "tilt_deg": 45}`,
			func(in tiltIn) (tiltOut, trace.Trace, error) {
				out := tiltOut{TiltHeight(in.Height, in.Diameter, in.Tilt), TiltHeight(in.Diameter, in.Height, in.Tilt), UpendHeight(in.Height, in.Diameter)}
				return out, step("Height while tilted", "H", "h·cosα + d·sinα", geometry, out.Height, trace.V("h", in.Height), trace.V("d", in.Diameter), trace.V("α", in.Tilt)), nil
			}),
		calc.New("access.sling", "Sling legs by angle", "T = m·g/(n·cosβ); m/factor", slings.Ref(),
			`{"mass_kg": 1000, "legs": 2, "angle_deg": 45}`,
			func(in slingIn) (slingOut, trace.Trace, error) {
				t, err := SlingTension(in.Mass, min(in.Legs, 2), in.Beta)
				if err != nil {
					return slingOut{}, nil, err
				}
				f, err := SlingFactor(in.Legs, in.Beta)
				if err != nil {
					return slingOut{}, nil, err
				}
				return slingOut{t, f, unit.Mass(in.Mass.Kg() / f.Value())}, step("Tension in a leg", "T", "m·g/(n·cosβ)", source.Derivation("statics; four legs hang on two"), t, trace.V("m", in.Mass), trace.V("n", unit.Fraction(float64(min(in.Legs, 2)))), trace.V("β", in.Beta)), nil
			}),
		calc.New("access.wind", "Wind limit of a large, light load", "v = v_chart·√(1.2·m/(c_w·A))", massRule,
			`{"mass_kg": 394, "area_m2": 3.39, "drag_ratio": 1.2, "chart_m_s": 9.8}`,
			func(in windIn) (windOut, trace.Trace, error) {
				v, err := WindLimit(in.Chart, in.Mass, in.Area, in.Drag)
				if err != nil {
					return windOut{}, nil, err
				}
				return windOut{v, WindForce(in.Chart, in.Area, in.Drag)}, step("Wind limit", "v", "v_chart·√(1.2·m_t/(c_w·A))", massRule, v, trace.V("v_chart", in.Chart), trace.V("m", in.Mass), trace.V("c_w", in.Drag), trace.V("A", in.Area)), nil
			}),
		calc.New("access.lift-car", "Largest car of a passenger lift", "table, linear between rows", liftArea.Ref(), `{"rated_kg": 1600}`,
			func(in liftIn) (liftOut, trace.Trace, error) {
				a, err := LiftCarArea(in.Rated)
				return liftOut{a}, step("Largest car area", "A", "table", liftArea.Ref(), a, trace.V("Q", in.Rated)), err
			}),
		calc.New("access.wheel", "Wheel loads on the way in", "φ·m·g/2", source.Derivation("four skates on an uneven floor rest on two"), `{"mass_kg": 820, "factor_ratio": 1.1}`,
			func(in wheelIn) (wheelOut, trace.Trace, error) {
				out := wheelOut{WheelLoad(in.Mass, in.Dynamic), PalletTruckWheel(in.Mass, in.Dynamic)}
				return out, step("One skate", "P", "φ·m·g/2", source.Derivation("statics"), out.Skate, trace.V("φ", in.Dynamic), trace.V("m", in.Mass)), nil
			}),
		calc.New("access.loading-metres", "Loading metres, packed and by formula", "Σ L·W/2.4 against rows as packed", source.Derivation("a loading metre is one metre of a trailer 2.4 m wide"),
			`{"lengths_mm": [2900, 2900], "widths_mm": [1400, 1400]}`,
			func(in metresIn) (metresOut, trace.Trace, error) {
				p, f, err := LoadingMetres(in.Lengths, in.Widths)
				return metresOut{p, f}, step("Packed row by row", "LDM", "Σ row lengths", source.Derivation("packing"), p, trace.V("by formula", f)), err
			}),
	}
}
