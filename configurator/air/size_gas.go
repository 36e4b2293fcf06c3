package air

import (
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
)

// sizeGas sizes one room. Without a trace it leaves out what only papers need, so that
// remedies can be tried quickly.
func sizeGas(g GasSpace, limits []Limit, points AlarmPoints, t *trace.Trace) (GasResult, error) {
	r := GasResult{Name: g.Room.Name, Volume: g.Room.Air(), Largest: -1}
	if err := unit.Positive("air volume (room area and height, or volume)", r.Volume); err != nil {
		return r, err
	}
	if err := unit.Within("leak with blow-offs piped", g.Leak, 0, unit.Percent(100)); err != nil {
		return r, err
	}
	k := g.Mixing.Value()
	if k == 0 {
		k = defaultMix
	}
	if err := unit.InRange("mixing factor", k, 1, 10); err != nil {
		return r, err
	}
	r.Zone = lowerZone(g)
	made, rows, err := week(g)
	if err != nil {
		return r, err
	}
	r.Batches = rows
	leak := g.Leak.Value()
	if leak == 0 {
		leak = defaultLeak
	}
	open := func(m unit.MassFlow) unit.MassFlow { return m }
	piped := func(m unit.MassFlow) unit.MassFlow { return unit.KgPerSecond(m.KgS() * leak) }
	chosen := open
	if g.Piped {
		chosen = piped
	}
	fan := unit.VolumeFlow(0)
	if g.Fan != nil {
		fan = *g.Fan
	}
	if t != nil {
		r.Hours = course(made, chosen, g.Purge, fan, k, r.Volume)
	}
	for _, m := range made {
		r.Produced += unit.Kilograms(m.KgH())
	}
	c := gasCase{g: g, k: k, fan: fan, limits: limits, room: r.Volume}
	if r.Open, err = c.size("blow-offs into the room", made, open); err != nil {
		return r, err
	}
	if r.Piped, err = c.size("blow-offs piped outdoors", made, piped); err != nil {
		return r, err
	}
	r.Chosen = r.Open
	if g.Piped {
		r.Chosen = r.Piped
	}
	if err := r.losses(g, limits, points); err != nil {
		return r, err
	}
	if t == nil {
		return r, nil
	}
	r.Schedule = gasSchedule(g, r)
	r.addSteps(g, k, limits, t)
	return r, nil
}

// gasCase carries what both arrangements of the blow-offs share.
type gasCase struct {
	g      GasSpace
	k      float64
	fan    unit.VolumeFlow
	limits []Limit
	room   unit.Volume
}

func (c gasCase) size(name string, made []unit.MassFlow, toRoom func(unit.MassFlow) unit.MassFlow) (GasCase, error) {
	out := GasCase{Name: name}
	out.Peak = c.g.Purge
	into := make([]unit.MassFlow, len(made))
	near, q, v := outdoorPPM, c.fan.M3H()/c.k, c.room.M3()
	high := near
	for i, m := range made {
		in := toRoom(m) + c.g.Purge
		into[i] = in
		out.Week += unit.Kilograms(in.KgH())
		if in > out.Peak {
			out.Peak, out.PeakHour = in, i
		}
		near = after(near, gasFlow(in).M3H(), q, v, 1)
		high = max(high, near)
	}
	out.PeakFlow, out.HighestNear = gasFlow(out.Peak), unit.PPM(high)
	long := role(c.limits, "long").Share
	var err error
	if out.NeedPerfect, err = Ventilation(out.PeakFlow, long, 1); err != nil {
		return out, err
	}
	if out.Need, err = Ventilation(out.PeakFlow, long, unit.Fraction(c.k)); err != nil {
		return out, err
	}
	out.NeedChanges = unit.AirChangesPerHour(out.Need.M3H() / c.room.M3())
	out.AtNeed, out.Steady, out.SteadyNear = unit.PPM(outdoorPPM), unit.PPM(outdoorPPM), unit.PPM(outdoorPPM)
	if out.Need > 0 {
		if out.AtNeed, err = Steady(out.PeakFlow, out.Need); err != nil {
			return out, err
		}
		if out.PurgeTime, err = Purge(unit.PPM(30000), unit.PPM(5000), out.Need, c.room); err != nil {
			return out, err
		}
	}
	if c.fan > 0 {
		if out.Steady, err = Steady(out.PeakFlow, c.fan); err != nil {
			return out, err
		}
		out.SteadyNear = unit.PPM(outdoorPPM + (out.Steady.PPM()-outdoorPPM)*c.k)
	}
	trips := newFanTrips(into, c.fan, c.room)
	for _, l := range c.limits {
		lt := LimitTime{Limit: l}
		steady, ok := TimeTo(l.Share, out.PeakFlow, c.room)
		lt.Steady, lt.Never = steady, !ok
		if week, at, reached := trips.shortest(l.Share); reached {
			lt.Week, lt.AtHour, lt.Reached = week, at, true
		}
		out.FanOff = append(out.FanOff, lt)
	}
	return out, nil
}

func (r *GasResult) losses(g GasSpace, limits []Limit, points AlarmPoints) error {
	var err error
	if r.Releases, err = releases(g, limits); err != nil {
		return err
	}
	for i, row := range r.Releases {
		if !row.Outdoor && (r.Largest < 0 || row.Mass > r.Releases[r.Largest].Mass) {
			r.Largest = i
		}
	}
	over := r.Largest >= 0 && r.Releases[r.Largest].Share > role(limits, "long").Share
	r.NeedsAlarm = over || yes(g.Room.LowPoint) && (len(g.Stores) > 0 || len(g.Tanks) > 0 || r.Produced > 0)
	if r.NeedsAlarm {
		r.Detectors = detectors(g, points)
	}
	for _, ppm := range []float64{5000, 30000, 50000} {
		r.OxygenRows = append(r.OxygenRows, OxygenRow{CO2: unit.PPM(ppm), Oxygen: Oxygen(unit.PPM(ppm))})
	}
	r.OxygenBlind = HiddenFromOxygen(unit.PercentByVolume(19.5))
	return nil
}

// hundreds is one for each started 100 m² of floor; common practice, no source.
func hundreds(g GasSpace) int { return max(int(math.Ceil(g.Room.Area.M2()/100-1e-9)), 1) }

// heads is how many sensing heads a room wants.
func heads(g GasSpace) int {
	if yes(g.Room.LowPoint) {
		return hundreds(g) + 1
	}
	return hundreds(g)
}

// detectors places the heads: one, one more for each further 100 m² of floor
// (common practice, no source), one at the low point, a display at the door.
func detectors(g GasSpace, p AlarmPoints) []DetectorRow {
	n := hundreds(g)
	rows := []DetectorRow{{Place: g.Room.Name + ", between tanks and where people stand", Count: n, HeadLow: p.HeadLow, HeadHigh: p.HeadHigh, Words: "one for each started 100 m² of floor, common practice"}}
	if yes(g.Room.LowPoint) {
		rows = append(rows, DetectorRow{Place: g.Room.Name + ", lowest point (each pit or stair foot)", Count: 1, HeadLow: p.HeadLow, HeadHigh: p.HeadHigh, Words: "one in each pit"})
	}
	return append(rows, DetectorRow{Place: "outside every door of " + g.Room.Name, Count: 1, Words: "repeater with display, beacon and sounder, one at each door"})
}

func (r *GasResult) addSteps(g GasSpace, k float64, limits []Limit, t *trace.Trace) {
	t.Add(trace.Step{Title: "Highest gas rate into " + r.Name, Symbol: "G", Formula: "m · 24.055/44.01", Values: []trace.Value{trace.V("m", r.Chosen.Peak)}, Result: r.Chosen.PeakFlow, Source: balling.At("gas equation")})
	t.Add(trace.Step{Title: "Extract needed in " + r.Name, Symbol: "Q", Formula: "K · G / (Clim - C0)", Values: []trace.Value{trace.V("K", unit.Fraction(k)), trace.V("G", r.Chosen.PeakFlow), trace.V("Clim", role(limits, "long").Share)}, Result: r.Chosen.Need, Source: source.Derivation("mass balance of a mixed room; mixing factor from memory")})
	if len(r.Chosen.FanOff) > 1 && !r.Chosen.FanOff[1].Never {
		t.Add(trace.Step{Title: "Fan off to the short-term limit", Symbol: "t", Formula: "V · (Clim - C0) / G", Values: []trace.Value{trace.V("V", r.Volume), trace.V("Clim", limits[1].Share)}, Result: r.Chosen.FanOff[1].Steady, Source: source.Derivation("mass balance of a mixed room")})
	}
	if r.Largest >= 0 {
		l := r.Releases[r.Largest]
		t.Add(trace.Step{Title: "Largest loss in " + r.Name, Symbol: "C", Formula: "m · 0.552 / V", Values: []trace.Value{trace.V("m", l.Mass), trace.V("V", l.Zone)}, Result: l.Share, Source: oxygenNote.At("")})
	}
}
