package run

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestParseSize(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, why, text string
		want            int64
	}{
		{"mebibytes", "IEC 80000-13", "512MiB", 512 << 20},
		{"megabytes", "powers of 1000", "512MB", 512_000_000},
		{"a letter", "as with other Unix tools", "2G", 2 << 30},
		{"small letters", "nobody means millibits", "2gib", 2 << 30},
		{"a fraction", "exact in binary", "1.5GiB", 3 << 29},
		{"bytes", "a plain number", "800000000", 800_000_000},
		{"space", "as people write it", " 24 GiB ", 24 << 30},
		{"no number", "refused", "MiB", 0},
		{"nothing", "refused", "", 0},
		{"no unit", "refused", "5 apples", 0},
		{"negative", "refused", "-5M", 0},
		{"zero", "refused", "0", 0},
		{"endless", "refused", "1e9T", 0},
		{"no number either", "refused", "NaN", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			got, err := ParseSize(c.text)
			assert.Equal(t, c.want, got, c.why)
			assert.Equal(t, c.want == 0, err != nil, c.why)
		})
	}
}

// The forms of the files are those of proc_meminfo(5) and cgroups(7).
func TestAvailableMemory(t *testing.T) {
	t.Parallel()
	meminfo := "MemTotal:       24683760 kB\nMemFree:        1 kB\n"
	for _, c := range []struct {
		name, why string
		files     map[string]string
		want      int64
	}{
		{"nothing known", "1 GiB is taken", nil, 1 << 30},
		{"the machine's", "no group limits it", map[string]string{"proc/meminfo": meminfo, "proc/self/cgroup": "0::/a/b\n", "sys/fs/cgroup/a/memory.max": "max\n"}, 24683760 << 10},
		{"a container's", "the group's own limit", map[string]string{"proc/meminfo": meminfo, "proc/self/cgroup": "0::/a/b\n", "sys/fs/cgroup/a/b/memory.max": "536870912\n"}, 512 << 20},
		{"a scheduler's job", "the limit of a group above", map[string]string{"proc/meminfo": meminfo, "proc/self/cgroup": "0::/a/b\n", "sys/fs/cgroup/a/memory.max": "536870912\n"}, 512 << 20},
		{"a container that sees itself as the root", "the group's file is at the top", map[string]string{"proc/meminfo": meminfo, "proc/self/cgroup": "0::/\n", "sys/fs/cgroup/memory.max": "536870912\n"}, 512 << 20},
		{"version 1", "the memory controller's own tree", map[string]string{"proc/meminfo": meminfo, "proc/self/cgroup": "3:cpu:/x\n2:memory:/a\n", "sys/fs/cgroup/memory/a/memory.limit_in_bytes": "536870912\n"}, 512 << 20},
		{"version 1 without a limit", "a number beyond every machine", map[string]string{"proc/meminfo": meminfo, "proc/self/cgroup": "2:memory:/\n", "sys/fs/cgroup/memory/memory.limit_in_bytes": "9223372036854771712\n"}, 24683760 << 10},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			root := t.TempDir()
			for name, text := range c.files {
				require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(root, name)), 0o777))
				require.NoError(t, os.WriteFile(filepath.Join(root, name), []byte(text), 0o666))
			}
			assert.Equal(t, c.want, availableMemory(root), c.why)
		})
	}
}
