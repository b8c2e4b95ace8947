package verify

// tapePiece is how many values a piece of a tape holds.
const tapePiece = 4096

// tape is a row of values in pieces, which are used again and never copied. The zero
// value is empty.
type tape[T comparable] struct {
	pieces [][]T
	at     int // the piece that is written
}

// rewind empties the tape and keeps its memory.
func (t *tape[T]) rewind() {
	for i := range t.pieces {
		t.pieces[i] = t.pieces[i][:0]
	}
	t.at = 0
}

// forget is rewind that lets go of the values.
func (t *tape[T]) forget() {
	for i := range t.pieces {
		clear(t.pieces[i][:cap(t.pieces[i])])
	}
	t.rewind()
}

func (t *tape[T]) add(value T) {
	if t.at == len(t.pieces) {
		t.pieces = append(t.pieces, make([]T, 0, tapePiece))
	}
	piece := append(t.pieces[t.at], value)
	t.pieces[t.at] = piece
	if len(piece) == cap(piece) {
		t.at++
	}
}

// reel reads a tape from its beginning.
type reel[T comparable] struct {
	piece []T // what is left of it
	more  [][]T
}

func (t *tape[T]) read() reel[T] { return reel[T]{more: t.pieces} }

// next takes the next value and reports whether it is this one.
func (r *reel[T]) next(value T) bool {
	if len(r.piece) == 0 && r.atEnd() {
		return false
	}
	first := r.piece[0]
	r.piece = r.piece[1:]
	return first == value
}

// atEnd reports whether nothing is left.
func (r *reel[T]) atEnd() bool {
	for len(r.piece) == 0 {
		if len(r.more) == 0 {
			return true
		}
		r.piece, r.more = r.more[0], r.more[1:]
	}
	return false
}
