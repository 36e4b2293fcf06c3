package pack

import (
	"tunwright/pricing/pack/lines"
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
		say.Para("Each line is a connection that must stand ready at the equipment it names, at each of them where it names several."),
	}}
	for _, trade := range trades {
		if t := lines.Points(j.Report, say.Slug(trade.title), trade.title, trade.services...); len(t.Rows) > 0 {
			s.Blocks = append(s.Blocks, t)
		}
	}
	return []paper.Section{s}
}
