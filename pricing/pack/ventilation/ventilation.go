// Package ventilation says what the ventilation engineer is sent: the vapour of the
// kettle and what a canopy must draw to catch and to carry it, ducts, make-up air and
// heat to the room, the vapour condenser beside it, what a room without steam needs,
// and the sound at the neighbour.
//
// It prints figures of the air's result and decides none. Begin with Sections.
package ventilation

import (
	"fmt"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/air"
	"tunwright/pricing/pack/lines"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/drawing"
)

// Title is the paper's own.
const Title = "Steam extract and make-up air"

// Sections is what the ventilation engineer is asked to design and fit.
func Sections(r configurator.Report) []paper.Section {
	if r.Air == nil {
		return trade.Gap(r, configurator.Air, Title)
	}
	if r.Air.Steam == nil {
		return []paper.Section{{Title: Title, NewPage: true, Blocks: trade.Blocks(
			say.Note("No kettle boils in this project as chosen, so no vapour is worked out. The gas safety sheet says what ventilation carbon dioxide asks for."),
			caution(), gasTable(r), noiseTable(r),
		)}}
	}
	s := r.Air.Steam
	first := trade.Blocks(
		paper.Paragraph{Voice: paper.Lead, Text: paper.Plain(lead(s))},
		say.Para("Worked out for planning from the chosen brewhouse. The engineer designs canopy, fan, ducts and controls, and answers for them. Flows are at the fan unless the row says otherwise."),
		caution(), flowFigure(r), lines.Table("extract-schedule", "Extract schedule", schedule(s)),
	)
	second := trade.Blocks(
		moistureTable(s), makeUpTable(s), ductTable(s), condenserTable(s), heatTable(s), gasTable(r), noiseTable(r),
		lines.Points(r, "ventilation-points", "Connections that must stand ready", "exhaust", "flue", "steam", "condensate"),
	)
	if len(s.SteamFreeList) > 0 {
		second = append(second, say.Heading("Where no steam is allowed in the room"), say.List(s.SteamFreeList))
	}
	third := trade.Blocks(
		chosenTable(r), trade.Facts(r, "ventilation-facts", "site.ventilation", "site.gas_supply", "site.climate", "site.water.summer_c", "site.background_night_dba", "site.chiller_place.neighbour_m", "site.room.clear_height_mm"),
		trade.Open(own(r), configurator.Air, "ventilation-open"), byWhom(),
	)
	if src := trade.Sources(own(r), configurator.Air); len(src.Items) > 0 {
		third = append(third, say.Heading("Rules and sources of the checks"), src)
	}
	return []paper.Section{
		{Title: Title, NewPage: true, Blocks: first},
		{Title: "Moisture, make-up air and heat", Blocks: second},
		{Title: "Facts, open questions and who does what", Blocks: third},
	}
}

// Workings show how each figure came about.
func Workings(r configurator.Report) []paper.Section {
	if r.Air == nil {
		return nil
	}
	return []paper.Section{{Title: "Workings: steam and carbon dioxide", NewPage: true, Blocks: []paper.Block{say.Working("", r.Air.Trace)}}}
}

func caution() paper.Caution {
	return paper.Caution{Title: "Steam and carbon dioxide", Lines: say.Texts(air.Cautions())}
}

// lead is the sentence that matters most.
func lead(s *air.SteamResult) string {
	words := fmt.Sprintf("At full boil %s of water leave the kettle as vapour", unit.Fixed(s.Evaporation, 1))
	switch {
	case s.Required == 0:
		return words + "; no flow of the room air as stated carries it without fog."
	case s.Flow < s.Required:
		return words + fmt.Sprintf("; %s asks for an extract of %s, and the fan draws %s.", s.Governs, unit.Fixed(s.Required, 0), unit.Fixed(s.Flow, 0))
	}
	return words + fmt.Sprintf("; %s asks for an extract of %s.", s.Governs, unit.Fixed(s.Required, 0))
}

// schedule is the extract schedule; a heat of nought means that nobody said what warms
// the room.
func schedule(s *air.SteamResult) []air.Line {
	return lines.Unknown(s.Schedule, func(q unit.Quantity) bool {
		_, heat := q.(unit.Power)
		return heat && s.RoomHeat == 0 && len(s.RoomHeatRows) == 0
	}, "not known: no hot surface or motor is told")
}

// flowFigure shows what each method asks for beside what the fan draws.
func flowFigure(r configurator.Report) paper.Block {
	fig, err := Flows(r)
	if err != nil {
		return say.Note("The flows could not be drawn: %s.", err)
	}
	return paper.Figure{Drawing: fig, Caption: "Extract asked for by each method against the flow of the fan or, where none is chosen, the governing flow."}
}

// Flows draws what each method asks of the extract against what the fan draws.
func Flows(r configurator.Report) (drawing.Drawing, error) {
	if r.Air == nil || r.Air.Steam == nil || r.Air.Steam.Flow <= 0 {
		return drawing.Drawing{}, fmt.Errorf("no extract flow is worked out")
	}
	s := r.Air.Steam
	f := drawing.FillBars{
		Title: "Extract flows", Description: "What capture, convection and moisture ask for, against the flow of the fan.",
		Width: 170, LimitLabel: "fan draws " + unit.Fixed(s.Flow, 0), OverLabel: "more", Unknown: "no flow does",
	}
	add := func(label string, q unit.VolumeFlow) {
		row := drawing.FillRow{Label: label}
		if q > 0 {
			part := unit.Fraction(q.SI() / s.Flow.SI())
			row.Part, row.Words = &part, unit.Fixed(q, 0)
		}
		f.Rows = append(f.Rows, row)
	}
	add("Capture at the canopy's edge", s.Capture)
	if s.Convection > 0 {
		add("Thermal convection of the kettle", s.Convection)
	}
	add("No fog in canopy and duct", s.NoFog)
	add("Dry duct, 80 % humidity", s.DryDuct)
	return f.Draw()
}

// moistureTable is the balance of vapour for each state of air that is drawn in.
func moistureTable(s *air.SteamResult) paper.Table {
	n, w := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "moisture-balance", Title: "Moisture balance by state of the air drawn in",
		Columns: []paper.Column{w("air", "Air"), n("temp", "Temperature", "°C"), n("rh", "Humidity", "%"), n("moisture", "Moisture", "g/kg"), n("dew", "Dew point", "°C"), n("nofog", "No fog", "m³/h"), n("dry", "Dry duct", "m³/h"), w("words", "Remark")},
		Notes:   []string{"No fog: flow at the fan at which the mixture just stays clear. Dry duct: flow for at most 80 % humidity, common practice. A dash means that no flow does."},
	}
	for _, m := range s.Moisture {
		t.Rows = append(t.Rows, say.Row(
			paper.W(m.Name), say.Number(m.Air.Temp, "c", 1), say.Number(m.Air.Humidity, "pct", 0), say.Number(m.Air.Moisture, "g_kg", 1), say.Number(m.Air.DewPoint, "c", 1),
			flow(m.NoFog), flow(m.DryDuct), paper.W(m.Words)))
	}
	return trade.Dense(t)
}

func flow(q unit.VolumeFlow) paper.Cell {
	if q == 0 {
		return paper.W("—")
	}
	return say.Number(q, "m3_h", 0)
}

func makeUpTable(s *air.SteamResult) paper.Table {
	return lines.Table("make-up-air", "Make-up air", []air.Line{
		{Label: "Air that must come in", Value: s.MakeUp, Note: "equal to the extract; from a clean side, not across the kettle"},
		{Label: "By supply fan at most", Value: s.MakeUpSupply, Note: "85 % of the extract, so that the room stays below the others"},
		{Label: "Free area by openings alone", Value: s.OpeningsNeed, Note: "free area of louvres and doors at 1 m/s, common practice"},
		{Label: "Warmed to", Value: s.MakeUpTo, Note: "in winter"},
		{Label: "Heat for it in winter", Value: s.MakeUpHeat, Note: "for the mechanical share; heating engineer to provide"},
	})
}

func ductTable(s *air.SteamResult) paper.Table {
	t := paper.Table{
		Name: "ducts", Title: "Ducts",
		Columns: []paper.Column{trade.Text("part", "Part"), trade.Quantity("d", "Diameter", "mm"), trade.Quantity("v", "Velocity", "m/s"), trade.Text("range", "Kept to"), trade.Quantity("proposed", "Proposed", "mm")},
		Notes:   []string{"Proposed: a diameter that keeps the velocity in the range at the flow of the fan; a dash where no single duct of the series does. Falls back to the canopy's gutter, seams up, bottom joints sealed, drain at the low point, access for cleaning."},
	}
	row := func(part string, d unit.Length, v unit.Velocity, words string, proposed unit.Length) {
		t.Rows = append(t.Rows, say.Row(paper.W(part), size(d), say.Number(v, "m_s", 1), paper.W(words), size(proposed)))
	}
	row("main duct", s.Duct, s.DuctAt, "6 to 9 m/s", s.DuctProposed)
	row("discharge", s.Outlet, s.OutletAt, "12 to 15 m/s, upward, without a cowl that turns it down", s.OutletProposed)
	return t
}

func size(q unit.Length) paper.Cell {
	if q == 0 {
		return paper.W("—")
	}
	return say.Number(q, "mm", 0)
}

// condenserTable is the alternative that leaves no vapour to the air.
func condenserTable(s *air.SteamResult) paper.Table {
	c := s.Condenser
	title := "Vapour condenser instead, not chosen"
	rows := []air.Line{}
	if c.Name != "" {
		title = "Vapour condenser " + c.Name
		rows = append(rows, air.Line{Label: "Takes at its rating", Value: c.Capacity, Note: "kettle gives " + s.Evaporation.String()})
	}
	rows = append(rows,
		air.Line{Label: "Duty", Value: c.Duty},
		air.Line{Label: "Cooling water", Key: "l_h", Value: c.Water, Note: fmt.Sprintf("while boiling, from %s to %s", unit.Fixed(c.WaterIn, 0), unit.Fixed(c.WaterOut, 0))},
	)
	if c.Spray {
		rows = append(rows, air.Line{Label: "Cold water for " + c.Sewer.String() + " to the drain", Key: "l_h", Value: c.SprayFor, Note: "sprayed into the vapour"})
	} else {
		rows = append(rows, air.Line{Label: "Hot water to win back", Key: "l_h", Value: c.Reusable, Note: "to the hot liquor tank"})
	}
	rows = append(rows,
		air.Line{Label: "To the drain while boiling", Key: "l_h", Value: c.ToDrain, Note: "at " + unit.Fixed(c.DrainAt, 0) + "; cooled to the sewer's limit before it leaves"},
		air.Line{Label: "Stack of a sealed kettle without condenser", Value: c.Stack, Note: unit.Fixed(c.StackAt, 1) + "; 3 to 6 m/s, common practice"},
	)
	if s.ResidualFlow > 0 {
		rows = append(rows, air.Line{Label: "Extract still wanted with a condenser", Value: s.ResidualFlow, Note: "for what escapes at the manhole and at mash transfer"})
	}
	return lines.Table("condenser", title, rows)
}

func heatTable(s *air.SteamResult) paper.Table {
	t := lines.Table("room-heat", "Heat to the room", s.RoomHeatRows)
	if len(t.Rows) > 0 {
		cell, symbol := lines.Figure(s.RoomHeat, "")
		t.Rows = append(t.Rows, paper.Row{Kind: paper.Total, Cells: []paper.Cell{paper.W("Together"), cell, paper.W(symbol), {}}})
	}
	return t
}

// gasTable is what carbon dioxide asks of the extract; the gas safety sheet has more.
func gasTable(r configurator.Report) paper.Table {
	n, w := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "extract-for-gas", Title: "Extract that carbon dioxide asks for",
		Columns: []paper.Column{w("room", "Room"), n("air", "Air", "m³"), n("open", "Blow-offs into the room", "m³/h"), n("piped", "Blow-offs piped outdoors", "m³/h"), n("arranged", "As arranged", "m³/h"), n("changes", "Air changes", "1/h")},
		Notes:   []string{"Drawn at floor level, with the mixing factor. The gas safety sheet has the week, the losses and the alarms."},
	}
	for _, g := range r.Air.Gas {
		t.Rows = append(t.Rows, say.Row(
			paper.W(g.Name), say.Number(g.Volume, "m3", 0), say.Number(g.Open.Need, "m3_h", 0), say.Number(g.Piped.Need, "m3_h", 0), say.Number(g.Chosen.Need, "m3_h", 0), say.Number(g.Chosen.NeedChanges, "per_h", 1)))
	}
	return t
}

// noiseTable is what a neighbour hears of the machines outdoors.
func noiseTable(r configurator.Report) paper.Table {
	t := paper.Table{
		Name: "noise", Title: "Sound at the neighbour",
		Columns: []paper.Column{trade.Text("machine", "Machine"), trade.Quantity("power", "Sound power", "dB(A)"), trade.Quantity("at", "At the neighbour", "dB(A)")},
	}
	for _, n := range r.Air.Noise {
		t.Rows = append(t.Rows, say.Group(n.Neighbour))
		for _, row := range n.Rows {
			power, at := paper.W("unknown"), paper.W("unknown")
			if row.Known {
				power, at = say.Number(row.Power, "dba", 1), say.Number(row.At, "dba", 1)
			}
			t.Rows = append(t.Rows, say.Row(paper.W(row.Name), power, at))
		}
		if n.Known {
			t.Rows = append(t.Rows, paper.Row{Kind: paper.Subtotal, Cells: []paper.Cell{paper.W("Together"), {}, say.Number(n.Specific, "dba", 1)}})
		}
		t.Notes = append(t.Notes, say.Sentence(n.Words))
	}
	return t
}

// own is the report with the findings of vapour and sound alone: those of carbon
// dioxide, AI-020 to AI-039, stand on the gas safety sheet.
func own(r configurator.Report) configurator.Report {
	var kept []configurator.Finding
	for _, f := range r.Findings {
		if f.Rule.ID < "AI-020" || f.Rule.ID >= "AI-040" {
			kept = append(kept, f)
		}
	}
	r.Findings = kept
	return r
}

func byWhom() paper.Table {
	return trade.ByWhom(
		"ventilation-by-whom",
		trade.Task{What: "Design of extract, ducts, make-up air and controls; drawings; commissioning with measured flows", Who: "ventilation engineer"},
		trade.Task{What: "Canopy with gutter and lights, connection piece of the kettle", Who: "us, where chosen in the quotation"},
		trade.Task{What: "Fan, ducts, supports, insulation, drain of the low point, discharge above the roof", Who: "ventilation engineer"},
		trade.Task{What: "Opening in roof or wall, weathering, fire-stopping, consent of owner and planning authority", Who: "builder and client"},
		trade.Task{What: "Condensate drain with air gap to a gully; cooling water of a condenser", Who: "plumber"},
		trade.Task{What: "Supply, isolator and interlock: kettle heats only while the fan runs", Who: "electrician, signals from our panel"},
		trade.Task{What: "Louvres, door grilles, heater of the make-up air", Who: "builder and heating engineer"},
		trade.Task{What: "Check that no burner or flue in the room is drawn upon by the extract", Who: "ventilation engineer and licensed gas fitter"},
	)
}
