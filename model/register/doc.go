// Package register folds entries to the present state. It is pure: the same
// entries give the same state, in whatever order and however often they come.
// It never computes physics: a release carries the verdict it saw.
//
// # The table of merge rules
//
// Reviewed before code; a kind not listed here is unknown (see below).
//
//	kind              class        targets             rule
//	cycle-begun       fact         cycle, pot, packs   grow-only; names what each pack comes from; not in the fold of the pot
//	step, readings    fact         cycle               grow-only
//	interrupted       fact         cycle               grow-only
//	                                                   cycle-begun, step, readings, interrupted by a removed device: a hold on the
//	                                                   cycle; two beginnings that differ: a hold on the cycle
//	cycle-closed      fact         cycle               grow-only; "aborted" lays a final hold on the cycle
//	unloaded          fact         cycle, packs        a pack wet, torn or with unchanged tape: final hold on it;
//	                                                   two wet packs: a hold on the cycle
//	witness           fact         cycle               not reached: a hold on the cycle
//	incident          fact         cycle, pot          opened under pressure, boiled dry: a final hold on the cycle
//	amended           fact         as its original     a judged field: releases that rely on the original stop counting;
//	                                                   the original was a bad fact: a hold stays in its place
//	compared          fact         gauge, pot          a larger error than a load's plan allowed for: a hold on the load, unless its
//	                                                   first entry names the comparison or the one before had it in its past;
//	                                                   one that takes another back frees nothing, and what that one vouched for is in doubt
//	                                                   by a device taken out since before, and a load's plan rests on it (so too a site
//	                                                   statement or a policy): a hold on the load, unless one that counts had answered it
//	clock-set, card-made, restored, disinfected, stock-out
//	                  fact         their noun          grow-only
//	pack-made         fact         pack                two that differ, or one by a removed device: a hold on the pack
//	pack-moved, set-counted, label
//	                  fact         pack                grow-only; tell where it is and what is in it
//	piece-lost        fact         pack                closes the search for a piece missing by the count that it relies on, no other
//	pack-opened       fact         pack, cycle         final hold on the pack: it was used; a strip not at its end point
//	                                                   also holds the load, so its siblings
//	pack-spoilt       fact         pack                final hold on the pack: events beat dates
//	spore-placed      fact         test, cycle, pot     grow-only; not in the fold of the pot
//	spore-read        fact         test, cycle, pot     growth: a hold on the cycle and on the pot; void or negative: nothing;
//	                                                   a negative whose reader, or who laid it in, was taken out since before, or of which somebody tells
//	                                                   otherwise: what rests on it (a clear, what a recall leans on) counts no more
//	valve-test        fact         pot                  not lifted: a hold on the pot
//	stock             fact         site                 grow-only
//	care-done         fact         pot                 grow-only
//	height-told       fact         site                grow-only; counts until a site statement names it
//	set-care          fact         set                 grow-only
//	shelf-counted     fact         site, packs         grow-only; opens nothing
//	visit, action-done
//	                  fact         site                grow-only; tell, and open nothing
//	looked-into       fact         device              grow-only; takes a warning off the list of what waits, opens nothing
//	lesson, signed-off
//	                  fact         person              grow-only; tell, and open nothing
//	site, sterilizer, gauge, note, reference, set-list
//	                  descriptive  their noun          multi-value: all values not replaced stay; one is shown first,
//	                                                   the same everywhere (highest Lamport counter, then id)
//	                                                   a site whose need was raised: a hold on loads planned for less that do not name it
//	                                                   a reference that showed too much: a hold on loads planned by less than the comparisons
//	                                                   that were made with it, and were not stated anew, say with that
//	founding, site-grant, device-grant, device-removed, joined, accepted, proven
//	                  safety       device, site        package trust; removal wins
//	person, person-gone
//	                  safety       person              shown first as descriptive; gone wins
//	box               safety       site                all told by devices that may manage; locks what is sent, opens nothing else
//	policy            safety       policy              latest by Lamport counter; two at once: the stricter
//	hold              safety       any                 stops its targets until a clear names it
//	reject            safety       cycle, packs        a final hold: nothing clears it
//	recall            safety       recall, cycles      holds the loads that it names, but in a drill; widening names more; a wide one the
//	                                                   loads that it did not know, and its spare ones once its good test proves nothing
//	recall-told       fact         recall              grow-only; what came of looking, opens nothing
//	recall-end        fact         recall              grow-only; ends the list of what waits, opens nothing
//	clear             safety       any                 lifts the holds it names, no other; one that targets a load and names a growth
//	                                                   of its pot frees this load from it
//	release           safety       cycle, packs        opens its targets, on its evidence
//	unknown fact or descriptive                        stored, relayed, not folded
//	unknown safety kind                                a hold on its targets until the program is newer
//
// # Unsafe wins
//
// usable(x) = a release of x by a device authorised for it, whose evidence is
// all here and not amended in a judged field, whose verdict is not "failed" (nor
// "not known" without the override), and no uncleared hold on x or on anything x
// comes from (usable.go). Where evidence is missing the word is "cannot tell here".
//
// The one law: no entry of any kind but a signed release or clear ever enlarges
// the usable set. So a release names the load it opens, the grant of its own
// device and, where it overrides "not known", the policy that allows it: none of
// these can come later. What a release already names may arrive after it (a
// stick out of order, evidence or the certificate of its author), and then it
// counts from that moment; nothing else does. What a release does not name and its verdict
// would rest on (a reading of another device that comes later, a second load with the
// same pack) takes the release away until somebody looks again.
// A property test holds the law, and its known-bad twins must fail it.
//
// In a district of many sites each noun has a house, the site where it was first told of (house.go). What counts for the good (a release, a clear, a description) counts
// from that site, or from the office for a clinic that accepted the district; a hold may be lifted by the site that laid it, too. Anybody may stop anything.
// Two sites that say that a noun is theirs: on the register of one of them it is its own, elsewhere nobody speaks for it. Good news (a needle, a pack found, a test without growth) is
// heard from who speaks for the noun or has it; another's needle holds the load until somebody looks.
//
// Entries of a device that was never certified are not in the fold; they are
// listed as claims. Of a device that was removed, holds count and facts after the cut-off count for the bad: what a
// verdict would rest on holds its load until somebody in charge looks, and what could only be good news is passed over. Its releases
// and clears after the cut-off do not count. Of a device that was copied the facts of both branches count, its releases and clears from the fork on do not.
package register
