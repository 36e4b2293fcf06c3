package paper

import (
	"errors"
	"fmt"

	"tunwright/pricing/money"
)

// Check tells whether the document can be drawn: it has what every page prints, its
// tables are rectangular, and its figures are numbers. The error names the place.
func (d Doc) Check() error {
	var errs []error
	for _, f := range []struct{ name, value string }{
		{"title", d.Title}, {"number", d.Number}, {"revision", d.Revision}, {"firm's name", d.Firm.Name},
	} {
		if f.value == "" {
			errs = append(errs, fmt.Errorf("document %q: no %s: every page prints it", d.Title, f.name))
		}
	}
	if d.Date.IsZero() {
		errs = append(errs, fmt.Errorf("document %q: no date: every page prints it", d.Title))
	}
	for i, s := range d.Sections {
		if s.Title == "" {
			errs = append(errs, fmt.Errorf("document %q: section %d has no title", d.Title, i+1))
		}
		for _, err := range checkBlocks(s.Blocks) {
			errs = append(errs, fmt.Errorf("section %q: %w", s.Title, err))
		}
	}
	return errors.Join(errs...)
}

func checkBlocks(blocks []Block) []error {
	var errs []error
	for i, b := range blocks {
		switch b := b.(type) {
		case nil:
			errs = append(errs, fmt.Errorf("block %d is empty", i+1))
		case Heading:
			if b.Level != 2 && b.Level != 3 {
				errs = append(errs, fmt.Errorf("heading %q has level %d; 2 or 3 is right", b.Text, b.Level))
			}
		case Table:
			if err := b.Check(); err != nil {
				errs = append(errs, err)
			}
		case Facts:
			errs = append(errs, checkFacts(b)...)
		case Figure:
			if err := b.Drawing.Check(); err != nil {
				errs = append(errs, err)
			}
		case Together:
			errs = append(errs, checkBlocks(b.Blocks)...)
		}
	}
	return errs
}

func checkFacts(f Facts) []error {
	var errs []error
	for _, fact := range f.Facts {
		if err := checkCell(fact.Value); err != nil {
			errs = append(errs, fmt.Errorf("fact %q: %w", fact.Name, err))
		}
	}
	return errs
}

// Check tells whether the table can be drawn.
func (t Table) Check() error {
	if len(t.Columns) == 0 {
		return fmt.Errorf("table %q has no columns", t.Label())
	}
	var errs []error
	for i, r := range t.Rows {
		if err := t.checkRow(r); err != nil {
			errs = append(errs, fmt.Errorf("table %q row %d: %w", t.Label(), i+1, err))
		}
	}
	for i := range t.Columns {
		if err := t.checkCurrency(i); err != nil {
			errs = append(errs, fmt.Errorf("table %q %w", t.Label(), err))
		}
	}
	return errors.Join(errs...)
}

// checkCurrency holds a column to one currency, the one its head names.
func (t Table) checkCurrency(column int) error {
	want := ""
	if c := money.Currency(t.Columns[column].Unit); c.Valid() {
		want = string(c)
	}
	for i, r := range t.Rows {
		if r.Kind == Group || column >= len(r.Cells) || r.Cells[column].Currency == "" {
			continue
		}
		got := r.Cells[column].Currency
		if want == "" {
			want = got
		}
		if got != want && t.Columns[column].Unit != "" {
			return fmt.Errorf("row %d column %q is in %s, the column in %s", i+1, t.Columns[column].Name(), got, want)
		}
	}
	return nil
}

func (t Table) checkRow(r Row) error {
	if r.Kind == Group {
		if len(r.Cells) != 1 {
			return fmt.Errorf("a group row has one cell, not %d", len(r.Cells))
		}
		return checkCell(r.Cells[0])
	}
	if len(r.Cells) != len(t.Columns) {
		return fmt.Errorf("%d cells under %d columns", len(r.Cells), len(t.Columns))
	}
	for i, c := range r.Cells {
		if err := checkCell(c); err != nil {
			return fmt.Errorf("column %q: %w", t.Columns[i].Name(), err)
		}
	}
	return nil
}

func checkCell(c Cell) error {
	if c.Kind == CellWords || c.Figure == "" {
		return nil
	}
	if _, err := money.ParseDecimal(c.Figure); err != nil {
		return fmt.Errorf("%q is no number: %w", c.Figure, err)
	}
	if c.Kind == CellMoney && c.Currency != "" && !money.Currency(c.Currency).Valid() {
		return fmt.Errorf("%q is no currency", c.Currency)
	}
	return nil
}
