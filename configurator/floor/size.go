package floor

import (
	"fmt"
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/plan"
	"tunwright/configurator/trace"
)

// peopleDefault is carried everywhere beside the equipment when nobody said better
// (common practice, no source).
const peopleDefault = 1500 // N/m²

// ItemLoad is what one piece asks of the floor.
type ItemLoad struct {
	Tag                    string
	Empty, Operating, Test unit.Mass
	// Upper masses have the tolerance of the empty mass added.
	EmptyUpper, OperatingUpper, TestUpper unit.Mass
	Estimated                             bool
	Tolerance                             unit.Ratio
	MassUnknown                           bool // neither a mass nor a geometry is there
	CentreEmpty, CentreOperating          unit.Length
	Feet                                  *FootLoads
	Runner                                unit.LineLoad // load of a stiff skid's runner
	// Footprint and the rest are the working load as uniform load in five ways:
	// on its footprint, with 0.3 m all round, over the room, over its bay, and on the
	// member it loads most (people included).
	Footprint, Tributary, Room, Bay, Member unit.AreaLoad
	FootprintTest                           unit.AreaLoad
	Bays, Members                           []string // where it stands
	OnFloor                                 bool
	Stray                                   bool
	TipMoment, HoldMoment                   unit.Moment // horizontal force against own empty mass
}

// Size works out what the equipment asks of the floor. It returns an error for what
// is impossible, such as two items with one tag; what does not fit is for the rules.
func Size(in Input) (Result, error) {
	if err := in.check(); err != nil {
		return Result{}, err
	}
	d, err := newDeck(in.Members)
	if err != nil {
		return Result{}, err
	}
	r := Result{RoomArea: in.Room.Outline.Area(), People: in.people()}
	r.build(&in)
	if err := r.masses(&in); err != nil {
		return Result{}, err
	}
	w := newWork(&in, &r, d)
	r.Members = w.members()
	r.bays(&in, w)
	r.five(&in, w)
	r.Conflicts = plan.Conflicts(&in.Room, w.planned)
	if in.Room.Persons != nil && len(in.Room.Outline) > 2 {
		width, err := plan.EscapeWidth(*in.Room.Persons)
		if err != nil {
			return Result{}, err
		}
		r.Escape = plan.EscapeRoutes(&in.Room, w.planned, width)
	}
	if err := r.drains(&in); err != nil {
		return Result{}, err
	}
	if err := r.yardsticks(&in); err != nil {
		return Result{}, err
	}
	r.steps(&in)
	return r, nil
}

// yardsticks looks up what the existing use and a forklift say.
func (r *Result) yardsticks(in *Input) error {
	if in.Use != "" {
		y, err := UKYardstick(in.Use)
		if err != nil {
			return err
		}
		r.Yardstick = &y
	}
	if in.Forklift != "" {
		axle, err := ForkliftAxle(in.Forklift, in.SolidTyres)
		if err != nil {
			return err
		}
		wheel := axle / 2
		r.Forklift = &wheel
	}
	return nil
}

func (in *Input) check() error {
	for i := range in.Items {
		it := &in.Items[i]
		if it.Tag == "" {
			return fmt.Errorf("item %d has no tag", i+1)
		}
		for j := range i {
			if in.Items[j].Tag == it.Tag {
				return fmt.Errorf("tag %s stands twice: each piece needs its own", it.Tag)
			}
		}
		if it.Length <= 0 || (it.Width <= 0 && !it.Round) {
			return fmt.Errorf("item %s has no size: length and width must be greater than 0", it.Tag)
		}
		if it.Empty != nil && (*it.Empty <= 0 || math.IsInf(it.Empty.Kg(), 0) || math.IsNaN(it.Empty.Kg())) {
			return fmt.Errorf("item %s has an empty mass of %s: it must be greater than 0 kg, or unknown", it.Tag, *it.Empty)
		}
		if it.Brim < it.Liquid && it.Brim != 0 {
			return fmt.Errorf("item %s holds %s at work but %s brim-full: brim-full must be the larger", it.Tag, it.Liquid, it.Brim)
		}
		if it.Feet != nil {
			if err := it.Feet.check(it.Tag); err != nil {
				return err
			}
		}
	}
	return nil
}

func (in *Input) people() Given[unit.AreaLoad] {
	if in.People != nil {
		return *in.People
	}
	return Given[unit.AreaLoad]{Value: peopleDefault, Basis: Assumed, From: Us, By: "people and stock beside the equipment, common practice"}
}

// build takes the added build-up off the area load.
func (r *Result) build(in *Input) {
	sum := 0.0
	for _, l := range in.BuildUp {
		q := l.Thickness.M() * l.Weight.NM3()
		if l.Removed {
			q = -q
		}
		sum += q
	}
	r.AddedLoad = unit.AreaLoad(sum)
	if in.Allow != nil {
		q := in.Allow.Value - r.AddedLoad
		r.Available = &q
	}
}

func (r *Result) masses(in *Input) error {
	r.Items = make([]ItemLoad, len(in.Items))
	for i := range in.Items {
		it, row := &in.Items[i], &r.Items[i]
		row.Tag = it.Tag
		if err := it.mass(row); err != nil {
			return fmt.Errorf("item %s: %w", it.Tag, err)
		}
		row.OnFloor = !it.Wall && !it.Outside
		if !row.OnFloor {
			continue
		}
		r.Empty += row.Empty
		r.Operating += row.Operating
		r.Test += row.Test
		if it.Feet != nil {
			beta := in.Slope
			if beta == 0 {
				beta = unit.Degrees(0.3)
			}
			f := it.footLoads(row, beta)
			row.Feet = &f
			row.HoldMoment = unit.Moment(float64(Weight(row.Empty)) * arm(it.Feet.points()))
		} else if it.Runners > 0 {
			row.Runner = unit.LineLoad(float64(Weight(row.Operating)) / (float64(it.Runners) * it.Length.M()))
		}
		row.TipMoment = unit.Moment(float64(it.Horizontal) * it.HorizontalAt.M())
	}
	return nil
}

// steps writes down the working that a reader can follow.
func (r *Result) steps(in *Input) {
	for _, l := range in.BuildUp {
		sym := "g"
		if l.Removed {
			sym = "g removed"
		}
		r.Trace.Add(trace.Step{Title: l.Name, Symbol: sym, Formula: "t · γ", Values: []trace.Value{trace.V("t", l.Thickness), trace.V("γ", l.Weight)}, Result: unit.AreaLoad(l.Thickness.M() * l.Weight.NM3()), Source: source.Practice("unit weights of screed 20–21, concrete 24, resin 20 kN/m³")})
	}
	if r.Available != nil {
		r.Trace.Add(trace.Step{Title: "Area load left for people and equipment", Symbol: "q avail", Formula: "q given − g added", Values: []trace.Value{trace.V("q given", in.Allow.Value), trace.V("g added", r.AddedLoad)}, Result: *r.Available, Source: source.Derivation("permanent build-up uses up the same capacity")})
	}
	r.Trace.Add(trace.Step{Title: "Working equipment over the room", Symbol: "q room", Formula: "Σ m · g / A", Values: []trace.Value{trace.V("Σ m", r.Operating), trace.V("A", r.RoomArea)}, Result: r.RoomAverage, Source: source.Derivation("average"), Note: "says nothing of a single joist"})
	worst := r.Worst()
	if worst == nil {
		return
	}
	c := &worst.Operating
	r.Trace.Add(trace.Step{Title: "Largest moment in " + worst.Name + ", at work", Symbol: "M", Formula: "R_A·x − w·x²/2 − Σ P·(x − a)", Values: []trace.Value{trace.V("R_A", c.Left), trace.V("w", unit.LineLoad(float64(r.People.Value)*worst.Tributary.M())), trace.V("x", c.At)}, Result: c.Moment, Source: source.Derivation("simply supported beam")})
	if worst.Tributary > 0 {
		r.Trace.Add(trace.Step{Title: "Uniform load of equal moment", Symbol: "q_M", Formula: "8·M/(L²·s)", Values: []trace.Value{trace.V("M", c.Moment), trace.V("L", worst.Length), trace.V("s", worst.Tributary)}, Result: c.ByMoment, Source: source.Derivation("simply supported beam")})
		r.Trace.Add(trace.Step{Title: "Uniform load of equal end reaction", Symbol: "q_V", Formula: "2·V/(L·s)", Values: []trace.Value{trace.V("V", max(c.Left, c.Right)), trace.V("L", worst.Length), trace.V("s", worst.Tributary)}, Result: c.ByShear, Source: source.Derivation("simply supported beam")})
	}
}
