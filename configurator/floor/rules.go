package floor

import (
	"fmt"
	"math"
	"slices"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/plan"
	"tunwright/configurator/rule"
)

// EN1991 is the European standard of imposed loads.
var EN1991 = source.Doc{ID: "EN 1991-1-1", Title: "Eurocode 1: densities, self-weight, imposed loads for buildings", Edition: "2002"}

// Rules in print order: what is known, the members, the feet, the drains, the room.
func Rules() []rule.Rule[Facts] {
	return append([]rule.Rule[Facts]{
		supportKnown, massesKnown, onMembers, engineersFigure,
		memberAtWork, memberOverfilled, memberAllFull, bayLoad,
		footLoad, padPressure, unevenFloor, tipping, vibration,
		drainNear, dumpRate, fallDepth, fallSlope,
	}, fitRules()...)
}

var supportKnown = rule.Rule[Facts]{
	ID: "FL-001", Severity: rule.Blocker, Title: "What the floor rests on is unknown",
	Why:      "A slab on the ground and a floor over a room are two different questions; taken for the wrong one, tanks can go through.",
	Compares: "kind of floor named or not",
	Source:   source.Derivation("no load can be judged without knowing what carries it"),
	Check: func(f Facts) []rule.Answer {
		switch f.Support {
		case Ground:
			return []rule.Answer{rule.Passes("", nil, nil, "The floor is a slab on the ground. Its thickness, reinforcement and sub-base are for the builder to confirm against the foot loads.")}
		case Suspended:
			return []rule.Answer{rule.Passes("", nil, nil, "The floor spans over a room: it is set against the figures given for it.")}
		}
		return []rule.Answer{rule.Lacks("", "Ask whether there is a room, cellar or void below.", "Support")}
	},
}

var massesKnown = rule.Rule[Facts]{
	ID: "FL-002", Severity: rule.Blocker, Title: "The mass of a piece is unknown",
	Why:      "A piece without a mass counts for nothing in every sum that follows.",
	Compares: "pieces with a mass from the maker or from geometry",
	Source:   source.Derivation("a sum needs all its parts"),
	Check: func(f Facts) []rule.Answer {
		var out []rule.Answer
		for i := range f.Result.Items {
			row := &f.Result.Items[i]
			if row.OnFloor && row.MassUnknown {
				out = append(out, rule.Lacks(row.Tag, "Neither a maker's mass nor a geometry to estimate it from is there for "+row.Tag+".", "Items["+row.Tag+"].Empty"))
			}
		}
		if out == nil {
			return []rule.Answer{rule.Passes("", nil, f.Result.Operating, fmt.Sprintf("All pieces have a mass; together %.2f t at work, %.2f t brim-full.", f.Result.Operating.T(), f.Result.Test.T()))}
		}
		return out
	},
}

var onMembers = rule.Rule[Facts]{
	ID: "FL-003", Severity: rule.Warning, Title: "A piece stands on floor whose members are not known",
	Why:      "Beyond the outermost known beam the share of the load is a guess, and a cantilever loads it more than its weight.",
	Compares: "each foot between two known members or on one",
	Source:   source.Derivation("lever rule between two supports"),
	Check: func(f Facts) []rule.Answer {
		if f.Support != Suspended || len(f.Input.Members) == 0 {
			return []rule.Answer{rule.DoesNotApply("No members are entered.")}
		}
		var out []rule.Answer
		for _, tag := range f.Stray {
			out = append(out, rule.Lacks(tag, tag+" has feet that no pair of entered members carries: enter the missing member, or move it.", "Members"))
		}
		if out == nil {
			return []rule.Answer{rule.Passes("", nil, nil, "Every foot stands between two entered members.")}
		}
		return out
	},
}

var engineersFigure = rule.Rule[Facts]{
	ID: "FL-010", Severity: rule.Blocker, Title: "No engineer stands behind the figure for this floor",
	Why:      "Heavy equipment is not part of the loads a floor was designed for; a figure from a landlord or a memory has no one who answers for it.",
	Compares: "who gave the allowable load",
	Source:   source.Derivation("without a figure someone answers for, no load can be judged; EN 1991-1-1, 6.1(4), from memory, says that loads of heavy equipment should be agreed between client and authority"),
	Check: func(f Facts) []rule.Answer {
		if f.Support == Ground {
			return []rule.Answer{rule.DoesNotApply("The floor is a slab on the ground.")}
		}
		settled, given := f.Allow.Settled(), f.Allow != nil
		if len(f.Result.Members) > 0 {
			settled = true
			for i := range f.Result.Members {
				settled = settled && f.Result.Members[i].Settled
				given = given || f.Result.Members[i].Given()
			}
		}
		switch {
		case settled:
			return []rule.Answer{rule.Passes("", nil, nil, "A structural engineer gave the figure. It is his to say that the floor carries this schedule of loads.")}
		case given && f.Allow != nil:
			return []rule.Answer{{Subject: "", Have: f.Allow.Value, Missing: []string{"Allow"}, Words: fmt.Sprintf("The figure of %s comes from: %s (%s). A structural engineer must confirm it for these point loads before anything is ordered.", f.Allow.Value, f.Allow.From, f.Allow.By)}}
		}
		return []rule.Answer{rule.Lacks("", "Nobody has given what this floor may carry. Send the loading schedule to a structural engineer and enter the answer.", "Allow", "Members")}
	},
}

// judged turns the use of a member into an answer: over the limit fails; within a
// figure that no engineer stands behind, or while pieces have no place, it stays unknown.
// use is the state's with estimated masses at their upper end.
func judged(f Facts, m *MemberLoad, c CaseLoad, use unit.Ratio, what string) rule.Answer {
	have, need := m.have(c)
	words := fmt.Sprintf("Member %s %s asks %s of %s given (%.0f %%)", m.Name, what, unit.Fixed(need, 2), unit.Fixed(have, 2), use.Pct())
	if c.With != "" {
		words += " with " + c.With + " brim-full"
	}
	if m.Upper.Use > m.Operating.Use {
		words += "; estimated masses are taken at their upper end"
	}
	switch open := f.open(m); {
	case use > 1:
		return rule.Fails(m.Name, need, have, words+".")
	case !m.Settled:
		return rule.Answer{Subject: m.Name, Need: need, Have: have, Missing: []string{"Allow"}, Words: words + "; the figure is not an engineer's."}
	case open != "":
		return rule.Answer{Subject: m.Name, Need: need, Have: have, Missing: []string{open}, Words: words + "; not every piece's share is known yet."}
	}
	return rule.Passes(m.Name, need, have, words+"; for the engineer to confirm.")
}

// open names what keeps a member's load from being known: a piece without a place, or
// one that stands beyond the entered members and loads this one.
func (f Facts) open(m *MemberLoad) string {
	for i := range f.Input.Items {
		if it := &f.Input.Items[i]; it.Place == nil && !it.Wall && !it.Outside {
			return "Items[" + it.Tag + "].Place"
		}
	}
	for _, tag := range f.Stray {
		if slices.Contains(m.Items, tag) {
			return "Members"
		}
	}
	return ""
}

// have gives the governing pair of figures: moment, end reaction or area load.
func (m *MemberLoad) have(c CaseLoad) (have, need unit.Quantity) {
	if m.Allow != nil {
		return *m.Allow, c.Equivalent()
	}
	byMoment, byShear := -1.0, -1.0
	if m.AllowMoment != nil {
		byMoment = float64(c.Moment) / float64(*m.AllowMoment)
	}
	if m.AllowShear != nil {
		byShear = float64(max(c.Left, c.Right)) / float64(*m.AllowShear)
	}
	if byShear > byMoment {
		return *m.AllowShear, max(c.Left, c.Right)
	}
	return *m.AllowMoment, c.Moment
}

func eachMember(f Facts, answer func(m *MemberLoad) rule.Answer) []rule.Answer {
	if f.Support == Ground {
		return []rule.Answer{rule.DoesNotApply("The floor is a slab on the ground.")}
	}
	if len(f.Result.Members) == 0 {
		return []rule.Answer{areaOnly(f)}
	}
	out := make([]rule.Answer, 0, len(f.Result.Members))
	for i := range f.Result.Members {
		m := &f.Result.Members[i]
		if !m.Given() {
			out = append(out, rule.Lacks(m.Name, fmt.Sprintf("Member %s is asked for %s and %s; nobody has given what it may carry.", m.Name, unit.Fixed(m.Operating.Moment, 1), unit.Fixed(max(m.Operating.Left, m.Operating.Right), 1)), "Allow", "Members["+m.Name+"].Moment"))
			continue
		}
		out = append(out, answer(m))
	}
	return out
}

// areaOnly is what can be said of a suspended floor whose members are not known: the
// room's average over the figure fails; within it nothing is settled.
func areaOnly(f Facts) rule.Answer {
	if f.Available == nil {
		return rule.Lacks("", "Neither members nor an allowable load are known.", "Members", "Allow")
	}
	need := f.RoomAverage + f.Result.People.Value
	words := fmt.Sprintf("Over the whole room equipment and people ask %s of %s left", unit.Fixed(need, 2), unit.Fixed(*f.Available, 2))
	if need > *f.Available {
		return rule.Fails("", need, *f.Available, words+".")
	}
	return rule.Answer{Need: need, Have: *f.Available, Missing: []string{"Members"}, Words: words + "; a single joist can be asked for much more: enter the members."}
}

var memberAtWork = rule.Rule[Facts]{
	ID: "FL-020", Fills: "floor member", Severity: rule.Blocker, Title: "A floor member is asked for more than was given for it",
	Why:      "The floor is overloaded every working day; it sags, cracks, and may fail with people under it.",
	Compares: "moment and end reaction of each member, equipment at work and people, against the figure given",
	Source:   source.Derivation("statics of the simply supported member"), DependsOn: []string{"FL-002"},
	Check: func(f Facts) []rule.Answer {
		var help *reliever
		return eachMember(f, func(m *MemberLoad) rule.Answer {
			a := judged(f, m, m.Upper, m.Upper.Use, "at work")
			if a.Outcome == rule.Fail {
				if help == nil {
					help = newReliever(f)
				}
				a.Remedies = help.relief(m)
			}
			return a
		})
	},
}

var memberOverfilled = rule.Rule[Facts]{
	ID: "FL-021", Severity: rule.Warning, Title: "One overfilled vessel takes a member over the figure",
	Why:      "A failed level switch or a forgotten hose fills a vessel to the brim while the others work.",
	Compares: "each vessel brim-full in turn, the others at work, against the figure given",
	Source:   source.Derivation("statics; the combination is common practice"), DependsOn: []string{"FL-020"},
	Check: func(f Facts) []rule.Answer {
		return eachMember(f, func(m *MemberLoad) rule.Answer {
			a := judged(f, m, m.Overfill, m.OverfillUpper, "with one vessel overfilled")
			if a.Outcome == rule.Fail && m.Upper.Use <= 1 {
				a.Remedies = []rule.Remedy{{
					Kind: "overfill-protection", Need: m.Upper.Equivalent(), Have: a.Have,
					Words:  fmt.Sprintf("Give %s an overflow at its working level, piped to the gully: the member then stays at %.0f %%.", m.Overfill.With, m.Upper.Use.Pct()),
					Params: []rule.Param{{Name: "item", Text: m.Overfill.With}},
				}}
			}
			return a
		})
	},
}

var memberAllFull = rule.Rule[Facts]{
	ID: "FL-022", Severity: rule.Warning, Title: "All vessels brim-full at once take a member over the figure",
	Why:      "Where nothing keeps all vessels from being filled to the brim, the floor must be held against it.",
	Compares: "all vessels brim-full against the figure given",
	Source:   source.Practice("only asked where the client cannot exclude it"), DependsOn: []string{"FL-020"},
	Check: func(f Facts) []rule.Answer {
		if !f.AllFull {
			return []rule.Answer{rule.DoesNotApply("The client fills one vessel to the brim at a time; the sheet shows the case for the engineer.")}
		}
		return eachMember(f, func(m *MemberLoad) rule.Answer {
			a := judged(f, m, m.Test, m.TestUpper, "with all vessels brim-full")
			if a.Outcome == rule.Fail && m.OverfillUpper <= 1 {
				a.Remedies = []rule.Remedy{{Kind: "fill-one-at-a-time", Need: m.Overfill.Equivalent(), Have: a.Have, Words: fmt.Sprintf("Agree in writing that one vessel at a time is filled to the brim: %.0f %%.", m.OverfillUpper.Pct())}}
			}
			return a
		})
	},
}

var bayLoad = rule.Rule[Facts]{
	ID: "FL-025", Fills: "bay", Severity: rule.Notice, Title: "A bay carries more than the area load given",
	Why:      "The boards or the slab between two beams get more than the figure, though the beams may still carry it.",
	Compares: "equipment at work and people over each bay against what is left of the bay's own area load, or of the floor's",
	Source:   source.Derivation("sum of the loads over the area of the bay"), DependsOn: []string{"FL-020"},
	Check: func(f Facts) []rule.Answer {
		if f.Support == Ground || len(f.Result.Bays) == 0 {
			return []rule.Answer{rule.DoesNotApply("No bays of a suspended floor are known.")}
		}
		if !slices.ContainsFunc(f.Result.Bays, func(b BayLoad) bool { return b.Available != nil }) {
			return []rule.Answer{rule.Lacks("", "No area load is given.", "Allow")}
		}
		out := make([]rule.Answer, 0, len(f.Result.Bays))
		for i := range f.Result.Bays {
			out = append(out, f.bay(&f.Result.Bays[i]))
		}
		return out
	},
}

// bay sets one bay against the figure that holds for it.
func (f Facts) bay(b *BayLoad) rule.Answer {
	need := b.Operating + f.Result.People.Value
	words := fmt.Sprintf("Bay %s: equipment %s and people %s", b.Name, unit.Fixed(b.Operating, 2), unit.Fixed(f.Result.People.Value, 2))
	if b.Available == nil {
		return rule.Lacks(b.Name, words+"; nobody has given what it may carry.", "Bays["+b.Name+"].Allow")
	}
	have := *b.Available
	words += fmt.Sprintf(" against %s", unit.Fixed(have, 2))
	switch {
	case need > have:
		return rule.Fails(b.Name, need, have, words+".")
	case !b.Settled:
		return rule.Answer{Subject: b.Name, Need: need, Have: have, Missing: []string{"Bays[" + b.Name + "].Allow"}, Words: words + "; the figure is not an engineer's."}
	}
	return rule.Passes(b.Name, need, have, words+".")
}

// reliever is the floor made ready for trying changes.
type reliever struct {
	f    Facts
	in   Input
	w    *work
	room plan.Chooser
}

func newReliever(f Facts) *reliever {
	h := &reliever{f: f, in: f.Input}
	d, err := newDeck(h.in.Members)
	if err != nil {
		return h
	}
	r := Result{People: f.Result.People, AddedLoad: f.AddedLoad, Items: append([]ItemLoad(nil), f.Result.Items...)}
	h.w = newWork(&h.in, &r, d)
	h.room = plan.NewChooser(&h.in.Room, h.w.planned)
	return h
}

// relief tries, for a member over its figure, to move the pieces that load it most
// and to put another product in their place.
func (h *reliever) relief(m *MemberLoad) []rule.Remedy {
	if h.w == nil {
		return nil
	}
	at := slices.IndexFunc(h.in.Members, func(x Member) bool { return x.Name == m.Name })
	var out []rule.Remedy
	for k, i := range h.w.on(at) {
		if k >= 3 || len(out) >= 2 {
			break
		}
		if mv, ok := h.w.relieve(at, i, h.room); ok {
			out = append(out, mv.remedy(m))
		}
		out = append(out, h.f.swap(m, i)...)
	}
	return out
}

func (mv Move) remedy(m *MemberLoad) rule.Remedy {
	d := mv.To.At.Sub(mv.From.At)
	return rule.Remedy{
		Kind: "move-item", Need: mv.Worst, Have: unit.Fraction(1),
		Words:  fmt.Sprintf("Move %s by %.2f m (%+.2f, %+.2f) to x %.2f, y %.2f: member %s comes within the figure, the highest use is then %.0f %%.", mv.Tag, math.Hypot(d.X.M(), d.Y.M()), d.X.M(), d.Y.M(), mv.To.At.X.M(), mv.To.At.Y.M(), m.Name, mv.Worst.Pct()),
		Params: []rule.Param{{Name: "item", Text: mv.Tag}, {Name: "x", Quantity: mv.To.At.X}, {Name: "y", Quantity: mv.To.At.Y}, {Name: "turn", Quantity: mv.To.Turn}},
	}
}

// swap tries the item's alternatives in its place.
func (f Facts) swap(m *MemberLoad, item int) []rule.Remedy {
	var out []rule.Remedy
	it := &f.Input.Items[item]
	for _, alt := range it.Alternatives {
		if alt.Count > 1 { // several need places of their own: for the layout, not here
			continue
		}
		in := f.Input
		in.Items = append([]Item(nil), in.Items...)
		in.Items[item] = it.as(alt)
		d, err := newDeck(in.Members)
		if err != nil {
			continue
		}
		r := Result{People: f.Result.People, AddedLoad: f.AddedLoad}
		if err := r.masses(&in); err != nil {
			continue
		}
		for _, now := range newWork(&in, &r, d).members() {
			if now.Name == m.Name && now.Upper.Use <= 1 {
				out = append(out, rule.Remedy{
					Kind: "other-product", Need: now.Upper.Use, Have: unit.Fraction(1),
					Words:  fmt.Sprintf("Take %s (%s) for %s: member %s is then at %.0f %%.", alt.Name, alt.Code, it.Tag, m.Name, now.Upper.Use.Pct()),
					Params: []rule.Param{{Name: "item", Text: it.Tag}, {Name: "product", Text: alt.Code}},
				})
			}
		}
	}
	return out
}

// as is the item with another product in its place.
func (it Item) as(a Alternative) Item {
	it.Product, it.Name, it.Length, it.Width, it.Height = a.Code, a.Name, a.Length, a.Width, a.Height
	it.Empty, it.Liquid, it.Brim, it.Vessel = &a.Empty, a.Liquid, a.Brim, nil
	if a.Feet != nil {
		it.Feet = a.Feet
	}
	return it
}
