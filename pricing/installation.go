package pricing

import (
	"fmt"

	"github.com/shopspring/decimal"
)

// Installation is a crew on site for some days.
type Installation struct {
	Ref         string // the lines are named Ref and Ref-subsistence
	Section     string
	Description string // printed before the count of days
	Crew        int
	Days        int    // working days of the crew
	DayCode     string // price of one person for one day
	// Nights is how many nights each person is away; it is usually a day less than
	// the stay, because nobody sleeps away on the last day.
	Nights          int
	SubsistenceCode string // price of one person's night and meals
	DependsOn       []Assumption
}

// Items are the lines of the installation: man-days, and subsistence where the crew
// stays away.
//
//	man-days = crew × days,  nights = crew × nights away
//
// Source: common practice, no source.
func (in Installation) Items() ([]Item, error) {
	var problems Problems
	const most = 1000
	if in.Crew < 1 || in.Crew > most {
		problems.add("installation.crew", "%d people; between 1 and %d", in.Crew, most)
	}
	if in.Days < 1 || in.Days > most {
		problems.add("installation.days", "%d days; between 1 and %d", in.Days, most)
	}
	if in.Nights < 0 || in.Nights > 2*most {
		problems.add("installation.nights", "%d nights; between 0 and %d", in.Nights, 2*most)
	}
	if in.Nights > 0 && in.SubsistenceCode == "" {
		problems.add("installation.subsistence", "missing; the crew is away %d nights", in.Nights)
	}
	if err := problems.err(); err != nil {
		return nil, err
	}
	items := []Item{{
		Ref: in.Ref, Code: in.DayCode, Section: in.Section, Kind: Service, Unit: UnitDay,
		Description: fmt.Sprintf("%s, %d days × crew of %d", in.Description, in.Days, in.Crew),
		Quantity:    decimal.New(int64(in.Crew*in.Days), 0), DependsOn: in.DependsOn,
	}}
	if in.Nights == 0 {
		return items, nil
	}
	return append(items, Item{
		Ref: in.Ref + "-subsistence", Code: in.SubsistenceCode, Section: in.Section, Kind: Expense,
		Description: fmt.Sprintf("Subsistence, %d nights × crew of %d", in.Nights, in.Crew),
		Quantity:    decimal.New(int64(in.Crew*in.Nights), 0), NoDiscount: true, DependsOn: in.DependsOn,
	}), nil
}
