package floor

import (
	"fmt"
	"math"
	"slices"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/plan"
	"tunwright/configurator/trace"
)

// peopleDefault is carried everywhere beside the equipment when nobody said better
// (common practice, no source).
const peopleDefault = 1500 // N/m²

// patchPoints is how many points a side a base without feet is divided in.
const patchPoints = 4

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

// share is the part of a piece's weight that a member gets at one place. Item −1 is
// what people and build-up bring through other members: f is then an area in m².
type share struct {
	member, item int32
	at, f        float64
}

// bearing is one point on which a piece bears, with its share of the weight.
type bearing struct {
	item  int32
	p     plan.Point
	f     float64
	carry carry
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

// mass fills in the empty, working and brim-full mass of a piece.
func (it *Item) mass(row *ItemLoad) error {
	rho := it.Density.KgM3()
	if rho == 0 {
		rho = 1050 // wort of 12 °P: 998.2 · 1.0484, rounded up
	}
	row.Estimated, row.Tolerance = it.Estimated || it.Empty == nil, it.Tolerance
	brim := it.Brim
	shellCentre, centre := it.Height*0.45, it.Height*0.5
	if it.Vessel != nil {
		e, err := EstimateVessel(*it.Vessel)
		if err != nil {
			return err
		}
		row.Empty, shellCentre = e.Empty, e.ShellCentre
		if brim == 0 {
			brim = e.Total
		}
		if it.Liquid > 0 {
			liquid := min(it.Liquid, e.Total)
			if _, centre, err = LiquidCentre(*it.Vessel, liquid); err != nil {
				return err
			}
		}
	}
	switch {
	case it.Empty != nil:
		row.Empty = *it.Empty
	case it.Vessel == nil:
		row.MassUnknown = true
	}
	if row.Tolerance == 0 && row.Estimated {
		row.Tolerance = unit.Percent(15) // common practice, no source
	}
	brim = max(brim, it.Liquid)
	liquid := unit.Kilograms(it.Liquid.M3() * rho)
	row.Operating = row.Empty + liquid + it.Coolant
	row.Test = row.Empty + it.Coolant + unit.Kilograms(brim.M3()*1000)
	if brim == it.Liquid { // an open trough or a stock that cannot be overfilled
		row.Test = row.Operating
	}
	more := row.Empty * unit.Mass(row.Tolerance)
	row.EmptyUpper, row.OperatingUpper, row.TestUpper = row.Empty+more, row.Operating+more, row.Test+more
	row.CentreEmpty = shellCentre
	row.CentreOperating = shellCentre
	if row.Operating > 0 {
		row.CentreOperating = unit.Metres(((row.Operating-liquid).Kg()*shellCentre.M() + liquid.Kg()*centre.M()) / row.Operating.Kg())
	}
	row.Footprint = unit.AreaLoad(float64(Weight(row.Operating)) / it.Footprint().M2())
	row.FootprintTest = unit.AreaLoad(float64(Weight(row.Test)) / it.Footprint().M2())
	round := (it.Length.M() + 0.6) * (it.Footprint().M2()/it.Length.M() + 0.6)
	row.Tributary = unit.AreaLoad(float64(Weight(row.Operating)) / round)
	return nil
}

// bearings appends where a piece bears on the floor, and with what share of its weight.
func (it *Item) bearings(i int, out []bearing) []bearing {
	if it.Place == nil || it.Wall || it.Outside {
		return out
	}
	sin, cos := math.Sincos(it.Place.Turn.Rad())
	put := func(x, y, f float64) {
		p := plan.P(it.Place.At.X.M()+x*cos-y*sin, it.Place.At.Y.M()+x*sin+y*cos)
		out = append(out, bearing{item: int32(i), p: p, f: f})
	}
	ex, ey := it.OffCentre.X.M(), it.OffCentre.Y.M()
	if it.Feet != nil {
		pts := it.Feet.points()
		sx, sy := 0.0, 0.0
		for _, p := range pts {
			sx += square(p.X.M())
			sy += square(p.Y.M())
		}
		for _, p := range pts {
			put(p.X.M(), p.Y.M(), 1/float64(len(pts))+ex*p.X.M()/sx+ey*p.Y.M()/sy)
		}
		return out
	}
	l := it.Length.M()
	wide := it.Footprint().M2() / l
	if it.Round { // the square of the same area as the circle
		l *= math.Sqrt(math.Pi) / 2
		wide = l
	}
	rows := patchPoints
	if it.Runners > 1 {
		rows = it.Runners
	}
	for a := range patchPoints {
		for b := range rows {
			x := l * ((float64(a)+0.5)/patchPoints - 0.5)
			y := wide * ((float64(b)+0.5)/float64(rows) - 0.5)
			if it.Runners > 1 {
				y = wide * (float64(b)/float64(rows-1) - 0.5)
			}
			put(x+ex, y+ey, 1/float64(patchPoints*rows))
		}
	}
	return out
}

func square(x float64) float64 { return x * x }

// work is what Size needs to go from bearings to members.
type work struct {
	in       *Input
	res      *Result
	deck     *deck
	planned  []plan.Item
	bearings []bearing
	shares   []share
	start    []int // where each member's shares begin
	weights  [5][]float64
	loads    []PointLoad
}

const (
	wEmpty = iota
	wOperating
	wTest
	wOperatingUpper
	wTestUpper
)

func newWork(in *Input, r *Result, d *deck) *work {
	w := &work{in: in, res: r, deck: d, planned: make([]plan.Item, len(in.Items)), bearings: make([]bearing, 0, 4*len(in.Items))}
	flat := make([]float64, 5*len(in.Items))
	for k := range w.weights {
		w.weights[k] = flat[k*len(in.Items) : (k+1)*len(in.Items)]
	}
	for i := range in.Items {
		w.planned[i] = in.Items[i].Item
		w.planned[i].Mass = r.Items[i].Operating
		w.bearings = in.Items[i].bearings(i, w.bearings)
		for k, m := range [5]unit.Mass{r.Items[i].Empty, r.Items[i].Operating, r.Items[i].Test, r.Items[i].OperatingUpper, r.Items[i].TestUpper} {
			w.weights[k][i] = float64(Weight(m))
		}
	}
	w.share()
	return w
}

// share brings every bearing to its members, and the members' ends to those they
// rest on, and puts them in order of member and place.
func (w *work) share() {
	w.shares = slices.Grow(w.shares[:0], 2*len(w.bearings)+8)
	for k := range w.bearings {
		b := &w.bearings[k]
		b.carry = w.deck.carried(b.p)
		if len(w.deck.lines) > 0 && b.carry.stray {
			w.res.Items[b.item].Stray = true
		}
		w.add(b.carry.a, b.item, b.carry.ta, b.f*b.carry.fa)
		w.add(b.carry.b, b.item, b.carry.tb, b.f*b.carry.fb)
	}
	for i := range w.deck.lines { // what people and build-up bring through other members
		ln := &w.deck.lines[i]
		half := ln.width * ln.length / 2
		w.put(ln.onA, -1, ln.atA, half)
		w.put(ln.onB, -1, ln.atB, half)
	}
	slices.SortStableFunc(w.shares, func(a, b share) int {
		switch {
		case a.member != b.member:
			return int(a.member - b.member)
		case a.at < b.at:
			return -1
		case a.at > b.at:
			return 1
		}
		return 0
	})
	w.start = slices.Grow(w.start[:0], len(w.deck.lines)+1)[:len(w.deck.lines)+1]
	k := 0
	for i := range w.start {
		for k < len(w.shares) && int(w.shares[k].member) < i {
			k++
		}
		w.start[i] = k
	}
	for i := range w.res.Items {
		if w.res.Items[i].Stray {
			w.res.Stray = append(w.res.Stray, w.res.Items[i].Tag)
		}
	}
}

func (w *work) add(m int, item int32, at, f float64) {
	if m < 0 {
		return
	}
	w.put(m, item, at, f)
	ln := &w.deck.lines[m]
	w.put(ln.onA, item, ln.atA, f*(1-at/ln.length))
	w.put(ln.onB, item, ln.atB, f*at/ln.length)
}

func (w *work) put(m int, item int32, at, f float64) {
	if m >= 0 && f != 0 {
		w.shares = append(w.shares, share{member: int32(m), item: item, at: at, f: f})
	}
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
