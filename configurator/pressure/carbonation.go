package pressure

import (
	"fmt"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

var asbc = source.Doc{ID: "ASBC Methods of Analysis", Title: "Beer-13: dissolved carbon dioxide"}

// The edges of the table that the polynomial follows.
var (
	coldest, warmest  = unit.Celsius(-2), unit.Celsius(20)
	leastCO2, mostCO2 = unit.CO2Volumes(1), unit.CO2Volumes(4)
)

// EquilibriumPressure returns the gauge pressure at which beer keeps its carbonation.
//
//	p = -16.6999 - 0.0101059·T + 0.00116512·T² + 0.173354·T·V + 4.24267·V - 0.0684226·V²
//
// p psi gauge, T °F, V volumes of carbon dioxide. Valid for -2…20 °C and 1…4 volumes.
// Where the gas would leave at once the pressure is below zero.
//
// Source: polynomial fitted to the table of the ASBC, from memory.
func EquilibriumPressure(c unit.Carbonation, t unit.Temperature) (unit.GaugePressure, error) {
	if err := unit.Within("beer temperature", t, coldest, warmest); err != nil {
		return 0, fmt.Errorf("equilibrium pressure: %w", err)
	}
	if err := unit.Within("carbonation", c, leastCO2, mostCO2); err != nil {
		return 0, fmt.Errorf("equilibrium pressure: %w", err)
	}
	f, v := t.F(), c.Vol()
	return unit.PSIGauge(-16.6999 - 0.0101059*f + 0.00116512*f*f + 0.173354*f*v + 4.24267*v - 0.0684226*v*v), nil
}
