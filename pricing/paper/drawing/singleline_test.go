package drawing_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"tunwright/pricing/paper/drawing"
)

func board(n int) drawing.SingleLine {
	s := drawing.SingleLine{
		Title: "DB1", Width: 170, Board: "DB1", Continued: "continued", Earthing: "TN-S",
		Supply: []drawing.Part{{Symbol: drawing.Fuse, Words: []string{"80 A"}}, {Symbol: drawing.Disconnector}},
	}
	for i := range n {
		s.Circuits = append(s.Circuits, drawing.Circuit{
			Name: fmt.Sprint(i + 1), Parts: []drawing.Part{{Symbol: drawing.Breaker, Words: []string{"B16"}}},
			Cable: "3 × 2.5 mm², 12 m", Load: drawing.Symbol(int(drawing.Motor) + i%5), Words: "Item", Details: "1 kW",
		})
	}
	return s
}

// All circuits are drawn, once each, on sheets no taller than asked for.
func TestSingleLineSplits(t *testing.T) {
	for _, n := range []int{0, 1, 10, 11, 40, 90} {
		sheets, err := board(n).Draw(240)
		if err != nil {
			t.Fatal(err)
		}
		names := map[string]int{}
		for k, d := range sheets {
			if err := d.Check(); err != nil {
				t.Error(err)
			}
			if d.Height > 240 {
				t.Errorf("%d circuits: sheet %d is %.0f mm tall", n, k+1, float64(d.Height))
			}
			if k > 0 && !strings.Contains(d.Title, "continued") {
				t.Errorf("sheet %d is called %q", k+1, d.Title)
			}
			for _, item := range d.Items {
				if text, ok := item.(drawing.Text); ok && text.Bold && text.Turn == 0 {
					names[text.Text]++
				}
			}
		}
		for i := range n {
			if got := names[fmt.Sprint(i+1)]; got != 1 {
				t.Errorf("%d circuits: circuit %d is drawn %d times", n, i+1, got)
			}
		}
	}
}

func TestSingleLineRefusals(t *testing.T) {
	narrow := board(3)
	narrow.Width = 12
	if _, err := narrow.Draw(240); err == nil {
		t.Error("drawn on 12 mm")
	}
	if _, err := board(3).Draw(60); err == nil {
		t.Error("drawn 60 mm tall")
	}
	open := board(1)
	open.Circuits[0].Load = drawing.Breaker
	if _, err := open.Draw(240); err == nil || !strings.Contains(err.Error(), "circuit 1") {
		t.Errorf("a circuit that ends in a breaker: %v", err)
	}
}

// Every sign fits its place on the conductor: 9 mm down, 3.3 mm to either side.
func TestSymbolsKeepTheirPlace(t *testing.T) {
	for s := drawing.Conductor; s <= drawing.Load; s++ {
		g := s.At(drawing.P(0, 0))
		if len(g.Items) == 0 {
			t.Errorf("sign %d is empty", s)
		}
		for _, item := range g.Items {
			var points []drawing.Point
			switch it := item.(type) {
			case drawing.Line:
				points = []drawing.Point{it.From, it.To}
			case drawing.Polygon:
				points = it.Points
			case drawing.Circle:
				points = it.Points()
			case drawing.Arc:
				points = it.Points()
			case drawing.Text:
				points = []drawing.Point{it.At}
			}
			for _, p := range points {
				if p.Y < -0.01 || p.Y > 9.01 || math.Abs(float64(p.X)) > 3.3 {
					t.Errorf("sign %d reaches to %v", s, p)
				}
			}
		}
	}
}

func TestBarScheduleSplits(t *testing.T) {
	s := drawing.BarSchedule{Title: "Programme", Width: 170, From: time.Date(2026, 1, 5, 0, 0, 0, 0, time.UTC), To: time.Date(2026, 6, 1, 0, 0, 0, 0, time.UTC), Keys: []drawing.Key{{Name: "ours"}}}
	for i := range 90 {
		s.Rows = append(s.Rows, drawing.BarRow{Label: fmt.Sprintf("Task %d", i+1)})
	}
	parts, err := s.Split(230)
	if err != nil {
		t.Fatal(err)
	}
	next := 1
	for _, part := range parts {
		d, err := part.Draw()
		if err != nil {
			t.Fatal(err)
		}
		if d.Height > 230 {
			t.Errorf("a part is %.0f mm tall", float64(d.Height))
		}
		for _, r := range part.Rows {
			if want := fmt.Sprintf("Task %d", next); r.Label != want {
				t.Fatalf("%s where %s is due", r.Label, want)
			}
			next++
		}
	}
	if next != 91 || len(parts) != 3 {
		t.Errorf("%d tasks in %d parts", next-1, len(parts))
	}
	if _, err := s.Split(10); err == nil {
		t.Error("split on 10 mm")
	}
}

func TestCheckFindsWhatIsNoNumber(t *testing.T) {
	nan := drawing.MM(math.NaN())
	for _, item := range []drawing.Item{
		drawing.Line{To: drawing.P(nan, 0)},
		drawing.Polyline{Points: []drawing.Point{{Y: nan}}},
		drawing.Polygon{Points: []drawing.Point{{X: nan}}},
		drawing.Circle{Radius: nan},
		drawing.Arc{From: drawing.Degrees(math.Inf(1))},
		drawing.Text{Size: -1},
		drawing.Line{Pen: drawing.Pen{Width: nan}},
		nil,
		drawing.Group{Name: "inner", Items: []drawing.Item{drawing.Circle{Centre: drawing.P(0, nan)}}},
	} {
		if err := (drawing.Drawing{Width: 10, Height: 10, Items: []drawing.Item{item}}).Check(); err == nil {
			t.Errorf("%+v passed", item)
		}
	}
}
