package air

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

// Mixed is room air after the kettle's vapour came into it.
type Mixed struct {
	Air        MoistAir        // after mixing; saturated where water falls out
	Flow       unit.VolumeFlow // at the mixed state
	Condensate unit.MassFlow   // water that falls out as fog and drops
}

// Mix adds vapour at 100 °C and sensible heat to a stream of room air.
//
//	W2 = W1 + mv/ma; h2 = h1 + (mv·2687 + Qs)/ma
//
// Where W2 passes saturation the mixed air is foggy: h2 = h(t, Ws) + (W2-Ws)·4.186·t
// gives t, and ma·(W2-Ws) falls out. flow is the room air drawn, at its own state.
// Left out: heat lost through duct walls, which makes more water fall out.
//
// Source: mass and heat balance with ASHRAE Fundamentals 2017, ch. 1, eq. 28.
func Mix(room MoistAir, flow unit.VolumeFlow, vapour unit.MassFlow, heat unit.Power) (Mixed, error) {
	if err := unit.Positive("extract flow", flow); err != nil {
		return Mixed{}, fmt.Errorf("vapour into air: %w", err)
	}
	if err := unit.NotNegative("vapour", vapour); err != nil {
		return Mixed{}, fmt.Errorf("vapour into air: %w", err)
	}
	p := room.Pressure.PaA()
	ma := flow.M3S() / room.Volume.M3Kg()
	if vapour.KgS() > ma {
		return Mixed{}, fmt.Errorf("vapour into air: %v of vapour into %v of air is more than one kilogram on each kilogram of air: raise the flow", vapour, flow)
	}
	w := room.Moisture.KgKg() + vapour.KgS()/ma
	h := room.Enthalpy.KJKg() + (vapour.KgS()*hVapour+heat.KW())/ma
	t := temperature(h, w)
	if t < 99 && w <= saturated(t, p) {
		m := moist(t, w, p)
		return Mixed{Air: m, Flow: unit.M3PerSecond(ma * m.Volume.M3Kg())}, nil
	}
	t = fogTemperature(h, w, room.Temp.C(), p)
	ws := saturated(t, p)
	m := moist(t, ws, p)
	return Mixed{Air: m, Flow: unit.M3PerSecond(ma * m.Volume.M3Kg()), Condensate: unit.KgPerSecond(ma * (w - ws))}, nil
}

// fogTemperature solves h = h(t, Ws) + (w-Ws)·cw·t between the room and 99 °C.
func fogTemperature(h, w, low, p float64) float64 {
	hi := 99.0
	for range 50 {
		mid := (low + hi) / 2
		ws := saturated(mid, p)
		if enthalpy(mid, ws)+max(w-ws, 0)*cpWater*mid < h {
			low = mid
		} else {
			hi = mid
		}
	}
	return low
}

// LeastFlow returns the smallest extract that takes the vapour without fog and
// with no more than the given relative humidity. The flow is stated at the mixed
// state, as the fan sees it; drawn is the same air as it leaves the room.
//
// Where the room air itself is at or above the humidity no flow helps, and an error
// says so.
//
// Source: heat and mass balance of Mix; the limit is the caller's.
func LeastFlow(room MoistAir, vapour unit.MassFlow, heat unit.Power, limit unit.Ratio) (atFan, drawn unit.VolumeFlow, err error) {
	if err := unit.Within("limit of relative humidity", limit, unit.Percent(30), unit.Percent(100)); err != nil {
		return 0, 0, fmt.Errorf("least extract flow: %w", err)
	}
	if vapour <= 0 {
		return 0, 0, nil
	}
	ok := func(q float64) bool { return humidityAfter(room, q, vapour, heat) <= limit.Value() }
	// From a stream beyond any fan downwards, to the first flow that does not do.
	hi := vapour.KgS() * room.Volume.M3Kg() * 5000
	if !ok(hi) {
		return 0, 0, fmt.Errorf("least extract flow: room air at %v and %v takes no vapour below %v: dry the room air or condense the vapour", room.Temp, room.Humidity, limit)
	}
	lo := hi / 2
	for ; ok(lo); lo /= 2 {
		hi = lo
	}
	for hi/lo > 1.0002 {
		if mid := math.Sqrt(lo * hi); ok(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	m, err := Mix(room, unit.M3PerSecond(hi), vapour, heat)
	if err != nil {
		return 0, 0, err
	}
	return m.Flow, unit.M3PerSecond(hi), nil
}

// humidityAfter gives the relative humidity after mixing as if no water could fall
// out: above 1 the air is foggy.
func humidityAfter(room MoistAir, flow float64, vapour unit.MassFlow, heat unit.Power) float64 {
	ma := flow / room.Volume.M3Kg()
	w := room.Moisture.KgKg() + vapour.KgS()/ma
	t := temperature(room.Enthalpy.KJKg()+(vapour.KgS()*hVapour+heat.KW())/ma, w)
	if t >= 99 {
		return math.Inf(1)
	}
	return room.Pressure.PaA() * w / (massRatio + w) / pws(t)
}

// MoistureRow is the moisture balance for one state of the air that is drawn in.
type MoistureRow struct {
	Name    string // "room air", "winter air straight in", "summer air straight in"
	Air     MoistAir
	NoFog   unit.VolumeFlow // at the fan, 0 where no flow avoids fog
	DryDuct unit.VolumeFlow // at the fan for at most 80 % relative humidity, 0 where none
	Words   string          // what stands in the table where a flow is missing
}

// dryDuct is the humidity below which a duct of moderate insulation stays dry;
// common practice, no source.
var dryDuct = unit.Percent(80)

// anyFan is beyond what a brewery's fan moves, m³/s; common practice, no source.
const anyFan = 30.0

func moistureRow(name string, a MoistAir, vapour unit.MassFlow, heat unit.Power) MoistureRow {
	row := MoistureRow{Name: name, Air: a}
	fan, _, err := LeastFlow(a, vapour, heat, unit.Percent(100))
	if err != nil || fan.M3S() > anyFan {
		row.Words = "fogs at any flow a fan can give: warm this air before it meets the vapour"
		return row
	}
	row.NoFog = fan
	if row.DryDuct, _, err = LeastFlow(a, vapour, heat, dryDuct); err != nil || row.DryDuct.M3S() > anyFan {
		row.DryDuct, row.Words = 0, "stays above 80 % humidity at any flow a fan can give: insulate and drain the duct"
	}
	return row
}
