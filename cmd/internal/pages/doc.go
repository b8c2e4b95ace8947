// Package pages is the frame of every page that the program writes: one HTML
// file that needs nothing else, so that a lesson, a sheet of exercises and a
// proof look alike, work with the keyboard and a screen reader, follow the
// reader's light or dark setting, and print on A4 and Letter.
package pages
