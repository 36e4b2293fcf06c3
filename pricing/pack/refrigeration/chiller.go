package refrigeration

import (
	"errors"
	"math"
	"strconv"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/cooling"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/drawing"
)

func chillerBlocks(c *cooling.Result) []paper.Block {
	var blocks []paper.Block
	if !c.Chiller.Rated {
		blocks = append(blocks, say.Note("The maker's table does not cover these conditions. %s", say.Sentence(c.Chiller.Why)))
	}
	blocks = append(blocks, chillerTable(c))
	if len(c.Chiller.Curve) > 1 {
		d, err := output(c)
		blocks = append(blocks, paper.Together{Blocks: []paper.Block{
			figure(d, err, "Output and electrical input of all units with glycol of "+c.Fluid.Supply.String()+" over the air at the condenser; marks are the points of the maker's table, the lines between them are straight."),
		}}, curveTable(c))
	}
	return append(blocks, siteTable(c))
}

func chillerTable(c *cooling.Result) paper.Table {
	var rows [][2]string
	for _, d := range c.Sheet.Chiller {
		value := d.Text
		if d.Quantity != nil {
			value = shown(d.Quantity)
		}
		rows = append(rows, [2]string{say.Capital(d.Name), value})
	}
	one := "nothing: there is one unit"
	if c.Chiller.Units > 1 {
		one = shown(c.Chiller.OneLess)
	}
	rows = append(rows,
		[2]string{"Capacity with one unit standing", one},
		[2]string{"Entering glycol while valves stand open", unit.Fixed(c.Chiller.Entering, 1)})
	if c.Chiller.ToWarm > 0 {
		rows = append(rows, [2]string{"First tank 3 K warmer after a standstill", c.Chiller.WarmTank + ", " + shown(c.Chiller.ToWarm)})
	}
	return data("chiller", "The chiller at the conditions of the design", rows...)
}

func curveTable(c *cooling.Result) paper.Table {
	t := paper.Table{
		Name: "chiller-output", Title: "Output over the air at the condenser",
		Columns: []paper.Column{number("Air", "°C"), number("Output", "kW"), number("Input", "kW")},
	}
	for _, p := range c.Chiller.Curve {
		t.Rows = append(t.Rows, say.Row(say.Number(p.Ambient, "c", 0), say.Number(p.Capacity, "kw", 1), say.Number(p.Input, "kw", 1)))
	}
	return t
}

func siteTable(c *cooling.Result) paper.Table {
	s := &c.Siting
	sound := "the distance to the nearest window is unknown"
	if s.Sound != nil {
		sound = shown(*s.Sound) + ", at most " + shown(s.SoundLimit) + " at night"
	}
	rows := [][2]string{
		{"Heat to the air", shown(s.Rejected)},
		{"Air through the condenser at 10 K", unit.In(s.Air, "m3_h", 0)},
		{"Free area of louvres each way, were it inside", unit.In(s.FreeArea, "m2", 2)},
		{"Sound at the nearest window of others", sound},
	}
	if r := s.Refrigerant; r != nil {
		rows = append(rows, [2]string{"Refrigerant", r.Name + ", class " + r.Class + ", warming potential " + unit.Digits(r.GWP.N(), 4)})
		if r.LFL != nil {
			rows = append(rows, [2]string{"Burns in air from", r.LFL.String()})
		}
		if r.Practical != nil {
			rows = append(rows, [2]string{"Practical limit in a room with people", r.Practical.String()})
		}
	}
	if s.CO2e != nil {
		rows = append(rows, [2]string{"Charge of one unit as CO₂", shown(*s.CO2e)})
	}
	return data("chiller-place", "What the chiller asks of its place", rows...)
}

// Output draws what the chiller gives and takes over the air at the condenser.
func Output(r configurator.Report) (drawing.Drawing, error) {
	if r.Cooling == nil {
		return drawing.Drawing{}, errNoCooling
	}
	return output(r.Cooling)
}

// graph places temperatures and powers on the sheet.
type graph struct {
	left, top, width, bottom drawing.MM
	first, last              float64 // °C
	ceiling                  float64 // kW
}

func (g graph) x(t float64) drawing.MM {
	return g.left + g.width*drawing.MM((t-g.first)/(g.last-g.first))
}

func (g graph) y(kw float64) drawing.MM {
	return g.bottom - (g.bottom-g.top)*drawing.MM(kw/g.ceiling)
}

func output(c *cooling.Result) (drawing.Drawing, error) {
	curve := c.Chiller.Curve
	if len(curve) < 2 {
		return drawing.Drawing{}, errors.New("the maker's table has fewer than two air temperatures at this glycol")
	}
	const width, height = 130, 74
	g := graph{left: 9, top: 7, width: width - 9 - 34, bottom: height - 10, first: curve[0].Ambient.C(), last: curve[len(curve)-1].Ambient.C()}
	g.first, g.last = min(g.first, c.Ambient.C()), max(g.last, c.Ambient.C())
	step := g.scale(c)
	d := drawing.Drawing{Width: width, Height: height, Title: "Output of the chiller", Description: "Output and electrical input over the temperature of the air at the condenser, with the duty and the design air."}
	d.Add(g.grid(curve, step)...)
	capacity, input := g.points(curve, func(p cooling.CurvePoint) unit.Power { return p.Capacity }), g.points(curve, func(p cooling.CurvePoint) unit.Power { return p.Input })
	d.Add(
		drawing.Polyline{Points: capacity, Pen: drawing.Pen{Width: 0.6, Colour: drawing.Ink}},
		drawing.Polyline{Points: input, Pen: drawing.Pen{Width: 0.4, Colour: drawing.Ink, Dash: drawing.Dotted}})
	for _, p := range append(capacity, input...) {
		d.Add(drawing.Circle{Centre: p, Radius: 0.9, Pen: drawing.Fine, Fill: drawing.Tint(drawing.White)})
	}
	labels := []label{{capacity[len(capacity)-1].Y, "output"}, {input[len(input)-1].Y, "input"}, {g.y(c.Load.Duty.KW()), "duty " + shown(c.Load.Duty)}}
	d.Add(g.line(c.Load.Duty.KW()), g.design(c.Ambient))
	d.Add(g.name(labels)...)
	d.Add(
		drawing.Text{At: drawing.P(g.x(c.Ambient.C()), g.top-2), Text: "design air " + c.Ambient.String(), Size: drawing.SmallType, Bold: true, Anchor: drawing.Middle, Colour: drawing.Black})
	return d, nil
}

// scale sets the ceiling above all that is drawn and gives the step of the grid.
func (g *graph) scale(c *cooling.Result) float64 {
	top := c.Load.Duty.KW()
	for _, p := range c.Chiller.Curve {
		top = max(top, p.Capacity.KW(), p.Input.KW())
	}
	power := math.Pow(10, math.Floor(math.Log10(max(top, 0.1)/5)))
	step := power
	for _, m := range []float64{1, 2, 5, 10} {
		if step = m * power; top/step <= 6 {
			break
		}
	}
	g.ceiling = step * math.Ceil(top*1.05/step)
	return step
}

func (g graph) points(curve []cooling.CurvePoint, of func(cooling.CurvePoint) unit.Power) []drawing.Point {
	out := make([]drawing.Point, len(curve))
	for i, p := range curve {
		out[i] = drawing.P(g.x(p.Ambient.C()), g.y(of(p).KW()))
	}
	return out
}

func (g graph) grid(curve []cooling.CurvePoint, step float64) []drawing.Item {
	out := []drawing.Item{
		drawing.Text{At: drawing.P(g.left, g.top-2), Text: "kW", Size: drawing.SmallType, Bold: true, Anchor: drawing.End, Colour: drawing.Ink},
		drawing.Text{At: drawing.P(g.left+g.width, g.bottom+8), Text: "air at the condenser, °C", Size: drawing.SmallType, Bold: true, Anchor: drawing.End, Colour: drawing.Ink},
	}
	for i := 0; float64(i)*step <= g.ceiling*(1+1e-9); i++ {
		v := float64(i) * step
		out = append(out,
			drawing.Line{From: drawing.P(g.left, g.y(v)), To: drawing.P(g.left+g.width, g.y(v)), Pen: drawing.Hair},
			drawing.Text{At: drawing.P(g.left-1.2, g.y(v)+0.8), Text: unit.Digits(v, 3), Size: drawing.SmallType, Anchor: drawing.End, Colour: drawing.Ink})
	}
	for _, p := range curve {
		x := g.x(p.Ambient.C())
		out = append(out,
			drawing.Line{From: drawing.P(x, g.bottom), To: drawing.P(x, g.bottom+1), Pen: drawing.Fine},
			drawing.Text{At: drawing.P(x, g.bottom+4), Text: strconv.Itoa(int(math.Round(p.Ambient.C()))), Size: drawing.SmallType, Anchor: drawing.Middle, Colour: drawing.Ink})
	}
	return append(out, drawing.Line{From: drawing.P(g.left, g.bottom), To: drawing.P(g.left+g.width, g.bottom), Pen: drawing.Fine})
}

func (g graph) line(kw float64) drawing.Item {
	return drawing.Line{From: drawing.P(g.left, g.y(kw)), To: drawing.P(g.left+g.width, g.y(kw)), Pen: drawing.Pen{Width: 0.6, Colour: drawing.Black, Dash: drawing.Dashed}}
}

func (g graph) design(air unit.Temperature) drawing.Item {
	return drawing.Line{From: drawing.P(g.x(air.C()), g.top), To: drawing.P(g.x(air.C()), g.bottom), Pen: drawing.Pen{Width: 0.4, Colour: drawing.Black, Dash: drawing.Chain}}
}

// label is a line's name at the right of the graph.
type label struct {
	y    drawing.MM
	text string
}

// name sets the names beside their lines, kept apart where lines end close together.
func (g graph) name(labels []label) []drawing.Item {
	const apart = 3.4
	for i := range labels {
		for k := range labels[:i] {
			if gap := labels[i].y - labels[k].y; gap > -apart && gap < apart {
				labels[i].y = labels[k].y + apart
			}
		}
	}
	out := make([]drawing.Item, len(labels))
	for i, l := range labels {
		out[i] = drawing.Text{At: drawing.P(g.left+g.width+2, l.y+0.8), Text: l.text, Size: drawing.SmallType, Bold: true, Colour: drawing.Ink}
	}
	return out
}
