package pricing

import (
	"strings"
	"testing"

	"tunwright/pricing/money"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"
)

func TestMarginAndMarkup(t *testing.T) {
	// Own arithmetic: C 36100, S 48750 is a margin of 25.95 %; at a floor of 20 % the
	// price is 45125.00 and 7.4359 % may still come off. Wanting 30 % margin and
	// adding 30 % gives 23.08 %.
	m, err := Relate(amount(t, "48750", money.GBP), amount(t, "36100", money.GBP))
	if err != nil || m.Percent.String() != "25.95" {
		t.Errorf("margin %s, %v", m.Percent, err)
	}
	floor, err := FloorPrice(amount(t, "36100.00", money.GBP), dec(t, "20"))
	if err != nil {
		t.Fatal(err)
	}
	same(t, "price at the floor", floor, "45125.00")
	sheet := CostSheet{Currency: money.GBP}
	if err := sheet.whole(amount(t, "48750", money.GBP), amount(t, "36100", money.GBP), Policy{MarginFloor: dec(t, "20")}); err != nil {
		t.Fatal(err)
	}
	if got := sheet.FurtherDiscount.String(); got != "7.4359" {
		t.Errorf("further discount %s", got)
	}
	m, _ = Relate(amount(t, "130", money.GBP), amount(t, "100", money.GBP))
	if m.Percent.String() != "23.08" || m.Markup.String() != "30" {
		t.Errorf("margin %s at markup %s", m.Percent, m.Markup)
	}
	if got, _ := FloorPrice(amount(t, "100.00", money.GBP), dec(t, "30")); got.Fixed() != "142.86" {
		t.Errorf("the floor price is rounded down: %s", got)
	}
	if _, err := FloorPrice(amount(t, "1", money.GBP), dec(t, "100")); err == nil {
		t.Error("a margin of 100 per cent has a price")
	}
}

func TestApprovalNeeds(t *testing.T) {
	rules := func(change func(*Request)) string {
		req := requestA(t)
		change(&req)
		_, sheet := calculate(t, book(t, bookA), req)
		var out []string
		for _, n := range sheet.Needs {
			out = append(out, n.Rule+":"+n.Ref)
		}
		return strings.Join(out, " ")
	}
	tests := []struct {
		name   string
		change func(*Request)
		want   string
	}{
		{"nothing", func(*Request) {}, ""},
		{"floor below the margin", func(r *Request) { r.Policy.MarginFloor = dec(t, "5") }, ""},
		{"floor above the margin of the whole", func(r *Request) { r.Policy.MarginFloor = dec(t, "23.25") }, "margin: line margin:4 line margin:8"},
		{"discount above the cap", func(r *Request) { r.Policy.DiscountCap = dec(t, "3.8") }, "discount:"},
		{"discount at the cap", func(r *Request) { r.Policy.DiscountCap = dec(t, "3.9") }, ""},
		{"provisional sums above the cap", func(r *Request) { r.Policy.ProvisionalCap = dec(t, "2") }, "provisional sums:"},
		{"price by hand", func(r *Request) {
			r.Items[0].Price, r.Items[0].PriceReason = amount(t, "50000", money.GBP), "agreed last year"
			r.Items[0].Cost = amount(t, "36100", money.GBP)
		}, "price by hand:1"},
		{"unknown cost", func(r *Request) {
			r.Items[0].Price, r.Items[0].PriceReason = amount(t, "50000", money.GBP), "bought in"
		}, "unknown cost:1 price by hand:1"},
		{"below cost", func(r *Request) { r.Items[3].Discounts = []Discount{{Percent: dec(t, "30")}} }, "line margin:4"},
	}
	for _, tt := range tests {
		if got := rules(tt.change); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}

func TestConvertAtADatedRate(t *testing.T) {
	// Own arithmetic: 8412.60 × 1.1874 × 1.02 = 10188.90 (10188.9037…).
	r := Rate{From: money.GBP, To: money.EUR, Value: dec(t, "1.1874"), Side: "ask", Source: "the bank", Date: date(t, "2026-05-04"), Expiry: date(t, "2026-06-03"), Buffer: dec(t, "2")}
	got, err := r.Convert(amount(t, "8412.60", money.GBP))
	if err != nil {
		t.Fatal(err)
	}
	same(t, "converted", got, "10188.90")
	if _, err := r.Convert(amount(t, "1", money.EUR)); err == nil {
		t.Error("euros were converted at a rate from pounds")
	}
	for now, want := range map[string]bool{"1.1874": false, "1.211148": false, "1.211149": true, "1.1636": true} {
		if _, beyond, err := r.Moved(dec(t, now)); err != nil || beyond != want {
			t.Errorf("rate now %s: beyond %v, %v", now, beyond, err)
		}
	}
	if r.Holds(date(t, "2026-06-04")) || !r.Holds(date(t, "2026-06-03")) || r.Holds(date(t, "2026-05-03")) {
		t.Error("the expiry is the last day of use")
	}
	later := r
	later.Date, later.Value = date(t, "2026-05-20"), dec(t, "1.19")
	rates := Rates{later, r}
	for day, want := range map[string]string{"2026-05-19": "1.1874", "2026-05-20": "1.19", "2026-06-04": ""} {
		if got, err := rates.On(money.GBP, money.EUR, date(t, day)); (err == nil) != (want != "") || err == nil && got.Value.String() != want {
			t.Errorf("on %s: %s, %v", day, got.Value, err)
		}
	}
	r.Source = ""
	if _, err := r.Convert(amount(t, "1", money.GBP)); err == nil {
		t.Error("a rate without a source was used")
	}
}

func TestBookInAnotherCurrency(t *testing.T) {
	r := Rate{From: money.GBP, To: money.EUR, Value: dec(t, "1.2"), Side: "mid", Source: "the bank", Date: date(t, "2026-05-04"), Expiry: date(t, "2026-06-03")}
	b, err := book(t, bookA).In(r)
	if err != nil {
		t.Fatal(err)
	}
	p, err := b.Find("FERMENTER", date(t, "2026-05-04"))
	if err != nil {
		t.Fatal(err)
	}
	same(t, "list", p.List, "11814.60")
	same(t, "cost", p.Cost, "8364.00")
	if b.Holds(date(t, "2026-06-04")) || !strings.Contains(b.Note, "the bank") {
		t.Errorf("note %q, to %s", b.Note, b.To)
	}
}

func TestEscalation(t *testing.T) {
	// BEAMA formula 5 + 47.5 + 47.5, own figures worked out by hand:
	// 118400.00·(5 + 47.5·127.8/131.5 + 47.5·109.9/104.2)/100 = 119894.05.
	indices := []Index{
		{Name: "materials", Base: dec(t, "131.5"), Now: dec(t, "127.8"), Weight: dec(t, "47.5")},
		{Name: "labour", Base: dec(t, "104.2"), Now: dec(t, "109.9"), Weight: dec(t, "47.5")},
	}
	a, err := Escalate(amount(t, "118400.00", money.GBP), dec(t, "5"), indices)
	if err != nil {
		t.Fatal(err)
	}
	same(t, "adjusted", a.New, "119894.05")
	same(t, "change", a.Change, "1494.05")
	if _, err := Escalate(amount(t, "1", money.GBP), dec(t, "4"), indices); err == nil {
		t.Error("weights of 99 were taken")
	}
}

func TestDeliveryRules(t *testing.T) {
	// Incoterms 2020 of the ICC: eleven rules, seven for any mode; the seller unloads
	// under DPU alone, insures under CIP and CIF, clears for import under DDP.
	var any, unloads, insures, clears []string
	for _, r := range DeliveryRules() {
		if r.Mode == "any" {
			any = append(any, r.Rule)
		}
		if r.Unloading == "seller" {
			unloads = append(unloads, r.Rule)
		}
		if r.Insurance == "seller" {
			insures = append(insures, r.Rule)
		}
		if r.Import == "seller" {
			clears = append(clears, r.Rule)
		}
	}
	want := "EXW FCA CPT CIP DAP DPU DDP|DPU|CIP CIF|DDP"
	got := strings.Join([]string{strings.Join(any, " "), strings.Join(unloads, " "), strings.Join(insures, " "), strings.Join(clears, " ")}, "|")
	if got != want || len(DeliveryRules()) != 11 {
		t.Errorf("%s, want %s", got, want)
	}
	d := Delivery{Rule: "DAP", Place: "kerbside, 4 Quay Lane", UpperFloor: true}
	if d.String() != "DAP kerbside, 4 Quay Lane (Incoterms 2020)" || len(d.Questions()) != 2 || d.Check() != nil {
		t.Errorf("%s: %v", d, d.Questions())
	}
	if q := (Delivery{Rule: "DPU", Place: "first floor, in position", UpperFloor: true, LiftByUs: true}).Questions(); len(q) != 0 {
		t.Errorf("DPU with our lift asks %v", q)
	}
	for _, bad := range []Delivery{{Rule: "DAT", Place: "x"}, {Rule: "DAP", Place: " "}} {
		if bad.Check() == nil {
			t.Errorf("%v was taken", bad)
		}
	}
}

func TestFlags(t *testing.T) {
	tests := []struct {
		name   string
		supply Supply
		want   string
	}{
		{"plant and installation at home, private buyer", Supply{SellerCountry: "GB", BuyerCountry: "GB", SiteCountry: "GB", Installed: true}, ""},
		{"installed in Ireland by a British firm", Supply{SellerCountry: "GB", SiteCountry: "IE", Installed: true, BuyerInBusiness: true}, "TX-01 TX-02"},
		{"the same with a VAT number", Supply{SellerCountry: "GB", SiteCountry: "IE", Installed: true, BuyerInBusiness: true, BuyerVATNumber: "IE0000000X"}, "TX-01"},
		{"goods exported", Supply{SellerCountry: "GB", SiteCountry: "NO"}, "TX-03"},
		{"Northern Ireland", Supply{SellerCountry: "GB", SiteCountry: "XI", Installed: true}, "TX-01 TX-04"},
		{"pipework in a building", Supply{SellerCountry: "GB", SiteCountry: "GB", ConstructionScope: true, BuyerInBusiness: true}, "TX-05"},
		{"the same for an end user", Supply{SellerCountry: "GB", SiteCountry: "GB", ConstructionScope: true, BuyerInBusiness: true, EndUserStatement: true}, ""},
		{"goods above two thirds in Ireland", Supply{SellerCountry: "IE", SiteCountry: "IE", GoodsCostShare: true}, "TX-06"},
		{"the United States", Supply{SellerCountry: "US", SiteCountry: "US"}, "TX-07"},
		{"hard-piped tanks", Supply{SellerCountry: "GB", SiteCountry: "GB", HardPipedUnits: 4}, "TI-01"},
		{"mixed scopes", Supply{SellerCountry: "GB", SiteCountry: "GB", Installed: true, ConstructionScope: true}, "TI-02"},
	}
	for _, tt := range tests {
		var ids []string
		for _, f := range Flags(tt.supply) {
			ids = append(ids, f.ID)
			if f.Title == "" || f.Question == "" || f.Source == "" {
				t.Errorf("%s is incomplete", f.ID)
			}
		}
		if got := strings.Join(ids, " "); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}

func TestTwoThirdsRuleIsStrict(t *testing.T) {
	// VAT Consolidation Act 2010 s. 41 (Ireland): more than two thirds.
	for cost, want := range map[string]bool{"200.00": false, "200.01": true} {
		sheet := CostSheet{Currency: money.EUR, Lines: []CostLine{{Ref: "1", Margin: Margin{Cost: amount(t, cost, money.EUR)}}, {Ref: "2", Margin: Margin{Cost: amount(t, "99", money.EUR)}}}}
		sheet.Whole.Net = amount(t, "300.00", money.EUR)
		if got, err := sheet.GoodsOverTwoThirds(map[string]bool{"1": true}); err != nil || got != want {
			t.Errorf("cost %s of 300: %v, %v", cost, got, err)
		}
	}
}

func TestPriceRestsOnBuildingFacts(t *testing.T) {
	req := requestA(t)
	req.Items[8].DependsOn = []Assumption{{Key: "site.floor_height_mm", Value: "4200", Says: "floor 4.2 m above the street"}}
	q, _ := calculate(t, book(t, bookA), req)
	if got := q.Broken(map[string]string{"site.floor_height_mm": "4200"}); len(got) != 0 {
		t.Errorf("an unchanged fact is broken: %v", got)
	}
	if got := q.Broken(map[string]string{"site.floor_height_mm": "6100"}); len(got) != 1 || got[0].Ref != "9" || !strings.Contains(got[0].Says, "6100") {
		t.Errorf("changed: %v", got)
	}
	if got := q.Broken(nil); len(got) != 1 || !strings.Contains(got[0].Says, "not known any more") {
		t.Errorf("unknown: %v", got)
	}
}

func TestCashExposure(t *testing.T) {
	q, sheet := calculate(t, book(t, bookA), requestA(t))
	commitments := []Commitment{{"order", dec(t, "20")}, {"before dispatch", dec(t, "90")}, {"commissioning", dec(t, "100")}}
	got, err := CashExposure(q, sheet, commitments, amount(t, "0", money.GBP))
	if err != nil {
		t.Fatal(err)
	}
	// Own arithmetic from the golden quotation: cost 105890.00.
	want := [][4]string{
		{"21178.00", "55178.60", "21178.00", "-34000.60"},
		{"95301.00", "124151.84", "40122.40", "-28850.84"},
		{"105890.00", "137946.49", "-18261.84", "-32056.49"},
	}
	for i, w := range want {
		same(t, "committed", got[i].Committed, w[0])
		same(t, "received", got[i].Received, w[1])
		same(t, "before", got[i].Before, w[2])
		same(t, "after", got[i].After, w[3])
		if got[i].Over {
			t.Errorf("stage %d is over", i)
		}
	}
	commitments[0].Percent = dec(t, "80")
	commitments[1].Percent = dec(t, "80")
	got, err = CashExposure(q, sheet, commitments, amount(t, "0", money.GBP))
	if err != nil || !got[0].Over {
		t.Errorf("an uncovered purchase is not marked: %v, %v", got, err)
	}
	commitments[1].Percent = dec(t, "10")
	if _, err := CashExposure(q, sheet, commitments, amount(t, "0", money.GBP)); err == nil {
		t.Error("a falling commitment was taken")
	}
}

func TestOptionsAndAlternatives(t *testing.T) {
	req := requestA(t)
	washer := Item{Ref: "w", Description: "Keg washer", Kind: Product, Quantity: dec(t, "1"), Price: amount(t, "6000.00", money.GBP), PriceReason: "bought in", Cost: amount(t, "4500.00", money.GBP)}
	larger := Item{Ref: "4b", Description: "Larger chiller", Kind: Product, Quantity: dec(t, "1"), Price: amount(t, "15480.00", money.GBP), PriceReason: "bought in", Cost: amount(t, "11900.00", money.GBP)}
	req.Options = []Option{
		{ID: "washer", Title: "Keg washer", Items: []Item{washer}},
		{ID: "larger", Title: "Larger chiller", Group: "chiller", Replaces: []string{"4"}, Items: []Item{larger}},
	}
	q, sheet := calculate(t, book(t, bookA), req)
	same(t, "an option is in no total", q.Totals.Net, "137946.49")
	// 6000.00 less 2.5 % is 5850.00; the discount is worked out on the whole.
	same(t, "washer", q.Options[0].Change.Net, "5850.00")
	same(t, "washer with tax", q.Options[0].Change.Gross, "7020.00")
	same(t, "larger chiller", q.Options[1].Change.Net, "2925.00")
	same(t, "cost of the washer", sheet.Options[0].Change.Cost, "4500.00")
	taken, err := req.Taking("larger")
	if err != nil {
		t.Fatal(err)
	}
	if taken.Items[3].Ref != "4b" || len(taken.Options) != 1 {
		t.Errorf("line 4 is %s", taken.Items[3].Ref)
	}
	after, _ := calculate(t, book(t, bookA), taken)
	same(t, "taken", after.Totals.Net, q.Options[1].IfTaken.Net.Fixed())
	broken := req
	broken.Options = []Option{{ID: "x", Title: "x", Items: []Item{{Ref: "x", Description: "x", Kind: Product}}}}
	if _, _, err := Calculate(book(t, bookA), broken); err == nil || !strings.Contains(err.Error(), "options[0], taken: items[9].quantity") {
		t.Errorf("an option without a quantity: %v", err)
	}
	req.Options = append(req.Options, Option{ID: "third", Title: "Third", Group: "chiller", Items: []Item{washer}})
	if _, err := req.Taking("larger", "third"); err == nil {
		t.Error("two alternatives were taken")
	}
	if _, err := req.Taking("nothing"); err == nil {
		t.Error("an option that is not there was taken")
	}
}

func TestCompare(t *testing.T) {
	one, _ := calculate(t, book(t, bookA), requestA(t))
	req := requestA(t)
	req.Items[3].Quantity = dec(t, "2")
	req.Items = append(req.Items[:1], req.Items[2:]...)
	two, _ := calculate(t, book(t, bookA), req)
	c, err := Compare(Named{"as asked", one}, Named{"two chillers", two})
	if err != nil {
		t.Fatal(err)
	}
	var differs []string
	for _, row := range c.Rows {
		if row.Differs {
			differs = append(differs, row.Ref)
		}
	}
	if got := strings.Join(differs, " "); got != "2 4" {
		t.Errorf("rows that differ: %s", got)
	}
	difference, _ := two.Totals.Net.Sub(one.Totals.Net)
	if !c.More[1].Equal(difference) || !c.More[0].IsZero() {
		t.Errorf("more: %v", c.More)
	}
	if _, err := Compare(Named{"alone", one}); err == nil {
		t.Error("one quotation was compared")
	}
}

func TestInstallation(t *testing.T) {
	in := Installation{Ref: "install", Description: "Installation", Crew: 3, Days: 11, DayCode: "INSTALL-DAY", Nights: 10, SubsistenceCode: "SUBSISTENCE"}
	items, err := in.Items()
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"33", "30"}
	for i, item := range items {
		if item.Quantity.String() != want[i] {
			t.Errorf("%s: %s, want %s", item.Description, item.Quantity, want[i])
		}
	}
	for _, bad := range []Installation{{Crew: 0, Days: 1}, {Crew: 1, Days: 0}, {Crew: 1, Days: 1, Nights: 1}} {
		if _, err := bad.Items(); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
}

func TestProvisionalSumIsDefinedByFourMoreFields(t *testing.T) {
	// RICS New Rules of Measurement 2: nature, fixing, quantities, limitations.
	p := ProvisionalSum{Nature: "crane", Fixing: "from the street", Quantities: "6 lifts", Limitations: "Sunday"}
	if !p.Defined() || !strings.HasPrefix(p.Standing(), "Defined") {
		t.Error(p.Standing())
	}
	p.Limitations = " "
	if p.Defined() || !strings.Contains(p.Standing(), "no programme time") {
		t.Error(p.Standing())
	}
}

func TestReadyToIssue(t *testing.T) {
	b := book(t, strings.Replace(bookA, "prices:", "to: 2026-07-01\nprices:", 1))
	q, _ := calculate(t, b, requestA(t))
	if got := q.ReadyToIssue(b); len(got) != 0 {
		t.Errorf("ready, but %v", got)
	}
	late := q
	late.ValidUntil = date(t, "2026-07-01")
	rate := Rate{From: money.EUR, To: money.GBP, Value: decimal.New(1, 0), Date: date(t, "2026-05-01"), Expiry: date(t, "2026-06-30")}
	if got := late.ReadyToIssue(b, rate); len(got) != 2 {
		t.Errorf("book and rate have ended, but %v", got)
	}
	late.ValidUntil = Date{}
	if got := late.ReadyToIssue(b); len(got) != 1 {
		t.Errorf("no validity, but %v", got)
	}
	if q.Acceptable(date(t, "2026-06-06")) || !q.Acceptable(date(t, "2026-06-05")) {
		t.Error("the last day counts, the next does not")
	}
}

func TestThreeDecimalsAreRefusedNotCut(t *testing.T) {
	q, _ := calculate(t, book(t, bookA), requestA(t))
	if err := q.FitsInvoiceStandard(); err != nil {
		t.Error(err)
	}
	q.Currency = "KWD"
	if err := q.FitsInvoiceStandard(); err == nil {
		t.Error("dinars with three decimals fit")
	}
	if !strings.Contains((Supply{HardPipedUnits: 1}).TitleNote(), "part of it") || strings.Contains((Supply{}).TitleNote(), "part of it") {
		t.Error("the note on title does not follow the pipes")
	}
}

func TestDates(t *testing.T) {
	d := date(t, "2025-01-05")
	// Unicode CLDR 48, long dates, printed by Intl.DateTimeFormat of Node.
	want := map[money.Locale]string{money.EnGB: "5 January 2025", money.EnIE: "5 January 2025", money.EnUS: "January 5, 2025", money.DeDE: "5. Januar 2025"}
	for l, w := range want {
		if got := d.Long(l); got != w {
			t.Errorf("%s: %q, want %q", l, got, w)
		}
	}
	if d.AddDays(31) != date(t, "2025-02-05") || d.DaysUntil(date(t, "2026-01-05")) != 365 {
		t.Error("days are counted wrong")
	}
	for _, bad := range []string{"2025-02-29", "2025-2-3", "05/06/2026", "", "1899-01-01"} {
		if got, err := ParseDate(bad); err == nil {
			t.Errorf("%q was read as %s", bad, got)
		}
	}
	var zero Date
	if text, _ := zero.MarshalText(); string(text) != "" || zero.Long(money.DeDE) != "" {
		t.Error("no date prints something")
	}
}

func TestQuotationHasNoRoomForCosts(t *testing.T) {
	q, _ := calculate(t, book(t, bookA), requestA(t))
	if d := cmp.Diff([]string(nil), costWords(t, q)); d != "" {
		t.Error(d)
	}
}
