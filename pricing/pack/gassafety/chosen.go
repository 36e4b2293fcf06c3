package gassafety

import (
	"fmt"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/air"
	"tunwright/pricing/pack/lines"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

// chosenTable is what a room's sheet was worked out from: extract, alarm, stores and
// tanks as chosen or told.
func chosenTable(r configurator.Report, i int, key string) paper.Table {
	if i >= len(r.Inputs.Air.Gas) {
		return paper.Table{}
	}
	g := r.Inputs.Air.Gas[i]
	extract := say.Known(g.Fan)
	if g.Fan != nil && *g.Fan == 0 {
		extract = "none"
	}
	detectors := "unknown"
	if g.Alarm.Detectors != nil {
		detectors = fmt.Sprintf("%d", *g.Alarm.Detectors)
	}
	rows := []lines.Answer{
		{Item: "Extract", Value: extract, Note: "there is or is chosen"},
		{Item: "It draws at floor level", Value: lines.Yes(g.Low)},
		{Item: "Blow-offs piped to the open air", Value: say.YesNo(g.Piped), Note: leak(g)},
		{Item: "Mixing factor", Value: lines.Or(g.Mixing, "ratio", 1, "3 taken"), Note: "1 perfect, 10 poor; from memory"},
		{Item: "Carbon dioxide detectors", Value: detectors},
		{Item: "Display and sounder outside every door", Value: say.YesNo(g.Alarm.Outside)},
		{Item: "Fan-flow switch and loss of mains raise the alarm", Value: say.YesNo(g.Alarm.FanSwitch)},
		{Item: "Oxygen monitors instead of carbon dioxide detectors", Value: say.YesNo(g.Alarm.Oxygen)},
		{Item: "Stirring fans interlocked with the detectors", Value: say.YesNo(g.Stirred)},
		{Item: "Losses of purging and filling", Value: lines.Or(g.Purge, "kg_h", 2, "none counted"), Note: "as a mean over the week"},
		{Item: "Cylinders and bulk stores", Value: stores(g.Stores), Note: "a store that is not told is not counted"},
	}
	if len(g.Tanks) > 0 {
		t := g.Tanks[0]
		rows = append(rows, lines.Answer{
			Item: "Gas in the tanks", Value: fmt.Sprintf("%s dissolved, %s", unit.In(t.Dissolved, "g_l", 1), unit.In(t.Temp, "c", 0)),
			Note: "of " + t.Name + "; headspace at the tank's own pressure",
		})
	}
	return lines.Answers("gas-chosen"+key, "What it was worked out from", rows)
}

func leak(g air.GasSpace) string {
	if !g.Piped {
		return ""
	}
	return lines.Or(g.Leak, "pct", 0, "5 %") + " still counted as leaking"
}

func stores(list []air.Store) string {
	if len(list) == 0 {
		return "none told"
	}
	words := make([]string, len(list))
	for i, s := range list {
		place := "indoors"
		if s.Outdoor {
			place = "outdoors"
		}
		words[i] = fmt.Sprintf("%d × %s, %s, %s", max(s.Count, 1), s.Name, unit.In(s.Content, "kg", 1), place)
	}
	return strings.Join(words, "; ")
}
