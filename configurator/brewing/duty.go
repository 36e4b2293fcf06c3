package brewing

import (
	"fmt"
	"sort"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

// Duty is the thresholds of relief that a plan lies at. No amounts of duty are
// given: rates change every February. Every row asks to check the current text.
type Duty struct {
	Rows []DutyRow
	// Steps are the relief steps of the plan's pure alcohol.
	PureAlcohol unit.Volume
	Step        string
	Next        unit.Volume // the next step above; 0 where there is none
	ToNext      unit.Volume
}

// DutyRow is one threshold.
type DutyRow struct {
	Name       string
	Threshold  string
	Plan       string
	Met        bool
	Instrument source.Ref
	Note       string
}

// CheckText is printed below every statement on duty.
const CheckText = "check the current text"

const (
	reliefAlcohol = 450000.0 // L: 4,500 hL of pure alcohol, section 54
	reliefABV     = 8.5      // % ABV
	draughtLitres = 20.0     // L, container of draught relief
)

// duty sets the year against the thresholds of the country.
func (s *settled) duty(r *Result) Duty {
	d := Duty{PureAlcohol: r.Totals.PureAlcohol}
	switch s.Country {
	case "GB":
		s.britain(r, &d)
	case "IE":
		s.ireland(r, &d)
	}
	return d
}

func (s *settled) britain(r *Result, d *Duty) {
	lpa := r.Totals.PureAlcohol
	spr := docSPR.At("ss. 54 to 59 and sch. 9")
	d.Rows = append(d.Rows, DutyRow{
		Name: "small producer relief", Threshold: "4,500 hL of pure alcohol in a production year (1 February to 31 January)",
		Plan: unit.In(lpa, "hl", 1) + " of pure alcohol", Met: lpa.L() < reliefAlcohol, Instrument: spr,
		Note: reliefNote(lpa) + CheckText,
	})
	d.Step, d.Next = reliefStep(lpa, 3.5)
	d.ToNext = max(0, d.Next-lpa)
	for i := range r.Beers {
		p := &r.Beers[i]
		abv := p.Charge.DutyABV
		d.Rows = append(d.Rows, DutyRow{
			Name: p.Beer.Name + ": strength", Threshold: "below 8.5 % ABV for relief; below 3.5 % is a band of its own",
			Plan: unit.Fixed(abv, 1), Met: abv.Pct() < reliefABV, Instrument: spr,
			Note: "declared strength by HMRC Notice 226, cut to one decimal; 8.5 % and above counts to the limit without relief; " + CheckText,
		})
		if pk := s.beers[i].Package; pk == "keg" || pk == "cask" {
			d.Rows = append(d.Rows, draught(&s.beers[i], abv))
		}
	}
}

func draught(b *settledBeer, abv unit.ABV) DutyRow {
	return DutyRow{
		Name: b.Name + ": draught relief", Threshold: "below 8.5 % ABV in a container of at least 20 L made for dispense",
		Plan: b.Package + " of " + unit.In(b.Container, "l", 1), Instrument: docDraught.At("qualifying products"), Note: CheckText,
		Met: b.Container.L() >= draughtLitres*(1-1e-9) && abv.Pct() < reliefABV,
	}
}

// reliefNote warns near the limit, where guidance ("4,500 or less") and manual
// (BEER4020, "less than") differ.
func reliefNote(lpa unit.Volume) string {
	note := "hL of pure alcohol, not of beer; all premises of a group count; Northern Ireland sets further limits; "
	if lpa.L() >= 445000 && lpa.L() <= reliefAlcohol {
		note += "within 50 hL of the limit, where guidance and manual differ; "
	}
	return note
}

// reliefStep names the step a year of pure alcohol lies in, for a strength.
func reliefStep(lpa unit.Volume, abv float64) (string, unit.Volume) {
	from := 0.0
	for i := range dutyBandsTable.Len() {
		lo, _ := dutyBandsTable.Number(i, "from_abv")
		hi, _ := dutyBandsTable.Number(i, "below_abv")
		to, _ := dutyBandsTable.Number(i, "to_hl")
		if abv < lo || abv >= hi {
			continue
		}
		if lpa.HL() <= to {
			return fmt.Sprintf("%s to %s hL of pure alcohol", unit.Digits(from, 4), unit.Digits(to, 4)), unit.Hectolitres(to)
		}
		from = to
	}
	return "above the last step", 0
}

func (s *settled) ireland(r *Result, d *Duty) {
	wort := r.Totals.Packaged
	ref := docIreland.At("s. 78A")
	d.Rows = append(d.Rows,
		DutyRow{
			Name: "relief for small breweries", Threshold: "50 % on at most 30,000 hL of beer above 2.8 % in a calendar year",
			Plan: unit.In(wort, "hl", 0), Met: wort.HL() <= 30000, Instrument: ref, Note: "older pages still print 20,000, 40,000 and 50,000 hL; " + CheckText,
		},
		DutyRow{
			Name: "size of the brewery", Threshold: "at most 75,000 hL in the year before", Plan: unit.In(wort, "hl", 0), Met: wort.HL() <= 75000, Instrument: ref,
			Note: "legally and economically independent, own premises, under half made under licence; " + CheckText,
		})
	weak := make([]string, 0, len(r.Beers))
	for i := range r.Beers {
		if r.Beers[i].Charge.Attenuation.ABV.Pct() <= 2.8 {
			weak = append(weak, r.Beers[i].Beer.Name)
		}
	}
	sort.Strings(weak)
	for _, name := range weak {
		d.Rows = append(d.Rows, DutyRow{Name: name + ": strength", Threshold: "above 2.8 % ABV", Plan: "2.8 % ABV or below", Instrument: ref, Note: CheckText})
	}
}
