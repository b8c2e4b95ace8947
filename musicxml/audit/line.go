package audit

import (
	"cmp"
	"slices"
	"strings"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// line is one that has begun: a slur, a hairpin and so on.
type line struct {
	kind, number, voice string
	at                  place
}

// lines are those under way.
type lines struct {
	open []line
	// early are ends that were met before a beginning, which a voice further down in
	// the bar may still have.
	early []line
}

// words are what a musician calls the lines.
var lineWords = map[string]string{
	"slur": "the slur", "tuplet": "the tuplet's bracket", "glissando": "the glissando", "slide": "the slide",
	"wavy-line": "the wavy line", "tremolo": "the tremolo", "hammer-on": "the hammer-on", "pull-off": "the pull-off",
	"wedge": "the hairpin", "dashes": "the dashed line", "bracket": "the bracket", "octave-shift": "the octave line",
	"pedal": "the pedal line", "principal-voice": "the principal voice", "ending": "the ending", "beam": "the beam",
	"measure-repeat": "the repeated bars", "beat-repeat": "the repeated beats", "slash": "the slashes", "extend": "the lyric's line",
}

// agree is the verb that goes with the words of a kind.
func agree(kind, one, several string) string {
	if kind == "measure-repeat" || kind == "beat-repeat" || kind == "slash" {
		return several
	}
	return one
}

// end takes up one end of a line by its type.
func (a *auditor) end(kind string, e *etree.Element, voice string, at place) {
	number := cmp.Or(musicxml.Attr(e, "number"), "1")
	l := line{kind: kind, number: number, voice: voice, at: at}
	switch musicxml.Attr(e, "type") {
	case "start", "crescendo", "diminuendo", "up", "down", "resume":
		a.lines.take(l, true)
	case "stop", "discontinue":
		a.lines.take(l, false)
	}
}

// take takes down a line that begins or ends.
func (s *lines) take(l line, begins bool) {
	switch {
	case begins:
		s.open = append(s.open, l)
	case !s.close(l):
		s.early = append(s.early, l)
	}
}

// close takes out the line that ends: of its kind and number, in its own voice if
// there is one, the latest else.
func (s *lines) close(l line) bool {
	best := -1
	for i := range s.open {
		if o := &s.open[i]; o.kind == l.kind && o.number == l.number && (o.voice == l.voice || best < 0 || s.open[best].voice != l.voice) {
			best = i
		}
	}
	if best < 0 {
		return false
	}
	s.open = append(s.open[:best], s.open[best+1:]...)
	return true
}

// settle matches the ends that came before their beginnings in the bar's text.
func (s *lines) settle(a *auditor) {
	for _, e := range s.early {
		if s.beganInBar(a.index, e) {
			continue
		}
		a.find(e.at, notice.LineWithoutEnd, lineWords[e.kind]+agree(e.kind, " ends", " end")+" and did not begin")
	}
	s.early = s.early[:0]
}

func (s *lines) beganInBar(index int, e line) bool {
	for i := range s.open {
		if o := &s.open[i]; o.kind == e.kind && o.number == e.number && o.at.index == index && o.at.ticks <= e.at.ticks {
			s.open = append(s.open[:i], s.open[i+1:]...)
			return true
		}
	}
	return false
}

func (s *lines) finish(a *auditor) {
	for i := range s.open {
		a.find(s.open[i].at, notice.LineWithoutEnd, lineWords[s.open[i].kind]+agree(s.open[i].kind, " begins and does", " begin and do")+" not end")
	}
}

// notations reads the marks at a note.
func (a *auditor) notations(notations *etree.Element, voice string, at place) {
	for e := range notations.ChildElementsSeq() {
		switch e.Tag {
		case "slur", "tuplet", "glissando", "slide":
			a.end(e.Tag, e, voice, at)
		case "ornaments", "technical":
			for c := range e.ChildElementsSeq() {
				switch c.Tag {
				case "wavy-line", "tremolo", "hammer-on", "pull-off":
					a.end(c.Tag, c, voice, at)
				}
			}
		}
	}
}

// lyric reads a syllable's line where it has two ends (MusicXML 4.0, extend).
func (a *auditor) lyric(e *etree.Element, voice string) {
	if extend := musicxml.Child(e, "extend"); extend != nil && len(extend.Attr) > 0 {
		a.end("extend", extend, voice+"/"+musicxml.Attr(e, "number"), a.at())
	}
}

// direction reads what stands over or under the staff.
func (a *auditor) direction(e *etree.Element) {
	a.staffOf(e)
	voice := musicxml.ChildText(e, "voice")
	a.voiceNamed(voice, "a direction is for")
	a.rest.direction(a, e)
	for types := range e.ChildElementsSeq() {
		switch types.Tag {
		case "direction-type":
			for mark := range types.ChildElementsSeq() {
				a.mark(mark)
			}
		case "sound":
			a.sound(types)
		case "listening":
			a.refer(types)
		}
	}
}

func (a *auditor) mark(e *etree.Element) {
	switch e.Tag {
	case "wedge", "dashes", "bracket", "octave-shift", "principal-voice":
		a.end(e.Tag, e, "", a.at())
	case "pedal":
		if musicxml.Attr(e, "line") == "yes" {
			a.end(e.Tag, e, "", a.at())
		}
	case "words":
		a.changes.words(a, musicxml.Text(e))
	case "percussion":
		if a.Given && a.Instrument != nil && a.Instrument.Group != instruments.Percussion {
			a.find(a.at(), notice.OtherInstrument, "a percussion picture is left from another instrument")
		}
	}
}

// beam is one that has begun.
type beam struct {
	key string
	at  place
}

// beamsOf follows a note's beams. They are told apart by voice, level, and whether
// they are grace or cue notes' (MusicXML 4.0, beam).
func (a *auditor) beamsOf(note *etree.Element, n *noteFacts) {
	if n.chord {
		return
	}
	for e := range musicxml.Each(note, "beam") {
		number := cmp.Or(musicxml.Attr(e, "number"), "1")
		b := beam{key: number + "/" + n.voice + mark(n.grace, "g") + mark(n.cue, "c"), at: a.atTicks(n.onset)}
		open := slices.IndexFunc(a.beams, func(other beam) bool { return other.key == b.key })
		value := musicxml.Text(e)
		switch {
		case value == "begin" && open >= 0:
			a.find(a.beams[open].at, notice.LineWithoutEnd, "the beam begins and does not end")
			a.beams[open] = b
		case value == "begin":
			a.beams = append(a.beams, b)
		case (value == "continue" || value == "end") && open < 0:
			a.find(b.at, notice.LineWithoutEnd, "the beam goes on and did not begin")
		case value == "end":
			a.beams = append(a.beams[:open], a.beams[open+1:]...)
		}
	}
}

func mark(yes bool, sign string) string {
	if yes {
		return sign
	}
	return ""
}

func (a *auditor) finishBeams() {
	for _, b := range a.beams {
		a.find(b.at, notice.LineWithoutEnd, "the beam begins and does not end")
	}
}

// barline reads an ending and what else bars say.
func (a *auditor) barline(e *etree.Element) {
	a.metre.barline(e)
	a.rest.barline(a, e)
	for c := range e.ChildElementsSeq() {
		if c.Tag == "ending" {
			l := line{kind: "ending", number: strings.TrimSpace(musicxml.Attr(c, "number")), at: a.at()}
			a.lines.take(l, musicxml.Attr(c, "type") == "start")
		}
	}
}
