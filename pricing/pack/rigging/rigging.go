// Package rigging says what the crane firm, the rigger and the carrier are sent: how
// each piece does on each way in, to the millimetre; what comes off; wheel loads and
// set-down points; the data of each lift with wind; the packed pieces, loading metres
// and containers, and the delivery term.
//
// A competent person plans the lift; what is printed here is data for that plan.
// Begin with Sections.
package rigging

import (
	"fmt"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/access"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
)

// Sections is what the crane, rigging and haulage firms are sent.
func Sections(r configurator.Report) []paper.Section {
	if r.Access == nil {
		return trade.Gap(r, configurator.Access, "Delivery, way in and lifting")
	}
	f := Facts(r)
	return []paper.Section{
		{Title: "Delivery, way in and lifting", Blocks: trade.Blocks(caution(r.Access), header(r), setDownTable(r, f), trade.Facts(r, "route-facts", "site.routes", "site.crane_access", "site.crane_on_road", "site.floor_above_street_m", "site.room.clear_height_mm"))},
		{Title: "Way in", NewPage: true, Wide: true, Blocks: trade.Blocks(append(wayBlocks(f), partBlock(f), WheelTable(r))...)},
		{Title: "Lifting", NewPage: true, Wide: true, Blocks: trade.Blocks(LiftTable(r.Access), planTable(r))},
		{Title: "Freight", NewPage: true, Wide: true, Blocks: trade.Blocks(freightFacts(r.Access), containerTable(r.Access), FreightTable(r.Access))},
		{Title: "Open points and who does what", NewPage: true, Blocks: sources(trade.Blocks(trade.Open(r, configurator.Access, "access-open"), byWhom(r.Access), trade.Sources(r, configurator.Access)))},
	}
}

func sources(blocks []paper.Block) []paper.Block {
	var out []paper.Block
	for _, b := range blocks {
		if _, ok := b.(paper.Sources); ok {
			out = append(out, say.Heading("Rules and sources of the checks"))
		}
		out = append(out, b)
	}
	return out
}

func caution(a *access.Result) paper.Caution {
	return paper.Caution{Title: "Lifting and moving in", Lines: say.Texts([]string{
		a.Planner + " Local law, the crane firm and the appointed person decide on crane, ground, gear and wind.",
		"Never lift a tank by its legs, manway or cladding; two eyes go on a spreader. Nobody stands under a load. Masses marked estimated are confirmed by the works before the lift.",
		"Floors on the way, openings in walls, floor and roof, and props are the structural engineer's.",
	})}
}

func header(r configurator.Report) paper.Facts {
	s := r.Project.Site
	fact := func(name, value, note string) paper.Fact {
		return paper.Fact{Name: name, Value: paper.W(value), Note: note}
	}
	a := r.Access
	best := "none described"
	if a.Best >= 0 {
		b := &a.Routes[a.Best]
		best = fmt.Sprintf("%s: %d pass, %d tight, %d do not pass, %d not known", b.Name, b.Passing, b.Tight, b.Fail, b.Unsure)
	}
	crane := "unknown"
	if p := s.Crane.Ptr(); p != nil {
		crane = say.YesNo(*p)
	}
	return paper.Facts{Columns: 1, Facts: []paper.Fact{
		fact("Site", strings.Join(append([]string{s.Name}, s.Address...), ", "), ""),
		fact("Floor over the street", say.Known(s.Rise.Ptr()), s.Rise.Basis.Word()),
		fact("Clear height of the room", say.Known(s.Room.Height.Ptr()), s.Room.Height.Basis.Word()),
		fact("Best way in", best, ""),
		fact("A crane can stand there", crane, s.Crane.Basis.Word()),
		fact("Heaviest lift", heaviestLift(a), "on the hook, with gear"),
		fact("Lowest wind limit", windLimit(a), "by area and mass"),
		fact("Margins kept", fmt.Sprintf("%s in width, %s in height, %s at a hatch", a.Margins.Width, a.Margins.Height, a.Margins.Hatch), fmt.Sprintf("tight down to %s and %s", a.Margins.TightWidth, a.Margins.TightHeight)),
		fact("Moved on", fmt.Sprintf("skates %s high, %s", a.Carrier.Height, unit.Fixed(a.Carrier.Mass, 0)), fmt.Sprintf("%d people", a.Carrier.People)),
		fact("City centre", say.YesNo(s.City), "road closure and permits take their time"),
	}}
}

func heaviestLift(a *access.Result) string {
	at := -1
	for i := range a.Lifts {
		if at < 0 || a.Lifts[i].Gross > a.Lifts[at].Gross {
			at = i
		}
	}
	if at < 0 {
		return "none over 100 kg"
	}
	return unit.Fixed(a.Lifts[at].Gross, 0) + ", " + strings.TrimSpace(a.Lifts[at].Tag+" "+a.Lifts[at].Piece)
}

func windLimit(a *access.Result) string {
	at := -1
	for i := range a.Lifts {
		if at < 0 || a.Lifts[i].WindLimit < a.Lifts[at].WindLimit {
			at = i
		}
	}
	if at < 0 {
		return "—"
	}
	return unit.Fixed(a.Lifts[at].WindLimit, 1) + ", " + strings.TrimSpace(a.Lifts[at].Tag+" "+a.Lifts[at].Piece)
}

// wayBlocks are the ways in, the best first, and what is short on them.
func wayBlocks(f access.Facts) []paper.Block {
	if len(f.Result.Routes) == 0 {
		return []paper.Block{say.Note("No way in has been described. Walk it and list every opening, turn, lift and hatch with clear width and height.")}
	}
	var out []paper.Block
	if f.Best >= 0 {
		out = append(out, routeTable(&f.Result.Routes[f.Best], true))
	}
	for i := range f.Result.Routes {
		if i != f.Best {
			out = append(out, routeTable(&f.Result.Routes[i], false))
		}
	}
	short := shortTable(f)
	if len(short.Rows) == 0 {
		return append(out, say.Note("Nothing is short and nothing is tight on the ways described."))
	}
	return append(out, short)
}

func partBlock(f access.Facts) paper.Block {
	t := partTable(f)
	if len(t.Rows) == 0 {
		return say.Note("Nothing has to come off for the best way in.")
	}
	return t
}

func byWhom(a *access.Result) paper.Table {
	unload := "to be agreed"
	if a.Freight.UnloadedBy != "" {
		unload = a.Freight.UnloadedBy + ", under " + a.Freight.Term
	}
	return trade.ByWhom(
		"rigging-by-whom",
		trade.Task{What: "Weighed masses, centres of gravity, rated lifting points, packing", Who: "works, before dispatch"},
		trade.Task{What: "Unloading at the site", Who: unload},
		trade.Task{What: "Lift plan, appointed person, crane, slings, wind on the day", Who: "crane firm under a contract lift; the hirer where only the crane is hired"},
		trade.Task{What: "Moving in on skates, plates and boards, standing tanks up", Who: "rigger"},
		trade.Task{What: "Taking parts off and putting them back", Who: "our fitters"},
		trade.Task{What: "Floors of the way, openings, props, edge protection", Who: "structural engineer and builder"},
		trade.Task{What: "Road closure, parking, licences", Who: "whoever contracts the crane, with the council"},
		trade.Task{What: "Consent of owner, neighbours and lift maintainer", Who: "client"},
	)
}
