package cooling

import (
	"math"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

func tellPump(_, after Facts) (string, []rule.Param) {
	p := after.Input.Pump
	words := "take a pump for " + p.Flow.String() + " at " + p.Head.String() + ", not above " + p.ShutOff.String() + " against a closed valve"
	if p.Code != "" {
		words = "take pump " + p.Code + ": " + p.Head.String() + " at " + p.Flow.String()
	}
	return words, []rule.Param{named("pump", p.Code), param("flow", p.Flow), param("head", p.Head), param("shut_off", p.ShutOff)}
}

// otherPump takes the gentlest pump that gives flow and head.
var otherPump = option{plant: true, kind: "other-pump", change: func(in *Input, f Facts) bool {
	c := f.Result.Circuit
	best := -1
	for i, p := range in.Pumps {
		if p.Flow >= c.Flow && p.Head >= c.Need && (best < 0 || p.ShutOff < in.Pumps[best].ShutOff) {
			best = i
		}
	}
	if best < 0 {
		return false
	}
	p := in.Pumps[best]
	in.Pump = &p
	return true
}, tell: tellPump}

const shutOffShare = 1.3 // shut-off over rated head of a small centrifugal pump, common practice

// pumpToSuit states the pump that is needed where none is named.
var pumpToSuit = option{plant: true, kind: "pump-to-suit", change: suitPump, tell: tellPump, last: true}

func suitPump(in *Input, f Facts) bool {
	c := f.Result.Circuit
	head := unit.Bars(0.1 * math.Ceil(c.Need.Bar()*10-1e-9))
	in.Pump = &Pump{Flow: c.Flow, Head: head, ShutOff: unit.Bars(head.Bar() * shutOffShare)}
	return true
}

// tankLevelCircuit parts the tanks' circuit from the chiller above by a plate exchanger:
// the jackets then see no static head.
var tankLevelCircuit = option{plant: true, kind: "separate-circuit", change: func(in *Input, f Facts) bool {
	level := unit.Metres(0)
	in.Route.Rise = &level
	in.Sealed = false
	return suitPump(in, f)
}, tell: func(_, after Facts) (string, []rule.Param) {
	return "part the tanks' circuit from the chiller by a plate exchanger with an open reservoir and its own pump on the tanks' floor: jackets see " + after.Result.Circuit.AtJackets.String() + "; the chiller must then run 2 K colder",
		[]rule.Param{param("head", after.Input.Pump.Head), param("shut_off", after.Input.Pump.ShutOff)}
}}

var fitBypass = option{plant: true, kind: "fit-bypass", change: func(in *Input, _ Facts) bool {
	yes := true
	in.Bypass = &yes
	return true
}, tell: func(_, after Facts) (string, []rule.Param) {
	least := after.Input.Chiller.MinFlow
	return "give the chiller its own pump over the store, or a by-pass for " + least.String(), []rule.Param{param("chiller_flow", *least)}
}}

var otherSeries = option{plant: true, kind: "other-pipe", change: func(in *Input, f Facts) bool {
	if orZeroQuiet(in.Route.Series, "stainless") == "stainless" {
		return false
	}
	in.Route.Series = "stainless"
	return true
}, tell: func(_, after Facts) (string, []rule.Param) {
	p := after.Result.Circuit.Sections[0].Pipe
	return "lay " + p.Material + ", " + p.Size + " for the main", []rule.Param{named("series", p.Series), named("size", p.Size)}
}}

var fewerOpen = option{plant: true, kind: "fewer-open-jackets", change: func(in *Input, f Facts) bool {
	n := f.Result.Circuit.OpenJackets / 2
	if n < 1 {
		return false
	}
	in.OpenJackets = &n
	return true
}, tell: func(_, after Facts) (string, []rule.Param) {
	n := unit.PureNumber(float64(after.Result.Circuit.OpenJackets))
	return "let the controller open no more than " + n.String() + " jackets at once: " + after.Result.Circuit.Flow.String(), []rule.Param{param("open_jackets", n)}
}}

func tellFoam(_, after Facts) (string, []rule.Param) {
	t := *after.Input.Route.Insulation
	return "insulate with " + t.String() + " of closed-cell foam, joints vapour-tight", []rule.Param{param("insulation", t)}
}

var thickerFoam = option{plant: true, kind: "thicker-insulation", change: func(in *Input, f Facts) bool {
	t := f.Result.Circuit.FoamLeast
	in.Route.Insulation = &t
	return f.Result.Circuit.FoamEnough
}, tell: tellFoam}

// thickestFoam goes beyond the usual thicknesses in two layers.
var thickestFoam = option{plant: true, kind: "thicker-insulation", change: func(in *Input, f Facts) bool {
	if f.Result.Circuit.FoamEnough {
		return false
	}
	t := unit.Millimetres(100)
	in.Route.Insulation = &t
	return true
}, tell: tellFoam}

var closeCircuit = option{plant: true, kind: "closed-circuit", change: func(in *Input, _ Facts) bool {
	in.Sealed = true
	return true
}, tell: func(_, after Facts) (string, []rule.Param) {
	v := after.Result.Store.Vessel
	return "close the circuit, with an expansion vessel of " + v.String(), []rule.Param{param("vessel", v)}
}}

var holdGlycol = option{plant: true, kind: "hold-glycol", change: func(in *Input, _ Facts) bool {
	yes := true
	in.Route.DrainProof = &yes
	return true
}, tell: func(_, after Facts) (string, []rule.Param) {
	return "fit a check valve and normally closed valves that hold " + after.Result.Store.DrainBack.String() + " above the reservoir", nil
}}

var largerLouvres = option{plant: true, kind: "larger-louvres", change: func(in *Input, f Facts) bool {
	if in.Siting.Where != "inside" {
		return false
	}
	a := unit.SquareMetres(math.Ceil(f.Result.Siting.FreeArea.M2()*20-1e-9) / 20)
	in.Siting.FreeArea = &a
	return true
}, tell: func(_, after Facts) (string, []rule.Param) {
	return "duct the air in and out through " + after.Input.Siting.FreeArea.String() + " of free area each", []rule.Param{param("free_area", *after.Input.Siting.FreeArea)}
}}

var openPlace = option{plant: true, kind: "move-chiller", change: func(in *Input, _ Facts) bool {
	no := false
	in.Siting.Walled = &no
	return in.Siting.Where != "inside"
}, tell: func(Facts, Facts) (string, []rule.Param) {
	return "find a place open above and on two sides at least, half the height of the nearest wall away from it", nil
}}

// fartherPlace moves the chiller to where the level just meets the limit.
var fartherPlace = option{plant: true, kind: "move-chiller", change: func(in *Input, f Facts) bool {
	over := f.Result.Siting.Sound.DBA() - f.Result.Siting.SoundLimit.DBA()
	d := unit.Metres(math.Ceil(max(in.Siting.Neighbour.M(), 1) * math.Pow(10, over/20)))
	in.Siting.Neighbour = &d
	return d.M() <= 300
}, tell: func(_, after Facts) (string, []rule.Param) {
	d := *after.Input.Siting.Neighbour
	return "stand the chiller " + metres(d) + " from the nearest window", []rule.Param{param("neighbour", d)}
}}

var fartherOpenings = option{plant: true, kind: "move-chiller", change: func(in *Input, f Facts) bool {
	if in.Siting.OpeningDist == nil || in.Siting.OpeningDist.M() >= openingFree {
		return false
	}
	d := unit.Metres(openingFree)
	in.Siting.OpeningDist = &d
	return true
}, tell: func(_, after Facts) (string, []rule.Param) {
	d := *after.Input.Siting.OpeningDist
	return "stand the chiller " + metres(d) + " from drains, light wells, cellar openings and air intakes", []rule.Param{param("opening_distance", d)}
}}
