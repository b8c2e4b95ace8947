package paper

import (
	"cmp"
	"errors"
	"fmt"

	"deskpart/musicxml/engraving/display"
	"deskpart/transpose/pitch"
)

// Options say how a book is laid out. The zero value is usable.
type Options struct {
	// Paper is the size of a page; default A4.
	Paper Size
	// Staff is the height of a staff of five lines; default 8 mm (metropole;
	// kriterien have 7.5 mm as the least for winds and 8 to 8.5 mm for strings,
	// harp, timpani and percussion), 10 mm with Large.
	Staff display.Millimetres
	// Margin is kept free on all sides; default 15 mm, above and below 12 mm
	// (metropole has 15 and 10).
	Margin display.Millimetres
	// Large is for players who see less well: larger staves, heavier lines, and
	// distances that grow with them.
	Large bool
	// OneSided is for sheets that lie side by side: nothing is turned.
	OneSided bool
	// FreeHands is for singers, who turn a page while they sing: no turn needs time.
	FreeHands bool
	// Language is that in which the music is described. Default: English.
	Language pitch.Language
}

const (
	usualStaff  display.Millimetres = 8
	usualMargin display.Millimetres = 15
	usualFoot   display.Millimetres = 12
	// clearance is the least distance from staff to staff (kriterien: 8 mm).
	clearance display.Millimetres = 8
	// wideClearance is that between systems of several staves (metropole: harp and
	// piano 12 mm).
	wideClearance display.Millimetres = 12
	// The staves that can be read and that fit: beyond them a page is a mistake.
	leastStaff display.Millimetres = 3
	mostStaff  display.Millimetres = 30
)

var errOptions = errors.New("the page cannot be laid out so")

// Settled is the options with their defaults filled in.
func (o Options) Settled() Options {
	if o.Paper == (Size{}) {
		o.Paper = sizes["a4"]
	}
	if o.Staff == 0 {
		o.Staff = usualStaff
		if o.Large {
			o.Staff = LargeStaff
		}
	}
	return o
}

// LargeStaff is the least staff of large print.
const LargeStaff display.Millimetres = 10

// Check says what is wrong with the options.
func (o Options) Check() error {
	_, err := o.settle()
	return err
}

// settle fills in defaults and checks that a line of music fits the page.
func (o Options) settle() (Options, error) {
	o = o.Settled()
	if o.Staff < leastStaff || o.Staff > mostStaff {
		return o, fmt.Errorf("%w: a staff is %g to %g mm high", errOptions, float64(leastStaff), float64(mostStaff))
	}
	if o.Margin < 0 || o.Paper.Width-2*o.sides() < 10*o.Staff || o.Paper.Height-2*o.foot() < 6*o.Staff {
		return o, fmt.Errorf("%w: margins of %g mm leave no room for staves of %g mm on paper of %g by %g mm", errOptions,
			float64(o.sides()), float64(o.Staff), float64(o.Paper.Width), float64(o.Paper.Height))
	}
	return o, nil
}

func (o Options) space() display.Millimetres { return o.Staff / 4 }

// sides is the margin left and right, foot that above and below.
func (o Options) sides() display.Millimetres { return cmp.Or(max(o.Margin, 0), usualMargin) }

func (o Options) foot() display.Millimetres { return cmp.Or(max(o.Margin, 0), usualFoot) }
