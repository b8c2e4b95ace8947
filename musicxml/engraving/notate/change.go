package notate

import (
	"cmp"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/music"
	"deskpart/transpose/pitch"
)

// change reads a child of <attributes>: a clef, key, time signature, staff lines, or
// a style of the measures that follow.
func (m *measureReader) change(c *music.Change) {
	made := engraving.Change{Onset: c.Onset, Hidden: c.Hidden}
	switch c.Element.Tag {
	case "clef":
		if music.IsAdditional(c.Element) {
			m.census.miss("additional clef", m.bar)
			return
		}
		clef := readClef(c.Element)
		made.Clef = &clef
	case "key":
		key := readKey(c.Element)
		made.Key = &key
	case "time":
		time := readTime(c.Element)
		made.Time = &time
	case "staff-details":
		m.hideStaff(c.Staff, musicxml.Attr(c.Element, "print-object"))
		if musicxml.ChildText(c.Element, "staff-type") == "ossia" {
			m.standsApart(m.staff(c.Staff))
		}
		m.sizeStaff(c)
		made.Lines = elementNumber(c.Element, "staff-lines")
		if made.Lines < 1 || made.Lines > 20 {
			return
		}
	case "measure-style":
		m.measureStyle(c)
		return
	case "part-symbol":
		m.partSymbol(c.Element)
		return
	case "directive":
		m.mark(m.staff(c.Staff), engraving.Mark{Onset: c.Onset, Kind: engraving.MarkTempo, Pieces: []engraving.Piece{{Text: musicxml.Text(c.Element)}}})
		return
	default:
		return // not for the eye
	}
	m.change1(c.Staff, made)
}

// hideStaff notes down from where on a staff is hidden or shown, which is for whole bars.
func (m *measureReader) hideStaff(staff int, printed string) {
	if printed != "" && len(m.hidden) > 1 {
		m.hidden[m.staff(staff)] = printed == "no"
	}
}

// smallStaff is the size of staves that are small by their kind, where no other is said (65
// to 75 percent for cues: trade/engraving.md, section 1).
const smallStaff = 0.7

// sizeStaff notes down how large a staff is against the others (MusicXML 4.0, staff-size),
// with all that stands on it. Lines of another size than their notes, and a size that
// changes, are not drawn.
func (m *measureReader) sizeStaff(c *music.Change) {
	size, kind := musicxml.Child(c.Element, "staff-size"), musicxml.ChildText(c.Element, "staff-type")
	made := 0.0
	if kind == "ossia" || kind == "cue" || kind == "editorial" {
		made = smallStaff
	}
	if size != nil {
		percent, err := strconv.ParseFloat(musicxml.Text(size), 64)
		if scaling := musicxml.Attr(size, "scaling"); err != nil || percent < 40 || percent > 250 || scaling != "" && scaling != musicxml.Text(size) {
			m.census.miss("staff-size", m.bar)
			return
		}
		made = percent / 100
	}
	if made == 0 {
		return
	}
	for s := range m.music.Staves {
		if c.Staff != 0 && s != m.staff(c.Staff) {
			continue
		}
		if st := &m.music.Staves[s]; m.bar == 0 || st.Size == made {
			st.Size = made
		} else {
			m.census.miss("staff-size", m.bar)
		}
	}
}

// sizeStaves makes the largest staff of the part one of full size.
func (r *partReader) sizeStaves() {
	largest := 0.0
	for s := range r.music.Staves {
		largest = max(largest, cmp.Or(r.music.Staves[s].Size, 1))
	}
	for s := range r.music.Staves {
		st := &r.music.Staves[s]
		st.Size = cmp.Or(st.Size, 1) / largest
	}
}

// standsApart takes an ossia, above or below, out of what joins the staves.
func (m *measureReader) standsApart(staff int) {
	if len(m.music.Groups) == 0 {
		return
	}
	switch g := &m.music.Groups[0]; staff {
	case g.From:
		g.From++
	case g.To:
		g.To--
	}
	if g := m.music.Groups[0]; g.From >= g.To {
		m.music.Groups = nil
	}
}

// change1 adds a change to one staff, or to all for 0.
func (m *measureReader) change1(staff int, c engraving.Change) {
	for s := range m.measures {
		if staff == 0 || s == m.staff(staff) {
			if c.Lines > 0 {
				m.lines[s] = c.Lines
			}
			m.measures[s].Changes = append(m.measures[s].Changes, c)
		}
	}
}

// partSymbol joins the staves as the part says.
func (m *measureReader) partSymbol(e *etree.Element) {
	if len(m.music.Groups) == 0 {
		return
	}
	g := &m.music.Groups[0]
	switch musicxml.Text(e) {
	case "none", "line":
		g.Symbol = engraving.NoSymbol
	case "bracket", "square":
		g.Symbol = engraving.Bracket
	}
	if top, err := strconv.Atoi(musicxml.Attr(e, "top-staff")); err == nil {
		g.From = m.staff(top)
	}
	if bottom, err := strconv.Atoi(musicxml.Attr(e, "bottom-staff")); err == nil {
		g.To = max(g.From, m.staff(bottom))
	}
}

// elementNumber reads a whole number from a child element; 0 where there is none.
func elementNumber(e *etree.Element, tag string) int {
	n, err := strconv.Atoi(musicxml.ChildText(e, tag))
	if err != nil || n < -1000000 || n > 1000000 {
		return 0
	}
	return n
}

var clefSignNames = map[string]engraving.ClefSign{"G": engraving.ClefG, "F": engraving.ClefF, "C": engraving.ClefC, "percussion": engraving.ClefPercussion,
	"TAB": engraving.ClefTab, "none": engraving.ClefNone, "jianpu": engraving.ClefNone}

func readClef(e *etree.Element) engraving.Clef {
	return engraving.Clef{
		Sign: clefSignNames[musicxml.ChildText(e, "sign")], Line: max(0, min(elementNumber(e, "line"), 9)),
		Octave: max(-4, min(elementNumber(e, "clef-octave-change"), 4)), AfterBarline: musicxml.Attr(e, "after-barline") == "yes",
	}
}

// stepOf turns a note letter into C to B as 0 to 6.
func stepOf(letter string) int {
	step, _ := pitch.ParseStep(letter) // one that cannot be read is drawn as C
	return int(step)
}

func readKey(e *etree.Element) engraving.Key {
	key := engraving.Key{Cancel: elementNumber(e, "cancel")}
	for _, child := range e.ChildElements() {
		switch child.Tag {
		case "fifths":
			key.Fifths = max(-14, min(14, elementNumber(e, "fifths")))
		case "key-step":
			key.Signs = append(key.Signs, engraving.KeySign{Step: stepOf(musicxml.Text(child))})
		case "key-alter":
			if n := len(key.Signs); n > 0 {
				alter, _ := strconv.ParseFloat(musicxml.Text(child), 64)
				key.Signs[n-1].Sign = engraving.UsualAccidental(alter)
			}
		case "key-accidental":
			if n := len(key.Signs); n > 0 {
				key.Signs[n-1].Sign = musicxml.Text(child)
			}
		}
	}
	placeKeySigns(e, &key)
	return key
}

// placeKeySigns takes over the octaves that a key gives its signs.
func placeKeySigns(e *etree.Element, key *engraving.Key) {
	octaves := musicxml.Children(e, "key-octave")
	if len(octaves) == 0 {
		return
	}
	key.Signs = key.AllSigns()
	for _, o := range octaves {
		at, err := strconv.Atoi(musicxml.Attr(o, "number"))
		octave, err2 := strconv.Atoi(musicxml.Text(o))
		octave = clampOctave(octave)
		if err == nil && err2 == nil && at >= 1 && at <= len(key.Signs) && musicxml.Attr(o, "cancel") != "yes" {
			key.Signs[at-1].Octave, key.Signs[at-1].HasOctave = octave, true
		}
	}
}

var timeSymbols = map[string]engraving.TimeSymbol{"common": engraving.TimeCommon, "cut": engraving.TimeCut, "single-number": engraving.TimeSingle}

func readTime(e *etree.Element) engraving.Time {
	if musicxml.Child(e, "senza-misura") != nil {
		return engraving.Time{Symbol: engraving.TimeFree}
	}
	t := readFractions(e)
	if symbol, known := timeSymbols[musicxml.Attr(e, "symbol")]; known {
		t.Symbol = symbol
	}
	if other := musicxml.Child(e, "interchangeable"); other != nil {
		second := readFractions(other)
		t.Alternate = &second
	}
	return t
}

func readFractions(e *etree.Element) engraving.Time {
	var list []engraving.Time
	for _, child := range e.ChildElements() {
		switch child.Tag {
		case "beats":
			list = append(list, engraving.Time{Beats: firstRunes(musicxml.Text(child), 16)})
		case "beat-type":
			if n := len(list); n > 0 {
				list[n-1].BeatType = firstRunes(musicxml.Text(child), 8)
			}
		}
	}
	if len(list) == 0 {
		return engraving.Time{Symbol: engraving.TimeFree}
	}
	list[0].More = list[1:]
	return list[0]
}
