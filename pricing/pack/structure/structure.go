// Package structure says what the structural engineer and the architect are sent: the
// loading schedule with masses, feet and uniform loads, the plan to scale with the
// members and how full they are, bays, build-up, openings and questions; the room's
// plan with service space, doors and ways out; and the drainage of the floor.
//
// It prints figures of the floor's result and decides none: what is asked of the floor
// is set against a figure that somebody gave, and an engineer decides. Begin with
// Sections, Architect and Plan.
package structure

import (
	"fmt"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/floor"
	"tunwright/configurator/plan"
	"tunwright/pricing/pack/rigging"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/drawing"
)

// The space of a plan on a page turned sideways, of A4 and of US letter.
const (
	PlanWidth  drawing.MM = 240
	PlanHeight drawing.MM = 138
)

// Sections is what the structural engineer is asked to look at.
func Sections(r configurator.Report) []paper.Section {
	if r.Floor == nil {
		return trade.Gap(r, configurator.Floor, "Equipment loading schedule")
	}
	f := Facts(r)
	out := []paper.Section{
		{Title: "Equipment loading schedule", Blocks: trade.Blocks(
			paper.Paragraph{Voice: paper.Lead, Text: paper.Plain(floor.ScheduleTitle + ".")},
			say.Para("Characteristic values throughout; no partial factors included. Masses in kilograms, loads as forces with g = 9.81 m/s². The schedule says what is asked of the floor and against whose figure."),
			caution(r), header(r, f), buildUpTable(r, f), trade.Facts(r, "floor-facts", "site.floor", "site.room.drains", "site.room.clear_height_mm", "site.drainage.fall_ratio", "site.drainage.floor_depth_mm", "site.listed_building"),
		)},
		{Title: "Loading plan", NewPage: true, Wide: true, Blocks: PlanBlocks(r, PlanWidth, PlanHeight)},
		{Title: "Loading schedule", NewPage: true, Wide: true, Blocks: trade.Blocks(printedSchedule(r)...)},
		{Title: "Uniform loads, bays and members", NewPage: true, Wide: true, Blocks: trade.Blocks(uniformTable(f), bayTable(f), workTable(f), caseTable(f))},
	}
	last := []paper.Block{gullyTable(r), hungTable(r)}
	if t := rigging.WheelTable(r); len(t.Rows) > 0 {
		last = append(last, t)
	}
	last = append(last, questionTable(f), trade.Open(r, configurator.Floor, "floor-open"), byWhom(), trade.Sources(r, configurator.Floor))
	return append(out, paper.Section{Title: "Openings, way in and questions", NewPage: true, Blocks: headed(trade.Blocks(last...))})
}

// headed puts a heading before a list of sources.
func headed(blocks []paper.Block) []paper.Block {
	var out []paper.Block
	for _, b := range blocks {
		if _, ok := b.(paper.Sources); ok {
			out = append(out, say.Heading("Rules and sources of the checks"))
		}
		out = append(out, b)
	}
	return out
}

func caution(r configurator.Report) paper.Caution {
	who := "A chartered structural engineer"
	if r.Project.Site.Country == "US" {
		who = "A licensed structural engineer"
	}
	return paper.Caution{Title: "Structure", Lines: say.Texts([]string{
		"Worked out from makers' and estimated masses. It does not verify the structure, and no figure here says that a floor is safe.",
		who + " inspects and confirms the capacity of members, connections, walls, columns and foundations, and designs any strengthening, opening or temporary works, before tanks are ordered.",
	})}
}

// header is the top of the schedule: the floor, what was given for it, by whom.
func header(r configurator.Report, f floor.Facts) paper.Facts {
	s := r.Project.Site
	fact := func(name, value, note string) paper.Fact {
		return paper.Fact{Name: name, Value: paper.W(value), Note: note}
	}
	given := func(name string, known string, basis, by string) paper.Fact {
		return fact(name, known, strings.Trim(basis+": "+by, ": "))
	}
	out := paper.Facts{Columns: 1, Facts: []paper.Fact{
		fact("Site", strings.Join(append([]string{s.Name}, s.Address...), ", "), ""),
		fact("Level", level(s.Level), "datum: finished floor of the room"),
		fact("Grid", "metres from the south-west corner of the room", "x to the east, y to the north"),
		fact("Floor", s.Floor.Kind, "top layer "+say.Or(string(f.TopLayer), "unknown")),
		fact("Used for before", say.Or(s.Existing, "not said"), ""),
		given("Imposed load given", say.Known(s.Floor.Area.Ptr()), s.Floor.Area.Basis.Word(), s.Floor.Area.By+s.Floor.Area.Why),
		given("Concentrated load given", say.Known(s.Floor.Point.Ptr()), s.Floor.Point.Basis.Word(), s.Floor.Point.By+s.Floor.Point.Why),
		fact("Added build-up", unit.Fixed(r.Floor.AddedLoad, 2), "taken off the imposed load"),
		fact("Left for equipment and people", left(r.Floor.Available), ""),
		fact("People and goods beside it", unit.Fixed(r.Floor.People.Value, 2), string(r.Floor.People.Basis)),
		fact("Equipment", fmt.Sprintf("%s empty, %s at work, %s brim-full", tonnes(r.Floor.Empty), tonnes(r.Floor.Operating), tonnes(r.Floor.Test)), ""),
		fact("Over the room at work", unit.Fixed(r.Floor.RoomAverage, 2), "says nothing of a single member"),
		given("Engineer", s.Floor.Engineer.Or("not named"), s.Floor.Engineer.Basis.Word(), s.Floor.Engineer.By+s.Floor.Engineer.Why),
	}}
	if y := r.Floor.Yardstick; y != nil {
		out.Facts = append(out.Facts, fact("Existing use "+y.Code, fmt.Sprintf("%s, %s", unit.Fixed(y.Area, 1), unit.Fixed(y.Point, 1)), "a yardstick: "+y.Source.String()))
	}
	if w := r.Floor.Worst(); w != nil && w.Given() {
		out.Facts = append(out.Facts, fact("Fullest member at work", fmt.Sprintf("%s, %.0f %%", w.Name, w.Operating.Use.Pct()), against(f, w.Name)))
	}
	return out
}

func tonnes(m unit.Mass) string { return unit.In(m, "t", 2) }

func left(q *unit.AreaLoad) string {
	if q == nil {
		return "unknown"
	}
	return unit.Fixed(*q, 2)
}

// PlanBlocks is the loading plan in a space on the sheet, with what its marks mean.
func PlanBlocks(r configurator.Report, width, most drawing.MM) []paper.Block {
	fig, err := LoadingPlan(r, width, most)
	if err != nil {
		return []paper.Block{say.Note("The plan could not be drawn: %s.", err)}
	}
	words := "Pieces by their tags, with the load on one foot at work; dots are feet. Axes in metres."
	if len(r.Floor.Members) > 0 {
		words += " Members as given, spans between their drawn ends; the figure is how full each is at work with people."
	}
	return []paper.Block{paper.Figure{Drawing: fig, Caption: words}}
}

func byWhom() paper.Table {
	return trade.ByWhom(
		"structure-by-whom",
		trade.Task{What: "Drawings of the floor, its age, use, alterations, earlier loads, cellar or void below, cracks, corrosion, fire protection, listing", Who: "client, from the owner"},
		trade.Task{What: "Inspection, capacity of members and connections, walls, columns, foundations", Who: "structural engineer"},
		trade.Task{What: "Strengthening, spreading steel, openings, temporary props", Who: "structural engineer designs, builder carries out"},
		trade.Task{What: "Weighed masses of the tanks, pattern of feet, lifting points", Who: "works, before dispatch"},
		trade.Task{What: "Setting out, shimming and grouting of feet before the first filling", Who: "our fitters"},
		trade.Task{What: "Falls, resin, gullies, fire-stopping of openings", Who: "flooring contractor and builder"},
		trade.Task{What: "Level alarms and overflows that the engineer relies on", Who: "us, as agreed with the engineer"},
	)
}

// Architect is the plan of the room for the architect, with what the pieces ask of it.
func Architect(r configurator.Report) []paper.Section {
	fig, err := RoomPlan(r, PlanWidth, PlanHeight)
	blocks := []paper.Block{say.Note("The plan could not be drawn: %s.", err)}
	if err == nil {
		blocks = []paper.Block{paper.Figure{Drawing: fig, Caption: "Plan. Dashed: space for work and service; hatched or dotted: ground to be kept free; arcs: door leaves. The mark inside a piece shows its working side."}}
	}
	tables := []paper.Block{roomFacts(r), pieceTable(r), doorTable(r), conflictTable(r)}
	tables = append(tables, trade.Facts(r, "room-facts", "site.room", "site.drainage", "site.listed_building", "site.floor_above_street_m"), architectByWhom())
	return []paper.Section{
		{Title: "Room and equipment", NewPage: true, Blocks: trade.Blocks(tables...)},
		{Title: "Plan of the room", NewPage: true, Wide: true, Blocks: blocks},
	}
}

// Drainage is the floor's drainage for the plumber and the flooring contractor.
func Drainage(r configurator.Report) []paper.Section {
	return []paper.Section{{Title: "Drainage of the floor", NewPage: true, Blocks: trade.Blocks(append([]paper.Block{gullyTable(r)}, drainBlocks(r)...)...)}}
}

func drainBlocks(r configurator.Report) []paper.Block {
	if r.Floor == nil {
		return nil
	}
	var out []paper.Block
	if t := drainTable(r.Floor); len(t.Rows) > 0 {
		out = append(out, t)
	}
	if f := fallFacts(r.Floor); f != nil {
		out = append(out, say.Heading("Falls and channel"), *f)
	}
	return out
}

func roomFacts(r configurator.Report) paper.Facts {
	room := configurator.Room(r.Project)
	lo, hi := room.Outline.Bounds()
	s := r.Project.Site
	fact := func(name, value, note string) paper.Fact {
		return paper.Fact{Name: name, Value: paper.W(value), Note: note}
	}
	out := paper.Facts{Columns: 2, Facts: []paper.Fact{
		fact("Site", s.Name, ""), fact("Level", level(s.Level), ""),
		fact("Room", metres(hi.X-lo.X)+" × "+metres(hi.Y-lo.Y), "over all"), fact("Area", unit.Fixed(room.Outline.Area(), 1), ""),
		fact("Clear height", say.Known(s.Room.Height.Ptr()), s.Room.Height.Basis.Word()),
		fact("Listed", listed(r), s.Listed.Basis.Word()),
	}}
	if r.Floor != nil && room.Persons != nil {
		e := r.Floor.Escape
		out.Facts = append(out.Facts, fact("Ways out", fmt.Sprintf("%s, %s clear asked", exits(e.Exits), e.Width), fmt.Sprintf("%d people at work", *room.Persons)))
		if len(e.CutOff)+len(e.Blocked) > 0 {
			out.Facts = append(out.Facts, fact("Cut off", strings.Join(append(e.CutOff, e.Blocked...), ", "), "no way out of that width"))
		}
	}
	return out
}

func exits(n int) string {
	if n == 1 {
		return "1 exit"
	}
	return fmt.Sprintf("%d exits", n)
}

func listed(r configurator.Report) string {
	if p := r.Project.Site.Listed.Ptr(); p != nil {
		return say.YesNo(*p)
	}
	return "unknown"
}

// pieceTable is each piece with its size, height and the space it asks for.
func pieceTable(r configurator.Report) paper.Table {
	n, w := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "room-pieces", Title: "Pieces and the space they ask for",
		Columns: []paper.Column{
			w("tag", "Piece"), n("x", "x", "m"), n("y", "y", "m"), n("turn", "Turn", "°"), n("length", "Length or ⌀", "mm"), n("width", "Width", "mm"), n("height", "Height", "mm"),
			n("front", "Front", "mm"), n("side", "Sides", "mm"), n("back", "Back", "mm"), n("above", "Above", "mm"), w("stands", "Stands"),
		},
		Notes: []string{"x and y: middle of the piece from the south-west corner of the room. Front, sides, back, above: clear space for work and service. Hung: on a wall or under the ceiling."},
	}
	for _, p := range r.Pieces {
		it := r.PlanItem(p)
		x, y, turn := paper.W("open"), paper.W("open"), paper.Cell{}
		if it.Place != nil {
			x, y, turn = say.Number(it.Place.At.X, "m", 2), say.Number(it.Place.At.Y, "m", 2), say.Number(it.Place.Turn, "deg", 0)
		}
		width := say.Number(it.Width, "mm", 0)
		if it.Round {
			width = paper.W("⌀")
		}
		t.Rows = append(t.Rows, say.Row(
			paper.W(p.Tag), x, y, turn, say.Number(it.Length, "mm", 0), width, say.Number(it.Height, "mm", 0),
			some(it.Clearance.Front, "mm", 0), some(it.Clearance.Side, "mm", 0), some(it.Clearance.Back, "mm", 0), some(it.Clearance.Above, "mm", 0), paper.W(stands(it))))
	}
	return trade.Fit(trade.Plain(trade.Dense(t)), trade.Upright)
}

func stands(it plan.Item) string {
	switch {
	case it.Outside:
		return "outside"
	case it.Wall:
		return "hung"
	}
	return "on floor"
}

func doorTable(r configurator.Report) paper.Table {
	n, w := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "room-doors", Title: "Doors",
		Columns: []paper.Column{w("name", "Door"), n("x", "x", "m"), n("y", "y", "m"), n("width", "Clear width", "mm"), w("basis", "Known how"), w("opens", "Opens"), w("out", "Way out")},
	}
	for _, d := range r.Project.Site.Room.Doors {
		opens := "outwards"
		if d.Swing {
			opens = "into the room"
		}
		t.Rows = append(t.Rows, say.Row(paper.W(d.Name), say.Number(d.At.X, "m", 2), say.Number(d.At.Y, "m", 2), say.Maybe(d.Width.Ptr(), "mm", 0), paper.W(d.Width.Basis.Word()), paper.W(opens), paper.W(say.YesNo(d.Escape))))
	}
	return t
}

func conflictTable(r configurator.Report) paper.Table {
	t := paper.Table{Name: "room-conflicts", Title: "Where space is short", Columns: []paper.Column{{Title: "Piece"}, {Title: "Against"}, {Title: "Matter"}, {Title: "Asked", Unit: "mm", Kind: paper.Number}, {Title: "There", Unit: "mm", Kind: paper.Number}}}
	if r.Floor == nil {
		return t
	}
	for _, c := range r.Floor.Conflicts {
		t.Rows = append(t.Rows, conflictRow(c))
	}
	return trade.Fit(trade.Plain(trade.Dense(t)), trade.Upright)
}

func architectByWhom() paper.Table {
	return trade.ByWhom(
		"room-by-whom",
		trade.Task{What: "Survey drawing of the room: walls, columns, levels, ceiling, services", Who: "architect, from the owner"},
		trade.Task{What: "Escape, fire compartments, listed building and planning consents", Who: "architect"},
		trade.Task{What: "Openings in walls, floor and roof", Who: "architect and structural engineer"},
		trade.Task{What: "Washable walls and floor, lighting, ventilation outlets through the roof", Who: "architect, with the trades"},
		trade.Task{What: "Places of the equipment, service space, connection points", Who: "us"},
	)
}

func conflictRow(c plan.Conflict) paper.Row {
	return say.Row(paper.W(c.A), paper.W(c.B), paper.W(matter(c.Kind)), some(c.Need, "mm", 0), some(c.Have, "mm", 0))
}

// matter says what a piece is in the way of.
func matter(k plan.Kind) string {
	switch k {
	case plan.KindUnplaced:
		return "has no place yet"
	case plan.KindOutline:
		return "too near the wall"
	case plan.KindOverlap:
		return "two bodies in one place"
	case plan.KindService:
		return "stands in its service space"
	case plan.KindFront:
		return "working side is cut short"
	case plan.KindColumn:
		return "too near a column"
	case plan.KindSwing:
		return "in the sweep of a door"
	case plan.KindDoorway:
		return "before a door"
	case plan.KindBoard:
		return "before an electrical board"
	case plan.KindCeiling:
		return "higher than the room"
	case plan.KindAbove:
		return "no room over it for service"
	case plan.KindNoHeight:
		return "height of the room unknown"
	}
	return string(k)
}
