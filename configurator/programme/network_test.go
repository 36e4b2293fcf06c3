package programme

import (
	"errors"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// everyDay is a calendar without free days, so that published networks in weeks can
// be laid on it: one day stands for one week.
func everyDay(t testing.TB, first Date) Calendar {
	t.Helper()
	c, err := NewCalendar(first-2000, first+2000, nil, true)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

type published struct {
	id     string
	days   int
	after  string
	early  int // earliest start
	late   int // latest start
	finish int // earliest finish
}

func checkNetwork(t *testing.T, name string, length int, critical string, rows []published) {
	t.Helper()
	first := Date(20000)
	var tasks []Task
	for _, r := range rows {
		task := Task{ID: r.id, Name: r.id, Days: r.days}
		for _, a := range strings.Fields(r.after) {
			task.After = append(task.After, Link{ID: a})
		}
		tasks = append(tasks, task)
	}
	c := everyDay(t, first)
	bars, err := Network(tasks, first, 0, c, c)
	if err != nil {
		t.Fatal(err)
	}
	path, end := "", 0
	for i, b := range bars {
		r := rows[i]
		if es, ls, ef := int(b.Start-first), int(b.LateStart-first), int(b.Finish-first); es != r.early || ls != r.late || ef != r.finish {
			t.Errorf("%s %s: early %d to %d, late %d; published %d to %d, late %d", name, r.id, es, ef, ls, r.early, r.finish, r.late)
		}
		if b.Float != r.late-r.early || b.Critical != (r.late == r.early) {
			t.Errorf("%s %s: float %d critical %v, published float %d", name, r.id, b.Float, b.Critical, r.late-r.early)
		}
		if b.Critical {
			path += r.id
		}
		end = max(end, int(b.Finish-first))
	}
	if end != length || path != critical {
		t.Errorf("%s: length %d by %s, published %d by %s", name, end, path, length, critical)
	}
}

// source: Hillier and Lieberman, Introduction to Operations Research, chapter on
// project management, Reliable Construction Co. project, from memory: 44 weeks,
// critical path A-B-C-E-F-J-L-N
func TestPublishedConstruction(t *testing.T) {
	checkNetwork(t, "Reliable Construction", 44, "ABCEFJLN", []published{
		{"A", 2, "", 0, 0, 2},
		{"B", 4, "A", 2, 2, 6},
		{"C", 10, "B", 6, 6, 16},
		{"D", 6, "C", 16, 20, 22},
		{"E", 4, "C", 16, 16, 20},
		{"F", 5, "E", 20, 20, 25},
		{"G", 7, "D", 22, 26, 29},
		{"H", 9, "E G", 29, 33, 38},
		{"I", 7, "C", 16, 18, 23},
		{"J", 8, "F I", 25, 25, 33},
		{"K", 4, "J", 33, 34, 37},
		{"L", 5, "J", 33, 33, 38},
		{"M", 2, "H", 38, 42, 40},
		{"N", 6, "K L", 38, 38, 44},
	})
}

// source: Heizer and Render, Operations Management, chapter on project management,
// Milwaukee Paper Manufacturing, from memory: 15 weeks, critical path A-C-E-G-H
func TestPublishedPollutionControl(t *testing.T) {
	checkNetwork(t, "Milwaukee Paper", 15, "ACEGH", []published{
		{"A", 2, "", 0, 0, 2},
		{"B", 3, "", 0, 1, 3},
		{"C", 2, "A", 2, 2, 4},
		{"D", 4, "A B", 3, 4, 7},
		{"E", 4, "C", 4, 4, 8},
		{"F", 3, "C", 4, 10, 7},
		{"G", 5, "D E", 8, 8, 13},
		{"H", 2, "F G", 13, 13, 15},
	})
}

// Free float is what a task can slip without moving any other: least earliest start
// of those after it less its own earliest finish.
func TestFreeFloat(t *testing.T) {
	first := Date(20000)
	c := everyDay(t, first)
	bars, err := Network([]Task{{ID: "A", Days: 2}, {ID: "B", Days: 5, After: []Link{{ID: "A"}}}, {ID: "C", Days: 1, After: []Link{{ID: "A"}}}, {ID: "D", Days: 1, After: []Link{{ID: "C"}}}, {ID: "E", Days: 1, After: []Link{{ID: "B"}, {ID: "D"}}}, {ID: "F", Days: 1, After: []Link{{ID: "C"}}}}, first, 0, c, c)
	if err != nil {
		t.Fatal(err)
	}
	// source: by hand; C may slip 3 days in all but none freely, D 3 freely, F to the end
	for i, want := range []int{0, 0, 0, 3, 0, 4} {
		if bars[i].Free != want {
			t.Errorf("%s has %d days of free float, want %d", bars[i].ID, bars[i].Free, want)
		}
	}
}

func TestLinkKinds(t *testing.T) {
	first := Date(20000)
	c := everyDay(t, first)
	bars, err := Network([]Task{
		{ID: "A", Days: 10},
		{ID: "B", Days: 4, After: []Link{{ID: "A", Kind: StartStart, Lag: 3}}},
		{ID: "C", Days: 2, After: []Link{{ID: "A", Kind: FinishFinish, Lag: 1}}},
		{ID: "D", Days: 1, After: []Link{{ID: "B"}, {ID: "C", Lag: 2}}},
	}, first, 0, c, c)
	if err != nil {
		t.Fatal(err)
	}
	// source: precedence diagram by hand: B from 3, C over on 11 so from 9, D from 13
	for i, want := range []int{0, 3, 9, 13} {
		if got := int(bars[i].Start - first); got != want {
			t.Errorf("%s starts on day %d, want %d", bars[i].ID, got, want)
		}
	}
	// B may start as late as day 9 (D from 13), so A, which only starts it, on day 0 by C
	for i, want := range []int{0, 9, 9, 13} {
		if got := int(bars[i].LateStart - first); got != want {
			t.Errorf("%s starts at the latest on day %d, want %d", bars[i].ID, got, want)
		}
	}
}

func TestNetworkRefuses(t *testing.T) {
	first := Date(20000)
	c := everyDay(t, first)
	_, err := Network([]Task{{ID: "A", Days: 1, After: []Link{{ID: "B"}}}, {ID: "B", Days: 1, After: []Link{{ID: "A"}}}}, first, 0, c, c)
	if !errors.Is(err, ErrCycle) {
		t.Errorf("a circle: %v", err)
	}
	for name, tasks := range map[string][]Task{
		"unknown":  {{ID: "A", After: []Link{{ID: "Z"}}}},
		"twice":    {{ID: "A"}, {ID: "A"}},
		"negative": {{ID: "A", Days: -1}},
		"too long": {{ID: "A", Days: 100000}},
	} {
		if _, err := Network(tasks, first, 0, c, c); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
}

// The calendar agrees with the standard library's dates.
func TestDateAgainstTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(366, 80000).Draw(t, "day")
		want := time.Unix(int64(n)*86400, 0).UTC()
		y, m, d := Date(n).Civil()
		if y != want.Year() || m != int(want.Month()) || d != want.Day() || Date(n).Weekday() != int(want.Weekday()) {
			t.Fatalf("day %d is %d-%d-%d weekday %d, the library says %s", n, y, m, d, Date(n).Weekday(), want.Format("2006-01-02 Mon"))
		}
		back, err := On(y, m, d)
		if err != nil || back != Date(n) {
			t.Fatalf("%v back is %d, %v", Date(n), back, err)
		}
		if s := Date(n).String(); s != want.Format("2006-01-02") {
			t.Fatalf("printed %s", s)
		}
		if p, err := ParseDate(Date(n).String()); err != nil || p != Date(n) {
			t.Fatalf("parsed %v, %v", p, err)
		}
	})
	for _, bad := range []string{"", "2026-02-29", "2026-13-01", "26-01-01", "2026-1-1", "2026-01-32", "1900-01-01", "2026-01-01x"} {
		if _, err := ParseDate(bad); err == nil {
			t.Errorf("%q was taken as a date", bad)
		}
	}
}

func TestWorkingDays(t *testing.T) {
	// source: bank holidays in England and Wales, gov.uk: 25 and 28 December 2026, 1 January,
	// 26 and 29 March, 3 and 31 May 2027; counts on the calendar by hand
	hol := mill(t).Holidays
	c, err := NewCalendar(date(t, "2026-12-01"), date(t, "2027-12-31"), hol, false)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []struct {
		from, to string
		n        int
	}{{"2026-12-21", "2027-01-04", 7}, {"2026-12-24", "2026-12-30", 2}, {"2027-03-22", "2027-04-05", 8}, {"2027-05-03", "2027-05-10", 4}, {"2027-01-04", "2027-01-04", 0}, {"2027-01-11", "2027-01-04", -5}} {
		if got := c.Count(date(t, x.from), date(t, x.to)); got != x.n {
			t.Errorf("from %s to %s: %d working days, want %d", x.from, x.to, got, x.n)
		}
	}
	end, err := c.Add(date(t, "2026-12-23"), 4) // 23, 24, 29, 30
	if err != nil || end != date(t, "2026-12-31") {
		t.Errorf("four working days from 23 December end before %s, %v", end, err)
	}
	start, err := c.Add(date(t, "2026-12-31"), -4)
	if err != nil || start != date(t, "2026-12-23") {
		t.Errorf("four working days back start on %s, %v", start, err)
	}
	if c.Works(date(t, "2026-12-28")) || !c.Works(date(t, "2026-12-29")) || c.Works(date(t, "2026-12-26")) {
		t.Error("holidays and weekends are worked")
	}
}

func randomTasks(t *rapid.T) []Task {
	n := rapid.IntRange(2, 15).Draw(t, "n")
	tasks := make([]Task, n)
	for i := range tasks {
		tasks[i] = Task{ID: string(rune('A' + i)), Days: rapid.IntRange(0, 20).Draw(t, "days"), EveryDay: rapid.Bool().Draw(t, "every")}
		for j := range i {
			if rapid.IntRange(0, 3).Draw(t, "link") == 0 {
				tasks[i].After = append(tasks[i].After, Link{ID: string(rune('A' + j)), Kind: Kind(rapid.IntRange(0, 2).Draw(t, "kind")), Lag: rapid.IntRange(-2, 5).Draw(t, "lag")})
			}
		}
	}
	return tasks
}

// The latest start never lies before the earliest, floats are never negative, and a
// critical chain reaches the end.
func TestLatestNeverBeforeEarliest(t *testing.T) {
	first := Date(20783) // a Wednesday
	holidays := []Date{first + 5, first + 30, first + 61}
	rapid.Check(t, func(t *rapid.T) {
		work, err := NewCalendar(first-800, first+1200, holidays, false)
		if err != nil {
			t.Fatal(err)
		}
		every, err := NewCalendar(first-800, first+1200, nil, true)
		if err != nil {
			t.Fatal(err)
		}
		tasks := randomTasks(t)
		for i := range tasks { // finish-to-start with positive lags: the classical network
			for k := range tasks[i].After {
				tasks[i].After[k].Kind, tasks[i].After[k].Lag = FinishStart, max(tasks[i].After[k].Lag, 0)
			}
		}
		bars, err := Network(tasks, first, 0, work, every)
		if err != nil {
			t.Fatal(err)
		}
		end, critical := first, false
		for _, b := range bars {
			end = max(end, b.Finish)
		}
		for _, b := range bars {
			if b.LateStart < b.Start || b.LateEnd < b.Finish || b.Float < 0 || b.Free < 0 || b.Free > b.Float {
				t.Fatalf("%s: early %s to %s, late %s to %s, float %d, free %d", b.ID, b.Start, b.Finish, b.LateStart, b.LateEnd, b.Float, b.Free)
			}
			if b.LateEnd > end {
				t.Fatalf("%s may be over on %s, after the end %s", b.ID, b.LateEnd, end)
			}
			critical = critical || b.Critical && b.Finish == end
		}
		if !critical {
			t.Fatal("no critical task ends the network")
		}
		later, err := Network(tasks, first, end+rapid.SampledFrom([]Date{0, 1, 7, 40}).Draw(t, "slack"), work, every)
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range later {
			if b.Needed < b.Start || b.Spare < 0 {
				t.Fatalf("%s: needed by %s, starts %s, spare %d", b.ID, b.Needed, b.Start, b.Spare)
			}
		}
	})
}

// A longer task never makes anything earlier.
func TestLongerNeverEarlier(t *testing.T) {
	first := Date(20783)
	rapid.Check(t, func(t *rapid.T) {
		work, _ := NewCalendar(first-800, first+1500, nil, false)
		every, _ := NewCalendar(first-800, first+1500, nil, true)
		tasks := randomTasks(t)
		for i := range tasks {
			for k := range tasks[i].After {
				tasks[i].After[k].Kind = FinishStart
			}
		}
		a, err := Network(tasks, first, 0, work, every)
		if err != nil {
			t.Fatal(err)
		}
		longer := append([]Task(nil), tasks...)
		at := rapid.IntRange(0, len(tasks)-1).Draw(t, "which")
		longer[at].Days += rapid.IntRange(1, 30).Draw(t, "more")
		b, err := Network(longer, first, 0, work, every)
		if err != nil {
			t.Fatal(err)
		}
		for i := range a {
			if b[i].Start < a[i].Start || b[i].Finish < a[i].Finish {
				t.Fatalf("%s moved from %s to %s when %s grew", a[i].ID, a[i].Start, b[i].Start, tasks[at].ID)
			}
		}
	})
}

// Every kind of link holds in the result.
func TestLinksHold(t *testing.T) {
	first := Date(20783)
	rapid.Check(t, func(t *rapid.T) {
		every, _ := NewCalendar(first-800, first+1500, nil, true)
		tasks := randomTasks(t)
		bars, err := Network(tasks, first, 0, every, every)
		if err != nil {
			t.Fatal(err)
		}
		at := map[string]Bar{}
		for _, b := range bars {
			at[b.ID] = b
		}
		for _, b := range bars {
			for _, l := range b.After {
				e := at[l.ID]
				lag := Date(l.Lag)
				ok := true
				switch l.Kind {
				case FinishStart:
					ok = b.Start >= e.Finish+lag
				case StartStart:
					ok = b.Start >= e.Start+lag
				case FinishFinish:
					ok = b.Finish >= e.Finish+lag
				}
				if !ok {
					t.Fatalf("%s after %s kind %d lag %d: %s to %s after %s to %s", b.ID, l.ID, l.Kind, l.Lag, b.Start, b.Finish, e.Start, e.Finish)
				}
			}
		}
	})
}

func FuzzParseDate(f *testing.F) {
	f.Add("2026-11-25")
	f.Add("0000-00-00")
	f.Fuzz(func(t *testing.T, s string) {
		d, err := ParseDate(s)
		if err != nil {
			return
		}
		if d.String() != s {
			t.Errorf("%q reads as %s", s, d)
		}
	})
}
