package floor

import (
	"fmt"
	"strconv"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator/plan"
)

// ScheduleTitle heads the paper that goes to the structural engineer.
const ScheduleTitle = "Equipment loading schedule, for information, not a structural design"

// ScheduleRow is one piece in the engineer's loading schedule.
type ScheduleRow struct {
	Item, Tag, Status                  string
	X, Y                               *unit.Length
	Turn                               unit.Angle
	Length, Width, Height              unit.Length
	Round                              bool
	Feet                               int
	Pattern                            string // "⌀ 800 PCD", "1200 × 600", "2 runners", "whole base"
	Pad                                unit.Length
	Empty, Operating, Test             unit.Mass
	Basis                              string // maker or estimated
	Tolerance                          unit.Ratio
	CentreEmpty, CentreOperating       unit.Length
	FootEmpty, FootOperating, FootTest unit.Force
	FootLeaning, FootBound             unit.Force
	PadPressure                        unit.Stress
	FootprintOperating, FootprintTest  unit.AreaLoad
	Runner                             unit.LineLoad
	Horizontal                         unit.Force
	Dynamic                            string
	Action                             string // permanent or variable
	Anchored                           bool
	Heaviest                           unit.Mass
	Notes                              string
}

// Schedule gives the engineer's rows, piece by piece in the order entered.
func Schedule(in Input, r Result) []ScheduleRow {
	out := make([]ScheduleRow, 0, len(in.Items))
	for i := range in.Items {
		it, l := &in.Items[i], &r.Items[i]
		if !l.OnFloor {
			continue
		}
		row := ScheduleRow{
			Item: it.Name, Tag: it.Tag, Status: "new", Length: it.Length, Width: it.Width, Height: it.Height, Round: it.Round,
			Pattern: pattern(it), Empty: l.Empty, Operating: l.Operating, Test: l.Test, Basis: "maker", Tolerance: l.Tolerance,
			CentreEmpty: l.CentreEmpty, CentreOperating: l.CentreOperating, FootprintOperating: l.Footprint, FootprintTest: l.FootprintTest,
			Runner: l.Runner, Horizontal: it.Horizontal, Action: "dead mass permanent, contents variable", Anchored: it.Anchored, Heaviest: it.Heaviest,
		}
		if it.Existing {
			row.Status = "existing"
		}
		if it.Round {
			row.Width = it.Length
		}
		if l.Estimated {
			row.Basis = "estimated"
		}
		if it.Place != nil {
			x, y := it.Place.At.X, it.Place.At.Y
			row.X, row.Y, row.Turn = &x, &y, it.Place.Turn
		}
		if f := l.Feet; f != nil {
			row.Feet, row.Pad = it.Feet.Count, it.Feet.Pad
			row.FootEmpty, row.FootOperating, row.FootTest = f.Empty, f.Operating, f.Test
			row.FootLeaning, row.FootBound, row.PadPressure = f.Leaning, f.Bound, f.Pad
		}
		if it.Speed > 0 {
			row.Dynamic = fmt.Sprintf("%.0f r/min", it.Speed.Hz()*60)
			if it.Unbalance > 0 {
				row.Dynamic += ", " + unit.Fixed(it.Unbalance, 2)
			}
		}
		row.Notes = notes(it, l)
		out = append(out, row)
	}
	return out
}

func pattern(it *Item) string {
	switch {
	case it.Feet != nil && it.Feet.Circle > 0:
		return fmt.Sprintf("⌀ %.0f PCD", it.Feet.Circle.MM())
	case it.Feet != nil:
		return fmt.Sprintf("%.0f × %.0f", it.Feet.A.MM(), it.Feet.B.MM())
	case it.Runners > 0:
		return strconv.Itoa(it.Runners) + " runners"
	}
	return "whole base"
}

func notes(it *Item, l *ItemLoad) string {
	var n []string
	if l.MassUnknown {
		n = append(n, "mass unknown")
	}
	if it.Place == nil {
		n = append(n, "not placed")
	}
	if l.Stray {
		n = append(n, "stands beyond the entered members")
	}
	if it.Feet != nil && it.Feet.Count >= 4 {
		n = append(n, "upper bound until shimmed and grouted")
	}
	return strings.Join(n, "; ")
}

// MemberRow is one case of one member, ready to print.
type MemberRow struct {
	Member            string
	Span, Tributary   unit.Length
	Case              Case
	With              string
	Equipment         unit.Force
	EquipmentMoment   unit.Moment
	EquipmentAt       unit.Length
	Moment            unit.Moment
	At                unit.Length
	Left, Right       unit.Force
	ByMoment, ByShear unit.AreaLoad
	Use               *unit.Ratio // nil where nothing was given
	Against           string      // the figure and who gave it
}

// MemberRows gives, for each member, the cases the engineer asks for.
func MemberRows(r Result) []MemberRow {
	out := make([]MemberRow, 0, 5*len(r.Members))
	for i := range r.Members {
		m := &r.Members[i]
		for _, c := range []struct {
			name Case
			load *CaseLoad
		}{{CaseOperating, &m.Operating}, {CaseOverfill, &m.Overfill}, {CaseCommission, &m.Commission}, {CaseTest, &m.Test}, {CaseEmpty, &m.Empty}} {
			l := c.load
			row := MemberRow{
				Member: m.Name, Span: m.Length, Tributary: m.Tributary, Case: c.name, With: l.With,
				Equipment: l.Equipment, EquipmentMoment: l.EquipmentMoment, EquipmentAt: l.EquipmentAt,
				Moment: l.Moment, At: l.At, Left: l.Left, Right: l.Right, ByMoment: l.ByMoment, ByShear: l.ByShear, Against: m.against(),
			}
			if m.Given() {
				u := l.Use
				row.Use = &u
			}
			out = append(out, row)
		}
	}
	return out
}

// against says what the member is measured against and who gave it.
func (m *MemberLoad) against() string {
	var parts []string
	if m.Allow != nil {
		parts = append(parts, unit.Fixed(*m.Allow, 2)+" after build-up")
	}
	if m.AllowMoment != nil {
		parts = append(parts, unit.Fixed(*m.AllowMoment, 1))
	}
	if m.AllowShear != nil {
		parts = append(parts, unit.Fixed(*m.AllowShear, 1))
	}
	if parts == nil {
		return "nothing given"
	}
	who := string(m.Authority)
	if m.By != "" {
		who += ": " + m.By
	}
	return strings.Join(parts, ", ") + " (" + who + ")"
}

// UniformRow is one piece's load said as a uniform load in five ways.
type UniformRow struct {
	Tag                                  string
	Footprint, Around, Room, Bay, Member unit.AreaLoad
	FootprintTest                        unit.AreaLoad
	Bays, Members                        string
}

// UniformNote says which of the five answers decides.
const UniformNote = "Five answers to one question, at work: on the footprint; with 0.3 m all round; over the room; over the bay; on the worst member, people included. The room's average hides the worst joist: decide by bay and member."

// UniformRows gives the five answers for every piece on the floor.
func UniformRows(r Result) []UniformRow {
	out := make([]UniformRow, 0, len(r.Items))
	for i := range r.Items {
		l := &r.Items[i]
		if !l.OnFloor {
			continue
		}
		out = append(out, UniformRow{
			Tag: l.Tag, Footprint: l.Footprint, Around: l.Tributary, Room: l.Room, Bay: l.Bay, Member: l.Member, FootprintTest: l.FootprintTest,
			Bays: strings.Join(l.Bays, ", "), Members: strings.Join(l.Members, ", "),
		})
	}
	return out
}

// Question is one thing that only somebody else can answer.
type Question struct{ Who, What string }

// Questions lists what the engineer, the client and the installer are asked.
func Questions(in Input, r Result) []Question {
	var q []Question
	ask := func(who, what string) { q = append(q, Question{who, what}) }
	if in.Support == Unknown {
		ask("client", "Is there a room, cellar or void under the floor?")
	}
	if in.Support != Ground {
		if in.Allow == nil {
			ask("engineer", "What imposed load does the floor carry, in kN/m², and in which bays?")
		} else if !in.Allow.Settled() {
			ask("engineer", fmt.Sprintf("Is %s (%s: %s) right for these point loads?", in.Allow.Value, in.Allow.From, in.Allow.By))
		}
		if in.AllowPoint == nil {
			ask("engineer", "What concentrated load may a foot bring, and on which patch?")
		}
		if len(in.Members) == 0 {
			ask("engineer", "Where do joists or beams run, over which span, and what moment and end reaction may each take?")
		}
		ask("engineer", "Are the members continuous or simply supported, and may contents be taken at a level kept by overflow?")
		ask("engineer", "Do walls, columns and foundations carry the end reactions listed?")
	}
	if in.People == nil {
		ask("client", fmt.Sprintf("What else loads the floor beside the equipment? %s are assumed.", r.People.Value))
	}
	if in.TopLayer == "" {
		ask("client", "What do the feet stand on: resin, concrete, screed or boards?")
	}
	for i := range r.Items {
		if l := &r.Items[i]; l.OnFloor && l.Estimated && !l.MassUnknown {
			ask("works", fmt.Sprintf("Weighed mass of %s (estimated %.0f kg ± %.0f %%).", l.Tag, l.Empty.Kg(), l.Tolerance.Pct()))
		}
	}
	if in.Support == Suspended && in.Drainage != nil && in.Drainage.Depth == nil {
		ask("engineer", "How thick may falls and channels be laid, and may the slab be cut for gullies (with fire stopping)?")
	}
	return q
}

// Marks gives the plan's figure what the floor adds: members with their use along the
// span, bays, and feet.
func Marks(in Input, r Result) plan.Marks {
	var m plan.Marks
	for i := range r.Members {
		l := &r.Members[i]
		mark := plan.MemberMark{Name: l.Name, From: l.From, To: l.To, Primary: l.Primary, Given: l.Given(), Use: l.Operating.Use}
		for _, s := range l.Stations {
			mark.Stations = append(mark.Stations, s.Use)
		}
		m.Members = append(m.Members, mark)
	}
	for i := range r.Bays {
		b := &r.Bays[i]
		m.Bays = append(m.Bays, plan.BayMark{Name: b.Name, Outline: b.Outline, Given: b.Available != nil, Use: b.Use, Load: b.Operating})
	}
	for i := range in.Items {
		it := &in.Items[i]
		if it.Feet == nil || it.Place == nil || it.Wall || it.Outside {
			continue
		}
		for _, b := range it.bearings(i, nil) {
			m.Feet = append(m.Feet, plan.FootMark{Tag: it.Tag, At: b.p, Pad: unit.Metres(max(it.Feet.Pad.M(), 0.05))})
		}
	}
	return m
}
