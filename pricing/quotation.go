package pricing

import (
	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
)

// Quotation is what the client may see: it has no field for a cost or a margin, so
// that neither can reach a client paper. Costs are in the CostSheet.
//
// Amounts carry the numbers of the business terms of EN 16931-1, because the
// buyer's invoice will obey that standard.
type Quotation struct {
	Currency   money.Currency `json:"currency"`
	Date       Date           `json:"date"`
	ValidUntil Date           `json:"valid_until"`
	Book       string         `json:"price_book"`
	Lines      []Line         `json:"lines"`
	ByOthers   []Excluded     `json:"by_others,omitempty"`
	Allowances []Allowance    `json:"allowances,omitempty"`
	Charges    []ChargeLine   `json:"charges,omitempty"`
	Totals     Totals         `json:"totals"`
	Taxes      []TaxLine      `json:"taxes"`
	Stages     []Stage        `json:"stages,omitempty"`
	Options    []PricedOption `json:"options,omitempty"`
	Checks     []Identity     `json:"checks"` // the printed self-check
	Notices    []Notice       `json:"notices,omitempty"`
}

// Line is one priced line.
type Line struct {
	Number       int             `json:"number"`
	Ref          string          `json:"ref"`
	Code         string          `json:"code,omitempty"`
	Description  string          `json:"description"`
	Section      string          `json:"section,omitempty"`
	Kind         Kind            `json:"kind"`
	Quantity     decimal.Decimal `json:"quantity"` // BT-129
	Unit         string          `json:"unit"`     // BT-130
	Price        money.Amount    `json:"price"`    // BT-146, for Per units
	Per          decimal.Decimal `json:"per"`      // BT-149
	Gross        money.Amount    `json:"gross"`    // quantity × price / per, rounded
	Discounts    []Reduction     `json:"discounts,omitempty"`
	Net          money.Amount    `json:"net"` // BT-131
	Tax          Tax             `json:"tax"`
	Tier         decimal.Decimal `json:"tier"` // quantity of the price break used; 0 for none
	LeadWeeks    int             `json:"lead_weeks,omitempty"`
	Discountable bool            `json:"discountable"`
	Provisional  *ProvisionalSum `json:"provisional,omitempty"`
	DependsOn    []Assumption    `json:"depends_on,omitempty"`
	Warranty     string          `json:"warranty,omitempty"`
}

// Reduction is a discount as it was taken from a line.
type Reduction struct {
	Reason     string          `json:"reason"`      // BT-139
	ReasonCode string          `json:"reason_code"` // BT-140
	Percent    decimal.Decimal `json:"percent"`     // BT-138; 0 where it was an amount
	Base       money.Amount    `json:"base"`        // BT-137
	Amount     money.Amount    `json:"amount"`      // BT-136
}

// Excluded is work that others do.
type Excluded struct {
	Ref         string `json:"ref"`
	Code        string `json:"code,omitempty"`
	Description string `json:"description"`
	Section     string `json:"section,omitempty"`
	Interface   string `json:"interface"`
}

// Allowance is a discount on the whole. It is split by tax, because an allowance
// of EN 16931 has one category and rate.
type Allowance struct {
	Reduction
	Shares []TaxShare `json:"shares"`
}

// TaxShare is the part of an amount that is taxed alike.
type TaxShare struct {
	Tax    Tax          `json:"tax"`
	Amount money.Amount `json:"amount"`
}

// ChargeLine is a charge on the whole.
type ChargeLine struct {
	Reason     string       `json:"reason"`      // BT-104
	ReasonCode string       `json:"reason_code"` // BT-105
	Amount     money.Amount `json:"amount"`      // BT-99
	Tax        Tax          `json:"tax"`
}

// Totals of the quotation.
type Totals struct {
	Lines       money.Amount `json:"lines"`       // BT-106
	Allowances  money.Amount `json:"allowances"`  // BT-107
	Charges     money.Amount `json:"charges"`     // BT-108
	Net         money.Amount `json:"net"`         // BT-109, without tax
	Tax         money.Amount `json:"tax"`         // BT-110
	Gross       money.Amount `json:"gross"`       // BT-112, with tax
	Provisional money.Amount `json:"provisional"` // the part of Lines in provisional sums
}

// TaxLine is one group of the tax breakdown.
type TaxLine struct {
	Tax    Tax          `json:"tax"`
	Base   money.Amount `json:"base"`   // BT-116
	Amount money.Amount `json:"amount"` // BT-117
}

// Stage is a payment.
type Stage struct {
	StageTerm
	Net   money.Amount `json:"net"`
	Taxes []TaxShare   `json:"taxes"`
	Tax   money.Amount `json:"tax"`
	Gross money.Amount `json:"gross"`
}

// Notice is something the reader of a line should know.
type Notice struct {
	Ref  string `json:"ref,omitempty"`
	Says string `json:"says"`
}
