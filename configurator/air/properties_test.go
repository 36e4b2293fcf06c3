package air

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"tunwright/catalog/unit"
)

// Water that comes in with the room air and the vapour leaves as vapour or condensate.
func TestMixKeepsWaterAndHeat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		room, err := State(AirState{unit.Celsius(rapid.Float64Range(-5, 35).Draw(t, "t")), unit.Percent(rapid.Float64Range(5, 100).Draw(t, "rh"))}, unit.PascalsAbs(seaLevel))
		if err != nil {
			t.Fatal(err)
		}
		flow := unit.M3PerSecond(rapid.Float64Range(0.2, 8).Draw(t, "flow"))
		vapour := unit.KgPerHour(rapid.Float64Range(0, 400).Draw(t, "vapour"))
		m, err := Mix(room, flow, vapour, 0)
		if err != nil {
			t.Fatal(err)
		}
		ma := flow.M3S() / room.Volume.M3Kg()
		in := ma*room.Moisture.KgKg() + vapour.KgS()
		out := ma*m.Air.Moisture.KgKg() + m.Condensate.KgS()
		if math.Abs(in-out) > 1e-9*max(in, 1e-6) {
			t.Fatalf("water in %.9g kg/s, out %.9g kg/s", in, out)
		}
		hIn := ma*room.Enthalpy.KJKg() + vapour.KgS()*hVapour
		hOut := ma*m.Air.Enthalpy.KJKg() + m.Condensate.KgS()*cpWater*m.Air.Temp.C()
		if math.Abs(hIn-hOut) > 1e-6*max(math.Abs(hIn), 1) {
			t.Fatalf("heat in %.9g kW, out %.9g kW", hIn, hOut)
		}
		if m.Condensate > 0 && math.Abs(m.Air.Humidity.Value()-1) > 1e-9 {
			t.Fatalf("water falls out of air at %v", m.Air.Humidity)
		}
	})
}

// The least flow just does, and a little less does not.
func TestLeastFlowIsLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		room, err := State(AirState{unit.Celsius(rapid.Float64Range(10, 30).Draw(t, "t")), unit.Percent(rapid.Float64Range(20, 70).Draw(t, "rh"))}, unit.PascalsAbs(seaLevel))
		if err != nil {
			t.Fatal(err)
		}
		vapour := unit.KgPerHour(rapid.Float64Range(5, 300).Draw(t, "vapour"))
		_, drawn, err := LeastFlow(room, vapour, 0, unit.Percent(100))
		if err != nil {
			t.Fatal(err)
		}
		if m, err := Mix(room, drawn, vapour, 0); err != nil || m.Condensate > 0 {
			t.Fatalf("at the least flow %v water falls out: %v", drawn, m.Condensate)
		}
		if m, err := Mix(room, unit.M3PerSecond(drawn.M3S()*0.999), vapour, 0); err != nil || m.Condensate == 0 {
			t.Fatalf("below the least flow nothing falls out")
		}
	})
}

// More ventilation never gives more carbon dioxide, at any hour.
func TestMoreVentilationNeverMorePPM(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := GasSpace{Room: Room{Name: "cellar", Area: unit.SquareMetres(rapid.Float64Range(5, 300).Draw(t, "area")), Height: unit.Metres(3)}}
		for range rapid.IntRange(1, 6).Draw(t, "batches") {
			g.Batches = append(g.Batches, Batch{Tank: "FV", Start: unit.Hours(rapid.Float64Range(-100, 160).Draw(t, "start")), Volume: unit.Hectolitres(rapid.Float64Range(1, 40).Draw(t, "hl")), Original: unit.DegreesPlato(rapid.Float64Range(8, 20).Draw(t, "oe")), Final: unit.DegreesPlato(2)})
		}
		q := rapid.Float64Range(0, 3000).Draw(t, "q")
		more := q + rapid.Float64Range(0.1, 2000).Draw(t, "more")
		size := func(m3h float64) GasResult {
			g.Fan = ptr(unit.M3PerHour(m3h))
			r, err := Size(Input{Gas: []GasSpace{g}})
			if err != nil {
				t.Fatal(err)
			}
			return r.Gas[0]
		}
		a, b := size(q), size(more)
		for h := range a.Hours {
			if b.Hours[h].PPM.PPM() > a.Hours[h].PPM.PPM()+1e-6 {
				t.Fatalf("hour %d: %v with %.0f m³/h, %v with %.0f m³/h", h, a.Hours[h].PPM, q, b.Hours[h].PPM, more)
			}
		}
		if b.Chosen.HighestNear.PPM() > a.Chosen.HighestNear.PPM()+1e-6 {
			t.Fatal("more ventilation raised the highest concentration")
		}
	})
}

// What is made either stands in the room or was drawn off: with the fan off all of
// it stands there, and the rise of the share is the gas over the room.
func TestGasBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := GasSpace{Room: Room{Name: "cellar", Volume: unit.CubicMetres(rapid.Float64Range(200, 2000).Draw(t, "v"))}}
		for range rapid.IntRange(0, 5).Draw(t, "batches") {
			g.Batches = append(g.Batches, Batch{Tank: "FV", Start: unit.Hours(rapid.Float64Range(-200, 200).Draw(t, "start")), Volume: unit.Hectolitres(5), Original: unit.DegreesPlato(12), Final: unit.DegreesPlato(3)})
		}
		r, err := Size(Input{Gas: []GasSpace{g}})
		if err != nil {
			t.Fatal(err)
		}
		x := r.Gas[0]
		inWeek := 0.0
		for _, b := range x.Batches {
			if b.InWeek > b.Total*(1+1e-12) {
				t.Fatalf("%v in the week of %v", b.InWeek, b.Total)
			}
			inWeek += b.InWeek.Kg()
		}
		if math.Abs(inWeek-x.Produced.Kg()) > 1e-9*max(inWeek, 1) {
			t.Fatalf("batches give %.6f kg, the hours %.6f kg", inWeek, x.Produced.Kg())
		}
		if n := len(x.Hours); n > 0 {
			want := outdoorPPM + x.Produced.Kg()/gasDensity/x.Volume.M3()*1e6
			if got := x.Hours[n-1].FanOff.PPM(); want < 1e6 && math.Abs(got-want) > 1e-6*want {
				t.Fatalf("at the week's end %.2f ppm, the gas over the room gives %.2f", got, want)
			}
		}
	})
}
