package floor

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"tunwright/catalog/unit"
)

// PointLoad is a load on a member at a distance from its first end.
type PointLoad struct {
	P  unit.Force
	At unit.Length
}

// Span is what a simply supported member carries.
type Span struct {
	Left, Right unit.Force  // end reactions
	Moment      unit.Moment // the largest
	At          unit.Length // where, from the first end
}

// Shear is the larger end reaction.
func (s Span) Shear() unit.Force { return max(s.Left, s.Right) }

// Beam gives end reactions and the largest moment of a simply supported member:
//
//	R_A = Σ P(L − a)/L + wL/2,  M(x) = R_A·x − wx²/2 − Σ_{a<x} P(x − a)
//
// The moment is largest where the shear changes sign: under a load or between loads.
// Loads act downwards at 0 ≤ a ≤ L. Continuity and fixed ends are left out; two
// equal spans under uniform load give the inner line 1.25 times its share.
//
// Source: statics.
func Beam(length unit.Length, loads []PointLoad, uniform unit.LineLoad) (Span, error) {
	if err := unit.Within("span", length, unit.Metres(0.05), unit.Metres(60)); err != nil {
		return Span{}, err
	}
	sorted := slices.Clone(loads)
	for _, p := range loads {
		if err := unit.Within("position of a load", p.At, 0, length); err != nil {
			return Span{}, err
		}
		if err := unit.NotNegative("load", p.P); err != nil {
			return Span{}, err
		}
	}
	if err := unit.NotNegative("uniform load", uniform); err != nil {
		return Span{}, err
	}
	slices.SortFunc(sorted, func(a, b PointLoad) int { return cmp.Compare(a.At, b.At) })
	return beam(float64(length), sorted, float64(uniform)), nil
}

// beam is Beam for loads in order of position.
func beam(l float64, loads []PointLoad, w float64) Span {
	sum, left := 0.0, w*l/2
	for i := range loads {
		p := float64(loads[i].P)
		sum += p
		left += p * (l - float64(loads[i].At)) / l
	}
	shear, m, x := left, 0.0, 0.0
	best, at := 0.0, 0.0
	for i := 0; i <= len(loads); i++ {
		next, p := l, 0.0
		if i < len(loads) {
			next, p = float64(loads[i].At), float64(loads[i].P)
		}
		dx := next - x
		if w > 0 && shear > 0 && shear < w*dx { // the shear passes zero between loads
			if z := shear / w; m+shear*z/2 > best {
				best, at = m+shear*z/2, x+z
			}
		}
		m += shear*dx - w*dx*dx/2
		shear -= w * dx
		x = next
		if m > best+1e-9 {
			best, at = m, x
		}
		shear -= p
	}
	return Span{Left: unit.Force(left), Right: unit.Force(sum + w*l - left), Moment: unit.Moment(best), At: unit.Length(at)}
}

// stations is the number of equal parts a member is drawn in.
const stations = 10

// curve gives moment and shear at each station; loads in order of position.
func curve(l, left float64, loads []PointLoad, w float64) (m, v [stations + 1]float64) {
	k, sumP, sumPA := 0, 0.0, 0.0
	for i := range m {
		x := l * float64(i) / stations
		for k < len(loads) && float64(loads[k].At) < x {
			sumP += float64(loads[k].P)
			sumPA += float64(loads[k].P) * float64(loads[k].At)
			k++
		}
		m[i] = left*x - w*x*x/2 - sumP*x + sumPA
		v[i] = math.Abs(left - w*x - sumP)
	}
	return m, v
}

// EquivalentUniform gives the area loads with the same largest moment and the same
// largest end reaction as the loads on a member:
//
//	q_M = 8·M / (L²·s),  q_V = 2·V / (L·s)
//
// L is the span, s the tributary width.
//
// Source: statics.
func EquivalentUniform(m unit.Moment, v unit.Force, length, width unit.Length) (byMoment, byShear unit.AreaLoad, err error) {
	if err := unit.Positive("span", length); err != nil {
		return 0, 0, err
	}
	if err := unit.Positive("tributary width", width); err != nil {
		return 0, 0, err
	}
	l, s := float64(length), float64(width)
	return unit.AreaLoad(8 * float64(m) / (l * l * s)), unit.AreaLoad(2 * float64(v) / (l * s)), nil
}

// Lever gives the shares of a point load that two parallel supports take, a distance
// x from the first of them in a strip of width s, by the lever rule. The strip is
// simply supported; a continuous slab gives an inner line up to a quarter more.
//
// Source: statics.
func Lever(x, s unit.Length) (first, second unit.Ratio, err error) {
	if err := unit.Positive("distance of the supports", s); err != nil {
		return 0, 0, err
	}
	if err := unit.Within("distance from the first support", x, 0, s); err != nil {
		return 0, 0, err
	}
	f := float64(x) / float64(s)
	return unit.Fraction(1 - f), unit.Fraction(f), nil
}

// Deflection of a simply supported member by a central load and a uniform one:
//
//	δ = P·L³/(48·EI) + 5·w·L⁴/(384·EI)
//
// Source: statics.
func Deflection(length unit.Length, p unit.Force, w unit.LineLoad, e unit.Stress, i unit.SecondMoment) (unit.Length, error) {
	if err := unit.Positive("span", length); err != nil {
		return 0, err
	}
	if e <= 0 || i <= 0 {
		return 0, fmt.Errorf("modulus %s and second moment %s must be greater than 0", e, i)
	}
	l, ei := float64(length), float64(e)*float64(i)
	return unit.Length(float64(p)*l*l*l/(48*ei) + 5*float64(w)*l*l*l*l/(384*ei)), nil
}
