package configurator

import (
	"fmt"

	"tunwright/catalog"
	"tunwright/catalog/strict"
	"tunwright/catalog/unit"
	"tunwright/configurator/enquiry"
)

// Chosen is one item of the selection with its product.
type Chosen struct {
	Item    enquiry.Item
	Product *catalog.Product
}

// Piece is one body of a chosen product: what stands on the floor and has to pass
// the doors.
type Piece struct {
	Tag    string // item tag, with the part where the product has several
	Part   string
	Item   string
	Chosen *Chosen
	Body   *catalog.Body
	Place  *enquiry.Placed
}

// resolve finds the products of the selection. Codes that are not in the catalogue
// are named all at once, with what was likely meant.
func resolve(s enquiry.Selection, c *catalog.Catalogue) ([]Chosen, error) {
	var problems strict.Problems
	chosen := make([]Chosen, 0, len(s.Items))
	for i, item := range s.Items {
		p, err := c.Lookup(item.Product)
		if err != nil {
			problems = append(problems, strict.Problem{
				File: "enquiry", Field: fmt.Sprintf("equipment.items[%d].product", i+1), Message: err.Error(), WouldHelp: "tunwright catalogue list shows the codes",
			})
			continue
		}
		if item.Quantity() > 1 && len(p.Bodies) > 0 && p.Class != catalog.ClassPlate {
			problems = append(problems, strict.Problem{
				File: "enquiry", Field: fmt.Sprintf("equipment.items[%d].count", i+1), Message: fmt.Sprintf("%s stands in a place of its own", p.Code), WouldHelp: "list each one under its own tag; count is for fittings, plates and services",
			})
			continue
		}
		chosen = append(chosen, Chosen{Item: item, Product: p})
	}
	if len(problems) > 0 {
		return nil, problems
	}
	return chosen, nil
}

// pieces lists the bodies of the selection in its order. Things bought by the number
// and without a place of their own, such as plates, are not pieces.
func pieces(chosen []Chosen) []Piece {
	var out []Piece
	for i := range chosen {
		c := &chosen[i]
		if c.Item.Quantity() > 1 {
			continue
		}
		for j := range c.Product.Bodies {
			out = append(out, newPiece(c, &c.Product.Bodies[j]))
		}
	}
	return out
}

func newPiece(c *Chosen, b *catalog.Body) Piece {
	p := Piece{Tag: c.Item.Tag, Part: b.Part, Item: c.Item.Tag, Chosen: c, Body: b}
	if len(c.Product.Bodies) > 1 && b.Part != "" {
		p.Tag = c.Item.Tag + " " + b.Part
	}
	for k := range c.Item.Places {
		if c.Item.Places[k].Part == b.Part || len(c.Product.Bodies) == 1 {
			p.Place = &c.Item.Places[k]
		}
	}
	return p
}

// has tells whether a vessel serves a duty.
func has(v *catalog.Vessel, d catalog.Duty) bool {
	if v == nil {
		return false
	}
	for _, x := range v.Duties {
		if x == d {
			return true
		}
	}
	return false
}

// first gives the first chosen product of a class.
func first(chosen []Chosen, class catalog.Class) *Chosen {
	for i := range chosen {
		if chosen[i].Product.Class == class {
			return &chosen[i]
		}
	}
	return nil
}

// all gives the chosen products of a class.
func all(chosen []Chosen, class catalog.Class) []*Chosen {
	var out []*Chosen
	for i := range chosen {
		if chosen[i].Product.Class == class {
			out = append(out, &chosen[i])
		}
	}
	return out
}

// known gives a pointer to a product value, or nil where the product does not state
// it: a zero in a data sheet is a blank.
func known[Q unit.Quantity](q Q) *Q {
	if q.SI() == 0 {
		return nil
	}
	return &q
}

// Turn is how a piece is turned; 0 where it has no place yet.
func (p Piece) Turn() unit.Angle {
	if p.Place == nil {
		return 0
	}
	return p.Place.Turn
}
