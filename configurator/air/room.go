package air

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

// Steady returns the concentration a room settles at, C = C0 + G/Q.
//
// gas is the carbon dioxide given off as volume, extract the air drawn. Without
// extract there is no steady state, and an error says so. Outdoor air has 420 ppm.
//
// Source: mass balance of a mixed room.
func Steady(gas, extract unit.VolumeFlow) (unit.VolumeFraction, error) {
	if err := unit.NotNegative("gas", gas); err != nil {
		return 0, fmt.Errorf("steady concentration: %w", err)
	}
	if err := unit.Positive("extract", extract); err != nil {
		return 0, fmt.Errorf("steady concentration: %w", err)
	}
	return unit.PPM(outdoorPPM + gas.M3S()/extract.M3S()*1e6), nil
}

// After returns the concentration of a mixed room after a time.
//
//	C(t) = C0 + G/Q·(1 - e^(-Q·t/V)) + (Ci - C0)·e^(-Q·t/V); without extract C = Ci + G·t/V
//
// Source: mass balance of a mixed room, solved for constant gas and extract.
func After(start unit.VolumeFraction, gas, extract unit.VolumeFlow, room unit.Volume, t unit.Duration) (unit.VolumeFraction, error) {
	if err := unit.Positive("room volume", room); err != nil {
		return 0, fmt.Errorf("concentration: %w", err)
	}
	if err := unit.NotNegative("time", t); err != nil {
		return 0, fmt.Errorf("concentration: %w", err)
	}
	return unit.PPM(after(start.PPM(), gas.M3H(), extract.M3H(), room.M3(), t.H())), nil
}

// after works in ppm, m³/h, m³ and h. The share cannot pass the whole room.
func after(start, g, q, v, t float64) float64 {
	if q <= 0 {
		return min(start+g/v*t*1e6, 1e6)
	}
	e := math.Exp(-q * t / v)
	return min(outdoorPPM-g/q*1e6*math.Expm1(-q*t/v)+(start-outdoorPPM)*e, 1e6)
}

// Ventilation returns the extract that holds a room at a limit.
//
//	Q = K · G / (Clim - C0)
//
// mixing is the factor K: 1 for air that mixes perfectly, 3 usual, 10 poor.
//
// Source: mass balance; K as in industrial ventilation practice, from memory.
func Ventilation(gas unit.VolumeFlow, limit unit.VolumeFraction, mixing unit.Ratio) (unit.VolumeFlow, error) {
	if err := unit.InRange("mixing factor", mixing.Value(), 1, 10); err != nil {
		return 0, fmt.Errorf("ventilation: %w", err)
	}
	if limit.PPM() <= outdoorPPM {
		return 0, fmt.Errorf("ventilation: the limit %v is not above outdoor air with 420 ppm", limit)
	}
	return unit.M3PerHour(mixing.Value() * gas.M3H() / (limit.Fraction() - outdoorPPM*1e-6)), nil
}

// TimeTo returns how long a room takes from outdoor air to a limit with the fan off.
//
//	t = V · (Clim - C0) / G
//
// Without gas the limit is never reached; ok is false.
//
// Source: mass balance of a mixed room without ventilation.
func TimeTo(limit unit.VolumeFraction, gas unit.VolumeFlow, room unit.Volume) (t unit.Duration, ok bool) {
	if gas <= 0 {
		return 0, false
	}
	return unit.Hours(room.M3() * (limit.Fraction() - outdoorPPM*1e-6) / gas.M3H()), true
}

// Purge returns how long a fan takes to bring a room from one concentration to another.
//
//	t = V/Q · ln((C1 - C0)/(C2 - C0))
//
// Source: mass balance of a mixed room without a source.
func Purge(from, to unit.VolumeFraction, extract unit.VolumeFlow, room unit.Volume) (unit.Duration, error) {
	if err := unit.Positive("extract", extract); err != nil {
		return 0, fmt.Errorf("purge: %w", err)
	}
	if to.PPM() <= outdoorPPM || from < to {
		return 0, fmt.Errorf("purge: from %v to %v: the end must lie below the start and above 420 ppm", from, to)
	}
	return unit.Hours(room.M3() / extract.M3H() * math.Log((from.PPM()-outdoorPPM)/(to.PPM()-outdoorPPM))), nil
}

// Oxygen returns what is left of oxygen when carbon dioxide displaces air.
//
//	O2 = 20.95 · (1 - C)
//
// Source: dilution; 20.95 % in dry air.
func Oxygen(co2 unit.VolumeFraction) unit.VolumeFraction {
	return unit.PercentByVolume(20.95 * (1 - co2.Fraction()))
}

// HiddenFromOxygen returns the carbon dioxide at which an oxygen alarm first speaks.
//
// Source: inverse of Oxygen.
func HiddenFromOxygen(alarm unit.VolumeFraction) unit.VolumeFraction {
	return unit.FractionByVolume(1 - alarm.Pct()/20.95)
}

// HourRow is one hour of the busiest week.
type HourRow struct {
	Hour   int
	Made   unit.MassFlow       // by all tanks
	Open   unit.MassFlow       // into the room with blow-offs into the room
	Room   unit.MassFlow       // into the room as the blow-offs are arranged
	PPM    unit.VolumeFraction // at the hour's end with the fan as it is, mixing factor applied
	FanOff unit.VolumeFraction // at the hour's end without any fan since the week's start
}

// course follows the concentration through the week. The mixing factor shrinks the
// effective extract, so that the breathing zone near the source is meant.
func course(made []unit.MassFlow, toRoom func(unit.MassFlow) unit.MassFlow, purge unit.MassFlow, fan unit.VolumeFlow, mixing float64, room unit.Volume) []HourRow {
	rows := make([]HourRow, len(made))
	q, v := fan.M3H()/mixing, room.M3()
	on, off := outdoorPPM, outdoorPPM
	for i, m := range made {
		in := toRoom(m) + purge
		g := gasFlow(in).M3H()
		off = min(off+g/v*1e6, 1e6)
		on = after(on, g, q, v, 1)
		rows[i] = HourRow{Hour: i, Made: m, Open: m + purge, Room: in, PPM: unit.PPM(on), FanOff: unit.PPM(off)}
	}
	return rows
}

// fanTrips finds, over every hour of the week at which the fan could stop, the
// shortest time to a limit. The room then stands at what the fan had left in it.
type fanTrips struct {
	gas   []float64 // m³ that came into the room by the beginning of each hour
	start []float64 // ppm in the room, mixed, at the beginning of each hour
	room  float64   // m³
}

func newFanTrips(into []unit.MassFlow, fan unit.VolumeFlow, room unit.Volume) fanTrips {
	f := fanTrips{gas: make([]float64, len(into)+1), start: make([]float64, len(into)), room: room.M3()}
	q, c := fan.M3H(), outdoorPPM
	for i, m := range into {
		g := gasFlow(m).M3H()
		f.start[i], f.gas[i+1] = c, f.gas[i]+g
		if q > 0 { // without a fan nothing stops: the time counts from fresh air
			c = after(c, g, q, f.room, 1)
		}
	}
	return f
}

// shortest gives the time, the hour of the trip, and whether the limit is reached at all.
func (f fanTrips) shortest(limit unit.VolumeFraction) (unit.Duration, int, bool) {
	best, at, j := math.Inf(1), 0, 1
	for i, c := range f.start {
		if c >= limit.PPM() {
			return 0, i, true
		}
		// what must have come in by then; it never falls from hour to hour, since the fan
		// only takes away
		need := f.gas[i] + (limit.PPM()-c)*1e-6*f.room
		for j = max(j, i+1); j < len(f.gas) && f.gas[j] < need; j++ {
		}
		if j == len(f.gas) {
			break // the week ends first
		}
		share := (need - f.gas[j-1]) / (f.gas[j] - f.gas[j-1])
		if t := float64(j-1-i) + share; t < best {
			best, at = t, i
		}
	}
	if math.IsInf(best, 1) {
		return 0, 0, false
	}
	return unit.Hours(best), at, true
}
