package pricing

import (
	"strings"
	"testing"

	"tunwright/pricing/money"
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
