package instruments

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"deskpart/transpose/pitch"
)

// A Reader is whoever reads one clef and hears a written C as one note: "Bb treble" is
// clarinet, trumpet and tenor saxophone, each in its own octave. A set of parts for
// whoever comes has an edition for each reader.
type Reader struct {
	Name    string        // "Bb treble"
	Players []*Instrument // who reads it; the first says the octave
	Note    string        // in words, "" for none
	Source  string        // keys of the sources

	notation *Instrument
}

// Clef is the one that the reader reads.
func (r *Reader) Clef() Clef { return r.notation.Clefs[0] }

// Key is what sounds for a written C, "Bb".
func (r *Reader) Key() string { return r.notation.Key }

// InKey is the key in a language, as it stands in the name of a part: "in B♭", "en si♭".
func (r *Reader) InKey(language pitch.Language) string { return keyPhrase(language, r.Key(), "") }

// Notation is the reader as an instrument that parts can be written for. It is not in
// the catalogue: it has no sound of its own, and its range is what all players of the
// reader have, as they read it.
func (r *Reader) Notation() *Instrument { return r.notation }

var readerColumns = []string{"reader", "players", "note", "source"}

// Readers returns the readers that parts are commonly printed for, in the order of
// readers.csv. The error names file, line and column.
func (c *Catalogue) Readers() ([]*Reader, error) {
	var readers []*Reader
	err := readRows(c.files, "readers.csv", readerColumns, func(r row) error {
		reader, err := c.reader(r)
		readers = append(readers, reader)
		return err
	})
	return readers, err
}

// reader reads a row; its players must all read it.
func (c *Catalogue) reader(r row) (*Reader, error) {
	reader := &Reader{Name: r.text("reader"), Note: r.text("note"), Source: r.text("source")}
	key, clefName, _ := strings.Cut(reader.Name, " ")
	clef, ok := ParseClef(clefName)
	if k, err := pitch.ParseKey(key); !ok || err != nil || k.Tonic() != key {
		return nil, r.errorf("reader", "%q is not a key and a clef, like Bb treble", reader.Name)
	}
	for _, id := range r.list("players") {
		player := c.byID[id]
		switch {
		case player == nil:
			return nil, r.errorf("players", "%q is no instrument", id)
		case player.readKey() != key || player.Staves != 1 || !slices.Contains(player.Clefs, clef):
			return nil, r.errorf("players", "%s does not read %s", id, reader.Name)
		}
		reader.Players = append(reader.Players, player)
	}
	if len(reader.Players) == 0 {
		return nil, r.errorf("players", "is empty")
	}
	reader.notation = newNotation(reader, key, clef)
	return reader, nil
}

// readKey is what sounds for a written C; an instrument without a key is in C.
func (i *Instrument) readKey() string {
	return cmp.Or(i.Key, "C")
}

func newNotation(r *Reader, key string, clef Clef) *Instrument {
	first := r.Players[0]
	i := &Instrument{ID: "reader-" + strings.ToLower(strings.ReplaceAll(r.Name, " ", "-")), Kind: "reader", Family: "reader", Group: first.Group,
		Key: key, Diatonic: first.Diatonic, Chromatic: first.Chromatic, OctaveChange: first.OctaveChange, Clefs: []Clef{clef}, Staves: 1,
		Source: r.Source, Confidence: "derived", names: map[pitch.Language]Name{}}
	i.names[pitch.English] = Name{fmt.Sprintf("a reader of %s", r.Name), fmt.Sprintf("readers of %s", r.Name), ""}
	i.Flags.Breath, i.Flags.Voice = true, true // whoever reads it may sing it too
	for _, player := range r.Players {
		f := &player.Flags
		i.Flags.Breath, i.Flags.Bowed, i.Flags.Plucked = i.Flags.Breath && f.Breath, i.Flags.Bowed || f.Bowed, i.Flags.Plucked || f.Plucked
	}
	for _, level := range Levels() {
		if common, ok := commonRange(r.Players, level); ok {
			common.Sounding = common.Written.moved(i.Interval())
			i.ranges = append(i.ranges, common)
		}
	}
	return i
}

// commonRange is what all players have, as they read it.
func commonRange(players []*Instrument, level Level) (common Range, any bool) {
	for _, player := range players {
		r, ok := player.Range(level)
		if !ok {
			continue
		}
		if !any {
			common, any = Range{Level: level, Written: r.Written, Source: "what " + player.ID + " and the other players have", Confidence: "derived"}, true
			continue
		}
		w := &common.Written
		w.Low, w.High = higher(w.Low, r.Written.Low), lower(w.High, r.Written.High)
		w.ComfortableLow, w.ComfortableHigh = higher(w.ComfortableLow, r.Written.ComfortableLow), lower(w.ComfortableHigh, r.Written.ComfortableHigh)
	}
	return common, any
}

func higher(a, b pitch.Pitch) pitch.Pitch {
	if b.NoteNumber() > a.NoteNumber() {
		return b
	}
	return a
}

func lower(a, b pitch.Pitch) pitch.Pitch {
	if b.NoteNumber() < a.NoteNumber() {
		return b
	}
	return a
}

// FindReader returns the reader that words mean: "Bb treble", "in B♭", "E-flat",
// "alto". A key alone means the first reader in it, a clef alone the one in C. The error
// says what may be meant.
func (c *Catalogue) FindReader(words string) (*Reader, error) {
	readers, err := c.Readers()
	if err != nil {
		return nil, err
	}
	key, clef, ok := c.readerWords(words)
	for _, r := range readers {
		if ok && (key == r.Key() || key == "" && r.Key() == "C") && (clef == "" || clef == r.Clef().Name()) {
			return r, nil
		}
	}
	names := make([]string, len(readers))
	folded := make([]string, len(readers))
	for i, r := range readers {
		names[i], folded[i] = r.Name, fold(r.Name)
	}
	hint := "there are " + strings.Join(names, ", ")
	if near := Nearest(fold(strings.TrimSpace(words)), folded, 1); len(near) > 0 {
		hint = fmt.Sprintf("did you mean %s? There are %s", names[near[0]], strings.Join(names, ", "))
	}
	return nil, fmt.Errorf("no reader is called %q; %s", strings.TrimSpace(words), hint)
}

// readerWords takes a reader's name apart, in either order.
func (c *Catalogue) readerWords(words string) (key, clef string, ok bool) {
	tokens := slices.DeleteFunc(tokenize(words), func(t token) bool { return t.text == "in" || t.text == "clef" })
	if k, n := c.vocabulary.readKey(tokens); n > 0 {
		key, tokens = k.key, tokens[n:]
	} else if len(tokens) > 1 {
		if k, n := c.vocabulary.readKey(tokens[len(tokens)-1:]); n > 0 {
			key, tokens = k.key, tokens[:len(tokens)-1]
		}
	}
	var rest []string
	for _, t := range tokens {
		rest = append(rest, t.text)
	}
	if len(rest) == 0 {
		return key, "", key != ""
	}
	if meaning, known := c.vocabulary.meanings[wordKey{roleClef, strings.Join(rest, " ")}]; known {
		return key, meaning.meaning, true
	}
	parsed, known := ParseClef(strings.Join(rest, "-"))
	return key, parsed.Name(), known
}
