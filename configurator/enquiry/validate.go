package enquiry

import (
	"fmt"
	"math"

	"tunwright/catalog/strict"
)

// Validate checks what holds between fields; each field alone was checked when it
// was read.
func (p Project) Validate(file string) strict.Problems {
	v := validator{file: file}
	v.asked(p)
	if len(p.Chosen.Items) == 0 {
		v.fail("equipment.items", "no equipment is chosen", "choose at least a brewhouse and a fermenter, or take what tunwright equip proposes for the brief")
	}
	return v.problems
}

// ValidateBrief checks the same of an enquiry for which no equipment may be chosen yet.
func (p Project) ValidateBrief(file string) strict.Problems {
	v := validator{file: file}
	v.asked(p)
	return v.problems
}

func (v *validator) asked(p Project) {
	v.beers(p.Brief)
	v.room(p.Site.Room)
	v.floor(p.Site)
	v.items(p.Chosen)
}

type validator struct {
	file     string
	problems strict.Problems
}

func (v *validator) fail(field, message, help string) {
	v.problems = append(v.problems, strict.Problem{File: v.file, Field: field, Message: message, WouldHelp: help})
}

func (v *validator) beers(b Brief) {
	if len(b.Beers) == 0 {
		v.fail("brief.beers", "no beer is named", "name at least one beer with its yearly volume")
	}
	seen := map[string]bool{}
	for i, beer := range b.Beers {
		at := fmt.Sprintf("brief.beers[%d]", i+1)
		if seen[beer.Name] {
			v.fail(at+".name", fmt.Sprintf("%q stands twice", beer.Name), "give each beer its own name")
		}
		seen[beer.Name] = true
		if beer.AE >= beer.OE {
			v.fail(at+".final_extract_plato", fmt.Sprintf("%s is not below the original extract %s", beer.AE, beer.OE), "fermentation lowers the extract: check both")
		}
	}
}

func (v *validator) room(r Room) {
	if len(r.Outline) < 3 {
		v.fail("site.room.outline_m", "an outline needs at least three corners", "write them in order as [[0, 0], [12, 0], [12, 8], [0, 8]]")
		return
	}
	if area := polygonArea(r.Outline); area < 1 {
		v.fail("site.room.outline_m", fmt.Sprintf("the outline encloses %.2f m²", area), "write the corners in order around the room, in metres")
	}
	for i, p := range r.Outline {
		for j := i + 1; j < len(r.Outline); j++ {
			if p == r.Outline[j] {
				v.fail("site.room.outline_m", fmt.Sprintf("corner %d and corner %d are the same", i+1, j+1), "name each corner once; the last joins the first by itself")
			}
		}
	}
}

func polygonArea(ps []Point) float64 {
	sum := 0.0
	for i, p := range ps {
		q := ps[(i+1)%len(ps)]
		sum += p.X.M()*q.Y.M() - q.X.M()*p.Y.M()
	}
	return math.Abs(sum) / 2
}

func (v *validator) floor(s Site) {
	for i, m := range s.Floor.Members {
		if m.From == m.To {
			v.fail(fmt.Sprintf("site.floor.members[%d]", i+1), "the member has no length", "from_m and to_m are its two supports")
		}
	}
	for i, b := range s.Floor.Bays {
		if b.From.X == b.To.X || b.From.Y == b.To.Y {
			v.fail(fmt.Sprintf("site.floor.bays[%d]", i+1), "the bay has no area", "from_m and to_m are opposite corners")
		}
	}
	for i, r := range s.Routes {
		if len(r.Steps) == 0 {
			v.fail(fmt.Sprintf("site.routes[%d].steps", i+1), "the route has no step", "list what the tanks must pass, from the lorry to the room")
		}
	}
}

func (v *validator) items(s Selection) {
	seen := map[string]bool{}
	for i, item := range s.Items {
		at := fmt.Sprintf("equipment.items[%d]", i+1)
		if seen[item.Tag] {
			v.fail(at+".tag", fmt.Sprintf("%q stands twice", item.Tag), "give each item its own tag")
		}
		seen[item.Tag] = true
		if len(item.Places) > 0 && item.Quantity() > 1 {
			v.fail(at, "a placed item stands once", "list each placed item under its own tag")
		}
	}
}
