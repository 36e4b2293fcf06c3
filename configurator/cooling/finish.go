package cooling

import (
	"tunwright/catalog/unit"
)

// finish adds what papers need and remedies do not: bars, sheet, flags, working.
func finish(in Input, res *Result) {
	res.Bars = bars(res)
	res.AtPeak = running(in, res)
	res.Siting.Flags = flags(&in, res)
	res.Sheet = sheet(&in, res)
	res.Trace = working(&in, res)
}

// running picks the bars that stand over the middle of the highest hour.
func running(in Input, res *Result) (at []Bar) {
	middle := float64(res.Load.PeakHour) + 0.5
	round := float64(res.Horizon)
	for _, b := range res.Bars {
		for turn := -2.0; turn <= 2; turn++ {
			if turn != 0 && !in.Repeats && len(in.Batches) > 0 {
				continue
			}
			if b.From.H()+turn*round <= middle && middle < b.To.H()+turn*round {
				at = append(at, b)
			}
		}
	}
	return at
}

func bars(res *Result) []Bar {
	list := make([]Bar, 0, 3*len(res.Batches)+len(res.Stays))
	next := 0
	for i := range res.Batches {
		b := &res.Batches[i]
		if b.Crash == nil {
			list = append(list, Bar{b.Tank, b.Beer, "ferment", b.Start, b.End})
			continue
		}
		done := min(b.Crash.Start+res.Crashes[next].Ramped, b.End)
		next++
		list = append(list, Bar{b.Tank, b.Beer, "ferment", b.Start, b.Crash.Start}, Bar{b.Tank, b.Beer, "crash", b.Crash.Start, done})
		if done < b.End {
			list = append(list, Bar{b.Tank, b.Beer, "cold", done, b.End})
		}
	}
	for _, s := range res.Stays {
		list = append(list, Bar{Tank: s.Tank, Stage: "bright", From: s.Start, To: s.End})
	}
	for _, r := range res.Refills {
		list = append(list, Bar{Tank: r.Tank, Stage: "refill", From: r.Start, To: r.Start + orZeroQuiet(r.Over, unit.Hours(20))})
	}
	return list
}
