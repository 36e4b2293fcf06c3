package air

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// Burner is a machine that burns gas.
type Burner struct {
	Tag  string
	Heat unit.Power // heat input
}

func fuelRules() []rule.Rule[Facts] {
	return []rule.Rule[Facts]{{
		ID: "AI-012", Severity: rule.Blocker, Title: "A burner stands where there is no gas",
		Why:      "Without fuel nothing boils; a supply laid on later, or a tank with its distances, takes months and may not be allowed at all.",
		Compares: "the burners chosen against the gas supply of the building", Source: source.Derivation("a burner needs its fuel"),
		Check: judgeFuel,
	}}
}

func judgeFuel(f Facts) []rule.Answer {
	if len(f.Input.Burners) == 0 {
		return []rule.Answer{rule.DoesNotApply("nothing that was chosen burns gas")}
	}
	out := make([]rule.Answer, 0, len(f.Input.Burners))
	for _, b := range f.Input.Burners {
		out = append(out, fuelOf(b, f.Input.GasSupply))
	}
	return out
}

func fuelOf(b Burner, supply *bool) rule.Answer {
	words := b.Tag + " burns gas of " + b.Heat.String()
	switch {
	case supply == nil:
		return rule.Lacks(b.Tag, words+"; whether the building has gas is not known", "GasSupply")
	case *supply:
		return rule.Passes(b.Tag, b.Heat, nil, words+", and the building has gas. Whether meter and pipe carry it, and where flue and combustion air go, a registered gas engineer decides.")
	}
	laid := fuelOf(b, ptr(true))
	return rule.Fails(b.Tag, b.Heat, nil, words+" and the building has none.", rule.Remedy{
		Kind: "gas-supply", Words: "have a supply for " + b.Heat.String() + " laid on, or a tank set, by the network operator or a gas supplier, and agreed with the owner", Need: laid.Need, Have: laid.Have,
		Params: []rule.Param{{Name: "heat", Quantity: b.Heat}},
	})
}
