package cooling

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"tunwright/catalog/unit"
)

// checkSchedule refuses times and tanks that cannot be.
func (d *design) checkSchedule() error {
	for i := range d.res.Batches {
		b := &d.res.Batches[i]
		t := d.find(b.Tank)
		switch {
		case !plausible(b.Start, b.End):
			return fmt.Errorf("batch %d in %s runs from %s to %s: times count in hours from the beginning of the design weeks", i+1, b.Tank, b.Start, b.End)
		case t == nil:
			return fmt.Errorf("batch %d goes into tank %q, which is not among the tanks", i+1, b.Tank)
		case unit.NotNegative("volume", b.Volume) != nil:
			return fmt.Errorf("batch %d in %s has a volume of %s", i+1, b.Tank, b.Volume)
		case b.End <= b.Start:
			return fmt.Errorf("batch %d in %s ends at %s: it must end after its start at %s", i+1, b.Tank, b.End, b.Start)
		case b.Crash != nil && (b.Crash.Start < b.Start || b.Crash.Start > b.End):
			return fmt.Errorf("batch %d in %s is cooled down from %s: that must lie between %s and %s", i+1, b.Tank, b.Crash.Start, b.Start, b.End)
		case b.Crash != nil && b.Crash.To >= fermentTemp(*b):
			return fmt.Errorf("batch %d in %s is cooled down to %s: that must lie below the %s it ferments at", i+1, b.Tank, b.Crash.To, fermentTemp(*b))
		}
	}
	for i, s := range d.res.Stays {
		if d.find(s.Tank) == nil || s.End <= s.Start || !plausible(s.Start, s.End) {
			return fmt.Errorf("stay %d in tank %q from %s to %s: the tank must be among the tanks, and the end after the start", i+1, s.Tank, s.Start, s.End)
		}
	}
	for i, r := range d.res.Refills {
		if d.find(r.Tank) == nil {
			return fmt.Errorf("refill %d goes into tank %q, which is not among the tanks", i+1, r.Tank)
		}
		if !plausible(r.Start, r.Start+r.Over) || unit.NotNegative("volume", r.Volume) != nil || r.Over < 0 {
			return fmt.Errorf("refill %d of %s over %s cannot be: give a volume and a time above zero", i+1, r.Volume, r.Over)
		}
	}
	return d.checkWort()
}

func (d *design) checkWort() error {
	w := d.in.Wort
	if w == nil {
		return nil
	}
	if err := unit.NotNegative("duty of the second stage", w.Power); err != nil {
		return err
	}
	if err := unit.Within("knock-out", w.For, unit.Minutes(1), unit.Hours(24)); err != nil {
		return err
	}
	if !plausible(w.Starts...) {
		return fmt.Errorf("knock-outs start in hours from the beginning of the design weeks")
	}
	return nil
}

// plausible keeps times within a year before and after the design weeks; NaN is not.
func plausible(times ...unit.Duration) bool {
	for _, t := range times {
		if !(math.Abs(t.H()) < 10000) {
			return false
		}
	}
	return true
}

func fermentTemp(b Batch) unit.Temperature {
	switch {
	case b.Ferment != 0:
		return b.Ferment
	case b.Lager:
		return unit.Celsius(10)
	}
	return unit.Celsius(20)
}

func crashOver(b Batch) unit.Duration {
	switch {
	case b.Crash.Over > 0:
		return b.Crash.Over
	case b.Lager:
		return unit.Hours(48)
	}
	return unit.Hours(24)
}

// finalTemp is what a batch is kept at in the end.
func finalTemp(b Batch) float64 {
	switch {
	case b.Crash == nil:
		return fermentTemp(b).C()
	case b.Cold != nil:
		return min(b.Cold.C(), b.Crash.To.C())
	}
	return b.Crash.To.C()
}

// interlock postpones crashes so that no more than most run at once, in the order they
// are due, as a controller does. A tank stays full for as long as it waits. In weeks that
// repeat, the crashes of the weeks before hold their places too.
func interlock(batches []Batch, most int, horizon float64, repeats bool) []Batch {
	due := make([]int, 0, len(batches))
	for i := range batches {
		if batches[i].Crash != nil {
			due = append(due, i)
		}
	}
	if len(due) <= most {
		return batches
	}
	slices.SortStableFunc(due, func(a, b int) int { return cmp.Compare(batches[a].Crash.Start, batches[b].Crash.Start) })
	free := make([]unit.Duration, most)
	for i := range free {
		free[i] = unit.Duration(math.Inf(-1))
	}
	out := slices.Clone(batches)
	if repeats {
		postpone(out, due, free)
		for i := range free {
			free[i] -= unit.Hours(horizon)
		}
		out = slices.Clone(batches)
	}
	postpone(out, due, free)
	return out
}

// postpone gives each crash the place that is free first.
func postpone(batches []Batch, due []int, free []unit.Duration) {
	for _, i := range due {
		place := 0
		for k := range free {
			if free[k] < free[place] {
				place = k
			}
		}
		b := &batches[i]
		c := *b.Crash
		c.Start = max(c.Start, free[place])
		over := crashOver(*b)
		b.Crash, b.End = &c, max(b.End, c.Start+over)
		free[place] = c.Start + over
	}
}
