package cooling

import (
	"fmt"

	"tunwright/catalog/unit"
)

func ptr[T any](v T) *T { return &v }

// factorTable is the output of one packaged air-cooled chiller over its catalogue
// output, by leaving glycol at 25, 35 and 45 °C air; technical manual of a packaged chiller.
var chillerFactors = []struct{ leaving, a25, a35, a45 float64 }{
	{5, 1.045, 0.902, 0.754},
	{4, 1.004, 0.866, 0.726},
	{3, 0.962, 0.830, 0.697},
	{2, 0.921, 0.794, 0.669},
	{1, 0.879, 0.758, 0.640},
	{0, 0.838, 0.722, 0.612},
	{-1, 0.795, 0.681, 0.574},
	{-2, 0.764, 0.652, 0.545},
	{-3, 0.734, 0.623, 0.515},
	{-4, 0.703, 0.594, 0.486},
	{-5, 0.673, 0.565, 0.457},
}

// madeChiller is an invented chiller of a catalogue capacity in kW.
func madeChiller(code string, nominal float64) Chiller {
	c := Chiller{
		Code: code, Glycol: unit.Fraction(0.33), Stages: 2, MinLeaving: unit.Celsius(-6), MaxEntering: ptr(unit.Celsius(20)),
		MinFlow: ptr(unit.M3PerHour(0.1 * nominal)), MaxFlow: ptr(unit.M3PerHour(0.5 * nominal)), PumpHead: ptr(unit.Bars(1.6)), ShutOff: ptr(unit.Bars(2)),
		Tank: unit.Litres(40 * nominal), Content: unit.Litres(60), Refrigerant: "R290", Charge: ptr(unit.Kilograms(0.06 * nominal)), Sound: ptr(unit.DecibelsA(68)), AirFlow: ptr(unit.M3PerHour(450 * nominal)),
	}
	for _, f := range chillerFactors {
		for i, x := range [...]float64{f.a25, f.a35, f.a45} {
			ambient := 25 + 10*float64(i)
			c.Ratings = append(c.Ratings, Rating{unit.Celsius(f.leaving), unit.Celsius(ambient), unit.Kilowatts(nominal * x), unit.Kilowatts(nominal * 0.594 / 2.4 * (1 + (ambient-35)*0.01))})
		}
	}
	return c
}

// exampleCellar is the invented cellar of the worked example: six fermenters and two
// bright tanks of 10 hL, 20 hL of cold liquor, three brews a week.
func exampleCellar() Input {
	in := Input{
		Supply: ptr(unit.Celsius(-4)), Rise: ptr(unit.Kelvins(4)), Glycol: ptr(unit.Fraction(0.33)),
		Room: ptr(unit.Celsius(30)), Humidity: ptr(unit.Fraction(0.7)), Ambient: ptr(unit.Celsius(35)), Mains: ptr(unit.Celsius(15)), Margin: ptr(unit.Fraction(0.15)),
		Horizon: unit.Hours(336), Repeats: true, OpenJackets: ptr(4), Ramped: ptr(true), Bypass: ptr(true),
		Chiller: madeChiller("CH-8", 8.1),
		Route: Route{
			Header: ptr(unit.Metres(30)), Along: ptr(unit.Metres(0)), Branch: ptr(unit.Metres(0)), Rise: ptr(unit.Metres(0)), Insulation: ptr(unit.Millimetres(25)),
		},
		Siting: Siting{Where: "yard", Walled: ptr(false), Neighbour: ptr(unit.Metres(20)), OpeningDist: ptr(unit.Metres(6))},
	}
	vessel := Tank{
		Volume: unit.CubicMetres(1), Diameter: unit.Metres(1), Steel: ptr(unit.Kilograms(320)), Insulation: ptr(unit.Millimetres(80)), Lambda: ptr(unit.WattsPerMK(0.026)),
		JacketPS: ptr(unit.BarGauge(3)), JacketDrop: ptr(unit.Pascals(20e3)), ValveKv: ptr(unit.Kv(6.3)), JacketHeld: unit.Litres(25),
	}
	for i, at := range [...]float64{0, 48, 96, 168, 216, 264} {
		fv := vessel
		fv.Tag, fv.Use = fmt.Sprintf("FV%d", i+1), Ferment
		in.Tanks = append(in.Tanks, fv)
		in.Batches = append(in.Batches, Batch{
			Tank: fv.Tag, Beer: "ale", Start: unit.Hours(at), End: unit.Hours(at + 288), Original: unit.DegreesPlato(12), Final: unit.DegreesPlato(2.48),
			Ferment: unit.Celsius(20), Heat: ptr(unit.Megajoules(53.13)), Crash: &Crash{Start: unit.Hours(at + 192), To: unit.Celsius(1), Over: unit.Hours(24)},
		})
		in.Stays = append(in.Stays, Stay{Tank: fmt.Sprintf("BBT%d", i%2+1), Start: unit.Hours(at + 288), End: unit.Hours(at + 360)})
		in.Refills = append(in.Refills, Refill{Tank: "CLT", Start: unit.Hours(at + 6), Volume: unit.CubicMetres(1.1)})
	}
	for _, tag := range [...]string{"BBT1", "BBT2"} {
		bbt := vessel
		bbt.Tag, bbt.Use = tag, Bright
		in.Tanks = append(in.Tanks, bbt)
	}
	clt := vessel
	clt.Tag, clt.Use, clt.Volume, clt.Diameter = "CLT", ColdLiquor, unit.CubicMetres(2), unit.Metres(1.25)
	in.Tanks = append(in.Tanks, clt)
	return in
}
