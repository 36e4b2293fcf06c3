package strict_test

import (
	"errors"
	"reflect"
	"strings"
	"testing"

	"tunwright/catalog/strict"
	"tunwright/catalog/unit"
)

// shed is a small file type that has one field of each sort the reader knows.
type shed struct {
	Name    string            `yaml:"name,required" doc:"what the shed is called"`
	Roof    string            `yaml:"roof,omitempty" enum:"flat|pitched"`
	Doors   int               `yaml:"doors,omitempty" range:"0..9"`
	Share   float64           `yaml:"share,omitempty" range:"0..1"`
	Dry     bool              `yaml:"dry,omitempty"`
	Length  unit.Length       `yaml:"length_mm,required" range:"500..20000"`
	Supply  *unit.Current     `yaml:"supply_a"`
	Winter  *unit.Temperature `yaml:"winter_c" range:"-30..20"`
	Bays    []unit.Length     `yaml:"bays_mm" range:"100..9000"`
	Tools   []tool            `yaml:"tools"`
	Shelves map[string]int    `yaml:"shelves"`
	Best    *tool             `yaml:"best"`
}

type tool struct {
	Name string    `yaml:"name,required"`
	Mass unit.Mass `yaml:"mass_kg,omitempty" range:"0..500"`
}

const good = "name: north shed\nlength_mm: 6000\n"

func TestDecodeReadsEveryKind(t *testing.T) {
	var got shed
	text := `name: north shed
roof: pitched
doors: 2
share: 0.25
dry: true
length_m: 6
supply_a: 63
winter_f: 23
bays_mm: [3000, 2500]
tools:
  - {name: saw, mass_kg: 4}
shelves: {left: 3, right: 4}
best: {name: plane}
`
	if err := strict.Decode("shed.yaml", []byte(text), &got); err != nil {
		t.Fatal(err)
	}
	supply, winter := unit.Amperes(63), unit.Celsius(-5)
	want := shed{
		Name: "north shed", Roof: "pitched", Doors: 2, Share: 0.25, Dry: true, Length: unit.Metres(6),
		Supply: &supply, Winter: &winter, Bays: []unit.Length{3, 2.5}, Tools: []tool{{Name: "saw", Mass: 4}},
		Shelves: map[string]int{"left": 3, "right": 4}, Best: &tool{Name: "plane"},
	}
	// 23 °F is -5 °C but for the last digit of a float64.
	if d := *got.Winter - winter; d > 1e-9 || d < -1e-9 {
		t.Errorf("23 °F was read as %v", *got.Winter)
	}
	got.Winter = want.Winter
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v\nwant %+v", got, want)
	}
}

// TestMissingFieldTellsWhatToWrite: a field without a description of its own still
// tells what belongs there.
func TestMissingFieldTellsWhatToWrite(t *testing.T) {
	var into struct {
		Word   string      `yaml:"word,required"`
		Kind   string      `yaml:"kind,required" enum:"a|b"`
		Count  int         `yaml:"count,required"`
		Open   bool        `yaml:"open,required"`
		List   []string    `yaml:"list,required"`
		Group  *tool       `yaml:"group,required"`
		Length unit.Length `yaml:"length_mm,required"`
	}
	err := strict.Decode("f.yaml", []byte("{}"), &into)
	for _, want := range []string{
		"word: this field is missing; write a word", "kind: this field is missing; write one of: a, b",
		"count: this field is missing; write a number", "open: this field is missing; write true or false",
		"list: this field is missing; write a list", "group: this field is missing; write a group",
		"length_mm: this field is missing; write a number in mm",
	} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got\n%v\nwant %q", err, want)
		}
	}
}

// grade is a type that reads itself from a word.
type grade int

func (g *grade) UnmarshalText(text []byte) error {
	if string(text) != "first" && string(text) != "second" {
		return errors.New("the grade is neither first nor second")
	}
	*g = grade(len(text))
	return nil
}

func TestTypesThatReadThemselves(t *testing.T) {
	cases := []struct{ text, want string }{
		{"grade: first", ""},
		{"grade: third", "f.yaml:1: grade: the grade is neither first nor second"},
		{"grade: [first]", "f.yaml:1: grade: a single value belongs here"},
	}
	for _, c := range cases {
		var into struct {
			Grade grade `yaml:"grade"`
		}
		err := strict.Decode("f.yaml", []byte(c.text), &into)
		if c.want == "" && (err != nil || into.Grade != 5) || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s: got %v, %v, want %q", c.text, into.Grade, err, c.want)
		}
	}
}

func TestUnknownIsNotZero(t *testing.T) {
	var got shed
	if err := strict.Decode("shed.yaml", []byte(good+"winter_c: null\n"), &got); err != nil {
		t.Fatal(err)
	}
	if got.Supply != nil || got.Winter != nil {
		t.Errorf("a field that was not given must stay nil, got %v and %v", got.Supply, got.Winter)
	}
}

func TestDecodeTellsWhatIsWrong(t *testing.T) {
	cases := []struct {
		name, text string
		line       int
		field      string
		message    string
		help       string
	}{
		{"unknown field", good + "colour: red\n", 3, "colour", "not known", "known here"},
		{"mistyped field", good + "dors: 1\n", 3, "dors", "not known", "did you mean doors?"},
		{"unit missing", "name: x\nlength: 6000\n", 2, "length", "not known", "unit is missing"},
		{"unit of another kind", "name: x\nlength_kg: 6000\n", 2, "length_kg", "not known", "write length_mm"},
		{"required field missing", "length_mm: 6000\n", 1, "name", "missing", "what the shed is called"},
		{"required quantity missing", "name: x\n", 1, "length_mm", "missing", "number in mm"},
		{"too small", "name: x\nlength_mm: -5\n", 2, "length_mm", "cannot be right", "between 500 and 20000 mm"},
		{"too large in another unit", "name: x\nlength_m: 6000\n", 2, "length_m", "cannot be right", "between 0.5 and 20 m"},
		{"word for a number", "name: x\nlength_mm: long\n", 2, "length_mm", `"long" is not a number`, "digits"},
		{"decimal comma", "name: x\nlength_mm: 6000,5\n", 2, "length_mm", "is not a number", "point"},
		{"unit written behind", "name: x\nlength_mm: 6000 mm\n", 2, "length_mm", "is not a number", "without unit"},
		{"not a number", "name: x\nlength_mm: .nan\n", 2, "length_mm", "finite", "digits"},
		{"infinite", "name: x\nlength_mm: .inf\n", 2, "length_mm", "finite", "digits"},
		{"beyond float64", "name: x\nlength_mm: 1e999\n", 2, "length_mm", "is not a number", "digits"},
		{"not in the list", good + "roof: round\n", 3, "roof", `"round" is not known`, "flat, pitched"},
		{"not whole", good + "doors: 1.5\n", 3, "doors", "not a whole number", "whole"},
		{"count outside", good + "doors: 12\n", 3, "doors", "cannot be right", "between 0 and 9"},
		{"share outside", good + "share: 1.5\n", 3, "share", "cannot be right", "between 0 and 1"},
		{"neither true nor false", good + "dry: maybe\n", 3, "dry", "neither true nor false", "true or false"},
		{"list for a value", good + "doors: [1]\n", 3, "doors", "a list is not a number", ""},
		{"value for a list", good + "tools: saw\n", 3, "tools", "is not a list", "dash"},
		{"value for a group", good + "best: saw\n", 3, "best", "not a group", "name: value"},
		{"group for a text", good + "roof: {a: 1}\n", 3, "roof", "is not a text", "word"},
		{"list for a map", good + "shelves: [1]\n", 3, "shelves", "not a group", "name: value"},
		{"inside a list", good + "tools:\n  - {name: a}\n  - {nam: b}\n", 5, "tools[2].nam", "not known", "did you mean name?"},
		{"range inside a list", good + "bays_mm: [3000, 5]\n", 3, "bays_mm[2]", "cannot be right", "between 100 and 9000"},
		{"twice", good + "doors: 1\ndoors: 2\n", 4, "doors", "twice", "keep one"},
		{"twice in two units", good + "length_m: 6\n", 3, "length_m", "twice", "keep one"},
		{"map key twice", good + "shelves: {a: 1, a: 2}\n", 3, "shelves.a", "twice", "keep one"},
		{"alias", "name: &n x\nlength_mm: 6000\nroof: *n\n", 3, "roof", "aliases", "write the value out"},
		{"broken indentation", "name: x\n  length_mm: 1\n", 2, "", "not readable as YAML", "indentation"},
		{"broken JSON", `{"name": "x", "length_mm": }x`, 1, "", "not readable as YAML", "quotes"},
		{"two documents", good + "---\n" + good, 3, "", "second document", "one document"},
		{"list at the top", "- 1\n", 1, "", "not a group of fields", ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			err := strict.Decode("shed.yaml", []byte(c.text), &shed{})
			problems, ok := errors.AsType[strict.Problems](err)
			if !ok || len(problems) == 0 {
				t.Fatalf("got %v, want problems", err)
			}
			for _, p := range problems {
				if p.File == "shed.yaml" && p.Line == c.line && p.Field == c.field &&
					strings.Contains(p.Message, c.message) && strings.Contains(p.WouldHelp, c.help) {
					return
				}
			}
			t.Errorf("got\n%v\nwant line %d, field %q, message %q, help %q", err, c.line, c.field, c.message, c.help)
		})
	}
}

func TestAllProblemsComeAtOnceInOrder(t *testing.T) {
	text := "name: x\nlength_mm: 1\nroof: round\ncolour: red\n"
	err := strict.Decode("shed.yaml", []byte(text), &shed{})
	problems, ok := errors.AsType[strict.Problems](err)
	if !ok || len(problems) != 3 {
		t.Fatalf("got %v, want three problems", err)
	}
	for i, p := range problems {
		if p.Line != i+2 {
			t.Errorf("problem %d is on line %d, want the order of the file", i+1, p.Line)
		}
	}
	if want := "shed.yaml:2: length_mm: "; !strings.HasPrefix(err.Error(), want) {
		t.Errorf("got %q, want it to begin with %q", err.Error(), want)
	}
}

func TestEmptyFile(t *testing.T) {
	for _, text := range []string{"", "\n\n", "# only a remark\n", "---\n"} {
		err := strict.Decode("shed.yaml", []byte(text), &shed{})
		if err == nil {
			t.Errorf("%q was read without complaint", text)
			continue
		}
		if !strings.Contains(err.Error(), "empty") {
			t.Errorf("%q: got %v, want it to say that the file is empty", text, err)
		}
	}
}

func TestTooLargeFile(t *testing.T) {
	err := strict.Decode("big.yaml", make([]byte, strict.MaxBytes+1), &shed{})
	if err == nil || !strings.Contains(err.Error(), "at most 4194304 bytes") {
		t.Errorf("got %v, want the limit named", err)
	}
}

func TestRequiredPointerMustNotBeNull(t *testing.T) {
	var into struct {
		Best *tool `yaml:"best,required"`
	}
	err := strict.Decode("f.yaml", []byte("best: null\n"), &into)
	if err == nil || !strings.Contains(err.Error(), "f.yaml:1: best: this field is empty") {
		t.Errorf("got %v, want a required field to ask for a value", err)
	}
}

// judged notes a problem at a path of its own, as a product does.
type judged struct{ path string }

func (j *judged) DecodeStrict(r *strict.Reader, v strict.Value) {
	r.Fail(v.At(j.path), "judged", "")
}

func TestAtFindsPlaces(t *testing.T) {
	text := "top:\n  list:\n    - size: 1\n    - size: 2\n      deep:\n        x: 3\n"
	cases := []struct {
		path string
		line int
	}{
		{"list", 3},
		{"list[2]", 4},
		{"list[2].size", 4},
		{"list[2].deep.x", 6},
		{"list[2].gone", 4}, // the group it is missing in
		{"list[9].size", 3}, // no such entry: the list
		{"gone", 2},
	}
	for _, c := range cases {
		into := struct {
			Top judged `yaml:"top"`
		}{judged{c.path}}
		err := strict.Decode("f.yaml", []byte(text), &into)
		problems, ok := errors.AsType[strict.Problems](err)
		if !ok || len(problems) != 1 || problems[0].Line != c.line || problems[0].Field != "top."+c.path {
			t.Errorf("%s: got %v, want line %d", c.path, err, c.line)
		}
	}
}

func TestNearest(t *testing.T) {
	known := []string{"FV-10", "FV-15", "FV-10-LOW", "CH-18"}
	cases := []struct {
		word, want string
		found      bool
	}{
		{"FV-11", "FV-10", true},
		{"CH18", "CH-18", true},
		{"FV-10-LW", "FV-10-LOW", true},
		{"kettle of copper", "", false},
		{strings.Repeat("x", 100000), "", false},
	}
	for _, c := range cases {
		got, ok := strict.Nearest(c.word, known)
		if ok != c.found || ok && got != c.want {
			t.Errorf("nearest to %.20q: got %q, %v, want %q, %v", c.word, got, ok, c.want, c.found)
		}
	}
}

// TestDeepNesting holds that a hostile file neither stops nor exhausts the program.
func TestDeepNesting(t *testing.T) {
	text := strings.Repeat("[", 20000)
	if err := strict.Decode("f.yaml", []byte(text), &shed{}); err == nil {
		t.Error("twenty thousand open brackets were read without complaint")
	}
}

func FuzzDecode(f *testing.F) {
	for _, seed := range []string{good, good + "tools:\n  - {name: saw, mass_kg: 4}\n", "name: [", "{}", "length_mm: .nan", "a: &x [*x]", "name: x\nlength_ft: 20\n"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var got shed
		if err := strict.Decode("f.yaml", data, &got); err != nil {
			return
		}
		if got.Name == "" && !strings.Contains(string(data), "name") {
			t.Errorf("%q was read without a name", data)
		}
		if mm := got.Length.MM(); !(mm >= 499.9 && mm <= 20000.1) {
			t.Errorf("%q was read with a length of %v mm", data, mm)
		}
		text, err := strict.YAML(got)
		if err != nil {
			t.Fatalf("%+v cannot be written: %v", got, err)
		}
		var again shed
		if err := strict.Decode("f.yaml", text, &again); err != nil {
			t.Errorf("what was written cannot be read: %v\n%s", err, text)
		}
	})
}
