package pricing

import (
	_ "embed"
	"fmt"
	"strings"

	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
)

// TaxCategory is a VAT category code of UNTDID 5305, the choice EN 16931 makes.
type TaxCategory string

// The VAT categories.
const (
	TaxStandard       TaxCategory = "S"
	TaxZero           TaxCategory = "Z"
	TaxExempt         TaxCategory = "E"
	TaxReverseCharge  TaxCategory = "AE"
	TaxIntraCommunity TaxCategory = "K"
	TaxExport         TaxCategory = "G"
	TaxOutside        TaxCategory = "O"
)

// Tax is how one line is taxed. The zero value means "as the rest of the quotation".
type Tax struct {
	Category TaxCategory     `json:"category"`
	Percent  decimal.Decimal `json:"percent"`
	// Reason says why no tax is charged; papers print it. S and Z have none.
	Reason     string `json:"reason,omitempty"`
	ReasonCode string `json:"reason_code,omitempty"` // VATEX code
}

// IsZero tells whether nothing is said.
func (t Tax) IsZero() bool { return t.Category == "" }

// same tells whether two lines belong to one group of the tax breakdown.
func (t Tax) same(u Tax) bool { return t.Category == u.Category && t.Percent.Equal(u.Percent) }

// String prints category and rate: "S 20%".
func (t Tax) String() string {
	if t.Category == TaxOutside {
		return string(t.Category)
	}
	return string(t.Category) + " " + money.FormatPercent(t.Percent, money.EnGB)
}

// Check applies the rules of EN 16931 for a category: a standard rate is above
// zero (BR-S-05), the others have rate zero (BR-Z-05, BR-E-05, BR-AE-05, BR-IC-05,
// BR-G-05, BR-O-05), and all but S and Z state why (BR-S-10, BR-Z-10, BR-E-10 …).
func (t Tax) Check() error {
	reasoned := t.Reason != "" || t.ReasonCode != ""
	const hundred = 100
	switch t.Category {
	case TaxStandard:
		if t.Percent.Sign() <= 0 || t.Percent.Cmp(decimal.New(hundred, 0)) >= 0 {
			return fmt.Errorf("tax category S has a rate between 0 and 100 per cent, not %s (EN 16931 BR-S-05)", t.Percent)
		}
		if reasoned {
			return fmt.Errorf("tax category S has no exemption reason (EN 16931 BR-S-10)")
		}
		return nil
	case TaxZero, TaxExempt, TaxReverseCharge, TaxIntraCommunity, TaxExport, TaxOutside:
	default:
		return fmt.Errorf("tax category %q is not one of S, Z, E, AE, K, G, O", string(t.Category))
	}
	rule := t.Category.ruleName()
	if !t.Percent.IsZero() {
		return fmt.Errorf("tax category %s has rate 0, not %s (EN 16931 BR-%s-05)", t.Category, t.Percent, rule)
	}
	if t.Category == TaxZero && reasoned {
		return fmt.Errorf("tax category Z has no exemption reason (EN 16931 BR-Z-10)")
	}
	if t.Category != TaxZero && !reasoned {
		return fmt.Errorf("tax category %s says why no tax is charged (EN 16931 BR-%s-10)", t.Category, rule)
	}
	return nil
}

// ruleName is how EN 16931 names the category in its rule numbers.
func (c TaxCategory) ruleName() string {
	if c == TaxIntraCommunity {
		return "IC"
	}
	return string(c)
}

// Untaxed makes the tax of a category without tax, with its VATEX code and the
// words that papers print.
func Untaxed(c TaxCategory, reason string) Tax {
	codes := map[TaxCategory]string{
		TaxReverseCharge: "VATEX-EU-AE", TaxIntraCommunity: "VATEX-EU-IC", TaxExport: "VATEX-EU-G", TaxOutside: "VATEX-EU-O",
	}
	return Tax{Category: c, Reason: reason, ReasonCode: codes[c]}
}

// TaxRate is a rate in force during a half-open period.
type TaxRate struct {
	Country string // ISO 3166-1 alpha-2
	Kind    string // standard, reduced
	Percent decimal.Decimal
	From    Date
	To      Date // open when empty
	Source  string
}

// TaxRates are the rates of several countries over time.
type TaxRates []TaxRate

//go:embed tables/tax.csv
var taxCSV string

var publishedRates = readTaxRates(taxCSV)

func readTaxRates(text string) TaxRates {
	var rates TaxRates
	for _, row := range mustReadTable("tax", text) {
		rate, err := taxRate(row)
		if err != nil {
			panic(fmt.Sprintf("pricing: table tax: %s: %v", strings.Join(row, ","), err))
		}
		rates = append(rates, rate)
	}
	return rates
}

func taxRate(row []string) (TaxRate, error) {
	percent, err := money.ParseDecimal(row[2])
	if err != nil {
		return TaxRate{}, err
	}
	from, err := ParseDate(row[3])
	if err != nil {
		return TaxRate{}, err
	}
	rate := TaxRate{Country: row[0], Kind: row[1], Percent: percent, From: from, Source: row[5]}
	return rate, rate.To.UnmarshalText([]byte(row[4]))
}

// PublishedTaxRates returns the rates the program knows, with their sources.
func PublishedTaxRates() TaxRates { return append(TaxRates(nil), publishedRates...) }

// On returns the rate of a country in force on a day.
func (rs TaxRates) On(country, kind string, on Date) (TaxRate, error) {
	for _, r := range rs {
		if r.Country == country && r.Kind == kind && on.within(r.From, r.To) {
			return r, nil
		}
	}
	return TaxRate{}, fmt.Errorf("no %s VAT rate of %s on %s is known; state the rate on the quotation", kind, country, on)
}

// Tax is the category-S tax at this rate.
func (r TaxRate) Tax() Tax { return Tax{Category: TaxStandard, Percent: r.Percent} }
