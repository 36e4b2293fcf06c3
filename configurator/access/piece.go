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
	var out []piece
	for i := range in.Items {
		for j := range in.Items[i].Pieces {
			p := ready(in.Items[i].Tag, in.Items[i].Product, &in.Items[i].Pieces[j])
			p.outside, p.roof = in.Items[i].Outside, in.Items[i].Roof
			out = append(out, p)
		}
	}
	return out
}

func ready(tag, product string, p *Piece) piece {
	out := piece{tag: tag, product: product, p: p, upper: p.Mass}
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
