package ventilation

import (
	"fmt"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/air"
	"tunwright/pricing/pack/lines"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

// chosenTable is what the extract was worked out from.
func chosenTable(r configurator.Report) paper.Table {
	s := r.Inputs.Air.Steam
	if s == nil {
		return paper.Table{}
	}
	rows := []lines.Answer{
		{Item: "Kettle heated by", Value: s.Heat},
		{Item: "Plan area of the boiling surface", Value: lines.Or(s.PlanArea, "m2", 2, "unknown"), Note: "of the vessel below the canopy"},
		{Item: "Room air drawn in", Value: state(s.Indoor)},
		{Item: "Outdoor air in winter", Value: state(s.Winter), Note: "design state"},
	}
	if s.Summer != (air.AirState{}) {
		rows = append(rows, lines.Answer{Item: "Outdoor air in summer", Value: state(s.Summer), Note: "design state"})
	}
	rows = append(rows,
		lines.Answer{Item: "Altitude", Value: unit.In(s.Altitude, "m", 0)},
		lines.Answer{Item: "Room must stay free of steam", Value: lines.Yes(s.SteamFree)},
		lines.Answer{Item: "Duct from canopy to discharge", Value: lines.Or(s.DuctRun, "m", 1, "6 m taken"), Note: bends(s.Bends)},
		lines.Answer{Item: "Openings for make-up air", Value: say.Known(s.Makeup.Openings), Note: "free area"},
		lines.Answer{Item: "Supply by fan", Value: known(s.Makeup.Supply, "none or unknown")},
	)
	if c := s.Canopy; c != nil {
		rows = append(rows,
			lines.Answer{Item: "Canopy", Value: c.Name},
			lines.Answer{Item: "Lower edge above the floor", Value: lines.Or(c.Underside, "mm", 0, "unknown")},
			lines.Answer{Item: "External pressure of its fan", Value: lines.Or(c.Head, "pa", 0, "unknown"), Note: "at the flow of the schedule"},
			lines.Answer{Item: "Gutter falls to a drain", Value: say.YesNo(c.Drained)},
			lines.Answer{Item: "Duct insulated and drained at its low point", Value: say.YesNo(c.Insulated)},
			lines.Answer{Item: "Discharge above the nearest window that opens", Value: say.Known(c.Above)},
		)
	}
	return lines.Answers("ventilation-chosen", "What it was worked out from", rows)
}

func state(a air.AirState) string {
	return unit.In(a.Temp, "c", 0) + ", " + unit.In(a.Humidity, "pct", 0)
}

func bends(n int) string {
	if n == 0 {
		return "with two bends taken"
	}
	return fmt.Sprintf("with %d bends", n)
}

func known(q *unit.VolumeFlow, nobody string) string {
	if q == nil {
		return nobody
	}
	return unit.In(*q, "m3_h", 0)
}
