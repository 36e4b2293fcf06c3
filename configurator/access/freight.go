package access

import (
	"cmp"
	_ "embed"
	"fmt"
	"math"
	"slices"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

//go:embed tables/containers.csv
var containersCSV string

var containers = source.MustTable("containers", containersCSV)

// Freight is how the goods travel; the zero value takes road freight at 333 kg/m³
// and 1750 kg per loading metre (common practice; the carrier's terms go before).
type Freight struct {
	PerVolume unit.Density       // kg charged for a cubic metre
	PerMetre  unit.MassPerLength // kg charged for a loading metre
	Term      string             // Incoterms 2020 code, such as DAP; "" not agreed
	Place     string             // named place
}

// Lorries, containers and pallets; common practice, no source, where nothing else is said.
const (
	trailerWidth  = 2.4   // m, by definition of the loading metre
	trailerLength = 13.6  // m
	trailerLoad   = 24000 // kg
	trailerHeight = 2.65  // m, of a curtainsider
	trailerWide   = 2.45  // m, of a curtainsider
	megaHeight    = 3.0   // m, of a mega trailer
	containerLoad = 26.0  // t
	palletLoad    = 1500  // kg, of what is sent on a pallet
	palletHeight  = 2.2   // m, with the pallet
	lintelRoom    = 0.05  // m under a container's lintel
	jambRoom      = 0.02  // m beside a container's jambs, both together
	endRoom       = 0.1   // m at a container's ends, both together
)

// FreightRow is one packed piece for the carrier.
type FreightRow struct {
	Tag, Piece            string
	Length, Width, Height unit.Length
	Mass                  unit.Mass
	Volume                unit.Volume
	Metres                unit.Length // its own loading metres by area: L·W/2.4
	Pallet                string      // the pallet it stands on, or "" for a piece of its own
	Vehicle               string      // curtainsider, mega trailer, low loader
	Abnormal              bool        // wider than the road takes without notice or permit
	Container             string      // smallest container it enters, or ""
}

// FreightResult is the whole consignment.
type FreightResult struct {
	Rows        []FreightRow
	Mass        unit.Mass
	Volume      unit.Volume
	AreaMetres  unit.Length // Σ L·W/2.4, the formula, which flatters wide pieces
	Metres      unit.Length // as packed row by row
	Trailers    int
	Pallets     int
	Chargeable  unit.Mass
	ChargedBy   string // mass, volume or loading metres
	Containers  []ContainerRow
	Term        string
	TermName    string
	Place       string
	UnloadedBy  string
	TermProblem string
}

// ContainerRow is the consignment in one kind of container.
type ContainerRow struct {
	Type  string
	Fits  bool
	Count int
	Stays []string // pieces that do not enter
}

func (in *Input) freight() (FreightResult, error) {
	f := in.Freight
	if f.PerVolume == 0 {
		f.PerVolume = unit.KgPerM3(333)
	}
	if f.PerMetre == 0 {
		f.PerMetre = unit.KgPerM(1750)
	}
	var r FreightResult
	var rects []rect
	for i := range in.Items {
		for j := range in.Items[i].Pieces {
			p := &in.Items[i].Pieces[j]
			row := freightRow(in.Items[i].Tag, p, widest(in.Country))
			r.Rows = append(r.Rows, row)
			r.Mass += p.Mass
			r.Volume += row.Volume
			r.AreaMetres += row.Metres
			if row.Pallet != "" {
				r.Pallets++
			}
			l, w := max(p.Length.M(), p.Width.M()), min(p.Length.M(), p.Width.M())
			rects = append(rects, rect{l, w})
		}
	}
	r.Metres = unit.Metres(loadingMetres(rects, trailerWidth))
	r.Trailers = max(int(math.Ceil(r.Metres.M()/trailerLength-1e-9)), int(math.Ceil(r.Mass.Kg()/trailerLoad-1e-9)))
	byVolume, byMetre := unit.Kilograms(r.Volume.M3()*f.PerVolume.KgM3()), unit.Kilograms(r.Metres.M()*f.PerMetre.KgM())
	r.Chargeable, r.ChargedBy = r.Mass, "mass"
	if byVolume > r.Chargeable {
		r.Chargeable, r.ChargedBy = byVolume, "volume"
	}
	if byMetre > r.Chargeable {
		r.Chargeable, r.ChargedBy = byMetre, "loading metres"
	}
	for k := range containers.Len() {
		r.Containers = append(r.Containers, in.container(k, rects, r.Mass))
	}
	return r, r.term(f)
}

func (r *FreightResult) term(f Freight) error {
	if f.Term == "" {
		r.TermProblem = "no delivery term is agreed: name it with its place, such as DAP and the site's address"
		return nil
	}
	at := slices.IndexFunc(deliveryRules, func(d DeliveryRule) bool { return d.Rule == f.Term })
	if at < 0 {
		return fmt.Errorf("%q is not a term of Incoterms 2020: use EXW, FCA, CPT, CIP, DAP, DPU, DDP, FAS, FOB, CFR or CIF", f.Term)
	}
	r.Term, r.TermName, r.Place, r.UnloadedBy = f.Term, deliveryRules[at].Name, f.Place, deliveryRules[at].Unloading
	if f.Place == "" {
		r.TermProblem = f.Term + " needs its named place"
	}
	return nil
}

func freightRow(tag string, p *Piece, widest unit.Length) FreightRow {
	row := FreightRow{
		Tag: tag, Piece: p.Name, Length: p.Length, Width: p.Width, Height: p.Height, Mass: p.Mass,
		Volume:  unit.CubicMetres(p.Length.M() * p.Width.M() * p.Height.M()),
		Metres:  unit.Metres(p.Length.M() * p.Width.M() / trailerWidth),
		Vehicle: "curtainsider", Abnormal: min(p.Length, p.Width) > widest,
	}
	long, wide := max(p.Length.M(), p.Width.M()), min(p.Length.M(), p.Width.M())
	switch {
	case p.Height.M() > megaHeight || wide > trailerWide:
		row.Vehicle = "low loader"
	case p.Height.M() > trailerHeight:
		row.Vehicle = "mega trailer"
	}
	switch {
	case p.Mass.Kg() > palletLoad || p.Height.M() > palletHeight:
	case long <= 1.2 && wide <= 0.8:
		row.Pallet = "1200 × 800"
	case long <= 1.2 && wide <= 1.0:
		row.Pallet = "1200 × 1000"
	case long <= 1.2 && wide <= 1.2:
		row.Pallet = "1200 × 1200"
	}
	for k := range containers.Len() {
		if enters(k, p) {
			row.Container = containers.Text(k, "type")
			break
		}
	}
	return row
}

// enters tells whether a piece as packed enters a container, with room to slide it in.
func enters(k int, p *Piece) bool {
	get := func(col string) float64 { x, _ := containers.Number(k, col); return x / 1000 }
	long, wide := max(p.Length.M(), p.Width.M()), min(p.Length.M(), p.Width.M())
	return p.Height.M() <= get("door_h_mm")-lintelRoom && wide <= get("door_w_mm")-jambRoom && long <= get("length_mm")-endRoom
}

func (in *Input) container(k int, rects []rect, mass unit.Mass) ContainerRow {
	row := ContainerRow{Type: containers.Text(k, "type")}
	for i := range in.Items {
		for j := range in.Items[i].Pieces {
			if !enters(k, &in.Items[i].Pieces[j]) {
				row.Stays = append(row.Stays, in.Items[i].Tag)
			}
		}
	}
	if len(row.Stays) > 0 || len(rects) == 0 {
		return row
	}
	row.Fits = true
	l, _ := containers.Number(k, "length_mm")
	w, _ := containers.Number(k, "width_mm")
	row.Count = max(int(math.Ceil(loadingMetres(rects, w/1000)/(l/1000)-1e-9)), int(math.Ceil(mass.T()/containerLoad)))
	return row
}

type rect struct{ l, w float64 }

// loadingMetres packs rectangles row by row across a width, the longest first: a row
// is as long as its first piece, and takes further pieces beside it while they fit,
// turned where that saves length. A single piece wider than half the trailer so takes
// its whole length, which the formula L·W/2.4 hides.
// Where standing along and across take the same room in full rows, both are tried.
func loadingMetres(all []rect, width float64) float64 {
	return min(rowsLength(all, width, 0), rowsLength(all, width, 1e-9))
}

func rowsLength(all []rect, width, prefer float64) float64 {
	todo := slices.Clone(all)
	for i := range todo {
		if todo[i].l > width {
			continue
		}
		across := math.Floor(width/todo[i].l+1e-9) / todo[i].w
		along := math.Floor(width/todo[i].w+1e-9) / todo[i].l
		if across > along+prefer-5e-10 {
			todo[i].l, todo[i].w = todo[i].w, todo[i].l
		}
	}
	slices.SortStableFunc(todo, func(a, b rect) int { return cmp.Or(cmp.Compare(b.l, a.l), cmp.Compare(b.w, a.w)) })
	used := make([]bool, len(todo))
	total := 0.0
	for i := range todo {
		if used[i] {
			continue
		}
		total += todo[i].l
		left := width - todo[i].w
		for j := i + 1; j < len(todo); j++ {
			if !used[j] && todo[j].w <= left+1e-9 {
				used[j] = true
				left -= todo[j].w
			}
		}
	}
	return total
}

// LoadingMetres is the length of trailer that packed pieces take up, row by row, and
// the figure of the formula Σ L·W/2.4 for comparison.
//
// Source: definition of the loading metre (one metre of a trailer 2.4 m wide); the
// packing is our own.
func LoadingMetres(lengths, widths []unit.Length) (packed, formula unit.Length, err error) {
	if len(lengths) != len(widths) {
		return 0, 0, fmt.Errorf("%d lengths and %d widths: each piece needs both", len(lengths), len(widths))
	}
	rects := make([]rect, len(lengths))
	for i := range rects {
		l, w := max(lengths[i].M(), widths[i].M()), min(lengths[i].M(), widths[i].M())
		if w <= 0 || l > 30 {
			return 0, 0, fmt.Errorf("piece %d of %s × %s cannot be loaded", i+1, lengths[i], widths[i])
		}
		rects[i] = rect{l, w}
		formula += unit.Metres(l * w / trailerWidth)
	}
	return unit.Metres(loadingMetres(rects, trailerWidth)), formula, nil
}
