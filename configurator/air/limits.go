package air

import (
	_ "embed"
	"fmt"
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

//go:embed tables/limits.csv
var limitsCSV string

var (
	limitTable = source.MustTable("limits", limitsCSV)
	eh40       = source.Doc{ID: "EH40/2005", Title: "Workplace exposure limits", Edition: "4th ed. 2020"}
	// exposure is where the limits stand in Great Britain; the finding compares with
	// those of the site's own country.
	exposure = source.Ref{Doc: eh40, Place: "Table 1", Provenance: source.LookedUp, Note: "in Great Britain; elsewhere the limits of the site's country"}
	gn30     = source.Doc{ID: "BCGA GN30", Title: "The safe use of gases in the beverage dispense industry"}
	// detection is guidance of Great Britain.
	detection = source.Ref{Doc: gn30, Place: "gas detection", Provenance: source.LookedUp, Note: "in Great Britain; elsewhere the local equivalent"}
	coshh     = source.Doc{ID: "COSHH 2002", Title: "Control of Substances Hazardous to Health Regulations 2002", Edition: "SI 2002/2677"}
	// coshhLowPoint is the duty to control exposure; that detection controls it at a low
	// point is guidance.
	coshhLowPoint = source.Ref{Doc: coshh, Place: "reg. 7", Provenance: source.FromMemory, Note: "in Great Britain, elsewhere the local equivalent: exposure shall be prevented or adequately controlled; detection at a low point is how BCGA GN30 does it"}
)

// Limit is one exposure limit or alarm level.
type Limit struct {
	Code      string
	Role      string // "long", "short", "danger", "low", "high"
	Share     unit.VolumeFraction
	Averaging unit.Duration // 0 where none
	Source    source.Ref
}

// Limits gives the exposure limits of a country: for the shift, for a short time, of
// immediate danger, then the alarm levels of its fire code.
func Limits(c Country) ([]Limit, error) {
	if c == "" {
		c = GB
	}
	if l, ok := limitsOf[c]; ok {
		return l, nil
	}
	return nil, fmt.Errorf("country %q has no exposure limits here: use GB, IE, DE or US", c)
}

// limitsOf is read once from the table; nobody writes to it afterwards.
var limitsOf = readLimits()

func readLimits() map[Country][]Limit {
	all := map[Country][]Limit{}
	for r := range limitTable.Len() {
		ppm, _ := limitTable.Number(r, "ppm")
		minutes, _ := limitTable.Number(r, "minutes")
		c := Country(limitTable.Text(r, "country"))
		doc := source.Doc{ID: limitTable.Text(r, "words")}
		ref := doc.At("")
		if limitTable.Text(r, "basis") == "memory" {
			ref = doc.Recalled("")
		}
		all[c] = append(all[c], Limit{Code: limitTable.Text(r, "code"), Role: limitTable.Text(r, "role"), Share: unit.PPM(ppm), Averaging: unit.Minutes(minutes), Source: ref})
	}
	return all
}

// role finds the limit that plays a part; every country has long, short and danger.
func role(limits []Limit, name string) Limit {
	for _, l := range limits {
		if l.Role == name {
			return l
		}
	}
	return Limit{}
}

// AlarmPoints are the set points of a carbon dioxide alarm.
type AlarmPoints struct {
	Fan      unit.VolumeFraction // stage 1: fans to full, find the leak
	Evacuate unit.VolumeFraction // stage 2: everybody out, doors shut, nobody in
	Third    unit.VolumeFraction // stage 3 where used
	HeadLow  unit.Length         // height of the sensing head above the floor
	HeadHigh unit.Length
	Words    []string // ready to print
}

// alarms sets the points by country.
//
// Source: shift and short-term limits of the country; in the US the levels of
// IFC 5307. Heads about 300 mm above the floor and warnings outside the room: BGN on
// gas alarms to DIN 6653-2, which warn at 15 000 and 30 000 ppm in dispense
// installations. The third stage elsewhere is common practice, no source.
func alarms(c Country, limits []Limit) AlarmPoints {
	p := AlarmPoints{Fan: role(limits, "long").Share, Evacuate: role(limits, "short").Share, Third: unit.PPM(30000), HeadLow: unit.Millimetres(300), HeadHigh: unit.Millimetres(450)}
	if c == US {
		p.Fan, p.Evacuate, p.Third = role(limits, "low").Share, role(limits, "high").Share, role(limits, "danger").Share
	}
	p.Words = []string{
		"Stage 1 at " + p.Fan.String() + ": lamp and display, extract fan to full, find the leak.",
		"Stage 2 at " + p.Evacuate.String() + ": sounder and beacon in the room and outside every door; leave, keep others out.",
		"Stage 3 at " + p.Third.String() + ": shut gas supplies, call the emergency services.",
		"Sensing heads 300 to 450 mm above the floor, one in every pit and at every low point; display and sounder outside every door.",
		"Fan-flow failure and loss of the detector's mains raise the alarm too.",
		"Personal exposure is judged by a personal monitor, not by the fixed detector.",
	}
	if c == DE {
		p.Words = append(p.Words, "Alarms of dispense installations to DIN 6653-2 warn at 15 000 ppm and give the main alarm at 30 000 ppm (BGN); the lower points above are taken for the brewery.")
	}
	return p
}

// Danger is a level of carbon dioxide at which a share of people dies.
type Danger struct {
	Minutes unit.Duration
	SLOT    unit.VolumeFraction // severe distress; 1 to 5 % fatalities
	SLOD    unit.VolumeFraction // half fatal
}

// ToxicLoad gives the concentrations of the dangerous toxic load for a time.
//
//	c⁸·t = 1.5·10⁴⁰ (SLOT), 1.5·10⁴¹ (SLOD) ppm⁸·min
//
// Source: HSE, toxicity levels of chemicals, from memory.
func ToxicLoad(t unit.Duration) (Danger, error) {
	if err := unit.Within("exposure time", t, unit.Minutes(1), unit.Hours(8)); err != nil {
		return Danger{}, fmt.Errorf("toxic load: %w", err)
	}
	eighthRoot := func(x float64) unit.VolumeFraction { return unit.PPM(math.Pow(x, 1.0/8)) }
	return Danger{Minutes: t, SLOT: eighthRoot(1.5e40 / t.Min()), SLOD: eighthRoot(1.5e41 / t.Min())}, nil
}
