package pressure

import (
	_ "embed"
	"fmt"
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

//go:embed tables/boundaries.csv
var boundariesCSV string

var (
	boundaries = source.MustTable("boundaries", boundariesCSV)
	ped        = source.Doc{ID: "Directive 2014/68/EU", Title: "Pressure Equipment Directive"}
	pesr       = source.Doc{ID: "SI 2016/1105", Title: "Pressure Equipment (Safety) Regulations 2016"}
	spvd       = source.Doc{ID: "Directive 2014/29/EU", Title: "Simple Pressure Vessels Directive"}
	asme       = source.Doc{ID: "ASME BPVC VIII-1", Title: "Boiler and Pressure Vessel Code, section VIII division 1"}
)

// Category is what the directive makes of a chamber.
type Category string

const (
	Out  Category = "out of scope"
	SEP  Category = "SEP" // sound engineering practice, Art. 4(3)
	I    Category = "I"
	II   Category = "II"
	III  Category = "III"
	IV   Category = "IV"
	SPV  Category = "SPVD" // simple pressure vessel
	Spec Category = "specialist"
	Code Category = "ASME VIII-1"
)

// rank orders categories by severity.
func (c Category) rank() int {
	switch c {
	case SEP:
		return 1
	case I:
		return 2
	case II, SPV:
		return 3
	case III, Code:
		return 4
	case IV, Spec:
		return 5
	}
	return 0
}

// Verdict is a category with the place it comes from.
type Verdict struct {
	Category    Category
	Alternative Category // where a boundary is not confirmed; empty otherwise
	Table       int      // of Annex II; 0 where none applies
	Words       string   // reason in plain words
	Caution     string   // empty where the rule was read in the law
	Source      source.Ref
}

// Text prints the category as it stands in the register.
func (v Verdict) Text() string {
	if v.Alternative != "" {
		return string(v.Category) + " (" + string(v.Alternative) + " if the PS 4 bar line is not confirmed)"
	}
	return string(v.Category)
}

const memory = "inner boundaries from memory, verify"

// annex cites a table whose outer limit was read and whose inner lines were not.
func annex(table string) source.Ref {
	return source.Ref{Doc: ped, Place: "Art. 4(1), " + table, Provenance: source.FromMemory, Note: "outer limits read in a transposition, inner lines from memory"}
}

// limit holds the boundaries by name, read once from the table.
var limit = readBounds()

func readBounds() map[string]float64 {
	m := make(map[string]float64, boundaries.Len())
	for r := range boundaries.Len() {
		x, _ := boundaries.Number(r, "limit")
		m[boundaries.Text(r, "key")] = x
	}
	return m
}

// named limits of the table, so that a formula reads like the directive
var (
	outPS     = limit["out_ps"]
	t2Small   = limit["t2_small_volume"]
	t2SEP     = limit["t2_sep"]
	t2I       = limit["t2_i"]
	t2II      = limit["t2_ii"]
	t2III     = limit["t2_iii"]
	t2Low     = limit["t2_low_line"]
	t4PS      = limit["t4_ps"]
	t4PV      = limit["t4_pv"]
	t5I       = limit["t5_i"]
	t5II      = limit["t5_ii"]
	t5III     = limit["t5_iii"]
	pressureK = limit["ps_1000"]
)

func checkPSV(ps unit.GaugePressure, v unit.Volume) error {
	if err := unit.Within("PS", ps, 0, unit.BarGauge(10000)); err != nil {
		return err
	}
	if v <= 0 || math.IsInf(v.SI(), 0) || math.IsNaN(v.SI()) {
		return fmt.Errorf("volume is %s: give the total inside volume of the chamber, greater than zero", v)
	}
	return nil
}

// GasVessel classifies a vessel for gases of group 2 (Table 2): carbon dioxide over
// beer, air, nitrogen, steam that is not fired. A liquid with gas above it goes here
// with the total volume.
//
//	V ≤ 1 L: SEP to 1000 bar; else PS·V ≤ 50 SEP, ≤ 200 I, ≤ 1000 II, ≤ 3000 III,
//	above III at PS ≤ 4 bar, else IV (bar·L)
//
// On the line the lower category holds. The outer limit of 50 bar·L was read; the
// inner lines, and above all that of 4 bar, are from memory.
//
// Source: Directive 2014/68/EU Art. 4(1), Annex II Table 2.
func GasVessel(ps unit.GaugePressure, v unit.Volume) (Verdict, error) {
	if err := checkPSV(ps, v); err != nil {
		return Verdict{}, fmt.Errorf("gas vessel: %w", err)
	}
	p, pv := ps.BarG(), ps.BarG()*v.L()
	if under(p, outPS) {
		return outOfScope("PS is not above 0.5 bar"), nil
	}
	out := Verdict{Table: 2, Source: annex("Annex II Table 2"), Caution: memory}
	if under(v.L(), t2Small) {
		out.Category = SEP
		if p > pressureK {
			out.Category = III
		}
		if p > 3000 {
			out.Category = IV
		}
		out.Words = "volume of not more than 1 L"
		return out, nil
	}
	switch {
	case under(pv, t2SEP):
		out.Category, out.Caution = SEP, ""
	case under(pv, t2I):
		out.Category = I
	case under(pv, t2II):
		out.Category = II
	case under(pv, t2III):
		out.Category = III
	case under(p, t2Low):
		out.Category, out.Alternative = III, IV
	default:
		out.Category = IV
	}
	if p > pressureK && out.Category.rank() < III.rank() {
		out.Category = III
	}
	out.Words = "gas of group 2, PS·V " + unit.Digits(pv, 4) + " bar·L"
	return out, nil
}

// LiquidVessel classifies a vessel for liquids of group 2 without a gas cushion above
// 0.5 bar (Table 4): coolant jackets, plate coolers, warm water.
//
//	SEP unless (PS > 10 bar and PS·V > 10 000) or PS > 1000; then I, or II above 500 bar
//
// Source: Directive 2014/68/EU Art. 4(1), Annex II Table 4.
func LiquidVessel(ps unit.GaugePressure, v unit.Volume) (Verdict, error) {
	if err := checkPSV(ps, v); err != nil {
		return Verdict{}, fmt.Errorf("liquid vessel: %w", err)
	}
	p, pv := ps.BarG(), ps.BarG()*v.L()
	if under(p, outPS) {
		return outOfScope("PS is not above 0.5 bar"), nil
	}
	out := Verdict{Table: 4, Source: annex("Annex II Table 4"), Words: "liquid of group 2, PS·V " + unit.Digits(pv, 4) + " bar·L"}
	if under(p, t4PS) || p <= pressureK && under(pv, t4PV) {
		out.Category = SEP
		return out, nil
	}
	out.Caution = memory
	out.Category = II
	if p <= 500 || under(pv, t4PV) || v.L() < 10 {
		out.Category = I
	}
	return out, nil
}

// FiredVessel classifies equipment heated with a risk of overheating that makes
// steam or water above 110 °C (Table 5): steam generators.
//
//	V ≤ 2 L SEP; PS > 32 bar, V > 1000 L or PS·V > 3000 IV; ≤ 50 I, ≤ 200 II, else III
//
// Source: Directive 2014/68/EU Art. 4(1), Annex II Table 5, inner boundaries from memory.
func FiredVessel(ps unit.GaugePressure, v unit.Volume) (Verdict, error) {
	if err := checkPSV(ps, v); err != nil {
		return Verdict{}, fmt.Errorf("steam generator: %w", err)
	}
	p, pv := ps.BarG(), ps.BarG()*v.L()
	if under(p, outPS) {
		return outOfScope("PS is not above 0.5 bar"), nil
	}
	out := Verdict{Table: 5, Source: annex("Annex II Table 5"), Caution: memory, Words: "heated, with a risk of overheating, PS·V " + unit.Digits(pv, 4) + " bar·L"}
	switch {
	case under(v.L(), 2):
		out.Category = SEP
	case p > 32 || v.L() > 1000 || !under(pv, t5III):
		out.Category = IV
	case under(pv, t5I):
		out.Category = I
	case under(pv, t5II):
		out.Category = II
	default:
		out.Category = III
	}
	return out, nil
}

// PipeGas classifies piping for gases of group 2 (Table 7).
//
//	SEP: DN ≤ 32 or PS·DN ≤ 1000; I: DN ≤ 100 or PS·DN ≤ 3500; II: DN ≤ 250 or PS·DN ≤ 5000; else III
//
// Source: Directive 2014/68/EU Annex II Table 7, from memory.
func PipeGas(ps unit.GaugePressure, dn unit.Length) (Verdict, error) {
	if err := unit.Positive("DN", dn); err != nil {
		return Verdict{}, fmt.Errorf("gas pipe: %w", err)
	}
	p, d := ps.BarG(), dn.MM()
	if under(p, outPS) {
		return outOfScope("PS is not above 0.5 bar"), nil
	}
	out := Verdict{Table: 7, Category: III, Source: ped.Recalled("Annex II Table 7"), Caution: memory, Words: "pipe for gas of group 2, PS·DN " + unit.Digits(p*d, 4)}
	switch {
	case under(d, 32) || under(p*d, 1000):
		out.Category = SEP
	case under(d, 100) || under(p*d, 3500):
		out.Category = I
	case under(d, 250) || under(p*d, 5000):
		out.Category = II
	}
	return out, nil
}

// PipeLiquid classifies piping for liquids of group 2 (Table 9).
//
//	SEP unless PS > 10 bar and DN > 200 and PS·DN > 5000; then I, above 500 bar II
//
// Source: Directive 2014/68/EU Annex II Table 9, from memory.
func PipeLiquid(ps unit.GaugePressure, dn unit.Length) (Verdict, error) {
	if err := unit.Positive("DN", dn); err != nil {
		return Verdict{}, fmt.Errorf("liquid pipe: %w", err)
	}
	p, d := ps.BarG(), dn.MM()
	if under(p, outPS) {
		return outOfScope("PS is not above 0.5 bar"), nil
	}
	out := Verdict{Table: 9, Category: SEP, Source: ped.Recalled("Annex II Table 9"), Caution: memory, Words: "pipe for liquid of group 2, PS·DN " + unit.Digits(p*d, 4)}
	if p > 10 && d > 200 && p*d > 5000 {
		out.Category = I
		if p > 500 {
			out.Category = II
		}
	}
	return out, nil
}

// SimpleVessel tells whether a welded, unfired receiver for air or nitrogen is a
// simple pressure vessel: PS ≤ 30 bar and 50 < PS·V ≤ 10 000 bar·L. The vessel must
// be of plain steel or aluminium; one of stainless steel falls under Directive 2014/68/EU.
//
// Source: Directive 2014/29/EU Art. 1, as the Czech transposition states it.
func SimpleVessel(ps unit.GaugePressure, v unit.Volume) bool {
	pv := ps.BarG() * v.L()
	return ps.BarG() <= 30 && pv > 50 && under(pv, 10000)
}

// under is ≤ with room for rounding in unit conversion: on the line the lower
// category holds.
func under(x, most float64) bool { return x <= most*(1+1e-9) }

func outOfScope(words string) Verdict {
	return Verdict{Category: Out, Words: words, Source: ped.At("Art. 1(2), Art. 2")}
}
