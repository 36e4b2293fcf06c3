package cooling

import (
	"math"
	"strconv"

	"tunwright/catalog/unit"
)

func setPoints(in *Input, res *Result) []SetPoint {
	f := &res.Fluid
	list := make([]SetPoint, 0, 12+len(res.Tanks))
	put := func(name string, q unit.Quantity, note string) { list = append(list, SetPoint{name, q, note}) }
	put("glycol supply", f.Supply, "thermostat of the chiller")
	put("frost cut-out, leaving glycol", unit.Celsius(f.Freeze.C()+4), "4 K above first ice; the maker's own figure governs")
	put("glycol by mass", f.Mass, "checked by refractometer twice a year")
	for i := range res.Tanks {
		t := &res.Tanks[i]
		put(t.Tag+", coldest", t.Hold, holdNote(t.Use))
	}
	if len(res.Crashes) > 0 {
		c := &res.Crashes[0]
		put("ramp of a crash", unit.Kelvins((c.From.C()-c.To.C())/c.Wish.H()), "each hour, "+c.From.String()+" to "+c.To.String())
		put("tanks cooled down at once, at most", unit.PureNumber(float64(res.Load.CrashAtOnce)), "by interlock of the controller")
	}
	put("jackets open at once, at most", unit.PureNumber(float64(res.Circuit.OpenJackets)), "the pump is sized for it")
	if in.Sealed {
		put("gas pressure of the expansion vessel", unit.BarGauge(res.Circuit.Static.Bar()+1), "before filling")
		put("safety valve", min(unit.BarGauge(res.Circuit.Static.Bar()+3), weakestJacket(in)), "never above the weakest jacket's rating; set by the contractor")
	}
	put("alarm, glycol supply", unit.Celsius(f.Supply.C()+4), "after 30 min, by message to a telephone")
	return list
}

// weakestJacket is the lowest rating known; without one, no limit.
func weakestJacket(in *Input) unit.GaugePressure {
	least := unit.BarGauge(16)
	for i := range in.Tanks {
		if ps := in.Tanks[i].JacketPS; ps != nil {
			least = min(least, *ps)
		}
	}
	return least
}

func holdNote(u Use) string {
	switch u {
	case Bright:
		return "bright tank"
	case ColdLiquor:
		return "cold liquor, never below 1 °C"
	}
	return "after the crash"
}

// materials sums the pipes by size and the rest by kind; pipes with a tenth for cuts.
func materials(in *Input, res *Result) []Material {
	c := &res.Circuit
	list := make([]Material, 0, 16)
	for i := range c.Sections {
		list = addLength(list, c.Sections[i].Pipe.Size+" "+c.Sections[i].Pipe.Material, c.Sections[i].Length, c.Sections[i].Pipe.Standard)
	}
	for i := range c.Sections {
		list = addLength(list, "closed-cell foam "+c.Sections[i].Foam.String()+" on "+c.Sections[i].Pipe.Size, c.Sections[i].Length, "vapour-tight at joints, valves and supports")
	}
	for i := range list {
		list[i].Quantity = unit.Metres(math.Ceil(list[i].Quantity.SI()*1.1 - 1e-9))
	}
	branches := 0
	for i := range c.Sections {
		if c.Sections[i].Kv > 0 {
			branches++
		}
	}
	put := func(item string, q unit.Quantity, note string) { list = append(list, Material{item, q, note}) }
	n := float64(branches)
	put("on-off valves, one a jacket", unit.PureNumber(n), "normally closed; flow coefficients in the pipe table")
	put("balancing valves", unit.PureNumber(n), "settings in the pipe table")
	put("isolating valves", unit.PureNumber(2*n+4), "full bore, both sides of each jacket and of the chiller")
	put("automatic air vents", unit.PureNumber(float64(2)), "at the highest points")
	put("strainer", unit.PureNumber(1), "before the chiller")
	put("propylene glycol, inhibited, food grade", res.Store.GlycolL, res.Store.Glycol.String()+" pure; never ethylene glycol, never automotive coolant")
	put("water for the filling, softened", res.Store.Fill-res.Store.GlycolL, "no galvanised pipe or fitting anywhere in the circuit")
	if res.Store.Vessel > 0 {
		put("expansion vessel", res.Store.Vessel, "membrane fit for glycol")
	}
	if in.Buffer != nil {
		put("store", in.Buffer.Volume, "insulated as the tanks")
	}
	if in.Pump == nil && in.Chiller.PumpHead == nil {
		put("pump", c.Flow, c.Need.String()+", fit for cold glycol")
	}
	return list
}

func addLength(list []Material, item string, l unit.Length, note string) []Material {
	if l <= 0 {
		return list
	}
	for i := range list {
		if list[i].Item == item {
			list[i].Quantity = unit.Metres(list[i].Quantity.SI() + l.M())
			return list
		}
	}
	return append(list, Material{item, l, note})
}

func byWhom(in *Input, res *Result) []Work {
	list := []Work{
		{"tanks with jackets, probes and insulation", Supplier, "rated pressures on the plates"},
		{"chiller, delivered", Supplier, in.Chiller.Code},
		{"chiller set in place, commissioned, log opened", Contractor, "certified for the refrigerant"},
		{"glycol pipes, valves, insulation, filling, flushing, balancing", Contractor, "pressure test before insulation"},
		{"drawing of the pipes as built", Contractor, ""},
		{"power to chiller and pump, isolators, control cables", Electrician, res.Chiller.Input.String() + " at the design's conditions"},
		{"valves and probes to the tank controller", Electrician, ""},
		{"base for the chiller, wall and floor openings, sealing", Builder, "full mass with glycol; vibration mounts"},
		{"permission for the place, noise and appearance", Client, "the local authority decides"},
		{"twice-yearly check of glycol, air vents and condenser", Client, "or by a service contract"},
	}
	if in.Siting.Where == "roof" {
		list = append(list, Work{"crane, and proof that the roof carries it", Builder, "a structural engineer decides"})
	}
	if in.Siting.Where == "inside" {
		list = append(list, Work{"air ducts in and out", Builder, res.Siting.FreeArea.String() + " of free area each way"})
	}
	return list
}

func notes(in *Input, res *Result) []string {
	m := &res.Fluid
	list := []string{
		"Glycol: propylene glycol of food grade with corrosion inhibitors, " + m.Mass.String() + " by mass (" + m.Volume.String() + " by volume), first ice at " + m.Freeze.String() + ". Below 25 % by volume inhibitors are too weak.",
		"Burst protection is for plant that stands still; it never counts for a circuit that runs.",
		"Pressure drops carry 15 % for the viscosity of cold glycol; the duty carries one margin of " + res.Load.Margin.String() + " and no other.",
		"At most " + strconv.Itoa(res.Load.CrashAtOnce) + " tanks are cooled down at once; the highest hour is hour " + strconv.Itoa(res.Load.PeakHour) + " of the design weeks.",
	}
	if p := res.Load.Postponed; p > 0 {
		list = append(list, "The interlock lets a tank wait up to "+p.String()+" for its crash.")
	}
	if c := res.Circuit.Sections; len(c) > 0 && c[0].Lengthens > unit.Millimetres(5) {
		list = append(list, "The main lengthens by "+c[0].Lengthens.String()+" between cold running and warm standstill: loops or sliding supports.")
	}
	if in.Chiller.Glycol == 0 {
		list = append(list, "The maker's ratings hold for water; the output is reduced once for glycol.")
	}
	return list
}

// Cautions stand on every paper that prints these results.
func Cautions() []string {
	return []string{
		"Preliminary: an engineering estimate for tender, not for construction. The refrigeration contractor checks every figure and answers for the design of the circuit.",
		"Refrigerants are under pressure; some burn, some suffocate. Work on them is for certified persons; charge limits and places follow EN 378 and local law.",
		"Jackets are pressure-rated plate. Nothing is filled, tested or started before pressures are checked against the plates, with relief fitted.",
		"Glycol is slippery and must not reach drains or beer; leaks are taken up, and the filling level is watched.",
	}
}
