package main

// This file lists what is linked in, as a software bill of materials in JSON of the
// form CycloneDX 1.5 (ECMA-424 in its first edition is 1.6; keys from memory).

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"time"

	"garage/tundish/cmd/tundish/internal/about"
)

type bill struct {
	Format       string       `json:"bomFormat"`
	Spec         string       `json:"specVersion"`
	Serial       string       `json:"serialNumber"`
	Version      int          `json:"version"`
	Metadata     metadata     `json:"metadata"`
	Components   []component  `json:"components"`
	Dependencies []dependency `json:"dependencies"`
}

type metadata struct {
	Timestamp string    `json:"timestamp"`
	Component component `json:"component"`
}

type component struct {
	Type     string    `json:"type"`
	Ref      string    `json:"bom-ref"`
	Name     string    `json:"name"`
	Version  string    `json:"version"`
	PURL     string    `json:"purl"`
	Licences []licence `json:"licenses,omitempty"`
}

type licence struct {
	Licence struct {
		ID string `json:"id"`
	} `json:"license"`
}

type dependency struct {
	Ref  string   `json:"ref"`
	Upon []string `json:"dependsOn"`
}

func componentOf(kind, name, version, spdx string) component {
	purl := "pkg:golang/" + name + "@" + version
	c := component{Type: kind, Ref: purl, Name: name, Version: version, PURL: purl}
	if spdx != "" {
		var l licence
		l.Licence.ID = spdx
		c.Licences = []licence{l}
	}
	return c
}

// billOf lists the modules that any of the binaries is linked with, and Go's own
// library.
func billOf(binaries []binary, version string, day time.Time) ([]byte, error) {
	spdx := map[string]string{}
	for _, n := range about.Notices() {
		spdx[n.Module] = n.Licence
	}
	versions := map[string]string{"std": binaries[0].info.GoVersion}
	spdx["std"] = spdx["go"]
	for _, b := range binaries {
		for _, d := range b.info.Deps {
			versions[d.Path] = d.Version
		}
	}
	root := componentOf("application", "garage/"+program, version, "MIT")
	out := bill{Format: "CycloneDX", Spec: "1.5", Version: 1, Metadata: metadata{day.UTC().Format(time.RFC3339), root}}
	upon := dependency{Ref: root.Ref}
	for _, name := range slices.Sorted(maps.Keys(versions)) {
		c := componentOf("library", name, versions[name], spdx[name])
		if c.Licences == nil {
			return nil, fmt.Errorf("%s: its notice is missing; run .ci/notices", name)
		}
		out.Components, upon.Upon = append(out.Components, c), append(upon.Upon, c.Ref)
	}
	out.Dependencies = []dependency{upon}
	text, err := json.Marshal(out)
	if err != nil {
		return nil, err
	}
	// A UUID of version 8 (RFC 9562, 5.8): 122 bits of our own, here of the content.
	id := sha256.Sum256(text)
	id[6], id[8] = id[6]&0x0f|0x80, id[8]&0x3f|0x80
	out.Serial = fmt.Sprintf("urn:uuid:%x-%x-%x-%x-%x", id[0:4], id[4:6], id[6:8], id[8:10], id[10:16])
	text, err = json.MarshalIndent(out, "", "  ")
	return append(text, '\n'), err
}
