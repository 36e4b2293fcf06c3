package floor

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
	"tunwright/configurator/plan"
)

// g is the standard acceleration of gravity, CGPM 1901; offices that use 9.81 get
// 0.03 % more.
const g = 9.80665

// Weight of a mass.
func Weight(m unit.Mass) unit.Force { return unit.Newtons(m.Kg() * g) }

// points gives the feet in the piece's own axes; a rectangle needs four.
func (f *Feet) points() []plan.Point {
	if f.Circle == 0 {
		a, b := f.A/2, f.B/2
		out := []plan.Point{{X: -a, Y: -b}, {X: a, Y: -b}, {X: a, Y: b}, {X: -a, Y: b}}
		for i := 4; i+1 < f.Count; i += 2 { // further pairs along the length
			x := -a + f.A*unit.Length(float64(i-2)/float64(f.Count-2)*2)
			out = append(out, plan.Point{X: x, Y: -b}, plan.Point{X: x, Y: b})
		}
		return out
	}
	turn := f.Turn.Rad()
	if turn == 0 && f.Count == 4 {
		turn = math.Pi / 4
	}
	out := make([]plan.Point, f.Count)
	for i := range out {
		s, c := math.Sincos(turn + 2*math.Pi*float64(i)/float64(f.Count))
		out[i] = plan.P(c*f.Circle.M()/2, s*f.Circle.M()/2)
	}
	return out
}

func (f *Feet) check(tag string) error {
	switch {
	case f.Count < 3:
		return fmt.Errorf("item %s stands on %d feet: it needs at least 3", tag, f.Count)
	case f.Circle <= 0 && (f.A <= 0 || f.B <= 0):
		return fmt.Errorf("item %s: its feet need a bolt circle or a spacing a × b", tag)
	case f.Circle <= 0 && (f.Count < 4 || f.Count%2 != 0):
		return fmt.Errorf("item %s: %d feet on a rectangle are not possible: use an even number from 4", tag, f.Count)
	}
	return nil
}

// Reactions gives the load of each foot of a rigid piece on a flat, rigid floor:
//
//	R_i = W/n + M·(u·p_i) / Σ(u·p)²
//
// w is the weight, feet their places from the middle, moment and azimuth the
// overturning moment and the direction it leans to. On n feet equally round a circle
// of radius r this is W/n + (2M/(n·r))·cos(θ_i − θ_M). A foot that comes out below
// zero lifts: the piece tips, and the distribution no longer holds (error).
//
// Source: statics; Moss, Pressure Vessel Design Manual, leg supports.
func Reactions(w unit.Force, feet []plan.Point, moment unit.Moment, azimuth unit.Angle) ([]unit.Force, error) {
	if len(feet) < 3 {
		return nil, fmt.Errorf("%d feet: at least 3 are needed", len(feet))
	}
	s, c := math.Sincos(azimuth.Rad())
	sum := 0.0
	for _, p := range feet {
		a := c*p.X.M() + s*p.Y.M()
		sum += a * a
	}
	if sum == 0 {
		return nil, fmt.Errorf("the feet stand on one line across the moment: it cannot be carried")
	}
	out := make([]unit.Force, len(feet))
	for i, p := range feet {
		r := float64(w)/float64(len(feet)) + float64(moment)*(c*p.X.M()+s*p.Y.M())/sum
		if r < -1e-6 {
			return nil, fmt.Errorf("foot %d would lift with %s: the piece tips and must be anchored", i+1, unit.Newtons(-r))
		}
		out[i] = unit.Newtons(r)
	}
	return out, nil
}

// FootLoads are the loads of one foot of a piece.
type FootLoads struct {
	Empty, Operating, Test unit.Force
	// Upper is the larger of work and brim-full with the empty mass at its upper end.
	Upper unit.Force
	// Leaning is the largest working load with the piece out of level.
	Leaning unit.Force
	// Bound is what a foot may get until shimmed and grouted: half the weight where
	// four or more feet stand on an uneven floor, the leaning load on three.
	Bound unit.Force
	// Pad is the bearing pressure under the largest nominal foot.
	Pad unit.Stress
}

// arm is the smallest distance from the middle to a line between two feet: the lever
// against tipping.
func arm(feet []plan.Point) float64 {
	best := math.Inf(1)
	for i := range feet {
		a, b := feet[i], feet[(i+1)%len(feet)]
		l := float64(a.Distance(b))
		best = min(best, math.Abs(a.X.M()*b.Y.M()-a.Y.M()*b.X.M())/l)
	}
	return best
}

// lean is the overturning moment of a weight whose centre lies at z on a floor out of
// level by beta, of an eccentricity e and of a horizontal force: W·z·tanβ + W·e + H·z_H.
func lean(w, z, beta, e, h, zh float64) float64 { return w*z*math.Tan(beta) + w*e + h*zh }

func (it *Item) footLoads(row *ItemLoad, beta unit.Angle) FootLoads {
	n := float64(it.Feet.Count)
	f := FootLoads{
		Empty:     Weight(row.Empty) / unit.Force(n),
		Operating: Weight(row.Operating) / unit.Force(n),
		Test:      Weight(row.Test) / unit.Force(n),
		Upper:     Weight(max(row.OperatingUpper, row.TestUpper)) / unit.Force(n),
	}
	w := float64(Weight(row.Operating))
	e := math.Sqrt(it.OffCentre.X.M()*it.OffCentre.X.M() + it.OffCentre.Y.M()*it.OffCentre.Y.M())
	m := lean(w, row.CentreOperating.M(), beta.Rad(), e, float64(it.Horizontal), it.HorizontalAt.M())
	worst := 0.0
	if it.Feet.Circle > 0 {
		worst = 2 * m / (n * it.Feet.Circle.M() / 2)
	} else {
		diag := math.Sqrt(it.Feet.A.M()*it.Feet.A.M() + it.Feet.B.M()*it.Feet.B.M())
		worst = m / (n / 4) * diag / (2 * it.Feet.A.M() * it.Feet.B.M()) // leaning over both axes at once
	}
	f.Leaning = unit.Newtons(w/n + worst)
	f.Bound = f.Leaning
	if it.Feet.Count >= 4 {
		f.Bound = max(f.Leaning, unit.Newtons(w/2))
	}
	if d := it.Feet.Pad.M(); d > 0 {
		f.Pad = unit.StressPa(float64(max(f.Operating, f.Test)) / (math.Pi / 4 * d * d))
	}
	return f
}
