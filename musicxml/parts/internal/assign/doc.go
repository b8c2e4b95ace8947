// Package assign says which part files a score comes to, and who plays from them: the
// instrument that each part is for, the players that share a staff, and what a plan
// gives to others.
package assign
