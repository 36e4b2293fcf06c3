package ifc_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"tunwright/catalog/unit"
	"tunwright/pricing/paper/ifc"
)

func model() ifc.Model {
	p := func(x, y float64) ifc.Point { return ifc.Point{X: unit.Metres(x), Y: unit.Metres(y)} }
	return ifc.Model{
		Name: "Brewery at O'Dell's Mühle", Site: "Mill", Building: "Mill", Storey: "First floor", Elevation: unit.Metres(4.35),
		Date: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC), Author: "T. R.", Firm: "Works", Program: "0.1",
		Outline: []ifc.Point{p(0, 0), p(12, 0), p(12, 8), p(0, 8)}, Height: unit.Metres(3.7),
		Items: []ifc.Item{
			{Tag: "FV1", Name: "Fermenter 10 hL", Product: "FV-10", Tank: true, At: p(3, 2), Length: unit.Metres(1.25), Width: unit.Metres(1.25), Height: unit.Metres(2.93), Round: true, Empty: unit.Kilograms(380), Operating: unit.Kilograms(1447), Brim: unit.Kilograms(1750), Estimated: true, Feet: 4, FootLoad: unit.Kilonewtons(3.55)},
			{Tag: "ML1", Name: "Mill", Product: "ML-400", At: p(8, 5), Turn: unit.Degrees(90), Length: unit.Metres(1), Width: unit.Metres(0.75), Height: unit.Metres(1.5), Empty: unit.Kilograms(165), Operating: unit.Kilograms(165), Brim: unit.Kilograms(165)},
		},
	}
}

func written(t *testing.T, m ifc.Model) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := ifc.Write(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

type piece struct {
	Kind       string         `json:"kind"`
	Name       string         `json:"name"`
	Box        []float64      `json:"box"`
	Properties map[string]any `json:"properties"`
}

// An independent reader sees the pieces where they were put, as large as they are
// and with their masses.
func TestAnIndependentReaderReadsTheModel(t *testing.T) {
	dir := filepath.Join("..", "..", "..", "testdata", "ifc")
	_, errNode := exec.LookPath("node")
	_, errMods := os.Stat(filepath.Join(dir, "node_modules", "web-ifc"))
	if errNode != nil || errMods != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("node or web-ifc is missing: %v %v", errNode, errMods)
		}
		t.Skip("node or web-ifc is not installed (npm ci in testdata/ifc): the model cannot be read back")
	}
	path := filepath.Join(t.TempDir(), "model.ifc")
	if err := os.WriteFile(path, written(t, model()), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("node", "read.mjs", path)
	cmd.Dir = dir
	var complaints bytes.Buffer
	cmd.Stderr = &complaints
	out, err := cmd.Output()
	if err != nil || complaints.Len() > 0 {
		t.Fatalf("%v\n%s", err, complaints.String())
	}
	var got []piece
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	want := []piece{
		{"space", "First floor", nil, nil}, // the reader makes no mesh of spaces
		{"tank", "FV1", []float64{2.375, 1.375, 4.35, 3.625, 2.625, 7.28}, map[string]any{"MassEmpty": 380.0, "MassOperating": 1447.0, "MassBrimFull": 1750.0, "Product": "FV-10", "Feet": 4.0, "FootLoadOperating": 3550.0}},
		{"piece", "ML1", []float64{7.625, 4.5, 4.35, 8.375, 5.5, 5.85}, map[string]any{"MassEmpty": 165.0, "Product": "ML-400"}},
	}
	if len(got) != len(want) {
		t.Fatalf("%d pieces, want %d: %s", len(got), len(want), out)
	}
	const circle = 0.002 // the reader makes a circle of 128 sides
	for _, w := range want {
		g := got[indexOf(got, w.Name)]
		if g.Name != w.Name || g.Kind != w.Kind {
			t.Errorf("%s %s is not there: %+v", w.Kind, w.Name, got)
		}
		for k := range w.Box {
			if len(g.Box) != 6 || math.Abs(g.Box[k]-w.Box[k]) > circle {
				t.Errorf("%s lies at %v, want %v", w.Name, g.Box, w.Box)
				break
			}
		}
		for name, v := range w.Properties {
			if g.Properties[name] != v {
				t.Errorf("%s %s is %v, want %v", w.Name, name, g.Properties[name], v)
			}
		}
	}
}

func indexOf(list []piece, name string) int {
	for i, p := range list {
		if p.Name == name {
			return i
		}
	}
	return 0
}

// The reader forgives much, so that the text itself is held to the standard: every
// reference resolves to an earlier instance, identities are unique and well formed.
func TestTheTextIsWellFormed(t *testing.T) {
	text := string(written(t, model()))
	defined := map[string]bool{}
	refs, lines := regexp.MustCompile(`#\d+`), 0
	guids := map[string]bool{}
	guid := regexp.MustCompile(`^IFC[A-Z0-9]+\('([0-3][0-9A-Za-z_$]{21})'`)
	for _, l := range strings.Split(text, "\n") {
		id, rest, ok := strings.Cut(l, "=")
		if !ok || !strings.HasPrefix(l, "#") {
			continue
		}
		lines++
		for _, r := range refs.FindAllString(rest, -1) {
			if !defined[r] {
				t.Errorf("%s names %s, which does not stand before it", id, r)
			}
		}
		defined[id] = true
		if m := guid.FindStringSubmatch(rest); m != nil {
			if guids[m[1]] {
				t.Errorf("%s: identity %s stands twice", id, m[1])
			}
			guids[m[1]] = true
		}
	}
	if lines < 50 || len(guids) < 12 {
		t.Errorf("%d instances, %d identities", lines, len(guids))
	}
	if !strings.Contains(text, `'Brewery at O''Dell''s M\X2\00FC\X0\hle'`) {
		t.Error("the name was not written by ISO 10303-21")
	}
}

func TestSameModelSameBytes(t *testing.T) {
	if !bytes.Equal(written(t, model()), written(t, model())) {
		t.Error("the same model was written as different bytes")
	}
}

func TestARoomWithoutHeightIsRefused(t *testing.T) {
	m := model()
	m.Height = 0
	if err := ifc.Write(&bytes.Buffer{}, m); err == nil {
		t.Error("accepted")
	}
}
