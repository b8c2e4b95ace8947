// Package notice is the registry of what the program can have to say about a score:
// every warning and every refusal has a code here, with what it means and what to
// do about it, in five languages (notices.csv). Codes are stable: programs may rely on
// them.
//
// A new one is a constant in codes.go and two rows of the table, warning.CODE and
// warning.CODE.do, or refusal.CODE and refusal.CODE.do; a third, .page, where what to do
// names a flag, for whoever has no command line. Tests hold constants and rows together
// and see to it that no code is used that does not stand here, and that none stands here
// that nothing uses. The English texts are read here; package texts of the program says
// them in the other languages.
package notice
