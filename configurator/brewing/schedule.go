package brewing

import (
	"math"
	"slices"

	"tunwright/catalog/unit"
)

// yearDays is the length of the plan: 52 weeks from a Monday.
const yearDays = 364

// leadDays is how much earlier than asked a batch may be brewed, for stock.
// Common practice: a week.
const leadDays = 7

// request is a batch that the sales ask for on a day.
type request struct {
	beer, number, day int
}

// schedule lays batches on tanks day by day. Fermenters fill in the order of the
// requests; bright tanks take racked beer wherever a gap is long enough, and beer
// that finds none waits in its fermenter.
type schedule struct {
	s       *settled
	plans   []BeerPlan
	length  unit.Volume
	fv, bt  []Tank
	free    []int   // day from which a fermenter is free
	taken   [][]gap // spans of each bright tank, sorted
	brewed  [yearDays + 14]uint8
	weekly  [54]uint8
	batches []Batch
	missing []int
	brews   []int // backing of Batch.Brews
}

type gap struct{ from, to int }

// openWeeks marks the brewing weeks: the closed ones lie half a year from the peak.
func openWeeks(weeks, peak int) [52]bool {
	var open [52]bool
	for i := range open {
		open[i] = true
	}
	trough := (peak - 1 + 26) % 52
	for k := range 52 - weeks {
		step := (k + 1) / 2
		if k%2 == 1 {
			step = -step
		}
		open[((trough+step)%52+52)%52] = false
	}
	return open
}

// demand gives the share of a year's sales up to the end of each day: a cosine over
// the year whose peak over the mean is the peak factor, nothing in closed weeks.
func demand(open [52]bool, peakWeek int, peak float64) [yearDays]float64 {
	var w, cum [yearDays]float64
	centre := float64(peakWeek-1)*7 + 3
	mean, days := 0.0, 0.0
	for d := range w {
		if open[d/7] {
			w[d] = math.Cos(2 * math.Pi * (float64(d) - centre) / yearDays)
			mean += w[d]
			days++
		}
	}
	mean /= days
	swing := 0.0
	if mean < 1 {
		swing = (peak - 1) / (1 - mean)
	}
	total := 0.0
	for d := range w {
		if open[d/7] {
			total += math.Max(0, 1+swing*(w[d]-mean))
		}
		cum[d] = total
	}
	for d := range cum {
		cum[d] /= total
	}
	return cum
}

// requests lists the batches of a year in the order of their days. A beer's batches
// are spread so that batch j meets the share (j − ½)/N of its sales.
func requests(plans []BeerPlan, cum *[yearDays]float64) []request {
	total := 0
	for i := range plans {
		total += plans[i].Batches
	}
	out := make([]request, 0, total)
	for i := range plans {
		n, day := plans[i].Batches, 0
		for j := range n {
			share := (float64(j) + 0.5) / float64(n)
			for day < yearDays-1 && cum[day] < share {
				day++
			}
			out = append(out, request{beer: i, number: j + 1, day: day})
		}
	}
	slices.SortStableFunc(out, func(a, b request) int { return a.day - b.day })
	return out
}

func (s *settled) newSchedule(plans []BeerPlan, length unit.Volume, fv, bt []Tank, total int) *schedule {
	c := &schedule{s: s, plans: plans, length: length, fv: fv, bt: bt, free: make([]int, len(fv)), taken: make([][]gap, len(bt))}
	c.batches = make([]Batch, 0, total)
	brews := 0
	for i := range plans {
		brews += plans[i].Brews
	}
	c.brews = make([]int, 0, brews)
	return c
}

// run places every request; a batch that finds no tank in the year is kept with
// Fermenter −1 and listed as missing.
func (c *schedule) run(reqs []request, open *[52]bool) {
	for _, r := range reqs {
		b := c.place(r, open)
		if b.Fermenter < 0 {
			c.missing = append(c.missing, len(c.batches))
		}
		c.batches = append(c.batches, b)
	}
}

func (c *schedule) place(r request, open *[52]bool) Batch {
	p, sb := &c.plans[r.beer], &c.s.beers[r.beer]
	b := Batch{Beer: r.beer, Number: r.number, Asked: r.day, Start: r.day, Fermenter: -1, Wort: p.Charge.Wort, Racked: p.Charge.Racked}
	day := max(r.day-leadDays, 0)
	b.Start = day
	for {
		tank, at := c.fermenter(sb, p, day)
		if tank < 0 {
			return b
		}
		b.TankWait += at - day
		start, ok := c.brewDay(at, p.BrewsPerTank, sb.kind.KettleDays, open)
		if !ok {
			return b
		}
		b.BrewWait += start - at
		if start > at {
			// A smaller tank may have come free by the day the kettle is.
			tank, at = c.fermenter(sb, p, start)
		}
		if at <= start {
			b.Fermenter, b.Start = tank, start
			break
		}
		day = at
	}
	b.Brews = c.takeBrews(b.Start, p.BrewsPerTank, open)
	c.cellar(&b, p)
	return b
}

// fermenter gives the smallest tank free on the day, or the one free soonest.
func (c *schedule) fermenter(sb *settledBeer, p *BeerPlan, day int) (tank, at int) {
	tank, at = -1, math.MaxInt
	fill := p.Charge.Wort.L()
	need := fill / (1 - sb.headspace)
	for i := range c.fv {
		t := &c.fv[i]
		if t.Class != sb.class || !fits(t.Gross.L(), need) || !c.s.fullEnough(fill, *t) {
			continue
		}
		from := max(c.free[i], day)
		if from < at || (from == at && t.Gross < c.fv[tank].Gross) {
			tank, at = i, from
		}
	}
	return tank, at
}

// brewDay gives the first day from which n brews fit the brew days, within 48 hours.
func (c *schedule) brewDay(day, n, kettleDays int, open *[52]bool) (int, bool) {
	for d := max(day, 0); d < yearDays; d++ {
		if c.canBrew(d, n, kettleDays, open) {
			return d, true
		}
	}
	return 0, false
}

func (c *schedule) canBrew(day, n, kettleDays int, open *[52]bool) bool {
	left, weekA := n, day/7
	inA, inB := 0, 0
	for d := day; d < min(day+3, yearDays) && left > 0; d++ {
		room := c.room(d, open)
		if d == day && room == 0 {
			return false
		}
		k := min(room, left)
		left -= k
		if d/7 == weekA {
			inA += k
		} else {
			inB += k
		}
	}
	if left > 0 || !c.kettleFree(day, kettleDays) {
		return false
	}
	return c.weekRoom(weekA, inA) && (inB == 0 || c.weekRoom(weekA+1, inB))
}

// kettleFree tells whether a kettle sour can hold the kettle for its days of rest.
func (c *schedule) kettleFree(day, days int) bool {
	for d := day; d < min(day+days, yearDays); d++ {
		if c.brewed[d] > 0 {
			return false
		}
	}
	return true
}

func (c *schedule) room(day int, open *[52]bool) int {
	if !open[day/7] || day%7 >= c.s.Year.BrewDays {
		return 0
	}
	return c.s.Year.BrewsPerDay - int(c.brewed[day])
}

// weekRoom holds a week to the limit; a limit of 3½ allows 7 in two weeks.
func (c *schedule) weekRoom(week, more int) bool {
	limit := c.s.Year.BrewsPerWeek.Value()
	if int(c.weekly[week])+more > roundUp(limit) {
		return false
	}
	mine := int(c.weekly[week]) + more
	if mine <= int(limit+1e-9) {
		return true
	}
	// The half brew of a limit such as 3½ is given every other week.
	before := 0
	if week > 0 {
		before = int(c.weekly[week-1])
	}
	after := int(c.weekly[week+1])
	return float64(before+mine) <= 2*limit+1e-9 && float64(mine+after) <= 2*limit+1e-9
}

func (c *schedule) takeBrews(day, n int, open *[52]bool) []int {
	from := len(c.brews)
	for d := day; n > 0; d++ {
		for k := c.room(d, open); k > 0 && n > 0; k-- {
			c.brewed[d]++
			c.weekly[d/7]++
			c.brews = append(c.brews, d)
			n--
		}
	}
	return c.brews[from:len(c.brews):len(c.brews)]
}

// cellar dates the stages of a batch and finds its bright tank.
func (c *schedule) cellar(b *Batch, p *BeerPlan) {
	b.FermentEnd = b.Start + p.Days.Ferment
	b.CrashStart = b.FermentEnd + p.Days.Mature
	b.Rack = b.CrashStart + p.Days.Cold
	if p.Days.Bright > 0 && len(c.bt) > 0 {
		ready := b.Rack
		b.Brights, b.Rack = c.brightTank(ready, p.Days.Bright, p.Charge.Racked.L())
		b.BrightWait = b.Rack - ready
	}
	b.BrightEnd = b.Rack
	if len(b.Brights) > 0 {
		b.BrightEnd = b.Rack + p.Days.Bright
	}
	b.Free = b.Rack + p.Days.Turn
	c.free[b.Fermenter] = b.Free
}

// brightTank gives the tank, or the two tanks, that take the beer soonest.
func (c *schedule) brightTank(day, days int, racked float64) ([]int, int) {
	space := 1 - c.s.Practice.BrightSpace.Value()
	best, at := -1, math.MaxInt
	for i := range c.bt {
		if c.bt[i].Class != "" || !fits(c.bt[i].Gross.L()*space, racked) {
			continue
		}
		from := firstGap(c.taken[i], day, days)
		if from < at || (from == at && c.bt[i].Gross < c.bt[best].Gross) {
			best, at = i, from
		}
	}
	if best >= 0 {
		c.taken[best] = insert(c.taken[best], gap{at, at + days})
		return []int{best}, at
	}
	return c.twoBrights(day, days, racked, space)
}

func (c *schedule) twoBrights(day, days int, racked, space float64) ([]int, int) {
	one, two, at := -1, -1, math.MaxInt
	for i := range c.bt {
		for j := i + 1; j < len(c.bt); j++ {
			if c.bt[i].Class != "" || c.bt[j].Class != "" || !fits((c.bt[i].Gross.L()+c.bt[j].Gross.L())*space, racked) {
				continue
			}
			from := bothFree(c.taken[i], c.taken[j], day, days)
			if from < at {
				one, two, at = i, j, from
			}
		}
	}
	if one < 0 {
		return nil, day
	}
	c.taken[one] = insert(c.taken[one], gap{at, at + days})
	c.taken[two] = insert(c.taken[two], gap{at, at + days})
	return []int{one, two}, at
}

func bothFree(a, b []gap, day, days int) int {
	for {
		next := firstGap(b, firstGap(a, day, days), days)
		if next == day {
			return day
		}
		day = next
	}
}

// firstGap gives the first day from which a tank is free for some days. Spans are
// half-open and sorted: a tank is filled on the day it is released.
func firstGap(taken []gap, day, days int) int {
	for _, g := range taken {
		if day+days <= g.from {
			return day
		}
		day = max(day, g.to)
	}
	return day
}

func insert(taken []gap, g gap) []gap {
	at := len(taken)
	for at > 0 && taken[at-1].from > g.from {
		at--
	}
	return slices.Insert(taken, at, g)
}
