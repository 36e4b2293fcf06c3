package pricing

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"tunwright/pricing/money"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

// requestOf makes a request of n lines of mixed kinds over the book of requestA.
func requestOf(t testing.TB, n int) Request {
	base := requestA(t)
	req := base
	req.Items = nil
	for i := range n {
		item := base.Items[i%len(base.Items)]
		item.Ref = fmt.Sprintf("line-%d", i+1)
		req.Items = append(req.Items, item)
	}
	return req
}

func TestCalculateIsDeterministic(t *testing.T) {
	b, req := book(t, bookA), requestOf(t, 60)
	first, firstSheet := calculate(t, b, req)
	again, againSheet := calculate(t, b, req)
	if d := cmp.Diff(first, again, cmp.Comparer(equalDates)); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff(firstSheet, againSheet); d != "" {
		t.Error(d)
	}
}

func equalDates(a, b Date) bool { return a == b }

func TestRequestRefused(t *testing.T) {
	pounds := func(s string) money.Amount { return amount(t, s, money.GBP) }
	tests := []struct {
		name   string
		change func(*Request)
		where  string
	}{
		{"no date", func(r *Request) { r.Date = Date{} }, "date"},
		{"before the book", func(r *Request) { r.Date = date(t, "2025-12-31") }, "date"},
		{"valid into the past", func(r *Request) { r.ValidUntil = date(t, "2026-05-03") }, "valid_until"},
		{"other currency", func(r *Request) { r.Currency = money.EUR }, "currency"},
		{"no lines", func(r *Request) { r.Items = nil }, "items"},
		{"no tax", func(r *Request) { r.Tax = Tax{} }, "tax"},
		{"the same ref twice", func(r *Request) { r.Items[1].Ref = "1" }, "items[1].ref"},
		{"no ref", func(r *Request) { r.Items[1].Ref = "" }, "items[1].ref"},
		{"no description", func(r *Request) { r.Items[0].Description = "" }, "items[0].description"},
		{"unknown code", func(r *Request) { r.Items[0].Code = "NOPE" }, "items[0].code"},
		{"unknown kind", func(r *Request) { r.Items[0].Kind = "gift" }, "items[0].kind"},
		{"no quantity", func(r *Request) { r.Items[0].Quantity = decimal.Decimal{} }, "items[0].quantity"},
		{"huge exponent", func(r *Request) { r.Items[0].Quantity = decimal.New(1, 1<<30) }, "items[0].quantity"},
		{"wrong unit", func(r *Request) { r.Items[5].Unit = "KGM" }, "items[5].unit"},
		{"unit nobody knows", func(r *Request) { r.Items[5].Unit = "FURLONG" }, "items[5].unit"},
		{"price without reason", func(r *Request) { r.Items[0].Price = pounds("1") }, "items[0].price_reason"},
		{"price in another currency", func(r *Request) { r.Items[0].Price = amount(t, "1", money.EUR) }, "items[0].price"},
		{"negative price", func(r *Request) { r.Items[0].Price, r.Items[0].PriceReason = pounds("-1"), "x" }, "items[0].price"},
		{"discount above 100", func(r *Request) { r.Items[0].Discounts = []Discount{{Percent: dec(t, "101")}} }, "items[0].discounts[0].percent"},
		{"discount twice stated", func(r *Request) { r.Discounts[0].Amount = pounds("1") }, "discounts[0]"},
		{"discount more than the line", func(r *Request) { r.Items[0].Discounts = []Discount{{Amount: pounds("48750.01")}} }, "items[0].discounts"},
		{"discount more than the whole", func(r *Request) { r.Discounts = []Discount{{Amount: pounds("200000")}} }, "discounts[0]"},
		{"discounted provisional sum", func(r *Request) { r.Items[8].Discounts = []Discount{{Percent: dec(t, "1")}} }, "items[8].discounts"},
		{"provisional sum without terms", func(r *Request) { r.Items[8].Provisional = nil }, "items[8].provisional"},
		{"provisional sum: what", func(r *Request) { r.Items[8].Provisional.What = " " }, "items[8].provisional.what"},
		{"provisional sum: how adjusted", func(r *Request) { r.Items[8].Provisional.Adjusted = "" }, "items[8].provisional.adjusted"},
		{"provisional sum: who settles", func(r *Request) { r.Items[8].Provisional.Settled = "" }, "items[8].provisional.settled"},
		{"provisional sum: amount", func(r *Request) { r.Items[8].Provisional.Amount = money.Amount{} }, "items[8].provisional.amount"},
		{"provisional sum: cost in euros", func(r *Request) { r.Items[8].Cost = amount(t, "1", money.EUR) }, "items[8].cost"},
		{"provisional terms on a product", func(r *Request) { r.Items[0].Provisional = r.Items[8].Provisional }, "items[0].provisional"},
		{"work by others without an interface", func(r *Request) { r.Items[0].Kind = ByOthers }, "items[0].interface"},
		{"charge without reason", func(r *Request) { r.Charges[0].Reason = "" }, "charges[0].reason"},
		{"negative charge", func(r *Request) { r.Charges[0].Amount = pounds("-1") }, "charges[0].amount"},
		{"stages of 99 per cent", func(r *Request) { r.Stages[0].Percent = dec(t, "39") }, "stages"},
		{"stage without event", func(r *Request) { r.Stages[0].Event = "" }, "stages[0]"},
		{"floor of 100", func(r *Request) { r.Policy.MarginFloor = dec(t, "100") }, "policy.margin_floor"},
		{"tax inside and outside the scope", func(r *Request) { r.Items[0].Tax = Untaxed(TaxOutside, "outside the scope of VAT") }, "tax"},
	}
	b := book(t, bookA)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			req := requestA(t)
			tt.change(&req)
			_, _, err := Calculate(b, req)
			problems, ok := errors.AsType[Problems](err)
			if !ok {
				t.Fatalf("got %v, want problems", err)
			}
			for _, p := range problems {
				if p.Where == tt.where {
					return
				}
			}
			t.Errorf("no problem at %s: %v", tt.where, err)
		})
	}
}

func TestEverythingWrongIsNamedAtOnce(t *testing.T) {
	req := requestA(t)
	req.Items[0].Quantity = decimal.Decimal{}
	req.Items[1].Description = ""
	req.Stages[0].Percent = dec(t, "39")
	_, _, err := Calculate(book(t, bookA), req)
	if problems, ok := errors.AsType[Problems](err); !ok || len(problems) != 3 {
		t.Errorf("got %v, want three problems", err)
	}
}

func TestByOthersIsListedAndNeverPriced(t *testing.T) {
	req := requestA(t)
	req.Items = append(req.Items, Item{Ref: "10", Description: "Three-phase supply", Kind: ByOthers, Interface: "to the isolator beside the panel"})
	q, sheet := calculate(t, book(t, bookA), req)
	same(t, "net", q.Totals.Net, "137946.49")
	if len(q.ByOthers) != 1 || len(q.Lines) != 9 || len(sheet.Lines) != 9 {
		t.Errorf("%d by others, %d lines", len(q.ByOthers), len(q.Lines))
	}
}

func TestSelfCheckSeesATamperedTotal(t *testing.T) {
	q, _ := calculate(t, book(t, bookA), requestA(t))
	penny := amount(t, "0.01", money.GBP)
	more := func(a *money.Amount) { *a, _ = a.Add(penny) }
	tests := []struct {
		rule   string
		tamper func(*Quotation)
	}{
		{"BT-131", func(q *Quotation) { more(&q.Lines[0].Net); q.Lines[1].Net, _ = q.Lines[1].Net.Sub(penny) }},
		{"BR-CO-10", func(q *Quotation) { more(&q.Totals.Lines) }},
		{"BR-CO-11", func(q *Quotation) { more(&q.Totals.Allowances) }},
		{"BR-CO-12", func(q *Quotation) { more(&q.Totals.Charges) }},
		{"BR-CO-13", func(q *Quotation) { more(&q.Totals.Net) }},
		{"BR-CO-14", func(q *Quotation) { more(&q.Totals.Tax) }},
		{"BR-CO-15", func(q *Quotation) { more(&q.Totals.Gross) }},
		{"BR-S-08", func(q *Quotation) { more(&q.Taxes[0].Base) }},
		{"BR-CO-17", func(q *Quotation) { more(&q.Taxes[0].Amount) }},
		{"tax bases", func(q *Quotation) { q.Taxes = nil }},
		{"payment stages", func(q *Quotation) { more(&q.Stages[2].Net) }},
	}
	for _, tt := range tests {
		bad := q
		bad.Lines = append([]Line(nil), q.Lines...)
		bad.Taxes = append([]TaxLine(nil), q.Taxes...)
		bad.Stages = append([]Stage(nil), q.Stages...)
		tt.tamper(&bad)
		checks, err := SelfCheck(bad)
		if err != nil {
			t.Fatal(err)
		}
		if !fails(checks, tt.rule) {
			t.Errorf("%s holds on a tampered quotation", tt.rule)
		}
	}
}

func fails(checks []Identity, rule string) bool {
	for _, c := range checks {
		if c.Rule == rule && !c.Holds {
			return true
		}
	}
	return false
}

// drawRequest makes any request of several rates, discounts, charges and stages.
func drawRequest(t *rapid.T) (*Book, Request) {
	rates := []Tax{{Category: TaxStandard, Percent: decimal.New(20, 0)}, {Category: TaxStandard, Percent: decimal.New(135, -1)}, {Category: TaxZero}}
	n := rapid.IntRange(1, 12).Draw(t, "lines")
	var prices []Price
	req := Request{Date: Date{2026, 5, 4}, Currency: money.GBP, Tax: rates[0]}
	for i := range n {
		code := fmt.Sprintf("P%d", i)
		list, _ := money.FromDecimal(decimal.New(rapid.Int64Range(0, 1e9).Draw(t, "list"), -4), money.GBP)
		prices = append(prices, Price{Code: code, List: list, Per: decimal.New(rapid.SampledFrom([]int64{1, 1, 100, 3}).Draw(t, "per"), 0)})
		item := Item{Ref: code, Code: code, Description: code, Kind: Product, Tax: rapid.SampledFrom(rates).Draw(t, "tax")}
		item.Quantity = decimal.New(rapid.Int64Range(1, 1e6).Draw(t, "quantity"), -3)
		item.NoDiscount = rapid.Bool().Draw(t, "no discount")
		if rapid.Bool().Draw(t, "discounted") {
			item.Discounts = []Discount{{Percent: decimal.New(rapid.Int64Range(0, 10000).Draw(t, "percent"), -2)}}
		}
		req.Items = append(req.Items, item)
	}
	for range rapid.IntRange(0, 3).Draw(t, "discounts") {
		req.Discounts = append(req.Discounts, Discount{Percent: decimal.New(rapid.Int64Range(0, 10000).Draw(t, "percent"), -2)})
	}
	freight, _ := money.FromMinor(rapid.Int64Range(0, 1e6).Draw(t, "freight"), money.GBP)
	req.Charges = []Charge{{Reason: "Freight", Amount: freight, Tax: rapid.SampledFrom(rates).Draw(t, "tax")}}
	first := rapid.Int64Range(1, 9999).Draw(t, "first")
	req.Stages = []StageTerm{
		{Name: "a", Event: "a", Percent: decimal.New(first, -2)},
		{Name: "b", Event: "b", Percent: decimal.New(10000-first, -2)},
	}
	b, err := NewBook(Header{ID: "b", Currency: money.GBP, From: Date{2026, 1, 1}}, prices)
	if err != nil {
		t.Fatal(err)
	}
	return b, req
}

func TestAnyQuotationHoldsItsIdentities(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, req := drawRequest(t)
		q, sheet, err := Calculate(b, req)
		if err != nil {
			t.Fatal(err)
		}
		for _, identity := range q.Checks {
			if !identity.Holds {
				t.Fatalf("%s (%s): %s, stated %s", identity.Rule, identity.Says, identity.Left, identity.Right)
			}
		}
		nets := money.NewTally(money.GBP)
		for _, line := range sheet.Lines {
			nets.Add(line.Net)
		}
		for _, charge := range sheet.Charges {
			nets.Add(charge.Net)
		}
		if total, _ := nets.Total(); !total.Equal(q.Totals.Net) {
			t.Fatalf("the nets on the cost sheet add up to %s, the quotation to %s", total, q.Totals.Net)
		}
	})
}

// Discounts one after the other come to the same price in either order, to within
// the penny that each rounding may move.
func TestOrderOfDiscountsMovesPenniesOnly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, req := drawRequest(t)
		a, c := decimal.New(rapid.Int64Range(0, 5000).Draw(t, "a"), -2), decimal.New(rapid.Int64Range(0, 5000).Draw(t, "c"), -2)
		req.Discounts = []Discount{{Percent: a}, {Percent: c}}
		one, _, err := Calculate(b, req)
		if err != nil {
			t.Fatal(err)
		}
		req.Discounts = []Discount{{Percent: c}, {Percent: a}}
		other, _, err := Calculate(b, req)
		if err != nil {
			t.Fatal(err)
		}
		apart, _ := one.Totals.Net.Sub(other.Totals.Net)
		if pennies, _ := apart.Abs().Minor(); pennies > 2 {
			t.Fatalf("%s against %s", one.Totals.Net, other.Totals.Net)
		}
	})
}

// A chain of discounts is L·Π(1 − d): 10 % and then 5 % are 14.5 %, not 15 %. The
// percentages of a chain are never added.
func TestChainedDiscountsAreTakenOfWhatIsLeft(t *testing.T) {
	b := book(t, "book: b\ncurrency: GBP\nfrom: 2026-01-01\nprices:\n  A: {list: 100.00}\n")
	item := Item{Ref: "1", Code: "A", Description: "A", Kind: Product, Quantity: dec(t, "1")}
	item.Discounts = []Discount{{Percent: dec(t, "10")}, {Percent: dec(t, "5")}, {Amount: amount(t, "0.50", money.GBP)}}
	req := Request{Date: date(t, "2026-02-01"), Currency: money.GBP, Tax: standard(t, "20"), Items: []Item{item}}
	req.Discounts = []Discount{{Percent: dec(t, "10")}, {Percent: dec(t, "10")}}
	q, _ := calculate(t, b, req)
	same(t, "line", q.Lines[0].Net, "85.00")
	same(t, "second discount", q.Lines[0].Discounts[1].Amount, "4.50")
	same(t, "first on the whole", q.Allowances[0].Amount, "8.50")
	same(t, "second on the whole", q.Allowances[1].Amount, "7.65")
	same(t, "net", q.Totals.Net, "68.85")
	verified(t, q)
}

func TestPriceBreakFollowsTheOrderedQuantity(t *testing.T) {
	b := book(t, "book: b\ncurrency: GBP\nfrom: 2026-01-01\nprices:\n  A:\n    list: 10.00\n    breaks:\n      - {quantity: 10, list: 9.00}\n      - {quantity: 100, list: 8.00}\n")
	for quantity, want := range map[string][2]string{"9.99": {"99.90", "0"}, "10": {"90.00", "10"}, "99": {"891.00", "10"}, "100": {"800.00", "100"}} {
		q, _ := calculate(t, b, Request{
			Date: date(t, "2026-02-01"), Currency: money.GBP, Tax: standard(t, "20"),
			Items: []Item{{Ref: "1", Code: "A", Description: "A", Kind: Product, Quantity: dec(t, quantity)}},
		})
		if line := q.Lines[0]; line.Net.Fixed() != want[0] || line.Tier.String() != want[1] {
			t.Errorf("%s: %s at tier %s, want %v", quantity, line.Net, line.Tier, want)
		}
	}
}

func TestObsoleteProductIsNoticed(t *testing.T) {
	b := book(t, "book: b\ncurrency: GBP\nfrom: 2026-01-01\nprices:\n  A: {list: 1.00, obsolete: true, replaced_by: B}\n  B: {list: 2.00}\n")
	q, _ := calculate(t, b, Request{
		Date: date(t, "2026-02-01"), Currency: money.GBP, Tax: standard(t, "20"),
		Items: []Item{{Ref: "1", Code: "A", Description: "A", Kind: Product, Quantity: dec(t, "1")}},
	})
	if len(q.Notices) != 1 || !strings.Contains(q.Notices[0].Says, "replacement is B") {
		t.Errorf("notices %v", q.Notices)
	}
}

func BenchmarkCalculate(b *testing.B) {
	for _, n := range []int{20, 60} {
		b.Run(fmt.Sprintf("%d lines", n), func(b *testing.B) {
			prices, req := book(b, bookA), requestOf(b, n)
			b.ReportAllocs()
			for b.Loop() {
				if _, _, err := Calculate(prices, req); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
