// Package cooling answers what a brewery's cellar asks of its chiller, hour by hour
// over the design week, and what the glycol circuit between the two must be: the
// mixture, the pipes, the pump, the store, the insulation, and where the machine
// may stand.
//
// Begin with Input and Size; Rules judge the Facts. The formulas stand on their own:
// glycol.go (the mixture), geometry.go (surfaces of a tank), heat.go (gains and
// fermentation), jacket.go (cooling a tank down), week.go (the load hour by hour),
// wort.go (plate cooler), pipe.go (friction), circuit.go (the pipes), pump.go,
// chiller.go (output at its real conditions), store.go (short cycling, shaving the peak,
// expansion), insulation.go (gain and condensation), siting.go (air, noise,
// refrigerant). size.go, load.go and plant.go string them together; assume.go holds
// what is taken for want of a fact; sheet.go sets out the rows of the contractor's
// sheet.
//
// Left out: the refrigeration circuit itself, the design of the charge limit by
// EN 378, controls wiring, and cold rooms, which get a condensing unit of their own.
package cooling
