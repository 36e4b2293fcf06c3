package strict_test

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"tunwright/catalog/strict"
	"tunwright/catalog/unit"

	"pgregory.net/rapid"
)

// TestWriteReadIsIdentity: what is written reads back as the same value, whatever
// texts and numbers it holds.
func TestWriteReadIsIdentity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(
			rapid.StringMatching(`[a-zA-Z0-9 :#'"\-\[\]{},.&*!|>%@]{1,20}`),
			rapid.SampledFrom([]string{"null", "true", "12", "1.5", "~", "yes", "2026-01-01", " leading", "two\nlines", "é", "- x", "0x1F"}),
		)
		want := shed{
			Name:   text.Draw(t, "name"),
			Doors:  rapid.IntRange(0, 9).Draw(t, "doors"),
			Dry:    rapid.Bool().Draw(t, "dry"),
			Length: unit.Millimetres(float64(rapid.IntRange(500, 20000).Draw(t, "length"))),
			Tools:  []tool{{Name: text.Draw(t, "tool"), Mass: unit.Kilograms(float64(rapid.IntRange(0, 500).Draw(t, "mass")))}},
		}
		for form, write := range map[string]func(any) ([]byte, error){"YAML": strict.YAML, "JSON": strict.JSON} {
			out, err := write(want)
			if err != nil {
				t.Fatalf("%s: %v", form, err)
			}
			var got shed
			if err := strict.Decode("f.yaml", out, &got); err != nil {
				t.Fatalf("%s: %v\n%s", form, err, out)
			}
			if diff := got.Length - want.Length; diff < -1e-12 || diff > 1e-12 {
				t.Fatalf("%s: length %v, want %v", form, got.Length, want.Length)
			}
			got.Length = want.Length
			if !reflect.DeepEqual(got, want) {
				t.Fatalf("%s: got %+v, want %+v\n%s", form, got, want, out)
			}
		}
	})
}

func TestWriteUsesTheUnitOfTheTag(t *testing.T) {
	out, err := strict.YAML(shed{Name: "x", Length: unit.Metres(0.3)})
	if err != nil {
		t.Fatal(err)
	}
	if want := "name: x\nlength_mm: 300\n"; string(out) != want {
		t.Errorf("got %q, want %q", out, want)
	}
}

func TestJSONIsJSON(t *testing.T) {
	out, err := strict.JSON(shed{Name: "a \"quoted\" <name>\n", Length: 6, Shelves: map[string]int{"b": 2, "a": 1}})
	if err != nil {
		t.Fatal(err)
	}
	var any map[string]any
	if err := json.Unmarshal(out, &any); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	if any["name"] != "a \"quoted\" <name>\n" || any["length_mm"] != 6000.0 {
		t.Errorf("got %v", any)
	}
	if strings.Index(string(out), `"a"`) > strings.Index(string(out), `"b"`) {
		t.Error("names of a map must come in order, so that the same value gives the same bytes")
	}
}

func TestWriteRefusesWhatIsNoNumber(t *testing.T) {
	zero := 0.0
	if _, err := strict.YAML(shed{Name: "x", Share: zero / zero}); err == nil {
		t.Error("NaN was written")
	}
}
