package air

import (
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

func steamRules() []rule.Rule[Facts] {
	return []rule.Rule[Facts]{
		{
			ID: "AI-001", Severity: rule.Blocker, Title: "The site allows no steam in the room, and no condenser takes it",
			Why:      "Vapour wets ceiling and walls, sets off smoke detectors and breaks the lease or the insurer's condition.",
			Compares: "evaporation against what the vapour condenser takes", Source: siteCondition,
			Check: steamRule(judgeSteamFree, func(_ Facts, t steamTrier) (list []rule.Remedy) { tryCondensers(&list, t); return list }),
		},
		{
			ID: "AI-002", Severity: rule.Warning, Title: "The vapour has no way out of the room",
			Why:      "One brew boils off a bathtub of water or more; it comes down as rain inside.",
			Compares: "whether a canopy with a known flow, or a condenser large enough, is chosen", Source: source.Derivation("mass of water boiled off"),
			Check: steamRule(judgeAway, func(_ Facts, t steamTrier) (list []rule.Remedy) {
				tryCondensers(&list, t)
				tryCanopies(&list, t)
				return list
			}),
		},
		{
			ID: "AI-003", Severity: rule.Warning, Title: "The canopy draws too little to catch the vapour", DependsOn: []string{"AI-002"},
			Why:      "What the canopy does not catch spreads through the room and wets it.",
			Compares: "flow of the canopy against capture velocity over its plan and thermal convection", Source: dw172Quoted,
			Check: steamRule(judgeCapture, func(_ Facts, t steamTrier) (list []rule.Remedy) {
				tryCanopies(&list, t)
				tryCondensers(&list, t)
				return list
			}),
		},
		{
			ID: "AI-004", Severity: rule.Warning, Title: "Water falls out in the canopy and duct", DependsOn: []string{"AI-002"},
			Why:      "It rains from the canopy into the brew and rots the duct; warm wet ducts grow mould.",
			Compares: "condensate in the stream against none, unless canopy and duct are drained and the duct insulated", Source: ashrae.At("eq. 5, 6, 20, 28"),
			Check: steamRule(judgeFog, fogRemedies),
		},
		{
			ID: "AI-005", Severity: rule.Warning, Title: "Duct or discharge velocity is out of range", DependsOn: []string{"AI-002"},
			Why:      "Too slow, water settles in the duct and the plume falls back; too fast, the fan roars and loses its flow.",
			Compares: "velocity in the main duct against 6 to 9 m/s and at the discharge against 12 to 15 m/s", Source: dw172Quoted,
			Check: steamRule(judgeDuct, func(_ Facts, t steamTrier) (list []rule.Remedy) {
				t.try(&list, func(s *Steam) {
					if s.Canopy != nil {
						s.Canopy.Duct, s.Canopy.Outlet = 0, 0
					}
				}, func(_ Steam, r SteamResult, _ rule.Answer) rule.Remedy {
					return rule.Remedy{
						Kind: "duct-size", Words: "main duct " + r.Duct.String() + " (" + r.DuctAt.String() + "), discharge " + r.Outlet.String() + " (" + r.OutletAt.String() + ")",
						Params: []rule.Param{{Name: "duct", Quantity: r.Duct}, {Name: "outlet", Quantity: r.Outlet}},
					}
				})
				return list
			}),
		},
		{
			ID: "AI-006", Severity: rule.Warning, Title: "The air that the canopy draws has no way in", DependsOn: []string{"AI-002"},
			Why:      "The fan starves, the canopy spills, doors slam and flues draw backwards.",
			Compares: "openings and supply against the extract; a supply fan may bring at most 85 %", Source: dw172Quoted,
			Check: steamRule(judgeMakeUp, func(_ Facts, t steamTrier) (list []rule.Remedy) {
				t.try(&list, func(s *Steam) { s.Makeup.Supply, s.Makeup.Openings = nil, ptr(openingsFor(*s)) }, func(s Steam, r SteamResult, _ rule.Answer) rule.Remedy {
					return rule.Remedy{Kind: "make-up-openings", Words: "openings of " + s.Makeup.Openings.String() + " free area at 1 m/s, low and away from the canopy", Params: []rule.Param{{Name: "openings", Quantity: *s.Makeup.Openings}}}
				})
				t.try(&list, func(s *Steam) {
					q := flowOf(*s)
					s.Makeup.Supply, s.Makeup.Openings = ptr(unit.M3PerSecond(q*supplyShare)), ptr(unit.SquareMetres(q*(1-supplyShare)/openingSpeed*1.001))
				}, func(s Steam, r SteamResult, _ rule.Answer) rule.Remedy {
					return rule.Remedy{Kind: "make-up-supply", Words: "supply fan of " + s.Makeup.Supply.String() + " with " + r.MakeUpHeat.String() + " of heat in winter, and " + s.Makeup.Openings.String() + " of openings for the rest", Params: []rule.Param{{Name: "supply", Quantity: *s.Makeup.Supply}, {Name: "openings", Quantity: *s.Makeup.Openings}}}
				})
				return list
			}),
		},
		{
			ID: "AI-007", Severity: rule.Warning, Title: "The vapour condenser is smaller than the boil",
			Why:      "What it cannot take blows into the room at the hardest part of the boil.",
			Compares: "evaporation against what the condenser takes", Source: source.Derivation("heat balance"),
			Check: steamRule(judgeCondenser, func(_ Facts, t steamTrier) (list []rule.Remedy) { tryCondensers(&list, t); return list }),
		},
		{
			ID: "AI-008", Severity: rule.Warning, Title: "The spray condenser sends water to the drain that is too hot",
			Why:      "Sewers take no more than 43 °C in most consents; hot water softens plastic pipe and breaks the consent.",
			Compares: "temperature to the drain against 43 °C", Source: sewerDoc.Recalled("s. 27"),
			Check: steamRule(judgeSpray, func(_ Facts, t steamTrier) (list []rule.Remedy) {
				t.try(&list, func(s *Steam) {
					s.Condenser.WaterOut, s.Condenser.Water = unit.Celsius(sewerLimit), 0
				}, func(s Steam, r SteamResult, _ rule.Answer) rule.Remedy {
					return rule.Remedy{Kind: "more-spray-water", Words: "spray " + litresAnHour(r.Condenser.Water) + " instead, leaving at 43 °C", Params: []rule.Param{{Name: "water", Quantity: r.Condenser.Water}}}
				})
				t.try(&list, func(s *Steam) { s.Condenser.Spray = false }, func(_ Steam, r SteamResult, _ rule.Answer) rule.Remedy {
					return rule.Remedy{Kind: "indirect-condenser", Words: "take a condenser with separate cooling water: " + litresAnHour(r.Condenser.Water) + " of clean hot water for the hot liquor tank", Params: []rule.Param{{Name: "water", Quantity: r.Condenser.Water}}}
				})
				return list
			}),
		},
		{
			ID: "AI-009", Severity: rule.Notice, Title: "The canopy overhangs the kettle too little", DependsOn: []string{"AI-002"},
			Why:      "Puffs of vapour roll out past the edge when the boil rises.",
			Compares: "canopy plan against the boiling surface with an overhang of 600 mm on each side", Source: dw172Quoted,
			Check: steamRule(judgeOverhang, func(_ Facts, t steamTrier) (list []rule.Remedy) {
				tryCanopies(&list, t)
				t.try(&list, func(s *Steam) {
					side := overhangSide(*s)
					s.Canopy.Length, s.Canopy.Width = max(s.Canopy.Length, side), max(s.Canopy.Width, side)
				}, func(s Steam, _ SteamResult, _ rule.Answer) rule.Remedy {
					return rule.Remedy{Kind: "wider-canopy", Words: "canopy of " + s.Canopy.Length.String() + " by " + s.Canopy.Width.String(), Params: []rule.Param{{Name: "length", Quantity: s.Canopy.Length}, {Name: "width", Quantity: s.Canopy.Width}}}
				})
				return list
			}),
		},
		{
			ID: "AI-010", Severity: rule.Notice, Title: "The discharge lies too low over windows", DependsOn: []string{"AI-002"},
			Why:      "Vapour and smell come back in, here or at the neighbour's.",
			Compares: "height of the discharge above the nearest openable window against 1 m", Source: dw172Quoted,
			Check: steamRule(judgeDischarge, func(_ Facts, t steamTrier) (list []rule.Remedy) {
				t.try(&list, func(s *Steam) { s.Canopy.Above = ptr(unit.Metres(1)) }, func(Steam, SteamResult, rule.Answer) rule.Remedy {
					return rule.Remedy{Kind: "raise-discharge", Words: "take the discharge to 1 m above the window, at 12 to 15 m/s upwards", Params: []rule.Param{{Name: "above", Quantity: unit.Metres(1)}}}
				})
				return list
			}),
		},
	}
}

var siteCondition = source.Derivation("condition of the site, told by the client or the landlord")

func judgeSteamFree(s Steam, r SteamResult) rule.Answer {
	if !s.SteamFree {
		return rule.DoesNotApply("the site allows steam in the room")
	}
	if s.Condenser == nil {
		return rule.Fails("", s.Evaporation, unit.MassFlow(0), s.Evaporation.String()+" of vapour and no condenser chosen; the site allows none in the room")
	}
	if !condensed(s) {
		return rule.Fails("", s.Evaporation, s.Condenser.Vapour, "the condenser "+s.Condenser.Name+" takes "+s.Condenser.Vapour.String()+" of "+s.Evaporation.String())
	}
	return rule.Passes("", s.Evaporation, s.Condenser.Vapour, "the condenser takes all vapour, with "+litresAnHour(r.Condenser.Water)+" of cooling water")
}

func judgeAway(s Steam, r SteamResult) rule.Answer {
	switch {
	case s.Evaporation == 0:
		return rule.DoesNotApply("nothing is boiled off")
	case condensed(s):
		return rule.Passes("", s.Evaporation, s.Condenser.Vapour, "the condenser takes all vapour")
	case s.Canopy == nil:
		need := "no flow of this room air avoids fog"
		if r.Required > 0 {
			need = "a canopy would have to draw " + r.Required.String() + " (" + r.Governs + ")"
		}
		return rule.Fails("", r.Required, unit.VolumeFlow(0), s.Evaporation.String()+" of vapour goes into the room; "+need)
	case s.Canopy.Flow <= 0:
		return rule.Lacks("", "the flow of the canopy's fan is not known", "Steam.Canopy.Flow")
	}
	return rule.Passes("", s.Evaporation, s.Evaporation, "canopy "+s.Canopy.Name+" draws "+s.Canopy.Flow.String())
}

func noCanopy(s Steam) bool { return s.Canopy == nil || condensed(s) }

func judgeCapture(s Steam, r SteamResult) rule.Answer {
	if noCanopy(s) {
		return rule.DoesNotApply("no canopy carries the vapour")
	}
	need := max(r.Capture, r.Convection)
	words := "capture asks for " + need.String() + "; the canopy draws " + r.Flow.String()
	if r.Flow < need {
		return rule.Fails("", need, r.Flow, words)
	}
	return rule.Passes("", need, r.Flow, words)
}

func judgeFog(s Steam, r SteamResult) rule.Answer {
	if noCanopy(s) {
		return rule.DoesNotApply("no canopy carries the vapour")
	}
	drained := s.Canopy.Drained && s.Canopy.Insulated
	if r.Stream.Condensate == 0 {
		return rule.Passes("", r.NoFog, r.Stream.Flow, "the stream stays clear at "+r.Stream.Air.Humidity.String()+" humidity; dew point "+r.Stream.Air.DewPoint.String())
	}
	words := r.Stream.Condensate.String() + " of water falls out of the stream of " + r.Stream.Flow.String() + " at " + r.Stream.Air.Temp.String() + "; without fog it takes " + r.NoFog.String()
	if r.NoFog == 0 {
		words = r.Stream.Condensate.String() + " of water falls out; no flow of this room air avoids fog"
	}
	if drained {
		return rule.Passes("", r.Stream.Condensate, r.Stream.Condensate, words+"; canopy and duct are drained and the duct is insulated")
	}
	return rule.Fails("", r.NoFog, r.Stream.Flow, words)
}

func fogRemedies(_ Facts, t steamTrier) (list []rule.Remedy) {
	t.try(&list, func(s *Steam) { s.Canopy.Drained, s.Canopy.Insulated = true, true }, func(_ Steam, r SteamResult, _ rule.Answer) rule.Remedy {
		return rule.Remedy{Kind: "drain-canopy", Words: "drained gutter round the canopy, duct insulated and drained at its low point: " + r.Stream.Condensate.String() + " to the drain, none to the kettle", Params: []rule.Param{{Name: "condensate", Quantity: r.Stream.Condensate}}}
	})
	tryCanopies(&list, t)
	tryCondensers(&list, t)
	return list
}

func judgeDuct(s Steam, r SteamResult) rule.Answer {
	if noCanopy(s) || r.Flow == 0 {
		return rule.DoesNotApply("no canopy carries the vapour")
	}
	if r.Duct == 0 || r.Outlet == 0 {
		return rule.Lacks("", "no standard duct carries "+r.Flow.String()+" at 6 to 9 m/s and discharges it at 12 to 15 m/s: two ducts are needed", "Steam.Canopy.Duct")
	}
	words := "duct " + r.Duct.String() + " at " + r.DuctAt.String() + ", discharge " + r.Outlet.String() + " at " + r.OutletAt.String()
	switch {
	case r.DuctAt.MS() < ductLow:
		return rule.Fails("", unit.MetresPerSecond(ductLow), r.DuctAt, words+": the duct is too wide")
	case r.DuctAt.MS() > ductHigh:
		return rule.Fails("", r.DuctAt, unit.MetresPerSecond(ductHigh), words+": the duct is too narrow")
	case r.OutletAt.MS() < outletLow:
		return rule.Fails("", unit.MetresPerSecond(outletLow), r.OutletAt, words+": the discharge is too slow")
	case r.OutletAt.MS() > outletHigh:
		return rule.Fails("", r.OutletAt, unit.MetresPerSecond(outletHigh), words+": the discharge is too fast")
	}
	return rule.Passes("", r.DuctAt, unit.MetresPerSecond(ductHigh), words)
}

func flowOf(s Steam) float64 { return s.Canopy.Flow.M3S() }

func openingsFor(s Steam) unit.Area {
	if s.Canopy == nil {
		return 0
	}
	return unit.SquareMetres(flowOf(s) / openingSpeed)
}

func judgeMakeUp(s Steam, r SteamResult) rule.Answer {
	if noCanopy(s) {
		return rule.DoesNotApply("no canopy draws air")
	}
	if s.Makeup.Openings == nil && s.Makeup.Supply == nil {
		return rule.Lacks("", r.MakeUp.String()+" must come in; openings and supply are not known", "Steam.Makeup.Openings", "Steam.Makeup.Supply")
	}
	have := unit.VolumeFlow(0)
	if s.Makeup.Openings != nil {
		have += unit.M3PerSecond(s.Makeup.Openings.M2() * openingSpeed)
	}
	if s.Makeup.Supply != nil {
		have += *s.Makeup.Supply
		if s.Makeup.Supply.M3S() > r.Flow.M3S()*supplyShare*1.0001 {
			return rule.Fails("", *s.Makeup.Supply, r.MakeUpSupply, "the supply fan brings "+s.Makeup.Supply.String()+", more than 85 % of the extract "+r.Flow.String()+": vapour is pushed out of the brewhouse")
		}
	}
	words := r.MakeUp.String() + " must come in, " + have.String() + " can"
	if have.M3S() < r.MakeUp.M3S()*0.9999 {
		return rule.Fails("", r.MakeUp, have, words)
	}
	return rule.Passes("", r.MakeUp, have, words)
}

func judgeCondenser(s Steam, _ SteamResult) rule.Answer {
	if s.Condenser == nil {
		return rule.DoesNotApply("no condenser is chosen")
	}
	words := "the kettle gives off " + s.Evaporation.String() + ", " + s.Condenser.Name + " takes " + s.Condenser.Vapour.String()
	if !condensed(s) {
		return rule.Fails("", s.Evaporation, s.Condenser.Vapour, words)
	}
	return rule.Passes("", s.Evaporation, s.Condenser.Vapour, words)
}

func judgeSpray(s Steam, r SteamResult) rule.Answer {
	if s.Condenser == nil || !s.Condenser.Spray {
		return rule.DoesNotApply("no spray condenser is chosen")
	}
	limit := unit.Celsius(sewerLimit)
	words := "the drain takes " + litresAnHour(r.Condenser.ToDrain) + " at " + r.Condenser.DrainAt.String() + "; the limit is 43 °C." + checkText
	if r.Condenser.DrainAt > limit {
		return rule.Fails("", r.Condenser.DrainAt, limit, words)
	}
	return rule.Passes("", r.Condenser.DrainAt, limit, words)
}

// overhangSide is the least side of a canopy over a round boiling surface.
func overhangSide(s Steam) unit.Length {
	return unit.Metres(math.Sqrt(4*s.PlanArea.M2()/math.Pi)) + 2*Overhang(s.Canopy.Underside)
}

func judgeOverhang(s Steam, _ SteamResult) rule.Answer {
	if noCanopy(s) || s.PlanArea == 0 {
		return rule.DoesNotApply("no canopy over a known boiling surface")
	}
	if s.Canopy.Underside == 0 {
		return rule.Lacks("", "the height of the canopy's edge is not known", "Steam.Canopy.Underside")
	}
	need, have := overhangSide(s), min(s.Canopy.Length, s.Canopy.Width)
	words := "shorter side " + have.String() + ", with its overhang " + need.String() + " are wanted"
	if have.M() < need.M()*0.9999 {
		return rule.Fails("", need, have, words)
	}
	return rule.Passes("", need, have, words)
}

func judgeDischarge(s Steam, _ SteamResult) rule.Answer {
	if noCanopy(s) {
		return rule.DoesNotApply("no canopy discharges")
	}
	need := unit.Metres(1)
	if s.Canopy.Above == nil {
		return rule.Lacks("", "the height of the discharge above the nearest openable window is not known", "Steam.Canopy.Above")
	}
	words := "discharge " + s.Canopy.Above.String() + " above the nearest openable window"
	if *s.Canopy.Above < need {
		return rule.Fails("", need, *s.Canopy.Above, words)
	}
	return rule.Passes("", need, *s.Canopy.Above, words)
}
