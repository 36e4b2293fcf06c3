package plumbing

import (
	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/pricing/pack/lines"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

// chosenTable is what water and waste were worked out from.
func chosenTable(r configurator.Report) paper.Table {
	in, w := r.Inputs.Water, r.Water
	if len(in.Draws) == 0 && len(in.Outlets) == 0 {
		return paper.Table{}
	}
	booster := "none"
	if b := in.Supply.Booster; b != nil {
		booster = b.Name + ", " + unit.In(b.Flow, "l_s", 2) + " at " + unit.In(b.Head, "bar", 1)
	}
	yeast := map[string]string{"drain": "to the drain", "side-stream": "to the side stream"}[in.Yeast]
	return lines.Answers("water-chosen", "What it was worked out from", []lines.Answer{
		{Item: "Service pipe to the furthest outlet", Value: unit.In(in.Supply.Run, "m", 0), Note: "length; a quarter more is counted for fittings, common practice"},
		{Item: "Bore of the service pipe", Value: say.Known(in.Supply.Bore)},
		{Item: "Pressure wanted at the outlet", Value: unit.In(w.Supply.Need, "bar", 1), Note: "while it flows"},
		{Item: "Meter, filter and valves", Value: unit.In(w.Supply.Meter, "bar", 1)},
		{Item: "Break tank", Value: tank(in.Supply.Break)},
		{Item: "Booster", Value: booster},
		{Item: "Other users on the same service", Value: lines.Or(in.Supply.Others, "l_s", 2, "none counted")},
		{Item: "Softener", Value: say.YesNo(in.Softener)},
		{Item: "Balance tank", Value: tank(in.Balance)},
		{Item: "Consent to discharge held or planned", Value: lines.Yes(in.Consent.Planned)},
		{Item: "Yeast and trub go", Value: yeast},
		{Item: "Beer brewed on the busiest day", Value: lines.Or(in.BeerPerDay, "hl", 1, "unknown")},
		{Item: "Carbon dioxide bought", Value: lines.Or(in.Air.CO2PerHL, "kg_hl", 1, "3.5 kg/hL taken, from memory"), Note: "on one hectolitre sold"},
	})
}

func tank(v *unit.Volume) string {
	if v == nil || *v == 0 {
		return "none"
	}
	return unit.In(*v, "l", 0)
}
