package pricing

import (
	"errors"
	"fmt"
)

// ReadyToIssue lists what stands against sending the quotation out: it must be
// checked, its validity stated, and whatever its prices rest on must hold until the
// last day on which it can be accepted.
func (q Quotation) ReadyToIssue(book *Book, rates ...Rate) []string {
	var out []string
	if !q.Verified() {
		out = append(out, "the arithmetic does not check: price it again")
	}
	if q.ValidUntil.IsZero() {
		return append(out, "no validity date: state the last day on which it can be accepted")
	}
	if book.ID != q.Book {
		out = append(out, fmt.Sprintf("it was priced from price book %s, not %s: price it again", q.Book, book.ID))
	}
	if !book.Holds(q.ValidUntil) {
		out = append(out, fmt.Sprintf("price book %s ends before the quotation does (%s): shorten the validity or price from a later book", book.ID, q.ValidUntil))
	}
	for _, r := range rates {
		if !r.Holds(q.ValidUntil) {
			out = append(out, fmt.Sprintf("the rate %s to %s of %s is not held until %s: agree a later expiry or shorten the validity", r.From, r.To, r.Date, q.ValidUntil))
		}
	}
	return out
}

// FitsInvoiceStandard tells why the quotation cannot be written as EN 16931 data, nil
// when it can: the standard has two decimals at most. Nothing is ever cut off.
//
// Source: EN 16931-1 rules BR-DEC-01 to BR-DEC-28.
func (q Quotation) FitsInvoiceStandard() error {
	const most = 2
	if digits := q.Currency.Digits(); digits > most {
		return fmt.Errorf("%s has %d decimals, EN 16931 at most %d (BR-DEC): send the PDF or the spreadsheet instead", q.Currency.Name(), digits, most)
	}
	if !q.Verified() {
		return errors.New("the arithmetic does not check: price it again")
	}
	return nil
}

// Acceptable tells whether it can be accepted on a day; the last day counts.
func (q Quotation) Acceptable(on Date) bool {
	return q.ValidUntil.IsZero() || !q.ValidUntil.Before(on)
}
