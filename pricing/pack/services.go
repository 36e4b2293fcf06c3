package pack

import (
	"fmt"

	"tunwright/catalog"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

// trades are the readers of the connection list and what each brings or leads away.
var trades = []struct {
	title    string
	services []string
}{
	{"Plumbing and drainage", []string{"cold-water", "hot-liquor", "chilled-liquor", "drain"}},
	{"Refrigeration", []string{"coolant-flow", "coolant-return"}},
	{"Steam and condensate", []string{"steam", "condensate"}},
	{"Gas and compressed air", []string{"gas", "co2", "compressed-air"}},
	{"Ventilation and flues", []string{"exhaust", "flue"}},
	{"Control wiring", []string{"data"}},
}

// serviceSections list, trade by trade, every connection the equipment asks for.
func serviceSections(j job) []paper.Section {
	s := paper.Section{Title: "Services by trade", NewPage: true, Blocks: []paper.Block{
		say.Para("Each line is a connection that must stand ready at the equipment. Flows are those of the single item; what runs together is in the schedules."),
	}}
	for _, trade := range trades {
		if t := tradeTable(j, trade.title, trade.services); len(t.Rows) > 0 {
			s.Blocks = append(s.Blocks, t)
		}
	}
	return []paper.Section{s}
}

func tradeTable(j job, title string, services []string) paper.Table {
	t := paper.Table{
		Name: say.Slug(title), Title: title,
		Columns: []paper.Column{
			{Title: "Item", Width: 10}, {Title: "Product", Width: 27}, {Title: "Service", Width: 14}, {Title: "Size", Width: 17}, {Title: "Demand", Width: 14, Align: paper.Right}, {Title: "Height", Unit: "mm", Kind: paper.Number, Width: 8}, {Title: "Note", Width: 20},
		},
	}
	for _, service := range services {
		for _, c := range j.Report.Chosen {
			for _, conn := range c.Product.Connects {
				if conn.Service != service {
					continue
				}
				height := paper.Cell{}
				if conn.Height > 0 {
					height = say.Number(conn.Height, "mm", 0)
				}
				t.Rows = append(t.Rows, say.Row(paper.W(tagCount(c.Item.Tag, c.Item.Quantity())), paper.W(c.Product.Name), paper.W(serviceWord(service)), paper.W(conn.Size), paper.W(demand(conn)), height, paper.W(connectionNote(conn))))
			}
		}
	}
	return t
}

func tagCount(tag string, n int) string {
	if n > 1 {
		return fmt.Sprintf("%s × %d", tag, n)
	}
	return tag
}

func serviceWord(service string) string {
	switch service {
	case "co2":
		return "CO₂"
	case "cold-water":
		return "cold water"
	case "hot-liquor":
		return "hot liquor"
	case "chilled-liquor":
		return "chilled liquor"
	case "coolant-flow":
		return "glycol in"
	case "coolant-return":
		return "glycol out"
	case "compressed-air":
		return "compressed air"
	}
	return service
}

func demand(c catalog.Connection) string {
	switch {
	case c.Flow > 0:
		return fmt.Sprintf("%.3g L/min", c.Flow.LMin())
	case c.AirFlow > 0:
		return fmt.Sprintf("%.0f m³/h", c.AirFlow.M3H())
	case c.Steam > 0:
		return fmt.Sprintf("%.0f kg/h", c.Steam.KgH())
	case c.Gas > 0:
		return c.Gas.String()
	}
	return ""
}

func connectionNote(c catalog.Connection) string {
	text := c.Note
	if c.Pressure > 0 {
		text = say.Join(c.Pressure.String(), text)
	}
	if c.Temp != nil {
		text = say.Join(c.Temp.String(), text)
	}
	return text
}
