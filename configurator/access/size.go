package access

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
)

// g is the standard acceleration of gravity, CGPM 1901.
const g = 9.80665

// Size tries every piece over every route. It returns an error for what is
// impossible, such as a piece of no size; what does not pass is for the rules.
func Size(in Input) (Result, error) {
	if err := in.check(); err != nil {
		return Result{}, err
	}
	r := Result{Margins: in.Margins.usual(), Carrier: in.Carrier.usual(), Best: -1, Planner: competent(in.Country)}
	ps := in.pieces()
	for i := range in.Routes {
		route, err := r.route(&in, &in.Routes[i], ps)
		if err != nil {
			return Result{}, err
		}
		r.Routes = append(r.Routes, route)
		if r.Best < 0 || route.before(&r.Routes[r.Best]) {
			r.Best = i
		}
	}
	r.Ways = r.ways(len(ps))
	var err error
	if r.Lifts, err = in.lifts(ps); err != nil {
		return Result{}, err
	}
	if r.Freight, err = in.freight(); err != nil {
		return Result{}, err
	}
	r.steps(&in)
	return r, nil
}

// ways finds each piece's own best route; where several are as good, the best for all.
func (r *Result) ways(pieces int) []int {
	if r.Best < 0 {
		return nil
	}
	out := make([]int, pieces)
	for k := range out {
		out[k] = r.Best
		for i := range r.Routes {
			if r.Routes[i].Pieces[k].Verdict.rank() < r.Routes[out[k]].Pieces[k].Verdict.rank() {
				out[k] = i
			}
		}
	}
	return out
}

// before tells whether a route is the better one: fewer pieces that fail, then fewer
// unknown, then no doubt about a crane, then fewer tight, then less fitter's time.
func (a *RouteResult) before(b *RouteResult) bool {
	return cmp.Or(cmp.Compare(a.Fail, b.Fail), cmp.Compare(a.Unsure, b.Unsure), compareBool(a.CraneOpen, b.CraneOpen), cmp.Compare(a.Tight, b.Tight), cmp.Compare(a.Refit, b.Refit)) < 0
}

func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

func (in *Input) check() error {
	for i := range in.Items {
		it := &in.Items[i]
		for j := range it.Pieces {
			p := &it.Pieces[j]
			for _, q := range [3]unit.Length{p.Length, p.Width, p.Height} {
				if err := unit.Within("size of "+it.Tag+" "+p.Name, q, unit.Millimetres(1), unit.Metres(30)); err != nil {
					return err
				}
			}
			if p.Packing >= p.Height {
				return fmt.Errorf("%s %s: packing of %s is not lower than the whole of %s", it.Tag, p.Name, p.Packing, p.Height)
			}
			if err := unit.Positive("mass of "+it.Tag+" "+p.Name, p.Mass); err != nil {
				return err
			}
		}
	}
	return nil
}

func (r *Result) route(in *Input, route *Route, ps []piece) (RouteResult, error) {
	out := RouteResult{Name: route.Name, Pieces: make([]PieceResult, len(ps))}
	steps := make([]measures, len(route.Steps))
	missing := make([][]string, len(route.Steps))
	for i := range route.Steps {
		steps[i], missing[i] = route.Steps[i].known(route.Name)
		steps[i].skid = r.Carrier.Height.M()
		out.Crane = out.Crane || route.Steps[i].craned()
		if err := steps[i].possible(route.Steps[i].Name); err != nil {
			return out, fmt.Errorf("route %s: %w", route.Name, err)
		}
	}
	out.CraneOpen = out.Crane && in.Lifting.Crane == nil
	all := make([]StepResult, len(ps)*len(steps))
	for k := range ps {
		pr := &out.Pieces[k]
		own := all[k*len(steps) : (k+1)*len(steps) : (k+1)*len(steps)]
		if at := ps[k].alike; at >= 0 {
			*pr = out.Pieces[at]
			pr.Tag, pr.Piece, pr.Product, pr.Steps = ps[k].tag, ps[k].p.Name, ps[k].product, own
			copy(own, out.Pieces[at].Steps)
			if pr.Verdict != Outdoors {
				out.count(pr)
			}
			continue
		}
		pr.Tag, pr.Piece, pr.Product, pr.Verdict, pr.Steps = ps[k].tag, ps[k].p.Name, ps[k].product, Passes, own
		if ps[k].outside {
			pr.stayOutside(route)
			continue
		}
		upright := true
		for i := range steps {
			sr := &pr.Steps[i]
			sr.Step, sr.Kind, sr.Missing = route.Steps[i].Name, route.Steps[i].Kind, missing[i]
			r.pass(&route.Steps[i], &steps[i], &ps[k], sr)
			if route.Steps[i].craned() && in.Lifting.Crane != nil && !*in.Lifting.Crane {
				sr.Verdict, sr.NoCrane = Fails, true
			}
			pr.take(sr, &ps[k])
			upright = upright && sr.Attitude == Upright
		}
		if !upright && len(steps) > 0 && steps[len(steps)-1].kind != Upending {
			pr.Stands = r.stand(in, &ps[k])
			pr.take(pr.Stands, &ps[k])
		}
		out.count(pr)
	}
	return out, nil
}

// craned tells whether a crane brings pieces to a step.
func (s *Step) craned() bool { return (s.Kind == TakingIn || s.Kind == Hatch) && !s.Hoist }

// stayOutside fills in a piece that takes no way in.
func (pr *PieceResult) stayOutside(route *Route) {
	pr.Verdict = Outdoors
	for i := range pr.Steps {
		pr.Steps[i] = StepResult{Step: route.Steps[i].Name, Kind: route.Steps[i].Kind, Verdict: Outdoors}
	}
}

func (out *RouteResult) count(pr *PieceResult) {
	switch pr.Verdict {
	case Passes:
		out.Passing++
	case Tight:
		out.Tight++
	case Fails:
		out.Fail++
	default:
		out.Unsure++
	}
	out.Refit += pr.Refit
}

// rank orders verdicts by how much they stand in the way.
func (v Verdict) rank() int { return [...]int{2, 0, 1, 3, 0}[v] }

// take carries a step into the piece's whole: the worst verdict, and every part that
// comes off somewhere, once.
func (pr *PieceResult) take(sr *StepResult, p *piece) {
	if sr.Verdict.rank() > pr.Verdict.rank() {
		pr.Verdict = sr.Verdict
	}
	for _, name := range sr.Off {
		if slices.Contains(pr.Off, name) {
			continue
		}
		pr.Off = append(pr.Off, name)
		for i := range p.p.Parts {
			if p.p.Parts[i].Name == name {
				pr.Refit += p.p.Parts[i].Refit
			}
		}
	}
}

// stand is the upending in the room itself.
func (r *Result) stand(in *Input, p *piece) *StepResult {
	s := Step{Name: "standing up in the room", Kind: Upending, Height: in.RoomClear, Ground: true}
	m, missing := s.known("RoomClear")
	if missing != nil {
		missing = []string{"RoomClear"}
	}
	m.skid = r.Carrier.Height.M()
	sr := &StepResult{Step: s.Name, Kind: Upending, Missing: missing}
	r.pass(&s, &m, p, sr)
	return sr
}

// pass tries the states of a piece at a step: the least work that passes with the
// wanted margins, else with the tight ones; a piece that fails with everything off
// fails in every state.
func (r *Result) pass(step *Step, s *measures, p *piece, sr *StepResult) {
	wide := margins{r.Margins.Width.M(), r.Margins.Height.M(), r.Margins.Hatch.M()}
	tight := margins{r.Margins.TightWidth.M(), r.Margins.TightHeight.M(), r.Margins.Width.M()}
	if f := s.try(p.bare.body, tight); !f.ok {
		sr.set(Fails, f, p.bare) // even where another measure is unknown
	} else if len(sr.Missing) == 0 {
		if f := s.try(p.states[0].body, wide); f.ok {
			sr.set(Passes, f, &p.states[0])
		} else {
			r.least(s, p, sr, wide, tight)
		}
	}
	r.loads(step, p, sr)
}

func (r *Result) least(s *measures, p *piece, sr *StepResult, wide, tight margins) {
	for _, look := range []struct {
		m margins
		v Verdict
	}{{wide, Passes}, {tight, Tight}} {
		for k := range p.states {
			if f := s.try(p.states[k].body, look.m); f.ok {
				if look.v == Tight { // say what is free against what is wanted
					f.worst.want = wide.of(f.worst.name)
				}
				sr.set(look.v, f, &p.states[k])
				return
			}
		}
	}
}

// of is the margin that a measure wants.
func (m margins) of(name string) float64 {
	switch name {
	case "height", "door height", "car height", "height over the steps", "height under the hook", "height to stand up":
		return m.h
	case "hatch length", "hatch width":
		return m.hatch
	}
	return m.w
}

func (sr *StepResult) set(v Verdict, f fit, s *state) {
	sr.Verdict, sr.Attitude, sr.Tilt, sr.Off = v, f.attitude, unit.Radians(f.tilt), s.off
	sr.Governing = f.worst.name
	sr.Need, sr.Have = unit.Metres(f.worst.need+f.worst.want), unit.Metres(f.worst.have)
	sr.Clear = unit.Metres(f.worst.have - f.worst.need)
	sr.Moved = s.mass
}

// loads adds masses and wheel loads: on four skates two can carry everything, and
// rolling adds its factor.
func (r *Result) loads(step *Step, p *piece, sr *StepResult) {
	if sr.Moved == 0 {
		sr.Moved = p.upper
	}
	sr.Load = sr.Moved + r.Carrier.Mass + unit.Kilograms(float64(r.Carrier.People)*personMass)
	switch step.Kind {
	case Hatch, TakingIn:
		sr.Load = p.upper
	default:
		sr.Wheel = WheelLoad(sr.Moved+r.Carrier.Mass, r.Carrier.Dynamic)
		if step.Floor != nil && step.Floor.Point != nil && !step.Ground {
			sr.WheelUse = unit.Fraction(float64(sr.Wheel) / float64(*step.Floor.Point))
		}
	}
	if step.Rated != nil {
		sr.Rated = *step.Rated
		if sr.Load > *step.Rated {
			sr.Overload = true
			if sr.Verdict != Unknown {
				sr.Verdict = Fails
			}
		}
	}
}

// WheelLoad is the load of one skate of four on an uneven floor, where two carry all:
// φ·m·g/2.
//
// Source: statics of four supports; φ 1.1 for rolling by hand is common practice.
func WheelLoad(m unit.Mass, dynamic unit.Ratio) unit.Force {
	return unit.Newtons(dynamic.Value() * m.Kg() * g / 2)
}

// unbounded stands for a measure that is not known: a piece that fails fails by
// another one.
const unbounded = 150.0 // m

// known takes the measures a step needs and names those that are missing.
func (s *Step) known(route string) (measures, []string) {
	m := measures{kind: s.Kind}
	var missing []string
	take := func(into *float64, q *unit.Length, name string) {
		if q == nil {
			missing = append(missing, route+"/"+s.Name+"."+name)
			*into = unbounded
			return
		}
		*into = q.M()
	}
	if s.Kind != Upending {
		take(&m.w, s.Width, "Width")
	}
	if s.Kind != Hatch || s.Height != nil {
		take(&m.h, s.Height, "Height")
	}
	switch s.Kind {
	case Corner:
		take(&m.out, s.WidthOut, "WidthOut")
	case Lift:
		take(&m.depth, s.Depth, "Depth")
		take(&m.dw, s.DoorWidth, "DoorWidth")
		take(&m.dh, s.DoorHeight, "DoorHeight")
	case Stairs:
		take(&m.landing, s.Landing, "Landing")
	case Hatch:
		take(&m.depth, s.Depth, "Depth")
	}
	return m, missing
}

func (m *measures) possible(name string) error {
	switch m.kind {
	case Opening, Corridor, Corner, Lift, Stairs, Hatch, TakingIn, Upending:
	default:
		return fmt.Errorf("step %s: %q is not a kind of step: use opening, corridor, corner, lift, stairs, hatch, taking-in or upending", name, m.kind)
	}
	for _, x := range [8]float64{m.w, m.out, m.h, m.depth, m.landing, m.dw, m.dh} {
		if x < 0 || math.IsNaN(x) || x > 200 {
			return fmt.Errorf("step %s: a measure of %.3f m is not possible: it must lie between 0 and 200 m", name, x)
		}
	}
	return nil
}

// steps writes down the margins and the heaviest piece, which everything else follows from.
func (r *Result) steps(in *Input) {
	r.Trace.Add(trace.Step{Title: "Room wanted beside a piece", Symbol: "margin", Formula: "clear width − piece ≥ margin", Values: []trace.Value{trace.V("height margin", r.Margins.Height), trace.V("skates", r.Carrier.Height)}, Result: r.Margins.Width, Source: source.Practice("100 mm in width, 50 mm in height; tight down to 20 and 10 mm")})
	if r.Best < 0 {
		return
	}
	route := &r.Routes[r.Best]
	for i := range route.Pieces {
		for k := range route.Pieces[i].Steps {
			s := &route.Pieces[i].Steps[k]
			if s.Verdict != Fails {
				continue
			}
			r.Trace.Add(trace.Step{Title: route.Pieces[i].Tag + " at " + s.Step + ": " + s.Governing, Symbol: "clear", Formula: "have − (need + margin)", Values: []trace.Value{trace.V("have", s.Have), trace.V("need with margin", s.Need)}, Result: s.Have - s.Need, Source: source.Derivation("geometry of the piece and the opening")})
		}
	}
}
