package workbook_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"tunwright/pricing"
	"tunwright/pricing/money"
	"tunwright/pricing/pack/proof"
	"tunwright/pricing/pack/workbook"
	"tunwright/pricing/paper"
	"tunwright/testdata/projects"

	"github.com/shopspring/decimal"
	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"
)

func head(l paper.Locale) paper.Doc {
	return paper.Doc{
		Title: "Quotation", Number: "T-0001", Revision: "A", Date: time.Date(2026, time.November, 25, 0, 0, 0, 0, time.UTC),
		Firm: paper.Firm{Name: "An invented firm"}, Client: paper.Party{Name: "=1+1"}, Locale: l,
	}
}

func dec(t testing.TB, s string) decimal.Decimal {
	t.Helper()
	d, err := money.ParseDecimal(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func amount(t testing.TB, s string, c money.Currency) money.Amount {
	t.Helper()
	a, err := money.New(s, c)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func calculate(t testing.TB, prices string, req pricing.Request) pricing.Quotation {
	t.Helper()
	book, err := pricing.ReadBook("test.yaml", []byte(prices))
	if err != nil {
		t.Fatal(err)
	}
	if req.Date, err = pricing.ParseDate("2026-05-04"); err != nil {
		t.Fatal(err)
	}
	q, _, err := pricing.Calculate(book, req)
	if err != nil {
		t.Fatal(err)
	}
	if !q.Verified() {
		t.Fatal("the quotation itself does not check")
	}
	return q
}

func stages(t testing.TB, percents ...string) []pricing.StageTerm {
	var out []pricing.StageTerm
	for i, p := range percents {
		out = append(out, pricing.StageTerm{Name: fmt.Sprintf("stage %d", i+1), Event: "event", Days: 14, Percent: dec(t, p)})
	}
	return out
}

// inPounds is a brewery in pounds with a line discount, one on the whole, freight and
// three stages. It holds a product that is exactly half a penny: 37.5 × 64.35.
func inPounds(t testing.TB) pricing.Quotation {
	item := func(ref, code, quantity string, kind pricing.Kind) pricing.Item {
		return pricing.Item{Ref: ref, Code: code, Description: code, Section: "Plant", Kind: kind, Quantity: dec(t, quantity)}
	}
	fermenters := item("2", "FERMENTER", "4", pricing.Product)
	fermenters.Discounts = []pricing.Discount{{Percent: dec(t, "5"), Reason: "Four or more"}}
	crane := pricing.Item{Ref: "9", Description: "Crane and road closure", Section: "Site", Kind: pricing.Provisional, Provisional: &pricing.ProvisionalSum{
		What: "Crane", Amount: amount(t, "3250.00", money.GBP), Adjusted: "to invoices", Settled: "the buyer, by the lift plan",
	}}
	return calculate(t, `
book: pounds
currency: GBP
from: 2026-01-01
prices:
  BREWHOUSE: {list: "48750.00"}
  FERMENTER: {list: "9845.50"}
  BRIGHT: {list: "10975.25"}
  CHILLER: {list: "12480.00"}
  PANEL: {list: "7315.75"}
  PIPEWORK: {list: "64.35", unit: MTR}
  INSTALL-DAY: {list: "386.40", unit: DAY}
  SUBSISTENCE: {list: "94.35", unit: DAY}
`, pricing.Request{
		Currency: money.GBP, Tax: pricing.Tax{Category: pricing.TaxStandard, Percent: dec(t, "20")},
		Items: []pricing.Item{
			item("1", "BREWHOUSE", "1", pricing.Product), fermenters, item("3", "BRIGHT", "1", pricing.Product), item("4", "CHILLER", "1", pricing.Product),
			item("5", "PANEL", "1", pricing.Product), item("6", "PIPEWORK", "37.5", pricing.Product), item("7", "INSTALL-DAY", "33", pricing.Service),
			item("8", "SUBSISTENCE", "33", pricing.Expense), crane,
		},
		Discounts: []pricing.Discount{{Percent: dec(t, "2.5")}},
		Charges:   []pricing.Charge{{Reason: "Freight", Amount: amount(t, "2865.00", money.GBP)}},
		Stages:    stages(t, "40", "50", "10"),
	})
}

// inRates has three rates of tax, discounts in a row on a line and on the whole, by
// rate and by amount, and thirds among the stages.
func inRates(t testing.TB) pricing.Quotation {
	item := func(ref, quantity, rate string) pricing.Item {
		it := pricing.Item{Ref: ref, Code: ref, Description: ref, Kind: pricing.Product, Quantity: dec(t, quantity)}
		switch rate {
		case "":
			it.Tax = pricing.Untaxed(pricing.TaxExport, "goods that leave")
		default:
			it.Tax = pricing.Tax{Category: pricing.TaxStandard, Percent: dec(t, rate)}
		}
		return it
	}
	a := item("A", "3", "23")
	a.Discounts = []pricing.Discount{{Percent: dec(t, "7.5"), Reason: "First"}, {Percent: dec(t, "2.25"), Reason: "Second"}, {Amount: amount(t, "11.11", money.EUR), Reason: "Third"}}
	b := item("B", "7", "13.5")
	b.Discounts = []pricing.Discount{{Amount: amount(t, "0.07", money.EUR), Reason: "Pennies"}}
	return calculate(t, `
book: rates
currency: EUR
from: 2026-01-01
prices:
  A: {list: "8264.65"}
  B: {list: "118.455", unit: MTR}
  C: {list: "0.12345", per: "100"}
`, pricing.Request{
		Currency: money.EUR, Tax: pricing.Tax{Category: pricing.TaxStandard, Percent: dec(t, "23")},
		Items:     []pricing.Item{a, b, item("C", "333", "")},
		Discounts: []pricing.Discount{{Percent: dec(t, "1.5")}, {Amount: amount(t, "99.99", money.EUR), Reason: "Settled"}, {Percent: dec(t, "0.3333")}},
		Charges:   []pricing.Charge{{Reason: "Freight", Amount: amount(t, "1934.80", money.EUR)}, {Reason: "Packing", Amount: amount(t, "0.01", money.EUR), Tax: pricing.Tax{Category: pricing.TaxStandard, Percent: dec(t, "13.5")}}},
		Stages:    stages(t, "33.33", "33.33", "33.34"),
	})
}

// demo is the sample's quotation with a discount on the whole.
func demo(t testing.TB) pricing.Quotation {
	t.Helper()
	j := proof.Job(t, projects.Demo)
	j.Terms.Discount = dec(t, "3.75")
	return proof.Offer(t, proof.House(t), j).Quotation
}

func written(t testing.TB, l paper.Locale, q pricing.Quotation) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := workbook.Write(&b, head(l), q); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// blank takes the figures away from the cells that have formulas, so that whatever
// stands there afterwards was reckoned and not copied.
func blank(t testing.TB, file []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range f.GetSheetList() {
		rows, err := f.GetRows(name)
		if err != nil {
			t.Fatal(err)
		}
		for r := range rows {
			for c := range 14 {
				at, err := excelize.CoordinatesToCellName(c+1, r+1)
				if err != nil {
					t.Fatal(err)
				}
				formula, err := f.GetCellFormula(name, at)
				if err != nil {
					t.Fatal(err)
				}
				if formula == "" {
					continue
				}
				if err := f.SetCellValue(name, at, nil); err != nil {
					t.Fatal(err)
				}
				if err := f.SetCellFormula(name, at, formula); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	return f
}

// compare holds every figure of every table against the reckoned one. Sheets are
// asked for by name and cell.
func compare(t *testing.T, tables []paper.Table, reckoned func(sheet string, column, row int) (string, error)) {
	t.Helper()
	formulas := 0
	for _, table := range tables {
		for r, row := range table.Rows {
			if row.Kind == paper.Group {
				continue
			}
			for c, cell := range row.Cells {
				if cell.Formula == "" {
					continue
				}
				formulas++
				got, err := reckoned(table.Name, c, r)
				if err != nil {
					t.Errorf("%s row %d column %s: %v", table.Name, r+1, table.Columns[c].Key, err)
					continue
				}
				value, err := strconv.ParseFloat(got, 64)
				if err != nil {
					t.Errorf("%s row %d column %s is %q, want %s", table.Name, r+1, table.Columns[c].Key, got, cell.Figure)
					continue
				}
				// It must be the same number, not one that is near: both are the binary number
				// nearest to the decimal.
				if want, err := strconv.ParseFloat(cell.Figure, 64); err != nil || value != want {
					t.Errorf("%s row %d column %s is %v, want %s", table.Name, r+1, table.Columns[c].Key, value, cell.Figure)
				}
			}
		}
	}
	if formulas < 20 {
		t.Errorf("only %d cells have formulas", formulas)
	}
}

func byLibrary(f *excelize.File) func(string, int, int) (string, error) {
	return func(sheet string, column, row int) (string, error) {
		at, err := excelize.CoordinatesToCellName(column+1, row+6)
		if err != nil {
			return "", err
		}
		return f.CalcCellValue(sheet, at, excelize.Options{RawCellValue: true})
	}
}

func TestReckonedByTheLibrary(t *testing.T) {
	for name, q := range map[string]pricing.Quotation{"pounds": inPounds(t), "rates": inRates(t)} {
		t.Run(name, func(t *testing.T) {
			f := blank(t, written(t, paper.EnGB, q))
			defer f.Close()
			compare(t, workbook.Tables(q, paper.EnGB), byLibrary(f))
		})
	}
}

// The figures of the quotation in pounds, worked out by hand with exact decimals: the
// same as in the tests of package pricing.
func TestFiguresInPounds(t *testing.T) {
	q := inPounds(t)
	tables := workbook.Tables(q, paper.EnGB)
	want := map[string]string{"Sum of the lines": "138461.78", "Total without tax": "137946.49", "Tax together": "27589.30", "Total with tax": "165535.79"}
	for _, r := range tables[1].Rows {
		if w, ok := want[r.Cells[0].Text]; ok && r.Cells[4].Figure != w {
			t.Errorf("%s is %s, want %s", r.Cells[0].Text, r.Cells[4].Figure, w)
		}
		delete(want, r.Cells[0].Text)
	}
	if len(want) > 0 {
		t.Errorf("not in the totals: %v", want)
	}
}

// Reckoned by LibreOffice, which shares nothing with us or our library.
func TestReckonedByLibreOffice(t *testing.T) {
	if _, err := exec.LookPath("soffice"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("soffice is not installed")
		}
		t.Skip("soffice is not installed: the workbook is not recalculated by another program")
	}
	cases := []struct {
		name   string
		locale paper.Locale
		q      pricing.Quotation
	}{{"pounds", paper.EnGB, inPounds(t)}, {"rates", paper.DeDE, inRates(t)}, {"demo", paper.EnGB, demo(t)}}
	dir := t.TempDir()
	var files []string
	for _, c := range cases {
		file := written(t, c.locale, c.q)
		proof.Keep(t, c.name+".xlsx", file)
		f := blank(t, file)
		files = append(files, filepath.Join(dir, c.name+".xlsx"))
		err := f.SaveAs(files[len(files)-1])
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
	}
	recalculate(t, dir, files)
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			sheets := recalculated(t, dir, c.name)
			compare(t, workbook.Tables(c.q, c.locale), func(sheet string, column, row int) (string, error) {
				rows, ok := sheets[sheet]
				if !ok || row+5 >= len(rows) || column >= len(rows[row+5]) {
					return "", fmt.Errorf("LibreOffice wrote no such cell")
				}
				return rows[row+5][column], nil
			})
		})
	}
}

// recalculate has LibreOffice open the workbooks and write every sheet as CSV, the
// numbers as they are and not as shown.
func recalculate(t *testing.T, dir string, files []string) {
	t.Helper()
	args := []string{
		"-env:UserInstallation=file://" + filepath.ToSlash(filepath.Join(dir, "profile")), "--headless", "--norestore",
		"--convert-to", "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1", "--outdir", dir,
	}
	if out, err := exec.Command("soffice", append(args, files...)...).CombinedOutput(); err != nil {
		t.Fatalf("soffice: %v\n%s", err, out)
	}
}

// recalculated reads the sheets of one workbook back, by their names.
func recalculated(t *testing.T, dir, workbook string) map[string][][]string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, workbook+"-*.csv"))
	if err != nil || len(files) < 5 {
		t.Fatalf("LibreOffice wrote %d sheets, %v", len(files), err)
	}
	out := map[string][][]string{}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		r := csv.NewReader(bytes.NewReader(text))
		r.FieldsPerRecord = -1
		rows, err := r.ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		sheet := strings.TrimSuffix(strings.TrimPrefix(filepath.Base(name), workbook+"-"), ".csv")
		out[sheet] = rows
	}
	return out
}

// Any quotation, reckoned again, gives itself.
func TestAnyQuotationReckonsToItself(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(rt, "lines")
		prices := "book: any\ncurrency: GBP\nfrom: 2026-01-01\nprices:\n"
		req := pricing.Request{Currency: money.GBP, Tax: pricing.Tax{Category: pricing.TaxStandard, Percent: dec(t, "20")}, Stages: stages(t, "30", "20", "30", "15", "5")}
		for i := range n {
			ref := fmt.Sprintf("P%d", i)
			cents := rapid.IntRange(1, 999_999).Draw(rt, "price") // a line stays below one million
			prices += fmt.Sprintf("  %s: {list: \"%d.%02d\"}\n", ref, cents/100, cents%100)
			it := pricing.Item{Ref: ref, Code: ref, Description: ref, Kind: pricing.Product, Quantity: decimal.New(int64(rapid.IntRange(1, 999).Draw(rt, "quantity")), -1)}
			if rapid.Bool().Draw(rt, "reduced") {
				it.Tax = pricing.Tax{Category: pricing.TaxStandard, Percent: dec(t, "5")}
			}
			for range rapid.IntRange(0, 2).Draw(rt, "discounts") {
				it.Discounts = append(it.Discounts, pricing.Discount{Percent: decimal.New(int64(rapid.IntRange(1, 300).Draw(rt, "percent")), -1)})
			}
			req.Items = append(req.Items, it)
		}
		for range rapid.IntRange(0, 2).Draw(rt, "on the whole") {
			req.Discounts = append(req.Discounts, pricing.Discount{Percent: decimal.New(int64(rapid.IntRange(1, 100).Draw(rt, "percent")), -1)})
		}
		q := calculate(t, prices, req)
		f := blank(t, written(t, paper.EnGB, q))
		defer f.Close()
		compareQuietly(rt, workbook.Tables(q, paper.EnGB), byLibrary(f))
	})
}

func compareQuietly(t *rapid.T, tables []paper.Table, reckoned func(string, int, int) (string, error)) {
	for _, table := range tables[1:3] {
		for r, row := range table.Rows {
			for c, cell := range row.Cells {
				if cell.Formula == "" {
					continue
				}
				got, err := reckoned(table.Name, c, r)
				if err != nil {
					t.Fatal(err)
				}
				value, err := strconv.ParseFloat(got, 64)
				if want, _ := strconv.ParseFloat(cell.Figure, 64); err != nil || value != want {
					t.Fatalf("%s row %d column %s is %s, want %s", table.Name, r+1, table.Columns[c].Key, got, cell.Figure)
				}
			}
		}
	}
}

// A changed quantity changes the price: the sheet is alive.
func TestChangedQuantity(t *testing.T) {
	q := inPounds(t)
	f := blank(t, written(t, paper.EnGB, q))
	defer f.Close()
	if err := f.SetCellValue("Lines", "D7", 2); err != nil { // the brewhouse, twice
		t.Fatal(err)
	}
	// By hand: 138461.78 + 48750.00 = 187211.78; 2.5 % of 183961.78 is 4599.04; with
	// 2865.00 freight 185477.74 without tax, which is 47531.25 more; 20 % of it is 37095.55.
	for at, want := range map[string]string{"E6": "187211.78", "E9": "185477.74", "G9": "47531.25", "E12": "222573.29"} {
		got, err := f.CalcCellValue("Totals", at, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		if value, err := strconv.ParseFloat(got, 64); err != nil || value != must(want) {
			t.Errorf("%s is %s, want %s", at, got, want)
		}
	}
}

func must(s string) float64 {
	v, _ := strconv.ParseFloat(s, 64)
	return v
}

// What others typed stays text in every sheet, and no formula is made of it.
func TestTextStaysText(t *testing.T) {
	q := inRates(t)
	const evil = `=HYPERLINK("http://evil.example","click")`
	q.Lines[0].Description, q.Lines[0].Ref, q.Lines[0].Section = evil, "+1", "@SUM(A1)"
	q.Charges[0].Reason, q.Allowances[0].Reason, q.Stages[0].Name, q.Stages[0].Event = evil, "-1", "=2", evil
	f, err := excelize.OpenReader(bytes.NewReader(written(t, paper.EnGB, q)))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	found := 0
	for _, name := range f.GetSheetList() {
		rows, err := f.GetRows(name)
		if err != nil {
			t.Fatal(err)
		}
		for r, row := range rows {
			for c, text := range row {
				at, err := excelize.CoordinatesToCellName(c+1, r+1)
				if err != nil {
					t.Fatal(err)
				}
				formula, err := f.GetCellFormula(name, at)
				if err != nil {
					t.Fatal(err)
				}
				if strings.Contains(formula, "HYPERLINK") || strings.Contains(formula, "@SUM") {
					t.Errorf("%s %s is the formula %s", name, at, formula)
				}
				if text == evil {
					found++
				}
			}
		}
	}
	if found < 3 {
		t.Errorf("the text is found %d times; it should stand where it was typed", found)
	}
}

func TestSameQuotationSameBytes(t *testing.T) {
	if !bytes.Equal(written(t, paper.DeDE, inPounds(t)), written(t, paper.DeDE, inPounds(t))) {
		t.Error("the same quotation was written as different bytes")
	}
}

// A quotation without stages or discounts has fewer sheets and no dangling formulas.
func TestSmallest(t *testing.T) {
	q := calculate(t, "book: one\ncurrency: GBP\nfrom: 2026-01-01\nprices:\n  A: {list: \"1.00\"}\n", pricing.Request{
		Currency: money.GBP, Tax: pricing.Untaxed(pricing.TaxOutside, "none"),
		Items: []pricing.Item{{Ref: "A", Code: "A", Description: "A", Kind: pricing.Product, Quantity: dec(t, "1")}},
	})
	tables := workbook.Tables(q, paper.EnGB)
	if len(tables) != 2 {
		t.Errorf("%d sheets, two are enough", len(tables))
	}
	f := blank(t, written(t, paper.EnGB, q))
	defer f.Close()
	for _, r := range []int{6, 7, 9, 10} {
		got, err := f.CalcCellValue("Totals", "E"+strconv.Itoa(r))
		if err != nil || got == "" {
			t.Errorf("E%d: %q, %v", r, got, err)
		}
	}
}

func BenchmarkWrite(b *testing.B) {
	q := inPounds(b)
	b.ReportAllocs()
	for b.Loop() {
		var out bytes.Buffer
		if err := workbook.Write(&out, head(paper.EnGB), q); err != nil {
			b.Fatal(err)
		}
	}
}
