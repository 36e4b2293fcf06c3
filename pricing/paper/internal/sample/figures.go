package sample

import (
	"time"

	"tunwright/catalog/unit"
	"tunwright/pricing/paper/drawing"
)

// Plan is a room to scale with two tanks, a door, dimensions and a scale bar.
func Plan() (drawing.Drawing, error) {
	d := drawing.Drawing{Width: 170, Height: 110, Title: "Plan of the upper floor", Description: "A room of eight by five metres with two tanks along the north wall and a double door in the east wall."}
	v, err := drawing.Fit(unit.Metres(8), unit.Metres(5), d, 14)
	if err != nil {
		return d, err
	}
	m := unit.Metres
	d.Add(
		v.Rect(m(-0.3), m(-0.3), m(8.6), m(5.6), drawing.Medium, drawing.Fill{Hatch: drawing.Dense}),
		v.Rect(m(0), m(0), m(8), m(5), drawing.Medium, drawing.Tint(drawing.White)),
		v.Circle(m(1.2), m(3.9), m(0.7), drawing.Heavy, drawing.Fill{Hatch: drawing.Rising}),
		v.Circle(m(3.0), m(3.9), m(0.7), drawing.Heavy, drawing.Fill{}),
		drawing.Text{At: v.At(m(1.2), m(3.85)), Text: "FV1", Anchor: drawing.Middle, Bold: true, Halo: true},
		drawing.Text{At: v.At(m(3.0), m(3.85)), Text: "FV2", Anchor: drawing.Middle, Bold: true},
		v.Rect(m(8), m(1), m(0.3), m(1.8), drawing.Medium, drawing.Tint(drawing.White)),
		drawing.Arc{Centre: v.At(m(8), m(1)), Radius: v.MM(m(0.9)), From: 180, To: 270, Pen: drawing.Pen{Width: 0.18, Colour: drawing.Ink, Dash: drawing.Dashed}},
		drawing.Dimension(v.At(m(0), m(0)), v.At(m(8), m(0)), 9, "8 000"),
		drawing.Dimension(v.At(m(0), m(5)), v.At(m(0), m(0)), 10, "5 000"),
		drawing.Dimension(v.At(m(1.2), m(3.9)), v.At(m(3.0), m(3.9)), 18, "1 800"),
		v.ScaleBar(drawing.P(12, 103), 4),
		drawing.NorthArrow(drawing.P(158, 14), 15),
	)
	return d, nil
}

// Bars is a tank schedule over ten weeks.
func Bars() (drawing.Drawing, error) {
	day := func(n int) time.Time { return Date.AddDate(0, 0, n) }
	keys := []drawing.Key{{Name: "Best bitter", Fill: drawing.ChartFill(1)}, {Name: "Lager", Fill: drawing.ChartFill(2)}, {Name: "Cleaning", Fill: drawing.ChartFill(0)}}
	row := func(label string, shift int) drawing.BarRow {
		return drawing.BarRow{Label: label, Bars: []drawing.Bar{
			{From: day(shift), To: day(shift + 14), Label: "Best bitter 12", Fill: keys[0].Fill},
			{From: day(shift + 14), To: day(shift + 15), Fill: keys[2].Fill},
			{From: day(shift + 15), To: day(shift + 43), Label: "Lager 3", Fill: keys[1].Fill},
			{From: day(shift + 43), To: day(shift + 50), Label: "float", Outline: true},
		}}
	}
	return drawing.BarSchedule{
		Title: "Tank schedule over ten weeks", Description: "Four tanks; each holds a bitter for two weeks and a lager for four.",
		Width: 170, From: Date, To: day(70), Keys: keys,
		Rows:  []drawing.BarRow{row("FV1", 0), row("FV2", 5), row("FV3", 9), row("Bright tank 1", 16)},
		Marks: []drawing.TimeMark{{At: day(45), Label: "opening day"}},
	}.Draw()
}

// Steps is the demand of a brew day.
func Steps() (drawing.Drawing, error) {
	return drawing.StepChart{
		Title: "Electrical demand of a brew day", Description: "Demand by the hour; it goes beyond the supply's 43.5 kW from nine to eleven.",
		Width: 170, Height: 80, Unit: "kW", FirstHour: 5, Limit: 43.5, LimitLabel: "supply 43.5 kW", PeakLabel: "peak",
		Series: []drawing.Series{
			{Name: "Kettle", Values: []drawing.Value{0, 0, 0, 0, 24, 24, 18, 18, 0, 0, 0, 0}},
			{Name: "Hot liquor tank", Values: []drawing.Value{18, 18, 18, 6, 18, 18, 0, 0, 6, 6, 0, 0}},
			{Name: "Chiller", Values: []drawing.Value{4, 4, 4, 4, 4, 6.5, 8, 11, 11, 8, 4, 4}},
			{Name: "Pumps and controls", Values: []drawing.Value{1, 1, 2, 3, 3, 3, 3, 3, 2, 2, 1, 1}},
		},
	}.Draw()
}

// Full is how full the members of a floor are.
func Full() (drawing.Drawing, error) {
	ratio := func(v float64) *unit.Ratio { r := unit.Ratio(v); return &r }
	return drawing.FillBars{
		Title: "Floor members against their limits", Description: "Beam B2 is over its limit; B4 is not known.",
		Width: 170, LimitLabel: "allowed", OverLabel: "over", Unknown: "not known",
		Rows: []drawing.FillRow{
			{Label: "Joists, bay 1", Part: ratio(0.62), Words: "3.1 of 5.0 kN/m²"},
			{Label: "Beam B1", Part: ratio(0.97), Words: "58 of 60 kNm"},
			{Label: "Beam B2", Part: ratio(1.23), Words: "74 of 60 kNm"},
			{Label: "Beam B4"},
		},
	}.Draw()
}

// Circuits is the single-line diagram of a board with two rows of circuits.
func Circuits() (drawing.Drawing, error) {
	way := func(name, device, cable string, load drawing.Symbol, words, details string, more ...drawing.Part) drawing.Circuit {
		symbol := drawing.Breaker
		if load == drawing.Socket || load == drawing.Heater {
			symbol = drawing.ResidualBreaker
		}
		return drawing.Circuit{
			Name: name, Parts: append([]drawing.Part{{Symbol: symbol, Words: []string{device}}}, more...),
			Cable: cable, Load: load, Words: words, Details: details,
		}
	}
	drive := drawing.Part{Symbol: drawing.Drive, Words: []string{"VSD"}}
	soft := drawing.Part{Symbol: drawing.SoftStarter, Words: []string{"soft"}}
	contactor := drawing.Part{Symbol: drawing.Contactor, Words: []string{"K1"}}
	sheets, err := drawing.SingleLine{
		Title: "Single-line diagram of board DB1", Description: "The supply, its protection and the circuits of the brewhouse.",
		Width: 170, Earthing: "TN-C-S (told)", Board: "DB1, 400 V 3~, 50 Hz", Continued: "continued",
		Supply: []drawing.Part{
			{Symbol: drawing.Fuse, Words: []string{"cut-out 80 A (told)", "3 × 400 V"}},
			{Symbol: drawing.Meter, Words: []string{"meter"}},
			{Symbol: drawing.Disconnector, Words: []string{"main switch 100 A"}},
		},
		Circuits: []drawing.Circuit{
			way("1", "B40", "5 × 10 mm², 22 m", drawing.Heater, "Kettle element bank 1", "24 kW, L1 L2 L3", contactor),
			way("2", "B32", "5 × 6 mm², 18 m", drawing.Heater, "Hot liquor tank", "18 kW, L1 L2 L3", contactor),
			way("3", "C16", "4 × 2.5 mm², 15 m", drawing.Motor, "Mash pump", "1.5 kW", drive),
			way("4", "C25", "4 × 4 mm², 30 m", drawing.Motor, "Glycol chiller", "7.5 kW", soft),
			way("5", "B16", "3 × 2.5 mm², 12 m", drawing.Socket, "Sockets, brewhouse", "L2"),
			way("6", "C20", "5 × 4 mm², 8 m", drawing.Board, "Control panel CP1", "11 kW"),
			way("7", "B6", "3 × 1.5 mm², 40 m", drawing.Load, "CO2 alarm", "0.1 kW, L3"),
			way("8", "C16", "4 × 2.5 mm², 15 m", drawing.Motor, "Wort pump", "1.5 kW", drive),
			way("9", "C16", "4 × 2.5 mm², 15 m", drawing.Motor, "Mill", "2.2 kW", soft),
			way("10", "B16", "3 × 2.5 mm², 26 m", drawing.Socket, "Sockets, cellar", "L1"),
			way("11", "B10", "3 × 1.5 mm², 26 m", drawing.Load, "Lighting", "0.4 kW, L1"),
			{Name: "12", Parts: []drawing.Part{{Symbol: drawing.ResidualSwitch, Words: []string{"40 A", "30 mA"}}}, Cable: "spare"},
		},
	}.Draw(240)
	if err != nil {
		return drawing.Drawing{}, err
	}
	return sheets[0], nil
}
