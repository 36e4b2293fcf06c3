package refrigeration

import (
	"strconv"
	"time"

	"tunwright/configurator"
	"tunwright/configurator/cooling"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/drawing"
)

// course is the load over the design weeks: the chart and the schedule behind it.
func course(r configurator.Report, c *cooling.Result) []paper.Block {
	chart, err := LoadChart(r)
	blocks := []paper.Block{figure(chart, err, loadCaption(c))}
	parts, err := Schedule(r)
	if err != nil {
		blocks = append(blocks, figure(drawing.Drawing{}, err, ""))
	}
	for i, d := range parts {
		caption := "What each tank does over the same hours."
		if len(parts) > 1 {
			caption += " Part " + strconv.Itoa(i+1) + " of " + strconv.Itoa(len(parts)) + "."
		}
		blocks = append(blocks, figure(d, nil, caption))
	}
	return blocks
}

func loadCaption(c *cooling.Result) string {
	words := "Hourly load, means over the hour, without the margin."
	if c.Chiller.Rated {
		words += " The chiller gives " + shown(c.Chiller.Capacity) + " at these conditions."
	}
	if hasWort(c) {
		words += " The second stage of the wort cooler is served from the store and stands in the table, not in the stack."
	}
	return words
}

func hasWort(c *cooling.Result) bool {
	for i := range c.Hours {
		if c.Hours[i].Wort > 0 {
			return true
		}
	}
	return false
}

// LoadChart draws the hourly load over the design weeks against the duty, or against
// the chiller's output where that is less.
func LoadChart(r configurator.Report) (drawing.Drawing, error) {
	c := r.Cooling
	if c == nil {
		return drawing.Drawing{}, errNoCooling
	}
	limit, label := c.Load.Duty, "duty with margin "+shown(c.Load.Duty)
	if c.Chiller.Rated && c.Chiller.Capacity < limit {
		limit, label = c.Chiller.Capacity, "output of the chiller "+shown(c.Chiller.Capacity)
	}
	chart := drawing.StepChart{
		Title: "Cooling load, hour by hour", Description: "Stacked hourly loads of the cellar over the design weeks, with the duty.",
		Width: turnedWidth, Height: 118, Unit: "kW", Limit: drawing.Value(limit.KW()), LimitLabel: label, PeakLabel: "highest hour", DayLabel: "day",
	}
	for _, s := range series {
		line := drawing.Series{Name: s.name, Values: make([]drawing.Value, len(c.Hours))}
		some := false
		for h := range c.Hours {
			v := drawing.Value(max(s.of(&c.Hours[h]).KW(), 0))
			line.Values[h] = v
			some = some || v > 0
		}
		if some {
			chart.Series = append(chart.Series, line)
		}
	}
	return chart.Draw()
}

// stageFills tells the stages of the schedule apart without colour.
var stageFills = []struct {
	key, name string
	fill      drawing.Fill
}{
	{"ferment", "fermenting", drawing.Fill{Colour: drawing.Pale, Solid: true}},
	{"crash", "cooling down", drawing.Fill{Colour: drawing.Colour{R: 70, G: 78, B: 86}, Solid: true}},
	{"cold", "kept cold", drawing.Fill{Colour: drawing.Mist, Solid: true}},
	{"bright", "in the bright tank", drawing.Fill{Colour: drawing.White, Solid: true, Hatch: drawing.Level}},
	{"refill", "cold liquor refilled", drawing.Fill{Colour: drawing.White, Solid: true, Hatch: drawing.Rising}},
}

// Schedule draws what each tank does over the design weeks, in as many pieces as the
// tanks need.
func Schedule(r configurator.Report) ([]drawing.Drawing, error) {
	c := r.Cooling
	if c == nil {
		return nil, errNoCooling
	}
	const tallest = 140
	parts, err := bars(c).Split(tallest)
	if err != nil {
		return nil, err
	}
	out := make([]drawing.Drawing, len(parts))
	for i := range parts {
		if out[i], err = parts[i].Draw(); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// bars lays the schedule from Monday, 1 January of the year 1, so that the axis
// counts weeks and days from 1.
func bars(c *cooling.Result) drawing.BarSchedule {
	start := time.Date(1, 1, 1, 0, 0, 0, 0, time.UTC)
	hour := func(h float64) time.Time { return start.Add(time.Duration(h * float64(time.Hour))) }
	b := drawing.BarSchedule{
		Title: "Cooled tanks over the design weeks", Description: "Fermentation, cooling down, cold storage, bright tanks and cold liquor over the design weeks.",
		Width: turnedWidth, From: start, To: hour(float64(c.Horizon)), Week: "week",
		Day:   func(t time.Time) string { return "day " + strconv.Itoa(int(t.Sub(start).Hours()/24)+1) },
		Marks: []drawing.TimeMark{{At: hour(float64(c.Load.PeakHour) + 0.5), Label: "highest hour"}},
	}
	used := map[string]bool{}
	for i := range c.Tanks {
		row := drawing.BarRow{Label: c.Tanks[i].Tag}
		for _, bar := range c.Bars {
			from, to := max(bar.From.H(), 0), min(bar.To.H(), float64(c.Horizon))
			if bar.Tank != c.Tanks[i].Tag || to <= from {
				continue
			}
			used[bar.Stage] = true
			label := bar.Beer
			if bar.Stage == "crash" {
				label = ""
			}
			row.Bars = append(row.Bars, drawing.Bar{From: hour(from), To: hour(to), Label: label, Fill: stageFill(bar.Stage)})
		}
		b.Rows = append(b.Rows, row)
	}
	for _, s := range stageFills {
		if used[s.key] {
			b.Keys = append(b.Keys, drawing.Key{Name: s.name, Fill: s.fill})
		}
	}
	return b
}

func stageFill(stage string) drawing.Fill {
	for _, s := range stageFills {
		if s.key == stage {
			return s.fill
		}
	}
	return drawing.Tint(drawing.White)
}

// peakTable lists what runs in the highest hour.
func peakTable(c *cooling.Result) paper.Table {
	t := paper.Table{
		Name: "at-the-peak", Title: "What runs in the highest hour, " + hourName(c.Load.PeakHour),
		Columns: []paper.Column{{Title: "Tank"}, {Title: "Beer"}, {Title: "Does"}, {Title: "From", Unit: "day, h"}, {Title: "To", Unit: "day, h"}},
		Notes:   []string{"What began before the design weeks or ends after them is cut at their ends."},
	}
	for _, b := range c.AtPeak {
		t.Rows = append(t.Rows, say.Row(paper.W(b.Tank), paper.W(say.Or(b.Beer, "—")), paper.W(stageName(b.Stage)), paper.W(moment(b.From.H(), c.Horizon)), paper.W(moment(b.To.H(), c.Horizon))))
	}
	return t
}

func moment(h float64, horizon int) string {
	switch {
	case h < 0:
		return "before"
	case h > float64(horizon):
		return "after"
	}
	return hourName(int(h))
}

func stageName(stage string) string {
	for _, s := range stageFills {
		if s.key == stage {
			return s.name
		}
	}
	return stage
}
