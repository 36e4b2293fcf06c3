package air

import (
	"fmt"
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
)

// Size works out the vapour and the carbon dioxide. An error means that the input
// cannot be, never that the air is bad.
func Size(in Input) (Result, error) {
	limits, err := Limits(in.Country)
	if err != nil {
		return Result{}, fmt.Errorf("air: %w", err)
	}
	r := Result{Limits: limits, Alarms: alarms(in.Country, limits)}
	if in.Steam != nil {
		s, err := sizeSteam(in.Steam.in(in.Country), &r.Trace)
		if err != nil {
			return Result{}, fmt.Errorf("steam in %s: %w", in.Steam.Room.Name, err)
		}
		r.Steam = &s
	}
	for i, g := range in.Gas {
		if g.Room.Air() == 0 && g.Room.Area > 0 && g.Room.Height == 0 {
			r.Unsized = append(r.Unsized, g.Room.Name)
			continue
		}
		s, err := sizeGas(g, limits, r.Alarms, &r.Trace)
		if err != nil {
			return Result{}, fmt.Errorf("carbon dioxide in %s: %w", g.Room.Name, err)
		}
		s.Space = i
		r.Gas = append(r.Gas, s)
	}
	for _, n := range in.Noise {
		s, err := sizeNoise(n)
		if err != nil {
			return Result{}, fmt.Errorf("noise at %s: %w", n.Neighbour, err)
		}
		r.Noise = append(r.Noise, s)
		r.Trace.Add(trace.Step{Title: "Rating level at " + n.Neighbour, Symbol: "L_r", Formula: "10·log10 Σ 10^((Lw - 20·log10 r - 8)/10) + character", Result: s.Rating, Source: pointLoad})
	}
	return r, nil
}

// sizeSteam sizes one kettle. Without a trace it leaves out what only papers need,
// so that remedies can be tried quickly.
func sizeSteam(s Steam, t *trace.Trace) (SteamResult, error) {
	r := SteamResult{Evaporation: s.Evaporation, Vapour: unit.M3PerSecond(s.Evaporation.KgS() * steamVolume)}
	if err := unit.Within("evaporation", s.Evaporation, 0, unit.KgPerHour(5000)); err != nil {
		return r, err
	}
	p, err := StandardPressure(s.Altitude)
	if err != nil {
		return r, err
	}
	room, err := State(s.Indoor, p)
	if err != nil {
		return r, fmt.Errorf("indoor air: %w", err)
	}
	winter, err := State(s.Winter, p)
	if err != nil {
		return r, fmt.Errorf("winter air: %w", err)
	}
	if s.Kettle > 0 {
		r.Share = unit.Fraction(s.Evaporation.KgH() / s.Kettle.L())
	}
	r.Moisture = []MoistureRow{moistureRow("room air", room, s.Evaporation, s.OtherHeat)}
	if t != nil {
		r.Moisture = append(r.Moisture, moistureRow("winter air straight in", winter, s.Evaporation, s.OtherHeat))
	}
	if t != nil && s.Summer != (AirState{}) {
		summer, err := State(s.Summer, p)
		if err != nil {
			return r, fmt.Errorf("summer air: %w", err)
		}
		r.Moisture = append(r.Moisture, moistureRow("summer air straight in", summer, s.Evaporation, s.OtherHeat))
	}
	r.NoFog, r.DryDuct = r.Moisture[0].NoFog, r.Moisture[0].DryDuct
	if err := r.capture(s); err != nil {
		return r, err
	}
	if err := r.stream(s, room); err != nil {
		return r, err
	}
	if err := r.ducting(s); err != nil {
		return r, err
	}
	if err := r.makeUp(s); err != nil {
		return r, err
	}
	r.roomHeat(s)
	c, err := condense(s)
	if err != nil {
		return r, err
	}
	r.Condenser = *c
	if t == nil {
		return r, nil
	}
	r.ResidualFlow, _, _ = LeastFlow(room, unit.KgPerSecond(s.Evaporation.KgS()*residual), 0, unit.Percent(100)) // zero where no flow helps
	if yes(s.SteamFree) {
		r.SteamFreeList = steamFree(s, r)
	}
	r.Schedule = extractSchedule(s, r)
	r.addSteps(s, t)
	return r, nil
}

// residual is the share of the vapour that leaves a sealed kettle through its
// manhole when it is opened; common practice, no source.
const residual = 0.05

func (r *SteamResult) capture(s Steam) error {
	face := unit.MetresPerSecond(faceLight)
	r.Overhang = Overhang(unit.Millimetres(2100))
	if c := s.Canopy; c != nil {
		r.CanopyLength, r.CanopyWidth = c.Length, c.Width
		r.Overhang = Overhang(c.Underside)
		if c.Face > 0 {
			face = c.Face
		}
	} else if s.PlanArea > 0 {
		side := unit.Metres(math.Sqrt(4*s.PlanArea.M2()/math.Pi)) + 2*r.Overhang
		r.CanopyLength, r.CanopyWidth = side, side
	}
	var err error
	if r.CanopyLength > 0 {
		if r.Capture, err = CaptureFlow(r.CanopyLength, r.CanopyWidth, face); err != nil {
			return err
		}
	}
	if s.PlanArea > 0 && s.Heat != "" {
		if r.Convection, err = ConvectionFlow(s.PlanArea, s.Heat); err != nil {
			return err
		}
	}
	r.Required, r.Governs = r.Capture, "capture velocity"
	if r.Convection > r.Required {
		r.Required, r.Governs = r.Convection, "thermal convection"
	}
	if r.NoFog > r.Required {
		r.Required, r.Governs = r.NoFog, "moisture balance (no fog)"
	}
	if s.Evaporation > 0 && r.NoFog == 0 {
		r.Required, r.Governs = 0, "no flow of this room air avoids fog"
	}
	r.Flow = r.Required
	if s.Canopy != nil && s.Canopy.Flow > 0 {
		r.Flow = s.Canopy.Flow
	}
	return nil
}

func (r *SteamResult) stream(s Steam, room MoistAir) error {
	if r.Flow <= 0 {
		r.Stream = Mixed{Air: room}
		r.StreamNote = "no extract flow to judge"
		return nil
	}
	drawn := r.Flow
	if s.Canopy == nil { // the required flow is stated at the fan
		drawn = r.drawn(s, room)
	}
	if s.Evaporation.KgS() > drawn.M3S()/room.Volume.M3Kg() {
		r.StreamNote = "more vapour than air: the canopy overflows"
		r.Stream = Mixed{Air: moist(99, saturated(99, room.Pressure.PaA()), room.Pressure.PaA()), Flow: drawn, Condensate: s.Evaporation}
		return nil
	}
	var err error
	r.Stream, err = Mix(room, drawn, s.Evaporation, s.OtherHeat)
	return err
}

// drawn turns the required flow at the fan into room air.
func (r *SteamResult) drawn(s Steam, room MoistAir) unit.VolumeFlow {
	if r.Governs != "moisture balance (no fog)" {
		return r.Flow
	}
	_, drawn, err := LeastFlow(room, s.Evaporation, s.OtherHeat, unit.Percent(100))
	if err != nil {
		return r.Flow
	}
	return drawn
}

func (r *SteamResult) ducting(s Steam) error {
	if r.Flow <= 0 {
		return nil
	}
	r.DuctProposed = sizeBetween(r.Flow, ductLow, ductHigh)
	r.OutletProposed = sizeBetween(r.Flow, outletLow, outletHigh)
	r.Duct, r.Outlet = r.DuctProposed, r.OutletProposed
	if s.Canopy != nil && s.Canopy.Duct > 0 {
		r.Duct = s.Canopy.Duct
	}
	if s.Canopy != nil && s.Canopy.Outlet > 0 {
		r.Outlet = s.Canopy.Outlet
	}
	var err error
	if r.Duct > 0 {
		if r.DuctAt, err = DuctVelocity(r.Flow, r.Duct); err != nil {
			return err
		}
		run, bends := s.DuctRun, s.Bends
		if run == 0 {
			run = unit.Metres(6)
		}
		if bends == 0 {
			bends = 2
		}
		if r.DuctLoss, err = DuctLoss(r.Flow, r.Duct, run, bends); err != nil {
			return err
		}
		r.FanNeed = unit.Pascals(r.DuctLoss.Pa() + canopyEntry + cowlLoss)
	}
	if r.Outlet > 0 {
		r.OutletAt, err = DuctVelocity(r.Flow, r.Outlet)
	}
	return err
}

// sizeBetween finds the largest standard size whose speed lies between the limits,
// so that the fan works least. Where the flow falls between two sizes a cone or duct
// made to measure does, to 5 mm; beyond the largest size there is none, 0.
func sizeBetween(flow unit.VolumeFlow, low, high float64) unit.Length {
	best := unit.Length(0)
	for i := range ducts.Len() {
		mm, _ := ducts.Number(i, "diameter_mm")
		v := 4 * flow.M3S() / (math.Pi * mm * mm * 1e-6)
		if v >= low && v <= high {
			best = unit.Millimetres(mm)
		}
	}
	if best > 0 {
		return best
	}
	made := math.Round(1000*math.Sqrt(8*flow.M3S()/(math.Pi*(low+high)))/5) * 5
	if most, _ := ducts.Number(ducts.Len()-1, "diameter_mm"); made > most || made < 50 {
		return 0
	}
	return unit.Millimetres(made)
}

func (r *SteamResult) makeUp(s Steam) error {
	r.MakeUp = r.Flow + s.OtherDraw
	r.MakeUpSupply = unit.M3PerSecond(r.MakeUp.M3S() * supplyShare)
	r.OpeningsNeed = unit.SquareMetres(r.MakeUp.M3S() / openingSpeed)
	r.MakeUpTo = s.Makeup.To
	if r.MakeUpTo == 0 {
		r.MakeUpTo = unit.Celsius(s.Indoor.Temp.C() - 2)
	}
	var err error
	r.MakeUpHeat, err = MakeUpHeat(r.MakeUp, unit.Fraction(supplyShare), s.Winter.Temp, r.MakeUpTo)
	return err
}

func (r *SteamResult) roomHeat(s Steam) {
	for _, h := range s.Surfaces {
		q := SurfaceHeat(h, s.Indoor.Temp)
		r.RoomHeat += q
		r.RoomHeatRows = append(r.RoomHeatRows, Line{Label: h.Name, Value: q})
	}
	if s.Motors > 0 {
		r.RoomHeat += s.Motors
		r.RoomHeatRows = append(r.RoomHeatRows, Line{Label: "motors and lights", Value: s.Motors})
	}
}

func (r *SteamResult) addSteps(s Steam, t *trace.Trace) {
	t.Add(trace.Step{Title: "Extract by capture velocity", Symbol: "Q_B", Formula: "v · L · B", Values: []trace.Value{trace.V("L", r.CanopyLength), trace.V("B", r.CanopyWidth)}, Result: r.Capture, Source: dw172Quoted})
	t.Add(trace.Step{Title: "Extract without fog", Symbol: "Q_A", Formula: "W1 + mv/ma ≤ Ws(t2)", Values: []trace.Value{trace.V("mv", s.Evaporation), trace.V("t1", s.Indoor.Temp), trace.V("φ1", s.Indoor.Humidity)}, Result: r.NoFog, Source: ashrae.At("eq. 5, 6, 20, 28"), Note: "at the mixed state"})
	t.Add(trace.Step{Title: "Water falling out at the chosen flow", Symbol: "mc", Formula: "ma · (W2 - Ws)", Values: []trace.Value{trace.V("Q", r.Flow), trace.V("t2", r.Stream.Air.Temp)}, Result: r.Stream.Condensate, Source: ashrae.At("eq. 20, 28")})
	t.Add(trace.Step{Title: "Heat to warm the make-up air", Symbol: "P", Formula: "0.85 · Q · 1.207 · (to - from)", Values: []trace.Value{trace.V("Q", r.MakeUp), trace.V("from", s.Winter.Temp), trace.V("to", r.MakeUpTo)}, Result: r.MakeUpHeat, Source: source.Derivation("heat balance")})
	t.Add(trace.Step{Title: "Condenser duty", Symbol: "P_c", Formula: "mv · (2256.5 + 4.2·(100 - tc)) / 3600", Values: []trace.Value{trace.V("mv", s.Evaporation)}, Result: r.Condenser.Duty, Source: steamTables.At("heat of evaporation at 100 °C")})
	t.Add(trace.Step{Title: "Cooling water of the condenser", Symbol: "V", Formula: "P_c · 3600 / (4.19 · (out - in))", Values: []trace.Value{trace.V("in", r.Condenser.WaterIn), trace.V("out", r.Condenser.WaterOut)}, Result: r.Condenser.Water, Source: source.Derivation("heat balance")})
}
