package drawing

import "fmt"

// SingleLine is a single-line diagram of a board: the supply from above through its
// protection to a busbar, and the circuits from the busbar to their loads. Many
// circuits go on in further rows under the same busbar, and many rows on further
// sheets.
type SingleLine struct {
	Title, Description string
	Width              MM
	Supply             []Part // from the supply down to the busbar
	Earthing           string // beside the earth sign, such as "TN-C-S"; none when empty
	Board              string // over the busbar
	Continued          string // behind the board's name in further rows
	Circuits           []Circuit
}

// Part is a sign with words beside it, at most two lines.
type Part struct {
	Symbol Symbol
	Words  []string
}

// Circuit is one way of the board.
type Circuit struct {
	Name    string // over the busbar, such as "L1.3"
	Parts   []Part // from the busbar on: protection, then starters and drives
	Cable   string // along the conductor
	Load    Symbol
	Words   string // what it feeds, along the load's name
	Details string // such as "24 kW, L1 L2 L3"
}

const (
	wayPitch   MM = 15
	rowGap     MM = 9
	tapRoom    MM = 4 // between busbar and first sign
	busbarPen  MM = 0.9
	supplyLeft MM = 20
)

// wayRoom is how much height each part of a row's circuits needs.
type wayRoom struct{ parts, cable, words MM }

func (w wayRoom) height() MM { return w.parts + w.cable + symbolHeight + w.words }

// Draw makes the drawings, each at most so tall; the supply is on the first.
func (s SingleLine) Draw(tallest MM) ([]Drawing, error) {
	perRow := int((s.Width - 6) / wayPitch)
	if perRow < 1 {
		return nil, fmt.Errorf("single-line diagram %q: %.0f mm is too narrow for a circuit", s.Title, float64(s.Width))
	}
	room, err := s.room()
	if err != nil {
		return nil, err
	}
	d := s.sheet(0)
	y := s.supply(&d)
	if need := y + room.height(); need > tallest {
		return nil, fmt.Errorf("single-line diagram %q: the supply and a row of circuits are %.0f mm tall, the sheet %.0f mm; shorten the words", s.Title, float64(need), float64(tallest))
	}
	var sheets []Drawing
	for first := 0; first == 0 || first < len(s.Circuits); first += perRow {
		if y+room.height() > tallest {
			sheets = append(sheets, d)
			d, y = s.sheet(len(sheets)), 8
		}
		s.row(&d, y, first, s.Circuits[first:min(first+perRow, len(s.Circuits))], room)
		d.Height = y + room.height()
		y = d.Height + rowGap
	}
	return append(sheets, d), nil
}

func (s SingleLine) sheet(n int) Drawing {
	d := Drawing{Width: s.Width, Title: s.Title, Description: s.Description}
	if n > 0 {
		d.Title += " (" + s.Continued + ")"
	}
	return d
}

func (s SingleLine) room() (wayRoom, error) {
	const leastCable, gap MM = 14, 4
	room := wayRoom{parts: symbolHeight + tapRoom, cable: leastCable}
	for _, c := range s.Circuits {
		if c.Load != Conductor && !c.Load.ends() {
			return room, fmt.Errorf("single-line diagram %q: circuit %s ends in a sign that goes on; a motor, heater, socket, board or load is right", s.Title, c.Name)
		}
		room.parts = max(room.parts, symbolHeight*MM(len(c.Parts))+tapRoom)
		room.cable = max(room.cable, roughWidth(c.Cable, SmallType)+gap)
		room.words = max(room.words, widest(SmallType, c.Words, c.Details)+gap)
	}
	return room, nil
}

func (s SingleLine) row(d *Drawing, y MM, first int, circuits []Circuit, room wayRoom) {
	name := s.Board
	if first > 0 {
		name += " (" + s.Continued + ")"
	}
	s.busbar(d, y, name, len(circuits))
	for i, c := range circuits {
		c.draw(d, P(4+wayPitch/2+wayPitch*MM(i), y), room)
	}
}

// supply draws what lies before the busbar and says how far down that is.
func (s SingleLine) supply(d *Drawing) MM {
	y := MM(6)
	for _, p := range s.Supply {
		d.Add(p.Symbol.At(P(supplyLeft, y)))
		for i, w := range p.Words {
			d.Add(Text{At: P(supplyLeft+5, y+4+MM(i)*3.4), Text: w, Colour: Ink})
		}
		y += symbolHeight
	}
	if len(s.Supply) > 0 {
		d.Add(Line{From: P(supplyLeft, y), To: P(supplyLeft, y+5), Pen: Medium})
	}
	if s.Earthing != "" {
		at := P(s.Width-16, max(y-4, 6))
		d.Add(Earth(at), Text{At: at.Add(-4, 3), Text: s.Earthing, Anchor: End, Colour: Ink})
	}
	return y + 5
}

func (s SingleLine) busbar(d *Drawing, y MM, name string, ways int) {
	end := max(4+wayPitch*MM(ways), supplyLeft+4)
	d.Add(Line{From: P(4, y), To: P(end, y), Pen: Pen{Width: busbarPen, Colour: Black}},
		Text{At: P(supplyLeft+5, y-1.6), Text: name, Bold: true, Colour: Black})
}

// draw puts a circuit down below its tap on the busbar. Words run up the sheet beside
// the conductor.
func (c Circuit) draw(d *Drawing, tap Point, room wayRoom) {
	d.Add(Circle{Centre: tap, Radius: 0.6, Fill: Tint(Black)},
		Line{From: tap, To: tap.Add(0, tapRoom), Pen: Medium},
		Text{At: tap.Add(0.9, tapRoom-0.6), Text: c.Name, Size: SmallType, Bold: true, Colour: Ink})
	y := tap.Y + tapRoom
	for _, p := range c.Parts {
		d.Add(p.Symbol.At(P(tap.X, y)))
		aside := MM(2.4)
		if p.Symbol.boxed() {
			aside = 3.8
		}
		for i, w := range p.Words {
			d.Add(Text{At: P(tap.X+aside, y+5.6+MM(i)*2.7), Text: w, Size: SmallType, Colour: Ink})
		}
		y += symbolHeight
	}
	foot := tap.Y + room.parts + room.cable
	d.Add(Line{From: P(tap.X, y), To: P(tap.X, foot), Pen: Medium})
	if c.Cable != "" {
		d.Add(Text{At: P(tap.X-1, foot-1), Text: c.Cable, Size: SmallType, Turn: -90, Colour: Ink})
	}
	if c.Load != Conductor {
		d.Add(c.Load.At(P(tap.X, foot)))
	}
	below := foot + symbolHeight + 1.5
	for i, w := range []string{c.Words, c.Details} {
		if w != "" {
			d.Add(Text{At: P(tap.X-0.4+MM(i)*3, below), Text: w, Size: SmallType, Turn: -90, Anchor: End, Bold: i == 0, Colour: Ink})
		}
	}
}
