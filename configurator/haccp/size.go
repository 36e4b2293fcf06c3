package haccp

import (
	_ "embed"
	"fmt"
	"strings"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

//go:embed tables/hazards.csv
var hazardsCSV string

//go:embed tables/allergens.csv
var allergensCSV string

//go:embed tables/flow.csv
var flowCSV string

var (
	hazardTable   = source.MustTable("hazards", hazardsCSV)
	allergenTable = source.MustTable("allergens", allergensCSV)
	flowTable     = source.MustTable("flow", flowCSV)
	fic           = source.Doc{ID: "Regulation (EU) 1169/2011", Title: "Food information to consumers"}
	hygiene       = source.Doc{ID: "Regulation (EC) 852/2004", Title: "Hygiene of foodstuffs"}
)

// hasFact tells whether a row of the tables applies to this brewery.
func (in Input) hasFact(name string) bool {
	switch name {
	case "always":
		return true
	case "mill":
		return in.Mill
	case "own-water":
		return in.OwnWater
	case "treated-water":
		return in.TreatedWater
	case "coolant":
		return in.Coolant != "water"
	case "direct-steam":
		return in.DirectSteam
	case "hot-clean":
		return in.HotClean
	case "gas":
		return in.Gas
	case "air":
		return in.Air
	case "filter":
		return in.Filter
	case "pasteurised":
		return in.Pasteurised
	case "glass":
		return in.Glass
	case "cans":
		return in.Cans
	case "kegs":
		return in.Kegs || in.Casks
	case "packs":
		return in.Glass || in.Cans
	case "refermented":
		return in.Refermented || in.Casks
	case "dispense":
		return in.Dispense
	case "grain-feed":
		return in.GrainFeed
	case "low-alcohol":
		return in.lowAlcohol()
	}
	return false
}

// lowABV is the alcohol below which it no longer stands in for a kill step;
// common practice, no source.
const lowABV = 2.5

func (in Input) lowAlcohol() bool {
	for _, b := range in.Beers {
		if b.ABV != nil && b.ABV.Pct() < lowABV {
			return true
		}
	}
	return false
}

// Size drafts the plan. An error means that the input cannot be, never that the
// food is unsafe.
func Size(in Input) (Result, error) {
	var r Result
	switch in.Country {
	case "", GB, IE, DE, US:
	default:
		return r, fmt.Errorf("food safety plan: country %q is not known: use GB, IE, DE or US", in.Country)
	}
	for _, b := range in.Beers {
		if b.Name == "" {
			return r, fmt.Errorf("food safety plan: a beer has no name")
		}
		if b.ABV != nil {
			if err := unit.Within("alcohol of "+b.Name, *b.ABV, 0, unit.PercentABV(20)); err != nil {
				return r, fmt.Errorf("food safety plan: %w", err)
			}
		}
	}
	r.Title, r.Notice = "Food safety plan (HACCP), starter", Notice
	if in.Business != "" {
		r.Title += ": " + in.Business
	}
	r.flow(in)
	r.hazards(in)
	r.allergens(in)
	r.products(in)
	r.Records = records(in)
	r.Law = law(in.Country)
	r.Steps = codexSteps(in, r)
	return r, nil
}

func (r *Result) flow(in Input) {
	for i := range flowTable.Len() {
		if !in.hasFact(flowTable.Text(i, "when")) {
			continue
		}
		r.Flow = append(r.Flow, FlowStep{No: len(r.Flow) + 1, Name: flowTable.Text(i, "step"), In: flowTable.Text(i, "in"), Out: flowTable.Text(i, "out")})
	}
}

func (r *Result) hazards(in Input) {
	seen := map[string]bool{}
	for i := range hazardTable.Len() {
		if !in.hasFact(hazardTable.Text(i, "when")) {
			continue
		}
		severity, _ := hazardTable.Number(i, "severity")
		chance, _ := hazardTable.Number(i, "chance")
		text := func(c string) string { return hazardTable.Text(i, c) }
		h := Hazard{
			Step: text("step"), Kind: text("kind"), Hazard: text("hazard"), Cause: text("cause"), Severity: int(severity), Chance: int(chance),
			Control: text("control"), Verdict: Verdict(text("verdict")), Limit: text("limit"), Monitor: text("monitor"), Correct: text("correct"),
			Verify: text("verify"), Record: text("record"), Basis: source.CommonPractice,
		}
		if h.Verdict == CCP {
			r.CCPs = append(r.CCPs, len(r.Hazards))
		}
		if p := text("programme"); p != "" && !seen[p] {
			seen[p] = true
			r.PRPs = append(r.PRPs, p)
		}
		r.Hazards = append(r.Hazards, h)
	}
}

// allergens lists what each beer holds and what it may meet in shared vessels.
func (r *Result) allergens(in Input) {
	type found struct{ allergen, from, declare, limit string }
	own := make([][]found, len(in.Beers))
	var brewery []found
	for i, b := range in.Beers {
		for _, ing := range b.Ingredients {
			row, ok := allergenTable.Find("ingredient", strings.ToLower(ing))
			if !ok {
				continue
			}
			f := found{allergenTable.Text(row, "allergen"), ing, allergenTable.Text(row, "declare"), allergenTable.Text(row, "threshold")}
			if f.allergen != "none" {
				own[i] = append(own[i], f)
				brewery = append(brewery, f)
			}
		}
		if b.Sulphite != nil && b.Sulphite.MgL() > sulphiteLimit {
			own[i] = append(own[i], found{"sulphur dioxide and sulphites", "total SO₂ " + unit.Digits(b.Sulphite.MgL(), 3) + " mg/L", "contains sulphites", "above 10 mg/L as total SO₂"})
		}
	}
	for i, b := range in.Beers {
		has := map[string]bool{}
		for _, f := range own[i] {
			has[f.allergen] = true
			r.Allergens = append(r.Allergens, AllergenRow{Beer: b.Name, Allergen: f.allergen, From: f.from, Declare: f.declare, Threshold: f.limit})
		}
		for _, f := range brewery {
			if has[f.allergen] {
				continue
			}
			has[f.allergen] = true
			r.Allergens = append(r.Allergens, AllergenRow{Beer: b.Name, Allergen: f.allergen, From: f.from + " in another beer of the brewery", Declare: "no declaration if cleaning between beers is validated", Cross: true})
		}
	}
}

// sulphiteLimit is the total SO2 above which it is declared, mg/L; Regulation (EU)
// 1169/2011 Annex II, from memory.
const sulphiteLimit = 10.0

func (r *Result) products(in Input) {
	packs := strings.Join(in.packs(), ", ")
	for _, b := range in.Beers {
		row := ProductRow{Beer: b.Name, ABV: "not said", PH: "to be measured", Packs: packs, Kept: b.Kept, Use: "drunk by adults as it is; not for children, pregnant women, or people allergic to what is declared"}
		if b.ABV != nil {
			row.ABV = b.ABV.String()
			if b.ABV.Pct() < lowABV {
				row.Note = "low alcohol: alcohol does not hold back pathogens, a validated kill step or pH is needed"
			}
		}
		if b.PH != nil {
			row.PH = unit.Digits(b.PH.PH(), 3)
		}
		if b.Kept == "" {
			row.Kept = "not said"
		}
		if b.ShelfDays > 0 {
			row.Kept += ", best before " + unit.Digits(float64(b.ShelfDays), 4) + " days"
		}
		var names []string
		for _, a := range r.Allergens {
			if a.Beer == b.Name && !a.Cross {
				names = append(names, a.Allergen+" ("+a.From+")")
			}
		}
		row.Allergens = strings.Join(names, ", ")
		if len(b.Ingredients) == 0 {
			row.Allergens = "recipe not told"
		}
		r.Products = append(r.Products, row)
	}
}

func (in Input) packs() []string {
	var p []string
	for _, x := range []struct {
		on   bool
		name string
	}{{in.Glass, "glass bottles"}, {in.Cans, "cans"}, {in.Kegs, "kegs"}, {in.Casks, "casks"}, {in.Dispense, "served on site"}} {
		if x.on {
			p = append(p, x.name)
		}
	}
	return p
}

func law(c Country) []string {
	if c == US {
		return []string{"21 CFR 117 (good manufacturing practice; alcohol facilities are largely exempt from the preventive controls, from memory)", "21 CFR 1 subpart H (registration)", "27 CFR 16 and 27 CFR 7 (labels)"}
	}
	list := []string{"Regulation (EC) 852/2004 Art. 5 (procedures based on HACCP), Art. 6(2) (registration), Annex II (premises)", "Regulation (EC) 178/2002 Art. 18 (traceability)", "Regulation (EC) 1935/2004 Art. 3, 15 to 17 (food contact materials), Regulation (EC) 2023/2006 (good manufacturing practice)", "Regulation (EU) 1169/2011 Annex II (allergens)", "Codex CXC 1-1969 (twelve steps)"}
	if c == "" || c == GB {
		list = append(list, "In Great Britain these apply as assimilated law")
	}
	return list
}

func records(in Input) []string {
	list := []string{"Malt, hops and yeast: delivery note with batch, certificate of analysis", "Brew sheet with times, temperatures and batch numbers", "Fermentation log: extract, pH, temperature", "Cleaning log with final rinse test", "Packaging log with batch, checks and stops", "Complaints, withdrawals and recall exercise once a year", "Training record of each person", "Calibration of thermometers, pH meter and gauges"}
	if in.Dispense {
		list = append(list, "Line cleaning log with rinse test")
	}
	if in.Pasteurised {
		list = append(list, "Pasteuriser chart for each batch")
	}
	if in.GrainFeed {
		list = append(list, "Spent grain: collector, date, amount")
	}
	return list
}
