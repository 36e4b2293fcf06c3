// Package haccp drafts a starter plan for the food safety of a brewery from its
// actual configuration: the twelve steps of Codex CXC 1-1969, a flow diagram, the
// hazards of each step with their control, proposals for critical limits, and the
// allergens of the beers.
//
// Begin with Input and Size; Result is the plan as rows, Markdown writes it as a
// text that can be edited. Rules judge the Facts.
//
// It is a starting point. The food business must make it its own: confirm it on
// site, validate the limits, and keep the records. Left out: hygiene of the taproom's
// kitchen, and every duty of law, which the authority decides.
package haccp

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

// Country decides which instruments are named.
type Country string

const (
	GB Country = "GB"
	IE Country = "IE"
	DE Country = "DE"
	US Country = "US"
)

// Input is what the configuration and the client say.
type Input struct {
	Country  Country // empty counts as GB
	Business string
	Beers    []Beer

	Mill         bool   // malt is milled on site
	OwnWater     bool   // borehole or other own source
	TreatedWater bool   // filters, salts, acid
	Coolant      string // "propylene-glycol", "ethylene-glycol", "water", "" unknown
	DirectSteam  bool   // steam blown into the product
	HotClean     bool   // caustic and acid cleaning set
	Gas          bool   // carbon dioxide or nitrogen touches the beer
	Air          bool   // compressed air touches wort or packs
	Filter       bool   // powder or sheet filter
	Pasteurised  bool
	Glass        bool
	Cans         bool
	Kegs         bool
	Casks        bool
	Refermented  bool                // conditioning in the pack
	PackRating   *unit.GaugePressure // of the weakest pack; nil unknown
	Dispense     bool                // served on site
	GrainFeed    bool                // spent grain goes to feed
	MillSeparate *bool               // malt is tipped and milled apart from the clean side; nil unknown
	LampsCovered *bool               // no glass lamp above open vessels; nil unknown
	WashBasins   *bool               // hand-wash basins in the production area; nil unknown
}

// Beer is one product.
type Beer struct {
	Name        string
	ABV         *unit.ABV // nil unknown
	PH          *unit.Acidity
	Ingredients []string            // as named in the table of allergens, or other words; empty: unknown
	Sulphite    *unit.Concentration // total SO2; nil unknown
	Carbonation *unit.Carbonation   // at its highest, in the pack
	ShelfDays   int
	Kept        string // "chilled" or "ambient"; empty: not said
}

// CodexStep is one of the twelve steps with what is drafted and what is left to do.
type CodexStep struct {
	No      int
	Title   string
	Drafted string
	ToDo    string
}

// FlowStep is one box of the flow diagram.
type FlowStep struct {
	No   int
	Name string
	In   string // what comes in
	Out  string // what goes out beside the product
}

// Verdict on a control measure.
type Verdict string

const (
	CCP  Verdict = "CCP"  // critical control point
	OPRP Verdict = "oPRP" // operational prerequisite
	PRP  Verdict = "PRP"  // prerequisite programme
)

// Hazard is one row of the analysis.
type Hazard struct {
	Step     string
	Kind     string // "B" biological, "C" chemical, "P" physical, "A" allergen
	Hazard   string
	Cause    string
	Severity int // 1 slight to 3 grave; common practice
	Chance   int // 1 rare to 3 often, before control; common practice
	Control  string
	Verdict  Verdict
	Limit    string // proposal
	Monitor  string // what, how, how often
	Correct  string
	Verify   string
	Record   string
	Basis    source.Provenance
}

// Significant tells whether the hazard passes the usual threshold of 6 of 9.
func (h Hazard) Significant() bool { return h.Severity*h.Chance >= 6 }

// AllergenRow is one beer against one allergen.
type AllergenRow struct {
	Beer      string
	Allergen  string // of Annex II
	From      string // ingredient
	Declare   string // words for the label
	Cross     bool   // only by contact with other beers of the brewery
	Threshold string
}

// ProductRow describes one beer.
type ProductRow struct {
	Beer      string
	ABV       string
	PH        string
	Packs     string
	Kept      string
	Use       string
	Allergens string
	Note      string
}

// Result is the plan.
type Result struct {
	Title     string
	Notice    string // stands on every page
	Steps     []CodexStep
	Products  []ProductRow
	Flow      []FlowStep
	Hazards   []Hazard
	CCPs      []int // indexes of hazards
	PRPs      []string
	Allergens []AllergenRow
	Records   []string
	Law       []string
}

// Facts are what the rules judge.
type Facts struct {
	Input  Input
	Result Result
}

// Notice is the mark that every page of the plan carries.
const Notice = "Starting point drafted from the configuration. The food business must own it: confirm it on site, validate each limit, train people and keep records. Check the current text of every instrument."

// Cautions stand on every paper that prints the plan.
func Cautions() []string {
	return []string{
		Notice,
		"Limits are proposals from common practice; a validated limit replaces each of them.",
		"Allergens are drawn from the recipes told: a changed recipe changes the plan and the label.",
	}
}
