package floor

import (
	_ "embed"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

//go:embed tables/bearing.csv
var bearingCSV string

var bearingTable = source.MustTable("bearing", bearingCSV)

// BearingLimit is the pressure a surface takes under a foot, and whether it is known.
func BearingLimit(s Surface) (unit.Stress, bool) {
	row, ok := bearingTable.Find("surface", string(s))
	if !ok {
		return 0, false
	}
	x, ok := bearingTable.Number(row, "limit_mpa")
	return unit.Megapascals(x), ok
}
