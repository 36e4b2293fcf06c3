package production

import (
	"strconv"
	"strings"
	"time"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/brewing"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/drawing"
)

func weeks(plan *brewing.Result) []paper.Block {
	d, err := drawWeeks(plan)
	return []paper.Block{
		figure(d, err, "Brews and tanks taken in each week of the plan; the line is what there is. Hatched weeks are closed."),
		materialTable(plan), weekTable(plan),
	}
}

func materialTable(plan *brewing.Result) paper.Table {
	t := paper.Table{
		Name: "materials", Title: "Materials and what leaves",
		Columns: []paper.Column{
			{Title: "Material"}, {Title: "A brew", Align: paper.Right}, {Title: "Busiest week", Align: paper.Right}, {Title: "A year", Align: paper.Right}, {Title: "Note"},
		},
		Notes: []string{"A brew is the mean of the year's brews; the batch sheets have each beer's own."},
	}
	for _, m := range plan.Materials {
		t.Rows = append(t.Rows, say.Row(paper.W(say.Capital(strings.Replace(m.Name, "CO2", "CO₂", 1))), paper.W(rounded(m.PerBrew)), paper.W(rounded(m.PeakWeek)), paper.W(rounded(m.Year)), paper.W(m.Note)))
	}
	return t
}

// rounded prints a quantity of the materials list with no digits that mean nothing:
// thousands of litres as cubic metres.
func rounded(q unit.Quantity) string {
	switch x := q.(type) {
	case nil:
		return ""
	case unit.Volume:
		if x >= unit.Litres(10000) {
			return grouped(x, "m3")
		}
		return grouped(x, "l")
	case unit.Energy:
		return grouped(x, "kwh")
	case unit.Mass:
		if x < unit.Kilograms(10) {
			return unit.In(x, "kg", 2)
		}
		return grouped(x, "kg")
	}
	return q.String()
}

func weekTable(plan *brewing.Result) paper.Table {
	t := paper.Table{
		Name: "weeks", Title: "Week by week",
		Columns: []paper.Column{
			number("Week", ""),
			{Title: "From"},
			number("Brews", ""), number("Wort", "hL"), number("Packaged", "hL"), number("Malt", "kg"), number("Bags", ""),
			number("Wet grain", "kg"), number("Water", "m³"), number("Heat", "kWh"), number("FV", "taken"), number("BBT", "taken"), number("Cooling", "tanks"),
		},
		Notes: []string{"Water is brewing liquor. Taken is the most tanks on a day of the week; cooling the most tanks cooled down on a day. Bold: the busiest week and its equals. Closed weeks are left out where nothing happens in them."},
	}
	busy := map[int]bool{plan.Busiest: true}
	for _, i := range plan.PeakWeeks {
		busy[i] = true
	}
	for i := range plan.Weeks {
		w := &plan.Weeks[i]
		if w.Closed && w.Brews == 0 && w.Packaged == 0 && w.Fermenters == 0 && w.Brights == 0 {
			continue
		}
		cells := []paper.Cell{
			paper.I(w.Number), paper.W(weekFrom(plan, i)), paper.I(w.Brews), say.Number(w.Wort, "hl", 0), say.Number(w.Packaged, "hl", 1), say.Number(w.Malt, "kg", 0), paper.I(w.Bags),
			say.Number(w.Grain, "kg", 0), say.Number(w.Water, "m3", 1), say.Number(w.Energy, "kwh", 0), paper.I(w.Fermenters), paper.I(w.Brights), paper.I(w.Crashing),
		}
		for k := range cells {
			cells[k].Strong = busy[i]
		}
		t.Rows = append(t.Rows, paper.Row{Cells: cells})
	}
	return t
}

func weekFrom(plan *brewing.Result, i int) string {
	if d := plan.Date(7 * i); !d.IsZero() {
		return d.Format(time.DateOnly)
	}
	return "day " + strconv.Itoa(7*i+1)
}

// Weeks draws brews and tanks taken over the weeks of the year.
func Weeks(r configurator.Report) (drawing.Drawing, error) {
	if r.Brewing == nil {
		return drawing.Drawing{}, errNoPlan
	}
	return drawWeeks(r.Brewing)
}

// panel is one row of columns over the weeks with the limit that they stay below.
type panel struct {
	title, limitWords string
	of                func(*brewing.Week) int
	limit             float64
}

const (
	panelTall drawing.MM = 22
	panelGap  drawing.MM = 8
	panelLeft drawing.MM = 8
)

func drawWeeks(plan *brewing.Result) (drawing.Drawing, error) {
	perWeek := plan.Settled.Year.BrewsPerWeek.Value()
	panels := []panel{
		{"Brews", "most brews wanted: " + unit.Digits(perWeek, 3), func(w *brewing.Week) int { return w.Brews }, perWeek},
		{"Fermenters taken", "there are " + strconv.Itoa(len(plan.Fermenters)), func(w *brewing.Week) int { return w.Fermenters }, float64(len(plan.Fermenters))},
		{"Bright tanks taken", "there are " + strconv.Itoa(len(plan.Brights)), func(w *brewing.Week) int { return w.Brights }, float64(len(plan.Brights))},
	}
	d := drawing.Drawing{
		Width: uprightWidth, Height: drawing.MM(len(panels))*(panelTall+panelGap) + 6, Title: "The weeks of the year",
		Description: "Brews, fermenters taken and bright tanks taken in each of the 52 weeks, each against what there is.",
	}
	for i, p := range panels {
		top := panelGap + drawing.MM(i)*(panelTall+panelGap)
		d.Add(p.draw(plan, top)...)
	}
	for i := range plan.Weeks {
		if n := plan.Weeks[i].Number; n == 1 || n%4 == 0 {
			d.Add(drawing.Text{At: drawing.P(weekX(plan, i)+weekWide(plan)/2, d.Height-3), Text: strconv.Itoa(n), Size: drawing.SmallType, Anchor: drawing.Middle, Colour: drawing.Ink})
		}
	}
	d.Add(drawing.Text{At: drawing.P(0, d.Height-3), Text: "week", Size: drawing.SmallType, Bold: true, Colour: drawing.Ink})
	return d, nil
}

func weekWide(plan *brewing.Result) drawing.MM {
	return (uprightWidth - panelLeft) / drawing.MM(max(len(plan.Weeks), 1))
}

func weekX(plan *brewing.Result, i int) drawing.MM {
	return panelLeft + weekWide(plan)*drawing.MM(i)
}

func (p panel) draw(plan *brewing.Result, top drawing.MM) []drawing.Item {
	bottom, ceiling := top+panelTall, p.limit
	for i := range plan.Weeks {
		ceiling = max(ceiling, float64(p.of(&plan.Weeks[i])))
	}
	ceiling = max(ceiling, 1) * 1.1
	y := func(v float64) drawing.MM { return bottom - panelTall*drawing.MM(v/ceiling) }
	out := []drawing.Item{drawing.Text{At: drawing.P(panelLeft, top-2), Text: p.title, Size: drawing.SmallType, Bold: true, Colour: drawing.Ink}}
	every := max(1, int(ceiling)/4)
	for v := 0; float64(v) <= ceiling; v += every {
		out = append(out,
			drawing.Line{From: drawing.P(panelLeft, y(float64(v))), To: drawing.P(uprightWidth, y(float64(v))), Pen: drawing.Hair},
			drawing.Text{At: drawing.P(panelLeft-1.2, y(float64(v))+0.8), Text: strconv.Itoa(v), Size: drawing.SmallType, Anchor: drawing.End, Colour: drawing.Ink})
	}
	wide := weekWide(plan)
	for i := range plan.Weeks {
		w := &plan.Weeks[i]
		x := weekX(plan, i) + wide*0.12
		if w.Closed {
			out = append(out, drawing.Rect(x, top, wide*0.76, panelTall, drawing.Pen{}, drawing.Fill{Colour: drawing.Mist, Solid: true, Hatch: drawing.Rising}))
		}
		fill := drawing.Tint(drawing.Pale)
		if i == plan.Busiest {
			fill = drawing.Fill{Colour: drawing.Colour{R: 70, G: 78, B: 86}, Solid: true}
		}
		if n := p.of(w); n > 0 {
			out = append(out, drawing.Rect(x, y(float64(n)), wide*0.76, bottom-y(float64(n)), drawing.Fine, fill))
		}
	}
	return append(
		out,
		drawing.Line{From: drawing.P(panelLeft, bottom), To: drawing.P(uprightWidth, bottom), Pen: drawing.Fine},
		drawing.Line{From: drawing.P(panelLeft, y(p.limit)), To: drawing.P(uprightWidth, y(p.limit)), Pen: drawing.Pen{Width: 0.6, Colour: drawing.Black, Dash: drawing.Dashed}},
		drawing.Text{At: drawing.P(uprightWidth, top-2), Text: p.limitWords, Size: drawing.SmallType, Bold: true, Anchor: drawing.End, Colour: drawing.Black},
	)
}
