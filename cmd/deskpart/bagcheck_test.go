package main

import (
	"bytes"
	"crypto/sha256"
	"crypto/sha512"
	"encoding/hex"
	"fmt"
	"hash"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// bagFaults says what is wrong with a bag, by RFC 8493 alone: it shares no code with
// what makes bags.
func bagFaults(root string) []string {
	var faults []string
	fault := func(format string, args ...any) { faults = append(faults, fmt.Sprintf(format, args...)) }
	read := func(name string) string {
		data, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(name)))
		if err != nil {
			fault("%s cannot be read: %v", name, err)
		}
		return string(data)
	}
	// 2.1.1: exactly these two lines, in UTF-8 without a byte order mark.
	if declared := strings.ReplaceAll(read("bagit.txt"), "\r\n", "\n"); strings.TrimSuffix(declared, "\n") != "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8" {
		fault("bagit.txt says %q", declared)
	}
	var payload, tags []string
	octets := 0
	_ = filepath.WalkDir(root, func(at string, entry fs.DirEntry, err error) error {
		if err != nil {
			fault("%v", err)
			return nil
		}
		if entry.IsDir() {
			return nil
		}
		rel, _ := filepath.Rel(root, at)
		rel = filepath.ToSlash(rel)
		if strings.HasPrefix(rel, "data/") {
			info, err := entry.Info()
			if err != nil {
				fault("%v", err)
				return nil
			}
			octets += int(info.Size())
			payload = append(payload, rel)
		} else {
			tags = append(tags, rel)
		}
		return nil
	})
	// 2.1.3 and 2.2.1: manifests of payload and of tag files.
	manifest := regexp.MustCompile(`^(tag)?manifest-(sha256|sha512)\.txt$`)
	payloadManifests := 0
	for _, tag := range tags {
		kind := manifest.FindStringSubmatch(tag)
		if kind == nil {
			continue
		}
		listed := listedInBag(read(tag), fault, tag)
		var names []string
		for name, sum := range listed {
			names = append(names, name)
			data := read(name)
			var h hash.Hash = sha256.New()
			if kind[2] == "sha512" {
				h = sha512.New()
			}
			h.Write([]byte(data))
			if got := hex.EncodeToString(h.Sum(nil)); !strings.EqualFold(got, sum) {
				fault("%s: the sum of %s is %s", tag, name, got)
			}
			if inData := strings.HasPrefix(name, "data/"); inData == (kind[1] == "tag") || strings.HasPrefix(name, "tagmanifest-") {
				fault("%s lists %s", tag, name)
			}
		}
		slices.Sort(names)
		if kind[1] == "" {
			payloadManifests++
			if !slices.Equal(names, payload) {
				fault("%s lists %d files of %d", tag, len(names), len(payload))
			}
		}
	}
	if payloadManifests == 0 {
		fault("there is no payload manifest")
	}
	// 2.2.2: Payload-Oxum is octets and files of the payload.
	if slices.Contains(tags, "bag-info.txt") {
		for line := range strings.Lines(read("bag-info.txt")) {
			if value, ok := strings.CutPrefix(strings.TrimSpace(line), "Payload-Oxum:"); ok && strings.TrimSpace(value) != fmt.Sprintf("%d.%d", octets, len(payload)) {
				fault("Payload-Oxum is %s, not %d.%d", value, octets, len(payload))
			}
		}
	}
	return faults
}

// listedInBag reads the lines of a manifest: a sum, blanks, and a path with line ends and
// per cent signs encoded (2.1.3).
func listedInBag(text string, fault func(string, ...any), name string) map[string]string {
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

// The checker finds what is wrong.
func TestBagFaults(t *testing.T) {
	sound := map[string]string{
		"bagit.txt":  "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n",
		"data/a b%c": "x",
		// printf x | sha256sum
		"manifest-sha256.txt": "2d711642b726b04401627ca9fbac32f5c8530fb1903cc4db02258717921a4881  data/a b%25c\n",
		"bag-info.txt":        "Payload-Oxum: 1.1\n",
	}
	for _, c := range []struct{ name, file, text, want string }{
		{"sound", "bag-info.txt", sound["bag-info.txt"], ""},
		{"another version", "bagit.txt", "BagIt-Version: 2.0\n", "bagit.txt says"},
		{"a file that is not listed", "data/b", "y", "lists 1 files of 2"},
		{"another text", "data/a b%c", "y", "the sum of data/a b%c is"},
		{"a wrong count", "bag-info.txt", "Payload-Oxum: 1.2\n", "Payload-Oxum"},
		{"a path that leads out", "manifest-sha256.txt", "2d71  ../x\n", "the line"},
		{"a tag file that is not as listed", "tagmanifest-sha256.txt", "00  bagit.txt\n", "the sum of bagit.txt"},
		{"a payload file among the tag files", "tagmanifest-sha256.txt", "2d711642b726b04401627ca9fbac32f5c8530fb1903cc4db02258717921a4881  data/a b%25c\n", "lists data/a b%c"},
	} {
		t.Run(c.name, func(t *testing.T) {
			root := t.TempDir()
			put := func(name, text string) {
				at := filepath.Join(root, name)
				_ = os.MkdirAll(filepath.Dir(at), 0o777)
				assert.NoError(t, os.WriteFile(at, []byte(text), 0o666))
			}
			for name, text := range sound {
				put(name, text)
			}
			put(c.file, c.text)
			var all bytes.Buffer
			for _, f := range bagFaults(root) {
				fmt.Fprintln(&all, f)
			}
			if c.want == "" {
				assert.Empty(t, all.String())
			} else {
				assert.Contains(t, all.String(), c.want)
			}
		})
	}
}
