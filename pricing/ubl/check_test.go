package ubl

import (
	"encoding/xml"
	"fmt"

	"github.com/shopspring/decimal"
)

// Fault is a rule of EN 16931-1 that a document breaks.
type Fault struct {
	Rule string
	Says string
}

type sum struct {
	Value    string `xml:",chardata"`
	Currency string `xml:"currencyID,attr"`
}

type allowance struct {
	Charge string `xml:"ChargeIndicator"`
	Reason string `xml:"AllowanceChargeReason"`
	Factor string `xml:"MultiplierFactorNumeric"`
	Amount sum    `xml:"Amount"`
	Base   *sum   `xml:"BaseAmount"`
}

// read is what the check needs of a document.
type read struct {
	Currency   string      `xml:"PricingCurrencyCode"`
	Allowances []allowance `xml:"AllowanceCharge"`
	Tax        struct {
		Amount sum `xml:"TaxAmount"`
		Groups []struct {
			Base    sum    `xml:"TaxableAmount"`
			Amount  sum    `xml:"TaxAmount"`
			Percent string `xml:"TaxCategory>Percent"`
		} `xml:"TaxSubtotal"`
	} `xml:"TaxTotal"`
	Totals struct {
		Lines      sum `xml:"LineExtensionAmount"`
		Net        sum `xml:"TaxExclusiveAmount"`
		Gross      sum `xml:"TaxInclusiveAmount"`
		Allowances sum `xml:"AllowanceTotalAmount"`
		Charges    sum `xml:"ChargeTotalAmount"`
	} `xml:"QuotedMonetaryTotal"`
	Lines []struct {
		ID         string      `xml:"ID"`
		Quantity   string      `xml:"LineItem>Quantity"`
		Net        sum         `xml:"LineItem>LineExtensionAmount"`
		Allowances []allowance `xml:"LineItem>AllowanceCharge"`
		Price      string      `xml:"LineItem>Price>PriceAmount"`
		Per        string      `xml:"LineItem>Price>BaseQuantity"`
	} `xml:"QuotationLine"`
}

// Check reads a document and names each rule of arithmetic that it breaks; none is
// an empty list. An error says that it could not be read at all.
//
// Source: EN 16931-1 business rules BR-CO-10 to 17 and the calculation of a line
// (BT-131), each tested exactly.
func Check(document []byte) ([]Fault, error) {
	var r read
	if err := xml.Unmarshal(document, &r); err != nil {
		return nil, fmt.Errorf("read the UBL document: %w", err)
	}
	c := checker{}
	lines := c.lines(r)
	var off, on decimal.Decimal
	for _, a := range r.Allowances {
		if a.Charge == "true" {
			on = on.Add(c.number(a.Amount.Value))
		} else {
			off = off.Add(c.number(a.Amount.Value))
		}
		if a.Reason == "" {
			c.fault("BR-CO-21", "an allowance or charge gives no reason")
		}
	}
	c.equal("BR-CO-10", "sum of the lines", r.Totals.Lines, lines)
	c.equal("BR-CO-11", "sum of allowances", r.Totals.Allowances, off)
	c.equal("BR-CO-12", "sum of charges", r.Totals.Charges, on)
	net := lines.Sub(off).Add(on)
	c.equal("BR-CO-13", "total without tax", r.Totals.Net, net)
	tax := c.taxes(r)
	c.equal("BR-CO-14", "total tax", r.Tax.Amount, tax)
	c.equal("BR-CO-15", "total with tax", r.Totals.Gross, net.Add(tax))
	return c.faults, nil
}

type checker struct{ faults []Fault }

func (c *checker) fault(rule, says string, args ...any) {
	c.faults = append(c.faults, Fault{Rule: rule, Says: fmt.Sprintf(says, args...)})
}

func (c *checker) number(s string) decimal.Decimal {
	if s == "" {
		return decimal.Decimal{}
	}
	d, err := decimal.NewFromString(s)
	if err != nil {
		c.fault("BR-DEC", "%q is not a number", s)
	}
	return d
}

func (c *checker) equal(rule, what string, has sum, want decimal.Decimal) {
	if got := c.number(has.Value); !got.Equal(want) {
		c.fault(rule, "%s is %s, by its parts it is %s", what, got, want)
	}
}

// lines checks each line and gives their sum.
//
//	net = round(quantity · price / per) − Σ allowances
func (c *checker) lines(r read) decimal.Decimal {
	const cents = 2
	total := decimal.Decimal{}
	for _, l := range r.Lines {
		per := c.number(l.Per)
		if per.IsZero() {
			per = decimal.NewFromInt(1)
		}
		want := c.number(l.Quantity).Mul(c.number(l.Price)).DivRound(per, cents)
		for _, a := range l.Allowances {
			want = want.Sub(c.number(a.Amount.Value))
		}
		c.equal("BT-131", "net of line "+l.ID, l.Net, want)
		total = total.Add(c.number(l.Net.Value))
	}
	return total
}

func (c *checker) taxes(r read) decimal.Decimal {
	const cents = 2
	total := decimal.Decimal{}
	for _, g := range r.Tax.Groups {
		want := c.number(g.Base.Value).Mul(c.number(g.Percent)).Shift(-2).Round(cents)
		c.equal("BR-CO-17", "tax of the group at "+g.Percent+" %", g.Amount, want)
		total = total.Add(c.number(g.Amount.Value))
	}
	return total
}
