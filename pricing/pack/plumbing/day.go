package plumbing

import (
	"fmt"
	"slices"

	"tunwright/configurator"
	"tunwright/configurator/water"
	"tunwright/pricing/pack/axes"
	"tunwright/pricing/paper/drawing"
)

// dayWidth is the width of the chart on the sheet.
const dayWidth drawing.MM = 170

// Day draws the water of the busiest day as steps on top of one another, against the
// flow there is.
func Day(r configurator.Report) (drawing.Drawing, error) {
	if r.Water == nil || len(r.Water.Demand.Steps) == 0 || len(r.Water.Demand.Draws) == 0 {
		return drawing.Drawing{}, fmt.Errorf("no draws of the day are known")
	}
	d := r.Water.Demand
	names := drawNames(d.Draws)
	keys := make([]axes.Key, len(names))
	for i, n := range names {
		keys[i] = axes.Key{Name: n, Fill: drawing.ChartFill(i)}
	}
	ticks := axes.Ticks(max(d.ProcessPeak.LS(), r.Water.Supply.Capacity.LS())*1.12, 6)
	f := axes.Frame{Left: 11, Top: 6, Right: dayWidth - 3, Bottom: 52, Hours: 24, High: ticks[len(ticks)-1], Unit: "L/s", Ticks: ticks, Every: 2}
	if err := f.Check(); err != nil {
		return drawing.Drawing{}, err
	}
	out := drawing.Drawing{Width: dayWidth, Title: "Water of the busiest day", Description: "Flow of each draw over the day on top of one another, with the flow there is."}
	out.Add(f.Draw())
	for _, s := range d.Steps {
		out.Add(stack(f, d, s, names)...)
	}
	if c := r.Water.Supply.Capacity; c > 0 {
		out.Add(f.Limit(c.LS(), fmt.Sprintf("there is %.2f L/s (%s)", c.LS(), r.Water.Supply.CapacityBy))...)
	}
	out.Add(f.Base())
	legend, tall := axes.Legend(drawing.P(f.Left, f.Bottom+7), f.Right-f.Left, keys)
	out.Add(legend)
	out.Height = f.Bottom + 8 + tall
	return out, nil
}

// drawNames are the names of the draws, each once: two brews fill one tank twice.
func drawNames(draws []water.DrawRow) []string {
	var names []string
	for _, d := range draws {
		if !slices.Contains(names, d.Name) {
			names = append(names, d.Name)
		}
	}
	return names
}

// stack draws what runs in one stretch of the day, in the order of the names.
func stack(f axes.Frame, d water.Demand, s water.Step, names []string) []drawing.Item {
	var out []drawing.Item
	left, right := f.X(s.From.H()), f.X(s.To.H())
	base := 0.0
	for i, name := range names {
		flow := 0.0
		for _, at := range s.Draws {
			if d.Draws[at].Name == name {
				flow += d.Draws[at].Flow.LS()
			}
		}
		if flow == 0 {
			continue
		}
		top, bottom := f.Y(base+flow), f.Y(base)
		out = append(out, drawing.Rect(left, top, right-left, bottom-top, drawing.Fine, drawing.ChartFill(i)))
		base += flow
	}
	return out
}
