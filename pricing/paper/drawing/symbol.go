package drawing

// Symbol is a sign of a single-line diagram, drawn on a conductor that runs down the
// sheet.
//
// Source: IEC 60617 (forms from memory): fuse S00362, switch S00227, disconnector
// S00288, circuit-breaker S00287, motor S00819, earth S00200.
type Symbol uint8

// The signs.
const (
	Conductor Symbol = iota // nothing but the line
	Fuse
	Breaker         // circuit-breaker
	ResidualBreaker // circuit-breaker with residual-current protection
	ResidualSwitch  // residual-current device without overcurrent protection
	Disconnector
	Meter
	Drive // variable-speed drive
	SoftStarter
	Contactor
	Motor
	Heater
	Socket
	Board // a further distribution board
	Load  // anything else
)

// symbolHeight is how much of the conductor a sign takes.
const symbolHeight MM = 9

// ends tells whether the conductor stops at the sign.
func (s Symbol) ends() bool { return s >= Motor }

// boxed tells whether the sign is a box around the conductor.
func (s Symbol) boxed() bool { return s == Meter || s == Drive || s == SoftStarter }

// At draws the sign with its upper end at a point; it takes 9 mm down.
func (s Symbol) At(p Point) Group {
	g := Group{Name: "symbol"}
	line := func(x1, y1, x2, y2 MM) {
		g.Items = append(g.Items, Line{From: p.Add(x1, y1), To: p.Add(x2, y2), Pen: Medium})
	}
	box := func(x, y, w, h MM) { g.Items = append(g.Items, Rect(p.X+x, p.Y+y, w, h, Medium, Tint(White))) }
	words := func(s string, y MM) {
		g.Items = append(g.Items, Text{At: p.Add(0, y), Text: s, Size: SmallType, Anchor: Middle, Colour: Black})
	}
	switch s {
	case Fuse:
		line(0, 0, 0, symbolHeight)
		g.Items = append(g.Items, Rect(p.X-1, p.Y+2, 2, 5, Medium, Fill{}))
	case Breaker, ResidualBreaker:
		contact(line)
		line(-0.9, 1.1, 0.9, 2.9)
		line(-0.9, 2.9, 0.9, 1.1)
		if s == ResidualBreaker {
			g.Items = append(g.Items, ring(p.Add(0, 7.6)))
		}
	case ResidualSwitch:
		contact(line)
		g.Items = append(g.Items, ring(p.Add(0, 7.6)))
	case Disconnector:
		contact(line)
		line(-1.1, 2, 1.1, 2)
	case Contactor:
		contact(line)
		g.Items = append(g.Items, Arc{Centre: p.Add(0, 1.2), Radius: 0.8, From: 90, To: 270, Pen: Medium})
	case Meter:
		line(0, 0, 0, symbolHeight)
		box(-3, 1.5, 6, 6)
		words("kWh", 5.3)
	case Drive, SoftStarter:
		line(0, 0, 0, symbolHeight)
		box(-3, 1.5, 6, 6)
		line(-3, 7.5, 3, 1.5)
		if s == Drive {
			g.Items = append(g.Items, Text{At: p.Add(-1.6, 4.2), Text: "~", Anchor: Middle}, Text{At: p.Add(1.6, 7.2), Text: "~", Anchor: Middle})
		} else {
			line(-2.2, 6.8, -1, 6.8)
			line(-1, 6.8, 1, 4.6)
		}
	case Motor:
		line(0, 0, 0, 2)
		g.Items = append(g.Items, Circle{Centre: p.Add(0, 5.2), Radius: 3.2, Pen: Medium, Fill: Tint(White)})
		words("M", 6.1)
	case Heater:
		line(0, 0, 0, 2)
		box(-1.8, 2, 3.6, 6.4)
		for i := range 3 {
			line(-1.8, 3.6+MM(i)*1.6, 1.8, 3.6+MM(i)*1.6)
		}
	case Socket:
		line(0, 0, 0, 4)
		g.Items = append(g.Items, Arc{Centre: p.Add(0, 6.4), Radius: 2.4, From: 180, To: 360, Pen: Medium})
		line(-2.4, 4, 2.4, 4)
	case Board:
		line(0, 0, 0, 2)
		box(-3, 2, 6, 4.6)
		g.Items = append(g.Items, Polygon{Points: []Point{p.Add(-3, 6.6), p.Add(3, 6.6), p.Add(3, 2)}, Pen: Medium, Fill: Tint(Black)})
	case Load:
		line(0, 0, 0, 7)
		g.Items = append(g.Items, Polygon{Points: []Point{p.Add(-1.4, 5.4), p.Add(1.4, 5.4), p.Add(0, 8.4)}, Fill: Tint(Black)})
	default:
		line(0, 0, 0, symbolHeight)
	}
	return g
}

// contact is an open contact that closes to the upper side.
func contact(line func(x1, y1, x2, y2 MM)) {
	line(0, 0, 0, 2)
	line(-2, 2.6, 0, 6.2)
	line(0, 6.2, 0, symbolHeight)
}

// ring is the summation transformer of a residual-current device.
func ring(p Point) Polygon {
	points := Circle{Centre: p, Radius: 1}.Points()
	for i, q := range points {
		points[i] = Point{p.X + (q.X-p.X)*1.9, p.Y + (q.Y-p.Y)*0.9}
	}
	return Polygon{Points: points, Pen: Fine}
}

// Earth is the sign of a connection to earth, its conductor coming from above.
func Earth(p Point) Group {
	return Group{Name: "earth", Items: []Item{
		Line{From: p, To: p.Add(0, 2), Pen: Medium},
		Line{From: p.Add(-2, 2), To: p.Add(2, 2), Pen: Medium},
		Line{From: p.Add(-1.3, 2.9), To: p.Add(1.3, 2.9), Pen: Medium},
		Line{From: p.Add(-0.6, 3.8), To: p.Add(0.6, 3.8), Pen: Medium},
	}}
}
