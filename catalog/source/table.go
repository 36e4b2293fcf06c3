package source

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"tunwright/catalog/unit"
)

// Table is a published table. Its file starts with heading lines
//
//	# title: Current-carrying capacity, method B
//	# source: BS 7671:2018+A2, Table 4D1A
//	# provenance: looked up
//	# note: anything a reader must know
//
// then a row of column names and the rows.
type Table struct {
	Name       string
	Title      string
	Source     string
	Provenance Provenance
	Notes      []string
	Columns    []string
	cells      [][]string
	numbers    [][]float64 // NaN where a cell holds a text or nothing
	index      map[string]int
}

// ParseTable reads a table from its file. The heading must name title, source and
// provenance; every row must be as long as the row of names.
func ParseTable(name, text string) (Table, error) {
	t := Table{Name: name, index: map[string]int{}}
	body, err := t.heading(text)
	if err != nil {
		return Table{}, err
	}
	r := csv.NewReader(strings.NewReader(body))
	r.TrimLeadingSpace = true
	for {
		rec, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			return Table{}, fmt.Errorf("table %s: %w", name, err)
		}
		t.add(rec)
	}
	if len(t.cells) == 0 {
		return Table{}, fmt.Errorf("table %s has no rows", name)
	}
	return t, nil
}

// MustTable reads a table that is embedded in the program. An unreadable one is a
// broken build, which the package's own tests find, so it stops the program.
func MustTable(name, text string) Table {
	t, err := ParseTable(name, text)
	if err != nil {
		panic(err)
	}
	return t
}

func (t *Table) heading(text string) (string, error) {
	lines := strings.Split(strings.ReplaceAll(text, "\r\n", "\n"), "\n")
	at := 0
	for ; at < len(lines) && strings.HasPrefix(lines[at], "#"); at++ {
		key, val, _ := strings.Cut(strings.TrimSpace(strings.TrimPrefix(lines[at], "#")), ":")
		val = strings.TrimSpace(val)
		switch key {
		case "title":
			t.Title = val
		case "source":
			t.Source = val
		case "provenance":
			t.Provenance = Provenance(val)
		case "note":
			t.Notes = append(t.Notes, val)
		default:
			return "", fmt.Errorf("table %s: heading %q is not known: use title, source, provenance, note", t.Name, key)
		}
	}
	if t.Title == "" || t.Source == "" {
		return "", fmt.Errorf("table %s: the heading must name title and source", t.Name)
	}
	switch t.Provenance {
	case LookedUp, FromMemory, CommonPractice, Derived:
	default:
		return "", fmt.Errorf("table %s: provenance %q is not one of %q, %q, %q, %q", t.Name, t.Provenance, LookedUp, FromMemory, CommonPractice, Derived)
	}
	return strings.Join(lines[at:], "\n"), nil
}

func (t *Table) add(rec []string) {
	if t.Columns == nil {
		t.Columns = rec
		for i, c := range rec {
			t.index[c] = i
		}
		return
	}
	nums := make([]float64, len(rec))
	for i, c := range rec {
		x, err := strconv.ParseFloat(strings.TrimSpace(c), 64)
		if err != nil {
			x = math.NaN()
		}
		nums[i] = x
	}
	t.cells = append(t.cells, rec)
	t.numbers = append(t.numbers, nums)
}

// Ref cites the table.
func (t Table) Ref() Ref {
	return Ref{Doc: Doc{ID: t.Source}, Provenance: t.Provenance, Note: ""}
}

// Len is the number of rows.
func (t Table) Len() int { return len(t.cells) }

// Text gives one cell as it stands in the file.
func (t Table) Text(row int, column string) string {
	i, ok := t.index[column]
	if !ok || row < 0 || row >= len(t.cells) {
		return ""
	}
	return strings.TrimSpace(t.cells[row][i])
}

// Number gives one cell as a number, and whether it is one.
func (t Table) Number(row int, column string) (float64, bool) {
	i, ok := t.index[column]
	if !ok || row < 0 || row >= len(t.numbers) {
		return 0, false
	}
	x := t.numbers[row][i]
	return x, !math.IsNaN(x)
}

// at finds a column.
func (t Table) at(column string) (int, error) {
	i, ok := t.index[column]
	if !ok {
		return 0, fmt.Errorf("table %s has no column %q: it has %s", t.Name, column, strings.Join(t.Columns, ", "))
	}
	return i, nil
}

// Column gives the numbers of a column; a cell that holds none is NaN.
func (t Table) Column(column string) ([]float64, error) {
	i, err := t.at(column)
	if err != nil {
		return nil, err
	}
	out := make([]float64, len(t.numbers))
	for r, row := range t.numbers {
		out[r] = row[i]
	}
	return out, nil
}

// Find gives the first row whose column holds exactly the text.
func (t Table) Find(column, text string) (int, bool) {
	for r := range t.cells {
		if t.Text(r, column) == text {
			return r, true
		}
	}
	return 0, false
}

// AtLeast gives the first row, in file order, whose number in column is not below x:
// the next size up. Beyond the last row it returns a *unit.RangeError.
func (t Table) AtLeast(column string, x float64) (int, error) {
	i, err := t.at(column)
	if err != nil {
		return 0, err
	}
	for r, row := range t.numbers {
		if row[i] >= x {
			return r, nil
		}
	}
	return 0, t.outside(i, x)
}

// Between interpolates y linearly over an x column in any order. Outside the table it
// returns a *unit.RangeError; it never extrapolates.
func (t Table) Between(xColumn, yColumn string, x float64) (float64, error) {
	i, err := t.at(xColumn)
	if err != nil {
		return 0, err
	}
	j, err := t.at(yColumn)
	if err != nil {
		return 0, err
	}
	below, above := -1, -1
	for r, row := range t.numbers {
		if math.IsNaN(row[i]) || math.IsNaN(row[j]) {
			continue
		}
		if row[i] <= x && (below < 0 || row[i] > t.numbers[below][i]) {
			below = r
		}
		if row[i] >= x && (above < 0 || row[i] < t.numbers[above][i]) {
			above = r
		}
	}
	if below < 0 || above < 0 {
		return 0, t.outside(i, x)
	}
	a, b := t.numbers[below], t.numbers[above]
	if b[i] == x {
		return b[j], nil
	}
	return a[j] + (b[j]-a[j])*(x-a[i])/(b[i]-a[i]), nil
}

// outside says over which numbers a column runs.
func (t Table) outside(column int, x float64) error {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, row := range t.numbers {
		if v := row[column]; !math.IsNaN(v) {
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
	}
	return fmt.Errorf("table %s: %w", t.Name, &unit.RangeError{Name: t.Columns[column], Value: x, Min: lo, Max: hi})
}
