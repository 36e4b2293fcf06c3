package lines

import (
	"fmt"
	"slices"

	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

// Points lists the connections of some services that must stand ready at the chosen
// equipment, service by service in the order asked for. Items alike stand in one row.
func Points(r configurator.Report, name, title string, services ...string) paper.Table {
	t := paper.Table{
		Name: name, Title: title,
		Columns: []paper.Column{{Title: "Item"}, {Title: "Product"}, {Title: "Service"}, {Title: "Size"}, {Title: "Demand", Align: paper.Right}, {Title: "Height", Unit: "mm", Kind: paper.Number}, {Title: "Remark"}},
		Notes:   []string{"Demand of the single item; what runs together stands in the schedules. Height above the finished floor."},
	}
	for _, service := range services {
		for _, c := range r.Chosen {
			for _, point := range c.Product.Connects {
				if point.Service == service {
					t.Rows = join(t.Rows, pointRow(c, point))
				}
			}
		}
	}
	if !slices.ContainsFunc(t.Rows, func(row paper.Row) bool { return !row.Cells[height].Empty() }) {
		t.Columns = slices.Delete(t.Columns, height, height+1)
		for i := range t.Rows {
			t.Rows[i].Cells = slices.Delete(t.Rows[i].Cells, height, height+1)
		}
		t.Notes = []string{"Demand of the single item; what runs together stands in the schedules. Heights are settled with the layout."}
	}
	return t
}

// height is the column of the height.
const height = 5

// join adds a row, or its item to the row that says the same.
func join(rows []paper.Row, row paper.Row) []paper.Row {
	for i := range rows {
		if slices.Equal(rows[i].Cells[1:], row.Cells[1:]) {
			rows[i].Cells[0].Text += ", " + row.Cells[0].Text
			return rows
		}
	}
	return append(rows, row)
}

func pointRow(c configurator.Chosen, p catalog.Connection) paper.Row {
	tag, at := c.Item.Tag, paper.Cell{}
	if n := c.Item.Quantity(); n > 1 {
		tag = fmt.Sprintf("%s × %d", tag, n)
	}
	if p.Height > 0 {
		at = say.Number(p.Height, "mm", 0)
	}
	return say.Row(paper.W(tag), paper.W(c.Product.Name), paper.W(serviceWord(p.Service)), paper.W(p.Size), paper.W(demand(p)), at, paper.W(pointNote(p)))
}

func serviceWord(service string) string {
	switch service {
	case "co2":
		return "carbon dioxide"
	case "cold-water":
		return "cold water"
	case "hot-liquor":
		return "hot liquor"
	case "chilled-liquor":
		return "chilled liquor"
	case "compressed-air":
		return "compressed air"
	case "coolant-flow":
		return "glycol in"
	case "coolant-return":
		return "glycol out"
	case "exhaust":
		return "extract"
	}
	return service
}

func demand(p catalog.Connection) string {
	switch {
	case p.Flow > 0:
		return unit.Digits(p.Flow.LMin(), digits) + " L/min"
	case p.AirFlow > 0:
		return unit.Digits(p.AirFlow.M3H(), digits) + " m³/h"
	case p.Steam > 0:
		return unit.Digits(p.Steam.KgH(), digits) + " kg/h"
	case p.Gas > 0:
		return p.Gas.String()
	}
	return ""
}

func pointNote(p catalog.Connection) string {
	words := ""
	if p.Pressure > 0 {
		words = p.Pressure.String()
	}
	if p.Temp != nil {
		words = say.Join(words, p.Temp.String())
	}
	return say.Join(words, p.Note)
}
