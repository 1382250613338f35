// Package trust says who may do what: which devices may sign for a site, up to
// where in their streams, and which clinics belong to a district. It is a pure fold of
// entries; there is no list outside the register.
//
//   - A root speaks for its own sites: its stream grants the keys of sites. Every entry names the root that it was made under, and what another root grants to the same key
//     changes nothing for it.
//   - A root may name the key that comes after it, which signs that too. The new key speaks for the root from then on; of what the old one says later only stops count. Where one key
//     named two, and not one after the other, neither speaks. A root's name stays what it was: entries and paper go on naming it.
//   - A site's key grants devices for that site, each with caps.
//   - A clinic alone is a district of one site. It joins another by two entries: the office (its root, or a device of the site that the root calls the office)
//     says "joined", naming the clinic's root and its one site; the clinic's root says "accepted". Nothing of its past is signed anew: its entries go on naming
//     the root that they were made under.
//   - A register counts the entries of a family of roots: its own, those of the districts that its own ever accepted, and all that ever joined these, each for its own site only. A
//     family only grows: what somebody stopped stays stopped. Who speaks for the good is another matter: of several districts accepted the last, of two roots that were let
//     in for one site neither, but the register's own for its own.
//   - Devices of the office speak for the sites of which the root accepted the district, with the words compared; for others they can only record and stop. What they
//     release or clear there names the acceptance.
//   - A removal by a root, by the site's key, by a managing device of the site or by the office wins over every grant of that stream; of two removals the lower
//     cut-off counts.
//   - A device that was once certified and is later removed keeps its facts and holds; its
//     releases and clears after the cut-off do not count.
//   - A device that was never certified is not in the fold at all.
package trust
