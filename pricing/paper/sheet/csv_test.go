package sheet_test

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"tunwright/pricing/paper"
	"tunwright/pricing/paper/internal/sample"
	"tunwright/pricing/paper/sheet"
)

func write(t *testing.T, table paper.Table) string {
	t.Helper()
	var b bytes.Buffer
	if err := sheet.WriteCSV(&b, table); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func words(rows ...[]string) paper.Table {
	table := paper.Table{Name: "T"}
	for _, h := range rows[0] {
		table.Columns = append(table.Columns, paper.Column{Title: h})
	}
	for _, r := range rows[1:] {
		row := paper.Row{}
		for _, s := range r {
			row.Cells = append(row.Cells, paper.W(s))
		}
		table.Rows = append(table.Rows, row)
	}
	return table
}

func TestRFC4180(t *testing.T) {
	for _, tc := range []struct {
		source string
		table  paper.Table
		want   string
	}{
		{"RFC 4180, section 2 rules 1 and 3: lines end in CRLF, a header line may come first", words([]string{"aaa", "bbb"}, []string{"zzz", "yyy"}), "aaa,bbb\r\nzzz,yyy\r\n"},
		{"RFC 4180, section 2 rule 4: spaces are part of a field", words([]string{"a"}, []string{"b c "}), "a\r\nb c \r\n"},
		{"RFC 4180, section 2 rule 6: commas are enclosed in quotes", words([]string{"a"}, []string{"b,c"}), "a\r\n\"b,c\"\r\n"},
		{"RFC 4180, section 2 rule 6: line breaks are enclosed in quotes", words([]string{"a"}, []string{"b\nc"}), "a\r\n\"b\r\nc\"\r\n"},
		{"RFC 4180, section 2 rule 7: a quote in a field is doubled", words([]string{"a"}, []string{`b"bb`}), "a\r\n\"b\"\"bb\"\r\n"},
		{"RFC 4180, section 2 rule 4: each line has the same number of fields", words([]string{"a", "b"}, []string{"", ""}), "a,b\r\n,\r\n"},
	} {
		if got := write(t, tc.table); got != tc.want {
			t.Errorf("%s:\n%q, want %q", tc.source, got, tc.want)
		}
	}
}

func TestGuard(t *testing.T) {
	const source = "OWASP, CSV Injection"
	for in, want := range map[string]string{
		"=1+1": "'=1+1", "+1": "'+1", "-1": "'-1", "@SUM(A1)": "'@SUM(A1)", "\tx": "'\tx", "\rx": "'\rx", "＝1": "'＝1",
		"": "", "1-2": "1-2", "a=b": "a=b", " =1": " =1", "–": "–",
	} {
		if got := sheet.Guard(in); got != want {
			t.Errorf("%q: %q, want %q (%s)", in, got, want, source)
		}
	}
}

// A negative figure is data and stays a number; the same letters as text are guarded.
func TestFiguresAreNotGuarded(t *testing.T) {
	table := paper.Table{Name: "T", Columns: []paper.Column{{Title: "x", Unit: "K", Kind: paper.Number}, {Title: "y"}}, Rows: []paper.Row{{Cells: []paper.Cell{paper.N(-1234.5, 1), paper.W("-1234.5")}}}}
	if got, want := write(t, table), "x (K),y\r\n-1234.5,'-1234.5\r\n"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestGroupsBecomeAColumn(t *testing.T) {
	records, err := csv.NewReader(strings.NewReader(write(t, sample.LoadTable(12)))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]string{"Group", "No.", "Item", "Place", "Phase", "Power (kW)", "Design current (A)", "Note"}, records[0]); diff != "" {
		t.Errorf("head (-want +got):\n%s", diff)
	}
	for i, want := range []string{"Room 1: brewhouse", "Room 1: brewhouse"} {
		if records[i+1][0] != want {
			t.Errorf("line %d is in group %q, want %q", i+1, records[i+1][0], want)
		}
	}
	if last := records[len(records)-1]; last[0] != "" || last[2] != "All places" {
		t.Errorf("the total is in group %q: %v", last[0], last)
	}
	if n := len(records); n != 1+12+2+1 {
		t.Errorf("%d lines: a head, 12 loads, 2 subtotals and a total make 16", n)
	}
}

// What was written is read back letter by letter, by a reader that isn't ours.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		cell := rapid.StringMatching(`[a-z ",;=+\-@\n'€]{0,8}`)
		table := paper.Table{Name: "T", Columns: []paper.Column{{Title: "a"}, {Title: "b"}}}
		var want [][]string
		for range rapid.IntRange(1, 6).Draw(rt, "rows") {
			a, b := cell.Draw(rt, "a"), cell.Draw(rt, "b")
			table.Rows = append(table.Rows, paper.Row{Cells: []paper.Cell{paper.W(a), paper.W(b)}})
			want = append(want, []string{sheet.Guard(a), sheet.Guard(b)})
		}
		records, err := csv.NewReader(strings.NewReader(write(t, table))).ReadAll()
		if err != nil {
			rt.Fatal(err)
		}
		if diff := cmp.Diff(want, records[1:]); diff != "" {
			rt.Fatalf("(-want +got):\n%s", diff)
		}
	})
}

func TestCSVRefusesARaggedTable(t *testing.T) {
	var b bytes.Buffer
	table := words([]string{"a", "b"}, []string{"c"})
	if err := sheet.WriteCSV(&b, table); err == nil || b.Len() > 0 {
		t.Errorf("error %v, %d bytes written", err, b.Len())
	}
}
