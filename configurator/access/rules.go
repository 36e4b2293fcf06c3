package access

import (
	"fmt"
	"strconv"
	"strings"

	"tunwright/catalog/source"
	"tunwright/configurator/rule"
)

// Documents cited here.
var (
	LOLER   = source.Doc{ID: "LOLER 1998", Title: "Lifting Operations and Lifting Equipment Regulations 1998"}
	EN8120  = source.Doc{ID: "EN 81-20", Title: "Safety rules for the construction of lifts: passenger and goods passenger lifts", Edition: "2014"}
	ICC2020 = source.Doc{ID: "Incoterms 2020", Title: "Rules for the use of domestic and international trade terms", Edition: "ICC 2020"}
)

// plannedLift is the duty to plan a lift as Great Britain has it.
var plannedLift = source.Ref{Doc: LOLER, Place: "regulation 8", Provenance: source.LookedUp, Note: "in Great Britain"}

// Rules in print order: the way in, standing up, loads on the way, the crane, the lorry.
func Rules() []rule.Rule[Facts] {
	return []rule.Rule[Facts]{
		routeKnown, wayIn, tightPlaces, standsUp, liftLoad, liftPlate, wheels, stairs,
		craneStands, craneDuty, windLight, liftingPoints, roadClosure, vehicle, deliveryTerm,
	}
}

var routeKnown = rule.Rule[Facts]{
	ID: "AC-001", Severity: rule.Blocker, Title: "The way in is not known",
	Why: "A tank that stands in the yard because a door is too low waits for a crane, an opening in the wall or another tank.", Compares: "a route with at least one step",
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
	var words string
	switch s.Verdict {
	case Unknown:
		return s.Step + ": unknown, missing " + strings.Join(s.Missing, ", ")
	case Outdoors:
		return s.Step + ": stands outside, takes no way in"
	case Fails:
		if s.NoCrane {
			return s.Step + ": only a crane brings it here, and none can stand by the building"
		}
		if s.Overload {
			return s.Step + ": " + whole(s.Load.Kg()) + " kg with carrier and people, rated " + whole(s.Rated.Kg()) + " kg"
		}
		words = s.Step + ": " + whole((s.Need - s.Have).MM()) + " mm short in " + s.Governing + " (" + whole(s.Need.MM()) + " needed with margin, " + whole(s.Have.MM()) + " there), tried upright, lying and tilted"
	default:
		words = s.Step + ": " + s.how() + ", " + whole(s.Clear.MM()) + " mm clear in " + s.Governing
		if s.Verdict == Tight {
			words += " where " + whole((s.Need - s.Have + s.Clear).MM()) + " are wanted"
		}
	}
	if len(s.Off) > 0 {
		words += ", with " + strings.Join(s.Off, " and ") + " off"
	}
	return words
}

// whole prints a figure without decimals.
func whole(x float64) string { return strconv.FormatFloat(x, 'f', 0, 64) }

func (s *StepResult) how() string {
	if s.Attitude == Tilted {
		return "tilted " + whole(s.Tilt.Deg()) + "°"
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
			p := &f.best().Pieces[i]
			if p.Verdict == Outdoors {
				continue
			}
			if a, ok := answer(i, p); ok {
				if out == nil {
					out = make([]rule.Answer, 0, len(f.best().Pieces))
				}
				out = append(out, a)
			}
		}
	}
	return out
}

var wayIn = rule.Rule[Facts]{
	ID: "AC-010", Fills: "opening", Severity: rule.Blocker, Title: "A piece does not pass the way in",
	Why: "It stays outside: a crane, an opening in wall or roof, or another tank is needed.", Compares: "each piece, upright, lying, tilted and with parts off, against each step of the best route",
	Source: source.Derivation("geometry of tilted bodies and corners"), DependsOn: []string{"AC-001"},
	Check: func(f Facts) []rule.Answer {
		out := eachPiece(f, func(i int, p *PieceResult) (rule.Answer, bool) {
			s := p.worst()
			if s == nil {
				return rule.Answer{}, false
			}
			subject := p.Name()
			words := func() string { return subject + " by " + f.best().Name + ": " + s.Words() + "." }
			switch {
			case s.Verdict == Fails && s.Overload:
				return rule.Answer{}, false // said by AC-030
			case s.Verdict == Fails && s.NoCrane:
				return rule.Answer{}, false // said by AC-049
			case s.Verdict == Fails:
				a := rule.Fails(subject, s.Need, s.Have, words())
				a.Remedies = f.ways(i, p)
				return a, true
			case s.Verdict == Unknown:
				return rule.Lacks(subject, words(), s.Missing...), true
			}
			return rule.Passes(subject, s.Need, s.Have, words()), true
		})
		if out == nil {
			return []rule.Answer{rule.DoesNotApply("There is nothing to bring in, or only loads or a crane stand in the way.")}
		}
		return out
	},
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
		if out != nil {
			return out
		}
		if f.Best < 0 {
			return []rule.Answer{rule.Lacks("", "No way in is described.", "Routes")}
		}
		if n := f.best().Unsure; n > 0 {
			return []rule.Answer{rule.Lacks("", fmt.Sprintf("Whether %d pieces pass, and with what to spare, is not known.", n), "Routes")}
		}
		return []rule.Answer{rule.Passes("", nil, f.Result.Margins.Width, "Whatever passes does so with the wanted margins.")}
	},
}

var standsUp = rule.Rule[Facts]{
	ID: "AC-020", Fills: "height to stand up in", Severity: rule.Blocker, Title: "A piece cannot be stood up in the room",
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
				a.Remedies = append(f.hoist(p, s), f.alternatives(p)...)
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
