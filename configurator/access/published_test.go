package access

import (
	"math"
	"testing"

	"tunwright/catalog/unit"
)

type check struct {
	what, source   string
	got, want, tol float64
}

func compare(t *testing.T, rows []check) {
	t.Helper()
	for _, c := range rows {
		if math.IsNaN(c.got) || math.Abs(c.got-c.want) > c.tol {
			t.Errorf("%s: %.6g, want %.6g ± %.2g (%s)", c.what, c.got, c.want, c.tol, c.source)
		}
	}
}

func TestCornersAndTilts(t *testing.T) {
	const ladder = "Wolfram MathWorld, Moving Ladder Problem"
	l := func(a, b, w float64) float64 { return CornerLength(unit.Metres(a), unit.Metres(b), unit.Metres(w)).M() }
	compare(t, []check{
		{"ladder round two unit corridors: 2√2", ladder, l(1, 1, 0), 2.828, .0005},
		{"ladder, 5 ft and 3 ft corridors, ft", "classroom problem, (5^⅔ + 3^⅔)^1.5", CornerLength(unit.Feet(5), unit.Feet(3), 0).Ft(), 11.19, .006},
		{"box, equal corridors: 2(√2·a − w)", "geometry", l(1.5, 1.5, .8), 2 * (math.Sqrt2*1.5 - .8), 1e-9},
		{"box as wide as the corridor", "geometry: a square of the corridor's width does not turn", l(1, 1, 1), .8284, .0005},
		{"wider than the corridor", "geometry", l(1.2, 1.4, 1.3), 0, 0},
		{"a little unequal is near equal", "continuity", l(1.5, 1.5+1e-7, .8), l(1.5, 1.5, .8), 1e-5},
		{"standing up 3 × 4", "3-4-5 triangle", UpendHeight(unit.Metres(4), unit.Metres(3)).M(), 5, 1e-9},
		{"tilted to the diagonal", "3-4-5 triangle", TiltHeight(unit.Metres(4), unit.Metres(3), unit.Radians(math.Atan2(3, 4))).M(), 5, 1e-9},
		{"upright", "geometry", TiltHeight(unit.Metres(4), unit.Metres(3), 0).M(), 4, 1e-9},
		{"lying", "geometry", TiltHeight(unit.Metres(4), unit.Metres(3), unit.Degrees(90)).M(), 3, 1e-9},
	})
}

// A pole of 3 m enters a car 2.6 m deep and high only tilted: at 45° it takes
// (3 + 0.5)/√2 = 2.475 m both ways.
func TestOnlyTiltedWillDo(t *testing.T) {
	s := measures{kind: Lift, w: 1, depth: 2.6, h: 2.6, dw: 1, dh: 2.6}
	f := s.try(body{h: 3, d: .5, w: .5, round: true}, margins{})
	if !f.ok || f.attitude != Tilted {
		t.Errorf("%+v", f)
	}
	if s.depth = 2.3; s.try(body{h: 3, d: .5, w: .5, round: true}, margins{}).ok {
		t.Error("2.6 m high and 2.3 m deep is too little at every tilt")
	}
}

func TestLifts(t *testing.T) {
	const table = "EN 81-20 Table 6 = EN 81-1 Table 1.1"
	area := func(kg float64) float64 {
		a, err := LiftCarArea(unit.Kilograms(kg))
		if err != nil {
			t.Fatal(err)
		}
		return a.M2()
	}
	compare(t, []check{
		{"100 kg", table, area(100), .37, 1e-9},
		{"630 kg", table, area(630), 1.66, 1e-9},
		{"1000 kg", table, area(1000), 2.40, 1e-9},
		{"1600 kg", table, area(1600), 3.56, 1e-9},
		{"2000 kg", table, area(2000), 4.20, 1e-9},
		{"2500 kg", table, area(2500), 5.00, 1e-9},
		{"1800 kg, between rows", table + ", linear interpolation", area(1800), 3.88, 1e-9},
		{"3000 kg, beyond: +0.16 m² per 100 kg", table + ", note", area(3000), 5.80, 1e-9},
	})
	if _, err := LiftCarArea(unit.Kilograms(50)); err == nil {
		t.Error("a load below the table got an area")
	}
	last := check{}
	for row := range liftArea.Len() {
		kg, _ := liftArea.Number(row, "kg")
		m2, _ := liftArea.Number(row, "m2")
		if kg <= last.got || m2 <= last.want {
			t.Errorf("row %d: %g kg %g m² does not rise", row, kg, m2)
		}
		last.got, last.want = kg, m2
	}
	if liftArea.Len() != 26 {
		t.Errorf("%d rows, want 26", liftArea.Len())
	}
}

func TestLifting(t *testing.T) {
	factor := func(n int, deg float64) float64 {
		f, err := SlingFactor(n, unit.Degrees(deg))
		if err != nil {
			t.Fatal(err)
		}
		return f.Value()
	}
	tension, err := SlingTension(unit.Kilograms(1000), 2, unit.Degrees(45))
	if err != nil {
		t.Fatal(err)
	}
	limit, err := WindLimit(unit.MetresPerSecond(9.8), unit.Kilograms(394), unit.SquareMetres(3.39), unit.Fraction(1.2))
	if err != nil {
		t.Fatal(err)
	}
	heavy, _ := WindLimit(unit.MetresPerSecond(9.8), unit.Tonnes(20), unit.SquareMetres(3.39), unit.Fraction(1.2))
	const slings = "EN 818-4 and EN 13414-1"
	compare(t, []check{
		{"1000 kg on two legs at 45°, kg a leg", "sling maker's teaching example 500 · 1.414", tension.N() / g, 707, .5},
		{"one leg", slings, factor(1, 0), 1.0, 0},
		{"two legs to 45°", slings, factor(2, 45), 1.4, 0},
		{"two legs to 60°", slings, factor(2, 60), 1.0, 0},
		{"three legs to 45°", slings, factor(3, 30), 2.1, 0},
		{"four legs to 45°", slings, factor(4, 45), 2.1, 0},
		{"four legs to 60°", slings, factor(4, 50), 1.5, 0},
		{"wind pressure v²/1.6 at 9.8 m/s, N/m²", "crane load and wind guide", WindForce(unit.MetresPerSecond(9.8), unit.SquareMetres(1), unit.Fraction(1)).N(), 9.8 * 9.8 / 1.6, 1e-9},
		{"empty 10 hL fermenter, force at 9.8 m/s, N", "1.2 m² a tonne, operator manual Grove RT765E-2, worked", WindForce(unit.MetresPerSecond(9.8), unit.SquareMetres(3.39), unit.Fraction(1.2)).N(), 244, .5},
		{"empty 10 hL fermenter, wind limit m/s", "1.2 m² a tonne, operator manual Grove RT765E-2, worked", limit.MS(), 3.3, .06},
		{"a heavy load never above the chart", "1.2 m² a tonne, operator manual Grove RT765E-2", heavy.MS(), 9.8, 0},
		{"600 kg on two skates, kN each", "statics", WheelLoad(unit.Kilograms(600), unit.Fraction(1)).KN(), 2.94, .005},
	})
	if _, err := SlingFactor(2, unit.Degrees(65)); err == nil {
		t.Error("legs at 65° got a factor")
	}
	if _, err := SlingFactor(1, unit.Degrees(50)); err == nil {
		t.Error("a single leg at 50° got a factor")
	}
}

func TestFreight(t *testing.T) {
	metres := func(n int, l, w float64) (packed, formula float64) {
		ls, ws := make([]unit.Length, n), make([]unit.Length, n)
		for i := range n {
			ls[i], ws[i] = unit.Metres(l), unit.Metres(w)
		}
		p, f, err := LoadingMetres(ls, ws)
		if err != nil {
			t.Fatal(err)
		}
		return p.M(), f.M()
	}
	const forwarders = "forwarders' loading metre tables"
	_, euro := metres(1, 1.2, .8)
	_, industrial := metres(1, 1.2, 1.0)
	full, _ := metres(33, 1.2, .8)
	fullIndustrial, _ := metres(26, 1.2, 1.0)
	wide, flattering := metres(1, 3.0, 1.5)
	compare(t, []check{
		{"a 1200 × 800 pallet", forwarders, euro, .4, 1e-9},
		{"a 1200 × 1000 pallet", forwarders, industrial, .5, 1e-9},
		{"33 pallets of 1200 × 800 on a trailer", forwarders, full, 13.2, 1e-9},
		{"26 pallets of 1200 × 1000 on a trailer", forwarders, fullIndustrial, 13.0, 1e-9},
		{"a wide piece takes its whole length", "packing", wide, 3.0, 1e-9},
		{"by formula it seems to take less", forwarders, flattering, 1.875, 1e-9},
	})
	if len(deliveryRules) != 11 {
		t.Errorf("%d rules, Incoterms 2020 has 11", len(deliveryRules))
	}
	for _, r := range deliveryRules {
		if seller := r.Unloading == "seller"; seller != (r.Rule == "DPU") {
			t.Errorf("%s unloaded by the seller: %v; only DPU is", r.Rule, seller)
		}
	}
	if containers.Len() != 3 || slings.Len() != 6 {
		t.Errorf("%d containers, %d slings", containers.Len(), slings.Len())
	}
}

// chargeable freight, worked by hand: 2 m³ of 100 kg in one piece 2 × 1 × 1 m.
func TestChargeableWeight(t *testing.T) {
	in := Input{Items: []Item{{Tag: "A", Pieces: []Piece{{Length: unit.Metres(2), Width: unit.Metres(1), Height: unit.Metres(1), Mass: unit.Kilograms(100)}}}}}
	r, err := Size(in)
	if err != nil {
		t.Fatal(err)
	}
	f := r.Freight
	compare(t, []check{
		{"volume m³", "own arithmetic", f.Volume.M3(), 2, 1e-9},
		{"loading metres, two pieces could stand across", "packing", f.Metres.M(), 1, 1e-9},
		{"chargeable: 1 m · 1750 kg/m over 2 m³ · 333 kg/m³", "forwarders' factors 333 and 1750", f.Chargeable.Kg(), 1750, 1e-9},
	})
	if f.ChargedBy != "loading metres" {
		t.Errorf("charged by %s", f.ChargedBy)
	}
}

// A second way to the corner: the box is led through all places and angles on a
// raster. It finds the length within a few per cent, never more than the formula.
func TestCornerAgainstASearch(t *testing.T) {
	for _, c := range []struct{ a, b, w float64 }{{1.6, 1.4, 1.0}, {1.2, 1.8, .6}} {
		longest := cornerLength(c.a, c.b, c.w)
		if !ledThrough(c.a, c.b, longest*.93, c.w) {
			t.Errorf("%v: a box of 93 %% of %.3f m is not led through", c, longest)
		}
		if ledThrough(c.a, c.b, longest*1.03, c.w) {
			t.Errorf("%v: a box of 103 %% of %.3f m is led through", c, longest)
		}
	}
}

// ledThrough floods place and angle of a box from the first corridor (x 0..a, along y)
// to the second (y 0..b, along x).
func ledThrough(a, b, l, w float64) bool {
	const cell, angles = 0.03, 60
	far := l + max(a, b)
	n := int(far / cell)
	type at struct{ x, y, k int }
	clear := func(p at) bool {
		x, y := float64(p.x)*cell, float64(p.y)*cell
		s, co := math.Sincos(math.Pi * float64(p.k) / angles)
		hx, hy := math.Abs(co)*l/2+math.Abs(s)*w/2, math.Abs(s)*l/2+math.Abs(co)*w/2
		if x-hx < -1e-9 || y-hy < -1e-9 {
			return false
		}
		if x+hx <= a+1e-9 || y+hy <= b+1e-9 { // clear of the inner corner by an axis of the room
			return true
		}
		for _, u := range [][3]float64{{co, s, l / 2}, {-co, -s, l / 2}, {-s, co, w / 2}, {s, -co, w / 2}} {
			if u[0] >= -1e-9 && u[1] >= -1e-9 && u[0]*x+u[1]*y+u[2] <= u[0]*a+u[1]*b+1e-9 {
				return true
			}
		}
		return false
	}
	start := at{int(a / 2 / cell), n - int(l/2/cell) - 1, angles / 2}
	seen := map[at]bool{start: true}
	queue := []at{start}
	for len(queue) > 0 {
		p := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		if float64(p.x)*cell > a+l/2 {
			return true
		}
		for _, q := range []at{{p.x + 1, p.y, p.k}, {p.x - 1, p.y, p.k}, {p.x, p.y + 1, p.k}, {p.x, p.y - 1, p.k}, {p.x, p.y, p.k + 1}, {p.x, p.y, p.k - 1}} {
			q.k = (q.k + angles) % angles
			if q.x < 0 || q.y < 0 || q.x > n || q.y > n || seen[q] || !clear(q) {
				continue
			}
			seen[q] = true
			queue = append(queue, q)
		}
	}
	return false
}
