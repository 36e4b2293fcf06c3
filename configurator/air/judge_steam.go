package air

import (
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// siteCondition is the arithmetic of the check and who set its condition: no law or
// standard asks for it.
var siteCondition = source.Derivation("mass balance: vapour that is not condensed stays in the room; that none may stay is a condition of this site, told by the client or the landlord, not of a law or standard")

func judgeSteamFree(s Steam, r SteamResult) rule.Answer {
	switch {
	case s.SteamFree == nil && condensed(s):
		return rule.Passes("", s.Evaporation, s.Condenser.Vapour, "whether the site allows steam in the room is not known; the condenser takes all vapour")
	case s.SteamFree == nil:
		return rule.Lacks("", "whether vapour may leave through roof or wall is not known; "+s.Evaporation.String()+" are boiled off", "Steam.SteamFree")
	case !*s.SteamFree:
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
	if s.Canopy.Flow <= 0 {
		return rule.Lacks("", "capture asks for "+need.String()+"; the flow of the canopy's fan is not known", "Steam.Canopy.Flow")
	}
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
	if s.Canopy.Flow <= 0 {
		return rule.Lacks("", "the flow of the canopy's fan is not known, so nobody can say what falls out of its stream", "Steam.Canopy.Flow")
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
	if noCanopy(s) {
		return rule.DoesNotApply("no canopy carries the vapour")
	}
	if s.Canopy.Flow <= 0 {
		return rule.Lacks("", "the flow of the canopy's fan is not known", "Steam.Canopy.Flow")
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

// drawnFrom is all the air that canopy and other fans draw from the room.
func drawnFrom(s Steam) unit.VolumeFlow { return s.Canopy.Flow + s.OtherDraw }

func openingsFor(s Steam) unit.Area {
	if s.Canopy == nil {
		return 0
	}
	return unit.SquareMetres(drawnFrom(s).M3S() / openingSpeed)
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
		if s.Makeup.Supply.M3S() > r.MakeUp.M3S()*supplyShare*1.0001 {
			return rule.Fails("", *s.Makeup.Supply, r.MakeUpSupply, "the supply fan brings "+s.Makeup.Supply.String()+", more than 85 % of the extract "+r.MakeUp.String()+": vapour is pushed out of the brewhouse")
		}
	}
	words := r.MakeUp.String() + " must come in, " + have.String() + " can"
	if s.OtherDraw > 0 {
		words += "; the canopy draws " + r.Flow.String() + ", other fans " + s.OtherDraw.String()
	}
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
	limit := s.Sewer
	words := "the drain takes " + litresAnHour(r.Condenser.ToDrain) + " at " + r.Condenser.DrainAt.String() + "; the limit is " + limit.String() + "." + checkText
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
	if noCanopy(s) {
		return rule.DoesNotApply("no canopy carries the vapour")
	}
	if s.PlanArea == 0 {
		return rule.Lacks("", "the boiling surface below the canopy is not known", "Steam.PlanArea")
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

func pascals(p unit.PressureDiff) string { return unit.In(p, "pa", 0) }

// widerDuct is the widest standard duct that still keeps 6 m/s.
func widerDuct(s Steam) unit.Length {
	return sizeBetween(s.Canopy.Flow, ductLow, ductHigh)
}

func judgeFan(s Steam, r SteamResult) rule.Answer {
	switch {
	case noCanopy(s):
		return rule.DoesNotApply("no canopy carries the vapour")
	case s.Canopy.Flow <= 0 || r.FanNeed == 0:
		return rule.Lacks("", "flow or duct of the canopy are not known, so nobody can say what its fan must give", "Steam.Canopy.Flow", "Steam.Canopy.Duct")
	}
	if s.Canopy.Head == 0 {
		return rule.Lacks("", "the fan must give "+pascals(r.FanNeed)+" at "+r.Flow.String()+"; what it gives is not known", "Steam.Canopy.Head")
	}
	words := "duct, canopy and discharge take " + pascals(r.FanNeed) + ", the fan gives " + pascals(s.Canopy.Head)
	if s.Canopy.Head < r.FanNeed {
		return rule.Fails("", r.FanNeed, s.Canopy.Head, words)
	}
	return rule.Passes("", r.FanNeed, s.Canopy.Head, words)
}
