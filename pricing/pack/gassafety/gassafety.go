// Package gassafety says what carbon dioxide does in the rooms of the brewery and what
// keeps people alive: the gas made over the week, the concentration with the fan and
// without, the ventilation, the hours to each limit, the loss of a tank or a cylinder,
// where detectors stand and at what they speak, and why an oxygen monitor does not
// serve.
//
// It prints figures of the air's result and decides none. Begin with Sections, Week
// and Course.
package gassafety

import (
	"fmt"
	"slices"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/air"
	"tunwright/pricing/pack/lines"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
)

// Title is the paper's own.
const Title = "Carbon dioxide: gas safety"

// Sections is what whoever answers for the gas safety is sent.
func Sections(r configurator.Report) []paper.Section {
	if r.Air == nil {
		return trade.Gap(r, configurator.Air, Title)
	}
	if len(r.Air.Gas) == 0 {
		return []paper.Section{{Title: Title, NewPage: true, Blocks: []paper.Block{say.Note("No room with carbon dioxide is known in this project."), caution()}}}
	}
	out := []paper.Section{{Title: Title, NewPage: true, Blocks: trade.Blocks(
		say.Para("What the cellar's fermentations, tanks and stores do to the air of each room, for the busiest week of the plan. A competent person assesses the risk, decides on ventilation and alarms and writes the procedures."),
		caution(), summaryTable(r), limitTable(r), alarmBlocks(r),
	)}}
	for i := range r.Air.Gas {
		out = append(out, room(r, i))
	}
	last := trade.Blocks(
		trade.Facts(r, "gas-facts", "site.ventilation", "site.co2_store", "site.low_points", "site.room.clear_height_mm"),
		trade.Open(own(r), configurator.Air, "gas-open"), byWhom(),
	)
	if src := trade.Sources(own(r), configurator.Air); len(src.Items) > 0 {
		last = append(last, say.Heading("Rules and sources of the checks"), src)
	}
	return append(out, paper.Section{Title: "Facts, open questions and who does what", Blocks: last})
}

// own is the report with the findings of carbon dioxide alone.
func own(r configurator.Report) configurator.Report {
	var kept []configurator.Finding
	for _, f := range r.Findings {
		if f.Rule.ID >= "AI-020" && f.Rule.ID < "AI-040" {
			kept = append(kept, f)
		}
	}
	r.Findings = kept
	return r
}

func caution() paper.Caution {
	return paper.Caution{Title: "Carbon dioxide", Lines: say.Texts(air.Cautions())}
}

// summaryTable sets the rooms side by side.
func summaryTable(r configurator.Report) paper.Table {
	n, w := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "gas-rooms", Title: "Rooms",
		Columns: []paper.Column{w("room", "Room"), n("air", "Air", "m³"), n("made", "Made in the week", "kg"), n("into", "Into the room", "kg"), n("peak", "Highest rate", "kg/h"), n("need", "Extract needed", "m³/h"), w("alarm", "Alarm")},
	}
	for _, g := range r.Air.Gas {
		alarm := "not asked for by these figures"
		if g.NeedsAlarm {
			alarm = "needed"
		}
		t.Rows = append(t.Rows, say.Row(
			paper.W(g.Name), say.Number(g.Volume, "m3", 0), say.Number(g.Produced, "kg", 1), say.Number(g.Chosen.Week, "kg", 1),
			say.Number(g.Chosen.Peak, "kg_h", 2), say.Number(g.Chosen.Need, "m3_h", 0), paper.W(alarm)))
	}
	return t
}

// limitTable is the country's limits.
func limitTable(r configurator.Report) paper.Table {
	t := paper.Table{
		Name: "gas-limits", Title: "Limits in the country of the site",
		Columns: []paper.Column{trade.Text("limit", "Limit"), trade.Quantity("ppm", "Concentration", "ppm"), trade.Quantity("share", "Share", "% vol"), trade.Text("over", "Taken over"), trade.Text("source", "Source")},
	}
	for _, l := range r.Air.Limits {
		over := "at any moment"
		switch h := l.Averaging.H(); {
		case h >= 1:
			over = fmt.Sprintf("%.0f h", h)
		case h > 0:
			over = fmt.Sprintf("%.0f min", l.Averaging.Min())
		}
		t.Rows = append(t.Rows, say.Row(paper.W(l.Code), say.Number(l.Share, "ppm", 0), say.Number(l.Share, "pct_vol", 1), paper.W(over), paper.W(say.Cite(l.Source))))
	}
	return t
}

// alarmBlocks are the set points in words.
func alarmBlocks(r configurator.Report) paper.Block {
	p := r.Air.Alarms
	t := paper.Table{
		Name: "gas-alarm-points", Title: "Alarm set points proposed",
		Columns: []paper.Column{trade.Text("stage", "Stage"), trade.Quantity("ppm", "Set at", "ppm"), trade.Text("does", "What it does")},
		Notes:   []string{fmt.Sprintf("Sensing heads %.0f to %.0f mm above the floor. The competent person confirms or lowers each point.", p.HeadLow.MM(), p.HeadHigh.MM())},
	}
	for _, s := range []struct {
		name, does string
		at         unit.VolumeFraction
	}{
		{"1", "lamp and display; extract to full; find the leak", p.Fan},
		{"2", "sounder and beacon in the room and outside every door; everybody leaves, nobody enters", p.Evacuate},
		{"3", "gas supplies shut; emergency services called", p.Third},
	} {
		t.Rows = append(t.Rows, say.Row(paper.W(s.name), say.Number(s.at, "ppm", 0), paper.W(s.does)))
	}
	return t
}

// room is one room's sheet.
func room(r configurator.Report, i int) paper.Section {
	g := r.Air.Gas[i]
	key := ""
	if len(r.Air.Gas) > 1 {
		key = fmt.Sprintf("-%d", i+1)
	}
	blocks := []paper.Block{}
	if len(g.Hours) > 0 {
		blocks = append(blocks, figure(Week(g))("Carbon dioxide of the busiest week, hour by hour."), figure(Course(g, r.Air.Limits))(courseWords(g)))
	}
	blocks = append(blocks, trade.Blocks(
		lines.Table("gas-room"+key, "The room's figures", g.Schedule),
		chosenTable(r, i, key), batchTable(g, key), caseTable(g, key), fanOffTable(g, key), releaseTable(g, key), detectorTable(g, key),
	)...)
	if len(g.Detectors) > 0 {
		blocks = append(blocks, say.List(r.Air.Alarms.Words))
	}
	blocks = append(blocks, oxygenTable(g, key))
	return paper.Section{Title: g.Name, NewPage: i > 0, Blocks: blocks}
}

func courseWords(g air.GasResult) string {
	words := "Concentration over the week on a logarithmic scale. Whole line: with the extract there is, near the tanks (mixing factor applied). Dashed: without any extract from the beginning of the week, in a room without leaks."
	if g.Chosen.SteadyNear == g.Chosen.Steady && g.Chosen.HighestNear.PPM() > 0 && g.Chosen.Steady.PPM() <= g.Chosen.AtNeed.PPM() && sameCourse(g.Hours) {
		words += " No extract is known, so the two lines are one."
	}
	return words
}

// sameCourse tells whether the fan changes nothing: there is none.
func sameCourse(hours []air.HourRow) bool {
	for _, h := range hours {
		if h.PPM.PPM() < h.FanOff.PPM()*0.999 {
			return false
		}
	}
	return true
}

func batchTable(g air.GasResult, key string) paper.Table {
	n := trade.Quantity
	t := paper.Table{
		Name: "gas-batches" + key, Title: "Fermentations of the week",
		Columns: []paper.Column{trade.Text("tank", "Tank"), trade.Text("start", "Begins"), n("total", "Gas of the batch", "kg"), n("perhl", "On one hL", "kg"), n("week", "Within the week", "kg"), n("peak", "Peak", "kg/h"), n("flow", "Peak", "m³/h")},
	}
	for _, b := range g.Batches {
		t.Rows = append(t.Rows, say.Row(
			paper.W(b.Tank), paper.W(moment(b.Start)), say.Number(b.Total, "kg", 1), say.Number(b.PerHL, "kg_hl", 2), say.Number(b.InWeek, "kg", 1), say.Number(b.Peak, "kg_h", 2), say.Number(b.PeakFlow, "m3_h", 2)))
	}
	return t
}

// moment is a time of the week in words.
func moment(d unit.Duration) string {
	h := int(d.H() + 0.5)
	if d < 0 {
		return fmt.Sprintf("%d h before the week", int(-d.H()+0.5))
	}
	return fmt.Sprintf("day %d, %02d:00", h/24+1, h%24)
}

// caseTable sets both arrangements of the blow-offs side by side.
func caseTable(g air.GasResult, key string) paper.Table {
	t := paper.Table{
		Name: "gas-ventilation" + key, Title: "Ventilation, blow-offs into the room or piped outdoors",
		Columns: []paper.Column{trade.Text("item", "Item"), trade.Text("unit", "Unit"), trade.Quantity("open", "Into the room", ""), trade.Quantity("piped", "Piped outdoors", "")},
		Notes:   []string{"As arranged in this project: " + g.Chosen.Name + ". Piped: the share that still leaks is counted. Extract needed holds the shift limit with the mixing factor; perfect mixing is for comparison only."},
	}
	row := func(item, symbol string, value func(air.GasCase) paper.Cell) {
		t.Rows = append(t.Rows, say.Row(paper.W(item), paper.W(symbol), value(g.Open), value(g.Piped)))
	}
	row("gas into the room in the week", "kg", func(c air.GasCase) paper.Cell { return say.Number(c.Week, "kg", 1) })
	row("highest rate", "kg/h", func(c air.GasCase) paper.Cell { return say.Number(c.Peak, "kg_h", 3) })
	row("extract needed", "m³/h", func(c air.GasCase) paper.Cell { return say.Number(c.Need, "m3_h", 0) })
	row("that is, air changes", "1/h", func(c air.GasCase) paper.Cell { return say.Number(c.NeedChanges, "per_h", 2) })
	row("extract needed, perfect mixing", "m³/h", func(c air.GasCase) paper.Cell { return say.Number(c.NeedPerfect, "m3_h", 0) })
	row("room average with that extract", "ppm", func(c air.GasCase) paper.Cell { return ppm(c.AtNeed) })
	row("highest of the week near the tanks, with the extract there is", "ppm", func(c air.GasCase) paper.Cell { return ppm(c.HighestNear) })
	row("purge from 30 000 to 5 000 ppm with the extract needed", "min", func(c air.GasCase) paper.Cell { return say.Number(c.PurgeTime, "min", 0) })
	return t
}

func ppm(v unit.VolumeFraction) paper.Cell {
	return paper.Decimal(unit.Digits(v.PPM(), 3))
}

// fanOffTable is how long people have when the fan stops.
func fanOffTable(g air.GasResult, key string) paper.Table {
	n := trade.Quantity
	t := paper.Table{
		Name: "gas-fan-off" + key, Title: "Hours to each limit with the fan off",
		Columns: []paper.Column{trade.Text("limit", "Limit"), n("ppm", "Limit", "ppm"), n("steady", "Peak rate held on", "h"), n("week", "Worst moment of the week", "h"), trade.Text("at", "If it stops")},
		Notes:   []string{"Mixed room without leaks, blow-offs as arranged. Near the tanks and low down a limit is passed sooner."},
	}
	for _, l := range g.Chosen.FanOff {
		steady, week, at := paper.W("never"), paper.W("not reached"), paper.Cell{}
		if !l.Never {
			steady = say.Number(l.Steady, "h", 1)
		}
		if l.Reached {
			week, at = say.Number(l.Week, "h", 1), paper.W(moment(unit.Hours(float64(l.AtHour))))
		}
		t.Rows = append(t.Rows, say.Row(paper.W(l.Limit.Code), say.Number(l.Limit.Share, "ppm", 0), steady, week, at))
	}
	return trade.Dense(t)
}

// releaseTable is what a sudden loss does. Tanks alike stand in one row.
func releaseTable(g air.GasResult, key string) paper.Table {
	n := func(title, symbol string) paper.Column {
		return paper.Column{Title: title, Unit: symbol, Kind: paper.Number}
	}
	t := paper.Table{
		Name: "gas-releases" + key, Title: "Sudden loss of a tank or a cylinder",
		Columns: []paper.Column{{Title: "What is lost"}, n("Gas of each", "kg"), n("In the low zone", "% vol"), n("Oxygen there", "% vol"), n("In the whole room", "% vol"), n("Air for the shift limit", "m³"), {Title: "In the low zone"}},
		Notes:   []string{fmt.Sprintf("Low zone: %.0f m³ of the room's %.0f m³. Ventilation is left out. Air for the shift limit: what would dilute the gas to it. The largest indoor loss is in bold.", g.Zone.M3(), g.Volume.M3())},
	}
	for _, l := range losses(g) {
		x := l.row
		name, mass := paper.W(l.name()), say.Number(x.Mass, "kg", 1)
		if l.largest {
			name, mass = name.Bold(), mass.Bold()
		}
		t.Rows = append(t.Rows, say.Row(
			name, mass, say.Number(x.Share, "pct_vol", 1), say.Number(x.Oxygen, "pct_vol", 1), say.Number(x.Whole.Share, "pct_vol", 2), say.Number(x.RoomFor5, "m3", 0), paper.W(x.Words)))
	}
	return t
}

// loss is one or more losses alike.
type loss struct {
	row     air.ReleaseRow
	tags    []string
	what    string
	largest bool
}

func (l loss) name() string {
	if l.what == "" {
		return strings.Join(l.tags, ", ")
	}
	return strings.Join(l.tags, ", ") + ": " + l.what
}

// losses puts tanks of the same gas and the same outcome together, in the order of
// their first.
func losses(g air.GasResult) []loss {
	var out []loss
	for i, x := range g.Releases {
		tag, what, _ := strings.Cut(x.Name, ": ")
		at := slices.IndexFunc(out, func(l loss) bool {
			return l.what == what && l.row.Kind == x.Kind && l.row.Outdoor == x.Outdoor && l.row.Mass == x.Mass && l.row.Share == x.Share
		})
		if at < 0 {
			at, out = len(out), append(out, loss{row: x, what: what})
		}
		out[at].tags = append(out[at].tags, tag)
		out[at].largest = out[at].largest || i == g.Largest
	}
	return out
}

func detectorTable(g air.GasResult, key string) paper.Table {
	t := paper.Table{
		Name: "gas-detectors" + key, Title: "Detectors, displays and sounders",
		Columns: []paper.Column{trade.Text("place", "Place"), trade.Quantity("count", "Number", ""), trade.Text("height", "Head above the floor"), trade.Text("words", "Remark")},
	}
	for _, d := range g.Detectors {
		height := ""
		if d.HeadHigh > 0 {
			height = fmt.Sprintf("%.0f to %.0f mm", d.HeadLow.MM(), d.HeadHigh.MM())
		}
		t.Rows = append(t.Rows, say.Row(paper.W(d.Place), paper.I(d.Count), paper.W(height), paper.W(d.Words)))
	}
	return t
}

// oxygenTable shows why an oxygen monitor does not serve.
func oxygenTable(g air.GasResult, key string) paper.Table {
	t := paper.Table{
		Name: "gas-oxygen" + key, Title: "What an oxygen monitor sees",
		Columns: []paper.Column{trade.Quantity("ppm", "Carbon dioxide", "ppm"), trade.Quantity("share", "Carbon dioxide", "% vol"), trade.Quantity("oxygen", "Oxygen left", "% vol"), trade.Text("alarm", "Oxygen alarm at 19.5 %")},
		Notes:   []string{fmt.Sprintf("An oxygen alarm at 19.5 %% first speaks at %s carbon dioxide, far above every limit for people. Oxygen monitors do not stand in for carbon dioxide detectors.", unit.In(g.OxygenBlind, "pct_vol", 1))},
	}
	for _, o := range g.OxygenRows {
		alarm := "silent"
		if o.CO2 >= g.OxygenBlind {
			alarm = "speaks"
		}
		t.Rows = append(t.Rows, say.Row(say.Number(o.CO2, "ppm", 0), say.Number(o.CO2, "pct_vol", 1), say.Number(o.Oxygen, "pct_vol", 2), paper.W(alarm)))
	}
	return t
}

func byWhom() paper.Table {
	return trade.ByWhom(
		"gas-by-whom",
		trade.Task{What: "Risk assessment of carbon dioxide and confined spaces; procedures, training, rescue plan", Who: "client, with a competent person"},
		trade.Task{What: "Extract at floor level, fan-flow switch, make-up air", Who: "ventilation engineer"},
		trade.Task{What: "Detectors, displays, sounders, their supply and battery; test before first gas; yearly calibration", Who: "alarm firm; us, where chosen in the quotation"},
		trade.Task{What: "Blow-off pipes from the tanks to the open air, away from openings, pits and people", Who: "us, as agreed on site"},
		trade.Task{What: "Gas store, chains, regulators with relief valves, pipes, signs", Who: "gas supplier and licensed fitter"},
		trade.Task{What: "Signs at every door, self-closing doors, no way for gas into flats, stairs or cellars next door", Who: "client and builder"},
		trade.Task{What: "Personal monitors for everybody who works among the tanks", Who: "client"},
	)
}

// Workings show how each figure came about.
func Workings(r configurator.Report) []paper.Section {
	if r.Air == nil {
		return nil
	}
	return []paper.Section{{Title: "Workings: steam and carbon dioxide", NewPage: true, Blocks: []paper.Block{say.Working("", r.Air.Trace)}}}
}
