package cooling

import (
	"math"
	"slices"
	"strconv"

	"tunwright/catalog/unit"
)

const (
	sizeGradient = 200.0 // Pa/m: pipes are chosen below it, so that one more tank stays below the limit; common practice
	maxGradient  = 300.0 // Pa/m, CIBSE Guide B by way of a teaching page
	maxSmall     = 1.0   // m/s up to 50 mm, the same source
	maxLarge     = 1.5   // m/s beyond
	assumedDrop  = 20e3  // Pa in a jacket at its flow, common practice
	valveDrop    = 10e3  // Pa aimed at in an on-off valve, common practice
)

// kvSeries are the flow coefficients valves are made in: preferred numbers R5 of ISO 3.
var kvSeries = [...]float64{0.63, 1, 1.6, 2.5, 4, 6.3, 10, 16, 25, 40, 63, 100}

// Section is a row of the pipe table: supply and return together.
type Section struct {
	Tag, From, To string // M the main, A along the tanks, B a branch
	Label         string // tag and number
	Pipe          Pipe
	Length        unit.Length // supply and return together
	Flow          unit.VolumeFlow
	PipeFlow
	PipeDrop  unit.PressureDiff
	K         unit.Number // of all fittings
	Fittings  unit.PressureDiff
	Kv        unit.FlowCoefficient // control valve of a branch; zero elsewhere
	ValveDrop unit.PressureDiff
	Jacket    unit.PressureDiff
	Drop      unit.PressureDiff    // all of it
	Foam      unit.Length          // insulation
	Surface   unit.Temperature     // of the insulation
	Gain      unit.Power           // into the glycol
	Held      unit.Volume          // glycol
	Static    unit.PressureDiff    // of the glycol standing above it
	Index     bool                 // part of the run that sets the pump
	ToBalance unit.PressureDiff    // to be taken by the balancing valve of a branch
	BalanceKv unit.FlowCoefficient // its setting; zero where fully open
	Within    bool                 // within velocity and gradient
	Dry       bool                 // surface above the dew point
	Lengthens unit.Length          // each of the two pipes, from cold running to warm standstill
}

// Circuit is the pipework and its pump.
type Circuit struct {
	Sections    []Section // main, sections along the tanks, branches
	OpenJackets int
	JacketFlow  unit.VolumeFlow // of the open jackets
	DutyFlow    unit.VolumeFlow // that carries the duty at the design rise
	Flow        unit.VolumeFlow // the larger
	Least       unit.VolumeFlow // one jacket open, the smallest
	PipeDrop    unit.PressureDiff
	Fittings    unit.PressureDiff
	ValveDrop   unit.PressureDiff
	JacketDrop  unit.PressureDiff
	ChillerDrop unit.PressureDiff
	Lift        unit.PressureDiff // static lift of an open reservoir below the tanks
	Total       unit.PressureDiff
	Need        unit.PressureDiff // Total with 15 % for the viscosity, lift without
	Head        unit.Length       // the same as a column of glycol
	Hydraulic   unit.Power
	Shaft       unit.Power // all of it ends as heat in the glycol
	Electrical  unit.Power
	Gain        unit.Power // through all insulation
	Held        unit.Volume
	Rise        *unit.Length
	NPSH        unit.Length        // at the pump, with the reservoir half a metre above it
	Static      unit.PressureDiff  // of the column above the jackets
	ShutOff     *unit.PressureDiff // of the pump; nil unknown
	AtJackets   *unit.PressureDiff // the most that jackets see; nil unknown
	DewPoint    unit.Temperature
	FoamLeast   unit.Length // that keeps the largest pipe dry
	FoamEnough  bool        // 50 mm is enough for it
}

// pipeJob is one section to be sized.
type pipeJob struct {
	tag, from, to string
	length, out   float64 // m, supply and return together; out is the share outdoors
	flow          float64 // m³/s
	tees          float64
	gates         float64
	branch        *tank
	throughTees   float64
}

// layCircuit sizes the pipes and the pump.
func (d *design) layCircuit(process float64) error {
	c := &d.res.Circuit
	r := d.in.Route
	sizes, err := Pipes(orZeroQuiet(r.Series, "stainless"))
	if err != nil {
		return err
	}
	jackets := d.jackets()
	header := or(&d.a, r.Header, "Route.Header", unit.Metres(15), "pipe way from the chiller to the first tank")
	along := or(&d.a, r.Along, "Route.Along", unit.Metres(1.5*float64(len(jackets))), "pipe way along the tanks")
	branch := or(&d.a, r.Branch, "Route.Branch", unit.Metres(3), "pipe way from the main to a jacket")
	foam := unit.Length(0)
	if r.Insulation != nil {
		foam = *r.Insulation
	}
	for _, l := range [...]struct {
		name string
		q    unit.Length
	}{{"pipe way to the first tank", header}, {"pipe way along the tanks", along}, {"pipe way to a jacket", branch}, {"pipe outdoors", r.Outdoor}, {"insulation of the pipes", foam}} {
		if err := unit.Within(l.name, l.q, 0, unit.Metres(2000)); err != nil {
			return err
		}
	}
	d.designFlow(c, jackets, process)
	c.DewPoint, err = DewPoint(unit.Celsius(d.room), unit.Fraction(d.humidity))
	if err != nil {
		return err
	}
	jobs := pipeJobs(c, jackets, header.M(), along.M(), branch.M(), min(r.Outdoor.M(), header.M()))
	c.Sections = make([]Section, len(jobs))
	for i, j := range jobs {
		c.Sections[i] = d.sizeSection(j, sizes)
		c.Sections[i].Label = label(c.Sections[:i], j.tag)
		c.Gain += c.Sections[i].Gain
		c.Held += c.Sections[i].Held
	}
	d.foam(c)
	d.indexRun(c, len(jobs)-len(jackets))
	d.pump(c)
	return nil
}

// label numbers the sections of a tag.
func label(before []Section, tag string) string {
	n := 1
	for i := range before {
		if before[i].Tag == tag {
			n++
		}
	}
	return tag + strconv.Itoa(n)
}

// jackets lists the cooled tanks.
func (d *design) jackets() []*tank {
	out := make([]*tank, 0, len(d.tanks))
	for i := range d.tanks {
		if d.tanks[i].flow > 0 {
			out = append(out, &d.tanks[i])
		}
	}
	return out
}

// designFlow is the larger of what carries the duty and what the open jackets ask.
func (d *design) designFlow(c *Circuit, jackets []*tank, process float64) {
	c.OpenJackets = (len(jackets) + 1) / 2
	if d.in.OpenJackets != nil {
		c.OpenJackets = min(max(*d.in.OpenJackets, 1), len(jackets))
	} else {
		d.a.add("OpenJackets", unit.PureNumber(float64(c.OpenJackets)), "half of the jackets stand open at the same time")
	}
	flows := make([]float64, len(jackets))
	for i, t := range jackets {
		flows[i] = t.flow
	}
	slices.Sort(flows)
	open := 0.0
	for i := range c.OpenJackets {
		open += flows[len(flows)-1-i]
	}
	c.JacketFlow = unit.M3PerSecond(open)
	c.DutyFlow = unit.M3PerSecond(process * (1 + assumedMargin) / (d.meanFluid.Density.KgM3() * d.meanFluid.Heat.JKgK() * d.rise))
	c.Flow = max(c.JacketFlow, c.DutyFlow)
	if len(flows) > 0 {
		c.Least = unit.M3PerSecond(flows[0])
	}
}

// pipeJobs lists main, the sections along the tanks and the branches. Along the tanks
// the flow falls by each jacket passed, but never below what the open ones still ask.
func pipeJobs(c *Circuit, jackets []*tank, header, along, branch, outdoor float64) []pipeJob {
	jobs := make([]pipeJob, 0, 1+2*len(jackets))
	jobs = append(jobs, pipeJob{tag: "M", from: "chiller", to: "tanks", length: 2 * header, out: 2 * outdoor, flow: c.Flow.M3S(), gates: 4})
	left := 0.0
	for _, t := range jackets {
		left += t.flow
	}
	if along > 0 && len(jackets) > 1 {
		each := 2 * along / float64(len(jackets)-1)
		for i := range len(jackets) - 1 {
			left -= jackets[i].flow
			jobs = append(jobs, pipeJob{
				tag: "A", from: jackets[i].Tag, to: jackets[i+1].Tag, length: each, flow: min(left, c.Flow.M3S()), throughTees: 2,
			})
		}
	}
	for _, t := range jackets {
		jobs = append(jobs, pipeJob{tag: "B", from: "main", to: t.Tag, length: 2 * branch, flow: t.flow, tees: 4, branch: t})
	}
	return jobs
}

// sizeSection chooses the smallest pipe within velocity and gradient.
func (d *design) sizeSection(j pipeJob, sizes []Pipe) Section {
	p := sizes[0]
	var pf PipeFlow
	for i := range sizes {
		if j.flow <= 0 {
			break
		}
		p = sizes[i]
		v := j.flow / (math.Pi * p.Bore.M() * p.Bore.M() / 4)
		if v > velocityLimit(p) && i < len(sizes)-1 {
			continue
		}
		if pf = flowIn(j.flow, p, d.cold); pf.Gradient.PaM() <= sizeGradient {
			break
		}
	}
	s := Section{
		Tag: j.tag, From: j.from, To: j.to, Pipe: p, Length: unit.Metres(j.length), Flow: unit.M3PerSecond(j.flow), PipeFlow: pf,
		Within:    pf.Gradient.PaM() <= maxGradient && pf.Velocity.MS() <= velocityLimit(p),
		Held:      unit.CubicMetres(math.Pi * p.Bore.M() * p.Bore.M() / 4 * j.length),
		Lengthens: unit.Metres(p.Expand.M() * j.length / 2 * (max(d.room, d.ambient) - d.supply)),
	}
	re, bore := max(pf.Reynolds.N(), 1), p.Bore.MM()
	k := j.tees*teeBranch.loss(re, bore) + j.throughTees*teeThrough.loss(re, bore) + j.gates*gate.loss(re, bore)
	k += math.Round(j.length/5) * elbowLong.loss(re, bore)
	v := pf.Velocity.MS()
	s.K = unit.PureNumber(k)
	s.PipeDrop = unit.Pascals(pf.Gradient.PaM() * j.length)
	s.Fittings = unit.Pascals(k * d.cold.Density.KgM3() * v * v / 2)
	if j.branch != nil {
		d.branchDrops(&s, j.branch)
	}
	s.Drop = s.PipeDrop + s.Fittings + s.ValveDrop + s.Jacket
	d.sectionGain(&s, j)
	return s
}

func velocityLimit(p Pipe) float64 {
	if p.Bore.MM() > 50 {
		return maxLarge
	}
	return maxSmall
}

func (d *design) branchDrops(s *Section, t *tank) {
	s.Jacket = unit.Pascals(t.drop)
	if t.ValveKv != nil {
		s.Kv = *t.ValveKv
	} else {
		s.Kv = chooseKv(s.Flow, d.cold.Density)
	}
	s.ValveDrop, _ = ValveDrop(s.Flow, s.Kv, d.cold.Density)
}

// chooseKv takes the least made coefficient that keeps an open valve below 10 kPa.
func chooseKv(flow unit.VolumeFlow, rho unit.Density) unit.FlowCoefficient {
	least := flow.M3H() * math.Sqrt(rho.KgM3()/1000/(valveDrop/1e5))
	for _, kv := range kvSeries {
		if kv >= least {
			return unit.Kv(kv)
		}
	}
	return unit.Kv(math.Ceil(least))
}

// sectionGain insulates a section and takes its gain; what lies outdoors meets the
// outdoor air.
func (d *design) sectionGain(s *Section, j pipeJob) {
	supply, room := unit.Celsius(d.supply), unit.Celsius(d.room)
	film := unit.WattsPerM2K(filmIndoor)
	if d.in.Route.Insulation != nil {
		s.Foam = *d.in.Route.Insulation
	} else {
		s.Foam, _ = DryInsulation(s.Pipe.Outside, room, supply, d.res.Circuit.DewPoint, film)
	}
	od, foam := s.Pipe.Outside.M(), s.Foam.M()
	inside := pipeGain(od, foam, lambdaPipe, d.room-d.supply, filmIndoor)
	outside := 0.0
	if j.out > 0 {
		outside = pipeGain(od, foam, lambdaPipe, d.ambient-d.supply, filmOutdoor)
	}
	s.Gain = unit.Watts(inside*(j.length-j.out) + outside*j.out)
	s.Surface = unit.Celsius(d.room - inside/(filmIndoor*math.Pi*(od+2*foam)))
	s.Dry = s.Surface >= d.res.Circuit.DewPoint
}

// foam notes the least insulation that keeps the largest pipe dry.
func (d *design) foam(c *Circuit) {
	var largest unit.Length
	for i := range c.Sections {
		largest = max(largest, c.Sections[i].Pipe.Outside)
	}
	c.FoamLeast, c.FoamEnough = DryInsulation(largest, unit.Celsius(d.room), unit.Celsius(d.supply), c.DewPoint, unit.WattsPerM2K(filmIndoor))
	if d.in.Route.Insulation == nil {
		d.a.add("Route.Insulation", c.FoamLeast, "closed-cell foam that keeps the surface dry")
	}
}

// indexRun finds the branch that asks most, marks the way to it, and leaves the rest to
// balancing valves. With a reversed return every tank lies equally far.
func (d *design) indexRun(c *Circuit, branchesFrom int) {
	branches := c.Sections[branchesFrom:]
	mains := c.Sections[:branchesFrom]
	to := func(i int) (drop unit.PressureDiff) {
		for k := 1; k < len(mains); k++ {
			if d.in.Route.Reverse || k <= i {
				drop += mains[k].Drop
			}
		}
		return drop + branches[i].Drop
	}
	index, most := -1, unit.Pascals(-1)
	for i := range branches {
		if p := to(i); p > most {
			index, most = i, p
		}
	}
	if index < 0 {
		return
	}
	for k := range mains {
		mains[k].Index = k == 0 || d.in.Route.Reverse || k <= index
		if mains[k].Index {
			c.PipeDrop += mains[k].PipeDrop
			c.Fittings += mains[k].Fittings
		}
	}
	b := &branches[index]
	b.Index = true
	c.PipeDrop += b.PipeDrop
	c.Fittings += b.Fittings
	c.ValveDrop, c.JacketDrop = b.ValveDrop, b.Jacket
	for i := range branches {
		branches[i].ToBalance = most - to(i)
		if bar := branches[i].ToBalance.Bar(); bar > 1e-4 {
			branches[i].BalanceKv = unit.Kv(branches[i].Flow.M3H() * math.Sqrt(d.cold.Density.KgM3()/1000/bar))
		}
	}
}
