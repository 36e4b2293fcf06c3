package brewing

import (
	"slices"

	"tunwright/catalog/unit"
)

// layOut dates every batch. Where the tanks are Size's own choice it adds one of
// the class whose batches are late until none is, or until one more helps no longer.
func (s *settled) layOut(r *Result, bars bool) []request {
	open := openWeeks(s.Year.Weeks, s.Year.PeakWeek)
	cum := demand(open, s.Year.PeakWeek, s.Year.PeakFactor.Value())
	reqs := requests(r.Beers, &cum)
	r.ProposedTanks = s.Fermenters == nil && s.Brights == nil
	for i := range r.Classes {
		r.Classes[i].Needed = r.Classes[i].Tanks
	}
	if late := s.date(r, reqs, &open); r.ProposedTanks && late > 0 {
		s.addTanks(r, reqs, &open, late)
	}
	if bars {
		s.layBars(r)
	}
	return reqs
}

// addTanks adds tanks one by one to the class that is short, and keeps the fewest that
// leave the fewest batches late. A tank more may at first only move a late batch, so it
// gives up after eight that do not help.
func (s *settled) addTanks(r *Result, reqs []request, open *[52]bool, late int) {
	best, kept := late, neededOf(r)
	for idle := 0; idle < 8 && best > 0; idle++ {
		at := shortClass(r)
		if at < 0 {
			break
		}
		r.Classes[at].Needed++
		if late = s.date(r, reqs, open); late < best {
			best, kept, idle = late, neededOf(r), -1
		}
	}
	if slices.Equal(kept, neededOf(r)) {
		return
	}
	for i := range r.Classes {
		r.Classes[i].Needed = kept[i]
	}
	s.date(r, reqs, open)
}

func neededOf(r *Result) []int {
	n := make([]int, len(r.Classes))
	for i := range r.Classes {
		n[i] = r.Classes[i].Needed
	}
	return n
}

// date lays the batches on the tanks and tells how many are late or without a place.
func (s *settled) date(r *Result, reqs []request, open *[52]bool) int {
	fv, bt := s.Fermenters, s.Brights
	if r.ProposedTanks {
		fv, bt = s.proposeTanks(r.Classes)
	}
	late := 0
	for _, limit := range s.weekLimits(r) {
		c := s.newSchedule(r.Beers, fv, bt, len(reqs))
		c.limit = limit
		c.run(reqs, open)
		s.record(r, c)
		if late = len(r.Late) + len(r.Unplaced); late == 0 {
			break
		}
	}
	return late
}

// weekLimits gives the brews in a week to try: first as few as the mean of the peak
// needs, so that the weeks are even, then what the client allows.
func (s *settled) weekLimits(r *Result) []float64 {
	most := s.Year.BrewsPerWeek.Value()
	brews := 0
	for i := range r.Beers {
		brews += r.Beers[i].Brews
	}
	even := float64(roundUp(float64(brews)/float64(s.Year.Weeks)*s.Year.PeakFactor.Value())) + 0.5
	if even < most {
		return []float64{even, most}
	}
	return []float64{most}
}

// shortClass is the class whose late batches wait most for a tank; −1 where none does.
func shortClass(r *Result) int {
	waits := make([]int, len(r.Classes))
	for _, list := range [...][]int{r.Late, r.Unplaced} {
		for _, i := range list {
			b := &r.Batches[i]
			addWait(r, waits, r.Beers[b.Beer].Class, b.TankWait)
		}
	}
	for i := range r.Batches {
		b := &r.Batches[i]
		addWait(r, waits, r.Beers[b.Beer].BrightClass, max(0, b.BrightWait-leadDays))
	}
	at := 0
	for i, w := range waits {
		if w > waits[at] {
			at = i
		}
	}
	if len(waits) == 0 || waits[at] == 0 {
		return -1
	}
	return at
}

func addWait(r *Result, waits []int, class string, days int) {
	for i := range r.Classes {
		if r.Classes[i].Name == class {
			waits[i] += days
		}
	}
}

// overlaps counts the most batches of each class that stand at a time when each
// starts on its day; on equal days release goes before fill.
func (s *settled) overlaps(r *Result, reqs []request) {
	var taken [yearDays + 1200]int32
	for k := range r.Classes {
		c := &r.Classes[k]
		clear(taken[:])
		for _, q := range reqs {
			p := &r.Beers[q.beer]
			from, days, name := q.day, p.Days.InTank(), p.Class
			if c.Bright {
				from, days, name = q.day+days-p.Days.Turn, p.Days.Bright, p.BrightClass
			}
			if name == c.Name && from+days < len(taken) {
				taken[from]++
				taken[from+days]--
			}
		}
		now, most := int32(0), int32(0)
		for _, d := range taken {
			now += d
			most = max(most, now)
		}
		c.Overlap = int(most)
	}
}

// record carries a schedule into the result.
func (s *settled) record(r *Result, c *schedule) {
	r.Batches, r.Unplaced, r.Late = c.batches, c.missing, r.Late[:0]
	limit := int(s.Year.LateLimit.D() + 0.5)
	for i, b := range r.Batches {
		if b.Fermenter >= 0 && b.Late() > limit {
			r.Late = append(r.Late, i)
		}
	}
	r.Fermenters = tankPlans(c.fv, false)
	r.Brights = tankPlans(c.bt, true)
}

// layBars draws the batches as bars on their tanks.
func (s *settled) layBars(r *Result) {
	reserveSpans(r)
	for i := range r.Batches {
		b := &r.Batches[i]
		if b.Fermenter < 0 {
			continue
		}
		f := &r.Fermenters[b.Fermenter]
		f.Spans = appendSpans(f.Spans, b, i)
		f.Fill = max(f.Fill, b.Wort)
		gross := unit.Volume(0)
		for _, t := range b.Brights {
			gross += r.Brights[t].Tank.Gross
		}
		for _, t := range b.Brights {
			r.Brights[t].Spans = append(r.Brights[t].Spans, Span{Start: b.Rack, End: b.BrightEnd, Batch: i, Stage: "bright"})
			r.Brights[t].Fill = max(r.Brights[t].Fill, b.Racked*(r.Brights[t].Tank.Gross/gross))
		}
	}
	s.utilise(r.Fermenters)
	s.utilise(r.Brights)
}

func tankPlans(tanks []Tank, bright bool) []TankPlan {
	out := make([]TankPlan, len(tanks))
	for i, t := range tanks {
		out[i] = TankPlan{Tank: t, Bright: bright, Brim: t.Gross}
	}
	return out
}

// reserveSpans counts the bars of each tank, so that they are laid out at once.
func reserveSpans(r *Result) {
	fv, bt := make([]int, len(r.Fermenters)), make([]int, len(r.Brights))
	for i := range r.Batches {
		b := &r.Batches[i]
		if b.Fermenter >= 0 {
			fv[b.Fermenter] += 5
		}
		for _, t := range b.Brights {
			bt[t]++
		}
	}
	for i, n := range fv {
		r.Fermenters[i].Spans = make([]Span, 0, n)
	}
	for i, n := range bt {
		r.Brights[i].Spans = make([]Span, 0, n)
	}
}

func appendSpans(spans []Span, b *Batch, i int) []Span {
	for _, sp := range [...]Span{{b.Start, b.FermentEnd, i, "ferment"}, {b.FermentEnd, b.CrashStart, i, "mature"}, {b.CrashStart, b.Rack - b.BrightWait, i, "cold"}, {b.Rack - b.BrightWait, b.Rack, i, "wait"}, {b.Rack, b.Free, i, "turn"}} {
		if sp.End > sp.Start {
			spans = append(spans, sp)
		}
	}
	return spans
}

// utilise counts the days taken in the year and in the 13 weeks about the peak.
func (s *settled) utilise(tanks []TankPlan) {
	from := (s.Year.PeakWeek - 7) * 7
	to := from + 13*7
	for i := range tanks {
		t := &tanks[i]
		peak := 0
		for _, sp := range t.Spans {
			t.Days += overlap(sp.Start, sp.End, 0, yearDays)
			peak += overlap(sp.Start, sp.End, from, to)
		}
		t.Util = unit.Fraction(float64(t.Days) / s.Year.TankDays.D())
		t.UtilPeak = unit.Fraction(float64(peak) / (13 * 7))
	}
}

func overlap(a, b, from, to int) int { return max(0, min(b, to)-max(a, from)) }
