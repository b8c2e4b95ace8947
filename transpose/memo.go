package transpose

import (
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// Some printed signs have no equal at another alteration: a natural-flat at a
// note that becomes natural, a double flat with an arrow at one that would need
// a triple. Others are a courtesy here and a need there, or are missing here and
// not missed there. So that the way back has the page as it was, one that is
// moved as printed remembers such a sign in a processing instruction:
//
//	<accidental>natural<?deskpart sign natural-flat at Db4?></accidental>
//	<note>…<?deskpart no-sign?></note>
//
// Other readers pass it over, and the way back takes it out again.

// printedSign is a sign at the note that it was printed for.
type printedSign struct {
	name string
	at   Pitch
}

const (
	memoTarget    = "deskpart"
	memoPrefix    = "sign "
	memoOmission  = "no-sign"          // in a <note>
	memoUnsayable = "no-sign-for-this" // in a <note> that needs a sign for once
	memoKey       = "key"              // in a <key> that the source repeats
)

// takeSign reads what an <accidental> or <accidental-mark> prints at a note of
// that pitch. Where the element remembers what it was elsewhere, that is the
// answer, unless someone has changed the sign since: moved says what would
// stand there now.
func takeSign(e *etree.Element, at Pitch, moved func(printedSign, Pitch) (string, bool)) (sign printedSign, remembered bool) {
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

func hasMemo(e *etree.Element) bool { return memoIndex(e) >= 0 }

func parseMemo(text string) (printedSign, bool) {
	text, ok := strings.CutPrefix(text, memoPrefix)
	name, pitch, found := strings.Cut(text, " at ")
	if !ok || !found {
		return printedSign{}, false
	}
	at, err := ParsePitch(pitch)
	return printedSign{name, at}, err == nil
}

// remember keeps what a sign was.
func remember(e *etree.Element, was printedSign) {
	addMemo(e, memoPrefix+was.name+" at "+was.at.String())
}

// comesBack reports whether moving the sign that now stands at a note of that
// pitch gives the old one again.
func comesBack(e *etree.Element, was printedSign, at Pitch, moved func(printedSign, Pitch) (string, bool)) bool {
	name, _ := moved(printedSign{musicxml.Text(e), at}, was.at)
	return name == was.name
}

// takeMemo reports whether an element holds that memo, and takes it out.
func takeMemo(e *etree.Element, text string) bool {
	i := memoIndex(e)
	if i < 0 || e.Child[i].(*etree.ProcInst).Inst != text {
		return false
	}
	e.RemoveChildAt(i)
	return true
}

func addMemo(e *etree.Element, text string) { e.AddChild(etree.NewProcInst(memoTarget, text)) }
