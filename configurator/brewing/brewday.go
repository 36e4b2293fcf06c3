package brewing

import (
	"math"

	"tunwright/catalog/unit"
)

// BrewDay is the timeline of one day of brewing, of the beer that takes longest.
type BrewDay struct {
	Beer   int // index into Result.Beers
	Brews  int
	Steps  []BrewStep // by brew, then by time
	Length unit.Duration
	Cycle  unit.Duration // from one mash-in to the next
	Reheat unit.Duration // hot-liquor tank from empty to one brew's liquor; 0 where unknown
	Peak   unit.Power    // most heat asked at a time
	PeakAt unit.Duration
}

// BrewStep is one step of a brew.
type BrewStep struct {
	Brew       int // from 1
	Name       string
	Vessel     string
	Start, End unit.Duration // from the start of the day
	Heat       unit.Power    // asked from elements, steam or gas at the source
	From       string        // which heater gives it: kettle, hot-liquor tank
}

// Times of the steps that do not follow from heat, in minutes. Source: O'Rourke,
// Technical Summary 12: mash 20, stand 75, run-off 185 to 330 in a mash tun, drain
// and dig 20; a lauter floor at 165 kg/m² runs off in 120 (common practice).
const (
	minutesMashIn    = 20
	minutesStand     = 75
	minutesRunOff    = 120
	minutesDig       = 25
	minutesWhirlpool = 30
	minutesClean     = 60
)

// brewDays works the day of one brew out, and of two where two are allowed.
func (s *settled) brewDays(r *Result) []BrewDay {
	at := longestBrew(r)
	if at < 0 {
		return nil
	}
	most := max(2, s.Year.BrewsPerDay)
	out := make([]BrewDay, 0, most)
	for n := 1; n <= most; n++ {
		out = append(out, s.brewDay(r, at, n))
	}
	return out
}

func longestBrew(r *Result) int {
	at, most := -1, -1.0
	for i := range r.Beers {
		if t := brewMinutes(&r.Beers[i]); t > most {
			at, most = i, t
		}
	}
	return at
}

func brewMinutes(p *BeerPlan) float64 {
	t := p.Brew.BoilTime.Min()
	if p.Brew.HeatUpTime != nil {
		t += p.Brew.HeatUpTime.Min()
	}
	if p.Summer != nil {
		t += p.Summer.Time.Min()
	}
	return t
}

// busy is a vessel taken from one minute of a brew to another.
type busy struct {
	vessel   string
	from, to float64
}

func (s *settled) brewDay(r *Result, at, n int) BrewDay {
	p := &r.Beers[at]
	one := s.oneBrew(p)
	d := BrewDay{Beer: at, Brews: n}
	cycle := s.cycle(one)
	d.Reheat = s.reheat(p)
	if n > 1 {
		// The second mash waits for its vessels and for its liquor.
		cycle = math.Max(cycle, d.Reheat.Min())
		d.Cycle = unit.Minutes(cycle)
	}
	end := 0.0
	d.Steps = make([]BrewStep, 0, n*len(one))
	for k := range n {
		shift := unit.Minutes(float64(k) * cycle)
		for _, st := range one {
			st.Brew, st.Start, st.End = k+1, st.Start+shift, st.End+shift
			d.Steps = append(d.Steps, st)
			end = math.Max(end, st.End.Min())
		}
	}
	d.Length = unit.Minutes(end)
	d.peak()
	return d
}

// oneBrew lists the steps of a brew from mash-in to clean kettle.
func (s *settled) oneBrew(p *BeerPlan) []BrewStep {
	tun, lauter, kettle, whirl := s.vessels()
	heat := 60.0
	if p.Brew.HeatUpTime != nil {
		heat = p.Brew.HeatUpTime.Min()
	}
	cool := s.Cooler.Time.Min()
	if p.Summer != nil && p.Summer.Time > 0 {
		cool = p.Summer.Time.Min()
	}
	power := p.Brew.HeatUp.KWh() / (heat / 60) / s.sourceShare()
	if s.Brewhouse.Kettle != nil {
		power = s.Brewhouse.Kettle.Power.KW()
	}
	liquor := 0.0
	if s.Brewhouse.LiquorHeat != nil {
		liquor = s.Brewhouse.LiquorHeat.KW()
	}
	t := 0.0
	steps := make([]BrewStep, 0, 9)
	add := func(name, vessel string, minutes, kw float64, from string) {
		steps = append(steps, BrewStep{Name: name, Vessel: vessel, Start: unit.Minutes(t), End: unit.Minutes(t + minutes), Heat: unit.Kilowatts(kw), From: from})
		t += minutes
	}
	add("mash in", tun, minutesMashIn, 0, "")
	add("mash stand", tun, minutesStand, liquor, "hot-liquor tank")
	add("run-off and sparge", lauter, minutesRunOff, liquor, "hot-liquor tank")
	t0 := t
	add("dig out the grain", lauter, minutesDig, 0, "")
	t = t0
	add("heat to the boil", kettle, heat, power, "kettle")
	add("boil", kettle, p.Brew.BoilTime.Min(), p.Brew.BoilPower.KW(), "kettle")
	add("whirlpool stand", whirl, minutesWhirlpool, 0, "")
	add("knock out to the fermenter", whirl, cool, 0, "")
	add("clean kettle and cooler", whirl, minutesClean, 0, "")
	return steps
}

func (s *settled) vessels() (tun, lauter, kettle, whirlpool string) {
	h := s.Brewhouse
	tun, lauter, kettle, whirlpool = h.MashVessel, h.LauterVessel, h.KettleVessel, h.WhirlpoolVessel
	if tun == "" {
		tun = "mash and lauter tun"
	}
	if lauter == "" {
		lauter = tun
	}
	if kettle == "" {
		kettle = "kettle"
	}
	if whirlpool == "" {
		whirlpool = "whirlpool"
	}
	return tun, lauter, kettle, whirlpool
}

// cycle is the least time between two mash-ins at which no vessel is taken twice.
// The kettle is taken from the start of run-off until it is empty.
func (s *settled) cycle(steps []BrewStep) float64 {
	_, _, kettle, _ := s.vessels()
	var taken []busy
	runOff := 0.0
	for _, st := range steps {
		taken = append(taken, busy{st.Vessel, st.Start.Min(), st.End.Min()})
		if st.Name == "run-off and sparge" {
			runOff = st.Start.Min()
			taken = append(taken, busy{kettle, runOff, st.End.Min()})
		}
	}
	shift := 0.0
	for again := true; again; {
		again = false
		for _, a := range taken {
			for _, b := range taken {
				if a.vessel == b.vessel && b.from+shift < a.to-1e-9 && a.from < b.to+shift-1e-9 {
					shift, again = a.to-b.from, true
				}
			}
		}
	}
	return shift
}

// reheat is the time the hot-liquor tank takes for one brew's liquor; 0 where its
// heater is unknown or the tank holds both brews.
func (s *settled) reheat(p *BeerPlan) unit.Duration {
	h := s.Brewhouse
	if h.LiquorHeat == nil || h.LiquorHeat.KW() <= 0 {
		return 0
	}
	if h.LiquorTank != nil && h.LiquorTank.L() >= 2*p.Brew.HotLiquor.L() {
		return 0
	}
	return unit.Hours(p.Brew.LiquorHeat.KWh() / h.LiquorHeat.KW())
}

// peak finds the minute at which most heat is asked.
func (d *BrewDay) peak() {
	for _, a := range d.Steps {
		sum := unit.Power(0)
		for _, b := range d.Steps {
			if b.Start <= a.Start && a.Start < b.End {
				sum += b.Heat
			}
		}
		if sum > d.Peak {
			d.Peak, d.PeakAt = sum, a.Start
		}
	}
}
