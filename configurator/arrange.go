package configurator

import (
	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/floor"
	"tunwright/configurator/plan"
)

// Arrange gives the project with a first layout: every piece that has no place gets
// one that keeps clear of walls, doors, boards and the others, stands under the
// ceiling, near a gully where it needs one, and loads the members as little as it
// can. Pieces that have a place keep it; a piece that fits nowhere stays without.
//
// It searches, so that it takes a while: it is asked for once, not on every change.
func Arrange(p enquiry.Project, c *catalog.Catalogue) (enquiry.Project, error) {
	chosen, err := resolve(p.Chosen, c)
	if err != nil {
		return p, err
	}
	list := pieces(chosen)
	in := floorInput(enquiry.Complete(p), list, nil, c)
	items := make([]plan.Item, len(in.Items))
	for i := range in.Items {
		items[i] = in.Items[i].Item
	}
	placed := plan.FirstLayout(&in.Room, items, floor.Judge(in))
	out := p
	out.Chosen.Items = append([]enquiry.Item(nil), p.Chosen.Items...)
	for k := range placed {
		if list[k].Place == nil && placed[k].Place != nil {
			settle(out.Chosen.Items, list[k], *placed[k].Place)
		}
	}
	return out, nil
}

// settle writes a place into the item of a piece.
func settle(items []enquiry.Item, piece Piece, at plan.Place) {
	const step = 0.01 // places are written to the centimetre
	round := func(l unit.Length) unit.Length { return unit.Metres(float64(int(l.M()/step+0.5)) * step) }
	for i := range items {
		if items[i].Tag != piece.Item {
			continue
		}
		places := append([]enquiry.Placed(nil), items[i].Places...)
		items[i].Places = append(places, enquiry.Placed{Part: piece.Part, At: enquiry.Point{X: round(at.At.X), Y: round(at.At.Y)}, Turn: at.Turn})
		return
	}
}

// Unplaced tells whether a piece of the selection still has no place on the floor.
func (r Report) Unplaced() bool {
	for _, piece := range r.Pieces {
		if piece.Place == nil && !piece.Body.Wall && !outdoors(r.Project.Site, piece) {
			return true
		}
	}
	return false
}
