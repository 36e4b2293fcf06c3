package drawing

import (
	"math"
	"strconv"
	"unicode/utf8"
)

// Value is a figure on a chart, in the chart's unit.
type Value float64

// niceStep is a step of 1, 2 or 5 times a power of ten that divides the span into at
// most so many parts.
func niceStep(span Value, parts int) Value {
	if span <= 0 || parts < 1 {
		return 1
	}
	rough := float64(span) / float64(parts)
	power := math.Pow(10, math.Floor(math.Log10(rough)))
	for _, m := range []float64{1, 2, 5} {
		if m*power >= rough*(1-1e-9) {
			return Value(m * power)
		}
	}
	return Value(10 * power)
}

// tickLabel prints a multiple of the step with no more decimals than it needs.
func tickLabel(v, step Value, point string) string {
	decimals := max(0, int(math.Ceil(-math.Log10(float64(step))-1e-9)))
	s := strconv.FormatFloat(float64(v), 'f', decimals, 64)
	if point == "" || point == "." {
		return s
	}
	for i := range len(s) {
		if s[i] == '.' {
			return s[:i] + point + s[i+1:]
		}
	}
	return s
}

const perLetter = 0.52 // of the size, for a plain sans serif; common practice, no source

// roughWidth is about how wide a text is. The writers measure; a chart needs only to
// keep its parts apart.
func roughWidth(s string, size MM) MM {
	return MM(utf8.RuneCountInString(s)) * size * perLetter
}

// widest is the rough width of the widest of the texts.
func widest(size MM, texts ...string) MM {
	w := MM(0)
	for _, s := range texts {
		w = max(w, roughWidth(s, size))
	}
	return w
}

// Key is an entry of a legend.
type Key struct {
	Name string
	Fill Fill
}

// legend sets keys in lines no wider than width, and says how tall they are.
func legend(at Point, width MM, keys []Key) (Group, MM) {
	const swatch, line, gap MM = 6, 5, 5
	g := Group{Name: "legend"}
	x, y := at.X, at.Y
	for _, k := range keys {
		w := swatch + 1.5 + roughWidth(k.Name, Lettering) + gap
		if x > at.X && x+w-gap > at.X+width {
			x, y = at.X, y+line
		}
		g.Items = append(g.Items,
			Rect(x, y, swatch, 3.2, Fine, k.Fill),
			Text{At: Point{x + swatch + 1.5, y + 2.6}, Text: k.Name, Colour: Ink})
		x += w
	}
	if len(keys) == 0 {
		return g, 0
	}
	return g, y - at.Y + line
}

// House fills in the order that charts use them: each is told from the next by its
// hatch, whatever the printer makes of the tint.
var chartFills = [...]Fill{
	{Colour: Colour{R: 70, G: 78, B: 86}, Solid: true},
	{Colour: White, Solid: true, Hatch: Rising},
	{Colour: Pale, Solid: true},
	{Colour: White, Solid: true, Hatch: Crossed},
	{Colour: White, Solid: true, Hatch: Upright},
	{Colour: Mist, Solid: true, Hatch: Falling},
	{Colour: White, Solid: true, Hatch: Level},
	{Colour: Pale, Solid: true, Hatch: Dense},
}

// ChartFill is the fill of a chart's series by its place; they repeat after eight.
func ChartFill(i int) Fill { return chartFills[((i%len(chartFills))+len(chartFills))%len(chartFills)] }
