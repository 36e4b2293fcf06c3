package electrical

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
)

// threshold reads one point at which a supply changes its kind.
func threshold(key string) float64 {
	row, _ := thresholdTable.Find("key", key)
	x, _ := thresholdTable.Number(row, "value")
	return x
}

var (
	ctAmps       = threshold("ct_a")
	largeAmps    = threshold("ct_large_a")
	halfHourKW   = threshold("half_hourly_kw")
	domesticAmps = threshold("domestic_a")
)

// actions lists what the network operator and the metering must hear of. Each is to
// be confirmed with the operator.
func (st *study) actions(r *Result) {
	add := func(key, words string) {
		r.Actions = append(r.Actions, Action{key, words + "; confirm with the operator"})
	}
	d := r.Binding.Demand.A()
	total := d + r.Supply.Existing[r.Binding.Line-1].A()
	add("apply", "an added load of "+unit.Fixed(SupplyPower(r.Supply.Phases, r.Supply.Voltage, unit.Amperes(d)), 0)+
		" must be agreed with the network operator before equipment is ordered")
	if st.sys.rules == NEC {
		if m := r.Binding.Margin; m != nil && *m < 0 {
			add("service", "a larger service is wanted: "+unit.Digits(total, 3)+" A on the worst line")
		}
		return
	}
	if r.Supply.Phases == 1 && total > domesticAmps {
		add("three-phase", unit.Digits(total, 3)+" A is above the usual single-phase connection of "+unit.Digits(domesticAmps, 3)+" A")
	}
	if total > ctAmps {
		add("ct-metering", unit.Digits(total, 3)+" A is above 100 A: current-transformer metering and room for its chamber")
	}
	if total > largeAmps {
		add("large", "above 400 A: a large connection with a separate chamber")
	}
	if kw := r.Energy.Peak.KW() + r.Supply.existingKW(); kw > halfHourKW {
		add("half-hourly", "a half-hour demand of "+unit.Digits(kw, 3)+" kW is above 100 kW: half-hourly metering and a capacity agreed with the operator")
	}
	st.disturbance(add)
	if share := st.thirdHarmonic(r); share > 0.15 {
		add("neutral", "third harmonic of about "+unit.Fixed(unit.Fraction(share), 0)+" in the line current: neutral and rating factor 0.86 by IEC 60364-5-52 Annex E")
	}
}

// thirdHarmonic estimates the third harmonic in the current of the feeder's worst
// line: electronics and single-phase drives are taken to carry four fifths of theirs
// (from memory), elements and motors none.
func (st *study) thirdHarmonic(r *Result) float64 {
	s, line := r.Binding.State, r.Binding.Line-1
	distorted := 0.0
	for i := range st.loads {
		l := st.loads[i].load
		if st.loads[i].poles == 1 && st.takesLine(i, line) && (l.Kind == Electronics || l.Starter == VariableSpeed) {
			distorted += st.amps(s, i)
		}
	}
	if total := r.States[s].Line[line].A(); total > 0 {
		return 0.8 * distorted / total
	}
	return 0
}

// existingKW is the existing load at unity power factor, on the safe side.
func (f *SupplyFigures) existingKW() float64 {
	kw := 0.0
	for l := range f.Lines {
		kw += f.Existing[l].A() * f.PhaseVoltage.V() / 1000
	}
	return kw
}

// disturbance flags what the operator asks about loads that disturb others.
func (st *study) disturbance(add func(key, words string)) {
	drives, starts := false, 0.0
	for i := range st.loads {
		l := st.loads[i].load
		drives = drives || l.Starter == VariableSpeed
		if l.Kind == Motor && (l.Starter == Direct || l.Starter == "" || l.Starter == NoStarter) {
			starts = max(starts, st.loads[i].ib*st.startMultiple(l))
		}
	}
	if starts > 75 {
		add("disturbing", "a motor starts with "+unit.Digits(starts, 3)+" A: voltage step by EREC P28")
	}
	if drives {
		add("harmonics", "variable-speed drives: harmonic emission by EREC G5/5")
	}
}

// trace writes the working of the deciding figures: the largest load's current, the
// binding state, the assignment, and the circuit of the largest load.
func (st *study) trace(r *Result) {
	big := 0
	for i := range st.loads {
		if st.loads[i].ib > st.loads[big].ib {
			big = i
		}
	}
	st.traceState(r)
	b := &r.Balance
	note := "proven: nothing is lower by more than the slack"
	if !b.Proven {
		note = "the search ended before the proof; the bound tells how far it can be from the best"
	}
	r.Trace.Add(trace.Step{Title: "Assignment of single-phase loads", Symbol: "Iworst", Formula: "min over lines of max over states and lines of I(s, line)", Values: []trace.Value{
		trace.V("bound", b.Bound), trace.V("slack", b.Slack), trace.V("by totals", b.Totals),
	}, Result: b.Worst, Source: source.Derivation("branch and bound over all assignments"), Note: note})
	r.Trace = append(r.Trace, Facts{*st.in, *r}.Working(big)...)
}

func (st *study) traceState(r *Result) {
	d := &r.States[r.Binding.State]
	line := d.Worst - 1
	values := make([]trace.Value, 0, len(d.Runs))
	for _, run := range d.Runs {
		if st.takesLine(run.Load, line) {
			values = append(values, trace.V(run.Tag, unit.Amperes(st.amps(r.Binding.State, run.Load))))
		}
	}
	r.Trace.Add(trace.Step{
		Title: "Line current in " + d.Title, Symbol: "I(L" + string(rune('1'+line)) + ")", Formula: "Σ f · Ib",
		Values: values, Result: d.Line[line], Source: source.Derivation("arithmetic sum of currents, on the safe side of the sum of phasors"),
		Note: "of an interlocked group the largest counts",
	})
	if d.Margin != nil {
		r.Trace.Add(trace.Step{Title: "Margin of the supply", Symbol: "ΔI", Formula: "Ifuse − Iexisting − I", Values: []trace.Value{
			trace.V("Ifuse", *st.in.Supply.Fuse), trace.V("Iexisting", r.Supply.Existing[line]), trace.V("I", d.Line[line]),
		}, Result: *d.Margin, Source: source.Derivation("subtraction")})
	}
}
