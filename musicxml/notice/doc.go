// Package notice is the registry of what the program can have to say about a score:
// every warning and every refusal has a code here, with what it means and what to
// do about it (notices.csv). Codes are stable: programs may rely on them.
//
// A new one is a constant in codes.go and a row of the table. Tests hold the two
// together and see to it that no code is used that does not stand here, and that
// none stands here that nothing uses.
package notice
