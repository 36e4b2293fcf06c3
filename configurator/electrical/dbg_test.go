package electrical

import (
	"fmt"
	"strings"
	"testing"
	"tunwright/catalog/unit"
)

func TestDbg(t *testing.T) {
	in := managed()
	in.Supply.Distance = ptr(unit.Metres(30))
	f := Facts{in, mustSize(t, in)}
	for _, tb := range []Table{f.Schedule(), f.StateTable(), f.CaseTable(), f.EnergyTable(), f.PointTable(), f.StopTable(), f.BondTable()} {
		fmt.Println("==", tb.Title)
		for _, c := range tb.Columns {
			fmt.Print(c.Name, "[", c.Unit, "]|")
		}
		fmt.Println()
		for _, r := range tb.Rows {
			if len(r) != len(tb.Columns) {
				fmt.Println("BAD", len(r), len(tb.Columns))
			}
			fmt.Println(strings.Join(r, "|"))
		}
	}
	for _, l := range append(append(f.Header(), f.Footer()...), f.OperatorBlock()...) {
		fmt.Println(l.Label, "=", l.Value, "(", l.Basis, ")")
	}
	var walk func(Node, string)
	walk = func(n Node, p string) {
		fmt.Println(p, n.Kind, n.Title, n.Notes)
		for _, b := range n.Below {
			walk(b, p+"  ")
		}
	}
	n := f.Tree()
	n.Below[0].Below[0].Below[0].Below[0].Below = n.Below[0].Below[0].Below[0].Below[0].Below[:3]
	walk(n, "")
	for _, s := range f.Result.Trace {
		fmt.Println(s.Title, s.Symbol, s.Formula, s.Values, s.Result, s.Source)
	}
}
