package client

import (
	"cmp"
	"slices"
	"strings"

	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/programme"
	"tunwright/pricing"
	"tunwright/pricing/money"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"

	"github.com/shopspring/decimal"
)

// section is a heading of the quotation with what stands under it, lines of one
// product taken together.
type section struct {
	title    string
	products []supplied
}

type supplied struct {
	code, name, count, unit string
	quantity                decimal.Decimal
	refs                    []string
}

func (q quote) bySection() []section {
	var out []section
	for i := range q.priced.Lines {
		l := &q.priced.Lines[i]
		title := SectionName(l.Section, q.Locale)
		at := slices.IndexFunc(out, func(s section) bool { return s.title == title })
		if at < 0 {
			at = len(out)
			out = append(out, section{title: title})
		}
		out[at].add(l)
	}
	for i := range out {
		for k := range out[i].products {
			p := &out[i].products[k]
			p.count = q.Number(p.quantity)
		}
	}
	return out
}

func (s *section) add(l *pricing.Line) {
	at := slices.IndexFunc(s.products, func(p supplied) bool { return l.Code != "" && p.code == l.Code })
	if at < 0 {
		at = len(s.products)
		s.products = append(s.products, supplied{code: l.Code, name: l.Description, unit: l.Unit})
	}
	p := &s.products[at]
	p.quantity = p.quantity.Add(l.Quantity)
	p.refs = append(p.refs, l.Ref)
}

// supplied says what each thing is, in the words of the catalogue.
func (q quote) supplied() []paper.Block {
	t := paper.Table{
		Name: "supplied", Title: q.Say("supplied.title"),
		Columns: []paper.Column{
			{Title: q.Say("col.item")},
			{Key: "qty", Title: q.Say("col.qty"), Kind: paper.Number},
			{Title: q.Say("col.what")},
			{Title: q.Say("col.description")},
			{Title: q.Say("col.size")},
		},
		Notes: []string{q.Say("supplied.size-note")},
	}
	for _, s := range q.bySection() {
		t.Rows = append(t.Rows, say.Group(s.title))
		for _, p := range s.products {
			summary, size := "", ""
			if product := q.product(p.refs[0]); product != nil {
				summary, size = product.Summary, q.size(product)
			}
			t.Rows = append(t.Rows, say.Row(paper.W(strings.Join(p.refs, ", ")), paper.Decimal(p.quantity.String()), paper.W(p.name), paper.W(summary), paper.W(size)))
		}
	}
	return []paper.Block{t}
}

func (q quote) product(tag string) *catalog.Product {
	at := slices.IndexFunc(q.report.Chosen, func(c configurator.Chosen) bool { return c.Item.Tag == tag })
	if at < 0 {
		return nil
	}
	return q.report.Chosen[at].Product
}

// size is the standing size of a product's bodies, a line each.
func (q quote) size(p *catalog.Product) string {
	var lines []string
	for _, b := range p.Bodies {
		text := q.length(b.Length) + " × " + q.length(b.Width) + " × " + q.length(b.Height)
		if b.Round {
			text = "Ø " + q.length(b.Length) + " × " + q.length(b.Height)
		}
		// No-break spaces hold a size together in a narrow column.
		text = strings.ReplaceAll(text+" "+q.lengthUnit().Symbol, " ", "\u00a0")
		if b.Part != "" && len(p.Bodies) > 1 {
			text = b.Part + ": " + text
		}
		lines = append(lines, text)
	}
	return strings.Join(lines, "\n")
}

func (q quote) lengthUnit() unit.Unit {
	kind := unit.Length(0).Kind()
	if q.us {
		return kind.Customary()
	}
	return kind.Shown()
}

// length is a length without its unit: whole millimetres, or feet to a hundredth.
func (q quote) length(l unit.Length) string {
	places := int32(0)
	if q.us {
		places = 2
	}
	return money.FormatDecimal(decimal.NewFromFloat(q.lengthUnit().From(l.SI())).Round(places), places, q.Locale)
}

// volume is a volume in hectolitres, the trade's unit, or in US barrels.
func (q quote) volume(v unit.Volume) string {
	key := "hl"
	if q.us {
		key = "usbbl"
	}
	u, _ := v.Kind().ByKey(key)
	return q.InUnit(v, u, 3)
}

// notSupplied says what others do: the lines that are expressly theirs, what our
// plant needs to be brought to it, and the permits and building work it waits on.
func (q quote) notSupplied() []paper.Block {
	blocks := []paper.Block{para(q.Say("not.rule"))}
	if t := q.byOthers(); len(t.Rows) > 0 {
		blocks = append(blocks, t)
	}
	if t := q.brought(); len(t.Rows) > 0 {
		blocks = append(blocks, t)
	}
	if t := q.otherWork(); len(t.Rows) > 0 {
		blocks = append(blocks, t)
	}
	return blocks
}

func (q quote) byOthers() paper.Table {
	t := paper.Table{
		Name: "by-others", Title: q.Say("not.by-others"),
		Columns: []paper.Column{{Title: q.Say("col.item"), Width: 14}, {Title: q.Say("col.what"), Width: 43}, {Title: q.Say("col.interface"), Width: 43}},
	}
	for _, x := range q.priced.ByOthers {
		t.Rows = append(t.Rows, say.Row(paper.W(x.Ref), paper.W(x.Description), paper.W(x.Interface)))
	}
	return t
}

// fromBuilding are the services that come from the building or go to it; pipes and
// leads between our own machines are not among them.
var fromBuilding = []string{"cold-water", "drain", "gas", "flue", "exhaust"}

// brought lists which of our machines need which service of the building.
func (q quote) brought() paper.Table {
	t := paper.Table{
		Name: "connections-by-others", Title: q.Say("not.brought"),
		Columns: []paper.Column{{Title: q.Say("col.service"), Width: 26}, {Title: q.Say("col.needed-at"), Width: 74}},
		Notes:   []string{q.Say("not.brought-note")},
	}
	add := func(word string, needs func(*catalog.Product) bool) {
		var tags []string
		for i := range q.priced.Lines {
			ref := q.priced.Lines[i].Ref
			if p := q.product(ref); p != nil && needs(p) {
				tags = append(tags, ref)
			}
		}
		if len(tags) > 0 {
			t.Rows = append(t.Rows, say.Row(paper.W(word), paper.W(strings.Join(tags, ", "))))
		}
	}
	add(q.Say("service.electricity"), func(p *catalog.Product) bool { return len(p.Loads) > 0 })
	for _, service := range fromBuilding {
		add(q.Say("service."+service), func(p *catalog.Product) bool {
			return slices.ContainsFunc(p.Connects, func(c catalog.Connection) bool { return c.Service == service })
		})
	}
	return t
}

// otherWork lists the permits and works of the programme that are not ours, by the
// day they have to begin for the client's opening.
func (q quote) otherWork() paper.Table {
	t := paper.Table{
		Name: "work-by-others", Title: q.Say("not.work"),
		Columns: []paper.Column{{Title: q.Say("col.work"), Width: 56}, {Title: q.Say("col.by"), Width: 20}, {Title: q.Say("col.latest-start"), Width: 24}},
		Notes:   []string{q.Say("not.work-note")},
	}
	if q.report.Programme == nil {
		return t
	}
	var steps []programme.Step
	for _, s := range q.report.Programme.Steps {
		if s.Who != "us" && (s.Group == "permit" || s.Group == "works") && !s.Over {
			steps = append(steps, s)
		}
	}
	slices.SortStableFunc(steps, func(a, b programme.Step) int { return cmp.Compare(a.Needed, b.Needed) })
	for _, s := range steps {
		name, day := s.Name, ""
		if s.Open {
			name += " (" + q.Say("not.maybe") + ")"
		}
		if s.Needed != 0 {
			day = q.day(s.Needed)
		}
		t.Rows = append(t.Rows, say.Row(paper.W(name), paper.W(q.Known("who."+s.Who, s.Who)), paper.W(day)))
	}
	return t
}

func (q quote) day(d programme.Date) string {
	date, err := pricing.ParseDate(d.String())
	if err != nil {
		return d.String()
	}
	return q.Date(date)
}
