package sheet

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"tunwright/pricing/paper"
)

// expand puts cell references in the place of the braces of a formula; what they
// mean is said at paper.Cell.WithFormula.
func expand(t paper.Table, row, column int, formula string) (string, error) {
	var b strings.Builder
	rest := formula
	for {
		before, after, ok := strings.Cut(rest, "{")
		b.WriteString(before)
		if !ok {
			return b.String(), nil
		}
		name, tail, ok := strings.Cut(after, "}")
		if !ok {
			return "", fmt.Errorf("formula %q: a brace is open; close it", formula)
		}
		ref, err := reference(t, row, name)
		if err != nil {
			return "", fmt.Errorf("formula %q: %w", formula, err)
		}
		b.WriteString(ref)
		rest = tail
	}
}

func reference(t paper.Table, row int, name string) (string, error) {
	if key, ok := strings.CutSuffix(name, ":items"); ok {
		column, err := columnOf(t, key)
		if err != nil {
			return "", err
		}
		return ranges(column, itemRows(t, row))
	}
	key, rowName, named := strings.Cut(name, "@")
	column, err := columnOf(t, key)
	if err != nil {
		return "", err
	}
	if named {
		if row, err = rowOf(t, rowName); err != nil {
			return "", err
		}
	}
	return excelize.CoordinatesToCellName(column+1, firstRow+row)
}

func columnOf(t paper.Table, key string) (int, error) {
	known := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		if c.Name() == key {
			return i, nil
		}
		known[i] = c.Name()
	}
	return 0, fmt.Errorf("no column %q; one of %s", key, strings.Join(known, ", "))
}

func rowOf(t paper.Table, name string) (int, error) {
	var known []string
	for i, r := range t.Rows {
		if r.Name == "" {
			continue
		}
		if r.Name == name {
			return i, nil
		}
		known = append(known, r.Name)
	}
	return 0, fmt.Errorf("no row named %q; one of %s", name, strings.Join(known, ", "))
}

// itemRows are the item rows above: of the whole table for a total, else of the
// group.
func itemRows(t paper.Table, row int) []int {
	var out []int
	for i, r := range t.Rows[:row] {
		switch {
		case r.Kind == paper.Item:
			out = append(out, i)
		case r.Kind == paper.Group && t.Rows[row].Kind != paper.Total:
			out = out[:0]
		}
	}
	return out
}

// ranges writes rows as ranges, a comma between them.
func ranges(column int, rows []int) (string, error) {
	if len(rows) == 0 {
		return "0", nil
	}
	var parts []string
	for i := 0; i < len(rows); {
		end := i
		for end+1 < len(rows) && rows[end+1] == rows[end]+1 {
			end++
		}
		from, err := excelize.CoordinatesToCellName(column+1, firstRow+rows[i])
		if err != nil {
			return "", err
		}
		to, err := excelize.CoordinatesToCellName(column+1, firstRow+rows[end])
		if err != nil {
			return "", err
		}
		parts = append(parts, from+":"+to)
		i = end + 1
	}
	return strings.Join(parts, ","), nil
}
