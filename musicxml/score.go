package musicxml

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"sync/atomic"

	"github.com/beevik/etree"

	"deskpart/musicxml/notice"
)

// ReadOptions say how a file is read.
type ReadOptions struct {
	Name      string   // the file's name in errors. Default: ReadFile fills in the path
	Limits    Limits   // Default: DefaultLimits()
	SkipFiles bool     // leave a container's other files alone. Default: false
	Buffers   *Buffers // memory to read into; see Score.Release. Default: nil, memory of its own
	Owned     bool     // the data are a buffer of Buffers, to be given back when they are no longer needed. Default: false
}

// Score is a score that has been cut into its header and its parts. The parts
// are read one by one, so that one part's tree per worker is alive and not the
// whole score's.
type Score struct {
	Name       string          // the file's name in errors
	Version    string          // version attribute of the root, "1.0" when absent
	Timewise   bool            // the source was timewise (Parts are partwise already)
	Compressed bool            // the source was a container
	Header     *etree.Document // prolog and root with all child elements but <part>; the root's tag is always score-partwise
	Parts      []RawPart       // in document order
	AfterParts []etree.Token   // comments and processing instructions after the last part, inside the root
	Trailer    []etree.Token   // comments and processing instructions after the root
	RootName   string          // name of the score inside the container, "" when not compressed
	Files      []File          // the container's other files
	Warnings   []*Error        // oddities that were read past, such as a part that the part-list does not name

	text    string
	limits  Limits
	known   *entities
	buffers *Buffers
	memory  [][]byte
	// tapes are of the parts that were read to be remembered.
	tapes []atomic.Pointer[tape]
	// undeclared are prefixes in the parts that nothing declares.
	undeclared []atomic.Pointer[[]string]
	// taped is how many bytes their words take.
	taped atomic.Int64
}

// RawPart is one part of a score, not yet read.
type RawPart struct {
	ID     string        // id, also where the source left it out but it is clear which part is meant
	Before []etree.Token // comments and processing instructions before the part: after the previous one, or after the header

	data   string
	pieces []piece
	weight Weight
}

// Size returns the number of bytes of the part's text, a measure of what reading it costs.
func (p RawPart) Size() int { return len(p.data) }

// Read reads a score by its content: MusicXML 1.0 to 4.0, partwise or timewise,
// in any of the encodings, compressed or not. The score shares data, which must
// not change while the score or a tree of it is in use.
//
// The parts are checked to be well-formed only when they are read.
func Read(data []byte, o ReadOptions) (*Score, error) {
	s := &Score{Name: o.Name, limits: o.Limits.withDefaults(), buffers: o.Buffers}
	if o.Owned && isContainer(data) {
		defer o.Buffers.Give(data) // it is unpacked elsewhere
	} else if o.Owned {
		s.memory = append(s.memory, data)
	}
	if err := s.read(data, o); err != nil {
		s.Release()
		return nil, Locate(err, Error{File: o.Name})
	}
	return s, nil
}

func (s *Score) read(data []byte, o ReadOptions) error {
	if int64(len(data)) > s.limits.InputBytes {
		return tooLarge(s.limits.InputBytes)
	}
	if isContainer(data) {
		box, err := s.open(data, o)
		if err != nil {
			return err
		}
		data = box
	}
	if err := refuseForeign(data); err != nil {
		return err
	}
	text, err := decode(data)
	if err != nil && !bytes.ContainsRune(data[:min(len(data), 512)], '<') {
		return refusal(notice.NotMusicXML)
	} else if err != nil {
		return err
	}
	if err := s.cutScore(text); err != nil {
		return err
	}
	s.tapes = make([]atomic.Pointer[tape], len(s.Parts))
	s.undeclared = make([]atomic.Pointer[[]string], len(s.Parts))
	return nil
}

func tooLarge(limit int64) error {
	return &Error{Code: notice.TooLarge, Hint: raiseLimit, Err: fmt.Errorf("the file has more than %d bytes", limit)}
}

// ReadPart builds the tree of part i, an element without a parent. It is safe
// to call from several goroutines with a *Slabs each; the tree is valid until
// that set's Reset. With nil slabs the tree has memory of its own. The tree's
// strings are pieces of the score's text.
func (s *Score) ReadPart(i int, slabs *Slabs) (*etree.Element, error) {
	return s.SkimPart(i, slabs, Skim{})
}

// Skim says what of a part becomes part of its tree. Names come without prefix.
type Skim struct {
	// Element says which elements stay, with what is inside them. Default: all.
	Element func(parent, tag string) bool
	// Attribute says which attributes without prefix stay, by their element's tag
	// and their name. Default: all.
	Attribute func(tag, key string) bool
	// Remember notes down where everything in the part's text stands, so that it is
	// read in half the time from then on. It takes about half as much memory as the
	// text, at most TapeBytes for a score, until the score is released. Default:
	// false.
	Remember bool
}

// SkimPart is ReadPart without what skim says no to, which is still checked to be
// well-formed.
func (s *Score) SkimPart(i int, slabs *Slabs, skim Skim) (*etree.Element, error) {
	if i < 0 || i >= len(s.Parts) {
		return nil, &Error{File: s.Name, Code: notice.NoParts, Err: fmt.Errorf("the score has no part %d", i+1)}
	}
	p := s.Parts[i]
	if p.data == "" {
		return nil, &Error{File: s.Name, PartID: p.ID, Code: notice.Released, Hint: "read the score again", Err: fmt.Errorf("the score has been released")}
	}
	part, err := s.buildPart(i, slabs, skim)
	if err != nil {
		return nil, err
	}
	if idOf(part) != p.ID {
		part.CreateAttr("id", p.ID)
	}
	return part, nil
}

// buildPart builds the tree from the part's tape, or else from its text.
func (s *Score) buildPart(i int, slabs *Slabs, skim Skim) (*etree.Element, error) {
	p := s.Parts[i]
	if known := s.tapes[i].Load(); known != nil {
		return s.settled(i, known.build(p.data, slabs, skim), known.anyPrefix), nil
	}
	scan := newScanner(p.data, s.limits, s.known, slabs)
	scan.skim = skim
	scan.line = func(pos int) int { return s.lineIn(p, pos) }
	if skim.Remember {
		noted := s.newTape(len(p.data))
		scan.tape = noted
		defer func() { s.keepTape(i, noted, scan.tape != nil) }()
	}
	part, err := scan.element()
	if err != nil {
		scan.loseTape()
		return nil, Locate(scan.locate(err, s.Name), Error{PartName: s.partName(p.ID), PartID: p.ID, Measure: scan.measure()})
	}
	return s.settled(i, part, scan.anyPrefix), nil
}

// settled takes out of a part what has a prefix that nothing declares, and remembers
// that.
func (s *Score) settled(i int, part *etree.Element, anyPrefix bool) *etree.Element {
	if anyPrefix {
		if found := settlePrefixes(part, s.Header.Root()); len(found) > 0 {
			s.undeclared[i].Store(&found)
		}
	}
	return part
}

// Undeclared returns the prefixes in part i that nothing declares: what has them is
// left out of the part's tree. The part must have been read.
func (s *Score) Undeclared(i int) []string {
	if found := s.undeclared[i].Load(); found != nil {
		return *found
	}
	return nil
}

// TapeBytes bounds the memory in which one score's parts are remembered.
const TapeBytes = 12 << 20

// A word of a tape, of wordSize bytes, comes to bytesPerWord of text or more: 7.5
// in the shared scores, 4.5 where there is no white space between elements.
const bytesPerWord, wordSize = 4, 4

// newTape returns a tape for a part of so many bytes, nil where the score's
// tapes take up their memory already.
func (s *Score) newTape(size int) *tape {
	words := size / bytesPerWord
	if size > math.MaxInt32 || s.taped.Add(int64(words)*wordSize) > TapeBytes {
		s.taped.Add(-int64(words) * wordSize)
		return nil
	}
	o := s.buffers.takeTape(words)
	o.counted = words
	return o
}

// keepTape keeps the tape of a part if it says all, and counts what it takes.
func (s *Score) keepTape(i int, o *tape, whole bool) {
	if o == nil {
		return
	}
	s.taped.Add(-int64(o.counted) * wordSize)
	if !whole || o.lost {
		s.buffers.giveTape(o)
		return
	}
	s.taped.Add(int64(len(o.words)) * wordSize)
	s.tapes[i].Store(o)
}

// measure returns the number of the measure in which the scanner of a part
// stands, or "".
func (s *scanner) measure() string {
	const measureFrame = 2 // above the home of the tree and the part
	if len(s.work.open) <= measureFrame || s.work.open[measureFrame].element == nil {
		return ""
	}
	// A copy, as errors outlive the text.
	return strings.Clone(s.work.open[measureFrame].element.SelectAttrValue("number", ""))
}
