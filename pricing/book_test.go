package pricing

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"tunwright/pricing/money"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"
)

const bookWithEverything = `book: 2026-spring
currency: GBP
from: 2026-03-01
to: 2026-09-01
note: spring
prices:
  FV-20:
    list: "9845.50"
    cost: 6970.00
    lead_weeks: 14
    breaks:
      - {quantity: "4", list: "9600.00"}
      - {quantity: 10, list: "9400.00", cost: "6800.00"}
  PIPE:
    - {list: "64.35", cost: "39.46667", unit: MTR, to: 2026-06-01}
    - {list: "66.00", unit: MTR, from: 2026-06-01, note: "=new price"}
  SEAL: {list: "12.00", per: 100, obsolete: true, replaced_by: SEAL-2}
  SEAL-2: {list: "13.00", per: 100}
`

func TestReadBook(t *testing.T) {
	b := book(t, bookWithEverything)
	p, err := b.Find("PIPE", date(t, "2026-05-31"))
	if err != nil {
		t.Fatal(err)
	}
	same(t, "pipe in May", p.List, "64.35")
	p, err = b.Find("PIPE", date(t, "2026-06-01"))
	if err != nil {
		t.Fatal(err)
	}
	same(t, "pipe in June", p.List, "66.00")
	if _, err := b.Find("PIPE", date(t, "2026-02-01")); !errors.Is(err, ErrNoPrice) {
		t.Errorf("before the book: %v", err)
	}
	if _, err := b.Find("NOPE", date(t, "2026-05-31")); !errors.Is(err, ErrNoPrice) {
		t.Errorf("unknown code: %v", err)
	}
	if b.Holds(date(t, "2026-09-01")) || !b.Holds(date(t, "2026-08-31")) {
		t.Error("the end of a book is the first day it no longer holds")
	}
}

func TestReadBookNamesLineAndField(t *testing.T) {
	tests := []struct {
		name, text string
		line       int
		where      string
	}{
		{"unknown field", "book: b\ncurrency: GBP\nfrom: 2026-01-01\nprices:\n  A:\n    list: 1.00\n    weight: 3\n", 7, "prices.A.weight"},
		{"code twice", "book: b\ncurrency: GBP\nfrom: 2026-01-01\nprices:\n  A: {list: 1.00}\n  A: {list: 2.00}\n", 6, "prices.A"},
		{"comma", "book: b\ncurrency: GBP\nfrom: 2026-01-01\nprices:\n  A: {list: \"1,00\"}\n", 5, "prices.A.list"},
		{"exponent", "book: b\ncurrency: GBP\nfrom: 2026-01-01\nprices:\n  A: {list: 1e3}\n", 5, "prices.A.list"},
		{"negative", "book: b\ncurrency: GBP\nfrom: 2026-01-01\nprices:\n  A:\n    list: -1.00\n", 6, "prices.A.list"},
		{"no list price", "book: b\ncurrency: GBP\nfrom: 2026-01-01\nprices:\n  A:\n    cost: 1.00\n", 5, "prices.A.list"},
		{"date", "book: b\ncurrency: GBP\nfrom: 1.1.2026\nprices:\n  A: {list: 1.00}\n", 3, "from"},
		{"currency", "book: b\ncurrency: POUND\nfrom: 2026-01-01\nprices: {}\n", 1, "currency"},
		{"unit", "book: b\ncurrency: GBP\nfrom: 2026-01-01\nprices:\n  A:\n    list: 1.00\n    unit: FURLONG\n", 7, "prices.A.unit"},
		{"breaks fall", "book: b\ncurrency: GBP\nfrom: 2026-01-01\nprices:\n  A:\n    list: 1.00\n    breaks:\n      - {quantity: 5, list: 1}\n      - {quantity: 5, list: 1}\n", 9, "prices.A.breaks[1].quantity"},
		{"periods overlap", "book: b\ncurrency: GBP\nfrom: 2026-01-01\nprices:\n  A:\n    - {list: 1.00}\n    - {list: 2.00, from: 2026-02-01}\n", 5, "prices.A"},
		{"replaced by nothing", "book: b\ncurrency: GBP\nfrom: 2026-01-01\nprices:\n  A:\n    list: 1.00\n    replaced_by: B\n", 7, "prices.A.replaced_by"},
		{"an alias", "book: b\ncurrency: GBP\nfrom: 2026-01-01\nprices:\n  A: &a {list: 1.00}\n  B: *a\n", 6, "prices.B"},
		{"not a block", "book: b\ncurrency: GBP\nfrom: 2026-01-01\nprices: 3\n", 4, "prices"},
		{"empty", "", 0, ""},
		{"two documents", "book: b\ncurrency: GBP\nfrom: 2026-01-01\nprices: {}\n---\nbook: c\n", 5, ""},
		{"ends before it begins", "book: b\ncurrency: GBP\nfrom: 2026-01-01\nto: 2026-01-01\nprices: {}\n", 4, "to"},
	}
	for _, tt := range tests {
		_, err := ReadBook("b.yaml", []byte(tt.text))
		problems, ok := errors.AsType[Problems](err)
		if !ok {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		found := false
		for _, p := range problems {
			found = found || p.Line == tt.line && p.Where == tt.where && p.File == "b.yaml"
		}
		if !found {
			t.Errorf("%s: no problem at line %d, %s: %v", tt.name, tt.line, tt.where, err)
		}
	}
}

func TestShelf(t *testing.T) {
	make := func(id, from, to string) *Book {
		return book(t, fmt.Sprintf("book: %s\ncurrency: GBP\nfrom: %s\nto: %s\nprices:\n  A: {list: 1.00}\n", id, from, to))
	}
	shelf := Shelf{make("one", "2026-01-01", "2026-07-01"), make("two", "2026-07-01", "2027-01-01")}
	for day, want := range map[string]string{"2026-06-30": "one", "2026-07-01": "two"} {
		if b, err := shelf.On(money.GBP, date(t, day)); err != nil || b.ID != want {
			t.Errorf("on %s: %v", day, err)
		}
	}
	if _, err := shelf.On(money.EUR, date(t, "2026-06-30")); !errors.Is(err, ErrNoPrice) {
		t.Errorf("in euros: %v", err)
	}
	shelf = append(shelf, make("three", "2026-06-01", "2026-08-01"))
	if _, err := shelf.On(money.GBP, date(t, "2026-06-30")); err == nil {
		t.Error("two books hold on one day")
	}
}

// sameBook asserts that two books hold the same prices.
func sameBook(t *testing.T, got, want *Book) {
	t.Helper()
	if changes := Preview(want, got); len(changes) != 0 {
		t.Errorf("differs: %+v", changes)
	}
	opts := []cmp.Option{cmp.Comparer(equalDates), cmp.Comparer(func(a, b []Break) bool { return fmt.Sprint(a) == fmt.Sprint(b) })}
	if d := cmp.Diff(want.Prices(), got.Prices(), opts...); d != "" {
		t.Error(d)
	}
}

func TestBookAsSpreadsheetAndBack(t *testing.T) {
	b := book(t, bookWithEverything)
	text, err := b.CSV()
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(text, []byte("'=new price")) {
		t.Error("a note that begins like a formula is not guarded")
	}
	back, err := ImportCSV("b.csv", text, b.Header).Book()
	if err != nil {
		t.Fatal(err)
	}
	sameBook(t, back, b)
	one, err := b.XLSX()
	if err != nil {
		t.Fatal(err)
	}
	two, err := b.XLSX()
	if err != nil || !bytes.Equal(one, two) {
		t.Error("the workbook differs from run to run")
	}
	if back, err = ImportXLSX("b.xlsx", one, b.Header).Book(); err != nil {
		t.Fatal(err)
	}
	sameBook(t, back, b)
}

func TestImportNamesEveryBadRow(t *testing.T) {
	text := "\ufeffcode;list;cost;lead weeks;from\nA;1.00;;3;\n;2.00;;;\nB;1,50;;;\nC;2.00;-1.00;;\nA;1.00;;;\nD;5.00;;x;01.02.2026\n;;;;\nE;3.00;2.00;;2026-04-01\n"
	im := ImportCSV("prices.csv", []byte(text), Header{ID: "b", Currency: money.GBP, From: date(t, "2026-03-01")})
	var got []string
	for _, p := range im.Problems {
		got = append(got, fmt.Sprintf("%d", p.Line))
	}
	if want := "3 4 5 6 7 7"; strings.Join(got, " ") != want {
		t.Errorf("lines %v, want %s:\n%v", got, want, im.Problems)
	}
	if len(im.Prices) != 2 {
		t.Errorf("%d good rows, want 2", len(im.Prices))
	}
	if _, err := im.Book(); err == nil {
		t.Error("a book was made although rows are bad")
	}
	// What shows only when all rows are there is named by its row too.
	im = ImportCSV("prices.csv", []byte("code,list,from,replaced_by\nA,1.00,,\nB,1.00,,C\nA,2.00,2026-05-01,\n"), im.Header)
	_, err := im.Book()
	if err == nil || !strings.Contains(err.Error(), "prices.csv:3: prices.B.replaced_by") || !strings.Contains(err.Error(), "prices.csv:4: prices.A: two prices") {
		t.Errorf("got %v", err)
	}
}

func TestImportRefusesHeadings(t *testing.T) {
	h := Header{ID: "b", Currency: money.GBP, From: date(t, "2026-03-01")}
	for name, text := range map[string]string{
		"unknown column": "code,list,colour\nA,1.00,red\n", "no list": "code\nA\n", "twice": "code,list,list\nA,1,1\n", "empty": "", "quote": "code,list\n\"A,1\n",
	} {
		if im := ImportCSV("p.csv", []byte(text), h); len(im.Problems) == 0 {
			t.Errorf("%s was taken", name)
		}
	}
	if im := ImportXLSX("p.xlsx", []byte("no workbook"), h); len(im.Problems) != 1 {
		t.Errorf("no workbook: %v", im.Problems)
	}
}

func TestImportReadsWorkbookNumbers(t *testing.T) {
	for in, want := range map[string]string{"39.466670000000001": "39.46667", "1E+3": "1000", "9845.5": "9845.5", "1.234567852": "1.234567852", "abc": "abc", "": "", "1e999999": "1e999999"} {
		if got := plainCell(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
	f := excelize.NewFile()
	defer f.Close()
	for cell, v := range map[string]any{"A1": "code", "B1": "list", "A2": "A", "B2": 1234.5} {
		if err := f.SetCellValue("Sheet1", cell, v); err != nil {
			t.Fatal(err)
		}
	}
	var out bytes.Buffer
	if _, err := f.WriteTo(&out); err != nil {
		t.Fatal(err)
	}
	b, err := ImportXLSX("p.xlsx", out.Bytes(), Header{ID: "b", Currency: money.GBP, From: date(t, "2026-03-01")}).Book()
	if err != nil {
		t.Fatal(err)
	}
	same(t, "list", b.Prices()[0].List, "1234.50")
}

func TestPreview(t *testing.T) {
	old := book(t, bookWithEverything)
	text := strings.NewReplacer(`"9845.50"`, `"10045.50"`, "lead_weeks: 14", "lead_weeks: 16", "SEAL-2", "SEAL-3", `{list: "12.00"`, `{list: "14.41"`).Replace(bookWithEverything)
	changes := Preview(old, book(t, text))
	var got []string
	for _, c := range changes {
		got = append(got, fmt.Sprintf("%s.%s %s %v", c.Code, c.Field, c.Percent, c.Confirm))
	}
	want := "FV-20.list 2 false|FV-20.lead_weeks 0 false|SEAL.list 20.1 true|SEAL.replaced_by 0 false|SEAL-2. 0 false|SEAL-3. 0 false"
	if strings.Join(got, "|") != want {
		t.Errorf("%s", strings.Join(got, "|"))
	}
	if got := Summary(changes); got != "1 added, 1 gone, 4 changed, 1 to confirm" {
		t.Error(got)
	}
	if got := Summary(Preview(nil, old)); got != "4 added, 0 gone, 0 changed, 0 to confirm" {
		t.Error(got)
	}
}

// What rises for a client is told from the price that held until now, not from the
// first of the old book.
func TestPreviewComparesThePricesAroundTheFirstDay(t *testing.T) {
	const periods = `book: %s
currency: GBP
from: %s
prices:
  FV-20:
    - {list: "100.00", from: 2026-01-01, to: 2026-06-01}
    - {list: %q, from: 2026-06-01}
`
	old, now := book(t, fmt.Sprintf(periods, "old", "2026-01-01", "110.00")), book(t, fmt.Sprintf(periods, "new", "2026-09-01", "121.00"))
	changes := Preview(old, now)
	if len(changes) != 1 || changes[0].Was != "GBP 110.00" || changes[0].Now != "GBP 121.00" || changes[0].Percent.String() != "10" {
		t.Errorf("%+v", changes)
	}
}

func FuzzReadBook(f *testing.F) {
	f.Add([]byte(bookWithEverything))
	f.Add([]byte("book: b\ncurrency: GBP\nfrom: 2026-01-01\nprices:\n  A: [1]\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		b, err := ReadBook("f.yaml", text)
		if err != nil {
			return
		}
		for _, p := range b.Prices() {
			if p.List.Sign() < 0 || p.Per.Sign() <= 0 || p.List.Currency() != b.Currency {
				t.Fatalf("took %+v", p)
			}
		}
	})
}

func FuzzImportCSV(f *testing.F) {
	f.Add([]byte("code,list,breaks\nA,1.00,4=0.90; 10=0.80/0.70\n"))
	f.Add([]byte("code;list\n'=A;1\n"))
	h := Header{ID: "b", Currency: money.GBP, From: Date{2026, 1, 1}}
	f.Fuzz(func(t *testing.T, text []byte) {
		b, err := ImportCSV("f.csv", text, h).Book()
		if err != nil {
			return
		}
		again, err := b.CSV()
		if err != nil {
			t.Fatal(err)
		}
		back, err := ImportCSV("f.csv", again, h).Book()
		if err != nil {
			t.Fatalf("its own export is refused: %v\n%q", err, again)
		}
		if changes := Preview(b, back); len(changes) != 0 {
			t.Fatalf("changed on the way: %+v\n%q", changes, again)
		}
	})
}

func FuzzImportXLSX(f *testing.F) {
	h := Header{ID: "b", Currency: money.GBP, From: Date{2026, 1, 1}}
	b, err := ReadBook("f.yaml", []byte(bookWithEverything))
	if err != nil {
		f.Fatal(err)
	}
	text, err := b.XLSX()
	if err != nil {
		f.Fatal(err)
	}
	f.Add(text)
	f.Add([]byte("PK\x03\x04"))
	f.Fuzz(func(t *testing.T, data []byte) {
		im := ImportXLSX("f.xlsx", data, h)
		for _, p := range im.Prices {
			if p.List.Sign() < 0 || p.List.Currency() != h.Currency {
				t.Fatalf("took %+v", p)
			}
		}
	})
}
