package refrigeration

import (
	"strconv"

	"tunwright/catalog/unit"
)

// shown prints a quantity in the unit and with the digits that the trade reads.
func shown(q unit.Quantity) string {
	switch x := q.(type) {
	case nil:
		return "—"
	case unit.Length:
		if x >= unit.Metres(1) {
			return unit.Digits(x.M(), 3) + " m"
		}
		return unit.In(x, "mm", 0)
	case unit.Power:
		if x < unit.Kilowatts(1) {
			return unit.In(x, "kw", 2)
		}
		return unit.In(x, "kw", 1)
	case unit.PressureDiff:
		return unit.In(x, "kpa", 0)
	case unit.SoundLevel:
		return unit.In(x, "dba", 0)
	case unit.VolumeFlow:
		return unit.Digits(x.M3H(), 3) + " m³/h"
	case unit.Duration:
		return span(x)
	case unit.Volume:
		return unit.In(x, "l", 0)
	case unit.Mass:
		return unit.Digits(x.Kg(), 4) + " kg"
	case unit.TempDiff:
		return unit.Digits(x.K(), 2) + " K"
	case unit.Ratio:
		return unit.In(x, "pct", 0)
	}
	return q.String()
}

func span(d unit.Duration) string {
	if d >= unit.Days(3) {
		return unit.Digits(d.D(), 3) + " d"
	}
	return unit.Digits(d.H(), 3) + " h"
}

// hourName names an hour of the design weeks.
func hourName(hour int) string {
	return "day " + strconv.Itoa(hour/24+1) + ", " + clock(hour)
}

func clock(hour int) string {
	s := strconv.Itoa(hour % 24)
	if len(s) < 2 {
		s = "0" + s
	}
	return s + ":00"
}
