package programme

import (
	"strings"
	"testing"
)

// What a changed project comes to is the same with the calendar of the one before as
// with its own, also where it runs past that calendar's end.
func TestTryingAgreesWithSizing(t *testing.T) {
	today, err := On(2026, 11, 25)
	if err != nil {
		t.Fatal(err)
	}
	in := Input{Today: today, Holidays: []Date{today + 30, today + 31, today + 9*365}}
	r, err := Size(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, days := range []Date{100, 400, 10 * 365} {
		changed := in
		changed.Opening, changed.Order = today+days, today+days/2
		want, err := Size(changed)
		if err != nil {
			t.Fatal(err)
		}
		got, ok := r.try(changed)
		if !ok || got.earliest != want.Earliest || got.orderBy != want.OrderBy || got.inTime != (len(want.Late) == 0) {
			t.Errorf("%d days on: %+v, sized earliest %s, order by %s, %d late", days, got, want.Earliest, want.OrderBy, len(want.Late))
		}
	}
}

// Each country is told its own instrument; a row that stands for several says one for
// each of them.
func TestInstrumentsAreOfTheCountry(t *testing.T) {
	for _, c := range []struct {
		text    string
		country Country
		want    string
	}{
		{"GB: an act | DE: a law", GB, "an act"},
		{"GB: an act | DE: a law", DE, "a law"},
		{"GB: an act | DE: a law", US, "look up the national rule"},
		{"SI 1999/1148 reg. 5", GB, "SI 1999/1148 reg. 5"},
		{"", IE, ""},
	} {
		if got := instrument(c.text, c.country); got != c.want {
			t.Errorf("%q in %s: %q, want %q", c.text, c.country, got, c.want)
		}
	}
	for _, r := range rows {
		if !strings.Contains(r.task.Instrument, " | ") {
			continue
		}
		for _, c := range []Country{GB, IE, DE, US} {
			here := r.countries == "all" || strings.Contains(r.countries, string(c))
			if got := instrument(r.task.Instrument, c); here && (got == "look up the national rule" || strings.Contains(got, " | ")) {
				t.Errorf("task %s in %s rests on %q", r.task.ID, c, got)
			}
		}
	}
}
