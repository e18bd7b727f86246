package report

// This file prints records on paper with a browser, where there is one, and
// counts the pages.

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/ask"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/jobtest"
)

const browser = "/usr/bin/chromium"

// pageObject finds the pages of a PDF (ISO 32000-1, 7.7.3.3); the browser does
// not compress them.
var pageObject = regexp.MustCompile(`/Type\s*/Page\b`)

// paper is as wide as A4 and not as high as Letter (ISO 216: 210 x 297 mm; ANSI
// Y14.1: 8.5 x 11 in, 215.9 x 279.4 mm): what fits on it fits on both, even with
// letters that are a little larger than those here.
const paper = "210mm 270mm"

// pagesOf prints a page and counts.
func pagesOf(t *testing.T, html []byte) int {
	t.Helper()
	folder := t.TempDir()
	page, pdf := filepath.Join(folder, "page.html"), filepath.Join(folder, "page.pdf")
	html = bytes.Replace(html, []byte("@page {"), []byte("@page { size: "+paper+";"), 1)
	if err := os.WriteFile(page, html, 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(browser, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
		"--user-data-dir="+filepath.Join(folder, "profile"), "--print-to-pdf="+pdf, "file://"+page)
	cmd.WaitDelay = 30 * time.Second
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Skipf("the browser does not print here: %v\n%s", err, out)
	}
	data, err := os.ReadFile(pdf)
	if err != nil {
		t.Skipf("the browser printed nothing: %v", err)
	}
	return len(pageObject.FindAll(data, -1))
}

func needBrowser(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("printing takes seconds")
	}
	if _, err := os.Stat(browser); err != nil {
		t.Skipf("%s is not there: pages are not counted", browser)
	}
}

func htmlBytes(t *testing.T, job job.Job) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, HTML, guide.Fold(job, guide.Offers{}), job, Options{}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// longJob is a job with many readings on the way and corrections.
func longJob(t *testing.T, drips, rounds int) job.Job {
	t.Helper()
	lines := jobtest.DrainPort()
	lines[job.DripReading] = nil
	for i := range drips {
		lines[job.DripReading] = append(lines[job.DripReading], strconv.Itoa(600+i))
	}
	lines[job.LoadedAmount] = []string{"700"}
	lines[job.LeftInVessel] = []string{"15"}
	lines[job.VesselWeighedFull], lines[job.VesselWeighedAfter] = []string{"-"}, []string{"-"}
	lines[job.BottlesOpened], lines[job.BottlesLeft] = []string{"-"}, []string{"-"}
	for range rounds {
		lines[job.LoadedAmount] = append(lines[job.LoadedAmount], "100")
		lines[job.LeftInVessel] = append(lines[job.LeftInVessel], "5")
		lines[job.EscapedAmount] = append(lines[job.EscapedAmount], "10")
		lines[job.EscapedAtCap] = append(lines[job.EscapedAtCap], "1")
		lines[job.Decision] = append(lines[job.Decision], "add")
	}
	lines[job.Decision] = append(lines[job.Decision], "leave")
	lines[job.LeftWhy] = []string{"the light went"}
	d := jobtest.New(t, lines)
	d.Until(job.NoTopic)
	return d.Job
}

// longest is how many letters may be typed of each text, as the questions have it.
func longest() map[job.Topic]int {
	return map[job.Topic]int{
		job.Vehicle: 40, job.UnitName: 40, job.OilGrade: 40, job.PlugThread: 40, job.PlugKey: 40, job.WasherKind: 40,
		job.TorqueSource: 60, job.ContainerName: 20, job.LeftWhy: 200, job.WasteHandedIn: 200, job.Remark: 300,
	}
}

// One page whatever the job: a plain one; three corrections, 40 readings on the
// way and every text as long as it may be typed; texts that no question takes.
func TestPrintsOnOnePage(t *testing.T) {
	if os.Getenv("TUNDISH_LONG") == "" {
		t.Skip("it starts a browser: set TUNDISH_LONG")
	}
	needBrowser(t)
	long := longJob(t, 40, 3)
	hostile := poisoned(long, strings.Repeat("W", 290)+"<script>\u202e")
	for i := range long.Entries {
		if n := longest()[long.Entries[i].Topic]; n > 0 {
			long.Entries[i].Value.Text = strings.Repeat("Wide and long name, ", 20)[:n]
		}
	}
	empty := jobtest.New(t, jobtest.DrainPort())
	empty.Until(job.DrainedAmount)
	for name, page := range map[string][]byte{
		"drain port": htmlBytes(t, wholeDrainPort(t)), "long": htmlBytes(t, long), "hostile": htmlBytes(t, hostile),
		"tag": []byte(tagAs(t, true, guide.Fold(poisoned(empty.Job, strings.Repeat("W", 290)), guide.Offers{}))),
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			if n := pagesOf(t, page); n != 1 {
				t.Errorf("%d pages, want 1", n)
			}
		})
	}
}

// The longest texts above are those that the questions take.
func TestLongestTexts(t *testing.T) {
	s := jobtest.New(t, jobtest.DrainPort()).Guide()
	for topic, n := range longest() {
		check := ask.SpecOf(topic).Check
		fits, over := job.Value{Text: strings.Repeat("a", n)}, job.Value{Text: strings.Repeat("a", n+1)}
		if check(s.Known, job.Place{Topic: topic}, fits) != nil || check(s.Known, job.Place{Topic: topic}, over) == nil {
			t.Errorf("%v does not take just %d letters", topic, n)
		}
	}
}

func TestPagesAreCounted(t *testing.T) {
	pdf := "<</Type /Pages/Count 2>> <</Type /Page/Parent 1 0 R>> <</Type/Page>> <</Type /PageLabel>>"
	if n := len(pageObject.FindAllString(pdf, -1)); n != 2 {
		t.Errorf("%d pages are counted, want 2", n)
	}
}

// A page that needs nothing else asks for nothing: no script, no link, no
// picture or letter from elsewhere, and it is ready for paper and for the dark.
func TestPageNeedsNothingElse(t *testing.T) {
	for name, page := range map[string]string{
		"record": string(htmlBytes(t, wholeDrainPort(t))),
		"tag":    tagAs(t, true, jobtest.New(t, jobtest.DrainPort()).Until(job.DrainedAmount)),
	} {
		for _, never := range []string{"<script", "<link", "<img", "<iframe", "src=", "href=", "url(", "@import", "http://", "https://",
			"javascript:"} {
			if strings.Contains(strings.ToLower(page), never) {
				t.Errorf("%s has %q", name, never)
			}
		}
		for _, always := range []string{"@page", "@media print", "@media screen and (prefers-color-scheme: dark)", "default-src 'none'"} {
			if !strings.Contains(page, always) {
				t.Errorf("%s has no %q", name, always)
			}
		}
	}
}
