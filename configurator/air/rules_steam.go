package air

import (
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
			ID: "AI-003", Fills: "canopy", Severity: rule.Warning, Title: "The canopy draws too little to catch the vapour", DependsOn: []string{"AI-002"},
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
					q := drawnFrom(*s).M3S()
					s.Makeup.Supply, s.Makeup.Openings = ptr(unit.M3PerSecond(q*supplyShare)), ptr(unit.SquareMetres(q*(1-supplyShare)/openingSpeed*1.001))
				}, func(s Steam, r SteamResult, _ rule.Answer) rule.Remedy {
					return rule.Remedy{Kind: "make-up-supply", Words: "supply fan of " + s.Makeup.Supply.String() + " with " + r.MakeUpHeat.String() + " of heat in winter, and " + s.Makeup.Openings.String() + " of openings for the rest", Params: []rule.Param{{Name: "supply", Quantity: *s.Makeup.Supply}, {Name: "openings", Quantity: *s.Makeup.Openings}}}
				})
				return list
			}),
		},
		{
			ID: "AI-007", Fills: "vapour condenser", Severity: rule.Warning, Title: "The vapour condenser is smaller than the boil",
			Why:      "What it cannot take blows into the room at the hardest part of the boil.",
			Compares: "evaporation against what the condenser takes", Source: source.Derivation("heat balance"),
			Check: steamRule(judgeCondenser, func(_ Facts, t steamTrier) (list []rule.Remedy) { tryCondensers(&list, t); return list }),
		},
		{
			ID: "AI-008", Severity: rule.Warning, Title: "The spray condenser sends water to the drain that is too hot",
			Why:      "Sewers take no more than 43 °C in most consents; hot water softens plastic pipe and breaks the consent.",
			Compares: "temperature to the drain against 43 °C, in Germany 35 °C", Source: sewerDoc.Recalled("s. 27"), Law: abroad(sewerAbroad),
			Check: steamRule(judgeSpray, func(_ Facts, t steamTrier) (list []rule.Remedy) {
				t.try(&list, func(s *Steam) {
					s.Condenser.WaterOut, s.Condenser.Water = s.Sewer, 0
				}, func(s Steam, r SteamResult, _ rule.Answer) rule.Remedy {
					return rule.Remedy{Kind: "more-spray-water", Words: "spray " + litresAnHour(r.Condenser.Water) + " instead, leaving at " + s.Sewer.String(), Params: []rule.Param{{Name: "water", Quantity: r.Condenser.Water}}}
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
		{
			ID: "AI-011", Fills: "fan of the canopy", Severity: rule.Warning, Title: "The fan cannot push its air through the duct", DependsOn: []string{"AI-005"},
			Why:      "At more resistance the fan gives less air, and the canopy spills.",
			Compares: "external pressure of the fan at its flow against duct, canopy and discharge", Source: source.Derivation("Darcy-Weisbach with losses of bends, canopy and discharge"),
			Check: steamRule(judgeFan, func(_ Facts, t steamTrier) (list []rule.Remedy) {
				tryCanopies(&list, t)
				t.try(&list, func(s *Steam) { s.Canopy.Duct = widerDuct(*s) }, func(s Steam, r SteamResult, _ rule.Answer) rule.Remedy {
					return rule.Remedy{Kind: "duct-size", Words: "main duct " + r.Duct.String() + ": the fan needs " + pascals(r.FanNeed), Params: []rule.Param{{Name: "duct", Quantity: r.Duct}}}
				})
				t.try(&list, func(s *Steam) { s.Canopy.Head = t.fanNeed() }, func(_ Steam, r SteamResult, _ rule.Answer) rule.Remedy {
					return rule.Remedy{Kind: "stronger-fan", Words: "a fan of " + r.Flow.String() + " at " + pascals(r.FanNeed), Params: []rule.Param{{Name: "flow", Quantity: r.Flow}, {Name: "head", Quantity: r.FanNeed}}}
				})
				return list
			}),
		},
	}
}
