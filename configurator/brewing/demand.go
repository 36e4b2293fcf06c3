package brewing

import (
	"math"
	"slices"
	"sync"
)

// yearDays is the length of the plan: 52 weeks from a Monday.
const yearDays = 364

// horizon is the last day on which a late batch of the year may still be brewed.
const horizon = yearDays + 14

// leadDays is how much earlier than asked a batch may be brewed, for stock.
// Common practice: a week.
const leadDays = 7

// request is a batch that the sales ask for on a day.
type request struct {
	beer, number, day int
}

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

// yearCosines is one wave over the days of the plan, from its peak. It never changes.
var yearCosines = sync.OnceValue(func() *[yearDays]float64 {
	var c [yearDays]float64
	for d := range c {
		c[d] = math.Cos(2 * math.Pi * float64(d) / yearDays)
	}
	return &c
})

// demand gives the share of a year's sales up to the end of each day: a cosine over
// the year whose peak over the mean is the peak factor, nothing in closed weeks.
// Above a factor of 2 the trough would sell less than nothing: it is cut at zero.
func demand(open [52]bool, peakWeek int, peak float64) [yearDays]float64 {
	var w, cum [yearDays]float64
	cosines := yearCosines()
	centre := (peakWeek-1)*7 + 3
	mean, days := 0.0, 0.0
	for d := range w {
		if open[d/7] {
			w[d] = cosines[(d-centre+yearDays)%yearDays]
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
	for range 40 {
		total = 0
		for d := range w {
			if open[d/7] {
				total += math.Max(0, 1+swing*(w[d]-mean))
			}
			cum[d] = total
		}
		got := (1 + swing*(1-mean)) * days / total
		if got >= peak*(1-1e-4) {
			break
		}
		swing *= peak / got // the trough was cut: a steeper wave keeps the peak
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
