package structure

import (
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/floor"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
)

// ScheduleTable is the loading schedule with every column a structural engineer asks
// for, a row for each piece that stands on the floor. It is meant for a spreadsheet;
// the paper prints the same columns in two parts.
func ScheduleTable(r configurator.Report) paper.Table {
	t := paper.Table{Name: "loading-schedule", Title: floor.ScheduleTitle, Columns: scheduleColumns()}
	f := Facts(r)
	for _, x := range floor.Schedule(f.Input, f.Result) {
		t.Rows = append(t.Rows, scheduleRow(x))
	}
	return t
}

func scheduleColumns() []paper.Column {
	n, w := trade.Quantity, trade.Text
	return []paper.Column{
		w("tag", "Tag"), w("item", "Item"), w("status", "Status"), n("x", "x", "m"), n("y", "y", "m"), n("turn", "Turn", "°"),
		n("length", "Length or ⌀", "mm"), n("width", "Width", "mm"), n("height", "Height", "mm"),
		n("feet", "Feet", ""), w("pattern", "Pattern, mm"), n("pad", "Pad ⌀", "mm"),
		n("empty", "Empty", "kg"), n("work", "At work", "kg"), n("brim", "Brim-full", "kg"), w("basis", "Basis"), n("tolerance", "Tol.", "%"),
		n("centre_empty", "Centre empty", "m"), n("centre_work", "Centre at work", "m"),
		n("foot_empty", "Foot empty", "kN"), n("foot_work", "Foot at work", "kN"), n("foot_brim", "Foot brim-full", "kN"),
		n("foot_leaning", "Foot, out of level", "kN"), n("foot_bound", "Foot, upper bound", "kN"), n("pressure", "Under pad", "MPa"),
		n("udl_work", "Footprint at work", "kN/m²"), n("udl_brim", "Footprint brim-full", "kN/m²"), n("runner", "Runner", "kN/m"),
		n("horizontal", "Horizontal", "kN"), w("dynamic", "Dynamic"), w("action", "Action"), w("anchored", "Anchored"),
		n("heaviest", "Heaviest part moved", "kg"), w("notes", "Notes"),
	}
}

func scheduleRow(x floor.ScheduleRow) paper.Row {
	place := func(l *unit.Length) paper.Cell {
		if l == nil {
			return paper.W("open")
		}
		return say.Number(*l, "m", 2)
	}
	turn := paper.Cell{}
	if x.X != nil {
		turn = say.Number(x.Turn, "deg", 0)
	}
	width := say.Number(x.Width, "mm", 0)
	if x.Round {
		width = paper.W("⌀")
	}
	feet, horizontal := paper.Cell{}, some(x.Horizontal, "kn", 2)
	if x.Feet > 0 {
		feet = paper.I(x.Feet)
	}
	return say.Row(
		paper.W(x.Tag), paper.W(x.Item), paper.W(x.Status), place(x.X), place(x.Y), turn,
		say.Number(x.Length, "mm", 0), width, say.Number(x.Height, "mm", 0),
		feet, paper.W(x.Pattern), some(x.Pad, "mm", 0),
		say.Number(x.Empty, "kg", 0), say.Number(x.Operating, "kg", 0), say.Number(x.Test, "kg", 0), paper.W(x.Basis), some(x.Tolerance, "pct", 0),
		say.Number(x.CentreEmpty, "m", 2), say.Number(x.CentreOperating, "m", 2),
		some(x.FootEmpty, "kn", 2), some(x.FootOperating, "kn", 2), some(x.FootTest, "kn", 2),
		some(x.FootLeaning, "kn", 2), some(x.FootBound, "kn", 2), some(x.PadPressure, "mpa", 2),
		say.Number(x.FootprintOperating, "kn_m2", 1), say.Number(x.FootprintTest, "kn_m2", 1), some(x.Runner, "kn_m", 2),
		horizontal, paper.W(x.Dynamic), paper.W(x.Action), paper.W(say.YesNo(x.Anchored)),
		some(x.Heaviest, "kg", 0), paper.W(x.Notes),
	)
}

// some leaves a cell empty where a figure does not apply.
func some(q unit.Quantity, key string, decimals int) paper.Cell {
	if q.SI() == 0 {
		return paper.Cell{}
	}
	return say.Number(q, key, decimals)
}

// boundNote stands in the schedule beside every piece on four legs; the paper says it
// once below the table.
const boundNote = "upper bound until shimmed and grouted"

// printedSchedule is the schedule as the paper shows it.
func printedSchedule(r configurator.Report) []paper.Block {
	whole := ScheduleTable(r)
	masses := trade.Pick(whole, "loading-masses", "Pieces, places and masses",
		"tag", "item", "status", "x", "y", "turn", "length", "width", "height", "feet", "pattern", "pad", "empty", "work", "brim", "basis", "tolerance")
	masses.Rows = append(masses.Rows, total(r, len(masses.Columns)))
	masses.Notes = []string{
		"x and y: middle of the piece, from the south-west corner of the room. Brim-full: filled to the top with water, as at a test, in cleaning or when a level switch fails. Estimated masses carry their tolerance until the works has weighed the piece.",
		"Dead mass is a permanent action, contents are variable.",
	}
	feet := trade.Pick(whole, "loading-feet", "What each piece brings to the floor",
		"tag", "centre_empty", "centre_work", "foot_empty", "foot_work", "foot_brim", "foot_leaning", "foot_bound", "pressure", "udl_work", "udl_brim", "runner", "horizontal", "dynamic", "anchored", "heaviest", "notes")
	for i := range feet.Rows {
		last := &feet.Rows[i].Cells[len(feet.Columns)-1]
		last.Text = strings.Trim(strings.ReplaceAll(last.Text, boundNote, ""), "; ")
	}
	feet.Notes = []string{"Foot loads are the weight shared evenly. Out of level: at work, with the levelling error of the floor. Upper bound: until shimmed and grouted, when four legs can stand on two of them. Centre: of gravity, over the floor."}
	return []paper.Block{trade.Fit(trade.Plain(trade.Dense(masses)), trade.Sideways), trade.Fit(trade.Plain(trade.Dense(feet)), trade.Sideways)}
}

func total(r configurator.Report, columns int) paper.Row {
	row := paper.Row{Kind: paper.Total, Name: "total", Cells: make([]paper.Cell, columns)}
	row.Cells[0] = paper.W("All")
	row.Cells[12], row.Cells[13], row.Cells[14] = say.Number(r.Floor.Empty, "kg", 0), say.Number(r.Floor.Operating, "kg", 0), say.Number(r.Floor.Test, "kg", 0)
	return row
}

// uniformTable is the five ways to call the same load a uniform one.
func uniformTable(f floor.Facts) paper.Table {
	n, w := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "equivalent-loads", Title: "The same load as a uniform load, in five ways, at work",
		Columns: []paper.Column{
			w("tag", "Item"), n("footprint", "1 on its footprint", "kN/m²"), n("around", "2 with 0.3 m round it", "kN/m²"), n("room", "3 over the room", "kN/m²"),
			n("bay", "4 over its bay", "kN/m²"), n("member", "5 on its worst member", "kN/m²"), w("bays", "Bays"), w("members", "Members"),
		},
		Notes: []string{floor.UniformNote},
	}
	if len(f.Result.Members) == 0 {
		t.Notes = []string{"On the footprint; with 0.3 m all round; over the room. Bays and members are not known or the floor rests on the ground."}
	}
	for _, x := range floor.UniformRows(f.Result) {
		t.Rows = append(t.Rows, say.Row(
			paper.W(x.Tag), say.Number(x.Footprint, "kn_m2", 2), say.Number(x.Around, "kn_m2", 2), say.Number(x.Room, "kn_m2", 2),
			some(x.Bay, "kn_m2", 2), some(x.Member, "kn_m2", 2), paper.W(x.Bays), paper.W(x.Members)))
	}
	return trade.Fit(trade.Plain(trade.Dense(t)), trade.Sideways)
}
