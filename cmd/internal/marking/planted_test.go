package marking_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/marking"
	"deskpart/cmd/internal/texts/textstest"
	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/musicxmltest"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// Mistakes are planted here one by one, as a learner makes them at the page: the
// place of a head, its sign, the signature are changed, and then the page is read
// and written as a notation program would. None of it is the marker's own code.

// page is an answer under the learner's hand.
type page struct {
	e      *exercise.Exercise
	part   *etree.Element
	fifths int
	heads  []*etree.Element // the <note> elements with a pitch
	pitch  []pitch.Pitch
	signed []bool
	asked  []pitch.Pitch // the question's
	clef   instruments.Clef
	// touched are the notes to which a mistake of one note was made.
	touched []*etree.Element
	right   map[*etree.Element]pitch.Pitch
}

func (p *page) touch(i int) { p.touched = append(p.touched, p.heads[i]) }

func newPage(e *exercise.Exercise) *page {
	p := &page{e: e, part: e.Answer.Copy(), fifths: e.Facts.Answer}
	p.clef, _ = explain.ClefOf(e.Answer)
	p.collect()
	p.right = map[*etree.Element]pitch.Pitch{}
	for i, n := range p.heads {
		p.right[n] = p.pitch[i]
	}
	for _, pair := range e.Pairs {
		p.asked = append(p.asked, pair.From)
	}
	return p
}

func (p *page) collect() {
	p.heads, p.pitch, p.signed = nil, nil, nil
	for _, n := range p.part.FindElements("measure/note") {
		if e := musicxml.Child(n, "pitch"); e != nil {
			pitch, _ := music.ReadPitch(e)
			p.heads, p.pitch = append(p.heads, n), append(p.pitch, pitch)
			p.signed = append(p.signed, musicxml.Child(n, "accidental") != nil)
		}
	}
}

// reread gives every note the alteration that the page now has: its sign, one
// before it in the bar, its tie, or the signature.
func (p *page) reread() {
	held := map[int]pitch.Alter{}
	last := map[int]pitch.Alter{}
	var bar *etree.Element
	for i, n := range p.heads {
		if n.Parent() != bar {
			bar, held = n.Parent(), map[int]pitch.Alter{}
		}
		place := p.pitch[i].Place()
		alter := pitch.Semitones(pitch.SignatureAlter(p.fifths, p.pitch[i].Step))
		if a, ok := held[place]; ok {
			alter = a
		}
		if music.ReadTies(n).Stop() {
			alter = last[place]
		}
		if p.signed[i] {
			alter = p.pitch[i].Alter
			held[place] = alter
		}
		p.pitch[i].Alter, last[place] = alter, alter
	}
}

// writable reports whether MusicXML has the octaves of all notes.
func (p *page) writable() bool {
	for _, q := range p.pitch {
		if q.Octave < 0 || q.Octave > 9 {
			return false
		}
	}
	return true
}

// score writes the page down and reads it as the marker gets it.
func (p *page) score(t *testing.T) *musicxml.Score {
	t.Helper()
	for i, n := range p.heads {
		require.NoError(t, music.WritePitch(musicxml.Child(n, "pitch"), p.pitch[i]))
		musicxml.RemoveChildren(n, "accidental")
		if name, ok := transpose.AccidentalName(p.pitch[i].Alter); ok && p.signed[i] {
			musicxml.SetChildText(n, "accidental", name)
		}
	}
	for _, k := range p.part.FindElements("measure/attributes/key/fifths") {
		k.SetText(strconv.Itoa(p.fifths))
	}
	require.NoError(t, explain.SetClef(p.part, p.clef))
	data, err := explain.Sheet{Title: "Answer", Staves: []explain.SheetStaff{{Name: "Learner", Part: p.part}}}.Bytes()
	require.NoError(t, err)
	return read(t, data)
}

// markOne marks a file that holds one answer.
func markOne(t *testing.T, k *marking.Key, answer *musicxml.Score) (marking.Result, error) {
	t.Helper()
	results, err := marking.Marker{Keys: []*marking.Key{k}, Texts: textstest.In(t, pitch.English)}.Mark(answer)
	if err != nil {
		return marking.Result{}, err
	}
	require.Len(t, results, 1)
	return results[0], nil
}

func read(t *testing.T, data []byte) *musicxml.Score {
	t.Helper()
	s, err := musicxml.Read(data, musicxml.ReadOptions{Name: "answer.musicxml"})
	require.NoError(t, err)
	return s
}

// plant makes one mistake; false where the exercise has no room for it.
type plant struct {
	name string
	kind marking.Kind
	do   func(p *page, rng *rand.Rand) bool
}

func (p *page) moveAll(from []pitch.Pitch, by pitch.Interval) {
	for i := range p.pitch {
		p.pitch[i] = by.Apply(from[i])
	}
}

func (p *page) octaves() bool { return p.e.Interval().Fifths() == 0 }

// room keeps to what can be written.
func (p *page) room(fifths int) bool {
	if fifths < -7 || fifths > 7 {
		return false
	}
	p.fifths = fifths
	return true
}

func plants() []plant {
	return []plant{
		{"unmoved", marking.WrongInterval, func(p *page, _ *rand.Rand) bool {
			p.moveAll(p.asked, pitch.Interval{})
			return !p.octaves() && p.room(p.e.Facts.Key)
		}},
		{"the octave forgotten", marking.WrongOctave, func(p *page, _ *rand.Rand) bool {
			p.moveAll(p.asked, pitch.Interval{})
			return p.octaves() && p.e.Moved != pitch.Interval{}
		}},
		{"wrong direction", marking.WrongDirection, func(p *page, _ *rand.Rand) bool {
			p.moveAll(p.asked, p.e.Moved.Negate())
			return p.e.Moved != pitch.Interval{} && p.room(p.e.Facts.Key-p.e.Moved.Fifths())
		}},
		{"wrong direction, octave aside", marking.WrongDirection, func(p *page, rng *rand.Rand) bool {
			p.moveAll(p.asked, p.e.Moved.Negate().Add(pitch.Octaves(1-2*rng.IntN(2))))
			return !p.octaves() && p.room(p.e.Facts.Key-p.e.Moved.Fifths())
		}},
		{"octave too high", marking.WrongOctave, func(p *page, _ *rand.Rand) bool {
			p.moveAll(p.pitch, pitch.Octaves(1))
			return p.e.Moved != pitch.Octaves(-1) && p.e.Moved != pitch.Octaves(1)
		}},
		{"octave too low", marking.WrongOctave, func(p *page, _ *rand.Rand) bool {
			p.moveAll(p.pitch, pitch.Octaves(-1))
			return p.e.Moved != pitch.Octaves(-1) && p.e.Moved != pitch.Octaves(1)
		}},
		{"another interval", marking.WrongInterval, func(p *page, rng *rand.Rand) bool {
			others := []pitch.Interval{{Diatonic: 1, Chromatic: 2}, {Diatonic: -1, Chromatic: -2}, {Diatonic: 2, Chromatic: 4}, {Diatonic: -2, Chromatic: -3}, {Diatonic: 3, Chromatic: 5}}
			by := p.e.Moved.Add(others[rng.IntN(len(others))])
			if by.Add(p.e.Moved).Fifths() == 0 || by.Fifths() == 0 {
				return false // that is the other way, or not moved at all
			}
			p.moveAll(p.asked, by)
			return p.room(p.e.Facts.Key + by.Fifths())
		}},
		{"another quality", marking.WrongInterval, func(p *page, rng *rand.Rand) bool {
			by := p.e.Moved.Add(pitch.Interval{Chromatic: 1 - 2*rng.IntN(2)})
			p.moveAll(p.asked, by)
			return by.Chromatic != 0 && p.room(p.e.Facts.Key+by.Fifths())
		}},
		{"another interval from a note on", marking.WrongInterval, func(p *page, rng *rand.Rand) bool {
			by := []pitch.Interval{{Diatonic: 1, Chromatic: 2}, {Diatonic: -1, Chromatic: -2}}[rng.IntN(2)]
			n := len(p.pitch)
			from := n/3 + rng.IntN(n/3)
			for i := from; i < n; i++ {
				p.pitch[i], p.signed[i] = by.Apply(p.pitch[i]), true
			}
			sum := by.Add(p.e.Moved)
			return n-from >= 3 && sum.Fifths() != 0 && sum.Add(p.e.Moved).Fifths() != 0 && !p.tiedAt(from)
		}},
		{"signature missing", marking.KeySignature, func(p *page, _ *rand.Rand) bool { return p.otherSignature(0) }},
		{"signature unmoved", marking.KeySignature, func(p *page, _ *rand.Rand) bool { return p.otherSignature(p.e.Facts.Key) }},
		{"signature moved the other way", marking.KeySignature, func(p *page, _ *rand.Rand) bool {
			return p.otherSignature(2*p.e.Facts.Key - p.e.Facts.Answer)
		}},
		{"signature of the other mode", marking.KeySignature, func(p *page, rng *rand.Rand) bool {
			return p.otherSignature(p.e.Facts.Answer + 3 - 6*rng.IntN(2))
		}},
		{"signature missing, signs at the notes", marking.KeySignature, func(p *page, _ *rand.Rand) bool {
			for i := range p.signed {
				p.signed[i] = true
			}
			return p.otherSignature(0)
		}},
		{"accidental copied", marking.Accidental, func(p *page, rng *rand.Rand) bool {
			return p.atSign(rng, func(i int) bool {
				changed := p.pitch[i].Alter != p.asked[i].Alter
				p.pitch[i].Alter = p.asked[i].Alter
				return changed
			})
		}},
		{"accidental left out", marking.Accidental, func(p *page, rng *rand.Rand) bool {
			return p.atSign(rng, func(i int) bool { p.signed[i] = false; return true })
		}},
		{"accidental too many", marking.Accidental, func(p *page, rng *rand.Rand) bool {
			i := rng.IntN(len(p.pitch))
			if p.signed[i] || p.tiedAt(i) {
				return false
			}
			p.touch(i)
			p.signed[i] = true
			p.pitch[i].Alter += pitch.Semitones(1 - 2*rng.IntN(2))
			p.reread()
			n, _ := p.pitch[i].Alter.Whole()
			return n >= -2 && n <= 2
		}},
		{"one note under another letter", marking.Spelling, func(p *page, rng *rand.Rand) bool { return p.respell(rng.IntN(len(p.pitch)), rng) }},
		{"clef", marking.WrongClef, func(p *page, rng *rand.Rand) bool {
			clefs := []instruments.Clef{explain.Treble, explain.Bass, explain.Alto, explain.Tenor}
			meant := clefs[rng.IntN(len(clefs))]
			steps := explain.MiddleLine(p.clef) - explain.MiddleLine(meant)
			if steps%7 == 0 || pitch.Abs(steps) < 6 || (steps+2*p.e.Moved.Diatonic)%7 == 0 || (steps+p.e.Moved.Diatonic)%7 == 0 {
				return false // the same page as by moving the other way, or not at all
			}
			for i, q := range p.pitch {
				place := q.Place() + steps
				step := ((place % 7) + 7) % 7
				p.pitch[i] = pitch.Pitch{Step: pitch.Step(step), Octave: (place - step) / 7, Alter: q.Alter}
			}
			p.reread()
			return true
		}},
		{"clef of the question left standing", marking.WrongClef, func(p *page, _ *rand.Rand) bool {
			given, _ := explain.ClefOf(p.e.Given)
			if given == p.clef || (explain.MiddleLine(given)-explain.MiddleLine(p.clef))%7 == 0 {
				return false
			}
			steps := explain.MiddleLine(given) - explain.MiddleLine(p.clef)
			for i, q := range p.pitch {
				place := q.Place() + steps
				step := ((place % 7) + 7) % 7
				p.pitch[i] = pitch.Pitch{Step: pitch.Step(step), Octave: (place - step) / 7, Alter: q.Alter}
			}
			p.clef = given
			p.reread()
			return true
		}},
		{"values exchanged", marking.Rhythm, plantExchange},
		{"a dot left out", marking.Rhythm, plantDot},
		{"all values doubled", marking.Rhythm, func(p *page, _ *rand.Rand) bool {
			for _, d := range p.part.FindElements("measure/attributes/divisions") {
				n, _ := strconv.Atoi(d.Text())
				if n%2 != 0 {
					for _, e := range p.part.FindElements("measure/note/duration") {
						m, _ := strconv.Atoi(e.Text())
						e.SetText(strconv.Itoa(2 * m))
					}
					return true
				}
				d.SetText(strconv.Itoa(n / 2))
			}
			return true
		}},
		{"tie left out", marking.Rhythm, plantTie},
		{"rest left out", marking.Rhythm, func(p *page, _ *rand.Rand) bool {
			for _, n := range p.part.FindElements("measure/note") {
				if musicxml.Child(n, "rest") != nil {
					p.touched = append(p.touched, n)
					n.Parent().RemoveChild(n)
					return true
				}
			}
			return false
		}},
		{"note missing, a rest instead", marking.Missing, func(p *page, rng *rand.Rand) bool { return p.remove(rng, true) }},
		{"note missing", marking.Missing, func(p *page, rng *rand.Rand) bool { return p.remove(rng, false) }},
		{"note too many", marking.Extra, plantExtra},
		{"one note a step off", marking.WrongInterval, func(p *page, rng *rand.Rand) bool {
			i := rng.IntN(len(p.pitch))
			step := pitch.Interval{Diatonic: 1, Chromatic: 2}
			if rng.IntN(2) == 0 {
				step = step.Negate()
			}
			return p.one(i, step.Apply(p.pitch[i]))
		}},
		{"one note an octave off", marking.WrongOctave, func(p *page, rng *rand.Rand) bool {
			i := rng.IntN(len(p.pitch))
			return p.one(i, pitch.Octaves(1-2*rng.IntN(2)).Apply(p.pitch[i]))
		}},
	}
}

// one sets a single note, with a sign of its own so that no other note changes
// but by that sign: those of the bar on the same line get theirs.
func (p *page) one(i int, to pitch.Pitch) bool {
	if p.tiedAt(i) || p.chord() {
		return false
	}
	p.touch(i)
	p.pitch[i], p.signed[i] = to, true
	for k := range p.heads {
		if k != i && p.heads[k].Parent() == p.heads[i].Parent() {
			p.signed[k] = true
		}
	}
	return true
}

// tiedAt reports whether a note is an end of a tie.
func (p *page) tiedAt(i int) bool {
	return music.ReadTies(p.heads[i]).Start() || music.ReadTies(p.heads[i]).Stop()
}

func (p *page) chord() bool { return p.part.FindElement("measure/note/chord") != nil }

// otherSignature puts another signature, and reads the page under it.
func (p *page) otherSignature(fifths int) bool {
	if fifths == p.e.Facts.Answer || pitch.Twin(fifths) == p.e.Facts.Answer || !p.room(fifths) {
		return false
	}
	p.reread()
	return true
}

// atSign does something to one of the notes with a sign, and reads the page again.
func (p *page) atSign(rng *rand.Rand, do func(int) bool) bool {
	var signed []int
	for i, s := range p.signed {
		if s {
			signed = append(signed, i)
		}
	}
	if len(signed) == 0 {
		return false
	}
	i := signed[rng.IntN(len(signed))]
	if p.touch(i); !do(i) {
		return false
	}
	p.reread()
	return true
}

// respell writes a note under the neighbouring letter.
func (p *page) respell(i int, rng *rand.Rand) bool {
	to := pitch.Interval{Diatonic: 1 - 2*rng.IntN(2)}.Apply(p.pitch[i])
	n, _ := to.Alter.Whole()
	return n >= -2 && n <= 2 && p.one(i, to)
}

// remove takes a note away; its place is a rest or closes up.
func (p *page) remove(rng *rand.Rand, rest bool) bool {
	i := rng.IntN(len(p.heads))
	n := p.heads[i]
	if p.tiedAt(i) || p.chord() || len(musicxml.Children(n.Parent(), "note")) < 2 || musicxml.Child(n, "time-modification") != nil && !rest {
		return false
	}
	if p.signed[i] {
		for k := range p.heads {
			p.signed[k] = p.signed[k] || p.heads[k].Parent() == n.Parent() && k != i
		}
	}
	p.touch(i)
	if rest {
		musicxml.RemoveChildren(n, "pitch", "accidental")
		n.InsertChildAt(0, etree.NewElement("rest"))
	} else {
		n.Parent().RemoveChild(n)
	}
	p.heads = slices.Delete(p.heads, i, i+1)
	p.pitch = slices.Delete(p.pitch, i, i+1)
	p.signed = slices.Delete(p.signed, i, i+1)
	return true
}

func duration(n *etree.Element) int {
	d, _ := strconv.Atoi(musicxml.ChildText(n, "duration"))
	return d
}

// plantExchange exchanges the values of two neighbours of one bar.
func plantExchange(p *page, rng *rand.Rand) bool {
	var found []int
	for i := 1; i < len(p.heads); i++ {
		a, b := p.heads[i-1], p.heads[i]
		if a.Parent() == b.Parent() && duration(a) != duration(b) && !p.tiedAt(i) && !p.tiedAt(i-1) && a.Index() == b.Index()-1 &&
			musicxml.Child(a, "time-modification") == nil && musicxml.Child(b, "time-modification") == nil {
			found = append(found, i)
		}
	}
	if len(found) == 0 || p.chord() {
		return false
	}
	i := found[rng.IntN(len(found))]
	a, b := duration(p.heads[i-1]), duration(p.heads[i])
	musicxml.SetChildText(p.heads[i-1], "duration", strconv.Itoa(b))
	musicxml.SetChildText(p.heads[i], "duration", strconv.Itoa(a))
	return true
}

// plantDot takes a dot away, so that the bar is too short.
func plantDot(p *page, _ *rand.Rand) bool {
	for i, n := range p.heads {
		d := duration(n)
		if musicxml.Child(n, "dot") != nil && d%3 == 0 && !p.tiedAt(i) && !p.chord() {
			musicxml.SetChildText(n, "duration", strconv.Itoa(d/3*2))
			return true
		}
	}
	return false
}

func plantTie(p *page, _ *rand.Rand) bool {
	done := false
	for i, n := range p.heads {
		if p.tiedAt(i) {
			musicxml.RemoveChildren(n, "tie", "notations")
			p.signed[i] = true
			done = true
		}
	}
	return done
}

// plantExtra puts a note more at the end of a bar.
func plantExtra(p *page, rng *rand.Rand) bool {
	i := rng.IntN(len(p.heads))
	n := p.heads[i]
	if p.chord() || p.tiedAt(i) || musicxml.Child(n, "time-modification") != nil {
		return false
	}
	more := n.Copy()
	musicxml.RemoveChildren(more, "accidental", "notations", "tie")
	n.Parent().InsertChildAt(n.Index()+1, more)
	pitch := pitch.Interval{Diatonic: 1, Chromatic: 2}.Apply(p.pitch[i])
	p.heads = slices.Insert(p.heads, i+1, more)
	p.touch(i + 1)
	p.pitch = slices.Insert(p.pitch, i+1, pitch)
	p.signed = slices.Insert(p.signed, i+1, true)
	for k := range p.heads {
		p.signed[k] = p.signed[k] || p.heads[k].Parent() == n.Parent()
	}
	return true
}

// exercises to plant mistakes in: all levels, both directions.
func exercises(t *testing.T, seeds uint64) (list []*exercise.Exercise, keys []*marking.Key) {
	t.Helper()
	c := instrumentstest.Load(t)
	// The octave alone is trained only where it is asked for.
	asked := []*instruments.Instrument{nil, c.ByID("piccolo"), c.ByID("double-bass")}
	for level := 1; level <= exercise.Levels; level++ {
		for seed := range seeds + uint64(len(asked)) - 1 {
			settings := exercise.Settings{From: exercise.Both, Count: 2, Seed: 1000 + seed, Level: level, Versions: 1}
			if octave := int(seed) - int(seeds) + 1; octave > 0 {
				settings.Instrument = asked[octave]
			}
			sheets, err := exercise.Make(c, settings)
			require.NoError(t, err)
			for _, e := range sheets[0].Exercises {
				data, err := e.Key(sheets[0])
				require.NoError(t, err)
				key := keyOf(t, data, nil)
				list, keys = append(list, e), append(keys, key)
			}
		}
	}
	return list, keys
}

// kindsOf lists the kinds named, each once.
func kindsOf(r marking.Result) []marking.Kind {
	var kinds []marking.Kind
	for _, m := range r.Mistakes {
		if !slices.Contains(kinds, m.Kind) {
			kinds = append(kinds, m.Kind)
		}
	}
	slices.Sort(kinds)
	return kinds
}

// TestSingleMistakes plants each kind of mistake alone, in hundreds of answers:
// the right kind, and no other, is named in every one.
func TestSingleMistakes(t *testing.T) {
	t.Parallel()
	list, keys := exercises(t, musicxmltest.Sweep[uint64](1, 8))
	count := map[string]int{}
	for n, e := range list {
		for _, plant := range plants() {
			rng := rand.New(rand.NewPCG(uint64(n), 3))
			p := newPage(e)
			if !plant.do(p, rng) || !p.writable() {
				continue
			}
			r, err := markOne(t, keys[n], p.score(t))
			require.NoError(t, err)
			count[plant.name]++
			if !assert.Equal(t, []marking.Kind{plant.kind}, kindsOf(r), "%s in exercise %d (level %d, %s from %s)\n%s", plant.name, n, e.Level.Number, e.Instrument.ID, e.From, story(p, r)) {
				return
			}
			assert.Less(t, r.Right-one(r.Right == r.Notes), r.Notes)
			assert.LessOrEqual(t, len(r.Mistakes), 2, plant.name)
			assert.GreaterOrEqual(t, r.Lenient+len(r.Mistakes), r.Right, plant.name)
		}
	}
	total := 0
	for _, plant := range plants() {
		assert.Positive(t, count[plant.name], "%s was never planted", plant.name)
		total += count[plant.name]
	}
	t.Logf("%d answers with one mistake: the kind is named in all", total)
	assert.Greater(t, total, 200)
}

func one(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

func story(p *page, r marking.Result) string {
	text := fmt.Sprintf("key %d -> %d, learner %d, moved %v\n", p.e.Facts.Key, p.e.Facts.Answer, p.fifths, p.e.Moved)
	for i, pair := range p.e.Pairs {
		is := "-"
		if i < len(p.pitch) {
			is = p.pitch[i].String()
		}
		text += fmt.Sprintf("%s:%s>%s/%s ", pair.Measure, pair.From, pair.To, is)
	}
	for _, m := range r.Mistakes {
		text += fmt.Sprintf("\n%s bar %s beat %s (%d): %s", m.Kind, m.Measure, m.Beat, m.Notes, m.Text)
	}
	return text
}

// TestRightAnswers: the right answer has no mistakes.
func TestRightAnswers(t *testing.T) {
	t.Parallel()
	list, keys := exercises(t, 2)
	for n, e := range list {
		r, err := markOne(t, keys[n], newPage(e).score(t))
		require.NoError(t, err)
		assert.Empty(t, r.Mistakes)
		assert.Equal(t, r.Notes, r.Right)
		assert.Equal(t, r.Notes, r.Lenient)
		assert.Equal(t, r.Marks.Of, r.Marks.Strict)
	}
}
