package money

import (
	"encoding/csv"
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

func TestFormatAgreesWithCLDR(t *testing.T) {
	f, err := os.Open("testdata/cldr.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 4*17*3+1 {
		t.Fatalf("%d rows", len(rows))
	}
	for _, row := range rows[1:] {
		locale, err := ParseLocale(row[0])
		if err != nil {
			t.Fatal(err)
		}
		if got := amount(t, row[2], Currency(row[1])).Format(locale); got != row[3] {
			t.Errorf("%s %s in %s: %q, CLDR has %q", row[1], row[2], row[0], got, row[3])
		}
	}
}

func TestFormatPercentAndNumber(t *testing.T) {
	// Unicode CLDR 48, printed by Intl.NumberFormat of Node.
	want := map[Locale]string{EnGB: "-13.5%", EnIE: "-13.5%", EnUS: "-13.5%", DeDE: "-13,5\u00a0%"}
	for l, w := range want {
		if got := FormatPercent(dec(t, "-13.50"), l); got != w {
			t.Errorf("%s: %q, want %q", l, got, w)
		}
	}
	if got := amount(t, "64.355", GBP).Format(EnGB); got != "£64.355" {
		t.Errorf("a price finer than a penny was printed as %s", got)
	}
	if got := amount(t, "1234.5", EUR).FormatNumber(DeDE); got != "1.234,50" {
		t.Errorf("number %s", got)
	}
}

func TestParse(t *testing.T) {
	tests := []struct {
		in   string
		c    Currency
		want string
	}{
		{"1234.50", GBP, "1234.50"},
		{"1234,50", GBP, "1234.50"},
		{"1,234.50", GBP, "1234.50"},
		{"1.234,50", EUR, "1234.50"},
		{"1 234,5", EUR, "1234.50"},
		{"1\u202f234,5", EUR, "1234.50"},
		{"1'234.50", CHF, "1234.50"},
		{"1 234", SEK, "1234.00"},
		{"1,234,567", GBP, "1234567.00"},
		{"1.234.567", EUR, "1234567.00"},
		{"12,345,678.90", GBP, "12345678.90"},
		{"0,125", GBP, "0.125"},
		{"1234,567", GBP, "1234.567"},
		{"12,3456", GBP, "12.3456"},
		{"£1,234.50", GBP, "1234.50"},
		{"-£12", GBP, "-12.00"},
		{"£-12", GBP, "-12.00"},
		{"\u221212", GBP, "-12.00"},
		{"1.234,50 €", EUR, "1234.50"},
		{"EUR 12", EUR, "12.00"},
		{"12 eur", EUR, "12.00"},
		{"US$5", USD, "5.00"},
		{" 7 ", GBP, "7.00"},
	}
	for _, tt := range tests {
		got, err := Parse(tt.in, tt.c)
		if err != nil || got.Fixed() != tt.want {
			t.Errorf("Parse(%q) = %v, %v; want %s", tt.in, got, err, tt.want)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	tests := []struct {
		in   string
		want error
	}{
		{"1,234", ErrAmbiguous},
		{"£1.234", ErrAmbiguous},
		{"-12,345", ErrAmbiguous},
		{"€5", ErrMixed},
		{"5 USD", ErrMixed},
		{"", ErrNotAmount},
		{"abc", ErrNotAmount},
		{"1,2,3", ErrNotAmount},
		{"12,34,567", ErrNotAmount},
		{"1.234,567.8", ErrNotAmount},
		{"1..2", ErrNotAmount},
		{",5", ErrNotAmount},
		{"5.", ErrNotAmount},
		{"--5", ErrNotAmount},
		{"1e5", ErrNotAmount},
		{"=1+1", ErrNotAmount},
		{strings.Repeat("9", 65), ErrNotAmount},
	}
	for _, tt := range tests {
		if got, err := Parse(tt.in, GBP); !errors.Is(err, tt.want) {
			t.Errorf("Parse(%q) = %v, %v; want %v", tt.in, got, err, tt.want)
		}
	}
}

// What was printed for a reader is read back, or refused as ambiguous; it never
// comes back as something else.
func TestParseReadsWhatFormatPrints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(Currencies()).Draw(t, "currency")
		l := Locale(rapid.IntRange(0, 3).Draw(t, "locale"))
		places := c.Digits() + rapid.Int32Range(0, 2).Draw(t, "extra")
		a, _ := FromDecimal(decimal.New(rapid.Int64Range(-1e13, 1e13).Draw(t, "n"), -places), c)
		text := a.Format(l)
		b, err := Parse(text, c)
		if errors.Is(err, ErrAmbiguous) {
			return
		}
		if err != nil || !a.Equal(b) {
			t.Fatalf("%q of %v came back as %v, %v", text, a, b, err)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"1,234.50", "1.234,5 €", "-£12", "1'234", "", "€", "1e9", "GBP", "\u2212"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		a, err := Parse(s, GBP)
		if err != nil {
			return
		}
		b, err := Parse(a.Fixed(), GBP)
		if errors.Is(err, ErrAmbiguous) {
			return
		}
		if err != nil || !a.Equal(b) {
			t.Fatalf("Parse(%q) = %v, read again %v, %v", s, a, b, err)
		}
	})
}

func FuzzNew(f *testing.F) {
	f.Add("12.50")
	f.Add("-0")
	f.Fuzz(func(t *testing.T, s string) {
		a, err := New(s, GBP)
		if err != nil {
			return
		}
		if b, err := New(a.Fixed(), GBP); err != nil || !a.Equal(b) {
			t.Fatalf("New(%q) = %v, read again %v, %v", s, a, b, err)
		}
	})
}
