package electrician

import (
	"fmt"

	"tunwright/catalog"
	"tunwright/configurator"
	"tunwright/configurator/electrical"
	"tunwright/configurator/enquiry"
)

// Facts are the electrical figures together with what the schedule prints beside
// them: what each load is, where it stands, how the supply is known. They are read
// from the report; no figure is worked out here.
func Facts(r configurator.Report) electrical.Facts {
	s := r.Project.Site.Supply
	in := electrical.Input{
		Rules: electrical.RuleSet(s.Rules), Supply: supply(s), Brews: r.Project.Brief.BrewsDay, DayStart: &r.Project.Brief.DayStart,
		Loads: loads(r),
	}
	if limited(r) && in.Supply.Fuse != nil && in.Supply.Existing != nil {
		limit := *in.Supply.Fuse - *in.Supply.Existing
		in.Limit = &limit
	}
	return electrical.Facts{Input: in, Result: *r.Electrical}
}

func supply(s enquiry.Supply) electrical.Supply {
	return electrical.Supply{
		Phases: s.Phases.Ptr(), Voltage: s.Voltage.Ptr(), Fuse: s.Fuse.Ptr(), FuseBasis: electrical.Basis(s.Fuse.Basis),
		Existing: s.Existing.Ptr(), Basis: electrical.Basis(s.Existing.Basis), Ze: s.Ze.Ptr(), Earthing: s.Earthing.Or(""),
		Fault: s.Fault.Ptr(), Agreed: s.Agreed.Ptr(), Distance: s.Board.Ptr(),
	}
}

// limited tells whether a chosen panel is hard-wired to shed heating.
func limited(r configurator.Report) bool {
	for i := range r.Chosen {
		if p := r.Chosen[i].Product.Panel; p != nil && p.LoadLimit {
			return true
		}
	}
	return false
}

// loads lists the loads in the order of the circuits.
func loads(r configurator.Report) []electrical.Load {
	var out []electrical.Load
	seen := map[string]int{}
	for i := range r.Chosen {
		c := &r.Chosen[i]
		for range c.Item.Quantity() {
			for j := range c.Product.Loads {
				l := load(c, j)
				if seen[l.Tag]++; seen[l.Tag] > 1 {
					l.Tag = fmt.Sprintf("%s-%d", l.Tag, seen[l.Tag])
				}
				out = append(out, l)
			}
		}
	}
	return out
}

func load(c *configurator.Chosen, j int) electrical.Load {
	l := &c.Product.Loads[j]
	out := electrical.Load{
		Tag: fmt.Sprintf("%s.%d", c.Item.Tag, j+1), Name: l.Name, Item: c.Item.Tag, Product: c.Product.Code, Kind: kind(l.Kind),
		Power: l.Power, Phases: l.Phases, Starter: starter(l), Control: control(l.Drive), Stages: l.Stages, Group: l.Group, IP: l.IP, Zone: zone(c.Product.Class),
		StaysOn: staysOn(c.Product),
	}
	if l.Height > 0 {
		out.Height = &l.Height
	}
	if len(c.Item.Places) > 0 {
		at := c.Item.Places[0].At
		out.X, out.Y = &at.X, &at.Y
	}
	return out
}

func kind(word string) electrical.Kind {
	switch word {
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
	if kind(l.Kind) != electrical.Motor {
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

// staysOn tells what an emergency stop leaves running: cold and the air that keeps
// people safe. Nil leaves it to the kind of the load.
func staysOn(p *catalog.Product) *bool {
	yes := true
	switch p.Class {
	case catalog.ClassChiller, catalog.ClassFan, catalog.ClassGasAlarm:
		return &yes
	case catalog.ClassPump:
		if p.Pump != nil && p.Pump.For == "coolant" {
			return &yes
		}
	}
	return nil
}
