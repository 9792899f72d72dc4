package draft

import (
	"fmt"
	"strings"

	"guardband/notebook/sheet"
)

// drawn lists the values of the application circuit as comments: the person
// looks which pins they join.
func (n *noteWriter) drawn(d sheet.Draft) {
	if len(d.Drawn) > 0 {
		fmt.Fprintln(n.w, "# application:") // a label without rows is an error
	}
	for _, v := range d.Drawn {
		value := strings.ReplaceAll(v.Value, "μ", "µ")
		fmt.Fprintf(n.w, "  # PIN  PIN  %s %s  drawn; look which pins it joins  %s\n", v.Kind, value, cite(v.Quoted))
	}
}
