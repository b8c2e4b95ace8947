// Package rests puts the rests of a part in order, joins empty bars into multi-bar rests,
// and marks a part that is silent all through.
package rests
