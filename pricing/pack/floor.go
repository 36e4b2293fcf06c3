package pack

import (
	"tunwright/configurator/floor"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/structure"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/drawing"
)

// planWidth and planHeight are the space of a plan on the sheet.
const (
	planWidth  drawing.MM = 170
	planHeight drawing.MM = 118
)

// floorSections is what the structural engineer is asked to look at.
func floorSections(j job) []paper.Section {
	r := j.Report.Floor
	if r == nil {
		return []paper.Section{{Title: "Floor loading", NewPage: true, Blocks: j.gapBlocks("floor")}}
	}
	blocks := []paper.Block{
		say.Para("Equipment loading schedule, for information, not a structural design. Characteristic values, no partial factors included. It says what is asked of the floor and against whose figure; a chartered structural engineer decides."),
		j.floorFacts(r),
	}
	blocks = append(blocks, structure.PlanBlocks(j.Report, planWidth, planHeight)...)
	blocks = append(blocks, loadTable(r), footTable(r), udlTable(r))
	if len(r.Members) > 0 {
		blocks = append(blocks, memberTable(r))
	}
	if len(r.Bays) > 0 {
		blocks = append(blocks, bayTable(r))
	}
	return []paper.Section{{Title: "Floor loading", NewPage: true, Blocks: blocks}}
}

func (j job) floorFacts(r *floor.Result) paper.Facts {
	s := j.Report.Project.Site.Floor
	fact := func(name, value, note string) paper.Fact {
		return paper.Fact{Name: name, Value: paper.W(value), Note: note}
	}
	facts := []paper.Fact{
		fact("Floor", s.Kind, ""),
		fact("Allowed area load", say.Known(s.Area.Ptr()), s.Area.Basis.Word()+" "+s.Area.By+s.Area.Why),
		fact("Allowed point load", say.Known(s.Point.Ptr()), s.Point.Basis.Word()+" "+s.Point.By+s.Point.Why),
		fact("Added build-up", r.AddedLoad.String(), ""),
		fact("Left for equipment and people", say.Known(r.Available), ""),
		fact("People and goods", r.People.Value.String(), ""),
		fact("Equipment empty", r.Empty.String(), ""),
		fact("Equipment at work", r.Operating.String(), ""),
		fact("All brim-full", r.Test.String(), ""),
		fact("Room average at work", r.RoomAverage.String(), "the trade's habit; decide by members"),
		fact("Engineer", say.Or(s.Engineer.Or(""), "not named"), ""),
	}
	return paper.Facts{Columns: 2, Facts: facts}
}

func loadTable(r *floor.Result) paper.Table {
	t := paper.Table{
		Name: "floor-loading", Title: "Masses",
		Columns: []paper.Column{
			{Title: "Item", Width: 30},
			{Title: "Empty", Unit: "kg", Kind: paper.Number, Width: 11},
			{Title: "At work", Unit: "kg", Kind: paper.Number, Width: 11},
			{Title: "Brim-full", Unit: "kg", Kind: paper.Number, Width: 12},
			{Title: "Tolerance", Unit: "%", Kind: paper.Number, Width: 11},
			{Title: "Basis", Width: 12},
			{Title: "Stands on", Width: 24},
		},
		Notes: []string{"Brim-full is the vessel filled to the top with water: cleaning, test or a failed level switch."},
	}
	for i := range r.Items {
		x := &r.Items[i]
		if !x.OnFloor {
			continue
		}
		basis := "maker"
		if x.Estimated {
			basis = "estimated"
		}
		t.Rows = append(t.Rows, say.Row(paper.W(x.Tag), say.Number(x.Empty, "kg", 0), say.Number(x.Operating, "kg", 0), say.Number(x.Test, "kg", 0), say.Number(x.Tolerance, "pct", 0), paper.W(basis), paper.W(say.Few(x.Members))))
	}
	return t
}

func footTable(r *floor.Result) paper.Table {
	t := paper.Table{
		Name: "foot-loads", Title: "Load on each foot",
		Columns: []paper.Column{
			{Title: "Item", Width: 30},
			{Title: "Empty", Unit: "kN", Kind: paper.Number, Width: 13},
			{Title: "At work", Unit: "kN", Kind: paper.Number, Width: 13},
			{Title: "Brim-full", Unit: "kN", Kind: paper.Number, Width: 14},
			{Title: "Until shimmed", Unit: "kN", Kind: paper.Number, Width: 15},
			{Title: "Under the pad", Unit: "MPa", Kind: paper.Number, Width: 15},
		},
		Notes: []string{"Until shimmed: four legs on an uneven floor can stand on two of them. Shim and grout before filling."},
	}
	for i := range r.Items {
		x := &r.Items[i]
		if x.Feet == nil || !x.OnFloor {
			continue
		}
		t.Rows = append(t.Rows, say.Row(paper.W(x.Tag), say.Number(x.Feet.Empty, "kn", 2), say.Number(x.Feet.Operating, "kn", 2), say.Number(x.Feet.Test, "kn", 2), say.Number(x.Feet.Bound, "kn", 2), say.Number(x.Feet.Pad, "mpa", 2)))
	}
	return trade.Join(t)
}

func udlTable(r *floor.Result) paper.Table {
	t := paper.Table{
		Name: "equivalent-loads", Title: "The same load in five ways, at work",
		Columns: []paper.Column{
			{Title: "Item", Width: 30},
			{Title: "On its footprint", Unit: "kN/m²", Kind: paper.Number, Width: 14},
			{Title: "With 0.3 m round it", Unit: "kN/m²", Kind: paper.Number, Width: 14},
			{Title: "Over the bay", Unit: "kN/m²", Kind: paper.Number, Width: 14},
			{Title: "Over the room", Unit: "kN/m²", Kind: paper.Number, Width: 14},
			{Title: "On the member, with people", Unit: "kN/m²", Kind: paper.Number, Width: 16},
		},
		Notes: []string{"Decide by bay and member: footprint and room average both mislead."},
	}
	for i := range r.Items {
		x := &r.Items[i]
		if !x.OnFloor {
			continue
		}
		t.Rows = append(t.Rows, say.Row(paper.W(x.Tag), say.Number(x.Footprint, "kn_m2", 2), say.Number(x.Tributary, "kn_m2", 2), say.Number(x.Bay, "kn_m2", 2), say.Number(x.Room, "kn_m2", 2), say.Number(x.Member, "kn_m2", 2)))
	}
	return trade.Join(t)
}

func memberTable(r *floor.Result) paper.Table {
	t := paper.Table{
		Name: "floor-members", Title: "Members, equipment and people",
		Columns: []paper.Column{
			{Title: "Member", Width: 18},
			{Title: "Span", Unit: "m", Kind: paper.Number, Width: 8},
			{Title: "Carries", Unit: "m", Kind: paper.Number, Width: 9},
			{Title: "M", Unit: "kN·m", Kind: paper.Number, Width: 9},
			{Title: "at", Unit: "m", Kind: paper.Number, Width: 7},
			{Title: "R", Unit: "kN", Kind: paper.Number, Width: 9},
			{Title: "as UDL", Unit: "kN/m²", Kind: paper.Number, Width: 10},
			{Title: "Given", Unit: "kN/m²", Kind: paper.Number, Width: 10},
			{Title: "At work", Unit: "%", Kind: paper.Number, Width: 9},
			{Title: "One brim-full", Unit: "%", Kind: paper.Number, Width: 10},
			{Title: "All brim-full", Unit: "%", Kind: paper.Number, Width: 10},
		},
		Notes: []string{"Simply supported spans, lever rule between members. Given is the allowance less the added build-up; its source stands above."},
	}
	for i := range r.Members {
		m := &r.Members[i]
		o := m.Operating
		use := func(c floor.CaseLoad) paper.Cell {
			if !m.Given() {
				return paper.W("—")
			}
			return say.Number(c.Use, "pct", 0)
		}
		t.Rows = append(t.Rows, say.Row(paper.W(m.Name), say.Number(m.Length, "m", 2), say.Number(m.Tributary, "m", 2), say.Number(o.Moment, "knm", 1), say.Number(o.At, "m", 2), say.Number(max(o.Left, o.Right), "kn", 1),
			say.Number(o.Equivalent(), "kn_m2", 2), say.Maybe(m.Allow, "kn_m2", 2), use(o), use(m.Overfill), use(m.Test)))
	}
	return t
}

func bayTable(r *floor.Result) paper.Table {
	t := paper.Table{
		Name: "floor-bays", Title: "Bays, equipment alone",
		Columns: []paper.Column{
			{Title: "Bay", Width: 36}, {Title: "Area", Unit: "m²", Kind: paper.Number, Width: 14}, {Title: "Empty", Unit: "kN/m²", Kind: paper.Number, Width: 16}, {Title: "At work", Unit: "kN/m²", Kind: paper.Number, Width: 17}, {Title: "All brim-full", Unit: "kN/m²", Kind: paper.Number, Width: 17},
		},
	}
	for _, b := range r.Bays {
		t.Rows = append(t.Rows, say.Row(paper.W(b.Name), say.Number(b.Area, "m2", 1), say.Number(b.Empty, "kn_m2", 2), say.Number(b.Operating, "kn_m2", 2), say.Number(b.Test, "kn_m2", 2)))
	}
	return t
}
