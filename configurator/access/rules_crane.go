package access

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// craned tells whether a piece is lifted by crane: onto a roof, or in, where the best
// route goes by a taking-in door or hatch without a hoist or leaves the piece outside.
func (f Facts) craned(l *LiftRow) bool {
	switch {
	case l.Outside:
		return l.Roof
	case f.Best < 0:
		return false
	case f.best().Crane:
		return true
	}
	for i := range f.best().Pieces {
		if p := &f.best().Pieces[i]; p.Tag == l.Tag && p.Piece == l.Piece {
			return p.Verdict == Fails
		}
	}
	return false
}

// taken lists the pieces that a crane has to take.
func (f Facts) taken() []*LiftRow {
	var out []*LiftRow
	for i := range f.Lifts {
		if l := &f.Lifts[i]; f.craned(l) {
			out = append(out, l)
		}
	}
	return out
}

// lifted answers once for all pieces that a crane has to take: the rows themselves are
// in the table for the crane firm.
func lifted(f Facts, answer func(rows []*LiftRow) rule.Answer) []rule.Answer {
	rows := f.taken()
	if rows == nil {
		return []rule.Answer{rule.DoesNotApply("Nothing has to be lifted in.")}
	}
	return []rule.Answer{answer(rows)}
}

func tags(rows []*LiftRow) string {
	var names []string
	for _, l := range rows {
		if !slices.Contains(names, l.Tag) {
			names = append(names, l.Tag)
		}
	}
	return strings.Join(names, ", ")
}

// Name is the piece as it is called on papers.
func (l *LiftRow) Name() string {
	if l.Piece == "" {
		return l.Tag
	}
	return l.Tag + " " + l.Piece
}

var craneStands = rule.Rule[Facts]{
	ID: "AC-049", Severity: rule.Blocker, Title: "No crane can stand by the building",
	Why: "What is to come in through a door in the air, a hatch or an opening in the wall, or to stand on the roof, stays on the lorry.", Compares: "ground for a crane by the building, where the best way in or a place on the roof needs one",
	Source: source.Derivation("a door above the street without a hoist is reached by crane only"), DependsOn: []string{"AC-001"},
	Check: func(f Facts) []rule.Answer {
		rows, way := f.taken(), f.Best >= 0 && f.best().Crane
		if !way && rows == nil {
			return []rule.Answer{rule.DoesNotApply("Nothing has to be lifted by crane.")}
		}
		what := fmt.Sprintf("%d pieces have to be lifted by crane", len(rows))
		if way {
			what = "The way in by " + f.best().Name + " needs a crane"
		}
		switch crane := f.Lifting.Crane; {
		case crane == nil:
			return []rule.Answer{rule.Lacks("", what+"; whether one can stand by the building is not known. Walk the street with the crane firm.", "Lifting.Crane")}
		case !*crane:
			return []rule.Answer{rule.Fails("", nil, nil, what+"; none can stand by the building. Describe another way in, or a hoist at the opening.")}
		}
		return []rule.Answer{rule.Passes("", nil, nil, what+"; one can stand by the building. "+f.Planner)}
	},
}

var craneDuty = rule.Rule[Facts]{
	ID: "AC-050", Severity: rule.Warning, Title: "The crane's duty is not settled",
	Why: "A crane that is strong enough at the kerb may not be at the window: its chart falls with the radius.", Compares: "gross load against the share of the chart at the radius",
	Source: plannedLift, Law: abroad(plannedAbroad), DependsOn: []string{"AC-001", "AC-049"},
	Check: func(f Facts) []rule.Answer {
		l := f.Lifting.usual()
		return lifted(f, func(rows []*LiftRow) rule.Answer {
			row := slices.MaxFunc(rows, func(a, b *LiftRow) int { return cmp.Compare(a.Gross, b.Gross) })
			words := fmt.Sprintf("%d pieces are lifted in; the heaviest is %s: gross %.0f kg (piece %.0f, gear %.0f, hook %.0f)", len(rows), row.Name(), row.Gross.Kg(), row.Mass.Kg(), row.Rigging.Kg(), row.Hook.Kg())
			if row.Chart == nil || row.Radius == nil {
				return rule.Lacks("", words+"; the crane firm names radius and capacity there. "+f.Planner, "Lifting.Radius", "Lifting.Chart")
			}
			have := unit.Mass(row.Chart.Kg() * l.MostUse.Value())
			words = fmt.Sprintf("%s at %.1f m, chart %.0f kg, of which %.0f %% may be used", words, row.Radius.M(), row.Chart.Kg(), l.MostUse.Pct())
			if row.Gross > have {
				need := unit.Mass(row.Gross.Kg() / l.MostUse.Value())
				return rule.Fails("", row.Gross, have, words+".", rule.Remedy{
					Kind: "larger-crane", Need: row.Gross, Have: row.Gross,
					Words:  fmt.Sprintf("Order a crane with at least %.0f kg at %.1f m.", need.Kg(), row.Radius.M()),
					Params: []rule.Param{{Name: "capacity", Quantity: need}, {Name: "radius", Quantity: *row.Radius}},
				})
			}
			return rule.Passes("", row.Gross, have, words+". "+f.Planner)
		})
	},
}

// calm is the wind in which riggers stop with tanks (common practice, 7–8 m/s).
const calm = 7.0

var windLight = rule.Rule[Facts]{
	ID: "AC-051", Severity: rule.Notice, Title: "An empty tank is large for its mass: the wind decides the day",
	Why: "Charts assume 1.2 m² of wind area for a tonne; an empty tank has several times as much and sails.", Compares: "wind limit by mass and area against 7 m/s",
	Source: source.Ref{Doc: windDoc, Place: massRule.Place, Provenance: massRule.Provenance, Note: massRule.Note + "; that riggers stop at 7 to 8 m/s is common practice"}, DependsOn: []string{"AC-001"},
	Check: func(f Facts) []rule.Answer {
		return lifted(f, func(rows []*LiftRow) rule.Answer {
			row := slices.MinFunc(rows, func(a, b *LiftRow) int { return cmp.Compare(a.WindLimit, b.WindLimit) })
			words := fmt.Sprintf("The lightest for its size of %d lifted pieces is %s: %s of wind area, drag %.1f, %.0f kg: %.1f m/s by the mass rule, %.0f N at the chart's limit", len(rows), row.Name(), unit.Fixed(row.SailArea, 2), row.Drag.Value(), row.Mass.Kg(), row.WindLimit.MS(), row.WindForce.N())
			if row.WindLimit.MS() < calm {
				return rule.Fails("", unit.MetresPerSecond(calm), row.WindLimit, words+". Allow a spare day and tag lines; the appointed person sets the limit.")
			}
			return rule.Passes("", unit.MetresPerSecond(calm), row.WindLimit, words+".")
		})
	},
}

var liftingPoints = rule.Rule[Facts]{
	ID: "AC-052", Severity: rule.Warning, Title: "A piece to be lifted has no known lifting points",
	Why: "Slung by legs, manway or cladding it drops or is ruined.", Compares: "rated lifting points on the piece",
	Source: plannedLift, Law: abroad(plannedAbroad), DependsOn: []string{"AC-001"},
	Check: func(f Facts) []rule.Answer {
		return lifted(f, func(rows []*LiftRow) rule.Answer {
			var open []*LiftRow
			for _, row := range rows {
				if row.Points == 0 {
					open = append(open, row)
				}
			}
			if open == nil {
				return rule.Passes("", nil, nil, fmt.Sprintf("All %d lifted pieces have rated lifting points; the table gives the working load for each leg.", len(rows)))
			}
			row := slices.MaxFunc(open, func(a, b *LiftRow) int { return cmp.Compare(a.LegWLL, b.LegWLL) })
			missing := make([]string, len(open))
			for i, o := range open {
				missing[i] = "Items[" + o.Tag + "].Points"
			}
			return rule.Lacks("", fmt.Sprintf("Ask the works for the rated lifting points of %s; the heaviest needs %.0f kg in each of %d legs at %.0f°.", tags(open), row.LegWLL.Kg(), row.Legs, row.Beta.Deg()), missing...)
		})
	},
}

var roadClosure = rule.Rule[Facts]{
	ID: "AC-053", Severity: rule.Notice, Title: "A road closure needs its lead time",
	Why: "Councils ask six to twelve weeks for an order; a crane without it is sent home.", Compares: "road to be closed or not",
	Source: source.Practice("published lead times of UK councils, 4 to 12 weeks: confirm with the council"), Law: roadLaw, DependsOn: []string{"AC-001", "AC-049"},
	Check: func(f Facts) []rule.Answer {
		return lifted(f, func([]*LiftRow) rule.Answer {
			switch road := f.Lifting.Road; {
			case road == nil:
				return rule.Lacks("", "Whether the crane stands on a road that must be closed is not known: ask the crane firm before the day is fixed.", "Lifting.Road")
			case *road:
				return rule.Fails("", nil, nil, "The crane stands on a road: allow 12 weeks for the order until the road authority says otherwise.")
			}
			return rule.Passes("", nil, nil, "The crane stands off the road.")
		})
	},
}

var vehicle = rule.Rule[Facts]{
	ID: "AC-060", Severity: rule.Notice, Title: "A packed piece does not go on a common lorry",
	Why: "Low loaders need notices and escorts: the piece comes days later, and the crane waits.", Compares: "packed size against a curtainsider of 2.45 × 2.65 m",
	Source: source.Practice("usual vehicle sizes; over 2.9 m wide is an abnormal load in Great Britain"), Law: abroad(wideAbroad),
	Check: func(f Facts) []rule.Answer {
		var out []rule.Answer
		for i := range f.Result.Freight.Rows {
			row := &f.Result.Freight.Rows[i]
			if row.Vehicle == "curtainsider" {
				continue
			}
			words := fmt.Sprintf("%s %s packed %.2f × %.2f × %.2f m travels on a %s", row.Tag, row.Piece, row.Length.M(), row.Width.M(), row.Height.M(), row.Vehicle)
			if row.Abnormal {
				words += " as an abnormal load: " + notice(f.Input.Country)
			}
			out = append(out, rule.Fails(row.Tag, row.Height, unit.Metres(trailerHeight), words+"."))
		}
		if out == nil {
			return []rule.Answer{rule.Passes("", f.Result.Freight.Metres, unit.Metres(trailerLength), fmt.Sprintf("Everything travels by curtainsider: %.1f loading metres on %d lorries.", f.Result.Freight.Metres.M(), f.Result.Freight.Trailers))}
		}
		return out
	},
}

// notice is what the road asks for a load that is too wide.
func notice(c Country) string {
	if c == GB || c == "" {
		return "two clear days' notice"
	}
	return "permit of the road authority"
}

var deliveryTerm = rule.Rule[Facts]{
	ID: "AC-061", Severity: rule.Warning, Title: "Who unloads is not agreed",
	Why: "With every term but DPU the buyer unloads: lorry and crane stand still while both point at each other.", Compares: "delivery term with its place, and who unloads by it",
	Source: ICC2020.At("articles A2/B2 of each term"),
	Check: func(f Facts) []rule.Answer {
		r := &f.Result.Freight
		if r.TermProblem != "" {
			return []rule.Answer{rule.Lacks("", "Agree the term in writing: "+r.TermProblem+".", "Freight.Term", "Freight.Place")}
		}
		return []rule.Answer{rule.Passes("", nil, nil, fmt.Sprintf("%s %s (Incoterms 2020): the %s unloads.", r.Term, r.Place, r.UnloadedBy))}
	},
}
