package programme

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/trace"
)

type workingDaysIn struct {
	From     string   `yaml:"from,required" doc:"first day, 2026-11-25"`
	To       string   `yaml:"to,required" doc:"day after the last"`
	Holidays []string `yaml:"holidays" doc:"public holidays"`
}

type workingDaysOut struct {
	Days unit.WorkingDays `yaml:"days_workdays"`
}

type latestIn struct {
	Needed   string           `yaml:"needed,required" doc:"day on which the task must be over"`
	Days     unit.WorkingDays `yaml:"takes_workdays,required" range:"0..2000"`
	Holidays []string         `yaml:"holidays" doc:"public holidays"`
}

type latestOut struct {
	Start string `yaml:"latest_start"`
}

// Calculations lists the calculations that can be run by name.
func Calculations() []calc.Calculation {
	ref := source.Derivation("count of days that are neither weekend nor public holiday")
	return []calc.Calculation{
		calc.New("programme.working-days", "Working days between two dates", "days from the first to the day before the last, less weekends and holidays", ref, `{"from": "2026-12-21", "to": "2027-01-04", "holidays": ["2026-12-25", "2026-12-28", "2027-01-01"]}`, calcWorkingDays),
		calc.New("programme.latest-start", "Latest start of a task", "the day needed less the working days it takes", ref, `{"needed": "2027-06-01", "takes_workdays": 45, "holidays": ["2027-05-03", "2027-05-31"]}`, calcLatest),
	}
}

func dates(list []string) ([]Date, error) {
	out := make([]Date, len(list))
	for i, s := range list {
		d, err := ParseDate(s)
		if err != nil {
			return nil, err
		}
		out[i] = d
	}
	return out, nil
}

func calcWorkingDays(in workingDaysIn) (workingDaysOut, trace.Trace, error) {
	days, err := dates(append([]string{in.From, in.To}, in.Holidays...))
	if err != nil {
		return workingDaysOut{}, nil, err
	}
	c, err := NewCalendar(days[0], days[1], days[2:], false)
	if err != nil {
		return workingDaysOut{}, nil, err
	}
	n := unit.WorkDays(float64(c.Count(days[0], days[1])))
	return workingDaysOut{n}, trace.Trace{{Title: "Working days", Symbol: "n", Formula: "days - weekends - holidays", Values: []trace.Value{trace.V("days", unit.Days(float64(days[1]-days[0])))}, Result: n, Source: source.Derivation("calendar")}}, nil
}

func calcLatest(in latestIn) (latestOut, trace.Trace, error) {
	days, err := dates(append([]string{in.Needed}, in.Holidays...))
	if err != nil {
		return latestOut{}, nil, err
	}
	n := int(in.Days.N())
	c, err := NewCalendar(days[0]-Date(3*n+60), days[0], days[1:], false)
	if err != nil {
		return latestOut{}, nil, err
	}
	start, err := c.Add(days[0], -n)
	if err != nil {
		return latestOut{}, nil, err
	}
	return latestOut{start.String()}, trace.Trace{{Title: "Latest start", Symbol: "d", Formula: "needed - days", Values: []trace.Value{trace.V("days", in.Days)}, Result: in.Days, Source: source.Derivation("calendar"), Note: start.String()}}, nil
}
