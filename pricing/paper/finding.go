package paper

// Gravity is how much a finding weighs. It is printed in words beside a shape of
// its own, never by colour alone.
type Gravity uint8

// The gravities of a finding, the gravest first.
const (
	Stops      Gravity = iota // it will not work or must not be built
	Warns                     // it works, but badly or at a risk
	Mentions                  // worth knowing
	Unanswered                // a fact is missing, so nobody can tell
	InOrder                   // looked at and found good
)

// Findings is a list of what was found.
type Findings struct{ Items []Finding }

// Finding is one result of a check.
type Finding struct {
	Gravity  Gravity
	ID       string
	Title    string
	Subject  string   // what it concerns, such as "FV3 on the upper floor"
	Need     string   // with unit, as printed
	Have     string   // with unit, as printed
	Words    string   // the explanation
	Remedies []string // each one tried and found to pass
	Accepted string   // by whom and why, when somebody accepted it
	Source   string
}

// Working is a calculation a reader can follow with a pocket calculator.
type Working struct {
	Title string
	Steps []Step
}

// Step is one formula put to use.
type Step struct {
	Title   string
	Symbol  string
	Formula string
	Values  []string // such as "P = 24 kW"
	Result  string   // with unit, as printed
	Source  string
	Note    string
}
