package client

import (
	"slices"
	"strconv"
	"strings"

	"tunwright/configurator"
	"tunwright/configurator/rule"
	"tunwright/pricing"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

// short is the offer on one page: what, for how much, until when, and what has to be
// settled before anyone signs.
func (q quote) short() []paper.Block {
	blocks := []paper.Block{
		paper.Paragraph{Voice: paper.Lead, Text: paper.Plain(q.lead())},
		paper.Paragraph{Text: q.scope()},
		paper.Facts{Columns: 2, Facts: q.keyFacts()},
	}
	blocks = append(blocks, q.first()...)
	if q.German() {
		blocks = append(blocks, small(q.Say("short.as-it-is")))
	}
	return blocks
}

func (q quote) lead() string {
	b := q.report.Brewing
	if b == nil {
		return q.Say("short.lead", q.job.Site.Name, q.Money(q.priced.Totals.Net))
	}
	return q.Say("short.lead-brewing", q.volume(b.BrewLength), q.volume(b.Totals.Packaged), q.job.Site.Name, q.Money(q.priced.Totals.Net))
}

// scope names what is supplied, section by section, in one paragraph.
func (q quote) scope() paper.Text {
	text := paper.Plain(q.Say("short.scope") + " ")
	for i, s := range q.bySection() {
		names := make([]string, len(s.products))
		for k, p := range s.products {
			names[k] = p.name
			if p.count != "1" {
				names[k] = p.count + "\u00a0×\u00a0" + p.name
			}
		}
		if i > 0 {
			text = append(text, paper.Span{Text: ". "})
		}
		text = append(text, paper.Span{Text: s.title + ":", Bold: true}, paper.Span{Text: " " + strings.Join(names, "; ")})
	}
	return append(text, paper.Span{Text: "."})
}

func (q quote) keyFacts() []paper.Fact {
	t := q.priced.Totals
	facts := []paper.Fact{{Name: q.Say("fact.net"), Value: paper.Amount(t.Net).Bold()}}
	for _, x := range q.priced.Taxes {
		if x.Amount.IsZero() {
			facts = append(facts, paper.Fact{Name: q.Say("col.tax"), Value: paper.W(q.tax(x.Tax))})
			continue
		}
		facts = append(facts, paper.Fact{Name: q.tax(x.Tax), Value: paper.Amount(x.Amount)})
	}
	facts = append(facts,
		paper.Fact{Name: q.gross(), Value: paper.Amount(t.Gross).Bold()},
		paper.Fact{Name: q.Say("fact.valid"), Value: paper.W(q.Date(q.priced.ValidUntil))},
	)
	if weeks, ref := q.priced.LongestLead(); weeks > 0 {
		facts = append(facts, paper.Fact{Name: q.Say("fact.lead"), Value: paper.W(q.Say("fact.weeks", weeks)), Note: q.Say("fact.lead-from", ref)})
	}
	if len(q.priced.Stages) > 0 {
		first := q.priced.Stages[0]
		facts = append(facts, paper.Fact{Name: q.Say("fact.first-payment"), Value: paper.Amount(first.Gross), Note: first.Event})
	}
	if q.job.Opening != nil {
		facts = append(facts, paper.Fact{Name: q.Say("fact.opening"), Value: paper.W(q.Date(pricing.DateOf(q.job.Opening.Time())))})
	}
	return append(facts, paper.Fact{Name: q.Say("fact.delivery"), Value: paper.W(q.delivery.String())})
}

// most is how many findings the first page names before it points to the others.
const most = 6

// first says what must be mended, and what must be known, before the order.
func (q quote) first() []paper.Block {
	stops, unknown := q.standing()
	var blocks []paper.Block
	if len(stops) > 0 {
		blocks = append(blocks, paper.Caution{Title: q.Say("short.mend"), Lines: say.Texts(q.few(stops))})
	}
	if len(unknown) > 0 {
		blocks = append(blocks, para(q.Say("short.answer")), say.List(q.few(unknown)))
	}
	n := q.report.Count()
	switch {
	case n.Unknown > 0:
		blocks = append(blocks, paper.Note{Text: paper.Plain(q.Say("short.counts", n.Stops, n.Warnings, n.Unknown))})
	case len(blocks) == 0:
		blocks = append(blocks, paper.Note{Text: paper.Plain(q.Say("short.ready"))})
	}
	return blocks
}

// standing are the findings that stop the job, and the checks without an answer that
// would.
func (q quote) standing() (stops, unknown []string) {
	for _, g := range q.report.OpenGroups() {
		switch {
		case g.Rule.Severity != rule.Blocker:
		case g.Outcome == rule.Fail:
			stops = append(stops, finding(g))
		case g.Outcome == rule.Unknown:
			unknown = append(unknown, finding(g))
		}
	}
	return stops, unknown
}

func finding(g configurator.Group) string {
	text := g.Rule.ID + " " + g.Rule.Title
	if s := say.Few(slices.Compact(strings.Split(g.Subjects(), ", "))); s != "" {
		text += " (" + s + ")"
	}
	return text
}

func (q quote) few(list []string) []string {
	if len(list) <= most {
		return list
	}
	return append(slices.Clone(list[:most]), q.Say("short.more", strconv.Itoa(len(list)-most)))
}
