package brewing_test

import (
	"fmt"

	"tunwright/catalog/unit"
	"tunwright/configurator/brewing"
)

// A client wants to sell 400 hL of keg ale and 200 hL of lager, brewing three times in
// a peak week.
func ExampleSize() {
	plan, err := brewing.Size(brewing.Input{
		Beers: []brewing.Beer{
			{Name: "Pale", Kind: brewing.KegAle, Yearly: unit.Hectolitres(400), OE: unit.DegreesPlato(11.5), AE: unit.DegreesPlato(2.4)},
			{Name: "Lager", Kind: brewing.Lager, Yearly: unit.Hectolitres(200), OE: unit.DegreesPlato(12), AE: unit.DegreesPlato(2.3)},
		},
		Year: brewing.Year{Weeks: 48, BrewsPerWeek: unit.Fraction(3)},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("brew length", unit.In(plan.BrewLength, "hl", 0))
	for _, b := range plan.Beers {
		fmt.Printf("%s: %d batches of %d brews, %s of malt a brew, %s\n", b.Beer.Name, b.Batches, b.BrewsPerTank, unit.Fixed(b.Brew.Malt, 0), unit.Fixed(b.Charge.Attenuation.ABV, 1))
	}
	for _, c := range plan.Classes {
		fmt.Printf("%s: %d tanks of %s gross\n", c.Name, c.Needed, unit.In(c.Gross, "hl", 1))
	}
	fmt.Println(plan.Bottleneck.Words)
	// Output:
	// brew length 8 hL
	// Pale: 28 batches of 2 brews, 143 kg of malt a brew, 4.9 % ABV
	// Lager: 14 batches of 2 brews, 150 kg of malt a brew, 5.2 % ABV
	// FV16: 3 tanks of 21.3 hL gross
	// BBT16: 2 tanks of 17.1 hL gross
	// fermenters FV16 fill first: 80% taken in the peak
}
