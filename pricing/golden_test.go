package pricing

import (
	"testing"

	"tunwright/pricing/money"
)

const bookA = `
book: golden-a
currency: GBP
from: 2026-01-01
prices:
  BREWHOUSE: {list: "48750.00", cost: "36100.00"}
  FERMENTER: {list: "9845.50", cost: "6970.00"}
  BRIGHT: {list: "10975.25", cost: "7990.00"}
  CHILLER: {list: "12480.00", cost: "9650.00"}
  PANEL: {list: "7315.75", cost: "5120.00"}
  PIPEWORK: {list: "64.35", cost: "39.46667", unit: MTR}
  INSTALL-DAY: {list: "386.40", cost: "275.00", unit: DAY}
  SUBSISTENCE: {list: "94.35", cost: "85.00", unit: DAY}
`

// requestA is a two-vessel brewhouse with its tanks, installed, in pounds. Its
// figures are worked out by hand with exact decimals.
func requestA(t testing.TB) Request {
	item := func(ref, code, quantity string, kind Kind) Item {
		return Item{Ref: ref, Code: code, Description: code, Kind: kind, Quantity: dec(t, quantity)}
	}
	fermenters := item("2", "FERMENTER", "4", Product)
	fermenters.Discounts = []Discount{{Percent: dec(t, "5"), Reason: "Four or more"}}
	crane := Item{Ref: "9", Description: "Crane and road closure", Kind: Provisional, Provisional: &ProvisionalSum{
		What: "Crane hire, road closure and permit", Amount: amount(t, "3250.00", money.GBP),
		Adjusted: "to the invoices of the crane firm and the highway authority",
		Settled:  "the buyer, when the lift plan is agreed",
	}}
	return Request{
		Date: date(t, "2026-05-04"), ValidUntil: date(t, "2026-06-05"), Currency: money.GBP, Tax: standard(t, "20"),
		Items: []Item{
			item("1", "BREWHOUSE", "1", Product), fermenters, item("3", "BRIGHT", "1", Product), item("4", "CHILLER", "1", Product),
			item("5", "PANEL", "1", Product), item("6", "PIPEWORK", "37.5", Product), item("7", "INSTALL-DAY", "33", Service),
			item("8", "SUBSISTENCE", "33", Expense), crane,
		},
		Discounts: []Discount{{Percent: dec(t, "2.5")}},
		Charges:   []Charge{{Reason: "Freight", ReasonCode: "FC", Amount: amount(t, "2865.00", money.GBP), Cost: amount(t, "2540.00", money.GBP)}},
		Stages:    stages(t, "40", "50", "10"),
	}
}

func TestGoldenQuotationInPounds(t *testing.T) {
	q, sheet := calculate(t, book(t, bookA), requestA(t))
	nets := []string{"48750.00", "37412.90", "10975.25", "12480.00", "7315.75", "2413.13", "12751.20", "3113.55", "3250.00"}
	for i, want := range nets {
		same(t, "net of line "+q.Lines[i].Ref, q.Lines[i].Net, want)
	}
	same(t, "discount on four fermenters", q.Lines[1].Discounts[0].Amount, "1969.10")
	same(t, "lines", q.Totals.Lines, "138461.78")
	same(t, "discount base", q.Allowances[0].Base, "135211.78")
	same(t, "discount", q.Totals.Allowances, "3380.29")
	same(t, "charges", q.Totals.Charges, "2865.00")
	same(t, "net", q.Totals.Net, "137946.49")
	same(t, "tax", q.Totals.Tax, "27589.30")
	same(t, "gross", q.Totals.Gross, "165535.79")
	same(t, "provisional", q.Totals.Provisional, "3250.00")
	wantStages(t, q, [][3]string{{"55178.60", "11035.72", "66214.32"}, {"68973.24", "13794.65", "82767.89"}, {"13794.65", "2758.93", "16553.58"}})
	same(t, "cost", sheet.Whole.Cost, "105890.00")
	if m, k := sheet.Whole.Percent.StringFixed(2), sheet.Whole.Markup.StringFixed(2); m != "23.24" || k != "30.27" {
		t.Errorf("margin %s%% and markup %s%%, want 23.24%% and 30.27%%", m, k)
	}
	verified(t, q)
}

func wantStages(t *testing.T, q Quotation, want [][3]string) {
	t.Helper()
	for i, w := range want {
		s := q.Stages[i]
		same(t, "net of stage "+s.Name, s.Net, w[0])
		same(t, "tax of stage "+s.Name, s.Tax, w[1])
		same(t, "gross of stage "+s.Name, s.Gross, w[2])
	}
}

func verified(t *testing.T, q Quotation) {
	t.Helper()
	if q.Verified() {
		return
	}
	for _, identity := range q.Checks {
		if !identity.Holds {
			t.Errorf("%s (%s): %s, stated %s", identity.Rule, identity.Says, identity.Left, identity.Right)
		}
	}
}

func TestGoldenQuotationInEuros(t *testing.T) {
	b := book(t, `
book: golden-b
currency: EUR
from: 2026-01-01
prices:
  BREWHOUSE: {list: "39417.35"}
  FERMENTER: {list: "8264.65"}
  PIPEWORK: {list: "118.45", unit: MTR}
  INSTALL-DAY: {list: "742.10", unit: DAY}
  TRAINING: {list: "611.25", unit: DAY}
`)
	item := func(code, quantity string) Item {
		return Item{Ref: code, Code: code, Description: code, Kind: Product, Quantity: dec(t, quantity)}
	}
	fermenters := item("FERMENTER", "3")
	fermenters.Discounts = []Discount{{Percent: dec(t, "7.5")}}
	q, _ := calculate(t, b, Request{
		Date: date(t, "2026-05-04"), Currency: money.EUR, Tax: standard(t, "23"),
		Items:     []Item{item("BREWHOUSE", "1"), fermenters, item("PIPEWORK", "7"), item("INSTALL-DAY", "4.5"), item("TRAINING", "2")},
		Discounts: []Discount{{Percent: dec(t, "1.5")}},
		Charges:   []Charge{{Reason: "Freight", ReasonCode: "FC", Amount: amount(t, "1934.80", money.EUR)}},
		Stages:    stages(t, "30", "60", "10"),
	})
	for i, want := range []string{"39417.35", "22934.40", "829.15", "3339.45", "1222.50"} {
		same(t, "net of line "+q.Lines[i].Ref, q.Lines[i].Net, want)
	}
	same(t, "fermenters gross", q.Lines[1].Gross, "24793.95")
	same(t, "discount on fermenters", q.Lines[1].Discounts[0].Amount, "1859.55")
	same(t, "lines", q.Totals.Lines, "67742.85")
	same(t, "discount", q.Totals.Allowances, "1016.14")
	same(t, "net", q.Totals.Net, "68661.51")
	same(t, "tax", q.Totals.Tax, "15792.15")
	same(t, "gross", q.Totals.Gross, "84453.66")
	wantStages(t, q, [][3]string{{"20598.45", "4737.65", "25336.10"}, {"41196.91", "9475.29", "50672.20"}, {"6866.15", "1579.21", "8445.36"}})
	verified(t, q)
}

// Peppol BIS Billing 3, rules/examples/Vat-category-S.xml: two rates, a charge and
// an allowance at one of them.
func TestPublishedTwoRateExample(t *testing.T) {
	b := book(t, "book: two-rates\ncurrency: EUR\nfrom: 2026-01-01\nprices:\n  A: {list: \"400.00\"}\n  B: {list: \"200.00\"}\n  C: {list: \"90.00\"}\n")
	item := func(code, rate string) Item {
		return Item{Ref: code, Code: code, Description: code, Kind: Product, Quantity: dec(t, "10"), Tax: standard(t, rate)}
	}
	other := item("B", "15")
	other.NoDiscount = true
	q, _ := calculate(t, b, Request{
		Date: date(t, "2026-05-04"), Currency: money.EUR, Tax: standard(t, "25"),
		Items:     []Item{item("A", "25"), other, item("C", "25")},
		Discounts: []Discount{{Amount: amount(t, "100.00", money.EUR)}},
		Charges:   []Charge{{Reason: "Freight", Amount: amount(t, "200.00", money.EUR)}},
	})
	same(t, "lines", q.Totals.Lines, "6900.00")
	same(t, "net", q.Totals.Net, "7000.00")
	same(t, "gross", q.Totals.Gross, "8550.00")
	want := []struct{ rate, base, tax string }{{"25", "5000.00", "1250.00"}, {"15", "2000.00", "300.00"}}
	for i, w := range want {
		if got := q.Taxes[i]; got.Tax.Percent.String() != w.rate || got.Base.Fixed() != w.base || got.Amount.Fixed() != w.tax {
			t.Errorf("tax %d: %s on %s is %s, want %v", i, got.Tax, got.Base, got.Amount, w)
		}
	}
	verified(t, q)
}
