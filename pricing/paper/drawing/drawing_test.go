package drawing_test

import (
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"tunwright/catalog/unit"
	"tunwright/pricing/paper/drawing"
	"tunwright/pricing/paper/internal/sample"
)

func near(a, b drawing.MM) bool { return math.Abs(float64(a-b)) < 1e-6 }

// The length of the hatch lines times their spacing is about the area they cover,
// and none leaves the polygon's bounds.
func TestHatchCoversItsArea(t *testing.T) {
	square := []drawing.Point{{X: 3, Y: 7}, {X: 43, Y: 7}, {X: 43, Y: 37}, {X: 3, Y: 37}}
	ell := []drawing.Point{{X: 0, Y: 0}, {X: 40, Y: 0}, {X: 40, Y: 10}, {X: 10, Y: 10}, {X: 10, Y: 40}, {X: 0, Y: 40}}
	for _, tc := range []struct {
		points []drawing.Point
		area   float64
		hatch  drawing.Hatch
		space  float64
	}{
		{square, 1200, drawing.Rising, 1.6},
		{square, 1200, drawing.Falling, 1.6},
		{square, 1200, drawing.Level, 1.6},
		{square, 1200, drawing.Upright, 1.6},
		{square, 1200, drawing.Dense, 0.8},
		{square, 1200, drawing.Crossed, 0.8},
		{ell, 700, drawing.Rising, 1.6},
		{ell, 700, drawing.Dense, 0.8},
	} {
		total := 0.0
		for _, l := range tc.hatch.Lines(tc.points) {
			total += math.Hypot(float64(l[1].X-l[0].X), float64(l[1].Y-l[0].Y))
			for _, p := range l {
				if p.X < -1e-9 || p.X > 43+1e-9 || p.Y < -1e-9 || p.Y > 40+1e-9 {
					t.Errorf("hatch %d leaves the polygon at %v", tc.hatch, p)
				}
			}
		}
		if got := total * tc.space; math.Abs(got-tc.area)/tc.area > 0.06 {
			t.Errorf("hatch %d covers %.0f mm², the polygon has %.0f", tc.hatch, got, tc.area)
		}
	}
	if got := drawing.Rising.Lines(square[:2]); got != nil {
		t.Errorf("two points were hatched: %v", got)
	}
}

// Dashes keep to the path, and strokes and gaps share its length by the pattern.
func TestDashCut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 6).Draw(t, "points")
		points := make([]drawing.Point, n)
		length := 0.0
		for i := range points {
			points[i] = drawing.P(drawing.MM(rapid.Float64Range(0, 80).Draw(t, "x")), drawing.MM(rapid.Float64Range(0, 80).Draw(t, "y")))
			if i > 0 {
				length += math.Hypot(float64(points[i].X-points[i-1].X), float64(points[i].Y-points[i-1].Y))
			}
		}
		drawn := 0.0
		for _, piece := range drawing.Dashed.Cut(points) {
			for i := 1; i < len(piece); i++ {
				drawn += math.Hypot(float64(piece[i].X-piece[i-1].X), float64(piece[i].Y-piece[i-1].Y))
			}
		}
		// 1.6 mm of stroke in every 2.6 mm, up to one stroke more or less.
		if want := length * 1.6 / 2.6; math.Abs(drawn-want) > 1.6 {
			t.Fatalf("%.2f mm are drawn of %.2f mm, want about %.2f", drawn, length, want)
		}
	})
	if got := drawing.Solid.Cut([]drawing.Point{{}, {X: 1}}); len(got) != 1 {
		t.Errorf("a solid line was cut: %v", got)
	}
}

func TestViewIsToScale(t *testing.T) {
	v := drawing.View{Scale: 50, Origin: drawing.P(10, 100)}
	// Own arithmetic: at 1:50 a metre is 20 mm.
	if got := v.MM(unit.Metres(2.5)); !near(got, 50) {
		t.Errorf("2.5 m is %v mm at 1:50", got)
	}
	if got := v.At(unit.Metres(1), unit.Metres(2)); !near(got.X, 30) || !near(got.Y, 60) {
		t.Errorf("(1 m, 2 m) lies at %v", got)
	}
	if got := v.Scale.String(); got != "1:50" {
		t.Errorf("scale %q", got)
	}
}

func TestFit(t *testing.T) {
	space := drawing.Drawing{Width: 170, Height: 120}
	for _, tc := range []struct {
		w, d float64
		want drawing.Scale
	}{{3, 2, 20}, {7.2, 5, 50}, {8, 4.9, 75}, {14, 9, 100}, {70, 10, 500}} {
		v, err := drawing.Fit(unit.Metres(tc.w), unit.Metres(tc.d), space, 10)
		if err != nil || v.Scale != tc.want {
			t.Errorf("%v × %v m: scale %v, %v; want %v", tc.w, tc.d, v.Scale, err, tc.want)
			continue
		}
		low, high := v.At(0, 0), v.At(unit.Metres(tc.w), unit.Metres(tc.d))
		if low.X < 10-1e-6 || high.X > 160+1e-6 || high.Y < 10-1e-6 || low.Y > 110+1e-6 {
			t.Errorf("%v × %v m lies from %v to %v, outside the margins", tc.w, tc.d, low, high)
		}
	}
	if _, err := drawing.Fit(unit.Metres(900), unit.Metres(10), space, 10); err == nil {
		t.Error("a room of 900 m was fitted")
	}
}

// Dimension words are read from the foot or the right of the sheet (ISO 129-1), above
// their line.
func TestDimensionWords(t *testing.T) {
	for _, tc := range []struct {
		p, q drawing.Point
		want drawing.Degrees
	}{
		{drawing.P(0, 0), drawing.P(10, 0), 0},
		{drawing.P(10, 0), drawing.P(0, 0), 0},
		{drawing.P(0, 0), drawing.P(0, 10), -90},
		{drawing.P(0, 10), drawing.P(0, 0), -90},
		{drawing.P(0, 0), drawing.P(10, 10), 45},
		{drawing.P(0, 10), drawing.P(10, 0), -45},
	} {
		for _, item := range drawing.Dimension(tc.p, tc.q, 5, "1 000").Items {
			text, ok := item.(drawing.Text)
			if !ok {
				continue
			}
			if d := math.Mod(float64(text.Turn-tc.want)+720, 360); d > 1e-6 && d < 360-1e-6 {
				t.Errorf("%v to %v: words turned by %v, want %v", tc.p, tc.q, text.Turn, tc.want)
			}
		}
	}
	if g := drawing.Dimension(drawing.P(1, 1), drawing.P(1, 1), 5, "0"); len(g.Items) != 0 {
		t.Error("a dimension of no length was drawn")
	}
}

func TestArc(t *testing.T) {
	points := drawing.Arc{Centre: drawing.P(10, 10), Radius: 5, From: 0, To: 90}.Points()
	first, last := points[0], points[len(points)-1]
	if !near(first.X, 15) || !near(first.Y, 10) || !near(last.X, 10) || !near(last.Y, 15) {
		t.Errorf("a quarter clockwise from the right runs from %v to %v", first, last)
	}
	if got := len(drawing.Circle{Radius: 1}.Points()); got != 60 {
		t.Errorf("a circle has %d points", got)
	}
}

// bars are the polygons of the rows, by their left and right edge.
func bars(d drawing.Drawing) (out [][2]drawing.MM) {
	var walk func(items []drawing.Item)
	walk = func(items []drawing.Item) {
		for _, item := range items {
			switch it := item.(type) {
			case drawing.Group:
				if it.Name != "legend" {
					walk(it.Items)
				}
			case drawing.Polygon:
				out = append(out, [2]drawing.MM{it.Points[0].X, it.Points[1].X})
			}
		}
	}
	walk(d.Items)
	return out
}

func TestBarSchedule(t *testing.T) {
	day := func(n int) time.Time { return time.Date(2026, 11, 2+n, 0, 0, 0, 0, time.UTC) }
	s := drawing.BarSchedule{
		Title: "Tanks", Width: 100, From: day(0), To: day(20),
		Rows: []drawing.BarRow{{Label: "FV1", Bars: []drawing.Bar{{From: day(0), To: day(10)}, {From: day(10), To: day(20)}, {From: day(-5), To: day(40)}, {From: day(30), To: day(40)}}}},
	}
	d, err := s.Draw()
	if err != nil {
		t.Fatal(err)
	}
	got := bars(d)
	if len(got) != 3 {
		t.Fatalf("%d bars; the one outside the span is left out", len(got))
	}
	if !near(got[0][1], got[1][0]) || !near(got[0][1]-got[0][0], got[1][1]-got[1][0]) {
		t.Errorf("ten days and ten days are drawn as %v and %v", got[0], got[1])
	}
	if !near(got[2][0], got[0][0]) || !near(got[2][1], got[1][1]) {
		t.Errorf("a bar beyond both ends is drawn as %v", got[2])
	}
	s.To = s.From
	if _, err := s.Draw(); err == nil {
		t.Error("a schedule of no length was drawn")
	}
}

// The numbers of weeks at a turn of the year.
func TestWeekNumbers(t *testing.T) {
	const source = "ISO 8601-1:2019, 3.1.1.23: week 1 has the year's first Thursday; 2026 begins on a Thursday and so has 53 weeks"
	s := drawing.BarSchedule{
		Title: "Weeks", Width: 160, From: time.Date(2026, 12, 21, 0, 0, 0, 0, time.UTC), To: time.Date(2027, 1, 18, 0, 0, 0, 0, time.UTC),
		Week: "KW", Day: func(t time.Time) string { return t.Format("02.01.") },
	}
	d, err := s.Draw()
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, item := range d.Items {
		if g, ok := item.(drawing.Group); ok && g.Name == "axis" {
			for _, i := range g.Items {
				if text, ok := i.(drawing.Text); ok {
					got = append(got, text.Text)
				}
			}
		}
	}
	want := []string{"KW 52", "21.12.", "KW 53", "28.12.", "KW 1", "04.01.", "KW 2", "11.01."}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("%s (-want +got):\n%s", source, diff)
	}
}

func TestStepChart(t *testing.T) {
	chart := drawing.StepChart{
		Title: "Demand", Width: 160, Height: 80, Unit: "kW", Limit: 40, LimitLabel: "supply", PeakLabel: "peak",
		Series: []drawing.Series{{Name: "a", Values: []drawing.Value{10, 20, 0}}, {Name: "b", Values: []drawing.Value{5, 30, 30}}},
	}
	d, err := chart.Draw()
	if err != nil {
		t.Fatal(err)
	}
	var areas []drawing.Polygon
	texts := map[string]drawing.Point{}
	for _, item := range d.Items {
		switch it := item.(type) {
		case drawing.Group:
			if it.Name == "a" || it.Name == "b" {
				for _, i := range it.Items {
					areas = append(areas, i.(drawing.Polygon))
				}
			}
		case drawing.Text:
			texts[it.Text] = it.At
		}
	}
	// Own arithmetic: b's area is 5 + 30 + 30 to a's 10 + 20.
	if got := area(areas[1]) / area(areas[0]); math.Abs(got-65.0/30) > 1e-6 {
		t.Errorf("areas stand as %.4f, want %.4f", got, 65.0/30)
	}
	if _, ok := texts["peak 50.0 kW"]; !ok {
		t.Errorf("no peak of 50 kW among %v", texts)
	}
	for name, bad := range map[string]drawing.StepChart{
		"nothing":   {Title: "x", Width: 100, Height: 80},
		"ragged":    {Title: "x", Width: 100, Height: 80, Series: []drawing.Series{{Values: []drawing.Value{1, 2}}, {Values: []drawing.Value{1}}}},
		"negative":  {Title: "x", Width: 100, Height: 80, Series: []drawing.Series{{Values: []drawing.Value{-1}}}},
		"no number": {Title: "x", Width: 100, Height: 80, Series: []drawing.Series{{Values: []drawing.Value{drawing.Value(math.NaN())}}}},
		"too low":   {Title: "x", Width: 100, Height: 20, Series: []drawing.Series{{Values: []drawing.Value{1}}}},
	} {
		if _, err := bad.Draw(); err == nil {
			t.Errorf("%s: drawn", name)
		}
	}
}

// area by the shoelace formula.
func area(p drawing.Polygon) float64 {
	sum := 0.0
	for i, a := range p.Points {
		b := p.Points[(i+1)%len(p.Points)]
		sum += float64(a.X*b.Y - b.X*a.Y)
	}
	return math.Abs(sum) / 2
}

func TestFillBars(t *testing.T) {
	ratio := func(v float64) *unit.Ratio { r := unit.Ratio(v); return &r }
	f := drawing.FillBars{Title: "Floor", Width: 160, LimitLabel: "allowed", OverLabel: "over", Unknown: "not known", Rows: []drawing.FillRow{
		{Label: "a", Part: ratio(0.5), Words: "w"}, {Label: "b", Part: ratio(1.25), Words: "w"}, {Label: "c"},
	}}
	d, err := f.Draw()
	if err != nil {
		t.Fatal(err)
	}
	b := bars(d)
	// A frame and a bar for a; a frame, a bar and its excess for b; an empty frame for c.
	if len(b) != 6 {
		t.Fatalf("%d bars", len(b))
	}
	full := b[0][1] - b[0][0]
	if !near(b[1][1]-b[1][0], full/2) || !near(b[4][1]-b[4][0], full/4) || !near(b[4][0], b[0][1]) {
		t.Errorf("half, and a quarter beyond, are drawn as %v of %v", b, full)
	}
	f.Rows[0].Part = ratio(math.NaN())
	if _, err := f.Draw(); err == nil {
		t.Error("a bar of no number was drawn")
	}
}

// Every sample drawing stays on its sheet.
func TestDrawingsStayOnTheSheet(t *testing.T) {
	for _, make := range []func() (drawing.Drawing, error){sample.Plan, sample.Bars, sample.Steps, sample.Full, sample.Circuits} {
		d, err := make()
		if err != nil {
			t.Fatal(err)
		}
		var walk func(items []drawing.Item)
		check := func(points ...drawing.Point) {
			for _, p := range points {
				if p.X < -0.01 || p.X > d.Width+0.01 || p.Y < -0.01 || p.Y > d.Height+0.01 {
					t.Errorf("%s: %v lies outside %v × %v", d.Title, p, d.Width, d.Height)
				}
			}
		}
		walk = func(items []drawing.Item) {
			for _, item := range items {
				switch it := item.(type) {
				case drawing.Line:
					check(it.From, it.To)
				case drawing.Polyline:
					check(it.Points...)
				case drawing.Polygon:
					check(it.Points...)
				case drawing.Circle:
					check(it.Points()...)
				case drawing.Arc:
					check(it.Points()...)
				case drawing.Text:
					check(it.At)
				case drawing.Group:
					walk(it.Items)
				}
			}
		}
		walk(d.Items)
	}
}
