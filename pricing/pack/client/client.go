// Package client writes the quotation that a client reads and signs: what is
// offered, what is not, the price, how it is paid, what it rests on, and the terms,
// in English or German.
//
// It takes from an offer only what a client may see. Costs, margins and the house's
// questions have no way in: a test reads these files and refuses the fields that
// hold them. The wording of this package is in phrases.csv, both languages side by
// side; what the firm wrote itself, the names of products and the findings stand as
// they are.
//
// Begin with Sections and Tables.
package client

import (
	_ "embed"
	"slices"

	"tunwright/catalog"
	"tunwright/configurator"
	"tunwright/pricing"
	"tunwright/pricing/offer"
	"tunwright/pricing/pack/client/phrase"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/sheet"
)

//go:embed phrases.csv
var phrasesCSV string

var phrases = phrase.MustRead("client", phrasesCSV)

// quote is the part of an offer that a client may see.
type quote struct {
	phrase.Voice
	job      offer.Job
	report   configurator.Report
	priced   pricing.Quotation
	delivery pricing.Delivery
	terms    []string
	seller   string
	piped    bool // plant is joined to the building by fixed pipe or cable
	us       bool // dimensions in US customary units
}

func read(o offer.Offer, firm offer.Firm, locale paper.Locale) quote {
	return quote{
		Voice: phrases.In(locale), job: o.Job, report: o.Report, priced: o.Quotation, delivery: o.Delivery,
		terms: firm.Terms, seller: firm.Name, us: o.Job.Site.Country == "US",
		piped: slices.ContainsFunc(o.Report.Chosen, func(c configurator.Chosen) bool {
			return c.Product.Class == catalog.ClassBrewhouse || c.Product.Class == catalog.ClassChiller
		}),
	}
}

// Sections is the quotation, in the order a buyer asks: the offer on one page, what
// is supplied and what is not, prices, options, sums settled later, payments,
// delivery, what the prices rest on, warranty, terms, acceptance. A section with
// nothing to say is left out.
func Sections(o offer.Offer, firm offer.Firm, locale paper.Locale) []paper.Section {
	q := read(o, firm, locale)
	var out []paper.Section
	for _, s := range []paper.Section{
		{Title: q.Say("title.short"), Blocks: q.short()},
		{Title: q.Say("title.supplied"), Blocks: q.supplied()},
		{Title: q.Say("title.not-supplied"), Blocks: q.notSupplied()},
		{Title: q.Say("title.prices"), NewPage: true, Blocks: q.prices()},
		{Title: q.Say("title.options"), Blocks: q.options()},
		{Title: q.Say("title.provisional"), Blocks: q.provisional()},
		{Title: q.Say("title.payments"), Blocks: q.payments()},
		{Title: q.Say("title.delivery"), Blocks: q.deliveryAndTitle()},
		{Title: q.Say("title.rests"), Blocks: q.rests()},
		{Title: q.Say("title.warranty"), Blocks: q.warranty()},
		{Title: q.Say("title.terms"), Blocks: q.termsOfFirm()},
		{Title: q.Say("title.acceptance"), Blocks: q.acceptance()},
	} {
		if len(s.Blocks) > 0 {
			out = append(out, s)
		}
	}
	return out
}

// Tables lists the tables of the quotation by name, for CSV and spreadsheets: every
// figure of the paper that somebody may want to reckon with.
func Tables(o offer.Offer, firm offer.Firm, locale paper.Locale) []paper.Table {
	return sheet.Tables(paper.Doc{Sections: Sections(o, firm, locale)})
}

// SectionName is the heading of a section in the reader's language.
func SectionName(title string, l paper.Locale) string {
	return phrases.In(l).Known("section."+title, title)
}

// UnitName is the unit of a line in the reader's language.
func UnitName(code string, l paper.Locale) string {
	return phrases.In(l).Known("unit."+code, pricing.UnitWord(code))
}

func para(text string) paper.Paragraph { return paper.Paragraph{Text: paper.Plain(text)} }

func small(text string) paper.Paragraph {
	return paper.Paragraph{Voice: paper.Small, Text: paper.Plain(text)}
}

func heading(text string) paper.Heading { return paper.Heading{Level: 2, Text: text} }
