package programme

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"

	"tunwright/catalog/source"
)

//go:embed tables/tasks.csv
var tasksCSV string

var taskTable = source.MustTable("tasks", tasksCSV)

// row is one line of the table of tasks, parsed once.
type row struct {
	task      Task
	countries string
	when      string // fact that decides; "always"
	after     []Link
	prior     []int // rows that after names
}

var rows = readRows()

func readRows() []row {
	out := make([]row, taskTable.Len())
	for r := range out {
		days, _ := taskTable.Number(r, "days")
		t := Task{
			ID: taskTable.Text(r, "id"), Name: taskTable.Text(r, "name"), Group: taskTable.Text(r, "group"), Who: taskTable.Text(r, "who"), Days: int(days),
			EveryDay: taskTable.Text(r, "calendar") == "every", Instrument: taskTable.Text(r, "instrument"), Basis: basis(taskTable.Text(r, "basis")),
		}
		out[r] = row{task: t, countries: taskTable.Text(r, "countries"), when: taskTable.Text(r, "when"), after: links(taskTable.Text(r, "after"))}
	}
	for i := range out {
		for _, l := range out[i].after {
			at, _ := taskTable.Find("id", l.ID) // a name that is not there fails the table's own test
			out[i].prior = append(out[i].prior, at)
		}
	}
	return out
}

func basis(s string) source.Provenance {
	switch s {
	case "read":
		return source.LookedUp
	case "memory":
		return source.FromMemory
	}
	return source.CommonPractice
}

// instrument takes the part of a country out of "GB: an act | DE: a law"; what is not
// said by country holds for all.
func instrument(s string, c Country) string {
	if !strings.Contains(s, ": ") || !strings.Contains(s, " | ") {
		return s
	}
	for s != "" {
		var part string
		part, s, _ = strings.Cut(s, " | ")
		if own, ok := strings.CutPrefix(part, string(c)+": "); ok {
			return own
		}
	}
	return "look up the national rule"
}

// links reads "P9-OFFER INSTALL" with an optional lag "BREW+5".
func links(s string) []Link {
	var out []Link
	for _, f := range strings.Fields(s) {
		id, lag, _ := strings.Cut(f, "+")
		l := Link{ID: id}
		for _, c := range lag {
			l.Lag = l.Lag*10 + int(c-'0')
		}
		out = append(out, l)
	}
	return out
}

// fact looks up whether a task is wanted: yes, no, or unknown.
func (s Site) fact(name string) (wanted *bool, known bool) {
	var v *bool
	switch name {
	case "always":
		t := true
		return &t, true
	case "new-use":
		v = s.NewUse
	case "build-work":
		v = s.BuildWork
	case "listed":
		v = s.Listed
	case "network":
		v = s.Network
	case "water-supply":
		v = s.WaterSupply
	case "effluent":
		v = s.Effluent
	case "structural":
		v = s.Structural
	case "crane":
		v = s.Crane
	case "road-closure":
		v = s.RoadClosure
	case "taproom":
		v = s.Taproom
	case "trade":
		v = s.Trade
	case "noise":
		v = s.Noise
	case "scheme":
		v = s.Scheme
	case "grain-feed":
		v = s.GrainFeed
	case "large-works":
		v = s.LargeWorks
	default:
		return nil, false
	}
	return v, true
}

// factNames are the facts in print order.
var factNames = []string{"new-use", "build-work", "listed", "network", "water-supply", "effluent", "structural", "crane", "road-closure", "taproom", "trade", "noise", "scheme", "grain-feed", "large-works"}

// chosen is a task of the project with how it came in.
type chosen struct {
	task    Task
	row     int // in the table; 0 for tasks from elsewhere
	open    bool
	decides string
}

// pick takes the tasks of the country. Unknown facts count as yes, so that the date
// is honest; such tasks are marked open.
func pick(in Input) ([]chosen, error) {
	country := in.Country
	if country == "" {
		country = GB
	}
	if country != GB && country != IE && country != DE && country != US {
		return nil, fmt.Errorf("country %q has no programme here: use GB, IE, DE or US", in.Country)
	}
	list := make([]chosen, 0, len(rows)+2*len(in.Supplies)+len(in.Extra))
	gone := make([]bool, len(rows))
	for i, r := range rows {
		here := r.countries == "all" || strings.Contains(r.countries, string(country))
		wanted, _ := in.Site.fact(r.when)
		if gone[i] = !here || wanted != nil && !*wanted; gone[i] {
			continue
		}
		c := chosen{task: r.task, open: wanted == nil, row: i}
		c.task.Instrument = instrument(r.task.Instrument, country)
		if c.open {
			c.decides = r.when
		}
		list = append(list, c)
	}
	for i := range list {
		list[i].task.After = through(nil, list[i].row, gone)
	}
	return list, nil
}

// through gives what a row waits on; in place of rows left out stands what those
// waited on.
func through(out []Link, at int, gone []bool) []Link {
	for n, l := range rows[at].after {
		if prior := rows[at].prior[n]; gone[prior] {
			out = through(out, prior, gone)
		} else if !slices.Contains(out, l) {
			out = append(out, l)
		}
	}
	return out
}
