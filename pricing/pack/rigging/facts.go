package rigging

import (
	"tunwright/configurator"
	"tunwright/configurator/access"
)

// Facts are the figures of the way in together with what the tables print beside
// them: the floors of the way and the parts that come off. They are read from the
// report; no figure is worked out here.
func Facts(r configurator.Report) access.Facts {
	in := access.Input{}
	for _, p := range r.Pieces {
		it := access.Item{Tag: p.Tag}
		for i := range p.Body.Packed {
			x := access.Piece{}
			if i == 0 {
				for _, part := range p.Body.Parts {
					x.Parts = append(x.Parts, access.Part{Name: part.Name, Mass: part.Mass, Height: part.Height, Width: part.Width, Refit: part.Time})
				}
			}
			it.Pieces = append(it.Pieces, x)
		}
		in.Items = append(in.Items, it)
	}
	site := r.Project.Site
	for _, route := range site.Routes {
		to := access.Route{Name: route.Name}
		for _, s := range route.Steps {
			step := access.Step{Name: s.Name, Ground: site.Level <= 0 || s.Kind == "door"}
			switch {
			case s.FloorLoad.Known():
				step.Floor = &access.Limits{Point: s.FloorLoad.Ptr(), By: s.FloorLoad.By + s.FloorLoad.Why}
			case site.Floor.Point.Known() && (s.Kind == "upend" || s.Kind == "taking-in-door"):
				step.Floor = &access.Limits{Point: site.Floor.Point.Ptr(), By: site.Floor.Point.By + site.Floor.Point.Why}
			}
			to.Steps = append(to.Steps, step)
		}
		in.Routes = append(in.Routes, to)
	}
	return access.Facts{Input: in, Result: *r.Access}
}
