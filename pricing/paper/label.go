package paper

import "strconv"

// Labels are the words that writers put on a page themselves.
type Labels struct {
	Continued   string
	Caution     string
	Note        string
	Source      string
	Sources     string
	Contents    string
	Number      string
	Revision    string
	Date        string
	For         string
	PreparedBy  string
	Need        string
	Have        string
	Remedies    string
	Accepted    string
	Assumptions string
	OpenPoints  string
	FactsStand  string
	Assumption  string
	Basis       string
	Confirm     string
	OpenPoint   string
	Who         string
	When        string
	NoneAssumed string
	NoneOpen    string
	NoFindings  string
	With        string // before the values of a working
	Signed      string
	Tables      string
	Empty       string
	gravity     [5]string
	page        func(n, of string) string
}

// Gravity is a finding's weight in words.
func (l *Labels) Gravity(g Gravity) string {
	if int(g) < len(l.gravity) {
		return l.gravity[g]
	}
	return l.gravity[Mentions]
}

// Page is the line that counts pages.
func (l *Labels) Page(n, of int) string { return l.page(strconv.Itoa(n), strconv.Itoa(of)) }

// LabelsFor returns the writers' own words in the locale's language.
func LabelsFor(l Locale) *Labels {
	if l == DeDE {
		return &germanLabels
	}
	return &englishLabels
}

var englishLabels = Labels{
	Continued:   "continued",
	Caution:     "Caution",
	Note:        "Note",
	Source:      "Source",
	Sources:     "Sources",
	Contents:    "Contents",
	Number:      "Number",
	Revision:    "Revision",
	Date:        "Date",
	For:         "For",
	PreparedBy:  "Prepared by",
	Need:        "Needs",
	Have:        "Has",
	Remedies:    "What would mend it",
	Accepted:    "Accepted",
	Assumptions: "Assumptions to confirm",
	OpenPoints:  "Open points",
	FactsStand:  "Assumptions and open points",
	Assumption:  "Taken as true",
	Basis:       "Known from",
	Confirm:     "To be confirmed by",
	OpenPoint:   "Question",
	Who:         "Who can answer",
	When:        "Needed by",
	NoneAssumed: "No assumptions are recorded for this document.",
	NoneOpen:    "No open points are recorded for this document.",
	NoFindings:  "Nothing to report.",
	With:        "with",
	Signed:      "Name, date, signature",
	Tables:      "Tables",
	Empty:       "No entries.",
	gravity: [...]string{
		Stops: "Must be solved", Warns: "Should be solved", Mentions: "For your attention",
		Unanswered: "Not known yet", InOrder: "In order",
	},
	page: func(n, of string) string { return "Page " + n + " of " + of },
}

var germanLabels = Labels{
	Continued:   "Fortsetzung",
	Caution:     "Achtung",
	Note:        "Hinweis",
	Source:      "Quelle",
	Sources:     "Quellen",
	Contents:    "Inhalt",
	Number:      "Nummer",
	Revision:    "Revision",
	Date:        "Datum",
	For:         "Für",
	PreparedBy:  "Erstellt von",
	Need:        "Bedarf",
	Have:        "Vorhanden",
	Remedies:    "Mögliche Abhilfe",
	Accepted:    "Akzeptiert",
	Assumptions: "Zu bestätigende Annahmen",
	OpenPoints:  "Offene Punkte",
	FactsStand:  "Annahmen und offene Punkte",
	Assumption:  "Annahme",
	Basis:       "Herkunft",
	Confirm:     "Zu bestätigen durch",
	OpenPoint:   "Frage",
	Who:         "Wer kann antworten",
	When:        "Gebraucht bis",
	NoneAssumed: "Zu diesem Dokument sind keine Annahmen vermerkt.",
	NoneOpen:    "Zu diesem Dokument sind keine offenen Punkte vermerkt.",
	NoFindings:  "Nichts zu melden.",
	With:        "mit",
	Signed:      "Name, Datum, Unterschrift",
	Tables:      "Tabellen",
	Empty:       "Keine Einträge.",
	gravity: [...]string{
		Stops: "Muss gelöst werden", Warns: "Sollte gelöst werden", Mentions: "Zur Beachtung",
		Unanswered: "Noch nicht bekannt", InOrder: "In Ordnung",
	},
	page: func(n, of string) string { return "Seite " + n + " von " + of },
}
