package brewing

import (
	"math"
	"slices"
)

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

// racking is the bright tank, or the two, that a batch is racked to, and the day.
type racking struct {
	one, two int // −1 for none
	day      int
	wait     int // days after the beer is ready
}

// bright finds the bright tank that takes the beer soonest once it is ready.
func (c *schedule) bright(sb *settledBeer, p *BeerPlan, ready int) racking {
	none := racking{one: -1, two: -1, day: ready}
	if p.Days.Bright == 0 || len(c.bt) == 0 {
		return none
	}
	class, racked := c.brightClass(sb), p.Charge.Racked.L()
	space := 1 - c.s.Practice.BrightSpace.Value()
	best, at, least := -1, math.MaxInt, math.MaxInt
	for i := range c.bt {
		if c.bt[i].Class != class || !fits(c.bt[i].Gross.L()*space, racked) {
			continue
		}
		from := firstGap(c.taken[i], ready, p.Days.Bright)
		cost := from
		if c.bt[i].Gross.L()*space > oversize*racked {
			cost += waitForSize
		}
		if cost < least || (cost == least && c.bt[i].Gross < c.bt[best].Gross) {
			best, at, least = i, from, cost
		}
	}
	if best >= 0 {
		return racking{one: best, two: -1, day: at, wait: at - ready}
	}
	if one, two, day := c.twoBrights(ready, p.Days.Bright, racked, space, class); one >= 0 {
		return racking{one: one, two: two, day: day, wait: day - ready}
	}
	return none
}

// twoBrights finds the pair of tanks that takes a batch too large for any one.
func (c *schedule) twoBrights(day, days int, racked, space float64, class string) (one, two, at int) {
	one, two, at = -1, -1, math.MaxInt
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
	return one, two, at
}

// cellar dates the stages of a batch and takes its tanks.
func (c *schedule) cellar(b *Batch, p *BeerPlan, r racking) {
	b.FermentEnd = b.Start + p.Days.Ferment
	b.CrashStart = b.FermentEnd + p.Days.Mature
	b.Rack, b.BrightWait, b.BrightEnd = r.day, r.wait, r.day
	from := len(c.cellars)
	for _, t := range [...]int{r.one, r.two} {
		if t >= 0 {
			c.taken[t] = insert(c.taken[t], gap{r.day, r.day + p.Days.Bright})
			c.cellars = append(c.cellars, t)
			b.BrightEnd = r.day + p.Days.Bright
		}
	}
	b.Brights = c.cellars[from:len(c.cellars):len(c.cellars)]
	b.Free = b.Rack + p.Days.Turn
	c.free[b.Fermenter] = b.Free
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
