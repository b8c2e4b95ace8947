package engraving

import (
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// spanKey tells open spanners apart.
type spanKey struct {
	staff  int
	kind   string
	number int
}

// openSpan is a spanner that waits for its end.
type openSpan struct {
	key     spanKey
	spanner Spanner
	// octaves is how far notes under an octave line are printed from their pitch.
	octaves int
}

// octaveShift is a stretch of a staff printed in another octave.
type octaveShift struct {
	staff    int
	from, to Moment
	octaves  int
}

func (m *measureReader) mark(staff int, mark Mark) {
	if mark.Onset.Sign() < 0 {
		mark.Onset = musicxml.Fraction{}
	}
	m.measures[staff].Marks = append(m.measures[staff].Marks, mark)
}

// direction reads a <direction> with all its types.
func (m *measureReader) direction(e *musicxml.Event) {
	staff, side := m.staff(max(e.Staff, 1)), readSide(e.Element)
	sound := musicxml.Child(e.Element, "sound")
	tempo := sound != nil && musicxml.Attr(sound, "tempo") != "" || e.Element.FindElement("direction-type/metronome") != nil
	for _, kind := range musicxml.Children(e.Element, "direction-type") {
		for _, child := range kind.ChildElements() {
			if musicxml.Attr(child, "print-object") != "no" {
				m.directionType(child, e, staff, side, tempo)
			}
		}
	}
}

func (m *measureReader) directionType(child *etree.Element, e *musicxml.Event, staff int, side Side, tempo bool) {
	mark := Mark{Onset: e.Onset, Side: side, Text: musicxml.Text(child)}
	switch child.Tag {
	case "words":
		m.words(staff, mark, tempo && side != Below || side != Below && musicxml.Attr(child, "font-weight") == "bold")
	case "rehearsal":
		mark.Kind = MarkRehearsal
		m.mark(staff, mark)
	case "segno", "coda":
		mark.Kind = map[string]MarkKind{"segno": MarkSegno, "coda": MarkCoda}[child.Tag]
		mark.Side = Above
		m.mark(staff, mark)
	case "dynamics":
		mark.Kind, mark.Text, mark.Pieces = MarkDynamic, "", dynamicPieces(child)
		m.mark(staff, mark)
	case "metronome":
		m.metronome(child, staff, mark)
	case "pedal":
		m.pedal(child, staff, mark)
	case "wedge", "octave-shift", "dashes", "bracket":
		m.spanEnd(child, e, staff, side)
	}
}

// words joins a text to the one before it at the same moment.
func (m *measureReader) words(staff int, mark Mark, tempo bool) {
	if tempo {
		mark.Kind = MarkTempo
	}
	text := strings.Join(strings.Fields(mark.Text), " ")
	if text == "" {
		return
	}
	mark.Text, mark.Pieces = "", []Piece{{Text: text}}
	m.joinMark(staff, mark)
}

// joinMark adds the pieces of a mark to those of one of its kind at the same
// moment and side, or else the mark itself.
func (m *measureReader) joinMark(staff int, mark Mark) {
	list := m.measures[staff].Marks
	for i := range list {
		last := &list[i]
		if last.Kind != mark.Kind || last.Onset != mark.Onset || last.above() != mark.above() || last.Enclosure != mark.Enclosure || len(last.Pieces) == 0 {
			continue
		}
		if needsSpace(last.Pieces[len(last.Pieces)-1], mark.Pieces[0]) {
			last.Pieces = append(last.Pieces, Piece{Text: " "})
		}
		last.Pieces = append(last.Pieces, mark.Pieces...)
		return
	}
	m.mark(staff, mark)
}

// needsSpace tells whether a space belongs between two pieces.
func needsSpace(before, after Piece) bool {
	return !strings.HasSuffix(before.Text, "(") && !strings.HasSuffix(before.Text, "[") && !strings.HasSuffix(before.Text, " ") &&
		!strings.HasPrefix(after.Text, ")") && !strings.HasPrefix(after.Text, "]") && !strings.HasPrefix(after.Text, ",") && !strings.HasPrefix(after.Text, " ")
}

func (m *measureReader) metronome(e *etree.Element, staff int, mark Mark) {
	value, known := ParseValue(musicxml.ChildText(e, "beat-unit"))
	units := musicxml.Children(e, "beat-unit")
	text := musicxml.ChildText(e, "per-minute")
	if !known || len(units) != 1 || text == "" {
		return
	}
	mark.Kind, mark.Side, mark.Text = MarkTempo, Above, ""
	mark.Pieces = []Piece{{Note: &PieceNote{value, len(musicxml.Children(e, "beat-unit-dot"))}}, {Text: " = " + text}}
	m.joinMark(staff, mark)
}

func (m *measureReader) pedal(e *etree.Element, staff int, mark Mark) {
	switch musicxml.Attr(e, "type") {
	case "start", "sostenuto":
		mark.Kind = MarkPedal
	case "stop":
		mark.Kind = MarkPedalEnd
	default:
		return
	}
	if mark.Side == SideAuto {
		mark.Side = Below
	}
	m.mark(staff, mark)
}

// spanEnd opens or closes a hairpin, octave line, dashes or bracket.
func (m *measureReader) spanEnd(e *etree.Element, at *musicxml.Event, staff int, side Side) {
	moment := Moment{m.bar, at.Onset}
	key := spanKey{staff, e.Tag, identity(e)}
	sp := Spanner{From: moment, Side: side, Kind: DashedLine}
	octaves := 0
	switch kind := musicxml.Attr(e, "type"); kind {
	case "stop":
		m.closeSpan(key, moment)
		return
	case "continue":
		return
	case "crescendo":
		sp.Kind = Crescendo
	case "diminuendo":
		sp.Kind = Diminuendo
	case "up", "down":
		sp.Kind, octaves = octaveLine(kind, musicxml.Attr(e, "size"))
	}
	if e.Tag == "dashes" {
		sp.Text = m.takeWords(staff, sp.From.Onset)
	}
	m.spans = append(m.spans, openSpan{key, sp, octaves})
}

// takeWords takes the words that a dashed line goes on from out of the marks.
func (m *measureReader) takeWords(staff int, onset musicxml.Fraction) string {
	list := m.measures[staff].Marks
	for i := len(list) - 1; i >= 0; i-- {
		if list[i].Kind == MarkWords && list[i].Onset == onset {
			text := list[i].words()
			m.measures[staff].Marks = append(list[:i], list[i+1:]...)
			return text
		}
	}
	return ""
}

// words are the letters of a mark.
func (m *Mark) words() string {
	text := m.Text
	for _, p := range m.Pieces {
		text += p.Text + p.Dynamic
	}
	return text
}

// octaveLine reads an octave-shift: "down" is printed below its pitch, so the
// sign is 8va (MusicXML 4.0, up-down-stop-continue).
func octaveLine(kind, size string) (SpannerKind, int) {
	two := size == "15" || size == "22"
	switch {
	case kind == "down" && two:
		return TwoOctavesUp, -2
	case kind == "down":
		return OctaveUp, -1
	case two:
		return TwoOctavesDown, 2
	}
	return OctaveDown, 1
}

func (m *measureReader) openSpan(key spanKey, sp Spanner) {
	m.spans = append(m.spans, openSpan{key: key, spanner: sp})
}

// closeSpan ends the spanner that was opened last with the key; on whatever
// staff, where none is open on its own.
func (m *measureReader) closeSpan(key spanKey, end Moment) {
	at := -1
	for i, o := range m.spans {
		if o.key == key || at < 0 && o.key.kind == key.kind && o.key.number == key.number {
			at = i
		}
	}
	if at < 0 {
		return
	}
	m.partReader.endSpan(m.spans[at], end)
	m.spans = append(m.spans[:at], m.spans[at+1:]...)
}

func (r *partReader) endSpan(o openSpan, end Moment) {
	o.spanner.To = end
	staff := &r.music.Staves[o.key.staff]
	staff.Spanners = append(staff.Spanners, o.spanner)
	if o.octaves != 0 {
		r.shifts = append(r.shifts, octaveShift{o.key.staff, o.spanner.From, end, o.octaves})
	}
}

// closeSpans ends what the part leaves open at its last bar.
func (r *partReader) closeSpans() {
	last := len(r.music.Bars) - 1
	for _, o := range r.spans {
		if o.octaves != 0 && last >= 0 {
			r.endSpan(o, Moment{last, r.music.Bars[last].Length})
		}
	}
}

func (a Moment) before(b Moment) bool {
	return a.Bar < b.Bar || a.Bar == b.Bar && a.Onset.Less(b.Onset)
}

// applyShifts moves the notes under octave lines to their printed place.
func (r *partReader) applyShifts() {
	for _, shift := range r.shifts {
		for bar := shift.from.Bar; bar <= shift.to.Bar && bar < len(r.music.Bars); bar++ {
			measure := &r.music.Staves[shift.staff].Measures[bar]
			for v := range measure.Voices {
				for i := range measure.Voices[v].Events {
					e := &measure.Voices[v].Events[i]
					at := Moment{bar, e.Onset}
					if at.before(shift.from) || !at.before(shift.to) {
						continue
					}
					for n := range e.Notes {
						e.Notes[n].Octave += shift.octaves
						e.Notes[n].OctaveLine -= shift.octaves
					}
				}
			}
		}
	}
}
