package catalog

import (
	"fmt"
	"math"
	"slices"

	"tunwright/catalog/unit"
)

// classData names the group of fields each class carries and no other may.
var classData = []struct {
	field string
	class []Class
	given func(*Product) bool
}{
	{"brewhouse", []Class{ClassBrewhouse}, func(p *Product) bool { return p.Brewhouse != nil }},
	{"chiller", []Class{ClassChiller}, func(p *Product) bool { return p.Chiller != nil }},
	{"wort_cooler", []Class{ClassWortCooler}, func(p *Product) bool { return p.WortCooler != nil }},
	{"steam", []Class{ClassSteam}, func(p *Product) bool { return p.Steam != nil }},
	{"extract", []Class{ClassCanopy}, func(p *Product) bool { return p.Extract != nil }},
	{"condenser", []Class{ClassCondenser}, func(p *Product) bool { return p.Condenser != nil }},
	{"gas_alarm", []Class{ClassGasAlarm}, func(p *Product) bool { return p.GasAlarm != nil }},
	{"fan", []Class{ClassFan}, func(p *Product) bool { return p.Fan != nil }},
	{"pump", []Class{ClassPump}, func(p *Product) bool { return p.Pump != nil }},
	{"panel", []Class{ClassPanel}, func(p *Product) bool { return p.Panel != nil }},
	{"mill", []Class{ClassMill}, func(p *Product) bool { return p.Mill != nil }},
	{"plate", []Class{ClassPlate}, func(p *Product) bool { return p.Plate != nil }},
	{"service", []Class{ClassService}, func(p *Product) bool { return p.Service != nil }},
}

func (p *Product) checkClass(fs *faults) {
	for _, d := range classData {
		belongs := slices.Contains(d.class, p.Class)
		switch {
		case belongs && !d.given(p):
			fs.add(d.field, fmt.Sprintf("a product of class %s must carry this group", p.Class), "add "+d.field+": with its fields")
		case !belongs && d.given(p):
			fs.add(d.field, fmt.Sprintf("a product of class %s does not carry this group", p.Class), "delete it or change the class")
		}
	}
	p.checkPresence(fs)
	p.checkVesselDuty(fs)
	p.checkFigures(fs)
}

// checkPresence asks goods for a body and work for none.
func (p *Product) checkPresence(fs *faults) {
	switch p.Class {
	case ClassService:
		if len(p.Bodies)+len(p.Loads)+len(p.Connects) > 0 {
			fs.add("bodies", "a service has no body, load or connection", "delete them or change the class")
		}
	case ClassFitting:
	default:
		if len(p.Bodies) == 0 {
			fs.add("bodies", "the product has no body", "give size, mass and packed pieces")
		}
	}
}

// checkVesselDuty asks a tank class for a vessel that does what the class is for.
func (p *Product) checkVesselDuty(fs *faults) {
	wanted := map[Class][]Duty{
		ClassLiquorTank: {DutyHotLiquor, DutyColdLiquor},
		ClassFermenter:  {DutyFerment},
		ClassBrightTank: {DutyBright, DutyServing},
		ClassBuffer:     {DutyCoolant},
		ClassCIP:        {DutyCleaning},
	}[p.Class]
	if wanted == nil || len(p.Bodies) == 0 {
		return
	}
	if !slices.ContainsFunc(wanted, p.hasDuty) {
		fs.add("bodies[1].vessel", fmt.Sprintf("a product of class %s needs a vessel with the duty %s", p.Class, wanted[0]), "add the vessel or correct its duties")
	}
}

func (p *Product) hasDuty(d Duty) bool {
	return slices.ContainsFunc(p.Bodies, func(b Body) bool {
		return b.Vessel != nil && slices.Contains(b.Vessel.Duties, d)
	})
}

func (p *Product) checkFigures(fs *faults) {
	switch {
	case p.Brewhouse != nil:
		p.checkBrewhouse(fs)
	case p.Chiller != nil:
		p.Chiller.check(fs)
	case p.WortCooler != nil:
		p.WortCooler.check(fs)
	case p.Steam != nil:
		p.checkSteam(fs)
	case p.Condenser != nil:
		p.Condenser.check(fs)
	case p.Pump != nil && p.Pump.ShutOff < p.Pump.Head:
		fs.add("pump.shut_off_bar", "the head against a closed valve is less than the head at the rated flow", "it is the larger of the two")
	case p.Plate != nil:
		p.checkPlate(fs)
	}
}

func (p *Product) checkBrewhouse(fs *faults) {
	for _, d := range []Duty{DutyMash, DutyLauter, DutyKettle, DutyWhirlpool} {
		if !p.hasDuty(d) {
			fs.add("bodies", fmt.Sprintf("no vessel of the brewhouse has the duty %s", d), "a brewhouse mashes, lauters, boils and whirlpools: give each duty to a vessel")
		}
	}
	vessels := 0
	for _, b := range p.Bodies {
		if b.Vessel != nil {
			vessels++
		}
	}
	h := p.Brewhouse
	if vessels != h.Vessels {
		fs.add("brewhouse.vessels", fmt.Sprintf("%d vessels are stated and %d given under bodies", h.Vessels, vessels), "make them agree")
	}
	if (h.LiquorHeat > 0) != p.hasDuty(DutyHotLiquor) {
		fs.add("brewhouse.liquor_heat_kw", "liquor heat and a vessel with the duty hot-liquor go together", "give both or neither")
	}
	for i, b := range p.Bodies {
		if b.Vessel != nil && slices.Contains(b.Vessel.Duties, DutyKettle) && b.Vessel.Gross.SI() < h.Length.SI()*minKettle {
			fs.add(fmt.Sprintf("bodies[%d].vessel.gross_l", i+1), fmt.Sprintf("a kettle of %s cannot boil %s", b.Vessel.Gross, unit.In(h.Length, "hl", 1)), fmt.Sprintf("it holds at least %.2f times the brew length: hot wort, evaporation and froth", minKettle))
		}
	}
	p.checkHeat(fs)
}

// minKettle is the least brim volume of a kettle over its brew length: 1 / (0.97 ·
// 0.96) of hot wort for one of cold, 6 % for evaporation, and 15 % of the vessel
// free, the low end of the headspace in use. Common practice, no source.
const minKettle = 1.34

func (p *Product) checkHeat(fs *faults) {
	h := p.Brewhouse
	service := map[string]string{"steam": "steam", "gas": "gas"}[h.Heat]
	if service != "" && !p.connects(service) {
		fs.add("connections", fmt.Sprintf("a brewhouse heated by %s has no connection for it", h.Heat), "add the connection with its rate")
	}
	if h.Heat == "steam" && !slices.Contains(p.Needs, string(ClassSteam)) {
		fs.add("needs", "a steam-heated brewhouse needs a steam generator", "add steam-generator")
	}
	want, have := h.KettleHeat+h.LiquorHeat, p.sumLoads("element")
	if h.Heat == "electric" && math.Abs(have.SI()-want.SI()) > 0.01*want.SI() {
		fs.add("loads", fmt.Sprintf("the elements add up to %s, kettle and liquor heat to %s", have, want), "make them agree")
	}
}

func (w *WortCooler) check(fs *faults) {
	if (w.Stages == 2) != (w.UA2 > 0) {
		fs.add("wort_cooler.ua_stage2_kw_k", "a second stage has a rating, and only a second stage has", "give ua_stage2_kw_k with stages: 2")
	}
}

// latentHeat is the heat of vaporization of water at 4 bar absolute, 2133 kJ/kg
// (IAPWS-IF97, from memory): the least a kilogram of steam takes to make.
const latentHeat = 2133e3

func (p *Product) checkSteam(fs *faults) {
	s := p.Steam
	least := unit.Watts(s.Output.SI() * latentHeat)
	if s.HeatIn < least {
		fs.add("steam.heat_input_kw", fmt.Sprintf("%s cannot make %s of steam", s.HeatIn, s.Output), fmt.Sprintf("the latent heat alone takes %s", least))
	}
	if s.Fuel == "gas" && !p.connects("gas") {
		fs.add("connections", "a gas-fired steam generator has no gas connection", "add the connection with gas_input_kw")
	}
	elements := p.sumLoads("element")
	if s.Fuel == "electric" && math.Abs(elements.SI()-s.HeatIn.SI()) > 0.01*s.HeatIn.SI() {
		fs.add("loads", fmt.Sprintf("the elements add up to %s, the heat input is %s", elements, s.HeatIn), "make them agree")
	}
}

// Condensing takes 2256.5 kJ/kg at 100 °C (IAPWS-IF97); cold water can warm by 85 K
// at the most before it leaves.
const (
	condensingHeat = 2256.5e3
	warming        = 85 * 4190.0
)

func (c *Condenser) check(fs *faults) {
	least := c.Vapour.SI() * condensingHeat / warming / 1000 // m³/s
	if c.Water.SI() < least {
		fs.add("condenser.cooling_water_l_min", fmt.Sprintf("%s of water cannot take down %s of vapour", c.Water, c.Vapour),
			fmt.Sprintf("it takes at least %s", unit.In(unit.VolumeFlow(least), "l_min", 1)))
	}
}

// steel is the density of structural steel, 7850 kg/m³ (EN 1991-1-1 Table A.4 gives
// 77 to 78.5 kN/m³, from memory).
const steel = 7850

func (p *Product) checkPlate(fs *faults) {
	want := p.Plate.A.M() * p.Plate.B.M() * p.Plate.Thickness.M() * steel
	if len(p.Bodies) > 0 && math.Abs(p.Bodies[0].Empty.Kg()-want) > 0.1*want {
		fs.add("bodies[1].empty_kg", fmt.Sprintf("the plate weighs %s by its size, not %s", unit.Mass(want), p.Bodies[0].Empty), "correct the mass or the size")
	}
}
