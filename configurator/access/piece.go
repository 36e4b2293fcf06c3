package access

import (
	"cmp"
	"slices"

	"tunwright/catalog/unit"
)

// piece is a transport piece made ready: its states from whole to all parts off.
type piece struct {
	tag, product string
	outside      bool
	roof         bool
	p            *Piece
	upper        unit.Mass // with tolerance
	states       []state
	bare         *state // everything off: the smallest
	alike        int    // number of an earlier piece that goes every way as this one does; -1: none
}

type state struct {
	body  body
	off   []string
	mass  unit.Mass
	refit unit.Duration
}

// maxParts limits the combinations of parts that are tried.
const maxParts = 4

func (in *Input) pieces() []piece {
	n := 0
	for i := range in.Items {
		n += len(in.Items[i].Pieces)
	}
	out := make([]piece, 0, n)
	for i := range in.Items {
		it := &in.Items[i]
		for j := range it.Pieces {
			p := &it.Pieces[j]
			at := slices.IndexFunc(out, func(o piece) bool { return o.alike < 0 && o.outside == it.Outside && o.p.alike(p) })
			var made piece
			if at >= 0 {
				made = out[at]
				made.tag, made.product, made.p = it.Tag, it.Product, p
			} else {
				made = ready(it.Tag, it.Product, p)
			}
			made.outside, made.roof, made.alike = it.Outside, it.Roof, at
			out = append(out, made)
		}
	}
	return out
}

// alike tells whether two pieces are the same but for their names: tanks of one product.
func (p *Piece) alike(o *Piece) bool {
	return p.Length == o.Length && p.Width == o.Width && p.Height == o.Height && p.Packing == o.Packing && p.Mass == o.Mass &&
		p.Round == o.Round && p.Lies == o.Lies && p.KeepUpright == o.KeepUpright && p.Estimated == o.Estimated && slices.Equal(p.Parts, o.Parts)
}

func ready(tag, product string, p *Piece) piece {
	out := piece{tag: tag, product: product, p: p, upper: p.Mass, alike: -1}
	if p.Estimated {
		out.upper = p.Mass * 1.15 // common practice, no source
	}
	h, d, w := (p.Height - p.Packing).M(), p.Length.M(), p.Width.M()
	if p.Lies {
		h, d, w = p.Length.M(), p.Width.M(), (p.Height - p.Packing).M()
	}
	if p.Round {
		d = max(d, w)
		w = d
	}
	whole := body{h: h, d: max(d, w), w: min(d, w), round: p.Round, upright: p.KeepUpright, lies: p.Lies}
	parts := p.Parts[:min(len(p.Parts), maxParts)]
	out.states = make([]state, 0, 1<<len(parts))
	for set := range 1 << len(parts) {
		s := state{body: whole, mass: out.upper}
		for k := range parts {
			if set&(1<<k) == 0 {
				continue
			}
			s.off = append(s.off, parts[k].Name)
			s.body.h -= parts[k].Height.M()
			s.body.d -= parts[k].Width.M()
			s.body.w -= parts[k].Width.M()
			s.mass -= parts[k].Mass
			s.refit += parts[k].Refit
		}
		s.body.h, s.body.d, s.body.w = max(s.body.h, 0.01), max(s.body.d, 0.01), max(s.body.w, 0.01)
		s.mass = max(s.mass, 0)
		out.states = append(out.states, s)
	}
	slices.SortStableFunc(out.states, func(a, b state) int {
		return cmp.Or(cmp.Compare(a.refit, b.refit), cmp.Compare(len(a.off), len(b.off)))
	})
	for k := range out.states {
		if len(out.states[k].off) == len(parts) {
			out.bare = &out.states[k]
		}
	}
	return out
}
