package quotation

import (
	"strconv"

	"tunwright/pricing"
	"tunwright/pricing/money"
)

// PriceSections are the products, prices and terms of a priced quotation as
// sections to compare. The engineering figures and findings are the caller's to
// add, in sections of their own.
func PriceSections(q pricing.Quotation, l money.Locale) []Section {
	products, prices, terms := Section{Name: "Products"}, Section{Name: "Price"}, Section{Name: "Terms"}
	for i := range q.Lines {
		line := &q.Lines[i]
		says := line.Quantity.String() + " " + pricing.UnitWord(line.Unit) + " " + line.Description
		if line.Code != "" {
			says += " (" + line.Code + ")"
		}
		products.add(line.Ref, line.Description, says)
		prices.add("line "+line.Ref, line.Description, line.Net.Format(l))
	}
	for _, e := range q.ByOthers {
		products.add("by others "+e.Ref, e.Description, "by others: "+e.Interface)
	}
	for i, a := range q.Allowances {
		prices.add("discount "+strconv.Itoa(i+1), a.Reason, a.Amount.Neg().Format(l))
	}
	for i, c := range q.Charges {
		prices.add("charge "+strconv.Itoa(i+1), c.Reason, c.Amount.Format(l))
	}
	prices.add("net", "Total without tax", q.Totals.Net.Format(l))
	for _, x := range q.Taxes {
		prices.add("tax "+x.Tax.String(), "Tax "+x.Tax.String(), x.Amount.Format(l))
	}
	prices.add("gross", "Total with tax", q.Totals.Gross.Format(l))
	terms.add("valid until", "Valid until", q.ValidUntil.Long(l))
	for i, s := range q.Stages {
		says := money.FormatPercent(s.Percent, l) + ", " + s.Event + ", " + strconv.Itoa(s.Days) + " days: " + s.Gross.Format(l)
		terms.add("stage "+strconv.Itoa(i+1), s.Name, says)
	}
	return []Section{products, prices, terms}
}

func (s *Section) add(key, label, value string) {
	s.Entries = append(s.Entries, Entry{Key: key, Label: label, Value: value})
}
