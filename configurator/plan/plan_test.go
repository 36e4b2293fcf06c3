package plan

import (
	"fmt"
	"math"
	"reflect"
	"testing"

	"tunwright/catalog/unit"

	"pgregory.net/rapid"
)

func nearly(t *testing.T, what, source string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s: %.6g, want %.6g (%s)", what, got, want, source)
	}
}

func TestGeometryAgainstTextbooks(t *testing.T) {
	l := Polygon{P(0, 0), P(4, 0), P(4, 2), P(2, 2), P(2, 4), P(0, 4)}
	nearly(t, "area of an L", "three squares of 2 × 2", l.Area().M2(), 12, 1e-12)
	c := l.Centroid()
	nearly(t, "centroid of an L", "statics: (1·3 + 3)/... = 5/3", c.X.M(), 5.0/3, 1e-12)
	nearly(t, "centroid of an L", "symmetry", c.Y.M(), 5.0/3, 1e-12)
	tri := Polygon{P(0, 0), P(3, 0), P(0, 4)}
	nearly(t, "3-4-5 triangle", "½·3·4", tri.Area().M2(), 6, 1e-12)
	nearly(t, "its hypotenuse from the right angle", "3·4/5", tri.Edge(P(0, 0).Add(P(1e-9, 1e-9))).M(), 0, 1e-6)
	nearly(t, "incentre to a side", "inradius (3+4−5)/2", tri.Edge(P(1, 1)).M(), 1, 1e-12)
	if !l.Contains(P(1, 3)) || l.Contains(P(3, 3)) {
		t.Error("inside and outside of an L are mixed up")
	}
	nearly(t, "two circles", "distance less radii", gap(circle(P(0, 0), 1), circle(P(3, 4), 2)), 2, 1e-12)
	nearly(t, "circle at a box's corner", "3-4-5", gap(boxShape(newBox(P(0, 0), 0, 2, 2)), circle(P(4, 5), 1)), 4, 1e-12)
	nearly(t, "square on its tip beside a square", "half diagonal", gapBox(newBox(P(0, 0), 0, 2, 2), newBox(P(4, 0), unit.Degrees(45), 2, 2)), 3-math.Sqrt2, 1e-9)
	nearly(t, "squares overlapping by half", "separating axis", gapBox(newBox(P(0, 0), 0, 2, 2), newBox(P(1, 0), 0, 2, 2)), -1, 1e-12)
}

func TestGapsAreTheSameFromBothSides(t *testing.T) {
	draw := func(t *rapid.T) shape {
		c := P(rapid.Float64Range(-3, 3).Draw(t, "x"), rapid.Float64Range(-3, 3).Draw(t, "y"))
		a := rapid.Float64Range(0.1, 3).Draw(t, "a")
		if rapid.Bool().Draw(t, "round") {
			return circle(c, a/2)
		}
		return boxShape(newBox(c, unit.Degrees(rapid.Float64Range(0, 360).Draw(t, "turn")), a, rapid.Float64Range(0.1, 3).Draw(t, "b")))
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := draw(t), draw(t)
		g, h := gap(a, b), gap(b, a)
		if math.Abs(g-h) > 1e-9 {
			t.Fatalf("%g from one side, %g from the other", g, h)
		}
		if g > 0 && !near(a, b, g+1e-9) {
			t.Fatalf("the quick look leaves out a gap of %g", g)
		}
		shift := P(rapid.Float64Range(-5, 5).Draw(t, "dx"), rapid.Float64Range(-5, 5).Draw(t, "dy"))
		a.c, b.c = a.c.Add(shift), b.c.Add(shift)
		if math.Abs(gap(a, b)-g) > 1e-9 {
			t.Fatalf("moved together, the gap %g became %g", g, gap(a, b))
		}
	})
}

func TestConflictsAreNamedWithTheirMillimetres(t *testing.T) {
	r, items := hall(0)
	r.Keep = []Zone{{Name: "way", From: P(12, 5), To: P(11, 4)}}
	put := func(i int, x, y, deg float64) { items[i].Place = &Place{At: P(x, y), Turn: unit.Degrees(deg)} }
	put(0, 6, 7.9, 0)
	put(1, 8, 7.9, 0)
	put(2, 10, 7.9, 0)
	put(3, 9.5, 1.2, 180)
	if c := Conflicts(r, items); len(c) > 0 {
		t.Fatalf("a clear room has conflicts: %+v", c)
	}
	for _, c := range []struct {
		kind       Kind
		need, have float64
		x, y, turn float64
	}{
		{KindOverlap, 0, -.04, 7.48, 7.9, 0},
		{KindService, 0, -.1, 7.72, 7.9, 0},
		{KindOutline, .3, .1, 8, 8.165, 0},
		{KindColumn, .3, .1, 7, 5.485, 0},
		{KindFront, 1, .55, 2, 1.285, 0},
		{KindSwing, 0, -1.62, 1.2, 3.9, 90},
		{KindBoard, 1, .085, 2, 6.885, 0},
		{KindDoorway, 0, -.8, 12.5, 1.0, 180},
		{KindKeep, 0, -.1, 12.635, 4.5, 0},
	} {
		moved := append([]Item(nil), items...)
		at := Place{At: P(c.x, c.y), Turn: unit.Degrees(c.turn)}
		moved[1].Place = &at
		found := false
		for _, got := range Conflicts(r, moved) {
			if got.Kind == c.kind && (got.A == "KET" || got.B == "KET") {
				found = true
				if math.Abs(got.Need.M()-c.need) > 1e-9 {
					t.Errorf("%s: need %s, want %.3f m", c.kind, got.Need, c.need)
				}
				if c.kind != KindSwing && c.kind != KindDoorway && math.Abs(got.Have.M()-c.have) > .0051 {
					t.Errorf("%s: have %s, want %.3f m", c.kind, got.Have, c.have)
				}
			}
		}
		if !found {
			t.Errorf("%s at %.2f, %.2f is not found: %+v", c.kind, c.x, c.y, Conflicts(r, moved))
		}
		if Fits(r, items, 1, at) {
			t.Errorf("%s at %.2f, %.2f: said to fit", c.kind, c.x, c.y)
		}
	}
}

func TestServiceHeightCounts(t *testing.T) {
	r, items := hall(0)
	at := Place{At: P(8, 7.9)}
	items[1].Place = &at
	r.Low = []LowSpot{{Name: "duct", Area: Polygon{P(7, 7), P(9, 7), P(9, 9), P(7, 9)}, Clear: unit.Metres(2.5)}}
	c := Conflicts(r, items[1:2]) // 2.35 m and 0.3 m over it
	if len(c) != 1 || c[0].Kind != KindAbove || c[0].B != "duct" || Fits(r, items[1:2], 0, at) {
		t.Errorf("%+v", c)
	}
	r.Low[0].Clear = unit.Metres(2.3)
	if c := Conflicts(r, items[1:2]); len(c) != 1 || c[0].Kind != KindCeiling {
		t.Errorf("%+v", c)
	}
	r.Low[0].Clear = unit.Metres(2.65)
	if c := Conflicts(r, items[1:2]); len(c) != 0 || !Fits(r, items[1:2], 0, at) {
		t.Errorf("%+v", c)
	}
}

func TestFitsAgreesWithConflicts(t *testing.T) {
	r, items := hall(3)
	items = FirstLayout(r, items, nil)
	r.Keep = []Zone{{Name: "way", From: P(11, 4), To: P(14, 5)}}
	r.Low = []LowSpot{{Name: "duct", Area: Polygon{P(5, 0), P(9, 0), P(9, 9), P(5, 9)}, Clear: unit.Metres(2.6)}}
	for i := range items {
		if have, _ := r.ClearAt(&items[i], *items[i].Place); items[i].Height+items[i].Clearance.Above > *have {
			items[i].Height = unit.Metres(2.2)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		i := rapid.IntRange(0, len(items)-1).Draw(t, "piece")
		to := Place{At: P(rapid.Float64Range(0, 14).Draw(t, "x"), rapid.Float64Range(0, 9).Draw(t, "y")), Turn: unit.Degrees(90 * float64(rapid.IntRange(0, 3).Draw(t, "turn")))}
		moved := append([]Item(nil), items...)
		moved[i].Place = &to
		if fits, clash := Fits(r, items, i, to), Conflicts(r, moved); fits != (len(clash) == 0) {
			t.Fatalf("fits %v, conflicts %+v", fits, clash)
		}
	})
}

func TestEscapeSeesAWall(t *testing.T) {
	r, items := hall(2)
	items = FirstLayout(r, items, nil)
	if e := EscapeRoutes(r, items, unit.Millimetres(750)); e.Exits != 2 || len(e.CutOff)+len(e.Blocked) > 0 {
		t.Fatalf("an open room: %+v", e)
	}
	r.Columns = append(r.Columns, Column{Name: "W1", At: P(0.9, 3.6), A: unit.Metres(.1), B: unit.Metres(3)}, Column{Name: "W2", At: P(12.5, 0.6), A: unit.Metres(2), B: unit.Metres(.1)})
	if e := EscapeRoutes(r, items, unit.Millimetres(1050)); len(e.Blocked) == 0 && len(e.CutOff) == 0 {
		t.Errorf("both exits stand behind walls: %+v", e)
	}
	r, items = hall(2)
	items = FirstLayout(r, items, nil)
	for k := range 8 { // posts of 0.9 m every 1.2 m leave 0.3 m
		r.Columns = append(r.Columns, Column{Name: "P", At: P(11.3, 0.6+1.2*float64(k)), A: unit.Metres(.9), Round: true})
	}
	r.Doors = r.Doors[1:]
	if e := EscapeRoutes(r, items, unit.Millimetres(750)); len(e.CutOff) == 0 {
		t.Errorf("a row of posts stands before the only exit: %+v", e)
	}
}

func TestFigureShowsEverything(t *testing.T) {
	r, items := hall(4)
	items = FirstLayout(r, items, nil)
	marks := Marks{Members: []MemberMark{{Name: "B1", From: P(3, 0), To: P(3, 8), Given: true, Use: 1.03, Stations: []unit.Ratio{.4, .7, 1.03}}}, Bays: []BayMark{{Name: "1", Outline: r.Outline, Given: true, Use: .6}}}
	f := Draw(r, items, marks)
	count := map[Class]int{}
	for _, s := range f.Shapes {
		count[s.Class]++
		for _, p := range s.Points {
			if p.X < f.Lo.X || p.X > f.Hi.X || p.Y < f.Lo.Y || p.Y > f.Hi.Y {
				t.Errorf("%s %q lies outside the sheet at %v", s.Class, s.Text, p)
			}
		}
	}
	for c, want := range map[Class]int{ClassWall: 1, ClassColumn: 1, ClassGully: 2, ClassBoard: 1, ClassBody: len(items), ClassService: len(items), ClassLabel: len(items), ClassSwing: 1, ClassMember: 2, ClassBay: 1, ClassFront: len(items)} {
		if count[c] != want {
			t.Errorf("%d shapes of %s, want %d", count[c], c, want)
		}
	}
	if !reflect.DeepEqual(f, Draw(r, items, marks)) {
		t.Error("the same room gave another figure")
	}
	for i, use := range []unit.Ratio{.5, .75, .9, 1, 1.01} {
		if got := LevelOf(use, true); got != Level(i+1) {
			t.Errorf("%s is level %d, want %d", use, got, i+1)
		}
	}
	if LevelOf(.2, false) != LevelUnknown || len(Legend()) != int(LevelOver)+1 {
		t.Error("nothing given must not look like little asked")
	}
}

// A row of pieces narrower than their tags, beside a door and a board: no writing covers
// a piece it does not belong to, other writing or a wall.
func TestWritingIsReadable(t *testing.T) {
	r := &Room{
		Outline: Polygon{P(0, 0), P(18, 0), P(18, 9), P(0, 9)},
		Doors:   []Door{{Name: "stair door", Hinge: P(18, 7), Latch: P(18, 8), Inwards: true, Exit: true}},
		Boards:  []Board{{Name: "switchboard", At: P(18, 0.8), Turn: unit.Degrees(-90), Width: unit.Metres(0.8), Depth: unit.Metres(0.25)}},
		Gullies: []Gully{{Name: "gully 1", At: P(6, 4)}},
	}
	var items []Item
	for i := range 5 {
		items = append(items, Item{Tag: fmt.Sprintf("CIP1 tank %d", i), Round: true, Length: unit.Metres(0.6), Place: &Place{At: P(12+0.8*float64(i), 8.6)}})
	}
	items = append(items, Item{Tag: "PU1", Length: unit.Metres(0.3), Width: unit.Metres(0.3), Place: &Place{At: P(17.8, 6)}},
		Item{Tag: "BH1 mash lauter tun", Round: true, Length: unit.Metres(1.5), Place: &Place{At: P(2, 7)}})
	f := Draw(r, items, Marks{Members: []MemberMark{{Name: "beam 0", From: P(0, 0), To: P(0, 9)}, {Name: "beam 6", From: P(18, 0), To: P(18, 9), Given: true, Use: .2}}})
	high := 19.8 / lettersAcross
	box := func(s Shape) shape {
		size := high
		if s.Class != ClassLabel {
			size *= smallType
		}
		wide := 0.0 // of a common sans serif
		for _, r := range s.Text {
			if r >= 'A' && r <= 'Z' {
				wide += 0.16
			}
			wide += 0.55
		}
		return boxShape(newBox(s.Points[0], 0, size*wide, size*0.95))
	}
	for _, s := range f.Shapes {
		for _, l := range f.Shapes {
			if s.Form != FormText || l.Form != FormLine || l.Class != ClassDimension {
				continue
			}
			lo, hi := Polygon(l.Points).Bounds()
			if line := boxShape(newBox(between(lo, hi, 0.5), 0, (hi.X - lo.X).M(), (hi.Y - lo.Y).M())); gap(box(s), line) < 0 {
				t.Errorf("%q crosses a dimension line", s.Text)
			}
		}
	}
	seen := map[string]shape{}
	for _, s := range f.Shapes {
		if s.Form != FormText || s.Class == ClassDimension || s.Class == ClassScaleBar {
			continue
		}
		text := box(s)
		for other, box := range seen {
			if gap(text, box) < 0 {
				t.Errorf("%q covers %q", s.Text, other)
			}
		}
		seen[s.Tag+s.Text] = text
		for i := range items {
			if d := gap(text, items[i].body(*items[i].Place)); d < 0 && (items[i].Tag != s.Tag || text.ha > items[i].Length.M()/2) {
				t.Errorf("%q of %q covers %s by %.2f m", s.Text, s.Tag, items[i].Tag, -d)
			}
		}
		for i, a := range r.Outline {
			if d := gap(text, boxShape(newBox(between(a, r.Outline[(i+1)%4], 0.5), unit.Degrees(90*float64(i)), a.Distance(r.Outline[(i+1)%4]).M(), 0))); d < 0 {
				t.Errorf("%q crosses a wall", s.Text)
			}
		}
	}
	if len(seen) != len(items)+1+5 { // the mash tun has two lines
		t.Errorf("%d words are written: %v", len(seen), seen)
	}
}
