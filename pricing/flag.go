package pricing

import (
	"strings"

	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
)

// Supply is what the tax and title questions depend on. Countries are ISO 3166-1
// alpha-2 codes; Northern Ireland is XI, as in VAT numbers.
type Supply struct {
	SellerCountry   string
	BuyerCountry    string
	SiteCountry     string
	BuyerInBusiness bool
	BuyerVATNumber  string
	Installed       bool // we install or assemble at the site
	// ConstructionScope tells that the price holds services, drainage, ventilation or
	// power supply installed in the building, not plant alone.
	ConstructionScope bool
	EndUserStatement  bool // the buyer has confirmed in writing to be the end user
	HardPipedUnits    int  // items joined to the building by fixed pipe or cable
	GoodsCostShare    bool // cost of goods is more than two thirds of the price
}

// Flag is a question that a person decides before the quotation leaves the house.
// The program never decides tax or law; it says what to ask and where it is written.
type Flag struct {
	ID       string `json:"id"`
	Title    string `json:"title"`
	Question string `json:"question"`
	Source   string `json:"source"`
}

// Flags lists what this supply raises, in a fixed order.
func Flags(s Supply) []Flag {
	var out []Flag
	for _, f := range flags {
		if f.raised(s) {
			out = append(out, f.Flag)
		}
	}
	return out
}

// flags are data: a question, its source, and when it is asked.
var flags = []struct {
	Flag
	raised func(Supply) bool
}{
	{
		Flag{
			"TX-01", "Installed across a border: the place of supply is where the plant is installed",
			"Goods installed by or for the supplier are supplied where they are installed. Does the buyer account for the VAT there (reverse charge, category AE), or must we register? A zero-rated export is wrong once we install.",
			"Directive 2006/112/EC art. 36, from memory; Ireland: VAT Consolidation Act 2010 s. 29(1)(b)",
		},
		func(s Supply) bool { return s.Installed && s.SellerCountry != s.SiteCountry },
	},
	{
		Flag{
			"TX-02", "Reverse charge needs both VAT numbers",
			"Category AE wants the VAT numbers of seller and buyer on the paper. What is the buyer's, and has it been checked?",
			"EN 16931-1 BR-AE-02",
		},
		func(s Supply) bool {
			return s.Installed && s.SellerCountry != s.SiteCountry && s.BuyerInBusiness && strings.TrimSpace(s.BuyerVATNumber) == ""
		},
	},
	{
		Flag{
			"TX-03", "Goods exported from the United Kingdom",
			"Zero-rating holds only if the goods leave and the evidence is held within three months of the time of supply. Who ships, and who sends us the evidence? Otherwise UK VAT falls due: is that in the terms?",
			"HMRC Notice 703; HMRC manual VEXP30300",
		},
		func(s Supply) bool { return s.SellerCountry == "GB" && s.SiteCountry != "GB" && !s.Installed },
	},
	{
		Flag{
			"TX-04", "Northern Ireland: goods follow the EU rules, services those of the UK",
			"Are plant and services on separate lines, and is the XI prefix used for goods?",
			"HMRC Notice 725",
		},
		func(s Supply) bool { return s.SiteCountry == "XI" || s.SellerCountry == "XI" },
	},
	{
		Flag{
			"TX-05", "Domestic reverse charge for construction services",
			"Pipework, drainage, ventilation or power supply in a building can fall under the domestic reverse charge. Is the buyer an end user, and has that been stated in writing? Keep this scope on lines of its own.",
			"SI 2019/892 (United Kingdom), in force from 1 March 2021",
		},
		func(s Supply) bool {
			return s.SellerCountry == "GB" && s.SiteCountry == "GB" && s.ConstructionScope && s.BuyerInBusiness && !s.EndUserStatement
		},
	},
	{
		Flag{
			"TX-06", "Two-thirds rule",
			"The goods cost more than two thirds of the price before VAT, so that the whole supply takes the rate of the goods. Is the rate on the services the same?",
			"Value-Added Tax Consolidation Act 2010 s. 41 (Ireland), Notes for Guidance",
		},
		func(s Supply) bool { return s.SiteCountry == "IE" && s.GoodsCostShare },
	},
	{
		Flag{
			"TX-07", "Sales and use tax",
			"Taxes are left out of this quotation. Which state and local taxes apply to the plant and to the labour, and does the buyer hold an exemption certificate?",
			"state law, from memory",
		},
		func(s Supply) bool { return s.SiteCountry == "US" },
	},
	{
		Flag{
			"TI-01", "Retention of title ends when plant becomes part of the building",
			"Plant joined by fixed pipe and cable can become a fixture of the building, and title with it. Do the deposit and the payment before dispatch carry the risk, and is a landlord's waiver wanted?",
			"Sale of Goods Act 1979 s. 19, from memory; Aircool Installations v British Telecommunications (1995)",
		},
		func(s Supply) bool { return s.HardPipedUnits > 0 },
	},
	{
		Flag{
			"TI-02", "Statutory payment rules may reach part of the work",
			"Installing plant where food and drink is processed is excluded from the statutory payment rules, building work by the same firm may not be. Are the scopes on separate lines?",
			"Housing Grants, Construction and Regeneration Act 1996 s. 105(2)(c)",
		},
		func(s Supply) bool { return s.SiteCountry == "GB" && s.Installed && s.ConstructionScope },
	},
}

// GoodsOverTwoThirds tells whether the cost of goods is more than two thirds of the
// price without tax: cost·3 > price·2, strictly.
//
// Source: Value-Added Tax Consolidation Act 2010 s. 41 (Ireland), Notes for Guidance.
func (s CostSheet) GoodsOverTwoThirds(goods map[string]bool) (bool, error) {
	cost := money.NewTally(s.Currency)
	for _, line := range s.Lines {
		if goods[line.Ref] {
			cost.Add(line.Cost)
		}
	}
	total, err := cost.Total()
	if err != nil {
		return false, err
	}
	three, two := decimal.New(3, 0), decimal.New(2, 0)
	return total.Mul(three).Decimal().Cmp(s.Whole.Net.Mul(two).Decimal()) > 0, nil
}
