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

type networkIn struct {
	Tasks []networkTask `yaml:"tasks,required"`
}

type networkTask struct {
	ID    string   `yaml:"id,required"`
	Days  int      `yaml:"takes,required" range:"0..2000" doc:"in any one unit of time"`
	After []string `yaml:"after" doc:"tasks to be over before it"`
}

type networkOut struct {
	Length   int           `yaml:"length"`
	Critical []string      `yaml:"critical"`
	Tasks    []networkTime `yaml:"tasks"`
}

type networkTime struct {
	ID    string `yaml:"id"`
	Early int    `yaml:"earliest_start"`
	Late  int    `yaml:"latest_start"`
	Float int    `yaml:"slack"`
}

// Calculations lists the calculations that can be run by name.
func Calculations() []calc.Calculation {
	ref := source.Derivation("count of days that are neither weekend nor public holiday")
	return []calc.Calculation{
		calc.New("programme.working-days", "Working days between two dates", "days from the first to the day before the last, less weekends and holidays", ref, `{"from": "2026-12-21", "to": "2027-01-04", "holidays": ["2026-12-25", "2026-12-28", "2027-01-01"]}`, calcWorkingDays),
		calc.New("programme.latest-start", "Latest start of a task", "the day needed less the working days it takes", ref, `{"needed": "2027-06-01", "takes_workdays": 45, "holidays": ["2027-05-03", "2027-05-31"]}`, calcLatest),
		calc.New("programme.critical-path", "Critical path of a network of tasks", "forward: latest finish before; backward: earliest start after", cpm.Recalled("forward and backward pass"), `{"tasks": [{"id": "A", "takes": 2}, {"id": "B", "takes": 3}, {"id": "C", "takes": 2, "after": ["A"]}, {"id": "D", "takes": 4, "after": ["A", "B"]}]}`, calcNetwork),
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

func calcNetwork(in networkIn) (networkOut, trace.Trace, error) {
	const first = Date(20000) // any day: only differences are shown
	total := 1
	tasks := make([]Task, len(in.Tasks))
	for i, t := range in.Tasks {
		tasks[i] = Task{ID: t.ID, Name: t.ID, Days: t.Days, EveryDay: true}
		for _, a := range t.After {
			tasks[i].After = append(tasks[i].After, Link{ID: a})
		}
		total += t.Days
	}
	every, err := NewCalendar(first-Date(total), first+Date(total), nil, true)
	if err != nil {
		return networkOut{}, nil, err
	}
	bars, err := Network(tasks, first, 0, every, every)
	if err != nil {
		return networkOut{}, nil, err
	}
	var out networkOut
	for _, b := range bars {
		out.Length = max(out.Length, int(b.Finish-first))
		if b.Critical {
			out.Critical = append(out.Critical, b.ID)
		}
		out.Tasks = append(out.Tasks, networkTime{b.ID, int(b.Start - first), int(b.LateStart - first), b.Float})
	}
	length := unit.WorkDays(float64(out.Length))
	return out, trace.Trace{{Title: "Length of the network", Symbol: "T", Formula: "latest finish of all tasks", Result: length, Source: cpm.Recalled("forward pass")}}, nil
}
