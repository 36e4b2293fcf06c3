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
	p = enquiry.Complete(p)
	chosen, err := resolve(p.Chosen, c)
	if err != nil {
		return Report{}, err
	}
	digest, err := c.Digest()
	if err != nil {
		return Report{}, fmt.Errorf("catalogue digest: %w", err)
	}
	r := &Report{Project: p, Catalogue: digest, Chosen: chosen, Pieces: pieces(chosen), Findings: make([]Finding, 0, usualFindings)}
	r.brewing(c)
	r.cooling(c)
	r.electrical(c)
	r.floor(c)
	r.access(c)
	r.air(c)
	r.water(c)
	r.pressure()
	r.programme()
	r.food()
	return *r, nil
}

// gap notes that a discipline could not be worked out.
func (r *Report) gap(d Discipline, err error) {
	r.Gaps = append(r.Gaps, Gap{Discipline: d, Words: err.Error()})
}

// judge runs a discipline's rules.
func judge[F any](r *Report, d Discipline, rules []rule.Rule[F], facts F) {
	for f := range rule.Findings(rules, facts) {
		r.Findings = append(r.Findings, Finding{Discipline: d, Finding: f})
	}
}

func (r *Report) brewing(c *catalog.Catalogue) {
	in := brewingInput(r.Project, r.Chosen, c)
	out, err := brewing.Size(in)
	if err != nil {
		r.gap(Brewing, err)
		return
	}
	r.Brewing, r.Inputs.Brewing = &out, in
	judge(r, Brewing, brewing.Rules(), brewing.Facts{Input: in, Result: out})
}

func (r *Report) cooling(c *catalog.Catalogue) {
	in := coolingInput(r.Project, r.Chosen, c, r.Brewing)
	if len(in.Tanks) == 0 || in.Chiller.Code == "" {
		r.gap(Cooling, fmt.Errorf("no chiller or no jacketed tank is chosen: choose both to have the cooling worked out"))
		return
	}
	for _, other := range all(r.Chosen, catalog.ClassChiller) {
		if other.Product.Code != in.Chiller.Code {
			r.gap(Cooling, fmt.Errorf("%s and %s are chosen together: only equal chillers are reckoned as one plant, and the first alone is judged", in.Chiller.Code, other.Product.Code))
			break
		}
	}
	out, err := cooling.Size(in)
	if err != nil {
		r.gap(Cooling, err)
		return
	}
	r.Cooling, r.Inputs.Cooling = &out, in
	judge(r, Cooling, cooling.Rules(), cooling.Facts{Input: in, Result: out})
}

func (r *Report) electrical(c *catalog.Catalogue) {
	in := electricalInput(r.Project, r.Chosen, c, r.Brewing)
	out, err := electrical.Size(in)
	if err != nil {
		r.gap(Electrical, err)
		return
	}
	r.Electrical, r.Inputs.Electrical = &out, in
	judge(r, Electrical, electrical.Rules(), electrical.Facts{Input: in, Result: out})
}

func (r *Report) floor(c *catalog.Catalogue) {
	in := floorInput(r.Project, r.Pieces, r.Brewing, c)
	out, err := floor.Size(in)
	if err != nil {
		r.gap(Floor, err)
		return
	}
	r.Floor, r.Inputs.Floor = &out, in
	judge(r, Floor, floor.Rules(), floor.Facts{Input: in, Result: out})
}

func (r *Report) access(c *catalog.Catalogue) {
	in := accessInput(r.Project, r.Pieces, c)
	out, err := access.Size(in)
	if err != nil {
		r.gap(Access, err)
		return
	}
	r.Access, r.Inputs.Access = &out, in
	judge(r, Access, access.Rules(), access.Facts{Input: in, Result: out})
}

func (r *Report) air(c *catalog.Catalogue) {
	if d := r.Project.Site.Chiller.Neighbour; d.Known() && d.Value < nearestHeard {
		r.gap(Air, fmt.Errorf("the neighbour's window is %s from the chiller: nearer than %s an acoustician has to say what is heard", d.Value, nearestHeard))
	}
	in := airInput(r.Project, r.Chosen, r.Pieces, c, r.Brewing)
	out, err := air.Size(in)
	if err != nil {
		r.gap(Air, err)
		return
	}
	r.Air, r.Inputs.Air = &out, in
	judge(r, Air, air.Rules(), air.Facts{Input: in, Result: out})
}

func (r *Report) water(c *catalog.Catalogue) {
	in := waterInput(r.Project, r.Chosen, c, r.Brewing)
	out, err := water.Size(in)
	if err != nil {
		r.gap(Water, err)
		return
	}
	r.Water, r.Inputs.Water = &out, in
	judge(r, Water, water.Rules(), water.Facts{Input: in, Result: out})
}

func (r *Report) pressure() {
	in := pressureInput(r.Project, r.Pieces, r.Chosen, r.Brewing)
	out, err := pressure.Size(in)
	if err != nil {
		r.gap(Pressure, err)
		return
	}
	r.Pressure, r.Inputs.Pressure = &out, in
	judge(r, Pressure, pressure.Rules(), pressure.Facts{Input: in, Result: out})
}

func (r *Report) programme() {
	in := programmeInput(r)
	out, err := programme.Size(in)
	if err != nil {
		r.gap(Programme, err)
		return
	}
	r.Programme, r.Inputs.Programme = &out, in
	judge(r, Programme, programme.Rules(), programme.Facts{Input: in, Result: out})
}

func (r *Report) food() {
	in := haccpInput(r.Project, r.Chosen, r.Brewing)
	out, err := haccp.Size(in)
	if err != nil {
		r.gap(Food, err)
		return
	}
	r.Food, r.Inputs.Food = &out, in
	judge(r, Food, haccp.Rules(), haccp.Facts{Input: in, Result: out})
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
	return out
}
