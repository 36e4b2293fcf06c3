package electrical

import (
	"math"
	"slices"

	"tunwright/catalog/unit"
)

// DefaultDay is the usual brew day for one brew or more. Hours are common practice,
// no source; a caller who knows the brewhouse gives its own.
//
// On a day of several brews the second mash runs while the first brew boils.
func DefaultDay(brews int) []DayState {
	h := unit.Hours
	if brews < 2 {
		return []DayState{
			{Key: "strike", Title: "Heat strike liquor", Hours: h(2)},
			{Key: "mash", Title: "Mill and mash", Hours: h(1.5)},
			{Key: "run-off", Title: "Run off and sparge", Hours: h(1.5)},
			{Key: "heat-up", Title: "Heat wort to the boil", Hours: h(1)},
			{Key: "boil", Title: "Boil, hot liquor reheating", Hours: h(1)},
			{Key: "cool", Title: "Whirlpool and knock out", Hours: h(1.5)},
			{Key: "cip", Title: "Clean in place", Hours: h(1.5)},
			{Key: "pack", Title: "Pack", Hours: h(2)},
			{Key: "night", Title: "Night", Hours: h(12)},
		}
	}
	// Overlapped hours shrink on very full days, so that an hour of night is left.
	n := min(float64(brews-1), 13.0/3)
	return []DayState{
		{Key: "strike", Title: "Heat strike liquor", Hours: h(2)},
		{Key: "mash", Title: "Mill and mash", Hours: h(1.5)},
		{Key: "run-off", Title: "Run off and sparge", Hours: h(1.5)},
		{Key: "heat-up+mash", Title: "Heat wort to the boil, next mash", Hours: h(n), Of: []string{"heat-up", "mash"}},
		{Key: "boil+mash", Title: "Boil, next mash and run-off", Hours: h(n), Of: []string{"boil", "mash", "run-off"}},
		{Key: "cool+run-off", Title: "Knock out, next run-off", Hours: h(n), Of: []string{"cool", "run-off"}},
		{Key: "heat-up", Title: "Heat the last wort to the boil", Hours: h(1)},
		{Key: "boil", Title: "Boil, hot liquor reheating", Hours: h(1)},
		{Key: "cool", Title: "Whirlpool and knock out", Hours: h(1.5)},
		{Key: "cip", Title: "Clean in place, pack", Hours: h(1.5), Of: []string{"cip", "pack"}},
		{Key: "night", Title: "Night", Hours: h(max(14-3*n, 1))},
	}
}

// Expand gives the states a word of a product's data stands for: "boil" covers
// heating up to the boil, "hlt" strike liquor and reheating during the boil,
// "ferment" and "all" every state. Other words are keys of the day.
func Expand(word string) (keys []string, all bool) {
	switch word {
	case "all", "ferment", "":
		return nil, true
	case "boil":
		return []string{"heat-up", "boil"}, false
	case "hlt":
		return []string{"strike", "boil"}, false
	case "mash":
		return []string{"mash", "run-off"}, false
	}
	return []string{word}, false
}

// share is how much of a load runs in a state.
type share struct{ peak, mean float64 }

// at gives the share of a load in a state of the day.
func (l *Load) at(s *DayState) share {
	best := share{}
	if len(s.Of) == 0 {
		return l.atKey(s.Key)
	}
	for _, key := range s.Of {
		got := l.atKey(key)
		best.peak, best.mean = max(best.peak, got.peak), max(best.mean, got.mean)
	}
	return best
}

// placed tells whether any of a load's runs names a state of the day.
func (l *Load) placed(day []DayState) bool {
	if len(l.Runs) == 0 {
		return true
	}
	for _, r := range l.Runs {
		keys, all := Expand(r.State)
		if all {
			return true
		}
		for s := range day {
			if names(&day[s], r.State) || slices.ContainsFunc(keys, func(k string) bool { return names(&day[s], k) }) {
				return true
			}
		}
	}
	return false
}

func names(s *DayState, key string) bool { return s.Key == key || slices.Contains(s.Of, key) }

// atKey gives the share in one plain state. A run that names the state itself wins
// over a word that only covers it.
func (l *Load) atKey(key string) share {
	if len(l.Runs) == 0 {
		return l.share(Run{}, key)
	}
	for _, r := range l.Runs {
		if r.State == key {
			return l.share(r, key)
		}
	}
	for _, r := range l.Runs {
		if keys, all := Expand(r.State); all || slices.Contains(keys, key) {
			return l.share(r, key)
		}
	}
	return share{}
}

// share works out peak and mean of a run. A solid-state control holds the current
// itself to the duty; a staged one rounds it up to whole stages; a thermostat
// draws all or nothing, so that its peak is the whole.
func (l *Load) share(r Run, key string) share {
	mean := l.usualDuty(key)
	switch {
	case r.Duty != nil:
		mean = r.Duty.Value()
	case r.Peak != nil:
		mean = r.Peak.Value()
	}
	peak := 0.0
	switch {
	case r.Peak != nil:
		peak = r.Peak.Value()
	case mean <= 0:
	case l.Kind == Socket || l.Control == SolidState:
		peak = mean
	case l.Control == Staged && l.Stages > 1:
		peak = math.Ceil(mean*float64(l.Stages)-1e-9) / float64(l.Stages)
	default:
		peak = 1
	}
	if l.Cap != nil {
		peak = min(peak, l.Cap.Value())
	}
	return share{peak: peak, mean: min(mean, peak)}
}

// usualDuty is the mean share taken where nothing is said. Common practice, no
// source: a boil is held on about 0.7 of the power that heats up, liquor heats for a
// third of the night, other machines under a thermostat run half of it.
func (l *Load) usualDuty(key string) float64 {
	night := key == "night"
	switch l.Kind {
	case Element:
		switch {
		case key == "boil":
			return 0.7
		case night:
			return 0.3
		}
		return 1
	case Socket:
		if night {
			return 0
		}
		return 0.5
	case Lighting:
		if night {
			return 0.1
		}
		return 1
	case Motor:
		if night {
			return 0.5
		}
	}
	return 1
}
