package offer

import (
	"fmt"
	"slices"
	"strings"

	"tunwright/catalog"
	"tunwright/configurator"
	"tunwright/configurator/enquiry"
	"tunwright/pricing"
	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
)

// House is what a job is judged and priced by: the firm, its catalogue and prices.
type House struct {
	Firm      Firm
	Catalogue *catalog.Catalogue
	Book      *pricing.Book
}

// Offer is a job checked and priced. Costs are a sheet of their own, which no client
// paper takes.
type Offer struct {
	Job       Job
	Report    configurator.Report
	Request   pricing.Request
	Quotation pricing.Quotation
	Costs     pricing.CostSheet
	Delivery  pricing.Delivery
	Flags     []pricing.Flag
}

// Make checks and prices a job. An error says which product or price is missing;
// what does not fit stands in the report.
func Make(j Job, h House) (Offer, error) {
	j = WithTerm(j, h)
	report, err := configurator.Check(j.Project, h.Catalogue)
	if err != nil {
		return Offer{}, err
	}
	return Price(j, h, report)
}

// WithTerm states the delivery term that holds where the enquiry names none: the
// job's own, else the firm's.
func WithTerm(j Job, h House) Job {
	if j.Site.Term == "" {
		j.Site.Term = delivery(j, h).Rule
	}
	return j
}

// Price prices a job whose report is already there.
func Price(j Job, h House, report configurator.Report) (Offer, error) {
	book, err := bookFor(j, h)
	if err != nil {
		return Offer{}, err
	}
	req, err := request(j, h, book, report)
	if err != nil {
		return Offer{}, err
	}
	q, costs, err := pricing.Calculate(book, req)
	if err != nil {
		return Offer{}, fmt.Errorf("price the job: %w", err)
	}
	o := Offer{Job: j, Report: report, Request: req, Quotation: q, Costs: costs, Delivery: delivery(j, h)}
	o.Flags = flags(j, h.Firm, report, costs)
	return o, nil
}

// bookFor is the price book in the job's currency.
func bookFor(j Job, h House) (*pricing.Book, error) {
	want := money.Currency(j.Terms.Currency)
	if want == "" || want == h.Book.Currency {
		return h.Book, nil
	}
	r := j.Terms.Rate
	if r == nil {
		return nil, fmt.Errorf("commercial.exchange_rate is missing: the prices are in %s, the job is in %s", h.Book.Currency, want)
	}
	if r.To != string(want) {
		return nil, fmt.Errorf("commercial.exchange_rate.to is %q, the job is in %s: name the rate from %s to %s", r.To, want, h.Book.Currency, want)
	}
	rate := pricing.Rate{
		From: h.Book.Currency, To: want, Value: r.Value, Side: "mid", Source: r.Source,
		Date: pricing.DateOf(r.Date.Time()), Expiry: pricing.DateOf(r.Until.Time()), Buffer: r.Buffer,
	}
	if on := pricing.DateOf(j.Date.Time()); !rate.Holds(on) {
		return nil, fmt.Errorf("commercial.exchange_rate holds from %s to %s, the job is of %s: name a rate of that day", r.Date, r.Until, j.Date)
	}
	book, err := h.Book.In(rate)
	if err != nil {
		return nil, fmt.Errorf("price book in %s: %w", want, err)
	}
	return book, nil
}

func request(j Job, h House, book *pricing.Book, report configurator.Report) (pricing.Request, error) {
	date := pricing.DateOf(j.Date.Time())
	req := pricing.Request{
		Date: date, ValidUntil: date.AddDays(validDays(j, h.Firm)), Currency: book.Currency, Stages: stages(j, h.Firm),
		Policy: pricing.Policy{MarginFloor: h.Firm.MarginFloor, DiscountCap: h.Firm.DiscountCap, ProvisionalCap: h.Firm.ProvisionalCap},
	}
	var err error
	if req.Tax, err = tax(j, h.Firm, date); err != nil {
		return req, err
	}
	if j.Terms.Discount.Sign() > 0 {
		req.Discounts = []pricing.Discount{{Percent: j.Terms.Discount, Reason: j.Terms.Reason}}
	}
	rests := resting(report.Project)
	req.Items = make([]pricing.Item, 0, len(report.Chosen))
	for _, c := range bySection(report.Chosen) {
		terms := lineTerms(j, c.Item.Tag)
		it, err := item(c, terms, book, date)
		if err != nil {
			return req, err
		}
		it.DependsOn = rests[restKey(c.Product)]
		if terms.Optional == "" {
			req.Items = append(req.Items, it)
			continue
		}
		addOption(&req, terms, it)
	}
	return req, nil
}

func addOption(req *pricing.Request, t LineTerms, it pricing.Item) {
	for i := range req.Options {
		if req.Options[i].Title == t.Optional {
			req.Options[i].Items = append(req.Options[i].Items, it)
			req.Options[i].Replaces = append(req.Options[i].Replaces, t.Replaces...)
			return
		}
	}
	req.Options = append(req.Options, pricing.Option{ID: fmt.Sprintf("option-%d", len(req.Options)+1), Title: t.Optional, Group: t.Group, Replaces: t.Replaces, Items: []pricing.Item{it}})
}

func validDays(j Job, f Firm) int {
	if j.Terms.ValidDays > 0 {
		return j.Terms.ValidDays
	}
	return f.Valid
}

func stages(j Job, f Firm) []pricing.StageTerm {
	list := j.Terms.Stages
	if len(list) == 0 {
		list = f.Stages
	}
	out := make([]pricing.StageTerm, len(list))
	for i, s := range list {
		out[i] = pricing.StageTerm{Name: s.Name, Event: s.Event, Evidence: s.Evidence, Days: s.Days, Percent: s.Percent}
	}
	return out
}

// tax is what is charged on everything that states none of its own. Plant installed
// across a border is supplied where it stands: the buyer accounts for the tax, which
// a person confirms (the flags say so).
func tax(j Job, f Firm, date pricing.Date) (pricing.Tax, error) {
	site := j.Site.Country
	switch {
	case site == "US":
		return pricing.Untaxed(pricing.TaxOutside, "sales and use tax is not included"), nil
	case site != f.Country:
		return pricing.Untaxed(pricing.TaxReverseCharge, "plant installed abroad: the buyer accounts for the tax"), nil
	}
	rate, err := pricing.PublishedTaxRates().On(site, "standard", date)
	if err != nil {
		return pricing.Tax{}, fmt.Errorf("tax: %w", err)
	}
	return rate.Tax(), nil
}

func lineTerms(j Job, tag string) LineTerms {
	for _, l := range j.Terms.Lines {
		if l.Tag == tag {
			return l
		}
	}
	return LineTerms{Tag: tag}
}

// sections are the headings of the quotation in their order, with their classes.
var sections = []struct {
	title   string
	classes []catalog.Class
}{
	{"Brewhouse", []catalog.Class{catalog.ClassBrewhouse, catalog.ClassLiquorTank, catalog.ClassWortCooler, catalog.ClassMill}},
	{"Cellar", []catalog.Class{catalog.ClassFermenter, catalog.ClassBrightTank, catalog.ClassKegWasher}},
	{"Cooling", []catalog.Class{catalog.ClassChiller, catalog.ClassBuffer, catalog.ClassPump}},
	{"Controls and alarms", []catalog.Class{catalog.ClassPanel, catalog.ClassGasAlarm}},
	{"Steam, gas and air", []catalog.Class{catalog.ClassCanopy, catalog.ClassCondenser, catalog.ClassSteam, catalog.ClassFan, catalog.ClassCompressor}},
	{"Cleaning", []catalog.Class{catalog.ClassCIP}},
	{"Fittings", []catalog.Class{catalog.ClassFitting, catalog.ClassPlate}},
	{"Services", []catalog.Class{catalog.ClassService}},
}

func sectionIndex(class catalog.Class) int {
	for i, s := range sections {
		if slices.Contains(s.classes, class) {
			return i
		}
	}
	return len(sections)
}

// bySection puts items under their headings and keeps their order within each.
func bySection(chosen []configurator.Chosen) []configurator.Chosen {
	out := slices.Clone(chosen)
	slices.SortStableFunc(out, func(a, b configurator.Chosen) int {
		return sectionIndex(a.Product.Class) - sectionIndex(b.Product.Class)
	})
	return out
}

// SectionOf is the heading a class of product stands under.
func SectionOf(class catalog.Class) string {
	if i := sectionIndex(class); i < len(sections) {
		return sections[i].title
	}
	return "Further"
}

func item(c configurator.Chosen, t LineTerms, book *pricing.Book, date pricing.Date) (pricing.Item, error) {
	it := pricing.Item{
		Ref: c.Item.Tag, Code: c.Product.Code, Description: c.Product.Name, Section: SectionOf(c.Product.Class),
		Kind: pricing.Product, Quantity: decimal.NewFromInt(int64(c.Item.Quantity())),
	}
	if t.Discount.Sign() > 0 {
		it.Discounts = []pricing.Discount{{Percent: t.Discount, Reason: t.Reason}}
	}
	s := c.Product.Service
	if s == nil {
		return it, nil
	}
	it.Kind = pricing.Service
	if !s.Provisional {
		return it, nil
	}
	return provisional(it, c, t, book, date)
}

// provisional makes the line of a sum that is settled later. The terms may replace
// each of its four statements.
func provisional(it pricing.Item, c configurator.Chosen, t LineTerms, book *pricing.Book, date pricing.Date) (pricing.Item, error) {
	price, err := book.Find(c.Product.Code, date)
	if err != nil {
		return it, fmt.Errorf("provisional sum %s: %w", c.Item.Tag, err)
	}
	amount := price.List
	if t.Amount != "" {
		if amount, err = money.New(t.Amount, book.Currency); err != nil {
			return it, fmt.Errorf("commercial.lines %s: amount: %w", c.Item.Tag, err)
		}
	}
	it.Kind, it.Quantity = pricing.Provisional, decimal.NewFromInt(1)
	it.Provisional = &pricing.ProvisionalSum{
		What: or(t.What, strings.TrimSuffix(c.Product.Summary, ".")), Amount: amount,
		Adjusted: or(t.Adjusted, "settled against the contractor's invoice plus ten per cent"),
		Settled:  or(t.Settled, "by our office, when the contractor has seen the site, before the order for the work is placed"),
	}
	return it, nil
}

func or(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

func delivery(j Job, h House) pricing.Delivery {
	d := h.Firm.Delivery
	if j.Terms.Delivery != nil {
		d = *j.Terms.Delivery
	}
	d.Rule = or(j.Site.Term, d.Rule)
	place := or(d.Place, strings.Join(append([]string{j.Site.Name}, j.Site.Address...), ", "))
	return pricing.Delivery{Rule: d.Rule, Place: place, UpperFloor: j.Site.Level != 0, LiftByUs: d.LiftByUs && lifts(j, h.Catalogue)}
}

// lifts tells whether lifting or moving in is among the lines: a firm that usually
// lifts does not do so in a quotation without it.
func lifts(j Job, c *catalog.Catalogue) bool {
	for _, i := range j.Chosen.Items {
		if p, ok := c.Find(i.Product); ok && p.Service != nil && (p.Service.Kind == "crane" || p.Service.Kind == "rigging") {
			return true
		}
	}
	return false
}

func flags(j Job, f Firm, report configurator.Report, costs pricing.CostSheet) []pricing.Flag {
	s := pricing.Supply{
		SellerCountry: f.Country, BuyerCountry: j.Site.Country, SiteCountry: j.Site.Country,
		BuyerInBusiness: true, BuyerVATNumber: j.Terms.VATNumber, ConstructionScope: true,
	}
	goods := map[string]bool{}
	for _, c := range report.Chosen {
		if c.Product.Service == nil {
			goods[c.Item.Tag] = true
			continue
		}
		s.Installed = s.Installed || c.Product.Service.Kind == "installation"
	}
	for _, c := range report.Chosen {
		if c.Product.Class == catalog.ClassBrewhouse || c.Product.Class == catalog.ClassChiller {
			s.HardPipedUnits++
		}
	}
	if over, err := costs.GoodsOverTwoThirds(goods); err == nil {
		s.GoodsCostShare = over
	}
	return pricing.Flags(s)
}

// restsOn names, for each kind of service or class of product, the facts of the
// building that its price rests on.
var restsOn = map[string][]string{
	"installation":               {"site.floor_above_street_m", "site.room.clear_height_mm"},
	"crane":                      {"site.crane_access", "site.floor_above_street_m"},
	string(catalog.ClassChiller): {"site.chiller_place.pipe_run_m", "site.chiller_place.above_tanks_m"},
	string(catalog.ClassFitting): {"site.chiller_place.pipe_run_m", "site.supply.board_distance_m"},
	string(catalog.ClassCanopy):  {"site.ventilation.steam_outlet"},
}

func restKey(p *catalog.Product) string {
	if p.Service != nil {
		return p.Service.Kind
	}
	return string(p.Class)
}

// resting lists, by the keys of restsOn, the facts that nobody has measured.
func resting(project enquiry.Project) map[string][]pricing.Assumption {
	out := make(map[string][]pricing.Assumption, len(restsOn))
	for key, paths := range restsOn {
		for _, path := range paths {
			l, ok := enquiry.FactAt(project, path)
			if !ok || l.Basis == enquiry.Measured {
				continue
			}
			value := l.Value
			if l.Basis == enquiry.Unknown {
				value = "unknown"
			}
			out[key] = append(out[key], pricing.Assumption{Key: path, Value: value, Says: fmt.Sprintf("%s: %s, %s", l.What, value, l.Basis.Word())})
		}
	}
	return out
}

// Facts gives the facts by path, to compare with those a quotation rests on.
func (o Offer) Facts() map[string]string {
	out := map[string]string{}
	for _, l := range enquiry.Facts(o.Report.Project) {
		out[l.Path] = l.Value
	}
	return out
}
