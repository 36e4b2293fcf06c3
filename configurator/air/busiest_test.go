package air

import (
	"testing"

	"tunwright/catalog/unit"

	"pgregory.net/rapid"
)

// The week found gives off as much in its highest hour as the highest of all weeks laid
// out one by one.
func TestBusiestWeekIsTheHighestOfAll(t *testing.T) {
	const weeks = 12
	rapid.Check(t, func(t *rapid.T) {
		var batches []Batch
		for range rapid.IntRange(1, 20).Draw(t, "batches") {
			kg := float64(rapid.IntRange(5, 200).Draw(t, "kg"))
			batches = append(batches, Batch{
				CO2: unit.Kilograms(kg), PeakGas: unit.KgPerHour(kg * rapid.Float64Range(0.005, 0.03).Draw(t, "share")),
				Start: unit.Hours(float64(rapid.IntRange(0, weeks*hoursPerWeek-1).Draw(t, "start"))),
			})
		}
		highest := func(w int) float64 {
			var g GasSpace
			for _, b := range batches {
				b.Start -= unit.Hours(float64(w * hoursPerWeek))
				g.Batches = append(g.Batches, b)
			}
			made, _, err := week(g)
			if err != nil {
				t.Fatal(err)
			}
			most := 0.0
			for _, m := range made {
				most = max(most, m.KgH())
			}
			return most
		}
		got, most := highest(BusiestWeek(batches, weeks)), 0.0
		for w := range weeks {
			most = max(most, highest(w))
		}
		if got < most*(1-1e-9) {
			t.Fatalf("the week found gives off %v kg/h, the highest %v", got, most)
		}
	})
}

func BenchmarkBusiestWeek(b *testing.B) {
	var batches []Batch
	for i := range 150 {
		batches = append(batches, Batch{CO2: unit.Kilograms(40 + float64(i%4)*10), PeakGas: unit.KgPerHour(0.7), Start: unit.Hours(float64(i * 56))})
	}
	b.ReportAllocs()
	for b.Loop() {
		BusiestWeek(batches, 53)
	}
}
