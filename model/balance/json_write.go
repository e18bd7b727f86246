// This file holds a result as JSON, its keys carrying the unit.

package balance

import "encoding/json"

type streamJSON struct {
	Name         string   `json:"name"`
	Role         string   `json:"role"`
	ReconciledML *float64 `json:"reconciled_ml"` // null where unobservable
	UML          *float64 `json:"u_ml"`          // null where unobservable
	Z            float64  `json:"z"`
}

type resultJSON struct {
	Streams  []streamJSON `json:"streams"`
	Chi2     float64      `json:"chi2"`
	DoF      int          `json:"dof"`
	P        float64      `json:"p"`
	Suspect  *string      `json:"suspect"`            // null where the balance holds
	Suspects []string     `json:"suspects,omitempty"` // all, where several are equally suspect
}

// MarshalJSON writes resultJSON.
func (r Result) MarshalJSON() ([]byte, error) {
	out := resultJSON{Streams: []streamJSON{}, Chi2: r.Chi2, DoF: r.DoF, P: r.P}
	if len(r.Suspects) > 0 {
		out.Suspect = &r.Suspects[0]
	}
	if len(r.Suspects) > 1 {
		out.Suspects = r.Suspects
	}
	for _, s := range r.Streams {
		one := streamJSON{Name: s.Name, Role: s.Role.String(), Z: s.Z}
		if s.Role != Unobservable {
			one.ReconciledML, one.UML = &s.ReconciledML, &s.UML
		}
		out.Streams = append(out.Streams, one)
	}
	return json.Marshal(out)
}
