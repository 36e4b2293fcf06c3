package water

import (
	"fmt"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
)

// Size works out demand, supply, waste and gases. An error means that the input
// cannot be, never that the supply is too small.
func Size(in Input) (Result, error) {
	var r Result
	switch in.Country {
	case "", GB, IE, DE, US:
	default:
		return r, fmt.Errorf("water: country %q is not known: use GB, IE, DE or US", in.Country)
	}
	for _, p := range []part{supplyPart, wastePart, gasPart} {
		if err := p(&r, in); err != nil {
			return r, err
		}
	}
	r.Treat = treatment(in, r.Demand)
	r.Supply.Schedule = supplySchedule(in, r.Demand, r.Supply)
	r.Waste.Schedule, r.Waste.Apply = wasteSchedule(in, r.Waste), application(in, r.Waste)
	r.Gas.Schedule = gasSchedule(in, r.Gas)
	r.Trace = steps(in, r)
	return r, nil
}

// part works out one side of the discipline, without the schedules of the papers; the
// sides do not look at each other.
type part func(*Result, Input) error

func supplyPart(r *Result, in Input) (err error) {
	if r.Demand, err = sizeDemand(in); err != nil {
		return fmt.Errorf("water demand: %w", err)
	}
	if r.Supply, err = sizeSupply(in, r.Demand); err != nil {
		return fmt.Errorf("water supply: %w", err)
	}
	if r.Backflow, err = sizeBackflow(in); err != nil {
		return fmt.Errorf("backflow: %w", err)
	}
	return nil
}

func wastePart(r *Result, in Input) (err error) {
	if r.Waste, err = sizeWaste(in); err != nil {
		return fmt.Errorf("waste water: %w", err)
	}
	if r.Gullies, err = sizeGullies(in, r.Waste); err != nil {
		return err
	}
	r.Drains, err = sizeDrains(in, r.Waste)
	return err
}

func gasPart(r *Result, in Input) (err error) {
	if r.Gas, err = sizeGas(in); err != nil {
		return fmt.Errorf("air and gases: %w", err)
	}
	return nil
}

func steps(in Input, r Result) trace.Trace {
	t := trace.Trace{
		{Title: "Peak of the fixtures", Symbol: "Q_D", Formula: "0.91 · ΣQA^0.31 - 0.38", Values: []trace.Value{trace.V("ΣQA", r.Demand.FixtureSum)}, Result: r.Demand.FixturePeak, Source: din1988.Recalled("office buildings")},
		{Title: "Peak on the main", Symbol: "Q", Formula: "Q_D + Q_direct + Q_tank", Values: []trace.Value{trace.V("Q_D", r.Demand.FixturePeak), trace.V("Q_tank", r.Demand.TankFlow)}, Result: r.Demand.MainPeak, Source: source.Derivation("draws of one stretch of the day added at full flow")},
		{Title: "Bore of the incoming pipe", Symbol: "d", Formula: "√(4·Q/(π·2.0))", Values: []trace.Value{trace.V("Q", r.Demand.MainPeak)}, Result: r.Supply.BoreNeeded, Source: en806.At("4.4")},
		{Title: "Friction to the outlet", Symbol: "Δp", Formula: "f · L/d · ρ·v²/2", Values: []trace.Value{trace.V("L", unit.Metres(in.Supply.Run.M()*fittings))}, Result: r.Supply.Friction, Source: source.Derivation("Darcy-Weisbach with Colebrook-White")},
	}
	if r.Supply.OutletKnown {
		t.Add(trace.Step{Title: "Pressure at the outlet", Symbol: "p", Formula: "p_main - 0.0981·h - Δp - Δp_meter", Values: []trace.Value{trace.V("p_main", *in.Supply.Pressure), trace.V("h", *in.Supply.Rise), trace.V("Δp_meter", r.Supply.Meter)}, Result: r.Supply.Outlet, Source: source.Derivation("Bernoulli")})
	}
	t.Add(trace.Step{Title: "COD in a day", Symbol: "m", Formula: "Σ V·c", Values: []trace.Value{trace.V("V", r.Waste.Day)}, Result: r.Waste.COD, Source: streams.Ref()})
	for _, d := range r.Drains {
		t.Add(trace.Step{Title: "Capacity of drain " + d.Name, Symbol: "Q", Formula: "-2·√(8gRS)·log10(k/(14.8R) + 1.255ν/(R·√(32gRS))) · A", Values: []trace.Value{trace.V("d", d.Bore), trace.V("S", d.Gradient), trace.V("h/d", d.Filling)}, Result: d.Capacity, Source: en12056.At("annex B")})
	}
	return t
}
