package lesson

import (
	"deskpart/cmd/deskpart/internal/webpage"
	"deskpart/transpose"
)

// Page is the frame that lessons share with all pages.
type Page = webpage.Page

// Pretty writes a pitch's name as print has it, without its octave.
func Pretty(p transpose.Pitch) string { return webpage.Pretty(p) }

// PrettyPitch is Pretty with the octave.
func PrettyPitch(p transpose.Pitch) string { return webpage.PrettyPitch(p) }

// PrettyText puts the signs of print into a sentence of an explanation.
func PrettyText(text string) string { return webpage.PrettyText(text) }
