package structure

import (
	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/floor"
)

// Facts are the floor's figures together with what the schedule prints beside them:
// how each piece stands, what was given for the floor and by whom. They are read from
// the report; no figure is worked out here.
func Facts(r configurator.Report) floor.Facts {
	s := r.Project.Site.Floor
	in := floor.Input{
		Room: configurator.Room(r.Project), Level: level(r.Project.Site.Level), TopLayer: topLayer(s.Top), Support: floor.Suspended,
		Allow: given(s, s.Area), AllowPoint: given(s, s.Point),
	}
	if s.Kind == "ground-bearing" {
		in.Support = floor.Ground
	}
	if s.People > 0 {
		in.People = &floor.Given[unit.AreaLoad]{Value: s.People, Basis: floor.Assumed, From: floor.Us}
	}
	for _, p := range r.Pieces {
		in.Items = append(in.Items, item(p))
	}
	for _, l := range s.Layers {
		in.BuildUp = append(in.BuildUp, floor.Layer{Name: l.Name, Thickness: l.Thickness, Weight: l.Weight, Removed: l.Removed})
	}
	for _, m := range s.Members {
		in.Members = append(in.Members, floor.Member{Name: m.Name, Tributary: m.Tributary})
	}
	return floor.Facts{Input: in, Result: *r.Floor}
}

func item(p configurator.Piece) floor.Item {
	it := floor.Item{Item: configurator.PlanItem(p)}
	if f := p.Body.Feet; f != nil {
		it.Feet = &floor.Feet{Count: f.Count, Circle: f.Circle, A: f.A, B: f.B, Pad: f.Pad}
	}
	for _, part := range p.Body.Parts {
		it.Heaviest = max(it.Heaviest, part.Mass)
	}
	return it
}

// given passes a fact on with who stands behind it.
func given[Q unit.Quantity](f enquiry.Floor, fact enquiry.Fact[Q]) *floor.Given[Q] {
	if !fact.Known() {
		return nil
	}
	g := &floor.Given[Q]{Value: fact.Value, Basis: floor.Basis(fact.Basis), From: floor.Client, By: fact.By + fact.Why}
	switch {
	case fact.Basis == enquiry.Assumed:
		g.From = floor.Us
	case f.Given != "":
		g.From = floor.Authority(f.Given)
	}
	return g
}

func topLayer(word string) floor.Surface {
	switch word {
	case "resin":
		return floor.Resin
	case "screed":
		return floor.Screed
	case "timber":
		return floor.Timber
	case "concrete":
		return floor.Concrete
	}
	return ""
}

// level names the storey in words.
func level(storey int) string {
	switch {
	case storey == 0:
		return "ground floor"
	case storey == -1:
		return "basement"
	case storey < 0:
		return "below the basement"
	case storey <= len(ordinals):
		return ordinals[storey-1] + " floor"
	}
	return "an upper floor"
}

var ordinals = [...]string{"first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth"}
