package client

import (
	"slices"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator/enquiry"
	"tunwright/pricing"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

// deliveryAndTitle says where the goods change hands, who does what on the way, what
// the rule leaves open, and when the plant becomes the buyer's.
func (q quote) deliveryAndTitle() []paper.Block {
	term := []paper.Block{para(q.Say("delivery.term", q.delivery.String()))}
	rules := pricing.DeliveryRules()
	at := slices.IndexFunc(rules, func(r pricing.DeliveryRule) bool { return r.Rule == q.delivery.Rule })
	if at >= 0 {
		r := rules[at]
		term = append(term, paper.Facts{Columns: 2, Facts: []paper.Fact{
			{Name: q.Say("delivery.carriage"), Value: paper.W(q.party(r.Carriage))},
			{Name: q.Say("delivery.unloading"), Value: paper.W(q.party(r.Unloading))},
			{Name: q.Say("delivery.insurance"), Value: paper.W(q.party(r.Insurance))},
			{Name: q.Say("delivery.import"), Value: paper.W(q.party(r.Import))},
		}})
	}
	blocks := []paper.Block{paper.Together{Blocks: term}}
	if open := q.deliveryQuestions(); len(open) > 0 {
		blocks = append(blocks, heading(q.Say("delivery.open")), say.List(open))
	}
	title := q.Say("title-note.clause")
	if q.piped {
		title += " " + q.Say("title-note.fixed")
	}
	return append(blocks, heading(q.Say("title-note.title")), para(title))
}

func (q quote) party(word string) string { return q.Known("party."+word, word) }

// deliveryQuestions are those of the delivery, each in the reader's language and to
// the reader. They are told apart by what raises them.
func (q quote) deliveryQuestions() []string {
	var out []string
	for _, words := range q.delivery.Questions() {
		out = append(out, q.question(words))
	}
	return out
}

func (q quote) question(words string) string {
	bare := q.delivery
	bare.UpperFloor, bare.LiftByUs = false, false
	lift := bare
	lift.UpperFloor = true
	switch {
	case slices.Contains(bare.Questions(), words):
		return q.Say("delivery.q-unload", q.delivery.Rule)
	case slices.Contains(lift.Questions(), words):
		return q.Say("delivery.q-level")
	}
	return q.Say("delivery.q-lift", q.delivery.Rule)
}

// rests lists the lines whose price rests on a fact that nobody has measured.
func (q quote) rests() []paper.Block {
	t := paper.Table{
		Name: "rests-on", Title: q.Say("rests.title"),
		Columns: []paper.Column{
			{Title: q.Say("col.fact")},
			{Title: q.Say("col.taken-as")},
			{Title: q.Say("col.basis")},
			{Title: q.Say("col.lines")},
			{Title: q.Say("col.confirm")},
		},
	}
	type resting struct {
		key  string
		says pricing.Assumption
		refs []string
	}
	var facts []resting
	for i := range q.priced.Lines {
		l := &q.priced.Lines[i]
		for _, a := range l.DependsOn {
			at := slices.IndexFunc(facts, func(r resting) bool { return r.key == a.Key && r.says.Value == a.Value })
			if at < 0 {
				at = len(facts)
				facts = append(facts, resting{key: a.Key, says: a})
			}
			facts[at].refs = append(facts[at].refs, l.Ref)
		}
	}
	for _, f := range facts {
		t.Rows = append(t.Rows, q.restingRow(f.says, f.refs))
	}
	if len(t.Rows) == 0 {
		return []paper.Block{para(q.Say("rests.none"))}
	}
	return []paper.Block{para(q.Say("rests.intro")), t}
}

func (q quote) restingRow(a pricing.Assumption, refs []string) paper.Row {
	tags := strings.Join(refs, ", ")
	l, ok := enquiry.FactAt(q.report.Project, a.Key)
	if !ok {
		return say.Row(paper.W(a.Says), paper.W(a.Value), paper.Cell{}, paper.W(tags), paper.Cell{})
	}
	return say.Row(
		paper.W(q.Known("site."+a.Key, l.What)), paper.W(q.factValue(a)),
		paper.W(q.Known("basis."+l.Basis.Word(), l.Basis.Word())), paper.W(tags), paper.W(q.Known("ask."+a.Key, l.Ask)),
	)
}

// factValue is the value a price was taken on. Lengths are printed in the reader's
// units and number form; other values are words.
func (q quote) factValue(a pricing.Assumption) string {
	site := q.report.Project.Site
	lengths := map[string]enquiry.Fact[unit.Length]{
		"site.floor_above_street_m":        site.Rise,
		"site.room.clear_height_mm":        site.Room.Height,
		"site.chiller_place.pipe_run_m":    site.Chiller.Distance,
		"site.chiller_place.above_tanks_m": site.Chiller.Rise,
		"site.supply.board_distance_m":     site.Supply.Board,
	}
	f, ok := lengths[a.Key]
	if !ok || !f.Known() || unit.Text(f.Value) != a.Value {
		return q.Known("value."+a.Value, a.Value)
	}
	if q.us {
		return q.Quantity(f.Value, 4, true)
	}
	metres := f.Value.Kind().Units[0]
	return q.InUnit(f.Value, metres, 4)
}

// warranty lists what is warranted longer or otherwise than the firm's terms say.
func (q quote) warranty() []paper.Block {
	t := paper.Table{
		Name: "warranty", Title: q.Say("warranty.title"),
		Columns: []paper.Column{{Title: q.Say("col.item"), Width: 12}, {Title: q.Say("col.what"), Width: 40}, {Title: q.Say("col.warranty"), Width: 48}},
	}
	for _, w := range q.priced.Warranties() {
		t.Rows = append(t.Rows, say.Row(paper.W(w.Ref), paper.W(w.Description), paper.W(w.Terms)))
	}
	for i := range q.priced.Lines {
		l := &q.priced.Lines[i]
		if p := q.product(l.Ref); p != nil && p.Service != nil && p.Service.Kind == "warranty" {
			t.Rows = append(t.Rows, say.Row(paper.W(l.Ref), paper.W(l.Description), paper.W(p.Summary)))
		}
	}
	if len(t.Rows) == 0 {
		return []paper.Block{para(q.Say("warranty.none"))}
	}
	return []paper.Block{para(q.Say("warranty.intro")), t}
}

func (q quote) termsOfFirm() []paper.Block {
	list := say.List(q.terms)
	list.Numbered = true
	return []paper.Block{list}
}

// acceptance is what both sign. While a finding stops the job there is nothing to sign.
func (q quote) acceptance() []paper.Block {
	if stops, _ := q.standing(); len(stops) > 0 {
		return []paper.Block{para(q.Say("acceptance.stopped")), say.List(stops)}
	}
	taxed := q.Say("acceptance.with-tax")
	if q.priced.Totals.Tax.IsZero() {
		taxed = q.Say("acceptance.no-tax")
	}
	return []paper.Block{paper.Together{Blocks: []paper.Block{
		para(q.Say("acceptance.text", q.job.Client.Name, q.seller, q.Money(q.priced.Totals.Gross), taxed, q.Date(q.priced.ValidUntil))),
		paper.Signatures{Items: []string{q.Say("acceptance.client"), q.Say("acceptance.seller")}},
	}}}
}
