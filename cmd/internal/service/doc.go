// Package service is what a page without a terminal asks of the program: a score
// opened, its parts seated, made, drawn, heard and printed, a band seated, a lesson
// worked, a sheet made, answers marked. Every call takes a request and files in memory
// and gives an answer and files in memory; none knows a disk, a flag or a browser.
//
// What is made is what the commands make, byte for byte: the calls use the packages
// that the commands use. Requests and answers are values that JSON holds; long calls
// tell how far they are and stop when their context ends.
package service
