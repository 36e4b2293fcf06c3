package brewing

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

// knock is the cooling of one brew with all that does not change while the temperature
// between the stages is sought.
type knock struct {
	c        Cooler
	task     CoolingTask
	capacity float64 // kJ/K of the wort
	pitch    float64 // °C
}

// knockout cools one brew on a mains temperature.
func (s *settled) knockout(b *settledBeer, sh *BrewSheet, length unit.Volume, mains unit.Temperature) (*Knockout, error) {
	c, p := s.Cooler, s.Practice
	k := &Knockout{Mains: mains, Coolant: mains}
	if c.ColdLiquor {
		k.Coolant = c.ChilledIn
	}
	wort := unit.Kilograms(length.L() * gravity(b.OE.P()) * rho20)
	n := knock{c: c, capacity: wort.Kg() * wortHeat(b.OE.P()), pitch: b.pitch.C()}
	n.task = CoolingTask{Wort: wort, Extract: b.OE, From: p.Cast, WaterIn: k.Coolant, WaterOut: c.WaterOut, Time: c.Time}
	k.Total = unit.Kilojoules(n.capacity * (p.Cast.C() - n.pitch))
	if err := n.stages(k); err != nil {
		return nil, fmt.Errorf("knock-out on %s: %w", k.Coolant, err)
	}
	k.Shortest = unit.Kelvins(k.Stage1To.C() - k.Coolant.C())
	if c.ColdLiquor {
		k.Refill = unit.Kilojoules(k.Stage1.Water.L() * waterHeat * math.Max(0, mains.C()-c.ChilledIn.C()))
	}
	k.HotWater, k.Ratio = k.Stage1.Water, unit.Fraction(k.Stage1.Water.L()/length.L())
	k.Surplus = max(0, k.HotWater-sh.HotLiquor)
	return k, nil
}

// stages finds where the first stage ends and how long knock-out takes. The first
// stage goes as far down as its approach allows. An exchanger of known size that
// cannot do that in the planned time hands more to the second stage, if there is one;
// what neither can do in time makes knock-out longer.
func (n *knock) stages(k *Knockout) error {
	least := math.Max(n.pitch, k.Coolant.C()+n.c.Approach.K())
	to := least
	k.Time = n.c.Time
	if n.c.UA != nil {
		to = n.handOver(least, k.Coolant.C())
		k.Time = max(k.Time, n.firstTime(to), n.secondTime(to))
	}
	n.task.To, n.task.Time = unit.Celsius(to), k.Time
	duty, err := CoolWort(n.task)
	if err != nil {
		return err
	}
	k.Stage1, k.Stage1To, k.Reaches = duty, n.task.To, true
	if to > n.pitch+1e-9 {
		k.Stage2 = n.second(to, k.Time)
		k.Reaches = n.c.Stages >= 2 && n.c.ChilledIn.C() < n.pitch
	}
	return nil
}

// handOver is the wort temperature between the stages: the lowest at which the first
// keeps the planned time, but none above which the second would be the slower.
func (n *knock) handOver(least, coolant float64) float64 {
	most := math.Min(coolant+25, n.task.From.C()-10)
	if n.c.Stages < 2 || n.firstTime(least) <= n.c.Time || most <= least {
		return least
	}
	lo, hi := least, most
	for range 30 {
		mid := (lo + hi) / 2
		if first := n.firstTime(mid); first > n.c.Time && first > n.secondTime(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}

// firstTime is how long the first stage takes to a temperature; with its temperatures
// held, its power is UA·LMTD.
func (n *knock) firstTime(to float64) unit.Duration {
	d, err := LMTD(n.task.From, unit.Celsius(to), n.task.WaterIn, n.task.WaterOut)
	if err != nil || n.c.UA == nil || *n.c.UA <= 0 {
		return n.c.Time
	}
	return unit.Seconds(n.capacity * (n.task.From.C() - to) / (n.c.UA.KWK() * d.K()))
}

// secondTime is how long the second stage takes from a temperature; the planned time
// where its size is not known.
func (n *knock) secondTime(from float64) unit.Duration {
	if n.c.UA2 == nil || *n.c.UA2 <= 0 || from <= n.pitch {
		return n.c.Time
	}
	d, err := LMTD(unit.Celsius(from), unit.Celsius(n.pitch), n.c.ChilledIn, n.chilledOut(from))
	if err != nil {
		return n.c.Time
	}
	return unit.Seconds(n.capacity * (from - n.pitch) / (n.c.UA2.KWK() * d.K()))
}

// chilledOut keeps the chilled liquor 2 K below the wort that it meets.
func (n *knock) chilledOut(from float64) unit.Temperature {
	return unit.Celsius(math.Min(n.c.ChilledOut.C(), from-2))
}

// second is the load of the second stage.
func (n *knock) second(from float64, t unit.Duration) *StageTwo {
	q := n.capacity * (from - n.pitch)
	two := &StageTwo{From: unit.Celsius(from), To: unit.Celsius(n.pitch), Heat: unit.Kilojoules(q), Power: unit.Kilowatts(q / t.S()), Out: n.chilledOut(from)}
	if span := two.Out.C() - n.c.ChilledIn.C(); span > 0 {
		two.Chilled = unit.Kilograms(q / (waterHeat * span))
	}
	if d, err := LMTD(two.From, two.To, n.c.ChilledIn, two.Out); err == nil {
		two.UA = unit.KilowattsPerK(q / t.S() / d.K())
	}
	return two
}
