package access

import (
	"fmt"
	"math"
	"strings"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// Documents cited here.
var (
	LOLER   = source.Doc{ID: "LOLER 1998", Title: "Lifting Operations and Lifting Equipment Regulations 1998"}
	EN8120  = source.Doc{ID: "EN 81-20", Title: "Safety rules for the construction of lifts: passenger and goods passenger lifts", Edition: "2014"}
	ICC2020 = source.Doc{ID: "Incoterms 2020", Title: "Rules for the use of domestic and international trade terms", Edition: "ICC 2020"}
)

// Rules in print order: the way in, standing up, loads on the way, the crane, the lorry.
func Rules() []rule.Rule[Facts] {
	return []rule.Rule[Facts]{
		routeKnown, wayIn, tightPlaces, standsUp, liftLoad, liftPlate, wheels, stairs,
		craneDuty, windLight, liftingPoints, roadClosure, vehicle, deliveryTerm,
	}
}

var routeKnown = rule.Rule[Facts]{
	ID: "AC-001", Severity: rule.Blocker, Title: "The way in is not known",
	Why: "A tank that stands in the yard because a door is too low costs a crane, a wall or the order.", Compares: "a route with at least one step",
	Source: source.Derivation("what is not measured is not judged"),
	Check: func(f Facts) []rule.Answer {
		if f.Best < 0 || len(f.Input.Routes[f.Best].Steps) == 0 {
			return []rule.Answer{rule.Lacks("", "Ask for every door, turn, lift and stair from the street to the room, with clear width and height.", "Routes")}
		}
		return []rule.Answer{rule.Passes("", nil, nil, fmt.Sprintf("%d route(s) entered; the best is %s.", len(f.Result.Routes), f.best().Name))}
	},
}

func (f Facts) best() *RouteResult { return &f.Result.Routes[f.Best] }

// Name is the piece as it is called on papers.
func (p *PieceResult) Name() string {
	if p.Piece == "" {
		return p.Tag
	}
	return p.Tag + " " + p.Piece
}

// Words says how a piece does at a step.
func (s *StepResult) Words() string {
	var b strings.Builder
	switch s.Verdict {
	case Unknown:
		fmt.Fprintf(&b, "%s: unknown, missing %s", s.Step, strings.Join(s.Missing, ", "))
		return b.String()
	case Fails:
		if s.Overload {
			fmt.Fprintf(&b, "%s: %.0f kg with carrier and people, rated %.0f kg", s.Step, s.Load.Kg(), s.Rated.Kg())
			return b.String()
		}
		fmt.Fprintf(&b, "%s: %.0f mm short in %s (%.0f needed with margin, %.0f there), tried upright, lying and tilted", s.Step, (s.Need - s.Have).MM(), s.Governing, s.Need.MM(), s.Have.MM())
	default:
		fmt.Fprintf(&b, "%s: %s, %.0f mm clear in %s", s.Step, s.how(), s.Clear.MM(), s.Governing)
		if s.Verdict == Tight {
			fmt.Fprintf(&b, " where %.0f are wanted", (s.Need - s.Have + s.Clear).MM())
		}
	}
	if len(s.Off) > 0 {
		fmt.Fprintf(&b, ", with %s off", strings.Join(s.Off, " and "))
	}
	return b.String()
}

func (s *StepResult) how() string {
	if s.Attitude == Tilted {
		return fmt.Sprintf("tilted %.0f°", s.Tilt.Deg())
	}
	return string(s.Attitude)
}

// worst is the step that stands most in the way.
func (p *PieceResult) worst() *StepResult {
	at := -1
	for i := range p.Steps {
		s := &p.Steps[i]
		if s.Kind == Upending { // judged by itself
			continue
		}
		if at < 0 || s.Verdict.rank() > p.Steps[at].Verdict.rank() || (s.Verdict == Fails && p.Steps[at].Verdict == Fails && s.Need-s.Have > p.Steps[at].Need-p.Steps[at].Have) {
			at = i
		}
	}
	if at < 0 {
		return nil
	}
	return &p.Steps[at]
}

// standing is the upending of a piece: an entered step, or the one in the room.
func (p *PieceResult) standing() *StepResult {
	for i := range p.Steps {
		if p.Steps[i].Kind == Upending {
			return &p.Steps[i]
		}
	}
	return p.Stands
}

// eachPiece answers for every piece on the best route.
func eachPiece(f Facts, answer func(i int, p *PieceResult) (rule.Answer, bool)) []rule.Answer {
	var out []rule.Answer
	if f.Best >= 0 {
		for i := range f.best().Pieces {
			if a, ok := answer(i, &f.best().Pieces[i]); ok {
				out = append(out, a)
			}
		}
	}
	return out
}

var wayIn = rule.Rule[Facts]{
	ID: "AC-010", Severity: rule.Blocker, Title: "A piece does not pass the way in",
	Why: "It stays outside: a crane, an opening in wall or roof, or another tank is needed, and that decides the price.", Compares: "each piece, upright, lying, tilted and with parts off, against each step of the best route",
	Source: source.Derivation("geometry of tilted bodies and corners"), DependsOn: []string{"AC-001"},
	Check: func(f Facts) []rule.Answer {
		out := eachPiece(f, func(i int, p *PieceResult) (rule.Answer, bool) {
			s := p.worst()
			if s == nil {
				return rule.Answer{}, false
			}
			subject := p.Name()
			switch {
			case s.Verdict == Fails && s.Overload:
				return rule.Answer{}, false // said by AC-030
			case s.Verdict == Fails:
				a := rule.Fails(subject, s.Need, s.Have, fmt.Sprintf("%s by %s: %s.", subject, f.best().Name, s.Words()))
				a.Remedies = f.ways(i, p)
				return a, true
			case s.Verdict == Unknown:
				return rule.Lacks(subject, fmt.Sprintf("%s by %s: %s.", subject, f.best().Name, s.Words()), s.Missing...), true
			}
			return rule.Passes(subject, s.Need, s.Have, fmt.Sprintf("%s by %s: %s.", subject, f.best().Name, s.Words())), true
		})
		if out == nil {
			return []rule.Answer{rule.DoesNotApply("There is nothing to bring in, or only loads stand in the way.")}
		}
		return out
	},
}

// ways tries what would get a piece in: another entered route, a leaf off its hinges,
// another product, or an opening of its size.
func (f Facts) ways(i int, p *PieceResult) []rule.Remedy {
	var out []rule.Remedy
	for k := range f.Result.Routes {
		if o := &f.Result.Routes[k].Pieces[i]; k != f.Best && (o.Verdict == Passes || o.Verdict == Tight) {
			out = append(out, rule.Remedy{Kind: "other-route", Words: fmt.Sprintf("Bring %s in by %s: %s.", p.Name(), f.Result.Routes[k].Name, o.worst().Words()), Params: []rule.Param{{Name: "item", Text: p.Tag}, {Name: "route", Text: f.Result.Routes[k].Name}}})
		}
	}
	if r, ok := f.leafOff(i, p); ok {
		out = append(out, r)
	}
	out = append(out, f.alternatives(p)...)
	if r, ok := f.opening(i, p); ok {
		out = append(out, r)
	}
	return out
}

// leaf is what taking a door leaf off its hinges gains (common practice, 40–60 mm).
const leaf = 0.05

// leafOff tries the doors of the route with their leaves off.
func (f Facts) leafOff(i int, p *PieceResult) (rule.Remedy, bool) {
	route := f.Input.Routes[f.Best]
	steps := append([]Step(nil), route.Steps...)
	var names []string
	for k := range steps {
		if steps[k].Kind == Opening && steps[k].Width != nil && p.Steps[k].Verdict == Fails {
			w := *steps[k].Width + leaf
			steps[k].Width = &w
			names = append(names, steps[k].Name)
		}
	}
	if names == nil {
		return rule.Remedy{}, false
	}
	route.Steps = steps
	now, ok := f.again(route, f.pieceAt(i))
	if !ok || (now.Verdict != Passes && now.Verdict != Tight) {
		return rule.Remedy{}, false
	}
	s := now.worst()
	return rule.Remedy{Kind: "leaf-off", Need: s.Need, Have: s.Have, Words: fmt.Sprintf("Take the door leaf off at %s (about 50 mm more; measure it): %s passes, %.0f mm clear.", strings.Join(names, ", "), p.Name(), s.Clear.MM()), Params: []rule.Param{{Name: "step", Text: strings.Join(names, ", ")}}}, true
}

func (f Facts) pieceAt(i int) piece { return f.Input.pieces()[i] }

// again runs one piece over one route.
func (f Facts) again(route Route, p piece) (PieceResult, bool) {
	r := Result{Margins: f.Result.Margins, Carrier: f.Result.Carrier}
	out, err := r.route(&f.Input, &route, []piece{p})
	if err != nil || len(out.Pieces) != 1 {
		return PieceResult{}, false
	}
	return out.Pieces[0], true
}

func (f Facts) alternatives(p *PieceResult) []rule.Remedy {
	var out []rule.Remedy
	for k := range f.Input.Items {
		it := &f.Input.Items[k]
		if it.Tag != p.Tag {
			continue
		}
		for _, alt := range it.Alternatives {
			passes := len(alt.Pieces) > 0
			for j := range alt.Pieces {
				now, ok := f.again(f.Input.Routes[f.Best], ready(it.Tag, alt.Code, &alt.Pieces[j]))
				passes = passes && ok && (now.Verdict == Passes || now.Verdict == Tight)
			}
			if passes {
				n := max(alt.Count, 1)
				out = append(out, rule.Remedy{Kind: "other-product", Words: fmt.Sprintf("Take %d × %s (%s) for %s: it passes by %s.", n, alt.Name, alt.Code, it.Tag, f.best().Name), Params: []rule.Param{{Name: "item", Text: it.Tag}, {Name: "product", Text: alt.Code}, {Name: "count", Quantity: unit.Fraction(float64(n))}}})
			}
		}
	}
	return out
}

// opening gives the least clear opening through which a piece passes lying, tried
// with the wanted margins; the crane that brings it there is the crane firm's to plan.
func (f Facts) opening(i int, p *PieceResult) (rule.Remedy, bool) {
	pc := f.pieceAt(i)
	b := pc.states[0].body
	high := min(b.h, b.d)
	if b.upright {
		high = b.h
	}
	up := func(x float64) unit.Length { return unit.Millimetres(math.Ceil(x*20) * 50) }
	w, h := up(b.w+f.Result.Margins.Width.M()), up(high+f.Result.Carrier.Height.M()+f.Result.Margins.Height.M())
	now, ok := f.again(Route{Name: "opening", Steps: []Step{{Name: "opening", Kind: Opening, Width: &w, Height: &h, Ground: true}}}, pc)
	if !ok || now.Verdict != Passes {
		return rule.Remedy{}, false
	}
	return rule.Remedy{Kind: "make-opening", Need: w, Have: w, Words: fmt.Sprintf("Bring %s by crane through a window or wall opening of at least %.0f × %.0f mm clear (roof: %.0f mm square); the opening is the engineer's, the lift a competent person's.", p.Name(), w.MM(), h.MM(), math.Ceil((max(b.d, b.w)+f.Result.Margins.Hatch.M())*20)*50), Params: []rule.Param{{Name: "item", Text: p.Tag}, {Name: "width", Quantity: w}, {Name: "height", Quantity: h}}}, true
}

var tightPlaces = rule.Rule[Facts]{
	ID: "AC-011", Severity: rule.Notice, Title: "A piece passes with little to spare",
	Why: "A few millimetres are gone with a skirting, a frame out of plumb or a bump in the cladding.", Compares: "clear room against the wanted margin",
	Source: source.Practice("100 mm in width, 50 mm in height"), DependsOn: []string{"AC-001"},
	Check: func(f Facts) []rule.Answer {
		out := eachPiece(f, func(_ int, p *PieceResult) (rule.Answer, bool) {
			for k := range p.Steps {
				if s := &p.Steps[k]; s.Verdict == Tight {
					return rule.Fails(p.Name(), s.Need, s.Have, fmt.Sprintf("%s at %s. Measure both again before ordering.", p.Name(), s.Words())), true
				}
			}
			return rule.Answer{}, false
		})
		if out == nil {
			return []rule.Answer{rule.Passes("", nil, f.Result.Margins.Width, "Whatever passes does so with the wanted margins.")}
		}
		return out
	},
}

var standsUp = rule.Rule[Facts]{
	ID: "AC-020", Severity: rule.Blocker, Title: "A piece cannot be stood up in the room",
	Why: "A tank that lies and stands lower than the ceiling can still jam between floor and ceiling while it is raised.", Compares: "diagonal of the piece on its skates against the clear height",
	Source: source.Derivation("upending about the heel needs √(H² + d²)"), DependsOn: []string{"AC-001"},
	Check: func(f Facts) []rule.Answer {
		out := eachPiece(f, func(_ int, p *PieceResult) (rule.Answer, bool) {
			s := p.standing()
			if s == nil {
				return rule.Answer{}, false
			}
			switch s.Verdict {
			case Unknown:
				return rule.Lacks(p.Name(), fmt.Sprintf("%s comes in lying; the clear height of the room is not known.", p.Name()), s.Missing...), true
			case Fails:
				a := rule.Fails(p.Name(), s.Need, s.Have, fmt.Sprintf("%s cannot be stood up: %.0f mm are needed with margin, %.0f mm are clear, %.0f mm short.", p.Name(), s.Need.MM(), s.Have.MM(), (s.Need-s.Have).MM()))
				a.Remedies = f.alternatives(p)
				return a, true
			}
			return rule.Passes(p.Name(), s.Need, s.Have, p.Name()+" "+s.Words()+"."), true
		})
		if out == nil {
			return []rule.Answer{rule.DoesNotApply("No piece comes in lying.")}
		}
		return out
	},
}

var liftLoad = rule.Rule[Facts]{
	ID: "AC-030", Severity: rule.Blocker, Title: "A piece is too heavy for a lift or hoist on the way",
	Why: "An overloaded lift stops, slips or falls.", Compares: "piece, carrier and people against the rated load on the plate",
	Source: EN8120.At("Table 6, rated load"), DependsOn: []string{"AC-001"},
	Check: func(f Facts) []rule.Answer {
		out := eachPiece(f, func(_ int, p *PieceResult) (rule.Answer, bool) {
			var last *StepResult
			for k := range p.Steps {
				s := &p.Steps[k]
				switch s.Kind {
				case Lift, Hatch, TakingIn:
				default:
					continue
				}
				if s.Rated == 0 {
					return rule.Lacks(p.Name(), fmt.Sprintf("%s at %s: %.0f kg are to be lifted; the rated load is not known. Read the plate.", p.Name(), s.Step, s.Load.Kg()), f.best().Name+"/"+s.Step+".Rated"), true
				}
				if last == nil || float64(s.Load)/float64(s.Rated) > float64(last.Load)/float64(last.Rated) {
					last = s
				}
			}
			if last == nil {
				return rule.Answer{}, false
			}
			words := fmt.Sprintf("%s at %s: %.0f kg against %.0f kg", p.Name(), last.Step, last.Load.Kg(), last.Rated.Kg())
			if last.Overload {
				return rule.Fails(p.Name(), last.Load, last.Rated, words+"."), true
			}
			return rule.Passes(p.Name(), last.Load, last.Rated, words+"; the owner and the lift firm must agree."), true
		})
		if out == nil {
			return []rule.Answer{rule.DoesNotApply("No lift or hoist is on the way.")}
		}
		return out
	},
}

var liftPlate = rule.Rule[Facts]{
	ID: "AC-031", Severity: rule.Notice, Title: "The lift's car is larger than its load allows",
	Why: "Either the plate was misread, or it is a goods lift whose area says nothing of its load.", Compares: "car area against the largest for the rated load",
	Source: EN8120.At("Table 6"), DependsOn: []string{"AC-001"},
	Check: func(f Facts) []rule.Answer {
		var out []rule.Answer
		if f.Best >= 0 {
			for _, s := range f.Input.Routes[f.Best].Steps {
				if s.Kind != Lift || s.Width == nil || s.Depth == nil || s.Rated == nil {
					continue
				}
				area := unit.SquareMetres(s.Width.M() * s.Depth.M())
				most, err := LiftCarArea(*s.Rated)
				if err != nil {
					continue
				}
				words := fmt.Sprintf("%s: car of %s, a passenger lift of %.0f kg may have %s", s.Name, unit.Fixed(area, 2), s.Rated.Kg(), unit.Fixed(most, 2))
				if area > most {
					out = append(out, rule.Fails(s.Name, area, most, words+": read the plate again."))
				} else {
					out = append(out, rule.Passes(s.Name, area, most, words+"."))
				}
			}
		}
		if out == nil {
			return []rule.Answer{rule.DoesNotApply("No lift with a known car and load is on the way.")}
		}
		return out
	},
}

var wheels = rule.Rule[Facts]{
	ID: "AC-040", Severity: rule.Warning, Title: "A wheel on the way weighs more than the floor there was given for",
	Why: "A corridor slab or a lift sill carries people; one skate under a tank is a point load it never saw.", Compares: "half the moved weight with its rolling factor against the concentrated load",
	Source: source.Derivation("four skates on an uneven floor rest on two"), DependsOn: []string{"AC-001"},
	Check: func(f Facts) []rule.Answer {
		if f.Best < 0 {
			return nil
		}
		var out []rule.Answer
		for k := range f.Input.Routes[f.Best].Steps {
			if a, ok := f.wheelAt(k); ok {
				out = append(out, a)
			}
		}
		if out == nil {
			return []rule.Answer{rule.DoesNotApply("The way lies on the ground.")}
		}
		return out
	},
}

func (f Facts) wheelAt(k int) (rule.Answer, bool) {
	step := &f.Input.Routes[f.Best].Steps[k]
	if step.Ground || step.Kind == Upending || step.Kind == Hatch || step.Kind == TakingIn {
		return rule.Answer{}, false
	}
	var worst *StepResult
	var name string
	for i := range f.best().Pieces {
		p := &f.best().Pieces[i]
		if worst == nil || p.Steps[k].Wheel > worst.Wheel {
			worst, name = &p.Steps[k], p.Name()
		}
	}
	if worst == nil {
		return rule.Answer{}, false
	}
	words := fmt.Sprintf("At %s one skate under %s brings %s", step.Name, name, unit.Fixed(worst.Wheel, 2))
	if step.Floor == nil || step.Floor.Point == nil {
		return rule.Lacks(step.Name, words+"; what the floor there takes is not known.", f.best().Name+"/"+step.Name+".Floor"), true
	}
	have := *step.Floor.Point
	switch {
	case worst.Wheel > have:
		return rule.Fails(step.Name, worst.Wheel, have, fmt.Sprintf("%s, given are %s.", words, unit.Fixed(have, 2)), f.boards(worst, have)...), true
	case !step.Floor.Engineer:
		return rule.Answer{Subject: step.Name, Need: worst.Wheel, Have: have, Missing: []string{f.best().Name + "/" + step.Name + ".Floor"}, Words: words + "; the figure is not an engineer's."}, true
	}
	return rule.Passes(step.Name, worst.Wheel, have, words+"."), true
}

// boards shares the weight by a track of plates over at least four points, where each
// then stays within the figure; that the plates reach between supports is the
// engineer's to say.
func (f Facts) boards(s *StepResult, have unit.Force) []rule.Remedy {
	if each := s.Wheel / 2; each <= have {
		return []rule.Remedy{{Kind: "steel-track", Need: each, Have: have, Words: fmt.Sprintf("Roll on a stiff steel track that keeps all four skates loaded: %s each; the engineer agrees the track.", unit.Fixed(each, 2))}}
	}
	return nil
}

// byHand is the most that is carried over stairs (common practice, no source).
const byHand = 150 // kg

var stairs = rule.Rule[Facts]{
	ID: "AC-041", Severity: rule.Warning, Title: "A heavy piece is to go over stairs",
	Why: "Above what a few people hold, stairs need a stair-climbing hoist, a prepared track or another way.", Compares: "mass against 150 kg",
	Source: source.Practice("usually not for more than 150 kg"), DependsOn: []string{"AC-001"},
	Check: func(f Facts) []rule.Answer {
		out := eachPiece(f, func(_ int, p *PieceResult) (rule.Answer, bool) {
			for k := range p.Steps {
				if s := &p.Steps[k]; s.Kind == Stairs {
					words := fmt.Sprintf("%s: %.0f kg over %s", p.Name(), s.Moved.Kg(), s.Step)
					if s.Moved > byHand {
						return rule.Fails(p.Name(), s.Moved, unit.Kilograms(byHand), words+"."), true
					}
					return rule.Passes(p.Name(), s.Moved, unit.Kilograms(byHand), words+"."), true
				}
			}
			return rule.Answer{}, false
		})
		if out == nil {
			return []rule.Answer{rule.DoesNotApply("No stairs are on the way.")}
		}
		return out
	},
}
