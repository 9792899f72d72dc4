package html

import (
	"fmt"
	"html/template"
	"net/url"
	"path"
	"strings"
)

// anchor makes an ID from a kind and a name. It is injective: what is neither
// letter nor digit nor one of "-_." becomes "~" and its code.
func anchor(kind, name string) string {
	var b strings.Builder
	b.WriteString(kind)
	b.WriteByte('-')
	for _, r := range name {
		if r == '-' || r == '_' || r == '.' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' {
			b.WriteRune(r)
			continue
		}
		fmt.Fprintf(&b, "~%x~", r)
	}
	return b.String()
}

// idOf is the ID of a place of the outline: "claim:A1" is "claim-A1".
func idOf(place string) string {
	kind, name, named := strings.Cut(place, ":")
	if !named {
		return place
	}
	return anchor(kind, name)
}

// id is the id attribute of a place.
func id(place string) template.HTMLAttr {
	if place == "" {
		return ""
	}
	return attr("id", idOf(place))
}

func fileURL(base, name string) (string, bool) {
	if base == "" || name == "" || path.IsAbs(name) || strings.ContainsAny(name, "\\:?#\x00") {
		return "", false
	}
	u := url.URL{Path: path.Join(base, name)}
	s := u.String()
	if strings.HasPrefix(s, "//") {
		return "", false
	}
	return s, true
}

// address gives the address of a link in prose where it is one a reader may
// follow; other schemes are dropped.
func address(s string) (string, bool) {
	u, err := url.Parse(strings.TrimSpace(s))
	if err != nil {
		return "", false
	}
	switch strings.ToLower(u.Scheme) {
	case "http", "https", "mailto":
		return u.String(), true
	case "":
		if u.Host == "" && !strings.ContainsRune(s, '\\') && u.Opaque == "" {
			return u.String(), s != ""
		}
	}
	return "", false
}
