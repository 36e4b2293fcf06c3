package cooling

import (
	"fmt"
	"math"
	"slices"

	"tunwright/catalog/unit"
)

// Size works the cellar through the design weeks and sizes what cools it. An error
// means that the input is impossible; what merely does not fit is a matter of Rules.
func Size(in Input) (Result, error) {
	res, err := size(in, nil)
	if err != nil {
		return Result{}, err
	}
	finish(in, &res)
	return res, nil
}

// size does the physics alone, without bars, sheet and working.
func size(in Input, memo []descentMemo) (Result, error) {
	var res Result
	d := &design{in: &in, res: &res, memo: memo}
	steps := [...]struct {
		name string
		do   func() error
	}{
		{"cooling conditions", d.conditions},
		{"cooled tanks", d.resolve},
		{"glycol", d.mix},
		{"cellar schedule", d.flows},
		{"load of the week", d.load},
		{"glycol circuit and chiller", d.plant},
	}
	for _, s := range steps {
		if err := s.do(); err != nil {
			return Result{}, fmt.Errorf("%s: %w", s.name, err)
		}
	}
	res.Assumptions = d.a.list
	d.in, d.res = nil, nil
	out := res
	out.made = d
	return out, nil
}

// resize tries a changed input. Where the change leaves cellar, schedule and glycol as
// they are, only circuit, chiller and store are worked again; else equal jackets need
// not be cooled down a second time.
func resize(in Input, before Result, cellarStays bool) (Result, error) {
	made := before.made
	if made == nil {
		return size(in, nil)
	}
	if !cellarStays {
		return size(in, slices.Clip(made.memo))
	}
	d, res := *made, before
	d.in, d.res, d.a.list = &in, &res, slices.Clip(before.Assumptions)
	res.Circuit, res.Chiller, res.Store, res.Siting = Circuit{}, ChillerResult{}, StoreResult{}, SitingResult{}
	if err := d.plant(); err != nil {
		return Result{}, err
	}
	res.made = nil
	return res, nil
}

// design is an Input on its way to a Result. Plain numbers are in °C, W, m, s.
type design struct {
	in  *Input
	res *Result
	a   assumptions

	room, humidity, ambient, mains float64
	supply, rise                   float64
	cold, meanFluid                Fluid // at the supply, at the mean of supply and return
	tanks                          []tank
	week                           *week
	memo                           []descentMemo
}

func (d *design) conditions() error {
	in := d.in
	if len(in.Tanks) == 0 {
		return fmt.Errorf("there is no tank: name at least one")
	}
	if len(in.Chiller.Ratings) == 0 {
		return fmt.Errorf("the chiller has no rating table: give its maker's capacities")
	}
	switch in.Siting.Where {
	case "", "roof", "yard", "inside":
	default:
		return fmt.Errorf("the chiller stands on %q: it is roof, yard or inside", in.Siting.Where)
	}
	room := or(&d.a, in.Room, "Room", unit.Celsius(assumedRoom), "tank room in summer")
	humidity := or(&d.a, in.Humidity, "Humidity", unit.Fraction(assumedHumidity), "a brewery washed down daily")
	ambient := or(&d.a, in.Ambient, "Ambient", unit.Celsius(assumedAmbient), "air at the condenser on a hot afternoon")
	if err := unit.Within("room temperature", room, unit.Celsius(-10), unit.Celsius(50)); err != nil {
		return err
	}
	if err := unit.Within("air at the condenser", ambient, unit.Celsius(-30), unit.Celsius(60)); err != nil {
		return err
	}
	if err := unit.InRange("relative humidity", humidity.Value(), 0.05, 1); err != nil {
		return err
	}
	d.room, d.humidity, d.ambient = room.C(), humidity.Value(), ambient.C()
	d.res.Room, d.res.Ambient = room, ambient
	d.mains = assumedMains
	if in.Mains != nil {
		d.mains = in.Mains.C()
		if err := unit.Within("mains water in summer", *in.Mains, 0, unit.Celsius(45)); err != nil {
			return err
		}
	}
	return nil
}

// resolve fills in tanks and schedule.
func (d *design) resolve() error {
	in := d.in
	d.tanks = make([]tank, len(in.Tanks))
	for i := range in.Tanks {
		t, err := resolveTank(&d.a, in.Tanks[i])
		if err != nil {
			return fmt.Errorf("tank %s: %w", in.Tanks[i].Tag, err)
		}
		d.tanks[i] = t
	}
	r := d.res
	r.Batches, r.Stays, r.Refills = in.Batches, in.Stays, in.Refills
	horizon := in.Horizon.H()
	if len(r.Batches) == 0 {
		r.Batches = assumedBatches(&d.a, in.Tanks)
		horizon = assumedHorizon
		d.in.Repeats = true
	}
	if horizon == 0 {
		horizon = assumedHorizon
		d.a.add("Horizon", unit.Hours(horizon), "two weeks are looked at")
	}
	if err := unit.InRange("length of the design weeks in hours", horizon, 24, 3000); err != nil {
		return err
	}
	r.Horizon = int(math.Round(horizon))
	if len(r.Stays) == 0 {
		r.Stays = assumedStays(&d.a, in.Tanks, r.Batches)
	}
	if len(r.Refills) == 0 {
		r.Refills = assumedRefills(&d.a, in.Tanks, r.Batches)
	}
	if err := d.checkSchedule(); err != nil {
		return err
	}
	if in.CrashAtOnce != nil {
		due := r.Batches
		r.Batches = interlock(due, max(*in.CrashAtOnce, 1), horizon, in.Repeats)
		for i := range due {
			if c := due[i].Crash; c != nil {
				r.Load.Postponed = max(r.Load.Postponed, r.Batches[i].Crash.Start-c.Start)
			}
		}
	}
	return nil
}

func (d *design) find(tag string) *tank {
	for i := range d.tanks {
		if d.tanks[i].Tag == tag {
			return &d.tanks[i]
		}
	}
	return nil
}

// coldest sets what each tank is kept at, and gives the coldest beer or liquor.
func (d *design) coldest() float64 {
	least := math.Inf(1)
	for i := range d.tanks {
		t := &d.tanks[i]
		t.hold = 20
		switch {
		case t.Hold != nil:
			t.hold = t.Hold.C()
		case t.Use == Bright:
			t.hold = 1
			d.a.add("Tanks[].Hold (bright)", unit.Celsius(1), "bright tanks are kept at")
		case t.Use == ColdLiquor:
			t.hold = 3
			d.a.add("Tanks[].Hold (cold liquor)", unit.Celsius(3), "cold liquor is kept at")
		}
	}
	for i := range d.res.Batches {
		b := &d.res.Batches[i]
		t := d.find(b.Tank)
		t.hold = min(t.hold, fermentTemp(*b).C(), finalTemp(*b))
	}
	for i := range d.tanks {
		least = min(least, d.tanks[i].hold)
	}
	return least
}

// mix chooses supply temperature and glycol.
func (d *design) mix() error {
	in, m := d.in, &d.res.Fluid
	least := d.coldest()
	m.Coldest = unit.Celsius(least)
	m.Supply = or(&d.a, in.Supply, "Supply", unit.Celsius(math.Round(min(max(least-supplyBelow, coldSupply), warmSupply))), "glycol 5 K below the coldest beer")
	rise := or(&d.a, in.Rise, "Rise", unit.Kelvins(assumedRise), "warming of the glycol in the jackets")
	if err := unit.Within("warming of the glycol", rise, unit.Kelvins(0.5), unit.Kelvins(12)); err != nil {
		return err
	}
	if err := unit.Within("glycol supply", m.Supply, unit.Celsius(-30), unit.Celsius(20)); err != nil {
		return err
	}
	d.supply, d.rise = m.Supply.C(), rise.K()
	m.Return = unit.Celsius(d.supply + d.rise)
	wanted, err := Concentration(unit.Celsius(min(d.supply-freezeBelow, 0)))
	if err != nil {
		return err
	}
	m.Mass = or(&d.a, in.Glycol, "Glycol", max(wanted, unit.Fraction(leastGlycol)), "propylene glycol by mass")
	if m.Freeze, err = FreezingPoint(m.Mass); err != nil {
		return err
	}
	if m.Volume, err = ByVolume(m.Mass); err != nil {
		return err
	}
	m.Below = unit.Kelvins(d.supply - m.Freeze.C())
	// A mixture that would freeze is a finding, not an error: its properties are then
	// those at its freezing point.
	d.cold = fluidAt(max(d.supply, m.Freeze.C()), m.Mass.Value())
	d.meanFluid = fluidAt(max(d.supply+d.rise/2, m.Freeze.C()), m.Mass.Value())
	m.AtSupply, m.AtMean = d.cold, d.meanFluid
	m.BeerFreeze = d.beerFreeze()
	return nil
}

// beerFreeze is the freezing point of the beer that freezes first.
//
//	T = -(0.42 A + 0.04 OE + 0.2), A alcohol by mass in per cent ≈ (OE - real extract)/2.0665
//
// From memory.
func (d *design) beerFreeze() unit.Temperature {
	highest := math.Inf(-1)
	for i := range d.res.Batches {
		b := &d.res.Batches[i]
		oe := b.Original.P()
		alcohol := max(realShare*(oe-b.Final.P()), 0) / 2.0665
		highest = max(highest, -(0.42*alcohol + 0.04*oe + 0.2))
	}
	if math.IsInf(highest, 0) {
		highest = 0
	}
	return unit.Celsius(highest)
}
