package electrical

import (
	"fmt"
	"math/rand"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// manyLoads is an invented plant of n loads, a third of them three-phase.
func manyLoads(n int, seed int64) Input {
	r := rand.New(rand.NewSource(seed))
	words := []string{"mash", "boil", "cool", "cip", "pack", "all", "strike", "run-off", "heat-up"}
	in := Input{Rules: IEC, Supply: Supply{
		Phases: ptr(3), Fuse: ptr(unit.Amperes(400)), Existing: ptr(unit.Amperes(40)), Basis: Told, Ze: ptr(unit.Ohms(0.1)), Fault: ptr(unit.Amperes(9000)),
		Earthing: "TN-C-S", Distance: ptr(unit.Metres(20)),
	}}
	for i := range n {
		l := Load{Tag: fmt.Sprintf("X%02d", i), Kind: Motor, Starter: VariableSpeed, Phases: 1, Power: unit.Watts(300 + 2000*r.Float64())}
		if i%3 == 0 {
			l = Load{Tag: fmt.Sprintf("X%02d", i), Kind: Element, Control: OnOff, Phases: 3, Power: unit.Kilowatts(3 + 20*r.Float64())}
		}
		for range 1 + r.Intn(3) {
			l.Runs = append(l.Runs, Run{State: words[r.Intn(len(words))]})
		}
		l.Length = ptr(unit.Metres(5 + 40*r.Float64()))
		in.Loads = append(in.Loads, l)
	}
	return in
}

func BenchmarkSchedule40(b *testing.B) {
	for _, n := range []int{15, 20, 40, 60} {
		for seed := range int64(3) {
			in := manyLoads(n, seed)
			r := mustSize(b, in)
			b.Run(fmt.Sprintf("%d loads, plant %d, proven %v, nodes %d", n, seed, r.Balance.Proven, r.Balance.Nodes), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if _, err := Size(in); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

func BenchmarkGoldenCheck(b *testing.B) {
	in := goldenInput()
	rules := Rules()
	b.ReportAllocs()
	for b.Loop() {
		r, err := Size(in)
		if err != nil {
			b.Fatal(err)
		}
		rule.Run(rules, Facts{in, r})
	}
}

func BenchmarkMarginalCheck(b *testing.B) {
	in := managed()
	rules := Rules()
	b.ReportAllocs()
	for b.Loop() {
		r, err := Size(in)
		if err != nil {
			b.Fatal(err)
		}
		rule.Run(rules, Facts{in, r})
	}
}

func BenchmarkGoldenSize(b *testing.B) {
	in := goldenInput()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Size(in); err != nil {
			b.Fatal(err)
		}
	}
}
