// Package configurator judges a project: Check carries the enquiry and the chosen
// products through the disciplines, one's result into the next one's input, and
// gathers what their rules say. It is pure: the same project and catalogue give the
// same report, and no price is known here.
//
// Begin with Check and Report. carry_*.go say, one file a discipline, where each
// input comes from.
package configurator

import (
	"fmt"
	"reflect"

	"tunwright/catalog"
	"tunwright/configurator/access"
	"tunwright/configurator/air"
	"tunwright/configurator/brewing"
	"tunwright/configurator/calc"
	"tunwright/configurator/cooling"
	"tunwright/configurator/electrical"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/floor"
	"tunwright/configurator/haccp"
	"tunwright/configurator/pressure"
	"tunwright/configurator/programme"
	"tunwright/configurator/rule"
	"tunwright/configurator/water"
)

// usualFindings is room for the findings of a project of ordinary size.
const usualFindings = 512

// Check works a project out. An error means that the selection names products that
// the catalogue does not have; whatever does not fit, fails or is unknown stands in
// the report.
func Check(p enquiry.Project, c *catalog.Catalogue) (Report, error) {
	return Recheck(Report{}, p, c)
}

// Recheck gives what Check gives, sooner where a report of a similar project is at
// hand, such as that before an edit: a discipline's result follows from its input
// alone, so that one with the same input as before keeps its result and findings.
func Recheck(before Report, p enquiry.Project, c *catalog.Catalogue) (Report, error) {
	p = enquiry.Complete(p)
	chosen, err := resolve(p.Chosen, c)
	if err != nil {
		return Report{}, err
	}
	digest, err := c.Digest()
	if err != nil {
		return Report{}, fmt.Errorf("catalogue digest: %w", err)
	}
	k := &check{Report: Report{Project: p, Catalogue: digest, Chosen: chosen, Pieces: pieces(chosen), Findings: make([]Finding, 0, usualFindings)}, before: &before}
	k.brewing(c)
	k.cooling(c)
	k.electrical(c)
	k.floor(c)
	k.access(c)
	k.air(c)
	k.water(c)
	k.pressure()
	k.programme()
	k.food()
	return k.Report, nil
}

// check is a report in the making, with the one before it.
type check struct {
	Report
	before *Report
}

// gap notes that a discipline could not be worked out.
func (k *check) gap(d Discipline, err error) {
	k.Gaps = append(k.Gaps, Gap{Discipline: d, Words: err.Error()})
}

// work sizes a discipline and runs its rules, or keeps what the report before says of
// the same input. place tells where a report holds input and result.
func work[I, R, F any](k *check, d Discipline, in I, place func(*Report) (*I, **R), size func(I) (R, error), rules []rule.Rule[F], facts func(I, R) F) {
	input, result := place(&k.Report)
	if same, known := place(k.before); *known != nil && reflect.DeepEqual(*same, in) {
		*input, *result = *same, *known
		k.keep(d)
		return
	}
	out, err := size(in)
	if err != nil {
		k.gap(d, err)
		return
	}
	*input, *result = in, &out
	for f := range rule.Findings(rules, facts(in, out)) {
		k.Findings = append(k.Findings, Finding{Discipline: d, Finding: f})
	}
}

// keep takes a discipline's findings over from the report before.
func (k *check) keep(d Discipline) {
	for i := range k.before.Findings {
		if k.before.Findings[i].Discipline == d {
			k.Findings = append(k.Findings, k.before.Findings[i])
		}
	}
}

func (k *check) brewing(c *catalog.Catalogue) {
	work(k, Brewing, brewingInput(k.Project, k.Chosen, c), func(r *Report) (*brewing.Input, **brewing.Result) { return &r.Inputs.Brewing, &r.Brewing },
		brewing.Size, brewing.Rules(), func(in brewing.Input, out brewing.Result) brewing.Facts { return brewing.Facts{Input: in, Result: out} })
}

func (k *check) cooling(c *catalog.Catalogue) {
	in := coolingInput(k.Project, k.Chosen, c, k.Brewing)
	if len(in.Tanks) == 0 || in.Chiller.Code == "" {
		k.gap(Cooling, fmt.Errorf("no chiller or no jacketed tank is chosen: choose both to have the cooling worked out"))
		return
	}
	for _, other := range all(k.Chosen, catalog.ClassChiller) {
		if other.Product.Code != in.Chiller.Code {
			k.gap(Cooling, fmt.Errorf("%s and %s are chosen together: only equal chillers are reckoned as one plant, and the first alone is judged", in.Chiller.Code, other.Product.Code))
			break
		}
	}
	work(k, Cooling, in, func(r *Report) (*cooling.Input, **cooling.Result) { return &r.Inputs.Cooling, &r.Cooling },
		cooling.Size, cooling.Rules(), func(in cooling.Input, out cooling.Result) cooling.Facts {
			return cooling.Facts{Input: in, Result: out}
		})
}

func (k *check) electrical(c *catalog.Catalogue) {
	work(k, Electrical, electricalInput(k.Project, k.Chosen, c, k.Brewing), func(r *Report) (*electrical.Input, **electrical.Result) {
		return &r.Inputs.Electrical, &r.Electrical
	}, electrical.Size, electrical.Rules(), func(in electrical.Input, out electrical.Result) electrical.Facts {
		return electrical.Facts{Input: in, Result: out}
	})
}

func (k *check) floor(c *catalog.Catalogue) {
	work(k, Floor, floorInput(k.Project, k.Pieces, k.Brewing, c), func(r *Report) (*floor.Input, **floor.Result) { return &r.Inputs.Floor, &r.Floor },
		floor.Size, floor.Rules(), func(in floor.Input, out floor.Result) floor.Facts { return floor.Facts{Input: in, Result: out} })
}

func (k *check) access(c *catalog.Catalogue) {
	work(k, Access, accessInput(k.Project, k.Pieces, c), func(r *Report) (*access.Input, **access.Result) { return &r.Inputs.Access, &r.Access },
		access.Size, access.Rules(), func(in access.Input, out access.Result) access.Facts { return access.Facts{Input: in, Result: out} })
}

func (k *check) air(c *catalog.Catalogue) {
	if d := k.Project.Site.Chiller.Neighbour; d.Known() && d.Value < nearestHeard {
		k.gap(Air, fmt.Errorf("the neighbour's window is %s from the chiller: nearer than %s an acoustician has to say what is heard", d.Value, nearestHeard))
	}
	work(k, Air, airInput(k.Project, k.Chosen, k.Pieces, c, k.Brewing), func(r *Report) (*air.Input, **air.Result) { return &r.Inputs.Air, &r.Air },
		air.Size, air.Rules(), func(in air.Input, out air.Result) air.Facts { return air.Facts{Input: in, Result: out} })
}

func (k *check) water(c *catalog.Catalogue) {
	work(k, Water, waterInput(k.Project, k.Chosen, c, k.Brewing), func(r *Report) (*water.Input, **water.Result) { return &r.Inputs.Water, &r.Water },
		water.Size, water.Rules(), func(in water.Input, out water.Result) water.Facts { return water.Facts{Input: in, Result: out} })
}

func (k *check) pressure() {
	work(k, Pressure, pressureInput(k.Project, k.Pieces, k.Chosen, k.Brewing), func(r *Report) (*pressure.Input, **pressure.Result) { return &r.Inputs.Pressure, &r.Pressure },
		pressure.Size, pressure.Rules(), func(in pressure.Input, out pressure.Result) pressure.Facts {
			return pressure.Facts{Input: in, Result: out}
		})
}

func (k *check) programme() {
	work(k, Programme, programmeInput(&k.Report), func(r *Report) (*programme.Input, **programme.Result) { return &r.Inputs.Programme, &r.Programme },
		programme.Size, programme.Rules(), func(in programme.Input, out programme.Result) programme.Facts {
			return programme.Facts{Input: in, Result: out}
		})
}

func (k *check) food() {
	work(k, Food, haccpInput(k.Project, k.Chosen, k.Brewing), func(r *Report) (*haccp.Input, **haccp.Result) { return &r.Inputs.Food, &r.Food },
		haccp.Size, haccp.Rules(), func(in haccp.Input, out haccp.Result) haccp.Facts { return haccp.Facts{Input: in, Result: out} })
}

// Rules lists every rule in print order.
func Rules() []rule.Info {
	var out []rule.Info
	out = append(out, rule.Infos(brewing.Rules())...)
	out = append(out, rule.Infos(cooling.Rules())...)
	out = append(out, rule.Infos(electrical.Rules())...)
	out = append(out, rule.Infos(floor.Rules())...)
	out = append(out, rule.Infos(access.Rules())...)
	out = append(out, rule.Infos(air.Rules())...)
	out = append(out, rule.Infos(water.Rules())...)
	out = append(out, rule.Infos(pressure.Rules())...)
	out = append(out, rule.Infos(programme.Rules())...)
	out = append(out, rule.Infos(haccp.Rules())...)
	return out
}

// Calculations lists every calculation that can be run by name.
func Calculations() []calc.Calculation {
	var out []calc.Calculation
	out = append(out, brewing.Calculations()...)
	out = append(out, cooling.Calculations()...)
	out = append(out, electrical.Calculations()...)
	out = append(out, floor.Calculations()...)
	out = append(out, access.Calculations()...)
	out = append(out, air.Calculations()...)
	out = append(out, water.Calculations()...)
	out = append(out, pressure.Calculations()...)
	out = append(out, programme.Calculations()...)
	out = append(out, haccp.Calculations()...)
	return out
}
