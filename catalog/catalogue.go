package catalog

import (
	"cmp"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"tunwright/catalog/strict"
)

//go:embed data/*.yaml
var embedded embed.FS

// ErrNotFound is matched by the error of Lookup.
var ErrNotFound = errors.New("not in the catalogue")

// NotFoundError names a code the catalogue does not hold and the nearest it does.
type NotFoundError struct {
	Code    string
	Nearest string
}

func (e *NotFoundError) Error() string {
	if e.Nearest == "" {
		return fmt.Sprintf("product %s is not in the catalogue: list the catalogue for the codes it has", e.Code)
	}
	return fmt.Sprintf("product %s is not in the catalogue: did you mean %s?", e.Code, e.Nearest)
}

// Is makes errors.Is(err, ErrNotFound) true.
func (e *NotFoundError) Is(target error) bool { return target == ErrNotFound }

// Catalogue is a set of products with unique codes. It does not change once built,
// and what it hands out must not be changed either: it is shared.
type Catalogue struct {
	products []*Product // by code
	classes  map[Class][]*Product
	index    map[string]*Product
	digest   func() (string, error)
}

// Embedded reads the catalogue built into the program. It parses on each call, so
// that a caller keeps the result.
func Embedded() (*Catalogue, error) {
	data, err := fs.Sub(embedded, "data")
	if err != nil {
		return nil, fmt.Errorf("open the built-in catalogue: %w", err)
	}
	return Open(data)
}

// Open reads every *.yaml file of a folder, each a list under "products". All that
// is wrong in any of them comes back at once, as strict.Problems.
func Open(folder fs.FS) (*Catalogue, error) {
	products, err := read(folder)
	if err != nil {
		return nil, err
	}
	return build(products), nil
}

// Overlay lays a firm's own folder over a catalogue: a product with a code the base
// has replaces it whole, any other is added. The base stays as it is.
func Overlay(base *Catalogue, folder fs.FS) (*Catalogue, error) {
	own, err := read(folder)
	if err != nil {
		return nil, err
	}
	merged := make(map[string]*Product, len(base.products)+len(own))
	for _, p := range slices.Concat(base.products, own) {
		merged[p.Code] = p
	}
	products := make([]*Product, 0, len(merged))
	for _, p := range merged {
		products = append(products, p)
	}
	return build(products), nil
}

// Only gives the part of a catalogue that is of use for something.
func (c *Catalogue) Only(use func(*Product) bool) *Catalogue {
	return build(slices.DeleteFunc(c.All(), func(p *Product) bool { return !use(p) }))
}

// build puts products in order, whatever order they come in.
func build(products []*Product) *Catalogue {
	slices.SortFunc(products, func(a, b *Product) int { return strings.Compare(a.Code, b.Code) })
	c := &Catalogue{
		products: products,
		classes:  map[Class][]*Product{},
		index:    make(map[string]*Product, len(products)),
	}
	for _, p := range products {
		c.index[p.Code] = p
		c.classes[p.Class] = append(c.classes[p.Class], p)
	}
	for _, list := range c.classes {
		slices.SortStableFunc(list, func(a, b *Product) int { return cmp.Compare(a.size(), b.size()) })
	}
	c.digest = sync.OnceValues(c.sum)
	return c
}

// All lists the products by code.
func (c *Catalogue) All() []*Product { return slices.Clone(c.products) }

// ByClass lists the products of a class, smallest first and by code where equal.
func (c *Catalogue) ByClass(class Class) []*Product { return slices.Clone(c.classes[class]) }

// Find gives the product of a code.
func (c *Catalogue) Find(code string) (*Product, bool) {
	p, ok := c.index[code]
	return p, ok
}

// Lookup gives the product of a code, or a *NotFoundError that names the nearest.
func (c *Catalogue) Lookup(code string) (*Product, error) {
	if p, ok := c.index[code]; ok {
		return p, nil
	}
	return nil, &NotFoundError{Code: code, Nearest: c.nearest(code)}
}

func (c *Catalogue) nearest(code string) string {
	code = strings.ToUpper(strings.TrimSpace(code))
	if _, ok := c.index[code]; ok {
		return code
	}
	codes := make([]string, len(c.products))
	for i, p := range c.products {
		codes[i] = p.Code
	}
	near, _ := strict.Nearest(code, codes)
	return near
}

// Digest is the SHA-256 of the products in canonical JSON: order by code, fields in
// the order of the types, quantities in the unit of their tag. It does not depend
// on how the files are split, ordered or written.
func (c *Catalogue) Digest() (string, error) { return c.digest() }

func (c *Catalogue) sum() (string, error) {
	text, err := strict.JSON(struct {
		Products []*Product `yaml:"products"`
	}{c.products})
	if err != nil {
		return "", fmt.Errorf("digest the catalogue: %w", err)
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:]), nil
}

// size is what the products of one class are sorted by. It compares only within a
// class, where it is always the same quantity.
func (p *Product) size() float64 {
	switch {
	case p.Brewhouse != nil:
		return p.Brewhouse.Length.SI()
	case p.Chiller != nil:
		return p.Chiller.largest().SI()
	case p.WortCooler != nil:
		return p.WortCooler.MaxWort.SI()
	case p.Steam != nil:
		return p.Steam.Output.SI()
	case p.Extract != nil:
		return p.Extract.AirFlow.SI()
	case p.GasAlarm != nil:
		return float64(p.GasAlarm.Detectors)
	case p.Fan != nil:
		return p.Fan.AirFlow.SI()
	case p.Condenser != nil:
		return p.Condenser.Vapour.SI()
	case p.Pump != nil:
		return p.Pump.Flow.SI()
	case p.Mill != nil:
		return p.Mill.Rate.SI()
	case p.Plate != nil:
		return p.Plate.A.SI() * p.Plate.B.SI()
	case p.Panel != nil:
		return float64(p.Panel.Loops)
	}
	return p.bodySize()
}

// bodySize is the volume a product holds, or its mass where it holds nothing.
func (p *Product) bodySize() float64 {
	var volume, mass float64
	for _, b := range p.Bodies {
		mass += b.Empty.SI()
		if b.Vessel != nil {
			volume += b.Vessel.Nominal.SI()
		}
	}
	if volume > 0 {
		return volume
	}
	return mass
}
