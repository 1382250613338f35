package work

import (
	"fmt"
	"strings"

	"mvuke/model"
	"mvuke/model/register"
)

// Numbers of packs are written by hand and read in bad light: site code and device letters from the grants (so that two devices
// that never meet never give the same), a counter, and a check character. Numbers whose check character looks like another
// are left out.

// clearLetters are those that no other letter or digit looks like.
const clearLetters = "ACDEFHJKLMNPRTUVWXY"

// clearChecks are the check characters that are given.
const clearChecks = clearLetters + "3479"

// Number is one number of a pack.
type Number struct {
	Prefix  string
	Counter int64
	Text    string // as on the label: NDV-A0312-K
}

// numberAt is the number with a counter; ok is false where its check character looks like another.
func numberAt(site, letter string, counter int64) (n Number, ok bool) {
	body := fmt.Sprintf("%s%04d", letter, counter)
	check := model.CheckLetter(site + body)
	return Number{site + letter, counter, site + "-" + body + "-" + check}, strings.Contains(clearChecks, check)
}

// GoodNumber says whether a number as typed keeps its check character; what is not in our form is neither good nor bad.
func GoodNumber(text string) (good, ours bool) {
	bare := strings.ToUpper(strings.NewReplacer("-", "", " ", "", ".", "").Replace(text))
	site := strings.IndexAny(bare, "0123456789") // three letters of the site, one or three of the device
	if len(bare) < 9 || (site != 4 && site != 6) || !allIn(bare[:site], clearLetters) || !allIn(bare[site:len(bare)-1], "0123456789") {
		return false, false
	}
	return model.CheckLetter(bare[:len(bare)-1]) == bare[len(bare)-1:], true
}

func allIn(s, set string) bool {
	for _, r := range s {
		if !strings.ContainsRune(set, r) {
			return false
		}
	}
	return s != ""
}

// SiteCode makes three clear letters from a name: what the root gives where it gives nothing else.
func SiteCode(name string) string {
	code := ""
	for _, r := range strings.ToUpper(name) {
		if strings.ContainsRune(clearLetters, r) && len(code) < 3 {
			code += string(r)
		}
	}
	return (code + "XXX")[:3]
}

// NextNumber is the next number of this device.
func (d *Desk) NextNumber() (n Number, err error) {
	site, letter, err := d.marks()
	if err != nil {
		return n, err
	}
	counter, err := d.Store.HighestCounter(site + letter)
	if err != nil {
		return n, d.unread(err)
	}
	for ok := false; !ok; {
		counter++
		n, ok = numberAt(site, letter, counter)
	}
	return n, nil
}

// marks are the site's code and this device's letter, by their grants.
func (d *Desk) marks() (site, letter string, err error) {
	p, err := d.Place()
	if err != nil {
		return "", "", err
	}
	err = d.read(func(src register.Source) {
		s, _ := src.Roster().Site(p.ID)
		if site = s.Code; site == "" {
			site = SiteCode(p.Site.Name)
		}
		dev, _ := src.Roster().Device(d.author.Stream)
		letter = dev.Letter
	})
	if letter == "" {
		letter = "A"
	}
	return site, letter, err
}
