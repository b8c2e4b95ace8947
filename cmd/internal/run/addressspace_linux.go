package run

import (
	"fmt"
	"math"
	"os"
	"syscall"
)

// addressSpace is what this process may still use under the limit of its addresses
// (setrlimit(2), RLIMIT_AS; ulimit -v), with what it has in memory already. The runtime
// sets aside addresses for far more than it uses, which count towards the limit.
func addressSpace() (int64, bool) {
	var limit syscall.Rlimit
	if syscall.Getrlimit(syscall.RLIMIT_AS, &limit) != nil || limit.Cur >= math.MaxInt64 {
		return 0, false
	}
	statm, err := os.ReadFile("/proc/self/statm")
	if err != nil {
		return int64(limit.Cur), true
	}
	return leftOf(int64(limit.Cur), string(statm), int64(os.Getpagesize()))
}

// leftOf is what a limit of addresses leaves of a process, by its statm: all its pages,
// and those in memory (proc_pid_statm(5)).
func leftOf(limit int64, statm string, page int64) (int64, bool) {
	var all, inMemory int64
	if n, _ := fmt.Sscan(statm, &all, &inMemory); n < 2 {
		return limit, true
	}
	return max(limit-all*page+inMemory*page, 1), true
}
