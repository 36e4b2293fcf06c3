package programme

import (
	"errors"
	"fmt"
	"strings"

	"tunwright/catalog/source"
)

// Kind of a link: what of the earlier task holds what of the later one.
type Kind int

const (
	FinishStart  Kind = iota // the later begins when the earlier is over
	StartStart               // the later begins when the earlier has begun
	FinishFinish             // the later is over when the earlier is over
)

// Link ties a task to an earlier one.
type Link struct {
	ID   string
	Kind Kind
	Lag  int // days of the later task's calendar; may be negative
}

// Task is one activity.
type Task struct {
	ID         string
	Name       string
	Group      string // "site", "permit", "supply", "works", "delivery", "start-up"
	Who        string // "client", "us", "others"
	Days       int
	EveryDay   bool // runs on weekends and holidays too: authorities' and shipping weeks
	After      []Link
	NotBefore  Date // cannot begin earlier
	Instrument string
	Basis      source.Provenance
	Note       string
}

// ErrCycle says that tasks wait on each other in a circle.
var ErrCycle = errors.New("tasks wait on each other in a circle")

// Bar is a task laid on the calendar. Starts are the first day worked, finishes the
// day after the last one, so that a task of no days starts and finishes on one day.
type Bar struct {
	Task
	Start, Finish      Date // earliest
	LateStart, LateEnd Date // latest without delaying the end of the network
	Float              int  // days of its calendar between earliest and latest start
	Free               int  // days it can slip without moving any other task
	Critical           bool
	Needed, NeededEnd  Date // latest for the opening date; 0 where none is set
	Spare              int  // days of its calendar between earliest start and Needed; negative: too late
	LastDay            Date // last day worked, for the drawing
	waits              []int
	holds              []int
	drives             []bool // which of the links set the start
}

// calendars are the two ways to count days.
type calendars struct{ work, every Calendar }

func (c *calendars) of(t *Task) *Calendar {
	if t.EveryDay {
		return &c.every
	}
	return &c.work
}

// Network schedules tasks forwards from a first day and backwards from their own
// end; where deadline is set, also backwards from it.
//
// Forward: start = max over links; backward: end = min over links; float = days
// between earliest and latest start. A task without float is critical.
//
// Tasks may stand in any order. An unknown or repeated ID, or a circle (ErrCycle),
// is an error.
//
// Source: critical path method, Kelley and Walker (1959); links as in the precedence
// diagram method.
func Network(tasks []Task, first, deadline Date, work, every Calendar) ([]Bar, error) {
	bars := make([]Bar, len(tasks))
	at := make(map[string]int, len(tasks))
	for i, t := range tasks {
		if _, twice := at[t.ID]; twice || t.ID == "" {
			return nil, fmt.Errorf("task %q: its ID must be said and stand once", t.ID)
		}
		if t.Days < 0 {
			return nil, fmt.Errorf("task %s: %d days: it cannot take less than no time", t.ID, t.Days)
		}
		at[t.ID] = i
		bars[i].Task = t
	}
	if err := tie(bars, at); err != nil {
		return nil, err
	}
	order, err := sequence(bars)
	if err != nil {
		return nil, err
	}
	c := &calendars{work, every}
	if err := forwardPass(bars, order, first, c); err != nil {
		return nil, err
	}
	end := first
	for _, b := range bars {
		end = max(end, b.Finish)
	}
	if err := backwardPass(bars, order, end, c, false); err != nil {
		return nil, err
	}
	if deadline > 0 {
		if err := backwardPass(bars, order, deadline, c, true); err != nil {
			return nil, err
		}
	}
	floats(bars, end, c, deadline > 0)
	critical(bars, order, end)
	return bars, nil
}

// tie lays the links as numbers, those of all tasks in one piece of memory.
func tie(bars []Bar, at map[string]int) error {
	links := 0
	for i := range bars {
		links += len(bars[i].After)
	}
	waits, drives, count := make([]int, links), make([]bool, links), make([]int, len(bars))
	for i := range bars {
		n := len(bars[i].After)
		bars[i].waits, waits = waits[:n:n], waits[n:]
		bars[i].drives, drives = drives[:n:n], drives[n:]
		for k, l := range bars[i].After {
			j, ok := at[l.ID]
			if !ok {
				return fmt.Errorf("task %s waits on %q, which is not in the programme", bars[i].ID, l.ID)
			}
			bars[i].waits[k] = j
			count[j]++
		}
	}
	holds := make([]int, links)
	for j := range bars {
		bars[j].holds, holds = holds[:0:count[j]], holds[count[j]:]
	}
	for i := range bars {
		for _, j := range bars[i].waits {
			bars[j].holds = append(bars[j].holds, i)
		}
	}
	return nil
}

// sequence orders tasks so that each stands after those it waits on.
func sequence(bars []Bar) ([]int, error) {
	open := make([]int, len(bars))
	order := make([]int, 0, len(bars))
	for i, b := range bars {
		open[i] = len(b.waits)
		if open[i] == 0 {
			order = append(order, i)
		}
	}
	for k := 0; k < len(order); k++ {
		for _, j := range bars[order[k]].holds {
			if open[j]--; open[j] == 0 {
				order = append(order, j)
			}
		}
	}
	if len(order) == len(bars) {
		return order, nil
	}
	var stuck []string
	for i, n := range open {
		if n > 0 {
			stuck = append(stuck, bars[i].ID)
		}
	}
	return nil, fmt.Errorf("%w: %s", ErrCycle, strings.Join(stuck, ", "))
}

func forwardPass(bars []Bar, order []int, first Date, c *calendars) error {
	var anchors []Date
	for _, i := range order {
		b := &bars[i]
		cal := c.of(&b.Task)
		from := max(first, b.NotBefore)
		anchors = anchors[:0]
		for k, l := range b.After {
			e := &bars[b.waits[k]]
			anchor := e.Finish
			if l.Kind == StartStart {
				anchor = e.Start
			}
			if l.Lag != 0 {
				shifted, err := cal.Add(anchor, l.Lag)
				if err != nil {
					return fmt.Errorf("task %s: %w", b.ID, err)
				}
				anchor = shifted
			}
			if l.Kind == FinishFinish && b.Days > 0 {
				start, _, err := cal.backward(anchor, b.Days)
				if err != nil {
					return fmt.Errorf("task %s: %w", b.ID, err)
				}
				anchor = start
			}
			anchors = append(anchors, anchor)
			from = max(from, anchor)
		}
		for k, a := range anchors {
			b.drives[k] = a == from || b.Days > 0 && cal.Count(a, from) == 0
		}
		var err error
		if b.Start, b.Finish, err = cal.forward(from, b.Days); err != nil {
			return fmt.Errorf("task %s: %w", b.ID, err)
		}
		b.LastDay = max(b.Finish-1, b.Start)
	}
	return nil
}

func backwardPass(bars []Bar, order []int, end Date, c *calendars, needed bool) error {
	for k := len(order) - 1; k >= 0; k-- {
		i := order[k]
		b := &bars[i]
		cal := c.of(&b.Task)
		to := end
		for _, j := range b.holds {
			l := &bars[j]
			start, finish := l.LateStart, l.LateEnd
			if needed {
				start, finish = l.Needed, l.NeededEnd
			}
			for n, link := range l.After {
				if l.waits[n] != i {
					continue
				}
				limit, err := latest(link, start, finish, c.of(&l.Task), cal, b.Days)
				if err != nil {
					return fmt.Errorf("task %s: %w", b.ID, err)
				}
				to = min(to, limit)
			}
		}
		s, e, err := cal.backward(to, b.Days)
		if err != nil {
			return fmt.Errorf("task %s: %w", b.ID, err)
		}
		if needed {
			b.Needed, b.NeededEnd = s, e
		} else {
			b.LateStart, b.LateEnd = s, e
		}
	}
	return nil
}

// latest is when the earlier task must be over so that the later one can keep its
// latest start or finish.
func latest(l Link, start, finish Date, later, earlier *Calendar, days int) (Date, error) {
	anchor := start
	if l.Kind == FinishFinish {
		anchor = finish
	}
	if l.Lag != 0 {
		shifted, err := later.Add(anchor, -l.Lag)
		if err != nil {
			return 0, err
		}
		anchor = shifted
	}
	if l.Kind != StartStart {
		return anchor, nil
	}
	// only the start is held: the task may run on for its days after it
	_, end, err := earlier.forward(anchor, days)
	return end, err
}

func floats(bars []Bar, end Date, c *calendars, needed bool) {
	for i := range bars {
		b := &bars[i]
		cal := c.of(&b.Task)
		b.Float = cal.Count(b.Start, b.LateStart)
		next := end
		for _, j := range b.holds {
			for n, l := range bars[j].After {
				if bars[j].waits[n] == i && l.Kind == FinishStart {
					next = min(next, bars[j].Start)
				}
			}
		}
		b.Free = max(min(cal.Count(b.Finish, next), b.Float), 0)
		if needed {
			b.Spare = cal.Count(b.Start, b.Needed)
		}
	}
}

// critical marks the tasks that set the end: those that are over last, and those
// whose links set the start of a critical task. Where all tasks share one calendar
// these are the tasks without float; where they do not, a weekend between two
// calendars is no float.
func critical(bars []Bar, order []int, end Date) {
	for k := len(order) - 1; k >= 0; k-- {
		b := &bars[order[k]]
		if b.Finish == end {
			b.Critical = true
		}
		for _, j := range b.holds {
			for n := range bars[j].After {
				if bars[j].waits[n] == order[k] && bars[j].drives[n] && bars[j].Critical {
					b.Critical = true
				}
			}
		}
		if b.Float <= 0 {
			b.Critical = true
		}
		if b.Critical {
			b.Float, b.Free = 0, 0
		}
	}
}
