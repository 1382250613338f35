package model

// Kind says what an entry records. Its merge class follows from its number, so
// that an author cannot mis-flag an entry. A number is never reused and its
// meaning never changed; an unknown safety kind holds its targets.
type Kind uint16

// Class is how entries of a kind merge.
type Class uint8

// The merge classes; the table of rules is in the documentation of model/register.
const (
	Fact        Class = iota + 1 // 1..999: grow-only
	Descriptive                  // 1000..1999: multi-value
	Safety                       // 2000 and up: unsafe wins
)

// Class of a kind.
func (k Kind) Class() Class {
	switch {
	case k >= 2000:
		return Safety
	case k >= 1000:
		return Descriptive
	}
	return Fact
}

// Facts.
const (
	KindCycleBegun  Kind = 1  // CycleBegun: plan frozen, load listed
	KindStep        Kind = 2  // Step: lit, vent started, zero seen...
	KindReadings    Kind = 3  // Readings: the needle at moments
	KindCycleClosed Kind = 4  // CycleClosed: run to the end, or aborted
	KindUnloaded    Kind = 5  // Unloaded: tape, dryness, wrap of each pack
	KindWitness     Kind = 6  // Witness: the inside of the test pack
	KindIncident    Kind = 7  // Incident: burn, lid, opened under pressure
	KindAmended     Kind = 8  // Amended: a correction beside its original
	KindClockSet    Kind = 9  // ClockSet: what a person says the date is
	KindCardMade    Kind = 10 // CardMade: a wall card was printed
	KindInterrupted Kind = 11 // Interrupted: the device was off in a cycle
	KindCompared    Kind = 12 // Compared: a gauge beside a reference
	KindRestored    Kind = 13 // Restored: this device went on from a backup
	KindDisinfected Kind = 14 // Disinfected: boiled or flamed for immediate use
	KindStockOut    Kind = 15 // StockOut: a consumable was missing
	KindLesson      Kind = 16 // Lesson: a person passed a lesson on the practice pot
	KindSignedOff   Kind = 17 // SignedOff: a supervisor lets a person act alone
	KindPackMade    Kind = 18 // PackMade: a set packed and labelled
	KindPackMoved   Kind = 19 // PackMoved: stored, issued, lent, sent, back
	KindPackOpened  Kind = 20 // PackOpened: opened for use, with the strip inside
	KindPackSpoilt  Kind = 21 // PackSpoilt: torn, wet, dropped, expired
	KindSetCounted  Kind = 22 // SetCounted: a set back from use
	KindLabel       Kind = 23 // LabelPrinted
	KindSporePlaced Kind = 24 // SporePlaced: a spore test laid into a load
	KindSporeRead   Kind = 25 // SporeRead: read after incubation
	KindValveTest   Kind = 26 // ValveTest: the safety valve lifted on purpose
	KindStock       Kind = 27 // StockTold: a consumable counted or received
	KindPieceLost   Kind = 28 // PieceLost: the search for a missing piece is closed
	KindCareDone    Kind = 29 // CareDone: a task of the pot's care was done, with the part used
	KindHeightTold  Kind = 30 // HeightTold: the altitude by another way
	KindSetCare     Kind = 31 // SetCare: pieces of a set sent for repair, back, replaced, retired
	KindLookedInto  Kind = 33 // LookedInto: somebody in charge answers for a warning
	KindShelfCount  Kind = 32 // ShelfCounted: what was found at a place of the shelf, scanned
	KindRecallTold  Kind = 34 // RecallTold: what came of looking for packs that are called back
	KindRecallEnd   Kind = 35 // RecallClosed: all accounted for, or a signed reason
	KindVisit       Kind = 36 // Visit: an officer's checklist at a clinic, and what was agreed on
	KindActionDone  Kind = 37 // ActionDone: what was agreed on was done
)

// Descriptive kinds.
const (
	KindSite       Kind = 1001
	KindSterilizer Kind = 1002
	KindGauge      Kind = 1003
	KindNote       Kind = 1004
	KindReference  Kind = 1005 // Reference: the officer's gauge
	KindSetList    Kind = 1006 // SetList: what belongs in a set
)

// Safety kinds.
const (
	KindFounding      Kind = 2001 // the district's root states itself
	KindSiteGrant     Kind = 2002 // the root names a site's key
	KindDeviceGrant   Kind = 2003 // a site's key names a device
	KindDeviceRemoved Kind = 2004
	KindPerson        Kind = 2005
	KindPersonGone    Kind = 2006
	KindPolicy        Kind = 2007
	KindBox           Kind = 2008 // BoxTold: to what bundles for a site are locked
	KindJoined        Kind = 2009 // Joined: the office takes a clinic with a root of its own into the district
	KindHold          Kind = 2010
	KindClear         Kind = 2011
	KindRelease       Kind = 2012
	KindReject        Kind = 2013
	KindAccepted      Kind = 2014 // Accepted: the clinic's root takes the district's for its own
	KindProven        Kind = 2015 // Proven: the office compared the words of a joining
	KindSucceeded     Kind = 2016 // Succeeded: a root names the key that comes after it
	KindRecall        Kind = 2017 // Recall: loads are called back, wherever their packs went
)

// Known says whether this version folds the kind.
func (k Kind) Known() bool {
	switch {
	case k >= KindCycleBegun && k <= KindActionDone, k >= KindSite && k <= KindSetList,
		k >= KindFounding && k <= KindJoined, k >= KindHold && k <= KindRecall:
		return true
	}
	return false
}
