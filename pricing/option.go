package pricing

import (
	"errors"
	"fmt"
	"slices"

	"tunwright/pricing/money"
)

// Option is something the client may take: an addition, or an alternative that
// takes the place of lines. It is in no total until it is taken.
type Option struct {
	ID       string
	Title    string
	Group    string   // of the options in a group at most one can be taken
	Replaces []string // the refs of the lines whose place it takes
	Items    []Item
}

// PricedOption is an option with what taking it would change.
type PricedOption struct {
	ID       string   `json:"id"`
	Title    string   `json:"title"`
	Group    string   `json:"group,omitempty"`
	Replaces []string `json:"replaces,omitempty"`
	Lines    []Line   `json:"lines"`
	// Change is the difference in the totals if this option alone is taken, with
	// every discount, charge and tax worked out anew.
	Change  Totals `json:"change"`
	IfTaken Totals `json:"if_taken"`
}

// OptionCost is the cost side of an option.
type OptionCost struct {
	ID      string `json:"id"`
	Title   string `json:"title"`
	IfTaken Margin `json:"if_taken"` // of the whole quotation
	Change  Margin `json:"change"`   // what the option itself brings
}

// Taking returns the request as it is once the options are taken: their items stand
// in place of the lines they replace, or at the end.
func (r Request) Taking(ids ...string) (Request, error) {
	taken := r
	taken.Items = slices.Clone(r.Items)
	taken.Options = nil
	groups := make(map[string]string)
	replaced := make(map[string]string)
	for _, o := range r.Options {
		if !slices.Contains(ids, o.ID) {
			taken.Options = append(taken.Options, o)
			continue
		}
		if other, ok := groups[o.Group]; ok && o.Group != "" {
			return Request{}, fmt.Errorf("options %s and %s are alternatives (%s): take one of them", other, o.ID, o.Group)
		}
		groups[o.Group] = o.ID
		for _, ref := range o.Replaces {
			if other, ok := replaced[ref]; ok {
				return Request{}, fmt.Errorf("options %s and %s both replace line %s: take one of them", other, o.ID, ref)
			}
			replaced[ref] = o.ID
		}
		var err error
		if taken.Items, err = o.takePlace(taken.Items); err != nil {
			return Request{}, err
		}
	}
	for _, id := range ids {
		if !slices.ContainsFunc(r.Options, func(o Option) bool { return o.ID == id }) {
			return Request{}, fmt.Errorf("there is no option %s in this quotation", id)
		}
	}
	return taken, nil
}

func (o Option) takePlace(items []Item) ([]Item, error) {
	place := len(items)
	for i, ref := range o.Replaces {
		at := slices.IndexFunc(items, func(item Item) bool { return item.Ref == ref })
		if at < 0 {
			return nil, fmt.Errorf("option %s replaces line %s, which is not there", o.ID, ref)
		}
		items = slices.Delete(items, at, at+1)
		if i == 0 || at < place {
			place = at
		}
	}
	return slices.Insert(items, min(place, len(items)), o.Items...), nil
}

// options prices each option by taking it alone.
func (c *calculation) options() error {
	seen := make(map[string]bool, len(c.req.Options))
	for i, o := range c.req.Options {
		where := fmt.Sprintf("options[%d]", i)
		if o.ID == "" || o.Title == "" || seen[o.ID] || len(o.Items) == 0 {
			return Problems{{Where: where, Message: "an option has an id of its own, a title and at least one item"}}
		}
		seen[o.ID] = true
		err := c.option(o)
		if problems, ok := errors.AsType[Problems](err); ok {
			for i := range problems {
				problems[i].Where = where + ", taken: " + problems[i].Where
			}
			return problems
		}
		if err != nil {
			return fmt.Errorf("option %s: %w", o.ID, err)
		}
	}
	return nil
}

func (c *calculation) option(o Option) error {
	request, err := c.req.Taking(o.ID)
	if err != nil {
		return err
	}
	request.Options = nil
	quotation, sheet, err := Calculate(c.book, request)
	if err != nil {
		return err
	}
	priced := PricedOption{ID: o.ID, Title: o.Title, Group: o.Group, Replaces: o.Replaces, IfTaken: quotation.Totals}
	for _, line := range quotation.Lines {
		if slices.ContainsFunc(o.Items, func(item Item) bool { return item.Ref == line.Ref }) {
			priced.Lines = append(priced.Lines, line)
		}
	}
	if priced.Change, err = quotation.Totals.less(c.quotation.Totals); err != nil {
		return err
	}
	c.quotation.Options = append(c.quotation.Options, priced)
	c.optionMargins = append(c.optionMargins, optionMargin{o.ID, o.Title, sheet.Whole})
	return nil
}

type optionMargin struct {
	id, title string
	whole     Margin
}

// optionCosts relates each option's margin to that of the quotation without it.
func (c *calculation) optionCosts(base Margin) ([]OptionCost, error) {
	var out []OptionCost
	for _, o := range c.optionMargins {
		net, err := o.whole.Net.Sub(base.Net)
		if err != nil {
			return nil, err
		}
		cost, err := o.whole.Cost.Sub(base.Cost)
		if err != nil {
			return nil, err
		}
		change, err := Relate(net, cost)
		if err != nil {
			return nil, err
		}
		out = append(out, OptionCost{ID: o.id, Title: o.title, IfTaken: o.whole, Change: change})
	}
	return out, nil
}

// less returns the differences t − u.
func (t Totals) less(u Totals) (Totals, error) {
	var d Totals
	for _, f := range []struct {
		to   *money.Amount
		a, b money.Amount
	}{
		{&d.Lines, t.Lines, u.Lines},
		{&d.Allowances, t.Allowances, u.Allowances},
		{&d.Charges, t.Charges, u.Charges},
		{&d.Net, t.Net, u.Net},
		{&d.Tax, t.Tax, u.Tax},
		{&d.Gross, t.Gross, u.Gross},
		{&d.Provisional, t.Provisional, u.Provisional},
	} {
		var err error
		if *f.to, err = f.a.Sub(f.b); err != nil {
			return Totals{}, err
		}
	}
	return d, nil
}
