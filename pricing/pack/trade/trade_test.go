package trade_test

import (
	"strings"
	"testing"

	"tunwright/configurator"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
)

func sample() paper.Table {
	return paper.Table{
		Name:    "sample",
		Columns: []paper.Column{trade.Text("tag", "Tag"), trade.Quantity("mass", "Mass", "kg"), trade.Text("gap", "Nothing"), trade.Text("basis", "Basis")},
		Rows: []paper.Row{
			{Cells: []paper.Cell{paper.W("FV1"), paper.N(540, 0), {}, paper.W("maker")}},
			{Cells: []paper.Cell{paper.W("FV2"), paper.N(620, 0), {}, paper.W("maker")}},
		},
	}
}

func heads(t paper.Table) string {
	var out []string
	for _, c := range t.Columns {
		out = append(out, c.Name())
	}
	for _, r := range t.Rows {
		if len(r.Cells) != len(t.Columns) {
			out = append(out, "a row of another length")
		}
	}
	return strings.Join(out, " ")
}

func TestColumns(t *testing.T) {
	for _, c := range []struct{ name, got, want string }{
		{"empty columns go", heads(trade.Dense(sample())), "tag mass basis"},
		{"what is alike goes into a note", heads(trade.Same(sample(), "basis")), "tag mass gap"},
		{"what differs stays", heads(trade.Same(sample(), "tag")), "tag mass gap basis"},
		{"an unknown column changes nothing", heads(trade.Same(sample(), "colour")), "tag mass gap basis"},
		{"picked in the order asked", heads(trade.Pick(sample(), "p", "P", "mass", "tag", "colour")), "mass tag"},
	} {
		if c.got != c.want {
			t.Errorf("%s: %q, want %q", c.name, c.got, c.want)
		}
	}
	if notes := trade.Same(sample(), "basis").Notes; len(notes) != 1 || !strings.Contains(notes[0], "maker") {
		t.Errorf("the note says %q", notes)
	}
	if before := sample(); heads(before) != "tag mass gap basis" || len(before.Notes) != 0 {
		t.Error("the table given was changed")
	}
}

// Rows alike but for their first cell become one that names them all; groups stay apart.
func TestJoin(t *testing.T) {
	row := func(words ...string) paper.Row {
		r := paper.Row{}
		for _, w := range words {
			r.Cells = append(r.Cells, paper.W(w))
		}
		return r
	}
	group := paper.Row{Kind: paper.Group, Cells: []paper.Cell{paper.W("cellar")}}
	whole := paper.Table{Rows: []paper.Row{row("FV1", "20 hL"), row("FV2", "10 hL"), row("FV3", "20 hL"), group, row("FV4", "20 hL"), row("FV5", "20 hL")}}
	var got []string
	for _, r := range trade.Join(whole).Rows {
		got = append(got, r.Cells[0].Text)
	}
	if want := "FV1, FV3|FV2|cellar|FV4, FV5"; strings.Join(got, "|") != want {
		t.Errorf("joined as %q, want %q", strings.Join(got, "|"), want)
	}
	if whole.Rows[0].Cells[0].Text != "FV1" {
		t.Error("the table given was changed")
	}
}

// A column of words that says one thing in every row becomes a note, but for one that a
// reader fills in; a sum below the rows does not count, and short tables stay whole.
func TestPlain(t *testing.T) {
	table := paper.Table{Columns: []paper.Column{trade.Text("tag", "Tag"), trade.Quantity("mass", "Mass", "kg"), trade.Text("basis", "Basis"), trade.Text("seen", "Seen")}}
	for _, tag := range []string{"FV1", "FV2", "FV3", "FV4"} {
		table.Rows = append(table.Rows, paper.Row{Cells: []paper.Cell{paper.W(tag), paper.N(540, 0), paper.W("maker"), paper.W("…….")}})
	}
	table.Rows = append(table.Rows, paper.Row{Kind: paper.Total, Cells: []paper.Cell{paper.W("All"), paper.N(2160, 0), {}, {}}})
	if got := heads(trade.Plain(table)); got != "tag mass seen" {
		t.Errorf("left are %q", got)
	}
	if got := heads(trade.Plain(sample())); got != heads(sample()) {
		t.Errorf("of a short table are left %q", got)
	}
}

// A fitted table leaves each column at least its longest word, and takes the sheet.
func TestFit(t *testing.T) {
	fitted := trade.Fit(sample(), trade.Upright)
	sum := 0.0
	for i, c := range fitted.Columns {
		if c.Width <= 0 {
			t.Errorf("column %d has no width", i)
		}
		sum += float64(c.Width)
	}
	if sum > float64(trade.Upright) || sum < float64(trade.Upright)*0.9 {
		t.Errorf("columns take %.0f of %.0f points", sum, float64(trade.Upright))
	}
	if sample().Columns[0].Width != 0 {
		t.Error("the table given was changed")
	}
}

func TestBlocksLeaveOutWhatIsEmpty(t *testing.T) {
	got := trade.Blocks(paper.Table{}, sample(), paper.Sources{}, nil, paper.Note{})
	if len(got) != 2 {
		t.Errorf("%d blocks are left, want the table and the note", len(got))
	}
}

func TestGapSaysWhy(t *testing.T) {
	r := configurator.Report{Gaps: []configurator.Gap{{Discipline: configurator.Floor, Words: "no room"}, {Discipline: configurator.Air, Words: "no gas"}}}
	s := trade.Gap(r, configurator.Air, "Air")
	if len(s) != 1 || s[0].Title != "Air" || !strings.Contains(s[0].Blocks[0].(paper.Note).Text.String(), "no gas") {
		t.Errorf("the gap prints %+v", s)
	}
}
