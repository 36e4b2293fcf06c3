// Package pack says what each paper of a job holds: the quotation for the client,
// the findings, what each trade has to know, and the workings behind the figures.
// It takes an offer and gives document trees; writers draw them.
//
// A paper for one reader is a choice of sections; the pack is all of them in one.
// Costs and margins have no way in: nothing here reads the cost sheet.
//
// Begin with Pack and Papers.
package pack

import (
	"slices"
	"strings"

	"tunwright/configurator"
	"tunwright/pricing/offer"
	"tunwright/pricing/pack/client"
	"tunwright/pricing/pack/electrician"
	"tunwright/pricing/pack/foodsafety"
	"tunwright/pricing/pack/gassafety"
	"tunwright/pricing/pack/plumbing"
	"tunwright/pricing/pack/production"
	"tunwright/pricing/pack/programme"
	"tunwright/pricing/pack/refrigeration"
	"tunwright/pricing/pack/rigging"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/structure"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/pack/ventilation"
	"tunwright/pricing/pack/vessels"
	"tunwright/pricing/paper"
)

// Issue is what stands at the head of every paper of one issue.
type Issue struct {
	Number   string // of the quotation; "draft" until it is issued
	Revision string
	Status   string // a mark on every page, such as "Superseded"
	Logo     []byte
	Program  string // version of the program, printed with the digest of the catalogue
}

// job is what the builders work from.
type job struct {
	offer.Offer
	firm  offer.Firm
	issue Issue
}

// Paper is one paper of a job.
type Paper struct {
	Key   string // file name without ending
	Title string
	For   string // who receives it
	build func(job) []paper.Section
	data  func(configurator.Report) []paper.Table // for spreadsheets alone
	own   []hazard                                // the dangers that its own sections warn of
}

// ofReport is a paper that needs nothing but the report.
func ofReport(sections func(configurator.Report) []paper.Section) func(job) []paper.Section {
	return func(j job) []paper.Section { return sections(j.Report) }
}

// The paper that holds every fact nobody has measured.
const (
	findingsKey   = "findings"
	findingsTitle = "Findings and survey list"
)

// scheduleOf is a schedule with every column that has anything, where its discipline was
// worked out and it has rows.
func scheduleOf(worked func(configurator.Report) bool, table func(configurator.Report) paper.Table) func(configurator.Report) []paper.Table {
	return func(r configurator.Report) []paper.Table {
		if !worked(r) {
			return nil
		}
		t := table(r)
		if len(t.Rows) == 0 {
			return nil
		}
		return []paper.Table{trade.Dense(t)}
	}
}

func currentKnown(r configurator.Report) bool { return r.Electrical != nil }
func loadsKnown(r configurator.Report) bool   { return r.Floor != nil }
func coolingKnown(r configurator.Report) bool { return r.Cooling != nil }

// quotationKey is the paper that a client signs; the others tell no price.
const quotationKey = "quotation"

// Papers lists the papers in the order of an office's distribution.
func Papers() []Paper {
	return []Paper{
		{Key: quotationKey, Title: "Quotation", For: "client", build: clientSections},
		{Key: findingsKey, Title: findingsTitle, For: "client and office", build: checkedSections},
		{Key: "electrical", Title: "Electrical load schedule", For: "electrician", build: electricianSections, own: []hazard{electricity}, data: scheduleOf(currentKnown, electrician.ScheduleTable)},
		{Key: "structure", Title: "Equipment loading schedule", For: "structural engineer", build: ofReport(structure.Sections), own: []hazard{structural}, data: scheduleOf(loadsKnown, structure.ScheduleTable)},
		{Key: "architect", Title: "Room plan and floor drainage", For: "architect", build: architectSections},
		{Key: "refrigeration", Title: "Cooling duty and pipework", For: "refrigeration contractor", build: ofReport(refrigeration.Sections), own: []hazard{underPress}, data: scheduleOf(coolingKnown, refrigeration.HourTable)},
		{Key: "rigging", Title: "Delivery, lifting and moving in", For: "crane and haulage firm", build: ofReport(rigging.Sections), own: []hazard{lifting}},
		{Key: "ventilation", Title: "Steam and ventilation", For: "ventilation engineer", build: ofReport(ventilation.Sections), own: []hazard{carbonic}},
		{Key: "plumbing", Title: "Water, drainage, air and gases", For: "plumber", build: ofReport(plumbing.Sections), own: []hazard{underPress}},
		{Key: "gas-safety", Title: "Carbon dioxide safety", For: "client, gas supplier", build: ofReport(gassafety.Sections), own: []hazard{carbonic}},
		{Key: "pressure", Title: "Pressure equipment schedule", For: "client, inspection body", build: ofReport(vessels.Sections), own: []hazard{underPress}},
		{Key: "connections", Title: "Connections by trade", For: "all trades", build: serviceSections},
		{Key: "programme", Title: "Permits and programme", For: "client and all trades", build: ofReport(programme.Sections)},
		{Key: "food-safety", Title: "Food safety starter plan", For: "client", build: ofReport(foodsafety.Sections)},
		{Key: "production", Title: "Production plan", For: "brewer", build: ofReport(production.Sections), own: []hazard{underPress, carbonic}},
	}
}

func clientSections(j job) []paper.Section { return client.Sections(j.Offer, j.firm, j.locale()) }

func architectSections(j job) []paper.Section {
	return append(structure.Architect(j.Report), structure.Drainage(j.Report)...)
}

// Pack is everything in one document: quotation, findings, the trades' sheets,
// cautions, and the annex of checks in order and workings.
func Pack(o offer.Offer, f offer.Firm, i Issue) paper.Doc {
	j := job{Offer: o, firm: f, issue: i}
	doc := j.head("Quotation and fit report", "")
	doc.Contents = true
	for _, build := range []func(job) []paper.Section{
		clientSections, findingSections, serviceSections, electricalSections, floorSections, accessSections,
		coolingSections, productionSections, cautionSections, annexSections,
	} {
		sections := build(j)
		if len(sections) > 0 {
			// Each part begins on a page of its own; the first follows the contents.
			sections[0].NewPage = len(doc.Sections) > 0
		}
		doc.Sections = append(doc.Sections, dense(sections)...)
	}
	return doc
}

// Doc is one paper of its own.
func (p Paper) Doc(o offer.Offer, f offer.Firm, i Issue) paper.Doc {
	j := job{Offer: o, firm: f, issue: i}
	doc := j.head(p.Title, p.Key)
	if p.Key != quotationKey {
		doc.Facts = j.siteFacts()
		doc.Client = j.addressed(p.For)
		doc.Assumptions, doc.OpenPoints = nil, nil
	}
	doc.Sections = dense(p.build(j))
	if len(doc.Sections) > 0 {
		doc.Sections[0].NewPage = false // it follows the head on the first page
	}
	if p.Key != quotationKey {
		doc.Sections = append(doc.Sections, tradeCautions(p.own))
		doc.FactsStand = j.factsStand(p.Key, doc)
	}
	if p.data != nil {
		doc.Data = p.data(j.Report)
	}
	return doc
}

// byHand names the tables with a column that the reader fills in.
var byHand = []string{"engineer-questions"}

// dense leaves out of the tables the columns in which no row has anything, and says in
// a note what a column says alike in every row.
func dense(sections []paper.Section) []paper.Section {
	for i := range sections {
		sections[i].Blocks = denseBlocks(sections[i].Blocks)
	}
	return sections
}

func denseBlocks(blocks []paper.Block) []paper.Block {
	out := slices.Clone(blocks)
	for i, b := range out {
		switch x := b.(type) {
		case paper.Table:
			switch {
			case slices.Contains(byHand, x.Name):
			case x.Title == trade.FactsTitle: // how each fact is known stands beside it
				out[i] = trade.Dense(x)
			default:
				out[i] = trade.Plain(trade.Dense(x))
			}
		case paper.Together:
			x.Blocks = denseBlocks(x.Blocks)
			out[i] = x
		}
	}
	return out
}

// Figures lists the drawings of a document in order, for a screen.
func Figures(d paper.Doc) []paper.Figure {
	var out []paper.Figure
	for _, s := range d.Sections {
		out = append(out, figuresIn(s.Blocks)...)
	}
	return out
}

func figuresIn(blocks []paper.Block) []paper.Figure {
	var out []paper.Figure
	for _, b := range blocks {
		switch x := b.(type) {
		case paper.Figure:
			out = append(out, x)
		case paper.Together:
			out = append(out, figuresIn(x.Blocks)...)
		}
	}
	return out
}

func (j job) head(title, key string) paper.Doc {
	number := j.issue.Number
	if key != "" && key != quotationKey {
		number += "-" + strings.ToUpper(key[:2])
	}
	contact := []string{}
	for _, c := range []string{j.firm.Phone, j.firm.Email} {
		if c != "" {
			contact = append(contact, c)
		}
	}
	return paper.Doc{
		Title: j.title(title), Subtitle: j.Job.Title, Number: number, Revision: j.issue.Revision, Date: j.Job.Date.Time(),
		Subject: j.Job.Site.Name, Author: j.Job.Author, Status: j.issue.Status,
		Firm: paper.Firm{
			Name: j.firm.Name, Address: j.firm.Address, Contact: contact, Colour: colour(j.firm.Accent), Logo: j.issue.Logo, Legal: j.firm.Legal,
		},
		Client: paper.Party{Name: j.Job.Client.Name, Address: clientAddress(j)},
		Facts:  j.headFacts(), Locale: j.locale(), Size: j.size(), Numbered: true,
		Assumptions: j.assumptions(), OpenPoints: j.openPoints(),
	}
}

// size is the sheet that is printed on at the site.
func (j job) size() paper.PageSize {
	if j.Job.Site.Country == "US" {
		return paper.USLetter
	}
	return paper.A4
}

// title is the paper's title in the client's language, where the client reads it.
func (j job) title(title string) string {
	if title == "Quotation" && j.locale() == paper.DeDE {
		return "Angebot"
	}
	return title
}

func clientAddress(j job) []string {
	var lines []string
	if j.Job.Client.Contact != "" {
		lines = append(lines, j.Job.Client.Contact)
	}
	return append(lines, j.Job.Client.Address...)
}

// addressed is whom a paper is for: the client, or a trade with the client it works for.
func (j job) addressed(reader string) paper.Party {
	if strings.HasPrefix(reader, "client") {
		return paper.Party{Name: j.Job.Client.Name, Address: clientAddress(j)}
	}
	return paper.Party{Name: say.Capital(reader), Address: []string{"for " + j.Job.Client.Name}}
}

// headFacts are what identifies a paper with prices.
func (j job) headFacts() []paper.Fact {
	return append([]paper.Fact{
		{Name: "Valid until", Value: paper.W(j.Quotation.ValidUntil.Long(j.moneyLocale()))},
		{Name: "Prices", Value: paper.W(j.Quotation.Book)},
	}, j.siteFacts()...)
}

// siteFacts are what identifies any paper.
func (j job) siteFacts() []paper.Fact {
	return []paper.Fact{
		{Name: "Site", Value: paper.W(j.Job.Site.Name)},
		{Name: "Catalogue", Value: paper.W(short(j.Report.Catalogue)), Note: "digest, by program " + j.issue.Program},
	}
}

func short(digest string) string {
	if len(digest) > 12 {
		return digest[:12]
	}
	return digest
}
