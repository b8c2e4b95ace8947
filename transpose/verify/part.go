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

// Memory is what one worker keeps trees in, used again for each part and route.
// The zero value is ready.
type Memory struct {
	source, route parts.Workspace
	page          reading.Page
	timeline      musicxml.Timeline
	move          transpose.Memory
	surveyed      *parts.Surveyed // the score whose parts it holds
}

// turnTo lets go of what the memory still holds of another score.
func (m *Memory) turnTo(s *parts.Surveyed) {
	if m.surveyed != nil && m.surveyed != s {
		m.page.Forget()
		m.timeline.Forget()
		m.move.Forget()
	}
	m.surveyed = s
}

// Part verifies part i of a score.
func Part(s *parts.Surveyed, i int, o Options, memory *Memory) (Verdict, []Finding, error) {
	memory.turnTo(s)
	v := verifier{surveyed: s, part: i, options: o, memory: memory}
	if err := v.readSource(); err != nil {
		return Different, nil, err
	}
	forward, concert, err := s.Forward(i, v.source)
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

// verifier is the work on one part.
type verifier struct {
	surveyed *parts.Surveyed
	part     int
	options  Options
	memory   *Memory
	source   *musicxml.Timeline
	own      []transpose.Stretch
	sounds   []reading.Sound
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
	part, source, err := v.surveyed.Source(&v.memory.source, v.part)
	if err != nil {
		return err
	}
	page := &v.memory.page
	if err := page.Read(part); err != nil {
		return err
	}
	v.source, v.sounds = source, page.Sounding()
	v.misread = map[spot]bool{}
	for _, m := range page.Mismatches() {
		v.misread[spotOf(m)] = true
	}
	v.own, err = transpose.Stretches(source)
	return err
}

// travel goes a route there and back and looks at the page that a player reads.
func (v *verifier) travel(r route) error {
	err := v.thereAndBack(r)
	if err == nil {
		err = v.readPlayersPage(r)
	}
	// A pitch that the standard cannot write there is no difference: no file would
	// be written.
	if musicxml.ErrorCode(err) == notice.OutOfOctaves {
		return nil
	}
	return err
}

// thereAndBack moves the page as it is printed, compares the sound, moves it back
// and compares everything.
func (v *verifier) thereAndBack(r route) error {
	part, err := v.moved(transpose.Options{Stretches: withSignatures(r.stretches), MaxSignature: r.limit, Spelling: v.options.Spelling,
		AsPrinted: true, ConcertScore: r.concert})
	if err != nil {
		return err
	}
	page := &v.memory.page
	if err := page.Read(part); err != nil {
		return err
	}
	v.compareSound(r.name, page)
	timeline := &v.memory.timeline
	if err := timeline.LayOut(part); err != nil {
		return err
	}
	if _, err := transpose.Move(timeline, transpose.Options{Stretches: v.own, MaxSignature: parts.Unlimited, AsPrinted: true, Memory: &v.memory.move}); err != nil {
		return err
	}
	for _, f := range withoutSignsOf(Compare(v.source, part)) {
		// A sign that the source's own page lacks may have been found wanting on the
		// way: it is a gain.
		if f.gainedSign && v.misreadAt(f) {
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

func (v *verifier) misreadAt(f Finding) bool {
	for s := range v.misread {
		if v.source.Measures[s.measure].Number == f.Measure && s.beat == f.Beat {
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
	part, err := v.moved(o)
	if err != nil {
		return err
	}
	page := &v.memory.page
	if err := page.Read(part); err != nil {
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

// moved reads the source anew and moves it.
func (v *verifier) moved(o transpose.Options) (*etree.Element, error) {
	part, timeline, err := v.surveyed.Source(&v.memory.route, v.part)
	if err != nil {
		return nil, err
	}
	o.Memory = &v.memory.move
	_, err = transpose.Move(timeline, o)
	return part, err
}

// compareSound compares what sounds with the source, by separate code. How it is
// spelled on the way is the way's own affair: a note tied into a respelled stretch
// keeps the letter of the note it is tied to.
func (v *verifier) compareSound(name string, page *reading.Page) {
	for _, d := range reading.Compare(v.sounds, page.Sounding()) {
		if d.Kind != reading.Spelled {
			v.found = append(v.found, Finding{Measure: d.Measure, Beat: d.Beat, Text: name + d.Text()})
		}
	}
}
