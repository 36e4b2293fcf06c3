package structure

import (
	"tunwright/configurator"
	"tunwright/configurator/floor"
)

// Facts are the floor's figures together with what they were worked out from.
func Facts(r configurator.Report) floor.Facts {
	return floor.Facts{Input: r.Inputs.Floor, Result: *r.Floor}
}

// level names the storey as a paper does.
func level(storey int) string {
	switch {
	case storey == 0:
		return "ground floor"
	case storey == -1:
		return "basement"
	case storey < 0:
		return "below the basement"
	case storey <= len(ordinals):
		return ordinals[storey-1] + " floor"
	}
	return "an upper floor"
}

var ordinals = [...]string{"first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth"}
