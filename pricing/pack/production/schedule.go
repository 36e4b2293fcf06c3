package production

import (
	"strconv"
	"strings"
	"time"

	"tunwright/configurator"
	"tunwright/configurator/brewing"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/drawing"
)

// stages are the parts of a batch's time in a tank in their order, told apart by
// hatch as well as by tint.
var stages = []struct {
	key, name string
	fill      drawing.Fill
}{
	{"ferment", "fermenting", drawing.Fill{Colour: drawing.Pale, Solid: true}},
	{"mature", "maturing", drawing.Fill{Colour: drawing.White, Solid: true, Hatch: drawing.Rising}},
	{"cold", "cold", drawing.Fill{Colour: drawing.Mist, Solid: true}},
	{"wait", "waiting for a bright tank", drawing.Fill{Colour: drawing.White, Solid: true, Hatch: drawing.Crossed}},
	{"turn", "emptied and cleaned", drawing.Fill{Colour: drawing.Colour{R: 70, G: 78, B: 86}, Solid: true}},
	{"bright", "in the bright tank", drawing.Fill{Colour: drawing.White, Solid: true, Hatch: drawing.Level}},
}

// A year is drawn in quarters; a page turned sideways has room for so much height.
const (
	pieceDays            = 91
	planDays             = 364
	tallest   drawing.MM = 136
)

func schedule(plan *brewing.Result) []paper.Block {
	names := marks(plan)
	legend := make([]string, len(names))
	for i := range names {
		legend[i] = names[i] + " " + plan.Beers[i].Beer.Name
	}
	blocks := []paper.Block{say.Para("Each bar is a batch in a tank, marked with its beer and its number: %s. The whole year in quarters; the busiest week is week %s.",
		strings.Join(legend, ", "), weekName(plan, plan.Weeks[plan.Busiest].Number))}
	busy, err := busiestWeeks(plan)
	for i, d := range busy {
		caption := "The busiest week and three weeks either side"
		if len(busy) > 1 {
			caption += partOf(i, len(busy))
		}
		blocks = append(blocks, figure(d, nil, caption+"."))
	}
	if err != nil {
		return append(blocks, figure(drawing.Drawing{}, err, ""))
	}
	pieces, err := pieces(plan)
	if err != nil {
		return append(blocks, figure(drawing.Drawing{}, err, ""))
	}
	for _, p := range pieces {
		blocks = append(blocks, figure(p.drawing, nil, p.caption))
	}
	return blocks
}

type piece struct {
	drawing drawing.Drawing
	caption string
}

// TankSchedule draws the tanks over the year in pieces that can be read: a quarter
// each, and fewer tanks to a piece where there are many.
func TankSchedule(r configurator.Report) ([]drawing.Drawing, error) {
	if r.Brewing == nil {
		return nil, errNoPlan
	}
	list, err := pieces(r.Brewing)
	out := make([]drawing.Drawing, len(list))
	for i := range list {
		out[i] = list[i].drawing
	}
	return out, err
}

// BusiestWeeks draws the tanks over the busiest week with three weeks either side,
// in as many pieces as the tanks need.
func BusiestWeeks(r configurator.Report) ([]drawing.Drawing, error) {
	if r.Brewing == nil {
		return nil, errNoPlan
	}
	return busiestWeeks(r.Brewing)
}

func busiestWeeks(plan *brewing.Result) ([]drawing.Drawing, error) {
	const span = 7 * 7
	from := min(max(0, (plan.Busiest-3)*7), planDays-span)
	b := bars(plan, from, from+span)
	b.Title, b.Description = "Tanks in the busiest weeks", "Batches in fermenters and bright tanks over seven weeks around the busiest one."
	b.Marks = []drawing.TimeMark{{At: at(plan, plan.Busiest*7), Label: "busiest week"}, {At: at(plan, plan.Busiest*7+7)}}
	parts, err := b.Split(tallest - 16)
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

func partOf(i, n int) string { return ", part " + strconv.Itoa(i+1) + " of " + strconv.Itoa(n) }

func pieces(plan *brewing.Result) ([]piece, error) {
	var out []piece
	for from := 0; from < planDays; from += pieceDays {
		b := bars(plan, from, from+pieceDays)
		b.Title = "Tanks, " + weekSpan(from)
		b.Description = "Batches in fermenters and bright tanks over thirteen weeks."
		parts, err := b.Split(tallest)
		if err != nil {
			return nil, err
		}
		for i, part := range parts {
			d, err := part.Draw()
			if err != nil {
				return nil, err
			}
			caption := "Weeks of the plan " + weekSpan(from)
			if len(parts) > 1 {
				caption += partOf(i, len(parts))
			}
			out = append(out, piece{d, caption + "."})
		}
	}
	return out, nil
}

func weekSpan(from int) string {
	return strconv.Itoa(from/7+1) + " to " + strconv.Itoa((from+pieceDays)/7)
}

func at(plan *brewing.Result, day int) time.Time { return day0(plan).AddDate(0, 0, day) }

func bars(plan *brewing.Result, from, to int) drawing.BarSchedule {
	b := drawing.BarSchedule{Width: turnedWidth, From: at(plan, from), To: at(plan, to)}
	if plan.Date(0).IsZero() {
		b.Day = func(t time.Time) string { return "day " + strconv.Itoa(int(t.Sub(at(plan, 0)).Hours()/24)+1) }
	}
	names, used := marks(plan), map[string]bool{}
	for _, list := range [][]brewing.TankPlan{plan.Fermenters, plan.Brights} {
		for i := range list {
			row := drawing.BarRow{Label: list[i].Tank.Tag}
			for _, s := range list[i].Spans {
				if s.Start >= to || s.End <= from {
					continue
				}
				used[s.Stage] = true
				row.Bars = append(row.Bars, drawing.Bar{From: at(plan, max(s.Start, from)), To: at(plan, min(s.End, to)), Fill: fillOf(s.Stage), Label: barLabel(plan, names, list[i].Spans, s)})
			}
			b.Rows = append(b.Rows, row)
		}
	}
	for _, s := range stages {
		if used[s.key] {
			b.Keys = append(b.Keys, drawing.Key{Name: s.name, Fill: s.fill})
		}
	}
	return b
}

// barLabel names a batch once, on its longest stage in the tank.
func barLabel(plan *brewing.Result, names []string, all []brewing.Span, s brewing.Span) string {
	for _, o := range all {
		if o.Batch == s.Batch && (o.End-o.Start > s.End-s.Start || o.End-o.Start == s.End-s.Start && o.Start < s.Start) {
			return ""
		}
	}
	b := plan.Batches[s.Batch]
	return names[b.Beer] + strconv.Itoa(b.Number)
}

func fillOf(stage string) drawing.Fill {
	for _, s := range stages {
		if s.key == stage {
			return s.fill
		}
	}
	return drawing.Tint(drawing.White)
}

// batchList is the schedule as dates, for the wall of the brewery and for the
// spreadsheet.
func batchList(plan *brewing.Result) paper.Table {
	t := paper.Table{
		Name: "batches", Title: "Every batch of the year",
		Columns: []paper.Column{
			{Title: "Beer"},
			number("No.", ""),
			{Title: "Brewed"},
			{Title: "Cold from"},
			{Title: "Racked"},
			{Title: "Bright until"},
			{Title: "FV"},
			{Title: "BBT"},
			number("Wort", "hL"), number("Late", "days"),
		},
	}
	for i := range plan.Batches {
		b := &plan.Batches[i]
		fv := "none"
		if b.Fermenter >= 0 {
			fv = plan.Fermenters[b.Fermenter].Tank.Tag
		}
		t.Rows = append(t.Rows, say.Row(
			paper.W(plan.Beers[b.Beer].Beer.Name), paper.I(b.Number), paper.W(brewed(plan, b)), paper.W(dayName(plan, b.CrashStart)), paper.W(dayName(plan, b.Rack)),
			paper.W(dayName(plan, b.BrightEnd)), paper.W(fv), paper.W(brightTags(plan, b)), say.Number(b.Wort, "hl", 0), paper.I(max(b.Late(), 0)),
		))
	}
	return t
}

// brewed names the first brew day of a batch and how many follow.
func brewed(plan *brewing.Result, b *brewing.Batch) string {
	if len(b.Brews) == 0 {
		return dayName(plan, b.Start)
	}
	words := dayName(plan, b.Brews[0])
	if n := len(b.Brews); n > 1 {
		words += " ×" + strconv.Itoa(n)
	}
	return words
}

func brightTags(plan *brewing.Result, b *brewing.Batch) string {
	words := ""
	for _, i := range b.Brights {
		words = say.Join(words, plan.Brights[i].Tank.Tag)
	}
	return say.Or(words, "—")
}
