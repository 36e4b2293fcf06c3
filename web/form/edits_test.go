package form_test

import (
	"testing"

	"tunwright/configurator/enquiry"
	"tunwright/web/form"

	"github.com/google/go-cmp/cmp"
)

const fuse = "site.supply.fuse_a"

// What a page showed tells a person's own change from somebody else's.
func TestClashes(t *testing.T) {
	before, err := form.Own(demo(t), "site.supply")
	if err != nil {
		t.Fatal(err)
	}
	changed, err := enquiry.Apply(demo(t), enquiry.Edit{Op: enquiry.Set, Path: fuse, Text: "{told: 250, by: operator}"})
	if err != nil {
		t.Fatal(err)
	}
	now, err := form.Own(changed, "site.supply")
	if err != nil {
		t.Fatal(err)
	}
	shown := find(t, []form.Group{before}, fuse).Shown("")
	for _, tt := range []struct {
		name, typed, basis, why string
		edits, clashes          int
	}{
		{"left as it was shown", "200", "told", "owner's agent", 0, 0},
		{"typed what stands there now", "250", "told", "operator", 0, 0},
		{"typed something else", "315", "told", "owner's agent", 0, 1},
		{"forgotten", "", "", "", 0, 1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			edits, clashes := form.Edits([]form.Group{now}, getter(map[string]string{
				form.ShownName(fuse): shown, form.ValueName(fuse): tt.typed, form.BasisName(fuse): tt.basis, form.WhyName(fuse): tt.why,
			}))
			if len(edits) != tt.edits || len(clashes) != tt.clashes {
				t.Errorf("edits %v, clashes %v", edits, clashes)
			}
		})
	}
}

func TestEveryKindIsWrittenAsTheFileHasIt(t *testing.T) {
	p := demo(t)
	for _, tt := range []struct {
		path, typed string
		got         func(enquiry.Project) any
		want        any
	}{
		{"site.supply.offers_a", "250; 400,5", func(p enquiry.Project) any { return len(p.Site.Supply.Offers) }, 2},
		{"site.address", "Mill Lane\n\nHollinsworth: east", func(p enquiry.Project) any { return p.Site.Address }, []string{"Mill Lane", "Hollinsworth: east"}},
		{"site.room.outline_m", "0; 0 / 10,5; 0 / 10.5; 6", func(p enquiry.Project) any { return len(p.Site.Room.Outline) }, 3},
		{"site.supply.board_at_m", "1,2; 3.4", func(p enquiry.Project) any { return p.Site.Supply.BoardAt.X.M() }, 1.2},
		{"site.city_centre", "no", func(p enquiry.Project) any { return p.Site.City }, false},
		{"opening", "2027-09-01", func(p enquiry.Project) any { return p.Opening.String() }, "2027-09-01"},
		{"opening", "", func(p enquiry.Project) any { return p.Opening == nil }, true},
		{"brief.beers[2].name", `Nine: "yards" #1`, func(p enquiry.Project) any { return p.Brief.Beers[1].Name }, `Nine: "yards" #1`},
	} {
		t.Run(tt.path+" "+tt.typed, func(t *testing.T) {
			f, err := form.One(p, tt.path)
			if err != nil {
				t.Fatal(err)
			}
			edits, _ := form.Edits([]form.Group{{Fields: []form.Field{f}}}, getter(map[string]string{form.ValueName(tt.path): tt.typed}))
			edited, err := enquiry.Apply(p, edits...)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.want, tt.got(edited)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// Whatever is typed, a form never breaks and never gets an enquiry past its reader.
func FuzzTyped(f *testing.F) {
	f.Add("200", "told", "him", "")
	f.Add("}, x: {", "assumed", "\"", `["1","2","3","4"]`)
	f.Add("NaN", "measured", "", "[[[")
	f.Add("1; 2 / 3; 4", "unknown", "\x00", "")
	p, err := load()
	if err != nil {
		f.Fatal(err)
	}
	paths := []string{fuse, "site.room.outline_m", "site.address", "brief.beers[1].name", "site.gas_supply", "date", "site.supply.offers_a"}
	f.Fuzz(func(t *testing.T, value, basis, why, shown string) {
		for _, path := range paths {
			field, err := form.One(p, path)
			if err != nil {
				t.Fatal(err)
			}
			edits, _ := form.Edits([]form.Group{{Fields: []form.Field{field}}}, getter(map[string]string{
				form.ValueName(path): value, form.BasisName(path): basis, form.WhyName(path): why, form.ShownName(path): shown,
			}))
			got, err := enquiry.Apply(p, edits...)
			if err != nil {
				continue
			}
			if problems := got.Validate("fuzz"); len(problems) > 0 {
				t.Errorf("%s took %q: %v", path, value, problems)
			}
		}
	})
}
