package transpose

import (
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// Some printed signs have no equal at another alteration: a natural-flat at a
// note that becomes natural, a double flat with an arrow at one that would need
// a triple. So that the way back has the sign as it was, a page that is moved as
// printed remembers it in a processing instruction beside the new sign:
//
//	<accidental>natural<?deskpart sign natural-flat at Db4?></accidental>
//
// Other readers pass it over, and the way back takes it out again.

// printedSign is a sign at the note that it was printed for.
type printedSign struct {
	name string
	at   Pitch
}

const memoTarget, memoPrefix = "deskpart", "sign "

// takeSign reads what an <accidental> or <accidental-mark> prints at a note of
// that pitch. Where the element remembers what it was elsewhere, that is the
// answer, unless someone has changed the sign since: moved says what would
// stand there now.
func takeSign(e *etree.Element, at Pitch, moved func(printedSign, Pitch) (string, bool)) printedSign {
	now := printedSign{musicxml.Text(e), at}
	for i, token := range e.Child {
		memo, ok := token.(*etree.ProcInst)
		if !ok || memo.Target != memoTarget {
			continue
		}
		e.RemoveChildAt(i)
		was, ok := parseMemo(memo.Inst)
		if !ok {
			return now
		}
		if name, _ := moved(was, at); name != now.name {
			return now
		}
		return was
	}
	return now
}

func parseMemo(text string) (printedSign, bool) {
	text, ok := strings.CutPrefix(text, memoPrefix)
	name, pitch, found := strings.Cut(text, " at ")
	if !ok || !found {
		return printedSign{}, false
	}
	at, err := ParsePitch(pitch)
	return printedSign{name, at}, err == nil
}

// remember keeps what a sign was, where moving the new one back would give
// another.
func remember(e *etree.Element, was printedSign, at Pitch, moved func(printedSign, Pitch) (string, bool)) {
	now := printedSign{musicxml.Text(e), at}
	if name, _ := moved(now, was.at); name == was.name {
		return
	}
	e.AddChild(etree.NewProcInst(memoTarget, memoPrefix+was.name+" at "+was.at.String()))
}
