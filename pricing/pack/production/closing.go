package production

import (
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/brewing"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
)

// questions are what the brewer has to settle: open checks, facts not yet known,
// and who does what.
func questions(r configurator.Report) []paper.Block {
	var blocks []paper.Block
	if items := trade.Findings(r, configurator.Brewing); len(items) > 0 {
		blocks = append(blocks, paper.Findings{Items: items})
	} else {
		blocks = append(blocks, say.Para("Every check of the brewing plan is in order."))
	}
	if t := factTable(r); len(t.Rows) > 0 {
		blocks = append(blocks, t)
	}
	return append(blocks, workTable())
}

// factTable lists the facts that the plan rests on.
func factTable(r configurator.Report) paper.Table {
	return trade.Facts(r, "brewing-facts", "brief", "site.water", "*.rated_kg", "site.drainage.effluent_consent")
}

func workTable() paper.Table {
	t := paper.Table{
		Name: "brewing-work", Title: "Who does what, unless the quotation says otherwise",
		Columns: []paper.Column{{Title: "What"}, {Title: "By"}, {Title: "Note"}},
	}
	for _, w := range [][3]string{
		{"brewhouse, tanks and their fittings; water run and trial of the controls", "brewery supplier", "before the first brew"},
		{"recipes, brewing liquor treatment, yeast", "brewer", "malt and hops of the batch sheets are by kind of beer"},
		{"first brews", "brewer", "with the supplier at hand where it was ordered"},
		{"registration as a producer, duty returns", "client", brewing.CheckText},
		{"food safety plan and its records", "client", "hazard analysis before the first sale"},
		{"malt store, collection of spent grain", "client", "grain leaves within 24 to 48 hours"},
		{"assessment of lifting and carrying", "client", "as the employer"},
		{"consent for waste water", "client", "the water company decides"},
	} {
		t.Rows = append(t.Rows, say.Row(paper.W(w[0]), paper.W(w[1]), paper.W(w[2])))
	}
	return t
}

func assumptions(plan *brewing.Result) []paper.Block {
	if len(plan.Assumptions) == 0 {
		return []paper.Block{say.Para("None: the brief gives every working figure.")}
	}
	return []paper.Block{Taken(plan)}
}

// Taken lists the working figures that the brief does not give.
func Taken(plan *brewing.Result) paper.Table {
	t := paper.Table{
		Name: "brewing-assumptions", Title: "Taken because the brief does not say",
		Columns: []paper.Column{{Title: "What"}, {Title: "Taken", Align: paper.Right}},
		Notes:   []string{"Common practice unless the workings name a source. The brewer corrects what is known better; the plan is then worked out again."},
	}
	group := ""
	for _, a := range plan.Assumptions {
		if g := groupOf(a.Field); g != group {
			group = g
			t.Rows = append(t.Rows, say.Group(g))
		}
		t.Rows = append(t.Rows, say.Row(paper.W(say.Capital(a.Words)), paper.W(taken(a.Quantity))))
	}
	return t
}

// groupOf names the part of the brief that a working figure belongs to.
func groupOf(field string) string {
	part, _, _ := strings.Cut(field, ".")
	switch part {
	case "Practice":
		return "Brewhouse and process"
	case "Year":
		return "The year"
	case "Beers":
		return "Beers"
	}
	return part
}

// taken prints a value taken in the unit a brewer thinks in.
func taken(q unit.Quantity) string {
	switch x := q.(type) {
	case nil:
		return "—"
	case unit.Duration:
		switch {
		case x >= unit.Days(2):
			return unit.Digits(x.D(), 3) + " d"
		case x <= unit.Hours(1):
			return unit.In(x, "min", 0)
		}
	case unit.Ratio:
		if x > 2 {
			return unit.Digits(x.Value(), 3) + " to 1"
		}
	}
	return q.String()
}

func closing(plan *brewing.Result) []paper.Block {
	blocks := []paper.Block{
		paper.Caution{Title: "Hot liquor, wort and cleaning chemicals", Lines: say.Texts([]string{
			"Liquor at 75 °C and more, boiling wort and caustic scald and burn. Hoses, valves and manways are opened only when the vessel is vented and drained; goggles, gloves and boots are worn.",
		})},
		paper.Caution{Title: "Carbon dioxide", Lines: say.Texts([]string{
			"Fermentation gives the CO₂ of the batch sheets into the room or its vent. It has no smell and kills. No one enters a tank or a cellar without ventilation, a working alarm and a second person outside; entry to tanks follows the rules for confined spaces.",
		})},
		paper.Caution{Title: "Closed tanks", Lines: say.Texts([]string{
			"A tank is closed only up to the pressure on its plate, with its relief and vacuum valves tested. A cask beer or an open tank is never closed to carbonate.",
		})},
	}
	if s := sources(plan.Trace); len(s) > 0 {
		blocks = append(blocks, say.Heading("Sources of the figures"), paper.Sources{Items: s})
	}
	return blocks
}
