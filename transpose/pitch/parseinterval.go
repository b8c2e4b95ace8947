package pitch

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

var errInterval = errors.New(`not an interval such as "minor third down", "octave up" or "M2 down"`)

// mostOctaves and mostTimes bound what is taken for an interval at all; no
// instrument comes near them.
const (
	mostOctaves = 20
	mostTimes   = 20
)

// ParseInterval reads an interval as [Interval.String] writes it ("minor third
// down", "two octaves and a major second up", "perfect unison"), or in short: P, M,
// m, A or d and the size ("M2 down", "A4 up", "dd7 up"). All but the unison that
// moves nothing ends in "up" or "down".
func ParseInterval(text string) (Interval, error) {
	fields := strings.Fields(text)
	way := ""
	if n := len(fields) - 1; n > 0 && (strings.EqualFold(fields[n], "up") || strings.EqualFold(fields[n], "down")) {
		way, fields = strings.ToLower(fields[n]), fields[:n]
	}
	i, ok := parseSize(fields)
	switch {
	case !ok || way == "" && i != Interval{}:
		return Interval{}, fmt.Errorf("%q: %w", text, errInterval)
	case way == "down":
		return i.Negate(), nil
	}
	return i, nil
}

// parseSize reads an upward interval without its direction.
func parseSize(fields []string) (Interval, bool) {
	if len(fields) == 1 {
		if i, ok := parseShort(fields[0]); ok {
			return i, true
		}
	}
	for i, f := range fields {
		fields[i] = strings.ToLower(f)
	}
	octaves, rest := parseOctaves(fields)
	switch {
	case octaves > 0 && len(rest) == 0:
		return Octaves(octaves), true
	case octaves > 0 && (len(rest) < 3 || rest[0] != "and" || rest[1] != "a" && rest[1] != "an"):
		return Interval{}, false
	case octaves > 0:
		rest = rest[2:]
	}
	i, ok := parseSingle(rest)
	// A unison is not diminished (it would be augmented the other way), octaves may be.
	return i.Add(Octaves(octaves)), ok && (octaves > 0 || i.Diatonic > 0 || i.Chromatic >= 0)
}

// parseOctaves reads "two octaves" in front; 0 where they do not stand there.
func parseOctaves(fields []string) (octaves int, rest []string) {
	if len(fields) < 2 || fields[1] != english()["octaves"] {
		return 0, fields
	}
	for n := 2; n <= mostOctaves; n++ {
		if fields[0] == english().count(n) {
			return n, fields[2:]
		}
	}
	return 0, fields
}

// parseSingle reads a quality and the name of a size: "doubly augmented fourth".
func parseSingle(fields []string) (Interval, bool) {
	if len(fields) == 0 {
		return Interval{}, false
	}
	size, quality := fields[len(fields)-1], strings.Join(fields[:len(fields)-1], " ")
	for steps := 0; steps <= largestNamed; steps++ {
		if size != english()[strconv.Itoa(steps)] {
			continue
		}
		if quality == "" && isPerfect(steps) {
			return Interval{steps, natural(steps)}, true
		}
		return withQuality(steps, func(off int) bool { return quality == english().quality(steps, off) })
	}
	return Interval{}, false
}

// parseShort reads "M2", "P5", "dd7".
func parseShort(text string) (Interval, bool) {
	letters := strings.TrimRight(text, "0123456789")
	size, _ := strconv.Atoi(text[len(letters):]) // 0 where there is none
	if size < 1 || size > 7*mostOctaves {
		return Interval{}, false
	}
	i, ok := withQuality(size-1, func(off int) bool { return letters == short(size-1, off) })
	return i, ok && (size > 1 || i.Chromatic >= 0)
}

// short is the letters of a quality.
func short(steps, off int) string {
	switch {
	case off > 0:
		return strings.Repeat("A", off)
	case off == 0 && isPerfect(steps):
		return "P"
	case off == 0:
		return "M"
	case isPerfect(steps):
		return strings.Repeat("d", -off)
	case off == -1:
		return "m"
	}
	return strings.Repeat("d", -off-1)
}

// withQuality finds the interval of that size with the quality that is meant.
func withQuality(steps int, meant func(off int) bool) (Interval, bool) {
	for off := -mostTimes - 1; off <= mostTimes; off++ {
		if meant(off) {
			return Interval{steps, natural(steps) + off}, true
		}
	}
	return Interval{}, false
}
