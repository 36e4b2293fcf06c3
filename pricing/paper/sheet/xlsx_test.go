package sheet_test

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"tunwright/pricing/paper"
	"tunwright/pricing/paper/internal/sample"
	"tunwright/pricing/paper/sheet"
)

func workbook(t *testing.T, doc paper.Doc, tables ...paper.Table) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := sheet.WriteXLSX(&b, doc, tables...); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(t.ArtifactDir(), "sample.xlsx"), b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func open(t *testing.T, data []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// Every cell is read back from the file's own markup, without the library that wrote
// it, and compared with the tree it came from.
func TestEveryCellReadBack(t *testing.T) {
	doc := sample.Doc()
	data := workbook(t, doc)
	if got, want := strings.Join(open(t, data).GetSheetList(), ","), "Document,Loads,Price,Circuits"; got != want {
		t.Fatalf("sheets %s, want %s", got, want)
	}
	for n, table := range sheet.Tables(doc) {
		cells := readCells(t, data, fmt.Sprintf("xl/worksheets/sheet%d.xml", n+2))
		for i, c := range table.Columns {
			if got := cells[ref(t, i, 4)].Inline; got != c.Title {
				t.Errorf("%s: title %q, want %q", table.Name, got, c.Title)
			}
			if got := cells[ref(t, i, 5)].Inline; got != c.Unit {
				t.Errorf("%s: unit %q, want %q", table.Name, got, c.Unit)
			}
		}
		for i, r := range table.Rows {
			for k, c := range r.Cells {
				got := cells[ref(t, k, 6+i)]
				if c.Figure == "" {
					if got.Inline != c.Text || got.Value != "" {
						t.Errorf("%s!%s: %+v, want %q", table.Name, got.Ref, got, c.Text)
					}
					continue
				}
				number, err := strconv.ParseFloat(got.Value, 64)
				want, _ := strconv.ParseFloat(c.Figure, 64)
				if err != nil || number != want || (got.Formula != "") != (c.Formula != "") {
					t.Errorf("%s!%s: %+v, want %s", table.Name, got.Ref, got, c.Figure)
				}
			}
		}
	}
}

func ref(t *testing.T, column, row int) string {
	t.Helper()
	s, err := excelize.CoordinatesToCellName(column+1, row)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func readCells(t *testing.T, data []byte, name string) map[string]cellXML {
	t.Helper()
	var ws struct {
		Rows []struct {
			Cells []cellXML `xml:"c"`
		} `xml:"sheetData>row"`
	}
	if err := xml.Unmarshal(part(t, data, name), &ws); err != nil {
		t.Fatal(err)
	}
	cells := map[string]cellXML{}
	for _, r := range ws.Rows {
		for _, c := range r.Cells {
			cells[c.Ref] = c
		}
	}
	return cells
}

// The formulas, computed by the library's own engine, give the values that were
// computed exactly.
func TestFormulas(t *testing.T) {
	doc := sample.Doc()
	f := open(t, workbook(t, doc))
	checked := 0
	for _, table := range sheet.Tables(doc) {
		for i, r := range table.Rows {
			for k, c := range r.Cells {
				if c.Formula == "" {
					continue
				}
				at := ref(t, k, 6+i)
				got, err := f.CalcCellValue(table.Name, at, excelize.Options{RawCellValue: true})
				if err != nil {
					t.Fatalf("%s!%s: %v", table.Name, at, err)
				}
				gotNumber, _ := strconv.ParseFloat(got, 64)
				want, _ := strconv.ParseFloat(c.Figure, 64)
				if d := gotNumber - want; d > 0.0049 || d < -0.0049 {
					t.Errorf("%s!%s: computed %s, want %s", table.Name, at, got, c.Figure)
				}
				checked++
			}
		}
	}
	if checked < 10 {
		t.Errorf("only %d formulas were checked", checked)
	}
	for at, want := range map[string]string{"D6": "ROUND(B6*C6,2)", "D9": "SUM(D6:D8)", "D10": "ROUND(D9*20/100,2)", "D11": "D9+D10"} {
		if got, _ := f.GetCellFormula("Price", at); got != want {
			t.Errorf("Price!%s: formula %q, want %q", at, got, want)
		}
	}
	if got, _ := f.GetCellFormula("Loads", "E17"); got != "SUM(E7:E16)" {
		t.Errorf("first subtotal: %q", got)
	}
}

func TestFormulaErrors(t *testing.T) {
	for formula, says := range map[string]string{
		"{qtty}*2": `no column "qtty"; one of item, qty, price, net`, "{net@nett}": `no row named "nett"; one of net, vat`, "{net": "close it",
	} {
		table := sample.PriceTable()
		table.Rows[0].Cells[3].Formula = formula
		var b bytes.Buffer
		err := sheet.WriteXLSX(&b, sample.Doc(), table)
		if err == nil || !strings.Contains(err.Error(), says) || b.Len() > 0 {
			t.Errorf("%s: %v does not say %q", formula, err, says)
		}
	}
}

// part reads one part of the file with nothing but the standard library.
func part(t *testing.T, data []byte, name string) []byte {
	t.Helper()
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	f, err := r.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	b, err := io.ReadAll(f)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

type cellXML struct {
	Ref     string `xml:"r,attr"`
	Style   int    `xml:"s,attr"`
	Type    string `xml:"t,attr"`
	Formula string `xml:"f"`
	Value   string `xml:"v"`
	Inline  string `xml:"is>t"`
}

// The file itself: numbers are stored as numbers, hostile text is stored as text and
// marked so, a formula's cell holds a number until it is computed.
func TestStoredForms(t *testing.T) {
	table := paper.Table{
		Name: "T", Columns: []paper.Column{{Key: "a", Title: "=HYPERLINK()"}, {Key: "b", Title: "b", Kind: paper.Number}},
		Rows: []paper.Row{
			{Cells: []paper.Cell{paper.W("=cmd|'/c calc'!A1"), paper.Decimal("824.70")}},
			{Cells: []paper.Cell{paper.W("plain"), paper.N(2, 0).WithFormula("1+1")}},
		},
	}
	data := workbook(t, sample.Doc(), table)
	cells := readCells(t, data, "xl/worksheets/sheet2.xml")
	if c := cells["A6"]; c.Type != "inlineStr" || c.Inline != "=cmd|'/c calc'!A1" || c.Formula != "" {
		t.Errorf("hostile text is stored as %+v", c)
	}
	if c := cells["B6"]; c.Type != "" && c.Type != "n" || c.Value != "824.7" {
		t.Errorf("a number is stored as %+v", c)
	}
	if c := cells["B7"]; c.Formula != "1+1" || c.Value != "2" || c.Type != "" && c.Type != "n" {
		t.Errorf("a formula is stored as %+v", c)
	}
	var styles struct {
		Xfs []struct {
			Quote bool `xml:"quotePrefix,attr"`
		} `xml:"cellXfs>xf"`
	}
	if err := xml.Unmarshal(part(t, data, "xl/styles.xml"), &styles); err != nil {
		t.Fatal(err)
	}
	for _, ref := range []string{"A6", "A4"} {
		if !styles.Xfs[cells[ref].Style].Quote {
			t.Errorf("%s has no mark that keeps it text", ref)
		}
	}
	if styles.Xfs[cells["A7"].Style].Quote {
		t.Error("plain text is marked too")
	}
}

func TestWorkbookSameBytes(t *testing.T) {
	first := workbook(t, sample.Doc())
	for range 5 {
		if !bytes.Equal(first, workbook(t, sample.Doc())) {
			t.Fatal("two workbooks of one document differ")
		}
	}
}

func TestSheetNames(t *testing.T) {
	long := "Loads of the upper floor [brewhouse/cellar] and the rest"
	a, b, c, d := sample.LoadTable(1), sample.LoadTable(1), sample.LoadTable(1), sample.LoadTable(1)
	a.Name, b.Name, c.Name, d.Name = long, long, "document", "History"
	names := open(t, workbook(t, sample.Doc(), a, b, c, d)).GetSheetList()
	seen := map[string]bool{}
	for _, n := range names {
		if len([]rune(n)) > 31 || strings.ContainsAny(n, `[]:*?/\`) || seen[strings.ToLower(n)] || strings.EqualFold(n, "history") {
			t.Errorf("sheet name %q", n)
		}
		seen[strings.ToLower(n)] = true
	}
	if len(names) != 5 {
		t.Errorf("%d sheets", len(names))
	}
}

func TestFrozenHeadAndFormats(t *testing.T) {
	f := open(t, workbook(t, sample.Doc()))
	panes, err := f.GetPanes("Loads")
	if err != nil || !panes.Freeze || panes.YSplit != 5 {
		t.Errorf("panes %+v, %v", panes, err)
	}
	if got, _ := f.GetCellValue("Loads", "E5"); got != "kW" {
		t.Errorf("units row holds %q", got)
	}
	if got, _ := f.GetCellValue("Price", "D6"); got != "1,845.00" {
		t.Errorf("an amount shows as %q", got)
	}
	props, err := f.GetDocProps()
	if err != nil || props.Created != "2026-11-25T00:00:00Z" || props.Title != "Electrical load schedule" {
		t.Errorf("properties %+v, %v", props, err)
	}
}

func TestTooManyDigits(t *testing.T) {
	table := paper.Table{Name: "T", Columns: []paper.Column{{Title: "a", Kind: paper.Number}}, Rows: []paper.Row{{Cells: []paper.Cell{paper.Decimal("123456789012345.67")}}}}
	var b bytes.Buffer
	if err := sheet.WriteXLSX(&b, sample.Doc(), table); err == nil || !strings.Contains(err.Error(), "digits") {
		t.Errorf("a number that can't be stored exactly: %v", err)
	}
}

func BenchmarkWorkbook(b *testing.B) {
	doc := sample.Doc()
	b.ReportAllocs()
	for b.Loop() {
		if err := sheet.WriteXLSX(io.Discard, doc); err != nil {
			b.Fatal(err)
		}
	}
}

// A long note is joined over the table's columns and given the height it needs, the
// head is printed on every page, and words stand off the figures beside them.
func TestSheetsArePrintable(t *testing.T) {
	doc := sample.Doc()
	note := strings.Repeat("a note that is longer than the table is wide ", 12)
	table := paper.Table{
		Name: "loads", Title: "Loads", Notes: []string{note},
		Columns: []paper.Column{{Title: "Power", Unit: "kW", Kind: paper.Number}, {Title: "Remark"}},
		Rows:    []paper.Row{{Cells: []paper.Cell{paper.N(3, 1), paper.W(strings.Repeat("a remark of several lines ", 10))}}},
	}
	f := open(t, workbook(t, doc, table))
	merged, err := f.GetMergeCells("loads")
	if err != nil || len(merged) != 1 || merged[0].GetCellValue() != note {
		t.Errorf("the note stands in %v, %v", merged, err)
	}
	for row, least := range map[int]float64{6: 50, 8: 80} {
		if h, err := f.GetRowHeight("loads", row); err != nil || h < least {
			t.Errorf("row %d is %.0f pt high, %v; its text needs %.0f", row, h, err, least)
		}
	}
	names := f.GetDefinedName()
	if len(names) != 1 || names[0].RefersTo != "'loads'!$4:$5" {
		t.Errorf("repeated on every page: %v", names)
	}
	id, err := f.GetCellStyle("loads", "B6")
	if err != nil {
		t.Fatal(err)
	}
	if st, err := f.GetStyle(id); err != nil || st.Alignment == nil || st.Alignment.Indent != 1 {
		t.Errorf("the remark's style: %+v, %v", st, err)
	}
}
