package pack

import (
	"fmt"

	"tunwright/configurator"
	"tunwright/configurator/floor"
	"tunwright/pricing/offer"
	"tunwright/pricing/paper/ifc"
	"tunwright/pricing/ubl"
)

// UBL is the head of the quotation's exchange document.
func UBL(o offer.Offer, f offer.Firm, i Issue) ubl.Head {
	site := o.Job.Site
	client := o.Job.Client
	return ubl.Head{
		Number: i.Number, Revision: i.Revision,
		Seller:   ubl.Party{Name: f.Name, Address: f.Address, Country: f.Country, Email: f.Email},
		Buyer:    ubl.Party{Name: client.Name, Address: client.Address, Country: site.Country, Contact: client.Contact, Email: client.Email, VATNumber: o.Job.Terms.VATNumber},
		Site:     ubl.Party{Name: site.Name, Address: append([]string{site.Name}, site.Address...), Country: site.Country},
		Delivery: o.Delivery, Terms: f.Terms,
		Notes: []string{"Rests on the assumptions of the quotation's paper, which is the document that is signed."},
	}
}

// Model is the room with everything that has a place in it. Where the height of the
// room is unknown there is no model.
func Model(o offer.Offer, f offer.Firm, i Issue) (ifc.Model, error) {
	p := o.Report.Project
	if !p.Site.Room.Height.Known() {
		return ifc.Model{}, fmt.Errorf("model of the room: site.room.clear_height_mm is unknown")
	}
	m := ifc.Model{
		Name: p.Title, Site: p.Site.Name, Building: p.Site.Name, Storey: storeyName(p.Site.Level), Elevation: p.Site.Rise.Value,
		Date: p.Date.Time(), Author: p.Author, Firm: f.Name, Program: "Tunwright " + i.Program, Height: p.Site.Room.Height.Value,
	}
	for _, c := range p.Site.Room.Outline {
		m.Outline = append(m.Outline, ifc.Point{X: c.X, Y: c.Y})
	}
	for _, piece := range o.Report.Pieces {
		if piece.Place != nil && !piece.Body.Wall {
			m.Items = append(m.Items, modelItem(piece, o.Report.Floor))
		}
	}
	return m, nil
}

func storeyName(level int) string {
	switch {
	case level == 0:
		return "Ground floor"
	case level < 0:
		return fmt.Sprintf("Basement %d", -level)
	}
	return fmt.Sprintf("Floor %d", level)
}

func modelItem(piece configurator.Piece, f *floor.Result) ifc.Item {
	b := piece.Body
	it := ifc.Item{
		Tag: piece.Tag, Name: piece.Chosen.Product.Name, Product: piece.Chosen.Product.Code, Tank: b.Vessel != nil,
		At: ifc.Point{X: piece.Place.At.X, Y: piece.Place.At.Y}, Turn: piece.Place.Turn, Length: b.Length, Width: b.Width, Height: b.Height, Round: b.Round,
		Empty: b.Empty, Operating: b.Empty, Brim: b.Empty, Estimated: b.MassBasis == "estimated",
	}
	if b.Feet != nil {
		it.Feet = b.Feet.Count
	}
	if f == nil {
		return it
	}
	for i := range f.Items {
		if x := &f.Items[i]; x.Tag == piece.Tag {
			it.Operating, it.Brim = x.Operating, x.Test
			if x.Feet != nil {
				it.FootLoad = x.Feet.Operating
			}
		}
	}
	return it
}
