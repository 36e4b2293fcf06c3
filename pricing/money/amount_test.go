package money

import (
	"encoding/json"
	"errors"
	"math"
	"math/big"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

func amount(t testing.TB, s string, c Currency) Amount {
	t.Helper()
	a, err := New(s, c)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func dec(t testing.TB, s string) decimal.Decimal {
	t.Helper()
	d, err := ParseDecimal(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestRoundHalvesAwayFromZero(t *testing.T) {
	tests := []struct {
		source string
		in     string
		c      Currency
		want   string
	}{
		{"Regulation (EC) 1103/97 art. 5: an exact half is rounded up", "2.345", EUR, "2.35"},
		{"math/big Rat.FloatString(2), halves away from zero", "-2.345", EUR, "-2.35"},
		{"37.5 × 64.35, where half-even would give 2413.12", "2413.125", GBP, "2413.13"},
		{"own arithmetic: below the half", "2.34499999", GBP, "2.34"},
		{"own arithmetic: an even digit before the half", "0.125", GBP, "0.13"},
		{"own arithmetic: three decimals of the dinar stay", "1.2345", "KWD", "1.235"},
		{"own arithmetic: the yen has none", "0.5", "JPY", "1"},
		{"own arithmetic: rounds to nothing, not to minus nothing", "-0.004", GBP, "0.00"},
	}
	for _, tt := range tests {
		if got := amount(t, tt.in, tt.c).Round().Fixed(); got != tt.want {
			t.Errorf("%s: round %s = %s, want %s", tt.source, tt.in, got, tt.want)
		}
	}
}

// The yardstick is math/big's Rat.FloatString, which rounds halves away from zero.
func TestRoundAgreesWithBigRat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64().Draw(t, "coefficient")
		e := rapid.Int32Range(-12, 3).Draw(t, "exponent")
		places := rapid.Int32Range(0, 4).Draw(t, "places")
		d := decimal.New(n, e)
		if rapid.Bool().Draw(t, "long") {
			d = d.Mul(decimal.New(n, e))
		}
		want := d.Rat().FloatString(int(places))
		got := roundHalfAway(d, places)
		wantRat, _ := new(big.Rat).SetString(want)
		if got.Rat().Cmp(wantRat) != 0 {
			t.Fatalf("round %s to %d: %s, want %s", d, places, got, want)
		}
	})
}

// The yardstick for products and quotients is math/big's exact fraction.
func TestRoundedProductsAndQuotientsAgreeWithBigRat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		exponent := rapid.Int32Range(-12, 2)
		draw := func(name string) decimal.Decimal {
			return decimal.New(rapid.Int64().Draw(t, name), exponent.Draw(t, name+" exponent"))
		}
		divisor := rapid.OneOf(rapid.Int64Range(math.MinInt64, -1), rapid.Int64Range(1, math.MaxInt64))
		a, b := Amount{value: draw("a"), currency: GBP}, decimal.New(divisor.Draw(t, "b"), exponent.Draw(t, "b exponent"))
		same := func(what string, got decimal.Decimal, exact *big.Rat) {
			if want, _ := new(big.Rat).SetString(exact.FloatString(2)); got.Rat().Cmp(want) != 0 {
				t.Fatalf("%s of %s and %s: %s, want %s", what, a, b, got, want.FloatString(2))
			}
		}
		exact := new(big.Rat).Mul(a.value.Rat(), b.Rat())
		same("product", a.MulRound(b).value, exact)
		same("percentage", a.PercentRound(b).value, new(big.Rat).Quo(exact, big.NewRat(100, 1)))
		exact.Quo(a.value.Rat(), b.Rat())
		divided, _ := a.DivRound(b, 2)
		same("quotient", divided.value, exact)
		percent, _ := a.PercentOf(Amount{value: b, currency: GBP}, 2)
		same("ratio in per cent", percent, exact.Mul(exact, big.NewRat(100, 1)))
	})
}

// Sums, differences and comparisons against math/big's exact fraction.
func TestSumsAndComparisonsAgreeWithBigRat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) Amount {
			d := decimal.New(rapid.Int64().Draw(t, name), rapid.Int32Range(-22, 20).Draw(t, name+" exponent"))
			return Amount{value: d, currency: GBP}
		}
		a, b := draw("a"), draw("b")
		x, y := a.Decimal().Rat(), b.Decimal().Rat()
		sum, _ := a.Add(b)
		difference, _ := a.Sub(b)
		product := a.Mul(b.Decimal())
		order, _ := a.Cmp(b)
		tally := NewTally(GBP)
		tally.Add(a, a)
		tally.Sub(b)
		counted, _ := tally.Total()
		twice := new(big.Rat).Sub(new(big.Rat).Add(x, x), y)
		if sum.Decimal().Rat().Cmp(new(big.Rat).Add(x, y)) != 0 || difference.Decimal().Rat().Cmp(new(big.Rat).Sub(x, y)) != 0 ||
			product.Decimal().Rat().Cmp(new(big.Rat).Mul(x, y)) != 0 || order != x.Cmp(y) || a.Equal(b) != (x.Cmp(y) == 0) ||
			counted.Decimal().Rat().Cmp(twice) != 0 || a.Sign() != x.Sign() || a.Abs().Decimal().Rat().Cmp(new(big.Rat).Abs(x)) != 0 {
			t.Fatalf("%s and %s: sum %s, difference %s, product %s, order %d, tally %s", a, b, sum, difference, product, order, counted)
		}
	})
}

func TestMixedCurrenciesAreErrors(t *testing.T) {
	pounds, euros := amount(t, "1.00", GBP), amount(t, "1.00", EUR)
	_, addErr := pounds.Add(euros)
	_, subErr := pounds.Sub(euros)
	_, cmpErr := pounds.Cmp(euros)
	_, ratioErr := pounds.Ratio(euros, 2)
	_, sumErr := Sum(GBP, pounds, euros)
	for _, err := range []error{addErr, subErr, cmpErr, ratioErr, sumErr} {
		if !errors.Is(err, ErrMixed) {
			t.Errorf("got %v, want ErrMixed", err)
		}
	}
	if pounds.Equal(euros) {
		t.Error("a pound equals a euro")
	}
}

func TestNoMoneyYetIsNeutral(t *testing.T) {
	pound := amount(t, "1.00", GBP)
	for _, pair := range [][2]Amount{{{}, pound}, {pound, {}}} {
		got, err := pair[0].Add(pair[1])
		if err != nil || !got.Equal(pound) {
			t.Errorf("%v + %v = %v, %v", pair[0], pair[1], got, err)
		}
	}
}

func TestNewRefuses(t *testing.T) {
	for _, s := range []string{"", "-", ".", "1.", ".5", "1e3", "NaN", "Inf", "1,5", " 1", "+1", "0x1", "1_000", "1234567890123456", "0.123456789", "--1"} {
		if a, err := New(s, GBP); err == nil {
			t.Errorf("New(%q) = %v, want an error", s, a)
		}
	}
	for _, c := range []Currency{"", "GB", "gbp", "XAU", "ABC"} {
		if _, err := New("1", c); !errors.Is(err, ErrCurrency) {
			t.Errorf("currency %q: got %v, want ErrCurrency", c, err)
		}
	}
	if _, err := FromDecimal(decimal.New(1, 1_000_000), GBP); !errors.Is(err, ErrNotAmount) {
		t.Errorf("huge exponent: got %v", err)
	}
}

func TestMinor(t *testing.T) {
	tests := []struct {
		in   string
		c    Currency
		want int64
	}{
		{"12.50", GBP, 1250}, {"12.5", GBP, 1250}, {"12.500", GBP, 1250}, {"-7", "JPY", -7}, {"1.5", "KWD", 1500}, {"999999999999999.99", GBP, 99999999999999999},
	}
	for _, tt := range tests {
		got, err := amount(t, tt.in, tt.c).Minor()
		if err != nil || got != tt.want {
			t.Errorf("minor of %s %s = %d, %v; want %d", tt.in, tt.c, got, err, tt.want)
		}
	}
	if _, err := amount(t, "1.005", GBP).Minor(); err == nil {
		t.Error("half a penny has minor units")
	}
}

func TestISO4217MinorUnits(t *testing.T) {
	// ISO 4217 list one, as in github.com/datasets/currency-codes.
	want := map[Currency]struct {
		number string
		digits int32
	}{
		GBP: {"826", 2}, EUR: {"978", 2}, USD: {"840", 2}, CHF: {"756", 2}, SEK: {"752", 2}, NOK: {"578", 2},
		DKK: {"208", 2}, PLN: {"985", 2}, CZK: {"203", 2}, HUF: {"348", 2}, "JPY": {"392", 0}, "ISK": {"352", 0},
		"BHD": {"048", 3}, "KWD": {"414", 3},
	}
	for c, w := range want {
		if c.Digits() != w.digits || c.Number() != w.number {
			t.Errorf("%s: digits %d number %s, want %d and %s", c, c.Digits(), c.Number(), w.digits, w.number)
		}
	}
	if got := len(Currencies()); got != 18 {
		t.Errorf("%d currencies in the table, want 18", got)
	}
	for i, c := range Currencies() {
		if i > 0 && Currencies()[i-1] >= c {
			t.Errorf("%s is out of order", c)
		}
		if c.Name() == "" || len(c.Number()) != 3 {
			t.Errorf("%s lacks name or number", c)
		}
	}
}

func TestJSONAndTextRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := drawAmount(t)
		text, err := json.Marshal(a)
		if err != nil {
			t.Fatal(err)
		}
		var b Amount
		if err := json.Unmarshal(text, &b); err != nil || !a.Equal(b) {
			t.Fatalf("%s came back as %v, %v", text, b, err)
		}
		plain, _ := a.MarshalText()
		var c Amount
		if err := c.UnmarshalText(plain); err != nil || !a.Equal(c) {
			t.Fatalf("%s came back as %v, %v", plain, c, err)
		}
	})
}

func drawAmount(t *rapid.T) Amount {
	c := rapid.SampledFrom(Currencies()).Draw(t, "currency")
	n := rapid.Int64Range(-1e14, 1e14).Draw(t, "n")
	e := rapid.Int32Range(-6, 0).Draw(t, "exponent")
	a, err := FromDecimal(decimal.New(n, e), c)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func TestJSONIsStrictAndCanonical(t *testing.T) {
	for _, bad := range []string{`12.5`, `"12.5"`, `{"amount":12.5,"currency":"GBP"}`, `{"amount":"12.5"}`, `{"amount":"12.5","currency":"GBP","x":1}`, `{"amount":"1e5","currency":"GBP"}`} {
		var a Amount
		if err := json.Unmarshal([]byte(bad), &a); err == nil {
			t.Errorf("%s was read as %v", bad, a)
		}
	}
	one, _ := json.Marshal(amount(t, "1.1", GBP))
	two, _ := json.Marshal(amount(t, "1.100", GBP))
	if string(one) != string(two) || string(one) != `{"amount":"1.10","currency":"GBP"}` {
		t.Errorf("equal amounts as %s and %s", one, two)
	}
	if null, _ := json.Marshal(Amount{}); string(null) != "null" {
		t.Errorf("the zero amount as %s", null)
	}
}

func TestTallyAgreesWithAdd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Int64(), 0, 20).Draw(t, "values")
		tally := NewTally(GBP)
		want := Zero(GBP)
		for i, v := range values {
			a, _ := FromDecimal(decimal.New(v, -int32(i%5)), GBP)
			if i%3 == 0 {
				tally.Sub(a)
				a = a.Neg()
			} else {
				tally.Add(a)
			}
			want, _ = want.Add(a)
		}
		got, err := tally.Total()
		if err != nil || !got.Equal(want) {
			t.Fatalf("tally %v, %v; want %v", got, err, want)
		}
	})
}

func TestDivRoundAndRatio(t *testing.T) {
	third, err := amount(t, "100.00", GBP).DivRound(dec(t, "3"), 4)
	if err != nil || third.Fixed() != "33.3333" {
		t.Errorf("a third of 100: %v, %v", third, err)
	}
	if _, err := third.DivRound(decimal.Decimal{}, 2); err == nil {
		t.Error("divided by zero")
	}
	if _, err := third.Ratio(Zero(GBP), 2); err == nil {
		t.Error("ratio to zero")
	}
	ratio, err := amount(t, "1.00", GBP).Ratio(amount(t, "3.00", GBP), 4)
	if err != nil || ratio.String() != "0.3333" {
		t.Errorf("ratio %v, %v", ratio, err)
	}
}
