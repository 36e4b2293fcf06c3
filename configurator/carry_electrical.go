package configurator

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator/brewing"
	"tunwright/configurator/electrical"
	"tunwright/configurator/enquiry"
)

// electricalInput carries the loads of the selection and the supply to the
// electrician's schedule.
func electricalInput(p enquiry.Project, chosen []Chosen, c *catalog.Catalogue, plan *brewing.Result) electrical.Input {
	in := electrical.Input{
		Rules: electrical.RuleSet(p.Site.Supply.Rules), Loads: loads(chosen), Supply: supply(p.Site.Supply),
		Brews: p.Brief.BrewsDay, DayStart: &p.Brief.DayStart,
	}
	if bh := first(chosen, catalog.ClassBrewhouse); bh != nil {
		length := bh.Product.Brewhouse.Length
		in.BrewVolume = &length
		in.Alternatives = heatAlternatives(in.Loads, chosen, c, bh)
		heatOfElements(in.Loads, plan)
	}
	if limited(chosen) && in.Supply.Fuse != nil && in.Supply.Existing != nil {
		limit := *in.Supply.Fuse - *in.Supply.Existing
		in.Limit = &limit
	}
	return in
}

// limited tells whether a chosen panel is hard-wired to shed heating.
func limited(chosen []Chosen) bool {
	for _, p := range all(chosen, catalog.ClassPanel) {
		if p.Product.Panel != nil && p.Product.Panel.LoadLimit {
			return true
		}
	}
	return false
}

func loads(chosen []Chosen) []electrical.Load {
	count := 0
	for i := range chosen {
		count += chosen[i].Item.Quantity() * len(chosen[i].Product.Loads)
	}
	out := make([]electrical.Load, 0, count)
	for i := range chosen {
		c := &chosen[i]
		for range c.Item.Quantity() {
			for j := range c.Product.Loads {
				out = append(out, load(c, j))
			}
		}
	}
	numberTags(out)
	return out
}

// numberTags makes tags of items bought by the number unique.
func numberTags(loads []electrical.Load) {
	seen := map[string]int{}
	for i := range loads {
		seen[loads[i].Tag]++
		if n := seen[loads[i].Tag]; n > 1 {
			loads[i].Tag = fmt.Sprintf("%s-%d", loads[i].Tag, n)
		}
	}
}

func load(c *Chosen, j int) electrical.Load {
	l := &c.Product.Loads[j]
	out := electrical.Load{
		Tag: c.Item.Tag + "." + strconv.Itoa(j+1), Name: l.Name, Item: c.Item.Tag, Product: c.Product.Code,
		Kind: loadKind(l.Kind), Power: l.Power, Phases: l.Phases, PowerFactor: known(l.Factor),
		Starter: starter(l), StartMultiple: known(l.Start), Control: control(l.Drive), Stages: l.Stages,
		Group: l.Group, IP: l.IP, Leakage: known(l.Leak), Zone: zone(c.Product.Class),
	}
	if l.Phases == 2 {
		out.Phases = 3
	}
	if l.Height > 0 {
		out.Height = &l.Height
	}
	if staysOn(c.Product) {
		stays := true
		out.StaysOn = &stays
	}
	if len(l.States) > 0 {
		out.Runs = make([]electrical.Run, len(l.States))
	}
	for i, state := range l.States {
		out.Runs[i].State = state
	}
	if len(c.Item.Places) > 0 {
		at := c.Item.Places[0].At
		out.X, out.Y = &at.X, &at.Y
	}
	return out
}

// staysOn names what an emergency stop of the brewhouse must not switch off: what
// keeps the cellar cold, and what keeps people alive in it.
func staysOn(p *catalog.Product) bool {
	switch p.Class {
	case catalog.ClassChiller, catalog.ClassFan, catalog.ClassGasAlarm:
		return true
	}
	return p.Pump != nil && p.Pump.For == "coolant"
}

func loadKind(kind string) electrical.Kind {
	switch kind {
	case "element":
		return electrical.Element
	case "motor", "compressor", "fan":
		return electrical.Motor
	case "lighting":
		return electrical.Lighting
	case "socket":
		return electrical.Socket
	}
	return electrical.Electronics
}

func starter(l *catalog.Load) electrical.Starter {
	if loadKind(l.Kind) != electrical.Motor {
		return electrical.NoStarter
	}
	switch l.Drive {
	case "soft-start":
		return electrical.SoftStart
	case "variable-speed":
		return electrical.VariableSpeed
	}
	return electrical.Direct
}

func control(drive string) electrical.Control {
	switch drive {
	case "staged":
		return electrical.Staged
	case "solid-state":
		return electrical.SolidState
	}
	return electrical.OnOff
}

func zone(class catalog.Class) electrical.Zone {
	switch class {
	case catalog.ClassMill:
		return electrical.Malt
	case catalog.ClassChiller:
		return electrical.Outdoor
	case catalog.ClassPanel, catalog.ClassCompressor, catalog.ClassGasAlarm:
		return electrical.Dry
	case catalog.ClassFermenter, catalog.ClassBrightTank:
		return electrical.Cellar
	}
	return electrical.Wet
}

func supply(s enquiry.Supply) electrical.Supply {
	out := electrical.Supply{
		Phases: s.Phases.Ptr(), Voltage: s.Voltage.Ptr(), Fuse: s.Fuse.Ptr(), FuseBasis: electrical.Basis(s.Fuse.Basis),
		Existing: s.Existing.Ptr(), Basis: electrical.Basis(s.Existing.Basis), Ze: s.Ze.Ptr(), Earthing: s.Earthing.Or(""), Fault: s.Fault.Ptr(), Agreed: s.Agreed.Ptr(), Distance: s.Board.Ptr(),
	}
	for _, a := range s.Offers {
		out.Offers = append(out.Offers, electrical.Offer{Phases: 3, Fuse: a, Note: "named by the network operator"})
	}
	return out
}

// heatOfElements tells the kettle's and the liquor tank's elements what heat a brew
// asks of them, so that staging cannot hide that the brew day becomes too long.
func heatOfElements(loads []electrical.Load, plan *brewing.Result) {
	if plan == nil || len(plan.Beers) == 0 {
		return
	}
	var kettle, liquor unit.Energy
	for _, b := range plan.Beers {
		kettle = max(kettle, b.Brew.HeatUp+unit.Joules(b.Brew.BoilPower.W()*b.Brew.BoilTime.S()))
		liquor = max(liquor, b.Brew.LiquorHeat)
	}
	total := map[string]unit.Power{}
	for _, l := range loads {
		if l.Kind == electrical.Element {
			total[heatedBy(l)] += l.Power
		}
	}
	for i := range loads {
		l := &loads[i]
		if l.Kind != electrical.Element {
			continue
		}
		var heat unit.Energy
		switch heatedBy(*l) {
		case "kettle":
			heat = kettle
		case "liquor":
			heat = liquor
		default:
			continue
		}
		share := unit.Joules(heat.J() * l.Power.W() / total[heatedBy(*l)].W())
		l.Heat = &share
	}
}

// heatedBy tells what an element heats, by the states its product says it runs in.
func heatedBy(l electrical.Load) string {
	for _, r := range l.Runs {
		switch r.State {
		case "boil":
			return "kettle"
		case "hlt":
			return "liquor"
		}
	}
	return "other"
}

// heatAlternatives are the load lists with the brewhouse in another heat variant:
// the same arrangement by steam or gas. A steam brewhouse on a gas-fired generator
// brings that generator's loads with it.
func heatAlternatives(now []electrical.Load, chosen []Chosen, c *catalog.Catalogue, bh *Chosen) []electrical.Alternative {
	from := 0
	for i := range chosen {
		if chosen[i].Item.Tag == bh.Item.Tag {
			break
		}
		from += chosen[i].Item.Quantity() * len(chosen[i].Product.Loads)
	}
	to := from + bh.Item.Quantity()*len(bh.Product.Loads)
	var out []electrical.Alternative
	for _, p := range c.ByClass(catalog.ClassBrewhouse) {
		if p.Brewhouse.Length != bh.Product.Brewhouse.Length || p.Brewhouse.Heat == bh.Product.Brewhouse.Heat {
			continue
		}
		var boiler []electrical.Load
		if p.Brewhouse.Heat == "steam" {
			gen := GeneratorFor(c, p)
			if gen == nil {
				continue
			}
			boiler = loads([]Chosen{{Item: enquiry.Item{Tag: "SG"}, Product: gen}})
		}
		own := loads([]Chosen{{Item: bh.Item, Product: p}})
		list := slices.Concat(now[:from], own, now[to:], boiler)
		numberTags(list)
		out = append(out, electrical.Alternative{Code: p.Code, Kind: p.Brewhouse.Heat + "-variant", Words: strings.ToLower(p.Name), Loads: list})
	}
	return out
}

// GeneratorFor is the smallest fuel-fired steam generator that feeds a brewhouse.
func GeneratorFor(c *catalog.Catalogue, bh *catalog.Product) *catalog.Product {
	var need unit.MassFlow
	for _, conn := range bh.Connects {
		need += conn.Steam
	}
	for _, g := range c.ByClass(catalog.ClassSteam) {
		if g.Steam.Fuel != "electric" && g.Steam.Output >= need {
			return g
		}
	}
	return nil
}
