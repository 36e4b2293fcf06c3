package cooling

import "tunwright/configurator/calc"

// Calculations lists what can be run by name.
func Calculations() []calc.Calculation { return nil }
