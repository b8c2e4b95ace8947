// Package stages makes a part: it runs the copyist's stages, which are in the packages
// beside it, in their order.
package stages
