package cooling

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

const (
	borderKW    = 12.0 // chillers up to and above it have different limits, Regulation (EU) 2024/573 Annex IV
	smallGWP    = 150.0
	largeGWP    = 750.0
	leakTonnes  = 5.0  // t CO2e from which leaks are looked for yearly
	freeCharge  = 0.15 // kg of R290 free of any rule on the room
	openingFree = 5.0  // m from drains, wells, openings and intakes; the maker's zone governs; from memory
)

var refrigerant = rule.Rule[Facts]{
	ID: "CO-013", Severity: rule.Warning,
	Title:    "The refrigerant wants a decision",
	Why:      "A chiller that may not be sold next year, or a charge too large for its place, stops the job at the inspection. This is a flag and no design: a refrigeration engineer decides.",
	Compares: "warming potential against the market limits at 12 kW, charge against practical limit and place",
	Source:   docFGas.Recalled("Annex IV; EN 378-1 Annexes C and E"),
	Check:    mended(judgeRefrigerant, []option{lawfulChiller, fartherOpenings}),
}

func judgeRefrigerant(f Facts) []rule.Answer {
	r, ch := f.Result.Siting.Refrigerant, f.Input.Chiller
	if r == nil {
		return one(rule.Lacks("", "the refrigerant is unknown or not in the table", "Chiller.Refrigerant"))
	}
	answers := append([]rule.Answer{judgeLaw(f, r)}, judgePlace(f, r)...)
	if ch.Charge == nil {
		answers = append(answers, rule.Lacks("charge", "the charge is unknown", "Chiller.Charge"))
	}
	return answers
}

func inUnion(country string) bool { return country == "" || country == "DE" || country == "IE" }

func judgeLaw(f Facts, r *Refrigerant) rule.Answer {
	limit := unit.PureNumber(largeGWP)
	size := "above 12 kW"
	if f.Result.Chiller.Catalogue.KW() <= borderKW {
		limit, size = unit.PureNumber(smallGWP), "up to 12 kW"
	}
	words := r.Name + " (" + r.Class + ") has a warming potential of " + r.GWP.String() + "; for chillers " + size + " the Union's limit from 2027 is " + limit.String()
	if !inUnion(f.Input.Country) {
		return rule.Passes("market", r.GWP, nil, words+"; this site lies outside the Union: check the current national text")
	}
	if r.GWP >= limit {
		return rule.Fails("market", r.GWP, limit, words)
	}
	return rule.Passes("market", r.GWP, limit, words)
}

// judgePlace looks at flammable charges near openings and at any charge in a room.
func judgePlace(f Facts, r *Refrigerant) []rule.Answer {
	s, ch := f.Input.Siting, f.Input.Chiller
	if s.Where == "inside" {
		return judgeRoom(f, r)
	}
	if !r.Flammable() || ch.Charge != nil && ch.Charge.Kg() <= freeCharge {
		return nil
	}
	need := unit.Metres(openingFree)
	switch d := s.OpeningDist; {
	case d == nil:
		return one(rule.Lacks("place", r.Name+" burns and is heavier than air: how far are drains, light wells, cellar openings and air intakes?", "Siting.OpeningDist"))
	case *d < need:
		return one(rule.Fails("place", need, *d, r.Name+" burns and is heavier than air; the nearest drain, well or opening is "+metres(*d)+" away, "+metres(need)+" are usual"))
	default:
		return one(rule.Passes("place", need, *d, "openings are "+metres(*d)+" away"))
	}
}

func judgeRoom(f Facts, r *Refrigerant) []rule.Answer {
	s, ch := f.Input.Siting, f.Input.Chiller
	if ch.Charge == nil || r.Practical == nil {
		return nil
	}
	if s.RoomVolume == nil {
		return one(rule.Lacks("place", "the volume of the chiller's room is unknown", "Siting.RoomVolume"))
	}
	most := unit.Kilograms(r.Practical.KgM3() * s.RoomVolume.M3())
	words := ch.Charge.String() + " of " + r.Name + "; the practical limit of the room is " + most.String()
	if *ch.Charge > most {
		return one(rule.Fails("place", *ch.Charge, most, words))
	}
	return one(rule.Passes("place", *ch.Charge, most, words))
}

// flags lists what a refrigeration engineer has to look into.
func flags(in *Input, res *Result) []Flag {
	r := res.Siting.Refrigerant
	if r == nil {
		return []Flag{{"Refrigerant unknown", "Ask the maker for refrigerant, charge and safety class.", docEN378.Recalled("Annex C")}}
	}
	list := make([]Flag, 0, 5)
	if inUnion(in.Country) {
		list = append(list, Flag{"Placing on the market", "From 1 January 2027 chillers up to 12 kW must have a warming potential below 150, larger ones below 750, safety exemptions apart. Check the current text.", docFGas.Recalled("Annex IV")})
	}
	if !inUnion(in.Country) {
		list = append(list, Flag{"Placing on the market", "This site lies outside the Union: check the current national text on refrigerants and on leak checks.", source.Practice("national law")})
	}
	if res.Siting.CO2e != nil && r.GWP > 10 && res.Siting.CO2e.T() >= leakTonnes {
		list = append(list, Flag{"Leak checks", "The charge equals " + res.Siting.CO2e.String() + " of CO₂: checks yearly from 5 t, half-yearly from 50 t, quarterly from 500 t; a log is kept.", docFGas.Recalled("leak checks")})
	}
	if r.Flammable() {
		list = append(list, Flag{"Flammable refrigerant", "Class " + r.Class + ": keep the maker's zone free of drains, light wells, openings, intakes and ignition sources; inside a building the charge limit of EN 378-1 Annex C governs.", docEN378.Recalled("Annex C")})
	}
	if in.Siting.Where == "inside" {
		list = append(list, Flag{"Chiller indoors", "Access category, location class and room volume decide the charge; ventilation and detection follow EN 378-3.", docEN378.Recalled("Annexes C and E")})
	}
	if r.Name == "R717" || r.Name == "R744" {
		list = append(list, Flag{"Special refrigerant", r.Name + " wants its own concept for pressure, toxicity and detection.", source.Practice("")})
	}
	return list
}
