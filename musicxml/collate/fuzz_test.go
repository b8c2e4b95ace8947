package collate_test

import (
	"math/rand/v2"
	"path/filepath"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/collate"
	"deskpart/musicxml/parts"
)

// FuzzCollate holds damaged parts against a score: elements lost, doubled, moved,
// their texts and attributes turned into others. Nothing panics, every difference
// says what and of what kind, and a second look says the same.
func FuzzCollate(f *testing.F) {
	score := readScore(f, filepath.Join("testdata", "tide-tables.musicxml"))
	s := collator(f, score)
	files := extract(f, score, parts.DefaultOptions())
	for i := range files {
		f.Add(byte(i), uint64(i), byte(1))
		f.Add(byte(i), uint64(i), byte(40))
	}
	f.Fuzz(func(t *testing.T, which byte, seed uint64, wounds byte) {
		doc := files[int(which)%len(files)].doc.Copy()
		r := rand.New(rand.NewPCG(seed, seed))
		for range wounds {
			damage(r, doc.FindElement("score-partwise/part"))
		}
		source, err := musicxml.Read(musicxml.Append(nil, doc, musicxml.WriteOptions{}), musicxml.ReadOptions{Name: "part.musicxml"})
		if err != nil {
			return
		}
		first := collated(t, s, source)
		for _, r := range first {
			for _, d := range r.Differences {
				assert.NotEmpty(t, d.Kind)
				assert.NotEmpty(t, d.Text)
			}
		}
		assert.Equal(t, lines(first), lines(collated(t, s, source)))
	})
}

// nonsense are texts that stand where others should.
var nonsense = []string{"", "0", "-1", "1", "7", "1000000000", "-1000000000", "0.5", "x", "yes", "no", "start", "stop", "C", "99999999999999999999"}

// damage does one thing to one element below a part, drawn by lot.
func damage(r *rand.Rand, part *etree.Element) {
	all := part.FindElements(".//*")
	if len(all) == 0 {
		return
	}
	e := all[r.IntN(len(all))]
	switch r.IntN(6) {
	case 0:
		e.Parent().RemoveChild(e)
	case 1:
		e.Parent().InsertChildAt(e.Index(), e.Copy())
	case 2:
		e.SetText(nonsense[r.IntN(len(nonsense))])
	case 3:
		if len(e.Attr) > 0 {
			e.Attr[r.IntN(len(e.Attr))].Value = nonsense[r.IntN(len(nonsense))]
		}
	case 4:
		other := all[r.IntN(len(all))]
		other.Parent().InsertChildAt(other.Index(), e.Copy())
	default:
		e.Tag = all[r.IntN(len(all))].Tag
	}
}

func collated(t *testing.T, s *collate.Score, source *musicxml.Score) []collate.Result {
	t.Helper()
	results, err := s.Collate(read(t, "part.musicxml", source), collate.Options{}, nil)
	require.NoError(t, err)
	return results
}
