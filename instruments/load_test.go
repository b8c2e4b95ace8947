package instruments_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
)

func TestLoad(t *testing.T) {
	t.Parallel()
	c, err := instruments.Load()
	require.NoError(t, err)
	assert.Greater(t, len(c.All()), 150)
}
