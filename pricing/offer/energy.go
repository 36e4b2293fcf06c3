package offer

import (
	"fmt"

	"tunwright/catalog/strict"
	"tunwright/catalog/unit"
	"tunwright/configurator/electrical"
	"tunwright/configurator/enquiry"
	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
)

// Tariff is what the client pays for a kilowatt-hour by the contract of the supply,
// in the job's currency, without value added tax and standing charges. A night rate
// holds from its first to its last hour and may pass midnight.
type Tariff struct {
	PerKWh    decimal.Decimal  `yaml:"per_kwh,required"`
	Night     *decimal.Decimal `yaml:"night_per_kwh"`
	NightFrom unit.Duration    `yaml:"night_from_h,omitempty" range:"0..24"`
	NightTo   unit.Duration    `yaml:"night_to_h,omitempty" range:"0..24"`
	Source    string           `yaml:"source,required" doc:"the bill or offer the rates stand in"`
	Date      enquiry.Date     `yaml:"date,required"`
}

// check refuses rates below zero and a night without hours, which would be billed
// at the day's rate in silence.
func (t *Tariff) check(file string) strict.Problems {
	if t == nil {
		return nil
	}
	var out strict.Problems
	fail := func(field, message, help string) {
		out = append(out, strict.Problem{File: file, Field: "commercial.tariff." + field, Message: message, WouldHelp: help})
	}
	if t.PerKWh.Sign() < 0 {
		fail("per_kwh", t.PerKWh.String()+" is below zero", "enter what a kilowatt-hour costs, such as 0.2650")
	}
	if t.Night == nil {
		return out
	}
	if t.Night.Sign() < 0 {
		fail("night_per_kwh", t.Night.String()+" is below zero", "enter what a kilowatt-hour costs at night, such as 0.1780")
	}
	if t.NightFrom == t.NightTo {
		fail("night_to_h", "the night rate holds for no hour", "enter the hours of the night rate, such as night_from_h: 0 and night_to_h: 7")
	}
	return out
}

// RunningCost is what the electricity of a brew day costs the client.
type RunningCost struct {
	Tariff                Tariff
	Day, Night            unit.Energy // by rate
	BrewDay, Brew         money.Amount
	PerHectolitre         *money.Amount // of the brewhouse's volume; nil where none is known
	EnergyDay, EnergyBrew unit.Energy
	EnergyVolume          *unit.EnergyPerVolume
}

// Running gives what a brew day costs: Σ over the 48 half hours of the day of their
// energy times the rate in force when they begin; a brew takes its share of the day
// (E_brew / E_day) and a hectolitre its share of the brew. Rounded once, at the end.
// ok is false where no tariff is entered or the electrical side was not worked out.
//
// Source: derived; energy is billed by the half hour (see electrical.Energy).
func Running(o Offer) (cost RunningCost, ok bool, err error) {
	t := o.Job.Terms.Tariff
	if t == nil || o.Report.Electrical == nil {
		return RunningCost{}, false, nil
	}
	e := o.Report.Electrical.Energy
	day, brew := kWh(e.Day), kWh(e.Brew)
	if day.Sign() <= 0 {
		return RunningCost{}, false, nil
	}
	cost = RunningCost{Tariff: *t, EnergyDay: e.Day, EnergyBrew: e.Brew, EnergyVolume: e.PerVolume}
	cost.Day, cost.Night = t.split(e.HalfHours)
	sum := kWh(cost.Day).Mul(t.PerKWh)
	if t.Night != nil {
		sum = sum.Add(kWh(cost.Night).Mul(*t.Night))
	}
	currency := o.Request.Currency
	share := func(of decimal.Decimal) (money.Amount, error) {
		a, err := money.FromDecimal(of, currency)
		return a.Round(), err
	}
	const places = 12 // of a quotient that goes on into a product
	perBrew := sum.Mul(brew).DivRound(day, places)
	if cost.BrewDay, err = share(sum); err != nil {
		return RunningCost{}, false, fmt.Errorf("commercial.tariff: %w", err)
	}
	if cost.Brew, err = share(perBrew); err != nil {
		return RunningCost{}, false, fmt.Errorf("commercial.tariff: %w", err)
	}
	if e.PerVolume != nil && brew.Sign() > 0 {
		per, err := share(perBrew.Mul(decimal.NewFromFloat(e.PerVolume.KWhHL())).DivRound(brew, places))
		if err != nil {
			return RunningCost{}, false, fmt.Errorf("commercial.tariff: %w", err)
		}
		cost.PerHectolitre = &per
	}
	return cost, true, nil
}

// split tells how much of the half hours falls on the day's and on the night's rate.
func (t Tariff) split(halves []electrical.HalfHour) (day, night unit.Energy) {
	for _, h := range halves {
		if t.Night != nil && t.atNight(h.Start) {
			night += h.Energy
		} else {
			day += h.Energy
		}
	}
	return day, night
}

func (t Tariff) atNight(at unit.Duration) bool {
	if t.NightFrom <= t.NightTo {
		return at >= t.NightFrom && at < t.NightTo
	}
	return at >= t.NightFrom || at < t.NightTo
}

// kWh carries an energy into exact arithmetic at the tenth of a watt-hour a meter
// could show.
func kWh(e unit.Energy) decimal.Decimal { return decimal.NewFromFloat(e.KWh()).Round(4) }
