package pricing

import (
	"fmt"

	"github.com/shopspring/decimal"
)

// Spare is a wearing part and how many of it a year of running uses up.
type Spare struct {
	Code        string
	Description string
	PerYear     decimal.Decimal
}

// Spares makes an option of the wearing parts for some years of running. A part is
// bought whole, so that a quantity is rounded up:
//
//	quantity = ⌈ per year × years ⌉
//
// Source: common practice, no source.
func Spares(id string, years int, parts []Spare) (Option, error) {
	const most = 10
	if years < 1 || years > most {
		return Option{}, fmt.Errorf("spares for %d years: between 1 and %d", years, most)
	}
	title := fmt.Sprintf("Spares for %d years of running", years)
	if years == 1 {
		title = "Spares for a year of running"
	}
	o := Option{ID: id, Title: title}
	for i, p := range parts {
		if p.PerYear.Sign() <= 0 {
			return Option{}, fmt.Errorf("spare %s: %s a year; above zero", p.Code, p.PerYear)
		}
		o.Items = append(o.Items, Item{
			Ref: fmt.Sprintf("%s-%d", id, i+1), Code: p.Code, Description: p.Description, Section: "Spares", Kind: Product,
			Quantity: p.PerYear.Mul(decimal.New(int64(years), 0)).Ceil(),
		})
	}
	return o, nil
}
