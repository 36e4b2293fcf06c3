package pricing

import (
	"fmt"

	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
)

// Commitment is how much of the cost is committed by the time of a payment stage.
type Commitment struct {
	Stage string
	// Percent of the whole cost that cannot be got back at this stage, counted from
	// the start; the last stage has 100.
	Percent decimal.Decimal
}

// Exposure is what the house stands to lose at a stage, before its payment comes in.
type Exposure struct {
	Stage     string       `json:"stage"`
	Committed money.Amount `json:"committed"` // cost committed so far
	Received  money.Amount `json:"received"`  // net received with this stage
	Before    money.Amount `json:"before"`    // committed less what came in before: the peak
	After     money.Amount `json:"after"`     // committed less what came in with this stage
	Over      bool         `json:"over"`      // After is above the limit
}

// CashExposure sets cost committed against cash received, stage by stage.
//
//	before_i = committed_i − Σ_{j<i} net_j,  after_i = before_i − net_i
//
// Tax is left out: it comes in and goes out again. A stage whose exposure stays
// above the limit once it is paid is marked: the deposit should cover purchases that
// cannot be got back. Source: common practice, no source.
func CashExposure(q Quotation, sheet CostSheet, commitments []Commitment, limit money.Amount) ([]Exposure, error) {
	if len(commitments) != len(q.Stages) {
		return nil, fmt.Errorf("cash exposure: %d commitments for %d payment stages; one each", len(commitments), len(q.Stages))
	}
	received := money.NewTally(q.Currency)
	last := decimal.Decimal{}
	out := make([]Exposure, 0, len(q.Stages))
	for i, stage := range q.Stages {
		c := commitments[i]
		const hundred = 100
		if c.Stage != stage.Name || c.Percent.Cmp(last) < 0 || c.Percent.Cmp(decimal.New(hundred, 0)) > 0 {
			return nil, fmt.Errorf("cash exposure: commitment %q of %s%%; stage %q wants a percentage from %s to 100", c.Stage, c.Percent, stage.Name, last)
		}
		last = c.Percent
		x := Exposure{Stage: stage.Name, Committed: sheet.Whole.Cost.PercentRound(c.Percent)}
		before, err := received.Total()
		if err != nil {
			return nil, err
		}
		received.Add(stage.Net)
		if x.Received, err = received.Total(); err != nil {
			return nil, err
		}
		if x.Before, err = x.Committed.Sub(before); err != nil {
			return nil, err
		}
		if x.After, err = x.Committed.Sub(x.Received); err != nil {
			return nil, err
		}
		more, err := x.After.Cmp(limit)
		if err != nil {
			return nil, fmt.Errorf("cash exposure limit: %w", err)
		}
		x.Over = more > 0
		out = append(out, x)
	}
	return out, nil
}
