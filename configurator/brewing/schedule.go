package brewing

import (
	"math"
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
	full    []bool // by beer: no brew day is left in the year
	brews   []int  // backing of Batch.Brews
	cellars []int  // backing of Batch.Brights
}

type gap struct{ from, to int }

func (s *settled) newSchedule(plans []BeerPlan, fv, bt []Tank, total int) *schedule {
	c := &schedule{s: s, plans: plans, fv: fv, bt: bt, free: make([]int, len(fv)), taken: make([][]gap, len(bt)), full: make([]bool, len(plans))}
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
	if c.full[r.beer] {
		return b
	}
	tank, at := c.fermenter(sb, p, day)
	if tank < 0 {
		return b
	}
	b.TankWait = at - day
	// The fermenter is filled when a kettle sour has rested.
	brew, ok := c.brewDay(max(at-sb.kettleDays, 0), p.BrewsPerTank, sb.kettleDays, open)
	if !ok {
		c.full[r.beer] = true // days only fill up: no later batch of this beer finds one
		return b
	}
	start := brew + sb.kettleDays
	b.BrewWait = max(0, start-at)
	// A better tank may have come free by the day the kettle is.
	if better, free := c.fermenter(sb, p, start); free <= start {
		tank = better
	}
	b.Fermenter = tank
	bright := c.bright(sb, p, start+p.Days.untilRacked())
	if later, ok := c.later(brew, bright.wait, r.day-start, p, sb, open); ok {
		brew, start = later, later+sb.kettleDays
		bright = c.bright(sb, p, start+p.Days.untilRacked())
	}
	b.Start = start
	b.Brews = c.takeBrews(brew, p.BrewsPerTank, sb.kettleDays, open)
	c.cellar(&b, p, bright)
	return b
}

// later gives a later brew day for a batch that would wait for its bright tank: a tank
// is better empty than full of finished beer, as long as the batch is not late.
func (c *schedule) later(brew, wait, early int, p *BeerPlan, sb *settledBeer, open *[52]bool) (int, bool) {
	slack := early + int(c.s.Year.LateLimit.D()+0.5)
	if wait <= 0 || slack <= 0 {
		return 0, false
	}
	day, ok := c.brewDay(brew+min(wait, slack), p.BrewsPerTank, sb.kettleDays, open)
	return day, ok && day-brew <= slack
}

// A batch waits some days for a tank of its size rather than block a larger one, and
// for one with the headspace of its kind: common practice.
const (
	waitForSize  = 5
	waitForSpace = 3
	oversize     = 1.5 // of the volume that is needed
)

// fermenter gives the tank that suits the batch soonest, and the day it is free. Where
// no tank is filled as usual, any that holds the batch is taken.
func (c *schedule) fermenter(sb *settledBeer, p *BeerPlan, day int) (tank, at int) {
	fill := p.Charge.Wort.L()
	usual := fill / (1 - sb.least)
	tank, at = c.soonest(sb, p, day, func(t *Tank) bool { return fits(t.Gross.L(), usual) && c.s.fullEnough(fill, *t) })
	if tank < 0 {
		tank, at = c.soonest(sb, p, day, func(t *Tank) bool { return fits(t.Gross.L(), fill) })
	}
	return tank, at
}

func (c *schedule) soonest(sb *settledBeer, p *BeerPlan, day int, takes func(*Tank) bool) (tank, at int) {
	tank, at = -1, math.MaxInt
	least := math.MaxInt
	for i := range c.fv {
		t := &c.fv[i]
		if t.Class != sb.class || !takes(t) {
			continue
		}
		from := max(c.free[i], day)
		cost := from
		if !fits(t.Gross.L(), p.TankGross.L()) {
			cost += waitForSpace
		}
		if t.Gross.L() > oversize*p.TankGross.L() {
			cost += waitForSize
		}
		if cost < least || (cost == least && t.Gross < c.fv[tank].Gross) {
			tank, at, least = i, from, cost
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
