package sheet

import "strings"

func sectionHeading(s string) (string, bool) { return "", false }
func strongHeading(s string) bool            { return strings.TrimSpace(s) != "" }
