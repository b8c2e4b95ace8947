package exercise

import (
	"deskpart/cmd/internal/explain"
	"deskpart/transpose/pitch"
)

// event is one tone of a melody: one head, or two that are tied over a barline.
type event struct {
	heads []place
}

// place is a head's bar, and its number among the bar's heads.
type place struct{ bar, head int }

// firstBar and lastBar are those in which the event sounds.
func (e event) firstBar() int { return e.heads[0].bar }
func (e event) lastBar() int  { return e.heads[len(e.heads)-1].bar }

// events lists the tones that a rhythm asks for.
func (r *rhythm) events() []event {
	var list []event
	join := false
	for b, bar := range r.bars {
		for h, n := range bar {
			if n.rest {
				continue
			}
			at := place{b, h}
			if join {
				last := &list[len(list)-1]
				last.heads = append(last.heads, at)
			} else {
				list = append(list, event{heads: []place{at}})
			}
			join = h == len(bar)-1 && r.tied[b]
		}
	}
	return list
}

// tune writes a melody down. The tonic at step 0 has the given octave; lower is
// the second part, nil for none.
func (r *rhythm) tune(tones, lower []tone, s scale, octave int) explain.Tune {
	t := explain.Tune{Key: &s.Key, Beats: r.metre.beats, BeatType: r.metre.beatType}
	for b, bar := range r.bars {
		written := explain.Bar{Upbeat: r.upbeat && b == 0}
		for _, n := range bar {
			written.Notes = append(written.Notes, n.head())
		}
		markTriplets(written.Notes)
		t.Bars = append(t.Bars, written)
	}
	for i, e := range r.events() {
		pitches := []pitch.Pitch{s.pitch(tones[i], octave)}
		if lower != nil && lower[i] != tones[i] {
			pitches = append([]pitch.Pitch{s.pitch(lower[i], octave)}, pitches...)
		}
		for k, at := range e.heads {
			n := &t.Bars[at.bar].Notes[at.head]
			n.Pitches = pitches
			n.TieStop, n.TieStart = k > 0, k < len(e.heads)-1
		}
	}
	return t
}

// markTriplets puts the ends of each group of three.
func markTriplets(notes []explain.Note) {
	run := 0
	for i := range notes {
		if notes[i].Ratio.Actual == 0 {
			run = 0
			continue
		}
		notes[i].TupletStart, notes[i].TupletStop = run%3 == 0, run%3 == 2
		run++
	}
}

// leaps counts the thirds and larger moves of a melody.
func leaps(tones []tone) int { return count(tones, isLeap) }

// repeats counts the moves that stay.
func repeats(tones []tone) int { return count(tones, func(a, b tone) bool { return a == b }) }

func count(tones []tone, is func(a, b tone) bool) (n int) {
	for i := 1; i < len(tones); i++ {
		if is(tones[i-1], tones[i]) {
			n++
		}
	}
	return n
}
