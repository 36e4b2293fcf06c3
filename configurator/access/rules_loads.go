package access

import (
	"fmt"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

var liftLoad = rule.Rule[Facts]{
	ID: "AC-030", Fills: "lift or hoist", Severity: rule.Blocker, Title: "A piece is too heavy for a lift or hoist on the way",
	Why: "An overloaded lift stops, slips or falls.", Compares: "piece, carrier and people against the rated load on the plate",
	Source: EN8120.At("Table 6, rated load"), Law: abroad(liftsAbroad), DependsOn: []string{"AC-001"},
	Check: func(f Facts) []rule.Answer {
		out := eachPiece(f, func(_ int, p *PieceResult) (rule.Answer, bool) {
			var last, unread *StepResult
			for k := range p.Steps {
				s := &p.Steps[k]
				switch s.Kind {
				case Lift, Hatch, TakingIn:
				default:
					continue
				}
				if s.Rated == 0 {
					unread = s
					continue
				}
				if last == nil || float64(s.Load)/float64(s.Rated) > float64(last.Load)/float64(last.Rated) {
					last = s
				}
			}
			if unread != nil && (last == nil || !last.Overload) { // one that is overloaded says more
				return rule.Lacks(p.Name(), fmt.Sprintf("%s at %s: %.0f kg are to be lifted; the rated load is not known. Read the plate.", p.Name(), unread.Step, unread.Load.Kg()), f.best().Name+"/"+unread.Step+".Rated"), true
			}
			if last == nil {
				return rule.Answer{}, false
			}
			words := p.Name() + " at " + last.Step + ": " + whole(last.Load.Kg()) + " kg against " + whole(last.Rated.Kg()) + " kg"
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
	Source: EN8120.At("Table 6"), Law: abroad(liftsAbroad), DependsOn: []string{"AC-001"},
	Check: func(f Facts) []rule.Answer {
		var out []rule.Answer
		if f.Best >= 0 {
			for _, s := range f.Input.Routes[f.Best].Steps {
				if s.Kind != Lift {
					continue
				}
				if s.Width == nil || s.Depth == nil {
					out = append(out, rule.Lacks(s.Name, s.Name+": the size of the car is not known. Measure it.", f.best().Name+"/"+s.Name+".Width", f.best().Name+"/"+s.Name+".Depth"))
					continue
				}
				area := unit.SquareMetres(s.Width.M() * s.Depth.M())
				if s.Rated == nil {
					out = append(out, rule.Lacks(s.Name, fmt.Sprintf("%s: car of %s; the rated load is not known. Read the plate.", s.Name, unit.Fixed(area, 2)), f.best().Name+"/"+s.Name+".Rated"))
					continue
				}
				most, err := LiftCarArea(*s.Rated)
				if err != nil {
					out = append(out, rule.Lacks(s.Name, fmt.Sprintf("%s: a lift of %.0f kg is not in the table, which holds 100 to 10 000 kg. Read the plate again.", s.Name, s.Rated.Kg()), f.best().Name+"/"+s.Name+".Rated"))
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
			return []rule.Answer{rule.DoesNotApply("No lift is on the way.")}
		}
		return out
	},
}

var wheels = rule.Rule[Facts]{
	ID: "AC-040", Fills: "way under the wheels", Severity: rule.Warning, Title: "A wheel on the way weighs more than the floor there was given for",
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
		if p.Verdict != Outdoors && (worst == nil || p.Steps[k].Wheel > worst.Wheel) {
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
					words := p.Name() + ": " + whole(s.Moved.Kg()) + " kg over " + s.Step
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
