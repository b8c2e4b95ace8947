package transpose_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/transpose"
)

// composer makes random parts in shorthand: keys and transpositions that change,
// per staff too, chords, grace notes, voices, hidden notes, ties within and over
// the bar, signs that are needed, not needed, missing, or marked.
type composer struct {
	*rand.Rand
	staves int
	keyed  bool     // a key stands at the start
	plain  bool     // no double signs and microtones, which may have no sign elsewhere
	held   []string // pitches tied into the next chord of voice 1
	bar    []string
}

func (c *composer) chance(percent int) bool { return c.IntN(100) < percent }

func (c *composer) pick(from ...string) string { return from[c.IntN(len(from))] }

// part writes a part of a few bars.
func (c *composer) part() string {
	c.staves = 1 + c.IntN(2)
	var bars []string
	for i := range 2 + c.IntN(4) {
		c.bar = nil
		if i == 0 && c.keyed {
			c.bar = append(c.bar, fmt.Sprintf("key:%d", c.IntN(15)-7))
		}
		if i == 0 || c.chance(40) {
			c.attributes("")
		}
		c.voice(1, "")
		if c.chance(40) {
			c.bar = append(c.bar, "back:4")
			c.voice(2, "")
		}
		if c.staves == 2 {
			c.bar = append(c.bar, "back:4")
			if c.chance(20) {
				c.attributes("2")
			}
			c.voice(3, "s2:")
		}
		bars = append(bars, strings.Join(c.bar, " "))
	}
	return strings.Join(bars, " | ")
}

// attributes changes key or transposition, of all staves or of one. One staff
// alone always says its key: a <key> that the move makes for it may stay behind
// as a repetition where grace notes of another staff come first.
func (c *composer) attributes(staff string) {
	if staff != "" || c.chance(80) {
		c.bar = append(c.bar, fmt.Sprintf("key%s:%d", staff, c.IntN(15)-7))
	}
	if staff == "" && !c.plain && c.chance(10) { // behind the key, before the transposition: each then has its own signature
		c.bar = append(c.bar, "g:v1:"+c.pitch()+c.sign())
	}
	if c.chance(40) {
		c.bar = append(c.bar, "tr"+staff+":"+c.pick("0,0", "-1,-2", "-2,-3", "-5,-9", "2,3", "-4,-7", "-1,-2,-1", "0,0,1", "-1,-3", "-2,-2", "1,0"))
	}
}

// voice writes four quarters; voice 1 may hold notes over the barline.
func (c *composer) voice(voice int, staff string) {
	var held []string
	if voice == 1 {
		held = c.held
	}
	flags := staff + fmt.Sprintf("v%d:", voice)
	for beat := range 4 {
		if voice == 1 && beat > 0 && c.chance(5) {
			c.attributes("")
		}
		if len(held) == 0 && c.chance(10) {
			c.bar = append(c.bar, "g:"+flags+c.pitch()+c.sign())
		}
		if len(held) == 0 && c.chance(10) {
			c.bar = append(c.bar, flags+"R")
			continue
		}
		last := beat == 3 && voice != 1
		held = c.chord(flags, held, !last)
	}
	if voice == 1 {
		c.held = held
	}
}

// chord writes a quarter of one to three notes and returns those that are tied on.
func (c *composer) chord(flags string, held []string, mayHold bool) []string {
	pitches := append([]string{}, held...)
	for len(pitches) == 0 || c.chance(20) {
		pitches = append(pitches, c.pitch())
	}
	var on []string
	seen := map[string]bool{}
	for i, p := range pitches {
		if seen[p] {
			continue
		}
		seen[p] = true
		word := flags
		if i > 0 {
			word += "&"
		} else if c.chance(4) {
			word = "h:" + word
		}
		if i < len(held) {
			word += "~"
		}
		word += p + c.sign()
		if mayHold && c.chance(25) {
			word += "~"
			on = append(on, p)
		}
		c.bar = append(c.bar, word)
	}
	return on
}

// pitch is mostly a plain letter or one sign away, seldom a double or a microtone.
func (c *composer) pitch() string {
	sign := c.pick("", "", "", "", "#", "b", "#", "b", "##", "bb", "(0.5)", "(-1.5)")
	if c.plain && len(sign) > 1 {
		sign = ""
	}
	return c.pick("C", "D", "E", "F", "G", "A", "B") + sign + c.pick("3", "4", "4", "5")
}

// sign is a printed sign that contradicts its note in most cases: the parts are
// put right by toPage where that matters.
func (c *composer) sign() string {
	if c.chance(88) {
		return ""
	}
	return c.pick("+sharp", "+natural", "+flat", "+natural(cautionary)", "+natural-flat", "+sharp-up", "+sori", "+sharp-sharp")
}

const randomParts = 600

// Any page, however faulty, comes back as it was.
func TestThereAndBackOnRandomParts(t *testing.T) {
	t.Parallel()
	for seed := range uint64(randomParts) {
		c := &composer{Rand: rand.New(rand.NewPCG(seed, 1))}
		part := c.part()
		e := partOf(t, part)
		own := stretchesOf(t, e)
		to := transpose.Transposition{Diatonic: c.IntN(15) - 7}
		to.Chromatic = []int{0, 2, 4, 5, 7, 9, 11}[(to.Diatonic+7)%7] - 12*((13-to.Diatonic)/7-1) - c.IntN(2)
		o := transpose.Options{Stretches: []transpose.Stretch{{To: to}}, MaxSignature: 5 + c.IntN(3), AsPrinted: true}
		if c.chance(30) {
			o.Stretches = append(o.Stretches, transpose.Stretch{Measure: 1, Staff: 1, To: transpose.Transposition{Diatonic: -1, Chromatic: -2}})
		}
		if _, err := transpose.Move(timelineOf(t, e), o); err != nil {
			t.Fatalf("seed %d: %s: %v", seed, part, err)
		}
		there := inShorthand(t, e)
		move(t, e, transpose.Options{Stretches: own, AsPrinted: true})
		assertSamePage(t, partOf(t, part), e, fmt.Sprintf("seed %d, to %s:\n%s\n%s", seed, to.Interval(), part, there))
		if t.Failed() {
			return
		}
	}
}

// On a page that a player can read, a move by one interval adds no sign and
// takes none away: what is needed stays needed.
func TestReadablePagesKeepTheirSigns(t *testing.T) {
	t.Parallel()
	for seed := range uint64(randomParts) {
		c := &composer{Rand: rand.New(rand.NewPCG(seed, 2)), keyed: true, plain: true}
		e := partOf(t, c.part())
		move(t, e, transpose.Options{Stretches: stretchesOf(t, e)}) // puts the signs right
		source := inShorthand(t, e)
		own := stretchesOf(t, e)
		for i := range own {
			own[i].To = transpose.Transposition{Diatonic: own[i].To.Diatonic - 2, Chromatic: own[i].To.Chromatic - 3, OctaveChange: own[i].To.OctaveChange}
		}
		move(t, e, transpose.Options{Stretches: own})
		moved := inShorthand(t, e)
		require.Equal(t, signPlaces(source), signPlaces(moved), "seed %d:\n%s\n%s", seed, source, moved)
	}
}

// signPlaces says of each note whether it has a sign.
func signPlaces(part string) string {
	var places strings.Builder
	for _, word := range strings.Fields(part) {
		switch {
		case strings.Contains(word, "+"):
			places.WriteByte('+')
		case word == "|" || word == "R":
			places.WriteString(word)
		case !strings.Contains(word, ":"):
			places.WriteByte('.')
		}
	}
	return places.String()
}

func TestComposerWritesEverything(t *testing.T) {
	t.Parallel()
	var all strings.Builder
	for seed := range uint64(200) {
		all.WriteString((&composer{Rand: rand.New(rand.NewPCG(seed, 1))}).part())
		all.WriteByte('\n')
	}
	for _, feature := range []string{"key:", "key2:", "tr:", "tr2:", "g:", "h:", "v2:", "s2:", "&", "~", "+", "(cautionary)", "bb", "##", "(0.5)", "back:4"} {
		assert.Contains(t, all.String(), feature)
	}
}
