package floor

import (
	"fmt"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/plan"
	"tunwright/configurator/rule"
)

// busyFloor is n pieces on a floor of m beams, some over their figure.
func busyFloor(n, m int) Input {
	in := workedInput()
	persons := 12
	in.Room.Persons = &persons
	in.Room.Doors = []plan.Door{{Name: "D1", Hinge: plan.P(0, 3.4), Latch: plan.P(0, 4.6), Exit: true}}
	in.Room.Outline = plan.Polygon{plan.P(0, 0), plan.P(24, 0), plan.P(24, 8), plan.P(0, 8)}
	in.Members = nil
	for i := range m {
		x := 24 * float64(i) / float64(m-1)
		in.Members = append(in.Members, Member{Name: fmt.Sprintf("B%d", i), From: plan.P(x, 0), To: plan.P(x, 8)})
	}
	proto := in.Items
	in.Items = nil
	for i := range n {
		it := proto[i%len(proto)]
		it.Tag = fmt.Sprintf("T%d", i)
		it.Place = &plan.Place{At: plan.P(0.9+1.48*float64(i%15), 1.2+5.4*float64(i/15))}
		mass := unit.Kilograms(400)
		it.Empty = &mass
		in.Items = append(in.Items, it)
	}
	return in
}

func benchmarkSize(b *testing.B, n, m int) {
	in := busyFloor(n, m)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Size(in); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSize15(b *testing.B) { benchmarkSize(b, 15, 6) }
func BenchmarkSize30(b *testing.B) { benchmarkSize(b, 30, 12) }

func BenchmarkRules15(b *testing.B) {
	in := busyFloor(15, 6)
	r, err := Size(in)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		rule.Run(Rules(), Facts{in, r})
	}
}

func BenchmarkSuggest(b *testing.B) {
	in := workedInput()
	for b.Loop() {
		if _, err := Suggest(in, 3); err != nil {
			b.Fatal(err)
		}
	}
}
