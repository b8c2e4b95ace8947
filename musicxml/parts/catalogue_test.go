package parts_test

import (
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"deskpart/instruments"
)

var loadCatalogue = sync.OnceValues(instruments.Load)

// theCatalogue is read once for all tests: nothing changes it.
func theCatalogue(t testing.TB) *instruments.Catalogue {
	t.Helper()
	catalogue, err := loadCatalogue()
	require.NoError(t, err)
	return catalogue
}
