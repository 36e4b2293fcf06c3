package enquiry_test

import (
	"strings"
	"testing"

	"tunwright/catalog/strict"
	"tunwright/configurator/enquiry"
	"tunwright/testdata/projects"

	"github.com/google/go-cmp/cmp"
)

func demo(t testing.TB) enquiry.Project {
	t.Helper()
	text, err := projects.Text(projects.Demo)
	if err != nil {
		t.Fatal(err)
	}
	p, err := enquiry.Read(projects.Demo, text)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestEdits(t *testing.T) {
	p := demo(t)
	got, err := enquiry.Apply(p,
		enquiry.Edit{Op: enquiry.Set, Path: "site.supply.fuse_a", Text: "{told: 250, by: network operator}"},
		enquiry.Edit{Op: enquiry.Set, Path: "site.supply.ze_ohm", Text: "{measured: 0.2, by: electrician}"},
		enquiry.Edit{Op: enquiry.Set, Path: "brief.beers[Loom Pale].brews_per_tank", Text: "1"},
		enquiry.Edit{Op: enquiry.Add, Path: "equipment.items", Text: "{tag: FV9, product: FV-10}"},
		enquiry.Edit{Op: enquiry.Remove, Path: "brief.beers[4]"},
		enquiry.Edit{Op: enquiry.Remove, Path: "site.gas_supply"},
	)
	if err != nil {
		t.Fatal(err)
	}
	items := got.Chosen.Items
	switch {
	case got.Site.Supply.Fuse.Value.A() != 250:
		t.Error("the fuse was not set")
	case got.Site.Supply.Ze.Value.MOhm() != 200:
		t.Error("a fact given for the first time was not set")
	case got.Brief.Beers[0].Brews != 1:
		t.Error("an entry was not found by its name")
	case items[len(items)-1].Tag != "FV9":
		t.Error("the item was not added")
	case len(got.Brief.Beers) != len(p.Brief.Beers)-1:
		t.Error("the beer was not removed")
	case got.Site.Gas.Known():
		t.Error("the fact was not forgotten")
	}
	if diff := cmp.Diff(demo(t), p); diff != "" {
		t.Error("the project given was changed:", diff)
	}
}

func TestEditsThatCannotBe(t *testing.T) {
	for _, tt := range []struct {
		edit enquiry.Edit
		says string
	}{
		{enquiry.Edit{Op: enquiry.Set, Path: "site.supply.fuse", Text: "200"}, "write fuse_a"},
		{enquiry.Edit{Op: enquiry.Set, Path: "site.supply.fuse_a", Text: "200"}, "does not say how it is known"},
		{enquiry.Edit{Op: enquiry.Set, Path: "site.supply.fuse_a", Text: "{told: many, by: him}"}, "is not a number"},
		{enquiry.Edit{Op: enquiry.Set, Path: "equipment.items[XX].product", Text: "FV-10"}, "there is no XX here"},
		{enquiry.Edit{Op: enquiry.Remove, Path: "equipment.items[XX]"}, "nothing here to remove"},
		{enquiry.Edit{Op: enquiry.Add, Path: "equipment.items", Text: "{tag: FV1, product: FV-10}"}, "stands twice"},
		{enquiry.Edit{Op: "swap", Path: "title", Text: "x"}, "is not an edit"},
		{enquiry.Edit{Op: enquiry.Set, Path: "..", Text: "x"}, "not a place"},
	} {
		if _, err := enquiry.Apply(demo(t), tt.edit); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%+v: got %v, want %q", tt.edit, err, tt.says)
		}
	}
}

func FuzzEdit(f *testing.F) {
	f.Add("set", "site.supply.fuse_a", "{told: 250, by: x}")
	f.Add("remove", "equipment.items[1]", "")
	f.Add("add", "brief.beers", "[[")
	p := demo(f)
	f.Fuzz(func(t *testing.T, op, path, text string) {
		got, err := enquiry.Apply(p, enquiry.Edit{Op: strict.Op(op), Path: path, Text: text})
		if err != nil {
			return
		}
		if problems := got.Validate("fuzz"); len(problems) > 0 {
			t.Errorf("accepted what does not validate: %v", problems)
		}
	})
}

func FuzzRead(f *testing.F) {
	for _, name := range projects.Names() {
		text, err := projects.Text(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		if _, err := enquiry.Read("fuzz", text); err == nil {
			return
		}
	})
}

func BenchmarkApply(b *testing.B) {
	p := demo(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := enquiry.Apply(p, enquiry.Edit{Op: enquiry.Set, Path: "site.supply.fuse_a", Text: "{told: 250, by: x}"}); err != nil {
			b.Fatal(err)
		}
	}
}
