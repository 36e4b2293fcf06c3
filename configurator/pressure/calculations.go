package pressure

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/trace"
)

type categoryIn struct {
	Kind     string             `yaml:"kind,required" enum:"tank|receiver|steam-generator|keg|bottle|cylinder|pipe|exchanger|pressure-cooker|warm-water-heating|extinguisher"`
	Contents string             `yaml:"contents,required" enum:"beer-co2|co2|air|nitrogen|steam|water|superheated|coolant|caustic|group-1|open"`
	PS       unit.GaugePressure `yaml:"ps_bar_g,required"`
	Volume   unit.Volume        `yaml:"volume_l,required"`
	DN       unit.Length        `yaml:"dn_mm,omitempty"`
}

type categoryOut struct {
	PV       unit.PressureEnergy `yaml:"ps_v_bar_l"`
	Category string              `yaml:"category"`
	Table    int                 `yaml:"table"`
	Words    string              `yaml:"words"`
	Caution  string              `yaml:"caution,omitempty"`
	Papers   string              `yaml:"papers"`
	Scheme   bool                `yaml:"written_scheme"`
}

type gasReliefIn struct {
	Flow unit.MassFlow      `yaml:"co2_kg_h,required"`
	Set  unit.GaugePressure `yaml:"set_bar_g,required"`
	Temp unit.Temperature   `yaml:"gas_c,required"`
}

type areaOut struct {
	Area unit.Area `yaml:"area_mm2"`
}

type liquidReliefIn struct {
	Flow unit.VolumeFlow    `yaml:"flow_l_min,required"`
	Set  unit.GaugePressure `yaml:"set_bar_g,required"`
}

type collapseIn struct {
	Hot  unit.Temperature `yaml:"hot_c,required"`
	Cold unit.Temperature `yaml:"cold_c,required"`
}

type collapseOut struct {
	Inside unit.AbsPressure `yaml:"inside_kpa_a"`
	Share  unit.Ratio       `yaml:"air_share_pct"`
}

type vacuumIn struct {
	Flow unit.VolumeFlow   `yaml:"flow_l_min,required"`
	DP   unit.PressureDiff `yaml:"vacuum_pa,required"`
}

type equilibriumIn struct {
	Carbonation unit.Carbonation `yaml:"carbonation_g_l,required"`
	Temp        unit.Temperature `yaml:"beer_c,required"`
}

type equilibriumOut struct {
	Pressure unit.GaugePressure `yaml:"pressure_bar_g"`
}

// Calculations lists the calculations that can be run by name.
func Calculations() []calc.Calculation {
	air := source.Derivation("flow of air through an opening, coefficient 0.6")
	return append([]calc.Calculation{
		calc.New("pressure.category", "Category of a vessel or pipe", "PS·V or PS·DN against the tables of Annex II", annex("Annex II"), `{"kind": "tank", "contents": "beer-co2", "ps_bar_g": 2, "volume_l": 2600}`, calcCategory),
		calc.New("pressure.gas-relief", "Flow area of a relief valve for carbon dioxide", "m/(C·Kd·P1)·√(T·Z/M)", api520.At("gas relief"), `{"co2_kg_h": 60, "set_bar_g": 2, "gas_c": 15}`, calcGasRelief),
		calc.New("pressure.liquid-relief", "Flow area of a relief valve for overfilling", "11.78·Q/Kd·√(G/p)", api520.Recalled("liquid relief"), `{"flow_l_min": 60, "set_bar_g": 2}`, calcLiquidRelief),
		calc.New("pressure.cooling-vacuum", "Pressure in a shut tank after a cold rinse", "(p-pws1)·T2/T1 + pws2", source.Derivation("ideal gas, ASHRAE saturation pressure"), `{"hot_c": 70, "cold_c": 15}`, calcCollapse),
		calc.New("pressure.vacuum-valve", "Flow area of a vacuum valve", "Q/(0.6·√(2·Δp/ρ))", air, `{"flow_l_min": 100, "vacuum_pa": 300}`, calcVacuum),
		calc.New("pressure.carbonation-equilibrium", "Pressure at which beer keeps its carbonation", "polynomial in °F and volumes", asbc.Recalled("carbonation table"), `{"carbonation_g_l": 5, "beer_c": 3}`, calcEquilibrium),
	}, moreCalculations()...)
}

func calcCategory(in categoryIn) (categoryOut, trace.Trace, error) {
	var dn *unit.Length
	if in.DN > 0 {
		dn = &in.DN
	}
	kind, contents := Kind(in.Kind), Contents(in.Contents)
	v, err := Classify(kind, contents, in.PS, in.Volume, dn)
	if err != nil {
		return categoryOut{}, nil, err
	}
	pv := unit.BarLitres(in.PS.BarG() * in.Volume.L())
	t := trace.Trace{{Title: "Pressure times volume", Symbol: "PS·V", Formula: "PS·V", Values: []trace.Value{trace.V("PS", in.PS), trace.V("V", in.Volume)}, Result: pv, Source: v.Source, Note: v.Text()}}
	return categoryOut{pv, v.Text(), v.Table, v.Words, v.Caution, consequenceOf(v.Category, GB).Papers, inUse(GB, kind, contents, in.PS, in.Volume).Scheme}, t, nil
}

func calcGasRelief(in gasReliefIn) (areaOut, trace.Trace, error) {
	a, err := GasRelief(in.Flow, in.Set, in.Temp)
	return areaOut{a}, trace.Trace{{Title: "Gas relief", Symbol: "A", Formula: "m/(C·Kd·P1)·√(T·Z/M)", Values: []trace.Value{trace.V("m", in.Flow), trace.V("set", in.Set), trace.V("T", in.Temp)}, Result: a, Source: api520.At("gas relief")}}, err
}

func calcLiquidRelief(in liquidReliefIn) (areaOut, trace.Trace, error) {
	a, err := LiquidRelief(in.Flow, in.Set)
	return areaOut{a}, trace.Trace{{Title: "Liquid relief", Symbol: "A", Formula: "11.78·Q/Kd·√(G/p)", Values: []trace.Value{trace.V("Q", in.Flow), trace.V("set", in.Set)}, Result: a, Source: api520.Recalled("liquid relief")}}, err
}

func calcCollapse(in collapseIn) (collapseOut, trace.Trace, error) {
	p, s, err := Collapse(in.Hot, in.Cold)
	return collapseOut{p, s}, trace.Trace{{Title: "Pressure after cooling", Symbol: "p2", Formula: "(p-pws1)·T2/T1 + pws2", Values: []trace.Value{trace.V("T1", in.Hot), trace.V("T2", in.Cold)}, Result: p, Source: source.Derivation("ideal gas, ASHRAE saturation pressure")}}, err
}

func calcVacuum(in vacuumIn) (areaOut, trace.Trace, error) {
	a, err := VacuumArea(in.Flow, in.DP)
	return areaOut{a}, trace.Trace{{Title: "Vacuum valve", Symbol: "A", Formula: "Q/(0.6·√(2·Δp/ρ))", Values: []trace.Value{trace.V("Q", in.Flow), trace.V("Δp", in.DP)}, Result: a, Source: source.Derivation("flow of air through an opening")}}, err
}

func calcEquilibrium(in equilibriumIn) (equilibriumOut, trace.Trace, error) {
	p, err := EquilibriumPressure(in.Carbonation, in.Temp)
	return equilibriumOut{p}, trace.Trace{{Title: "Equilibrium pressure", Symbol: "p", Formula: "polynomial in °F and volumes", Values: []trace.Value{trace.V("c", in.Carbonation), trace.V("T", in.Temp)}, Result: p, Source: asbc.Recalled("carbonation table")}}, err
}
