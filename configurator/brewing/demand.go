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
// Where the trough would sell less than nothing, the wave is made steeper instead.
func demand(open [52]bool, peakWeek int, peak float64) [yearDays]float64 {
	var w [yearDays]float64
	cosines := yearCosines()
	centre := (peakWeek-1)*7 + 3
	mean, days, least := 0.0, 0.0, 1.0
	for d := range w {
		if open[d/7] {
			w[d] = cosines[(d-centre+yearDays)%yearDays]
			mean += w[d]
			days++
			least = math.Min(least, w[d])
		}
	}
	mean /= days
	swing := 0.0
	if mean < 1 {
		swing = (peak - 1) / (1 - mean)
	}
	steep := 1 + swing*(least-mean)
	power := 1.0
	if steep < 0 {
		power = steepness(&w, &open, days, peak)
	}
	total := 0.0
	for d := range w {
		switch {
		case !open[d/7]:
			w[d] = 0
		case steep < 0:
			w[d] = math.Pow((1+w[d])/2, power)
		default:
			w[d] = 1 + swing*(w[d]-mean)
		}
		total += w[d]
		w[d] = total
	}
	for d := range w {
		w[d] /= total
	}
	return w
}

// steepness finds the power of the raised cosine whose peak over mean is asked.
func steepness(w *[yearDays]float64, open *[52]bool, days, peak float64) float64 {
	lo, hi := 0.5, 16.0
	for range 14 {
		q, total := (lo+hi)/2, 0.0
		for d, x := range w {
			if open[d/7] {
				total += math.Pow((1+x)/2, q)
			}
		}
		if days/total < peak {
			lo = q
		} else {
			hi = q
		}
	}
	return (lo + hi) / 2
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
