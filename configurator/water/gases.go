package water

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

const (
	airMargin      = 1.3  // leaks and growth, common practice, no source
	nitrogenBottle = 10.8 // m³ in a 50 L cylinder at 230 bar, makers' sheets
	co2PerHL       = 3.5  // kg/hL, 2 to 5 in small breweries, from memory
)

// ReceiverVolume returns the receiver that keeps a compressor from starting too often.
//
//	V = Q · p0 · s·(1-s) · t / Δp, s = demand/delivery
//
// t is the shortest time between starts, Δp the band of the pressure switch, p0
// 1.013 bar. The worst case is s = 0.5.
//
// Source: mass balance of the receiver; 4 min between starts are common practice, no source.
func ReceiverVolume(delivery unit.VolumeFlow, band unit.PressureDiff, cycle unit.Duration) (unit.Volume, error) {
	if err := unit.Positive("delivery", delivery); err != nil {
		return 0, fmt.Errorf("receiver: %w", err)
	}
	if err := unit.Positive("pressure band", band); err != nil {
		return 0, fmt.Errorf("receiver: %w", err)
	}
	if err := unit.Within("time between starts", cycle, unit.Minutes(1), unit.Hours(1)); err != nil {
		return 0, fmt.Errorf("receiver: %w", err)
	}
	return unit.CubicMetres(delivery.M3H() * 1.013 * 0.25 * cycle.H() / band.Bar()), nil
}

// AirRow is one user of compressed air on the paper.
type AirRow struct {
	Name     string
	Flow     unit.VolumeFlow
	Mean     unit.VolumeFlow
	Pressure unit.GaugePressure
	Class    string // purity it needs
	Words    string
}

// GasResult is the supply of air and gases.
type GasResult struct {
	Air          []AirRow
	AirPeak      unit.VolumeFlow // all at once
	AirMean      unit.VolumeFlow
	AirNeed      unit.VolumeFlow // compressor: the larger of the largest user and the mean, with a margin
	Pressure     unit.GaugePressure
	Receiver     unit.Volume
	ReceiverPV   unit.PressureEnergy // of the compressor's receiver, or the proposed one
	CO2Week      unit.Mass
	Cylinders    int // a week; 0 where cylinders are not used
	Nitrogen     unit.Volume
	NitrogenSets int // 50 L cylinders at 230 bar a week
	Schedule     []Line
}

func sizeGas(in Input) (GasResult, error) {
	var r GasResult
	g := in.Air
	largest := unit.VolumeFlow(0)
	for _, u := range g.Users {
		if err := unit.Positive("air flow of "+u.Name, u.Flow); err != nil {
			return r, err
		}
		duty := u.Duty.Value()
		if duty == 0 {
			duty = 1
		}
		if err := unit.InRange("duty of "+u.Name, duty, 0, 1); err != nil {
			return r, err
		}
		row := AirRow{Name: u.Name, Flow: u.Flow, Mean: unit.M3PerSecond(u.Flow.M3S() * duty), Pressure: u.Pressure, Class: "2.4.2", Words: "instrument air, common practice"}
		if u.Product {
			row.Class, row.Words = "1.4.1", "touches the product: sterile filter 0.2 µm at the point of use, common practice"
		}
		r.Air = append(r.Air, row)
		r.AirPeak += row.Flow
		r.AirMean += row.Mean
		r.Pressure = max(r.Pressure, u.Pressure)
		largest = max(largest, u.Flow)
	}
	r.AirNeed = unit.M3PerSecond(max(largest.M3S(), r.AirMean.M3S()) * airMargin)
	if r.AirNeed > 0 {
		var err error
		if r.Receiver, err = ReceiverVolume(r.AirNeed, unit.Bars(2), unit.Minutes(4)); err != nil {
			return r, err
		}
		r.ReceiverPV = unit.BarLitres((r.Pressure.BarG() + 2) * r.Receiver.L())
	}
	if c := g.Compressor; c != nil {
		r.ReceiverPV = unit.BarLitres(c.Pressure.BarG() * c.Receiver.L())
	}
	rate := g.CO2PerHL.KgHL()
	if rate == 0 {
		rate = co2PerHL
	}
	r.CO2Week = unit.Kilograms(rate * in.BeerWeek.HL())
	if g.Cylinder > 0 {
		r.Cylinders = int(math.Ceil(r.CO2Week.Kg()/g.Cylinder.Kg() - 1e-9))
	}
	r.Nitrogen = g.Nitrogen
	r.NitrogenSets = int(math.Ceil(g.Nitrogen.M3()/nitrogenBottle - 1e-9))
	return r, nil
}

func gasSchedule(in Input, r GasResult) []Line {
	var lines []Line
	if len(r.Air) > 0 {
		lines = append(lines, Line{Label: "Compressed air, all at once", Value: r.AirPeak}, Line{Label: "Compressed air, mean", Value: r.AirMean}, Line{Label: "Compressor", Value: r.AirNeed, Note: "free air, 30 % margin, common practice"}, Line{Label: "Pressure at the user", Value: r.Pressure}, Line{Label: "Receiver", Value: r.Receiver, Note: "15 starts an hour, 2 bar band, common practice"}, Line{Label: "Receiver pressure times volume", Value: r.ReceiverPV, Note: "250 bar·L: written scheme in Great Britain"})
	}
	lines = append(lines, Line{Label: "Carbon dioxide in a week", Value: r.CO2Week, Note: "food grade, at least 99.9 %, batch label; 2 to 5 kg/hL from memory"})
	if r.Cylinders > 0 {
		lines = append(lines, Line{Label: "Cylinders in a week", Text: unit.Digits(float64(r.Cylinders), 4), Note: in.Air.Cylinder.String() + " each; chained, outdoors or in a ventilated store"})
	}
	if r.Nitrogen > 0 {
		lines = append(lines, Line{Label: "Nitrogen in a week", Value: r.Nitrogen, Note: unit.Digits(float64(r.NitrogenSets), 4) + " cylinders of 10.8 m³"})
		if in.Air.Generator {
			lines = append(lines, Line{Label: "Nitrogen generator", Text: "dry air in; its oxygen-rich reject gas is piped outdoors"})
		}
	}
	return append(lines, Line{Label: "Each outlet", Text: "regulator with relief valve downstream, set no higher than the lowest rated pressure behind it"})
}
