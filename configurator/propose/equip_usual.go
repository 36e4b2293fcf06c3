package propose

import (
	"math"
	"slices"

	"tunwright/catalog"
	"tunwright/configurator"
	"tunwright/configurator/enquiry"
)

// machines takes what no rule sizes but the firm usually sells with such a job: panels,
// cleaning sets, keg washers.
func (f *fitter) machines() error {
	return f.usual(func(c catalog.Class) bool { return c != catalog.ClassFitting && c != catalog.ClassService })
}

// extras takes fittings and services, which are counted by the machines.
func (f *fitter) extras() error {
	return f.usual(func(c catalog.Class) bool { return c == catalog.ClassFitting || c == catalog.ClassService })
}

func (f *fitter) usual(of func(catalog.Class) bool) error {
	for _, class := range catalog.Classes() {
		if !of(class) {
			continue
		}
		for _, p := range f.cat.ByClass(class) {
			if n := f.usually(p); n > 0 {
				f.add(p, n)
			}
		}
	}
	return f.recheck()
}

func (f *fitter) add(p *catalog.Product, count int) {
	tag := situation{project: f.project}.free(p.TagStem(), 0)
	item := enquiry.Item{Tag: tag, Product: p.Code, Proposed: &enquiry.Proposal{Product: p.Code, Why: "usual with such a job; no rule sizes it"}}
	if count > 1 {
		item.Count = count
	}
	f.project.Chosen.Items = append(f.project.Chosen.Items, item)
}

// usually is how many of a product the firm usually sells with the job.
func (f *fitter) usually(p *catalog.Product) int {
	n := 0
	for _, u := range p.Usual {
		if f.plan.BrewLength < u.From || u.To > 0 && f.plan.BrewLength > u.To || !f.holds(u.When) {
			continue
		}
		n = max(n, int(math.Ceil(f.base(u.Per)/float64(max(u.Each, 1))))+u.Plus)
	}
	return n
}

// base is what a product is counted by.
func (f *fitter) base(per string) float64 {
	switch per {
	case "jacketed-tank":
		return float64(jacketed(f.report))
	case "piece":
		return float64(len(f.report.Pieces))
	case "coolant-run-m":
		return f.report.Project.Site.Chiller.Distance.Value.M()
	case "glycol-l":
		if f.report.Cooling == nil {
			return 0
		}
		return f.report.Cooling.Store.GlycolL.L()
	case "loading-m":
		if f.report.Access == nil {
			return 0
		}
		return f.report.Access.Freight.Metres.M()
	}
	return 1
}

// holds tells whether every condition is known to hold.
func (f *fitter) holds(when []string) bool {
	return !slices.ContainsFunc(when, func(w string) bool { return !f.hold(w) })
}

func (f *fitter) hold(when string) bool {
	s := f.project.Site
	switch when {
	case "electric", "steam", "gas":
		return slices.ContainsFunc(f.report.Chosen, func(c configurator.Chosen) bool {
			return c.Product.Class == catalog.ClassBrewhouse && c.Product.Brewhouse.Heat == when
		})
	case "kegs":
		return slices.ContainsFunc(f.project.Brief.Beers, func(b enquiry.Beer) bool { return b.Package == "keg" || b.Package == "cask" })
	case "crane":
		return len(s.Routes) > 0 && slices.ContainsFunc(s.Routes[0].Steps, func(st enquiry.Step) bool {
			return (st.Kind == "taking-in-door" || st.Kind == "hatch") && !st.Hoist
		})
	case "closed-road":
		return s.Road.Value
	case "off-street-level":
		return s.Level != 0
	case "suspended-floor":
		return s.Floor.Kind == "suspended"
	}
	return s.Country == when
}
