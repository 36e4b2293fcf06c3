package water

import (
	"tunwright/catalog/unit"
)

// ConsentRow is one limit of the consent against what the brewery gives.
type ConsentRow struct {
	Parameter string
	Limit     unit.Quantity // nil: not known
	Have      unit.Quantity
	OK        bool
	Known     bool
	Words     string
}

func (w *Waste) judge(in Input) {
	c := in.Consent
	maxT, lo, hi := in.consentLimits()
	w.Consent = append(w.Consent,
		limitRow("Volume in a day", c.MaxDay, w.Day, "asks the consent for at least this"),
		limitRow("Highest rate", c.MaxRate, w.Released, "two largest dumps together; through a balance tank its mean"),
		limitRow("Highest temperature", &maxT, w.ToSewerTemp, basis(c.MaxTemp != nil)),
		limitRow("Highest pH", &hi, w.ToSewerHigh, basis(c.PHHigh != nil)),
		lowRow("Lowest pH", lo, w.ToSewerLow, basis(c.PHLow != nil)),
		limitRow("COD, mean of the day", c.MaxCOD, w.MeanCOD, "where the consent sets one"),
	)
}

func basis(told bool) string {
	if told {
		return "of the consent"
	}
	return "usual limit, check the consent"
}

func limitRow[Q unit.Quantity](name string, limit *Q, have Q, words string) ConsentRow {
	if limit == nil {
		return ConsentRow{Parameter: name, Have: have, Words: words}
	}
	return ConsentRow{Parameter: name, Limit: *limit, Have: have, Known: true, OK: have.SI() <= (*limit).SI()*(1+1e-9), Words: words}
}

func lowRow(name string, limit, have unit.Acidity, words string) ConsentRow {
	return ConsentRow{Parameter: name, Limit: limit, Have: have, Known: true, OK: have >= limit, Words: words}
}

func wasteSchedule(in Input, w Waste) []Line {
	lines := []Line{
		{Label: "Waste water on the busiest day", Key: "m3", Value: w.Day},
		{Label: "COD in a day", Value: w.COD},
		{Label: "BOD in a day", Value: w.BOD, Note: "COD over 1.65"},
		{Label: "COD, mean", Key: "mg_l", Value: w.MeanCOD, Note: "untreated brewery waste 1800 to 3000 mg/L"},
		{Label: "Temperature, mean", Value: w.MeanTemp},
		{Label: "pH, mean", Value: w.MeanPH, Note: "without buffers; the true value is nearer to neutral"},
		{Label: "Highest rate", Key: "l_s", Value: w.PeakRate, Note: joinNames(w.PeakNames)},
		{Label: "Largest dump", Value: w.LargestDump},
		{Label: "Balance tank, if one is fitted", Value: w.BalanceNeed, Note: "largest dump, or half a day; common practice"},
	}
	if w.PerBeer > 0 {
		lines = append(lines, Line{Label: "Waste on one volume of beer", Text: unit.Digits(w.PerBeer.Value(), 3)})
	}
	words := "goes to the side stream: feed or tanker, not the drain"
	if in.Yeast == "drain" {
		words = "goes to the drain: two to four times the load"
	}
	if in.Yeast == "" {
		words = "not settled"
	}
	return append(lines, Line{Label: "Yeast and trub", Text: words}, Line{Label: "Sampling point", Text: "chamber before the sewer, in reach of the authority"})
}
