package brewing

import (
	"math"

	"tunwright/catalog/unit"
)

// HandlingPlan is the carrying of a brew and of the busiest week.
type HandlingPlan struct {
	Beer                          int // of the largest grist
	Bags                          int
	BagMass                       unit.Mass
	MaltBrew                      unit.Mass
	GrainBrew                     unit.Mass
	Bins                          int         // spent-grain bins of one brew
	BinMass                       unit.Mass   // a full bin without its steel
	GristCase                     unit.Volume // loose grist of one brew
	MaltTrips                     *int        // lift trips up for one brew; nil where the lift is unknown or there is none
	GrainTrips                    *int
	KegTrips                      *int   // down, in the busiest week
	Zone                          string // in which the bag is tipped
	Filter                        []LiftRow
	Kegs                          int // full containers out in the busiest week
	KegMass                       unit.Mass
	WeekMalt, WeekGrain, WeekKegs unit.Mass
}

// LiftRow is one line of the lifting filter for the bag.
type LiftRow struct {
	Zone                                             string
	MenClose, MenExtended, WomenClose, WomenExtended unit.Mass
	PassesMen, PassesWomen                           bool // with the load close
	Governs                                          bool
}

// gristVolume is the loose volume of a kilogram of milled malt in L: 2.8.
// Source: malt 510 to 550 kg/m³ (Briggs, Malts and Malting); grist about 30 % less dense.
const gristVolume = 2.8

// grainDensity is that of loose wet grains in kg/L: 1.2 kg wet on 1.81 L, derived.
const grainDensity = 0.65

// Lifts ends of zones of a standing person in metres, common practice.
const (
	kneeHeight     = 0.5
	knuckleHeight  = 0.75
	elbowHeight    = 1.05
	shoulderHeight = 1.4
)

// LiftFilter sets a load against the lifting and lowering filter. A load equal to a
// figure does not pass it; not passing asks for a detailed assessment, it is not a
// limit in law. Source: HSE INDG143.
func LiftFilter(load unit.Mass) []LiftRow {
	rows := make([]LiftRow, liftingTable.Len())
	for i := range rows {
		kg := func(col string) unit.Mass { x, _ := liftingTable.Number(i, col); return unit.Kilograms(x) }
		rows[i] = LiftRow{
			Zone: liftingTable.Text(i, "zone"), MenClose: kg("men_close_kg"), MenExtended: kg("men_extended_kg"),
			WomenClose: kg("women_close_kg"), WomenExtended: kg("women_extended_kg"),
		}
		rows[i].PassesMen, rows[i].PassesWomen = load < rows[i].MenClose, load < rows[i].WomenClose
	}
	return rows
}

// liftZone names the zone of a height above the floor.
func liftZone(h unit.Length) string {
	switch m := h.M(); {
	case m > shoulderHeight:
		return "above shoulder"
	case m > elbowHeight:
		return "elbow to shoulder"
	case m > knuckleHeight:
		return "knuckle to elbow"
	case m > kneeHeight:
		return "mid lower leg to knuckle"
	}
	return "below mid lower leg"
}

// LiftTrips gives the trips a mass takes in a lift that carries a trolley and a person.
//
//	trips = ⌈m / (rated − trolley − person)⌉
//
// All in kg. 0 where the lift carries nothing beyond them. By mass alone: a platform too
// small for the load takes more. Source: load over what is left of the rated load.
func LiftTrips(m, rated, trolley, person unit.Mass) int {
	room := rated - trolley - person
	if room <= 0 {
		return 0
	}
	return roundUp(m.Kg() / room.Kg())
}

func (s *settled) handling(r *Result) HandlingPlan {
	h := HandlingPlan{BagMass: s.Practice.BagMass, Zone: "hopper height unknown"}
	for i := range r.Beers {
		if r.Beers[i].Brew.Malt > r.Beers[h.Beer].Brew.Malt {
			h.Beer = i
		}
	}
	b := r.Beers[h.Beer].Brew
	h.Bags, h.MaltBrew, h.GrainBrew = b.Bags, b.Malt, b.WetGrain
	h.GristCase = unit.Litres(gristVolume * b.Malt.Kg())
	h.BinMass = unit.Kilograms(s.Handling.Bin.L() * grainDensity)
	h.Bins = roundUp(b.WetGrain.Kg() / h.BinMass.Kg())
	h.Filter = LiftFilter(h.BagMass)
	if s.Handling.Hopper != nil {
		h.Zone = liftZone(*s.Handling.Hopper)
	}
	for i := range h.Filter {
		h.Filter[i].Governs = h.Filter[i].Zone == h.Zone
	}
	s.weekHandling(r, &h)
	s.trips(&h)
	return h
}

func (s *settled) weekHandling(r *Result, h *HandlingPlan) {
	w := r.Weeks[r.Busiest]
	h.WeekMalt, h.WeekGrain = w.Malt, w.Grain
	for i := range r.Weeks {
		if r.Weeks[i].Packaged > w.Packaged {
			w = r.Weeks[i]
		}
	}
	keg, full := kegMass(s.commonContainer())
	h.Kegs, h.KegMass = roundUp(w.Packaged.L()/keg.L()), full
	h.WeekKegs = unit.Kilograms(float64(h.Kegs) * full.Kg())
}

// commonContainer is the container of the largest beer that is not in tanks.
func (s *settled) commonContainer() unit.Volume {
	best := unit.Volume(0)
	size := unit.Litres(50)
	for i := range s.beers {
		b := &s.beers[i]
		if b.Package != "tank" && b.Yearly > best && b.Container >= unit.Litres(5) {
			best, size = b.Yearly, b.Container
		}
	}
	return size
}

// kegMass gives the container of the table nearest a size, with its full mass.
func kegMass(size unit.Volume) (unit.Volume, unit.Mass) {
	at, near := 0, math.Inf(1)
	for i := range kegsTable.Len() {
		net, _ := kegsTable.Number(i, "net_l")
		if d := math.Abs(net - size.L()); d < near {
			at, near = i, d
		}
	}
	net, _ := kegsTable.Number(at, "net_l")
	full, _ := kegsTable.Number(at, "full_kg")
	return unit.Litres(net), unit.Kilograms(full)
}

func (s *settled) trips(h *HandlingPlan) {
	if s.Handling.LiftLoad == nil {
		return
	}
	trips := func(m unit.Mass) *int {
		n := LiftTrips(m, *s.Handling.LiftLoad, s.Handling.Trolley, s.Handling.Person)
		return &n
	}
	h.MaltTrips = trips(unit.Kilograms(float64(h.Bags) * h.BagMass.Kg()))
	h.GrainTrips, h.KegTrips = trips(h.GrainBrew), trips(h.WeekKegs)
}
