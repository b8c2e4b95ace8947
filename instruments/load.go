package instruments

import (
	"embed"
	"fmt"
	"io/fs"
	"slices"
	"strings"
)

//go:embed data/*.csv
var embedded embed.FS

var (
	instrumentColumns = []string{"id", "kind", "variant", "family", "group", "key", "register",
		"diatonic", "chromatic", "octave_change", "written_c4_sounds", "clefs", "sounds",
		"midi_program", "one_line", "flags", "tube_keys", "note", "source", "confidence"}
	nameColumns  = []string{"kind", "language", "name", "plural", "abbreviation", "source"}
	rangeColumns = []string{"id", "level", "grade", "pitch", "low", "high",
		"comfortable_low", "comfortable_high", "note", "source", "confidence"}
	aliasColumns = []string{"alias", "kind", "when", "language", "note", "source"}
)

// Load reads the catalogue that is built into the program. Each call gives an
// independent catalogue.
func Load() (*Catalogue, error) {
	data, err := fs.Sub(embedded, "data")
	if err != nil {
		return nil, fmt.Errorf("catalogue: %w", err)
	}
	return LoadFrom(data)
}

// LoadFrom reads a catalogue from a folder with instruments.csv, names.csv,
// ranges.csv and aliases.csv. An error names file, line and column.
func LoadFrom(files fs.FS) (*Catalogue, error) {
	c := &Catalogue{byID: map[string]*Instrument{}, byKind: map[string][]*Instrument{}}
	for _, read := range []func(fs.FS) error{
		c.readInstruments, c.readNames, c.readRanges, c.readWords, c.readAliases,
	} {
		if err := read(files); err != nil {
			return nil, err
		}
	}
	return c, nil
}

func (c *Catalogue) readInstruments(files fs.FS) error {
	t, err := readTable(files, "instruments.csv", instrumentColumns...)
	if err != nil {
		return err
	}
	for _, r := range t.rows {
		i, err := readInstrument(r)
		if err != nil {
			return err
		}
		if c.byID[i.ID] != nil {
			return r.errorf("id", "%q stands twice", i.ID)
		}
		c.all = append(c.all, i)
		c.byID[i.ID] = i
		c.byKind[i.Kind] = append(c.byKind[i.Kind], i)
	}
	return c.checkUsual(t)
}

// checkUsual makes sure that a name without key has one answer.
func (c *Catalogue) checkUsual(t *table) error {
	for _, r := range t.rows {
		kind := r.text("kind")
		count := 0
		for _, i := range c.byKind[kind] {
			if i.Flags.Usual {
				count++
			}
		}
		if count != 1 {
			return r.errorf("flags", "kind %q has %d usual instruments; it must have one", kind, count)
		}
	}
	return nil
}

func readInstrument(r row) (*Instrument, error) {
	i := &Instrument{
		ID: r.text("id"), Kind: r.text("kind"), Variant: r.text("variant"), Family: r.text("family"),
		Key: r.text("key"), Sounds: r.list("sounds"), TubeKeys: r.list("tube_keys"),
		Note: r.text("note"), Source: r.text("source"), names: map[string]Name{},
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
	if i.Group, err = r.word("group", groups...); err != nil {
		return err
	}
	if i.Register, err = r.word("register", "", "alto", "basso"); err != nil {
		return err
	}
	if i.Confidence, err = r.word("confidence", "published", "mixed", "memory", "derived"); err != nil {
		return err
	}
	for _, key := range append([]string{i.Key}, i.TubeKeys...) {
		if _, err := ParseNote(key + "4"); key != "" && err != nil {
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
	oneLine, err := r.word("one_line", "yes", "no")
	if err != nil {
		return err
	}
	i.OneLine = oneLine == "yes"
	places := map[string]*bool{
		"usual": &i.Flags.Usual, "plain-key": &i.Flags.PlainKey, "says-key": &i.Flags.SaysKey, "says-octave": &i.Flags.SaysOctave,
		"rare": &i.Flags.Rare, "unpitched": &i.Flags.Unpitched, "breath": &i.Flags.Breath,
		"bowed": &i.Flags.Bowed, "plucked": &i.Flags.Plucked, "fretted": &i.Flags.Fretted,
		"keyboard": &i.Flags.Keyboard, "mallets": &i.Flags.Mallets, "voice": &i.Flags.Voice,
	}
	for _, flag := range r.list("flags") {
		if places[flag] == nil {
			return r.errorf("flags", "%q is no flag", flag)
		}
		*places[flag] = true
	}
	return nil
}

func (c *Catalogue) readNames(files fs.FS) error {
	t, err := readTable(files, "names.csv", nameColumns...)
	if err != nil {
		return err
	}
	for _, r := range t.rows {
		language, err := r.word("language", languages...)
		if err != nil {
			return err
		}
		name := Name{Singular: r.text("name"), Plural: r.text("plural"), Abbreviation: r.text("abbreviation")}
		if name.Singular == "" || name.Abbreviation == "" {
			return r.errorf("name", "name or abbreviation is empty")
		}
		members := c.byKind[r.text("kind")]
		if len(members) == 0 {
			return r.errorf("kind", "%q is no kind of instrument", r.text("kind"))
		}
		if _, twice := members[0].names[language]; twice {
			return r.errorf("language", "%q has two rows for %s", r.text("kind"), language)
		}
		for _, i := range members {
			i.names[language] = name
		}
	}
	for _, i := range c.all {
		if len(i.names) != len(languages) {
			return fmt.Errorf("catalogue: names.csv: kind %q has no name in every language", i.Kind)
		}
	}
	return nil
}

func (c *Catalogue) readRanges(files fs.FS) error {
	t, err := readTable(files, "ranges.csv", rangeColumns...)
	if err != nil {
		return err
	}
	for _, r := range t.rows {
		i := c.byID[r.text("id")]
		if i == nil {
			return r.errorf("id", "%q is no instrument", r.text("id"))
		}
		compass, err := readRange(r, i)
		if err != nil {
			return err
		}
		i.ranges = append(i.ranges, compass)
	}
	return nil
}

func readRange(r row, i *Instrument) (Range, error) {
	level, err := r.word("level", Professional, School)
	if err != nil {
		return Range{}, err
	}
	confidence, err := r.word("confidence", "published", "mixed", "memory", "derived")
	if err != nil {
		return Range{}, err
	}
	pitch, err := r.word("pitch", "written", "sounding")
	if err != nil {
		return Range{}, err
	}
	compass, err := readCompass(r)
	if err != nil {
		return Range{}, err
	}
	rng := Range{Level: level, Grade: r.text("grade"), Written: compass, Sounding: compass,
		Source: r.text("source"), Confidence: confidence, Note: r.text("note")}
	diatonic, chromatic := i.Interval()
	if pitch == "written" {
		rng.Sounding = compass.moved(diatonic, chromatic)
	} else {
		rng.Written = compass.moved(-diatonic, -chromatic)
	}
	return rng, nil
}

func readCompass(r row) (Compass, error) {
	var c Compass
	var err error
	for _, cell := range []struct {
		column string
		note   *Note
	}{{"low", &c.Low}, {"high", &c.High}, {"comfortable_low", &c.ComfortableLow}, {"comfortable_high", &c.ComfortableHigh}} {
		if *cell.note, err = r.note(cell.column); err != nil {
			return c, err
		}
	}
	rising := []int{c.Low.MIDI(), c.ComfortableLow.MIDI(), c.ComfortableHigh.MIDI(), c.High.MIDI()}
	if !slices.IsSorted(rising) {
		return c, r.errorf("low", "low, comfortable low, comfortable high, high do not rise")
	}
	return c, nil
}
