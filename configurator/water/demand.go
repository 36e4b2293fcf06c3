package water

import (
	_ "embed"
	"fmt"
	"math"
	"sort"
	"strings"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

//go:embed tables/fixtures.csv
var fixturesCSV string

var (
	fixtures = source.MustTable("fixtures", fixturesCSV)
	din1988  = source.Doc{ID: "DIN 1988-300", Title: "Codes of practice for drinking water installations: pipe sizing", Edition: "2012"}
	en806    = source.Doc{ID: "EN 806-3", Title: "Specifications for installations inside buildings conveying water for human consumption: pipe sizing", Edition: "2006"}
)

// FixtureDemand gives the loading units and the summed draw-off flow of fixtures.
//
// Source: EN 806-3:2006 Table 2.
func FixtureDemand(list []Fixture) (unit.LoadingUnits, unit.VolumeFlow, error) {
	lu, flow := 0.0, 0.0
	for _, f := range list {
		row, ok := fixtures.Find("outlet", f.Kind)
		if !ok {
			return 0, 0, fmt.Errorf("fixture %q is not in EN 806-3 Table 2: use one of %s", f.Kind, strings.Join(texts(fixtures, "outlet"), ", "))
		}
		if f.Count < 0 {
			return 0, 0, fmt.Errorf("fixture %q: count %d must not be negative", f.Kind, f.Count)
		}
		q, _ := fixtures.Number(row, "qa_l_s")
		u, _ := fixtures.Number(row, "lu")
		flow += q * float64(f.Count)
		lu += u * float64(f.Count)
	}
	return unit.LoadUnits(lu), unit.LitresPerSecond(flow), nil
}

// DiversityFlow returns the peak of sanitary fixtures in a place of work.
//
//	Q = 0.91 · (ΣQA)^0.31 - 0.38, both in L/s
//
// Never above ΣQA. Valid for 0.2…500 L/s; below, all run at once. Only for what
// people draw by chance: scheduled draws of the process run at full flow.
//
// Source: DIN 1988-300:2012, peak flow, office buildings, from memory.
func DiversityFlow(sum unit.VolumeFlow) (unit.VolumeFlow, error) {
	if err := unit.Within("summed draw-off flow", sum, 0, unit.LitresPerSecond(500)); err != nil {
		return 0, fmt.Errorf("peak of fixtures: %w", err)
	}
	if sum.LS() < 0.2 {
		return sum, nil
	}
	return unit.LitresPerSecond(min(0.91*math.Pow(sum.LS(), 0.31)-0.38, sum.LS())), nil
}

func texts(t source.Table, column string) []string {
	all := make([]string, t.Len())
	for i := range all {
		all[i] = t.Text(i, column)
	}
	return all
}

// Step is a stretch of the day in which the flow does not change.
type Step struct {
	From, To unit.Duration
	Flow     unit.VolumeFlow
	Draws    []int // which of the draws run
}

// DrawRow is one draw on the paper.
type DrawRow struct {
	Name   string
	Start  unit.Duration
	End    unit.Duration
	Volume unit.Volume
	Flow   unit.VolumeFlow
	Break  bool
}

// FixtureRow is one kind of sanitary outlet on the paper.
type FixtureRow struct {
	Kind  string
	Count int
	Each  unit.VolumeFlow // draw-off flow of one
	Units unit.LoadingUnits
	Sum   unit.VolumeFlow
}

// Demand is the water of the busiest day.
type Demand struct {
	Fixtures    []FixtureRow
	Units       unit.LoadingUnits // of the fixtures
	FixtureSum  unit.VolumeFlow
	FixturePeak unit.VolumeFlow
	Draws       []DrawRow
	Steps       []Step          // every draw, in time order
	Peak        unit.VolumeFlow // process on main and break tank together, with fixtures
	ProcessPeak unit.VolumeFlow
	PeakAt      unit.Duration
	PeakDraws   []string
	MainPeak    unit.VolumeFlow // what the main sees at once: direct draws and fixtures; the tank fills slowly
	Day         unit.Volume
	Process     unit.Volume
	Sanitary    unit.Volume
	PerBeer     unit.Ratio      // volume of water on one of beer; 0 where the beer is unknown
	TankFlow    unit.VolumeFlow // steady fill that carries the break tank through 24 h
}

func drawFlow(d Draw) (unit.VolumeFlow, unit.Volume, error) {
	if err := unit.Within("start of "+d.Name, d.Start, 0, unit.Days(1)); err != nil {
		return 0, 0, err
	}
	if err := unit.Within("length of "+d.Name, d.Length, unit.Seconds(1), unit.Days(1)); err != nil {
		return 0, 0, err
	}
	if d.Flow > 0 {
		return d.Flow, unit.CubicMetres(d.Flow.M3S() * d.Length.S()), nil
	}
	if err := unit.NotNegative("volume of "+d.Name, d.Volume); err != nil {
		return 0, 0, err
	}
	return unit.M3PerSecond(d.Volume.M3() / d.Length.S()), d.Volume, nil
}

// Timeline lays the draws over the day; a draw past midnight comes round to the
// morning, since the busiest day may follow another.
func Timeline(draws []Draw) ([]Step, []DrawRow, error) {
	rows := make([]DrawRow, 0, len(draws))
	cuts := make([]float64, 0, 4*len(draws)+2)
	cuts = append(cuts, 0, 86400)
	for _, d := range draws {
		q, v, err := drawFlow(d)
		if err != nil {
			return nil, nil, err
		}
		end := d.Start.S() + d.Length.S()
		cuts = append(cuts, d.Start.S(), min(end, 86400))
		if end > 86400 {
			cuts = append(cuts, end-86400)
		}
		rows = append(rows, DrawRow{Name: d.Name, Start: d.Start, End: unit.Seconds(end), Volume: v, Flow: q, Break: d.Break})
	}
	sort.Float64s(cuts)
	steps := make([]Step, 0, len(cuts))
	for i := 1; i < len(cuts); i++ {
		if cuts[i]-cuts[i-1] < 1e-6 {
			continue
		}
		mid := (cuts[i] + cuts[i-1]) / 2
		s := Step{From: unit.Seconds(cuts[i-1]), To: unit.Seconds(cuts[i])}
		for j, r := range rows {
			if mid > r.Start.S() && mid < r.End.S() || mid+86400 < r.End.S() {
				s.Flow += r.Flow
				s.Draws = append(s.Draws, j)
			}
		}
		steps = append(steps, s)
	}
	return steps, rows, nil
}

func sizeDemand(in Input) (Demand, error) {
	var d Demand
	var err error
	if d.Units, d.FixtureSum, err = FixtureDemand(in.Fixtures); err != nil {
		return d, err
	}
	for _, f := range in.Fixtures {
		lu, sum, _ := FixtureDemand([]Fixture{f}) // was read above
		row := FixtureRow{Kind: f.Kind, Count: f.Count, Units: lu, Sum: sum}
		if f.Count > 0 {
			row.Each = unit.M3PerSecond(sum.M3S() / float64(f.Count))
		}
		d.Fixtures = append(d.Fixtures, row)
	}
	if d.FixturePeak, err = DiversityFlow(d.FixtureSum); err != nil {
		return d, err
	}
	if d.Steps, d.Draws, err = Timeline(in.Draws); err != nil {
		return d, err
	}
	tank := 0.0
	for _, r := range d.Draws {
		d.Process += r.Volume
		if r.Break {
			tank += r.Volume.M3()
		}
	}
	d.TankFlow = unit.M3PerSecond(tank / 86400)
	main := unit.VolumeFlow(0)
	for _, s := range d.Steps {
		direct := unit.VolumeFlow(0)
		for _, j := range s.Draws {
			if !d.Draws[j].Break {
				direct += d.Draws[j].Flow
			}
		}
		main = max(main, direct)
		if s.Flow > d.ProcessPeak {
			d.ProcessPeak, d.PeakAt = s.Flow, s.From
			d.PeakDraws = d.PeakDraws[:0]
			for _, j := range s.Draws {
				d.PeakDraws = append(d.PeakDraws, d.Draws[j].Name)
			}
		}
	}
	d.Peak = d.ProcessPeak + d.FixturePeak
	d.MainPeak = main + d.FixturePeak + d.TankFlow + in.Supply.Others
	d.Sanitary = unit.Litres(sanitaryPerUnit * d.Units.LU())
	d.Day = d.Process + d.Sanitary
	if in.BeerPerDay > 0 {
		d.PerBeer = unit.Fraction(d.Day.M3() / in.BeerPerDay.M3())
	}
	return d, nil
}

// sanitaryPerUnit is the day's water of a loading unit in a place of work, L:
// common practice, no source.
const sanitaryPerUnit = 40.0

// TankVolume returns the break tank that carries the draws with a steady inflow.
//
//	V = max over all stretches of ∫(draw - inflow) dt
//
// ok is false where the day draws more than the inflow brings. The day repeats, so
// the stretch may run over midnight.
//
// Source: mass balance of the tank.
func TankVolume(steps []Step, inflow unit.VolumeFlow) (v unit.Volume, ok bool) {
	total := 0.0
	for _, s := range steps {
		total += s.Flow.M3S() * (s.To.S() - s.From.S())
	}
	if total > inflow.M3S()*86400*(1+1e-9) {
		return 0, false
	}
	run, worst := 0.0, 0.0
	for range 2 {
		for _, s := range steps {
			run = max(run+(s.Flow.M3S()-inflow.M3S())*(s.To.S()-s.From.S()), 0)
			worst = max(worst, run)
		}
	}
	return unit.CubicMetres(worst), true
}
