package electrician

import (
	"tunwright/configurator"
	"tunwright/configurator/electrical"
)

// Facts are the electrical figures together with what they were worked out from.
func Facts(r configurator.Report) electrical.Facts {
	return electrical.Facts{Input: r.Inputs.Electrical, Result: *r.Electrical}
}
