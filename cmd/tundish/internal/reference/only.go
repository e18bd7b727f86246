package reference

// This file leaves out of the command line what no word of it asks for.

import (
	"cmp"
	"reflect"
	"slices"
	"strings"

	"github.com/alecthomas/kong"
)

// Only leaves out every command but the one that the first words name (calc plan), since
// to make the others ready takes longer than most commands need. It leaves in all where
// the first word names none, or one of those that need all.
func Only(grammar any, words []string, needAll ...string) kong.Option {
	var fields []string
	if len(words) > 0 && slices.Contains(needAll, words[0]) {
		words = nil
	}
	for t := reflect.TypeOf(grammar).Elem(); len(words) > 0; words = words[1:] {
		var others []string
		var named reflect.Type
		for f := range t.Fields() {
			if _, command := f.Tag.Lookup("cmd"); !command {
				continue
			}
			if cmp.Or(f.Tag.Get("name"), strings.ToLower(f.Name)) == words[0] {
				named = f.Type
			} else {
				others = append(others, t.Name()+`\.`+f.Name)
			}
		}
		if named == nil {
			break
		}
		fields, t = append(fields, others...), named
	}
	return kong.IgnoreFields("^(" + strings.Join(fields, "|") + ")$")
}
