package exercise

import (
	"fmt"
	"slices"
	"strings"

	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/texts"
	"deskpart/transpose/pitch"
	"deskpart/transpose/words"
)

// heading names what the exercise is for: the instrument and the direction, the
// interval, the clef.
func (e *Exercise) heading(t *texts.Texts) string {
	fill := texts.Fill{"name": e.NameIn(t)}
	switch {
	case e.Topic == IntervalTopic:
		return texts.UpperFirst(e.NameIn(t))
	case e.Topic == ClefTopic:
		return texts.UpperFirst(e.clefName(t))
	case e.Topic == Signature && e.Instrument == nil, e.Topic == ScoreReading:
		return t.Pick("topic", string(e.Topic))
	case e.Topic.forBand():
		return texts.UpperFirst(t.Key(e.Band.Key))
	case e.Topic == Sight, e.From == explain.Written:
		return t.Say("exercise.from-written", fill)
	case e.TwoPlayers:
		return t.Say("exercise.for-two", fill)
	}
	return t.Say("exercise.for", fill)
}

// clefName is the clef of the answer.
func (e *Exercise) clefName(t *texts.Texts) string {
	clef, _ := explain.ClefOf(e.Answer)
	name, _ := t.Clef(clef.Name())
	return name
}

// Asks is the question in words; it tells as much of the move as the level does.
func (e *Exercise) Asks(t *texts.Texts) string {
	switch e.Topic {
	case ClefTopic:
		return t.Say("exercise.ask-clef", texts.Fill{"clef": e.clefName(t)})
	case IntervalTopic:
		return join(t.Say("exercise.ask-interval", texts.Fill{"move": t.Moved(e.Plain), "clef": e.clefName(t)}), e.askSignature(t))
	case Sight:
		return e.asksSight(t)
	case Signature:
		return e.asksSignatures(t)
	case ConcertScale:
		return t.Say("exercise.ask-concert-scale", texts.Fill{"key": t.Key(e.Band.Key)})
	case BandKey:
		return join(t.Say("exercise.ask-band-key", texts.Fill{"key": t.Key(e.Band.Key)}), t.Say("exercise.ask-best-key", texts.Fill{"keys": keyList(t, e.Band.Offered)}))
	case ScoreReading:
		return t.Say("exercise.ask-score-reading", nil)
	}
	return e.asksTransposition(t)
}

// join puts sentences behind one another.
func join(sentences ...string) string {
	return strings.Join(slices.DeleteFunc(sentences, func(s string) bool { return s == "" }), " ")
}

func keyList(t *texts.Texts, keys []pitch.Key) string {
	var names []string
	for _, k := range keys {
		names = append(names, t.Key(k))
	}
	return strings.Join(names, ", ")
}

func (e *Exercise) asksTransposition(t *texts.Texts) string {
	fill := texts.Fill{"instrument": t.Instrument(e.Instrument), "clef": e.clefName(t)}
	text := t.Say("exercise.ask-written", fill)
	if e.From == explain.Written {
		text = t.Say("exercise.ask-sounding", fill)
	}
	octave := ""
	if e.Octaves != 0 {
		octave = t.Say("exercise.octave-of-score", texts.Fill{"off": t.Off(pitch.Octaves(-e.Octaves))})
	}
	return join(text, e.askSignature(t), e.hint(t), octave)
}

func (e *Exercise) asksSight(t *texts.Texts) string {
	text := t.Say("exercise.ask-sight", texts.Fill{"instrument": t.Instrument(e.Instrument)})
	octave := ""
	if clef, _ := explain.ClefOf(e.Answer); clef.OctaveChange != 0 {
		octave = t.Say("exercise.ask-octave", nil)
	}
	return join(text, octave, e.hint(t))
}

func (e *Exercise) asksSignatures(t *texts.Texts) string {
	switch {
	case e.Instrument != nil:
		return t.Say("exercise.ask-signature-for", texts.Fill{"instrument": t.Instrument(e.Instrument)})
	case e.Band.Shown:
		return t.Say("exercise.ask-signature-move", texts.Fill{"move": t.Moved(e.Plain)})
	}
	return t.Say("exercise.ask-signature", texts.Fill{"clef": e.clefName(t)})
}

// askSignature asks for the signature where it changes.
func (e *Exercise) askSignature(t *texts.Texts) string {
	switch {
	case e.WithoutSignature:
		return t.Say("exercise.no-signature", nil)
	case e.asksSignature(e.Solution):
		return t.Say("exercise.and-signature", nil)
	}
	return ""
}

// hint tells the interval, or the direction alone, or nothing.
func (e *Exercise) hint(t *texts.Texts) string {
	i := e.Transposition().Interval()
	switch {
	case e.Level.Shown == ShowsNothing || i.Chromatic == 0:
		return ""
	case e.Level.Shown == ShowsInterval:
		return t.Say("exercise.hint", texts.Fill{"off": t.Off(i)})
	case i.Chromatic < 0:
		return t.Say("exercise.hint-lower", nil)
	}
	return t.Say("exercise.hint-higher", nil)
}

// box is a place for the teacher's marks.
type box struct {
	Name string
	Of   int
}

// boxes are those for signatures where they are to be written, for the clef where it
// is not printed, for notes and chord names.
func (e *Exercise) boxes(s Sheet) []box {
	t := s.texts()
	signatures, clefs, notes, chords, keysOnStaff := 0, 0, 0, 0, 1
	if e.Band != nil {
		chords, keysOnStaff = len(e.Band.Chords), max(1, len(e.Band.Keys))
	}
	for _, staff := range e.Staves() {
		if e.asksSignature(staff) {
			signatures += keysOnStaff
		}
		if e.clefIsAsked(s) {
			clefs++
		}
		notes += len(staff.Pairs)
	}
	var list []box
	for _, b := range []struct {
		kind string
		of   int
	}{{"signature", signatures}, {"clef", clefs}, {"notes", notes}, {"chords", chords}} {
		if b.of > 0 {
			list = append(list, box{t.Pick("box", b.kind), b.of})
		}
	}
	return list
}

// remarks say what to look for in an answer.
func (e *Exercise) remarks(t *texts.Texts) []string {
	switch e.Topic {
	case ScoreReading:
		return []string{t.Say("exercise.chords-are", texts.Fill{"chords": e.chordNames(t)})}
	case BandKey:
		return []string{t.Say("exercise.best-key", texts.Fill{"key": t.Key(e.Band.Best), "signature": t.Signature(e.burden())})}
	case Signature, ConcertScale, ClefTopic:
		return nil
	}
	var items []string
	if given, ok := explain.KeyOf(e.Given); ok && !e.WithoutSignature {
		answer := given.Moved(e.Moved)
		fill := texts.Fill{"from": t.Key(given), "to": t.Key(answer), "signature": t.Signature(answer.Fifths)}
		if e.Respelled {
			items = append(items, t.Say("exercise.key-becomes-twin", fill))
		} else {
			items = append(items, t.Say("exercise.key-becomes", fill))
		}
	}
	items = append(items, t.Say("exercise.notes-move", texts.Fill{"move": t.Moved(e.Moved)}))
	for _, p := range e.Pairs {
		// The kind of the accidental changes because of the signatures.
		if p.FromSign != "" && p.ToSign != "" && p.From.Alter != p.To.Alter && p.Raised() != 0 && p.Raised() == p.RaisedInAnswer() {
			items = append(items, t.Say("exercise.sign-changes", texts.Fill{"place": e.placeOf(t, p), "from": t.Plainly(p.From), "to": t.Plainly(p.To)}))
		}
	}
	for i := range items {
		items[i] = texts.UpperFirst(items[i])
	}
	return items
}

// burden is how many sharps or flats the best key asks for at most; sharps and flats
// are counted alike.
func (e *Exercise) burden() int {
	most := 0
	for _, s := range e.Staves()[:len(e.Others)] {
		if n := s.Instrument.WrittenFifths(e.Band.Best.Fifths); pitch.Abs(n) > pitch.Abs(most) {
			most = n
		}
	}
	return most
}

// placeOf says where a note is, as people do.
func (e *Exercise) placeOf(t *texts.Texts, p explain.Pair) string {
	metre := words.Metre{}
	fmt.Sscan(explain.TextAt(e.Given, "measure/attributes/time/beats"), &metre.Beats)
	fmt.Sscan(explain.TextAt(e.Given, "measure/attributes/time/beat-type"), &metre.Unit)
	return t.Say("marking.place", texts.Fill{"bar": t.Bars([]string{p.Measure}), "beat": t.Beat(p.Onset.Num(), p.Onset.Den(), metre)})
}

// chordNames lists the chords of a score in words.
func (e *Exercise) chordNames(t *texts.Texts) string {
	var names []string
	for i, c := range e.Band.Chords {
		names = append(names, t.Bars([]string{fmt.Sprint(i + 1)})+" "+c.NameIn(t))
	}
	return strings.Join(names, "; ")
}

// NameIn names a chord in words.
func (c Chord) NameIn(t *texts.Texts) string {
	fromC, _ := pitch.Between(pitch.Pitch{Octave: c.Root.Octave}, c.Root)
	key := pitch.Key{Mode: pitch.Major}.Moved(fromC)
	if strings.HasPrefix(c.Kind, "minor") {
		key = pitch.Key{Fifths: -3, Mode: pitch.Minor}.Moved(fromC)
	}
	switch c.Kind {
	case "diminished":
		return t.Say("exercise.chord-diminished", texts.Fill{"note": t.Note(c.Root)})
	case "dominant", "minor-seventh":
		return t.Say("exercise.chord-seventh", texts.Fill{"chord": t.Key(key)})
	}
	return t.Key(key)
}
