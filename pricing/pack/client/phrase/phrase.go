// Package phrase holds the house's own wording of papers in the languages they are
// written in: a table with a key and a column for each language. It also gives
// numbers, dates and money the form of the reader's locale, so that a sentence with
// a figure in it is right in both languages.
//
// Begin with MustRead and Book.In. Left out: words that come from outside, such as a
// firm's terms or the names of products; papers print those as they are.
package phrase

import (
	"encoding/csv"
	"errors"
	"fmt"
	"slices"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/pricing"
	"tunwright/pricing/money"
	"tunwright/pricing/paper"

	"github.com/shopspring/decimal"
)

// Book is a table of phrases.
type Book struct {
	keys    []string
	english map[string]string
	german  map[string]string
}

// Read reads a table with the columns key, en and de. Lines that begin with # are
// remarks. A phrase that lacks a language is an error, so that no paper comes out
// half translated.
func Read(name, text string) (Book, error) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		return Book{}, fmt.Errorf("phrases %s: %w", name, err)
	}
	if len(rows) == 0 || !slices.Equal(rows[0], []string{"key", "en", "de"}) {
		return Book{}, fmt.Errorf("phrases %s: the first line names the columns key,en,de", name)
	}
	b := Book{english: map[string]string{}, german: map[string]string{}}
	var problems []error
	for i, row := range rows[1:] {
		key, en, de := row[0], row[1], row[2]
		switch {
		case key == "" || en == "" || de == "":
			problems = append(problems, fmt.Errorf("phrases %s: phrase %d (%q) lacks its key or a language", name, i+1, key))
		case b.english[key] != "":
			problems = append(problems, fmt.Errorf("phrases %s: %q comes twice", name, key))
		}
		b.keys = append(b.keys, key)
		b.english[key], b.german[key] = en, de
	}
	return b, errors.Join(problems...)
}

// MustRead reads a table that is part of the program, where a fault is one of our own.
func MustRead(name, text string) Book {
	b, err := Read(name, text)
	if err != nil {
		panic(err)
	}
	return b
}

// Keys lists the keys in the order of the table.
func (b Book) Keys() []string { return slices.Clone(b.keys) }

// In gives the book in the language of a locale.
func (b Book) In(l paper.Locale) Voice { return Voice{Locale: l, book: b} }

// Voice speaks one language and writes figures by one locale.
type Voice struct {
	Locale paper.Locale
	book   Book
}

// German tells whether papers are written in German.
func (v Voice) German() bool { return v.Locale == paper.DeDE }

// Say gives a phrase, its gaps filled in. A key that is not in the book is shown as
// it is, so that the gap can be seen on the paper; tests hold that there is none.
func (v Voice) Say(key string, args ...any) string {
	words := v.book.english
	if v.German() {
		words = v.book.german
	}
	text, ok := words[key]
	switch {
	case !ok:
		return "[" + key + "]"
	case len(args) == 0:
		return text
	}
	return fmt.Sprintf(text, args...)
}

// Known gives the phrase of a key that is made of somebody else's word, or that word
// as it is where the book has no phrase for it.
func (v Voice) Known(key, word string) string {
	if _, ok := v.book.english[key]; !ok {
		return word
	}
	return v.Say(key)
}

// Money is an amount with its currency.
func (v Voice) Money(a money.Amount) string { return a.Format(v.Locale) }

// Percent is a number of per cent.
func (v Voice) Percent(d decimal.Decimal) string { return money.FormatPercent(d, v.Locale) }

// Number is an exact number as it is.
func (v Voice) Number(d decimal.Decimal) string { return money.FormatDecimal(d, 0, v.Locale) }

// Date is a date with its month in words.
func (v Voice) Date(d pricing.Date) string { return d.Long(v.Locale) }

// Quantity is a physical quantity with so many significant digits, in US customary
// units where they are asked for.
func (v Voice) Quantity(q unit.Quantity, digits int, customary bool) string {
	u := q.Kind().Shown()
	if customary {
		u = q.Kind().Customary()
	}
	return v.InUnit(q, u, digits)
}

// InUnit is a physical quantity in a stated unit.
func (v Voice) InUnit(q unit.Quantity, u unit.Unit, digits int) string {
	text := unit.Digits(u.From(q.SI()), digits)
	if d, err := money.ParseDecimal(text); err == nil {
		text = money.FormatDecimal(d, 0, v.Locale)
	}
	if u.Symbol == "" {
		return text
	}
	return text + "\u00a0" + u.Symbol
}
