package brewing

import (
	"tunwright/catalog/unit"
)

// BrewDay is the timeline of one day of brewing, of the beer that takes longest.
type BrewDay struct {
	Beer  int // index into Result.Beers
	Brews int
	Steps []BrewStep // by brew, then by time
	// Before is how long before the first mash the liquor is put on, by a timer.
	Before   unit.Duration
	Length   unit.Duration // from the first mash to the clean kettle
	Cycle    unit.Duration // from one mash-in to the next
	KnockOut unit.Duration // first wort through the cooler, from the first mash
	Reheat   unit.Duration // hot-liquor tank from cold mains to one brew's liquor; 0 where unknown
	Peak     unit.Power    // most heat asked at a time; with an interlock the kettle goes first
	PeakAt   unit.Duration
}

// BrewStep is one step of a brew.
type BrewStep struct {
	Brew       int // from 1
	Name       string
	Vessel     string
	Start, End unit.Duration // from the first mash; the first liquor is heated before it
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

// stepKnockOut names the step in which the wort goes through the cooler.
const stepKnockOut = "knock out to the fermenter"

// brewDays works the day of one brew out, and of two where two are allowed.
func (s *settled) brewDays(r *Result) []BrewDay {
	at := longestBrew(r)
	if at < 0 {
		return nil
	}
	one := s.oneBrew(&r.Beers[at])
	cycle := unit.Minutes(s.cycle(one))
	most := max(2, s.Year.BrewsPerDay)
	out := make([]BrewDay, 0, most)
	for n := 1; n <= most; n++ {
		out = append(out, s.brewDay(r, at, n, one, cycle))
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

func (s *settled) brewDay(r *Result, at, n int, one []BrewStep, cycle unit.Duration) BrewDay {
	p := &r.Beers[at]
	d := BrewDay{Beer: at, Brews: n, Reheat: s.liquorTime(p), Before: s.liquorTime(p)}
	if n > 1 {
		d.Cycle = cycle
	}
	if n > 1 && !s.holdsTwo(p) {
		// The second mash waits for its liquor, which is heated when the sparge is done;
		// an interlock holds it until the kettle has boiled.
		free := unit.Minutes(minutesMashIn + minutesStand + minutesRunOff)
		if s.Brewhouse.Interlock {
			free = boilEnd(one)
		}
		d.Cycle = max(d.Cycle, free+d.Reheat)
	}
	d.Steps = make([]BrewStep, 0, n*(len(one)+1))
	end := unit.Duration(0)
	for k := range n {
		shift := unit.Duration(k) * d.Cycle
		if k == 0 || !s.holdsTwo(p) {
			d.heatLiquor(s, k, shift)
		}
		for _, st := range one {
			st.Brew, st.Start, st.End = k+1, st.Start+shift, st.End+shift
			d.Steps = append(d.Steps, st)
			end = max(end, st.End)
		}
	}
	d.Length = end
	for _, st := range one {
		if st.Name == stepKnockOut {
			d.KnockOut = st.Start
		}
	}
	d.peak(s.Brewhouse.Interlock)
	return d
}

func boilEnd(steps []BrewStep) unit.Duration {
	for _, st := range steps {
		if st.Name == "boil" {
			return st.End
		}
	}
	return 0
}

// heatLiquor adds the heating of a brew's liquor so that it ends when the brew begins.
func (d *BrewDay) heatLiquor(s *settled, k int, shift unit.Duration) {
	if d.Reheat <= 0 {
		return
	}
	d.Steps = append(d.Steps, BrewStep{
		Brew: k + 1, Name: "heat the liquor", Vessel: "hot-liquor tank", Start: shift - d.Reheat, End: shift,
		Heat: *s.Brewhouse.LiquorHeat, From: "hot-liquor tank",
	})
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
	t := 0.0
	steps := make([]BrewStep, 0, 9)
	add := func(name, vessel string, minutes, kw float64, from string) {
		steps = append(steps, BrewStep{Name: name, Vessel: vessel, Start: unit.Minutes(t), End: unit.Minutes(t + minutes), Heat: unit.Kilowatts(kw), From: from})
		t += minutes
	}
	add("mash in", tun, minutesMashIn, 0, "")
	add("mash stand", tun, minutesStand, 0, "")
	add("run-off and sparge", lauter, minutesRunOff, 0, "")
	t0 := t
	add("dig out the grain", lauter, minutesDig, 0, "")
	t = t0
	add("heat to the boil", kettle, heat, power, "kettle")
	add("boil", kettle, p.Brew.BoilTime.Min(), p.Brew.BoilPower.KW(), "kettle")
	add("whirlpool stand", whirl, minutesWhirlpool, 0, "")
	add(stepKnockOut, whirl, cool, 0, "")
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
	taken := make([]busy, 0, len(steps)+1)
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

// liquorTime is the time the hot-liquor tank takes for one brew's liquor from cold
// mains; 0 where its heater is unknown.
func (s *settled) liquorTime(p *BeerPlan) unit.Duration {
	h := s.Brewhouse
	if h.LiquorHeat == nil || *h.LiquorHeat <= 0 {
		return 0
	}
	return unit.Hours(p.Brew.LiquorHeat.KWh() / h.LiquorHeat.KW())
}

// holdsTwo tells whether the hot-liquor tank holds the liquor of two brews.
func (s *settled) holdsTwo(p *BeerPlan) bool {
	h := s.Brewhouse
	return h.LiquorTank != nil && h.LiquorTank.L() >= 2*p.Brew.HotLiquor.L()
}

// peak finds the moment at which most heat is asked. An interlock drops the liquor
// heater while the kettle asks for heat.
func (d *BrewDay) peak(interlock bool) {
	for _, a := range d.Steps {
		kettle, liquor := unit.Power(0), unit.Power(0)
		for _, b := range d.Steps {
			switch {
			case b.Start > a.Start || a.Start >= b.End:
			case b.From == "kettle":
				kettle += b.Heat
			default:
				liquor += b.Heat
			}
		}
		sum := kettle + liquor
		if interlock && kettle > 0 {
			sum = kettle
		}
		if sum > d.Peak {
			d.Peak, d.PeakAt = sum, a.Start
		}
	}
}
