package pdfread

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// Place is a moment in the music: a measure, counted from 0, and the time from its
// beginning in quarter notes.
type Place struct {
	Measure int
	Onset   musicxml.Fraction
}

func (p Place) String() string { return fmt.Sprintf("%d+%s", p.Measure, p.Onset) }

// Note is a note as it is read from the page.
type Note struct {
	Place
	Staff int // from 1
	// Step is C to B as 0 to 6, Alter in semitones: the pitch that stands in the
	// part, octave lines followed.
	Step, Octave int
	Alter        float64
	Grace        bool
	Unpitched    bool // its place is no pitch
}

// String writes the note with its place.
func (n Note) String() string {
	text := pitch.Pitch{Step: pitch.Step(n.Step), Alter: pitch.Alter(n.Alter * float64(pitch.Semitone)), Octave: n.Octave}.String()
	grace := ""
	if n.Unpitched {
		grace = " without pitch"
	}
	if n.Grace {
		grace += " grace"
	}
	return fmt.Sprintf("%s staff %d %s%s", n.Place, n.Staff, text, grace)
}

// Span is a slur or hairpin from where it begins to where it ends.
type Span struct {
	Kind     string // "slur", "crescendo", "diminuendo"
	From, To Mark
}

// Mark is a text or an end of a span at its place on paper.
type Mark struct {
	Text string
	// Place is the note that it stands at: for slurs exact, for others the nearest
	// column.
	Place
	// System, from 0, and X, in staff spaces, are where it stands.
	System int
	X      float64
}

// Part is what was read.
type Part struct {
	Measures int
	Notes    []Note
	Slurs    []Span
	Hairpins []Span
	// Dynamics are those of music signs, Words all other letters.
	Dynamics, Words []Mark
	// Unsure are measures whose printed values do not add up: values that the page
	// does not show (tuplets without figure, hidden rests).
	Unsure map[int]bool
	// Repeated are measures in whose place a sign stands that says to play others.
	Repeated map[int]bool

	systems []*system
}

// Read reads a document of one movement.
func Read(data []byte) (*Part, error) {
	d, err := open(data)
	if err != nil {
		return nil, err
	}
	p := &Part{Unsure: map[int]bool{}, Repeated: map[int]bool{}}
	var metre int64
	for number := 1; number <= d.PageCount; number++ {
		blocks, err := d.page(number)
		if err != nil {
			return nil, fmt.Errorf("page %d: %w", number, err)
		}
		for i := range blocks {
			if blocks[i].tag == "Figure" {
				p.addSystem(&blocks[i], &metre)
			}
		}
	}
	p.readAlterations()
	p.readSlurs()
	p.readHairpins()
	for number, s := range p.systems {
		p.readDynamics(number, s)
		p.readWords(number, s)
	}
	p.list()
	return p, nil
}

// addSystem reads the notes of a line.
func (p *Part) addSystem(b *block, metre *int64) {
	s := newSystem(b)
	if len(s.staves) == 0 {
		return
	}
	s.readClefs()
	s.readOctaves()
	s.cutBars(p.Measures)
	for i, b := range s.bars {
		b.readHead(i == 0, metre)
		if b.measures == 1 {
			b.readNotes()
			b.readMoments()
		}
		p.Measures += b.measures
		p.Unsure[b.number] = b.unsure
		b.symbols(func(y *symbol) {
			if y.text == "𝄎" || y.text == "𝄏" || y.text == "/" {
				p.Repeated[b.number] = true
			}
		})
	}
	p.systems = append(p.systems, s)
}

// readHead reads signatures and metre at the beginning of a bar.
func (b *bar) readHead(first bool, metre *int64) {
	s := b.system
	head := b.from
	if first {
		head = s.left // before a repeat that begins the line
	}
	for _, st := range s.staves {
		from := head
		for _, y := range s.symbols {
			_, clef := clefSteps[y.text]
			if clef && y.at.x >= head-0.1 && y.at.x < head+4 && s.nearest(y.at.y) == st {
				from = y.right()
			}
		}
		if k := s.readKey(st, from, b.to); k != nil {
			b.keys = append(b.keys, k)
		} else if first {
			b.keys = append(b.keys, &keyAt{staff: st.index, alter: map[int]float64{}})
		}
		for _, y := range s.symbols { // and within the bar
			if _, accidental := accidentals[y.text]; accidental && !y.taken && y.at.x > from && y.at.x < b.to && s.nearest(y.at.y) == st {
				if k := s.readKey(st, y.at.x-0.01, b.to); k != nil {
					b.keys = append(b.keys, k)
				}
			}
		}
	}
	to := b.to
	for _, y := range s.symbols {
		if y.at.x > b.from && (y.isHead() || y.isRest()) {
			to = min(to, y.at.x)
		}
	}
	if m := s.readMetre(head, to); m > 0 {
		*metre = m
	}
	b.length = *metre
}

// heads are those of a staff in the order of time, signs of one moment before the
// notes without.
func (b *bar) heads(staff int) (list []*head) {
	for _, e := range b.events {
		for _, h := range e.heads {
			if h.staff.index == staff {
				list = append(list, h)
			}
		}
	}
	rank := func(h *head) int {
		switch {
		case h.event.grace:
			return 0
		case h.accidental != "":
			return 1
		}
		return 2
	}
	slices.SortStableFunc(list, func(x, y *head) int {
		return cmp.Or(cmp.Compare(x.event.onset, y.event.onset), cmp.Compare(rank(x), rank(y)), cmp.Compare(x.at.x, y.at.x))
	})
	return list
}

// readAlterations follows signatures, accidentals and ties from bar to bar
// (trade/notation-rules.md, section 2).
func (p *Part) readAlterations() {
	last := map[[3]int]float64{} // by staff, step and octave: how it was played last
	for _, s := range p.systems {
		ties := s.readTies()
		signature := map[int]map[int]float64{}
		for _, b := range s.bars {
			for _, st := range s.staves {
				signature[st.index] = b.readAlterations(st, signature[st.index], ties, last)
			}
		}
	}
}

// readAlterations reads a bar on a staff, and returns the signature that it ends with.
func (b *bar) readAlterations(st *staff, signature map[int]float64, ties map[*head]*head, last map[[3]int]float64) map[int]float64 {
	inForce := map[[2]int]float64{}
	before := map[[2]int]*head{} // in this bar
	keys := slices.DeleteFunc(slices.Clone(b.keys), func(k *keyAt) bool { return k.staff != st.index })
	for _, h := range b.heads(st.index) {
		for len(keys) > 0 && keys[0].x < h.at.x {
			signature, keys = keys[0].alter, keys[1:]
			clear(inForce)
		}
		steps := st.steps(h.at.x, h.at.y) + 7*st.octavesAt(h.at.x)
		h.step, h.oct = ((steps%7)+7)%7, int(math.Floor(float64(steps)/7))
		key, held := [2]int{h.step, h.oct}, [3]int{st.index, h.step, h.oct}
		alter, changed := inForce[key]
		if !changed {
			alter = signature[h.step]
		}
		if from, tied := ties[h]; tied {
			if from != nil && from.step == h.step && from.oct == h.oct {
				alter = from.alter
			} else if played, known := last[held]; known {
				alter = played
			}
			h.tied = true
		} else if o := before[key]; o != nil && o.tied && o.event.onset == h.event.onset {
			alter = o.alter // two voices in unison
		}
		before[key] = h
		if h.accidental != "" {
			alter = accidentals[h.accidental]
			inForce[key] = alter
		}
		h.alter = alter
		last[held] = alter
	}
	for _, k := range keys {
		signature = k.alter
	}
	return signature
}

// list writes down the notes.
func (p *Part) list() {
	for _, s := range p.systems {
		for _, b := range s.bars {
			for _, e := range b.events {
				for _, h := range e.heads {
					p.Notes = append(p.Notes, Note{Place: Place{b.number, fraction(e.onset)}, Staff: h.staff.index + 1, Step: h.step, Octave: h.oct, Alter: h.alter,
						Grace: e.grace, Unpitched: h.staff.clefAt(h.at.x).none})
				}
			}
		}
	}
}

func fraction(ticks int64) musicxml.Fraction { return musicxml.NewFraction(ticks, quarter) }
