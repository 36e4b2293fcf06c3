package access

import (
	"fmt"
	"math"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// ways tries what would get a piece in: another entered route, a leaf off its hinges,
// another product, or an opening of its size.
func (f Facts) ways(i int, p *PieceResult) []rule.Remedy {
	var out []rule.Remedy
	for k := range f.Result.Routes {
		if o := &f.Result.Routes[k].Pieces[i]; k != f.Best && (o.Verdict == Passes || o.Verdict == Tight) {
			out = append(out, rule.Remedy{Kind: "other-route", Words: fmt.Sprintf("Bring %s in by %s: %s.", p.Name(), f.Result.Routes[k].Name, o.worst().Words()), Params: []rule.Param{{Name: "item", Text: p.Tag}, {Name: "route", Text: f.Result.Routes[k].Name}}})
		}
	}
	if r, ok := f.leafOff(i, p); ok {
		out = append(out, r)
	}
	out = append(out, f.alternatives(p)...)
	if r, ok := f.opening(i, p); ok {
		out = append(out, r)
	}
	return out
}

// leaf is what taking a door leaf off its hinges gains (common practice, 40–60 mm).
const leaf = 0.05

// leafOff tries the doors of the route with their leaves off.
func (f Facts) leafOff(i int, p *PieceResult) (rule.Remedy, bool) {
	route := f.Input.Routes[f.Best]
	steps := append([]Step(nil), route.Steps...)
	var names []string
	for k := range steps {
		if steps[k].Kind == Opening && steps[k].Width != nil && p.Steps[k].Verdict == Fails {
			w := *steps[k].Width + leaf
			steps[k].Width = &w
			names = append(names, steps[k].Name)
		}
	}
	if names == nil {
		return rule.Remedy{}, false
	}
	route.Steps = steps
	now, ok := f.again(route, f.pieceAt(i))
	if !ok || (now.Verdict != Passes && now.Verdict != Tight) {
		return rule.Remedy{}, false
	}
	s := now.worst()
	return rule.Remedy{Kind: "leaf-off", Need: s.Need, Have: s.Have, Words: fmt.Sprintf("Take the door leaf off at %s (about 50 mm more; measure it): %s passes, %.0f mm clear.", strings.Join(names, ", "), p.Name(), s.Clear.MM()), Params: []rule.Param{{Name: "step", Text: strings.Join(names, ", ")}}}, true
}

// pieceAt makes one piece ready again, by its number over all items.
func (f Facts) pieceAt(i int) piece {
	for k := range f.Input.Items {
		it := &f.Input.Items[k]
		if i < len(it.Pieces) {
			return ready(it.Tag, it.Product, &it.Pieces[i])
		}
		i -= len(it.Pieces)
	}
	return piece{}
}

// again runs one piece over one route.
func (f Facts) again(route Route, p piece) (PieceResult, bool) {
	r := Result{Margins: f.Result.Margins, Carrier: f.Result.Carrier}
	out, err := r.route(&f.Input, &route, []piece{p})
	if err != nil || len(out.Pieces) != 1 {
		return PieceResult{}, false
	}
	return out.Pieces[0], true
}

func (f Facts) alternatives(p *PieceResult) []rule.Remedy {
	var out []rule.Remedy
	for k := range f.Input.Items {
		it := &f.Input.Items[k]
		if it.Tag != p.Tag {
			continue
		}
		for _, alt := range it.Alternatives {
			passes := len(alt.Pieces) > 0
			for j := range alt.Pieces {
				now, ok := f.again(f.Input.Routes[f.Best], ready(it.Tag, alt.Code, &alt.Pieces[j]))
				passes = passes && ok && (now.Verdict == Passes || now.Verdict == Tight)
			}
			if passes {
				n := max(alt.Count, 1)
				out = append(out, rule.Remedy{Kind: "other-product", Words: fmt.Sprintf("Take %d × %s (%s) for %s: it passes by %s.", n, alt.Name, alt.Code, it.Tag, f.best().Name), Params: []rule.Param{{Name: "item", Text: it.Tag}, {Name: "product", Text: alt.Code}, {Name: "count", Quantity: unit.Fraction(float64(n))}}})
			}
		}
	}
	return out
}

// opening gives the least clear opening through which a piece passes lying, tried
// with the wanted margins; the crane that brings it there is the crane firm's to plan.
func (f Facts) opening(i int, p *PieceResult) (rule.Remedy, bool) {
	if crane := f.Lifting.Crane; crane != nil && !*crane {
		return rule.Remedy{}, false
	}
	pc := f.pieceAt(i)
	b := pc.states[0].body
	high := min(b.h, b.d)
	if b.upright {
		high = b.h
	}
	up := func(x float64) unit.Length { return unit.Millimetres(math.Ceil(x*20) * 50) }
	w, h := up(b.w+f.Result.Margins.Width.M()), up(high+f.Result.Carrier.Height.M()+f.Result.Margins.Height.M())
	now, ok := f.again(Route{Name: "opening", Steps: []Step{{Name: "opening", Kind: Opening, Width: &w, Height: &h, Ground: true}}}, pc)
	if !ok || now.Verdict != Passes {
		return rule.Remedy{}, false
	}
	return rule.Remedy{Kind: "make-opening", Need: w, Have: w, Words: fmt.Sprintf("Bring %s by crane through a window or wall opening of at least %.0f × %.0f mm clear (roof: %.0f mm square); the opening is the engineer's, the lift a competent person's.", p.Name(), w.MM(), h.MM(), math.Ceil((max(b.d, b.w)+f.Result.Margins.Hatch.M())*20)*50), Params: []rule.Param{{Name: "item", Text: p.Tag}, {Name: "width", Quantity: w}, {Name: "height", Quantity: h}}}, true
}

// hook is the height of hook, chain block and short slings over a piece that is lifted
// upright by its top (common practice, 400–600 mm).
const hook = 0.5 // m

// hoist tries to lift a piece upright by its top instead of tipping it over its heel:
// then its height and the gear count, not its diagonal.
func (f Facts) hoist(p *PieceResult, s *StepResult) []rule.Remedy {
	for i := range f.best().Pieces {
		if &f.best().Pieces[i] != p {
			continue
		}
		pc := f.pieceAt(i)
		for k := range pc.states {
			need := unit.Metres(pc.states[k].body.h + hook)
			if need > s.Have {
				continue
			}
			words := fmt.Sprintf("Lift %s upright by its top points, heel on a skate: %.0f mm with hook and chain block under %.0f mm", p.Name(), need.MM(), s.Have.MM())
			if len(pc.states[k].off) > 0 {
				words += ", with " + strings.Join(pc.states[k].off, " and ") + " off"
			}
			return []rule.Remedy{{Kind: "hoist-upright", Need: need, Have: s.Have, Words: words + "; what the hoist hangs from is the engineer's.", Params: []rule.Param{{Name: "item", Text: p.Tag}}}}
		}
	}
	return nil
}
