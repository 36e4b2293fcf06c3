package floor

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/plan"
	"tunwright/configurator/rule"
)

// Drains. The distances and slopes are those of the trade.
const (
	drainReach = 3.0       // m, a hose's length without crossing a walkway (common practice, no source)
	leastFall  = 1.0 / 100 // common minimum of wet trade floors
	steepFall  = 1.0 / 40  // trolleys and feet slide beyond (common practice, no source)
)

var drainNear = rule.Rule[Facts]{
	ID: "FL-040", Severity: rule.Warning, Title: "A vessel has no gully in reach",
	Why:      "Dumping and cleaning run over the floor and through the walkway.",
	Compares: "way to the nearest gully against 3 m",
	Source:   source.Practice("a short hose without crossing a walkway"),
	Check: func(f Facts) []rule.Answer {
		if len(f.Drains) == 0 {
			return []rule.Answer{rule.DoesNotApply("No piece asks for a gully.")}
		}
		if len(f.Room.Gullies) == 0 {
			return []rule.Answer{rule.Lacks("", "The place of the gullies is not known.", "Room.Gullies")}
		}
		var far, open []string
		worst := &f.Drains[0]
		for i := range f.Drains {
			d := &f.Drains[i]
			if d.Gully == "" {
				open = append(open, "Items["+d.Tag+"].Place")
				continue
			}
			if d.Way > worst.Way {
				worst = d
			}
			if d.Way > drainReach {
				far = append(far, d.Tag)
			}
		}
		words := fmt.Sprintf("the furthest, %s, is %.1f m from %s", worst.Tag, worst.Way.M(), worst.Gully)
		switch {
		case far != nil:
			a := rule.Fails(strings.Join(far, ", "), worst.Way, unit.Metres(drainReach), fmt.Sprintf("%s: more than 3 m to the nearest gully; %s.", strings.Join(far, ", "), words))
			a.Remedies = f.gullies(far)
			return []rule.Answer{a}
		case open != nil:
			return []rule.Answer{rule.Lacks("", "Some pieces that need a gully have no place yet.", open...)}
		}
		return []rule.Answer{rule.Passes("", worst.Way, unit.Metres(drainReach), "Every vessel has a gully in reach; "+words+".")}
	},
}

// mostGullies is how many further gullies are thought of, for at most mostFar pieces,
// before a channel is better.
const mostGullies, mostFar = 3, 9

// gullies seeks the fewest further gullies, on a raster of half a metre, or a metre in
// a large room, that bring every far piece within reach: each time the place that
// serves most of them. Where more would be needed it seeks channels.
func (f Facts) gullies(far []string) []rule.Remedy {
	var left, standing []plan.Standing
	for i := range f.Input.Items {
		it := &f.Input.Items[i]
		if it.Place == nil {
			continue
		}
		s := it.Standing(*it.Place)
		if slices.Contains(far, it.Tag) {
			left = append(left, s)
		}
		if !it.Wall && !it.Outside {
			standing = append(standing, s)
		}
	}
	lo, hi := f.Room.Outline.Bounds()
	var points, lines []outlet
	every := unit.Metres(0.5)
	if f.RoomArea > unit.SquareMetres(60) {
		every = unit.Metres(1)
	}
	for x := lo.X + 0.5; x < hi.X && len(left) <= mostFar; x += every {
		for y := lo.Y + 0.5; y < hi.Y; y += every {
			at := plan.Point{X: x, Y: y}
			if o := newOutlet(plan.Gully{At: at}, left); o.count > 0 && f.Room.Outline.Contains(at) && bare(o.Gully, standing) {
				points = append(points, o)
			}
		}
	}
	if found := serveAll(points, len(left), mostGullies); found != nil {
		return []rule.Remedy{addDrains("add-gully", found)}
	}
	for y := lo.Y + 0.5; y < hi.Y; y += 0.5 {
		lines = append(lines, newOutlet(plan.Gully{At: plan.Point{X: lo.X + 0.5, Y: y}, To: &plan.Point{X: hi.X - 0.5, Y: y}}, left))
	}
	for x := lo.X + 0.5; x < hi.X; x += 0.5 {
		lines = append(lines, newOutlet(plan.Gully{At: plan.Point{X: x, Y: lo.Y + 0.5}, To: &plan.Point{X: x, Y: hi.Y - 0.5}}, left))
	}
	if found := serveAll(lines, len(left), 2); found != nil {
		return []rule.Remedy{addDrains("add-channel", found)}
	}
	return nil
}

// outlet is a place for a gully or channel, with which of the pieces it serves.
type outlet struct {
	plan.Gully
	serves []bool
	count  int
}

func newOutlet(g plan.Gully, pieces []plan.Standing) outlet {
	o := outlet{Gully: g}
	for i := range pieces {
		if pieces[i].Gap(g) > drainReach {
			continue
		}
		if o.serves == nil {
			o.serves = make([]bool, len(pieces))
		}
		o.serves[i] = true
		o.count++
	}
	return o
}

// serveAll picks, each time, the outlet that brings most of the pieces left within reach.
func serveAll(outlets []outlet, pieces, most int) []plan.Gully {
	var out []plan.Gully
	served := make([]bool, pieces)
	for left := pieces; left > 0; {
		best, gain := -1, 0
		for k := range outlets {
			if n := outlets[k].gain(served); n > gain {
				best, gain = k, n
			}
		}
		if best < 0 || len(out) == most {
			return nil
		}
		out = append(out, outlets[best].Gully)
		left -= gain
		for i, s := range outlets[best].serves {
			served[i] = served[i] || s
		}
	}
	return out
}

// gain counts the pieces that an outlet serves and no other has yet.
func (o *outlet) gain(served []bool) int {
	n := 0
	for i, s := range o.serves {
		if s && !served[i] {
			n++
		}
	}
	return n
}

func addDrains(kind string, found []plan.Gully) rule.Remedy {
	var words []string
	r := rule.Remedy{Kind: kind, Need: unit.Metres(drainReach), Have: unit.Metres(drainReach)}
	for _, g := range found {
		r.Params = append(r.Params, rule.Param{Name: "x", Quantity: g.At.X}, rule.Param{Name: "y", Quantity: g.At.Y})
		if g.To == nil {
			words = append(words, fmt.Sprintf("a gully at x %.1f, y %.1f", g.At.X.M(), g.At.Y.M()))
			continue
		}
		r.Params = append(r.Params, rule.Param{Name: "to_x", Quantity: g.To.X}, rule.Param{Name: "to_y", Quantity: g.To.Y})
		words = append(words, fmt.Sprintf("a channel from x %.1f, y %.1f to x %.1f, y %.1f", g.At.X.M(), g.At.Y.M(), g.To.X.M(), g.To.Y.M()))
	}
	r.Words = fmt.Sprintf("Set %s: every vessel is then within 3 m; cutting a suspended floor is the engineer's.", strings.Join(words, " and "))
	return r
}

// bare tells whether no piece stands on a gully's place.
func bare(g plan.Gully, standing []plan.Standing) bool {
	return !slices.ContainsFunc(standing, func(s plan.Standing) bool { return s.Gap(g) <= 0 })
}

var dumpRate = rule.Rule[Facts]{
	ID: "FL-041", Severity: rule.Warning, Title: "A tank empties faster than its gully takes it",
	Why:      "The room floods; on an upper floor it comes through the ceiling below, and the water is load.",
	Compares: "full-bore flow at the start against the gully's flow",
	Source:   source.Derivation("Torricelli's law, C_d 0.6; gully flow as given by its maker at 20 mm head (EN 1253-1)"),
	Check: func(f Facts) []rule.Answer {
		var out []rule.Answer
		var open, missing []string
		for i := range f.Drains {
			d := &f.Drains[i]
			if d.NoOutlet {
				open, missing = append(open, d.Tag), append(missing, "Items["+d.Tag+"].Bore")
			}
			if d.Peak == 0 {
				continue
			}
			if d.GullyFlow == nil {
				out = append(out, rule.Lacks(d.Tag, fmt.Sprintf("%s empties with %s at the start; what its gully takes is not known.", d.Tag, unit.In(d.Peak, "l_s", 1)), "Room.Gullies.Flow"))
				continue
			}
			words := fmt.Sprintf("%s empties with %s, %s takes %s", d.Tag, unit.In(d.Peak, "l_s", 1), d.Gully, unit.In(*d.GullyFlow, "l_s", 1))
			if d.Hot {
				words += ", hot: gully, trap and pipe must stand it"
			}
			held := f.Drainage != nil && f.Drainage.Held >= d.Buffer
			if d.Peak <= *d.GullyFlow || held {
				out = append(out, rule.Passes(d.Tag, d.Peak, *d.GullyFlow, words+"."))
				continue
			}
			out = append(out, rule.Fails(d.Tag, d.Peak, *d.GullyFlow, fmt.Sprintf("%s: up to %.0f L would stand on the floor.", words, d.Buffer.L()),
				rule.Remedy{Kind: "throttle-dump", Need: *d.GullyFlow, Have: *d.GullyFlow, Words: fmt.Sprintf("Fit an orifice of %.0f mm in the dump line of %s, so that the gully carries it.", d.Throttle.MM(), d.Tag), Params: []rule.Param{{Name: "item", Text: d.Tag}, {Name: "bore", Quantity: d.Throttle}}},
				rule.Remedy{Kind: "dump-buffer", Need: d.Buffer, Have: d.Buffer, Words: fmt.Sprintf("Provide a pit, channel or kerbed area that holds %.0f L.", d.Buffer.L()), Params: []rule.Param{{Name: "volume", Quantity: d.Buffer}}}))
		}
		if open != nil {
			out = append(out, rule.Lacks("", fmt.Sprintf("The outlet of %s is not stated: how fast it empties when its valve is thrown open is not known. Ask the works for the bore.", strings.Join(open, ", ")), missing...))
		}
		if out == nil {
			return []rule.Answer{rule.DoesNotApply("No piece is dumped onto the floor.")}
		}
		return out
	},
}

// fallOpen tells whether a drained floor's fall is not known.
func (f Facts) fallOpen() bool { return f.Drainage != nil && f.Drainage.Fall == nil }

var fallDepth = rule.Rule[Facts]{
	ID: "FL-042", Severity: rule.Warning, Title: "The falls are deeper than the build-up that may be laid",
	Why:      "The floor cannot be laid to falls as drawn; water stands, or the door no longer opens.",
	Compares: "least thickness and rise, or the channel's depth, against the build-up that may be laid",
	Source:   source.Derivation("rise = run · slope"),
	Check: func(f Facts) []rule.Answer {
		r := f.Falls
		switch {
		case f.fallOpen():
			return []rule.Answer{rule.Lacks("", "Whether and how steeply the floor falls to its gullies is not known.", "Drainage.Fall")}
		case r == nil:
			return []rule.Answer{rule.DoesNotApply("No falls are planned.")}
		}
		need := max(r.Deepest, r.ChannelDepth)
		if r.Depth == nil {
			return []rule.Answer{rule.Lacks("", fmt.Sprintf("The falls ask for %.0f mm at the edge and %.0f mm at a channel's outlet; the depth that may be laid is not known.", r.Deepest.MM(), r.ChannelDepth.MM()), "Drainage.Depth")}
		}
		words := fmt.Sprintf("%.0f mm at the edge, %.0f mm at a channel's outlet, against %.0f mm", r.Deepest.MM(), r.ChannelDepth.MM(), r.Depth.MM())
		if need <= *r.Depth {
			return []rule.Answer{rule.Passes("", need, *r.Depth, words+".")}
		}
		var out []rule.Remedy
		if d := f.Drainage; *r.Depth > d.Least && r.ChannelDepth <= *r.Depth {
			run := unit.Length(float64(*r.Depth-d.Least) / d.Fall.Value())
			out = append(out, rule.Remedy{Kind: "more-gullies", Need: *r.Depth, Have: *r.Depth, Words: fmt.Sprintf("Set gullies so that no water runs further than %.2f m.", math.Floor(run.M()*100)/100), Params: []rule.Param{{Name: "run", Quantity: run}}})
		}
		return []rule.Answer{rule.Fails("", need, *r.Depth, words+".", out...)}
	},
}

var fallSlope = rule.Rule[Facts]{
	ID: "FL-043", Severity: rule.Notice, Title: "The floor's fall is flat or steep",
	Why:      "Below 1:100 water stands in the hollows; beyond 1:40 trolleys run away.",
	Compares: "slope against 1:100 and 1:40",
	Source:   source.Practice("1:100 common minimum, 1:80 to 1:60 usual on resin floors, 1:40 steepest"),
	Check: func(f Facts) []rule.Answer {
		d := f.Drainage
		switch {
		case f.fallOpen():
			return []rule.Answer{rule.Lacks("", "Whether and how steeply the floor falls to its gullies is not known.", "Drainage.Fall")}
		case d == nil || *d.Fall == 0:
			return []rule.Answer{rule.DoesNotApply("No falls are planned.")}
		}
		words := fmt.Sprintf("The fall is 1:%.0f", 1/d.Fall.Value())
		switch {
		case *d.Fall < leastFall-1e-9:
			return []rule.Answer{rule.Fails("", unit.Fraction(leastFall), *d.Fall, words+", flatter than 1:100.")}
		case *d.Fall > steepFall+1e-9:
			return []rule.Answer{rule.Fails("", *d.Fall, unit.Fraction(steepFall), words+", steeper than 1:40.")}
		}
		return []rule.Answer{rule.Passes("", *d.Fall, unit.Fraction(steepFall), words+".")}
	},
}
