package electrical

import (
	"slices"
	"strings"
	"testing"

	"tunwright/catalog/unit"
)

// cell finds a cell of a printed table.
func cell(t *testing.T, tab Table, ref, column string) string {
	t.Helper()
	i := slices.IndexFunc(tab.Columns, func(c Column) bool { return c.Name == column })
	for _, row := range tab.Rows {
		if row[0] == ref && i >= 0 {
			return row[i]
		}
	}
	t.Errorf("%s has no %s of %s", tab.Title, column, ref)
	return ""
}

// TestScheduleCells spot-checks the printed schedule of the golden example.
func TestScheduleCells(t *testing.T) {
	in := goldenInput()
	tab := Facts{in, mustSize(t, in)}.Schedule()
	for _, tt := range []struct{ ref, column, want string }{
		{"E1", "Ib", "34.6"},
		{"E1", "Device", "B40"},
		{"E1", "Live", "10 mm²"},
		{"E1", "Zs", "0.429"},
		{"E1", "Zs max", "1.093"},
		{"E1", "Lines", "L1L2L3"},
		{"M3", "Governed by", "Zs"},
		{"S2", "Governed by", "Vd"},
		{"S1", "RCD", "30 mA type A"},
		{"P1", "RCD", "100 mA type F (advised)"},
		{"S1", "Connection", "IEC 60309 16 A blue 2P+E 6 h, switched and interlocked, IP67"},
		{"M1", "Start", "100"},
		{"C1", "States", "all"},
		{"E4", "States", "S1 S2 S3 S7"},
		{"E4", "Duty", "continuous"},
		{"E1", "Breaking", "6"},
	} {
		if got := cell(t, tab, tt.ref, tt.column); got != tt.want {
			t.Errorf("%s, %s: %q, want %q", tt.ref, tt.column, got, tt.want)
		}
	}
}

// TestCurrentNeverRoundsDownPastDevice: 16.04 A does not print as 16.0 beside a 20 A
// device.
func TestCurrentNeverRoundsDownPastDevice(t *testing.T) {
	for _, tt := range []struct {
		amps float64
		want string
	}{{16.04, "16.1"}, {15.96, "16.0"}, {16.0, "16.0"}, {34.641, "34.6"}, {6.02, "6.0"}} {
		c := Circuit{Ib: unit.Amperes(tt.amps)}
		if got := c.designText(); got != tt.want {
			t.Errorf("%v A prints as %s, want %s", tt.amps, got, tt.want)
		}
	}
}

// TestPapersSayWhatIsUnknown: an Input of loads alone prints "unknown" for the supply,
// and the cautions stand.
func TestPapersSayWhatIsUnknown(t *testing.T) {
	in := Input{Rules: IEC, Loads: goldenLoads()}
	for i := range in.Loads {
		in.Loads[i].Runs = nil
	}
	f := Facts{in, mustSize(t, in)}
	unknown := 0
	for _, l := range f.Header() {
		if l.Value == "unknown" && l.Basis == "unknown" {
			unknown++
		}
	}
	if unknown != 7 {
		t.Errorf("%d unknown figures in the header, want 7: %v", unknown, f.Header())
	}
	if tab := f.CaseTable(); tab.Rows[0][4] != "unknown" {
		t.Errorf("verdict %q without a supply", tab.Rows[0][4])
	}
	if c := f.Cautions(); len(c) != 9 || !strings.Contains(c[0], "not a design") && !strings.Contains(c[0], "for design only") {
		t.Errorf("cautions %v", c)
	}
	var walk func(n Node) int
	walk = func(n Node) int {
		count := 0
		if n.Kind == "load" {
			count++
		}
		for _, b := range n.Below {
			count += walk(b)
		}
		return count
	}
	if got := walk(f.Tree()); got != len(in.Loads) {
		t.Errorf("the diagram ends in %d loads, want %d", got, len(in.Loads))
	}
	chart := f.Chart()
	if len(chart.Bars) != len(f.Result.States) || len(chart.Curve) != 48 || chart.Limit != nil {
		t.Errorf("chart of %d bars, %d half hours", len(chart.Bars), len(chart.Curve))
	}
}

// TestStopsAndBonding: heat and moving parts drop, controls stay; on a combined earth
// the main bond follows Table 54.8.
func TestStopsAndBonding(t *testing.T) {
	in := managed()
	in.Supply.Distance = ptr(unit.Metres(30))
	in.Loads[4].StaysOn = ptr(true)
	f := Facts{in, mustSize(t, in)}
	drops := map[string]bool{"E1": true, "M3": true, "P1": true, "M1": false, "C1": false, "S1": false}
	for _, s := range f.Stops() {
		if want, ok := drops[s.Tag]; ok && s.Drops != want {
			t.Errorf("%s drops %v", s.Tag, s.Drops)
		}
	}
	if got := f.BondTable().Rows[0][2]; got != "10 mm²" {
		t.Errorf("main bond %s, want 10 mm² for a neutral of 25", got)
	}
}

// TestFooterNamesInterlocks with their supplier, and tells an instruction apart.
func TestFooterNamesInterlocks(t *testing.T) {
	in := healthy()
	in.Loads[0].Group, in.Loads[1].Group, in.Loads[3].Group, in.Loads[4].Group = "heat", "heat", "pumps", "pumps"
	in.Interlocks = []Interlock{{Group: "heat", Supplier: "the panel builder"}, {Group: "pumps", Manual: true}}
	in.Limit = ptr(unit.Amperes(40))
	text := ""
	for _, l := range (Facts{in, mustSize(t, in)}).Footer() {
		text += l.Label + ": " + l.Value + " (" + l.Basis + ")\n"
	}
	for _, want := range []string{"Interlock heat: K1, H1 never together (wired, by the panel builder)", "Interlock pumps: P1, P2 never together (instruction only: not counted)", "sheds elements above 40 A"} {
		if !strings.Contains(text, want) {
			t.Errorf("the footer lacks %q:\n%s", want, text)
		}
	}
}

// TestFooterFigures of the managed golden day.
func TestFooterFigures(t *testing.T) {
	in := managed()
	text := ""
	for _, l := range (Facts{in, mustSize(t, in)}).Footer() {
		text += l.Label + ": " + l.Value + "\n"
	}
	for _, want := range []string{"Connected load: 131.3 kW", "77.8 A on L1 in kettle heat-up", "Margin there: 0.2 A", "Energy of a brew: 431 kWh", "28.8 kWh/hL", "balancing the totals instead gives 82.2 A"} {
		if !strings.Contains(text, want) {
			t.Errorf("the footer lacks %q:\n%s", want, text)
		}
	}
}
