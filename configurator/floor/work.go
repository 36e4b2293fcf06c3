package floor

import (
	"slices"

	"tunwright/catalog/unit"
	"tunwright/configurator/plan"
)

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
