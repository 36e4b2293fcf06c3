package offer_test

import (
	"strings"
	"testing"

	"tunwright/catalog/strict"
	"tunwright/catalog/unit"
	"tunwright/configurator/electrical"
	"tunwright/pricing/offer"

	"github.com/shopspring/decimal"
)

// A day of 48 half hours at 1 kWh each, by hand: 14 at night at 0.10 and 34 by day at
// 0.30 are 1.40 + 10.20 = 11.60; two brews of 5.80, of 10 hL 0.58 each hectolitre.
func TestRunningCostByHand(t *testing.T) {
	night := decimal.New(10, -2)
	for name, tt := range map[string]struct {
		tariff            offer.Tariff
		day, brew, perVol string
	}{
		"two rates":           {offer.Tariff{PerKWh: decimal.New(30, -2), Night: &night, NightTo: unit.Hours(7)}, "11.60", "5.80", "0.58"},
		"night over midnight": {offer.Tariff{PerKWh: decimal.New(30, -2), Night: &night, NightFrom: unit.Hours(22), NightTo: unit.Hours(5)}, "11.60", "5.80", "0.58"},
		"one rate":            {offer.Tariff{PerKWh: decimal.New(30, -2)}, "14.40", "7.20", "0.72"},
	} {
		t.Run(name, func(t *testing.T) {
			per := unit.KWhPerHL(2.4)
			e := electrical.Energy{Day: unit.KilowattHours(48), Brew: unit.KilowattHours(24), PerVolume: &per, HalfHours: make([]electrical.HalfHour, 48)}
			for i := range e.HalfHours {
				e.HalfHours[i] = electrical.HalfHour{Start: unit.Hours(float64(i) / 2), Energy: unit.KilowattHours(1)}
			}
			var o offer.Offer
			o.Request.Currency = "GBP"
			o.Report.Electrical = &electrical.Result{Energy: e}
			o.Job.Terms.Tariff = &tt.tariff
			got, ok, err := offer.Running(o)
			if err != nil || !ok {
				t.Fatal(ok, err)
			}
			if got.BrewDay.Fixed() != tt.day || got.Brew.Fixed() != tt.brew || got.PerHectolitre.Fixed() != tt.perVol {
				t.Errorf("day %s, brew %s, hectolitre %s; want %s, %s, %s", got.BrewDay.Fixed(), got.Brew.Fixed(), got.PerHectolitre.Fixed(), tt.day, tt.brew, tt.perVol)
			}
		})
	}
}

// A plant that takes next to nothing costs nothing; it does not divide by it.
func TestRunningCostOfNextToNothing(t *testing.T) {
	per := unit.KWhPerHL(1)
	for _, e := range []electrical.Energy{
		{Day: unit.KilowattHours(1e-9), Brew: unit.KilowattHours(1e-9), PerVolume: &per},
		{Day: unit.KilowattHours(1), Brew: unit.KilowattHours(1e-9), PerVolume: &per},
	} {
		var o offer.Offer
		o.Request.Currency = "GBP"
		o.Report.Electrical = &electrical.Result{Energy: e}
		o.Job.Terms.Tariff = &offer.Tariff{PerKWh: decimal.New(30, -2)}
		if c, _, err := offer.Running(o); err != nil || c.PerHectolitre != nil {
			t.Errorf("%v: %v, %v", e.Day, c, err)
		}
	}
}

func TestATariffThatCannotBe(t *testing.T) {
	j := arranged(t, house(t), "hill-farm")
	below := decimal.New(-1, -2)
	for field, spoil := range map[string]func(*offer.Tariff){
		"commercial.tariff.per_kwh":       func(t *offer.Tariff) { t.PerKWh = below },
		"commercial.tariff.night_per_kwh": func(t *offer.Tariff) { t.Night = &below },
		"commercial.tariff.night_to_h":    func(t *offer.Tariff) { t.NightTo = t.NightFrom },
	} {
		spoilt := j
		tariff := *j.Terms.Tariff
		spoil(&tariff)
		spoilt.Terms.Tariff = &tariff
		text, err := strict.YAML(spoilt)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := offer.Read("farm.yaml", text); err == nil || !strings.Contains(err.Error(), field) {
			t.Errorf("%s: %v", field, err)
		}
	}
}

func TestRunningCostNeedsATariff(t *testing.T) {
	h := house(t)
	o, err := offer.Make(arranged(t, h, "hill-farm"), h)
	if err != nil {
		t.Fatal(err)
	}
	c, ok, err := offer.Running(o)
	if !ok || err != nil || c.BrewDay.Decimal().Sign() <= 0 {
		t.Errorf("the farm states a tariff: %v %v %s", ok, err, c.BrewDay.Fixed())
	}
	t.Logf("farm: %s a brew day, %s a brew, day %s, night %s", c.BrewDay.Fixed(), c.Brew.Fixed(), c.Day, c.Night)
	o.Job.Terms.Tariff = nil
	if _, ok, _ := offer.Running(o); ok {
		t.Error("a cost without a tariff")
	}
}
