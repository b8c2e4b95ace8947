package texts_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/cmd/internal/texts"
)

func TestCounted(t *testing.T) {
	t.Parallel()
	assert.Equal(t, "1 part", texts.Counted(1, "part"))
	assert.Equal(t, "0 parts", texts.Counted(0, "part"))
	assert.Equal(t, "2 parts", texts.Counted(2, "part"))
}
