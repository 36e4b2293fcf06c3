// Package sample holds a document that uses every kind of block. The writers' tests
// draw it; its firm, people and figures are invented.
package sample

import (
	"fmt"
	"time"

	"tunwright/pricing/money"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/drawing"
)

// Date is the date of the sample documents.
var Date = time.Date(2026, time.November, 25, 0, 0, 0, 0, time.UTC)

// Firm is an invented firm.
func Firm() paper.Firm {
	return paper.Firm{
		Name:    "Harrowmere Brewing Plant",
		Address: []string{"Unit 6, Tannery Yard", "Millbridge MB4 7QX"},
		Contact: []string{"+44 1632 960 145", "plant@harrowmere.example"},
		Colour:  drawing.Blue,
		Legal:   "Harrowmere Brewing Plant Ltd, registered in England no. 00000000, VAT GB 000 0000 00. Prices exclude VAT unless stated.",
	}
}

// Doc uses every block.
func Doc() paper.Doc {
	return paper.Doc{
		Title: "Electrical load schedule", Subtitle: "Ten-hectolitre brewhouse, Old Maltings, upper floor",
		Number: "Q-2026-0042-EL", Revision: "B", Date: Date, Subject: "Loads, connections and cautions for the electrician",
		Author: "R. Aldous", Firm: Firm(),
		Client:   paper.Party{Name: "Saltmarsh Beer Company", Address: []string{"The Old Maltings", "Quay Street", "Saltmarsh SM1 2AB"}},
		Facts:    []paper.Fact{{Name: "Valid until", Value: paper.W("25 January 2027")}},
		Contents: true, Numbered: true,
		Sections: []paper.Section{
			{Title: "Summary", Blocks: summary()},
			{Title: "Findings", Blocks: []paper.Block{findings()}},
			{Title: "Load schedule", NewPage: true, Blocks: []paper.Block{
				paper.Paragraph{Text: paper.Plain("Every item that draws current, by the place where it stands. Currents are at the rated voltage and the power factor stated.")},
				LoadTable(40),
			}},
			{Title: "Price of the electrical options", Blocks: []paper.Block{PriceTable()}},
			{Title: "Drawings", NewPage: true, Blocks: figures()},
			{Title: "Circuit schedule", Wide: true, Blocks: []paper.Block{WideTable()}},
			{Title: "Workings", Blocks: []paper.Block{Working(), paper.Sources{Items: []string{
				"BS 7671:2018+A2:2022, Requirements for Electrical Installations",
				"EN 60204-1:2018, Safety of machinery: electrical equipment of machines",
			}}}},
			{Title: "Acceptance", Blocks: []paper.Block{
				paper.Paragraph{Voice: paper.Small, Text: paper.Plain("By signing, the parties agree to the scope of this schedule at the revision named on every page. Work on the supply itself is for the network operator and a licensed electrician.")},
				paper.Signatures{Items: []string{"For the client", "For the firm"}},
			}},
		},
		Assumptions: []paper.Assumption{
			{Text: "The supply is three-phase, 400 V, 50 Hz with an 80 A cut-out fuse.", Basis: "told on the telephone", Confirm: "Network operator"},
			{Text: "The distribution board on the upper floor has room for nine further ways.", Basis: "photograph", Confirm: "Electrician on site"},
		},
		OpenPoints: []paper.OpenPoint{
			{Text: "What earthing system does the supply have?", Who: "Network operator", When: "before the order"},
		},
	}
}

func summary() []paper.Block {
	return []paper.Block{
		paper.Paragraph{Voice: paper.Lead, Text: paper.Plain("The brewhouse needs 78.2 A a phase at its peak; the supply gives 63 A. Heating the hot liquor by night brings the peak to 58.4 A.")},
		paper.Paragraph{Text: paper.Marked("This schedule is for the **electrician** who prices and carries out the work. It states what each item draws, __when__ it draws it and what the supply has to carry. Loads marked “told” come from the client’s description of the site and are to be confirmed before anything is ordered. Design of circuits, protection and earthing remains with the licensed designer, who has to check every figure against the installation as found and the wiring rules in force (BS 7671 in the United Kingdom).")},
		paper.Facts{Columns: 2, Facts: []paper.Fact{
			{Name: "Supply", Value: paper.W("TN-C-S, 3 × 400 V"), Note: "told"},
			{Name: "Connected load", Value: paper.N(61.35, 1), Unit: "kW"},
			{Name: "Cut-out fuse", Value: paper.I(80), Unit: "A", Note: "photograph"},
			{Name: "Greatest demand", Value: paper.N(54.2, 1).Bold(), Unit: "kW"},
		}},
		paper.Heading{Level: 2, Text: "What to do first"},
		paper.List{Numbered: true, Items: []paper.Text{
			paper.Plain("Ask the network operator for the earthing system and the prospective fault current at the cut-out."),
			paper.Marked("Decide between **night heating** of the hot liquor tank and a larger supply; the second takes twelve weeks."),
			paper.Plain("Fix the place of the control panel: 600 mm clear in front, no pipe joints above."),
		}},
		paper.Heading{Level: 3, Text: "Signs used"},
		paper.List{Items: []paper.Text{
			paper.Symbols("I_b design current, I_n rating of the protective device, I_z current-carrying capacity, so that I_b ≤ I_n ≤ I_z"),
			paper.Plain("ΔT temperature difference, η efficiency, ρ density, Ø diameter, cos φ power factor, ± tolerance, ≈ about, ∠ angle, ½ inch"),
		}},
		paper.Note{Text: paper.Plain("Currents of motors are at full load; starting currents are in the notes to the schedule.")},
		paper.Caution{Title: "Electricity", Lines: []paper.Text{
			paper.Plain("Work on electrical installations is for licensed persons. Isolate, lock off and prove dead before work begins."),
			paper.Plain("Elements must never be energised dry: interlock level with heating."),
		}},
	}
}

func findings() paper.Findings {
	return paper.Findings{Items: []paper.Finding{
		{
			Gravity: paper.Stops, ID: "EL-010", Title: "Maximum demand exceeds the supply", Subject: "main cut-out",
			Need: "78.2 A", Have: "63 A",
			Words:    "With kettle and hot liquor tank heating together, the main fuse opens and the brew in progress is lost.",
			Remedies: []string{"Heat the hot liquor by night: 58.4 A, 4.6 A to spare.", "Ask the network operator for 100 A: 21.8 A to spare."},
			Source:   "BS 7671:2018+A2:2022, 311.1 and 433.1.1",
		},
		{
			Gravity: paper.Warns, ID: "EL-021", Title: "Phases are out of balance", Need: "at most 10 %", Have: "17 %",
			Words:    "L2 carries 17 % more than the mean of the three phases, which wastes capacity of the supply.",
			Remedies: []string{"Move the glycol pump to L3: 6 %."}, Source: "common practice, no source", Accepted: "R. Aldous, 20 November 2026: panel is rewired in stage 2 anyway.",
		},
		{Gravity: paper.Mentions, ID: "EL-030", Title: "Soft start fitted to the mash pump", Words: "Starting current is limited to three times full load."},
		{Gravity: paper.Unanswered, ID: "EL-041", Title: "Disconnection time", Words: "The earth-fault loop impedance at the board isn’t known.", Remedies: []string{"Have it measured at the board."}, Source: "BS 7671:2018+A2:2022, 411.3.2"},
		{Gravity: paper.InOrder, ID: "EL-050", Title: "Voltage drop of the kettle circuit", Need: "≤ 5 %", Have: "1.8 %", Source: "BS 7671:2018+A2:2022, appendix 4, 6.4"},
	}}
}

// LoadTable is a long schedule of n loads in groups, with subtotals and a total.
func LoadTable(n int) paper.Table {
	t := paper.Table{
		Name: "Loads", Title: "Loads by place",
		Columns: []paper.Column{
			{Key: "no", Title: "No.", Kind: paper.Number},
			{Key: "item", Title: "Item"},
			{Key: "place", Title: "Place"},
			{Key: "phase", Title: "Phase", Align: paper.Centre},
			{Key: "p", Title: "Power", Unit: "kW", Kind: paper.Number},
			{Key: "i", Title: "Design current", Unit: "A", Kind: paper.Number},
			{Key: "note", Title: "Note"},
		},
		Notes:   []string{"Motors: full-load current; direct start draws up to six times as much for about a second."},
		Sources: []string{"data sheets of the items; EN 60204-1:2018, clause 6"},
	}
	items := []string{"Kettle element bank", "Mash pump", "Glycol chiller", "Glycol circulation pump", "Control panel", "Hot liquor element bank with low-level interlock"}
	group, total := 0.0, 0.0
	for i := range n {
		if i%10 == 0 {
			t.Rows = append(t.Rows, paper.Row{Kind: paper.Group, Cells: []paper.Cell{paper.W(fmt.Sprintf("Room %d: %s", i/10+1, []string{"brewhouse", "cellar", "plant room", "store"}[i/10%4]))}})
			group = 0
		}
		kw := 0.75 + float64(i*37%113)/10
		group, total = group+kw, total+kw
		note := ""
		if i%7 == 3 {
			note = "variable-speed drive, type F residual-current device"
		}
		t.Rows = append(t.Rows, paper.Row{Cells: []paper.Cell{
			paper.I(i + 1), paper.W(items[i%len(items)]), paper.W([]string{"upper floor", "cellar"}[i%2]), paper.W([]string{"L1", "L2", "L3", "3~"}[i%4]),
			paper.N(kw, 2), paper.N(kw*1.443, 1), paper.W(note),
		}})
		if i%10 == 9 || i == n-1 {
			t.Rows = append(t.Rows, sumRow(paper.Subtotal, "Together", group))
		}
	}
	t.Rows = append(t.Rows, sumRow(paper.Total, "All places", total))
	return t
}

func sumRow(kind paper.RowKind, words string, kw float64) paper.Row {
	return paper.Row{Kind: kind, Cells: []paper.Cell{
		{}, paper.W(words), {}, {}, paper.N(kw, 2).WithFormula("SUM({p:items})"), paper.N(kw*1.443, 1), {},
	}}
}

// PriceTable carries live formulas.
func PriceTable() paper.Table {
	gbp := func(s string) paper.Cell {
		a, err := money.New(s, "GBP")
		if err != nil {
			return paper.W(err.Error())
		}
		return paper.Amount(a)
	}
	line := func(item string, qty int, price, net string) paper.Row {
		return paper.Row{Cells: []paper.Cell{paper.W(item), paper.I(qty), gbp(price), gbp(net).WithFormula("ROUND({qty}*{price},2)")}}
	}
	return paper.Table{
		Name: "Price", Title: "Options",
		Columns: []paper.Column{
			{Key: "item", Title: "Item", Width: 52},
			{Key: "qty", Title: "Quantity", Kind: paper.Number, Width: 14},
			{Key: "price", Title: "Price each", Unit: "GBP", Kind: paper.Money, Width: 17},
			{Key: "net", Title: "Net", Unit: "GBP", Kind: paper.Money, Width: 17},
		},
		Rows: []paper.Row{
			line("Night heating control for the hot liquor tank", 1, "1845.00", "1845.00"),
			line("Soft starter, 7.5 kW", 2, "412.35", "824.70"),
			line("Credit for the standard contactor", -2, "61.10", "-122.20"),
			{Kind: paper.Subtotal, Name: "net", Cells: []paper.Cell{paper.W("Net"), {}, {}, gbp("2547.50").WithFormula("SUM({net:items})")}},
			{Name: "vat", Cells: []paper.Cell{paper.W("VAT at 20 %"), {}, {}, gbp("509.50").WithFormula("ROUND({net@net}*20/100,2)")}},
			{Kind: paper.Total, Cells: []paper.Cell{paper.W("To pay"), {}, {}, gbp("3057.00").WithFormula("{net@net}+{net@vat}")}},
		},
	}
}

// WideTable has more columns than an upright page carries.
func WideTable() paper.Table {
	t := paper.Table{Name: "Circuits", Title: "Circuits of board DB1", Notes: []string{"Cable sizes are proposals for the designer to check."}, Columns: []paper.Column{
		{Title: "Way"},
		{Title: "Item"},
		{Title: "Phase"},
		{Title: "Power", Unit: "kW", Kind: paper.Number},
		{Title: "cos φ", Kind: paper.Number},
		{Title: "Design current", Unit: "A", Kind: paper.Number},
		{Title: "Device"},
		{Title: "Rating", Unit: "A", Kind: paper.Number},
		{Title: "Residual current", Unit: "mA", Kind: paper.Number},
		{Title: "Cable"},
		{Title: "Length", Unit: "m", Kind: paper.Number},
		{Title: "Voltage drop", Unit: "%", Kind: paper.Number},
		{Title: "Remarks"},
	}}
	for i := range 30 {
		t.Rows = append(t.Rows, paper.Row{Cells: []paper.Cell{
			paper.W(fmt.Sprintf("DB1.%d", i+1)), paper.W([]string{"Kettle element bank", "Mash pump", "Sockets, brewhouse"}[i%3]), paper.W([]string{"L1 L2 L3", "L1", "L2"}[i%3]),
			paper.N(24-float64(i)/2, 2), paper.N(1-float64(i%3)/20, 2), paper.N(34.6-float64(i)/2, 1),
			paper.W([]string{"MCB B", "MCB C", "RCBO B, type A"}[i%3]), paper.I(40), paper.I(30), paper.W("5 × 10 mm² Cu, H07RN-F"), paper.I(22), paper.N(0.71, 2), paper.W([]string{"", "interlocked with level", ""}[i%3]),
		}})
	}
	return t
}

// Working is a calculation in two steps.
func Working() paper.Working {
	return paper.Working{Title: "Line current of the kettle", Steps: []paper.Step{
		{
			Title: "Line current of a balanced three-phase load", Symbol: "I_b", Formula: "P / (√3 · U · cos φ)",
			Values: []string{"P = 24 kW", "U = 400 V", "cos φ = 1"}, Result: "34.6 A", Source: "definition of three-phase power",
			Note: "harmonics are left out",
		},
		{
			Title: "Voltage drop along the cable", Symbol: "ΔU", Formula: "mV/A/m × I_b × L ÷ 1000",
			Values: []string{"mV/A/m = 3.8", "I_b = 34.6 A", "L = 22 m"}, Result: "2.9 V (0.7 % of 400 V)",
			Source: "BS 7671:2018+A2:2022, table 4D4B [from memory]",
		},
	}}
}

func figures() []paper.Block {
	d := drawing.Drawing{Width: 120, Height: 60, Title: "Hatches", Description: "The hatches side by side."}
	for i, h := range []drawing.Hatch{drawing.Rising, drawing.Falling, drawing.Crossed, drawing.Level, drawing.Upright, drawing.Dense} {
		x := drawing.MM(i) * 20
		d.Add(drawing.Rect(x, 5, 18, 20, drawing.Medium, drawing.Fill{Hatch: h}),
			drawing.Text{At: drawing.P(x+9, 31), Text: fmt.Sprintf("hatch %d", i+1), Anchor: drawing.Middle})
	}
	d.Add(drawing.Circle{Centre: drawing.P(15, 45), Radius: 8, Pen: drawing.Fine, Fill: drawing.Fill{Hatch: drawing.Rising}},
		drawing.Arc{Centre: drawing.P(45, 50), Radius: 10, From: 180, To: 270, Pen: drawing.Pen{Width: 0.3, Dash: drawing.Dashed}},
		drawing.Text{At: drawing.P(70, 55), Text: "turned", Turn: -90},
		drawing.Line{From: drawing.P(80, 50), To: drawing.P(118, 50), Pen: drawing.Pen{Width: 0.4, Dash: drawing.Chain}})
	blocks := []paper.Block{paper.Figure{Drawing: d, Caption: "Figure 1. Hatches of the house."}}
	for i, make := range []func() (drawing.Drawing, error){Plan, Bars, Steps, Full, Circuits} {
		f, err := make()
		if err != nil {
			blocks = append(blocks, paper.Paragraph{Text: paper.Plain(err.Error())})
			continue
		}
		blocks = append(blocks, paper.Figure{Drawing: f, Caption: fmt.Sprintf("Figure %d. %s.", i+2, f.Title)})
	}
	return blocks
}
