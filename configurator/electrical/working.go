package electrical

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
)

// Working is the working of one circuit, step by step, for the appendix or on demand.
func (f Facts) Working(i int) trace.Trace {
	c := &f.Result.Circuits[i]
	var t trace.Trace
	formula, volts := "P / (U · cos φ · η)", f.Result.voltageOf(&f.Input.Loads[i])
	if c.Lines == "L1L2L3" {
		formula = "P / (√3 · U · cos φ · η)"
	}
	ib := trace.Step{
		Title: "Design current of " + c.Tag, Symbol: "Ib", Formula: formula, Result: c.Ib, Source: source.Derivation("arithmetic of alternating current"),
		Values: []trace.Value{trace.V("P", unit.Watts(c.Power.W()*c.Eta.Value())), trace.V("U", volts), trace.V("cos φ", c.PF), trace.V("η", c.Eta)},
	}
	if f.Input.Rules == NEC && f.Input.Loads[i].Kind == Motor && f.Input.Loads[i].Shaft {
		ib.Formula, ib.Values = "table of full-load currents", []trace.Value{trace.V("P", f.Input.Loads[i].Power), trace.V("U", volts)}
		ib.Source = nfpa70.At("430.6(A)(1), Tables 430.248 and 430.250")
	}
	t.Add(ib)
	if c.Problem != "" {
		return t
	}
	if f.Input.Rules == NEC {
		return append(t, c.workingNEC()...)
	}
	return append(t, c.workingIEC()...)
}

func (c *Circuit) workingIEC() trace.Trace {
	var t trace.Trace
	if c.StartCurrent > c.Ib && c.Device.Curve != "" {
		t.Add(trace.Step{
			Title: "Rating that lets " + c.Tag + " start", Symbol: "In", Formula: "Istart / n, n = 3 for B, 5 for C, 10 for D", Values: []trace.Value{trace.V("Istart", c.StartCurrent)},
			Result: unit.Amperes(c.StartCurrent.A() / holdMultiple(c.Device.Curve)), Source: source.Doc{ID: "IEC 60898-1"}.At("Table 2"), Note: c.Device.Text(),
		})
	}
	t.Add(trace.Step{
		Title: "Tabulated capacity wanted by " + c.Tag, Symbol: "It", Formula: "In / (Ca · Cg)", Result: c.Cable.Need, Source: bs7671.At("Appendix 4, 5"),
		Values: []trace.Value{trace.V("In", c.Device.Rating), trace.V("Ca", c.Cable.Ca), trace.V("Cg", c.Cable.Cg)},
		Note:   c.Cable.Live() + " carries " + unit.Fixed(c.Cable.It, 0) + " by method " + string(c.Cable.Method),
	})
	t.Add(trace.Step{
		Title: "Capacity as laid of " + c.Tag, Symbol: "Iz", Formula: "It · Ca · Cg", Result: c.Cable.Iz, Source: bs7671.At("Appendix 4, 4"),
		Values: []trace.Value{trace.V("It", c.Cable.It), trace.V("Ca", c.Cable.Ca), trace.V("Cg", c.Cable.Cg)},
	})
	t.Add(trace.Step{
		Title: "Voltage drop of " + c.Tag, Symbol: "ΔU", Formula: "z · I · L, z by size", Result: c.Drop, Source: bs7671.At("Appendix 4, 6"),
		Values: []trace.Value{trace.V("S", c.Cable.Section), trace.V("I", c.Ib), trace.V("L", c.Cable.Length)}, Note: "sockets at the rating of the outlet",
	})
	if c.Zs == nil {
		return t
	}
	t.Add(trace.Step{
		Title: "Earth fault loop of " + c.Tag, Symbol: "Zs", Formula: "Ze + (R1 + R2)", Result: *c.Zs, Source: bs7671.At("411.4.4, Table 41.3"),
		Values: []trace.Value{trace.V("Ze", unit.Ohms(c.Zs.Ohm()-c.R1R2.Ohm())), trace.V("R1+R2", c.R1R2)}, Note: "limit " + unit.Fixed(c.ZsMax, 3),
	})
	return t
}

func (c *Circuit) workingNEC() trace.Trace {
	var t trace.Trace
	t.Add(trace.Step{
		Title: "Conductor of " + c.Tag, Symbol: "I", Formula: "1.25 · Ib for continuous loads, heating and motors", Result: c.Cable.Need, Source: nfpa70.At("210.19(A), 422.13, 430.22"),
		Values: []trace.Value{trace.V("Ib", c.Ib)}, Note: c.Cable.Live() + " carries " + unit.Fixed(c.Cable.It, 0) + " at the terminals (310.16, 110.14(C))",
	})
	t.Add(trace.Step{
		Title: "Device of " + c.Tag, Symbol: "In", Formula: "next standard rating", Result: c.Device.Rating, Source: nfpa70.At("240.6(A), 240.4, 430.52"),
		Values: []trace.Value{trace.V("I", c.Cable.Need)}, Note: "grounding conductor " + c.Cable.Protective() + " (250.122)",
	})
	t.Add(trace.Step{
		Title: "Voltage drop of " + c.Tag, Symbol: "ΔU", Formula: "√3 · (R · pf + X · sin φ) · I · L, on one phase 2 in place of √3", Result: c.Drop, Source: nfpa70.At("chapter 9 Table 9"),
		Values: []trace.Value{trace.V("I", c.Ib), trace.V("L", c.Cable.Length)},
	})
	return t
}
