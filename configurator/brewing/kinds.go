package brewing

import (
	"fmt"
	"sync"

	"tunwright/catalog/unit"
)

// Kind is a kind of beer: a row of tables/kinds.csv.
type Kind string

// The kinds of beer of the house.
const (
	CaskAle    Kind = "cask-ale"
	KegAle     Kind = "keg-ale"
	IPA        Kind = "ipa"
	Wheat      Kind = "wheat"
	Lager      Kind = "lager"
	Strong     Kind = "strong"
	KettleSour Kind = "kettle-sour"
	MixedSour  Kind = "mixed-sour"
)

// KindDefaults is what the trade takes for a kind of beer.
type KindDefaults struct {
	Kind                                Kind
	Label                               string
	Ferment, Mature, Cold, Turn, Bright int // days
	PitchTemp, FermentTemp, ColdTemp    unit.Temperature
	Headspace, Loss                     unit.Ratio
	KettleSpace                         unit.Ratio // headspace of the kettle
	CO2                                 unit.Carbonation
	PeakHeat                            unit.PowerPerVolume
	Hops                                unit.Density
	Yeast                               unit.Concentration
	KettleDays                          int // days a kettle sour holds the kettle before the boil
	Class                               string
}

// Kinds lists the kinds of beer with their defaults, in the order of the table.
// The table cannot change while the program runs, so it is read once.
var Kinds = sync.OnceValue(readKinds)

func readKinds() []KindDefaults {
	t := kindsTable
	out := make([]KindDefaults, t.Len())
	for i := range out {
		num := func(col string) float64 { x, _ := t.Number(i, col); return x }
		out[i] = KindDefaults{
			Kind: Kind(t.Text(i, "kind")), Label: t.Text(i, "label"),
			Ferment: int(num("ferment_days")), Mature: int(num("mature_days")), Cold: int(num("cold_days")),
			Turn: int(num("turn_days")), Bright: int(num("bright_days")),
			PitchTemp: unit.Celsius(num("pitch_c")), FermentTemp: unit.Celsius(num("ferment_c")), ColdTemp: unit.Celsius(num("cold_c")),
			Headspace: unit.Fraction(num("headspace")), KettleSpace: unit.Fraction(num("kettle_headspace")), Loss: unit.Fraction(num("fv_loss")), CO2: unit.CO2GramsPerLitre(num("co2_g_l")),
			PeakHeat: unit.WattsPerHL(num("peak_w_hl")), Hops: unit.KgPerHL(num("hops_kg_hl")),
			Yeast: unit.GramsPerLitre(num("yeast_g_hl") / 100), KettleDays: int(num("kettle_days")), Class: t.Text(i, "dedicated"),
		}
	}
	return out
}

// DefaultsOf gives the defaults of a kind of beer.
func DefaultsOf(k Kind) (KindDefaults, error) {
	for _, d := range Kinds() {
		if d.Kind == k {
			return d, nil
		}
	}
	return KindDefaults{}, fmt.Errorf("kind of beer %q is not known: use cask-ale, keg-ale, ipa, wheat, lager, strong, kettle-sour or mixed-sour", k)
}
