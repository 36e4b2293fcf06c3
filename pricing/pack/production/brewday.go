package production

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/brewing"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/drawing"
)

func brewDays(plan *brewing.Result) []paper.Block {
	var blocks []paper.Block
	for i := range plan.BrewDays {
		d := &plan.BrewDays[i]
		drawn, err := timeline(plan, d)
		blocks = append(blocks, paper.Together{Blocks: []paper.Block{
			say.Heading(dayTitle(d)), dayFacts(plan, d),
			figure(drawn, err, "Hours from the first mash, with the vessel that is taken and the heat asked of its heater."),
		}})
	}
	if len(plan.BrewDays) > 0 {
		blocks = append(blocks, dayTable(&plan.BrewDays[0]))
	}
	return blocks
}

func dayTitle(d *brewing.BrewDay) string {
	if d.Brews == 1 {
		return "A day with one brew"
	}
	return fmt.Sprintf("A day with %d brews", d.Brews)
}

func dayFacts(plan *brewing.Result, d *brewing.BrewDay) paper.Facts {
	fact := func(name, value string) paper.Fact { return paper.Fact{Name: name, Value: paper.W(value)} }
	facts := []paper.Fact{
		fact("Drawn for", plan.Beers[d.Beer].Beer.Name+", the longest brew"),
		fact("From the first mash to a clean kettle", clock(d.Length)+" h"),
		fact("Most heat at a time", unit.In(d.Peak, "kw", 1)+", "+clock(d.PeakAt)+" h after the first mash"),
		fact("Longest brew day wanted", clock(plan.Settled.Year.DayLength)+" h"),
	}
	if d.Before > 0 {
		facts = append(facts, fact("Liquor is put on before the first mash", clock(d.Before)+" h, by a timer"))
	}
	if d.KnockOut > 0 {
		facts = append(facts, fact("First wort through the cooler", clock(d.KnockOut)+" h after the first mash"))
	}
	if d.Reheat > 0 {
		facts = append(facts, fact("Hot-liquor tank heated again", clock(d.Reheat)+" h from the cold mains"))
	}
	if d.Brews > 1 {
		facts = append(facts, fact("From one mash-in to the next", clock(d.Cycle)+" h"))
	}
	return paper.Facts{Columns: 2, Facts: facts}
}

// clock prints a time of the day's run as hours and minutes.
func clock(d unit.Duration) string {
	m, sign := int(math.Round(d.Min())), ""
	if m < 0 {
		m, sign = -m, "−"
	}
	return fmt.Sprintf("%s%d:%02d", sign, m/60, m%60)
}

func dayTable(d *brewing.BrewDay) paper.Table {
	t := paper.Table{
		Name: "brew-day", Title: "Steps of one brew",
		Columns: []paper.Column{
			{Title: "Step"},
			{Title: "Vessel"},
			{Title: "From", Unit: "h:min", Align: paper.Right},
			{Title: "To", Unit: "h:min", Align: paper.Right},
			number("Takes", "min"), number("Heat", "kW"),
			{Title: "Heater"},
		},
	}
	for _, s := range d.Steps {
		heat := paper.Cell{}
		if s.Heat > 0 {
			heat = say.Number(s.Heat, "kw", 1)
		}
		t.Rows = append(t.Rows, say.Row(paper.W(s.Name), paper.W(s.Vessel), paper.W(clock(s.Start)), paper.W(clock(s.End)), say.Number(s.End-s.Start, "min", 0), heat, paper.W(s.From)))
	}
	return t
}

// BrewDay draws the brew day with one brew (which is 0) or with more (1 and on).
func BrewDay(r configurator.Report, which int) (drawing.Drawing, error) {
	if r.Brewing == nil {
		return drawing.Drawing{}, errNoPlan
	}
	if which < 0 || which >= len(r.Brewing.BrewDays) {
		return drawing.Drawing{}, fmt.Errorf("brew day %d is not planned: there are %d", which, len(r.Brewing.BrewDays))
	}
	return timeline(r.Brewing, &r.Brewing.BrewDays[which])
}

const (
	dayHead drawing.MM = 6
	dayRow  drawing.MM = 6.4
	dayBar  drawing.MM = 4.4
	nameCol drawing.MM = 62
)

var brewFills = []drawing.Fill{
	{Colour: drawing.Pale, Solid: true},
	{Colour: drawing.White, Solid: true, Hatch: drawing.Rising},
	{Colour: drawing.Mist, Solid: true, Hatch: drawing.Upright},
	{Colour: drawing.White, Solid: true, Hatch: drawing.Crossed},
}

// dayChart places hours and steps on the sheet.
type dayChart struct {
	first, last float64            // hours from the first mash
	rows        []brewing.BrewStep // one for each name
}

func (c dayChart) x(d unit.Duration) drawing.MM {
	return nameCol + (uprightWidth-nameCol-4)*drawing.MM((d.H()-c.first)/(c.last-c.first))
}

func (c dayChart) bottom() drawing.MM { return dayHead + dayRow*drawing.MM(len(c.rows)) }

// timeline is a row for each step, a bar for each brew.
func timeline(plan *brewing.Result, d *brewing.BrewDay) (drawing.Drawing, error) {
	if len(d.Steps) == 0 {
		return drawing.Drawing{}, errors.New("the brew day has no steps")
	}
	c := dayChart{}
	row := map[string]int{}
	for _, s := range d.Steps {
		c.first, c.last = min(c.first, math.Floor(s.Start.H())), max(c.last, math.Ceil(s.End.H()))
		if _, seen := row[s.Name]; !seen {
			row[s.Name] = len(c.rows)
			c.rows = append(c.rows, s)
		}
	}
	out := drawing.Drawing{
		Width: uprightWidth, Height: c.bottom() + 11, Title: dayTitle(d),
		Description: "Steps of the brew day of " + plan.Beers[d.Beer].Beer.Name + " over the hours, with the vessel and the heat of each.",
	}
	out.Add(c.grid()...)
	for _, s := range d.Steps {
		out.Add(c.bar(row[s.Name], s)...)
	}
	out.Add(c.legend(d.Brews)...)
	return out, nil
}

func (c dayChart) grid() []drawing.Item {
	var out []drawing.Item
	for h := int(c.first); float64(h) <= c.last; h++ {
		x := c.x(unit.Hours(float64(h)))
		out = append(out,
			drawing.Line{From: drawing.P(x, dayHead-1.5), To: drawing.P(x, c.bottom()), Pen: drawing.Hair},
			drawing.Text{At: drawing.P(x, dayHead-2.4), Text: strings.Replace(strconv.Itoa(h), "-", "−", 1), Size: drawing.SmallType, Anchor: drawing.Middle, Colour: drawing.Ink})
	}
	out = append(out, drawing.Text{At: drawing.P(0, dayHead-2.4), Text: "hours", Size: drawing.SmallType, Bold: true, Colour: drawing.Ink})
	for i, s := range c.rows {
		top := dayHead + dayRow*drawing.MM(i)
		out = append(out,
			drawing.Line{From: drawing.P(0, top), To: drawing.P(uprightWidth, top), Pen: drawing.Hair},
			drawing.Text{At: drawing.P(0, top+dayRow/2+1), Text: s.Name, Colour: drawing.Ink},
			drawing.Text{At: drawing.P(nameCol-2, top+dayRow/2+0.9), Text: s.Vessel, Size: drawing.SmallType, Anchor: drawing.End, Colour: drawing.Grey})
	}
	return append(out, drawing.Line{From: drawing.P(0, c.bottom()), To: drawing.P(uprightWidth, c.bottom()), Pen: drawing.Fine})
}

// bar draws one step, with its heat inside, or beside it where it is short.
func (c dayChart) bar(row int, s brewing.BrewStep) []drawing.Item {
	top := dayHead + dayRow*drawing.MM(row) + (dayRow-dayBar)/2
	from, to := c.x(s.Start), c.x(s.End)
	fill := brewFills[(s.Brew-1)%len(brewFills)]
	if s.Heat <= 0 {
		return []drawing.Item{drawing.Rect(from, top, to-from, dayBar, drawing.Fine, fill)}
	}
	words := unit.In(s.Heat, "kw", 0)
	text := drawing.Text{At: drawing.P(to+1.2, top+dayBar/2+0.9), Text: words, Size: drawing.SmallType, Colour: drawing.Ink, Halo: true}
	if width := drawing.MM(len(words)) * drawing.SmallType * 0.52; width <= to-from-1 {
		text.At.X, text.Anchor = (from+to)/2, drawing.Middle
	}
	return []drawing.Item{drawing.Rect(from, top, to-from, dayBar, drawing.Heavy, fill), text}
}

func (c dayChart) legend(brews int) []drawing.Item {
	y, x := c.bottom()+3, nameCol
	var out []drawing.Item
	key := func(name string, pen drawing.Pen, fill drawing.Fill) {
		out = append(out, drawing.Rect(x, y, 6, 3.2, pen, fill), drawing.Text{At: drawing.P(x+7.5, y+2.6), Text: name, Colour: drawing.Ink})
		x += 12 + drawing.MM(len(name))*drawing.Lettering*0.52
	}
	for i := range brews {
		key("brew "+strconv.Itoa(i+1), drawing.Fine, brewFills[i%len(brewFills)])
	}
	key("heavy edge: heated", drawing.Heavy, drawing.Tint(drawing.White))
	return out
}
