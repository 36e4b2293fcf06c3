package floor

import (
	"math"
	"slices"

	"tunwright/catalog/unit"
	"tunwright/configurator/plan"
)

// CaseLoad is what a member carries in one state.
type CaseLoad struct {
	With            string     // the vessel that is brim-full, where only one is
	Equipment       unit.Force // sum of the equipment's loads on the member
	EquipmentMoment unit.Moment
	EquipmentAt     unit.Length
	Left, Right     unit.Force // end reactions, people included
	Moment          unit.Moment
	At              unit.Length
	ByMoment        unit.AreaLoad // equivalent uniform loads; 0 where the member has no deck of its own
	ByShear         unit.AreaLoad
	// Use is what is asked over what was given; 0 where nothing was given.
	Use unit.Ratio
}

// Equivalent is the larger of the two equivalent uniform loads.
func (c CaseLoad) Equivalent() unit.AreaLoad { return max(c.ByMoment, c.ByShear) }

// Station is the use of a member at one place, for the heat picture.
type Station struct {
	At  unit.Length
	Use unit.Ratio
}

// MemberLoad is what one joist or beam is asked to carry.
type MemberLoad struct {
	Name       string
	From, To   plan.Point
	Length     unit.Length
	Tributary  unit.Length
	Primary    bool
	Operating  CaseLoad
	Overfill   CaseLoad // worst of: one brim-full, others at work
	Commission CaseLoad // worst of: one brim-full, others empty
	Test       CaseLoad // all brim-full
	Empty      CaseLoad
	// Upper is the working state with estimated masses at their upper end; the uses of
	// the overfilled and the all-full state with them stand beside it.
	Upper                    CaseLoad
	OverfillUpper, TestUpper unit.Ratio
	// What the use is measured against; nil where nothing was given.
	Allow       *unit.AreaLoad // after the build-up
	AllowMoment *unit.Moment
	AllowShear  *unit.Force
	Authority   Authority
	By          string
	Settled     bool      // an engineer stands behind it
	Stations    []Station // at work; empty where nothing was given
	Items       []string  // pieces that load it, heaviest share first
}

// Given tells whether anything was given to measure the member against.
func (m *MemberLoad) Given() bool {
	return m.AllowMoment != nil || m.AllowShear != nil || m.Allow != nil
}

// Worst is the member with the highest use at work, or nil.
func (r *Result) Worst() *MemberLoad {
	best := -1
	for i := range r.Members {
		if best < 0 || r.Members[i].Operating.Use > r.Members[best].Operating.Use {
			best = i
		}
	}
	if best < 0 {
		return nil
	}
	return &r.Members[best]
}

// limits are what a member's moment and end reaction are held against, and the
// uniform load that goes with them.
type limits struct {
	moment, shear float64 // +Inf where not given
	known         bool
	uniform       float64 // people, and build-up where the limits are gross
}

func (w *work) limits(i int, out *MemberLoad) limits {
	ln := &w.deck.lines[i]
	m := ln.m
	people := float64(w.res.People.Value)
	l := limits{moment: math.Inf(1), shear: math.Inf(1), uniform: people}
	if m.Moment != nil || m.Shear != nil {
		l.known = true
		l.uniform += float64(w.res.AddedLoad)
		if m.Moment != nil {
			l.moment, out.AllowMoment = float64(m.Moment.Value), &m.Moment.Value
			out.Authority, out.By, out.Settled = m.Moment.From, m.Moment.By, m.Moment.Settled()
		}
		if m.Shear != nil {
			l.shear, out.AllowShear = float64(m.Shear.Value), &m.Shear.Value
			if m.Moment == nil {
				out.Authority, out.By, out.Settled = m.Shear.From, m.Shear.By, m.Shear.Settled()
			}
			out.Settled = out.Settled && m.Shear.Settled()
		}
		return l
	}
	given := m.Allow
	if given == nil {
		given = w.in.Allow
	}
	if given == nil || ln.width == 0 {
		return l
	}
	q := given.Value - w.res.AddedLoad
	out.Allow, out.Authority, out.By, out.Settled = &q, given.From, given.By, given.Settled()
	l.known = true
	l.moment = float64(q) * ln.width * ln.length * ln.length / 8
	l.shear = float64(q) * ln.width * ln.length / 2
	return l
}

func (w *work) members() []MemberLoad {
	out := make([]MemberLoad, len(w.deck.lines))
	for i := range out {
		w.member(i, &out[i])
	}
	return out
}

func (w *work) member(i int, m *MemberLoad) {
	ln := &w.deck.lines[i]
	m.Name, m.From, m.To, m.Primary = ln.m.Name, ln.start(), ln.end(), ln.m.Primary
	m.Length, m.Tributary = unit.Length(ln.length), unit.Length(ln.width)
	lim := w.limits(i, m)
	m.Operating = w.caseLoad(i, lim, wOperating, wOperating, -1)
	m.stations(w, ln, lim)
	m.Empty = w.caseLoad(i, lim, wEmpty, wEmpty, -1)
	m.Test = w.caseLoad(i, lim, wTest, wTest, -1)
	m.Overfill, m.Commission = m.Operating, m.Empty
	on := w.on(i)
	full := w.worst(i, lim, wOperating, on)
	if full >= 0 {
		m.Overfill = w.caseLoad(i, lim, wOperating, wTest, full)
		m.Overfill.With = w.in.Items[full].Tag
	}
	m.Upper, m.OverfillUpper, m.TestUpper = m.Operating, m.Overfill.Use, m.Test.Use
	if w.tolerant(i) {
		m.Upper = w.caseLoad(i, lim, wOperatingUpper, wOperatingUpper, -1)
		m.OverfillUpper = w.caseLoad(i, lim, wOperatingUpper, wTestUpper, full).Use
		m.TestUpper = w.caseLoad(i, lim, wTestUpper, wTestUpper, -1).Use
	}
	if k := w.worst(i, lim, wEmpty, on); k >= 0 {
		m.Commission = w.caseLoad(i, lim, wEmpty, wTest, k)
		m.Commission.With = w.in.Items[k].Tag
	}
	m.Items = make([]string, len(on))
	for n, k := range on {
		m.Items[n] = w.in.Items[k].Tag
	}
}

// worst is the piece which, brim-full while the others are in the base state, asks
// most of a member; −1 where none asks more than the base state.
func (w *work) worst(i int, lim limits, base int, on []int) int {
	ln := &w.deck.lines[i]
	most := func(which int) (use, moment float64) {
		_, all, _ := w.gather(i, lim, base, wTest, which)
		s := beam(ln.length, all, lim.uniform*ln.width)
		if lim.known {
			use = max(float64(s.Moment)/lim.moment, float64(s.Shear())/lim.shear)
		}
		return use, float64(s.Moment)
	}
	best := -1
	use, moment := most(-1)
	for _, k := range on {
		if w.weights[wTest][k] <= w.weights[base][k] {
			continue
		}
		if u, m := most(k); u > use || (u == use && m > moment) {
			best, use, moment = k, u, m
		}
	}
	return best
}

// on lists the pieces that load a member, the largest load first.
func (w *work) on(i int) []int {
	var items []int
	var load [64]float64
	for k := w.start[i]; k < w.start[i+1]; k++ {
		s := &w.shares[k]
		if s.item < 0 {
			continue
		}
		at := slices.Index(items, int(s.item))
		if at < 0 {
			at = len(items)
			items = append(items, int(s.item))
		}
		if at < len(load) {
			load[at] += s.f * w.weights[wOperating][s.item]
		}
	}
	for k := 1; k < min(len(items), len(load)); k++ {
		for j := k; j > 0 && load[j] > load[j-1]; j-- {
			load[j], load[j-1] = load[j-1], load[j]
			items[j], items[j-1] = items[j-1], items[j]
		}
	}
	return items
}

func (w *work) tolerant(i int) bool {
	for k := w.start[i]; k < w.start[i+1]; k++ {
		if s := &w.shares[k]; s.item >= 0 && w.weights[wOperatingUpper][s.item] > w.weights[wOperating][s.item] {
			return true
		}
	}
	return false
}

// gather lists a member's point loads in one state, with one piece in another.
func (w *work) gather(i int, lim limits, base, special, which int) (equipment, all []PointLoad, sum float64) {
	w.loads = w.loads[:0]
	for k := w.start[i]; k < w.start[i+1]; k++ {
		s := &w.shares[k]
		if s.item < 0 {
			continue
		}
		weight := w.weights[base][s.item]
		if int(s.item) == which {
			weight = w.weights[special][s.item]
		}
		sum += s.f * weight
		w.loads = append(w.loads, PointLoad{P: unit.Force(s.f * weight), At: unit.Length(s.at)})
	}
	equipment, all = w.loads, w.loads
	if w.deck.lines[i].m.Primary {
		all = slices.Clone(equipment)
		for k := w.start[i]; k < w.start[i+1]; k++ {
			if s := &w.shares[k]; s.item < 0 {
				all = append(all, PointLoad{P: unit.Force(s.f * lim.uniform), At: unit.Length(s.at)})
			}
		}
		slices.SortStableFunc(all, func(a, b PointLoad) int {
			if a.At < b.At {
				return -1
			}
			if a.At > b.At {
				return 1
			}
			return 0
		})
	}
	return equipment, all, sum
}

func (w *work) caseLoad(i int, lim limits, base, special, which int) CaseLoad {
	ln := &w.deck.lines[i]
	equipment, all, sum := w.gather(i, lim, base, special, which)
	bare := beam(ln.length, equipment, 0)
	full := beam(ln.length, all, lim.uniform*ln.width)
	c := CaseLoad{
		Equipment: unit.Force(sum), EquipmentMoment: bare.Moment, EquipmentAt: bare.At,
		Left: full.Left, Right: full.Right, Moment: full.Moment, At: full.At,
	}
	if ln.width > 0 {
		c.ByMoment = unit.AreaLoad(8 * float64(full.Moment) / (ln.length * ln.length * ln.width))
		c.ByShear = unit.AreaLoad(2 * float64(full.Shear()) / (ln.length * ln.width))
	}
	if lim.known && lim.moment > 0 && lim.shear > 0 {
		c.Use = unit.Fraction(max(float64(full.Moment)/lim.moment, float64(full.Shear())/lim.shear))
	} else if lim.known {
		c.Use = unit.Fraction(math.Inf(1))
	}
	return c
}

func (m *MemberLoad) stations(w *work, ln *line, lim limits) {
	if !lim.known || lim.moment <= 0 || lim.shear <= 0 {
		return
	}
	i := slices.IndexFunc(w.deck.lines, func(l line) bool { return l.m == ln.m })
	_, all, _ := w.gather(i, lim, wOperating, wOperating, -1)
	mom, shear := curve(ln.length, float64(m.Operating.Left), all, lim.uniform*ln.width)
	m.Stations = make([]Station, stations+1)
	for k := range m.Stations {
		m.Stations[k] = Station{At: unit.Length(ln.length * float64(k) / stations), Use: unit.Fraction(max(mom[k]/lim.moment, shear[k]/lim.shear))}
	}
}
