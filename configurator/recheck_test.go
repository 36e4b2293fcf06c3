package configurator

import (
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator/enquiry"
	"tunwright/testdata/projects"
)

// Whatever is edited, a report made with the one before is the report made afresh.
func TestRecheckIsCheck(t *testing.T) {
	p, c := sample(t, projects.Demo)
	p, err := Arrange(p, c)
	if err != nil {
		t.Fatal(err)
	}
	first, err := Check(p, c)
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		p, before := p, first
		for range rapid.IntRange(1, 3).Draw(t, "edits") {
			p = edited(t, p, c)
			want, err := Check(p, c)
			if err != nil {
				t.Fatal(err)
			}
			got, err := Recheck(before, p, c)
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(got, want) {
				t.Fatalf("a report with another at hand differs from one made afresh:\n%s", differing(got, want))
			}
			before = got
		}
	})
}

// edited makes one edit of the kinds that the desk makes.
func edited(t *rapid.T, p enquiry.Project, c *catalog.Catalogue) enquiry.Project {
	p.Chosen.Items, p.Brief.Beers = slices.Clone(p.Chosen.Items), slices.Clone(p.Brief.Beers)
	at := rapid.IntRange(0, len(p.Chosen.Items)-1).Draw(t, "item")
	item := &p.Chosen.Items[at]
	switch rapid.SampledFrom([]string{"swap", "remove", "move", "fuse", "volume", "brews", "floor", "neighbour", "country", "none"}).Draw(t, "edit") {
	case "swap":
		now, err := c.Lookup(item.Product)
		if err != nil {
			t.Fatal(err)
		}
		item.Product = rapid.SampledFrom(c.ByClass(now.Class)).Draw(t, "product").Code
		item.Count = 0 // not each product of a class may be counted
	case "remove":
		p.Chosen.Items = slices.Delete(p.Chosen.Items, at, at+1)
	case "move":
		item.Places = slices.Clone(item.Places)
		for i := range item.Places {
			item.Places[i].At.X += unit.Metres(rapid.Float64Range(-1, 1).Draw(t, "by"))
		}
	case "fuse":
		p.Site.Supply.Fuse = told(unit.Amperes(rapid.Float64Range(32, 400).Draw(t, "fuse")))
	case "volume":
		p.Brief.Beers[0].Volume.Value *= unit.Volume(rapid.Float64Range(0.5, 2).Draw(t, "times"))
	case "brews":
		p.Brief.BrewsDay = rapid.IntRange(1, 3).Draw(t, "brews")
	case "floor":
		p.Site.Floor.Kind = rapid.SampledFrom([]string{"suspended", "ground-bearing", "unknown"}).Draw(t, "floor")
	case "neighbour":
		p.Site.Chiller.Neighbour = told(unit.Metres(rapid.Float64Range(1, 30).Draw(t, "distance")))
	case "country":
		p.Site.Country = rapid.SampledFrom([]string{"GB", "IE", "DE", "US"}).Draw(t, "country")
	}
	return p
}

// differing names the parts of two reports that differ.
func differing(a, b Report) []string {
	var out []string
	x, y := reflect.ValueOf(a), reflect.ValueOf(b)
	for i := range x.NumField() {
		if !reflect.DeepEqual(x.Field(i).Interface(), y.Field(i).Interface()) {
			out = append(out, x.Type().Field(i).Name)
		}
	}
	return out
}

// What did not change is not worked out again: the result is the one of before.
func TestRecheckKeepsWhatAnEditDoesNotTouch(t *testing.T) {
	p, c := sample(t, projects.Demo)
	before, err := Check(p, c)
	if err != nil {
		t.Fatal(err)
	}
	p.Site.Supply.Fuse = told(unit.Amperes(63))
	after, err := Recheck(before, p, c)
	if err != nil {
		t.Fatal(err)
	}
	if after.Electrical == before.Electrical {
		t.Error("another fuse left the electrical result as it was")
	}
	if after.Brewing != before.Brewing || after.Cooling != before.Cooling || after.Floor != before.Floor || after.Access != before.Access ||
		after.Air != before.Air || after.Water != before.Water || after.Pressure != before.Pressure || after.Food != before.Food {
		t.Error("another fuse made disciplines be worked out again that do not see it")
	}
}
