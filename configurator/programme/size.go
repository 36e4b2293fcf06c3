package programme

import (
	"fmt"
	"slices"
	"strings"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
)

// groups in the order in which the drawing shows them.
var groups = []string{"site", "permit", "supply", "works", "delivery", "start-up"}

// Size draws up the programme. An error means that the input cannot be, never that
// the date cannot be met.
func Size(in Input) (Result, error) {
	d, err := draft(in, &Calendar{})
	if err != nil {
		return Result{}, fmt.Errorf("programme: %w", err)
	}
	r := Result{work: d.work}
	r.fill(in, d)
	return r, nil
}

// drafted is the network of a project before it is dressed for papers.
type drafted struct {
	list []chosen
	bars []Bar
	over map[string]bool
	work Calendar
}

// draft schedules a project. A calendar at hand with the same holidays serves again
// where it is long enough.
func draft(in Input, at *Calendar) (drafted, error) {
	if in.Today <= 0 {
		return drafted{}, fmt.Errorf("today's date is not set: the programme runs from it")
	}
	list, err := pick(in)
	if err != nil {
		return drafted{}, err
	}
	if list, err = addSupplies(list, in); err != nil {
		return drafted{}, err
	}
	d := drafted{list: list}
	if d.over, err = adjust(list, in); err != nil {
		return d, err
	}
	tasks := make([]Task, len(list))
	longest := 0
	for i, c := range list {
		tasks[i] = c.task
		longest = max(longest, c.task.Days)
	}
	span := Date(2*366 + 2*longest) // no chain of permits is longer
	start, end := in.Today-span, max(in.Today, in.Opening, in.Order)+span
	if d.work = *at; !at.covers(start, end) {
		if d.work, err = NewCalendar(start, end, in.Holidays, false); err != nil {
			return d, err
		}
	}
	every, err := NewCalendar(start, end, nil, true)
	if err != nil {
		return d, err
	}
	d.bars, err = Network(tasks, in.Today, in.Opening, d.work, every)
	return d, err
}

// tried is what a changed project comes to.
type tried struct {
	earliest Date // opening
	orderBy  Date // latest for the client's opening
	inTime   bool // no task should have begun before today
}

// try schedules a changed project, with the calendar of the one before: the holidays
// are those of the place. ok is false where it cannot be.
func (r *Result) try(in Input) (t tried, ok bool) {
	d, err := draft(in, &r.work)
	if err != nil {
		return t, false
	}
	t.inTime = true
	for i := range d.bars {
		b := dated(d.bars[i], &d.work)
		switch b.ID {
		case "OPEN":
			t.earliest = b.Finish
		case "ORDER":
			t.orderBy = b.Needed
		}
		if in.Opening > 0 && !d.over[b.ID] && b.Needed < in.Today {
			t.inTime = false
		}
	}
	return t, true
}

// addSupplies puts making and shipping of each class between order and delivery.
func addSupplies(list []chosen, in Input) ([]chosen, error) {
	var ships []Link
	for i, s := range in.Supplies {
		if err := unit.NotNegative("lead time of "+s.Name, s.Lead); err != nil {
			return nil, err
		}
		if err := unit.NotNegative("shipping of "+s.Name, s.Shipping); err != nil {
			return nil, err
		}
		id := supplyID(i, s)
		after := []Link{{ID: "ORDER"}}
		if s.Needs != "" && has(list, s.Needs) {
			after = append(after, Link{ID: s.Needs})
		}
		list = append(list, chosen{task: Task{ID: "MAKE-" + id, Name: s.Name + ": made", Group: "supply", Who: "us", Days: days(s.Lead), EveryDay: true, After: after, Basis: source.CommonPractice}})
		list = append(list, chosen{task: Task{ID: "SHIP-" + id, Name: s.Name + ": on the way", Group: "supply", Who: "us", Days: days(s.Shipping), EveryDay: true, After: []Link{{ID: "MAKE-" + id}}, Basis: source.CommonPractice}})
		ships = append(ships, Link{ID: "SHIP-" + id})
	}
	for _, t := range in.Extra {
		list = append(list, chosen{task: t})
	}
	for i := range list {
		if list[i].task.ID == "DELIVER" {
			list[i].task.After = append(append([]Link(nil), list[i].task.After...), ships...)
		}
	}
	return list, nil
}

func supplyID(i int, s Supply) string {
	if s.Code != "" {
		return s.Code
	}
	return unit.Digits(float64(i+1), 4)
}

func days(d unit.Duration) int { return int(d.D() + 0.999) }

func has(list []chosen, id string) bool {
	for _, c := range list {
		if c.task.ID == id {
			return true
		}
	}
	return false
}

// adjust sets the durations and dates of this project and takes off what is over.
func adjust(list []chosen, in Input) (over map[string]bool, err error) {
	set := map[string]int{}
	for id, d := range map[string]int{"WORKS": int(in.Times.Works.N()), "INSTALL": int(in.Times.Install.N()), "WATERRUN": int(in.Times.Commission.N()), "MATURE": days(in.Times.FirstBatch)} {
		if d > 0 {
			set[id] = d
		}
	}
	notes := map[string]string{}
	for _, o := range in.Own {
		if o.Days < 0 {
			return nil, fmt.Errorf("task %s: %d days: it cannot take less than no time", o.ID, o.Days)
		}
		if !has(list, o.ID) {
			continue
		}
		set[o.ID], notes[o.ID] = o.Days, o.Note
	}
	over = map[string]bool{}
	for _, id := range in.Done {
		over[id] = true
	}
	for i := range list {
		t := &list[i].task
		if d, ok := set[t.ID]; ok {
			t.Days = d
		}
		if n := notes[t.ID]; n != "" {
			t.Note = n
		}
		if t.ID == "ORDER" && in.Order > 0 {
			t.NotBefore = in.Order
		}
		if over[t.ID] {
			t.Days, t.After = 0, nil
		}
	}
	return over, nil
}

func (r *Result) fill(in Input, d drafted) {
	bars, work := d.bars, d.work
	at := make(map[string]int, len(bars))
	order := make([]int, len(bars))
	for i, b := range bars {
		at[b.ID], order[i] = i, i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		if d := groupRank(bars[i].Group) - groupRank(bars[j].Group); d != 0 {
			return d
		}
		return int(bars[i].Start - bars[j].Start)
	})
	r.Steps = make([]Step, len(bars))
	for k, i := range order {
		b := dated(bars[i], &work)
		needs := make([]string, len(b.After))
		for n, l := range b.After {
			needs[n] = bars[at[l.ID]].Name
		}
		r.Steps[k] = Step{Bar: b, Needs: strings.Join(needs, "; "), Open: d.list[i].open, Decides: d.list[i].decides, Over: d.over[b.ID]}
		if b.ID == "OPEN" {
			r.Earliest = b.Finish
		}
		if b.ID == "ORDER" && in.Opening > 0 {
			r.OrderBy = b.Needed
		}
	}
	r.From, r.To, r.Opening = in.Today, r.Earliest, in.Opening
	for i := range r.Steps {
		s := &r.Steps[i]
		r.To = max(r.To, s.Finish)
		s.When = whenWords(*s, in.Opening)
		if s.Critical && !s.Over {
			r.Critical = append(r.Critical, i)
		}
		if in.Opening > 0 && !s.Over && s.Needed < in.Today {
			r.Late = append(r.Late, i)
		}
	}
	slices.SortStableFunc(r.Critical, func(i, j int) int { return int(r.Steps[i].Start - r.Steps[j].Start) })
	if in.Opening > 0 {
		r.To = max(r.To, in.Opening)
		r.Spare = unit.WorkDays(float64(work.Count(r.Earliest, in.Opening)))
	}
	for _, h := range in.Holidays {
		if h >= r.From && h <= r.To {
			r.Holidays = append(r.Holidays, h)
		}
	}
	r.duties(in)
	for i := range r.Steps {
		r.Steps[i].Known = work.next(r.Steps[i].Finish)
	}
	r.steps(&work)
}

// dated puts a milestone on a day on which it can happen: it comes on the next day
// worked, and is needed by the last one before its limit. The opening keeps the day
// that the client named.
func dated(b Bar, work *Calendar) Bar {
	if b.Days > 0 {
		return b
	}
	b.Start, b.Finish, b.LastDay = work.next(b.Start), work.next(b.Finish), work.next(b.LastDay)
	if b.ID != "OPEN" && b.Needed > 0 {
		b.Needed, b.NeededEnd = work.previous(b.Needed), work.previous(b.NeededEnd)
	}
	return b
}

func groupRank(g string) int {
	for i, n := range groups {
		if n == g {
			return i
		}
	}
	return len(groups)
}

func whenWords(s Step, opening Date) string {
	switch {
	case s.Over:
		return "done"
	case opening == 0:
		return "earliest start " + s.Start.Words()
	case s.Days == 0:
		return "by " + s.Needed.Words()
	}
	return "start by " + s.Needed.Words()
}

func (r *Result) duties(in Input) {
	for _, who := range []string{"client", "us", "others"} {
		d := Duty{Who: who}
		for i, s := range r.Steps {
			if s.Who != who || s.Over {
				continue
			}
			d.Steps = append(d.Steps, i)
			start := s.Start
			if in.Opening > 0 {
				start = s.Needed
			}
			if d.Next == 0 || start < d.Next {
				d.Next = start
			}
		}
		if len(d.Steps) > 0 {
			r.ByWho = append(r.ByWho, d)
		}
	}
}

// steps lays the critical path down as working.
func (r *Result) steps(work *Calendar) {
	for _, i := range r.Critical {
		s := r.Steps[i]
		note := s.Start.String() + " to " + s.LastDay.String()
		r.Trace.Add(trace.Step{
			Title: s.Name, Symbol: s.ID, Formula: "start = latest finish of what it waits on; finish = start + days",
			Values: []trace.Value{trace.V("days", unit.WorkDays(float64(s.Days)))}, Result: unit.WorkDays(float64(work.Count(s.Start, s.Finish))),
			Source: cpm.Recalled("forward and backward pass"), Note: note,
		})
	}
}
