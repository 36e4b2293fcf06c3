package floor

import (
	"fmt"
	"math"
	"reflect"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/plan"

	"pgregory.net/rapid"
)

func drawLoads(t *rapid.T, l float64) ([]PointLoad, float64) {
	n := rapid.IntRange(0, 12).Draw(t, "loads")
	sum := 0.0
	out := make([]PointLoad, n)
	for i := range out {
		kn, at := rapid.Float64Range(0, 50).Draw(t, "kN"), rapid.Float64Range(0, 1).Draw(t, "at")
		out[i] = PointLoad{unit.Kilonewtons(kn), unit.Metres(at * l)}
		sum += kn
	}
	return out, sum
}

func TestReactionsSumToTheLoad(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := rapid.Float64Range(0.5, 20).Draw(t, "span")
		w := rapid.Float64Range(0, 20).Draw(t, "kN/m")
		loads, sum := drawLoads(t, l)
		s, err := Beam(unit.Metres(l), loads, unit.KilonewtonsPerM(w))
		if err != nil {
			t.Fatal(err)
		}
		if got := (s.Left + s.Right).KN(); math.Abs(got-sum-w*l) > 1e-6 {
			t.Fatalf("reactions %g, loads %g", got, sum+w*l)
		}
		if s.Moment < 0 || s.At < 0 || s.At.M() > l+1e-9 {
			t.Fatalf("moment %s at %s", s.Moment, s.At)
		}
		for k := range 41 { // no section carries more than the largest moment
			x := l * float64(k) / 40
			m := s.Left.KN()*x - w*x*x/2
			for _, p := range loads {
				m -= p.P.KN() * max(0, x-p.At.M())
			}
			if m > s.Moment.KNM()+1e-6 {
				t.Fatalf("moment at %g is %g, largest said to be %g", x, m, s.Moment.KNM())
			}
		}
	})
}

func TestFeetCarryTheWeight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 8).Draw(t, "feet")
		d := rapid.Float64Range(0.3, 3).Draw(t, "circle")
		w := rapid.Float64Range(1, 200).Draw(t, "kN")
		m := rapid.Float64Range(0, 1).Draw(t, "share") * w * d / 8
		az := rapid.Float64Range(0, 2*math.Pi).Draw(t, "azimuth")
		feet := (&Feet{Count: n, Circle: unit.Metres(d)}).points()
		r, err := Reactions(unit.Kilonewtons(w), feet, unit.KilonewtonMetres(m), unit.Radians(az))
		if err != nil {
			t.Fatal(err)
		}
		sum, mx := 0.0, 0.0
		s, c := math.Sincos(az)
		for i, f := range r {
			sum += f.KN()
			mx += f.KN() * (c*feet[i].X.M() + s*feet[i].Y.M())
		}
		if math.Abs(sum-w) > 1e-9*w || math.Abs(mx-m) > 1e-9*(w*d) {
			t.Fatalf("sum %g of %g, moment %g of %g", sum, w, mx, m)
		}
	})
}

// turned turns the whole plan about the origin and shifts it.
func turned(in Input, by unit.Angle, shift plan.Point) Input {
	p := func(q plan.Point) plan.Point { return q.Turned(by).Add(shift) }
	for i := range in.Room.Outline {
		in.Room.Outline[i] = p(in.Room.Outline[i])
	}
	for i := range in.Members {
		in.Members[i].From, in.Members[i].To = p(in.Members[i].From), p(in.Members[i].To)
	}
	for i := range in.Items {
		in.Items[i].Place = &plan.Place{At: p(in.Items[i].Place.At), Turn: in.Items[i].Place.Turn + by}
		if f := in.Items[i].Feet; f != nil && f.Circle > 0 { // the feet turn with the piece
			in.Items[i].Feet = &Feet{Count: f.Count, Circle: f.Circle, Pad: f.Pad, Turn: f.Turn}
		}
	}
	return in
}

func TestTurningThePlanChangesNoMemberLoad(t *testing.T) {
	want, err := Size(workedInput())
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		by := unit.Degrees(rapid.Float64Range(-180, 180).Draw(t, "turn"))
		shift := plan.P(rapid.Float64Range(-50, 50).Draw(t, "x"), rapid.Float64Range(-50, 50).Draw(t, "y"))
		got, err := Size(turned(workedInput(), by, shift))
		if err != nil {
			t.Fatal(err)
		}
		for i := range want.Members {
			a, b := &want.Members[i], &got.Members[i]
			for k, pair := range [][2]float64{
				{a.Operating.Moment.KNM(), b.Operating.Moment.KNM()},
				{a.Test.Moment.KNM(), b.Test.Moment.KNM()},
				{a.Overfill.Use.Value(), b.Overfill.Use.Value()},
				{(a.Operating.Left + a.Operating.Right).KN(), (b.Operating.Left + b.Operating.Right).KN()},
				{a.Tributary.M(), b.Tributary.M()},
			} {
				if math.Abs(pair[0]-pair[1]) > 1e-6*(1+math.Abs(pair[0])) {
					t.Fatalf("member %s figure %d: %g became %g", a.Name, k, pair[0], pair[1])
				}
			}
		}
	})
}

func TestMembersCarryAllEquipment(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := workedInput()
		for i := range in.Items {
			in.Items[i].Place = &plan.Place{At: plan.P(rapid.Float64Range(1, 11).Draw(t, "x"), rapid.Float64Range(1, 7).Draw(t, "y")), Turn: unit.Degrees(rapid.Float64Range(0, 360).Draw(t, "turn"))}
			if rapid.Bool().Draw(t, "patch") {
				in.Items[i].Feet = nil
			}
		}
		r, err := Size(in)
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, m := range r.Members {
			sum += m.Operating.Equipment.KN()
		}
		if w := Weight(r.Operating).KN(); math.Abs(sum-w) > 1e-6*w {
			t.Fatalf("members carry %g of %g kN", sum, w)
		}
		bays := 0.0
		for _, b := range r.Bays {
			bays += b.Operating.KNM2() * b.Area.M2()
		}
		if w := Weight(r.Operating).KN(); math.Abs(bays-w) > 1e-6*w {
			t.Fatalf("bays carry %g of %g kN", bays, w)
		}
	})
}

func TestPrimaryBeamsCarryWhatRestsOnThem(t *testing.T) {
	in := workedInput()
	in.Members = append(in.Members,
		Member{Name: "south", From: plan.P(0, 0), To: plan.P(12, 0), Primary: true},
		Member{Name: "north", From: plan.P(0, 8), To: plan.P(12, 8), Primary: true})
	r, err := Size(in)
	if err != nil {
		t.Fatal(err)
	}
	left, right := 0.0, 0.0
	for _, m := range r.Members[:5] {
		left += m.Operating.Left.KN()
		right += m.Operating.Right.KN()
	}
	for i, want := range []float64{left, right} {
		c := r.Members[5+i].Operating
		near(t, r.Members[5+i].Name, (c.Left + c.Right).KN(), want, 1e-6)
	}
}

func TestABiggerVesselNeverWeighsLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := Vessel{
			Diameter: unit.Metres(rapid.Float64Range(0.4, 3).Draw(t, "D")), Cylinder: unit.Metres(rapid.Float64Range(0.3, 4).Draw(t, "L")),
			Bottom: rapid.SampledFrom([]End{Flat, Dished, Korbbogen, Elliptic, ASME, Conical}).Draw(t, "bottom"),
			Top:    rapid.SampledFrom([]End{Open, Flat, Dished, Korbbogen}).Draw(t, "top"), Shell: unit.Millimetres(3),
			Insulation: unit.Millimetres(rapid.Float64Range(0, 100).Draw(t, "insulation")), JacketShare: unit.Fraction(0.5),
		}
		a, err := EstimateVessel(v)
		if err != nil {
			t.Fatal(err)
		}
		w := v
		w.Diameter *= unit.Length(rapid.Float64Range(1, 1.4).Draw(t, "wider"))
		w.Cylinder *= unit.Length(rapid.Float64Range(1, 1.4).Draw(t, "longer"))
		b, err := EstimateVessel(w)
		if err != nil {
			t.Fatal(err)
		}
		if b.Empty < a.Empty-1e-9 || b.Total < a.Total-1e-12 {
			t.Fatalf("%s and %s became %s and %s", a.Empty, a.Total, b.Empty, b.Total)
		}
		share := rapid.Float64Range(0.001, 0.999).Draw(t, "full")
		level, centre, err := LiquidCentre(v, unit.Volume(float64(a.Total)*share))
		if err != nil {
			t.Fatal(err)
		}
		more, higher, err := LiquidCentre(v, unit.Volume(float64(a.Total)*min(1, share*1.02)))
		if err != nil {
			t.Fatal(err)
		}
		if centre >= level || more < level || higher < centre-1e-9 {
			t.Fatalf("level %s centre %s, then %s and %s", level, centre, more, higher)
		}
	})
}

// The centre of gravity by the closed form against slices of the same shape.
func TestLiquidCentreAgainstSlices(t *testing.T) {
	for _, bottom := range []End{Dished, Korbbogen, Elliptic, Conical} {
		v := Vessel{Diameter: unit.Metres(1.2), Cylinder: unit.Metres(1), Bottom: bottom, Top: Flat}
		p, err := v.usual().end(bottom)
		if err != nil {
			t.Fatal(err)
		}
		for _, share := range []float64{.1, .4, .8, 1} {
			z := p.height * share
			sum, mom := 0.0, 0.0
			const n = 4000
			for i := range n {
				lo, hi := z*float64(i)/n, z*float64(i+1)/n
				dv := p.volumeTo(hi, 1.2) - p.volumeTo(lo, 1.2)
				sum += dv
				mom += dv * (lo + hi) / 2
			}
			_, centre, err := LiquidCentre(v, unit.CubicMetres(sum))
			if err != nil {
				t.Fatal(err)
			}
			near(t, fmt.Sprintf("%s at %.0f %%", bottom, share*100), centre.M(), mom/sum, 1e-5)
		}
	}
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
		t.Error("the same floor gave two results")
	}
}

func TestSuggestedMovesPass(t *testing.T) {
	in := workedInput()
	moves, err := Suggest(in, 3)
	if err != nil || len(moves) == 0 {
		t.Fatalf("%v, %v", moves, err)
	}
	for _, m := range moves {
		for i := range in.Items {
			if in.Items[i].Tag == m.Tag {
				to := m.To
				in.Items[i].Place = &to
			}
		}
	}
	r, err := Size(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range r.Members {
		if m.Upper.Use > 1 {
			t.Errorf("member %s still at %.1f %%", m.Name, m.Upper.Use.Pct())
		}
	}
	if len(r.Conflicts) > 0 {
		t.Errorf("conflicts after the moves: %v", r.Conflicts)
	}
}

func TestMoreLiquidNeverAsksLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := workedInput()
		before, err := Size(in)
		if err != nil {
			t.Fatal(err)
		}
		i := rapid.IntRange(0, len(in.Items)-1).Draw(t, "item")
		in.Items[i].Liquid *= unit.Volume(rapid.Float64Range(1, 1.1).Draw(t, "more"))
		in.Allow.Value -= unit.KilonewtonsPerM2(rapid.Float64Range(0, 1).Draw(t, "allowed less"))
		after, err := Size(in)
		if err != nil {
			t.Fatal(err)
		}
		for k := range before.Members {
			if after.Members[k].Operating.Use < before.Members[k].Operating.Use-1e-12 || after.Members[k].Overfill.Use < after.Members[k].Operating.Use-1e-12 {
				t.Fatalf("member %s: %v then %v", before.Members[k].Name, before.Members[k].Operating.Use, after.Members[k].Operating.Use)
			}
		}
	})
}
