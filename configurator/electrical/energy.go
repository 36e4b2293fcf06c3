package electrical

import (
	"math"
	"slices"

	"tunwright/catalog/unit"
)

// energy adds up what a brew day takes, by state, load, tariff band and half hour.
// The register of half hours is what a meter bills; it says nothing about a fuse,
// which sees the states' currents.
func (st *study) energy(r *Result) {
	e := &r.Energy
	e.States = make([]unit.Energy, len(st.day))
	e.Loads = make([]unit.Energy, len(st.loads))
	e.HalfHours = make([]HalfHour, 48)
	e.Bands = make([]BandEnergy, len(st.in.Bands))
	for b := range st.in.Bands {
		e.Bands[b].Name = st.in.Bands[b].Name
	}
	for h := range e.HalfHours {
		e.HalfHours[h] = HalfHour{Start: unit.Hours(float64(h) / 2), State: -1}
	}
	for s := range r.States {
		d := &r.States[s]
		e.States[s] = unit.Joules(d.Mean.W() * d.Hours.S())
		e.Day += e.States[s]
		for _, run := range d.Runs {
			e.Loads[run.Load] += unit.Joules(st.loads[run.Load].watts * run.Mean.Value() * d.Hours.S())
		}
		spread(e.HalfHours, d.Start.H(), d.Hours.H(), d.Mean.KW(), s)
		for b, band := range st.in.Bands {
			e.Bands[b].Energy += unit.KilowattHours(d.Mean.KW() * overlap(d.Start.H(), d.Hours.H(), band))
		}
	}
	e.Brew = unit.Joules(e.Day.J() / float64(max(st.in.Brews, 1)))
	if v := st.in.BrewVolume; v != nil && v.HL() > 0 {
		per := unit.KWhPerHL(e.Brew.KWh() / v.HL())
		e.PerVolume = &per
	}
	for h := range e.HalfHours {
		w := &e.HalfHours[h]
		w.Mean = unit.Kilowatts(2 * w.Energy.KWh())
		if w.Mean > e.Peak {
			e.Peak, e.PeakStart = w.Mean, w.Start
			e.PeakKVA = unit.KilovoltAmperes(w.Mean.KW() * st.apparentOver(r, w.State))
		}
	}
}

// apparentOver is kVA over kW of a state.
func (st *study) apparentOver(r *Result, s int) float64 {
	if s < 0 || r.States[s].Power.W() <= 0 {
		return 1
	}
	return r.States[s].Apparent.VA() / r.States[s].Power.W()
}

// spread puts a state's mean power into the half hours it covers, round midnight.
func spread(windows []HalfHour, start, hours, kw float64, state int) {
	for t, end := start, start+hours; t < end-1e-9; {
		upto := min(end, (math.Floor(t*2+1e-9)+1)/2)
		w := &windows[int(t*2+1e-9)%len(windows)]
		w.Energy += unit.KilowattHours(kw * (upto - t))
		if w.State < 0 {
			w.State = state
		}
		t = upto
	}
}

// overlap is how many hours of a state lie in a tariff band, both round midnight.
func overlap(start, hours float64, b Band) float64 {
	from, to := b.From.H(), b.To.H()
	if to <= from {
		to += 24
	}
	total := 0.0
	for _, shift := range [...]float64{-24, 0, 24} {
		total += max(0, min(start+hours, to+shift)-max(start, from+shift))
	}
	return total
}

// cases puts the verdict under other assumptions: a smaller link than told, voltage
// at the top of its band, no interlock, a larger existing load, a derated board.
func (st *study) cases(r *Result) {
	avail := r.Supply.Available
	var worst [3]float64
	for s := range r.States {
		for l := range worst {
			worst[l] = max(worst[l], r.States[s].Line[l].A())
		}
	}
	r.Cases = append(r.Cases, caseOf("stated", "as stated", worst, avail, 0))
	if f := st.in.Supply.Fuse; f != nil && st.in.Supply.FuseBasis != Measured && st.in.Supply.FuseBasis != ToBeAgreed {
		if lower, ok := lowerLink(f.A()); ok {
			r.Cases = append(r.Cases, caseOf("smaller-link", "link of "+unit.Digits(lower, 4)+" A behind the carrier", worst, avail, f.A()-lower))
		}
	}
	r.Cases = append(r.Cases, caseOf("high-voltage", st.highVoltageName(), st.worstAtHighVoltage(), avail, 0))
	if e, known := st.in.Supply.existing(); known && st.in.Supply.Basis != Measured {
		if most := max(e[0], e[1], e[2]); most > 0 {
			r.Cases = append(r.Cases, caseOf("existing", "existing load a quarter higher", worst, avail, most/4))
		}
	}
	if len(st.groups) > 0 {
		keep := st.groups
		st.groups = nil
		r.Cases = append(r.Cases, caseOf("no-interlocks", "interlocks not fitted", st.worstLines(), avail, 0))
		st.groups = keep
	}
	st.deratedCase(r)
}

// casesFail tells whether an assumption of the site is still not met after a change.
func (st *study) casesFail(r *Result) bool {
	st.cases(r)
	for i := range r.Cases {
		if r.Cases[i].ofSite() && !r.Cases[i].Passes {
			return true
		}
	}
	return false
}

func caseOf(key, name string, worst [3]float64, avail *[3]unit.Current, less float64) Case {
	c := Case{Key: key, Name: name, Demand: unit.Amperes(max(worst[0], worst[1], worst[2]))}
	if avail == nil {
		return c
	}
	at, margin := 0, math.Inf(1)
	for l := range worst {
		if worst[l] == 0 && l > 0 {
			continue
		}
		if m := avail[l].A() - less - worst[l]; m < margin {
			at, margin = l, m
		}
	}
	if math.Abs(margin) < 1e-6 {
		margin = 0
	}
	a, m := unit.Amperes(avail[at].A()-less), unit.Amperes(margin)
	c.Demand, c.Available, c.Margin, c.Passes = unit.Amperes(worst[at]), &a, &m, margin >= 0
	return c
}

// lowerLink is the fuse-link one step below a rating: what may sit behind a carrier
// that was not looked into.
func lowerLink(a float64) (float64, bool) {
	for i := len(fuseLinks) - 1; i >= 0; i-- {
		if fuseLinks[i] < a {
			return fuseLinks[i], true
		}
	}
	return 0, false
}

var fuseLinks = numbers(table("fuse_gg"), "a")

// worstLines is the greatest current of each line over the states.
func (st *study) worstLines() [3]float64 {
	var w [3]float64
	for s := range st.day {
		x := st.lines(s)
		for l := range w {
			w[l] = max(w[l], x[l])
		}
	}
	return w
}

// highVoltage is the top of the supply band over its nominal value: +10 % by the
// ESQCR in the UK, +5 % by ANSI C84.1 range A in the US (from memory).
func (st *study) highVoltage() float64 {
	if st.sys.rules == NEC {
		return 1.05
	}
	return 1.10
}

func (st *study) highVoltageName() string {
	return "supply at " + unit.Digits(st.sys.u0*st.highVoltage(), 3) + " V"
}

func (st *study) worstAtHighVoltage() [3]float64 {
	k := st.highVoltage()
	for i := range st.loads {
		if st.loads[i].load.Kind == Element {
			st.loads[i].ib *= k
		}
	}
	keepShare, keepShed := st.share, st.shed
	if st.in.Limit != nil {
		// The load limit sheds by current, so it sheds more at a higher voltage.
		st.share, st.shed = make([][]share, len(keepShare)), slices.Clone(keepShed)
		for s := range keepShare {
			st.share[s] = slices.Clone(keepShare[s])
		}
		st.shedTo(st.in.Limit.A())
	}
	w := st.worstLines()
	st.share, st.shed = keepShare, keepShed
	for i := range st.loads {
		if st.loads[i].load.Kind == Element {
			st.loads[i].ib /= k
		}
	}
	return w
}

// deratedCase sets the most loaded element circuit against the board's derating.
func (st *study) deratedCase(r *Result) {
	var most *Circuit
	for i := range r.Circuits {
		c := &r.Circuits[i]
		if st.loads[i].load.Kind == Element && c.Problem == "" && (most == nil || c.Device.Loading > most.Device.Loading) {
			most = c
		}
	}
	if most == nil {
		return
	}
	a := unit.Amperes(st.derating() * most.Device.Rating.A())
	m := unit.Amperes(a.A() - most.Ib.A())
	r.Cases = append(r.Cases, Case{
		Key: "derated", Name: "board derated to " + unit.Digits(st.derating(), 2) + ", circuit " + most.Tag,
		Demand: most.Ib, Available: &a, Margin: &m, Passes: m >= 0,
	})
}
