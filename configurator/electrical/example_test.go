package electrical_test

import (
	"fmt"

	"tunwright/catalog/unit"
	"tunwright/configurator/electrical"
	"tunwright/configurator/rule"
)

// A small electric brewhouse on a 63 A supply: boiling while the hot liquor reheats
// is more than the supply has, and wiring an interlock mends it.
func ExampleSize() {
	phases, fuse, existing := 3, unit.Amperes(63), unit.Amperes(20)
	in := electrical.Input{
		Rules: electrical.IEC,
		Loads: []electrical.Load{
			{Tag: "K1", Kind: electrical.Element, Phases: 3, Power: unit.Kilowatts(18), Runs: []electrical.Run{{State: "boil"}}},
			{Tag: "H1", Kind: electrical.Element, Phases: 3, Power: unit.Kilowatts(12), Runs: []electrical.Run{{State: "hlt"}}},
			{Tag: "C1", Kind: electrical.Motor, Starter: electrical.SoftStart, Phases: 3, Power: unit.Kilowatts(4), Runs: []electrical.Run{{State: "all"}}},
		},
		Supply: electrical.Supply{Phases: &phases, Fuse: &fuse, Existing: &existing},
	}
	result, err := electrical.Size(in)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range rule.Run(electrical.Rules(), electrical.Facts{Input: in, Result: result}) {
		if f.Rule.ID == "EL-010" {
			fmt.Println(f.Words)
			fmt.Println(f.Remedies[0].Words)
		}
	}
	// Output:
	// needs 50.5 A on L1 in Boil, hot liquor reheating; the supply gives 43.0 A (63 A less 20.0 A existing); short by 7.5 A
	// interlock K1, H1 by wiring, so that they never heat together; the day grows by up to 0.7 h (33.2 A of 43.0 A, 9.8 A to spare)
}
