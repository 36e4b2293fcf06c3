package pricing

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
	"github.com/xuri/excelize/v2"
)

// sheetColumns are the columns of a price book as a spreadsheet. They are found by
// name, in any order. Breaks are written "4=9600.00; 10=9400.00/6600.00": from a
// quantity, the list price and, behind the slash, the cost.
var sheetColumns = []string{
	"code", "list", "cost", "unit", "per", "from", "to", "lead_weeks", "breaks", "obsolete", "replaced_by", "note",
}

const (
	maxSheetRows  = 20_000
	maxSheetCells = 4_000 // characters in one cell
)

// Import is a spreadsheet of prices that has been read but not taken over.
type Import struct {
	Header   Header
	Prices   []Price
	Problems Problems // every bad row and field, by its line in the file

	file  string
	lines map[string]int // a product code to the last line it stands on
}

// Book makes the price book, only if there is nothing wrong with any row.
func (im Import) Book() (*Book, error) {
	if err := im.Problems.err(); err != nil {
		return nil, err
	}
	book, err := NewBook(im.Header, im.Prices)
	problems, ok := errors.AsType[Problems](err)
	if !ok {
		return book, err
	}
	for i := range problems {
		code := strings.TrimPrefix(problems[i].Where, "prices.")
		for code != "" && im.lines[code] == 0 {
			code = parent(code)
		}
		problems[i].File, problems[i].Line = im.file, im.lines[code]
	}
	return nil, problems
}

// ImportCSV reads prices from CSV: UTF-8 with or without a byte order mark, fields
// apart by comma, semicolon or tab, the first row naming the columns. Numbers have a
// decimal point and dates are ISO 8601, because a spreadsheet of another country
// would otherwise turn 1.234 into 1234.
func ImportCSV(file string, data []byte, h Header) Import {
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	im := Import{Header: h}
	if len(data) > maxBookBytes {
		im.Problems = Problems{{File: file, Message: fmt.Sprintf("larger than %d MB", maxBookBytes>>20)}}
		return im
	}
	r := csv.NewReader(bytes.NewReader(data))
	r.Comma = delimiter(data)
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil {
		im.Problems = Problems{{File: file, Message: err.Error()}}
		return im
	}
	return importRows(file, rows, h)
}

// delimiter is the one of comma, semicolon and tab that is most frequent in the
// heading.
func delimiter(data []byte) rune {
	heading, _, _ := bytes.Cut(data, []byte("\n"))
	best := ','
	for _, r := range []rune{';', '\t'} {
		if bytes.Count(heading, []byte(string(r))) > bytes.Count(heading, []byte(string(best))) {
			best = r
		}
	}
	return best
}

// ImportXLSX reads prices from the first sheet of a workbook.
func ImportXLSX(file string, data []byte, h Header) Import {
	im := Import{Header: h}
	refuse := func(message string) Import {
		im.Problems = Problems{{File: file, Message: message}}
		return im
	}
	const most = 64 << 20 // unpacked
	workbook, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{UnzipSizeLimit: most, UnzipXMLSizeLimit: most})
	if err != nil {
		return refuse("not a workbook that can be read: " + err.Error())
	}
	defer workbook.Close()
	sheets := workbook.GetSheetList()
	if len(sheets) == 0 {
		return refuse("the workbook has no sheet")
	}
	rows, err := workbook.GetRows(sheets[0], excelize.Options{RawCellValue: true})
	if err != nil {
		return refuse(fmt.Sprintf("sheet %s: %v", sheets[0], err))
	}
	for _, row := range rows {
		for i := range row {
			row[i] = plainCell(row[i])
		}
	}
	return importRows(file, rows, h)
}

// plainCell writes a number of a workbook as a plain decimal. Workbooks store
// binary fractions, so that 39.46667 can read 39.466670000000001; what differs from
// a number of eight decimals by less than a thousand-millionth is that number.
func plainCell(s string) string {
	if _, err := money.ParseDecimal(s); err == nil || len(s) > 32 {
		return s
	}
	d, err := decimal.NewFromString(s)
	if err != nil || money.CheckDecimal(d) != nil {
		return s
	}
	const places = 8
	rounded := d.Round(places)
	if rounded.Sub(d).Abs().Cmp(decimal.New(1, -places-1)) > 0 {
		return s
	}
	return rounded.String()
}

func importRows(file string, rows [][]string, h Header) Import {
	r := rowReader{file: file, currency: h.Currency}
	im := Import{Header: h, file: file, lines: make(map[string]int)}
	if len(rows) == 0 || len(rows) > maxSheetRows {
		r.add(1, "", "%d rows; between 1 and %d with the heading", len(rows), maxSheetRows)
		im.Problems = r.problems
		return im
	}
	h.check(&r.problems)
	if !r.heading(rows[0]) {
		im.Problems = r.problems
		return im
	}
	seen := make(map[string]int)
	for i, row := range rows[1:] {
		line := i + 2
		if emptyRow(row) {
			continue
		}
		before := len(r.problems)
		p := r.price(line, row)
		p.fill(h)
		if len(r.problems) == before {
			p.check(h, &r.problems)
		}
		key := p.Code + " from " + p.From.String()
		if first, twice := seen[key]; twice {
			r.add(line, "code", "%s stands on line %d already", key, first)
		}
		seen[key], im.lines[p.Code] = line, line
		r.locate(before, line)
		if len(r.problems) == before {
			im.Prices = append(im.Prices, p)
		}
	}
	im.Problems = r.problems
	return im
}

func emptyRow(row []string) bool {
	for _, cell := range row {
		if strings.TrimSpace(cell) != "" {
			return false
		}
	}
	return true
}

type rowReader struct {
	file     string
	currency money.Currency
	columns  map[string]int
	problems Problems
}

func (r *rowReader) add(line int, where, format string, args ...any) {
	r.problems = append(r.problems, Problem{File: r.file, Line: line, Where: where, Message: fmt.Sprintf(format, args...)})
}

// locate gives file and line to the problems that came up since before.
func (r *rowReader) locate(before, line int) {
	for i := before; i < len(r.problems); i++ {
		r.problems[i].File, r.problems[i].Line = r.file, line
	}
}

func (r *rowReader) heading(row []string) bool {
	before := len(r.problems)
	r.columns = make(map[string]int, len(row))
	known := make(map[string]bool, len(sheetColumns))
	for _, name := range sheetColumns {
		known[name] = true
	}
	for i, cell := range row {
		name := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(cell)), " ", "_")
		_, twice := r.columns[name]
		switch {
		case name == "":
			continue
		case !known[name]:
			r.add(1, clipCell(name), "unknown column; the columns are %s", strings.Join(sheetColumns, ", "))
		case twice:
			r.add(1, name, "the column comes twice")
		}
		r.columns[name] = i
	}
	for _, name := range []string{"code", "list"} {
		if _, ok := r.columns[name]; !ok {
			r.add(1, name, "the column is missing; the first row names the columns")
		}
	}
	return len(r.problems) == before
}

func (r *rowReader) cell(line int, row []string, name string) string {
	at, ok := r.columns[name]
	if !ok || at >= len(row) {
		return ""
	}
	if len(row[at]) > maxSheetCells {
		r.add(line, name, "longer than %d characters", maxSheetCells)
		return ""
	}
	return strings.TrimSpace(unguard(row[at]))
}

func (r *rowReader) price(line int, row []string) Price {
	get := func(name string) string { return r.cell(line, row, name) }
	p := Price{Code: get("code"), Unit: get("unit"), ReplacedBy: get("replaced_by"), Note: get("note")}
	p.List = r.amount(line, "list", get("list"))
	p.Cost = r.amount(line, "cost", get("cost"))
	if s := get("per"); s != "" {
		d, err := money.ParseDecimal(s)
		if err != nil {
			r.add(line, "per", "%v", err)
		}
		p.Per = d
	}
	r.date(line, "from", get("from"), &p.From)
	r.date(line, "to", get("to"), &p.To)
	if s := get("lead_weeks"); s != "" {
		n, err := strconv.Atoi(s)
		if err != nil {
			r.add(line, "lead_weeks", "%q is not a whole number", clipCell(s))
		}
		p.LeadWeeks = n
	}
	switch s := strings.ToLower(get("obsolete")); s {
	case "", "no", "false", "0":
	case "yes", "true", "1":
		p.Obsolete = true
	default:
		r.add(line, "obsolete", "%q is neither yes nor no", clipCell(s))
	}
	p.Breaks = r.breaks(line, get("breaks"))
	return p
}

func (r *rowReader) amount(line int, column, s string) money.Amount {
	if s == "" {
		return money.Amount{}
	}
	a, err := money.New(s, r.currency)
	if err != nil {
		r.add(line, column, "%v", err)
	}
	return a
}

func (r *rowReader) date(line int, column, s string, to *Date) {
	if err := to.UnmarshalText([]byte(s)); err != nil {
		r.add(line, column, "%v", err)
	}
}

func (r *rowReader) breaks(line int, s string) []Break {
	if s == "" {
		return nil
	}
	var out []Break
	for part := range strings.SplitSeq(s, ";") {
		from, prices, ok := strings.Cut(strings.TrimSpace(part), "=")
		quantity, err := money.ParseDecimal(strings.TrimSpace(from))
		if !ok || err != nil {
			r.add(line, "breaks", "%q; write quantity=price, such as 4=9600.00; 10=9400.00", clipCell(part))
			continue
		}
		list, cost, _ := strings.Cut(prices, "/")
		out = append(out, Break{
			Quantity: quantity,
			List:     r.amount(line, "breaks", strings.TrimSpace(list)),
			Cost:     r.amount(line, "breaks", strings.TrimSpace(cost)),
		})
	}
	return out
}

func clipCell(s string) string {
	const limit = 40
	if len(s) <= limit {
		return s
	}
	return strings.ToValidUTF8(s[:limit], "") + "…"
}
