package offer

import (
	"tunwright/catalog/strict"

	"github.com/shopspring/decimal"
)

// Firm is the house that quotes: its letterhead and what it agrees to by default.
type Firm struct {
	Name     string   `yaml:"name,required"`
	Address  []string `yaml:"address,required"`
	Phone    string   `yaml:"phone,omitempty"`
	Email    string   `yaml:"email,omitempty"`
	Legal    string   `yaml:"legal,omitempty" doc:"register and tax numbers, printed at the foot"`
	Country  string   `yaml:"country,required" enum:"GB|IE|DE|US"`
	Accent   string   `yaml:"accent,omitempty" doc:"colour of rules and headings, as #rrggbb"`
	Logo     string   `yaml:"logo,omitempty" doc:"PNG file beside the settings file"`
	Valid    int      `yaml:"valid_days,required" range:"1..365"`
	Delivery Delivery `yaml:"delivery,required"`
	Stages   []Stage  `yaml:"stages,required"`
	Terms    []string `yaml:"terms,required"`

	MarginFloor    decimal.Decimal `yaml:"margin_floor_pct,required" doc:"below it a second person approves"`
	DiscountCap    decimal.Decimal `yaml:"discount_cap_pct,required"`
	ProvisionalCap decimal.Decimal `yaml:"provisional_cap_pct,required"`
}

// ReadFirm reads the firm's settings.
func ReadFirm(file string, text []byte) (Firm, error) {
	var f Firm
	if err := strict.Decode(file, text, &f); err != nil {
		return Firm{}, err
	}
	return f, nil
}
