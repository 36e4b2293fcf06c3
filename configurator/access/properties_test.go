package access

import (
	"math"
	"reflect"
	"testing"

	"tunwright/catalog/unit"

	"pgregory.net/rapid"
)

func drawBody(t *rapid.T) body {
	d := rapid.Float64Range(0.3, 2.5).Draw(t, "d")
	b := body{h: rapid.Float64Range(0.3, 4).Draw(t, "h"), d: d, w: d, round: true}
	if rapid.Bool().Draw(t, "box") {
		b.round = false
		b.w = rapid.Float64Range(0.2, 1).Draw(t, "w") * d
		b.upright = rapid.Bool().Draw(t, "upright")
	}
	return b
}

func drawStep(t *rapid.T) measures {
	x := func(name string) float64 { return rapid.Float64Range(0.5, 4).Draw(t, name) }
	return measures{
		kind: rapid.SampledFrom([]Kind{Opening, Corridor, Corner, Lift, Stairs, Hatch, TakingIn, Upending}).Draw(t, "kind"),
		w:    x("w"), out: x("out"), h: x("h"), depth: x("depth"), landing: x("landing"), dw: x("dw"), dh: x("dh"), skid: 0.1,
	}
}

var looks = margins{w: 0.1, h: 0.05, hatch: 0.3}

func TestWhatPassesPassesEveryLargerOpening(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, s := drawBody(t), drawStep(t)
		for smaller := 0; !s.try(b, looks).ok; smaller++ {
			if smaller > 20 {
				t.Fatalf("not even %+v passes %+v", b, s)
			}
			b.h, b.d, b.w = 0.8*b.h, 0.8*b.d, 0.8*b.w
		}
		big := s
		for _, q := range []*float64{&big.w, &big.out, &big.h, &big.depth, &big.landing, &big.dw, &big.dh} {
			*q += rapid.Float64Range(0, 1).Draw(t, "more")
		}
		if !big.try(b, looks).ok {
			t.Fatalf("%+v passes %+v but not %+v", b, s, big)
		}
		small := b
		small.h *= rapid.Float64Range(0.5, 1).Draw(t, "shorter")
		k := rapid.Float64Range(0.5, 1).Draw(t, "thinner")
		small.d *= k
		small.w *= k
		if !s.try(small, looks).ok {
			t.Fatalf("%+v passes %+v but the smaller %+v does not", b, s, small)
		}
		if !s.try(b, margins{}).ok {
			t.Fatalf("%+v passes %+v with a margin but not without", b, s)
		}
	})
}

// The three tilts tried are as good as a scan of every half degree.
func TestTiltsMissNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, s := drawBody(t), drawStep(t)
		b.upright = false
		s.kind = rapid.SampledFrom([]Kind{Opening, Corridor, Corner, Lift, Stairs, Hatch, TakingIn}).Draw(t, "kind where something is tilted")
		if s.try(b, looks).ok {
			return
		}
		for k := range 181 {
			if f := s.at(b, math.Pi/360*float64(k), looks); f.ok {
				t.Fatalf("%+v passes %+v at %.1f°, which was not tried", b, s, float64(k)/2)
			}
		}
	})
}

func TestCornerIsTheSameBothWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := func(name string) unit.Length { return unit.Metres(rapid.Float64Range(0.3, 4).Draw(t, name)) }
		a, b, l, w := x("a"), x("b"), x("l"), x("w")
		p, _ := CornerPasses(a, b, l, w)
		q, _ := CornerPasses(b, a, w, l)
		if p != q {
			t.Fatalf("%s and %s: %v there, %v back", a, b, p, q)
		}
		if w <= min(a, b) {
			for k := range 90 { // no angle gives less than the minimum found
				s, c := math.Sincos(math.Pi / 180 * (float64(k) + 0.5))
				if at := (a.M()*s + b.M()*c - w.M()) / (s * c); at < CornerLength(a, b, w).M()-1e-6 {
					t.Fatalf("at %d.5° only %.4f m pass, said %s", k, at, CornerLength(a, b, w))
				}
			}
		}
	})
}

func TestPackingLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 15).Draw(t, "pieces")
		ls, ws := make([]unit.Length, n), make([]unit.Length, n)
		total := 0.0
		for i := range n {
			ls[i], ws[i] = unit.Metres(rapid.Float64Range(0.3, 4).Draw(t, "l")), unit.Metres(rapid.Float64Range(0.3, 2.4).Draw(t, "w"))
			total += max(ls[i], ws[i]).M()
		}
		packed, formula, err := LoadingMetres(ls, ws)
		if err != nil {
			t.Fatal(err)
		}
		if packed < formula-1e-9 || packed.M() > total+1e-9 {
			t.Fatalf("packed %s, formula %s, in single file %.2f m", packed, formula, total)
		}
	})
}

func TestSizeIsDeterministic(t *testing.T) {
	a, err := Size(workedInput())
	if err != nil {
		t.Fatal(err)
	}
	b, err := Size(workedInput())
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(a, b) {
		t.Error("the same way in gave two results")
	}
}
