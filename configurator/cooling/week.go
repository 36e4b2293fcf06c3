package cooling

import "math"

// week gathers the hourly means of the load, in W.
type week struct {
	n                                          int
	repeats                                    bool
	ferment, crash, gain, bright, liquor, wort []float64
	crashing                                   []int
}

func newWeek(hours int, repeats bool) *week {
	all := make([]float64, 6*hours)
	cut := func(i int) []float64 { return all[i*hours : (i+1)*hours : (i+1)*hours] }
	return &week{n: hours, repeats: repeats, ferment: cut(0), crash: cut(1), gain: cut(2), bright: cut(3), liquor: cut(4), wort: cut(5), crashing: make([]int, hours)}
}

// place gives the slot of an hour counted from the beginning; -1 lies outside.
func (w *week) place(hour int) int {
	if hour >= 0 && hour < w.n {
		return hour
	}
	if !w.repeats {
		return -1
	}
	return ((hour % w.n) + w.n) % w.n
}

// steady adds a constant load from one time to another, in hours.
func (w *week) steady(series []float64, from, to, watts float64) {
	if watts == 0 {
		return
	}
	for h := int(math.Floor(from)); float64(h) < to; h++ {
		if i := w.place(h); i >= 0 {
			part := min(float64(h+1), to) - max(float64(h), from)
			series[i] += watts * part
		}
	}
}

// ferments adds the heat of a batch: exact means of its course, cut when the crash
// begins, because cold yeast stops working. stretch lengthens the course.
func (w *week) ferments(start, until, peak, stretch float64, c course) {
	last := min(until, start+stretch*c.hour[len(c.hour)-1])
	before := 0.0
	for h := int(math.Floor(start)); float64(h) < last; h++ {
		after := stretch * c.until((min(float64(h+1), last)-start)/stretch)
		if i := w.place(h); i >= 0 {
			w.ferment[i] += peak * (after - before)
		}
		before = after
	}
}

// rampStep is the step of the crash in hours; a crash that takes longer than rampDays
// counts as not reached.
const (
	rampStep = 0.25
	rampDays = 7
)

// descent is a tank cooled down by a ramp as far as its jacket can follow.
type descent struct {
	heat  []float64 // W out of beer and steel, for each step
	temp  []float64 // °C at the middle of each step
	hours float64
	ok    bool
}

// ramp lowers a tank from one temperature to another over the hours allowed; where
// the jacket takes less than the ramp asks, the jacket decides.
func (j jacket) ramp(from, to, over float64) descent {
	steps := int(over/rampStep) + 8
	d := descent{heat: make([]float64, 0, steps), temp: make([]float64, 0, steps)}
	perStep := rampStep * 3600 / j.capacity // K for each W
	t, rate := from, (from-to)/over
	limit := j.follows(from, to, rate)
	for k := 1; k <= rampDays*24/rampStep; k++ {
		target := max(from-rate*rampStep*float64(k), to)
		drop := t - target
		half := t - drop/2
		if target < limit {
			drop = min(drop, j.step(t, half, perStep))
		}
		if drop < 1e-6 && t > to {
			return d
		}
		d.heat = append(d.heat, drop/perStep)
		d.temp = append(d.temp, t-drop/2)
		t -= drop
		d.hours += rampStep
		if t <= to+1e-6 {
			d.ok = true
			return d
		}
	}
	return d
}

// step is how far the open jacket lowers a tank in one step, by the midpoint: half is
// the temperature in the middle of it if the ramp were followed.
func (j jacket) step(t, half, perStep float64) float64 {
	can := (j.takes(half) - j.leaks(half)) * perStep
	if can >= 2*(t-half) {
		return can
	}
	half = t - max(can, 0)/2
	return max((j.takes(half)-j.leaks(half))*perStep, 0)
}

// follows gives the temperature down to which the jacket can follow a ramp of rate K/h:
// what it takes falls with the temperature, what leaks in rises.
func (j jacket) follows(from, to, rate float64) float64 {
	asked := rate / 3600 * j.capacity
	lo, hi := to, from
	if j.takes(lo)-j.leaks(lo) >= asked {
		return lo
	}
	for range 10 {
		mid := (lo + hi) / 2
		if j.takes(mid)-j.leaks(mid) >= asked {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

// crashes adds a descent and the gain that goes with it, cut at until.
func (w *week) crashes(start, until float64, d descent, j jacket) {
	for k := range d.heat {
		at := start + (float64(k)+0.5)*rampStep
		if at > until {
			break
		}
		if i := w.place(int(math.Floor(at))); i >= 0 {
			w.crash[i] += d.heat[k] * rampStep
			w.gain[i] += j.leaks(d.temp[k]) * rampStep
		}
	}
	for h := int(math.Floor(start)); float64(h) < min(start+d.hours, until); h++ {
		if i := w.place(h); i >= 0 {
			w.crashing[i]++
		}
	}
}
