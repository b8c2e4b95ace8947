// Package instrumentstest has the catalogue for tests: read once, since nothing changes
// it. Only tests import it.
package instrumentstest

import (
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"deskpart/instruments"
)

var load = sync.OnceValues(instruments.Load)

// Load returns the catalogue of all instruments.
func Load(t testing.TB) *instruments.Catalogue {
	t.Helper()
	c, err := load()
	require.NoError(t, err)
	return c
}
