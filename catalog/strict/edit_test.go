package strict_test

import (
	"reflect"
	"strings"
	"testing"

	"tunwright/catalog/strict"
	"tunwright/catalog/unit"
)

func yard() shed {
	return shed{
		Name: "yard", Length: unit.Metres(6), Bays: []unit.Length{3, 2.5},
		Tools: []tool{{Name: "saw", Mass: 4}, {Name: "vice 7.5", Mass: 9}},
	}
}

func TestApply(t *testing.T) {
	cases := []struct {
		name string
		edit strict.Edit
		want func(*shed)
	}{
		{"set a text", strict.Edit{Op: strict.Set, Path: "name", Text: "north yard"}, func(s *shed) { s.Name = "north yard" }},
		{"set in a list by number", strict.Edit{Op: strict.Set, Path: "tools[1].mass_kg", Text: "5"}, func(s *shed) { s.Tools[0].Mass = 5 }},
		{"set in a list by name", strict.Edit{Op: strict.Set, Path: "tools[saw].mass_kg", Text: "5"}, func(s *shed) { s.Tools[0].Mass = 5 }},
		{"name with a point", strict.Edit{Op: strict.Set, Path: "tools[vice 7.5].mass_kg", Text: "8"}, func(s *shed) { s.Tools[1].Mass = 8 }},
		{"set an entry whole", strict.Edit{Op: strict.Set, Path: "bays_mm[2]", Text: "4000"}, func(s *shed) { s.Bays[1] = 4 }},
		{"set what was not there", strict.Edit{Op: strict.Set, Path: "best.name", Text: "plane"}, func(s *shed) { s.Best = &tool{Name: "plane"} }},
		{"add to a list", strict.Edit{Op: strict.Add, Path: "tools", Text: "{name: plane}"}, func(s *shed) { s.Tools = append(s.Tools, tool{Name: "plane"}) }},
		{"add to a list that was not there", strict.Edit{Op: strict.Add, Path: "shelves.left", Text: "1"}, nil},
		{"remove from a list", strict.Edit{Op: strict.Remove, Path: "tools[saw]"}, func(s *shed) { s.Tools = s.Tools[1:] }},
		{"forget a value", strict.Edit{Op: strict.Remove, Path: "bays_mm"}, func(s *shed) { s.Bays = nil }},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var got shed
			err := strict.Apply("yard", yard(), &got, c.edit)
			if c.want == nil {
				if err == nil {
					t.Errorf("got %+v, want a problem", got)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			want := yard()
			c.want(&want)
			if !reflect.DeepEqual(got, want) {
				t.Errorf("got %+v, want %+v", got, want)
			}
		})
	}
}

func TestApplyRefuses(t *testing.T) {
	cases := []struct {
		name string
		edit strict.Edit
		want string
	}{
		{"no path", strict.Edit{Op: strict.Set, Text: "1"}, "not a place"},
		{"empty name", strict.Edit{Op: strict.Set, Path: "a..b", Text: "1"}, "not a place"},
		{"ends in a point", strict.Edit{Op: strict.Set, Path: "name.", Text: "1"}, "not a place"},
		{"open bracket", strict.Edit{Op: strict.Set, Path: "tools[1", Text: "1"}, "bracket is not closed"},
		{"empty bracket", strict.Edit{Op: strict.Set, Path: "tools[].name", Text: "x"}, "bracket is not closed or empty"},
		{"no point behind a bracket", strict.Edit{Op: strict.Set, Path: "tools[1]name", Text: "x"}, "point is missing"},
		{"no such entry", strict.Edit{Op: strict.Set, Path: "tools[axe].name", Text: "x"}, "there is no axe"},
		{"no such entry to set", strict.Edit{Op: strict.Set, Path: "tools[9]", Text: "{name: x}"}, "add it first"},
		{"nothing to remove", strict.Edit{Op: strict.Remove, Path: "tools[axe]"}, "nothing here to remove"},
		{"add to no list", strict.Edit{Op: strict.Add, Path: "name", Text: "x"}, "not a list"},
		{"unknown operation", strict.Edit{Op: "swap", Path: "name", Text: "x"}, "not an edit"},
		{"no value", strict.Edit{Op: strict.Set, Path: "name"}, "not a value"},
		{"broken value", strict.Edit{Op: strict.Set, Path: "name", Text: "[1"}, "not a value"},
		{"unknown field", strict.Edit{Op: strict.Set, Path: "colour", Text: "red"}, "not known here"},
		{"out of range", strict.Edit{Op: strict.Set, Path: "length_mm", Text: "1"}, "cannot be right"},
		{"required value removed", strict.Edit{Op: strict.Remove, Path: "name"}, "missing"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			err := strict.Apply("yard", yard(), &shed{}, c.edit)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want %q", err, c.want)
			}
		})
	}
}

func TestApplyLeavesTheOldValueAlone(t *testing.T) {
	old := yard()
	var got shed
	if err := strict.Apply("yard", old, &got, strict.Edit{Op: strict.Set, Path: "tools[1].name", Text: "axe"}); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(old, yard()) {
		t.Errorf("the old value became %+v", old)
	}
}

func FuzzApply(f *testing.F) {
	f.Add("set", "tools[saw].mass_kg", "5")
	f.Add("remove", "bays_mm[1]", "")
	f.Add("add", "tools", "{name: x}")
	f.Fuzz(func(t *testing.T, op, path, text string) {
		var got shed
		if err := strict.Apply("yard", yard(), &got, strict.Edit{Op: strict.Op(op), Path: path, Text: text}); err == nil && got.Length <= 0 {
			t.Errorf("%s %s %q gave %+v", op, path, text, got)
		}
	})
}
