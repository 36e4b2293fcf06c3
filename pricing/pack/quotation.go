package pack

import (
	"fmt"
	"strings"

	"tunwright/configurator/enquiry"
	"tunwright/pricing"
	"tunwright/pricing/money"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

// quotationSections is what the client is offered and signs.
func quotationSections(j job) []paper.Section {
	return []paper.Section{
		{Title: "What we offer", Blocks: j.summary()},
		{Title: "What is supplied and what it costs", Blocks: append([]paper.Block{j.priceTable(), j.totals()}, j.options()...)},
		{Title: "Payment stages", Blocks: j.paymentStages()},
		{Title: "Terms", Blocks: j.terms()},
	}
}

func (j job) summary() []paper.Block {
	n := j.Report.Count()
	blocks := []paper.Block{
		paper.Paragraph{Voice: paper.Lead, Text: paper.Plain(j.leadSentence())},
		paper.Facts{Columns: 2, Facts: j.keyFacts()},
	}
	switch {
	case n.Stops > 0:
		blocks = append(blocks, paper.Caution{Title: "Not ready to be ordered", Lines: say.Texts([]string{
			fmt.Sprintf("%s must be mended first; section Findings says what and how.", counted(n.Stops, "stopping finding", "stopping findings")),
		})})
	case n.Unknown > 0:
		blocks = append(blocks, say.Note("%s could not be answered because a fact of the site is unknown. The survey list says what to find out and who can tell. Prices hold on the assumptions stated.", counted(n.Unknown, "check", "checks")))
	}
	return blocks
}

func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func (j job) leadSentence() string {
	total := j.Quotation.Totals.Net.Format(j.moneyLocale())
	if b := j.Report.Brewing; b != nil {
		return fmt.Sprintf("A brewery of %s a brew for %s of packaged beer a year in %s: %s without tax.",
			hectolitres(b.BrewLength.HL()), hectolitres(b.Totals.Packaged.HL()), j.Job.Site.Name, total)
	}
	return fmt.Sprintf("A brewery for %s: %s without tax.", j.Job.Site.Name, total)
}

func hectolitres(x float64) string { return fmt.Sprintf("%.0f hL", x) }

func (j job) keyFacts() []paper.Fact {
	q := j.Quotation
	facts := []paper.Fact{
		{Name: "Price without tax", Value: paper.Amount(q.Totals.Net)},
		{Name: "With tax", Value: paper.Amount(q.Totals.Gross)},
		{Name: "Valid until", Value: paper.W(longDate(q.ValidUntil, j.moneyLocale()))},
		{Name: "Delivery", Value: paper.W(j.Delivery.String())},
	}
	if weeks, ref := q.LongestLead(); weeks > 0 {
		facts = append(facts, paper.Fact{Name: "Longest lead time", Value: say.Words("%d weeks", weeks), Note: "from release of drawings: " + ref})
	}
	if j.Job.Opening != nil {
		facts = append(facts, paper.Fact{Name: "First beer wanted", Value: paper.W(pricing.DateOf(j.Job.Opening.Time()).Long(j.moneyLocale()))})
	}
	return facts
}

func (j job) priceTable() paper.Table {
	cur := string(j.Quotation.Currency)
	t := paper.Table{
		Name: "prices", Title: "Equipment and services",
		Columns: []paper.Column{
			{Title: "Item", Width: 9},
			{Title: "Code", Width: 14},
			{Title: "Description", Width: 37},
			{Key: "qty", Title: "Qty", Kind: paper.Number, Width: 7},
			{Key: "price", Title: "Price", Unit: cur, Kind: paper.Money, Width: 13},
			{Key: "net", Title: "Net", Unit: cur, Kind: paper.Money, Width: 14},
		},
	}
	section := ""
	for i := range j.Quotation.Lines {
		l := &j.Quotation.Lines[i]
		if l.Section != section {
			section = l.Section
			t.Rows = append(t.Rows, say.Group(section))
		}
		t.Rows = append(t.Rows, priceRow(l))
	}
	for _, x := range j.Quotation.ByOthers {
		t.Rows = append(t.Rows, say.Row(paper.W(x.Ref), paper.W(x.Code), say.Words("%s — by others; our work ends at %s", x.Description, x.Interface)))
	}
	return t
}

func priceRow(l *pricing.Line) paper.Row {
	text := l.Description
	if l.Provisional != nil {
		text += " (provisional sum)"
	}
	for _, d := range l.Discounts {
		text += fmt.Sprintf("; %s less %s", say.Or(d.Reason, "discount"), d.Amount.Fixed())
	}
	return paper.Row{Name: l.Ref, Cells: []paper.Cell{
		paper.W(l.Ref), paper.W(l.Code), paper.W(text), paper.Decimal(l.Quantity.String()), paper.Amount(l.Price), paper.Amount(l.Net),
	}}
}

func (j job) totals() paper.Table {
	q := j.Quotation
	t := paper.Table{
		Name: "totals", Title: "Totals",
		Columns: []paper.Column{{Title: "", Width: 70}, {Key: "sum", Title: "Amount", Unit: string(q.Currency), Kind: paper.Money, Width: 30}},
	}
	add := func(name string, a money.Amount) {
		t.Rows = append(t.Rows, say.Row(paper.W(name), paper.Amount(a)))
	}
	add("Sum of the lines", q.Totals.Lines)
	for _, a := range q.Allowances {
		add("less "+say.Or(a.Reason, "discount"), a.Amount.Neg())
	}
	for _, c := range q.Charges {
		add(c.Reason, c.Amount)
	}
	t.Rows = append(t.Rows, paper.Row{Kind: paper.Subtotal, Cells: []paper.Cell{paper.W("Net, without tax"), paper.Amount(q.Totals.Net)}})
	for _, x := range q.Taxes {
		add(taxWords(x.Tax)+" on "+x.Base.Format(j.moneyLocale()), x.Amount)
	}
	t.Rows = append(t.Rows, paper.Row{Kind: paper.Total, Cells: []paper.Cell{paper.W("Total with tax"), paper.Amount(q.Totals.Gross)}})
	if !q.Totals.Provisional.IsZero() {
		t.Notes = append(t.Notes, fmt.Sprintf("Provisional sums in the total: %s without tax. They are settled against the true cost.", q.Totals.Provisional.Format(j.moneyLocale())))
	}
	for _, x := range q.Taxes {
		if reason := x.Tax.Reason; reason != "" {
			t.Notes = append(t.Notes, "Tax: "+reason+".")
		}
	}
	return t
}

// taxWords names a tax group as a buyer reads it.
func taxWords(t pricing.Tax) string {
	switch t.Category {
	case pricing.TaxStandard:
		return "VAT at " + t.Percent.String() + " %"
	case pricing.TaxReverseCharge:
		return "VAT, reverse charge"
	case pricing.TaxOutside:
		return "No tax included"
	}
	return "VAT, category " + string(t.Category)
}

func (j job) options() []paper.Block {
	if len(j.Quotation.Options) == 0 {
		return nil
	}
	t := paper.Table{
		Name: "options", Title: "Options, in no total until taken",
		Columns: []paper.Column{
			{Title: "Option", Width: 40},
			{Title: "Takes the place of", Width: 20},
			{Title: "Change", Unit: string(j.Quotation.Currency), Kind: paper.Money, Width: 20},
			{Title: "Net if taken", Unit: string(j.Quotation.Currency), Kind: paper.Money, Width: 20},
		},
	}
	for _, o := range j.Quotation.Options {
		t.Rows = append(t.Rows, say.Row(paper.W(o.Title), paper.W(strings.Join(o.Replaces, ", ")), paper.Amount(o.Change.Net), paper.Amount(o.IfTaken.Net)))
	}
	return []paper.Block{t}
}

func (j job) paymentStages() []paper.Block {
	cur := string(j.Quotation.Currency)
	t := paper.Table{
		Name: "stages", Title: "Payments",
		Columns: []paper.Column{
			{Title: "Payment", Width: 18},
			{Title: "Falls due when", Width: 30},
			{Title: "Days", Kind: paper.Number, Width: 7},
			{Title: "Share", Unit: "%", Kind: paper.Number, Width: 9},
			{Title: "Net", Unit: cur, Kind: paper.Money, Width: 17},
			{Title: "With tax", Unit: cur, Kind: paper.Money, Width: 19},
		},
	}
	for _, s := range j.Quotation.Stages {
		due := s.Event
		if s.Evidence != "" {
			due += ", shown by " + s.Evidence
		}
		t.Rows = append(t.Rows, say.Row(paper.W(s.Name), paper.W(due), paper.I(s.Days), paper.Decimal(s.Percent.String()), paper.Amount(s.Net), paper.Amount(s.Gross)))
	}
	t.Rows = append(t.Rows, paper.Row{Kind: paper.Total, Cells: []paper.Cell{paper.W("Together"), {}, {}, {}, paper.Amount(j.Quotation.Totals.Net), paper.Amount(j.Quotation.Totals.Gross)}})
	return []paper.Block{t, j.selfCheck()}
}

// selfCheck prints that the sums add up, so that a reader need not trust us.
func (j job) selfCheck() paper.Block {
	held := 0
	for _, c := range j.Quotation.Checks {
		if c.Holds {
			held++
		}
	}
	return say.Note("Arithmetic checked by the rules of EN 16931-1: %d of %d identities hold (sums of lines, allowances, charges, tax by rate, stages).", held, len(j.Quotation.Checks))
}

func (j job) terms() []paper.Block {
	blocks := []paper.Block{say.List(j.firm.Terms)}
	if rest := j.restingLines(); len(rest) > 0 {
		blocks = append(blocks, say.Heading("Lines that rest on facts not yet measured"), say.List(rest))
	}
	for _, l := range j.Quotation.Lines {
		if p := l.Provisional; p != nil {
			blocks = append(blocks, paper.Together{Blocks: []paper.Block{
				paper.Heading{Level: 3, Text: "Provisional sum " + l.Ref},
				paper.Facts{Facts: []paper.Fact{
					{Name: "What", Value: paper.W(p.What)},
					{Name: "Amount", Value: paper.Amount(p.Amount)},
					{Name: "How adjusted", Value: paper.W(p.Adjusted)},
					{Name: "Who settles it", Value: paper.W(p.Settled)},
				}},
				paper.Paragraph{Voice: paper.Small, Text: paper.Plain(p.Standing())},
			}})
		}
	}
	for _, q := range j.Delivery.Questions() {
		blocks = append(blocks, say.Note("%s", q))
	}
	return append(blocks, paper.Together{Blocks: []paper.Block{
		say.Para("Accepted as offered, on the assumptions and terms above:"),
		paper.Signatures{Items: []string{"For the client, date", "For the supplier, date"}},
	}})
}

func (j job) restingLines() []string {
	var out []string
	for _, l := range j.Quotation.Lines {
		for _, a := range l.DependsOn {
			out = append(out, fmt.Sprintf("%s %s rests on: %s", l.Ref, l.Description, a.Says))
		}
	}
	return out
}

// assumptions are the facts somebody has to confirm: assumed ones and told ones.
func (j job) assumptions() []paper.Assumption {
	var out []paper.Assumption
	for _, l := range enquiry.Facts(j.Report.Project) {
		if l.Basis != enquiry.Assumed && l.Basis != enquiry.Told {
			continue
		}
		out = append(out, paper.Assumption{Text: place(l) + l.What + ": " + l.Value, Basis: l.Basis.Word() + ", " + l.Why, Confirm: l.Ask})
	}
	return out
}

func place(l enquiry.Line) string {
	if l.Where == "" {
		return ""
	}
	return l.Where + ", "
}

// openPoints are what nobody has said yet.
func (j job) openPoints() []paper.OpenPoint {
	var out []paper.OpenPoint
	for _, l := range enquiry.Facts(j.Report.Project) {
		if l.Basis == enquiry.Unknown {
			out = append(out, paper.OpenPoint{Text: place(l) + l.What, Who: l.Ask, When: "before the order"})
		}
	}
	for _, f := range j.Flags {
		out = append(out, paper.OpenPoint{Text: f.Title + ": " + f.Question, Who: "our office", When: "before issue"})
	}
	return out
}
