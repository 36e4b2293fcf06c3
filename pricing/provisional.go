package pricing

import (
	"strings"

	"tunwright/pricing/money"
)

// ProvisionalSum is money set aside for work whose extent nobody can know yet. It
// is in the total, is never discounted, and is adjusted to what is spent.
//
// The first four fields are required: a sum that does not say how it will be
// settled is a dispute with a date. The last four make it a defined sum, for which
// programme and preliminaries are deemed allowed; with any of them missing it is
// undefined, whatever it is called, and time and preliminaries are extra.
//
// Source: RICS New Rules of Measurement 2, rules for provisional sums (defined and
// undefined); the four required fields are common practice, no source.
type ProvisionalSum struct {
	What     string       `json:"what"`
	Amount   money.Amount `json:"amount"`
	Adjusted string       `json:"adjusted"` // how it is measured and adjusted
	Settled  string       `json:"settled"`  // by whom and by when it is decided

	Nature      string `json:"nature,omitempty"`      // nature and construction of the work
	Fixing      string `json:"fixing,omitempty"`      // how and where it is fixed
	Quantities  string `json:"quantities,omitempty"`  // quantities that show the scope
	Limitations string `json:"limitations,omitempty"` // limits on method, order, time
}

// Defined tells whether the sum is a defined one.
func (p ProvisionalSum) Defined() bool {
	for _, field := range []string{p.Nature, p.Fixing, p.Quantities, p.Limitations} {
		if strings.TrimSpace(field) == "" {
			return false
		}
	}
	return true
}

// Standing is the sentence that papers print beside the sum.
func (p ProvisionalSum) Standing() string {
	if p.Defined() {
		return "Defined provisional sum: programme and preliminaries are allowed for."
	}
	return "Undefined provisional sum: no programme time and no preliminaries are allowed for."
}

func (p *ProvisionalSum) check(where place, problems *Problems) {
	if p == nil {
		problems.add(where.dot("provisional"), "missing; a provisional sum says what, how much, how it is adjusted, and who settles it by when")
		return
	}
	required := []struct{ field, value, say string }{
		{"what", p.What, "what the money is for"},
		{"adjusted", p.Adjusted, "how the work is measured and the sum adjusted"},
		{"settled", p.Settled, "who settles it and by when"},
	}
	for _, r := range required {
		if strings.TrimSpace(r.value) == "" {
			problems.add(where.dot("provisional."+r.field), "missing; state %s", r.say)
		}
	}
	if p.Amount.Sign() <= 0 {
		problems.add(where.dot("provisional.amount"), "%s; a sum above zero", p.Amount)
	}
}
