package files

import (
	"cmp"
	"fmt"
	"path"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"

	"deskpart/cmd/internal/report"
	"deskpart/musicxml"
)

// maxName is the longest file name in bytes. Common systems allow 255 bytes or
// 255 UTF-16 units; encrypted folders on Linux allow 143 bytes.
const maxName = 120

// nameless stands where nothing of a name is left.
const nameless = "unnamed"

// NameStyle is how the names of output files are written.
type NameStyle struct {
	// ASCII restricts names to letters, digits, and "-", "_", ".", "(" and ")"
	// of ASCII: no spaces, and umlauts and accents in their plain spelling.
	// Default false.
	ASCII bool
}

// Safe turns any text into the name of a file (extension and all) that Windows,
// macOS and Linux, and the file systems of sticks and servers take, and that
// cannot lead out of its folder: Unicode form C, no control or invisible
// characters, none of <>:"/\|?*, no dot or space at the ends, none of the names
// that Windows keeps for devices, and at most 120 bytes.
func (s NameStyle) Safe(text string) string {
	return s.safe(text, 0)
}

// safe is Safe with room bytes left for more.
func (s NameStyle) safe(text string, room int) string {
	text = norm.NFC.String(strings.ToValidUTF8(text, "_"))
	if s.ASCII {
		text = plainASCII(text)
	}
	text = norm.NFC.String(strings.Map(safeRune, text)) // again: what went may have kept accents apart
	if s.ASCII {
		text = joinWords(text)
	}
	return cmp.Or(s.shorten(freeOfDevices(s.trim(text)), maxName-room), nameless)
}

// safeRune replaces what some system does not allow in a file name: by "-" what
// separates, by "_" what stands for something, and quotation marks by
// apostrophes. Invisible characters go, being a way to make two names look alike.
func safeRune(r rune) rune {
	switch r {
	case '/', '\\', ':', '|':
		return '-'
	case '<', '>', '?', '*':
		return '_'
	case '"':
		return '\''
	}
	switch {
	case r == '\t' || r == '\n' || r == '\r' || unicode.Is(unicode.Z, r):
		return ' '
	case unicode.In(r, unicode.Cc, unicode.Cf):
		return -1
	}
	return r
}

// trim takes off what may not stand at the ends: Windows drops dots and
// spaces at the end of a name, and a dot at its start hides a file.
func (s NameStyle) trim(text string) string {
	ends := " ."
	if s.ASCII {
		ends = "._"
	}
	return strings.Trim(text, ends)
}

// shorten cuts text to at most limit bytes in its middle, so that its end, which
// often tells it from others, stays; never within a character or between a letter and
// its accent.
func (s NameStyle) shorten(text string, limit int) string {
	if len(text) <= limit {
		return text
	}
	gap := "…"
	if s.ASCII {
		gap = "..."
	}
	tail := len(text) - (limit-len(gap))/3
	for tail < len(text) && !startsCharacter(text[tail:]) {
		tail++
	}
	head := limit - len(gap) - (len(text) - tail)
	for head > 0 && !startsCharacter(text[head:]) {
		head--
	}
	return s.trim(text[:head] + gap + text[tail:])
}

func startsCharacter(text string) bool {
	r, _ := utf8.DecodeRuneInString(text)
	return utf8.RuneStart(text[0]) && !unicode.Is(unicode.M, r)
}

// devices matches the names that Windows keeps for devices, with any extension
// ("Naming Files, Paths, and Namespaces" in its documentation).
var devices = regexp.MustCompile(`(?i)^(CON|PRN|AUX|NUL|CONIN\$|CONOUT\$|(COM|LPT)[0-9¹²³]) *(\.|$)`)

// freeOfDevices adds "_" to a device's name, in front of what may be an extension.
func freeOfDevices(name string) string {
	if !devices.MatchString(name) {
		return name
	}
	first, rest, dotted := strings.Cut(name, ".")
	if dotted {
		return first + "_." + rest
	}
	return first + "_"
}

// allowed is an error if Windows is the system and takes a name of the path for a device,
// drops its end, or has none of its characters in names.
func allowed(path string) error {
	if !windowsNames {
		return nil
	}
	if name := refusedByWindows(path[len(filepath.VolumeName(path)):]); name != "" {
		return report.NewOutputError(path, &musicxml.Error{Err: fmt.Errorf("Windows allows no file or folder of the name %q", name), Hint: "choose another"})
	}
	return nil
}

// refusedByWindows is the first name of a path that Windows refuses, or takes for another,
// or "" ("Naming Files, Paths, and Namespaces" in its documentation).
func refusedByWindows(path string) string {
	for name := range strings.FieldsFuncSeq(path, func(r rune) bool { return r == '/' || r == '\\' }) {
		if name == "." || name == ".." {
			continue
		}
		if devices.MatchString(name) || strings.ContainsAny(name, `<>:"|?*`) || strings.HasSuffix(name, ".") || strings.HasSuffix(name, " ") ||
			strings.ContainsFunc(name, func(r rune) bool { return r < ' ' }) {
			return name
		}
	}
	return ""
}

// SafePath makes every folder and the file name of a path with forward slashes
// safe. The result is relative and stays below the folder it is joined to.
func (s NameStyle) SafePath(text string) string {
	var parts []string
	for part := range strings.SplitSeq(text, "/") {
		if part != "" && part != "." {
			parts = append(parts, s.Safe(part))
		}
	}
	if len(parts) == 0 {
		return nameless
	}
	return path.Join(parts...)
}

// Join joins a path as results name it: with forward slashes on every system, which all
// take, so that what is said of the same files is the same.
func Join(elements ...string) string { return slashed(filepath.Join(elements...)) }

// Names are the names taken in one folder, or the paths below one. Names that
// differ in nothing but capitals or Unicode form are the same: on many systems
// they are the same file. The zero value is ready; it is not for several
// goroutines at once.
type Names struct {
	Style NameStyle
	taken map[string]bool
}

// Unique makes stem+ext safe and returns it if it is free, or else with the
// first free number: "Horn.mxl", "Horn (2).mxl", "Horn (3).mxl", in ASCII
// "Horn_2.mxl". The extension ext is taken as it is.
func (n *Names) Unique(stem, ext string) string {
	return n.unique(ext, func(suffix string) string {
		return n.Style.safe(stem, len(suffix+ext)) + suffix
	})
}

// uniqueScore is Unique for the path of a score, whose folders are made safe too. Names
// that differ in nothing but the extension are the same here.
func (n *Names) uniqueScore(key string) string {
	ext := ScoreExt(key)
	folder, name := path.Split(n.Style.SafePath(strings.TrimSuffix(key, ext)))
	return n.unique("", func(suffix string) string {
		return folder + n.Style.shorten(name, maxName-len(ext)-len(suffix)) + suffix
	}) + ext
}

func (n *Names) unique(ext string, numbered func(suffix string) string) string {
	if n.taken == nil {
		n.taken = map[string]bool{}
	}
	for number, suffix := 2, ""; ; number++ {
		name := numbered(suffix) + ext
		if key := foldName(name); !n.taken[key] {
			n.taken[key] = true
			return name
		}
		suffix = n.Style.suffix(number)
	}
}

func (s NameStyle) suffix(number int) string {
	if s.ASCII {
		return "_" + strconv.Itoa(number)
	}
	return " (" + strconv.Itoa(number) + ")"
}

// foldName gives names that some system takes for one the same key (caseless
// matching, The Unicode Standard, section 3.13, D145).
func foldName(name string) string {
	return norm.NFC.String(cases.Fold().String(norm.NFD.String(name)))
}
