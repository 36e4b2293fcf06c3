package cooling

import (
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

// Assumed values. Common practice, no source, chosen on the unfavourable side.
const (
	assumedRoom     = 30.0
	assumedHumidity = 0.80
	assumedAmbient  = 35.0
	assumedMains    = 20.0
	assumedMargin   = 0.15
	assumedRise     = 4.0
	assumedNoise    = 40.0 // dB(A) at night outside a window: WHO Night Noise Guidelines for Europe 2009, from memory

	supplyBelow = 5.0 // K below the coldest beer
	coldSupply  = -5.0
	warmSupply  = 2.0
	freezeBelow = 8.0  // K: the evaporator's wall is 5 to 6 K below the supply, and mixing is never exact
	leastGlycol = 0.30 // keeps the inhibitors strong enough
)

var practice = source.Practice("")

// assumptions collects what was taken, each field once.
type assumptions struct{ list []Assumption }

func (a *assumptions) add(field string, q unit.Quantity, words string) {
	for i := range a.list {
		if a.list[i].Field == field {
			return
		}
	}
	a.list = append(a.list, Assumption{Field: field, Quantity: q, Words: words, Source: practice})
}

// or gives the known value, or the assumed one and takes note of it.
func or[Q unit.Quantity](a *assumptions, given *Q, field string, assumed Q, words string) Q {
	if given != nil {
		return *given
	}
	a.add(field, assumed, words)
	return assumed
}

// orZero does the same where zero means not given.
func orZero[Q interface {
	unit.Quantity
	comparable
}](a *assumptions, given Q, field string, assumed Q, words string,
) Q {
	var none Q
	if given != none {
		return given
	}
	a.add(field, assumed, words)
	return assumed
}

// tank is a Tank with everything filled in.
type tank struct {
	Tank
	body     Body
	u        unit.HeatTransfer
	gain     float64 // W/K through the skin
	capacity unit.HeatCapacity
	area     float64 // m² of jacket
	hold     float64 // °C, coldest
	warm     float64 // °C, coldest it ferments at
	flow     float64 // m³/s
	drop     float64 // Pa at flow
	held     unit.Volume
	peak     float64 // W of fermentation
	crash    float64 // W, highest mean crash duty
	bright   float64 // W, taken out after the way in
	refill   float64 // W
}

// resolveTank fills in the geometry, insulation and steel of a tank.
func resolveTank(a *assumptions, t Tank) (tank, error) {
	if err := unit.Positive("working volume", t.Volume); err != nil {
		return tank{}, err
	}
	freeboard, bottom := 1.10, Dished
	if t.Use == Ferment {
		freeboard, bottom = 1.25, Cone
	}
	if t.Gross == 0 {
		t.Gross = unit.CubicMetres(t.Volume.M3() * freeboard)
	}
	if t.Bottom == "" {
		t.Bottom = bottom
	}
	if t.Top == "" {
		t.Top = Dished
	}
	t.Angle = orZeroQuiet(t.Angle, unit.Degrees(60))
	t.Diameter = orZero(a, t.Diameter, "Tanks[].Diameter", unit.Metres(math.Cbrt(t.Volume.M3())), "inside diameter as the cube root of the working volume")
	body, err := Geometry(t.Gross, t.Diameter, t.Cylinder, t.Bottom, t.Top, t.Angle)
	if err != nil {
		return tank{}, err
	}
	foam := or(a, t.Insulation, "Tanks[].Insulation", unit.Millimetres(80), "foam on the tanks")
	lambda := or(a, t.Lambda, "Tanks[].Lambda", unit.WattsPerMK(0.026), "sprayed polyurethane")
	u, err := Insulated(foam, lambda, unit.WattsPerM2K(filmIndoor))
	if err != nil {
		return tank{}, err
	}
	steel := or(a, t.Steel, "Tanks[].Steel", unit.Kilograms(0.32*t.Volume.L()), "steel cooled with the beer, 0.32 kg for each litre")
	jacket := t.JacketBody + t.JacketCone
	if jacket == 0 {
		jacket = unit.SquareMetres(0.4 * (body.Shell + body.BottomA).M2())
		a.add("Tanks[].JacketBody", jacket, "jacket on 40 % of shell and bottom")
	}
	r := tank{
		Tank: t, body: body, u: u, gain: bridge * u.WM2K() * body.Surface.M2(), area: jacket.M2(),
		capacity: TankCapacity(t.Volume, steel), held: t.JacketHeld,
	}
	if r.held == 0 {
		r.held = unit.Litres(12 * r.area)
	}
	return r, nil
}

func orZeroQuiet[Q comparable](given, assumed Q) Q {
	var none Q
	if given != none {
		return given
	}
	return assumed
}

// Hours of the assumed schedule: a fermenter is filled once in two weeks.
const (
	assumedHorizon = 336.0
	assumedCrashAt = 192.0
	assumedEnd     = 288.0
	brightHours    = 72.0
	refillAfter    = 6.0
)

// assumedBatches fills each fermenter once in two weeks with a 12 °P ale, evenly staggered.
func assumedBatches(a *assumptions, tanks []Tank) []Batch {
	count := 0
	for i := range tanks {
		if tanks[i].Use == Ferment {
			count++
		}
	}
	batches := make([]Batch, 0, count)
	for i := range tanks {
		if tanks[i].Use != Ferment {
			continue
		}
		at := math.Floor(assumedHorizon * float64(len(batches)) / float64(count))
		batches = append(batches, Batch{
			Tank: tanks[i].Tag, Beer: "ale 12 °P", Start: unit.Hours(at), End: unit.Hours(at + assumedEnd),
			Original: unit.DegreesPlato(12), Final: unit.DegreesPlato(2.5), Ferment: unit.Celsius(20),
			Crash: &Crash{Start: unit.Hours(at + assumedCrashAt), To: unit.Celsius(1)},
		})
	}
	if count > 0 {
		a.add("Batches", unit.PureNumber(float64(count)), "each fermenter filled once in two weeks with an ale of 12 °P, evenly staggered")
	}
	return batches
}

// assumedStays sends each batch on to a bright tank in turn.
func assumedStays(a *assumptions, tanks []Tank, batches []Batch) []Stay {
	var bright []string
	for i := range tanks {
		if tanks[i].Use == Bright {
			bright = append(bright, tanks[i].Tag)
		}
	}
	if len(bright) == 0 || len(batches) == 0 {
		return nil
	}
	stays := make([]Stay, len(batches))
	for i, b := range batches {
		stays[i] = Stay{Tank: bright[i%len(bright)], Start: b.End, End: b.End + unit.Hours(brightHours)}
	}
	a.add("Stays", unit.Hours(brightHours), "each batch goes on to a bright tank, in turn")
	return stays
}

// assumedRefills refills a cold-liquor tank after each brew.
func assumedRefills(a *assumptions, tanks []Tank, batches []Batch) []Refill {
	for i := range tanks {
		if tanks[i].Use != ColdLiquor || len(batches) == 0 {
			continue
		}
		refills := make([]Refill, len(batches))
		for k, b := range batches {
			refills[k] = Refill{Tank: tanks[i].Tag, Start: b.Start + unit.Hours(refillAfter), Volume: unit.CubicMetres(0.55 * tanks[i].Volume.M3())}
		}
		a.add("Refills", refills[0].Volume, "refilled after each brew")
		return refills
	}
	return nil
}
