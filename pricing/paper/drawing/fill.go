package drawing

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

// FillBars shows how full things are against their limits: a bar a thing, the limit
// at the same place in all of them, and what goes beyond it in a hatch of its own.
type FillBars struct {
	Title, Description string
	Width              MM
	Rows               []FillRow
	LimitLabel         string // over the limit's line, such as "allowed"
	OverLabel          string // beside a bar beyond the limit, such as "over"
	Unknown            string // beside a row without a figure, such as "not known"
}

// FillRow is one thing. A nil Part is a thing nobody knows enough about.
type FillRow struct {
	Label string
	Part  *unit.Ratio // 1 is at the limit
	Words string      // at the right, such as "4.1 of 5.0 kN/m²"
}

// Draw makes the drawing.
func (f FillBars) Draw() (Drawing, error) {
	const head, row, thick, gap MM = 6, 6.2, 3.6, 3
	greatest := 1.0
	labels, words := make([]string, len(f.Rows)), make([]string, len(f.Rows))
	for i, r := range f.Rows {
		labels[i], words[i] = r.Label, f.words(r)
		if r.Part == nil {
			continue
		}
		part := float64(*r.Part)
		if math.IsNaN(part) || math.IsInf(part, 0) || part < 0 {
			return Drawing{}, fmt.Errorf("fill bars %q: %q is %v of its limit; zero or more is right", f.Title, r.Label, part)
		}
		greatest = max(greatest, part)
	}
	left, right := widest(Lettering, labels...)+gap, widest(Lettering, words...)+gap
	room := f.Width - left - right
	if room < 20 {
		return Drawing{}, fmt.Errorf("fill bars %q: labels and words leave %.0f mm for the bars; shorten them", f.Title, room)
	}
	// A bar far beyond the limit is cut off; its words say how far it goes.
	const cut = 1.6
	scale := room / MM(min(max(greatest, 1.1), cut))
	limit := left + scale
	d := Drawing{Width: f.Width, Height: head + row*MM(len(f.Rows)) + 2, Title: f.Title, Description: f.Description}
	for i, r := range f.Rows {
		top := head + row*MM(i)
		d.Add(Text{At: P(0, top+row/2+1), Text: r.Label, Colour: Ink},
			Text{At: P(f.Width, top+row/2+1), Text: words[i], Anchor: End, Bold: r.Part != nil && *r.Part > 1, Colour: Ink})
		if r.Part == nil {
			d.Add(Rect(left, top+(row-thick)/2, scale, thick, Pen{Width: 0.18, Colour: Grey, Dash: Dashed}, Fill{}))
			continue
		}
		part := MM(min(float64(*r.Part), cut))
		d.Add(Rect(left, top+(row-thick)/2, scale, thick, Hair, Tint(White)),
			Rect(left, top+(row-thick)/2, scale*min(part, 1), thick, Fine, Tint(Pale)))
		if part > 1 {
			d.Add(Rect(limit, top+(row-thick)/2, scale*(part-1), thick, Medium, Fill{Colour: White, Solid: true, Hatch: Dense}))
		}
	}
	d.Add(Line{From: P(limit, head-1), To: P(limit, d.Height-1), Pen: Heavy},
		Text{At: P(limit, head-2), Text: f.LimitLabel, Size: SmallType, Bold: true, Anchor: Middle, Colour: Black})
	return d, nil
}

func (f FillBars) words(r FillRow) string {
	switch {
	case r.Part == nil && r.Words == "":
		return f.Unknown
	case r.Part != nil && *r.Part > 1 && f.OverLabel != "":
		return f.OverLabel + ": " + r.Words
	}
	return r.Words
}
