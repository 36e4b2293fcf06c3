package propose_test

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/propose"
	"tunwright/configurator/rule"
	"tunwright/testdata/projects"
)

func embedded(t *testing.T) *catalog.Catalogue {
	t.Helper()
	c, err := catalog.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func sample(t *testing.T, name string) enquiry.Project {
	t.Helper()
	text, err := projects.Text(name)
	if err != nil {
		t.Fatal(err)
	}
	text, _, _ = cut(text, "\ncommercial:")
	p, err := enquiry.Read(name, text)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func cut(text []byte, at string) (before []byte, after string, found bool) {
	b, a, ok := strings.Cut(string(text), at)
	return []byte(b + "\n"), a, ok
}

func equipped(t *testing.T, p enquiry.Project) (enquiry.Project, configurator.Report) {
	t.Helper()
	c := embedded(t)
	chosen, err := propose.Equip(p, c)
	if err != nil {
		t.Fatal(err)
	}
	p.Chosen = chosen
	r, err := configurator.Check(p, c)
	if err != nil {
		t.Fatal(err)
	}
	return p, r
}

// What is proposed for the samples' briefs stops nowhere and leaves no more warnings
// than what people chose for them; each item says why it is there.
func TestEquipForTheSamples(t *testing.T) {
	c := embedded(t)
	for _, name := range projects.Names() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			given := sample(t, name)
			before, err := configurator.Check(given, c)
			if err != nil {
				t.Fatal(err)
			}
			p, r := equipped(t, given)
			if n, was := r.Count(), before.Count(); n.Stops > 0 || n.Warnings > was.Warnings {
				t.Errorf("%d stops and %d warnings, the sample's own equipment has %d and %d", n.Stops, n.Warnings, was.Stops, was.Warnings)
			}
			for _, i := range p.Chosen.Items {
				if i.Proposed == nil || i.Proposed.Product != i.Product || i.Proposed.Why == "" {
					t.Errorf("%s %s has no reason: %+v", i.Tag, i.Product, i.Proposed)
				}
			}
			again, err := propose.Equip(given, c)
			if err != nil || !reflect.DeepEqual(again, p.Chosen) {
				t.Errorf("a second proposal differs (%v)", err)
			}
		})
	}
}

// brief is an enquiry of which hardly more is known than a volume and a room.
func brief(hl float64) enquiry.Project {
	told := func(v unit.Volume) enquiry.Fact[unit.Volume] {
		return enquiry.Fact[unit.Volume]{Value: v, Basis: enquiry.Told, By: "the client"}
	}
	p := enquiry.Project{Title: "Brewery", Author: "sales", Date: enquiry.Date{Year: 2026, Month: 11, Day: 25}}
	p.Client.Name, p.Site.Name, p.Site.Country = "A client", "A hall", "GB"
	p.Brief = enquiry.Brief{
		Weeks: 48, BrewsWeek: 3, Peak: unit.Fraction(1.25),
		Beers: []enquiry.Beer{{Name: "main beer", Kind: "keg-ale", Volume: told(unit.Hectolitres(hl)), OE: unit.DegreesPlato(11.2), AE: unit.DegreesPlato(2.4), Package: "keg"}},
	}
	at := func(x, y float64) enquiry.Point { return enquiry.Point{X: unit.Metres(x), Y: unit.Metres(y)} }
	p.Site.Room.Outline = []enquiry.Point{at(0, 0), at(24, 0), at(24, 16), at(0, 16)}
	p.Site.Floor.Kind = "ground-bearing"
	return p
}

// A brewery to begin with is a whole one at every size: it brews what is asked, the
// chiller carries the cellar, and nothing that was not said is taken as known.
func TestEquipFromHardlyAnything(t *testing.T) {
	whole := []catalog.Class{
		catalog.ClassBrewhouse, catalog.ClassFermenter, catalog.ClassBrightTank, catalog.ClassChiller, catalog.ClassWortCooler, catalog.ClassPanel, catalog.ClassCanopy,
		catalog.ClassMill, catalog.ClassCIP, catalog.ClassGasAlarm, catalog.ClassFan, catalog.ClassFitting, catalog.ClassService,
	}
	var last unit.Volume
	for _, hl := range []float64{150, 600, 1500, 2800} {
		given := brief(hl)
		p, r := equipped(t, given)
		if !reflect.DeepEqual(p.Site, given.Site) {
			t.Errorf("%g hL: the site was changed", hl)
		}
		var classes []catalog.Class
		for _, c := range r.Chosen {
			classes = append(classes, c.Product.Class)
			if b := c.Product.Brewhouse; b != nil {
				if b.Length < last {
					t.Errorf("%g hL: a brew of %s is less than for a smaller year", hl, b.Length)
				}
				last = b.Length
			}
		}
		for _, class := range whole {
			if !slices.Contains(classes, class) {
				t.Errorf("%g hL: there is no %s", hl, class)
			}
		}
		for _, f := range r.Findings {
			must := slices.Contains([]string{"BR-001", "BR-015", "BR-022", "BR-035", "CO-001"}, f.Rule.ID)
			if must && f.Outcome != rule.Pass && f.Outcome != rule.NotApplicable || f.Outcome == rule.Fail && f.Rule.Severity == rule.Blocker {
				t.Errorf("%g hL: %s %s: %s", hl, f.Rule.ID, f.Outcome, f.Words)
			}
		}
	}
}

// A supply of one phase gets no electric brewhouse, a site without gas no gas, a
// building that lets no steam out a condenser, a low room low tanks.
func TestEquipHeedsTheSite(t *testing.T) {
	p := brief(900)
	p.Site.Supply.Phases = enquiry.Fact[int]{Value: 1, Basis: enquiry.Told, By: "the client"}
	p.Site.Air.Steam = enquiry.Fact[bool]{Basis: enquiry.Told, By: "the owner"}
	p.Site.Room.Height = enquiry.Fact[unit.Length]{Value: unit.Metres(3.1), Basis: enquiry.Measured, By: "laser"}
	_, r := equipped(t, p)
	if bh := r.Chosen[0].Product; bh.Brewhouse == nil || bh.Brewhouse.Heat != "gas" {
		t.Errorf("one phase: %s", bh.Code)
	}
	condensed := false
	for _, c := range r.Chosen {
		condensed = condensed || c.Product.Class == catalog.ClassCondenser
		if c.Product.Class == catalog.ClassCanopy {
			t.Errorf("no way out for steam: %s", c.Product.Code)
		}
		for _, b := range c.Product.Bodies {
			if c.Product.Class != catalog.ClassChiller && b.Height+b.Space.Above > unit.Metres(3.1) {
				t.Errorf("%s of %s does not stand under 3.1 m", c.Product.Code, b.Height)
			}
		}
	}
	if !condensed {
		t.Error("no condenser takes the vapour")
	}
	p.Site.Gas = enquiry.Fact[bool]{Basis: enquiry.Told, By: "the owner"}
	if _, r = equipped(t, p); r.Chosen[0].Product.Brewhouse.Heat == "gas" {
		t.Errorf("no gas: %s", r.Chosen[0].Product.Code)
	}
}

// Where no tank of the size stands under the ceiling, or none is as large, the proposal
// is whole all the same and the rules say what fails.
func TestEquipBeyondTheRange(t *testing.T) {
	low := brief(2000)
	low.Site.Room.Height = enquiry.Fact[unit.Length]{Value: unit.Metres(2.3), Basis: enquiry.Told, By: "the client"}
	large := brief(9000)
	sour := brief(510)
	sour.Brief.BrewsWeek, sour.Brief.Beers[0].Kind = 4, "mixed-sour"
	for name, c := range map[string]struct {
		p    enquiry.Project
		stop string
	}{"low": {low, "BR-001"}, "large": {large, "BR-001"}, "sour": {sour, ""}} {
		_, r := equipped(t, c.p)
		var stops []string
		for _, f := range r.Findings {
			if f.Outcome == rule.Fail && f.Rule.Severity == rule.Blocker {
				stops = append(stops, f.Rule.ID)
			}
		}
		if (c.stop == "") != (len(stops) == 0) || c.stop != "" && !slices.Contains(stops, c.stop) {
			t.Errorf("%s: stopped by %v, want %q", name, stops, c.stop)
		}
	}
}

func TestEquipRefuses(t *testing.T) {
	c := embedded(t)
	nothing := brief(600)
	nothing.Brief.Beers[0].Volume = enquiry.Fact[unit.Volume]{}
	for want, p := range map[string]enquiry.Project{"volume": nothing, "check the volumes": brief(90000)} {
		if _, err := propose.Equip(p, c); err == nil || !strings.Contains(fmt.Sprint(err), want) {
			t.Errorf("want an error about %q, got %v", want, err)
		}
	}
}

func BenchmarkEquip(b *testing.B) {
	c, err := catalog.Embedded()
	if err != nil {
		b.Fatal(err)
	}
	p := brief(900)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := propose.Equip(p, c); err != nil {
			b.Fatal(err)
		}
	}
}
