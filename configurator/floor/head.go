package floor

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

// head is a dished end of crown radius R and knuckle radius r, or half an ellipsoid,
// measured upwards from its outermost point.
type head struct {
	D, R, r, c, h float64
	zk            float64 // height at which the crown meets the knuckle
	area          float64
	elliptic      bool
}

func headOf(e End, d float64) head {
	switch e {
	case Korbbogen:
		return torispherical(d, 0.8, 0.154)
	case ASME:
		return torispherical(d, 1, 0.06)
	case Elliptic:
		a, b := d/2, d/4
		ecc := math.Sqrt(1 - b*b/(a*a))
		return head{D: d, h: b, elliptic: true, area: math.Pi*a*a + math.Pi*b*b/ecc*math.Log((1+ecc)/(1-ecc))/2}
	}
	return torispherical(d, 1, 0.1)
}

func torispherical(d, crown, knuckle float64) head {
	k := head{D: d, R: crown * d, r: knuckle * d}
	k.c = d/2 - k.r
	k.h = k.R - math.Sqrt((k.R-k.r)*(k.R-k.r)-k.c*k.c)
	sin := k.c / (k.R - k.r)
	phi := math.Asin(sin)
	k.zk = k.R * (1 - math.Cos(phi))
	k.area = 2*math.Pi*k.R*k.R*(1-math.Cos(phi)) + 2*math.Pi*k.r*(k.c*(math.Pi/2-phi)+k.r*math.Cos(phi))
	return k
}

// volume is what the head holds up to the height z over its outermost point, from
// the crown's cap and the knuckle's ring, each integrated exactly.
func (k head) volume(z float64) float64 {
	if k.elliptic {
		u := k.h - z // distance below the open plane
		a2 := k.D * k.D / 4
		return math.Pi * a2 * (z - (k.h*k.h*k.h-u*u*u)/(3*k.h*k.h))
	}
	cap := min(z, k.zk)
	v := math.Pi * cap * cap * (k.R - cap/3)
	if z <= k.zk {
		return v
	}
	ring := func(u float64) float64 { // u: distance below the open plane
		s := math.Sqrt(max(k.r*k.r-u*u, 0))
		return (k.c*k.c+k.r*k.r)*u - u*u*u/3 + k.c*(u*s+k.r*k.r*math.Asin(min(1, u/k.r)))
	}
	return v + math.Pi*(ring(k.h-k.zk)-ring(k.h-z))
}

// moment is the first moment of that volume about the outermost point.
func (k head) moment(z float64) float64 {
	if k.elliptic {
		a2, b2 := k.D*k.D/4, k.h*k.h
		// ∫ π a²(1−u²/b²)(h−u) du from u0 to h
		f := func(u float64) float64 { return k.h*u - u*u/2 - (k.h*u*u*u/3-u*u*u*u/4)/b2 }
		return math.Pi * a2 * (f(k.h) - f(k.h-z))
	}
	cap := min(z, k.zk)
	m := math.Pi * cap * cap * cap * (2*k.R/3 - cap/4)
	if z <= k.zk {
		return m
	}
	ring := func(u float64) float64 { // ∫ π ρ²(h−u) du
		s2 := max(k.r*k.r-u*u, 0)
		s := math.Sqrt(s2)
		vol := (k.c*k.c+k.r*k.r)*u - u*u*u/3 + k.c*(u*s+k.r*k.r*math.Asin(min(1, u/k.r)))
		mom := (k.c*k.c+k.r*k.r)*u*u/2 - u*u*u*u/4 - 2*k.c*s2*s/3
		return k.h*vol - mom
	}
	return m + math.Pi*(ring(k.h-k.zk)-ring(k.h-z))
}

// areaCentre is the height of the wall's centroid over the outermost point.
func (k head) areaCentre() float64 {
	if k.elliptic {
		return k.h * 0.45 // the wall of a 2:1 ellipsoid, to 2 % by quadrature
	}
	phi := math.Asin(k.c / (k.R - k.r))
	crown := 2 * math.Pi * k.R * k.R * (1 - math.Cos(phi)) * k.zk / 2
	// knuckle: ∫ 2π(c + r sinθ)·(h − r cosθ) r dθ, θ from φ to 90°
	f := func(t float64) float64 {
		s, c := math.Sincos(t)
		return k.h*(k.c*t-k.r*c) - k.r*(k.c*s+k.r*s*s/2)
	}
	return (crown + 2*math.Pi*k.r*(f(math.Pi/2)-f(phi))) / k.area
}

// Head gives the height, volume and inner area of a dished end by its crown radius
// R = crown·D and knuckle radius r = knuckle·D:
//
//	V = π/3·[2hR² − (2r² + c² + 2rR)(R − h) + 3r²c·asin((R − h)/(R − r))],  c = D/2 − r
//	A = 2πR²(1 − cos φ) + 2πr[c(π/2 − φ) + r cos φ],  sin φ = c/(R − r)
//
// d is the inside diameter. Valid for 0.5 < crown ≤ 1.5 and 0.02 ≤ knuckle < 0.5.
// DIN 28011 and 28013 measure crown and knuckle on the outside diameter, which
// differs by the wall: 0.1 % at D 1600, s 4. The straight flange is left out.
//
// Source: vcalc, torispherical head volume and height; area derived by integration.
func Head(d unit.Length, crown, knuckle unit.Ratio) (unit.Length, unit.Volume, unit.Area, error) {
	if err := unit.Within("diameter", d, unit.Metres(0.01), unit.Metres(10)); err != nil {
		return 0, 0, 0, err
	}
	if err := unit.InRange("crown radius over diameter", crown.Value(), 0.501, 1.5); err != nil {
		return 0, 0, 0, err
	}
	if err := unit.InRange("knuckle radius over diameter", knuckle.Value(), 0.02, 0.499); err != nil {
		return 0, 0, 0, err
	}
	k := torispherical(d.M(), crown.Value(), knuckle.Value())
	return unit.Metres(k.h), unit.CubicMetres(k.volume(k.h)), unit.SquareMetres(k.area), nil
}

// LiquidCentre gives the level of a volume in an upright vessel and the height of its
// centre of gravity, both over the floor.
//
//	z_G = Σ V_i·z_i / Σ V_i over bottom, cylinder and top, as far as each is filled
//
// Inside sizes in m, liquid in m³, from 0 to the volume of both ends and the cylinder (a
// ten-thousandth more counts as brim-full); more or less than that, and an end that Head
// or the cone cannot be, is an error. The level is found by halving where it stands in a
// head or cone, and is exact in the cylinder. Fittings inside are left out.
//
// Source: first moment of volume; heads as in Head.
func LiquidCentre(v Vessel, liquid unit.Volume) (level, centre unit.Length, err error) {
	v = v.usual()
	bottom, err := v.end(v.Bottom)
	if err != nil {
		return 0, 0, err
	}
	top, err := v.end(v.Top)
	if err != nil {
		return 0, 0, err
	}
	d, l, want := v.Diameter.M(), v.Cylinder.M(), liquid.M3()
	cyl := math.Pi / 4 * d * d * l
	if want < 0 || want > (bottom.volume+cyl+top.volume)*1.0001 {
		return 0, 0, fmt.Errorf("%s does not fit a vessel of %s", liquid, unit.CubicMetres(bottom.volume+cyl+top.volume))
	}
	if want == 0 {
		return v.Under, v.Under, nil
	}
	if want <= bottom.volume {
		z := bottom.level(want, d)
		return v.Under + unit.Metres(z), v.Under + unit.Metres(bottom.momentTo(z, d)/want), nil
	}
	m := bottom.momentTo(bottom.height, d)
	if want <= bottom.volume+cyl {
		z := (want - bottom.volume) / cyl * l
		m += (want - bottom.volume) * (bottom.height + z/2)
		return v.Under + unit.Metres(bottom.height+z), v.Under + unit.Metres(m/want), nil
	}
	m += cyl * (bottom.height + l/2)
	over := bottom.height + l + top.height // outermost point of the top end
	rest := top.volume - (want - bottom.volume - cyl)
	z := top.level(max(rest, 0), d) // empty part over the level
	m += (top.volume*over - top.momentTo(top.height, d)) - (max(rest, 0)*over - top.momentTo(z, d))
	return v.Under + unit.Metres(over-z), v.Under + unit.Metres(m/want), nil
}

func (p part) volumeTo(z, d float64) float64 {
	switch {
	case p.head != nil:
		return p.head.volume(z)
	case p.cone:
		big := p.small + (d/2-p.small)*z/p.height
		return math.Pi * z / 3 * (p.small*p.small + p.small*big + big*big)
	}
	return 0
}

func (p part) momentTo(z, d float64) float64 {
	switch {
	case p.head != nil:
		return p.head.moment(z)
	case p.cone:
		k := (d/2 - p.small) / p.height
		return math.Pi * (p.small*p.small*z*z/2 + 2*p.small*k*z*z*z/3 + k*k*z*z*z*z/4)
	}
	return 0
}

func (p part) level(want, d float64) float64 {
	lo, hi := 0.0, p.height
	for range 40 {
		mid := (lo + hi) / 2
		if p.volumeTo(mid, d) < want {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}
