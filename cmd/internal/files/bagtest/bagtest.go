// Package bagtest reads BagIt bags by RFC 8493 alone; it shares no code with what makes
// them. Only tests import it.
package bagtest

import (
	"crypto/sha256"
	"crypto/sha512"
	"fmt"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"deskpart/musicxml/musicxmltest"
)

// sums are those that a manifest may have, by its name.
var sums = map[string]func(data string) string{
	"sha256": func(data string) string { return fmt.Sprintf("%x", sha256.Sum256([]byte(data))) },
	"sha512": func(data string) string { return fmt.Sprintf("%x", sha512.Sum512([]byte(data))) },
}

var manifest = regexp.MustCompile(`^(tag)?manifest-(sha256|sha512)\.txt$`)

// Faults says what is wrong with a bag.
func Faults(t testing.TB, dir string) (faults []string) {
	t.Helper()
	fault := func(format string, args ...any) { faults = append(faults, fmt.Sprintf(format, args...)) }
	files := musicxmltest.Contents(t, dir)
	// 2.1.1: exactly these two lines, in UTF-8 without a byte order mark.
	if declared := strings.ReplaceAll(files["bagit.txt"], "\r\n", "\n"); strings.TrimSuffix(declared, "\n") != "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8" {
		fault("bagit.txt says %q", declared)
	}
	var payload, tags []string
	octets := 0
	for _, name := range slices.Sorted(maps.Keys(files)) {
		if strings.HasPrefix(name, "data/") {
			payload = append(payload, name)
			octets += len(files[name])
		} else {
			tags = append(tags, name)
		}
	}
	// 2.1.3 and 2.2.1: manifests of payload and of tag files.
	whole := false
	for _, tag := range tags {
		kind := manifest.FindStringSubmatch(tag)
		if kind == nil {
			continue
		}
		listed := listedIn(files[tag], fault, tag)
		for name, sum := range listed {
			if got := sums[kind[2]](files[name]); !strings.EqualFold(got, sum) {
				fault("%s: the sum of %s is %s", tag, name, got)
			}
			if _, there := files[name]; !there || strings.HasPrefix(name, "data/") == (kind[1] == "tag") || strings.HasPrefix(name, "tagmanifest-") {
				fault("%s lists %s", tag, name)
			}
		}
		if kind[1] == "" {
			whole = true
			if names := slices.Sorted(maps.Keys(listed)); !slices.Equal(names, payload) {
				fault("%s lists %d files of %d", tag, len(names), len(payload))
			}
		}
	}
	if !whole {
		fault("there is no payload manifest")
	}
	// 2.2.2: Payload-Oxum is octets and files of the payload.
	for line := range strings.Lines(files["bag-info.txt"]) {
		if value, ok := strings.CutPrefix(strings.TrimSpace(line), "Payload-Oxum:"); ok && strings.TrimSpace(value) != fmt.Sprintf("%d.%d", octets, len(payload)) {
			fault("Payload-Oxum is %s, not %d.%d", value, octets, len(payload))
		}
	}
	return faults
}

// listedIn reads the lines of a manifest: a sum, blanks, and a path with line ends and
// per cent signs encoded (2.1.3).
func listedIn(text string, fault func(string, ...any), name string) map[string]string {
	listed := map[string]string{}
	for line := range strings.Lines(text) {
		sum, file, ok := strings.Cut(strings.TrimRight(line, "\r\n"), " ")
		file = strings.TrimLeft(file, " \t")
		file = strings.NewReplacer("%0A", "\n", "%0a", "\n", "%0D", "\r", "%0d", "\r", "%25", "%").Replace(file)
		if !ok || path.IsAbs(file) || path.Clean(file) != file || strings.HasPrefix(file, "..") {
			fault("%s: the line %q", name, line)
			continue
		}
		if _, twice := listed[file]; twice {
			fault("%s lists %s twice", name, file)
		}
		listed[file] = sum
	}
	return listed
}
