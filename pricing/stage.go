package pricing

import (
	"fmt"

	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
)

// checkStages asserts that the parts make the whole.
func checkStages(terms []StageTerm, problems *Problems) {
	if len(terms) == 0 {
		return
	}
	const hundred = 100
	sum := decimal.New(0, 0)
	for i, term := range terms {
		where := fmt.Sprintf("stages[%d]", i)
		if term.Name == "" || term.Event == "" {
			problems.add(where, "name or event missing; a payment says what makes it fall due")
		}
		if term.Percent.Sign() <= 0 || money.CheckDecimal(term.Percent) != nil {
			problems.add(where+".percent", "%s; above 0", term.Percent)
			return
		}
		if term.Days < 0 {
			problems.add(where+".days", "%d days to pay; 0 or more", term.Days)
		}
		sum = sum.Add(term.Percent)
	}
	if whole := decimal.New(hundred, 0); !sum.Equal(whole) {
		problems.add("stages", "the percentages sum to %s, not to 100; %s is missing", sum, whole.Sub(sum))
	}
}

// stages allocates net, and the tax of each rate, by largest remainder; the gross of
// a stage is the sum of its parts. Rounding each stage's gross alone would miss the
// total by a penny.
func (c *calculation) stages() error {
	terms := c.req.Stages
	if len(terms) == 0 {
		return nil
	}
	weights := make([]decimal.Decimal, len(terms))
	for i, term := range terms {
		weights[i] = term.Percent
	}
	nets, err := c.quotation.Totals.Net.Allocate(weights)
	if err != nil {
		return fmt.Errorf("payment stages: %w", err)
	}
	stages := make([]Stage, len(terms))
	for i, term := range terms {
		stages[i] = Stage{StageTerm: term, Net: nets[i]}
	}
	for _, line := range c.quotation.Taxes {
		shares, err := line.Amount.Allocate(weights)
		if err != nil {
			return fmt.Errorf("payment stages: %w", err)
		}
		for i, share := range shares {
			stages[i].Taxes = append(stages[i].Taxes, TaxShare{Tax: line.Tax, Amount: share})
		}
	}
	for i := range stages {
		if err := stages[i].add(c.currency); err != nil {
			return fmt.Errorf("payment stage %s: %w", stages[i].Name, err)
		}
	}
	c.quotation.Stages = stages
	return nil
}

func (s *Stage) add(c money.Currency) error {
	tax := money.NewTally(c)
	for _, share := range s.Taxes {
		tax.Add(share.Amount)
	}
	var err error
	if s.Tax, err = tax.Total(); err != nil {
		return err
	}
	s.Gross, err = s.Net.Add(s.Tax)
	return err
}
