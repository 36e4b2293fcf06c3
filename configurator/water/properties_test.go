package water

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"tunwright/catalog/unit"
)

func drawDay(t *rapid.T) []Draw {
	var draws []Draw
	for range rapid.IntRange(1, 8).Draw(t, "n") {
		draws = append(draws, Draw{
			Name: "draw", Start: unit.Hours(rapid.Float64Range(0, 24).Draw(t, "start")), Length: unit.Minutes(rapid.Float64Range(1, 300).Draw(t, "length")),
			Volume: unit.Litres(rapid.Float64Range(1, 3000).Draw(t, "volume")), Break: rapid.Bool().Draw(t, "break"),
		})
	}
	return draws
}

// What is drawn over the day is the sum of the draws, however they overlap.
func TestTimelineKeepsWater(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		steps, rows, err := Timeline(drawDay(t))
		if err != nil {
			t.Fatal(err)
		}
		drawn, want, at := 0.0, 0.0, 0.0
		for _, s := range steps {
			if s.From.S() < at-1e-6 {
				t.Fatal("steps overlap")
			}
			at = s.To.S()
			drawn += s.Flow.M3S() * (s.To.S() - s.From.S())
		}
		for _, r := range rows {
			want += r.Volume.M3()
		}
		if math.Abs(drawn-want) > 1e-6*want {
			t.Fatalf("the steps draw %.6f m³, the draws are %.6f m³", drawn, want)
		}
	})
}

// A tank of the volume found never runs dry; one a little smaller does. More inflow
// never asks for a larger tank.
func TestTankVolume(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		steps, _, err := Timeline(drawDay(t))
		if err != nil {
			t.Fatal(err)
		}
		total, peak := 0.0, 0.0
		for _, s := range steps {
			total += s.Flow.M3S() * (s.To.S() - s.From.S())
			peak = max(peak, s.Flow.M3S())
		}
		inflow := total / 86400 * rapid.Float64Range(1.001, 5).Draw(t, "inflow")
		v, ok := TankVolume(steps, unit.M3PerSecond(inflow))
		if !ok {
			t.Fatal("enough water comes in over the day, but no tank was found")
		}
		lowest := func(volume float64) float64 {
			level, low := volume, volume
			for range 3 {
				for _, s := range steps {
					level = min(level+(inflow-s.Flow.M3S())*(s.To.S()-s.From.S()), volume)
					low = min(low, level)
				}
			}
			return low
		}
		if lowest(v.M3()) < -1e-9 {
			t.Fatalf("a tank of %v runs dry", v)
		}
		if v.M3() > 1e-6 && lowest(v.M3()*0.99) >= 0 {
			t.Fatalf("a tank smaller than %v does too", v)
		}
		more, _ := TankVolume(steps, unit.M3PerSecond(inflow*1.2))
		if more > v+1e-12 {
			t.Fatalf("more inflow asks for more tank: %v, %v", v, more)
		}
		if _, ok := TankVolume(steps, unit.M3PerSecond(total/86400*0.99)); ok {
			t.Fatal("the day draws more than comes in, but a tank was found")
		}
	})
}

// More fall, more filling and more bore never carry less.
func TestDrainMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s, f := rapid.Float64Range(40, 290).Draw(t, "d"), rapid.Float64Range(0.3, 5).Draw(t, "s"), rapid.Float64Range(15, 80).Draw(t, "f")
		q := func(d, s, f float64) float64 {
			x, _, err := DrainCapacity(unit.Millimetres(d), unit.Percent(s), unit.Percent(f))
			if err != nil {
				t.Fatal(err)
			}
			return x.LS()
		}
		base := q(d, s, f)
		if q(d*1.05, s, f) < base || q(d, s*1.05, f) < base || q(d, s, f*1.05) < base {
			t.Fatalf("bore %.1f, fall %.2f %%, filling %.1f %%: more carries less", d, s, f)
		}
	})
}

// The day's load is what its streams carry.
func TestLoadBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := Input{}
		want, volume := 0.0, 0.0
		for range rapid.IntRange(1, 6).Draw(t, "n") {
			v, c, n := rapid.Float64Range(10, 2000).Draw(t, "l"), rapid.Float64Range(0, 200).Draw(t, "g/L"), rapid.IntRange(1, 3).Draw(t, "times")
			in.Discharges = append(in.Discharges, Discharge{Name: "s", Kind: "rinse", Volume: unit.Litres(v), Times: n, Strength: ptr(unit.GramsPerLitre(c))})
			want += v * c / 1000 * float64(n)
			volume += v * float64(n)
		}
		r, err := Size(in)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(r.Waste.COD.Kg()-want) > 1e-9*max(want, 1) || math.Abs(r.Waste.Day.L()-volume) > 1e-6*volume {
			t.Fatalf("%.4f kg in %.1f L, want %.4f kg in %.1f L", r.Waste.COD.Kg(), r.Waste.Day.L(), want, volume)
		}
	})
}
