package paper_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"tunwright/pricing/money"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/internal/sample"
)

func date(y int, m time.Month, d int) time.Time { return time.Date(y, m, d, 12, 0, 0, 0, time.UTC) }

// Every month of every locale against the published patterns and names.
//
// Source: testdata/cldr-dates.csv, Unicode CLDR 48.2.
func TestDates(t *testing.T) {
	data, err := os.ReadFile("testdata/cldr-dates.csv")
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(bytes.NewReader(data))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 1+4*12 {
		t.Fatalf("%d rows; four locales of twelve months and a head make 49", len(rows))
	}
	for _, row := range rows[1:] {
		locale, err := money.ParseLocale(row[0])
		if err != nil {
			t.Fatal(err)
		}
		month, err := strconv.Atoi(row[1])
		if err != nil {
			t.Fatal(err)
		}
		day := date(2026, time.Month(month), 5)
		if got, want := paper.LongDate(day, locale), fill(row[4], day, row[2], row[3]); got != want {
			t.Errorf("%v long: %q, want %q", locale, got, want)
		}
		if got, want := paper.ShortDate(day, locale), fill(row[5], day, row[2], row[3]); got != want {
			t.Errorf("%v medium: %q, want %q", locale, got, want)
		}
	}
}

// fill puts a date into a pattern of CLDR (UTS #35, part 4, date field symbols).
func fill(pattern string, d time.Time, wide, abbreviated string) string {
	var b strings.Builder
	for i := 0; i < len(pattern); {
		n := 1
		for i+n < len(pattern) && pattern[i+n] == pattern[i] {
			n++
		}
		switch field := pattern[i : i+n]; field {
		case "d":
			fmt.Fprint(&b, d.Day())
		case "dd":
			fmt.Fprintf(&b, "%02d", d.Day())
		case "MM":
			fmt.Fprintf(&b, "%02d", int(d.Month()))
		case "MMM":
			b.WriteString(abbreviated)
		case "MMMM":
			b.WriteString(wide)
		case "y":
			fmt.Fprint(&b, d.Year())
		default:
			b.WriteString(field)
		}
		i += n
	}
	return b.String()
}

func TestPrint(t *testing.T) {
	eur, err := money.New("-1234567.50", "EUR")
	if err != nil {
		t.Fatal(err)
	}
	// Source of the forms: Unicode CLDR 48, numbers and currencyFormats of the locale.
	for _, tc := range []struct {
		cell   paper.Cell
		locale paper.Locale
		head   bool
		want   string
	}{
		{paper.N(1234.5, 2), paper.EnGB, false, "1,234.50"},
		{paper.N(1234.5, 2), paper.DeDE, false, "1.234,50"},
		{paper.N(-0.004, 2), paper.EnUS, false, "0.00"},
		{paper.N(-0.006, 2), paper.EnUS, false, "-0.01"},
		{paper.N(0, 0), paper.EnGB, false, "0"},
		{paper.I(-12345), paper.DeDE, false, "-12.345"},
		{paper.Decimal("0.30"), paper.DeDE, false, "0,30"},
		{paper.Amount(eur), paper.EnIE, false, "-€1,234,567.50"},
		{paper.Amount(eur), paper.DeDE, false, "-1.234.567,50\u00a0€"},
		{paper.Amount(eur), paper.DeDE, true, "-1.234.567,50"},
		{paper.W("3~"), paper.EnGB, true, "3~"},
		{paper.Cell{}, paper.EnGB, false, ""},
	} {
		if got := tc.cell.Print(tc.locale, tc.head); got != tc.want {
			t.Errorf("%+v in %v: %q, want %q", tc.cell, tc.locale, got, tc.want)
		}
	}
}

func TestMarked(t *testing.T) {
	for _, tc := range []struct {
		in   string
		want paper.Text
	}{
		{"plain", paper.Text{{Text: "plain"}}},
		{"a **b** c", paper.Text{{Text: "a "}, {Text: "b", Bold: true}, {Text: " c"}}},
		{"__i__", paper.Text{{Text: "i", Italic: true}}},
		{"2 * 3 and I_b", paper.Text{{Text: "2 * 3 and I_b"}}},
		{"**open", paper.Text{{Text: "open", Bold: true}}},
		{"", nil},
	} {
		if diff := cmp.Diff(tc.want, paper.Marked(tc.in)); diff != "" {
			t.Errorf("%q (-want +got):\n%s", tc.in, diff)
		}
	}
	if got := paper.Plain("**x**").String(); got != "**x**" {
		t.Errorf("plain text came out as %q", got)
	}
}

func TestSymbols(t *testing.T) {
	sub := func(s string) paper.Span { return paper.Span{Text: s, Sub: true} }
	for _, tc := range []struct {
		in   string
		want paper.Text
	}{
		{"I_b", paper.Text{{Text: "I"}, sub("b")}},
		{"m_CO2·g", paper.Text{{Text: "m"}, sub("CO2"), {Text: "·g"}}},
		{"t_{in,2} − t_amb", paper.Text{{Text: "t"}, sub("in,2"), {Text: " − t"}, sub("amb")}},
		{"x_ y", paper.Text{{Text: "x_ y"}}},
		{"ΔT_λ", paper.Text{{Text: "ΔT"}, sub("λ")}},
		{"x_{", paper.Text{{Text: "x_{"}}},
	} {
		if diff := cmp.Diff(tc.want, paper.Symbols(tc.in)); diff != "" {
			t.Errorf("%q (-want +got):\n%s", tc.in, diff)
		}
	}
}

// Text without a doubled sign comes through as it is, and only doubled signs go.
func TestMarkedKeepsLetters(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := rapid.SliceOfN(rapid.StringMatching(`[a-z ü]{1,8}([*_][a-z]+)?`), 1, 6).Draw(t, "parts")
		sign := rapid.SampledFrom([]string{"**", "__"}).Draw(t, "sign")
		if got, want := paper.Marked(strings.Join(parts, sign)).String(), strings.Join(parts, ""); got != want {
			t.Fatalf("%q, want %q", got, want)
		}
	})
}

func TestCheck(t *testing.T) {
	if err := sample.Doc().Check(); err != nil {
		t.Fatal(err)
	}
	table := func(rows ...paper.Row) paper.Block {
		return paper.Table{Name: "T", Columns: []paper.Column{{Title: "A"}, {Title: "B"}}, Rows: rows}
	}
	row := func(cells ...paper.Cell) paper.Row { return paper.Row{Cells: cells} }
	for _, tc := range []struct {
		name  string
		block paper.Block
		says  string
	}{
		{"ragged row", table(row(paper.W("a"))), `table "T" row 1: 1 cells under 2 columns`},
		{"group row", table(paper.Row{Kind: paper.Group, Cells: []paper.Cell{{}, {}}}), "a group row has one cell"},
		{"not a number", table(row(paper.W(""), paper.N(math.NaN(), 1))), `column "B": "NaN" is no number`},
		{"infinite", table(row(paper.N(math.Inf(1), 1), paper.Cell{})), `"+Inf" is no number`},
		{"no currency", table(row(paper.Cell{Kind: paper.CellMoney, Figure: "1.00", Currency: "XX"}, paper.Cell{})), "no currency"},
		{"no columns", paper.Table{Name: "E"}, "no columns"},
		{"heading level", paper.Heading{Level: 1, Text: "H"}, "2 or 3"},
		{"fact", paper.Facts{Facts: []paper.Fact{{Name: "F", Value: paper.N(math.NaN(), 0)}}}, `fact "F"`},
		{"inside a group", paper.Together{Blocks: []paper.Block{paper.Table{Name: "E"}}}, "no columns"},
		{"two currencies", paper.Table{Name: "M", Columns: []paper.Column{{Title: "Net", Unit: "GBP", Kind: paper.Money}}, Rows: []paper.Row{
			row(paper.Cell{Kind: paper.CellMoney, Figure: "1.00", Currency: "GBP"}), row(paper.Cell{Kind: paper.CellMoney, Figure: "1.00", Currency: "EUR"}),
		}}, `table "M" row 2 column "Net" is in EUR, the column in GBP`},
		{"currency that the sign hides", paper.Table{Name: "M", Columns: []paper.Column{{Title: "Net", Unit: "£", Kind: paper.Money}}, Rows: []paper.Row{
			row(paper.Cell{Kind: paper.CellMoney, Figure: "1.00", Currency: "GBP"}), row(paper.Cell{Kind: paper.CellMoney, Figure: "1.00", Currency: "EUR"}),
		}}, "is in EUR"},
		{"drawing without a size", paper.Figure{}, "needs a size"},
		{"nothing", nil, "empty"},
	} {
		d := sample.Doc()
		d.Sections = []paper.Section{{Title: "S", Blocks: []paper.Block{tc.block}}}
		err := d.Check()
		if err == nil || !strings.Contains(err.Error(), tc.says) {
			t.Errorf("%s: %v does not say %q", tc.name, err, tc.says)
		}
	}
	empty := paper.Doc{Sections: []paper.Section{{}}}
	err := empty.Check()
	for _, says := range []string{"no title", "no number", "no revision", "no date", "no firm's name", "section 1 has no title"} {
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("an empty document: %v does not say %q", err, says)
		}
	}
}

// Both languages have every word.
func TestLabelsAreComplete(t *testing.T) {
	for _, l := range []paper.Locale{paper.EnGB, paper.DeDE} {
		labels := paper.LabelsFor(l)
		words := []string{
			labels.Continued, labels.Caution, labels.Note, labels.Source, labels.Sources, labels.Contents, labels.Number,
			labels.Revision, labels.Date, labels.For, labels.PreparedBy, labels.Need, labels.Have, labels.Remedies, labels.Accepted,
			labels.Assumptions, labels.OpenPoints, labels.FactsStand, labels.Assumption, labels.Basis, labels.Confirm, labels.OpenPoint, labels.Who, labels.When,
			labels.NoneAssumed, labels.NoneOpen, labels.NoFindings, labels.With, labels.Signed, labels.Tables, labels.Empty, labels.Page(1, 2),
		}
		for g := paper.Stops; g <= paper.InOrder; g++ {
			words = append(words, labels.Gravity(g))
		}
		for i, w := range words {
			if strings.TrimSpace(w) == "" {
				t.Errorf("%v: word %d is missing", l, i)
			}
		}
	}
	if got := paper.LabelsFor(paper.EnGB).Page(1, 6); got != "Page 1 of 6" {
		t.Errorf("%q", got)
	}
	if got := paper.LabelsFor(paper.DeDE).Page(1, 6); got != "Seite 1 von 6" {
		t.Errorf("%q", got)
	}
}

// A document closes with what it takes as true and what is open, or says where it
// lists both.
func TestClosing(t *testing.T) {
	titles := func(d paper.Doc) string {
		var out []string
		for _, s := range d.Closing() {
			out = append(out, s.Title)
		}
		return strings.Join(out, ", ")
	}
	for _, c := range []struct {
		doc  paper.Doc
		want string
	}{
		{paper.Doc{Locale: paper.EnGB}, "Assumptions to confirm, Open points"},
		{paper.Doc{Locale: paper.EnGB, FactsStand: "above"}, "Assumptions and open points"},
		{paper.Doc{Locale: paper.DeDE, FactsStand: "oben"}, "Annahmen und offene Punkte"},
	} {
		if got := titles(c.doc); got != c.want {
			t.Errorf("closes with %q, want %q", got, c.want)
		}
	}
}
