// Package percussion shares the percussion of a score out among a number of players, by
// passages of one instrument that are cut where there is time to hand it on.
package percussion
