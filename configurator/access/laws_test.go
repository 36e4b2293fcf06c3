package access

import (
	"strings"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// A lift abroad is not planned under British law, and a load is too wide where the road
// there says so.
func TestTheLawOfTheCountryIsNamed(t *testing.T) {
	for c, want := range map[Country]struct {
		lift string
		wide unit.Length
	}{"": {"LOLER", 2.9}, GB: {"LOLER", 2.9}, IE: {"S.I. 299/2007", 2.55}, DE: {"Betriebssicherheitsverordnung", 2.55}, US: {"29 CFR 1926", 2.5908}} {
		in := openWay()
		in.Country = c
		in.Items[0].Pieces[0].Width, in.Items[0].Pieces[0].Length = want.wide+unit.Millimetres(1), unit.Metres(3)
		r, err := Size(in)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(r.Planner, want.lift) || c != GB && c != "" && strings.Contains(r.Planner, "LOLER") {
			t.Errorf("%s: %s", c, r.Planner)
		}
		if !r.Freight.Rows[0].Abnormal {
			t.Errorf("%s: %s wide is not too wide", c, r.Freight.Rows[0].Width)
		}
		for _, f := range rule.Run(Rules(), Facts{in, r}) {
			if f.Rule.ID == "AC-050" && f.Rule.Source.Doc.ID == "LOLER 1998" != (c == GB || c == "") {
				t.Errorf("%s: AC-050 cites %s", c, f.Rule.Source)
			}
		}
		in.Items[0].Pieces[0].Width = want.wide - unit.Millimetres(1)
		if r, _ = Size(in); r.Freight.Rows[0].Abnormal {
			t.Errorf("%s: %s wide is too wide", c, r.Freight.Rows[0].Width)
		}
	}
}
