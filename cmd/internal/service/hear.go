package service

import "deskpart/cmd/internal/fit"

// Tone is a note of a part in time: quarter notes from the start of the piece, and the
// keys of MIDI (60 is middle C) as it is written and as it sounds.
type Tone struct {
	Start    float64 `json:"start"`
	Length   float64 `json:"length"`
	Written  int     `json:"written"`
	Sounding int     `json:"sounding"`
	Measure  string  `json:"measure"`
}

// hear tells the notes of one part, to be played in both pitches.
func (s *Service) hear(c *call, on *seated) (Reply, error) {
	music, err := fit.ReadMusic(on.job, on.request.Part, on.space)
	if err != nil {
		return Reply{}, err
	}
	tones := []Tone{}
	for _, n := range music.Line {
		if n.Duration.Num() > 0 {
			tones = append(tones, Tone{n.Start.Float(), n.Duration.Float(), n.Written.NoteNumber(), n.Sounding.NoteNumber(), n.Measure})
		}
	}
	return Reply{Value: tones}, nil
}
