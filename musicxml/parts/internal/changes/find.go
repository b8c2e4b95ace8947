package changes

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/internal/answers"
	"deskpart/musicxml/music"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/transpose"
)

// Reader finds changes of instrument. It remembers which words tell of one, for all
// parts of a score ask over again, and serves several goroutines.
type Reader struct {
	tellsOf answers.Kept[changeQuestion, instruments.Told]
}

// changer works on the changes of instrument of one part.
type changer struct{ *draft.Draft }

// announcement is what in the score tells of a change.
type announcement struct {
	musicxml.Position
	instrument *instruments.Instrument
	// exact: the change is at the place itself, not at the next entry.
	exact bool
	// alone: a name alone, which may be a cue's.
	alone     bool
	direction *etree.Element
}

// Find finds where the player changes instrument: by words ("to Alto Sax",
// "muta in A"), by <instrument-change>, by the ids at the notes. A word may stand
// bars before; the new instrument is in force from the next entry on.
func (r *Reader) Find(d *draft.Draft) error {
	s := &changer{d}
	f := &changeFinder{changer: s, tellsOf: &r.tellsOf, current: s.Assignment.Instrument, byID: s.instrumentsByID()}
	if s.OtherInstrument() { // the score's words are for its own instrument
		f.current = s.Assignment.Written
	}
	if f.current == nil || f.current.Flags.Unpitched || f.current.Group == instruments.Percussion {
		return nil
	}
	if f.byID != nil && f.playTogether() {
		f.byID = nil
	}
	f.own()
	said, err := f.said()
	if err != nil {
		return err
	}
	another := slices.ContainsFunc(said, func(s transpose.Stretch) bool { return s.To.Interval() != said[0].To.Interval() })
	if f.byID == nil && !another && !f.announced() {
		return nil
	}
	f.entries()
	for i := range s.Timeline.Measures {
		f.measure(&s.Timeline.Measures[i])
	}
	f.arrive(nil)
	if another {
		f.addSaid(said)
	}
	if s.OtherInstrument() {
		if err := s.dropChangeWords(); err != nil {
			return err
		}
	}
	if s.Assignment.RecognisedBy == assign.ByPlan && len(f.found) > 0 {
		c := f.found[0]
		s.WarnAt(c.Position, notice.PlanOverChange, "the score changes to %s here; the plan gives the whole part to %s, so it is written for that throughout",
			c.Instrument.Label("en", ""), s.Assignment.Instrument.Label("en", ""))
		return nil
	}
	s.Changes = f.found
	s.Report.ChangesInstrument = len(f.found) > 0
	return nil
}

// own notes what the part's name says that its player has.
func (f *changeFinder) own() {
	for _, i := range append([]*instruments.Instrument{f.Survey.Match.Instrument}, f.Survey.Match.Doubles...) {
		if i != nil && len(f.Survey.Match.Doubles) > 0 {
			f.owned, f.beside = append(f.owned, i), f.beside+" "+i.ID
		}
	}
}

// announced reports whether anything in the part tells of a change from the
// instrument that it begins with: most parts have nothing.
func (f *changeFinder) announced() bool {
	for i := range f.Timeline.Measures {
		for k := range f.Timeline.Measures[i].Events {
			switch ev := &f.Timeline.Measures[i].Events[k]; ev.Kind {
			case musicxml.Sound:
				if musicxml.Child(ev.Element, "instrument-change") != nil {
					return true
				}
			case musicxml.Direction:
				if f.announces(ev.Element) {
					return true
				}
			}
		}
	}
	return false
}

// changeQuestion asks whether a text tells the player of an instrument, with others
// beside it, to change it.
type changeQuestion struct {
	text string
	from *instruments.Instrument
	has  string
}

func (f *changeFinder) announces(direction *etree.Element) bool {
	if sound := musicxml.Child(direction, "sound"); sound != nil && musicxml.Child(sound, "instrument-change") != nil {
		return true
	}
	for t := range musicxml.Each(direction, "direction-type") {
		for words := range musicxml.Each(t, "words") {
			q := changeQuestion{musicxml.Text(words), f.current, f.beside}
			if f.tellsOf.Ask(q, func() instruments.Told {
				_, told := f.Score.Catalogue.MatchChangeOf(q.text, q.from, f.owned)
				return told
			}) != instruments.NoChange {
				return true
			}
		}
	}
	return false
}

// dropChangeWords takes out what tells the player of the score's instrument to
// change it: the words mean nothing to the one who plays the part now. A name alone
// stays, for it may be a cue's.
func (s *changer) dropChangeWords() error {
	current := s.Assignment.Written
	for i, ev := range s.Timeline.Each(musicxml.Direction) {
		for _, words := range draft.WordsIn(ev.Element) {
			text := musicxml.Text(words)
			told, ok := s.Score.Catalogue.MatchChange(text, current)
			if !ok { // it may repeat the change that came before
				told, ok = s.Score.Catalogue.MatchChange(text, s.Assignment.Written)
			}
			if !ok || told.Instrument == nil || told.Alone {
				continue
			}
			current = told.Instrument
			draft.DropMark(words)
			s.Rearranged()
			s.WarnAt(musicxml.Position{Measure: i, Onset: ev.Onset}, notice.ForeignTechnique, "left out %q, which is for the player of the score's instrument", text)
		}
	}
	return s.Settle()
}

// instrumentsByID are the instruments of the part's score-instruments, where they
// differ; nil where they do not tell anything.
func (s *changer) instrumentsByID() map[string]*instruments.Instrument {
	byID := map[string]*instruments.Instrument{}
	different := map[*instruments.Instrument]struct{}{}
	for _, in := range s.Score.ScoreParts[s.Assignment.Part].Instruments {
		m := s.Score.Catalogue.Match(instruments.Query{Name: in.Name, Sound: in.Sound})
		if m.Instrument == nil {
			continue
		}
		byID[in.ID] = m.Instrument
		different[m.Instrument] = struct{}{}
	}
	if len(different) < 2 {
		return nil
	}
	return byID
}

// playTogether reports whether two of the instruments that the ids at the notes name
// sound at once, and says so: they tell players of the staff apart then, and nobody changes.
func (f *changeFinder) playTogether() bool {
	type sounding struct {
		*instruments.Instrument
		until musicxml.Fraction
	}
	var all []sounding
	for i := range f.Timeline.Measures {
		m := &f.Timeline.Measures[i]
		for _, ev := range inTime(m) {
			if !draft.Plays(&ev) {
				continue
			}
			start := m.Start.Add(ev.Onset)
			for id := range musicxml.Each(ev.Element, "instrument") {
				in := f.byID[musicxml.Attr(id, "id")]
				if in == nil {
					continue
				}
				if k := slices.IndexFunc(all, func(s sounding) bool { return s.Instrument != in && start.Less(s.until) }); k >= 0 {
					f.WarnAt(musicxml.Position{Measure: i, Onset: ev.Onset}, notice.TwoAtOnce, "the player has %s and %s at once", all[k].Label("en", ""), in.Label("en", ""))
					return true
				}
				all = append(all, sounding{in, start.Add(ev.Duration)})
			}
		}
		end := m.Start.Add(m.Length)
		all = slices.DeleteFunc(all, func(s sounding) bool { return !end.Less(s.until) })
	}
	return false
}

// inTime are the events of a measure in the order of time.
func inTime(m *musicxml.Measure) []musicxml.Event {
	events := slices.Clone(m.Events)
	slices.SortStableFunc(events, func(a, b musicxml.Event) int { return a.Onset.Cmp(b.Onset) })
	return events
}

// entry is a note that begins after silence.
type entry struct {
	at      musicxml.Position
	silence musicxml.Fraction // before it, in quarter notes
	// afterLong and afterAny are the next notes, from this one on, with so much
	// silence before them that there is time to change, and with any.
	afterLong, afterAny int
}

// changeFinder walks through a part.
type changeFinder struct {
	*changer
	tellsOf *answers.Kept[changeQuestion, instruments.Told]
	current *instruments.Instrument
	owned   []*instruments.Instrument // all that the part's name says the player has
	beside  string                    // their ids
	asked   map[string]bool           // words that a person is asked about already
	byID    map[string]*instruments.Instrument
	starts  []entry // of all notes, in the order of time; silence is 0 inside a phrase
	waiting []announcement
	found   []draft.InstrumentChange
}

// entries lists when notes begin, and the silence before each. A note that is only held on
// is no entry: nobody changes instruments under it.
func (f *changeFinder) entries() {
	var reach musicxml.Fraction
	for i := range f.Timeline.Measures {
		m := &f.Timeline.Measures[i]
		from := len(f.starts)
		held := map[musicxml.Fraction]bool{} // where all notes are
		for k := range m.Events {
			if ev := &m.Events[k]; draft.Plays(ev) {
				other, known := held[ev.Onset]
				held[ev.Onset] = music.ReadTies(ev.Element).Stop() && (other || !known)
			}
		}
		for k := range m.Events {
			if ev := &m.Events[k]; draft.Plays(ev) {
				f.starts = append(f.starts, entry{at: musicxml.Position{Measure: i, Onset: ev.Onset}, silence: ev.Duration})
			}
		}
		bar := f.starts[from:]
		slices.SortStableFunc(bar, func(a, b entry) int { return a.at.Compare(b.at) })
		for k := range bar {
			start := m.Start.Add(bar[k].at.Onset)
			end := start.Add(bar[k].silence)
			bar[k].silence = musicxml.Fraction{}
			if reach.Less(start) {
				bar[k].silence = start.Sub(reach)
			}
			reach = reach.Max(end)
		}
		bar = slices.DeleteFunc(bar, func(e entry) bool { return e.silence.Sign() == 0 && held[e.at.Onset] })
		f.starts = f.starts[:from+len(bar)]
	}
	long, some := len(f.starts), len(f.starts)
	for i := len(f.starts) - 1; i >= 0; i-- {
		e := &f.starts[i]
		if e.silence.Sign() > 0 {
			some = i
		}
		if !e.silence.Less(timeToChange) {
			long = i
		}
		e.afterLong, e.afterAny = long, some
	}
}

// measure reads one measure's announcements and ids.
func (f *changeFinder) measure(m *musicxml.Measure) {
	events := inTime(m)
	for k := range events {
		ev := &events[k]
		at := musicxml.Position{Measure: m.Index, Onset: ev.Onset}
		switch ev.Kind {
		case musicxml.Direction:
			f.direction(ev, at)
		case musicxml.Sound:
			f.sound(ev.Element, at)
		case musicxml.Note:
			if draft.Plays(ev) {
				f.arrive(&at)
				f.note(ev, at)
			}
		}
	}
}

// direction reads the words of a direction, and the change of its <sound>.
func (f *changeFinder) direction(ev *musicxml.Event, at musicxml.Position) {
	if sound := musicxml.Child(ev.Element, "sound"); sound != nil && f.sound(sound, at) {
		f.MarkWords(ev.Element)
		return
	}
	for _, words := range draft.WordsIn(ev.Element) {
		text := musicxml.Text(words)
		m, told := f.Score.Catalogue.MatchChangeOf(text, f.next(), f.owned)
		if told == instruments.MayChange {
			f.askChange(text, m.Instrument, at)
			continue
		}
		if told != instruments.Changes || m.Instrument == nil || !f.concerns(m, at) {
			continue
		}
		f.announce(announcement{Position: at, instrument: m.Instrument, alone: m.Alone, direction: ev.Element})
	}
}

// askChange asks about the name of another instrument alone over the staff, once for the
// same words, unless cue notes stand beside it.
func (f *changeFinder) askChange(text string, in *instruments.Instrument, at musicxml.Position) {
	if f.asked[text] || f.OtherInstrument() || f.cuesFrom(at.Measure) {
		return
	}
	if f.asked == nil {
		f.asked = map[string]bool{}
	}
	f.asked[text] = true
	f.WarnAt(at, notice.ChangeOrCue, "%q stands alone over the staff; it was not taken for a change to %s", text, in.Label("en", ""))
}

// cuesFrom reports whether a measure or the next has cue notes.
func (f *changeFinder) cuesFrom(measure int) bool {
	for i := measure; i < min(measure+2, len(f.Timeline.Measures)); i++ {
		if draft.HasCue(&f.Timeline.Measures[i]) {
			return true
		}
	}
	return false
}

// next is the instrument that the words read so far lead to.
func (f *changeFinder) next() *instruments.Instrument {
	if n := len(f.waiting); n > 0 {
		return f.waiting[n-1].instrument
	}
	return f.current
}

// concerns reports whether words are for this player. Words for one of several
// players of a staff that stays together cannot change the whole staff.
func (f *changeFinder) concerns(m instruments.Match, at musicxml.Position) bool {
	own := f.Survey.Match.Players
	if d := f.Assignment.OnePlayer(); d != nil {
		own = []int{d.Number}
	}
	if len(m.Players) == 0 || len(own) == 0 {
		return true
	}
	for _, n := range own {
		if !slices.Contains(m.Players, n) {
			if len(own) > 1 {
				f.WarnAt(at, notice.ChangeOfOnePlayer, "one of the players of this staff changes to %s; the staff stays as it is", m.Instrument.Label("en", ""))
			}
			return false
		}
	}
	return true
}

// sound reads an <instrument-change>, which takes effect where it stands.
func (f *changeFinder) sound(e *etree.Element, at musicxml.Position) bool {
	change := musicxml.Child(e, "instrument-change")
	if change == nil {
		return false
	}
	m := f.Score.Catalogue.Match(instruments.Query{Sound: musicxml.ChildText(change, "instrument-sound")})
	if now := f.next(); m.Instrument == nil || m.Instrument == now || m.Assumed && m.Instrument.Kind == now.Kind {
		return false // "wind.reed.clarinet" names no key: it is any clarinet
	}
	f.announce(announcement{Position: at, instrument: m.Instrument, exact: true})
	return true
}

// announce takes an announcement over.
func (f *changeFinder) announce(a announcement) {
	f.MarkWords(a.direction)
	f.waiting = append(f.waiting, a)
}

// arrive carries out the announcements whose entry has come; at the end of the
// part none has. A second one before any note takes the place of the first.
func (f *changeFinder) arrive(at *musicxml.Position) {
	for len(f.waiting) > 0 {
		a := f.waiting[0]
		entry, ok := f.entryOf(a)
		if !ok || at != nil && at.Compare(entry) < 0 {
			return
		}
		f.waiting = f.waiting[1:]
		if len(f.waiting) > 0 {
			if later, _ := f.entryOf(f.waiting[0]); later == entry {
				continue
			}
		}
		f.change(a, entry)
	}
}

// entryOf finds the first note on the new instrument: at the place itself where
// that is exact or the player rests there, else after the next rest that leaves
// time to change, or the next rest at all.
func (f *changeFinder) entryOf(a announcement) (musicxml.Position, bool) {
	i := f.firstFrom(a.Position)
	if i == len(f.starts) {
		return musicxml.Position{}, false
	}
	if a.exact || i == 0 || f.restsAt(a.Position, i) {
		return f.starts[i].at, true
	}
	until := len(f.starts)
	if len(f.waiting) > 1 {
		until = f.firstFrom(f.waiting[1].Position)
	}
	for _, k := range []int{f.starts[i].afterLong, f.starts[i].afterAny} {
		if k < until {
			return f.starts[k].at, true
		}
	}
	return f.starts[i].at, true
}

// firstFrom finds the first note that begins at a place or later.
func (f *changeFinder) firstFrom(at musicxml.Position) int {
	i, _ := slices.BinarySearchFunc(f.starts, at, func(e entry, at musicxml.Position) int { return e.at.Compare(at) })
	return i
}

// timeToChange is the silence, in quarter notes, from which an entry after words
// inside a phrase is taken for the one on the new instrument.
var timeToChange = musicxml.NewFraction(2, 1)

// restsAt reports whether the player is silent at a place before entry i.
func (f *changeFinder) restsAt(at musicxml.Position, i int) bool {
	e := f.starts[i]
	start := f.Timeline.Measures[e.at.Measure].Start.Add(e.at.Onset)
	place := f.Timeline.Measures[at.Measure].Start.Add(at.Onset)
	return e.silence.Sign() > 0 && !place.Less(start.Sub(e.silence))
}

// note reads the ids at a note.
func (f *changeFinder) note(ev *musicxml.Event, at musicxml.Position) {
	if f.byID == nil {
		return
	}
	for _, id := range musicxml.Children(ev.Element, "instrument") {
		if in := f.byID[musicxml.Attr(id, "id")]; in != nil && in != f.current {
			f.waiting = nil // the ids say more exactly what the words announced
			f.change(announcement{Position: at, instrument: in}, at)
		}
	}
}

// change notes a change at an entry.
func (f *changeFinder) change(a announcement, at musicxml.Position) {
	if a.instrument == f.current {
		return
	}
	if a.alone && !f.has(a.instrument) {
		f.WarnAt(at, notice.AssumedChange, "a name stands alone over the staff; the player is taken to change to %s here", a.instrument.Label("en", ""))
	}
	f.found = append(f.found, draft.InstrumentChange{Position: at, Instrument: a.instrument, Announced: a.Position,
		Named: f.namedAt(at, a.instrument), Silence: f.silenceBefore(at)})
	f.current = a.instrument
}

// silenceBefore is the rest before an entry.
func (f *changeFinder) silenceBefore(at musicxml.Position) musicxml.Fraction {
	if i := f.firstFrom(at); i < len(f.starts) {
		return f.starts[i].silence
	}
	return musicxml.Fraction{} // an id at a note that is held on
}

// has reports whether it is known that the player has an instrument: by the part's
// name, or because it was played before.
func (f *changeFinder) has(in *instruments.Instrument) bool {
	return in == f.Assignment.Instrument || slices.Contains(f.Survey.Match.Doubles, in) ||
		slices.ContainsFunc(f.found, func(c draft.InstrumentChange) bool { return c.Instrument == in })
}

// names reports whether a text names an instrument, in words of a change or alone.
func (f *changeFinder) names(text string, in *instruments.Instrument) bool {
	if m, told := f.Score.Catalogue.MatchChangeOf(text, f.current, f.owned); told == instruments.Changes && m.Instrument == in {
		return true
	}
	told := f.Score.Catalogue.Match(instruments.Query{Name: text})
	return told.Instrument == in && told.By == instruments.ByName
}

// namedAt reports whether words in the bar of an entry, up to it, name the
// instrument.
func (f *changeFinder) namedAt(at musicxml.Position, in *instruments.Instrument) bool {
	m := &f.Timeline.Measures[at.Measure]
	for ev := range m.Each(musicxml.Direction) {
		if at.Onset.Less(ev.Onset) {
			continue
		}
		for _, words := range draft.WordsIn(ev.Element) {
			if f.names(musicxml.Text(words), in) {
				f.MarkWords(ev.Element)
				return true
			}
		}
	}
	return false
}
