package configurator

import (
	"math"

	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator/access"
	"tunwright/configurator/enquiry"
)

// packingSlack is how much longer a lying piece may be than the body with its parts
// off, for the packing at its ends (common practice, no source).
var packingSlack = unit.Millimetres(120)

// accessInput carries the transport pieces and the ways in.
func accessInput(p enquiry.Project, list []Piece, c *catalog.Catalogue) access.Input {
	in := access.Input{
		Country:   access.Country(p.Site.Country),
		RoomClear: p.Site.Room.Height.Ptr(), Freight: access.Freight{Term: p.Site.Term, Place: p.Site.Name},
		Lifting: access.Lifting{Crane: p.Site.Crane.Ptr(), Road: roadClosed(p, c)},
	}
	in.Items = make([]access.Item, len(list))
	smaller := map[*catalog.Product][]access.Alternative{}
	for i, piece := range list {
		it := &in.Items[i]
		*it = accessItem(piece)
		it.Outside = outdoors(p.Site, piece)
		it.Roof = it.Outside && p.Site.Chiller.Where == "roof"
		product := piece.Chosen.Product
		if _, done := smaller[product]; !done {
			smaller[product] = accessAlternatives(piece, c)
		}
		it.Alternatives = smaller[product]
	}
	for _, r := range p.Site.Routes {
		in.Routes = append(in.Routes, access.Route{Name: r.Name, Steps: accessSteps(p.Site, r.Steps)})
	}
	return in
}

// roadClosed tells whether the crane stands on a road that must be closed: as told, yes
// where a closure is ordered, no outside a town centre, where the site's own ground is taken
// to do (common practice, no source); else nobody has said.
func roadClosed(p enquiry.Project, c *catalog.Catalogue) *bool {
	if p.Site.Road.Known() {
		return p.Site.Road.Ptr()
	}
	yes, no := true, false
	for _, item := range p.Chosen.Items {
		if x, err := c.Lookup(item.Product); err == nil && x.Service != nil && x.Service.Kind == "road-closure" {
			return &yes
		}
	}
	if !p.Site.City {
		return &no
	}
	return nil
}

// outdoors tells whether a piece stands outside the room: a chiller, unless it is to
// stand inside.
func outdoors(s enquiry.Site, piece Piece) bool {
	return piece.Chosen.Product.Class == catalog.ClassChiller && s.Chiller.Where != "inside"
}

func accessItem(piece Piece) access.Item {
	b := piece.Body
	it := access.Item{Tag: piece.Tag, Product: piece.Chosen.Product.Code, Name: piece.Chosen.Product.Name}
	it.Pieces = make([]access.Piece, 0, len(b.Packed))
	for i, pack := range b.Packed {
		x := access.Piece{
			Length: pack.Length, Width: pack.Width, Height: pack.Height, Packing: pack.Crate, Lies: pack.Lies, Round: b.Round && pack.Lies,
			Mass: pack.Mass, Estimated: b.MassBasis == "estimated", KeepUpright: keepUpright(piece.Chosen.Product.Class),
		}
		if len(b.Packed) > 1 {
			x.Name = pack.Name
		}
		if i == 0 {
			x.Parts = stillOn(b, pack)
		}
		it.Pieces = append(it.Pieces, x)
	}
	return it
}

// accessAlternatives are smaller vessels of the class that together hold as much, and
// lower ones of the same volume.
func accessAlternatives(piece Piece, c *catalog.Catalogue) []access.Alternative {
	const mostPieces = 3
	now := piece.Chosen.Product
	v := piece.Body.Vessel
	if v == nil || len(now.Bodies) > 1 {
		return nil
	}
	var out []access.Alternative
	for _, p := range c.ByClass(now.Class) {
		other := p.Bodies[0].Vessel
		if p.Code == now.Code || other == nil || !has(other, v.Duties[0]) || other.Nominal > v.Nominal {
			continue
		}
		count := int(math.Ceil(v.Nominal.L()/other.Nominal.L() - 1e-9))
		if count > mostPieces {
			continue
		}
		x := accessItem(newPiece(&Chosen{Item: piece.Chosen.Item, Product: p}, &p.Bodies[0]))
		out = append(out, access.Alternative{Code: p.Code, Name: p.Name, Count: count, Pieces: x.Pieces})
	}
	return out
}

// keepUpright names what holds oil or electronics that do not bear being laid down.
func keepUpright(class catalog.Class) bool {
	switch class {
	case catalog.ClassChiller, catalog.ClassCompressor, catalog.ClassPanel, catalog.ClassSteam:
		return true
	}
	return false
}

// stillOn lists the demountable parts that a lying piece still carries: those that
// its packed length shows to be off already save nothing more.
func stillOn(b *catalog.Body, pack catalog.Pack) []access.Part {
	var out []access.Part
	left := b.Height
	for _, part := range b.Parts {
		if pack.Lies && part.Height > 0 && left-part.Height+packingSlack >= pack.Length {
			left -= part.Height
			continue
		}
		out = append(out, access.Part{Name: part.Name, Mass: part.Mass, Height: part.Height, Width: part.Width, Refit: part.Time})
	}
	return out
}

// accessSteps carries a way in. A step lies on the ground where the room does, on a
// slab without a cellar below; elsewhere only the doors before the way first climbs or
// goes down do. The car of a lift and a flight of stairs never do.
func accessSteps(site enquiry.Site, steps []enquiry.Step) []access.Step {
	slab := site.Level <= 0 && site.Floor.Kind == "ground-bearing"
	street := true
	var out []access.Step
	for _, s := range steps {
		step := accessStep(site, s)
		switch step.Kind {
		case access.Lift, access.Stairs:
			street = false
		case access.Hatch, access.TakingIn:
			street, step.Ground = false, slab
		default:
			step.Ground = slab || street && step.Kind == access.Opening
		}
		out = append(out, step)
	}
	return out
}

func accessStep(site enquiry.Site, s enquiry.Step) access.Step {
	out := access.Step{
		Name: s.Name, Kind: stepKind(s.Kind), Width: s.Width.Ptr(), WidthOut: s.Width2.Ptr(), Height: s.Height.Ptr(), Length: s.Length.Ptr(),
		Level: s.Level.Ptr(), Rated: s.Rated.Ptr(), Hoist: s.Hoist,
	}
	switch s.Kind {
	case "lift":
		out.DoorWidth, out.DoorHeight = s.Width.Ptr(), s.Height.Ptr()
		out.Width, out.Depth, out.Height = s.CarWidth.Ptr(), s.Depth.Ptr(), s.CarHeight.Ptr()
	case "hatch":
		out.Depth, out.Length = s.Length.Ptr(), nil
	case "stairs":
		out.Landing, out.WidthOut = s.Width2.Ptr(), nil
	}
	if force := s.FloorLoad.Ptr(); force != nil {
		out.Floor = &access.Limits{Point: force, Engineer: site.Floor.Given == "engineer", By: s.FloorLoad.By}
	} else if site.Floor.Point.Known() && (s.Kind == "upend" || s.Kind == "taking-in-door") {
		point := site.Floor.Point.Value
		out.Floor = &access.Limits{Point: &point, Engineer: site.Floor.Given == "engineer", By: site.Floor.Point.By}
	}
	return out
}

func stepKind(kind string) access.Kind {
	switch kind {
	case "corridor":
		return access.Corridor
	case "corner":
		return access.Corner
	case "stairs":
		return access.Stairs
	case "lift":
		return access.Lift
	case "hatch":
		return access.Hatch
	case "taking-in-door":
		return access.TakingIn
	case "upend":
		return access.Upending
	}
	return access.Opening
}
