package floor

import (
	_ "embed"
	"fmt"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

//go:embed tables/bearing.csv
var bearingCSV string

//go:embed tables/uk-imposed.csv
var ukImposedCSV string

//go:embed tables/en-imposed.csv
var enImposedCSV string

//go:embed tables/forklifts.csv
var forkliftsCSV string

var (
	bearingTable = source.MustTable("bearing", bearingCSV)
	ukImposed    = source.MustTable("uk-imposed", ukImposedCSV)
	enImposed    = source.MustTable("en-imposed", enImposedCSV)
	forklifts    = source.MustTable("forklifts", forkliftsCSV)
)

// BearingLimit is the pressure that a surface takes under a foot, in MPa, and false for
// a surface that the table does not name.
//
// Short-term, on the real contact of the foot and away from an edge: PU-cement resin 45,
// concrete 20, sand-cement screed 10, timber across the grain 1.5. Each is the lower end
// of what the trade uses (resin to 55, screed to 20 but unreliable, timber to 2.5); the
// supplier's or the engineer's figure goes before.
//
// Source: common practice, no source.
func BearingLimit(s Surface) (unit.Stress, bool) {
	row, ok := bearingTable.Find("surface", string(s))
	if !ok {
		return 0, false
	}
	x, ok := bearingTable.Number(row, "limit_mpa")
	return unit.Megapascals(x), ok
}

// Yardstick is the load a floor of a use is designed for by a standard: what the
// floor was probably meant to carry, shown beside what is asked, never a permission.
type Yardstick struct {
	Code, Use string
	Area      unit.AreaLoad
	Point     unit.Force
	Source    source.Ref
}

// UKYardstick is the load of a use by the United Kingdom's annex, such as C51 for a
// taproom or B1 for an office.
//
// Source: NA to BS EN 1991-1-1, Tables NA.2 to NA.5.
func UKYardstick(code string) (Yardstick, error) {
	return yardstick(ukImposed, "code", code, "qk_kn_m2", "point_kn")
}

// EuropeanYardstick is the recommended load of a category, such as C5. Offices have
// none, because the readings of the table disagree.
//
// Source: EN 1991-1-1:2002, Tables 6.2 and 6.4.
func EuropeanYardstick(category string) (Yardstick, error) {
	return yardstick(enImposed, "cat", category, "qk_rec", "point_rec")
}

func yardstick(t source.Table, key, code, area, point string) (Yardstick, error) {
	row, ok := t.Find(key, code)
	if !ok {
		return Yardstick{}, fmt.Errorf("%s: use %q is not in the table", t.Title, code)
	}
	q, okQ := t.Number(row, area)
	p, okP := t.Number(row, point)
	if !okQ || !okP {
		return Yardstick{}, fmt.Errorf("%s: use %q has no single figure: ask the engineer", t.Title, code)
	}
	return Yardstick{Code: code, Use: t.Text(row, "use"), Area: unit.KilonewtonsPerM2(q), Point: unit.Kilonewtons(p), Source: t.Ref()}, nil
}

// ForkliftAxle is the dynamic axle load of a forklift class: φ·Q_k, φ 1.40 on
// pneumatic and 2.00 on solid tyres. Half of it stands on each wheel, on a patch of
// 200 × 200 mm.
//
// Source: EN 1991-1-1:2002, Tables 6.5 and 6.6, 6.3.2.3.
func ForkliftAxle(class string, solid bool) (unit.Force, error) {
	row, ok := forklifts.Find("class", class)
	if !ok {
		return 0, fmt.Errorf("forklift class %q is not known: use FL1 to FL6", class)
	}
	q, _ := forklifts.Number(row, "axle_kn")
	if solid {
		return unit.Kilonewtons(2.0 * q), nil
	}
	return unit.Kilonewtons(1.4 * q), nil
}
