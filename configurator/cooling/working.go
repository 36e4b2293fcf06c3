package cooling

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
)

var (
	fromMelinder = docMelinder.At("coefficients for propylene glycol")
	fromASHRAE   = docASHRAE.At("freezing points of aqueous propylene glycol")
	fromKern     = docKern.At("batch cooling with a non-isothermal medium")
	fromColebrok = docColebrk.At("friction in rough pipes")
	fromHooper   = docHooper.At("two-K method")
	fromIncrop   = docIncrop.At("radial conduction")
	fromValve    = docEN60534.At("definition of the flow coefficient")
	fromVessel   = docEN12828.Recalled("Annex D")
	fromSound    = docISO9613.At("geometric divergence")
	fromPractice = source.Practice("")
)

// working sets out the steps of the design, for one tank of each kind and the whole.
func working(in *Input, res *Result) trace.Trace {
	t := make(trace.Trace, 0, 32)
	glycolSteps(&t, res)
	tankSteps(&t, res)
	loadSteps(&t, res)
	circuitSteps(&t, res)
	chillerSteps(&t, in, res)
	return t
}

func glycolSteps(t *trace.Trace, res *Result) {
	m := &res.Fluid
	t.Add(trace.Step{
		Title: "Glycol supply", Symbol: "t_g", Formula: "coldest beer less 5 K, unless given", Values: []trace.Value{trace.V("t_beer", m.Coldest)},
		Result: m.Supply, Source: fromPractice,
	})
	t.Add(trace.Step{
		Title: "First ice of the glycol", Symbol: "t_f", Formula: "table by mass", Values: []trace.Value{trace.V("x", m.Mass), trace.V("x_vol", m.Volume)},
		Result: m.Freeze, Source: fromASHRAE,
	})
	t.Add(trace.Step{
		Title: "Density at the supply", Symbol: "ρ", Formula: "Σ c_ij (T - T_b)^i (x - x_b)^j", Values: []trace.Value{trace.V("t", m.Supply), trace.V("x", m.Mass)},
		Result: m.AtSupply.Density, Source: fromMelinder,
	})
	t.Add(trace.Step{
		Title: "Heat capacity at the mean temperature", Symbol: "c_g", Formula: "Σ c_ij (T - T_b)^i (x - x_b)^j", Values: []trace.Value{trace.V("t", m.AtMean.Temp), trace.V("x", m.Mass)},
		Result: m.AtMean.Heat, Source: fromMelinder,
	})
	t.Add(trace.Step{
		Title: "Viscosity at the supply", Symbol: "μ", Formula: "exp Σ c_ij (T - T_b)^i (x - x_b)^j", Values: []trace.Value{trace.V("t", m.Supply), trace.V("x", m.Mass)},
		Result: m.AtSupply.Viscosity, Source: fromMelinder,
	})
}

func tankSteps(t *trace.Trace, res *Result) {
	seen := [3]bool{}
	for i := range res.Tanks {
		r := &res.Tanks[i]
		k := 0
		switch r.Use {
		case Bright:
			k = 1
		case ColdLiquor:
			k = 2
		}
		if seen[k] {
			continue
		}
		seen[k] = true
		t.Add(trace.Step{
			Title: "Skin of " + r.Tag, Symbol: "A", Formula: "A_bottom + π D H + A_top", Values: []trace.Value{trace.V("A_bottom", r.Body.BottomA), trace.V("π D H", r.Body.Shell), trace.V("A_top", r.Body.TopA)},
			Result: r.Body.Surface, Source: source.Derivation("solid geometry"),
		})
		t.Add(trace.Step{
			Title: "Heat gain of " + r.Tag, Symbol: "Q", Formula: "1.20 · U · A · (t_room - t)", Values: []trace.Value{trace.V("U", r.U), trace.V("A", r.Body.Surface), trace.V("t_room", res.Room), trace.V("t", r.Hold)},
			Result: r.GainCold, Source: fromPractice, Note: "1.20 for legs, manway and outlet",
		})
	}
	if len(res.Crashes) == 0 {
		return
	}
	c := &res.Crashes[0]
	r := findTank(res, c.Tank)
	fermentStep(t, res, r)
	t.Add(trace.Step{
		Title: "Mean crash duty of " + c.Tank, Symbol: "Q_c", Formula: "C (T1 - T2)/t", Values: []trace.Value{trace.V("C", r.Capacity), trace.V("T1", c.From), trace.V("T2", c.To), trace.V("t", c.Wish)},
		Result: c.Mean, Source: source.Derivation("heat balance"),
	})
	t.Add(trace.Step{
		Title: "Crash time with the valve open", Symbol: "t", Formula: "∫ C dT/[UA_eff(T)(T - t_g) - Q_gain], UA_eff = ṁc(1 - exp(-UA/ṁc))",
		Values: []trace.Value{trace.V("A_jacket", r.Jacket), trace.V("U(T1)", JacketU(c.From)), trace.V("U(T2)", JacketU(c.To)), trace.V("V", r.JacketFlow), trace.V("t_g", res.Fluid.Supply)}, Result: c.Open, Source: fromKern,
	})
	t.Add(trace.Step{
		Title: "First draw of an open valve", Symbol: "Q_0", Formula: "UA_eff (T1 - t_g)", Values: []trace.Value{trace.V("T1", c.From), trace.V("t_g", res.Fluid.Supply), trace.V("Δt_g", c.Rise)},
		Result: c.Initial, Source: fromKern,
	})
}

// fermentStep shows the first batch of a tank.
func fermentStep(t *trace.Trace, res *Result, r *TankResult) {
	for i := range res.Batches {
		b := &res.Batches[i]
		if b.Tank != r.Tag {
			continue
		}
		hours := trace.V("full-rate hours", unit.Hours(kindCourse(b.Lager).whole))
		step := trace.Step{
			Title: "Peak heat of fermentation in " + r.Tag, Symbol: "q", Formula: "V ρ/100 · 0.8192 (OE - AE) · 650 kJ/kg / full-rate hours",
			Values: []trace.Value{trace.V("V", r.Volume), trace.V("OE", b.Original), trace.V("AE", b.Final), hours},
			Result: r.PeakHeat, Source: fromPractice,
		}
		switch {
		case b.Peak != nil:
			step.Formula, step.Values = "given", []trace.Value{trace.V("q", *b.Peak)}
		case b.Heat != nil:
			step.Formula, step.Values = "Q / full-rate hours", []trace.Value{trace.V("Q", *b.Heat), hours}
		}
		t.Add(step)
		return
	}
}

func loadSteps(t *trace.Trace, res *Result) {
	s := &res.Load
	at := &res.Hours[s.PeakHour]
	t.Add(trace.Step{
		Title: "Highest hour of the cellar", Symbol: "Q_max", Formula: "ferment + crash + gains + bright + liquor",
		Values: []trace.Value{
			trace.V("hour", unit.PureNumber(float64(s.PeakHour))), trace.V("ferment", at.Ferment), trace.V("crash", at.Crash),
			trace.V("gains", at.Gain), trace.V("bright", at.Bright), trace.V("liquor", at.Liquor),
		},
		Result: s.Process, Source: source.Derivation("heat balance, hourly means"),
	})
	t.Add(trace.Step{
		Title: "Diversity", Symbol: "d", Formula: "Q_max / Σ own maxima", Values: []trace.Value{trace.V("Q_max", s.Process), trace.V("Σ", s.SumOfMaxima)},
		Result: s.Diversity, Source: source.Derivation("arithmetic"),
	})
	t.Add(trace.Step{
		Title: "Cellar with the crashes allowed for", Symbol: "Q_p", Formula: "Q_max + further crashes", Values: []trace.Value{trace.V("Q_max", s.Process), trace.V("mean crashing", s.MeanCrash), trace.V("at once", unit.PureNumber(float64(s.CrashAtOnce))), trace.V("Q_c", s.ExtraCrash)},
		Result: s.Design, Source: fromPractice,
	})
	t.Add(trace.Step{
		Title: "Duty of the chiller", Symbol: "Q_D", Formula: "(Q_p + Q_pipe + Q_pump)(1 + margin)", Values: []trace.Value{trace.V("Q_p", s.Design), trace.V("Q_pipe", s.Pipe), trace.V("Q_pump", s.Pump), trace.V("margin", s.Margin)},
		Result: s.Duty, Source: source.Derivation("one margin, applied once"),
	})
}

func circuitSteps(t *trace.Trace, res *Result) {
	c := &res.Circuit
	t.Add(trace.Step{
		Title: "Flow", Symbol: "V", Formula: "max(open jackets, Q/(ρ c Δt))", Values: []trace.Value{trace.V("jackets open", unit.PureNumber(float64(c.OpenJackets))), trace.V("V_jackets", c.JacketFlow), trace.V("V_duty", c.DutyFlow)},
		Result: c.Flow, Source: source.Derivation("heat balance"),
	})
	if len(c.Sections) > 0 {
		m := &c.Sections[0]
		t.Add(trace.Step{
			Title: "Reynolds number of the main", Symbol: "Re", Formula: "v d ρ/μ", Values: []trace.Value{trace.V("v", m.Velocity), trace.V("d", m.Pipe.Bore), trace.V("ρ", res.Fluid.AtSupply.Density), trace.V("μ", res.Fluid.AtSupply.Viscosity)},
			Result: m.Reynolds, Source: source.Derivation("definition"), Note: string(m.Regime),
		})
		t.Add(trace.Step{
			Title: "Gradient of the main", Symbol: "Δp/L", Formula: "f/d · ρ v²/2", Values: []trace.Value{trace.V("f", m.Friction), trace.V("d", m.Pipe.Bore), trace.V("v", m.Velocity)},
			Result: m.Gradient, Source: fromColebrok,
		})
		t.Add(trace.Step{
			Title: "Gain of the pipes", Symbol: "Q_pipe", Formula: "Σ L · 2πλΔt/[ln((d+2s)/d) + 2λ/(h(d+2s))]", Values: []trace.Value{trace.V("d", m.Pipe.Outside), trace.V("s", m.Foam), trace.V("t_room", res.Room)},
			Result: c.Gain, Source: fromIncrop,
		})
	}
	for i := range c.Sections {
		s := &c.Sections[i]
		if !s.Index || s.Tag == "A" {
			continue
		}
		t.Add(trace.Step{
			Title: "Fittings from " + s.From + " to " + s.To, Symbol: "Δp_f", Formula: "ΣK ρ v²/2, K = K1/Re + K∞(1 + 25.4/d)",
			Values: []trace.Value{trace.V("ΣK", s.K), trace.V("ρ", res.Fluid.AtSupply.Density), trace.V("v", s.Velocity)}, Result: s.Fittings, Source: fromHooper,
		})
		if s.Tag == "B" {
			t.Add(trace.Step{
				Title: "Control valve of " + s.To, Symbol: "Δp_v", Formula: "(V/Kv)² ρ/1000 in bar",
				Values: []trace.Value{trace.V("V", s.Flow), trace.V("Kv", s.Kv), trace.V("ρ", res.Fluid.AtSupply.Density)}, Result: s.ValveDrop, Source: fromValve,
			})
		}
	}
	t.Add(trace.Step{
		Title: "Pressure of the pump", Symbol: "Δp", Formula: "1.15 (pipes + fittings + valve + jacket + chiller) + lift",
		Values: []trace.Value{trace.V("pipes", c.PipeDrop), trace.V("fittings", c.Fittings), trace.V("valve", c.ValveDrop), trace.V("jacket", c.JacketDrop), trace.V("chiller", c.ChillerDrop), trace.V("lift", c.Lift)},
		Result: c.Need, Source: source.Derivation("sum of the index run"), Note: "15 % for the viscosity of cold glycol",
	})
	t.Add(trace.Step{
		Title: "Power of the pump", Symbol: "P", Formula: "V Δp/η", Values: []trace.Value{trace.V("V", c.Flow), trace.V("Δp", c.Need), trace.V("P_hyd", c.Hydraulic)},
		Result: c.Shaft, Source: fromPractice, Note: "η 0.45, above 1 kW 0.60",
	})
}

func chillerSteps(t *trace.Trace, in *Input, res *Result) {
	c, s, site := &res.Chiller, &res.Store, &res.Siting
	t.Add(trace.Step{
		Title: "Output at the design's conditions", Symbol: "Q_0", Formula: "maker's table, interpolated", Values: []trace.Value{trace.V("t_g", res.Fluid.Supply), trace.V("t_air", res.Ambient), trace.V("glycol and height", c.Each.Factor), trace.V("units", unit.PureNumber(float64(c.Units)))},
		Result: c.Capacity, Source: source.Derivation("linear in both temperatures, never beyond the table"), Note: c.Why,
	})
	t.Add(trace.Step{
		Title: "Store against cycling", Symbol: "V", Formula: "max((Q_s - Q_l) 5 min, 3600 Q_s/(4 · 6))/(ρ c · 2 K)", Values: []trace.Value{trace.V("V_run", s.Short), trace.V("V_starts", s.Starts)},
		Result: s.Cycling, Source: source.Derivation("heat balance"),
	})
	if in.Wort != nil {
		t.Add(trace.Step{
			Title: "Store for the wort", Symbol: "V_w", Formula: "(Q_w - spare) t/(ρ c ΔT)", Values: []trace.Value{trace.V("E", s.WortNeed), trace.V("ΔT", s.Swing)},
			Result: s.WortVolume, Source: source.Derivation("heat balance"),
		})
	}
	t.Add(trace.Step{
		Title: "Glycol in the filling", Symbol: "m", Formula: "x ρ V", Values: []trace.Value{trace.V("x", res.Fluid.Mass), trace.V("V", s.Fill)},
		Result: s.Glycol, Source: source.Derivation("mass balance"),
	})
	t.Add(trace.Step{
		Title: "Swelling to standstill", Symbol: "ΔV", Formula: "(ρ_cold/ρ_warm - 1) V", Values: []trace.Value{trace.V("e", s.Expansion), trace.V("V", s.Fill)},
		Result: s.Swell, Source: fromMelinder,
	})
	if in.Sealed {
		t.Add(trace.Step{
			Title: "Expansion vessel", Symbol: "V_e", Formula: "(ΔV + reserve)(p_e + 1)/(p_e - p_0)", Values: []trace.Value{trace.V("ΔV", s.Swell)},
			Result: s.Vessel, Source: fromVessel,
		})
	}
	t.Add(trace.Step{
		Title: "Heat to the air", Symbol: "Q_rej", Formula: "Q_0 + P", Values: []trace.Value{trace.V("Q_0", c.Capacity), trace.V("P", c.Input)},
		Result: site.Rejected, Source: source.Derivation("heat balance"),
	})
	t.Add(trace.Step{
		Title: "Air of the condenser", Symbol: "V_air", Formula: "Q_rej/(1.15 · 1.006 · 10 K)", Values: []trace.Value{trace.V("Q_rej", site.Rejected)},
		Result: site.Air, Source: fromPractice,
	})
	if site.Sound != nil {
		t.Add(trace.Step{
			Title: "Sound at the nearest window", Symbol: "Lp", Formula: "Lw - 20 log r - 11 + 10 log Q", Values: []trace.Value{trace.V("Lw", *in.Chiller.Sound), trace.V("r", *in.Siting.Neighbour)},
			Result: *site.Sound, Source: fromSound,
		})
	}
}
