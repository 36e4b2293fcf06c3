package axes_test

import (
	"math"
	"testing"

	"tunwright/pricing/pack/axes"
	"tunwright/pricing/paper/drawing"

	"pgregory.net/rapid"
)

func TestScales(t *testing.T) {
	plain := axes.Frame{Left: 10, Right: 110, Top: 0, Bottom: 100, Hours: 24, High: 4}
	logarithmic := axes.Frame{Left: 10, Right: 110, Top: 0, Bottom: 100, Hours: 24, Low: 1, High: 100, Log: true}
	for _, c := range []struct {
		name      string
		got, want drawing.MM
		source    string
	}{
		{"noon of a day", plain.X(12), 60, "own arithmetic: half of 24 h is half of the width"},
		{"before the span", plain.X(-3), 10, "held inside the frame"},
		{"a quarter of the scale", plain.Y(1), 75, "own arithmetic"},
		{"above the scale", plain.Y(9), 0, "held inside the frame"},
		{"ten of one to a hundred", logarithmic.Y(10), 50, "log 10 / log 100 = 1/2"},
		{"below a logarithmic scale", logarithmic.Y(0), 100, "held inside the frame"},
	} {
		if math.Abs(float64(c.got-c.want)) > 1e-9 {
			t.Errorf("%s stands at %.3f mm, want %.3f mm (%s)", c.name, c.got, c.want, c.source)
		}
	}
}

func TestFramesThatCannotBeDrawn(t *testing.T) {
	for name, f := range map[string]axes.Frame{
		"no hours": {High: 1}, "values fall": {Hours: 1, Low: 2, High: 1}, "a logarithm of nought": {Hours: 1, High: 10, Log: true},
	} {
		if f.Check() == nil {
			t.Errorf("%s: the frame is let pass", name)
		}
	}
	if err := (axes.Frame{Hours: 24, High: 1}).Check(); err != nil {
		t.Error(err)
	}
}

// Ticks rise by steps of 1, 2 or 5 times a power of ten, reach the highest value, and
// are no more than asked for, one over where rounding up asks for it.
func TestTicks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		highest := rapid.Float64Range(1e-3, 1e6).Draw(t, "highest")
		most := rapid.IntRange(2, 12).Draw(t, "most")
		ticks := axes.Ticks(highest, most)
		if len(ticks) < 2 || len(ticks) > most+1 {
			t.Fatalf("%d ticks up to %g, at most %d are asked for", len(ticks), highest, most)
		}
		step := ticks[1]
		mantissa := step / math.Pow(10, math.Floor(math.Log10(step)+1e-9))
		if d := math.Min(math.Abs(mantissa-1), math.Min(math.Abs(mantissa-2), math.Abs(mantissa-5))); d > 1e-6 {
			t.Fatalf("a step of %g is not 1, 2 or 5 times a power of ten", step)
		}
		if last := ticks[len(ticks)-1]; last < highest*(1-1e-9) || last-step > highest {
			t.Fatalf("ticks end at %g for %g", last, highest)
		}
	})
}

// No line of a legend is wider than its room, unless a single entry is.
func TestLegendKeepsToItsWidth(t *testing.T) {
	keys := []axes.Key{{Name: "short"}, {Name: "a somewhat longer name"}, {Name: "third"}, {Name: "the fourth of them"}}
	for _, width := range []drawing.MM{40, 80, 170} {
		g, tall := axes.Legend(drawing.P(0, 0), width, keys)
		if rows := axes.Rows(width, keys); tall != 4.6*drawing.MM(rows) {
			t.Errorf("%d lines of a legend are %.1f mm tall", rows, tall)
		}
		for _, it := range g.Items {
			if w, ok := it.(drawing.Text); ok && w.At.X > width {
				t.Errorf("%q begins at %.1f mm of %.1f mm", w.Text, w.At.X, width)
			}
		}
	}
}
