package pressure

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/trace"
)

type causticIn struct {
	Soda unit.MassFlow     `yaml:"soda_kg_h,required" range:"0.01..100000" doc:"caustic soda pumped in, as NaOH"`
	DP   unit.PressureDiff `yaml:"vacuum_pa,required" range:"1..100000" doc:"vacuum the tank bears"`
}

type causticOut struct {
	CO2  unit.Mass       `yaml:"co2_in_an_hour_kg"`
	Flow unit.VolumeFlow `yaml:"air_m3_h"`
	Area unit.Area       `yaml:"area_mm2"`
}

type ratioIn struct {
	K unit.Ratio `yaml:"specific_heats_ratio,required" range:"1.01..1.7"`
}

type ratioOut struct {
	Ratio unit.Ratio `yaml:"critical_ratio"`
}

// moreCalculations are caustic over carbon dioxide and the limit of critical flow.
func moreCalculations() []calc.Calculation {
	stoichiometry := source.Derivation("stoichiometry of 2 NaOH + CO2")
	return []calc.Calculation{
		calc.New("pressure.caustic-vacuum", "Vacuum valve for caustic over carbon dioxide", "Q = m/1.82·0.537; A = Q/(0.6·√(2·Δp/ρ))", stoichiometry, `{"soda_kg_h": 60, "vacuum_pa": 300}`,
			func(in causticIn) (causticOut, trace.Trace, error) {
				c, err := causticCase(in.Soda, in.DP)
				bound := BoundByCaustic(unit.Kilograms(in.Soda.KgH()))
				t := trace.Trace{
					{Title: "Carbon dioxide bound in an hour", Symbol: "m", Formula: "m_NaOH/1.82", Values: []trace.Value{trace.V("m_NaOH", in.Soda)}, Result: bound, Source: stoichiometry},
					{Title: "Vacuum valve", Symbol: "A", Formula: "Q/(0.6·√(2·Δp/ρ))", Values: []trace.Value{trace.V("Q", c.Flow), trace.V("Δp", in.DP)}, Result: c.Area, Source: source.Derivation("flow of air through an opening")},
				}
				return causticOut{bound, c.Flow, c.Area}, t, err
			}),
		calc.New("pressure.critical-ratio", "Back pressure below which gas flows at the speed of sound", "(2/(k+1))^(k/(k-1))", api520.At("critical flow"), `{"specific_heats_ratio": 1.29}`,
			func(in ratioIn) (ratioOut, trace.Trace, error) {
				r, err := CriticalRatio(in.K)
				return ratioOut{r}, trace.Trace{{Title: "Critical ratio", Symbol: "p2/p1", Formula: "(2/(k+1))^(k/(k-1))", Values: []trace.Value{trace.V("k", in.K)}, Result: r, Source: api520.At("critical flow")}}, err
			}),
	}
}
