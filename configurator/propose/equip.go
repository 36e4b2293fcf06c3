package propose

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/brewing"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/rule"
)

// Equip chooses equipment for an enquiry from its brief and site, each item with the
// reason for it. What was chosen before is left out of account.
//
// The plan of the beers by weeks sets the brew length and how many tanks of what size; the
// rest follows one class after the other: of the products of a class the smallest is
// taken with which the rules that judge it are in order, or else the one with which
// they fail least. Remedies that concern equipment alone are then made as long as they
// leave fewer stops and warnings. What no rule sizes is taken as the firm usually
// sells it (catalog.Usual). It is a beginning for the salesperson: the findings of the
// whole check say what is left.
//
// It fails where the beers cannot be planned, such as without a yearly volume, and
// where the catalogue has no brewhouse or no fermenter that is large enough.
func Equip(p enquiry.Project, c *catalog.Catalogue) (enquiry.Selection, error) {
	p.Chosen = enquiry.Selection{}
	f := &fitter{project: p, cat: standing(p, c), all: c}
	if err := f.recheck(); err != nil {
		return enquiry.Selection{}, err
	}
	if f.report.Brewing == nil {
		return enquiry.Selection{}, fmt.Errorf("no equipment can be chosen: %s", f.gap(configurator.Brewing))
	}
	if err := f.length(); err != nil {
		return enquiry.Selection{}, err
	}
	f.suppose()
	for _, step := range []func() error{f.brewhouse, f.liquor, f.tanks, f.wortCooler, f.mill, f.cooling, f.steam, f.gas, f.machines, f.mend, f.extras} {
		if err := step(); err != nil {
			return enquiry.Selection{}, err
		}
	}
	f.justify()
	f.sort()
	return f.project.Chosen, nil
}

// fitter is a selection in the making.
type fitter struct {
	project enquiry.Project
	cat     *catalog.Catalogue // what stands under the ceiling
	all     *catalog.Catalogue
	report  configurator.Report // of the project as it is
	plan    *brewing.Result     // of the beers before any equipment was chosen
	choices []choice
}

func (f *fitter) recheck() error {
	r, err := configurator.Recheck(f.report, f.project, f.cat)
	if err != nil {
		return fmt.Errorf("choose equipment: %w", err)
	}
	f.report = r
	return nil
}

// supposed is why a fact is taken for the choice.
const supposed = "taken while equipment is chosen"

// length plans the year with the shortest brew that gets every batch into the weeks and
// tanks. The mean of the peak week may fit where whole batches do not, so that each
// length is tried by its schedule; where none holds, the one of the mean stays.
func (f *fitter) length() error {
	f.plan = f.report.Brewing
	brewhouses := bySize(f.cat, catalog.ClassBrewhouse, func(p *catalog.Product) bool { return p.Brewhouse.Length >= f.plan.BrewLength },
		func(p *catalog.Product) unit.Volume { return p.Brewhouse.Length })
	var tried unit.Volume
	for _, b := range brewhouses {
		if b[0].Brewhouse.Length == tried {
			continue
		}
		tried = b[0].Brewhouse.Length
		p, _ := f.with(b)
		r, err := configurator.Recheck(f.report, p, f.cat)
		if err != nil {
			return fmt.Errorf("choose equipment: %w", err)
		}
		if r.Brewing != nil && len(r.Brewing.Late)+len(r.Brewing.Unplaced) == 0 {
			f.plan = r.Brewing
			return nil
		}
	}
	return nil
}

// suppose takes something for what is unknown and decides on a size, for the choice
// alone: a room without air of its own, which is unfavourable, and steam that may go out
// by a canopy, which is usual. The enquiry stays as it is, and its findings say what is not known.
func (f *fitter) suppose() {
	air := &f.project.Site.Air
	if !air.Steam.Known() {
		air.Steam = enquiry.Assume(true, supposed)
	}
	if !air.Natural.Known() {
		air.Natural = enquiry.Assume(unit.AirChangeRate(0), supposed)
	}
	if !air.Extract.Known() {
		air.Extract = enquiry.Assume(unit.VolumeFlow(0), supposed)
	}
}

func (f *fitter) gap(d configurator.Discipline) string {
	for _, g := range f.report.Gaps {
		if g.Discipline == d {
			return g.Words
		}
	}
	return "the " + string(d) + " was not worked out"
}

// bundle is products that are chosen together.
type bundle []*catalog.Product

// with gives the project with a set added, and the tags of the set.
func (f *fitter) with(s bundle) (enquiry.Project, []string) {
	p := f.project
	p.Chosen.Items = slices.Clone(p.Chosen.Items)
	tags := make([]string, len(s))
	for i, x := range s {
		tags[i] = situation{project: p}.free(x.TagStem(), 0)
		p.Chosen.Items = append(p.Chosen.Items, enquiry.Item{Tag: tags[i], Product: x.Code})
	}
	return p, tags
}

// take adds a set for a reason.
func (f *fitter) take(s bundle, words string) error {
	f.project, _ = f.with(s)
	items := f.project.Chosen.Items
	for i := len(items) - len(s); i < len(items); i++ {
		items[i].Proposed = &enquiry.Proposal{Product: items[i].Product, Why: words}
	}
	return f.recheck()
}

// choice is a set that was taken because of what rules say.
type choice struct{ tags, rules []string }

// choose takes the first of some sets, the smallest before the larger ones, with which
// the rules named are in order, or else the one with which they are least out of it.
func (f *fitter) choose(options []bundle, ids ...string) error {
	if len(options) == 0 {
		return nil
	}
	best, least := 0, math.MaxInt
	for i, s := range options {
		p, _ := f.with(s)
		r, err := configurator.Recheck(f.report, p, f.cat)
		if err != nil {
			return fmt.Errorf("choose equipment: %w", err)
		}
		if w := weight(r, ids); w < least {
			best, least = i, w
		}
		if least == 0 {
			break
		}
	}
	_, tags := f.with(options[best])
	f.choices = append(f.choices, choice{tags, ids})
	return f.take(options[best], "")
}

// weight tells how far rules are from being in order. A stop outweighs any number of
// warnings, and a discipline that cannot be worked out outweighs stops; what is unknown
// counts a little, since a product may be what is missing.
func weight(r configurator.Report, ids []string) int {
	const gap, stop, warning, unknown = 10000, 100, 2, 1
	w := gap * len(r.Gaps)
	for _, x := range r.Findings {
		switch {
		case !slices.Contains(ids, x.Rule.ID):
		case x.Outcome == rule.Unknown:
			w += unknown
		case x.Outcome == rule.Fail && x.Rule.Severity == rule.Blocker:
			w += stop
		case x.Outcome == rule.Fail:
			w += warning
		}
	}
	return w
}

// justify says of every choice what the rules that led to it say in the end.
func (f *fitter) justify() {
	for _, c := range f.choices {
		failed, open := []string{}, []string{}
		for _, x := range f.report.Findings {
			switch {
			case !slices.Contains(c.rules, x.Rule.ID) || slices.Contains(failed, x.Rule.ID) || slices.Contains(open, x.Rule.ID):
			case x.Outcome == rule.Fail:
				failed = append(failed, x.Rule.ID)
			case x.Outcome == rule.Unknown:
				open = append(open, x.Rule.ID)
			}
		}
		for i := range f.project.Chosen.Items {
			item := &f.project.Chosen.Items[i]
			if slices.Contains(c.tags, item.Tag) && item.Proposed.Why == "" {
				item.Proposed.Why = f.words(item.Product, failed, open)
			}
		}
	}
}

func (f *fitter) words(code string, failed, open []string) string {
	how := "the rules on it are"
	if len(failed)+len(open) > 0 {
		how = "most of the rules on it are"
	}
	p, _ := f.cat.Find(code)
	words := fmt.Sprintf("by size the first %s with which %s in order", strings.ReplaceAll(string(p.Class), "-", " "), how)
	if len(failed) > 0 {
		words += "; to settle: " + strings.Join(failed, ", ")
	}
	if len(open) > 0 {
		words += "; not known yet: " + strings.Join(open, ", ")
	}
	return words
}

// passing are the rules on whether a piece passes the way in and stands up.
var passing = []string{"FL-106", "AC-020", "AC-010"}

// sort brings the items into the order of a quotation.
func (f *fitter) sort() {
	order := catalog.Classes()
	rank := func(i enquiry.Item) int {
		p, _ := f.cat.Find(i.Product)
		return slices.Index(order, p.Class)
	}
	slices.SortStableFunc(f.project.Chosen.Items, func(a, b enquiry.Item) int { return cmp.Compare(rank(a), rank(b)) })
}

// standing is the part of a catalogue whose pieces stand under the ceiling with the room
// they need above. Where the height is not known everything does, and so does a chiller
// out of doors. A class of which nothing stands is kept whole.
func standing(p enquiry.Project, c *catalog.Catalogue) *catalog.Catalogue {
	height := p.Site.Room.Height
	if !height.Known() {
		return c
	}
	outdoors := enquiry.Complete(p).Site.Chiller.Where != "inside"
	stands := func(x *catalog.Product) bool {
		return x.Class == catalog.ClassChiller && outdoors || !slices.ContainsFunc(x.Bodies, func(b catalog.Body) bool { return b.Height+b.Space.Above > height.Value })
	}
	some := map[catalog.Class]bool{}
	for _, x := range c.All() {
		some[x.Class] = some[x.Class] || stands(x)
	}
	return c.Only(func(x *catalog.Product) bool { return stands(x) || !some[x.Class] })
}
