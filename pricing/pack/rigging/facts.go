package rigging

import (
	"tunwright/configurator"
	"tunwright/configurator/access"
)

// Facts are the way in and its figures together with what they were worked out from.
func Facts(r configurator.Report) access.Facts {
	return access.Facts{Input: r.Inputs.Access, Result: *r.Access}
}
