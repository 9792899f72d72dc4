package bound

import (
	"flag"
	"os"
	"testing"
)

// TestMain keeps rapid from leaving files beside the sources; a failure prints
// the seed that repeats it.
func TestMain(m *testing.M) {
	flag.Parse()
	if err := flag.Set("rapid.nofailfile", "true"); err != nil {
		panic(err)
	}
	os.Exit(m.Run())
}
