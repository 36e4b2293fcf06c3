package pressure

import (
	_ "embed"
	"fmt"
	"strings"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

//go:embed tables/consequences.csv
var consequencesCSV string

var (
	consequenceTable = source.MustTable("consequences", consequencesCSV)
	decree           = source.Doc{ID: "Directive 2014/68/EU", Title: "Pressure Equipment Directive", Edition: "as transposed by decree 99-1046"}
	pssr             = source.Doc{ID: "PSSR 2000", Title: "Pressure Systems Safety Regulations 2000", Edition: "SI 2000/128"}
)

// Classify gives the verdict on one chamber: the exceptions first, then the table.
func Classify(kind Kind, contents Contents, ps unit.GaugePressure, v unit.Volume, dn *unit.Length) (Verdict, error) {
	if err := unit.Within("PS", ps, 0, unit.BarGauge(10000)); err != nil {
		return Verdict{}, fmt.Errorf("category: %w", err)
	}
	if e, ok := excluded(kind, contents, ps, v); ok {
		return e, nil
	}
	switch {
	case contents == Flammable:
		return group1(ps, v)
	case kind == Pipe && dn != nil && liquid(contents):
		return PipeLiquid(ps, *dn)
	case kind == Pipe && dn != nil:
		return PipeGas(ps, *dn)
	case kind == Generator:
		return FiredVessel(ps, v)
	case kind == Cooker:
		return Verdict{Category: III, Table: 5, Words: "pressure cooker: inside Art. 4(1) at any size; its design is assessed by a procedure equal to a module of category III", Caution: memory, Source: annex("Annex II Table 5")}, nil
	case (contents == Air || contents == Nitrogen) && kind == Receiver && SimpleVessel(ps, v):
		return Verdict{Category: SPV, Words: "welded receiver for air or nitrogen, of plain steel or aluminium, PS·V not above 10 000 bar·L: simple pressure vessel, not under the pressure equipment directive", Source: spvd.At("Art. 1")}, nil
	case liquid(contents):
		return LiquidVessel(ps, v)
	}
	out, err := GasVessel(ps, v)
	if err == nil && kind == Extinguish && out.Category.rank() < III.rank() {
		out.Category, out.Words = III, "portable extinguishers and bottles of breathing apparatus are at least category III"
	}
	return out, err
}

func liquid(c Contents) bool { return c == Water || c == Coolant || c == Caustic }

// excluded holds the exceptions of Art. 1(2) that a brewery meets.
//
// Source: Directive 2014/68/EU Art. 1(2), read in the French transposition.
func excluded(kind Kind, contents Contents, ps unit.GaugePressure, v unit.Volume) (Verdict, bool) {
	no := func(words string) (Verdict, bool) {
		return Verdict{Category: Out, Words: words, Source: decree.At("Art. 1(2)")}, true
	}
	switch {
	case contents == Atmosphere:
		return no("open or freely vented: no pressure")
	case under(ps.BarG(), outPS) && kind != Cooker:
		return no("PS is not above 0.5 bar")
	case kind == Keg && ps.BarG() <= 7 && under(ps.BarG()*v.L(), 500):
		return no("keg: carries drinks, PS·V not above 500 bar·L and PS not above 7 bar")
	case kind == Bottle:
		return no("bottle or can for carbonated drinks")
	case kind == Cylinder:
		return no("transportable cylinder: rules of transportable pressure equipment")
	case kind == Heating:
		return no("radiators and pipes of warm-water heating")
	}
	return Verdict{}, false
}

// group1 classifies nothing beyond the threshold: a specialist must.
func group1(ps unit.GaugePressure, v unit.Volume) (Verdict, error) {
	if err := checkPSV(ps, v); err != nil {
		return Verdict{}, err
	}
	if v.L() > 1 && ps.BarG()*v.L() > 25 || ps.BarG() > 200 {
		return Verdict{Category: Spec, Table: 1, Words: "fluid of group 1 above 25 bar·L: outside this tool, a specialist classifies it", Source: decree.At("Art. 4(1)(a)")}, nil
	}
	return Verdict{Category: SEP, Table: 1, Words: "fluid of group 1, not above 25 bar·L", Source: decree.At("Art. 4(1)(a)")}, nil
}

// Consequence is what a category brings.
type Consequence struct {
	Modules string
	Body    string
	Marking string
	Papers  string // what the buyer must receive
	Source  source.Ref
}

// consequenceOf reads the consequence of a category.
func consequenceOf(c Category, country Country) Consequence {
	if country == US {
		return usConsequence(c)
	}
	row, ok := consequenceTable.Find("category", string(c))
	if !ok {
		return Consequence{}
	}
	out := Consequence{
		Modules: consequenceTable.Text(row, "modules"), Body: consequenceTable.Text(row, "body"),
		Marking: consequenceTable.Text(row, "marking"), Papers: consequenceTable.Text(row, "papers"), Source: pesr.At("Sch. 1B para 1"),
	}
	if law, ok := placingAbroad[country]; ok { // the United Kingdom's mark does not count there
		out.Marking, out.Source = strings.ReplaceAll(out.Marking, "CE or UKCA", "CE"), law
	}
	return out
}

// usConsequence is what most states ask; from memory.
func usConsequence(c Category) Consequence {
	if c != Code {
		return Consequence{Modules: "none", Body: "no", Marking: "none", Papers: "maker's drawing with pressure, temperature and volume; relief set at 15 psi or less", Source: asme.Recalled("U-1")}
	}
	return Consequence{Modules: "design, materials and tests of the code", Body: "authorized inspector", Marking: "U stamp, National Board number", Papers: "manufacturer's data report U-1 or U-1A", Source: asme.Recalled("UG-116, UG-120")}
}

// usVerdict gives the threshold of the code: above 15 psi and wider than 6 in.
//
// Source: ASME BPVC VIII-1 U-1, as the Brewers Association quotes it.
func usVerdict(kind Kind, contents Contents, ps unit.GaugePressure) Verdict {
	ref := asme.At("U-1")
	switch {
	case contents == Atmosphere || kind == Bottle || kind == Cylinder:
		return Verdict{Category: Out, Words: "not a vessel of the code", Source: ref}
	case kind == Generator && ps.PSIG() <= 15:
		return Verdict{Category: Out, Words: "steam up to 15 psi: heating boiler of ASME section IV, not of VIII-1; state boiler law applies", Caution: "from memory, verify", Source: asme.Recalled("section IV")}
	case kind == Generator:
		return Verdict{Category: Code, Words: "steam above 15 psi: power boiler of ASME section I, not of VIII-1; state boiler law applies", Caution: "from memory, verify", Source: asme.Recalled("section I")}
	case liquid(contents) && ps.PSIG() <= 300:
		return Verdict{Category: Out, Words: "water with additives up to 300 psi and 210 °F: outside the code", Caution: "from memory, verify", Source: asme.Recalled("U-1(c)")}
	case ps.PSIG() <= 15:
		return Verdict{Category: Out, Words: "not above 15 psi: relief valve set at 15 psi or less, a bursting disc as second device", Source: ref}
	case kind == Keg:
		return Verdict{Category: Out, Words: "keg: shipping container; check the state's rule", Caution: "from memory, verify", Source: asme.Recalled("U-1")}
	}
	return Verdict{Category: Code, Words: "above 15 psi: code vessel where wider than 6 in; most states enforce it", Source: ref}
}

// InUse is what the user owes while the equipment is used.
type InUse struct {
	Scheme   bool   // written scheme of examination, or the country's inspection, before first use
	Words    string // ready to print
	Interval string // usual interval, common practice
	Source   source.Ref
}

const schemePV = 250.0 // bar·L, PSSR 2000 Sch. 1

// inUse decides on a written scheme in Great Britain and names the rule elsewhere.
//
// Source: PSSR 2000 regs 4, 8, 9 and Sch. 1, as HSE INDG178 and insurers' guides put it.
func inUse(country Country, kind Kind, contents Contents, ps unit.GaugePressure, v unit.Volume) InUse {
	switch country {
	case US:
		due := contents != Atmosphere && (kind == Generator || usVerdict(kind, contents, ps).Category == Code)
		return InUse{Scheme: due, Words: "state boiler and pressure vessel law: permit and inspection of steam generators and of vessels of the code", Interval: "as the state sets it", Source: stateLaw}
	case DE:
		return InUse{Scheme: ps.BarG() > 0.5 && !liquid(contents) && ps.BarG()*v.L() > 50, Words: "Betriebssicherheitsverordnung: inspection before first use and periodically; from memory, ask an approved inspection body", Interval: "as the risk assessment sets it", Source: germanInspection}
	}
	in := InUse{Interval: "24 to 26 months, common practice", Source: pssr.At("regs 8, 9")}
	if country == IE {
		in.Source = irishScheme
	}
	pv := ps.BarG() * v.L()
	switch {
	case contents == Atmosphere:
		in.Words, in.Interval = "no pressure system", ""
	case kind == Keg && v.M3() < 0.252 && ps.BarG() < 12:
		in.Words, in.Interval = "keg below 0.252 m³ and 12 bar: exempt", ""
	case contents == Steam || kind == Generator:
		in.Scheme, in.Words, in.Interval = true, "steam at any pressure: written scheme drawn up or certified by a competent person before first use", "12 to 14 months, common practice"
	case liquid(contents):
		in.Words, in.Interval = "liquid below 110 °C without gas pressure: no relevant fluid", ""
	case ps.BarG() <= 0.5:
		in.Words, in.Interval = "not above 0.5 bar: no relevant fluid", ""
	case kind == Pipe || kind == Cylinder:
		in.Words = "pipes and protective devices fed from a cylinder are a pressure system even where the cylinder is not: installer's duties apply"
	case pv >= schemePV*(1-1e-9):
		in.Scheme, in.Words = true, "PS·V of 250 bar·L or more: written scheme drawn up or certified by a competent person before first use"
	default:
		in.Words, in.Interval = "below 250 bar·L: a pressure system, but no written scheme; safe limits, information and maintenance still apply", ""
	}
	return in
}
