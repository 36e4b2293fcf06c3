package form_test

import (
	"testing"

	"tunwright/configurator/enquiry"
	"tunwright/testdata/projects"
	"tunwright/web/form"
)

func load() (enquiry.Project, error) {
	text, err := projects.Text(projects.Demo)
	if err != nil {
		return enquiry.Project{}, err
	}
	return enquiry.Read(projects.Demo, text)
}

func demo(t *testing.T) enquiry.Project {
	t.Helper()
	p, err := load()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func find(t *testing.T, groups []form.Group, path string) form.Field {
	t.Helper()
	for _, g := range groups {
		for _, f := range g.Fields {
			if f.Path == path {
				return f
			}
		}
	}
	t.Fatalf("no field %s", path)
	return form.Field{}
}

func TestFieldsShowWhatTheFileHolds(t *testing.T) {
	groups, err := form.Fields(demo(t), "site.supply")
	if err != nil {
		t.Fatal(err)
	}
	f := find(t, groups, "site.supply.fuse_a")
	if f.Label != "Fuse" || f.Unit != "A" || f.Value != "200" || f.Basis != enquiry.Told || f.Why != "owner's agent" || f.Ask == "" {
		t.Errorf("%+v", f)
	}
	groups, err = form.Fields(demo(t), "brief.beers")
	if err != nil {
		t.Fatal(err)
	}
	if f := find(t, groups, "brief.beers[2].pitch_c"); f.Value != "10" || f.Unit != "°C" {
		t.Errorf("%+v", f)
	}
	if f := find(t, groups, "brief.beers[1].pitch_c"); f.Value != "" {
		t.Errorf("an unset value shows as %q", f.Value)
	}
}

// An untouched form changes nothing, whatever it shows.
func TestUntouchedFormGivesNoEdit(t *testing.T) {
	for _, path := range []string{"brief", "site", "equipment", "client"} {
		groups, err := form.Fields(demo(t), path)
		if err != nil {
			t.Fatal(err)
		}
		sent := map[string]string{}
		for _, g := range groups {
			for _, f := range g.Fields {
				sent[form.ValueName(f.Path)], sent[form.BasisName(f.Path)], sent[form.WhyName(f.Path)] = f.Value, string(f.Basis), f.Why
			}
		}
		if len(sent) < 3 {
			t.Errorf("%s has %d inputs", path, len(sent))
		}
		if edits, _ := form.Edits(groups, getter(sent)); len(edits) > 0 {
			t.Errorf("%s: %+v", path, edits)
		}
	}
}

func getter(sent map[string]string) func(string) (string, bool) {
	return func(name string) (string, bool) { v, ok := sent[name]; return v, ok }
}

func TestTypedValues(t *testing.T) {
	p := demo(t)
	groups, err := form.Fields(p, "site.supply")
	if err != nil {
		t.Fatal(err)
	}
	const path = "site.supply.board_distance_m"
	for _, tt := range []struct {
		typed, basis, why string
		want              float64
		says              string
	}{
		{"31,5", "measured", "tape", 31.5, ""},
		{"31.5", "", "", 31.5, ""},
		{"1,200", "told", "him", 0, "is not a number"},
		{"=1+1", "told", "him", 0, "is not a number"},
		{"900", "told", "him", 0, "cannot be right"},
		{"}, x: {", "told", "him", 0, "is not a number"},
	} {
		edits, _ := form.Edits(groups, getter(map[string]string{form.ValueName(path): tt.typed, form.BasisName(path): tt.basis, form.WhyName(path): tt.why}))
		got, err := enquiry.Apply(p, edits...)
		if tt.says == "" {
			if err != nil || got.Site.Supply.Board.Value.M() != tt.want {
				t.Errorf("%q: got %v, %v; want %g", tt.typed, got.Site.Supply.Board, err, tt.want)
			}
			continue
		}
		if err == nil {
			t.Errorf("%q: accepted as %v", tt.typed, got.Site.Supply.Board)
		}
	}
}
