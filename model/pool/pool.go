// Package pool adds up many jobs, shared ones as a rule, to what they teach
// together: how much stays behind in a kind of unit, and how much escapes with
// a kind of rig. Jobs are added one at a time and forgotten; of each only a
// number stays, by which it is known again.
package pool

import (
	"bytes"
	"cmp"
	"fmt"
	"hash/fnv"
	"io"
	"math"
	"slices"
	"strings"

	"garage/tundish/model/estimate"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/learn"
	"garage/tundish/model/measure"
	"garage/tundish/model/share"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
)

// minPooled is how many jobs a figure needs: fewer would be about one car.
const minPooled = 3

const columns = 80

// Pool adds up jobs. The zero Pool is empty. It grows with the kinds of unit
// and rig, and by one number a job.
type Pool struct {
	jobs, proven, accepted, again int
	seen                          map[uint64]bool
	residual                      map[string]*learn.Running
	escape                        map[rig]*learn.Running
	kinds                         map[kind]*ofKind
}

// rig is a kind of rig: what pushes, and what its hose holds to 10 ml.
type rig struct {
	filler string
	hoseML int
}

// Told is what one job tells. It may be worked out beside that of others.
type Told struct {
	id                     uint64
	state                  verdict.UnitState
	residual, escape       float64
	toldResidual, toldSwap bool
	s                      *guide.Guide
}

// Of is what a job tells. The error is that of the job's own check.
func Of(job job.Job) (*Told, error) {
	if err := job.Check(); err != nil {
		return nil, err
	}
	id := fnv.New64a()
	id.Write([]byte(share.ID(job)))                      // the same for a job and its shared copy
	s := guide.Fold(share.WithKind(job), guide.Offers{}) // an owner's own file names more
	t := &Told{id: id.Sum64(), state: s.UnitState(), s: s}
	t.residual, t.toldResidual = residualShare(s)
	t.escape, t.toldSwap = escapeML(s)
	return t, nil
}

// Add adds what a job tells. One with an id that was added before is not counted again.
func (p *Pool) Add(t *Told) {
	if p.seen == nil {
		p.seen, p.residual, p.escape = map[uint64]bool{}, map[string]*learn.Running{}, map[rig]*learn.Running{}
	}
	if p.seen[t.id] {
		p.again++
		return
	}
	p.seen[t.id] = true
	p.jobs++
	switch t.state {
	case verdict.Proven:
		p.proven++
	case verdict.Accepted:
		p.accepted++
	}
	if t.toldResidual {
		addTo(p.residual, kindOf(t.s), t.residual)
	}
	if t.toldSwap {
		addTo(p.escape, rigOf(t.s), t.escape)
	}
	p.addKind(t)
}

func addTo[K comparable](groups map[K]*learn.Running, key K, x float64) {
	if groups[key] == nil {
		groups[key] = &learn.Running{}
	}
	groups[key].Add(x)
}

// residualShare is what stayed behind at an ordinary drain as a share of a dry
// quantity, where the level before was believed and what came out is a measure.
func residualShare(s *guide.Guide) (float64, bool) {
	plan, err := s.Plan(0)
	usable := err == nil && s.Measured() && s.Meaning() == estimate.MeansDry && s.Prior() != estimate.TrustNobodyKnows
	if !usable || plan.DrainedVoid || plan.Conflict {
		return 0, false
	}
	d := s.Drained()
	share := 1 - (d.Total.Nominal-d.Late.Nominal)/s.CapacityML()
	return share, !d.Contradict && !math.IsNaN(share) && !math.IsInf(share, 0)
}

// escapeML is what escaped at the first swap of a fill through the drain port,
// where all of it was measured.
func escapeML(s *guide.Guide) (float64, bool) {
	swap, told := s.EscapedAtSwap(0)
	return swap.Nominal, told && s.Path() == job.DrainPortOnly && swap.Finite()
}

func kindOf(s *guide.Guide) string {
	if o, ok := s.PickedOption(job.Place{Topic: job.UnitKind}); ok && share.KnownChoice(job.UnitKind, o.Token) {
		return o.Token
	}
	return "other"
}

func rigOf(s *guide.Guide) rig {
	const step, most = 10, 500 // ml
	r := rig{filler: "other"}
	if o, ok := s.PickedOption(job.Place{Topic: job.Filler}); ok && share.KnownChoice(job.Filler, o.Token) {
		r.filler = o.Token
	}
	r.hoseML = int(math.Round(math.Min(math.Max(s.HoldUp().Nominal, 0), most)/step)) * step
	return r
}

// Pooled is what a pool of jobs says. It names no car.
type Pooled struct {
	Jobs     int              `json:"jobs"`
	Proven   int              `json:"proven"`
	Accepted int              `json:"accepted"`          // likely right, but not proven
	Again    int              `json:"counted_once_only"` // jobs that came more than once
	Residual []PooledResidual `json:"residual"`
	Escape   []PooledEscape   `json:"escape"`
	Kinds    []NamedKind      `json:"kinds,omitempty"` // as owners named them for the club
}

// PooledResidual is what stays behind in a kind of unit, as a share of the
// stated dry quantity; nil where fewer than minPooled jobs tell.
type PooledResidual struct {
	Unit  string   `json:"unit_kind"`
	Jobs  int      `json:"jobs"`
	Share *float64 `json:"mean_share"`
	SD    *float64 `json:"sd_share"`
}

// PooledEscape is what escapes at the swap with a kind of rig, ml; nil where
// fewer than minPooled jobs tell.
type PooledEscape struct {
	Filler string   `json:"filler"`
	HoseML int      `json:"hose_ml"` // what the hose holds, to 10 ml
	Jobs   int      `json:"jobs"`
	ML     *float64 `json:"mean_ml"`
	SDML   *float64 `json:"sd_ml"`
}

// Result is what the jobs added so far say, in a fixed order.
func (p *Pool) Result() Pooled {
	out := Pooled{Jobs: p.jobs, Proven: p.proven, Accepted: p.accepted, Again: p.again, Residual: []PooledResidual{},
		Escape: []PooledEscape{}, Kinds: p.namedKinds()}
	for kind, r := range p.residual {
		g := PooledResidual{Unit: kind, Jobs: r.N()}
		if r.N() >= minPooled {
			g.Share, g.SD = new(measure.Rounded(r.Mean(), 1e4)), new(measure.Rounded(r.SD(), 1e4))
		}
		out.Residual = append(out.Residual, g)
	}
	for key, r := range p.escape {
		g := PooledEscape{Filler: key.filler, HoseML: key.hoseML, Jobs: r.N()}
		if r.N() >= minPooled {
			g.ML, g.SDML = new(measure.Rounded(r.Mean(), 10)), new(measure.Rounded(r.SD(), 10))
		}
		out.Escape = append(out.Escape, g)
	}
	slices.SortFunc(out.Residual, func(a, b PooledResidual) int { return strings.Compare(a.Unit, b.Unit) })
	slices.SortFunc(out.Escape, func(a, b PooledEscape) int {
		return cmp.Or(strings.Compare(a.Filler, b.Filler), cmp.Compare(a.HoseML, b.HoseML))
	})
	return out
}

// WriteText prints what a pool says as text of 80 columns.
func (r Pooled) WriteText(w io.Writer) error {
	var b bytes.Buffer
	jobs := "jobs"
	if r.Jobs == 1 {
		jobs = "job"
	}
	fmt.Fprintf(&b, "%d %s, %d of them proven, %d accepted as likely", r.Jobs, jobs, r.Proven, r.Accepted)
	if r.Again > 0 {
		fmt.Fprintf(&b, "; %d came again and are counted once", r.Again)
	}
	fmt.Fprintf(&b, "\n\nSTAYS INSIDE AT AN ORDINARY DRAIN, SHARE OF A DRY FILL\n")
	rows := [][]string{{"unit", "jobs", "mean", "scatter (sd)"}}
	for _, g := range r.Residual {
		rows = append(rows, []string{strings.ReplaceAll(g.Unit, "_", " "), fmt.Sprint(g.Jobs), pooledText(g.Share, 100, "%"),
			pooledText(g.SD, 100, "%")})
	}
	text.Table(&b, rows, nil, columns)
	fmt.Fprintf(&b, "\nSPILLED AT THE SWAP, BY RIG\n")
	rows = [][]string{{"filler", "hose holds", "jobs", "mean", "scatter (sd)"}}
	for _, g := range r.Escape {
		rows = append(rows, []string{
			strings.ReplaceAll(g.Filler, "_", " "), fmt.Sprintf("%d ml", g.HoseML), fmt.Sprint(g.Jobs), pooledText(g.ML, 1, "ml"),
			pooledText(g.SDML, 1, "ml"),
		})
	}
	text.Table(&b, rows, nil, columns)
	if len(r.Kinds) > 0 {
		fmt.Fprintf(&b, "\nKINDS OF UNIT, AS THEIR OWNERS NAME THEM\n")
		rows = [][]string{{"kind", "jobs"}}
		for _, k := range r.Kinds {
			rows = append(rows, []string{k.Name, fmt.Sprint(k.Jobs)})
		}
		text.Table(&b, rows, nil, columns)
	}
	fmt.Fprintf(&b, "\nA figure is given from %d jobs on.\n", minPooled)
	_, err := w.Write(b.Bytes())
	return err
}

func pooledText(x *float64, times float64, unit string) string {
	if x == nil {
		return "too few"
	}
	return fmt.Sprintf("%.3g %s", *x*times, unit)
}
