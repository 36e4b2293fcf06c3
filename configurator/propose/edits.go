package propose

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"tunwright/catalog"
	"tunwright/catalog/strict"
	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/rule"
)

// situation is what a change is worked out from.
type situation struct {
	project enquiry.Project
	cat     *catalog.Catalogue
	report  configurator.Report
}

// params reads the figures of a remedy by name.
type params []rule.Param

func (ps params) text(name string) string {
	for _, p := range ps {
		if p.Name == name {
			return p.Text
		}
	}
	return ""
}

func (ps params) quantity(name string) (unit.Quantity, bool) {
	for _, p := range ps {
		if p.Name == name && p.Quantity != nil {
			return p.Quantity, true
		}
	}
	return nil, false
}

func (ps params) number(name string) (float64, bool) {
	q, ok := ps.quantity(name)
	if !ok {
		x, err := strconv.ParseFloat(ps.text(name), 64)
		return x, err == nil
	}
	return q.SI(), true
}

// editsFor gives the ways to carry a remedy out, the smallest change first; none
// where it is work on site or a matter for a person.
func editsFor(s situation, f configurator.Finding, r rule.Remedy) [][]strict.Edit {
	ps := params(r.Params)
	switch r.Kind {
	case "other-brewhouse", "steam-variant", "gas-variant", "electric-variant", "smaller-elements":
		return s.otherBrewhouse(ps.text("code"))
	case "other-chiller":
		return s.swapClass(catalog.ClassChiller, ps.text("chiller"))
	case "other-pump", "pump-to-suit":
		return s.swapOrAdd(catalog.ClassPump, "PU", ps.text("pump"))
	case "other-canopy":
		return s.swapOrAdd(catalog.ClassCanopy, "EX", ps.text("canopy"))
	case "fit-condenser":
		return s.swapOrAdd(catalog.ClassCondenser, "VC", ps.text("condenser"))
	case "other-compressor":
		return s.swapOrAdd(catalog.ClassCompressor, "AC", ps.text("compressor"))
	case "second-chiller":
		return s.second(catalog.ClassChiller, "CH")
	case "add-fermenter":
		return s.addTanks(catalog.ClassFermenter, "FV", ps)
	case "add-bright":
		return s.addTanks(catalog.ClassBrightTank, "BT", ps)
	case "buffer-store":
		return s.buffer(ps)
	case "larger-extract":
		return s.extract(ps)
	case "fit-detectors":
		return s.detectors(ps)
	case "load-limit":
		return s.loadLimit()
	case "larger-supply":
		return s.largerSupply(ps)
	case "stagger-crash", "one-crash-at-a-time":
		return s.setNumber("brief.crash_tanks_at_once", "crash_at_once", ps)
	case "more-brews":
		return s.moreBrews(ps)
	case "one-brew-a-day", "more-brews-a-day":
		return s.setNumber("brief.brews_per_day", "brews-per-day", ps)
	case "fewer-brews-per-tank":
		return s.beer(ps, "brews_per_tank", "brews-per-tank", 1)
	case "shorter-cold":
		return s.beer(ps, "cold_days", "cold-days", 86400)
	case "force-carbonate":
		return [][]strict.Edit{{set(beerPath(ps)+".natural_carbonation", "false")}}
	case "move-item":
		return s.move(ps)
	case "other-product":
		return s.otherProduct(ps)
	}
	return nil
}

func set(path, text string) strict.Edit {
	return strict.Edit{Op: strict.Set, Path: path, Text: text}
}

func add(tag, code string) strict.Edit {
	return strict.Edit{Op: strict.Add, Path: "equipment.items", Text: fmt.Sprintf("{tag: %s, product: %q}", tag, code)}
}

func one(edits ...strict.Edit) [][]strict.Edit { return [][]strict.Edit{edits} }

// tagged gives the first item of a class.
func (s situation) tagged(class catalog.Class) (string, bool) {
	for _, c := range s.report.Chosen {
		if c.Product.Class == class {
			return c.Item.Tag, true
		}
	}
	return "", false
}

// free is a tag that no item has yet.
func (s situation) free(prefix string, after int) string {
	taken := map[string]bool{}
	for _, i := range s.project.Chosen.Items {
		taken[i.Tag] = true
	}
	for n, found := 1, 0; ; n++ {
		tag := prefix + strconv.Itoa(n)
		if taken[tag] {
			continue
		}
		if found == after {
			return tag
		}
		found++
	}
}

func (s situation) known(code string) bool {
	_, ok := s.cat.Find(code)
	return ok
}

// swap puts another product in an item's place. The parts of a product of several
// pieces have names of their own, so that their places are forgotten; a single piece
// stays where it stood, and the check tells whether the new one fits there.
func (s situation) swap(tag, code string) []strict.Edit {
	edits := []strict.Edit{set("equipment.items["+tag+"].product", strconv.Quote(code))}
	for _, i := range s.project.Chosen.Items {
		if i.Tag == tag && len(i.Places) > 1 {
			edits = append(edits, strict.Edit{Op: strict.Remove, Path: "equipment.items[" + tag + "].places"})
		}
	}
	return edits
}

func (s situation) swapClass(class catalog.Class, code string) [][]strict.Edit {
	tag, ok := s.tagged(class)
	if !ok || !s.known(code) {
		return nil
	}
	return one(s.swap(tag, code)...)
}

func (s situation) swapOrAdd(class catalog.Class, prefix, code string) [][]strict.Edit {
	if !s.known(code) {
		return nil
	}
	if tag, ok := s.tagged(class); ok {
		return one(s.swap(tag, code)...)
	}
	return one(add(s.free(prefix, 0), code))
}

func (s situation) second(class catalog.Class, prefix string) [][]strict.Edit {
	for _, c := range s.report.Chosen {
		if c.Product.Class == class {
			return one(add(s.free(prefix, 0), c.Product.Code))
		}
	}
	return nil
}

// otherBrewhouse changes the brewhouse; a steam one without a generator gets the
// smallest that feeds it.
func (s situation) otherBrewhouse(code string) [][]strict.Edit {
	tag, ok := s.tagged(catalog.ClassBrewhouse)
	p, found := s.cat.Find(code)
	if !ok || !found || p.Brewhouse == nil {
		return nil
	}
	edits := s.swap(tag, code)
	if _, has := s.tagged(catalog.ClassSteam); p.Brewhouse.Heat == "steam" && !has {
		if g := configurator.GeneratorFor(s.cat, p); g != nil {
			edits = append(edits, add(s.free("SG", 0), g.Code))
		}
	}
	return one(edits...)
}

// addTanks adds as many tanks as the remedy says, of the named product or of the
// smallest that holds the volume asked for.
func (s situation) addTanks(class catalog.Class, prefix string, ps params) [][]strict.Edit {
	count := 1.0
	if n, ok := ps.number("count"); ok {
		count = n
	}
	code := ps.text("code")
	if !s.known(code) {
		code = s.tankFor(class, ps)
	}
	if code == "" {
		return nil
	}
	var edits []strict.Edit
	for i := range int(math.Round(count)) {
		edits = append(edits, add(s.free(prefix, i), code))
	}
	return one(edits...)
}

// tankFor prefers a size the job has already: equal tanks are easier to plan and to
// keep parts for.
func (s situation) tankFor(class catalog.Class, ps params) string {
	gross, ok := ps.quantity("gross")
	if !ok {
		return ""
	}
	const slack = 0.999 // the remedy prints a rounded volume
	for _, c := range s.report.Chosen {
		if c.Product.Class == class && c.Product.Bodies[0].Vessel.Gross.SI() >= gross.SI()*slack {
			return c.Product.Code
		}
	}
	for _, p := range s.cat.ByClass(class) {
		if p.Bodies[0].Vessel.Gross.SI() >= gross.SI()*slack {
			return p.Code
		}
	}
	return ""
}

func (s situation) buffer(ps params) [][]strict.Edit {
	need, ok := ps.quantity("buffer_volume")
	if !ok {
		return nil
	}
	for _, p := range s.cat.ByClass(catalog.ClassBuffer) {
		if p.Bodies[0].Vessel.Nominal.SI() >= need.SI() {
			return s.swapOrAdd(catalog.ClassBuffer, "GB", p.Code)
		}
	}
	return nil
}

func (s situation) extract(ps params) [][]strict.Edit {
	need, ok := ps.quantity("extract")
	if !ok {
		return nil
	}
	for _, p := range s.cat.ByClass(catalog.ClassFan) {
		if p.Fan.AirFlow.SI() >= need.SI()*0.999 {
			return s.swapOrAdd(catalog.ClassFan, "EF", p.Code)
		}
	}
	return nil
}

func (s situation) detectors(ps params) [][]strict.Edit {
	need, ok := ps.number("detectors")
	if !ok {
		return nil
	}
	for _, p := range s.cat.ByClass(catalog.ClassGasAlarm) {
		if float64(p.GasAlarm.Detectors) >= need {
			return s.swapOrAdd(catalog.ClassGasAlarm, "GA", p.Code)
		}
	}
	return nil
}

// loadLimit changes the panel for its load-limiting twin.
func (s situation) loadLimit() [][]strict.Edit {
	for _, c := range s.report.Chosen {
		if c.Product.Class == catalog.ClassPanel && s.known(c.Product.Code+"-LIM") {
			return one(s.swap(c.Item.Tag, c.Product.Code+"-LIM")...)
		}
	}
	return nil
}

// largerSupply takes the larger supply for granted, marked as assumed: the survey
// list then asks the network operator for it.
func (s situation) largerSupply(ps params) [][]strict.Edit {
	const why = "larger supply, to be applied for with the network operator"
	var edits []strict.Edit
	if fuse, ok := ps.number("fuse"); ok {
		edits = append(edits, set("site.supply.fuse_a", fmt.Sprintf("{assumed: %s, why: %q}", unit.Digits(fuse, 6), why)))
	}
	if phases, ok := ps.number("phases"); ok {
		edits = append(edits, set("site.supply.phases", fmt.Sprintf("{assumed: %d, why: %q}", int(phases), why)))
		if phases == 3 && s.project.Site.Supply.Phases.Value != 3 {
			volts := 400
			if s.project.Site.Country == "US" {
				volts = 208
			}
			edits = append(edits, set("site.supply.line_voltage_v", fmt.Sprintf("{assumed: %d, why: %q}", volts, why)))
		}
	}
	if len(edits) == 0 {
		return nil
	}
	return one(edits...)
}

func (s situation) setNumber(path, name string, ps params) [][]strict.Edit {
	x, ok := ps.number(name)
	if !ok {
		return nil
	}
	return one(set(path, unit.Digits(x, 6)))
}

func (s situation) moreBrews(ps params) [][]strict.Edit {
	week, ok := ps.number("brews-per-week")
	if !ok {
		return nil
	}
	edits := []strict.Edit{set("brief.brews_per_week", unit.Digits(week, 6))}
	if day, ok := ps.number("brews-per-day"); ok {
		edits = append(edits, set("brief.brews_per_day", unit.Digits(day, 6)))
	}
	return one(edits...)
}

func beerPath(ps params) string { return "brief.beers[" + ps.text("beer") + "]" }

// beer sets a field of the beer the remedy names; scale is the SI value of the
// field's unit.
func (s situation) beer(ps params, field, name string, scale float64) [][]strict.Edit {
	x, ok := ps.number(name)
	if !ok || ps.text("beer") == "" || strings.ContainsAny(ps.text("beer"), "[]") {
		return nil
	}
	return one(set(beerPath(ps)+"."+field, unit.Digits(x/scale, 6)))
}

// otherProduct puts another product, or several of it, in an item's place.
func (s situation) otherProduct(ps params) [][]strict.Edit {
	tag, code := ps.text("item"), ps.text("product")
	tag, _, _ = strings.Cut(tag, " ")
	if !s.known(code) {
		return nil
	}
	edits := s.swap(tag, code)
	count, ok := ps.number("count")
	for i := 1; ok && i < int(math.Round(count)); i++ {
		edits = append(edits, add(s.free(strings.TrimRight(tag, "0123456789"), i-1), code))
	}
	return one(edits...)
}

// move puts a piece where the remedy says.
func (s situation) move(ps params) [][]strict.Edit {
	x, okX := ps.quantity("x")
	y, okY := ps.quantity("y")
	tag := ps.text("item")
	if !okX || !okY {
		return nil
	}
	for _, piece := range s.report.Pieces {
		if piece.Tag == tag {
			return one(move(s.project, piece, unit.Metres(x.SI()), unit.Metres(y.SI()), piece.Turn())...)
		}
	}
	return nil
}

// move puts one piece at a place.
func move(p enquiry.Project, piece configurator.Piece, x, y unit.Length, turn unit.Angle) []strict.Edit {
	entry := fmt.Sprintf("{part: %q, at_m: [%s, %s], turn_deg: %s}", piece.Part, unit.Digits(x.M(), 6), unit.Digits(y.M(), 6), unit.Digits(turn.Deg(), 6))
	path := "equipment.items[" + piece.Item + "].places"
	for _, i := range p.Chosen.Items {
		if i.Tag != piece.Item {
			continue
		}
		for n, place := range i.Places {
			if place.Part == piece.Part {
				return []strict.Edit{set(fmt.Sprintf("%s[%d]", path, n+1), entry)}
			}
		}
		if len(i.Places) > 0 {
			return []strict.Edit{{Op: strict.Add, Path: path, Text: entry}}
		}
	}
	return []strict.Edit{set(path, "["+entry+"]")}
}
