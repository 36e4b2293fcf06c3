package configurator

import (
	"math"
	"strconv"
	"strings"

	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator/brewing"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/floor"
	"tunwright/configurator/plan"
)

// boardWidth and boardDepth are the switchboard as the plan keeps room for it where
// nobody measured it; workFront is the free depth before it (common practice, no
// source).
var (
	boardWidth = unit.Metres(0.8)
	boardDepth = unit.Metres(0.25)
	workFront  = unit.Metres(1.0)
)

// coolantDensity is that of a 35 % propylene glycol mixture, rounded up.
const coolantDensity = 1040 // kg/m³

// floorInput carries the pieces, the room and what somebody said of the floor.
func floorInput(p enquiry.Project, list []Piece, plan *brewing.Result, c *catalog.Catalogue) floor.Input {
	s := p.Site
	in := floor.Input{
		Room: Room(p), Support: support(s.Floor.Kind), TopLayer: topLayer(s.Floor.Top),
		Allow: given(s.Floor, s.Floor.Area), AllowPoint: given(s.Floor, s.Floor.Point),
	}
	if s.Floor.People > 0 {
		in.People = &floor.Given[unit.AreaLoad]{Value: s.Floor.People, Basis: floor.Assumed, From: floor.Us}
	}
	in.Items = make([]floor.Item, len(list))
	smaller := map[*catalog.Product][]floor.Alternative{}
	for i, piece := range list {
		it := &in.Items[i]
		*it = floorItem(piece, plan)
		it.Outside = outdoors(s, piece)
		product := piece.Chosen.Product
		if _, done := smaller[product]; !done {
			smaller[product] = floorAlternatives(piece, c)
		}
		it.Alternatives = smaller[product]
	}
	for _, l := range s.Floor.Layers {
		in.BuildUp = append(in.BuildUp, floor.Layer{Name: l.Name, Thickness: l.Thickness, Weight: l.Weight, Removed: l.Removed})
	}
	for _, m := range s.Floor.Members {
		in.Members = append(in.Members, floor.Member{
			Name: m.Name, From: point(m.From), To: point(m.To), Tributary: m.Tributary, Primary: m.Primary,
			Moment: given(s.Floor, m.Moment), Shear: given(s.Floor, m.Shear), Allow: given(s.Floor, m.Area),
		})
	}
	for _, b := range s.Floor.Bays {
		in.Bays = append(in.Bays, floor.Bay{Name: b.Name, Outline: rectangle(b.From, b.To), Allow: given(s.Floor, b.Area)})
	}
	in.Drainage = drainage(s, in.Room)
	for _, x := range c.ByClass(catalog.ClassPlate) {
		in.Plates = append(in.Plates, floor.Plate{Code: x.Code, A: x.Plate.A, B: x.Plate.B, Thickness: x.Plate.Thickness})
	}
	return in
}

// drainage is what is known of the falls of a floor with gullies: the longest way of
// the water is from the corner that lies furthest from any gully.
func drainage(s enquiry.Site, room plan.Room) *floor.Drainage {
	if len(room.Gullies) == 0 {
		return nil
	}
	longest := unit.Length(0)
	for _, corner := range room.Outline {
		nearest := unit.Metres(math.Inf(1))
		for _, g := range room.Gullies {
			nearest = min(nearest, corner.Distance(g.At))
		}
		longest = max(longest, nearest)
	}
	return &floor.Drainage{Fall: s.Drains.Fall.Ptr(), Run: longest, FourWay: true, Depth: s.Drains.Depth.Ptr()}
}

func support(kind string) floor.Support {
	switch kind {
	case "ground-bearing":
		return floor.Ground
	case "suspended":
		return floor.Suspended
	}
	return floor.Unknown
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

func point(p enquiry.Point) plan.Point { return plan.Point{X: p.X, Y: p.Y} }

func rectangle(a, b enquiry.Point) plan.Polygon {
	return plan.Polygon{point(a), {X: b.X, Y: a.Y}, point(b), {X: a.X, Y: b.Y}}
}

// Room is the room as the plan sees it.
func Room(p enquiry.Project) plan.Room {
	r := p.Site.Room
	out := plan.Room{Clear: r.Height.Ptr()}
	for _, c := range r.Outline {
		out.Outline = append(out.Outline, point(c))
	}
	for _, c := range r.Columns {
		depth := c.Depth
		if depth == 0 {
			depth = c.Width
		}
		out.Columns = append(out.Columns, plan.Column{Name: "column", At: point(c.At), A: c.Width, B: depth})
	}
	for _, d := range r.Doors {
		out.Doors = append(out.Doors, planDoor(out.Outline, d))
	}
	for i, d := range r.Drains {
		g := plan.Gully{Name: gullyName(i), At: point(d.At), Flow: d.Flow.Ptr()}
		if d.To != nil {
			end := point(*d.To)
			g.To = &end
		}
		out.Gullies = append(out.Gullies, g)
	}
	if at := p.Site.Supply.BoardAt; at != nil {
		out.Boards = append(out.Boards, planBoard(out.Outline, point(*at)))
	}
	for _, z := range r.Zones {
		out.Keep = append(out.Keep, plan.Zone{Name: z.Name, From: point(z.From), To: point(z.To)})
	}
	if p.Brief.PeopleCount > 0 {
		out.Persons = &p.Brief.PeopleCount
	}
	return out
}

func gullyName(i int) string { return "gully " + string(rune('1'+i)) }

// planDoor lays the leaf along the wall it is nearest to.
func planDoor(outline plan.Polygon, d enquiry.Door) plan.Door {
	_, dir := nearestWall(outline, point(d.At))
	half := d.Width.Value.M() / 2
	along := plan.P(dir.X.M()*half, dir.Y.M()*half)
	return plan.Door{Name: d.Name, Hinge: point(d.At).Sub(along), Latch: point(d.At).Add(along), Inwards: d.Swing, Exit: d.Escape}
}

// planBoard sets the back of a switchboard to the nearest wall, facing the room.
func planBoard(outline plan.Polygon, at plan.Point) plan.Board {
	foot, dir := nearestWall(outline, at)
	b := plan.Board{Name: "switchboard", At: foot, Width: boardWidth, Depth: boardDepth, Before: workFront}
	// At turn 0 a board faces −y, so that along its wall it looks to the right-hand
	// side of the direction; the other way round faces the other side.
	turn := math.Atan2(dir.Y.M(), dir.X.M())
	face := plan.P(math.Sin(turn), -math.Cos(turn)).Scale(0.1)
	if !outline.Contains(foot.Add(face)) {
		turn += math.Pi
	}
	b.Turn = unit.Radians(turn)
	return b
}

// nearestWall gives the point of the outline nearest to a place and the direction of
// that wall.
func nearestWall(outline plan.Polygon, at plan.Point) (foot, dir plan.Point) {
	best := math.Inf(1)
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		ab := b.Sub(a)
		l := float64(a.Distance(b))
		if l == 0 {
			continue
		}
		ux, uy := ab.X.M()/l, ab.Y.M()/l
		t := math.Max(0, math.Min(l, at.Sub(a).X.M()*ux+at.Sub(a).Y.M()*uy))
		q := a.Add(plan.P(ux*t, uy*t))
		if d := float64(at.Distance(q)); d < best {
			best, foot, dir = d, q, plan.P(ux, uy)
		}
	}
	return foot, dir
}

// floorItem is one piece as the floor bears it.
func floorItem(piece Piece, plan *brewing.Result) floor.Item {
	b := piece.Body
	it := floor.Item{
		Item: planItem(piece), Empty: &b.Empty, Estimated: b.MassBasis == "estimated", Tolerance: b.Tolerance,
	}
	if f := b.Feet; f != nil {
		it.Feet = &floor.Feet{Count: f.Count, Circle: f.Circle, A: f.A, B: f.B, Pad: f.Pad}
	}
	for _, part := range b.Parts {
		it.Heaviest = max(it.Heaviest, part.Mass)
	}
	v := b.Vessel
	if v == nil {
		return it
	}
	it.Vessel = floorVessel(b)
	it.Brim = v.Gross
	it.Liquid = working(piece, plan)
	it.Density = densestWort(plan)
	it.Bore, it.HotDump = outlet(piece.Chosen.Product), hot(v)
	it.Coolant = unit.Kilograms(v.JacketVol.M3() * coolantDensity)
	return it
}

// outlet is the bore a vessel is emptied through onto the floor, where its product
// states the drain as a nominal size, which is the bore within a few millimetres. It
// is 0 where the drain is piped to a place of its own, such as a neutralising point,
// and nil where the product names a gully and no size.
func outlet(p *catalog.Product) *unit.Length {
	for _, c := range p.Connects {
		rest, ok := strings.CutPrefix(c.Size, "DN ")
		if c.Service != "drain" || !ok {
			continue
		}
		size, to, _ := strings.Cut(rest, ",")
		if strings.HasPrefix(strings.TrimSpace(to), "to ") {
			return new(unit.Length)
		}
		if mm, err := strconv.Atoi(size); err == nil && mm > 0 {
			bore := unit.Millimetres(float64(mm))
			return &bore
		}
	}
	return nil
}

// hot tells whether what a vessel lets out is too hot for hands and plastic traps.
func hot(v *catalog.Vessel) bool {
	for _, d := range []catalog.Duty{catalog.DutyMash, catalog.DutyLauter, catalog.DutyKettle, catalog.DutyWhirlpool, catalog.DutyHotLiquor} {
		if has(v, d) {
			return true
		}
	}
	return false
}

// floorAlternatives are smaller vessels of the class that together hold as much.
func floorAlternatives(piece Piece, c *catalog.Catalogue) []floor.Alternative {
	const mostPieces = 3
	now, v := piece.Chosen.Product, piece.Body.Vessel
	if v == nil || len(now.Bodies) > 1 {
		return nil
	}
	var out []floor.Alternative
	for _, p := range c.ByClass(now.Class) {
		b := &p.Bodies[0]
		if p.Code == now.Code || b.Vessel == nil || !has(b.Vessel, v.Duties[0]) || b.Vessel.Nominal > v.Nominal {
			continue
		}
		count := int(math.Ceil(v.Nominal.L()/b.Vessel.Nominal.L() - 1e-9))
		if count > mostPieces {
			continue
		}
		x := floorItem(newPiece(&Chosen{Item: piece.Chosen.Item, Product: p}, b), nil)
		out = append(out, floor.Alternative{
			Code: p.Code, Name: p.Name, Count: count, Length: b.Length, Width: b.Width, Height: b.Height,
			Empty: b.Empty, Liquid: x.Liquid, Brim: x.Brim, Feet: x.Feet,
		})
	}
	return out
}

// PlanItem is one piece as the plan draws it on this site: a chiller stands outdoors
// unless the enquiry puts it inside.
func (r Report) PlanItem(piece Piece) plan.Item {
	it := planItem(piece)
	it.Outside = outdoors(r.Project.Site, piece)
	return it
}

// planItem is one piece as the plan draws it, chillers outdoors.
func planItem(piece Piece) plan.Item {
	b := piece.Body
	it := plan.Item{
		Tag: piece.Tag, Product: piece.Chosen.Product.Code, Name: piece.Chosen.Product.Name, Group: planGroup(piece.Chosen.Product.Class),
		Length: b.Length, Width: b.Width, Height: b.Height, Round: b.Round, Wall: b.Wall, Drain: b.Drain,
		Clearance: plan.Clearance{Front: b.Space.Front, Side: b.Space.Side, Back: b.Space.Back, Above: b.Space.Above},
		Mass:      b.Empty, Outside: piece.Chosen.Product.Class == catalog.ClassChiller,
	}
	if len(piece.Chosen.Product.Bodies) > 1 {
		it.Set = piece.Item
	}
	if b.Vessel != nil {
		it.Mass += unit.Kilograms(b.Vessel.Gross.L())
	}
	if piece.Place != nil {
		it.Place = &plan.Place{At: point(piece.Place.At), Turn: piece.Place.Turn}
	}
	return it
}

func planGroup(class catalog.Class) string {
	switch class {
	case catalog.ClassBrewhouse, catalog.ClassLiquorTank, catalog.ClassWortCooler, catalog.ClassMill, catalog.ClassSteam:
		return "brewhouse"
	case catalog.ClassFermenter, catalog.ClassBrightTank:
		return "cellar"
	}
	return "services"
}

func floorVessel(b *catalog.Body) *floor.Vessel {
	v := b.Vessel
	out := &floor.Vessel{
		Diameter: v.Diameter, Cylinder: v.Cylinder, Bottom: floorEnd(v.Bottom), Top: floorEnd(v.Top), Cone: v.Cone,
		Shell: v.Shell, Jacket: v.JacketBody + v.JacketCone, Insulation: v.Insulation,
	}
	if b.Feet != nil {
		out.Legs = b.Feet.Count
	}
	return out
}

func floorEnd(shape string) floor.End {
	switch shape {
	case "cone":
		return floor.Conical
	case "dished":
		return floor.Dished
	case "open":
		return floor.Open
	}
	return floor.Flat
}

// working is the liquid in a vessel at work: what the plan fills it with, or its
// nominal volume where the plan says nothing.
func working(piece Piece, plan *brewing.Result) unit.Volume {
	v := piece.Body.Vessel
	if plan == nil {
		return v.Nominal
	}
	for _, list := range [][]brewing.TankPlan{plan.Fermenters, plan.Brights} {
		for _, t := range list {
			if t.Tank.Tag == piece.Item && t.Fill > 0 {
				return max(t.Fill, v.Nominal)
			}
		}
	}
	return v.Nominal
}

// densestWort is the density of the strongest wort of the brief.
func densestWort(plan *brewing.Result) unit.Density {
	if plan == nil {
		return 0
	}
	most := unit.Density(0)
	for _, b := range plan.Beers {
		most = max(most, unit.KgPerM3(b.Brew.Gravity.SG()*998.2))
	}
	return most
}
