package programme

import (
	"fmt"
	"strings"
	"time"

	"tunwright/configurator/programme"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/drawing"
)

// The space of the bars on a page turned sideways, of the smaller of both sheets each way.
const (
	BarsWidth  drawing.MM = 240
	BarsHeight drawing.MM = 140
)

// The fills of the bars: what is critical is dark on any printer.
var (
	critical = drawing.Fill{Colour: drawing.Colour{R: 70, G: 78, B: 86}, Solid: true}
	ours     = drawing.Fill{Colour: drawing.Pale, Solid: true}
	theirs   = drawing.Fill{Colour: drawing.White, Solid: true, Hatch: drawing.Rising}
	clients  = drawing.Fill{Colour: drawing.White, Solid: true, Hatch: drawing.Level}
)

func barBlocks(p *programme.Result) []paper.Block {
	figures, err := Bars(p, BarsWidth, BarsHeight)
	if err != nil {
		return []paper.Block{say.Note("The programme could not be drawn: %s.", err)}
	}
	var out []paper.Block
	for i, f := range figures {
		words := "Bars from the earliest start to the last day, numbers are days. Dashed: float up to the latest end that keeps the earliest opening. A task marked ? may fall away."
		if len(figures) > 1 {
			words = fmt.Sprintf("Sheet %d of %d. ", i+1, len(figures)) + words
		}
		out = append(out, paper.Figure{Drawing: f, Caption: words})
	}
	return out
}

// Bars draws the programme as bars with its float, on as many drawings as a height
// asks for.
func Bars(p *programme.Result, width, tallest drawing.MM) ([]drawing.Drawing, error) {
	chart := drawing.BarSchedule{
		Title: "Programme from survey to opening", Description: "Each task as a bar from its earliest start, with its float; the critical path is dark.",
		Width: width, From: moment(p.From), To: moment(p.To + 7),
		Keys: []drawing.Key{{Name: "critical", Fill: critical}, {Name: "client", Fill: clients}, {Name: "us", Fill: ours}, {Name: "others", Fill: theirs}, {Name: "float (dashed)", Fill: drawing.Tint(drawing.White)}},
	}
	if p.Opening > 0 {
		chart.Keys = append(chart.Keys, drawing.Key{Name: "latest start for the opening wished for", Fill: drawing.Tint(drawing.Black)})
	}
	if p.Opening > 0 {
		chart.Marks = append(chart.Marks, drawing.TimeMark{At: moment(p.Opening), Label: "wished for " + p.Opening.String()})
	}
	if p.Earliest > 0 && p.Earliest != p.Opening {
		if apart := p.Earliest - p.Opening; p.Opening == 0 || apart > 45 || apart < -45 {
			chart.Marks = append(chart.Marks, drawing.TimeMark{At: moment(p.Earliest), Label: "earliest " + p.Earliest.String()})
		}
	}
	chart.Rows = rows(p)
	sheets, err := chart.Split(tallest)
	if err != nil {
		return nil, err
	}
	out := make([]drawing.Drawing, len(sheets))
	for i, s := range sheets {
		if out[i], err = s.Draw(); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// rows are the tasks; making and shipping of one supply share a row.
func rows(p *programme.Result) []drawing.BarRow {
	var out []drawing.BarRow
	at := map[string]int{}
	for _, s := range p.Steps {
		code, ships := strings.CutPrefix(s.ID, "SHIP-")
		if ships && s.Days == 0 {
			continue
		}
		if i, ok := at[code]; ok && ships {
			out[i].Bars = append(out[i].Bars, bars(p, s)...)
			continue
		}
		if made, ok := strings.CutPrefix(s.ID, "MAKE-"); ok {
			at[made] = len(out)
		}
		out = append(out, drawing.BarRow{Label: label(s), Bars: bars(p, s)})
	}
	return out
}

// label is a task's name cut to what stands beside its bar.
func label(s programme.Step) string {
	const most = 44
	name := strings.TrimSuffix(s.Name, ": made")
	if s.Open {
		name = "? " + name
	}
	letters := []rune(name)
	if len(letters) <= most {
		return name
	}
	cut := string(letters[:most])
	if i := strings.LastIndexAny(cut, " ;:"); i > most/2 {
		cut = cut[:i]
	}
	return strings.TrimRight(cut, " ;:") + " …"
}

// tick is how many days a mark of a latest start is wide, to be seen over a year.
const tick = 2

// bars are a task's own bar, its float behind it and the latest start for the opening
// wished for: left of the bar where it is too late already. A task of no days is drawn
// as the day it falls on.
func bars(p *programme.Result, s programme.Step) []drawing.Bar {
	end := max(s.LastDay+1, s.Start+1)
	b := drawing.Bar{From: moment(s.Start), To: moment(end), Fill: fill(s)}
	if s.Days > 0 {
		b.Label = fmt.Sprintf("%d", s.Days)
	}
	out := []drawing.Bar{b}
	if s.Float > 0 && s.LateEnd > end {
		out = append(out, drawing.Bar{From: moment(end), To: moment(s.LateEnd), Outline: true})
	}
	if p.Opening > 0 && s.Needed >= p.From && !s.Over {
		out = append(out, drawing.Bar{From: moment(s.Needed), To: moment(s.Needed + tick), Fill: drawing.Tint(drawing.Black)})
	}
	return out
}

func fill(s programme.Step) drawing.Fill {
	switch {
	case s.Critical:
		return critical
	case s.Who == "client":
		return clients
	case s.Who == "others":
		return theirs
	}
	return ours
}

// moment is the beginning of a day.
func moment(d programme.Date) time.Time {
	y, m, day := d.Civil()
	return time.Date(y, time.Month(m), day, 0, 0, 0, 0, time.UTC)
}
