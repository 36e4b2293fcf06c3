package drawing

import (
	"fmt"
	"math"
)

// Check tells whether the drawing can be drawn: it has a size, and every length in
// it is a number.
func (d Drawing) Check() error {
	if !(d.Width > 0) || !(d.Height > 0) || !finite(d.Width, d.Height) {
		return fmt.Errorf("drawing %q is %v mm by %v mm; it needs a size", d.Title, float64(d.Width), float64(d.Height))
	}
	if err := check(d.Items); err != nil {
		return fmt.Errorf("drawing %q: %w", d.Title, err)
	}
	return nil
}

func check(items []Item) error {
	for _, item := range items {
		good := true
		switch it := item.(type) {
		case Line:
			good = places(it.From, it.To) && finite(it.Pen.Width)
		case Polyline:
			good = places(it.Points...) && finite(it.Pen.Width)
		case Polygon:
			good = places(it.Points...) && finite(it.Pen.Width)
		case Circle:
			good = places(it.Centre) && finite(it.Radius, it.Pen.Width)
		case Arc:
			good = places(it.Centre) && finite(it.Radius, it.Pen.Width, MM(it.From), MM(it.To))
		case Text:
			good = places(it.At) && finite(it.Size, MM(it.Turn)) && it.Size >= 0
		case Group:
			if err := check(it.Items); err != nil {
				return fmt.Errorf("%s: %w", it.Name, err)
			}
		default:
			return fmt.Errorf("no way to draw a %T", item)
		}
		if !good {
			return fmt.Errorf("a %T has a length that is no number or beyond any sheet: %+v", item, item)
		}
	}
	return nil
}

func places(points ...Point) bool {
	for _, p := range points {
		if !finite(p.X, p.Y) {
			return false
		}
	}
	return true
}

// finite also refuses lengths beyond any sheet, which hatching would take for ever on.
func finite(values ...MM) bool {
	for _, v := range values {
		if !(math.Abs(float64(v)) < 1e5) {
			return false
		}
	}
	return true
}
