package catalog_test

import (
	"errors"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"tunwright/catalog"
	"tunwright/catalog/strict"
)

// plate is the smallest whole product.
const plate = `products:
  - code: SP-1
    class: spreading-plate
    name: Plate
    summary: Steel plate under a foot.
    bodies:
      - length_mm: 400
        width_mm: 400
        height_mm: 20
        empty_kg: 25
        mass_basis: maker
        packed:
          - {name: plate, length_mm: 400, width_mm: 400, height_mm: 20, mass_kg: 25}
    plate:
      a_mm: 400
      b_mm: 400
      thickness_mm: 20
`

func folder(files ...string) fstest.MapFS {
	m := fstest.MapFS{}
	for i := 0; i+1 < len(files); i += 2 {
		m[files[i]] = &fstest.MapFile{Data: []byte(files[i+1])}
	}
	return m
}

func TestOpenReadsAFolder(t *testing.T) {
	c, err := catalog.Open(folder("own.yaml", plate, "notes.txt", "not read", "sub/other.yaml", "not: read"))
	if err != nil {
		t.Fatal(err)
	}
	p, ok := c.Find("SP-1")
	if !ok || p.Plate.Thickness.MM() != 20 || len(c.All()) != 1 {
		t.Errorf("got %+v of %d products", p, len(c.All()))
	}
}

// TestOpenTellsWhatIsWrong: each mistake is reported with file, line, field and what
// would be right.
func TestOpenTellsWhatIsWrong(t *testing.T) {
	swap := func(old, with string) string {
		if !strings.Contains(plate, old) {
			t.Fatalf("%q is not in the sample", old)
		}
		return strings.Replace(plate, old, with, 1)
	}
	cases := []struct {
		name, text     string
		line           int
		field          string
		message, would string
	}{
		{"unknown field", swap("summary:", "colour: red\n    summary:"), 5, "products[1].colour", "not known here", "known here"},
		{"mistyped field", swap("summary:", "sumary:"), 5, "products[1].sumary", "not known here", "did you mean summary?"},
		{"missing unit", swap("empty_kg", "empty"), 10, "products[1].bodies[1].empty", "not known here", "unit is missing or not one of this kind: write empty_kg"},
		{"unit of another kind", swap("empty_kg: 25", "empty_l: 25"), 10, "products[1].bodies[1].empty_l", "not known here", "write empty_kg"},
		{"missing field", swap("    name: Plate\n", ""), 2, "products[1].name", "missing", "name on a quotation"},
		{"negative size", swap("length_mm: 400", "length_mm: -400"), 7, "products[1].bodies[1].length_mm", "-400 mm cannot be right", "between 50 and 15000 mm"},
		{"impossible value", swap("thickness_mm: 20", "thickness_mm: 2000"), 17, "products[1].plate.thickness_mm", "2000 mm cannot be right", "between 5 and 60 mm"},
		{"impossible in another unit", swap("empty_kg: 25", "empty_t: 25"), 10, "products[1].bodies[1].empty_t", "25 t cannot be right", "between 0.0001 and 20 t"},
		{"unknown class", swap("class: spreading-plate", "class: plate"), 3, "products[1].class", `"plate" is not known`, "spreading-plate"},
		{"mass does not follow", swap("empty_kg: 25", "empty_kg: 19"), 10, "products[1].bodies[1].empty_kg", "SP-1: the plate weighs 25.12 kg by its size, not 19 kg", "correct the mass"},
		{"class data missing", plate[:strings.Index(plate, "    plate:")], 2, "products[1].plate", "must carry this group", "add plate:"},
		{"group empty", swap("    plate:\n      a_mm: 400\n      b_mm: 400\n      thickness_mm: 20\n", "    plate: null\n"), 14, "products[1].plate", "must carry this group", "add plate:"},
		{"broken YAML", swap("    name: Plate", "   name: Plate"), 4, "", "not readable as YAML", "indentation"},
		{"empty file", "", 1, "", "empty", "samples"},
		{"only remarks", "# nothing yet\n", 1, "", "empty", "samples"},
		{"list empty", "products: []\n", 1, "products", "the list is empty", "write one product"},
		{"list missing", "product: []\n", 1, "products", "missing", "products of this file"},
		{"not a list", "products: FV-10\n", 1, "products", "is not a list", "dash"},
		{"code in small letters", swap("code: SP-1", "code: sp-1"), 2, "products[1].code", `"sp-1" is not an order code`, "FV-10-LOW"},
		{"code twice in one file", plate + strings.TrimPrefix(plate, "products:\n"), 18, "products[2].code", "stands already in own.yaml, line 2", "another code"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, err := catalog.Open(folder("own.yaml", c.text))
			if got != nil {
				t.Error("a catalogue came back beside the error")
			}
			expectProblem(t, err, strict.Problem{File: "own.yaml", Line: c.line, Field: c.field, Message: c.message, WouldHelp: c.would})
		})
	}
}

// expectProblem looks for a problem at a place whose texts contain the wanted ones.
func expectProblem(t *testing.T, err error, want strict.Problem) {
	t.Helper()
	problems, ok := errors.AsType[strict.Problems](err)
	if !ok {
		t.Fatalf("got %v, want problems of a file", err)
	}
	for _, p := range problems {
		if p.File == want.File && p.Line == want.Line && p.Field == want.Field &&
			strings.Contains(p.Message, want.Message) && strings.Contains(p.WouldHelp, want.WouldHelp) {
			return
		}
	}
	t.Errorf("got\n%v\nwant %v", err, want)
}

func TestCodeTwiceInTwoFiles(t *testing.T) {
	_, err := catalog.Open(folder("a.yaml", plate, "b.yaml", "# ours\n"+plate))
	expectProblem(t, err, strict.Problem{File: "b.yaml", Line: 3, Field: "products[1].code", Message: "stands already in a.yaml, line 2", WouldHelp: "delete it"})
}

func TestProblemsOfAllFilesComeAtOnce(t *testing.T) {
	broken := strings.Replace(plate, "mass_basis: maker", "mass_basis: guessed", 1)
	_, err := catalog.Open(folder("b.yaml", broken, "a.yaml", broken, "c.yaml", ""))
	problems, ok := errors.AsType[strict.Problems](err)
	if !ok || len(problems) != 3 {
		t.Fatalf("got %v, want three problems", err)
	}
	for i, file := range []string{"a.yaml", "b.yaml", "c.yaml"} {
		if problems[i].File != file {
			t.Errorf("problem %d is of %s, want %s", i+1, problems[i].File, file)
		}
	}
}

func TestFoldersThatHoldNoCatalogue(t *testing.T) {
	cases := []struct {
		name   string
		folder fs.FS
		want   string
	}{
		{"empty", fstest.MapFS{}, "the folder holds no *.yaml file"},
		{"other ending", folder("own.yml", plate), "own.yml: only files named *.yaml are read; name it own.yaml"},
		{"nil", nil, "no folder is given"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if _, err := catalog.Open(c.folder); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want %q", err, c.want)
			}
		})
	}
}

// huge is a file of 200 MB that must be refused by its size, before it is read.
type huge struct{ t *testing.T }

func (h huge) Open(string) (fs.File, error) { return h, nil }
func (h huge) ReadDir(string) ([]fs.DirEntry, error) {
	return []fs.DirEntry{fs.FileInfoToDirEntry(h)}, nil
}
func (h huge) Stat() (fs.FileInfo, error) { return h, nil }
func (h huge) Read([]byte) (int, error)   { h.t.Error("the file was read"); return 0, fs.ErrInvalid }
func (huge) Close() error                 { return nil }
func (huge) Name() string                 { return "huge.yaml" }
func (huge) Size() int64                  { return 200 << 20 }
func (huge) Mode() fs.FileMode            { return 0o444 }
func (huge) ModTime() time.Time           { return time.Time{} }
func (huge) IsDir() bool                  { return false }
func (huge) Sys() any                     { return nil }

func TestHugeFileIsRefusedUnread(t *testing.T) {
	_, err := catalog.Open(huge{t})
	if err == nil || !strings.Contains(err.Error(), "huge.yaml: the file has 200 MB; at most 4 MB are read") {
		t.Errorf("got %v, want the size and the limit", err)
	}
}

// grown is a file whose size was small when asked for and is not when read.
type grown struct{ huge }

func (g grown) Open(string) (fs.File, error) { return g, nil }
func (g grown) Stat() (fs.FileInfo, error)   { return grown{}, nil }
func (grown) Size() int64                    { return 100 }
func (grown) Read(b []byte) (int, error)     { clear(b); return len(b), nil }
func (g grown) ReadDir(string) ([]fs.DirEntry, error) {
	return []fs.DirEntry{fs.FileInfoToDirEntry(g)}, nil
}

func TestEndlessFileIsCutOff(t *testing.T) {
	_, err := catalog.Open(grown{huge{t}})
	if err == nil || !strings.Contains(err.Error(), "at most 4194304 bytes are read") {
		t.Errorf("got %v, want the limit named", err)
	}
}

// FuzzOpen: no text makes the loader panic, and a product that is let in is sound.
func FuzzOpen(f *testing.F) {
	for _, name := range []string{"spreading-plates.yaml", "pumps.yaml", "services.yaml", "gas-alarms.yaml"} {
		text, err := fs.ReadFile(dataFolder, name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Add([]byte(plate))
	f.Add([]byte("products:\n  - code: X\n    bodies: [{vessel: {}}]\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		c, err := catalog.Open(folder("own.yaml", string(text)))
		if err != nil {
			if _, ok := errors.AsType[strict.Problems](err); !ok {
				t.Errorf("the error names no place: %v", err)
			}
			return
		}
		for _, p := range c.All() {
			if faults := p.Validate(); len(faults) > 0 {
				t.Errorf("%s was let in with %v", p.Code, faults)
			}
		}
		if _, err := c.Digest(); err != nil {
			t.Errorf("what was let in cannot be written: %v", err)
		}
	})
}
