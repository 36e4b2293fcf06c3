package source_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

const sample = `# title: Steps
# source: own arithmetic
# provenance: derived
x,y,word
1,10,a
2,20,b
4,80,c
`

func TestTableLookups(t *testing.T) {
	tab, err := source.ParseTable("steps", sample)
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ x, want float64 }{{1, 10}, {1.5, 15}, {3, 50}, {4, 80}} {
		got, err := tab.Between("x", "y", tt.x)
		if err != nil || math.Abs(got-tt.want) > 1e-12 {
			t.Errorf("Between %g: got %g, %v; want %g", tt.x, got, err, tt.want)
		}
	}
	if row, err := tab.AtLeast("x", 2.5); err != nil || tab.Text(row, "word") != "c" {
		t.Errorf("AtLeast 2.5: got row %d, %v; want the row of c", row, err)
	}
}

func TestTableNeverExtrapolates(t *testing.T) {
	tab := source.MustTable("steps", sample)
	for _, x := range []float64{0.999, 4.001, math.NaN(), math.Inf(1)} {
		var re *unit.RangeError
		if _, err := tab.Between("x", "y", x); !errors.As(err, &re) {
			t.Errorf("Between %g: got %v, want a *unit.RangeError", x, err)
		}
	}
	if _, err := tab.AtLeast("x", 5); err == nil {
		t.Error("AtLeast beyond the last row must be an error")
	}
	if _, err := tab.Between("z", "y", 1); err == nil || !strings.Contains(err.Error(), "it has x, y, word") {
		t.Errorf("unknown column: got %v", err)
	}
}

func TestTableHeadingIsDemanded(t *testing.T) {
	for _, text := range []string{
		"x,y\n1,2\n",
		"# title: a\n# source: b\nx,y\n1,2\n",
		"# title: a\n# source: b\n# provenance: somewhere\nx,y\n1,2\n",
		"# title: a\n# source: b\n# provenance: derived\nx,y\n",
		"# title: a\n# source: b\n# provenance: derived\nx,y\n1\n",
		"# author: a\nx,y\n1,2\n",
	} {
		if _, err := source.ParseTable("bad", text); err == nil {
			t.Errorf("accepted %q", text)
		}
	}
}

func TestCitationsSayHowSureTheyAre(t *testing.T) {
	doc := source.Doc{ID: "EN 1991-1-1", Edition: "2002"}
	for _, tt := range []struct {
		ref  source.Ref
		want string
	}{
		{doc.At("Table 6.2"), "EN 1991-1-1 (2002), Table 6.2"},
		{doc.Recalled("6.3.2.3"), "EN 1991-1-1 (2002), 6.3.2.3 [from memory]"},
		{source.Practice("two batches go to one bright tank"), "common practice, no source: two batches go to one bright tank"},
		{source.Derivation("statics"), "derived: statics"},
	} {
		if got := tt.ref.String(); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
}
