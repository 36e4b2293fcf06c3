package access

import (
	"math"
	"testing"

	"tunwright/catalog/unit"
)

// By hand: each passes at one tilt only, which lies between upright and lying.
func TestTheTiltThatPassesIsFound(t *testing.T) {
	for name, c := range map[string]struct {
		b body
		s measures
	}{
		// hung on a hook it stands on no skates: at 46.5° 1.61 m high of 1.70 and 1.57 m long of 1.575
		"through a hatch under a low hook": {body{h: 0.5, d: 1.75, w: 1.75, round: true}, measures{kind: Hatch, w: 1.875, depth: 2.5, h: 1.75, skid: 0.1}},
		// too long to lie in the corner, too high on its edge, which no least tilt cures
		"a flat box on its edge round a corner": {body{h: 0.3, d: 2.5, w: 0.625}, measures{kind: Corner, w: 1, out: 1.5, h: 2.1875, skid: 0.1}},
		// the car is high enough to stand in, the door is not
		"through the low door of a high lift": {body{h: 3.9375, d: 0.5, w: 0.5, round: true}, measures{kind: Lift, w: 2, h: 4.5, depth: 3.9990234375, dw: 2, dh: 4, skid: 0.1}},
	} {
		f := c.s.try(c.b, looks)
		if !f.ok {
			t.Errorf("%s: %.0f mm short in %s", name, 1000*miss(f), f.worst.name)
			continue
		}
		if f = c.s.at(c.b, f.tilt, looks); !f.ok {
			t.Errorf("%s: said to pass at %.2f rad, where it does not", name, f.tilt)
		}
	}
}

// Equal pieces go in alike and are worked out once; one that is heavier, or stands in
// the yard, is not equal.
func TestEqualPiecesAreNotMixedUp(t *testing.T) {
	in := openWay()
	one := in.Items[0]
	heavy, yard := one, one
	one.Tag, heavy.Tag, yard.Tag = "again", "heavy", "yard"
	heavy.Pieces = append([]Piece(nil), one.Pieces...)
	heavy.Pieces[0].Mass *= 20
	yard.Outside = true
	in.Items = append(in.Items, one, heavy, yard)
	r, err := Size(in)
	if err != nil {
		t.Fatal(err)
	}
	p := r.Routes[0].Pieces
	first, again, most, out := p[0], p[2], p[3], p[4]
	if again.Tag != "again" || again.Verdict != first.Verdict || len(again.Steps) != len(first.Steps) || again.Steps[1].Load != first.Steps[1].Load {
		t.Errorf("an equal piece goes another way: %+v", again)
	}
	if !most.Steps[1].Overload || most.Steps[1].Load <= 10*first.Steps[1].Load {
		t.Errorf("twenty times the mass: %+v", most.Steps[1])
	}
	if out.Verdict != Outdoors {
		t.Errorf("in the yard it is %s", out.Verdict)
	}
	if n := r.Routes[0].Passing + r.Routes[0].Tight + r.Routes[0].Fail + r.Routes[0].Unsure; n != 4 {
		t.Errorf("%d pieces are counted, 4 come in", n)
	}
}

func TestSidewaysBothWaysRound(t *testing.T) {
	m := unit.Metres
	for _, c := range []struct{ a, b float64 }{{2, 1}, {1, 2}} {
		if ok, side := CornerPasses(m(c.a), m(c.b), m(1.95), m(0.98)); !ok || !side {
			t.Errorf("1.95 × 0.98 m from %g into %g m: passes %v, sideways %v", c.a, c.b, ok, side)
		}
	}
}

// source: statics; a rigid load on four legs hangs on two: 1000 kg at 45° are
// 1000·9.80665/(2·cos 45°) = 6.934 kN in each, as with two legs
func TestFourLegsHangOnTwo(t *testing.T) {
	for _, legs := range []int{2, 4} {
		in := openWay()
		in.Items = in.Items[:1]
		in.Items[0].Pieces[0].Mass, in.Items[0].Pieces[0].Estimated = unit.Kilograms(1000), false
		in.Lifting.Legs, in.Lifting.Beta = legs, unit.Degrees(45)
		r, err := Size(in)
		if err != nil {
			t.Fatal(err)
		}
		if got := r.Lifts[0].Tension.KN(); math.Abs(got-6.934) > 0.0006 {
			t.Errorf("%d legs: %.4f kN, by hand 6.934", legs, got)
		}
	}
}
