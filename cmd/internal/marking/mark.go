package marking

import (
	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// Result is one answer, marked. Its fields are those of --json.
type Result struct {
	File string `json:"file"`
	// Exercise is the number of the exercise, 0 where none is said.
	Exercise int `json:"exercise,omitempty"`
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
	// Error says why a file could not be marked, "" where it could.
	Error string `json:"error,omitempty"`
}

// Marks are the totals with one mark for the signature, one for a changed clef and
// one for each note.
type Marks struct {
	Of      int `json:"of"`
	Strict  int `json:"strict"`
	Lenient int `json:"lenient"`
}

// Mark compares an answer with the key. Of the staves in the answer's file it
// takes the one that fits best; a copy of the question beside it is passed over.
// The error is that of a file that cannot be read.
func (k *Key) Mark(answer *musicxml.Score) (Result, error) {
	file, err := readAnswer(answer)
	if err != nil {
		return Result{}, err
	}
	best, found := Result{}, false
	for _, c := range k.choose(file.candidates) {
		if r := k.examine(c.music); !found || better(r, best) {
			best, found = r, true
		}
	}
	best.File, best.Exercise = answer.Name, k.Number
	return best, nil
}

// choose leaves out staves that only copy the question, unless there are no
// others.
func (k *Key) choose(all []candidate) []candidate {
	if k.given == nil {
		return all
	}
	var kept []candidate
	for _, c := range all {
		if !c.sameHeads(k.given) {
			kept = append(kept, c)
		}
	}
	if len(kept) == 0 {
		return all
	}
	return kept
}

func better(a, b Result) bool {
	if a.Right != b.Right {
		return a.Right > b.Right
	}
	if a.Lenient != b.Lenient {
		return a.Lenient > b.Lenient
	}
	return len(a.Mistakes) < len(b.Mistakes)
}

// examine marks one staff.
func (k *Key) examine(answer *music) Result {
	answer = answer.inBarsOf(k.expected)
	plain := k.newExaminer(answer, pitchesOf(k.expected.heads), k.expected.fifths)
	d := plain.diagnose()
	x := plain
	if twin := k.twin(answer); twin != nil {
		if t := twin.diagnose(); t.score < d.score {
			x, d = twin, t
		}
	}
	return x.result(d)
}

func (k *Key) newExaminer(answer *music, wanted []pitch.Pitch, fifths int) *examiner {
	x := &examiner{Key: k, answer: answer, align: align(k.expected, answer), wanted: wanted, wantedFifths: fifths}
	x.got, x.known = make([]pitch.Pitch, len(wanted)), make([]bool, len(wanted))
	for i, to := range x.align.to {
		if to >= 0 {
			x.got[i], x.known[i] = answer.heads[to].pitch, true
		}
	}
	return x
}

// twin is the examiner by the enharmonic twin of the right key, where the answer
// has its signature: the same sound throughout, accepted with a remark.
func (k *Key) twin(answer *music) *examiner {
	fifths := pitch.Twin(k.expected.fifths)
	if answer.fifths != fifths || k.expected.fifths == 0 || k.unsigned {
		return nil
	}
	by := pitch.Interval{Diatonic: 1}
	if k.expected.fifths < 0 {
		by.Diatonic = -1
	}
	x := k.newExaminer(answer, moved(pitchesOf(k.expected.heads), by), fifths)
	x.twin = true
	return x
}

// result gathers the mistakes and the totals.
func (x *examiner) result(d diagnosis) Result {
	r := Result{Notes: len(x.wanted), Mistakes: []Mistake{}}
	rhythm, wrong := x.rhythmMistakes()
	r.Mistakes = append(append(r.Mistakes, x.pitchMistakes(d)...), rhythm...)
	order(r.Mistakes)
	for i, known := range x.known {
		pitch, time := known && x.got[i] == x.wanted[i], known && !wrong[i]
		r.RightPitch += one(pitch)
		r.RightRhythm += one(time)
		r.Right += one(pitch && time)
	}
	r.Lenient = x.lenient(r)
	r.Marks = x.marksOf(r)
	r.Remarks = x.remarks()
	return r
}

func one(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// lenient takes one note off for each mistake that spoils notes.
func (x *examiner) lenient(r Result) int {
	n := r.Notes
	for _, m := range r.Mistakes {
		if m.Notes > 0 {
			n--
		}
	}
	return max(n, r.Right)
}

// marksOf adds the marks of signature and clef.
func (x *examiner) marksOf(r Result) Marks {
	m := Marks{Of: r.Notes, Strict: r.Right}
	signature, clef := x.answer.fifths == x.wantedFifths, true
	for _, mistake := range r.Mistakes {
		clef = clef && mistake.Kind != WrongClef
	}
	if x.asksSignature() {
		m.Of++
		m.Strict += one(signature)
	}
	if x.asksClef() {
		m.Of++
		m.Strict += one(clef)
	}
	m.Lenient = max(m.Strict, m.Of-len(r.Mistakes))
	return m
}

// remarks are what a teacher may want to say without taking marks off.
func (x *examiner) remarks() []string {
	var list []string
	if x.twin {
		list = append(list, "written in the enharmonic twin of the key, which sounds the same: accepted")
	}
	if x.expected.slurs > x.answer.slurs {
		list = append(list, counted(x.expected.slurs-x.answer.slurs, "slur")+" left out")
	}
	return list
}
