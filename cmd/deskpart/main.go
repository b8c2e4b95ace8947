// Command deskpart turns a score into the parts that stand on the players' desks.
package main

func main() {}
