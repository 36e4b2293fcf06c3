package propose

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"tunwright/catalog"
	"tunwright/catalog/strict"
	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/brewing"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/rule"
)

// The steps of Equip, in the order in which one choice rests on another.

// brewhouse takes one of the planned brew length. Electric ones come first, since they
// ask nothing of the building but current; then gas, then steam. A building that is
// known to have no gas gets no burner. Two vessels come before three and one (common
// practice, no source).
func (f *fitter) brewhouse() error {
	var options []bundle
	for _, p := range f.cat.ByClass(catalog.ClassBrewhouse) {
		if p.Brewhouse.Length != f.plan.BrewLength {
			continue
		}
		if s := f.heated(p); s != nil {
			options = append(options, s)
		}
	}
	if len(options) == 0 {
		return fmt.Errorf("no equipment can be chosen: the catalogue has no brewhouse of %s whose fuel is at the site", f.plan.BrewLength)
	}
	slices.SortStableFunc(options, func(a, b bundle) int { return cmp.Compare(reluctance(a[0]), reluctance(b[0])) })
	ids := append([]string{"BR-002", "BR-003", "BR-004", "BR-005", "BR-006", "BR-009", "BR-010", "BR-012", "BR-032", "BR-034", "EL-001", "EL-010", "EL-029"}, passing...)
	return f.choose(options, ids...)
}

// heated is a brewhouse with the smallest generator that feeds it where it takes steam;
// nil where its fuel is known to be missing.
func (f *fitter) heated(p *catalog.Product) bundle {
	gas := f.project.Site.Gas
	gasless := gas.Known() && !gas.Value
	switch {
	case p.Brewhouse.Heat == "gas" && gasless:
		return nil
	case p.Brewhouse.Heat != "steam":
		return bundle{p}
	}
	var need unit.MassFlow
	for _, c := range p.Connects {
		need += c.Steam
	}
	fuelled := bySize(f.cat, catalog.ClassSteam, func(g *catalog.Product) bool {
		return g.Steam.Output >= need && (g.Steam.Fuel == "electric") == gasless
	}, func(g *catalog.Product) unit.MassFlow { return g.Steam.Output })
	if len(fuelled) == 0 {
		return nil
	}
	return bundle{p, fuelled[0][0]}
}

// reluctance orders brewhouses of one size: the heat counts more than the vessels.
func reluctance(p *catalog.Product) int {
	const perHeat = 10
	heat := map[string]int{"electric": 0, "gas": perHeat, "steam": 2 * perHeat}[p.Brewhouse.Heat]
	return heat + map[int]int{2: 0, 3: 1, 4: 2, 1: 3}[p.Brewhouse.Vessels]
}

// bySize gives the products of a class that are of use, each as a set, in the order of
// a size.
func bySize[Q ~float64](c *catalog.Catalogue, class catalog.Class, use func(*catalog.Product) bool, size func(*catalog.Product) Q) []bundle {
	var options []bundle
	for _, p := range c.ByClass(class) {
		if use(p) {
			options = append(options, bundle{p})
		}
	}
	slices.SortStableFunc(options, func(a, b bundle) int { return cmp.Compare(size(a[0]), size(b[0])) })
	return options
}

func always(*catalog.Product) bool { return true }

func gross(p *catalog.Product) unit.Volume { return p.Bodies[0].Vessel.Gross }

// orNone puts the choice of nothing first.
func orNone(options []bundle) []bundle { return append([]bundle{{}}, options...) }

// liquor takes a hot-liquor tank, heated by steam where the brewhouse is.
func (f *fitter) liquor() error {
	steam := false
	for _, c := range f.report.Chosen {
		steam = steam || c.Product.Class == catalog.ClassSteam
	}
	options := bySize(f.cat, catalog.ClassLiquorTank, func(p *catalog.Product) bool {
		v := p.Bodies[0].Vessel
		return slices.Contains(v.Duties, catalog.DutyHotLiquor) && (v.JacketMedium == "steam") == steam
	}, gross)
	ids := append([]string{"BR-008", "BR-011", "EL-001", "EL-010", "EL-028"}, passing...)
	return f.choose(orNone(options), ids...)
}

// tanks takes the planned number of tanks of each size.
func (f *fitter) tanks() error {
	for _, c := range f.plan.Classes {
		class, what := catalog.ClassFermenter, "fermenter"
		if c.Bright {
			class, what = catalog.ClassBrightTank, "bright tank"
		}
		const most = 60 // of one size, in a brewery of 2 to 30 hL a brew
		if c.Needed > most {
			return fmt.Errorf("no equipment can be chosen: the beers ask for %d %ss of %s: check the volumes in brief.beers", c.Needed, what, c.Gross)
		}
		options := f.tanksOf(class, c)
		if len(options) == 0 {
			return fmt.Errorf("no equipment can be chosen: the catalogue has no %s", what)
		}
		for i := range options {
			options[i] = slices.Repeat(options[i], c.Needed)
		}
		ids := append([]string{"BR-015", "BR-016", "BR-020", "BR-021", "BR-033", "BR-035"}, passing...)
		if err := f.choose(options, ids...); err != nil {
			return err
		}
	}
	return nil
}

// tanksOf are the tanks that take a batch and stand under the ceiling, or else those
// that are too high, or else the largest there is: the rules then say what fails.
func (f *fitter) tanksOf(class catalog.Class, c brewing.TankClass) []bundle {
	const slack = 0.999 // the plan rounds its volumes
	serves := func(p *catalog.Product) bool {
		return slices.Contains(p.Bodies[0].Vessel.Duties, catalog.DutyServing) == (c.Dedicated == "serving")
	}
	large := func(p *catalog.Product) bool { return serves(p) && gross(p).L() >= slack*c.Gross.L() }
	for _, from := range []*catalog.Catalogue{f.cat, f.all} {
		if options := bySize(from, class, large, gross); len(options) > 0 {
			return options
		}
	}
	options := bySize(f.all, class, serves, gross)
	return options[max(0, len(options)-1):]
}

// wortCooler takes one stage where the mains water cools enough, else two, the second
// on glycol or on liquor chilled beforehand.
func (f *fitter) wortCooler() error {
	of := func(stages int) []bundle {
		return bySize(f.cat, catalog.ClassWortCooler, func(p *catalog.Product) bool {
			return p.WortCooler.Stages == stages && p.WortCooler.MaxWort.M3H() >= f.plan.BrewLength.M3()
		}, func(p *catalog.Product) unit.VolumeFlow { return p.WortCooler.MaxWort })
	}
	two := of(2)
	options := of(1)
	cold := bySize(f.cat, catalog.ClassLiquorTank, func(p *catalog.Product) bool {
		return slices.Contains(p.Bodies[0].Vessel.Duties, catalog.DutyColdLiquor)
	}, gross)
	for _, tank := range cold {
		for _, cooler := range two {
			options = append(options, bundle{cooler[0], tank[0]})
		}
	}
	return f.choose(append(options, two...), append([]string{"BR-022", "BR-023", "BR-024"}, passing...)...)
}

// mill takes one that grinds the grist of a brew in an hour and a half (common
// practice, no source).
func (f *fitter) mill() error {
	var grist unit.Mass
	for i := range f.plan.Beers {
		grist = max(grist, f.plan.Beers[i].Brew.Malt)
	}
	const hours = 1.5
	options := bySize(f.cat, catalog.ClassMill, func(p *catalog.Product) bool { return p.Mill != nil },
		func(p *catalog.Product) unit.MassFlow { return p.Mill.Rate })
	if len(options) == 0 {
		return nil
	}
	enough := slices.IndexFunc(options, func(s bundle) bool { return s[0].Mill.Rate.KgH()*hours >= grist.Kg() })
	if enough < 0 {
		enough = len(options) - 1
	}
	return f.take(options[enough], fmt.Sprintf("grinds %s, the largest grist of a brew, in about %.1f h", grist, grist.Kg()/options[enough][0].Mill.Rate.KgH()))
}

// cooling takes panel, chiller, store and pump for the jacketed tanks.
func (f *fitter) cooling() error {
	tanks := jacketed(f.report)
	if tanks == 0 {
		return nil
	}
	panels := bySize(f.cat, catalog.ClassPanel, func(p *catalog.Product) bool { return p.Panel.Serves == "cellar" && p.Panel.Loops >= tanks },
		func(p *catalog.Product) unit.Ratio { return unit.Fraction(float64(p.Panel.Loops)) })
	if len(panels) > 0 {
		if err := f.take(panels[0], fmt.Sprintf("controls %d jacketed tanks", tanks)); err != nil {
			return err
		}
	}
	chillers := bySize(f.cat, catalog.ClassChiller, always, func(p *catalog.Product) unit.Power { return p.Chiller.Ratings[0].Capacity })
	if err := f.choose(chillers, "CO-001", "CO-002", "CO-015", "CO-018", "EL-001", "EL-010"); err != nil {
		return err
	}
	stores := bySize(f.cat, catalog.ClassBuffer, always, gross)
	if err := f.choose(orNone(stores), append([]string{"CO-001", "CO-007", "CO-011", "CO-019"}, passing...)...); err != nil {
		return err
	}
	pumps := bySize(f.cat, catalog.ClassPump, func(p *catalog.Product) bool { return p.Pump.For == "coolant" },
		func(p *catalog.Product) unit.VolumeFlow { return p.Pump.Flow })
	return f.choose(orNone(pumps), "CO-009", "CO-010", "CO-023")
}

func jacketed(r configurator.Report) int {
	n := 0
	for i := range r.Pieces {
		if v := r.Pieces[i].Body.Vessel; v != nil && v.JacketMedium != "steam" && v.JacketBody+v.JacketCone > 0 {
			n++
		}
	}
	return n
}

// steam takes a canopy, or a condenser where the building lets no steam out.
func (f *fitter) steam() error {
	ids := []string{"AI-001", "AI-002", "AI-003", "AI-004", "AI-005", "AI-007", "AI-008", "AI-009", "AI-011"}
	if out := f.project.Site.Air.Steam; out.Known() && !out.Value {
		condensers := bySize(f.cat, catalog.ClassCondenser, always, func(p *catalog.Product) unit.MassFlow { return p.Condenser.Vapour })
		return f.choose(condensers, ids...)
	}
	const spare = 0.3 // m beyond the kettle on each side (common practice, no source)
	canopies := bySize(f.cat, catalog.ClassCanopy, func(p *catalog.Product) bool {
		return min(p.Extract.Length, p.Extract.Width).MM() >= math.Floor(1000*(f.kettle().M()+2*spare))
	}, func(p *catalog.Product) unit.VolumeFlow { return p.Extract.AirFlow })
	return f.choose(canopies, ids...)
}

// kettle is the diameter of the widest kettle.
func (f *fitter) kettle() unit.Length {
	var wide unit.Length
	for i := range f.report.Pieces {
		if v := f.report.Pieces[i].Body.Vessel; v != nil && slices.Contains(v.Duties, catalog.DutyKettle) {
			wide = max(wide, v.Diameter)
		}
	}
	return wide
}

// gas takes the alarm for carbon dioxide and, where the room needs it, a fan at floor
// level. A room of unknown height is taken as low, which asks for more air; that is for
// this choice alone.
func (f *fitter) gas() error {
	height := f.project.Site.Room.Height
	defer func() { f.project.Site.Room.Height = height }()
	if !height.Known() {
		f.project.Site.Room.Height = enquiry.Assume(unit.Metres(2.4), supposed)
	}
	alarms := bySize(f.cat, catalog.ClassGasAlarm, always, func(p *catalog.Product) unit.Ratio { return unit.Fraction(float64(p.GasAlarm.Detectors)) })
	if n := len(alarms); n > 0 { // several of the largest for a large room
		most := alarms[n-1][0]
		alarms = append(alarms, bundle{most, most}, bundle{most, most, most})
	}
	if err := f.choose(alarms, "AI-022", "AI-023", "AI-026"); err != nil {
		return err
	}
	fans := bySize(f.cat, catalog.ClassFan, always, func(p *catalog.Product) unit.VolumeFlow { return p.Fan.AirFlow })
	return f.choose(orNone(fans), "AI-020", "AI-021", "AI-025", "AI-026")
}

// mend makes remedies that change equipment alone, as long as each leaves fewer stops
// and warnings.
func (f *fitter) mend() error {
	const rounds = 12
	for range rounds {
		m, id, ok := f.remedy()
		if !ok {
			return nil
		}
		before := f.project.Chosen.Items
		edited, err := enquiry.Apply(f.project, m.Edits...)
		if err != nil {
			return fmt.Errorf("mend %s: %w", id, err)
		}
		f.project = edited
		f.explain(before, fmt.Sprintf("mends %s: %s", id, m.Words))
		if err := f.recheck(); err != nil {
			return err
		}
	}
	return nil
}

func (f *fitter) remedy() (m Mend, id string, ok bool) {
	now := burden(f.report.Count())
	for _, open := range f.report.Open() {
		if open.Outcome != rule.Fail {
			continue
		}
		for _, m := range Mends(f.project, f.cat, f.report, open) {
			if burden(m.After.Count) < now && equipmentAlone(m.Edits) {
				return m, open.Rule.ID, true
			}
		}
	}
	return Mend{}, "", false
}

// burden orders reports: a stop is worse than any number of warnings.
func burden(n configurator.Count) int { return 1000*n.Stops + n.Warnings }

func equipmentAlone(edits []strict.Edit) bool {
	return !slices.ContainsFunc(edits, func(e strict.Edit) bool { return !strings.HasPrefix(e.Path, "equipment.") })
}

// explain gives every item that was not there before its reason.
func (f *fitter) explain(before []enquiry.Item, words string) {
	was := map[string]string{}
	for _, i := range before {
		was[i.Tag] = i.Product
	}
	for k := range f.project.Chosen.Items {
		if i := &f.project.Chosen.Items[k]; was[i.Tag] != i.Product {
			i.Proposed = &enquiry.Proposal{Product: i.Product, Why: words}
		}
	}
}
