package instruments

import (
	"strings"

	"deskpart/transpose/pitch"
)

// readInstrument reads a row of instruments.csv.
func readInstrument(r row) (*Instrument, error) {
	i := &Instrument{
		ID: r.text("id"), Kind: r.text("kind"), Variant: r.text("variant"), Family: r.text("family"),
		Key: r.text("key"), Sounds: r.list("sounds"), TubeKeys: r.list("tube_keys"),
		Note: r.text("note"), Source: r.text("source"), names: map[pitch.Language]Name{},
	}
	for _, read := range []func(row, *Instrument) error{
		readIdentity, readInterval, readClefs, readFlags,
	} {
		if err := read(r, i); err != nil {
			return nil, err
		}
	}
	return i, nil
}

func readIdentity(r row, i *Instrument) (err error) {
	for _, column := range []string{"id", "kind", "family", "source"} {
		if r.text(column) == "" {
			return r.errorf(column, "is empty")
		}
	}
	if i.Group, err = word(r, "group", Groups()...); err != nil {
		return err
	}
	if i.Register, err = word(r, "register", "", "alto", "basso"); err != nil {
		return err
	}
	if i.Confidence, err = word(r, "confidence", "published", "mixed", "memory", "derived"); err != nil {
		return err
	}
	for _, key := range append([]string{i.Key}, i.TubeKeys...) {
		if k, err := pitch.ParseKey(key); key != "" && (err != nil || k.Tonic() != key) {
			return r.errorf("key", "%q is not a key like Bb or F#", key)
		}
	}
	i.MIDIProgram, err = r.number("midi_program", 1, 128)
	return err
}

// readInterval reads the transposition twice, as numbers and as the worked note,
// and holds one against the other: a slip in one of them cannot pass.
func readInterval(r row, i *Instrument) (err error) {
	if i.Diatonic, err = r.number("diatonic", -6, 6); err != nil {
		return err
	}
	if i.Chromatic, err = r.number("chromatic", -11, 11); err != nil {
		return err
	}
	if i.OctaveChange, err = r.number("octave_change", -4, 4); err != nil {
		return err
	}
	if i.Diatonic*i.Chromatic < 0 || i.Chromatic*i.OctaveChange < 0 {
		return r.errorf("octave_change", "steps, semitones and octaves point in different directions")
	}
	worked, err := r.note("written_c4_sounds")
	if err != nil {
		return err
	}
	if sounds := i.WrittenC(); sounds != worked {
		return r.errorf("written_c4_sounds", "is %v, but the interval gives %v", worked, sounds)
	}
	letter := strings.TrimRight(worked.String(), "-0123456789")
	if i.Key != "" && i.Key != letter {
		return r.errorf("key", "is %s, but a written C sounds %v", i.Key, worked)
	}
	return nil
}

// readClefs reads "treble; bass" as two clefs in order of preference and
// "treble+bass" as the clefs of two staves.
func readClefs(r row, i *Instrument) error {
	separator := ";"
	i.Staves = 1 + strings.Count(r.text("clefs"), "+")
	if i.Staves > 1 {
		separator = "+"
	}
	for name := range strings.SplitSeq(r.text("clefs"), separator) {
		clef, ok := clefNames[strings.TrimSpace(name)]
		if !ok {
			return r.errorf("clefs", "%q is no clef", name)
		}
		i.Clefs = append(i.Clefs, clef)
	}
	return nil
}

func readFlags(r row, i *Instrument) error {
	oneLine, err := word(r, "one_line", "yes", "no")
	if err != nil {
		return err
	}
	i.OneLine = oneLine == "yes"
	places := map[string]*bool{
		"usual": &i.Flags.Usual, "plain-key": &i.Flags.PlainKey, "says-key": &i.Flags.SaysKey, "says-octave": &i.Flags.SaysOctave,
		"rare": &i.Flags.Rare, "unpitched": &i.Flags.Unpitched, "breath": &i.Flags.Breath,
		"bowed": &i.Flags.Bowed, "plucked": &i.Flags.Plucked, "fretted": &i.Flags.Fretted,
		"keyboard": &i.Flags.Keyboard, "mallets": &i.Flags.Mallets, "voice": &i.Flags.Voice,
		"sounds-in-c": &i.Flags.SoundsInC,
	}
	for _, flag := range r.list("flags") {
		if places[flag] == nil {
			return r.errorf("flags", "%q is no flag", flag)
		}
		*places[flag] = true
	}
	return nil
}
