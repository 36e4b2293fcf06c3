package pricing

import (
	"strings"
	"testing"

	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
)

// The rules of EN 16931-1 as published in the schematron of
// github.com/ConnectingEurope/eInvoicing-EN16931 (commit b6c9e06), applied to a
// priced quotation with plain decimals, apart from SelfCheck.
var arithmeticRules = []struct {
	rule  string
	holds func(Quotation) bool
}{
	{"BR-CO-10", func(q Quotation) bool { return sumOf(q.Lines, lineNet).Equal(q.Totals.Lines.Decimal()) }},
	{"BR-CO-11", func(q Quotation) bool {
		return sumOf(q.Allowances, allowanceAmount).Equal(q.Totals.Allowances.Decimal())
	}},
	{"BR-CO-12", func(q Quotation) bool { return sumOf(q.Charges, chargeAmount).Equal(q.Totals.Charges.Decimal()) }},
	{"BR-CO-13", func(q Quotation) bool {
		t := q.Totals
		return t.Lines.Decimal().Sub(t.Allowances.Decimal()).Add(t.Charges.Decimal()).Equal(t.Net.Decimal())
	}},
	{"BR-CO-14", func(q Quotation) bool { return sumOf(q.Taxes, taxAmount).Equal(q.Totals.Tax.Decimal()) }},
	{"BR-CO-15", func(q Quotation) bool {
		return q.Totals.Net.Decimal().Add(q.Totals.Tax.Decimal()).Equal(q.Totals.Gross.Decimal())
	}},
	{"BR-CO-17", func(q Quotation) bool {
		for _, x := range q.Taxes {
			if !x.Base.Decimal().Mul(x.Tax.Percent).Shift(-2).Round(2).Equal(x.Amount.Decimal()) {
				return false
			}
		}
		return true
	}},
	{"BR-CO-18", func(q Quotation) bool { return len(q.Taxes) > 0 }},
	{"BR-S-08 and its like", func(q Quotation) bool {
		for _, x := range q.Taxes {
			if !baseOf(q, x.Tax).Equal(x.Base.Decimal()) {
				return false
			}
		}
		return true
	}},
	{"BR-Z-09 and its like: no tax outside category S", func(q Quotation) bool {
		for _, x := range q.Taxes {
			if x.Tax.Category != TaxStandard && !x.Amount.IsZero() {
				return false
			}
		}
		return true
	}},
	{"BR-CO-21, BR-CO-23: each allowance has a reason", func(q Quotation) bool {
		for _, a := range q.Allowances {
			if a.Reason == "" || a.ReasonCode == "" {
				return false
			}
		}
		for _, l := range q.Lines {
			for _, r := range l.Discounts {
				if r.Reason == "" || r.ReasonCode == "" {
					return false
				}
			}
		}
		return true
	}},
	{"BR-CO-22: each charge has a reason", func(q Quotation) bool {
		for _, c := range q.Charges {
			if c.Reason == "" {
				return false
			}
		}
		return true
	}},
	{"BR-DEC: no amount has more than two decimals", func(q Quotation) bool {
		t := q.Totals
		for _, a := range []money.Amount{t.Lines, t.Allowances, t.Charges, t.Net, t.Tax, t.Gross} {
			if !a.Decimal().Equal(a.Decimal().Round(2)) {
				return false
			}
		}
		for _, l := range q.Lines {
			if !l.Net.Decimal().Equal(l.Net.Decimal().Round(2)) {
				return false
			}
		}
		return true
	}},
	{"PEPPOL-EN16931-R120: line net", func(q Quotation) bool {
		for _, l := range q.Lines {
			net := l.Quantity.Mul(l.Price.Decimal()).DivRound(l.Per, 2)
			for _, r := range l.Discounts {
				net = net.Sub(r.Amount.Decimal())
			}
			if !net.Equal(l.Net.Decimal()) {
				return false
			}
		}
		return true
	}},
	{"PEPPOL-EN16931-R040: allowance = base × percentage", func(q Quotation) bool {
		for _, a := range q.Allowances {
			if !a.Percent.IsZero() && !a.Base.Decimal().Mul(a.Percent).Shift(-2).Round(2).Equal(a.Amount.Decimal()) {
				return false
			}
		}
		return true
	}},
	{"PEPPOL-EN16931-R121: base quantity above zero", func(q Quotation) bool {
		for _, l := range q.Lines {
			if l.Per.Sign() <= 0 {
				return false
			}
		}
		return true
	}},
}

func sumOf[T any](list []T, value func(T) money.Amount) decimal.Decimal {
	sum := decimal.Zero
	for _, x := range list {
		sum = sum.Add(value(x).Decimal())
	}
	return sum
}

func lineNet(l Line) money.Amount              { return l.Net }
func allowanceAmount(a Allowance) money.Amount { return a.Amount }
func chargeAmount(c ChargeLine) money.Amount   { return c.Amount }
func taxAmount(x TaxLine) money.Amount         { return x.Amount }

func baseOf(q Quotation, tax Tax) decimal.Decimal {
	sum := decimal.Zero
	for _, l := range q.Lines {
		if l.Tax.same(tax) {
			sum = sum.Add(l.Net.Decimal())
		}
	}
	for _, a := range q.Allowances {
		for _, s := range a.Shares {
			if s.Tax.same(tax) {
				sum = sum.Sub(s.Amount.Decimal())
			}
		}
	}
	for _, c := range q.Charges {
		if c.Tax.same(tax) {
			sum = sum.Add(c.Amount.Decimal())
		}
	}
	return sum
}

func TestArithmeticRulesOfEN16931(t *testing.T) {
	mixed := requestA(t)
	mixed.Items[2].Tax = standard(t, "13.5")
	mixed.Items[4].Tax = Tax{Category: TaxZero}
	mixed.Discounts = append(mixed.Discounts, Discount{Percent: dec(t, "1.25"), Reason: "Paid early", ReasonCode: "41"})
	reverse := requestA(t)
	reverse.Tax = Untaxed(TaxReverseCharge, "Reverse charge")
	for name, req := range map[string]Request{"one rate": requestA(t), "three taxes": mixed, "reverse charge": reverse} {
		q, _ := calculate(t, book(t, bookA), req)
		for _, r := range arithmeticRules {
			if !r.holds(q) {
				t.Errorf("%s: %s does not hold", name, r.rule)
			}
		}
	}
}

// The rules on a category, its rate and its reason. Each row names the rule that
// accepts or refuses it.
func TestTaxCategoryRulesOfEN16931(t *testing.T) {
	tests := []struct {
		rule string
		tax  Tax
		ok   bool
	}{
		{"BR-S-05", Tax{Category: "S", Percent: dec(t, "20")}, true},
		{"BR-S-05", Tax{Category: "S"}, false},
		{"BR-S-05", Tax{Category: "S", Percent: dec(t, "-1")}, false},
		{"BR-S-10", Tax{Category: "S", Percent: dec(t, "20"), Reason: "x"}, false},
		{"BR-Z-05", Tax{Category: "Z"}, true},
		{"BR-Z-05", Tax{Category: "Z", Percent: dec(t, "5")}, false},
		{"BR-Z-10", Tax{Category: "Z", Reason: "x"}, false},
		{"BR-E-05", Tax{Category: "E", Percent: dec(t, "5"), Reason: "x"}, false},
		{"BR-E-10", Tax{Category: "E", Reason: "x"}, true},
		{"BR-E-10", Tax{Category: "E"}, false},
		{"BR-AE-05", Tax{Category: "AE", Percent: dec(t, "20"), Reason: "x"}, false},
		{"BR-AE-10", Untaxed(TaxReverseCharge, "Reverse charge"), true},
		{"BR-AE-10", Tax{Category: "AE"}, false},
		{"BR-IC-05", Tax{Category: "K", Percent: dec(t, "20"), Reason: "x"}, false},
		{"BR-IC-10", Untaxed(TaxIntraCommunity, "Intra-Community supply"), true},
		{"BR-IC-10", Tax{Category: "K"}, false},
		{"BR-G-05", Tax{Category: "G", Percent: dec(t, "20"), Reason: "x"}, false},
		{"BR-G-10", Untaxed(TaxExport, "Export"), true},
		{"BR-G-10", Tax{Category: "G"}, false},
		{"BR-O-05", Tax{Category: "O", Percent: dec(t, "20"), Reason: "x"}, false},
		{"BR-O-10", Untaxed(TaxOutside, "Outside the scope"), true},
		{"BR-O-10", Tax{Category: "O"}, false},
	}
	for _, tt := range tests {
		err := tt.tax.Check()
		if (err == nil) != tt.ok {
			t.Errorf("%s on %v: %v", tt.rule, tt.tax, err)
		}
		if err != nil && !strings.Contains(err.Error(), tt.rule) {
			t.Errorf("%s is not named in: %v", tt.rule, err)
		}
	}
}

func TestVATEXCodes(t *testing.T) {
	// EN 16931 code list VATEX, version of the schematron above.
	want := map[TaxCategory]string{"AE": "VATEX-EU-AE", "K": "VATEX-EU-IC", "G": "VATEX-EU-G", "O": "VATEX-EU-O"}
	for c, code := range want {
		if got := Untaxed(c, "x").ReasonCode; got != code {
			t.Errorf("%s: %s, want %s", c, got, code)
		}
	}
}

func TestPublishedTaxRates(t *testing.T) {
	// Rates on a day; sources stand in tables/tax.csv. The Irish ones follow the
	// Revenue table of rates, with the temporary cut of 2020.
	tests := []struct{ country, kind, day, want string }{
		{"GB", "standard", "2011-01-03", "17.5"},
		{"GB", "standard", "2011-01-04", "20"},
		{"GB", "standard", "2026-05-04", "20"},
		{"IE", "standard", "2002-02-28", "20"},
		{"IE", "standard", "2002-03-01", "21"},
		{"IE", "standard", "2008-12-01", "21.5"},
		{"IE", "standard", "2010-01-01", "21"},
		{"IE", "standard", "2012-01-01", "23"},
		{"IE", "standard", "2020-08-31", "23"},
		{"IE", "standard", "2020-09-01", "21"},
		{"IE", "standard", "2021-02-28", "21"},
		{"IE", "standard", "2021-03-01", "23"},
		{"IE", "reduced", "2026-05-04", "13.5"},
		{"DE", "standard", "2020-08-01", "16"},
		{"DE", "standard", "2026-05-04", "19"},
	}
	for _, tt := range tests {
		r, err := PublishedTaxRates().On(tt.country, tt.kind, date(t, tt.day))
		if err != nil || r.Percent.String() != tt.want {
			t.Errorf("%s %s on %s: %s, %v; want %s", tt.country, tt.kind, tt.day, r.Percent, err, tt.want)
		}
		if r.Source == "" {
			t.Errorf("%s on %s: no source", tt.country, tt.day)
		}
	}
	if _, err := PublishedTaxRates().On("US", "standard", date(t, "2026-05-04")); err == nil {
		t.Error("the United States have a VAT rate")
	}
}
