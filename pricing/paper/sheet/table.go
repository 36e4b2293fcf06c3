package sheet

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"tunwright/pricing/paper"
)

// Rows of a table's sheet: the title, what it belongs to, a blank line, the column
// titles, their units, then the rows.
const (
	headRow  = 4
	unitRow  = 5
	firstRow = 6
)

func (b *book) table(sheet string, t paper.Table) error {
	sw, err := b.stream(sheet, len(t.Columns) > 5)
	if err != nil {
		return err
	}
	widths := make([]float64, len(t.Columns))
	for i := range t.Columns {
		widths[i] = columnWidth(t, i, b.doc.Locale)
		if err := sw.SetColWidth(i+1, i+1, widths[i]); err != nil {
			return err
		}
	}
	if err := sw.SetPanes(&excelize.Panes{
		Freeze: true, YSplit: unitRow, TopLeftCell: "A" + strconv.Itoa(firstRow), ActivePane: "bottomLeft",
	}); err != nil {
		return err
	}
	out := &rows{book: b, sw: sw}
	title := t.Title
	if title == "" {
		title = t.Name
	}
	out.add(styleKey{title: true}, title)
	out.add(styleKey{}, b.doc.Number+" · "+b.labels.Revision+" "+b.doc.Revision+" · "+paper.ShortDate(b.doc.Date, b.doc.Locale))
	out.add(styleKey{})
	if out.err != nil {
		return out.err
	}
	if err := b.heads(sw, t); err != nil {
		return err
	}
	if err := b.repeatHead(sheet); err != nil {
		return err
	}
	for i, r := range t.Rows {
		if err := b.row(sw, t, i, r, widths); err != nil {
			return fmt.Errorf("row %d: %w", i+1, err)
		}
	}
	out.n = firstRow + len(t.Rows)
	for _, n := range t.Notes {
		out.across(n, widths)
	}
	for _, s := range t.Sources {
		out.across(b.labels.Source+": "+s, widths)
	}
	if out.err != nil {
		return out.err
	}
	return sw.Flush()
}

// repeatHead has the column titles and units printed on every page of the sheet
// (ECMA-376-1, 18.2.5, the name _xlnm.Print_Titles).
func (b *book) repeatHead(sheet string) error {
	return b.file.SetDefinedName(&excelize.DefinedName{
		Name: "_xlnm.Print_Titles", Scope: sheet,
		RefersTo: fmt.Sprintf("'%s'!$%d:$%d", strings.ReplaceAll(sheet, "'", "''"), headRow, unitRow),
	})
}

func (b *book) heads(sw *excelize.StreamWriter, t paper.Table) error {
	titles, units := make([]any, len(t.Columns)), make([]any, len(t.Columns))
	for i, c := range t.Columns {
		inset := i > 0 && c.SetAlign() == paper.Left
		title, err := b.words(c.Title, styleKey{bold: true, wrap: true, align: c.SetAlign(), over: true, inset: inset})
		if err != nil {
			return err
		}
		unit, err := b.words(c.Unit, styleKey{align: c.SetAlign(), under: true, inset: inset})
		if err != nil {
			return err
		}
		titles[i], units[i] = title, unit
	}
	if err := sw.SetRow("A"+strconv.Itoa(headRow), titles); err != nil {
		return err
	}
	return sw.SetRow("A"+strconv.Itoa(unitRow), units)
}

func (b *book) row(sw *excelize.StreamWriter, t paper.Table, i int, r paper.Row, widths []float64) error {
	at := "A" + strconv.Itoa(firstRow+i)
	values := make([]any, len(t.Columns))
	if r.Kind == paper.Group {
		for k := range values {
			text := ""
			if k == 0 {
				text = r.Cells[0].Print(b.doc.Locale, false)
			}
			cell, err := b.words(text, styleKey{bold: true, tint: true})
			if err != nil {
				return err
			}
			values[k] = cell
		}
		return sw.SetRow(at, values)
	}
	deep := 1
	for k, c := range r.Cells {
		cell, err := b.cell(t, i, k, c)
		if err != nil {
			return fmt.Errorf("column %q: %w", t.Columns[k].Name(), err)
		}
		values[k] = cell
		deep = max(deep, wrapped(c.Text, widths[k]))
	}
	return sw.SetRow(at, values, tall(deep)...)
}

// wrapped is how many lines a text takes in a column of so many characters. Words are
// not cut, so that a line of several holds less than its width.
func wrapped(text string, width float64) int {
	const filled, edge = 0.9, 1
	n := 0
	for line := range strings.SplitSeq(text, "\n") {
		if long := float64(utf8.RuneCountInString(line)); long > width-edge {
			n += int(math.Ceil(long / (width * filled)))
			continue
		}
		n++
	}
	return n
}

// tall is a row of so many lines; a single line keeps the height of the program.
func tall(lines int) []excelize.RowOpts {
	const leading = 13.5 // of ten-point type, in points
	if lines <= 1 {
		return nil
	}
	return []excelize.RowOpts{{Height: min(leading*float64(lines), excelize.MaxRowHeight)}}
}

func (b *book) cell(t paper.Table, row, column int, c paper.Cell) (excelize.Cell, error) {
	kind := t.Rows[row].Kind
	key := styleKey{
		align: t.Columns[column].SetAlign(), bold: c.Strong || kind != paper.Item,
		over: kind == paper.Subtotal || kind == paper.Total, tint: kind == paper.Total,
	}
	if c.Figure == "" {
		key.wrap = true
		key.inset = column > 0 && key.align == paper.Left
		return b.words(c.Text, key)
	}
	value, err := number(c.Figure)
	if err != nil {
		return excelize.Cell{}, err
	}
	key.format = numberFormat(c, t.Columns[column].Unit != "")
	style, err := b.style(key)
	if err != nil {
		return excelize.Cell{}, err
	}
	formula := ""
	if c.Formula != "" {
		if formula, err = expand(t, row, column, c.Formula); err != nil {
			return excelize.Cell{}, err
		}
	}
	return excelize.Cell{StyleID: style, Value: value, Formula: formula}, nil
}

// number is a figure as a spreadsheet holds it, in binary with fifteen digits that
// are sure.
func number(figure string) (float64, error) {
	const sure = 15
	digits := strings.TrimLeft(strings.NewReplacer("-", "", ".", "").Replace(figure), "0")
	if len(digits) > sure {
		return 0, fmt.Errorf("%s has %d digits; a spreadsheet holds %d exactly", figure, len(digits), sure)
	}
	return strconv.ParseFloat(figure, 64)
}

// numberFormat prints a figure with the decimals it has and separators by the
// reader's own settings.
func numberFormat(c paper.Cell, unitInHead bool) string {
	format := "#,##0"
	if _, fraction, ok := strings.Cut(c.Figure, "."); ok {
		format += "." + strings.Repeat("0", len(fraction))
	}
	if c.Kind == paper.CellMoney && !unitInHead && c.Currency != "" {
		format = "[$" + c.Currency + "]\\ " + format
	}
	return format
}

// columnWidth is wide enough for what stands in the column, in characters.
func columnWidth(t paper.Table, column int, l paper.Locale) float64 {
	const least, most, room = 8, 60, 2
	widest := max(utf8.RuneCountInString(t.Columns[column].Title), utf8.RuneCountInString(t.Columns[column].Unit))
	for _, r := range t.Rows {
		if r.Kind == paper.Group {
			continue
		}
		for line := range strings.SplitSeq(r.Cells[column].Print(l, false), "\n") {
			widest = max(widest, utf8.RuneCountInString(line))
		}
	}
	return float64(min(max(widest+room, least), most))
}
