package cooling

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

const jacketSpare = 1.8 // flow of a jacket over what its mean crash duty needs, common practice: 1.5 to 2

// descentMemo keeps what equal tanks share.
type descentMemo struct {
	j              jacket
	from, to, over float64
	d              descent
	open           float64
	reached        bool
}

func (d *design) descend(j jacket, from, to, over float64) *descentMemo {
	for i := range d.memo {
		m := &d.memo[i]
		if m.j == j && m.from == from && m.to == to && m.over == over {
			return m
		}
	}
	m := descentMemo{j: j, from: from, to: to, over: over, d: j.ramp(from, to, over)}
	m.open, m.reached = j.time(from, to)
	d.memo = append(d.memo, m)
	return &d.memo[len(d.memo)-1]
}

// batchCapacity is beer and steel of a batch.
func batchCapacity(t *tank, b *Batch) float64 {
	if b.Volume == 0 || b.Volume == t.Volume {
		return t.capacity.JK()
	}
	return t.capacity.JK() + (b.Volume.M3()-t.Volume.M3())*rhoBeer*cpBeer
}

func batchVolume(t *tank, b *Batch) unit.Volume { return orZeroQuiet(b.Volume, t.Volume) }

// flows sets the glycol each jacket gets: its rating, or what its own duty asks.
func (d *design) flows() error {
	for i := range d.res.Batches {
		b := &d.res.Batches[i]
		t := d.find(b.Tank)
		peak, _, err := heatCourse(t, b)
		if err != nil {
			return fmt.Errorf("batch %d in %s: %w", i+1, b.Tank, err)
		}
		if t.warm == 0 || fermentTemp(*b).C() < t.warm {
			t.warm = fermentTemp(*b).C()
		}
		t.peak = max(t.peak, peak)
		if b.Crash == nil {
			continue
		}
		t.crash = max(t.crash, d.crashMean(t, b)+d.meanGain(t, b))
	}
	for i := range d.res.Stays {
		t := d.find(d.res.Stays[i].Tank)
		t.bright = max(t.bright, d.pullDown(t, &d.res.Stays[i]))
	}
	for i := range d.res.Refills {
		t := d.find(d.res.Refills[i].Tank)
		q, err := d.refillDuty(t, &d.res.Refills[i])
		if err != nil {
			return err
		}
		t.refill = max(t.refill, q)
	}
	perWatt := jacketSpare / (d.meanFluid.Heat.JKgK() * d.rise * d.meanFluid.Density.KgM3())
	for i := range d.tanks {
		t := &d.tanks[i]
		duty := max(t.crash, max(t.bright, t.refill)+t.gain*max(d.room-t.hold, 0), t.peak+t.gain*max(d.room-t.warm, 0))
		if t.Use == Ferment && t.peak == 0 && t.crash == 0 {
			duty = 0
		}
		t.flow = duty * perWatt
		if t.JacketFlow != nil {
			t.flow = t.JacketFlow.M3S()
		} else if duty > 0 {
			d.a.add("Tanks[].JacketFlow", unit.M3PerSecond(t.flow), "1.8 times what the mean duty needs")
		}
		t.drop = d.jacketDrop(t)
	}
	return nil
}

func (d *design) jacketDrop(t *tank) float64 {
	if t.JacketDrop != nil {
		return t.JacketDrop.Pa()
	}
	d.a.add("Tanks[].JacketDrop", unit.Pascals(assumedDrop), "pressure lost in a jacket at its flow")
	return assumedDrop
}

func (d *design) crashMean(t *tank, b *Batch) float64 {
	return batchCapacity(t, b) * (fermentTemp(*b).C() - b.Crash.To.C()) / crashOver(*b).S()
}

func (d *design) meanGain(t *tank, b *Batch) float64 {
	return t.gain * max(d.room-(fermentTemp(*b).C()+b.Crash.To.C())/2, 0)
}

func (d *design) pullDown(t *tank, s *Stay) float64 {
	warm := orZeroQuiet(s.WarmUp, unit.Kelvins(2))
	over := orZeroQuiet(s.Over, unit.Hours(12))
	return orZeroQuiet(s.Volume, t.Volume).M3() * rhoBeer * cpBeer * warm.K() / over.S()
}

func (d *design) refillDuty(t *tank, r *Refill) (float64, error) {
	if d.in.Mains == nil {
		d.a.add("Mains", unit.Celsius(assumedMains), "mains water in summer")
	}
	q, err := LiquorDuty(r.Volume, unit.Celsius(d.mains), unit.Celsius(t.hold), orZeroQuiet(r.Over, unit.Hours(20)))
	return q.W(), err
}

func (d *design) jacketOf(t *tank, b *Batch) jacket {
	return jacket{
		capacity: batchCapacity(t, b), area: t.area, flow: t.flow * d.meanFluid.Density.KgM3() * d.meanFluid.Heat.JKgK(),
		gain: t.gain, glycol: d.supply, room: d.room,
	}
}

// load runs the weeks.
func (d *design) load() error {
	w := newWeek(d.res.Horizon, d.in.Repeats)
	d.week = w
	d.res.Crashes = make([]CrashResult, 0, len(d.res.Batches))
	for i := range d.res.Batches {
		if err := d.batch(w, &d.res.Batches[i]); err != nil {
			return fmt.Errorf("batch %d in %s: %w", i+1, d.res.Batches[i].Tank, err)
		}
	}
	for i := range d.res.Stays {
		s := &d.res.Stays[i]
		t := d.find(s.Tank)
		over := orZeroQuiet(s.Over, unit.Hours(12)).H()
		w.steady(w.bright, s.Start.H(), min(s.Start.H()+over, s.End.H()), d.pullDown(t, s))
		w.steady(w.bright, s.Start.H(), s.End.H(), t.gain*max(d.room-t.hold, 0))
	}
	for i := range d.res.Refills {
		r := &d.res.Refills[i]
		t := d.find(r.Tank)
		q, _ := d.refillDuty(t, r)
		w.steady(w.liquor, r.Start.H(), r.Start.H()+orZeroQuiet(r.Over, unit.Hours(20)).H(), q)
	}
	for i := range d.tanks {
		if t := &d.tanks[i]; t.Use == ColdLiquor {
			w.steady(w.liquor, 0, float64(w.n), t.gain*max(d.room-t.hold, 0))
		}
	}
	if wort := d.in.Wort; wort != nil {
		for _, at := range wort.Starts {
			w.steady(w.wort, at.H(), at.H()+wort.For.H(), wort.Power.W())
		}
	}
	d.tankResults()
	return nil
}

// batch adds one fermentation, its crash and its keeping.
func (d *design) batch(w *week, b *Batch) error {
	t := d.find(b.Tank)
	start, end := b.Start.H(), b.End.H()
	until := end
	if b.Crash != nil {
		until = b.Crash.Start.H()
	}
	peak, stretch, err := heatCourse(t, b)
	if err != nil {
		return err
	}
	w.ferments(start, until, peak, stretch, kindCourse(b.Lager))
	warm := fermentTemp(*b).C()
	w.steady(w.gain, start, until, t.gain*max(d.room-warm, 0))
	if b.Crash == nil {
		return nil
	}
	if t.flow <= 0 {
		return fmt.Errorf("the jacket has no flow")
	}
	j := d.jacketOf(t, b)
	over := crashOver(*b)
	m := d.descend(j, warm, b.Crash.To.C(), over.H())
	w.crashes(until, end, m.d, j)
	w.steady(w.gain, until+m.d.hours, end, t.gain*max(d.room-finalTemp(*b), 0))
	mean := d.crashMean(t, b)
	c := CrashResult{
		Tank: b.Tank, Beer: b.Beer, From: unit.Celsius(warm), To: b.Crash.To, Wish: over,
		Mean: unit.Watts(mean), WithGain: unit.Watts(mean + d.meanGain(t, b)),
		Ramped: unit.Hours(m.d.hours), Open: unit.Hours(m.open), Reached: m.d.ok && m.reached,
		Initial: unit.Watts(j.takes(warm)), Rise: unit.Kelvins(j.takes(warm) / j.flow),
	}
	if m.open > 0 {
		c.Ratio = unit.PureNumber(j.takes(warm) / (j.capacity * (warm - b.Crash.To.C()) / (m.open * 3600)))
	}
	d.res.Crashes = append(d.res.Crashes, c)
	return nil
}

// heatCourse gives the peak of a batch in W and how far its course is stretched, so
// that peak and total both hold.
func heatCourse(t *tank, b *Batch) (peak, stretch float64, err error) {
	var total float64
	if b.Heat != nil {
		total = b.Heat.J()
	} else {
		extract, err := FermentedExtract(batchVolume(t, b), b.Original, b.Final)
		if err != nil {
			return 0, 0, err
		}
		total = FermentationHeat(extract).J()
	}
	peak = total / 3600 / kindCourse(b.Lager).whole
	if b.Peak == nil || b.Peak.W() <= 0 {
		return peak, 1, nil
	}
	return b.Peak.W(), peak / b.Peak.W(), nil
}

func (d *design) tankResults() {
	d.res.Tanks = make([]TankResult, len(d.tanks))
	for i := range d.tanks {
		t := &d.tanks[i]
		gain := t.gain * max(d.room-t.hold, 0)
		heat := max(gain, t.peak+t.gain*max(d.room-t.warm, 0))
		if t.peak == 0 {
			heat = gain
		}
		r := TankResult{
			Tag: t.Tag, Use: t.Use, Volume: t.Volume, Body: t.body, U: t.u, Hold: unit.Celsius(t.hold), GainCold: unit.Watts(gain),
			Capacity: t.capacity, Jacket: unit.SquareMetres(t.area), JacketFlow: unit.M3PerSecond(t.flow),
			JacketDrop: unit.Pascals(t.drop), JacketHeld: t.held, PeakHeat: unit.Watts(t.peak),
		}
		if heat > 0 {
			r.ToWarm = unit.Seconds(t.capacity.JK() * 3 / heat)
		}
		d.res.Tanks[i] = r
	}
}

// summary finds the binding hour and the duty; pipe and pump are in W.
func (d *design) summary() {
	w, s := d.week, &d.res.Load
	peak, at, sum := -1.0, 0, 0.0
	crashHours := 0
	for h := range w.n {
		q := w.cellar(h)
		sum += q
		crashHours += w.crashing[h]
		if q > peak+1e-9 {
			peak, at = q, h
		}
	}
	s.Process, s.PeakHour, s.Mean = unit.Watts(peak), at, unit.Watts(sum/float64(w.n))
	s.WeekEnergy = unit.Joules(sum * 3600)
	s.MeanCrash = unit.PureNumber(float64(crashHours) / float64(w.n))
	s.SumOfMaxima = unit.Watts(d.sumOfMaxima())
	if s.SumOfMaxima > 0 {
		s.Diversity = unit.Fraction(peak / s.SumOfMaxima.W())
	}
	d.extraCrash(s, w.crashing[at])
	s.Design = s.Process + s.ExtraCrash
}

func (w *week) cellar(h int) float64 {
	return w.ferment[h] + w.crash[h] + w.gain[h] + w.bright[h] + w.liquor[h]
}

// sumOfMaxima adds each item's own highest: a tank ferments or is cooled down, never both.
func (d *design) sumOfMaxima() (sum float64) {
	for i := range d.tanks {
		t := &d.tanks[i]
		crash := 0.0
		for k := range d.res.Batches {
			if b := &d.res.Batches[k]; b.Tank == t.Tag && b.Crash != nil {
				crash = max(crash, d.crashMean(t, b))
			}
		}
		sum += max(t.peak, crash, t.bright, t.refill) + t.gain*max(d.room-t.hold, 0)
	}
	return sum
}

// extraCrash allows for the brewer who cools one tank more than the plan says.
func (d *design) extraCrash(s *LoadSummary, running int) {
	if len(d.res.Crashes) == 0 {
		return
	}
	tanks := 0
	for i := range d.tanks {
		if d.tanks[i].crash > 0 {
			tanks++
		}
	}
	s.CrashAtOnce = min(int(math.Ceil(s.MeanCrash.N()))+1, tanks)
	if d.in.CrashAtOnce != nil {
		s.CrashAtOnce = min(max(*d.in.CrashAtOnce, 1), tanks)
	} else {
		d.a.add("CrashAtOnce", unit.PureNumber(float64(s.CrashAtOnce)), "tanks cooled down at once: the mean rounded up, and one more")
	}
	most, first := 0.0, 0.0
	for _, c := range d.res.Crashes {
		most, first = max(most, c.Mean.W()), max(first, c.Initial.W())
	}
	s.ExtraCrash = unit.Watts(most * float64(max(s.CrashAtOnce-running, 0)))
	s.OpenValves = unit.Watts(first * float64(s.CrashAtOnce))
}
