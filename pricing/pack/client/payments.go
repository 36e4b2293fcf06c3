package client

import (
	"tunwright/pricing"
	"tunwright/pricing/money"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/drawing"

	"github.com/shopspring/decimal"
)

func (q quote) payments() []paper.Block {
	if len(q.priced.Stages) == 0 {
		return []paper.Block{para(q.Say("payments.none", q.Money(q.priced.Totals.Gross)))}
	}
	blocks := []paper.Block{q.stages()}
	if d, err := q.paymentBars(); err == nil {
		blocks = append(blocks, paper.Figure{Drawing: d, Caption: q.Say("payments.caption")})
	}
	return blocks
}

func (q quote) stages() paper.Table {
	t := paper.Table{
		Name: "stages", Title: q.Say("payments.title"),
		Columns: []paper.Column{
			{Title: q.Say("col.payment")},
			{Title: q.Say("col.due")},
			{Title: q.Say("col.days"), Kind: paper.Number},
			{Title: q.Say("col.share"), Unit: "%", Kind: paper.Number},
			{Title: q.Say("col.net"), Unit: q.currency(), Kind: paper.Money},
			{Title: q.Say("col.tax-amount"), Unit: q.currency(), Kind: paper.Money},
			{Title: q.Say("col.gross"), Unit: q.currency(), Kind: paper.Money},
		},
		Notes: []string{q.Say("payments.exact")},
	}
	for _, s := range q.priced.Stages {
		due := s.Event
		if s.Evidence != "" {
			due = q.Say("payments.shown", s.Event, s.Evidence)
		}
		t.Rows = append(t.Rows, say.Row(paper.W(s.Name), paper.W(due), paper.I(s.Days), paper.Decimal(s.Percent.String()), paper.Amount(s.Net), paper.Amount(s.Tax), paper.Amount(s.Gross)))
	}
	all := q.priced.Totals
	t.Rows = append(t.Rows, paper.Row{Kind: paper.Total, Cells: []paper.Cell{paper.W(q.Say("col.together")), {}, {}, paper.Decimal("100"), paper.Amount(all.Net), paper.Amount(all.Tax), paper.Amount(all.Gross)}})
	return t
}

// Payments draws what the client has paid by each stage, with tax. What the house
// has laid out by then is nowhere in it.
func Payments(q pricing.Quotation, locale paper.Locale) (drawing.Drawing, error) {
	return quote{Voice: phrases.In(locale), priced: q}.paymentBars()
}

// Sizes of the drawing, in millimetres.
const (
	chartWide  drawing.MM = 165
	chartHead  drawing.MM = 9
	chartRow   drawing.MM = 7.5
	chartThick drawing.MM = 4.4
	nameWide   drawing.MM = 40
	sumWide    drawing.MM = 27
)

func (q quote) paymentBars() (drawing.Drawing, error) {
	stages := q.priced.Stages
	d := drawing.Drawing{
		Width: chartWide, Height: chartHead + chartRow*drawing.MM(len(stages)) + 8,
		Title: q.Say("payments.caption"), Description: q.Say("payments.described"),
	}
	left, room := nameWide, chartWide-nameWide-2*sumWide-4
	x := func(part drawing.MM) drawing.MM { return left + room*part }
	bottom := chartHead + chartRow*drawing.MM(len(stages))
	d.Add(grid(x, bottom, q.Voice.Locale),
		drawing.Text{At: drawing.P(chartWide-sumWide, chartHead-4), Text: q.Say("payments.this"), Size: drawing.SmallType, Bold: true, Anchor: drawing.End, Colour: drawing.Ink},
		drawing.Text{At: drawing.P(chartWide, chartHead-4), Text: q.Say("payments.so-far"), Size: drawing.SmallType, Bold: true, Anchor: drawing.End, Colour: drawing.Ink})
	paid := money.NewTally(q.priced.Currency)
	from := drawing.MM(0)
	for i, s := range stages {
		paid.Add(s.Gross)
		sum, err := paid.Total()
		if err != nil {
			return drawing.Drawing{}, err
		}
		to, err := part(sum, q.priced.Totals.Gross)
		if err != nil {
			return drawing.Drawing{}, err
		}
		top := chartHead + chartRow*drawing.MM(i) + (chartRow-chartThick)/2
		line := top + chartThick/2 + 1
		if from > 0 {
			d.Add(drawing.Rect(x(0), top, x(from)-x(0), chartThick, drawing.Fine, drawing.Tint(drawing.Mist)))
		}
		d.Add(drawing.Rect(x(from), top, x(to)-x(from), chartThick, drawing.Fine, drawing.ChartFill(0)),
			drawing.Text{At: drawing.P(0, line), Text: clipped(s.Name, nameWide-2), Colour: drawing.Ink},
			drawing.Text{At: drawing.P(chartWide-sumWide, line), Text: q.Money(s.Gross), Anchor: drawing.End, Colour: drawing.Ink},
			drawing.Text{At: drawing.P(chartWide, line), Text: q.Money(sum), Anchor: drawing.End, Colour: drawing.Ink})
		from = to
	}
	d.Add(key(left, bottom+6, drawing.Tint(drawing.Mist), q.Say("payments.key-before")), key(left+42, bottom+6, drawing.ChartFill(0), q.Say("payments.key-this")))
	return d, nil
}

// part is a sum as a part of the whole. It places bars and nothing else.
func part(sum, whole money.Amount) (drawing.MM, error) {
	const places = 6
	ratio, err := sum.Ratio(whole, places)
	if err != nil {
		return 0, err
	}
	return drawing.MM(ratio.InexactFloat64()), nil
}

// grid draws a line at each quarter of the whole.
func grid(x func(drawing.MM) drawing.MM, bottom drawing.MM, l paper.Locale) drawing.Group {
	g := drawing.Group{Name: "axis"}
	for quarter := range 5 {
		at := x(drawing.MM(quarter) / 4)
		g.Items = append(g.Items,
			drawing.Line{From: drawing.P(at, chartHead-2), To: drawing.P(at, bottom), Pen: drawing.Hair},
			drawing.Text{At: drawing.P(at, chartHead-4), Text: money.FormatPercent(decimal.New(int64(25*quarter), 0), l), Size: drawing.SmallType, Anchor: drawing.Middle, Colour: drawing.Grey})
	}
	return g
}

func key(x, y drawing.MM, fill drawing.Fill, words string) drawing.Group {
	return drawing.Group{Name: "key", Items: []drawing.Item{
		drawing.Rect(x, y-2.4, 6, 3, drawing.Fine, fill),
		drawing.Text{At: drawing.P(x+8, y), Text: words, Size: drawing.SmallType, Colour: drawing.Ink},
	}}
}

// clipped is a name cut to about a width.
func clipped(name string, room drawing.MM) string {
	const perLetter = 0.52 // of the size, for a plain sans serif; common practice, no source
	n := int(room / (drawing.Lettering * perLetter))
	letters := []rune(name)
	if len(letters) <= n {
		return name
	}
	return string(letters[:n-1]) + "…"
}
