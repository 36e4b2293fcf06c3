package floor

import (
	"math"

	"tunwright/catalog/unit"
)

// Drainage is what is known of the floor's falls and outlets.
type Drainage struct {
	// Fall is the slope as a ratio, 1:80 being 0.0125; 0 means no falls are laid, nil
	// that nobody has said.
	Fall *unit.Ratio
	// Run is the longest way of the water to its gully.
	Run     unit.Length
	FourWay bool        // falls to a gully in the middle; else one way
	Least   unit.Length // thickness at the gully
	// Depth is the build-up that may be laid; nil is unknown.
	Depth *unit.Length
	// Channel length, its slope and its depth at the shallow end; 0 none.
	Channel      unit.Length
	ChannelFall  unit.Ratio
	ChannelStart unit.Length
	// Held is the volume that may stand in pit, channel or kerbed area.
	Held unit.Volume
}

// FallRow is the build-up that falls and a channel ask for.
type FallRow struct {
	Rise, Mean, Deepest unit.Length // at the wall over the gully; mean with the least thickness; at the edge
	Load                unit.AreaLoad
	ChannelDepth        unit.Length // at its outlet
	Depth               *unit.Length
}

// DrainRow sets one piece's dump against its gully.
type DrainRow struct {
	Tag, Gully string
	Way        unit.Length // from the edge of the piece
	Volume     unit.Volume
	Peak       unit.VolumeFlow // full-bore at the start
	GullyFlow  *unit.VolumeFlow
	Time       unit.Duration // full-bore
	Buffer     unit.Volume   // what stands on the floor while the gully lags
	Throttle   unit.Length   // bore that the gully carries; 0 where the flow is unknown
	Hot        bool
	NoOutlet   bool // a vessel whose outlet is not known: Peak and the rest are not either
}

const (
	discharge   = 0.6   // sharp-edged outlet
	screedUnits = 20500 // N/m³, falls screed 20–21 (common practice, no source)
)

// DumpFlow is the flow of a tank emptied freely through an outlet:
//
//	Q = C_d · A · √(2·g·h),  C_d = 0.6
//
// bore is the outlet's inside diameter, head the height of the liquid over it.
//
// Source: Torricelli's law with the coefficient of a sharp-edged outlet.
func DumpFlow(bore, head unit.Length) (unit.VolumeFlow, error) {
	if err := unit.Within("bore", bore, unit.Millimetres(1), unit.Millimetres(300)); err != nil {
		return 0, err
	}
	if err := unit.Within("head", head, 0, unit.Metres(15)); err != nil {
		return 0, err
	}
	return unit.M3PerSecond(discharge * math.Pi / 4 * square(bore.M()) * math.Sqrt(2*g*head.M())), nil
}

// FallBuildUp is the thickness that falls add: Δ = run · slope; the mean over the
// least thickness is Δ/2 for a one-way fall and 2Δ/3 for a four-way fall to a gully
// in the middle (an inverted pyramid).
//
// Source: geometry.
func FallBuildUp(run unit.Length, fall unit.Ratio, fourWay bool, least unit.Length) (rise, mean unit.Length, err error) {
	if err := unit.Within("run", run, 0, unit.Metres(30)); err != nil {
		return 0, 0, err
	}
	if err := unit.InRange("fall", fall.Value(), 0, 0.1); err != nil {
		return 0, 0, err
	}
	rise = unit.Length(float64(run) * fall.Value())
	if fourWay {
		return rise, least + rise*2/3, nil
	}
	return rise, least + rise/2, nil
}

// EmptyingTime is the time to empty a vessel of constant section through an outlet:
//
//	t = 2·V / Q₀,  Q₀ the flow at the start
//
// Source: Torricelli's law integrated.
func EmptyingTime(v unit.Volume, start unit.VolumeFlow) unit.Duration {
	if start <= 0 {
		return 0
	}
	return unit.Duration(2 * float64(v) / float64(start))
}

// Buffer is the volume that backs up while a tank empties faster than the gully
// takes it: the flow falls linearly in time from q, so V = V₀·(1 − q_g/q)².
//
// Source: Torricelli's law integrated; the gully is taken at its full flow.
func Buffer(v unit.Volume, q, gully unit.VolumeFlow) unit.Volume {
	if q <= gully || q <= 0 {
		return 0
	}
	return unit.Volume(float64(v) * square(1-float64(gully)/float64(q)))
}

func (r *Result) drains(in *Input) error {
	if d := in.Drainage; d != nil && d.Fall != nil && *d.Fall > 0 {
		rise, mean, err := FallBuildUp(d.Run, *d.Fall, d.FourWay, d.Least)
		if err != nil {
			return err
		}
		f := FallRow{Rise: rise, Mean: mean, Deepest: rise + d.Least, Load: unit.AreaLoad(mean.M() * screedUnits), Depth: d.Depth}
		if d.Channel > 0 {
			f.ChannelDepth = d.ChannelStart + unit.Length(float64(d.Channel)*d.ChannelFall.Value())
		}
		r.Falls = &f
	}
	for i := range in.Items {
		it := &in.Items[i]
		if !it.Drain || it.Wall || it.Outside {
			continue
		}
		row := DrainRow{Tag: it.Tag, Volume: max(it.Liquid, it.Brim), Hot: it.HotDump}
		if it.Place != nil {
			best := math.Inf(1)
			for k := range in.Room.Gullies {
				gl := &in.Room.Gullies[k]
				if way := max(0, float64(it.Gap(*it.Place, *gl))); way < best {
					best, row.Gully, row.Way, row.GullyFlow = way, gl.Name, unit.Length(way), gl.Flow
				}
			}
		}
		row.NoOutlet = it.Bore == nil && row.Volume > 0
		if it.Bore != nil && *it.Bore > 0 && row.Volume > 0 {
			head := it.Height * 0.85 // the liquid's level over the outlet, where no geometry says better
			if it.Vessel != nil {
				if level, _, err := LiquidCentre(*it.Vessel, it.Liquid); err == nil {
					head = level - it.Vessel.Under
				}
			}
			q, err := DumpFlow(*it.Bore, head)
			if err != nil {
				return err
			}
			row.Peak, row.Time = q, EmptyingTime(row.Volume, q)
			if row.GullyFlow != nil {
				row.Buffer = Buffer(row.Volume, q, *row.GullyFlow)
				if head > 0 {
					row.Throttle = unit.Millimetres(math.Floor(1000 * math.Sqrt(float64(*row.GullyFlow)/(discharge*math.Pi/4*math.Sqrt(2*g*head.M()))))) // rounded to what is drilled
				}
			}
		}
		r.Drains = append(r.Drains, row)
	}
	return nil
}
