package configurator

import (
	"tunwright/catalog/unit"
	"tunwright/configurator/access"
	"tunwright/configurator/air"
	"tunwright/configurator/brewing"
	"tunwright/configurator/cooling"
	"tunwright/configurator/electrical"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/floor"
	"tunwright/configurator/haccp"
	"tunwright/configurator/pressure"
	"tunwright/configurator/programme"
	"tunwright/configurator/rule"
	"tunwright/configurator/water"
)

// Discipline names a part of the report.
type Discipline string

const (
	Brewing    Discipline = "brewing"
	Cooling    Discipline = "cooling"
	Electrical Discipline = "electrical"
	Floor      Discipline = "floor"
	Access     Discipline = "access"
	Air        Discipline = "air"
	Water      Discipline = "water"
	Pressure   Discipline = "pressure"
	Programme  Discipline = "programme"
	Food       Discipline = "food safety"
)

// Finding is the answer of one rule on one subject.
type Finding struct {
	Discipline Discipline
	rule.Finding
}

// Gap is a discipline that could not be worked out at all, and why. It stops
// the job: what was not calculated never passes.
type Gap struct {
	Discipline Discipline
	Words      string
}

// Report is all that the technical side has to say of a project. Results are nil
// where a gap says why.
type Report struct {
	Project   enquiry.Project // as completed by stated assumptions
	Catalogue string          // digest of the catalogue the report rests on
	Chosen    []Chosen
	Pieces    []Piece

	Brewing    *brewing.Result
	Cooling    *cooling.Result
	Electrical *electrical.Result
	Floor      *floor.Result
	Access     *access.Result
	Air        *air.Result
	Water      *water.Result
	Pressure   *pressure.Result
	Programme  *programme.Result
	Food       *haccp.Result

	Inputs   Inputs // what each result was worked out from
	Findings []Finding
	Gaps     []Gap
}

// Inputs are what the carriers gave the disciplines: ready tables of a discipline are
// made from its input and result together.
type Inputs struct {
	Brewing    brewing.Input
	Cooling    cooling.Input
	Electrical electrical.Input
	Floor      floor.Input
	Access     access.Input
	Air        air.Input
	Water      water.Input
	Pressure   pressure.Input
	Programme  programme.Input
	Food       haccp.Input
}

// Count is how many answers came out each way.
type Count struct {
	Stops, Warnings, Notices, Unknown, Waiting, Passed, NotApplicable int
}

// Count adds the report up.
func (r Report) Count() Count {
	n := Count{Stops: len(r.Gaps)}
	for _, f := range r.Findings {
		switch {
		case f.WaitingOn != "":
			n.Waiting++
		case f.Outcome == rule.Pass:
			n.Passed++
		case f.Outcome == rule.NotApplicable:
			n.NotApplicable++
		case f.Outcome == rule.Unknown:
			n.Unknown++
		case f.Rule.Severity == rule.Blocker:
			n.Stops++
		case f.Rule.Severity == rule.Warning:
			n.Warnings++
		default:
			n.Notices++
		}
	}
	return n
}

// Stopped tells whether a finding stands that must be mended before anyone signs.
func (r Report) Stopped() bool { return r.Count().Stops > 0 }

// Open lists what fails or is unknown, stops first, in print order within each.
func (r Report) Open() []Finding {
	var out []Finding
	for _, want := range []func(Finding) bool{
		func(f Finding) bool { return f.Outcome == rule.Fail && f.Rule.Severity == rule.Blocker },
		func(f Finding) bool { return f.Outcome == rule.Unknown && f.WaitingOn == "" },
		func(f Finding) bool { return f.Outcome == rule.Fail && f.Rule.Severity == rule.Warning },
		func(f Finding) bool { return f.Outcome == rule.Fail && f.Rule.Severity == rule.Notice },
	} {
		for _, f := range r.Findings {
			if want(f) {
				out = append(out, f)
			}
		}
	}
	return out
}

// Gauge is how full one limit of the building or the equipment is. Full is 0 where the
// figures have no share, such as temperatures.
type Gauge struct {
	Discipline Discipline
	Name       string
	Rule       string
	Need, Have unit.Quantity
	Full       unit.Ratio
}

// Gauges gives, for each rule that compares two figures, the fullest subject, or the
// first that fails where figures have no share.
func (r Report) Gauges() []Gauge {
	var out []Gauge
	at, failed := map[string]int{}, map[string]bool{}
	for _, f := range r.Findings {
		if !f.Compared() || f.Outcome != rule.Pass && f.Outcome != rule.Fail {
			continue
		}
		full, share := f.Fill()
		g := Gauge{Discipline: f.Discipline, Name: f.Rule.Compares, Rule: f.Rule.ID, Need: f.Need, Have: f.Have, Full: full}
		if f.Subject != "" {
			g.Name = f.Subject + ": " + g.Name
		}
		i, seen := at[f.Rule.ID]
		switch {
		case !seen:
			at[f.Rule.ID] = len(out)
			out = append(out, g)
		case share && full > out[i].Full, !share && f.Outcome == rule.Fail && !failed[f.Rule.ID]:
			out[i] = g
		}
		failed[f.Rule.ID] = failed[f.Rule.ID] || f.Outcome == rule.Fail
	}
	return out
}
