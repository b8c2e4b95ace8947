package transpose

import (
	"fmt"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// Some things have no equal in another key: a natural-flat at a note that becomes
// natural, a fretboard diagram with an open string, the octaves of a signature's
// signs. Others are a courtesy here and a need there, or are missing here and not
// missed there. So that the way back has the page as it was, one that is moved as
// printed remembers them in processing instructions:
//
//	<accidental>natural<?deskpart sign natural-flat at Db4?></accidental>
//	<note>…<?deskpart no-sign?></note>
//	<harmony>…<?deskpart was 1,2 <frame>…</frame>?></harmony>
//
// Other readers pass them over, and the way back takes them out again.

// printedSign is a sign at the note that it was printed for.
type printedSign struct {
	name string
	at   pitch.Pitch
}

const (
	memoTarget    = "deskpart"
	memoSign      = "sign "                 // in an <accidental>: the sign, and at which note
	memoWas       = "was "                  // in a <key> or <harmony>: the interval since, and what was there
	memoOmission  = "no-sign"               // in a <note> that lacks its sign
	memoUnsayable = "no-sign-for-this"      // in a <note> that needs a sign for once
	memoKey       = "key"                   // in a <key> that the source repeats
	memoSounding  = "sounding"              // in a <transpose> by octaves of a part that the concert score has as it sounds
	memoParted    = "parted"                // in the first <key> of several that are one in the source
	memoOurs      = "attributes"            // in an <attributes> that the source has not
	memoBetween   = "attributes-in-between" // in one that stands between a backup and a forward of ours
)

// takeSign reads what an <accidental> or <accidental-mark> prints at a note of
// that pitch. Where the element remembers what it was elsewhere, that is the
// answer, unless someone has changed the sign since: moved says what would
// stand there now.
func takeSign(e *etree.Element, at pitch.Pitch, moved func(printedSign, pitch.Pitch) (string, bool)) (sign printedSign, remembered bool) {
	now := printedSign{musicxml.Text(e), at}
	i := memoIndex(e)
	if i < 0 {
		return now, false
	}
	was, ok := parseMemo(e.Child[i].(*etree.ProcInst).Inst)
	e.RemoveChildAt(i)
	if !ok {
		return now, false
	}
	if name, _ := moved(was, at); name != now.name {
		return now, false
	}
	return was, true
}

// memoIndex finds our processing instruction among an element's children, or
// returns −1.
func memoIndex(e *etree.Element) int {
	for i, token := range e.Child {
		if memo, ok := token.(*etree.ProcInst); ok && memo.Target == memoTarget {
			return i
		}
	}
	return -1
}

// memoSaying finds the one whose text begins so, or returns −1.
func memoSaying(e *etree.Element, text string) int {
	for i, token := range e.Child {
		if memo, ok := token.(*etree.ProcInst); ok && memo.Target == memoTarget && strings.HasPrefix(memo.Inst, text) {
			return i
		}
	}
	return -1
}

func hasMemo(e *etree.Element) bool { return memoIndex(e) >= 0 }

func parseMemo(text string) (printedSign, bool) {
	text, ok := strings.CutPrefix(text, memoSign)
	name, stands, found := strings.Cut(text, " at ")
	if !ok || !found {
		return printedSign{}, false
	}
	at, err := pitch.Parse(stands)
	return printedSign{name, at}, err == nil
}

// remember keeps what a sign was.
func remember(e *etree.Element, was printedSign) {
	addMemo(e, memoSign+was.name+" at "+was.at.String())
}

// comesBack reports whether moving the sign that now stands at a note of that
// pitch gives the old one again.
func comesBack(e *etree.Element, was printedSign, at pitch.Pitch, moved func(printedSign, pitch.Pitch) (string, bool)) bool {
	name, _ := moved(printedSign{musicxml.Text(e), at}, was.at)
	return name == was.name
}

// takeWas reads what an element remembers to have held, and by which interval it
// has moved since, and forgets it.
func takeWas(e *etree.Element) (was *etree.Element, since pitch.Interval, ok bool) {
	i := memoSaying(e, memoWas)
	if i < 0 {
		return nil, since, false
	}
	text := strings.TrimPrefix(e.Child[i].(*etree.ProcInst).Inst, memoWas)
	e.RemoveChildAt(i)
	interval, xml, _ := strings.Cut(text, " ")
	if _, err := fmt.Sscanf(interval, "%d,%d", &since.Diatonic, &since.Chromatic); err != nil {
		return nil, since, false
	}
	doc, err := musicxml.ParseDocument([]byte(xml), musicxml.ReadOptions{})
	if err != nil || doc.Root() == nil {
		return nil, since, false
	}
	was = doc.Root()
	was.Remove()
	return was, since, true
}

// addWas remembers what an element held before it was moved by an interval.
func addWas(e, was *etree.Element, since pitch.Interval) {
	xml, err := etree.NewDocumentWithRoot(was).WriteToString()
	if err != nil || strings.Contains(xml, "?>") {
		return // it cannot be put into a processing instruction
	}
	addMemo(e, fmt.Sprintf("%s%d,%d %s", memoWas, since.Diatonic, since.Chromatic, xml))
}

// takeMemo reports whether an element holds that memo, and takes it out.
func takeMemo(e *etree.Element, text string) bool {
	i := memoSaying(e, text)
	if i < 0 || e.Child[i].(*etree.ProcInst).Inst != text {
		return false
	}
	e.RemoveChildAt(i)
	return true
}

func addMemo(e *etree.Element, text string) { e.AddChild(etree.NewProcInst(memoTarget, text)) }
