package pack

import (
	"strconv"
	"strings"

	"tunwright/pricing/money"
	"tunwright/pricing/paper"
)

// locale is the language the job's papers are written in.
func (j job) locale() paper.Locale {
	switch j.Job.Terms.Language {
	case "en-IE":
		return paper.EnIE
	case "en-US":
		return paper.EnUS
	case "de-DE":
		return paper.DeDE
	}
	if j.Job.Site.Country == "IE" {
		return paper.EnIE
	}
	if j.Job.Site.Country == "US" {
		return paper.EnUS
	}
	return paper.EnGB
}

func (j job) moneyLocale() money.Locale { return j.locale() }

// colour reads #rrggbb; anything else is the black that the writers take by default.
func colour(hex string) paper.Colour {
	n, err := strconv.ParseUint(strings.TrimPrefix(hex, "#"), 16, 32)
	if err != nil || len(hex) != 7 {
		return paper.Colour{}
	}
	return paper.Colour{R: uint8(n >> 16), G: uint8(n >> 8), B: uint8(n)}
}
