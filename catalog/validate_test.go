package catalog_test

import (
	"strings"
	"testing"

	"tunwright/catalog"
	"tunwright/catalog/strict"
	"tunwright/catalog/unit"
)

// copyOf gives a product of its own to break.
func copyOf(t *testing.T, c *catalog.Catalogue, code string) *catalog.Product {
	t.Helper()
	p, err := c.Lookup(code)
	if err != nil {
		t.Fatal(err)
	}
	text, err := strict.YAML(p)
	if err != nil {
		t.Fatal(err)
	}
	var own catalog.Product
	if err := strict.Decode(code, text, &own); err != nil {
		t.Fatal(err)
	}
	if faults := own.Validate(); len(faults) > 0 {
		t.Fatalf("%s is at fault before it was broken: %v", code, faults)
	}
	return &own
}

// TestValidateFindsContradictions breaks one sound product at a time, in one place.
func TestValidateFindsContradictions(t *testing.T) {
	c := load(t)
	type product = catalog.Product
	cases := []struct {
		code    string
		breakIt func(p *product)
		field   string
		message string
	}{
		{"FV-10", func(p *product) { p.Code = "FV 10" }, "code", "is not an order code"},
		{"FV-10", func(p *product) { p.Code = "FV-" + strings.Repeat("1", 40) }, "code", "is not an order code"},
		{"FV-10", func(p *product) { p.Name = "  " }, "name", "empty"},
		{"FV-10", func(p *product) { p.Summary = "" }, "summary", "empty"},
		{"FV-10", func(p *product) { p.Needs = []string{"chiller", "cooler"} }, "needs[2]", `"cooler" is not a class`},
		{"CIP-60", func(p *product) { p.Usual[0].From = unit.Hectolitres(20) }, "usual[1].to_hl", "is below from_hl"},
		{"CIP-60", func(p *product) { p.Usual[0].When = []string{"rain"} }, "usual[1].when", `"rain" is not known here`},
		{"CIP-60", func(p *product) { p.Usual[0].Each = 2 }, "usual[1].each", "nothing to count"},
		{"FV-10", func(p *product) { p.Chiller = &catalog.Chiller{} }, "chiller", "does not carry this group"},
		{"CH-8", func(p *product) { p.Chiller = nil }, "chiller", "must carry this group"},
		{"FV-10", func(p *product) { p.Bodies = nil }, "bodies", "has no body"},
		{"SV-SURVEY", func(p *product) { p.Bodies = make([]catalog.Body, 1) }, "bodies", "a service has no body"},
		{"FV-10", func(p *product) { p.Bodies[0].Vessel = nil }, "bodies[1].vessel", "needs a vessel with the duty ferment"},
		{"GB-500", func(p *product) { p.Bodies[0].Vessel.Duties = []catalog.Duty{catalog.DutyBright} }, "bodies[1].vessel", "duty coolant"},

		{"FV-10", func(p *product) { p.Bodies[0].Width += unit.Millimetres(50) }, "bodies[1].width_mm", "as wide as it is long"},
		{"FV-10", func(p *product) { p.Bodies[0].Packed = nil }, "bodies[1].packed", "no transport piece"},
		{"FV-10", func(p *product) { p.Bodies[0].Packed = p.Bodies[0].Packed[1:] }, "bodies[1].packed", "less than the body"},
		{"FV-10", func(p *product) { p.Bodies[0].Packed[0].Crate = unit.Metres(2) }, "bodies[1].packed[1].packing_height_mm", "as high as the piece"},
		{"FV-10", func(p *product) { p.Bodies[0].Parts[0].Mass = unit.Tonnes(1) }, "bodies[1].demountable", "the whole body"},
		{"FV-10", func(p *product) { p.Bodies[0].Parts[0].Height = unit.Metres(3) }, "bodies[1].demountable", "would leave nothing"},
		{"FV-10", func(p *product) { p.Bodies[0].Feet.A = unit.Metres(1) }, "bodies[1].feet", "circle or on a rectangle"},
		{"FV-10", func(p *product) { p.Bodies[0].Feet.Circle = 0 }, "bodies[1].feet", "circle or on a rectangle"},
		{"FV-10", func(p *product) { p.Bodies[0].Feet.Circle = unit.Metres(2) }, "bodies[1].feet.circle_mm", "stand clear"},
		{"FV-10", func(p *product) { p.Bodies[0].Wall = true }, "bodies[1].feet", "has no feet"},
		{"CH-8", func(p *product) { p.Bodies[0].Feet.B = 0 }, "bodies[1].feet", "one spacing"},
		{"CH-8", func(p *product) { p.Bodies[0].Feet.Count = 5 }, "bodies[1].feet.count", "do not make a rectangle"},
		{"CH-8", func(p *product) { p.Bodies[0].Feet.A = unit.Metres(5) }, "bodies[1].feet", "further apart"},

		{"FV-10", func(p *product) { p.Bodies[0].Vessel.Nominal = unit.Litres(1400) }, "bodies[1].vessel.gross_l", "less than the working volume"},
		{"FV-10", func(p *product) { p.Bodies[0].Vessel.Gross = unit.Litres(1500) }, "bodies[1].vessel.gross_l", "does not follow from the dimensions"},
		{"FV-10", func(p *product) { p.Bodies[0].Vessel.Cylinder = unit.Metres(2) }, "bodies[1].vessel.gross_l", "does not follow from the dimensions"},
		{"FV-10", func(p *product) { p.Bodies[0].Vessel.Cone = 0 }, "bodies[1].vessel.cone_included_deg", "has an angle"},
		{"BT-10", func(p *product) { p.Bodies[0].Vessel.Cone = unit.Degrees(60) }, "bodies[1].vessel.cone_included_deg", "only that has"},
		{"FV-10", func(p *product) { p.Bodies[0].Vessel.Duties = append(p.Bodies[0].Vessel.Duties, "store") }, "bodies[1].vessel.duties[2]", `"store" is not a duty`},
		{"FV-10", func(p *product) { p.Bodies[0].Vessel.Duties = nil }, "bodies[1].vessel.duties", "has no duty"},
		{"FV-10", func(p *product) { p.Bodies[0].Vessel.LauterArea = unit.SquareMetres(0.5) }, "bodies[1].vessel.lauter_area_m2", "false bottom"},
		{"BH-10-E-2V", func(p *product) { p.Bodies[0].Vessel.LauterArea = unit.SquareMetres(3) }, "bodies[1].vessel.lauter_area_m2", "larger than the vessel's floor"},
		{"FV-10", func(p *product) { p.Bodies[0].Vessel.JacketPS = 0 }, "bodies[1].vessel", "jacket is not described"},
		{"FV-10", func(p *product) { p.Bodies[0].Vessel.JacketDrop = 0 }, "bodies[1].vessel", "jacket is not described"},
		{"FV-10", func(p *product) { p.Bodies[0].Vessel.JacketFlow = 0 }, "bodies[1].vessel", "jacket is not described"},
		{"FV-10", func(p *product) { p.Bodies[0].Vessel.JacketBody, p.Bodies[0].Vessel.JacketCone = 0, 0 }, "bodies[1].vessel", "without a jacket"},
		{"FV-10", func(p *product) { p.Bodies[0].Vessel.JacketBody = unit.SquareMetres(20) }, "bodies[1].vessel.jacket_body_m2", "larger than the vessel's skin"},
		{"BT-10", func(p *product) { p.Bodies[0].Vessel.JacketCone = unit.SquareMetres(0.3) }, "bodies[1].vessel.jacket_cone_m2", "has no cone"},
		{"FV-10", func(p *product) { p.Bodies[0].Vessel.ReliefValve = false }, "bodies[1].vessel.rated_pressure_bar_g", "no relief valve"},
		{"FV-10", func(p *product) { p.Bodies[0].Vessel.Top = "open" }, "bodies[1].vessel.top", "holds no pressure"},
		{"FV-10", func(p *product) { p.Bodies[0].Vessel.Insulation = unit.Millimetres(250) }, "bodies[1].width_mm", "wide with shell and insulation"},
		{"FV-10", func(p *product) { p.Bodies[0].Height = unit.Metres(2) }, "bodies[1].height_mm", "the vessel's inside is"},

		{"CH-8", func(p *product) { p.Loads[0].Start = 0 }, "loads[1]", "must state its starting current"},
		{"HLT-E-10", func(p *product) { p.Loads[0].Start = 2 }, "loads[1].starting_current_ratio", "has no starting current"},
		{"HLT-E-10", func(p *product) { p.Loads[0].Factor = 0.9 }, "loads[1].power_factor_ratio", "too low for an element"},
		{"HLT-E-10", func(p *product) { p.Loads[0].Phases = 2 }, "loads[1].phases", "one phase or three"},
		{"HLT-E-10", func(p *product) { p.Loads[0].Stages = 1 }, "loads[1]", "how many stages"},
		{"HLT-E-10", func(p *product) { p.Loads[0].IP = "IP 65" }, "loads[1].ip", "not a protection code"},
		{"HLT-E-10", func(p *product) { p.Loads[0].States = nil }, "loads[1]", "when the load runs"},
		{"HLT-E-10", func(p *product) { p.Loads[0].States = []string{"hlt", "lunch"} }, "loads[1].states[2]", `"lunch" is not a step`},

		{"FV-10", func(p *product) { p.Connects[0].Flow = 0 }, "connections[1]", "coolant-flow must state flow_l_min"},
		{"FV-10", func(p *product) { p.Connects[2].Pressure = 0 }, "connections[3]", "co2 must state pressure_bar_g"},
		{"HLT-S-10", func(p *product) { p.Connects[1].Steam = 0 }, "connections[2]", "steam must state steam_kg_h"},
		{"SG-G-100", func(p *product) { p.Connects[3].Gas = 0 }, "connections[4]", "gas must state gas_input_kw"},
		{"AC-12", func(p *product) { p.Connects[0].AirFlow = 0 }, "connections[1]", "compressed-air must state air_flow_m3_h"},

		{"BH-10-E-2V", func(p *product) { p.Bodies[1].Vessel.Duties = []catalog.Duty{catalog.DutyKettle} }, "bodies", "has the duty whirlpool"},
		{"BH-10-E-2V", func(p *product) { p.Brewhouse.Vessels = 3 }, "brewhouse.vessels", "3 vessels are stated and 2 given"},
		{"BH-10-E-2V", func(p *product) { p.Brewhouse.LiquorHeat = unit.Kilowatts(9) }, "brewhouse.liquor_heat_kw", "go together"},
		{"BH-10-E-3V", func(p *product) { p.Brewhouse.LiquorHeat = 0 }, "brewhouse.liquor_heat_kw", "go together"},
		{"BH-10-E-2V", func(p *product) { p.Brewhouse.Length = unit.Hectolitres(12) }, "bodies[2].vessel.gross_l", "cannot boil"},
		{"BH-10-E-2V", func(p *product) { p.Loads = p.Loads[1:] }, "loads", "the elements add up to 30 kW"},
		{"BH-10-S-2V", func(p *product) { p.Connects = p.Connects[:2] }, "connections", "heated by steam has no connection"},
		{"BH-10-G-2V", func(p *product) { p.Connects = p.Connects[:2] }, "connections", "heated by gas has no connection"},
		{"BH-10-S-2V", func(p *product) { p.Needs = nil }, "needs", "needs a steam generator"},

		{"CH-8", func(p *product) { p.Chiller.Ratings = p.Chiller.Ratings[:27] }, "chiller.ratings", "is missing"},
		{"CH-8", func(p *product) { p.Chiller.Ratings = append(p.Chiller.Ratings, p.Chiller.Ratings[0]) }, "chiller.ratings", "twice"},
		{"CH-8", func(p *product) { p.Chiller.Ratings = p.Chiller.Ratings[:4] }, "chiller.ratings", "too few points"},
		{"CH-8", func(p *product) { p.Chiller.Ratings[1].Capacity = p.Chiller.Ratings[0].Capacity }, "chiller.ratings[2].capacity_kw", "does not fall from 25 °C to 30 °C"},
		{"CH-8", func(p *product) { p.Chiller.Ratings[1].Input = p.Chiller.Ratings[0].Input }, "chiller.ratings[2].input_kw", "does not rise from 25 °C to 30 °C"},
		{"CH-8", func(p *product) { p.Chiller.Ratings[3].Capacity = p.Chiller.Ratings[7].Capacity }, "chiller.ratings[8].capacity_kw", "does not rise from -8 °C to -6 °C"},
		{"CH-8", func(p *product) { p.Chiller.Ratings[0].Input = unit.Kilowatts(0.1) }, "chiller.ratings[1].input_kw", "gives a ratio of"},
		{"CH-8", func(p *product) { p.Chiller.MinFlow = p.Chiller.MaxFlow * 2 }, "chiller.min_flow_m3_h", "above the largest"},
		{"CH-8", func(p *product) { p.Chiller.ShutOff = 0 }, "chiller.pump_shut_off_bar", "built-in pump"},
		{"CH-8", func(p *product) { p.Chiller.MinLeaving = unit.Celsius(12) }, "chiller.min_leaving_c", "above the whole rating table"},

		{"WC-10-1", func(p *product) { p.WortCooler.UA2 = unit.KilowattsPerK(1) }, "wort_cooler.ua_stage2_kw_k", "second stage"},
		{"WC-10-2", func(p *product) { p.WortCooler.UA2 = 0 }, "wort_cooler.ua_stage2_kw_k", "second stage"},
		{"SG-E-40", func(p *product) { p.Steam.HeatIn = unit.Kilowatts(20) }, "steam.heat_input_kw", "cannot make"},
		{"SG-E-40", func(p *product) { p.Loads = p.Loads[1:] }, "loads", "the elements add up to"},
		{"SG-G-100", func(p *product) { p.Connects = p.Connects[:3] }, "connections", "no gas connection"},
		{"VC-100", func(p *product) { p.Condenser.Water = unit.LitresPerMinute(8) }, "condenser.cooling_water_l_min", "cannot take down"},
		{"PU-G-3", func(p *product) { p.Pump.ShutOff = p.Pump.Head / 2 }, "pump.shut_off_bar", "less than the head"},
		{"SP-400-25", func(p *product) { p.Plate.Thickness *= 2 }, "bodies[1].empty_kg", "the plate weighs"},
	}
	for _, k := range cases {
		p := copyOf(t, c, k.code)
		k.breakIt(p)
		faults := p.Validate()
		found := false
		for _, f := range faults {
			found = found || f.Field == k.field && strings.Contains(f.Message, k.message) && f.WouldHelp != ""
		}
		if !found {
			t.Errorf("%s: got %v, want %s: %s", k.code, faults, k.field, k.message)
		}
	}
}

func TestFaultReadsAsASentence(t *testing.T) {
	f := catalog.Fault{Field: "bodies[1].empty_kg", Message: "it is odd", WouldHelp: "weigh it"}
	if got, want := f.Error(), "bodies[1].empty_kg: it is odd; weigh it"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
