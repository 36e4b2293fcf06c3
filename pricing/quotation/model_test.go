package quotation

import (
	"errors"
	"slices"
	"testing"

	"tunwright/pricing"

	"pgregory.net/rapid"
)

// Any order of steps keeps what a quotation promises: a step that is not possible is
// refused with the steps that are; what was issued stays as it was; one revision at
// most is on offer; the trail grows by one entry a step; the file comes back whole.
func TestAnyLifeKeepsItsPromises(t *testing.T) {
	from, until := day(t, "2026-05-04"), day(t, "2026-06-05")
	rapid.Check(t, func(rt *rapid.T) {
		q, err := Open("q1", "Mill Loft", "c", by("Ann", 0))
		if err != nil {
			rt.Fatal(err)
		}
		minute := 0
		step := func(did Action, do func(By) (Quote, error)) func(*rapid.T) {
			return func(rt *rapid.T) {
				minute++
				before := q
				next, err := do(by("Bob", minute))
				possible := slices.Contains(before.Possible(), did)
				if err != nil {
					_, refused := errors.AsType[*StepError](err)
					if !possible && !refused {
						rt.Fatalf("%s while %s: %v", did, before.State, err)
					}
					return
				}
				if !possible {
					rt.Fatalf("%s went through while %s", did, before.State)
				}
				if len(next.Log) != len(before.Log)+1 {
					rt.Fatalf("%s made %d entries", did, len(next.Log)-len(before.Log))
				}
				for i, r := range before.Revisions {
					if next.Revisions[i].Digest != r.Digest || next.Revisions[i].Letter != r.Letter {
						rt.Fatalf("%s changed revision %s", did, r.Letter)
					}
				}
				q = next
			}
		}
		rt.Repeat(map[string]func(*rapid.T){
			"draft": step(ActionDraft, func(b By) (Quote, error) {
				var needs []pricing.ApprovalNeed
				if minute%3 == 0 {
					needs = []pricing.ApprovalNeed{{Rule: "margin", Says: "below the floor"}}
				}
				b.Who = "Ann"
				return q.SaveDraft(snapshot("100.00"), needs, b, "")
			}),
			"approve": step(ActionApprove, func(b By) (Quote, error) { return q.Approve(b, "fine") }),
			"issue": step(ActionIssue, func(b By) (Quote, error) {
				return q.Issue(issuing(t, "Q-2026-0001", from, until), b)
			}),
			"accept":  step(ActionAccept, func(b By) (Quote, error) { return q.Accept(acceptance(q), from, b) }),
			"decline": step(ActionDecline, func(b By) (Quote, error) { return q.Decline("too dear", b) }),
			"lapse":   step(ActionLapse, func(b By) (Quote, error) { return q.Lapse(until.AddDays(1), b) }),
			"": func(rt *rapid.T) {
				checkPromises(rt, q)
			},
		})
		text, err := WritePortable(q)
		if err != nil {
			rt.Fatal(err)
		}
		if _, err := ReadPortable("q.json", text); err != nil {
			rt.Fatal(err)
		}
	})
}

func checkPromises(rt *rapid.T, q Quote) {
	if err := q.Verify(); err != nil {
		rt.Fatal(err)
	}
	onOffer := 0
	for _, r := range q.Revisions {
		if r.State == Issued {
			onOffer++
		}
	}
	if onOffer > 1 || onOffer == 1 && (q.State == Accepted || q.State == Declined || q.State == Lapsed) {
		rt.Fatalf("%d revisions on offer while %s", onOffer, q.State)
	}
}
