package money

import (
	_ "embed"
	"encoding/csv"
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// Currency is an ISO 4217 alphabetic code from the table of this package. The
// zero value means that no currency has been chosen yet.
type Currency string

// The currencies that quotations are usually written in.
const (
	GBP Currency = "GBP"
	EUR Currency = "EUR"
	USD Currency = "USD"
	CHF Currency = "CHF"
	SEK Currency = "SEK"
	DKK Currency = "DKK"
	NOK Currency = "NOK"
	PLN Currency = "PLN"
	CZK Currency = "CZK"
	HUF Currency = "HUF"
)

// ErrCurrency says that a code is not one a quotation can be written in.
var ErrCurrency = errors.New("not a known currency")

//go:embed tables/iso4217.csv
var iso4217CSV string

type currencyFacts struct {
	number string
	digits int32
	name   string
}

var iso4217, currencyOrder = readCurrencies(iso4217CSV)

// readCurrencies reads the embedded table. The table is part of the program, so
// that a fault in it is a broken invariant of our own.
func readCurrencies(text string) (map[Currency]currencyFacts, []Currency) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		panic(fmt.Sprintf("money: currency table: %v", err))
	}
	facts := make(map[Currency]currencyFacts, len(rows))
	order := make([]Currency, 0, len(rows))
	for _, row := range rows[1:] {
		digits, err := strconv.ParseInt(row[2], 10, 32)
		if err != nil {
			panic(fmt.Sprintf("money: currency table: %s: %v", row[0], err))
		}
		code := Currency(row[0])
		facts[code] = currencyFacts{number: row[1], digits: int32(digits), name: row[3]}
		order = append(order, code)
	}
	return facts, order
}

// Currencies returns every currency a quotation can be in, by code.
func Currencies() []Currency { return append([]Currency(nil), currencyOrder...) }

// ParseCurrency reads an ISO 4217 alphabetic code, in either case.
func ParseCurrency(s string) (Currency, error) {
	c := Currency(strings.ToUpper(strings.TrimSpace(s)))
	if !c.Valid() {
		return "", fmt.Errorf("%w: %q; use an ISO 4217 code such as GBP, EUR or USD", ErrCurrency, s)
	}
	return c, nil
}

// Valid tells whether c is in the table.
func (c Currency) Valid() bool {
	_, ok := iso4217[c]
	return ok
}

// Digits returns the number of decimals of the minor unit: 2 for pence and cents.
func (c Currency) Digits() int32 {
	switch c {
	case GBP, EUR, USD: // the common ones without a look at the table
		return 2
	}
	return iso4217[c].digits
}

// Number returns the ISO 4217 numeric code, "826" for the pound sterling.
func (c Currency) Number() string { return iso4217[c].number }

// Name returns the English name.
func (c Currency) Name() string { return iso4217[c].name }

// UnmarshalText reads a code and refuses unknown ones. Empty text is the zero value.
func (c *Currency) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*c = ""
		return nil
	}
	parsed, err := ParseCurrency(string(text))
	if err != nil {
		return err
	}
	*c = parsed
	return nil
}
