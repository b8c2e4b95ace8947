package verify

import (
	"fmt"
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/reading"
	"deskpart/transpose"
)

// Verdict is what became of a part on its way there and back.
type Verdict string

// The verdicts, from best to worst.
const (
	// Identical: every pitch, key, accidental, clef and chord symbol is as it was.
	Identical Verdict = "identical"
	// Respelled: the same sound, some notes spelled another way.
	Respelled Verdict = "respelled"
	Different Verdict = "different"
)

// Options say what is tried.
type Options struct {
	// MaxSignature as for extraction, from 0 to 7. DefaultOptions: 6.
	MaxSignature int
	// Spelling as for extraction. Default: transpose.Exact.
	Spelling transpose.Spelling
	// Also lists further transpositions to go to and back. Default: none.
	Also []transpose.Transposition
}

// Memory is what one worker keeps a part in, used again for each part and route.
// The zero value is ready.
type Memory struct {
	// Way is where the part is on its way. Default: a workspace of its own.
	Way *parts.Workspace

	source   parts.Workspace // of the part as it was, where it comes back otherwise
	before   frozen
	page     reading.Page
	sounds   []reading.Sound // of the source
	moved    []reading.Sound
	move     transpose.Memory
	surveyed *parts.Surveyed // the score whose parts it holds
}

// turnTo lets go of what the memory still holds of another score.
func (m *Memory) turnTo(s *parts.Surveyed) {
	if m.surveyed != nil && m.surveyed != s {
		m.before.texts.forget()
		m.page.Forget()
		clear(m.sounds[:cap(m.sounds)])
		clear(m.moved[:cap(m.moved)])
		m.move.Forget()
	}
	m.surveyed = s
}

// Part verifies part i of a score.
func Part(s *parts.Surveyed, i int, o Options, memory *Memory) (Verdict, []Finding, error) {
	if memory.Way == nil {
		memory.Way = new(parts.Workspace)
	}
	memory.turnTo(s)
	v := verifier{surveyed: s, number: i, options: o, memory: memory}
	if err := v.readSource(); err != nil {
		return Different, nil, err
	}
	forward, concert, err := s.Forward(i, v.timeline)
	if err != nil {
		return Different, nil, err
	}
	limit := o.MaxSignature
	if concert {
		limit = parts.Unlimited
	}
	routes := []route{{stretches: forward, limit: limit, concert: concert}}
	for _, t := range o.Also {
		routes = append(routes, route{limit: o.MaxSignature, stretches: []transpose.Stretch{{To: t}},
			name: fmt.Sprintf("by way of diatonic %d, chromatic %d, octave %d: ", t.Diatonic, t.Chromatic, t.OctaveChange)})
	}
	for _, r := range routes {
		if err := v.travel(r); err != nil {
			return Different, nil, err
		}
	}
	if question := s.SoundAtOdds(i); question != "" {
		v.found = append(v.found, Finding{Text: question, Asked: true})
	}
	return VerdictOf(v.found), v.found, nil
}

// route is a transposition to go to and come back from.
type route struct {
	name      string // put before its findings
	stretches []transpose.Stretch
	limit     int  // MaxSignature on the way there
	concert   bool // it leads to concert pitch: the source is what the player reads
}

// VerdictOf is the worst of the findings; what is asked is no difference.
func VerdictOf(found []Finding) Verdict {
	verdict := Identical
	for _, f := range found {
		switch {
		case f.Asked:
		case f.Respelled:
			verdict = Respelled
		default:
			return Different
		}
	}
	return verdict
}

// verifier is the work on one part. It goes its way in one tree: there, back, which is
// held against what was frozen, and to its player.
type verifier struct {
	surveyed *parts.Surveyed
	number   int // of the part
	options  Options
	memory   *Memory
	part     *etree.Element
	timeline *musicxml.Timeline
	moved    bool // the tree is no longer what the source has
	own      []transpose.Stretch
	// misread are the places where the source's own page says something else than
	// its pitches: no fault of any move.
	misread map[spot]bool
	found   []Finding
}

// spot is a place on a page.
type spot struct {
	measure     int
	beat, voice string
	staff       int
}

func spotOf(m reading.Mismatch) spot { return spot{m.MeasureIndex, m.Beat, m.Voice, m.Staff} }

// readSource reads the part as the score has it.
func (v *verifier) readSource() error {
	if err := v.readPart(); err != nil {
		return err
	}
	v.memory.before.freeze(v.part)
	page := &v.memory.page
	if err := page.Read(v.part); err != nil {
		return err
	}
	v.memory.sounds = page.AppendSounding(v.memory.sounds[:0])
	v.misread = map[spot]bool{}
	for _, m := range page.Mismatches() {
		v.misread[spotOf(m)] = true
	}
	var err error
	v.own, err = transpose.Stretches(v.timeline)
	return err
}

// readPart reads the part anew.
func (v *verifier) readPart() (err error) {
	v.part, v.timeline, err = v.surveyed.Source(v.memory.Way, v.number)
	v.moved = false
	return err
}

// travel goes a route there and back and looks at the page that a player reads.
func (v *verifier) travel(r route) error {
	for _, leg := range []func(route) error{v.thereAndBack, v.readPlayersPage} {
		if v.moved {
			if err := v.readPart(); err != nil {
				return err
			}
		}
		err := leg(r)
		// A pitch that the standard cannot write there is no difference: no file would
		// be written.
		if musicxml.ErrorCode(err) == notice.OutOfOctaves {
			return nil
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// thereAndBack moves the page as it is printed, compares the sound, moves it back
// and compares everything.
func (v *verifier) thereAndBack(r route) error {
	if err := v.move(transpose.Options{Stretches: withSignatures(r.stretches), MaxSignature: r.limit, Spelling: v.options.Spelling,
		AsPrinted: true, ConcertScore: r.concert}); err != nil {
		return err
	}
	page := &v.memory.page
	if err := page.Read(v.part); err != nil {
		return err
	}
	v.compareSound(r.name, page)
	if err := v.timeline.Renew(v.part); err != nil {
		return err
	}
	if err := v.move(transpose.Options{Stretches: v.own, MaxSignature: parts.Unlimited, AsPrinted: true}); err != nil {
		return err
	}
	if v.memory.before.is(v.part) {
		v.moved = false
		return v.timeline.Renew(v.part)
	}
	return v.compare(r)
}

// compare says how the part has come back.
func (v *verifier) compare(r route) error {
	_, source, err := v.surveyed.Source(&v.memory.source, v.number)
	if err != nil {
		return err
	}
	for _, f := range withoutSignsOf(Compare(source, v.part)) {
		// A sign that the source's own page lacks may have been found wanting on the
		// way: it is a gain.
		if f.gainedSign && v.misreadAt(source, f) {
			continue
		}
		f.Text = r.name + f.Text
		v.found = append(v.found, f)
	}
	return nil
}

// withSignatures keeps the signature of parts that are written without: what is
// left out on the way there cannot come back.
func withSignatures(stretches []transpose.Stretch) []transpose.Stretch {
	kept := slices.Clone(stretches)
	for i := range kept {
		kept[i].WithoutSignature = false
	}
	return kept
}

func (v *verifier) misreadAt(source *musicxml.Timeline, f Finding) bool {
	for s := range v.misread {
		if source.Measures[s.measure].Number == f.Measure && s.beat == f.Beat {
			return true
		}
	}
	return false
}

// readPlayersPage reads the page as a player does: clef, signature, printed
// accidentals. It is the page as extract writes it.
func (v *verifier) readPlayersPage(r route) error {
	o := transpose.Options{Stretches: r.stretches, MaxSignature: r.limit, Spelling: v.options.Spelling}
	if r.concert {
		o.Stretches = v.own
	}
	if err := v.move(o); err != nil {
		return err
	}
	page := &v.memory.page
	if err := page.Read(v.part); err != nil {
		return err
	}
	for _, m := range page.Mismatches() {
		if !v.misread[spotOf(m)] {
			v.found = append(v.found, Finding{Measure: m.Measure, Beat: m.Beat,
				Text: fmt.Sprintf("%sa player reads %s where %s is meant (from %s)", r.name, m.Read, m.Written, m.From)})
		}
	}
	return nil
}

// move moves the part.
func (v *verifier) move(o transpose.Options) error {
	v.moved = true
	o.Memory = &v.memory.move
	_, err := transpose.Move(v.timeline, o)
	return err
}

// compareSound compares what sounds with the source, by separate code. How it is
// spelled on the way is the way's own affair: a note tied into a respelled stretch
// keeps the letter of the note it is tied to.
func (v *verifier) compareSound(name string, page *reading.Page) {
	v.memory.moved = page.AppendSounding(v.memory.moved[:0])
	for _, d := range reading.Compare(v.memory.sounds, v.memory.moved) {
		if d.Kind != reading.Spelled {
			v.found = append(v.found, Finding{Measure: d.Measure, Beat: d.Beat, Text: name + d.Text()})
		}
	}
}
