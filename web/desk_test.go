package web_test

import (
	"encoding/xml"
	"net/http"
	"slices"
	"strings"
	"testing"

	"tunwright/pricing/register"

	"github.com/PuerkitoBio/goquery"
)

const demo = "/enquiries/weaving-mill"

const fuse = "site.supply.fuse_a"

func TestEachSheetShowsItsFieldsAndTheAnswer(t *testing.T) {
	d := newDesk(t)
	for sheet, selector := range map[string]string{
		"brief": `input[name="v:brief.beers[1].name"]`, "building": `input[name="v:site.room.clear_height_mm"]`,
		"floor": `input[name="v:site.floor.members[3].name"]`, "way-in": `input[name="v:site.routes[2].steps[2].car_depth_mm"]`,
		"services": `input[name="v:site.supply.fuse_a"]`, "equipment": `select[name="v:equipment.items[1].product"]`,
		"price": `input[name="v:commercial.discount_pct"]`, "survey": `.survey input`, "papers": `.files a`,
	} {
		doc := d.page(demo + "?sheet=" + sheet)
		if doc.Find(selector).Length() == 0 {
			t.Errorf("%s shows no %s", sheet, selector)
		}
		if doc.Find(".tabs [aria-current]").Length() != 1 {
			t.Errorf("%s marks no tab", sheet)
		}
		if doc.Find("#answer .price .net dd").Text() == "" || doc.Find("#answer .gauges").Length() < 3 || doc.Find("#answer .finding").Length() == 0 {
			t.Errorf("%s has no complete answer beside it", sheet)
		}
	}
}

func TestAChangeIsSavedAndAnswered(t *testing.T) {
	d := newDesk(t)
	a := d.post(demo+"/facts", "sheet", "services", "v:"+fuse, "250", "b:"+fuse, "told", "w:"+fuse, "network operator")
	if a.Code != http.StatusSeeOther || a.Header.Get("Location") != demo+"?sheet=services" {
		t.Fatalf("%d to %q", a.Code, a.Header.Get("Location"))
	}
	if got := input(d.page(demo+"?sheet=services"), "v:"+fuse); got != "250" {
		t.Errorf("fuse is %s", got)
	}
}

func TestAScriptGetsFragmentsOnly(t *testing.T) {
	d := newDesk(t)
	a := d.live(demo+"/facts", "sheet", "services", "v:"+fuse, "250", "b:"+fuse, "", "w:"+fuse, "")
	doc := a.doc(t)
	if a.Code != http.StatusOK || strings.Contains(a.Body, "<main") {
		t.Fatalf("%d with a whole page", a.Code)
	}
	if doc.Find("#answer .price").Length() != 1 || doc.Find("#head h1").Length() != 1 {
		t.Error("the answer or the title block is missing")
	}
	if doc.Find(`select[name="b:`+fuse+`"] [selected]`).Text() != "told" {
		t.Error("a figure typed without saying how it is known is not marked as told")
	}
	if doc.Find(`input[name="v:`+fuse+`"]`).Length() != 0 {
		t.Error("the input itself was sent, which would take away what a person goes on typing")
	}
}

func TestWhatCannotBeSavedComesBackAsTyped(t *testing.T) {
	d := newDesk(t)
	a := d.post(demo+"/facts", "sheet", "services",
		"v:"+fuse, "many", "b:"+fuse, "told", "w:"+fuse, "him",
		"v:site.supply.board_distance_m", "31,5", "b:site.supply.board_distance_m", "measured", "w:site.supply.board_distance_m", "tape")
	doc := a.doc(t)
	if a.Code != http.StatusUnprocessableEntity {
		t.Fatalf("status %d", a.Code)
	}
	if got := input(doc, "v:"+fuse); got != "many" {
		t.Errorf("what was typed came back as %q", got)
	}
	field := doc.Find("#v-site-supply-fuse_a")
	if field.AttrOr("aria-invalid", "") != "true" || !strings.Contains(doc.Find("#"+field.AttrOr("aria-describedby", "x")).Text(), "is not a number") {
		t.Error("the field does not say what is wrong with it")
	}
	if link := doc.Find("#problems a"); link.AttrOr("href", "") != "#v-site-supply-fuse_a" {
		t.Error("the summary does not lead to the field")
	}
	saved := d.page(demo + "?sheet=services")
	if input(saved, "v:"+fuse) != "200" || input(saved, "v:site.supply.board_distance_m") != "31.5" {
		t.Error("the wrong value was saved, or the right one beside it was not")
	}
}

func TestUndoAndRedo(t *testing.T) {
	d := newDesk(t)
	value := func() string { return input(d.page(demo+"?sheet=services"), "v:"+fuse) }
	for _, v := range []string{"250", "315"} {
		d.post(demo+"/facts", "sheet", "services", "v:"+fuse, v, "b:"+fuse, "told", "w:"+fuse, "him")
	}
	for _, step := range []struct{ do, want string }{
		{"undo", "250"}, {"undo", "200"}, {"undo", "200"}, {"redo", "250"}, {"redo", "315"}, {"redo", "315"}, {"undo", "250"},
	} {
		d.post(demo+"/"+step.do, "sheet", "services")
		if got := value(); got != step.want {
			t.Fatalf("after %s the fuse is %s, want %s", step.do, got, step.want)
		}
	}
	d.post(demo+"/facts", "sheet", "services", "v:"+fuse, "400", "b:"+fuse, "told", "w:"+fuse, "him")
	if _, able := d.page(demo).Find("#redo").Attr("disabled"); !able {
		t.Error("after a new change there is still something to do again")
	}
}

// A browser without script sends every input of a sheet: what nobody touched changes
// nothing.
func TestAnUntouchedSheetChangesNothing(t *testing.T) {
	d := newDesk(t)
	for _, sample := range []string{"weaving-mill", "hotel-basement", "hill-farm", "industrial-unit"} {
		at := d.post("/enquiries/sample", "sample", sample).Header.Get("Location")
		for _, sheet := range []string{"brief", "building", "floor", "way-in", "services", "equipment", "price", "survey"} {
			fields := []string{"sheet", sheet}
			d.page(at + "?sheet=" + sheet).Find("[form=facts][name]").Each(func(_ int, s *selection) {
				value := s.AttrOr("value", "")
				switch {
				case s.Is("select") && s.Find("[selected]").Length() > 0:
					value = s.Find("[selected]").First().AttrOr("value", "")
				case s.Is("select"):
					value = s.Find("option").First().AttrOr("value", "")
				case s.Is("textarea"):
					value = strings.ReplaceAll(s.Text(), "\n", "\r\n")
				}
				fields = append(fields, s.AttrOr("name", ""), value)
			})
			if len(fields) < 8 {
				t.Errorf("%s has %d inputs", sheet, len(fields)/2)
			}
			if a := d.post(at+"/facts", fields...); a.Code != http.StatusSeeOther {
				t.Errorf("%s, %s: %d %s", sample, sheet, a.Code, squeeze(a.doc(t).Find("#problems").Text()))
			}
		}
		head := d.page(at).Find("#head")
		if title := head.Find("#undo").AttrOr("title", ""); title != "Nothing to take back" || !strings.Contains(head.Text(), "State 1") {
			t.Errorf("%s was changed: %s", sample, title)
		}
	}
}

// Two people have the same sheet open: what each changed stands; the same field
// changed by both is refused to the second, who keeps what they typed.
func TestTwoPeopleOnOneEnquiry(t *testing.T) {
	d := newDesk(t)
	page := d.page(demo + "?sheet=services")
	const ze = "site.supply.ze_ohm"
	shown := func(path string) string { return input(page, "o:"+path) }
	first := d.post(demo+"/facts", "sheet", "services", "o:"+fuse, shown(fuse), "v:"+fuse, "250", "b:"+fuse, "told", "w:"+fuse, "first")
	second := d.post(demo+"/facts", "sheet", "services",
		"o:"+fuse, shown(fuse), "v:"+fuse, "200", "b:"+fuse, "told", "w:"+fuse, "owner's agent", // as it was shown
		"o:"+ze, shown(ze), "v:"+ze, "0.21", "b:"+ze, "measured", "w:"+ze, "second")
	if first.Code != http.StatusSeeOther || second.Code != http.StatusSeeOther {
		t.Fatalf("%d, %d", first.Code, second.Code)
	}
	after := d.page(demo + "?sheet=services")
	if input(after, "v:"+fuse) != "250" || input(after, "v:"+ze) != "0.21" {
		t.Errorf("fuse %s, loop %s: one change was lost", input(after, "v:"+fuse), input(after, "v:"+ze))
	}
	clash := d.post(demo+"/facts", "sheet", "services", "o:"+fuse, shown(fuse), "v:"+fuse, "315", "b:"+fuse, "told", "w:"+fuse, "second")
	doc := clash.doc(t)
	if clash.Code != http.StatusUnprocessableEntity || input(doc, "v:"+fuse) != "315" || !strings.Contains(doc.Find("#problems").Text(), "somebody else wrote 250") {
		t.Errorf("%d: %s", clash.Code, squeeze(doc.Find("#problems").Text()))
	}
	again := d.post(demo+"/facts", "sheet", "services", "o:"+fuse, input(doc, "o:"+fuse), "v:"+fuse, "315", "b:"+fuse, "told", "w:"+fuse, "second")
	if again.Code != http.StatusSeeOther || input(d.page(demo+"?sheet=services"), "v:"+fuse) != "315" {
		t.Error("sent once more, the change did not stand")
	}
}

func TestAPersonIsWarnedOfAnother(t *testing.T) {
	owner := newDesk(t)
	sam := owner.colleague("Sam", register.Sales)
	state := func(d *desk) string { return d.page(demo).Find(".others").AttrOr("hx-get", "") }
	mine := state(owner)
	sam.post(demo+"/facts", "sheet", "services", "v:"+fuse, "250", "b:"+fuse, "told", "w:"+fuse, "him")
	if got := owner.get(mine).Body; !strings.Contains(got, "Sam has saved") {
		t.Errorf("the warning says %q", got)
	}
	if got := squeeze(sam.get(mine).Body); got != "" {
		t.Errorf("a person is warned of themselves: %q", got)
	}
	if got := squeeze(owner.get(state(owner)).Body); got != "" {
		t.Errorf("a fresh page is warned: %q", got)
	}
}

func TestEquipmentIsAddedChangedAndRemoved(t *testing.T) {
	d := newDesk(t)
	tags := func() []string {
		return d.page(demo + "?sheet=equipment").Find(".item .tag").Map(func(_ int, s *goquery.Selection) string { return s.Text() })
	}
	before := len(tags())
	d.post(demo+"/entries", "sheet", "equipment", "add", "equipment.items", "product", "FV-10")
	if got := tags(); len(got) != before+1 || !strings.Contains(strings.Join(got, " "), "FV5") {
		t.Errorf("after adding: %v", got)
	}
	d.post(demo+"/facts", "sheet", "equipment", "v:equipment.items[1].product", "BH-5-E-2V")
	doc := d.page(demo + "?sheet=equipment")
	if doc.Find(`select[name="v:equipment.items[1].product"] [selected]`).AttrOr("value", "") != "BH-5-E-2V" {
		t.Error("the brewhouse was not changed")
	}
	d.post(demo+"/entries", "sheet", "equipment", "remove", "equipment.items[1]", "product", "FV-10")
	if got := tags(); len(got) != before || strings.Contains(strings.Join(got, " "), "BH1") {
		t.Errorf("after removing: %v", got)
	}
}

func TestListEntriesAreAddedAndRemoved(t *testing.T) {
	d := newDesk(t)
	for _, tt := range []struct{ sheet, list string }{
		{"brief", "brief.beers"},
		{"building", "site.room.columns"},
		{"building", "site.room.doors"},
		{"building", "site.room.drains"},
		{"building", "site.room.keep_clear"},
		{"floor", "site.floor.build_up"},
		{"floor", "site.floor.bays"},
		{"floor", "site.floor.members"},
		{"way-in", "site.routes"},
		{"way-in", "site.routes[1].steps"},
	} {
		t.Run(tt.list, func(t *testing.T) {
			entries := func() int { return d.page(demo + "?sheet=" + tt.sheet).Find("button[name=remove]").Length() }
			before := entries()
			for range 2 {
				if a := d.post(demo+"/entries", "sheet", tt.sheet, "add", tt.list); a.Code != http.StatusSeeOther {
					t.Fatalf("%d %s", a.Code, squeeze(a.doc(t).Find("main").Text()))
				}
			}
			if got := entries(); got < before+2 {
				t.Errorf("%d entries, were %d", got, before)
			}
			if a := d.post(demo+"/entries", "sheet", tt.sheet, "remove", tt.list+"[1]"); a.Code != http.StatusSeeOther {
				t.Errorf("remove: %d", a.Code)
			}
		})
	}
}

func TestTheSurveyIsAnsweredInPlace(t *testing.T) {
	d := newDesk(t)
	const path = "site.ventilation.extract_m3_h"
	before := d.page(demo + "?sheet=survey")
	if before.Find(`input[name="v:`+path+`"]`).Length() != 1 {
		t.Fatal("the extract is not on the survey list")
	}
	a := d.post(demo+"/facts", "sheet", "survey", "o:"+path, input(before, "o:"+path), "v:"+path, "900", "b:"+path, "", "w:"+path, "")
	if a.Code != http.StatusSeeOther {
		t.Fatalf("status %d", a.Code)
	}
	if d.page(demo+"?sheet=survey").Find(`input[name="v:`+path+`"]`).Length() != 0 {
		t.Error("the answered line is still on the survey list")
	}
}

// The drawings of the papers are seen on the screen too: the tanks over the year, the
// load of the cooling, the single-line diagram, the programme, the plan.
func TestDrawingsAreOnTheScreen(t *testing.T) {
	d := newDesk(t)
	drawings := d.page(demo + "?sheet=papers").Find(".drawing img")
	var said []string
	drawings.Each(func(_ int, img *goquery.Selection) {
		said = append(said, strings.ToLower(img.AttrOr("alt", "")))
		a := d.get(img.AttrOr("src", ""))
		if a.Code != http.StatusOK || a.Header.Get("Content-Type") != "image/svg+xml" || !strings.HasPrefix(a.Body, "<svg ") {
			t.Errorf("%s: %d %s", img.AttrOr("src", ""), a.Code, a.Header.Get("Content-Type"))
		}
		if err := xml.Unmarshal([]byte(a.Body), new(struct{})); err != nil {
			t.Errorf("%s: %v", img.AttrOr("src", ""), err)
		}
	})
	t.Log(strings.Join(said, "; "))
	for _, want := range []string{"tank", "cool", "line", "programme", "plan"} {
		if !slices.ContainsFunc(said, func(s string) bool { return strings.Contains(s, want) }) {
			t.Errorf("no drawing of %q", want)
		}
	}
	if a := d.get(demo + "/papers/production.svg?figure=99"); a.Code != http.StatusNotFound {
		t.Errorf("a drawing that is not there: %d", a.Code)
	}
}
