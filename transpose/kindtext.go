package transpose

import (
	"regexp"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// movedTone is a root or bass before and after the move.
type movedTone struct {
	from, to pitch.Pitch
	known    bool
}

// movedChord is what of a chord symbol has moved.
type movedChord struct{ root, bass movedTone }

// moveKindText moves the notes that the printed text of a chord's kind names. The
// text stands in place of the kind (MusicXML 4.0, kind), and files that print whole
// symbols have "Bm7" or "Am/G" there, with the root's own text empty.
func (m *mover) moveKindText(kind *etree.Element, chord movedChord, st *state, at position) {
	was, since, remembered := takeWas(kind)
	since = since.Add(st.move)
	text := musicxml.Attr(kind, "text")
	switch {
	case remembered && since == (pitch.Interval{}):
		kind.CreateAttr("text", musicxml.Attr(was, "text"))
		return
	case !remembered:
		was = kind.Copy()
	}
	moved, understood := chord.respellKind(text, st.move)
	if !understood {
		m.warn(at, notice.ChordText, "the chord symbol prints \""+text+"\", which seems to name a note and was left as it is")
		return
	}
	if moved == text && !remembered {
		return
	}
	kind.CreateAttr("text", moved)
	if back, _ := chord.turned().respellKind(moved, st.move.Negate()); m.options.AsPrinted && (remembered || back != text) {
		addWas(kind, was, since)
	}
}

// turned is the chord moved back.
func (c movedChord) turned() movedChord {
	return movedChord{movedTone{c.root.to, c.root.from, c.root.known}, movedTone{c.bass.to, c.bass.from, c.bass.known}}
}

// respellKind rewrites the root at the head of a kind's text and the bass behind its
// stroke. understood is false where the text names a note that is neither.
func (c movedChord) respellKind(text string, by pitch.Interval) (moved string, understood bool) {
	head, bass, stroke := cutBass(text)
	if name, rest, ok := c.leading(head); ok {
		head, understood = respellText(name, c.root.from, c.root.to)
		if !understood {
			return text, false
		}
		head += rest
	}
	if !stroke {
		return head, true
	}
	from, to := c.bass.from, c.bass.to
	if !c.bass.known { // it stands in the text alone
		p, err := pitch.ParseName(bass)
		if err != nil {
			return text, false
		}
		from, to = p, by.Apply(p)
	}
	if bass, understood = respellText(bass, from, to); !understood {
		return text, false
	}
	return head + "/" + bass, true
}

// bassText is a note behind a stroke at the end of a kind's text. "6/9" has none.
var bassText = regexp.MustCompile(`^(.*)/([A-Ha-h](?:|b|bb|#|##|x|♭|♭♭|♯|♯♯))$`)

func cutBass(text string) (head, bass string, found bool) {
	if cut := bassText.FindStringSubmatch(text); cut != nil {
		return cut[1], cut[2], true
	}
	return text, "", false
}

// leadingNote is a letter with its signs, and what a chord symbol goes on with behind
// a root. "Aug", "Dim" and "Add9" begin with no note.
var leadingNote = regexp.MustCompile(`^[A-H](?:bb|##|b|#|♭♭|♯♯|♭|♯|x)?(?:$|[-0-9(/+–−°ºøØΔ△^ b#♭♯]|[mM]|sus|add|aug|dim|alt|no|omit)`)

// leading cuts the root's name off the head of a kind's text. Where a flat may belong
// to the root or to its fifth ("Bb5"), the root decides.
func (c movedChord) leading(text string) (name, rest string, ok bool) {
	if !leadingNote.MatchString(text) {
		return "", "", false
	}
	for _, signs := range []string{"bb", "##", "♭♭", "♯♯", "b", "#", "x", "♭", "♯", ""} {
		after, found := strings.CutPrefix(text[1:], signs)
		if !found {
			continue
		}
		if _, is := respellText(text[:1]+signs, c.root.from, c.root.from); is && (signs != "" || c.root.from.Alter == 0) && c.root.known {
			return text[:1] + signs, after, true
		}
	}
	return "", "", true // a note, and not the root
}
