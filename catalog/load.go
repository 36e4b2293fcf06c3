package catalog

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"io/fs"
	"path"
	"reflect"
	"slices"

	"tunwright/catalog/strict"
)

// page is one catalogue file.
type page struct {
	Products []entry `yaml:"products,required" doc:"the products of this file"`
}

// entry is one product with the place it stands at, so that a code given twice can
// be reported where it stands again.
type entry struct {
	product *Product
	place   strict.Value
}

// DecodeStrict reads the product and, where its fields are sound, checks that they
// agree with each other.
func (e *entry) DecodeStrict(r *strict.Reader, v strict.Value) {
	e.place = v
	var p Product
	before := r.Count()
	r.Into(v, reflect.ValueOf(&p).Elem())
	if r.Count() > before {
		return
	}
	for _, f := range p.Validate() {
		r.Fail(v.At(f.Field), p.Code+": "+f.Message, f.WouldHelp)
	}
	e.product = &p
}

// SchemaStrict makes an entry look like the product it reads.
func (e *entry) SchemaStrict(inner func(reflect.Type) map[string]any) map[string]any {
	return inner(reflect.TypeFor[Product]())
}

// Schema is the JSON Schema of a catalogue file, for editors that check and complete.
func Schema() ([]byte, error) {
	s, err := strict.Schema("Catalogue file", page{})
	if err != nil {
		return nil, fmt.Errorf("schema of the catalogue: %w", err)
	}
	return append(s, '\n'), nil
}

// read collects the products of all files of a folder, and all their problems.
func read(folder fs.FS) ([]*Product, error) {
	names, err := pages(folder)
	if err != nil {
		return nil, err
	}
	var (
		all      []*Product
		problems strict.Problems
		first    = map[string]strict.Problem{}
	)
	for _, name := range names {
		products, wrong := readPage(folder, name, first)
		all = append(all, products...)
		problems = append(problems, wrong...)
	}
	if len(problems) > 0 {
		slices.SortStableFunc(problems, func(a, b strict.Problem) int {
			return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line))
		})
		return nil, problems
	}
	return all, nil
}

// pages lists the catalogue files of a folder. A file with the other common ending
// would be left out in silence, so that it is refused.
func pages(folder fs.FS) ([]string, error) {
	if folder == nil {
		return nil, strict.Problems{{File: "catalogue", Message: "no folder is given", WouldHelp: "name a folder with *.yaml files"}}
	}
	found, err := fs.ReadDir(folder, ".")
	if err != nil {
		return nil, fmt.Errorf("read the catalogue folder: %w", err)
	}
	var names []string
	for _, f := range found {
		switch {
		case f.IsDir():
		case path.Ext(f.Name()) == ".yml":
			return nil, strict.Problems{{File: f.Name(), Message: "only files named *.yaml are read", WouldHelp: "name it " + f.Name()[:len(f.Name())-len("yml")] + "yaml"}}
		case path.Ext(f.Name()) == ".yaml":
			names = append(names, f.Name())
		}
	}
	if len(names) == 0 {
		return nil, strict.Problems{{File: ".", Message: "the folder holds no *.yaml file", WouldHelp: "each file is a list of products under products:"}}
	}
	return names, nil
}

// readPage reads one file; first keeps where each code was first seen.
func readPage(folder fs.FS, name string, first map[string]strict.Problem) ([]*Product, strict.Problems) {
	data, err := readBounded(folder, name)
	if err != nil {
		return nil, asProblems(name, err)
	}
	var file page
	if err := strict.Decode(name, data, &file); err != nil {
		return nil, asProblems(name, err)
	}
	if len(file.Products) == 0 {
		return nil, strict.Problems{{File: name, Line: 1, Field: "products", Message: "the list is empty", WouldHelp: "write one product or delete the file"}}
	}
	var (
		products []*Product
		problems strict.Problems
	)
	for _, e := range file.Products {
		at := e.place.At("code")
		here := strict.Problem{File: name, Line: at.Node.Line, Field: at.Path}
		if there, twice := first[e.product.Code]; twice {
			here.Message = fmt.Sprintf("the code %s stands already in %s, line %d", e.product.Code, there.File, there.Line)
			here.WouldHelp = "give one of them another code, or delete it"
			problems = append(problems, here)
			continue
		}
		first[e.product.Code] = here
		products = append(products, e.product)
	}
	return products, problems
}

func asProblems(name string, err error) strict.Problems {
	if ps, ok := err.(strict.Problems); ok {
		return ps
	}
	return strict.Problems{{File: name, Message: err.Error(), WouldHelp: "check that the file exists and may be read"}}
}

// readBounded reads a file whole unless it is too large; it asks for the size first,
// so that a huge file is not read at all.
func readBounded(folder fs.FS, name string) ([]byte, error) {
	f, err := folder.Open(name)
	if err != nil {
		return nil, fmt.Errorf("open %s: %w", name, err)
	}
	defer f.Close() //nolint:errcheck // nothing was written
	info, err := f.Stat()
	if err != nil {
		return nil, fmt.Errorf("size of %s: %w", name, err)
	}
	if info.Size() > strict.MaxBytes {
		return nil, strict.Problems{{
			File: name, Message: fmt.Sprintf("the file has %d MB", info.Size()>>20),
			WouldHelp: fmt.Sprintf("at most %d MB are read: split it", strict.MaxBytes>>20),
		}}
	}
	var b bytes.Buffer
	if _, err := io.Copy(&b, io.LimitReader(f, strict.MaxBytes+1)); err != nil {
		return nil, fmt.Errorf("read %s: %w", name, err)
	}
	return b.Bytes(), nil
}
