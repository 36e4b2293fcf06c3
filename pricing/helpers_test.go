package pricing

import (
	"testing"

	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
)

func amount(t testing.TB, s string, c money.Currency) money.Amount {
	t.Helper()
	a, err := money.New(s, c)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func dec(t testing.TB, s string) decimal.Decimal {
	t.Helper()
	d, err := money.ParseDecimal(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func date(t testing.TB, s string) Date {
	t.Helper()
	d, err := ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func book(t testing.TB, text string) *Book {
	t.Helper()
	b, err := ReadBook("test.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func calculate(t testing.TB, b *Book, req Request) (Quotation, CostSheet) {
	t.Helper()
	q, sheet, err := Calculate(b, req)
	if err != nil {
		t.Fatal(err)
	}
	return q, sheet
}

func standard(t testing.TB, percent string) Tax {
	t.Helper()
	return Tax{Category: TaxStandard, Percent: dec(t, percent)}
}

func stages(t testing.TB, percents ...string) []StageTerm {
	t.Helper()
	names := []string{"order", "before dispatch", "commissioning"}
	terms := make([]StageTerm, len(percents))
	for i, p := range percents {
		terms[i] = StageTerm{Name: names[i], Event: names[i], Days: 14, Percent: dec(t, p)}
	}
	return terms
}

func same(t testing.TB, what string, got money.Amount, want string) {
	t.Helper()
	if got.Fixed() != want {
		t.Errorf("%s: %s, want %s", what, got.Fixed(), want)
	}
}
