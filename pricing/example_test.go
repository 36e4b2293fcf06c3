package pricing_test

import (
	"fmt"

	"tunwright/pricing"
	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
)

// Two fermenters and their installation, from an invented price book.
func ExampleCalculate() {
	book, err := pricing.ReadBook("prices.yaml", []byte(`
book: example
currency: GBP
from: 2026-01-01
prices:
  FV-20: {list: "9845.50", cost: "6970.00", lead_weeks: 14}
  FIT-DAY: {list: "386.40", cost: "275.00", unit: DAY}
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	today, _ := pricing.ParseDate("2026-05-04")
	vat, err := pricing.PublishedTaxRates().On("GB", "standard", today)
	if err != nil {
		fmt.Println(err)
		return
	}
	install, err := pricing.Installation{Ref: "fit", Description: "Installation", Crew: 2, Days: 3, DayCode: "FIT-DAY"}.Items()
	if err != nil {
		fmt.Println(err)
		return
	}
	tanks := pricing.Item{Ref: "fv", Code: "FV-20", Description: "Fermenter 20 hL", Kind: pricing.Product, Quantity: decimal.NewFromInt(2)}
	quote, costs, err := pricing.Calculate(book, pricing.Request{
		Date: today, ValidUntil: today.AddDays(30), Currency: money.GBP, Tax: vat.Tax(),
		Items: append([]pricing.Item{tanks}, install...),
		Stages: []pricing.StageTerm{
			{Name: "Deposit", Event: "order", Percent: decimal.NewFromInt(40)},
			{Name: "Balance", Event: "commissioning", Percent: decimal.NewFromInt(60)},
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, line := range quote.Lines {
		fmt.Println(line.Quantity, pricing.UnitWord(line.Unit), line.Description, line.Net.Format(money.EnGB))
	}
	fmt.Println("with VAT", quote.Totals.Gross.Format(money.EnGB), "until", quote.ValidUntil.Long(money.EnGB))
	fmt.Println("deposit", quote.Stages[0].Gross.Format(money.EnGB), "checked:", quote.Verified())
	fmt.Println("margin", money.FormatPercent(costs.Whole.Percent, money.EnGB))
	// Output:
	// 2 each Fermenter 20 hL £19,691.00
	// 6 day Installation, 3 days × crew of 2 £2,318.40
	// with VAT £26,411.28 until 3 June 2026
	// deposit £10,564.51 checked: true
	// margin 29.17%
}
