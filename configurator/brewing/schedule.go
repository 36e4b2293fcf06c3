package brewing

import (
	"math"
	"slices"
)

// schedule lays batches on tanks day by day. Fermenters fill in the order of the
// requests; bright tanks take racked beer wherever a gap is long enough, and beer
// that finds none waits in its fermenter.
type schedule struct {
	s       *settled
	plans   []BeerPlan
	limit   float64 // brews in a week
	fv, bt  []Tank
	free    []int   // day from which a fermenter is free
	taken   [][]gap // spans of each bright tank, sorted
	brewed  [horizon]uint8
	weekly  [horizon/7 + 1]uint8
	batches []Batch
	missing []int
	brews   []int // backing of Batch.Brews
	cellars []int // backing of Batch.Brights
}

type gap struct{ from, to int }

func (s *settled) newSchedule(plans []BeerPlan, fv, bt []Tank, total int) *schedule {
	c := &schedule{s: s, plans: plans, fv: fv, bt: bt, free: make([]int, len(fv)), taken: make([][]gap, len(bt))}
	c.batches = make([]Batch, 0, total)
	brews := 0
	for i := range plans {
		brews += plans[i].Brews
	}
	c.brews = make([]int, 0, brews)
	c.cellars = make([]int, 0, 2*total)
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
	day := max(r.day-leadDays, 0)
	b := Batch{Beer: r.beer, Number: r.number, Asked: r.day, Start: day, Fermenter: -1, Wort: p.Charge.Wort, Racked: p.Charge.Racked}
	tank, at := c.fermenter(sb, p, day)
	if tank < 0 {
		return b
	}
	// The fermenter is filled when a kettle sour has rested.
	brew, ok := c.brewDay(max(at-sb.kettleDays, 0), p.BrewsPerTank, sb.kettleDays, open)
	if !ok {
		return b
	}
	start := brew + sb.kettleDays
	b.TankWait, b.BrewWait = at-day, max(0, start-at)
	if start > at {
		// A better tank may have come free by the day the kettle is.
		tank, _ = c.fermenter(sb, p, start)
	}
	b.Fermenter, b.Start = tank, start
	b.Brews = c.takeBrews(brew, p.BrewsPerTank, sb.kettleDays, open)
	c.cellar(&b, p, sb)
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
	for d := max(day, 0); d < horizon; d++ {
		if c.canBrew(d, n, kettleDays, open) {
			return d, true
		}
	}
	return 0, false
}

func (c *schedule) canBrew(day, n, kettleDays int, open *[52]bool) bool {
	if kettleDays > 0 {
		return c.canRest(day, n, kettleDays, open)
	}
	left, week, inA, inB := n, day/7, 0, 0
	for d := day; d < min(day+3, horizon) && left > 0; d++ {
		room := c.room(d, open)
		if d == day && room <= 0 {
			return false
		}
		k := min(max(room, 0), left)
		left -= k
		if d/7 == week {
			inA += k
		} else {
			inB += k
		}
	}
	return left == 0 && c.weekRoom(week, inA) && (inB == 0 || c.weekRoom(week+1, inB))
}

// canRest tells whether the kettle is free for n brews that each rest in it.
func (c *schedule) canRest(day, n, rest int, open *[52]bool) bool {
	if day+n*rest > horizon || !c.weekRoom(day/7, n) {
		return false
	}
	for k := range n {
		if c.room(day+k*rest, open) <= 0 {
			return false
		}
	}
	for d := day; d < day+n*rest; d++ {
		if c.brewed[d] > 0 {
			return false
		}
	}
	return true
}

func (c *schedule) room(day int, open *[52]bool) int {
	if !open[day/7%52] || day%7 >= c.s.Year.BrewDays {
		return 0
	}
	return c.s.Year.BrewsPerDay - int(c.brewed[day])
}

// weekRoom holds a week to the limit; a limit of 3½ allows 7 in two weeks.
func (c *schedule) weekRoom(week, more int) bool {
	limit := c.limit
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

func (c *schedule) takeBrews(day, n, rest int, open *[52]bool) []int {
	from := len(c.brews)
	for d := day; n > 0; d += max(rest, 1) {
		if rest > 0 {
			for k := d; k < d+rest; k++ {
				c.brewed[k] = uint8(c.s.Year.BrewsPerDay)
			}
			c.brew(d)
			n--
			continue
		}
		for k := c.room(d, open); k > 0 && n > 0; k-- {
			c.brewed[d]++
			c.brew(d)
			n--
		}
	}
	return c.brews[from:len(c.brews):len(c.brews)]
}

func (c *schedule) brew(day int) {
	c.weekly[day/7]++
	c.brews = append(c.brews, day)
}

// cellar dates the stages of a batch and finds its bright tank.
func (c *schedule) cellar(b *Batch, p *BeerPlan, sb *settledBeer) {
	b.FermentEnd = b.Start + p.Days.Ferment
	b.CrashStart = b.FermentEnd + p.Days.Mature
	b.Rack = b.CrashStart + p.Days.Cold
	if p.Days.Bright > 0 && len(c.bt) > 0 {
		ready := b.Rack
		b.Brights, b.Rack = c.brightTank(ready, p.Days.Bright, p.Charge.Racked.L(), c.brightClass(sb))
		b.BrightWait = b.Rack - ready
	}
	b.BrightEnd = b.Rack
	if len(b.Brights) > 0 {
		b.BrightEnd = b.Rack + p.Days.Bright
	}
	b.Free = b.Rack + p.Days.Turn
	c.free[b.Fermenter] = b.Free
}

// brightClass is the class of tanks a beer is racked to: serving tanks where it is
// sold from the tank and there are some, the common bright tanks otherwise.
func (c *schedule) brightClass(sb *settledBeer) string {
	if !sb.serving {
		return ""
	}
	for i := range c.bt {
		if c.bt[i].Class == serving {
			return serving
		}
	}
	return ""
}

// serving is the class of tanks that beer is sold from.
const serving = "serving"

// brightTank gives the tank, or the two tanks, that take the beer soonest.
func (c *schedule) brightTank(day, days int, racked float64, class string) ([]int, int) {
	space := 1 - c.s.Practice.BrightSpace.Value()
	best, at := -1, math.MaxInt
	for i := range c.bt {
		if c.bt[i].Class != class || !fits(c.bt[i].Gross.L()*space, racked) {
			continue
		}
		from := firstGap(c.taken[i], day, days)
		if from < at || (from == at && c.bt[i].Gross < c.bt[best].Gross) {
			best, at = i, from
		}
	}
	if best >= 0 {
		return c.fill(at, days, best), at
	}
	return c.twoBrights(day, days, racked, space, class)
}

func (c *schedule) twoBrights(day, days int, racked, space float64, class string) ([]int, int) {
	one, two, at := -1, -1, math.MaxInt
	for i := range c.bt {
		for j := i + 1; j < len(c.bt); j++ {
			if c.bt[i].Class != class || c.bt[j].Class != class || !fits((c.bt[i].Gross.L()+c.bt[j].Gross.L())*space, racked) {
				continue
			}
			if from := bothFree(c.taken[i], c.taken[j], day, days); from < at {
				one, two, at = i, j, from
			}
		}
	}
	if one < 0 {
		return nil, day
	}
	return c.fill(at, days, one, two), at
}

// fill notes the stay of a batch in bright tanks.
func (c *schedule) fill(day, days int, tanks ...int) []int {
	from := len(c.cellars)
	for _, t := range tanks {
		c.taken[t] = insert(c.taken[t], gap{day, day + days})
		c.cellars = append(c.cellars, t)
	}
	return c.cellars[from:len(c.cellars):len(c.cellars)]
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
