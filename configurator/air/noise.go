package air

import (
	"fmt"
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

var (
	bs4142    = source.Doc{ID: "BS 4142", Title: "Methods for rating and assessing industrial and commercial sound", Edition: "2014+A1:2019"}
	pointLoad = source.Derivation("point source over hard ground, Lp = Lw - 20·log10(r) - 8")
)

// Noise is what stands outdoors and the neighbour who hears it.
type Noise struct {
	Neighbour  string
	Sources    []Sound
	Background *unit.SoundLevel // LA90 at the neighbour while the plant runs, at night where it runs at night; nil unknown
	Tonal      unit.SoundDiff   // penalty for a tone the neighbour hears: 0, 2, 4 or 6 dB
	Impulsive  unit.SoundDiff   // 0, 3, 6 or 9 dB
	On         bool             // it is heard to start and stop: 3 dB
	Other      bool             // other character: 3 dB
}

// Sound is one machine outdoors.
type Sound struct {
	Name     string
	Power    *unit.SoundLevel // sound power level Lw; nil unknown: a "dB(A)" without distance does not serve
	Distance unit.Length      // to the neighbour; 0 unknown
	Walls    int              // reflecting walls beside it: 0, 1 or 2
	Screen   unit.SoundDiff   // what a screen takes off; 0: none
	Count    int              // alike; 0 counts as one
	Quieter  []Sound          // others that could be chosen
}

// SoundAt returns the level of a point source at a distance.
//
//	Lp = Lw - 20·log10(r) - 8 over hard ground; -5 before one wall, -2 in a corner
//
// r in metres. Reliable from three times the size of the machine, taken as 3 m, to
// 100 m. Left out: wind, soft ground, and air that takes up sound.
//
// Source: point source in half space; the walls' figures from memory.
func SoundAt(lw unit.SoundLevel, r unit.Length, walls int) (unit.SoundLevel, error) {
	if err := unit.Within("distance to the neighbour", r, unit.Metres(3), unit.Metres(100)); err != nil {
		return 0, fmt.Errorf("sound: %w", err)
	}
	if walls < 0 || walls > 2 {
		return 0, fmt.Errorf("sound: %d walls beside the machine: use 0, 1 or 2", walls)
	}
	off := [3]float64{8, 5, 2}[walls]
	return unit.DecibelsA(lw.DBA() - 20*math.Log10(r.M()) - off), nil
}

// SumSound returns the level of several together, 10·log10 Σ 10^(L/10).
//
// Source: addition of sound energies.
func SumSound(levels ...unit.SoundLevel) unit.SoundLevel {
	e := 0.0
	for _, l := range levels {
		e += math.Pow(10, l.DBA()/10)
	}
	if e == 0 {
		return 0
	}
	return unit.DecibelsA(10 * math.Log10(e))
}

// NoiseRow is one machine at the neighbour's.
type NoiseRow struct {
	Name  string
	Power unit.SoundLevel
	At    unit.SoundLevel
	Known bool
}

// NoiseResult is the sound at one neighbour.
type NoiseResult struct {
	Neighbour string
	Rows      []NoiseRow
	Specific  unit.SoundLevel // of all machines together
	Penalty   unit.SoundDiff  // for character
	Rating    unit.SoundLevel
	Excess    unit.SoundDiff // rating over background; only where the background is known
	Known     bool           // every sound power is known
	Placed    bool           // every distance is known
	Words     string
}

func sizeNoise(n Noise) (NoiseResult, error) {
	r := NoiseResult{Neighbour: n.Neighbour, Known: len(n.Sources) > 0, Placed: true}
	if err := unit.Within("penalty for a tone", n.Tonal, 0, unit.Decibels(6)); err != nil {
		return r, err
	}
	if err := unit.Within("penalty for impulses", n.Impulsive, 0, unit.Decibels(9)); err != nil {
		return r, err
	}
	var levels []unit.SoundLevel
	for _, s := range n.Sources {
		r.Placed = r.Placed && s.Distance > 0
		if s.Power == nil || s.Distance == 0 {
			r.Known = false
			r.Rows = append(r.Rows, NoiseRow{Name: s.Name})
			continue
		}
		l, err := SoundAt(*s.Power, s.Distance, s.Walls)
		if err != nil {
			return r, fmt.Errorf("%s: %w", s.Name, err)
		}
		l = unit.DecibelsA(l.DBA() - s.Screen.DB() + 10*math.Log10(float64(max(s.Count, 1))))
		levels = append(levels, l)
		r.Rows = append(r.Rows, NoiseRow{Name: s.Name, Power: *s.Power, At: l, Known: true})
	}
	r.Specific = SumSound(levels...)
	r.Penalty = n.Tonal + n.Impulsive
	if n.On {
		r.Penalty += unit.Decibels(3)
	}
	if n.Other {
		r.Penalty += unit.Decibels(3)
	}
	r.Rating = unit.DecibelsA(r.Specific.DBA() + r.Penalty.DB())
	if n.Background != nil {
		r.Excess = unit.Decibels(r.Rating.DBA() - n.Background.DBA())
	}
	r.Words = noiseWords(n, r)
	return r, nil
}

func noiseWords(n Noise, r NoiseResult) string {
	switch {
	case !r.Placed:
		return "at " + n.Neighbour + ": not known, for nobody told how far the machines stand from it"
	case !r.Known:
		return "at " + n.Neighbour + ": not known, for the sound power of a machine is not known"
	}
	words := "at " + n.Neighbour + " " + unit.Fixed(r.Specific, 1) + ", rating " + unit.Fixed(r.Rating, 1)
	if n.Background == nil {
		return words + "; background not known"
	}
	words += " against a background of " + unit.Fixed(*n.Background, 1) + ": " + unit.Fixed(r.Excess, 1) + " above it, "
	switch {
	case r.Excess.DB() > 10:
		return words + "significant adverse impact likely, depending on the context"
	case r.Excess.DB() > 5:
		return words + "adverse impact likely, depending on the context"
	case r.Excess > 0:
		return words + "some impact"
	}
	return words + "low impact"
}
