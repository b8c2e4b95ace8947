package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"deskpart/cmd/internal/printing"
	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/paper"
)

// paperFlags are how pages look.
type paperFlags struct {
	paper    string
	staff    float64
	margin   float64
	large    bool
	oneSided bool
	size     paper.Size
}

// paperSettings are the flags of the pages as a manifest has them.
type paperSettings struct {
	Paper    string  `json:"paper"`
	Staff    float64 `json:"staff"`
	Margin   float64 `json:"margin"`
	Large    bool    `json:"large"`
	OneSided bool    `json:"one_sided"`
}

func (f *paperFlags) addFlags(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.StringVar(&f.paper, "paper", "", "a4, letter, b4, or WIDTHxHEIGHT in mm or in, such as 9.5x12.5in (default: A4, or Letter where that is usual)")
	flags.Float64Var(&f.staff, "staff", 0, "height of a staff in `MM` (default: by instrument, mostly 7.5 or 8)")
	flags.Float64Var(&f.margin, "margin", 0, "free space at all edges in `MM` (default 15 at the sides, 12 above and below)")
	flags.BoolVar(&f.large, "large", false, "large print: staves of 10 mm, heavier lines")
	flags.BoolVar(&f.oneSided, "one-sided", false, "pages that lie side by side and are not turned")
}

func (f *paperFlags) settle() (err error) {
	if f.paper != "" {
		if f.size, err = paper.ParseSize(f.paper); err != nil {
			return fmt.Errorf("--paper %w", err)
		}
	}
	if f.large && f.staff > 0 && f.staff < float64(paper.LargeStaff) {
		return fmt.Errorf("--large is a staff of %g mm or more", float64(paper.LargeStaff))
	}
	return paper.Options{Paper: f.size, Staff: display.Millimetres(f.staff), Margin: display.Millimetres(f.margin), Large: f.large}.Check()
}

// options are those of the pages of parts in a language.
func (f *paperFlags) options(language string, restBars int) printing.Options {
	return printing.Options{Paper: f.size, Staff: display.Millimetres(f.staff), Margin: display.Millimetres(f.margin), Large: f.large,
		OneSided: f.oneSided, Language: language, RestBars: restBars}
}
