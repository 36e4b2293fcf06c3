package electrical

import (
	"embed"
	"fmt"
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

// Documents cited.
var (
	bs7671   = source.Doc{ID: "BS 7671", Title: "Requirements for Electrical Installations", Edition: "2018+A4:2026"}
	iec60529 = source.Doc{ID: "IEC 60529", Title: "Degrees of protection provided by enclosures"}
	nfpa70   = source.Doc{ID: "NFPA 70", Title: "National Electrical Code", Edition: "2023"}
)

//go:embed tables/*.csv
var files embed.FS

// table reads one embedded table; the package's tests read them all.
func table(name string) source.Table {
	text, err := files.ReadFile("tables/" + name + ".csv")
	if err != nil {
		panic(err)
	}
	return source.MustTable(name, string(text))
}

// The published tables, read once; nothing changes them.
var (
	copper70       = table("copper_70c")
	copper90       = table("copper_90c")
	armoured       = table("armoured")
	dropTable      = table("voltage_drop")
	ambientTable   = table("ambient")
	groundTable    = table("ground")
	groupTable     = table("grouping")
	motorIE3       = table("motor_ie3")
	motorNEC3      = table("motor_nec_3ph")
	motorNEC1      = table("motor_nec_1ph")
	necAmpacity    = table("nec_ampacity")
	necImpedance   = table("nec_impedance")
	necGround      = table("nec_egc")
	necAmbient     = table("nec_correction")
	necBundle      = table("nec_bundling")
	awgTable       = table("awg")
	bondTable      = table("main_bonding")
	startTable     = table("starting")
	leakTable      = table("leakage")
	zoneTable      = table("ip_zones")
	thresholdTable = table("supply_thresholds")
	offerTable     = table("supply_offers")

	breakerMCB  = numbers(table("breaker_iec60898"), "a")
	breakerMCCB = numbers(table("breaker_iec60947"), "a")
	breakerNEC  = numbers(table("nec_standard_ratings"), "a")
	outletSizes = numbers(table("iec60309"), "a")
	sizesIEC    = numbers(dropTable, "mm2")
	ampacities  = ampacityColumns()
)

// numbers gives a column that must be there and whole.
func numbers(t source.Table, column string) []float64 {
	col, err := t.Column(column)
	if err != nil {
		panic(err)
	}
	return col
}

// ampacityColumns keys the current-carrying capacities by cable, method and number
// of loaded conductors, so that sizing a circuit costs no search for a column.
func ampacityColumns() map[ampacityKey][]float64 {
	m := map[ampacityKey][]float64{}
	add := func(c CableType, t source.Table, prefix string, methods ...Method) {
		for _, me := range methods {
			for _, n := range []int{2, 3} {
				m[ampacityKey{c, me, n}] = numbers(t, fmt.Sprintf("%s%s_%d", prefix, me, n))
			}
		}
	}
	add(Thermoplastic, copper70, "", MethodA1, MethodA2, MethodB1, MethodB2, MethodC, MethodE)
	add(Thermosetting, copper90, "", MethodA1, MethodA2, MethodB1, MethodB2, MethodC, MethodE)
	add(Armoured, armoured, "70C_", MethodC, MethodE, MethodD1)
	return m
}

type ampacityKey struct {
	cable  CableType
	method Method
	loaded int
}

// next gives the first value of a rising list that is not below x.
func next(list []float64, x float64) (float64, bool) {
	for _, v := range list {
		if v >= x-1e-9 {
			return v, true
		}
	}
	return 0, false
}

// AmbientFactor is the rating factor Ca for the air around a cable.
//
// The temperature lies between 25 and 60 °C; between printed rows the figure is
// interpolated, and below 30 °C no uplift is taken since the standards differ there.
//
// Source: BS 7671:2018 Table 4B1; IEC 60364-5-52 Table B.52.14.
func AmbientFactor(t unit.Temperature, insulation unit.Temperature) (unit.Ratio, error) {
	column := "70C"
	if insulation.C() > 80 {
		column = "90C"
	}
	if t.C() < 30 && t.C() >= -25 {
		return 1, nil
	}
	f, err := ambientTable.Between("ambient_C", column, t.C())
	return unit.Fraction(f), err
}

// GroundFactor is the rating factor Ca for the soil around a cable of 70 °C
// insulation in a duct, up to 50 °C; below 20 °C no uplift is taken.
//
// Source: BS 7671:2018 Table 4B2; IEC 60364-5-52 Table B.52.15, from memory.
func GroundFactor(t unit.Temperature) (unit.Ratio, error) {
	if t.C() < 20 && t.C() >= -25 {
		return 1, nil
	}
	f, err := groundTable.Between("ground_C", "70C", t.C())
	return unit.Fraction(f), err
}

// groupColumn tells which arrangement of Table 4C1 a method of laying is.
func groupColumn(m Method) string {
	switch m {
	case MethodC:
		return "single_layer_wall_floor"
	case MethodE:
		return "single_layer_perf_tray"
	}
	return "bunched_or_enclosed"
}

// GroupFactor is the rating factor Cg for n loaded cables side by side, 1 to 20.
// Between printed counts the factor of the larger count is taken. Ducts in the ground
// are reckoned as bunched, which is on the safe side of their own table.
//
// Source: BS 7671:2018 Table 4C1; IEC 60364-5-52 Table B.52.17.
func GroupFactor(n int, m Method) (unit.Ratio, error) {
	row, err := groupTable.AtLeast("n_circuits", float64(max(n, 1)))
	if err != nil {
		return 0, err
	}
	f, _ := groupTable.Number(row, groupColumn(m))
	return unit.Fraction(f), nil
}

// Capacity is the tabulated current-carrying capacity It of a cable in A.
//
// c is the insulation, m the method of laying, loaded the number of loaded conductors, 2
// or 3, size a standard size of the table. Copper at 30 °C in air or 20 °C in the ground,
// one circuit alone: AmbientFactor and GroupFactor take it from there. A cable, method or
// number that is not in the tables, or a size between its rows, is an error: nothing is
// interpolated.
//
// Source: BS 7671:2018 Tables 4D1A to 4E4A and IEC 60364-5-52 Annex B, by public
// transcriptions that agree; not read in the printed standard.
func Capacity(c CableType, m Method, loaded int, size unit.CrossSection) (unit.Current, error) {
	col, ok := ampacities[ampacityKey{c, m, loaded}]
	if !ok {
		return 0, fmt.Errorf("%s cable by method %s with %d loaded conductors is not in the tables", c, m, loaded)
	}
	for i, s := range sizesIEC {
		if math.Abs(s-size.MM2()) < 1e-9 {
			return unit.Amperes(col[i]), nil
		}
	}
	return 0, &unit.RangeError{Name: "conductor size", Value: size.MM2(), Min: sizesIEC[0], Max: sizesIEC[len(sizesIEC)-1], Unit: "mm²"}
}

// drops are resistance (Ω/km at 20 °C) and voltage drop (mV/A/m) by size, by
// insulation and phases; r and x are zero where the table prints z alone.
type drops struct{ r, x, z []float64 }

var dropColumns = [2][2]drops{{dropsOf("70C_1ph"), dropsOf("70C_3ph")}, {dropsOf("90C_1ph"), dropsOf("90C_3ph")}}

var resistance20 = numbers(dropTable, "R20_ohm_km")

func dropsOf(prefix string) drops {
	return drops{numbers(dropTable, prefix+"_r"), numbers(dropTable, prefix+"_x"), numbers(dropTable, prefix+"_z")}
}
