package catalog

import (
	"cmp"
	"fmt"
	"slices"

	"tunwright/catalog/unit"
)

// largest is the highest output in the rating table.
func (c *Chiller) largest() unit.Power {
	var most unit.Power
	for _, r := range c.Ratings {
		most = max(most, r.Capacity)
	}
	return most
}

// Axes lists the leaving and ambient temperatures of the rating table, rising.
func (c *Chiller) Axes() (leaving, ambient []unit.Temperature) {
	for _, r := range c.Ratings {
		leaving = append(leaving, r.Leaving)
		ambient = append(ambient, r.Ambient)
	}
	slices.Sort(leaving)
	slices.Sort(ambient)
	return slices.Compact(leaving), slices.Compact(ambient)
}

// rating gives the place of one point in the table, or -1.
func (c *Chiller) rating(leaving, ambient unit.Temperature) int {
	return slices.IndexFunc(c.Ratings, func(r Rating) bool { return r.Leaving == leaving && r.Ambient == ambient })
}

func (c *Chiller) check(fs *faults) {
	if c.MinFlow > c.MaxFlow {
		fs.add("chiller.min_flow_m3_h", "the least flow is above the largest", "exchange them")
	}
	if (c.PumpHead > 0) != (c.ShutOff > 0) || c.ShutOff < c.PumpHead {
		fs.add("chiller.pump_shut_off_bar", "a built-in pump has a head at the rated flow and a higher one against a closed valve", "give pump_head_bar and pump_shut_off_bar, or neither")
	}
	leaving, ambient := c.Axes()
	if len(leaving) < 2 || len(ambient) < 2 {
		fs.add("chiller.ratings", "the rating table has too few points", "give at least two leaving and two ambient temperatures")
		return
	}
	if c.checkGrid(fs, leaving, ambient) {
		c.checkTrend(fs, leaving, ambient)
	}
	if c.MinLeaving > leaving[len(leaving)-1] {
		fs.add("chiller.min_leaving_c", "the coldest leaving temperature is above the whole rating table", "it lies within the table or below")
	}
	for i, r := range c.Ratings {
		if eer := r.Capacity.SI() / r.Input.SI(); eer < minEER || eer > maxEER {
			fs.add(fmt.Sprintf("chiller.ratings[%d].input_kw", i+1), fmt.Sprintf("%s of cooling from %s gives a ratio of %s", r.Capacity, r.Input, unit.Digits(eer, 2)), "an air-cooled chiller lies between 1 and 6")
		}
	}
}

// Cooling over electrical input of air-cooled packaged chillers at brewery
// temperatures. Common practice, no source.
const minEER, maxEER = 1, 6

// checkGrid tells whether every leaving temperature is rated at every ambient once.
func (c *Chiller) checkGrid(fs *faults, leaving, ambient []unit.Temperature) bool {
	whole := true
	for _, l := range leaving {
		for _, a := range ambient {
			if c.rating(l, a) < 0 {
				fs.add("chiller.ratings", fmt.Sprintf("the rating at %s leaving and %s ambient is missing", l, a), "the table has every leaving temperature at every ambient")
				whole = false
			}
		}
	}
	if whole && len(c.Ratings) != len(leaving)*len(ambient) {
		fs.add("chiller.ratings", "a rating stands there twice", fmt.Sprintf("keep %d points, one for each pair of temperatures", len(leaving)*len(ambient)))
		return false
	}
	return whole
}

// checkTrend holds the physics: less output the hotter the air, more the warmer the
// coolant, and more input the hotter the air.
func (c *Chiller) checkTrend(fs *faults, leaving, ambient []unit.Temperature) {
	for _, l := range leaving {
		for k := 1; k < len(ambient); k++ {
			cool, hot := c.rating(l, ambient[k-1]), c.rating(l, ambient[k])
			if c.Ratings[hot].Capacity >= c.Ratings[cool].Capacity {
				fs.add(fmt.Sprintf("chiller.ratings[%d].capacity_kw", hot+1), fmt.Sprintf("at %s leaving the output does not fall from %s to %s ambient", l, ambient[k-1], ambient[k]), "hotter air leaves less cooling: check the row")
			}
			if c.Ratings[hot].Input <= c.Ratings[cool].Input {
				fs.add(fmt.Sprintf("chiller.ratings[%d].input_kw", hot+1), fmt.Sprintf("at %s leaving the input does not rise from %s to %s ambient", l, ambient[k-1], ambient[k]), "hotter air takes more power: check the row")
			}
		}
	}
	for _, a := range ambient {
		for k := 1; k < len(leaving); k++ {
			cold, warm := c.rating(leaving[k-1], a), c.rating(leaving[k], a)
			if cmp.Compare(c.Ratings[warm].Capacity, c.Ratings[cold].Capacity) <= 0 {
				fs.add(fmt.Sprintf("chiller.ratings[%d].capacity_kw", warm+1), fmt.Sprintf("at %s ambient the output does not rise from %s to %s leaving", a, leaving[k-1], leaving[k]), "warmer coolant gives more cooling: check the row")
			}
		}
	}
}
