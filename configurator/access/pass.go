package access

import (
	"math"

	"tunwright/catalog/unit"
)

// body is a piece in one state: h its height when it stands, d its size in the plane
// it tilts in, w its size across. A cylinder has d = w.
type body struct {
	h, d, w float64
	round   bool
	upright bool // may not be laid down
	lies    bool // comes lying, and is left so where that will do
}

// TiltHeight is the height of a body tilted from upright: h·cosα + d·sinα.
//
// Source: geometry.
func TiltHeight(h, d unit.Length, tilt unit.Angle) unit.Length {
	s, c := math.Sincos(tilt.Rad())
	return unit.Metres(h.M()*c + d.M()*s)
}

// UpendHeight is the height a body needs while it is stood up about its heel:
// √(h² + d²), reached at tan α = d/h, although it both lies and stands lower.
//
// Source: geometry.
func UpendHeight(h, d unit.Length) unit.Length {
	return unit.Metres(math.Hypot(h.M(), d.M()))
}

// CornerLength is the longest rectangle of width w that turns through a right-angled
// corner between corridors of clear widths a and b:
//
//	L = min over 0 < θ < 90° of (a·sinθ + b·cosθ − w) / (sinθ·cosθ)
//
// For w = 0 it is (a^⅔ + b^⅔)^1.5, for a = b it is 2·(√2·a − w). Zero where w is
// larger than a corridor.
//
// Source: geometry; the ladder round a corner is a textbook problem (Wolfram
// MathWorld, Moving Ladder Problem).
func CornerLength(a, b, w unit.Length) unit.Length {
	return unit.Metres(cornerLength(a.M(), b.M(), w.M()))
}

func cornerLength(a, b, w float64) float64 {
	switch {
	case w > min(a, b):
		return 0
	case a == b:
		return 2 * (math.Sqrt2*a - w)
	case w <= 0:
		return math.Pow(math.Cbrt(a*a)+math.Cbrt(b*b), 1.5)
	}
	at := func(th float64) float64 {
		s, c := math.Sincos(th)
		return (a*s + b*c - w) / (s * c)
	}
	lo, hi := 1e-4, math.Pi/2-1e-4 // the function has one minimum: golden section
	const k = 0.6180339887498949
	x1, x2 := hi-k*(hi-lo), lo+k*(hi-lo)
	f1, f2 := at(x1), at(x2)
	for hi-lo > 1e-5 {
		if f1 < f2 {
			hi, x2, f2 = x2, x1, f1
			x1 = hi - k*(hi-lo)
			f1 = at(x1)
		} else {
			lo, x1, f1 = x1, x2, f2
			x2 = lo + k*(hi-lo)
			f2 = at(x2)
		}
	}
	return min(f1, f2)
}

// CornerPasses tells whether a rectangle passes a right-angled corner: shifted
// sideways without turning where it is not longer than the second corridor is wide,
// or turning where it is not longer than CornerLength.
//
// Source: geometry; both ways checked against a search over places and angles.
func CornerPasses(a, b, length, width unit.Length) (passes, sideways bool) {
	l, w := max(length.M(), width.M()), min(length.M(), width.M())
	if (w <= a.M() && l <= b.M()) || (l <= a.M() && w <= b.M()) {
		return true, true
	}
	return w <= min(a.M(), b.M()) && l <= cornerLength(a.M(), b.M(), w), false
}

// gauge is one measure held against one other.
type gauge struct {
	name             string
	need, have, want float64 // want is the margin
}

// fit is a body in one attitude at a step, with its tightest measure.
type fit struct {
	ok       bool
	attitude Attitude
	tilt     float64
	worst    gauge
}

// margins of one look: the wanted ones, or the tight ones.
type margins struct{ w, h, hatch float64 }

func (f *fit) hold(g gauge) {
	if g.have-g.need < g.want-1e-9 {
		f.ok = false
	}
	if f.worst.name == "" || g.have-g.need-g.want < f.worst.have-f.worst.need-f.worst.want {
		f.worst = g
	}
}

// tilts lists the tilts worth trying under a height: upright, lying, and the tilt at
// which it just comes under: of a body that stands too high the least, of one that lies
// too high the greatest. Between these nothing shorter exists, for both height and plan
// length rise and fall once.
func (b body) tilts(under float64) (list [3]float64, n int) {
	n = 1 // upright
	if b.upright {
		return list, n
	}
	list[1], n = math.Pi/2, 2
	if b.lies {
		list[0], list[1] = list[1], list[0]
	}
	r := math.Hypot(b.h, b.d)
	if under < r && under > min(b.h, b.d) {
		steepest, off := math.Atan2(b.d, b.h), math.Acos(under/r)
		a := steepest + off
		if under < b.d {
			a = steepest - off
		}
		if a > 0 && a < math.Pi/2 {
			list[2], n = a, 3
		}
	}
	return list, n
}

func (b body) tilted(a float64) (height, long float64) {
	switch a {
	case 0:
		return b.h, b.d
	case math.Pi / 2:
		return b.d, b.h
	}
	s, c := math.Sincos(a)
	return b.h*c + b.d*s, b.h*s + b.d*c
}

func attitude(a float64) Attitude {
	switch a {
	case 0:
		return Upright
	case math.Pi / 2:
		return Lying
	}
	return Tilted
}

// measures is a step with its known measures in metres.
type measures struct {
	kind                  Kind
	w, out, h, depth      float64
	landing, dw, dh, skid float64
}

// try finds the first attitude in which a body passes, or the one that misses least.
func (s *measures) try(b body, m margins) fit {
	if s.kind == Upending {
		f := fit{ok: true, attitude: Lying, tilt: math.Pi / 2}
		f.hold(gauge{"height to stand up", math.Hypot(b.h, b.d) + s.skid, s.h, m.h})
		return f
	}
	best := fit{worst: gauge{need: math.Inf(1)}}
	under := s.h - s.skid - m.h
	switch s.kind {
	case Hatch: // it hangs on a hook, not on skates
		under = s.h - m.h
	case Lift: // it keeps its tilt through the door
		under = min(s.h, s.dh) - s.skid - m.h
	}
	list, n := b.tilts(under)
	for _, a := range list[:n] {
		f := s.at(b, a, m)
		if f.ok {
			return f
		}
		if miss(f) < miss(best) {
			best = f
		}
	}
	return best
}

func miss(f fit) float64 { return f.worst.need + f.worst.want - f.worst.have }

func (s *measures) at(b body, a float64, m margins) fit {
	height, long := b.tilted(a)
	f := fit{ok: true, tilt: a, attitude: attitude(a)}
	switch s.kind {
	case Opening, TakingIn, Corridor:
		f.hold(gauge{"width", b.w, s.w, m.w})
		f.hold(gauge{"height", height + s.skid, s.h, m.h})
	case Lift:
		f.hold(gauge{"door width", b.w, s.dw, m.w})
		f.hold(gauge{"car width", b.w, s.w, m.w})
		f.hold(gauge{"car depth", long, s.depth, m.w})
		f.hold(gauge{"door height", height + s.skid, s.dh, m.h})
		f.hold(gauge{"car height", height + s.skid, s.h, m.h})
	case Corner:
		f.hold(gauge{"height", height + s.skid, s.h, m.h})
		s.turn(&f, b, a, long, s.w, s.out, m)
	case Stairs:
		f.hold(gauge{"flight width", b.w, s.w, m.w})
		f.hold(gauge{"height over the steps", height + s.skid, s.h, m.h})
		s.turn(&f, b, a, long, s.w, s.landing, m)
	case Hatch:
		l, w := max(long, b.w), min(long, b.w)
		f.hold(gauge{"hatch length", l, max(s.w, s.depth), m.hatch})
		f.hold(gauge{"hatch width", w, min(s.w, s.depth), m.hatch})
		if s.h > 0 {
			f.hold(gauge{"height under the hook", height, s.h, m.h})
		}
	}
	return f
}

// turn holds a plan rectangle against a corner: the better of sideways and turning.
func (s *measures) turn(f *fit, b body, a, long, in, out float64, m margins) {
	if a == 0 && b.round {
		f.hold(gauge{"corner width", b.w, min(in, out), m.w})
		return
	}
	l, w := max(long, b.w), min(long, b.w)
	side := *f
	if in >= out {
		side.hold(gauge{"corner length sideways", l, in, m.w})
		side.hold(gauge{"corner width", w, out, m.w})
	} else {
		side.hold(gauge{"corner length sideways", l, out, m.w})
		side.hold(gauge{"corner width", w, in, m.w})
	}
	if side.ok {
		side.attitude = sidewaysOr(a)
		*f = side
		return
	}
	turning := *f
	turning.hold(gauge{"corner width", w, min(in, out), m.w})
	if longest := cornerLength(in-m.w, out-m.w, w); longest > 0 {
		turning.hold(gauge{"corner length", l, longest, 0})
	}
	if turning.ok || miss(turning) < miss(side) {
		*f = turning
		return
	}
	*f = side
}

func sidewaysOr(a float64) Attitude {
	if a == 0 {
		return Upright
	}
	return Sideways
}
