package brewing

import (
	"math"
	"sort"
	"strconv"

	"tunwright/catalog/unit"
)

var standardLengths = []float64{2, 3, 5, 8, 10, 12, 15, 20, 25, 30}

// chooseLength takes the first brew length whose brews of the peak week fit the limit.
func (s *settled) chooseLength() (unit.Volume, []LengthTrial, bool) {
	lengths := s.Lengths
	if lengths == nil {
		for _, hl := range standardLengths {
			lengths = append(lengths, unit.Hectolitres(hl))
		}
	}
	sorted := append([]unit.Volume{}, lengths...)
	sort.Slice(sorted, func(i, j int) bool { return sorted[i] < sorted[j] })
	var trials []LengthTrial
	for _, b := range sorted {
		t := s.tryLength(b)
		trials = append(trials, t)
		if t.Fits {
			return b, trials, true
		}
	}
	return sorted[len(sorted)-1], trials, false
}

func (s *settled) tryLength(length unit.Volume) LengthTrial {
	brews := 0
	for i := range s.beers {
		b := &s.beers[i]
		n := s.freeBrews(b, length)
		brews += n * batches(b, n, length)
	}
	mean := float64(brews) / float64(s.Year.Weeks)
	peak := mean * s.Year.PeakFactor.Value()
	return LengthTrial{Length: length, BrewsYear: brews, BrewsWeek: unit.PureNumber(mean), BrewsPeak: unit.PureNumber(peak), Fits: peak <= s.Year.BrewsPerWeek.Value()}
}

func batches(b *settledBeer, n int, length unit.Volume) int {
	return roundUp(b.Yearly.HL() / (float64(n) * length.HL() * b.yield))
}

// freeBrews chooses the brews for a fermenter where no tank is given: two where a
// single brew would be pitched at least twice a month, so that half the tanks and
// half the yeast handling do; one where the beer would get old.
func (s *settled) freeBrews(b *settledBeer, length unit.Volume) int {
	if b.BrewsPerTank > 0 {
		return b.BrewsPerTank
	}
	if b.kettleDays == 0 && batches(b, 1, length) >= 24 && s.offers(2*length.L()/(1-b.headspace)) {
		return 2
	}
	return 1
}

// offers tells whether a fermenter of a gross volume in litres can be had; where none
// are named, any can.
func (s *settled) offers(gross float64) bool {
	_, ok := smallest(s.FermenterOptions, unit.Litres(gross))
	return ok || s.FermenterOptions == nil
}

// mostBrews is how many brews fill a tank within 48 hours.
func (s *settled) mostBrews() int { return min(max(2*s.Year.BrewsPerDay, 2), 4) }

// chooseBrews sets the brews for a fermenter of every beer. With chosen tanks it
// takes, beer by beer from the largest, the number that leaves the fullest size of
// tank least full.
func (s *settled) chooseBrews(length unit.Volume) []int {
	n := make([]int, len(s.beers))
	if s.Fermenters == nil {
		for i := range s.beers {
			n[i] = s.freeBrews(&s.beers[i], length)
		}
		return n
	}
	order := make([]int, len(s.beers))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return s.beers[order[a]].Yearly > s.beers[order[b]].Yearly })
	load := make([]float64, len(s.Fermenters))
	for _, i := range order {
		n[i] = s.bestBrews(&s.beers[i], length, load)
	}
	return n
}

func (s *settled) bestBrews(b *settledBeer, length unit.Volume, load []float64) int {
	if b.BrewsPerTank > 0 {
		s.addLoad(b, b.BrewsPerTank, length, load)
		return b.BrewsPerTank
	}
	best, least := 1, math.Inf(1)
	most := s.mostBrews()
	if b.kettleDays > 0 {
		most = 1
	}
	for n := 1; n <= most; n++ {
		if full := s.fullest(b, n, length, load); full < least-1e-9 {
			best, least = n, full
		}
	}
	s.addLoad(b, best, length, load)
	return best
}

// group lists the fermenters of the smallest size that takes n brews of the beer with
// the headspace of its kind, or with the least headspace where none does.
func (s *settled) group(b *settledBeer, n int, length unit.Volume) []int {
	fill := float64(n) * length.L()
	for _, space := range [...]float64{b.headspace, b.least} {
		if g := s.sizeGroup(b.class, fill, fill/(1-space)); g != nil {
			return g
		}
	}
	return nil
}

func (s *settled) sizeGroup(class string, fill, need float64) []int {
	size := math.Inf(1)
	for _, t := range s.Fermenters {
		if t.Class == class && fits(t.Gross.L(), need) && s.fullEnough(fill, t) {
			size = math.Min(size, t.Gross.L())
		}
	}
	var out []int
	for i, t := range s.Fermenters {
		if t.Class == class && t.Gross.L() >= size*(1-1e-9) && t.Gross.L() <= size*1.1 {
			out = append(out, i)
		}
	}
	return out
}

func fits(gross, need float64) bool { return gross >= need*(1-1e-9) }

func (s *settled) fullEnough(fillL float64, t Tank) bool { return filled(fillL, t, s.Practice) }

// filled tells whether a charge covers enough of a tank.
func filled(fillL float64, t Tank, p Practice) bool {
	return fillL >= t.Gross.L()*p.LeastFill.Value()*(1-1e-9)
}

func (s *settled) fullest(b *settledBeer, n int, length unit.Volume, load []float64) float64 {
	g := s.group(b, n, length)
	if len(g) == 0 {
		return math.Inf(1)
	}
	days := float64(batches(b, n, length) * b.days.InTank())
	worst := 0.0
	for _, i := range g {
		worst = math.Max(worst, load[i]+days/float64(len(g)))
	}
	return worst
}

func (s *settled) addLoad(b *settledBeer, n int, length unit.Volume, load []float64) {
	g := s.group(b, n, length)
	days := float64(batches(b, n, length) * b.days.InTank())
	for _, i := range g {
		load[i] += days / float64(len(g))
	}
}

// classes builds the size classes of fermenters, then of bright tanks, with the
// average formula: tank-days · peak / (days in use · fill limit).
func (s *settled) classes(plans []BeerPlan, length unit.Volume) []TankClass {
	var fv, bt []TankClass
	for i := range plans {
		p, b := &plans[i], &s.beers[i]
		p.Class = className("FV", p.BrewsPerTank, length, b.class)
		fv = addClass(fv, TankClass{Name: p.Class, Dedicated: b.class, Batches: p.Batches, TankDays: p.Batches * p.Days.InTank(), Gross: p.TankGross})
		if p.Days.Bright > 0 {
			dedicated := s.brightKind(b)
			p.BrightClass = className("BBT", p.BrewsPerTank, length, dedicated)
			bt = addClass(bt, TankClass{Name: p.BrightClass, Bright: true, Dedicated: dedicated, Batches: p.Batches, TankDays: p.Batches * p.Days.Bright, Gross: p.BrightGross})
		}
	}
	all := append(fv, bt...)
	a, u, peak := s.Year.TankDays.D(), s.Year.FillLimit.Value(), s.Year.PeakFactor.Value()
	for i := range all {
		c := &all[i]
		c.Tanks = roundUp(float64(c.TankDays) * peak / (a * u))
		c.UtilMean = unit.Fraction(float64(c.TankDays) / (a * float64(max(c.Tanks, 1))))
		c.UtilPeak = unit.Fraction(c.UtilMean.Value() * peak)
	}
	return all
}

// brightKind is the class of bright tanks a beer asks for: serving tanks when it is
// sold from the tank and such tanks are chosen, or Size chooses the tanks.
func (s *settled) brightKind(b *settledBeer) string {
	if !b.serving {
		return ""
	}
	for _, t := range s.Brights {
		if t.Class == serving {
			return serving
		}
	}
	if s.Brights == nil {
		return serving
	}
	return ""
}

func className(prefix string, n int, length unit.Volume, dedicated string) string {
	name := prefix + unit.Digits(float64(n)*length.HL(), 4)
	if dedicated != "" {
		name += " " + dedicated
	}
	return name
}

func addClass(list []TankClass, c TankClass) []TankClass {
	for i := range list {
		if list[i].Name == c.Name {
			list[i].Batches += c.Batches
			list[i].TankDays += c.TankDays
			list[i].Gross = max(list[i].Gross, c.Gross)
			return list
		}
	}
	return append(list, c)
}

// proposeTanks turns the classes into tanks, rounded up to the offered sizes.
func (s *settled) proposeTanks(classes []TankClass) (fermenters, brights []Tank) {
	for _, c := range classes {
		for range c.Needed {
			if c.Bright {
				brights = append(brights, s.newTank(c, len(brights)+1))
				continue
			}
			fermenters = append(fermenters, s.newTank(c, len(fermenters)+1))
		}
	}
	return fermenters, brights
}

func (s *settled) newTank(c TankClass, number int) Tank {
	options, prefix := s.FermenterOptions, "FV"
	if c.Bright {
		options, prefix = s.BrightOptions, "BBT"
	}
	t := Tank{Gross: c.Gross, Jacket: true}
	if o, ok := smallest(options, c.Gross); ok {
		t = o
	}
	if c.Dedicated == serving {
		prefix = "ST"
	}
	t.Tag, t.Class = prefix+" "+strconv.Itoa(number), c.Dedicated
	return t
}

// smallest gives the smallest offered tank of at least a gross volume.
func smallest(options []Tank, gross unit.Volume) (Tank, bool) {
	best, found := Tank{}, false
	for _, o := range options {
		if fits(o.Gross.L(), gross.L()) && (!found || o.Gross < best.Gross) {
			best, found = o, true
		}
	}
	return best, found
}
