package marking

import (
	"slices"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// Result is one answer, marked. Its fields are those of --json.
type Result struct {
	// Input is the file as it was given; File is the same.
	Input string `json:"input"`
	File  string `json:"file"`
	// Pupil is who handed it in, as the file's or folder's name says.
	Pupil string `json:"pupil"`
	// Exercise is the number of the exercise, 0 where none is said; Sheet its code;
	// Why says in words how it was found.
	Exercise int    `json:"exercise,omitempty"`
	Sheet    string `json:"sheet,omitempty"`
	Why      string `json:"why,omitempty"`
	// Notes is how many there are to be right; Right how many are, in pitch and
	// rhythm; Lenient the notes less one for each mistake, so that a mistake that
	// spoils many costs once.
	Notes   int `json:"notes"`
	Right   int `json:"right"`
	Lenient int `json:"lenient"`
	// RightPitch and RightRhythm count the same apart.
	RightPitch  int       `json:"right_pitch"`
	RightRhythm int       `json:"right_rhythm"`
	Marks       Marks     `json:"marks"`
	Mistakes    []Mistake `json:"mistakes"`
	// Remarks are no mistakes.
	Remarks []string `json:"remarks,omitempty"`
	// Error says why a file could not be marked, "" where it could; Code is the
	// reason as one word.
	Error string      `json:"error,omitempty"`
	Code  notice.Code `json:"code,omitempty"`

	examined []examined // what the page draws, staff by staff
}

// examined is a staff that was marked, and which of the mistakes are its own.
type examined struct {
	*examiner
	handedIn *music
	mistakes []int
}

// key is the one of the first staff.
func (r Result) key() *Key { return r.examined[0].Key }

// Marks are the totals with one mark for each signature and clef that was to be
// written and one for each note.
type Marks struct {
	Of      int `json:"of"`
	Strict  int `json:"strict"`
	Lenient int `json:"lenient"`
}

// examine marks one staff by one key.
func (k *Key) examine(answer *music, t *texts.Texts) Result {
	handedIn := answer
	switch {
	case !k.anyOctave:
	case k.Topic == exercise.ConcertScale:
		answer = answer.nearestOctave(k.expected)
	default:
		answer = answer.ownOctaves(k.expected)
	}
	a := align(k.expected, answer)
	plain := k.newExaminer(t, a, pitchesOf(k.expected.heads), fifthsOf(k.expected.heads))
	d := plain.diagnose()
	x := plain
	if twin := k.twin(t, a); twin != nil {
		if other := twin.diagnose(); other.score < d.score {
			x, d = twin, other
		}
	}
	r := x.result(d)
	x.chordMarks(&r, answer.chords)
	x.copiedClef(&r)
	r.Exercise, r.Sheet = k.Number, k.Sheet
	all := make([]int, len(r.Mistakes))
	for i := range all {
		all[i] = i
	}
	r.examined = []examined{{x, handedIn, all}}
	return r
}

// nearestOctave moves a staff by whole octaves to where most notes are those of the
// key.
func (m *music) nearestOctave(key *music) *music {
	best, most := m, -1
	for _, n := range []int{0, -1, 1, -2, 2, -3, 3, -4, 4} {
		moved := *m
		moved.heads = append([]head{}, m.heads...)
		same := 0
		for i := range moved.heads {
			moved.heads[i].pitch.Octave += n
			same += tally(i < len(key.heads) && moved.heads[i].place() == key.heads[i].place())
		}
		if same > most {
			best, most = &moved, same
		}
	}
	return best
}

// ownOctaves gives each key note the octave that the key has in its bar.
func (m *music) ownOctaves(key *music) *music {
	moved := *m
	moved.heads = slices.Clone(m.heads)
	for i := range moved.heads {
		h := &moved.heads[i]
		if wanted, _ := key.inBar(h.bar); len(wanted) > 0 && wanted[0].pitch.Step == h.pitch.Step {
			h.pitch.Octave = wanted[0].pitch.Octave
		}
	}
	return &moved
}

// copiedClef takes everything from an answer to a question about clefs that stands in
// the clef of the question: it is the question.
func (x *examiner) copiedClef(r *Result) {
	if x.Topic != exercise.ClefTopic || x.given == nil || !x.answer.hasClef || x.answer.clef != x.given.clef || r.Right == 0 {
		return
	}
	heads := make([]int, len(x.wanted))
	for i := range heads {
		heads[i] = i
	}
	r.Mistakes = x.add(nil, finding{kind: WrongClef, rule: RuleCopied, cause: x.t.Say("marking.copied-clef", texts.Fill{"clef": x.clefName(x.expected.clef)})}, heads)
	r.Mistakes[0].costs = len(heads)
	r.Right, r.Lenient, r.RightPitch = 0, 0, 0
	r.Marks.Strict, r.Marks.Lenient = 0, 0
	r.Remarks = nil
}

func (k *Key) newExaminer(t *texts.Texts, a aligned, wanted []pitch.Pitch, fifths []int) *examiner {
	x := &examiner{Key: k, t: t, answer: a.music, align: a, wanted: wanted, wantedFifths: fifths}
	x.got, x.known, x.is = make([]pitch.Pitch, len(wanted)), make([]bool, len(wanted)), make([]int, len(wanted))
	last := a.fifths
	for i, to := range a.to {
		if to >= 0 {
			x.got[i], x.known[i] = a.heads[to].pitch, true
			last = a.heads[to].fifths
		}
		x.is[i] = last
	}
	return x
}

// twin is the examiner by the enharmonic twin of the right key, where the answer
// has its signature: the same sound throughout, accepted with a remark.
func (k *Key) twin(t *texts.Texts, a aligned) *examiner {
	if k.expected.fifths == 0 || k.unsigned || a.fifths != pitch.Twin(k.expected.fifths) {
		return nil
	}
	by := pitch.Interval{Diatonic: 1}
	if k.expected.fifths < 0 {
		by.Diatonic = -1
	}
	x := k.newExaminer(t, a, moved(pitchesOf(k.expected.heads), by), plus(fifthsOf(k.expected.heads), by.Fifths()))
	x.twin = true
	return x
}

// result gathers the mistakes and the totals.
func (x *examiner) result(d diagnosis) Result {
	r := Result{Notes: len(x.wanted), Mistakes: []Mistake{}}
	rhythm, wrong := x.rhythmMistakes()
	var crowded []int
	surplus, rests := 0, 0
	for _, m := range rhythm {
		switch {
		case m.Rule == RuleRest:
			rests++
		case m.Kind != Extra:
		case len(m.heads) > 0:
			crowded = m.heads
		default:
			surplus += m.costs
		}
	}
	r.Mistakes = append(append(r.Mistakes, x.pitchMistakes(d)...), rhythm...)
	x.inOrder(r.Mistakes)
	for i, known := range x.known {
		pitch, time := known && x.got[i] == x.wanted[i], known && !wrong[i]
		pitch = pitch && !slices.Contains(crowded, i)
		r.RightPitch += tally(pitch)
		r.RightRhythm += tally(time)
		r.Right += tally(pitch && time)
	}
	r.RightRhythm = max(r.RightRhythm-rests, 0)
	surplus += rests
	written := 0
	for _, known := range x.known {
		written += tally(known)
	}
	r.Lenient = max(min(r.Notes-costsOf(r.Mistakes), unwritten*written), r.Right-surplus, 0)
	r.Marks = x.marksOf(r, surplus)
	r.Remarks = x.remarks(r.Mistakes)
	return r
}

// unwritten bounds the lenient total by the notes that are there: those that are not,
// which cost once, earn as many as were written, and no more.
const unwritten = 2

// Add sums up the counts of several results.
func (r *Result) Add(a Result) {
	r.Notes, r.Right, r.Lenient = r.Notes+a.Notes, r.Right+a.Right, r.Lenient+a.Lenient
	r.RightPitch, r.RightRhythm = r.RightPitch+a.RightPitch, r.RightRhythm+a.RightRhythm
	r.Marks.Strict, r.Marks.Lenient, r.Marks.Of = r.Marks.Strict+a.Marks.Strict, r.Marks.Lenient+a.Marks.Lenient, r.Marks.Of+a.Marks.Of
}

func tally(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// costsOf is what mistakes cost in the lenient total.
func costsOf(list []Mistake) int {
	n := 0
	for _, m := range list {
		n += m.costs
	}
	return n
}

// marksOf adds the marks of signatures and clef. A mistake costs once, also where it
// spoils a signature and notes; who only copied has earned none of them. What is too many,
// and a rest that is wrong, costs in both totals.
func (x *examiner) marksOf(r Result, surplus int) Marks {
	m := Marks{Of: r.Notes, Strict: max(r.Right-surplus, 0)}
	of, right := x.signatureMarks()
	if x.asksClef() {
		of++
		right += tally(!has(r.Mistakes, WrongClef))
	}
	m.Of, m.Strict = m.Of+of, m.Strict+right
	m.Lenient = m.Of
	for _, mistake := range r.Mistakes {
		switch {
		case mistake.costs > 1:
			m.Lenient -= mistake.costs + of - right
		case mistake.costs == 1, of > 0 && (mistake.Kind == KeySignature || mistake.Kind == WrongClef):
			m.Lenient--
		}
	}
	m.Lenient = max(min(m.Lenient, r.Lenient+of), m.Strict)
	return m
}

func has(list []Mistake, kind Kind) bool {
	return slices.ContainsFunc(list, func(m Mistake) bool { return m.Kind == kind })
}

// remarks are what a teacher may want to say without taking marks off.
func (x *examiner) remarks(mistakes []Mistake) []string {
	var list []string
	if x.twin {
		list = append(list, x.t.Say("marking.remark-twin", nil))
	}
	if lost := x.expected.slurs - x.answer.slurs; lost > 0 {
		list = append(list, x.t.Say("marking.remark-slurs", texts.Fill{"n": lost}))
	}
	is, asked := x.answer.clefOr(x.expected.clef), x.expected.clef
	spoiled := slices.ContainsFunc(mistakes, func(m Mistake) bool { return m.Rule == RuleClef || m.Rule == RuleCopied })
	if !x.asksClef() && !spoiled && (is.Sign != asked.Sign || is.Line != asked.Line) {
		list = append(list, x.t.Say("marking.remark-clef", texts.Fill{"is": x.clefName(is), "asked": x.clefName(asked)}))
	}
	return list
}
