package lecture

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/texts"
	"deskpart/instruments"
	"deskpart/transpose/pitch"
)

// players are the band, or a usual one.
func (m *maker) players() []*instruments.Instrument {
	if len(m.Band) > 0 {
		return m.Band
	}
	return exercise.WontedBand(m.catalogue)
}

// reads is the key that a player reads for a concert key.
func reads(i *instruments.Instrument, k pitch.Key) pitch.Key {
	k.Fifths = i.WrittenFifths(k.Fifths)
	return k
}

// tonic is a key's first note, without an octave that means anything.
func tonic(k pitch.Key) pitch.Pitch { return noteOf(k.Fifths, k.TonicStep()) }

// concertScale says how a band plays one scale.
func (m *maker) concertScale() error {
	t := m.t
	key := pitch.Key{Fifths: -2, Mode: pitch.Major}
	if m.Key != nil {
		key = *m.Key
	}
	solutions, err := exercise.Scales(m.players(), key)
	if err != nil {
		return err
	}
	fill := texts.Fill{"key": t.Key(key), "note": t.Note(tonic(key))}
	scale := m.step("scale", t.Say("lecture.scale", fill), t.Say("lecture.scale-text", fill))
	scale.Table = &Table{Head: []string{t.Say("lecture.column-name", nil), t.Say("lecture.column-moves", nil), t.Say("lecture.column-reads", nil), t.Say("lecture.column-signature", nil)}}
	for _, i := range m.players() {
		row := []string{t.InstrumentTitle(i), "–", t.Key(reads(i, key)), t.Signature(reads(i, key).Fifths)}
		if by := i.Interval().Negate(); by != (pitch.Interval{}) {
			row[1] = t.Moved(by)
		}
		scale.Table.Rows = append(scale.Table.Rows, row)
	}
	check := m.step("check", t.Say("lecture.scale-check", nil), t.Say("lecture.scale-major", nil))
	if key.Mode == pitch.Minor {
		check.Text = []string{t.Say("lecture.scale-minor", nil)}
	}
	check.Text = append(check.Text, t.Say("lecture.scale-same", nil))
	return m.drawPlayers(check, solutions)
}

// group are players who read the same signatures.
type group struct {
	names  []string
	player *instruments.Instrument
}

// groups gathers the players who read alike, those with the most flats first.
func (m *maker) groups() []*group {
	var list []*group
	for _, i := range m.players() {
		at := slices.IndexFunc(list, func(g *group) bool { return g.player.Interval().Fifths() == i.Interval().Fifths() })
		if at < 0 {
			list = append(list, &group{player: i})
			at = len(list) - 1
		}
		list[at].names = append(list[at].names, m.t.InstrumentTitle(i))
	}
	slices.SortStableFunc(list, func(a, b *group) int { return b.player.Interval().Fifths() - a.player.Interval().Fifths() })
	return list
}

// The concert keys that are weighed, in fifths.
const fromFlats, toSharps = -6, 5

// bandKey says which concert key suits a band.
func (m *maker) bandKey() error {
	t := m.t
	other := m.step("other", t.Say("lecture.other-keys", nil), t.Say("lecture.other-keys-text", nil))
	other.Table = &Table{Head: []string{t.Say("lecture.column-players", nil), t.Say("lecture.column-against", nil)}}
	for _, g := range m.groups() {
		other.Table.Rows = append(other.Table.Rows, []string{strings.Join(g.names, ", "), m.against(-g.player.Interval().Fifths())})
	}
	weighed := m.step("weighed", t.Say("lecture.weighed", nil), t.Say("lecture.weighed-text", nil))
	weighed.Table = m.weighed()
	best := m.bestKeys()
	most := exercise.Burden(m.players(), best[0].Fifths)
	chosen := m.step("best", t.Say("lecture.best", nil), t.Say("lecture.best-text", texts.Fill{"keys": m.oneOf(best), "n": most}), t.Say("lecture.best-flats", nil))
	key := best[(len(best)-1)/2]
	if m.Key != nil {
		key = *m.Key
		chosen.Text = append(chosen.Text, t.Say("lecture.asked-key", texts.Fill{"key": t.Key(key), "n": exercise.Burden(m.players(), key.Fifths)}))
	}
	solutions, err := exercise.KeyNotes(m.players(), key)
	if err != nil {
		return err
	}
	drawn := m.step("drawn", t.Say("lecture.key-drawn", texts.Fill{"key": t.Key(key)}), t.Say("lecture.key-drawn-text", texts.Fill{"note": t.Note(tonic(key))}))
	return m.drawPlayers(drawn, solutions)
}

// oneOf lists keys: "F major, B♭ major or E♭ major".
func (m *maker) oneOf(keys []pitch.Key) string {
	last := len(keys) - 1
	if last == 0 {
		return m.t.Key(keys[0])
	}
	var names []string
	for _, k := range keys[:last] {
		names = append(names, m.t.Key(k))
	}
	return m.t.Either(strings.Join(names, ", "), m.t.Key(keys[last]))
}

// against says how a player's signature differs from the concert one.
func (m *maker) against(fifths int) string {
	switch {
	case fifths > 0:
		return m.t.Say("lecture.sharps-more", texts.Fill{"n": fifths})
	case fifths < 0:
		return m.t.Say("lecture.flats-more", texts.Fill{"n": -fifths})
	}
	return m.t.Say("lecture.the-same", nil)
}

// weighed lays out what each player reads for every concert key.
func (m *maker) weighed() *Table {
	table := &Table{Head: []string{m.t.Say("lecture.column-concert", nil)}}
	groups := m.groups()
	for _, g := range groups {
		table.Head = append(table.Head, strings.Join(g.names, ", "))
	}
	table.Head = append(table.Head, m.t.Say("lecture.column-most", nil))
	for fifths := fromFlats; fifths <= toSharps; fifths++ {
		row := []string{m.t.Major(fifths)}
		for _, g := range groups {
			row = append(row, short(g.player.WrittenFifths(fifths)))
		}
		table.Rows = append(table.Rows, append(row, strconv.Itoa(exercise.Burden(m.players(), fifths))))
	}
	return table
}

// short writes a signature as its number and sign.
func short(fifths int) string {
	switch {
	case fifths > 0:
		return fmt.Sprintf("%d♯", fifths)
	case fifths < 0:
		return fmt.Sprintf("%d♭", -fifths)
	}
	return "0"
}

// bestKeys are the concert keys in which the player with the most sharps or flats has
// the fewest.
func (m *maker) bestKeys() []pitch.Key {
	var best []pitch.Key
	least := -1
	for fifths := fromFlats; fifths <= toSharps; fifths++ {
		switch n := exercise.Burden(m.players(), fifths); {
		case least < 0 || n < least:
			best, least = nil, n
			fallthrough
		case n == least:
			best = append(best, pitch.Key{Fifths: fifths, Mode: pitch.Major})
		}
	}
	return best
}
