package notate

import (
	"cmp"
	"slices"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/music"
)

// octaveShift is a stretch of a staff printed in another octave.
type octaveShift struct {
	staff    int
	from, to engraving.Moment
	octaves  int
}

// readSpans reads what reaches from one place beside the notes to another:
// hairpins, octave lines, dashes, brackets, pedals, wavy lines.
func (r *partReader) readSpans() {
	for i := range r.part.Spans {
		s := &r.part.Spans[i]
		if s.Start == nil || s.Start.Hidden {
			continue
		}
		if read := spanReaders[s.Kind]; read != nil {
			read(r, s)
		}
	}
}

// spanReaders read the kinds of spans that are drawn beside the notes.
var spanReaders = map[string]func(*partReader, *music.Span){
	"wedge": (*partReader).wedge, "octave-shift": (*partReader).octaveShift, "dashes": (*partReader).dashes,
	"bracket": (*partReader).bracket, "pedal": (*partReader).pedal, "wavy-line": (*partReader).wavyLine, "principal-voice": (*partReader).principalVoice,
}

// spanner begins a spanner with the ends of a span, and puts it on the staff where
// it begins. A span without its other end is listed, but for an octave line, which
// goes on to the end of the part.
func (r *partReader) spanner(s *music.Span, sp engraving.Spanner) (staff int, drawn bool) {
	start := s.Start
	if s.Stop == nil {
		r.census.miss(s.Kind+" without end", start.Measure)
		return 0, false
	}
	if staff = r.staff(start.Event.Staff); r.music.Staves[staff].Measures[start.Measure].Hidden {
		staff = slices.IndexFunc(r.music.Staves, func(s engraving.Staff) bool { return !s.Measures[start.Measure].Hidden })
	}
	sp.From, sp.To = moment(start), moment(s.Stop)
	sp.Side = cmp.Or(sp.Side, readSide(start.Event.Element))
	for _, through := range s.Through {
		if musicxml.Attr(through.Element, "type") == "change" {
			sp.Changes = append(sp.Changes, moment(through))
		}
	}
	if list := &r.music.Staves[staff].Spanners; !hasHairpin(*list, &sp) {
		*list = append(*list, sp)
	}
	return staff, true
}

// hasHairpin reports whether there is the same hairpin already, which some files have
// twice.
func hasHairpin(list []engraving.Spanner, sp *engraving.Spanner) bool {
	if sp.Kind != engraving.Crescendo && sp.Kind != engraving.Diminuendo {
		return false
	}
	for i := len(list) - 1; i >= 0 && list[i].From.Bar == sp.From.Bar; i-- {
		if o := &list[i]; o.Kind == sp.Kind && o.From == sp.From && o.To == sp.To && o.Side == sp.Side {
			return true
		}
	}
	return false
}

func moment(m *music.Mark) engraving.Moment {
	if m.Onset.Sign() < 0 {
		return engraving.Moment{Bar: m.Measure}
	}
	return engraving.Moment{Bar: m.Measure, Onset: m.Onset}
}

func (r *partReader) wedge(s *music.Span) {
	sp := engraving.Spanner{Kind: engraving.Crescendo, Niente: musicxml.Attr(s.Start.Element, "niente") == "yes"}
	if musicxml.Attr(s.Start.Element, "type") == "diminuendo" {
		sp.Kind = engraving.Diminuendo
		sp.Niente = s.Stop != nil && musicxml.Attr(s.Stop.Element, "niente") == "yes"
	}
	r.spanner(s, sp)
}

// octaveShift reads an octave line: "down" is printed below its pitch, so the sign
// is 8va (MusicXML 4.0, up-down-stop-continue).
func (r *partReader) octaveShift(s *music.Span) {
	if s.Stop != nil && !before(moment(s.Start), moment(s.Stop)) { // over grace notes alone, which have no moment of their own
		r.census.miss("octave line over no note but grace notes", s.Start.Measure)
		return
	}
	kind, octaves := octaveLine(musicxml.Attr(s.Start.Element, "type"), musicxml.Attr(s.Start.Element, "size"))
	if s.Stop == nil && len(r.music.Bars) > 0 {
		last := len(r.music.Bars) - 1
		end := *s.Start
		end.Measure, end.Onset = last, r.music.Bars[last].Length
		s = &music.Span{Kind: s.Kind, Start: s.Start, Stop: &end}
	}
	if staff, ok := r.spanner(s, engraving.Spanner{Kind: kind}); ok {
		r.shifts = append(r.shifts, octaveShift{staff, moment(s.Start), moment(s.Stop), octaves})
	}
}

func octaveLine(kind, size string) (engraving.SpannerKind, int) {
	octaves := cmp.Or(map[string]int{"15": 2, "22": 3}[size], 1)
	if kind == "down" {
		return [...]engraving.SpannerKind{engraving.OctaveUp, engraving.TwoOctavesUp, engraving.ThreeOctavesUp}[octaves-1], -octaves
	}
	return [...]engraving.SpannerKind{engraving.OctaveDown, engraving.TwoOctavesDown, engraving.ThreeOctavesDown}[octaves-1], octaves
}

func (r *partReader) dashes(s *music.Span) {
	sp := engraving.Spanner{Kind: engraving.DashedLine}
	if s.Stop != nil {
		sp.Text = r.takeWords(s.Start)
	}
	r.spanner(s, sp)
}

// takeWords takes the words that a dashed line goes on from out of the marks.
func (r *partReader) takeWords(start *music.Mark) string {
	staff, at := r.staff(start.Event.Staff), moment(start)
	list := r.music.Staves[staff].Measures[at.Bar].Marks
	side := readSide(start.Event.Element)
	for i := len(list) - 1; i >= 0; i-- {
		mark := &list[i]
		if (mark.Kind == engraving.MarkWords || mark.Kind == engraving.MarkTempo) && mark.Onset == at.Onset && mark.Diagram == nil && mark.Enclosure == engraving.NotEnclosed && (side == mark.Side || side == engraving.SideAuto) {
			text := words(mark)
			r.music.Staves[staff].Measures[at.Bar].Marks = append(list[:i:i], list[i+1:]...)
			return text
		}
	}
	return ""
}

var hooks = map[string]engraving.Hook{"up": engraving.HookUp, "down": engraving.HookDown, "both": engraving.HookBoth, "arrow": engraving.HookArrow}

func (r *partReader) bracket(s *music.Span) {
	sp := engraving.Spanner{Kind: engraving.BracketLine, Line: readLine(s.Start.Element), Begin: hooks[musicxml.Attr(s.Start.Element, "line-end")]}
	if s.Stop != nil {
		sp.End = hooks[musicxml.Attr(s.Stop.Element, "line-end")]
		sp.Text = r.takeWords(s.Start)
	}
	r.spanner(s, sp)
}

// principalVoice reads the bracket of a principal or secondary voice: H or N at its
// beginning, a hook at its end (MusicXML 4.0, principal-voice).
func (r *partReader) principalVoice(s *music.Span) {
	sign := map[string]string{"Hauptstimme": "hauptstimme", "Nebenstimme": "nebenstimme"}[musicxml.Attr(s.Start.Element, "symbol")]
	for _, end := range []*music.Mark{s.Start, s.Stop} {
		if end == nil || end.Hidden {
			continue
		}
		if end == s.Stop || sign == "" {
			sign = "stimme-end"
		}
		r.addMark(end, engraving.Mark{Kind: engraving.MarkWords, Side: engraving.Above, Pieces: []engraving.Piece{{Sign: sign}}})
	}
}

// pedal reads a pedal: signs at its ends, a line, or both.
func (r *partReader) pedal(s *music.Span) {
	start := s.Start.Element
	line := musicxml.Attr(start, "line") == "yes"
	sign := musicxml.Attr(start, "sign") == "yes" || musicxml.Attr(start, "sign") == "" && !line
	if line {
		sp := engraving.Spanner{Kind: engraving.PedalLine, Side: engraving.Below, Begin: engraving.HookUp, End: engraving.HookUp}
		if musicxml.Attr(start, "type") == "resume" || sign {
			sp.Begin = engraving.NoHook
		}
		if s.Stop != nil && musicxml.Attr(s.Stop.Element, "type") == "discontinue" {
			sp.End = engraving.NoHook
		}
		r.spanner(s, sp)
	}
	if sign && musicxml.Attr(start, "type") != "resume" {
		r.pedalMark(s.Start, engraving.MarkPedal)
	}
	for _, through := range s.Through {
		if sign && !line && musicxml.Attr(through.Element, "type") == "change" {
			r.pedalMark(through, engraving.MarkPedalEnd)
			r.pedalMark(through, engraving.MarkPedal)
		}
	}
	if sign && !line && s.Stop != nil && musicxml.Attr(s.Stop.Element, "type") == "stop" {
		r.pedalMark(s.Stop, engraving.MarkPedalEnd)
	}
}

func (r *partReader) pedalMark(m *music.Mark, kind engraving.MarkKind) {
	if m.Hidden {
		return
	}
	mark := engraving.Mark{Kind: kind, Side: cmp.Or(readSide(m.Event.Element), engraving.Below)}
	if musicxml.Attr(m.Element, "type") == "sostenuto" {
		mark.Kind, mark.Pieces = engraving.MarkWords, []engraving.Piece{{Text: "Sost. Ped."}}
	}
	r.addMark(m, mark)
}

// addMark puts a mark where another stands in the document.
func (r *partReader) addMark(at *music.Mark, mark engraving.Mark) {
	mark.Onset = moment(at).Onset
	measure := &r.music.Staves[r.staff(at.Event.Staff)].Measures[at.Measure]
	measure.Marks = append(measure.Marks, mark)
}

// wavyLine reads the line of a trill: it ends with the note at which it stops.
func (r *partReader) wavyLine(s *music.Span) {
	if s.Stop == nil || s.Start.Note == nil {
		return // listed with the notations
	}
	end := *s.Stop
	if end.Note != nil {
		end.Onset = end.Onset.Add(end.Note.Duration)
	}
	r.spanner(&music.Span{Kind: s.Kind, Start: s.Start, Stop: &end}, engraving.Spanner{Kind: engraving.TrillLine, Side: readSide(s.Start.Element)})
}

func before(a, b engraving.Moment) bool {
	return a.Bar < b.Bar || a.Bar == b.Bar && a.Onset.Less(b.Onset)
}

// applyShifts moves the notes under octave lines to their printed place.
func (r *partReader) applyShifts() {
	for _, shift := range r.shifts {
		for bar := shift.from.Bar; bar <= shift.to.Bar && bar < len(r.music.Bars); bar++ {
			for e := range r.music.Staves[shift.staff].Measures[bar].Events() {
				at := engraving.Moment{Bar: bar, Onset: e.Onset}
				if before(at, shift.from) || !before(at, shift.to) {
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
