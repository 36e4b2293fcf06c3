package pricing

import (
	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
)

// Kind is what sort of thing a line is; it decides how the line is priced.
type Kind string

// The kinds of line.
const (
	Product     Kind = "product"     // equipment and material, from the price book
	Service     Kind = "service"     // design, installation, commissioning, training
	Expense     Kind = "expense"     // subsistence, travel, lodging
	Provisional Kind = "provisional" // a sum to be adjusted to what is found
	ByOthers    Kind = "by_others"   // not ours: listed, never priced
)

// Assumption is a fact about the building or the enquiry that a price rests on.
type Assumption struct {
	Key   string `json:"key"`   // the fact's name, such as site.floor_height_mm
	Value string `json:"value"` // what it was taken to be
	Says  string `json:"says"`  // in words, for the paper
}

// Discount lowers a line or a whole quotation, by a percentage or by an amount.
type Discount struct {
	Percent    decimal.Decimal
	Amount     money.Amount // instead of Percent
	Reason     string       // printed; "Discount" when empty
	ReasonCode string       // UNTDID 5189; 95 (discount) when empty
}

// Item is something to be priced.
type Item struct {
	Ref         string // the caller's name for this line, unique in the quotation
	Code        string // product code in the price book
	Description string
	Section     string // the heading it stands under
	Kind        Kind
	Quantity    decimal.Decimal
	Unit        string // UN/ECE Rec 20; the price book's when empty
	DependsOn   []Assumption
	Discounts   []Discount // taken one after the other, each on what is left
	// NoDiscount keeps the line out of discounts on the whole quotation.
	// Provisional sums always are.
	NoDiscount bool
	Tax        Tax // the quotation's when zero
	// Price and Cost replace the price book's, per Per units; PriceReason says why
	// and is required with Price.
	Price       money.Amount
	Cost        money.Amount
	PriceReason string
	// LineCost is the cost of the whole line, where it is not a price times a
	// quantity. It replaces every other cost.
	LineCost    money.Amount
	Provisional *ProvisionalSum // for kind Provisional
	Interface   string          // for kind ByOthers: where our work ends
	Warranty    string
}

// Charge is an amount on the whole quotation: freight, packing, insurance.
type Charge struct {
	Reason     string // printed
	ReasonCode string // UNTDID 7161: FC freight, PC packing, CAS crane
	Amount     money.Amount
	Cost       money.Amount
	Tax        Tax
}

// StageTerm is an agreed payment: when which part falls due.
type StageTerm struct {
	Name     string          `json:"name"`
	Event    string          `json:"event"`              // what makes it fall due
	Evidence string          `json:"evidence,omitempty"` // what shows that it happened
	Days     int             `json:"days"`               // days to pay
	Percent  decimal.Decimal `json:"percent"`
}

// Policy holds the limits beyond which a second person approves. A limit of zero
// is not checked, except the margin floor: selling below cost always needs approval.
type Policy struct {
	MarginFloor    decimal.Decimal // per cent of net, on the whole and on each line
	DiscountCap    decimal.Decimal // per cent off list, all discounts together
	ProvisionalCap decimal.Decimal // per cent of net in provisional sums
}

// Request is everything that Calculate needs.
type Request struct {
	Date       Date // the day whose prices are taken
	ValidUntil Date // last day on which it can be accepted
	Currency   money.Currency
	Items      []Item
	Options    []Option
	Discounts  []Discount // on the whole, one after the other
	Charges    []Charge
	Tax        Tax         // for everything that states none of its own
	Stages     []StageTerm // percentages that sum to 100; none means "on delivery"
	Policy     Policy
}
