package cooling

import (
	"strings"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

var jacketPressure = rule.Rule[Facts]{
	ID: "CO-010", Fills: "rating of the jackets", Severity: rule.Blocker,
	Title:    "The jackets see more pressure than they are rated for",
	Why:      "A jacket is thin plate: it bulges or tears at its welds, and glycol goes into the beer or onto people. 10 m of glycol alone are 1 bar.",
	Compares: "static head of the chiller above, pump against closed valves and filling pressure, against the jacket's rated pressure",
	Source:   docPED.Recalled("Annex I 2.2: highest pressure in all foreseeable conditions"),
	Check:    mended(judgeJackets, []option{otherPump, pumpToSuit, tankLevelCircuit}),
}

func judgeJackets(f Facts) []rule.Answer {
	c := f.Result.Circuit
	if c.AtJackets == nil {
		var missing []string
		if c.Rise == nil {
			missing = append(missing, "Route.Rise")
		}
		if c.ShutOff == nil {
			missing = append(missing, "Pump.ShutOff")
		}
		return one(rule.Lacks("", "the pressure at the jackets cannot be told", missing...))
	}
	need := unit.PascalsGauge(c.AtJackets.Pa())
	var answers []rule.Answer
	var least *unit.GaugePressure
	for i := range f.Input.Tanks {
		t := &f.Input.Tanks[i]
		if f.Result.Tanks[i].JacketFlow <= 0 {
			continue
		}
		if t.JacketPS == nil {
			answers = append(answers, rule.Lacks(t.Tag, "the rated pressure of the jacket of "+t.Tag+" is unknown; it sees "+need.String(), "Tanks[].JacketPS"))
			continue
		}
		if least == nil || *t.JacketPS < *least {
			least = t.JacketPS
		}
		if need > *t.JacketPS {
			answers = append(answers, rule.Fails(t.Tag, need, *t.JacketPS, t.Tag+" sees "+need.String()+" with valves closed ("+c.Static.String()+" of it static); its jacket is rated "+t.JacketPS.String()))
		}
	}
	if answers != nil {
		return answers
	}
	if least == nil {
		return one(rule.DoesNotApply("no tank has a jacket that is fed"))
	}
	return one(rule.Passes("", need, *least, "jackets see "+need.String()+" at most; the weakest is rated "+least.String()))
}

var pumpHead = rule.Rule[Facts]{
	ID: "CO-009", Fills: "coolant pump", Severity: rule.Blocker,
	Title:    "The pump cannot push the glycol round",
	Why:      "Less glycol comes back warmer; the furthest tank gets none.",
	Compares: "head of the index run with 15 % for the viscosity against the pump's",
	Source:   docColebrk.At("friction; fittings by Hooper's two-K method"),
	Check:    mended(judgePump, []option{otherPump, pumpToSuit}, judgeJackets),
}

func judgePump(f Facts) []rule.Answer {
	c := f.Result.Circuit
	var have unit.PressureDiff
	switch {
	case f.Input.Pump != nil:
		have = f.Input.Pump.Head
		if c.Flow > f.Input.Pump.Flow {
			return one(rule.Fails("", c.Flow, f.Input.Pump.Flow, "the jackets want "+c.Flow.String()+", the pump is rated "+f.Input.Pump.Flow.String()))
		}
	case f.Input.Chiller.PumpHead != nil:
		have = *f.Input.Chiller.PumpHead
	default:
		return one(rule.Lacks("", "no pump is chosen: "+c.Flow.String()+" at "+c.Need.String()+" are needed", "Pump"))
	}
	words := c.Flow.String() + " at " + c.Need.String() + " are needed, the pump gives " + have.String()
	if c.Need > have {
		return one(rule.Fails("", c.Need, have, words))
	}
	return one(rule.Passes("", c.Need, have, words))
}

var chillerFlow = rule.Rule[Facts]{
	ID: "CO-023", Severity: rule.Warning,
	Title:    "The chiller gets too little or too much flow",
	Why:      "Below its least flow the evaporator freezes and trips; above the largest its tubes erode. On-off jackets close one after the other.",
	Compares: "flow with the design's jackets open, and with one open, against the chiller's limits",
	Source:   source.Derivation("limits stated by the maker"),
	Check:    mended(judgeFlow, []option{fitBypass}),
}

func judgeFlow(f Facts) []rule.Answer {
	c, ch := f.Result.Circuit, f.Input.Chiller
	if ch.MinFlow == nil || ch.MaxFlow == nil {
		return one(rule.Lacks("", "the chiller's least or largest flow is unknown", "Chiller.MinFlow", "Chiller.MaxFlow"))
	}
	n := float64(max(f.Input.Units, 1))
	least, most := unit.VolumeFlow(ch.MinFlow.M3S()*n), unit.VolumeFlow(ch.MaxFlow.M3S()*n)
	if f.Input.Bypass != nil && *f.Input.Bypass {
		return one(rule.Passes("", c.Flow, most, "a by-pass keeps the chiller's own flow between "+least.String()+" and "+most.String()))
	}
	switch {
	case c.Flow > most:
		return one(rule.Fails("", c.Flow, most, "the jackets want "+c.Flow.String()+", the chiller passes "+most.String()))
	case c.Least < least:
		return one(rule.Fails("", least, c.Least, "with one jacket open "+c.Least.String()+" flow, the chiller wants "+least.String()))
	}
	return one(rule.Passes("", c.Flow, most, c.Flow.String()+" lie within the chiller's limits"))
}

var pipeSizes = rule.Rule[Facts]{
	ID: "CO-008", Fills: "coolant pipe", Severity: rule.Warning,
	Title:    "No size of this pipe series is large enough",
	Why:      "The pump works against friction for ever, and fast glycol is heard in the taproom.",
	Compares: "gradient and velocity of each section against 300 Pa/m and 1.0 m/s (1.5 m/s above 50 mm)",
	Source:   docCIBSE.Recalled("pipe sizing, by way of a teaching page"),
	Check:    mended(judgePipes, []option{otherSeries, fewerOpen}),
}

func judgePipes(f Facts) []rule.Answer {
	worst := -1
	for i := range f.Result.Circuit.Sections {
		s := &f.Result.Circuit.Sections[i]
		if !s.Within {
			return one(rule.Fails(s.From+" to "+s.To, s.Gradient, unit.PascalsPerMetre(maxGradient), s.Pipe.Size+" carries "+s.Flow.String()+" at "+s.Velocity.String()+" and "+s.Gradient.String()))
		}
		if worst < 0 || s.Gradient > f.Result.Circuit.Sections[worst].Gradient {
			worst = i
		}
	}
	if worst < 0 {
		return one(rule.DoesNotApply("there are no pipes"))
	}
	s := &f.Result.Circuit.Sections[worst]
	return one(rule.Passes("", s.Gradient, unit.PascalsPerMetre(maxGradient), "at most "+s.Gradient.String()+", "+string(s.Regime)+" flow at "+s.Velocity.String()))
}

var condensation = rule.Rule[Facts]{
	ID: "CO-012", Severity: rule.Warning,
	Title:    "The pipes will drip",
	Why:      "Water on the insulation runs onto switchgear and floor, and mould grows in it.",
	Compares: "surface of the insulation against the dew point of the room",
	Source:   docWMO.Recalled("annex 4.B, dew point"),
	Check:    mended(judgeDry, []option{thickerFoam, thickestFoam}),
}

func judgeDry(f Facts) []rule.Answer {
	c := f.Result.Circuit
	if f.Input.Humidity == nil && f.Input.Route.Insulation != nil {
		return one(rule.Lacks("", "the humidity of the room is unknown; at 80 % the surface must stay above "+c.DewPoint.String(), "Humidity"))
	}
	coldest := -1
	for i := range c.Sections {
		if coldest < 0 || c.Sections[i].Surface < c.Sections[coldest].Surface {
			coldest = i
		}
	}
	if coldest < 0 {
		return one(rule.DoesNotApply("there are no pipes"))
	}
	s := &c.Sections[coldest]
	words := s.Pipe.Size + " with " + s.Foam.String() + " of foam has a surface of " + s.Surface.String() + "; water falls out at " + c.DewPoint.String()
	if !s.Dry {
		return one(rule.Fails("", c.DewPoint, s.Surface, words))
	}
	return one(rule.Passes("", c.DewPoint, s.Surface, words))
}

var drainBack = rule.Rule[Facts]{
	ID: "CO-027", Severity: rule.Warning,
	Title:    "An open reservoir below the tanks may overflow when the pump stops",
	Why:      "All glycol that stands above the reservoir runs back into it, and over its edge.",
	Compares: "whether check valve and normally closed valves hold what stands above",
	Source:   source.Derivation("communicating vessels"),
	Check:    mended(judgeDrain, []option{closeCircuit, holdGlycol}),
}

func judgeDrain(f Facts) []rule.Answer {
	in := f.Input
	if in.Sealed {
		return one(rule.DoesNotApply("the circuit is closed"))
	}
	if in.Route.Rise == nil {
		return one(rule.Lacks("", "it is unknown whether the chiller stands below the tanks", "Route.Rise"))
	}
	if *in.Route.Rise >= 0 {
		return one(rule.DoesNotApply("the reservoir does not stand below the tanks"))
	}
	words := f.Result.Store.DrainBack.String() + " stand above the reservoir"
	switch {
	case in.Route.DrainProof == nil:
		return one(rule.Lacks("", words+"; it is unknown whether they are held there", "Route.DrainProof"))
	case !*in.Route.DrainProof:
		return one(rule.Fails("", f.Result.Store.DrainBack, unit.Litres(0), words+" and nothing holds them there"))
	}
	return one(rule.Passes("", f.Result.Store.DrainBack, nil, words+" and are held by check valve and closed valves"))
}

var condenserAir = rule.Rule[Facts]{
	ID: "CO-014", Severity: rule.Warning,
	Title:    "The condenser would breathe its own air",
	Why:      "Each kelvin warmer at the condenser takes up to 2 % of the output; in a light well the chiller trips in the afternoon.",
	Compares: "place, free area of louvres and walls around",
	Source:   source.Practice("2.5 m/s in free area; no wells, no inside corners"),
	Check:    mended(judgeAir, []option{largerLouvres, openPlace}),
}

func judgeAir(f Facts) []rule.Answer {
	s := f.Result.Siting
	if f.Input.Siting.Where == "inside" {
		words := s.Air.String() + " of air want " + s.FreeArea.String() + " of free area in and as much out"
		switch free := f.Input.Siting.FreeArea; {
		case free == nil:
			return one(rule.Lacks("", words, "Siting.FreeArea"))
		case *free < s.FreeArea:
			return one(rule.Fails("", s.FreeArea, *free, words))
		default:
			return one(rule.Passes("", s.FreeArea, *free, words))
		}
	}
	switch walled := f.Input.Siting.Walled; {
	case walled == nil:
		return one(rule.Lacks("", "it is unknown whether walls stand close around the chiller; it moves "+s.Air.String(), "Siting.Walled"))
	case *walled:
		return one(rule.Fails("", nil, nil, "the chiller stands in a well or between near walls; it moves "+s.Air.String()))
	}
	return one(rule.Passes("", s.Air, nil, s.Air.String()+" of air, free around"))
}

var noise = rule.Rule[Facts]{
	ID: "CO-020", Severity: rule.Warning,
	Title:    "The chiller is heard at the neighbour's window at night",
	Why:      "Tanks are crashed at night; a complaint can shut the chiller down after dark.",
	Compares: "sound pressure at the nearest window against the limit at night",
	Source:   docWHO.Recalled("40 dB outside at night; the local authority sets the limit"),
	Check:    mended(judgeNoise, []option{quieterChiller, fartherPlace}),
}

func judgeNoise(f Facts) []rule.Answer {
	s := f.Result.Siting
	if f.Input.Siting.Where == "inside" {
		return one(rule.DoesNotApply("the chiller stands indoors; its louvres want their own look"))
	}
	var missing []string
	if f.Input.Siting.Neighbour == nil {
		missing = append(missing, "Siting.Neighbour")
	}
	if f.Input.Chiller.Sound == nil {
		missing = append(missing, "Chiller.Sound")
	}
	if missing != nil {
		return one(rule.Lacks("", "the level at the nearest window cannot be told without "+strings.Join(missing, " and "), missing...))
	}
	words := s.Sound.String() + " at " + metres(*f.Input.Siting.Neighbour) + ", limit at night " + s.SoundLimit.String()
	if *s.Sound > s.SoundLimit {
		return one(rule.Fails("", *s.Sound, s.SoundLimit, words))
	}
	return one(rule.Passes("", *s.Sound, s.SoundLimit, words))
}
