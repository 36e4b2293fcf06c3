// Package office draws what only the house may see of a quotation: the cost it has
// committed at each payment against the money that has come in. It takes the figures
// of pricing.CashExposure, which hold costs; no client paper imports this package.
//
// Begin with Exposure.
package office

import (
	"fmt"

	"tunwright/pricing"
	"tunwright/pricing/money"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/drawing"
)

// Sizes of the drawing, in millimetres.
const (
	wide  drawing.MM = 165
	head  drawing.MM = 10
	row   drawing.MM = 12
	thick drawing.MM = 3.8
	names drawing.MM = 40
	sums  drawing.MM = 28
	gap   drawing.MM = 4
	place int32      = 6 // decimals of a share; it places bars and nothing else
)

// Exposure draws, stage by stage, the cost committed and what came in before and with
// the payment. Beside the bars stand the exposure before and after it; one that stays
// above the house's limit is set in bold and said in words.
func Exposure(list []pricing.Exposure, l paper.Locale) (drawing.Drawing, error) {
	if len(list) == 0 {
		return drawing.Drawing{}, fmt.Errorf("cash exposure: there are no payment stages")
	}
	scale, err := greatest(list)
	if err != nil {
		return drawing.Drawing{}, fmt.Errorf("cash exposure: %w", err)
	}
	d := drawing.Drawing{
		Width: wide, Height: head + row*drawing.MM(len(list)) + 8, Title: "Cash exposure by payment stage",
		Description: "For each payment: the cost committed by then, and what has come in before it and with it, without tax.",
	}
	bottom := head + row*drawing.MM(len(list))
	right := wide - sums
	d.Add(
		drawing.Line{From: drawing.P(names, head-2), To: drawing.P(names, bottom), Pen: drawing.Medium},
		text(right, head-4, "Exposed before", true), text(wide, head-4, "Exposed after", true),
	)
	for i, x := range list {
		top := head + row*drawing.MM(i)
		if err := bars(&d, x, scale, top, l); err != nil {
			return drawing.Drawing{}, fmt.Errorf("cash exposure: stage %s: %w", x.Stage, err)
		}
	}
	d.Add(
		key(names, bottom+6, drawing.Fill{Colour: drawing.White, Solid: true, Hatch: drawing.Rising}, "cost committed"),
		key(names+36, bottom+6, drawing.ChartFill(0), "received, this payment included"),
	)
	return d, nil
}

// greatest is the largest sum that a bar shows.
func greatest(list []pricing.Exposure) (money.Amount, error) {
	most := list[0].Committed
	for _, x := range list {
		for _, a := range []money.Amount{x.Committed, x.Received} {
			c, err := a.Cmp(most)
			if err != nil {
				return money.Amount{}, err
			}
			if c > 0 {
				most = a
			}
		}
	}
	if most.Sign() <= 0 {
		return money.Amount{}, fmt.Errorf("nothing is committed and nothing comes in")
	}
	return most, nil
}

func bars(d *drawing.Drawing, x pricing.Exposure, scale money.Amount, top drawing.MM, l paper.Locale) error {
	room := wide - names - 2*sums - gap
	committed, err := x.Committed.Ratio(scale, place)
	if err != nil {
		return err
	}
	received, err := x.Received.Ratio(scale, place)
	if err != nil {
		return err
	}
	middle := top + row/2
	d.Add(
		drawing.Text{At: drawing.P(0, middle+1), Text: clipped(x.Stage), Colour: drawing.Ink},
		drawing.Rect(names, middle-thick-0.3, room*drawing.MM(committed.InexactFloat64()), thick, drawing.Fine, drawing.Fill{Colour: drawing.White, Solid: true, Hatch: drawing.Rising}),
		drawing.Rect(names, middle+0.3, room*drawing.MM(received.InexactFloat64()), thick, drawing.Fine, drawing.ChartFill(0)),
		text(wide-sums, middle+1, x.Before.Format(l), false),
		text(wide, middle+1, x.After.Format(l), x.Over),
	)
	if x.Over {
		d.Add(text(wide, middle+4.4, "over the limit", true))
	}
	return nil
}

func text(x, y drawing.MM, words string, bold bool) drawing.Text {
	return drawing.Text{At: drawing.P(x, y), Text: words, Size: drawing.SmallType, Bold: bold, Anchor: drawing.End, Colour: drawing.Ink}
}

func key(x, y drawing.MM, fill drawing.Fill, words string) drawing.Group {
	return drawing.Group{Name: "key", Items: []drawing.Item{
		drawing.Rect(x, y-2.4, 6, 3, drawing.Fine, fill),
		drawing.Text{At: drawing.P(x+8, y), Text: words, Size: drawing.SmallType, Colour: drawing.Ink},
	}}
}

// clipped is a stage's name cut to what stands beside the bars.
func clipped(name string) string {
	const most = 26
	letters := []rune(name)
	if len(letters) <= most {
		return name
	}
	return string(letters[:most-1]) + "…"
}

// Table is the same in figures.
func Table(list []pricing.Exposure) paper.Table {
	unit := ""
	if len(list) > 0 {
		unit = string(list[0].Committed.Currency())
	}
	amount := func(title string) paper.Column { return paper.Column{Title: title, Unit: unit, Kind: paper.Money} }
	t := paper.Table{
		Name: "cash-exposure", Title: "Cash exposure by payment stage, without tax",
		Columns: []paper.Column{{Title: "Stage"}, amount("Cost committed"), amount("Received"), amount("Exposed before"), amount("Exposed after"), {Title: "Limit"}},
	}
	for _, x := range list {
		limit := "within"
		if x.Over {
			limit = "over"
		}
		t.Rows = append(t.Rows, paper.Row{Cells: []paper.Cell{
			paper.W(x.Stage), paper.Amount(x.Committed), paper.Amount(x.Received), paper.Amount(x.Before), paper.Amount(x.After), paper.W(limit),
		}})
	}
	return t
}
