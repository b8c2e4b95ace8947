package musicxml

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"sync"

	"deskpart/musicxml/notice"
)

// Buffers is memory that files are read into, used again for file after file:
// memory that is touched for the first time is slow. The zero value is ready; it
// may serve several goroutines.
type Buffers struct {
	// Keep is how many buffers wait to be used again at most, and TapeBytes of
	// tapes for each. Default: 2.
	Keep int

	mutex sync.Mutex
	free  [][]byte // by their size, ascending
	tapes []*tape  // by their room, ascending
	idle  int      // words that they have room for
}

const defaultKeep = 2

func (b *Buffers) keep() int {
	if b.Keep > 0 {
		return b.Keep
	}
	return defaultKeep
}

// Take returns an empty buffer with room for n bytes, the smallest that there is
// unless it is out of all proportion, or a new one.
func (b *Buffers) Take(n int) []byte {
	if b == nil {
		return make([]byte, 0, n)
	}
	b.mutex.Lock()
	defer b.mutex.Unlock()
	at, _ := slices.BinarySearchFunc(b.free, n, bySize)
	if at == len(b.free) || cap(b.free[at]) > 16*n+1<<20 {
		return make([]byte, 0, n)
	}
	buffer := b.free[at]
	b.free = slices.Delete(b.free, at, at+1)
	return buffer[:0]
}

func bySize(buffer []byte, bytes int) int { return cap(buffer) - bytes }

// Give takes a buffer back, which nobody uses any more. The largest are kept.
func (b *Buffers) Give(buffer []byte) {
	if b == nil || cap(buffer) == 0 {
		return
	}
	spoil(buffer[:cap(buffer)])
	b.mutex.Lock()
	defer b.mutex.Unlock()
	at, _ := slices.BinarySearchFunc(b.free, cap(buffer), bySize)
	if b.free = slices.Insert(b.free, at, buffer); len(b.free) > b.keep() {
		b.free = slices.Delete(b.free, 0, 1)
	}
}

// takeTape returns an empty tape with room for n words, the smallest that
// there is or a new one.
func (b *Buffers) takeTape(n int) *tape {
	if b == nil {
		return &tape{words: make([]uint32, 0, n)}
	}
	b.mutex.Lock()
	defer b.mutex.Unlock()
	at, _ := slices.BinarySearchFunc(b.tapes, n, byRoom)
	if at == len(b.tapes) {
		return &tape{words: make([]uint32, 0, n)}
	}
	o := b.tapes[at]
	b.tapes = slices.Delete(b.tapes, at, at+1)
	b.idle -= cap(o.words)
	return o
}

func byRoom(o *tape, words int) int { return cap(o.words) - words }

// giveTape takes a tape back, which nobody uses any more. The largest are kept.
func (b *Buffers) giveTape(o *tape) {
	if b == nil || o == nil {
		return
	}
	b.mutex.Lock()
	defer b.mutex.Unlock()
	at, _ := slices.BinarySearchFunc(b.tapes, cap(o.words), byRoom)
	b.tapes = slices.Insert(b.tapes, at, &tape{words: o.words[:0]})
	b.idle += cap(o.words)
	drop := 0
	for ; b.idle*wordSize > TapeBytes*b.keep(); drop++ {
		b.idle -= cap(b.tapes[drop].words)
	}
	b.tapes = slices.Delete(b.tapes, 0, drop)
}

// Release gives the memory of the score's text back to the Buffers that it was
// read into, if any. From then on its parts cannot be read, and the strings of
// trees read from it are invalid; the header's stay.
func (s *Score) Release() {
	for _, buffer := range s.memory {
		s.buffers.Give(buffer)
	}
	s.memory, s.text = nil, ""
	for i := range s.Parts {
		s.Parts[i].data = ""
	}
	for i := range s.tapes {
		s.buffers.giveTape(s.tapes[i].Load())
	}
	s.tapes = nil
}

// take returns an empty buffer that goes back with Release.
func (s *Score) take(n int) []byte {
	buffer := s.buffers.Take(n)
	s.memory = append(s.memory, buffer)
	return buffer
}

// ReadFile reads a score from a file. What is no plain file, such as a pipe, is
// refused: it may never end.
func ReadFile(path string, o ReadOptions) (*Score, error) {
	o.Name = cmp.Or(o.Name, path)
	limits := o.Limits.withDefaults()
	data, err := readAll(path, limits.InputBytes, o.Buffers)
	if err != nil {
		return nil, Locate(err, Error{File: o.Name})
	}
	o.Owned = true
	return Read(data, o)
}

// readAll reads a plain file of at most limit bytes.
func readAll(path string, limit int64, buffers *Buffers) ([]byte, error) {
	// Before opening: to open a pipe may wait for ever.
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, cannotOpen(err)
	case !info.Mode().IsRegular():
		return nil, &Error{Code: notice.NotAFile, Hint: "give a score", Err: errors.New("this is not a plain file")}
	case info.Size() > limit:
		return nil, tooLarge(limit)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, cannotOpen(err)
	}
	defer f.Close()
	data := buffers.Take(int(info.Size()) + 1)
	return fillFrom(f, data, limit)
}

// cannotOpen words an error of the operating system, without the path that the
// Error's File says already.
func cannotOpen(err error) error {
	var at *os.PathError
	if errors.As(err, &at) {
		err = at.Err
	}
	return &Error{Code: notice.Unreadable, Hint: "check the name and that you may read it", Err: fmt.Errorf("cannot read the file: %w", err)}
}

// fillFrom appends all of a reader to data, but refuses more than limit bytes.
func fillFrom(r io.Reader, data []byte, limit int64) ([]byte, error) {
	for {
		if len(data) == cap(data) {
			data = append(data, 0)[:len(data)]
		}
		n, err := r.Read(data[len(data):cap(data)])
		data = data[:len(data)+n]
		switch {
		case int64(len(data)) > limit:
			return nil, tooLarge(limit)
		case err == io.EOF:
			return data, nil
		case err != nil:
			return nil, cannotOpen(err)
		}
	}
}
