package air

import "tunwright/catalog/unit"

// steamFree lists what a site needs that allows no steam in the room.
func steamFree(s Steam, r SteamResult) []string {
	list := []string{
		"Sealed kettle: manhole with gasket, shut while boiling; a sight glass instead of an open hatch.",
		"Vapour condenser for " + s.Evaporation.String() + " (" + r.Condenser.Duty.String() + "), with " + litresAnHour(r.Condenser.Water) + " cooling water from " + r.Condenser.WaterIn.String() + " to " + r.Condenser.WaterOut.String() + "; or a sealed stack of " + r.Condenser.Stack.String() + " to the open air.",
		"Condensate ring and trap, led to a drain with an air gap; nothing runs back into the kettle.",
		"Overpressure and vacuum opening of the kettle piped outdoors or to the condenser, free of any valve.",
	}
	if r.ResidualFlow > 0 {
		list = append(list, "General extract of "+r.ResidualFlow.String()+" above the brewhouse for what escapes at the manhole (5 % of the vapour taken) and at mash transfer.")
	} else {
		list = append(list, "Dried or warmed room air: the room air as stated takes up no vapour at all.")
	}
	return append(list, "Covers on mash tun, hot liquor tank and whirlpool with their own vents to the condenser or outdoors.")
}

// extractSchedule is the mechanical trade's row list.
func extractSchedule(s Steam, r SteamResult) []Line {
	name := "none chosen"
	if s.Canopy != nil {
		name = s.Canopy.Name
	}
	lines := []Line{
		{Label: "Canopy", Text: name},
		{Label: "Plan length", Value: r.CanopyLength},
		{Label: "Plan width", Value: r.CanopyWidth},
		{Label: "Overhang on each free side", Value: r.Overhang},
		{Label: "Evaporation", Value: s.Evaporation},
		{Label: "Pure vapour", Value: r.Vapour},
		{Label: "Flow by capture velocity", Value: r.Capture},
	}
	if r.Convection > 0 {
		lines = append(lines, Line{Label: "Flow by thermal convection", Value: r.Convection, Note: "coefficient from memory"})
	}
	lines = append(lines, flowLine("Flow without fog, at the fan", r.NoFog), flowLine("Flow for a dry duct (80 % humidity)", r.DryDuct))
	lines = append(lines,
		Line{Label: "Governing flow", Value: r.Required, Note: r.Governs},
		Line{Label: "Flow of the fan", Value: r.Flow},
		Line{Label: "Stream temperature", Value: r.Stream.Air.Temp},
		Line{Label: "Stream humidity", Value: r.Stream.Air.Humidity},
		Line{Label: "Dew point of the stream", Value: r.Stream.Air.DewPoint, Note: dewNote(s, r)},
		Line{Label: "Condensate in canopy and duct", Value: r.Stream.Condensate, Note: r.StreamNote},
		Line{Label: "Main duct", Value: r.Duct}, Line{Label: "Velocity in the main duct", Value: r.DuctAt, Note: "6 to 9 m/s"},
		Line{Label: "Discharge", Value: r.Outlet, Note: "at least 1 m above openable windows"}, Line{Label: "Velocity at the discharge", Value: r.OutletAt, Note: "12 to 15 m/s"},
		Line{Label: "Pressure of the duct", Key: "pa", Value: r.DuctLoss}, Line{Label: "External pressure asked of the fan", Key: "pa", Value: r.FanNeed, Note: "with 30 Pa for the canopy and 20 Pa for the discharge, common practice"},
		Line{Label: "Make-up air", Value: r.MakeUp}, Line{Label: "By supply fan at most", Value: r.MakeUpSupply, Note: "85 % of the extract"},
		Line{Label: "Free area if by openings alone", Value: r.OpeningsNeed, Note: "1 m/s, common practice"},
		Line{Label: "Heat for make-up air in winter", Value: r.MakeUpHeat}, Line{Label: "Heat to the room", Value: r.RoomHeat},
	)
	if s.Condenser != nil {
		c := r.Condenser
		lines = append(lines, Line{Label: "Vapour condenser", Text: c.Name}, Line{Label: "Condenser duty", Value: c.Duty}, Line{Label: "Cooling water", Key: "l_h", Value: c.Water}, Line{Label: "To drain while boiling", Key: "l_h", Value: c.ToDrain}, Line{Label: "Drain temperature", Value: c.DrainAt})
	}
	return lines
}

func flowLine(label string, q unit.VolumeFlow) Line {
	if q == 0 {
		return Line{Label: label, Text: "no flow does", Note: "the room air itself is too moist"}
	}
	return Line{Label: label, Value: q}
}

func dewNote(s Steam, r SteamResult) string {
	if r.Stream.Air.DewPoint > s.Winter.Temp {
		return "above the winter outdoor temperature: insulate the duct and drain its low point"
	}
	return "below the winter outdoor temperature: a bare duct stays dry"
}

// gasSchedule is the gas-safety sheet's row list for one room.
func gasSchedule(g GasSpace, r GasResult) []Line {
	lines := []Line{
		{Label: "Room", Text: r.Name},
		{Label: "Air volume", Key: "m3", Value: r.Volume},
		{Label: "Zone of a sudden loss", Key: "m3", Value: r.Zone, Note: zoneNote(g)},
		{Label: "Below ground, pit or stair down", Text: known(g.Room.LowPoint)},
		{Label: "Blow-offs piped outdoors", Text: yesNo(g.Piped)},
		{Label: "Gas made in the week", Value: r.Produced},
		{Label: "Gas into the room in the week", Value: r.Chosen.Week},
		{Label: "Highest rate into the room", Value: r.Chosen.Peak},
		{Label: "as volume", Value: r.Chosen.PeakFlow},
		{Label: "Extract needed, perfect mixing", Value: r.Chosen.NeedPerfect},
		{Label: "Extract needed", Value: r.Chosen.Need, Note: "with the mixing factor"},
		{Label: "Air changes", Value: r.Chosen.NeedChanges},
		{Label: "Room average with that extract", Value: r.Chosen.AtNeed},
	}
	if g.Fan == nil {
		lines = append(lines, Line{Label: "Extract there is", Text: "unknown", Note: "to be measured on site"})
	} else {
		lines = append(lines, Line{Label: "Extract there is", Value: *g.Fan}, Line{Label: "Highest in the week near the tanks", Value: r.Chosen.HighestNear, Note: nearNote(*g.Fan)})
	}
	for _, l := range r.Chosen.FanOff {
		if l.Never {
			continue
		}
		lines = append(lines, Line{Label: "Fan off to " + l.Limit.Code + " " + l.Limit.Share.String(), Value: l.Steady, Note: "at the highest rate held on"})
	}
	return append(lines, Line{Label: "Purge 30 000 to 5 000 ppm", Key: "min", Value: r.Chosen.PurgeTime, Note: "with the needed extract"}, Line{Label: "Oxygen alarm at 19.5 % first speaks at", Key: "pct_vol", Value: r.OxygenBlind, Note: "carbon dioxide"})
}

func nearNote(fan unit.VolumeFlow) string {
	if fan == 0 {
		return "no extract, room taken as tight for the whole week"
	}
	return "mixing factor applied"
}

func zoneNote(g GasSpace) string {
	if g.Stirred {
		return "stirring fans interlocked with the detectors: the whole room"
	}
	return "the lowest metre; common practice, no source"
}

// known is yes, no, or that nobody said.
func known(b *bool) string {
	if b == nil {
		return "unknown"
	}
	return yesNo(*b)
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// litresAnHour, cubic and share print as the trades say it.
func litresAnHour(q unit.VolumeFlow) string { return unit.In(q, "l_h", 0) }

func cubic(v unit.Volume) string { return unit.In(v, "m3", 0) }

func share(c unit.VolumeFraction) string { return unit.In(c, "pct_vol", 1) }
