package brewing

import (
	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/trace"
)

type heatUpIn struct {
	Capacity unit.HeatCapacity `yaml:"heat_capacity_kj_k,required" doc:"of contents and vessel"`
	Power    unit.Power        `yaml:"power_kw,required"`
	Loss     unit.Conductance  `yaml:"loss_kw_k,omitempty" doc:"UA to the room"`
	From     unit.Temperature  `yaml:"from_c,required"`
	To       unit.Temperature  `yaml:"to_c,required"`
	Room     unit.Temperature  `yaml:"room_c,required"`
}

type durationOut struct {
	Time unit.Duration `yaml:"time_min"`
}

type boilIn struct {
	Evaporation unit.MassFlow `yaml:"evaporation_kg_h,required"`
	Efficiency  unit.Ratio    `yaml:"efficiency_pct,required"`
}

type powerOut struct {
	Power unit.Power `yaml:"power_kw"`
}

type evaporationIn struct {
	Power unit.Power       `yaml:"power_kw,required" doc:"heat that reaches the wort"`
	Loss  unit.Conductance `yaml:"loss_kw_k,omitempty"`
	Room  unit.Temperature `yaml:"room_c,required"`
	Hot   unit.Volume      `yaml:"hot_l,required" doc:"hot wort at cast-out"`
}

func heatCalculations() []calc.Calculation {
	const heatUp = "(C/UA)·ln((P − UA·(T1 − Ta))/(P − UA·(T2 − Ta)))"
	const evap = "(P − UA·(100 − Ta))·3600/2256.5/(0.9584·V_hot)"
	return []calc.Calculation{
		calc.New("brewing.heat-up-time", "Time to heat a vessel with losses", "t = "+heatUp, refHeat, `{"heat_capacity_kj_k": 4581, "power_kw": 45, "loss_kw_k": 0.12, "from_c": 74, "to_c": 100, "room_c": 20}`,
			func(in heatUpIn) (durationOut, trace.Trace, error) {
				t, err := HeatUpTime(in.Capacity, in.Power, in.Loss, in.From, in.To, in.Room)
				return durationOut{t}, oneStep("heat-up", "t", heatUp, refHeat, t, trace.V("C", in.Capacity), trace.V("P", in.Power), trace.V("UA", in.Loss), trace.V("T1", in.From), trace.V("T2", in.To), trace.V("Ta", in.Room)), err
			}),
		calc.New("brewing.boil-power", "Power that evaporates a mass flow", "P = M·2256.5/3600/η", refBoil, `{"evaporation_kg_h": 100, "efficiency_pct": 95}`,
			func(in boilIn) (powerOut, trace.Trace, error) {
				p, err := BoilPower(in.Evaporation, in.Efficiency)
				return powerOut{p}, oneStep("boil", "P", "M·2256.5/3600/η", refBoil, p, trace.V("M", in.Evaporation), trace.V("η", in.Efficiency)), err
			}),
		calc.New("brewing.evaporation", "Evaporation of a heat source, of the cast volume in an hour", "e = "+evap, refBoil, `{"power_kw": 45, "loss_kw_k": 0.12, "room_c": 20, "hot_l": 1073.9}`,
			func(in evaporationIn) (ratioOut, trace.Trace, error) {
				e, err := EvaporationRate(in.Power, in.Loss, in.Room, in.Hot)
				return ratioOut{e}, oneStep("evaporation", "e", evap, refBoil, e, trace.V("P", in.Power), trace.V("UA", in.Loss), trace.V("Ta", in.Room), trace.V("V_hot", in.Hot)), err
			}),
	}
}

type lmtdIn struct {
	HotIn   unit.Temperature `yaml:"hot_in_c,required"`
	HotOut  unit.Temperature `yaml:"hot_out_c,required"`
	ColdIn  unit.Temperature `yaml:"cold_in_c,required"`
	ColdOut unit.Temperature `yaml:"cold_out_c,required"`
}

type differenceOut struct {
	Difference unit.TempDiff `yaml:"difference_k"`
}

type effectIn struct {
	NTU   unit.Number `yaml:"ntu_number,required"`
	Ratio unit.Ratio  `yaml:"capacity_ratio,required" doc:"smaller over larger heat capacity rate"`
}

type coolIn struct {
	Wort     unit.Mass        `yaml:"wort_kg,required"`
	Extract  unit.Plato       `yaml:"extract_plato,required"`
	From     unit.Temperature `yaml:"from_c,required"`
	To       unit.Temperature `yaml:"to_c,required"`
	WaterIn  unit.Temperature `yaml:"water_in_c,required"`
	WaterOut unit.Temperature `yaml:"water_out_c,required"`
	Time     unit.Duration    `yaml:"time_min,required"`
}

type coolOut struct {
	Heat          unit.Energy      `yaml:"heat_kwh"`
	Power         unit.Power       `yaml:"power_kw"`
	Water         unit.Volume      `yaml:"water_l"`
	LMTD          unit.TempDiff    `yaml:"lmtd_k"`
	UA            unit.Conductance `yaml:"ua_kw_k"`
	NTU           unit.Number      `yaml:"ntu_number"`
	CapacityRatio unit.Ratio       `yaml:"capacity_ratio"`
	Effectiveness unit.Ratio       `yaml:"effectiveness_ratio"`
}

func coolerCalculations() []calc.Calculation {
	lmtd := docIncropera.Recalled("counterflow: log mean temperature difference")
	eff := docIncropera.Recalled("counterflow: effectiveness by NTU")
	return []calc.Calculation{
		calc.New("brewing.lmtd", "Mean temperature difference of a counterflow exchanger", "(ΔT1 − ΔT2)/ln(ΔT1/ΔT2)", lmtd, `{"hot_in_c": 96, "hot_out_c": 18, "cold_in_c": 10, "cold_out_c": 78}`,
			func(in lmtdIn) (differenceOut, trace.Trace, error) {
				d, err := LMTD(in.HotIn, in.HotOut, in.ColdIn, in.ColdOut)
				return differenceOut{d}, oneStep("mean difference", "LMTD", "(ΔT1 − ΔT2)/ln(ΔT1/ΔT2)", lmtd, d, trace.V("T_hot,in", in.HotIn), trace.V("T_hot,out", in.HotOut), trace.V("T_cold,in", in.ColdIn), trace.V("T_cold,out", in.ColdOut)), err
			}),
		calc.New("brewing.effectiveness", "Effectiveness of a counterflow exchanger", "ε = (1 − e^(−NTU(1−Cr)))/(1 − Cr·e^(−NTU(1−Cr)))", eff, `{"ntu_number": 6.33, "capacity_ratio": 0.872}`,
			func(in effectIn) (factorOut, trace.Trace, error) {
				e, err := Effectiveness(in.NTU, in.Ratio)
				return factorOut{e}, oneStep("effectiveness", "ε", "(1 − e^(−NTU(1−Cr)))/(1 − Cr·e^(−NTU(1−Cr)))", eff, e, trace.V("NTU", in.NTU), trace.V("Cr", in.Ratio)), err
			}),
		calc.New("brewing.wort-cooling", "One pass of a wort cooler", "Q = m·c·ΔT, UA = Q/t/LMTD", lmtd, `{"wort_kg": 1044.4, "extract_plato": 11.5, "from_c": 96, "to_c": 18, "water_in_c": 10, "water_out_c": 78, "time_min": 45}`, coolSheet),
	}
}

func coolSheet(in coolIn) (coolOut, trace.Trace, error) {
	d, err := CoolWort(CoolingTask(in))
	if err != nil {
		return coolOut{}, nil, err
	}
	steps := trace.Trace{
		{Title: "heat", Symbol: "Q", Formula: "m·(4.187 − 0.0251·P)·(T_from − T_to)", Values: []trace.Value{trace.V("m", in.Wort), trace.V("P", in.Extract), trace.V("T_from", in.From), trace.V("T_to", in.To)}, Result: d.Heat, Source: refHeat},
		{Title: "water", Symbol: "V_w", Formula: "Q/(4.19·(T_wo − T_wi))", Values: []trace.Value{trace.V("Q", d.Heat), trace.V("T_wi", in.WaterIn), trace.V("T_wo", in.WaterOut)}, Result: d.Water, Source: refHeat},
		{Title: "exchanger", Symbol: "UA", Formula: "Q/t/LMTD", Values: []trace.Value{trace.V("Q", d.Heat), trace.V("t", in.Time), trace.V("LMTD", d.LMTD)}, Result: d.UA, Source: docIncropera.Recalled("counterflow")},
	}
	return coolOut(d), steps, nil
}
