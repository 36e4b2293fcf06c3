package web

import (
	"fmt"
	"math"
	"net/http"
	"strconv"
	"strings"

	"tunwright/configurator/enquiry"
	"tunwright/configurator/propose"
	"tunwright/pricing/offer"

	"github.com/gin-gonic/gin"
)

// A new enquiry from the few facts that a client has ready on the phone. Everything
// else stays unknown or is assumed and says so.

type startPage struct {
	frame
	Fields   []startField
	Problems []fieldProblem
}

// startField is one question of the call.
type startField struct {
	Name, Label, Unit, Hint, Value, Error string
	Options                               []option
	Required, Numeric                     bool
}

type option struct {
	Value, Label string
	Selected     bool
}

// fieldProblem is a line of the summary of errors: it leads to its field.
type fieldProblem struct{ ID, Label, Message string }

func startFields() []startField {
	return []startField{
		{Name: "client", Label: "Client", Hint: "firm or person, as it stands on the quotation", Required: true},
		{Name: "place", Label: "Site", Hint: "what the building is called", Required: true},
		{Name: "volume", Label: "Beer a year", Unit: "hL", Hint: "sold in a year, all beers together", Required: true, Numeric: true},
		{Name: "kind", Label: "Mostly", Hint: "the beer most is sold of", Options: []option{
			{Value: "keg-ale", Label: "ale in kegs"}, {Value: "cask-ale", Label: "ale in casks"}, {Value: "ipa", Label: "strong pale ale"}, {Value: "lager", Label: "lager"}, {Value: "wheat", Label: "wheat beer"},
		}},
		{Name: "storey", Label: "Floor", Hint: "where the brewery is to stand", Options: []option{
			{Value: "0", Label: "ground floor"}, {Value: "1", Label: "first floor"}, {Value: "2", Label: "second floor"}, {Value: "-1", Label: "cellar"},
		}},
		{Name: "length", Label: "Room length", Unit: "m", Required: true, Numeric: true},
		{Name: "width", Label: "Room width", Unit: "m", Required: true, Numeric: true},
		{Name: "height", Label: "Clear height", Unit: "mm", Hint: "floor to the lowest beam; leave empty if nobody knows", Numeric: true},
		{Name: "phases", Label: "Supply", Hint: "look at the cut-out: one thick cable or three", Options: []option{
			{Value: "", Label: "not known"}, {Value: "3", Label: "three phases"}, {Value: "1", Label: "one phase"},
		}},
		{Name: "fuse", Label: "Main fuse", Unit: "A", Hint: "the mark on the cut-out; leave empty if nobody knows", Numeric: true},
	}
}

func (s *Server) showStart(c *gin.Context) error {
	return s.showStartPage(c, startFields())
}

func (s *Server) showStartPage(c *gin.Context, fields []startField) error {
	p := startPage{frame: s.frame(c, "New enquiry"), Fields: fields}
	p.Nav = "enquiries"
	for _, f := range fields {
		if f.Error != "" {
			p.Problems = append(p.Problems, fieldProblem{ID: "f-" + f.Name, Label: f.Label, Message: f.Error})
		}
	}
	return s.show(c, "start", p)
}

func (s *Server) startFromFacts(c *gin.Context) error {
	fields, good := startFields(), true
	for i := range fields {
		fields[i].fill(c.PostForm(fields[i].Name))
		good = good && fields[i].Error == ""
	}
	if !good {
		c.Status(http.StatusUnprocessableEntity)
		return s.showStartPage(c, fields)
	}
	job, err := s.fromFacts(fields, s.who(c))
	if err != nil {
		return err
	}
	return s.begin(c, job)
}

// fill keeps what was typed and says what is wrong with it.
func (f *startField) fill(typed string) {
	f.Value = strings.TrimSpace(typed)
	offered := len(f.Options) == 0
	for i := range f.Options {
		f.Options[i].Selected = f.Options[i].Value == f.Value
		offered = offered || f.Options[i].Selected
	}
	switch {
	case !offered:
		f.Error = "choose one of the answers offered"
	case f.Value == "" && f.Required:
		f.Error = "this is needed to begin"
	case f.Value != "" && f.Numeric:
		if x, err := strconv.ParseFloat(strings.Replace(f.Value, ",", ".", 1), 64); err != nil || math.IsInf(x, 0) || !(x > 0) {
			f.Error = fmt.Sprintf("%q is not a number above zero: write it as 12.5 or 12,5, without the unit", f.Value)
		}
	}
}

// fromFacts makes a job of the answers, with the equipment that is proposed for them.
func (s *Server) fromFacts(fields []startField, author string) (offer.Job, error) {
	said := map[string]string{}
	for _, f := range fields {
		said[f.Name] = strings.Replace(f.Value, ",", ".", 1)
		if !f.Numeric {
			said[f.Name] = f.Value
		}
	}
	text := startText(said, author, enquiry.DateOf(s.Clock()).String(), s.firm().Country)
	job, err := offer.ReadBrief("enquiry", []byte(text))
	if err == nil {
		job.Chosen, err = propose.Equip(job.Project, s.House.Catalogue)
	}
	if err != nil {
		return offer.Job{}, &trouble{http.StatusUnprocessableEntity, "These facts do not go together", err.Error() + ". Go back and change what is named; nothing is lost."}
	}
	return job, nil
}

// gravities are usual extracts of each kind, as the client can be told during the
// call (common practice, no source).
var gravities = map[string][2]string{
	"keg-ale": {"11.2", "2.4"}, "cask-ale": {"9.8", "2.1"}, "ipa": {"14.5", "3"}, "lager": {"11.8", "2.2"}, "wheat": {"12.2", "2.7"},
}

// startText is the file of a new enquiry. Texts are quoted by Go's rules, which YAML
// reads too.
func startText(said map[string]string, author, date, country string) string {
	const told = `by: "the client, on the phone"`
	fact := func(value string) string {
		if value == "" {
			return "unknown"
		}
		return fmt.Sprintf("{told: %s, %s}", value, told)
	}
	extracts := gravities[said["kind"]]
	packed := "keg"
	if said["kind"] == "cask-ale" {
		packed = "cask"
	}
	floor := "suspended"
	if said["storey"] == "0" || said["storey"] == "-1" {
		floor = "ground-bearing"
	}
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("title: %q", "Brewery for "+said["client"])
	line("client: {name: %q}", said["client"])
	line("prepared_by: %q\ndate: %s", author, date)
	line("brief:\n  weeks: 48\n  brews_per_week: 3\n  peak_factor: 1.25\n  beers:")
	line("    - {name: main beer, kind: %s, yearly_hl: %s, original_extract_plato: %s, final_extract_plato: %s, package: %s}", said["kind"], fact(said["volume"]), extracts[0], extracts[1], packed)
	line("site:\n  name: %q\n  country: %s\n  storey: %s", said["place"], country, said["storey"])
	line("  room:\n    outline_m: [[0, 0], [%[1]s, 0], [%[1]s, %[2]s], [0, %[2]s]]\n    clear_height_mm: %[3]s", said["length"], said["width"], fact(said["height"]))
	line("  floor: {kind: %s}", floor)
	line("  supply: {phases: %s, fuse_a: %s}", fact(said["phases"]), fact(said["fuse"]))
	return b.String()
}
