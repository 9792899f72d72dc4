package sheet

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// TestSheetsOfABrowser drafts from sheets that Chromium has set, so that the
// reading is not judged on the project's own printer alone.
func TestSheetsOfABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	program := need(t, "chromium")
	lay := layoutNamed(t, "ruled")
	all := map[string]*tally{"ratings": {}, "operating": {}, "spec": {}, "pins": {}, "orders": {}}
	for i, dev := range corpusDevices() {
		dir := t.TempDir()
		page := put(t, "s.html", []byte(corpusHTML(dev, i%2 == 1)))
		out := filepath.Join(dir, "s.pdf")
		ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
		cmd := exec.CommandContext(ctx, program, "--headless", "--no-sandbox", "--disable-gpu", "--user-data-dir="+dir,
			"--no-pdf-header-footer", "--print-to-pdf="+out, "file://"+page)
		text, err := cmd.CombinedOutput()
		cancel()
		require.NoError(t, err, string(text))
		d, err := shared.Draft(context.Background(), out)
		require.NoError(t, err)
		check := func(part string, read, truth []map[Kind]string) {
			n, wrong := compare(read, truth)
			all[part].add(n)
			if os.Getenv("GUARDBAND_SHOW_WRONG") != "" && (len(wrong) > 0 || n.right < n.wanted) {
				fmt.Println(dev.Name, part, n, wrong, d.PassedOver, d.NotFound)
			}
		}
		check("ratings", draftRows(d.Ratings), truthRows(dev.AbsMax, lay, false))
		check("operating", draftRows(d.Operating), truthRows(dev.Operating, lay, false))
		check("spec", draftRows(d.Spec), truthRows(dev.Electric, lay, false))
		check("pins", pinRows(d.Pins), truthPins(dev.Pins))
		check("orders", orderRows(d.Orders), truthOrders(dev.Orders))
	}
	for part, n := range all {
		t.Logf("%-10s cells printed %4d  offered %4d  right %4d  precision %.3f  recall %.3f", part, n.wanted,
			n.offered, n.right, n.precision(), n.recall())
		require.GreaterOrEqual(t, n.precision(), 0.95, part)
	}
}
