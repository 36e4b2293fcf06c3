package pricing

import (
	"slices"
	"strconv"
	"strings"

	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
)

// BookChange is one difference between two versions of the price book.
type BookChange struct {
	Code  string `json:"code"`
	Field string `json:"field"` // empty when the whole product came or went
	Was   string `json:"was,omitempty"`
	Now   string `json:"now,omitempty"`
	// Percent is by how much a price moved, with one decimal; 0 for other fields.
	Percent decimal.Decimal `json:"percent"`
	// Confirm asks a person to look: the price moved by more than a fifth.
	Confirm bool `json:"confirm,omitempty"`
}

// Preview lists what changes when new takes the place of old, by product code. Old
// may be nil. Of a product with several periods the price around the first day of the
// new book is compared.
func Preview(old, new *Book) []BookChange {
	var out []BookChange
	codes := make([]string, 0, len(new.byCode))
	for code := range new.byCode {
		codes = append(codes, code)
	}
	if old != nil {
		for code := range old.byCode {
			if _, both := new.byCode[code]; !both {
				codes = append(codes, code)
			}
		}
	}
	slices.Sort(codes)
	for _, code := range codes {
		now, isNow := new.around(code, new.From)
		var was Price
		wasThere := false
		if old != nil {
			was, wasThere = old.around(code, new.From)
		}
		switch {
		case !wasThere:
			out = append(out, BookChange{Code: code, Now: now.List.String()})
		case !isNow:
			out = append(out, BookChange{Code: code, Was: was.List.String()})
		default:
			out = append(out, priceChanges(was, now)...)
		}
	}
	return out
}

// around is the price of a code that has begun by a day, else the first to come.
func (b *Book) around(code string, day Date) (p Price, ok bool) {
	for n, i := range b.byCode[code] {
		if n == 0 || !day.Before(b.prices[i].From) {
			p, ok = b.prices[i], true
		}
	}
	return p, ok
}

func priceChanges(was, now Price) []BookChange {
	var out []BookChange
	moved := func(field string, a, b money.Amount) {
		if a.Equal(b) {
			return
		}
		change := BookChange{Code: now.Code, Field: field, Was: a.String(), Now: b.String()}
		if a.Currency() == "" {
			change.Was = ""
		}
		if b.Currency() == "" {
			change.Now = ""
		}
		difference, err := b.Sub(a)
		if err == nil && a.Sign() > 0 {
			const places, fifth = 1, 20
			change.Percent, _ = difference.PercentOf(a, places)
			change.Confirm = difference.Abs().Decimal().Cmp(a.Percent(decimal.New(fifth, 0)).Decimal()) > 0
		}
		out = append(out, change)
	}
	moved("list", was.List, now.List)
	moved("cost", was.Cost, now.Cost)
	a, b := was.row(), now.row()
	for i, name := range sheetColumns {
		switch name {
		case "code", "list", "cost", "from", "to":
			continue
		}
		if a[i] != b[i] {
			out = append(out, BookChange{Code: now.Code, Field: name, Was: a[i], Now: b[i]})
		}
	}
	return out
}

// Summary counts the changes in words: "3 added, 1 gone, 12 changed, 2 to confirm".
func Summary(changes []BookChange) string {
	var added, gone, changed, confirm int
	for _, c := range changes {
		switch {
		case c.Field != "":
			changed++
		case c.Was == "":
			added++
		default:
			gone++
		}
		if c.Confirm {
			confirm++
		}
	}
	parts := []string{
		strconv.Itoa(added) + " added", strconv.Itoa(gone) + " gone",
		strconv.Itoa(changed) + " changed", strconv.Itoa(confirm) + " to confirm",
	}
	return strings.Join(parts, ", ")
}
