// Package revisions says what changed between two revisions of a quotation: in
// products, price, options, terms, the facts of the enquiry, the engineering and the
// findings. Sections names the figures of an offer, to be kept with its snapshot;
// Paper sets those of two snapshots against each other.
//
// A change is found by the key of a figure, which does not depend on the language;
// values are printed in one. Both revisions are therefore named in the same locale.
//
// Begin with Sections and Paper. Costs have no way in.
package revisions

import (
	_ "embed"
	"strconv"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/rule"
	"tunwright/pricing"
	"tunwright/pricing/money"
	"tunwright/pricing/offer"
	"tunwright/pricing/pack/client/phrase"
	"tunwright/pricing/quotation"
)

//go:embed phrases.csv
var phrasesCSV string

var phrases = phrase.MustRead("revisions", phrasesCSV)

// Names of the sections that snapshots carry. They are for ever: a snapshot taken
// once is compared under them.
const (
	options     = "Options"
	terms       = "Terms"
	facts       = "Facts"
	engineering = "Engineering"
	findings    = "Findings"
)

// Sections names the figures of an offer by which its revisions are compared.
func Sections(o offer.Offer, l money.Locale) []quotation.Section {
	n := namer{Voice: phrases.In(l), customary: o.Job.Site.Country == "US"}
	out := quotation.PriceSections(o.Quotation, l)
	for i := range out {
		if out[i].Name != terms {
			continue
		}
		n.list = list{section: out[i]}
		n.add("delivery", n.Say("figure.delivery"), o.Delivery.String())
		out[i] = n.section
	}
	return append(out, n.options(o.Quotation), n.facts(o.Report.Project), n.engineering(o.Report), n.findings(o.Report))
}

// namer names figures in one language.
type namer struct {
	phrase.Voice
	customary bool
	list
}

// list is a section in the making. A key that comes twice is told apart by a number,
// so that two items of one tag do not stop the comparison.
type list struct {
	section quotation.Section
	seen    map[string]int
}

func (n *namer) start(name string) { n.list = list{section: quotation.Section{Name: name}} }

func (l *list) add(key, label, value string) {
	if l.seen == nil {
		l.seen = map[string]int{}
		for _, e := range l.section.Entries {
			l.seen[e.Key]++
		}
	}
	l.seen[key]++
	if k := l.seen[key]; k > 1 {
		key += " (" + strconv.Itoa(k) + ")"
	}
	l.section.Entries = append(l.section.Entries, quotation.Entry{Key: key, Label: label, Value: value})
}

func (n *namer) quantity(key, label string, q unit.Quantity) {
	n.add(key, label, n.Quantity(q, 4, n.customary))
}

func (n *namer) options(q pricing.Quotation) quotation.Section {
	n.start(options)
	for _, o := range q.Options {
		n.add(o.ID, o.Title, n.Money(o.Change.Net))
	}
	return n.section
}

// facts are what is known of the enquiry, with the way each came to be known.
func (n *namer) facts(p enquiry.Project) quotation.Section {
	n.start(facts)
	for _, f := range enquiry.Facts(p) {
		label := f.What
		if f.Where != "" {
			label = f.Where + ": " + label
		}
		value := n.Known("basis."+f.Basis.Word(), f.Basis.Word())
		if f.Basis != enquiry.Unknown {
			value = n.Known("value."+f.Value, f.Value) + ", " + value
		}
		n.add(f.Path, label, value)
	}
	return n.section
}

// engineering are the figures that decide, then how full each limit is.
func (n *namer) engineering(r configurator.Report) quotation.Section {
	n.start(engineering)
	if b := r.Brewing; b != nil {
		n.quantity("brew", n.Say("figure.brew"), b.BrewLength)
		n.quantity("packaged", n.Say("figure.packaged"), b.Totals.Packaged)
		n.add("brews", n.Say("figure.brews"), strconv.Itoa(b.Totals.Brews))
	}
	if c := r.Cooling; c != nil {
		n.quantity("cooling", n.Say("figure.cooling"), c.Load.Duty)
		if c.Chiller.Rated {
			n.quantity("chiller", n.Say("figure.chiller"), c.Chiller.Capacity)
		}
	}
	if e := r.Electrical; e != nil {
		n.quantity("connected", n.Say("figure.connected"), e.Connected)
		n.quantity("demand", n.Say("figure.demand"), e.Binding.Demand)
	}
	if f := r.Floor; f != nil {
		n.quantity("mass", n.Say("figure.mass"), f.Operating)
		n.quantity("test", n.Say("figure.test"), f.Test)
	}
	if p := r.Programme; p != nil && p.Earliest != 0 {
		if day, err := pricing.ParseDate(p.Earliest.String()); err == nil {
			n.add("opening", n.Say("figure.opening"), n.Date(day))
		}
	}
	for _, g := range r.Gauges() {
		n.add("limit "+g.Rule, g.Rule+" "+g.Name, n.Say("figure.limit", n.Quantity(g.Need, 3, n.customary), n.Quantity(g.Have, 3, n.customary)))
	}
	return n.section
}

// findings are the answers of the rules, each under its rule and subject. A rule that
// does not apply has none.
func (n *namer) findings(r configurator.Report) quotation.Section {
	n.start(findings)
	for _, f := range r.Findings {
		if f.Outcome == rule.NotApplicable {
			continue
		}
		key, label := f.Rule.ID, f.Rule.ID+" "+f.Rule.Title
		if f.Subject != "" {
			key, label = key+" "+f.Subject, label+" ("+f.Subject+")"
		}
		n.add(key, label, n.outcome(f))
	}
	for _, g := range r.Gaps {
		n.add("gap "+string(g.Discipline), string(g.Discipline), n.Say("finding.unknown"))
	}
	return n.section
}

func (n *namer) outcome(f configurator.Finding) string {
	switch {
	case f.WaitingOn != "":
		return n.Say("finding.waits", f.WaitingOn)
	case f.Outcome == rule.Unknown:
		return n.Say("finding.unknown")
	case f.Outcome == rule.Pass:
		return n.Say("finding.passed")
	}
	return n.Say("finding." + f.Rule.Severity.String())
}
