package enquiry

import "tunwright/catalog/unit"

// Complete fills what was not given with a stated, cautious assumption where a
// cautious one exists, so that a figure can be had during the call. What can hurt
// somebody or break the building is never filled: floor capacity, supply fuse,
// existing load, openings and heights stay unknown until somebody gives them.
//
// The values are common practice without a source, chosen on the unfavourable side;
// the survey list asks for each.
func Complete(p Project) Project {
	s := &p.Site
	completeClimate(s)
	completeWater(s)
	completeSupply(s)
	completePlace(s)
	if p.Brief.Peak == 0 {
		p.Brief.Peak = unit.Fraction(1.25)
	}
	if p.Brief.BrewsDay == 0 {
		p.Brief.BrewsDay = 1
	}
	if p.Brief.DayStart == 0 {
		p.Brief.DayStart = unit.Hours(7)
	}
	if s.Floor.People == 0 {
		s.Floor.People = unit.KilonewtonsPerM2(1.5)
	}
	if s.Chiller.Where == "" {
		s.Chiller.Where = "yard"
	}
	return p
}

func fill[T any](f *Fact[T], v T, why string) {
	if !f.Known() {
		*f = Assume(v, why)
	}
}

func completeClimate(s *Site) {
	summer := 32.0
	if s.City {
		summer = 35
	}
	fill(&s.Climate.Summer, unit.Celsius(summer), "hot afternoon at the chiller, city roofs run warmer")
	fill(&s.Climate.Room, unit.Celsius(25), "brewery room in summer without cooling")
	fill(&s.Climate.Winter, unit.Celsius(-5), "cold winter day")
}

func completeWater(s *Site) {
	fill(&s.Water.Winter, unit.Celsius(6), "mains water in winter")
	fill(&s.Water.Summer, unit.Celsius(20), "mains water in summer, warmer in a city")
}

func completeSupply(s *Site) {
	if s.Supply.Rules == "" {
		s.Supply.Rules = "IEC"
		if s.Country == "US" {
			s.Supply.Rules = "NEC"
		}
	}
	if !s.Supply.Phases.Known() {
		return
	}
	line, phase := 400.0, 230.0
	if s.Country == "US" {
		line, phase = 208, 240
	}
	if s.Supply.Phases.Value == 1 {
		line = phase
	}
	fill(&s.Supply.Voltage, unit.Volts(line), "nominal voltage of the country's network")
	fill(&s.Supply.Board, unit.Metres(20), "cable way from the supply to the brewery's board")
}

func completePlace(s *Site) {
	fill(&s.Chiller.Distance, unit.Metres(20), "pipe way from the chiller to the tanks")
	fill(&s.Chiller.Rise, unit.Metres(0), "chiller on the level of the tanks")
}
