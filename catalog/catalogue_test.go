package catalog_test

import (
	"errors"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"tunwright/catalog"
	"tunwright/catalog/strict"

	"pgregory.net/rapid"
)

// dataFolder is the built-in catalogue as it lies beside the tests.
var dataFolder = os.DirFS("data")

// builtIn is read once for all tests.
var builtIn = sync.OnceValues(catalog.Embedded)

func load(t testing.TB) *catalog.Catalogue {
	t.Helper()
	c, err := builtIn()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestFindAndLookup(t *testing.T) {
	c := load(t)
	if p, ok := c.Find("FV-10"); !ok || p.Code != "FV-10" || p.Class != catalog.ClassFermenter {
		t.Errorf("got %v, %v", p, ok)
	}
	if _, ok := c.Find("FV-11"); ok {
		t.Error("FV-11 was found")
	}
	if p, err := c.Lookup("CH-18"); err != nil || p.Code != "CH-18" {
		t.Errorf("got %v, %v", p, err)
	}
}

func TestLookupNamesTheNearest(t *testing.T) {
	c := load(t)
	cases := []struct{ code, want string }{
		{"FV-11", "did you mean FV-10?"},
		{"fv-10-low", "did you mean FV-10-LOW?"},
		{" CH-18 ", "did you mean CH-18?"},
		{"BH-10-E2V", "did you mean BH-10-E-2V?"},
		{"BT10", "did you mean BT-10?"},
		{"a copper with a lid", "list the catalogue"},
		{"", "list the catalogue"},
	}
	for _, k := range cases {
		_, err := c.Lookup(k.code)
		if !errors.Is(err, catalog.ErrNotFound) {
			t.Errorf("%q: got %v, want ErrNotFound", k.code, err)
			continue
		}
		if !strings.Contains(err.Error(), k.want) {
			t.Errorf("%q: got %v, want %q", k.code, err, k.want)
		}
	}
}

func TestByClassIsSortedBySizeThenCode(t *testing.T) {
	c := load(t)
	cases := []struct {
		class catalog.Class
		want  []string // the first of the class
	}{
		{catalog.ClassChiller, []string{"CH-3", "CH-5", "CH-8", "CH-12", "CH-18", "CH-25", "CH-35", "CH-45", "CH-60"}},
		{catalog.ClassFermenter, []string{"FV-3", "FV-3-LOW", "FV-3-LP", "FV-5", "FV-5-LOW", "FV-5-LP", "FV-7.5"}},
		{catalog.ClassBrewhouse, []string{"BH-2.5-E-1V", "BH-2.5-E-2V", "BH-2.5-G-2V", "BH-5-E-1V"}},
		{catalog.ClassBuffer, []string{"GB-150", "GB-300", "GB-500"}},
		{catalog.ClassPlate, []string{"SP-250-15", "SP-300-20", "SP-400-25", "SP-500-30"}},
	}
	for _, k := range cases {
		var codes []string
		for _, p := range c.ByClass(k.class) {
			codes = append(codes, p.Code)
		}
		if len(codes) < len(k.want) || !slices.Equal(codes[:len(k.want)], k.want) {
			t.Errorf("%s: got %v, want it to begin with %v", k.class, codes, k.want)
		}
	}
}

func TestListsAreCopies(t *testing.T) {
	c := load(t)
	first := c.All()[0]
	c.All()[0] = nil
	c.ByClass(catalog.ClassChiller)[0] = nil
	if c.All()[0] != first || c.ByClass(catalog.ClassChiller)[0] == nil {
		t.Error("a caller that changes its list changed the catalogue")
	}
}

func TestClassesPartitionTheCatalogue(t *testing.T) {
	c := load(t)
	var n int
	for _, class := range catalog.Classes() {
		n += len(c.ByClass(class))
		if len(c.ByClass(class)) == 0 {
			t.Errorf("no product of class %s", class)
		}
	}
	if n != len(c.All()) {
		t.Errorf("the classes hold %d products, the catalogue %d", n, len(c.All()))
	}
}

func TestOverlay(t *testing.T) {
	base := load(t)
	own := strings.NewReplacer("SP-1", "SP-400-25", "name: Plate", "name: Our own plate").Replace(plate)
	c, err := catalog.Overlay(base, folder("own.yaml", own, "more.yaml", plate))
	if err != nil {
		t.Fatal(err)
	}
	if p, _ := c.Find("SP-400-25"); p.Name != "Our own plate" {
		t.Errorf("the own product did not replace the built-in one: %s", p.Name)
	}
	if _, ok := c.Find("SP-1"); !ok {
		t.Error("the new product was not added")
	}
	if got, want := len(c.All()), len(base.All())+1; got != want {
		t.Errorf("got %d products, want %d", got, want)
	}
	if p, _ := base.Find("SP-400-25"); p.Name == "Our own plate" {
		t.Error("the base was changed")
	}
	if _, err := catalog.Overlay(base, folder("own.yaml", "products: []")); err == nil {
		t.Error("an overlay that cannot be read gave a catalogue")
	}
}

func digest(t testing.TB, c *catalog.Catalogue) string {
	t.Helper()
	d, err := c.Digest()
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestDigest(t *testing.T) {
	whole := digest(t, load(t))
	if !regexp.MustCompile(`^[0-9a-f]{64}$`).MatchString(whole) {
		t.Errorf("got %q, want 64 hexadecimal digits", whole)
	}
	again, err := catalog.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	if digest(t, again) != whole {
		t.Error("two readings of one catalogue give two digests")
	}
	open := func(text string) string {
		c, err := catalog.Open(folder("own.yaml", text))
		if err != nil {
			t.Fatal(err)
		}
		return digest(t, c)
	}
	plain := open(plate)
	cases := []struct {
		name, text string
		same       bool
	}{
		{"another unit", strings.Replace(plate, "thickness_mm: 20", "thickness_cm: 2", 1), true},
		{"a remark and another order of fields", "# ours\n" + strings.Replace(plate, "      a_mm: 400\n      b_mm: 400\n", "      b_mm: 400\n      a_mm: 400\n", 1), true},
		{"another name", strings.Replace(plate, "name: Plate", "name: Slab", 1), false},
		{"another size", strings.NewReplacer("thickness_mm: 20", "thickness_mm: 21").Replace(plate), false},
	}
	for _, c := range cases {
		if got := open(c.text) == plain; got != c.same {
			t.Errorf("%s: same digest %v, want %v", c.name, got, c.same)
		}
	}
}

// TestDigestDoesNotDependOnFiles: the same products in other files and another order
// are the same catalogue.
func TestDigestDoesNotDependOnFiles(t *testing.T) {
	whole := load(t)
	few := slices.Concat(whole.ByClass(catalog.ClassPlate), whole.ByClass(catalog.ClassGasAlarm), whole.ByClass(catalog.ClassChiller)[:2])
	want := ""
	rapid.Check(t, func(t *rapid.T) {
		products := rapid.Permutation(few).Draw(t, "order")
		cut := rapid.IntRange(1, len(products)-1).Draw(t, "cut")
		again, err := catalog.Open(folder("a.yaml", list(t, products[:cut]), "b.yaml", list(t, products[cut:])))
		if err != nil {
			t.Fatal(err)
		}
		got, err := again.Digest()
		if err != nil {
			t.Fatal(err)
		}
		if want == "" {
			want = got
		}
		if got != want {
			t.Fatalf("got %s, want %s", got, want)
		}
	})
}

func list(t *rapid.T, products []*catalog.Product) string {
	text, err := strict.YAML(struct {
		Products []*catalog.Product `yaml:"products"`
	}{products})
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// TestTagsAreWhole: every quantity names its unit, every range can be read, and no
// two fields of a type share a name. The reader relies on it.
func TestTagsAreWhole(t *testing.T) {
	var walk func(typ reflect.Type)
	seen := map[reflect.Type]bool{}
	walk = func(typ reflect.Type) {
		for typ.Kind() == reflect.Pointer || typ.Kind() == reflect.Slice {
			typ = typ.Elem()
		}
		if typ.Kind() != reflect.Struct || seen[typ] {
			return
		}
		seen[typ] = true
		names := map[string]bool{}
		for f := range typ.Fields() {
			checkTag(t, typ, f)
			name, _, _ := strings.Cut(f.Tag.Get("yaml"), ",")
			if names[name] {
				t.Errorf("%s has two fields %s", typ.Name(), name)
			}
			names[name] = true
			walk(f.Type)
		}
	}
	walk(reflect.TypeFor[catalog.Product]())
	if len(seen) < 20 {
		t.Errorf("only %d types were seen", len(seen))
	}
}
