package paper

// Closing is the two sections that every document ends with: what is taken as true
// and what is open. Where there is nothing of either, it says so in words. Where the
// document lists them itself, one section says where they stand.
func (d Doc) Closing() []Section {
	l := LabelsFor(d.Locale)
	if d.FactsStand != "" {
		return []Section{{Title: l.FactsStand, Blocks: []Block{Paragraph{Text: Plain(d.FactsStand)}}}}
	}
	assumed := Table{Name: l.Assumptions, Columns: closingColumns(l.Assumption, l.Basis, l.Confirm)}
	for i, a := range d.Assumptions {
		assumed.Rows = append(assumed.Rows, closingRow(i, a.Text, a.Basis, a.Confirm))
	}
	open := Table{Name: l.OpenPoints, Columns: closingColumns(l.OpenPoint, l.Who, l.When)}
	for i, p := range d.OpenPoints {
		open.Rows = append(open.Rows, closingRow(i, p.Text, p.Who, p.When))
	}
	return []Section{closingSection(assumed, l.NoneAssumed), closingSection(open, l.NoneOpen)}
}

func closingColumns(text, second, third string) []Column {
	return []Column{{Kind: Number, Width: 3}, {Title: text, Width: 55}, {Title: second, Width: 20}, {Title: third, Width: 20}}
}

func closingRow(i int, text, second, third string) Row {
	return Row{Cells: []Cell{I(i + 1), W(text), W(second), W(third)}}
}

func closingSection(t Table, none string) Section {
	if len(t.Rows) == 0 {
		return Section{Title: t.Name, Blocks: []Block{Paragraph{Text: Plain(none)}}}
	}
	return Section{Title: t.Name, Blocks: []Block{t}}
}
