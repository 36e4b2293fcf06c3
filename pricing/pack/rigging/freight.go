package rigging

import (
	"fmt"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator/access"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
)

// FreightTable is the consignment piece by piece, for the carrier.
func FreightTable(r *access.Result) paper.Table {
	n, w := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "freight", Title: "Packed pieces",
		Columns: []paper.Column{
			w("piece", "Piece"), n("count", "Pieces", ""), n("length", "Length", "mm"), n("width", "Width", "mm"), n("height", "Height", "mm"), n("mass", "Mass", "kg"), n("volume", "Volume", "m³"),
			n("metres", "Loading metres by area", "m"), w("pallet", "Pallet"), w("vehicle", "Travels on"), w("abnormal", "Abnormal load"), w("container", "Smallest container"),
		},
		Notes: []string{"Size, mass and volume of one piece, with packing; the last row sums them all. Loading metres by area: L × W / 2.4 m; the consignment as a whole is packed row by row, which is longer. Tanks are not stacked; never lash over cladding or jackets."},
	}
	f := &r.Freight
	m := merged{counted: true}
	for i := range f.Rows {
		x := &f.Rows[i]
		abnormal := ""
		if x.Abnormal {
			abnormal = "wider than 2.9 m: notice"
		}
		m.add(packed{x.Tag, x.Piece}, say.Row(
			say.Number(x.Length, "mm", 0), say.Number(x.Width, "mm", 0), say.Number(x.Height, "mm", 0), say.Number(x.Mass, "kg", 0), say.Number(x.Volume, "m3", 2),
			say.Number(x.Metres, "m", 2), paper.W(x.Pallet), paper.W(x.Vehicle), paper.W(abnormal), paper.W(say.Or(x.Container, "none"))))
	}
	t.Rows = m.table()
	t.Rows = append(t.Rows, paper.Row{Kind: paper.Total, Name: "total", Cells: []paper.Cell{
		paper.W("All"), paper.I(len(f.Rows)), {}, {}, {}, say.Number(f.Mass, "kg", 0), say.Number(f.Volume, "m3", 2), say.Number(f.AreaMetres, "m", 2), {}, {}, {}, {},
	}})
	return trade.Fit(trade.Plain(trade.Dense(t)), trade.Sideways)
}

func containerTable(r *access.Result) paper.Table {
	t := paper.Table{
		Name: "containers", Title: "The consignment in containers",
		Columns: []paper.Column{trade.Text("type", "Container (ISO 668)"), trade.Text("fits", "Holds all"), trade.Quantity("count", "How many", ""), trade.Text("stays", "Does not enter")},
	}
	for _, c := range r.Freight.Containers {
		count := paper.Cell{}
		if c.Fits {
			count = paper.I(c.Count)
		}
		t.Rows = append(t.Rows, say.Row(paper.W(c.Type), paper.W(say.YesNo(c.Fits)), count, paper.W(strings.Join(unique(c.Stays), ", "))))
	}
	return trade.Fit(trade.Plain(trade.Dense(t)), trade.Sideways)
}

// unique keeps each name once, in order.
func unique(list []string) []string {
	var out []string
	for i, s := range list {
		if i == 0 || s != list[i-1] {
			out = append(out, s)
		}
	}
	return out
}

// freightFacts is the consignment and its delivery term.
func freightFacts(r *access.Result) paper.Facts {
	f := &r.Freight
	fact := func(name, value, note string) paper.Fact {
		return paper.Fact{Name: name, Value: paper.W(value), Note: note}
	}
	term := fact("Delivery term", "not agreed", f.TermProblem)
	if f.Term != "" {
		term = fact("Delivery term", say.Join(fmt.Sprintf("%s (%s)", f.Term, f.TermName), f.Place), "Incoterms 2020")
	}
	out := paper.Facts{Columns: 2, Facts: []paper.Fact{
		fact("Pieces", fmt.Sprint(len(f.Rows)), fmt.Sprintf("%d of them on pallets", f.Pallets)),
		fact("Mass packed", unit.In(f.Mass, "t", 2), ""),
		fact("Loading metres", unit.In(f.Metres, "m", 1), "packed row by row"),
		fact("Trailers of 13.6 m", fmt.Sprint(f.Trailers), ""),
		fact("Chargeable", unit.Fixed(f.Chargeable, 0), "by "+f.ChargedBy+"; the carrier's terms go before"),
		term,
	}}
	if f.UnloadedBy != "" {
		out.Facts = append(out.Facts, fact("Unloaded by", f.UnloadedBy, "under that term"))
	}
	return out
}
