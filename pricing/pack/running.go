package pack

import (
	"fmt"

	"tunwright/pricing/offer"
	"tunwright/pricing/pack/electrician"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

// runningCost is what the electricity of a brew costs the client by the tariff that
// was entered; without one it says what is missing.
func runningCost(j job) []paper.Block {
	c, ok, err := offer.Running(j.Offer)
	switch {
	case err != nil:
		return []paper.Block{say.Note("Running cost not worked out: %s.", err)}
	case !ok:
		return []paper.Block{say.Note("Running cost: not worked out, no tariff of the client's supply has been entered.")}
	}
	t := paper.Table{
		Name: "running-cost", Title: "Running cost of electricity, without tax and standing charges",
		Columns: []paper.Column{
			{Title: "Of", Width: 40},
			{Title: "Energy", Unit: "kWh", Width: 20, Kind: paper.Number},
			{Title: "Cost", Unit: string(c.BrewDay.Currency()), Width: 20, Kind: paper.Money},
		},
	}
	row := func(name string, energy float64, cost paper.Cell) {
		t.Rows = append(t.Rows, say.Row(paper.W(name), paper.N(energy, 1), cost))
	}
	row("A brew day", c.EnergyDay.KWh(), paper.Amount(c.BrewDay))
	row("A brew", c.EnergyBrew.KWh(), paper.Amount(c.Brew))
	if c.PerHectolitre != nil {
		row("A hectolitre of the brewhouse", c.EnergyVolume.KWhHL(), paper.Amount(*c.PerHectolitre))
	}
	note := fmt.Sprintf("Energy of each half hour times the rate in force: %.1f kWh at %s", c.Day.KWh(), c.Tariff.PerKWh)
	if c.Tariff.Night != nil {
		note += fmt.Sprintf(" by day, %.1f kWh at %s from %s to %s", c.Night.KWh(), c.Tariff.Night, c.Tariff.NightFrom, c.Tariff.NightTo)
	}
	return []paper.Block{t, say.Note("%s. Rates: %s, %s.", note, c.Tariff.Source, c.Tariff.Date)}
}

// electricianSections are the electrician's with what the energy costs the client,
// where the energy of a brew day is told.
func electricianSections(j job) []paper.Section {
	sections := electrician.Sections(j.Report)
	for i := range sections {
		if sections[i].Title == electrician.EnergyTitle {
			sections[i].Blocks = append(sections[i].Blocks, runningCost(j)...)
		}
	}
	return sections
}
