package run

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/KimMachineGun/automemlimit/memlimit"
)

// unknownMemory is taken for the memory of a machine that does not tell: 1 GiB,
// which every machine of this century has.
const unknownMemory = 1 << 30

// sizeUnits are the units of ParseSize. K, M, G and T are powers of 1024 as
// with the other Unix tools; KB, MB, GB and TB are powers of 1000 (IEC 80000-13).
var sizeUnits = map[string]float64{
	"": 1, "b": 1,
	"k": 1 << 10, "kib": 1 << 10, "kb": 1e3,
	"m": 1 << 20, "mib": 1 << 20, "mb": 1e6,
	"g": 1 << 30, "gib": 1 << 30, "gb": 1e9,
	"t": 1 << 40, "tib": 1 << 40, "tb": 1e12,
}

// ParseSize reads an amount of memory such as "512MiB", "1.5G" or "800000000"
// (bytes). It is an error if it is not above zero.
func ParseSize(text string) (int64, error) {
	clean := strings.ToLower(strings.TrimSpace(text))
	end := strings.LastIndexAny(clean, "0123456789.") + 1
	number, err := strconv.ParseFloat(clean[:end], 64)
	unit, known := sizeUnits[strings.TrimSpace(clean[end:])]
	size := number * unit
	if err != nil || !known || !(size >= 1) || size > math.MaxInt64/2 {
		return 0, fmt.Errorf("size %q is not an amount of memory; write 512MiB or 2GiB", text)
	}
	return int64(size), nil
}

// InWords writes an amount of memory so that ParseSize reads it: in MiB, rounded up,
// from 10 GiB on in GiB.
func InWords(bytes int64) string {
	const mib, gib = 1 << 20, 1 << 30
	if bytes > 10*gib {
		return fmt.Sprintf("%dGiB", (bytes+gib-1)/gib)
	}
	return fmt.Sprintf("%dMiB", (bytes+mib-1)/mib)
}

// The program itself takes ownMemory, in bytes: its code, the catalogue, the runtime's
// own tables (22 MB when it has read a score of some bars, measured), and some garbage.
// Of the rest a tenth is left to the collector.
const ownMemory, ofTen = 40 << 20, 9

// ForWork is what is left for the work, in bytes, of the memory that the whole process may
// have: none or less where that is too little to begin with.
func ForWork(memory int64) int64 { return (memory - ownMemory) / 10 * ofTen }

// MemoryFor is the memory that the whole process must have for so much work, in bytes.
func MemoryFor(work int64) int64 { return work/ofTen*10 + ownMemory }

// DefaultMemory is half of the memory that this process may use, in bytes.
func DefaultMemory() int64 { return least(machineMemory, groupMemory, addressSpace) / 2 }

// MemoryLimit is what the process itself may not go beyond, in bytes: its control group's
// limit (as in a container or in a scheduler's job) or that of its addresses (ulimit -v).
// It is very much where there is none.
func MemoryLimit() int64 {
	return least(groupMemory, addressSpace, func() (int64, bool) { return math.MaxInt64, true })
}

// least is the least of the limits that are known.
func least(limits ...func() (int64, bool)) int64 {
	memory, found := int64(unknownMemory), false
	for _, limit := range limits {
		if value, ok := limit(); ok && (!found || value < memory) {
			memory, found = value, true
		}
	}
	return memory
}

// machineMemory is all memory of the machine.
func machineMemory() (int64, bool) { return known(memlimit.FromSystem()) }

// groupMemory is the limit of the control group and of every group above it.
func groupMemory() (int64, bool) { return known(memlimit.FromCgroup()) }

func known(limit uint64, err error) (int64, bool) {
	return int64(min(limit, math.MaxInt64)), err == nil && limit > 0
}
