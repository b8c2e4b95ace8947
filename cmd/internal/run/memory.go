package run

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
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

// DefaultMemory is half of the memory that this process may use, in bytes: of
// the machine's, or of the control group's where that is less (as in a container
// or in a scheduler's job).
func DefaultMemory() int64 {
	return availableMemory("/") / 2
}

// availableMemory is DefaultMemory's whole, on the machine whose files lie below root.
func availableMemory(root string) int64 {
	memory := int64(unknownMemory)
	if total, ok := machineMemory(filepath.Join(root, "proc/meminfo")); ok {
		memory = total
	}
	for _, file := range groupLimitFiles(root) {
		if limit, ok := readLimit(file); ok && limit < memory {
			memory = limit
		}
	}
	return memory
}

// machineMemory reads MemTotal (proc_meminfo(5), in KiB).
func machineMemory(file string) (int64, bool) {
	opened, err := os.Open(file)
	if err != nil {
		return 0, false
	}
	defer opened.Close()
	lines := bufio.NewScanner(opened)
	for lines.Scan() {
		if fields := strings.Fields(lines.Text()); len(fields) >= 2 && fields[0] == "MemTotal:" {
			kib, err := strconv.ParseInt(fields[1], 10, 64)
			return kib << 10, err == nil && kib > 0
		}
	}
	return 0, false
}

// groupLimitFiles lists the files that may limit this process's memory: those of
// its own control group and of every group above it (cgroups(7), versions 2 and 1).
func groupLimitFiles(root string) []string {
	groups, err := os.ReadFile(filepath.Join(root, "proc/self/cgroup"))
	if err != nil {
		return nil
	}
	mount := filepath.Join(root, "sys/fs/cgroup")
	var files []string
	for line := range strings.Lines(string(groups)) {
		fields := strings.SplitN(strings.TrimSpace(line), ":", 3)
		switch {
		case len(fields) != 3:
		case fields[1] == "":
			files = append(files, upwards(mount, fields[2], "memory.max")...)
		case fields[1] == "memory":
			files = append(files, upwards(filepath.Join(mount, "memory"), fields[2], "memory.limit_in_bytes")...)
		}
	}
	return files
}

func upwards(mount, group, name string) []string {
	var files []string
	for dir := filepath.Clean("/" + group); ; dir = filepath.Dir(dir) {
		files = append(files, filepath.Join(mount, dir, name))
		if dir == "/" {
			return files
		}
	}
}

func readLimit(file string) (int64, bool) {
	text, err := os.ReadFile(file)
	if err != nil {
		return 0, false
	}
	limit, err := strconv.ParseInt(strings.TrimSpace(string(text)), 10, 64) // "max" is no number
	return limit, err == nil && limit > 0
}
