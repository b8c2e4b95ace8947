package musicxml

import "github.com/beevik/etree"

// Slabs is the memory that trees are built in: one set a worker, used again for
// part after part. Memory touched for the first time is slow, and a tree of a
// few big pieces is cheap for the collector. The zero value is ready. A set
// serves one goroutine at a time.
type Slabs struct {
	elements slab[etree.Element]
	texts    slab[etree.CharData]
	attrs    slab[etree.Attr]
	tokens   slab[etree.Token]
	work     stacks
}

// Reset takes the memory back: every tree built in it since the last Reset is
// invalid from here on. Its strings stay what they are, and the text that they are
// pieces of stays in memory until the slabs are used again or Forget is called.
func (s *Slabs) Reset() {
	s.elements.reset()
	s.texts.reset()
	s.attrs.reset()
	s.tokens.reset()
}

// Forget is Reset for slabs that go on to another score: nothing of the texts read
// before is kept alive by them.
func (s *Slabs) Forget() {
	s.elements.forget()
	s.texts.forget()
	s.attrs.forget()
	s.tokens.forget()
	clear(s.work.open[:cap(s.work.open)])
	clear(s.work.kids[:cap(s.work.kids)])
	clear(s.work.blanks[:cap(s.work.blanks)])
	clear(s.work.attrs[:cap(s.work.attrs)])
}

// Copy returns a deep copy of an element in the slabs' memory, without a parent. Nil
// slabs give it memory of its own.
func (s *Slabs) Copy(e *etree.Element) *etree.Element {
	if s == nil {
		return e.Copy()
	}
	c := s.copyShell(e)
	if len(e.Child) > 0 {
		c.Child = s.tokens.take(len(e.Child))[:0]
	}
	for _, t := range e.Child {
		c.AddChild(s.copyToken(t))
	}
	return c
}

// copyShell copies an element without its children.
func (s *Slabs) copyShell(e *etree.Element) *etree.Element {
	if s == nil {
		s = new(Slabs)
	}
	c := s.element(len(e.Attr))
	c.Space, c.Tag = e.Space, e.Tag
	for _, a := range e.Attr {
		if a.Space == "" {
			c.Attr = append(c.Attr, etree.Attr{Key: a.Key, Value: a.Value})
		} else {
			c.CreateAttr(a.FullKey(), a.Value) // which etree looks up
		}
	}
	return c
}

// copyToken copies a token and all in it. The copy has no parent.
func (s *Slabs) copyToken(t etree.Token) etree.Token {
	switch t := t.(type) {
	case *etree.Element:
		return s.Copy(t)
	case *etree.CharData:
		if s != nil && !t.IsCData() {
			return s.text(t.Data)
		}
	}
	return copyToken(t)
}

// text returns a character data token.
func (s *Slabs) text(data string) *etree.CharData {
	t := &s.texts.take(1)[0]
	*t = etree.CharData{}
	t.SetData(data)
	return t
}

// element returns an element with room for its attributes, none set.
func (s *Slabs) element(attrs int) *etree.Element {
	e := &s.elements.take(1)[0]
	*e = etree.Element{}
	if attrs > 0 {
		e.Attr = s.attrs.take(attrs)[:0]
	}
	return e
}

const (
	firstChunk = 64
	largeChunk = 4096
)

// slab hands out pieces of big chunks, with what was in them before. A piece has no
// room to grow: what is appended to it moves elsewhere, as with any full slice.
type slab[T any] struct {
	free   []T   // rest of the current chunk
	chunks [][]T // all, in order of use
	next   int   // chunk after the current one
	dirty  int   // chunks that were used since forget
}

func (s *slab[T]) take(n int) []T {
	if n > len(s.free) {
		s.grow(n)
	}
	piece := s.free[:n:n]
	s.free = s.free[n:]
	return piece
}

// grow goes on to the next chunk that is large enough, making one if needed.
func (s *slab[T]) grow(n int) {
	for s.next < len(s.chunks) && len(s.chunks[s.next]) < n {
		s.next++
	}
	if s.next == len(s.chunks) {
		size := min(firstChunk<<min(len(s.chunks), 6), largeChunk)
		s.chunks = append(s.chunks, make([]T, max(n, size)))
	}
	s.free = s.chunks[s.next]
	s.next++
}

func (s *slab[T]) reset() {
	s.dirty = max(s.dirty, s.next)
	s.free, s.next = nil, 0
}

// forget is reset that also clears what was used.
func (s *slab[T]) forget() {
	s.reset()
	for _, chunk := range s.chunks[:s.dirty] {
		clear(chunk)
	}
	s.dirty = 0
}
