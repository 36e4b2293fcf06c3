package ifc

import (
	"math"
	"strings"
)

// model writes the instances in an order in which each names only those before it.
func (f *file) model(m Model) {
	owner := f.owner(m)
	units := f.units()
	origin := f.add("IFCCARTESIANPOINT((0.,0.,0.))")
	up := f.add("IFCDIRECTION((0.,0.,1.))")
	east := f.add("IFCDIRECTION((1.,0.,0.))")
	axes := f.add("IFCAXIS2PLACEMENT3D(%s,%s,%s)", origin, up, east)
	context := f.add("IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.E-05,%s,$)", axes)
	body := f.add("IFCGEOMETRICREPRESENTATIONSUBCONTEXT('Body','Model',*,*,*,*,%s,$,.MODEL_VIEW.,$)", context)

	project := f.add("IFCPROJECT(%s,%s,%s,$,$,$,$,(%s),%s)", f.guid("project"), owner, quote(m.Name), context, units)
	sitePlace := f.add("IFCLOCALPLACEMENT($,%s)", axes)
	site := f.add("IFCSITE(%s,%s,%s,$,$,%s,$,$,.ELEMENT.,$,$,0.,$,$)", f.guid("site"), owner, quote(m.Site), sitePlace)
	buildingPlace := f.add("IFCLOCALPLACEMENT(%s,%s)", sitePlace, axes)
	building := f.add("IFCBUILDING(%s,%s,%s,$,$,%s,$,$,.ELEMENT.,$,$,$)", f.guid("building"), owner, quote(m.Building), buildingPlace)
	level := f.add("IFCCARTESIANPOINT((0.,0.,%s))", mm(m.Elevation))
	levelAxes := f.add("IFCAXIS2PLACEMENT3D(%s,%s,%s)", level, up, east)
	storeyPlace := f.add("IFCLOCALPLACEMENT(%s,%s)", buildingPlace, levelAxes)
	storey := f.add("IFCBUILDINGSTOREY(%s,%s,%s,$,$,%s,$,$,.ELEMENT.,%s)", f.guid("storey"), owner, quote(m.Storey), storeyPlace, mm(m.Elevation))

	g := ground{owner: owner, body: body, up: up, axes: axes, storey: storeyPlace}
	room := f.room(m, g)
	f.add("IFCRELAGGREGATES(%s,%s,$,$,%s,(%s))", f.guid("project-site"), owner, project, site)
	f.add("IFCRELAGGREGATES(%s,%s,$,$,%s,(%s))", f.guid("site-building"), owner, site, building)
	f.add("IFCRELAGGREGATES(%s,%s,$,$,%s,(%s))", f.guid("building-storey"), owner, building, storey)
	f.add("IFCRELAGGREGATES(%s,%s,$,$,%s,(%s))", f.guid("storey-room"), owner, storey, room)

	var all []string
	for _, it := range m.Items {
		all = append(all, f.item(it, g).String())
	}
	if len(all) > 0 {
		f.add("IFCRELCONTAINEDINSPATIALSTRUCTURE(%s,%s,$,$,(%s),%s)", f.guid("contained"), owner, strings.Join(all, ","), storey)
	}
}

// ground is what every object of the storey refers to.
type ground struct{ owner, body, up, axes, storey ref }

func (f *file) owner(m Model) ref {
	person := f.add("IFCPERSON($,%s,$,$,$,$,$,$)", quote(m.Author))
	firm := f.add("IFCORGANIZATION($,%s,$,$,$)", quote(m.Firm))
	both := f.add("IFCPERSONANDORGANIZATION(%s,%s,$)", person, firm)
	program := f.add("IFCAPPLICATION(%s,%s,%s,%s)", firm, quote(m.Program), quote(m.Program), quote("tunwright"))
	return f.add("IFCOWNERHISTORY(%s,%s,$,.NOCHANGE.,$,$,$,%d)", both, program, m.Date.Unix())
}

func (f *file) units() ref {
	length := f.add("IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.)")
	area := f.add("IFCSIUNIT(*,.AREAUNIT.,$,.SQUARE_METRE.)")
	volume := f.add("IFCSIUNIT(*,.VOLUMEUNIT.,$,.CUBIC_METRE.)")
	angle := f.add("IFCSIUNIT(*,.PLANEANGLEUNIT.,$,.RADIAN.)")
	mass := f.add("IFCSIUNIT(*,.MASSUNIT.,.KILO.,.GRAM.)")
	force := f.add("IFCSIUNIT(*,.FORCEUNIT.,$,.NEWTON.)")
	return f.add("IFCUNITASSIGNMENT((%s,%s,%s,%s,%s,%s))", length, area, volume, angle, mass, force)
}

func (f *file) room(m Model, g ground) ref {
	points := make([]string, 0, len(m.Outline)+1)
	for i := range len(m.Outline) + 1 {
		p := m.Outline[i%len(m.Outline)]
		points = append(points, f.add("IFCCARTESIANPOINT((%s,%s))", mm(p.X), mm(p.Y)).String())
	}
	line := f.add("IFCPOLYLINE((%s))", strings.Join(points, ","))
	profile := f.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", line)
	shape := f.prism(profile, m.Height.MM(), g)
	place := f.add("IFCLOCALPLACEMENT(%s,%s)", g.storey, g.axes)
	return f.add("IFCSPACE(%s,%s,%s,$,$,%s,%s,$,.ELEMENT.,.INTERNAL.,$)", f.guid("room"), g.owner, quote(m.Storey), place, shape)
}

// prism raises a profile.
func (f *file) prism(profile ref, height float64, g ground) ref {
	solid := f.add("IFCEXTRUDEDAREASOLID(%s,%s,%s,%s)", profile, g.axes, g.up, real(height))
	shape := f.add("IFCSHAPEREPRESENTATION(%s,'Body','SweptSolid',(%s))", g.body, solid)
	return f.add("IFCPRODUCTDEFINITIONSHAPE($,$,(%s))", shape)
}

func (f *file) item(it Item, g ground) ref {
	at := f.add("IFCCARTESIANPOINT((%s,%s,0.))", mm(it.At.X), mm(it.At.Y))
	s, c := math.Sincos(it.Turn.Rad())
	along := f.add("IFCDIRECTION((%s,%s,0.))", real(c), real(s))
	axes := f.add("IFCAXIS2PLACEMENT3D(%s,%s,%s)", at, g.up, along)
	place := f.add("IFCLOCALPLACEMENT(%s,%s)", g.storey, axes)
	middle := f.add("IFCAXIS2PLACEMENT2D(%s,$)", f.add("IFCCARTESIANPOINT((0.,0.))"))
	var profile ref
	if it.Round {
		profile = f.add("IFCCIRCLEPROFILEDEF(.AREA.,$,%s,%s)", middle, real(it.Length.MM()/2))
	} else {
		profile = f.add("IFCRECTANGLEPROFILEDEF(.AREA.,$,%s,%s,%s)", middle, mm(it.Length), mm(it.Width))
	}
	shape := f.prism(profile, it.Height.MM(), g)
	var piece ref
	if it.Tank {
		piece = f.add("IFCTANK(%s,%s,%s,%s,$,%s,%s,%s,.VESSEL.)", f.guid("item "+it.Tag), g.owner, quote(it.Tag), quote(it.Name), place, shape, quote(it.Tag))
	} else {
		piece = f.add("IFCBUILDINGELEMENTPROXY(%s,%s,%s,%s,$,%s,%s,%s,.ELEMENT.)", f.guid("item "+it.Tag), g.owner, quote(it.Tag), quote(it.Name), place, shape, quote(it.Tag))
	}
	f.properties(it, piece, g.owner)
	return piece
}

// properties hang masses and foot loads on a piece.
func (f *file) properties(it Item, piece, owner ref) {
	mass := func(name string, kg float64) string {
		return f.add("IFCPROPERTYSINGLEVALUE(%s,$,IFCMASSMEASURE(%s),$)", quote(name), real(kg)).String()
	}
	list := []string{
		f.add("IFCPROPERTYSINGLEVALUE('Product',$,IFCLABEL(%s),$)", quote(it.Product)).String(),
		mass("MassEmpty", it.Empty.Kg()), mass("MassOperating", it.Operating.Kg()), mass("MassBrimFull", it.Brim.Kg()),
		f.add("IFCPROPERTYSINGLEVALUE('MassEstimated',$,IFCBOOLEAN(%s),$)", truth(it.Estimated)).String(),
	}
	if it.Feet > 0 && it.FootLoad > 0 {
		list = append(
			list,
			f.add("IFCPROPERTYSINGLEVALUE('Feet',$,IFCCOUNTMEASURE(%d.),$)", it.Feet).String(),
			f.add("IFCPROPERTYSINGLEVALUE('FootLoadOperating',$,IFCFORCEMEASURE(%s),$)", real(it.FootLoad.N())).String(),
		)
	}
	set := f.add("IFCPROPERTYSET(%s,%s,'Tunwright_Loading',$,(%s))", f.guid("properties "+it.Tag), owner, strings.Join(list, ","))
	f.add("IFCRELDEFINESBYPROPERTIES(%s,%s,$,$,(%s),%s)", f.guid("has properties "+it.Tag), owner, piece, set)
}

func truth(b bool) string {
	if b {
		return ".T."
	}
	return ".F."
}
