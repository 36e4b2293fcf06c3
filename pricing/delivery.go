package pricing

import (
	"fmt"
	"strings"

	"tunwright/configurator/access"
)

// DeliveryRule is a rule of Incoterms 2020 in short. The way in reads the same table,
// so that both papers name the same unloader.
type DeliveryRule = access.DeliveryRule

var deliveryRules = access.DeliveryRules()

// DeliveryRules returns the rules in the order of the publication.
func DeliveryRules() []DeliveryRule { return access.DeliveryRules() }

// Delivery is the agreed delivery: a rule and the named place.
type Delivery struct {
	Rule  string `json:"rule"`  // of Incoterms 2020
	Place string `json:"place"` // as exact as it can be said
	// UpperFloor tells that the goods go to another level than the lorry's.
	UpperFloor bool `json:"upper_floor,omitempty"`
	// LiftByUs tells that lifting into position is in our price.
	LiftByUs bool `json:"lift_by_us,omitempty"`
}

// Check refuses rules that do not exist and places that are not named.
func (d Delivery) Check() error {
	var problems Problems
	if _, ok := d.rule(); !ok {
		problems.add("delivery.rule", "%q is not a rule of Incoterms 2020; one of EXW FCA CPT CIP DAP DPU DDP FAS FOB CFR CIF", d.Rule)
	}
	if strings.TrimSpace(d.Place) == "" {
		problems.add("delivery.place", "missing; the rule means nothing without its named place")
	}
	return problems.err()
}

func (d Delivery) rule() (DeliveryRule, bool) {
	for _, r := range deliveryRules {
		if r.Rule == d.Rule {
			return r, true
		}
	}
	return DeliveryRule{}, false
}

// String prints rule, place and edition: "DAP 4 Quay Lane, kerbside (Incoterms 2020)".
func (d Delivery) String() string {
	if d.Rule == "" {
		return ""
	}
	return fmt.Sprintf("%s %s (Incoterms 2020)", d.Rule, d.Place)
}

// Questions are what stays open between the rule and the building. Only under DPU
// does the seller unload, so that a tank delivered under any other rule to an upper
// floor or a cellar has nobody to lift it until someone is named.
func (d Delivery) Questions() []string {
	r, ok := d.rule()
	if !ok {
		return nil
	}
	var out []string
	if r.Unloading == "buyer" {
		out = append(out, fmt.Sprintf("Under %s the buyer unloads at the named place: is a forklift or crane with driver on site on the day?", r.Rule))
	}
	if d.UpperFloor && !d.LiftByUs {
		out = append(out, "The plant goes to another level: who lifts it from the lorry into position, and who plans the lift?")
	}
	if d.LiftByUs && r.Unloading == "buyer" {
		out = append(out, fmt.Sprintf("The lift is in our price but %s ends before it: DPU in final position says what is meant.", r.Rule))
	}
	return out
}
