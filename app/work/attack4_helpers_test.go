package work_test

import (
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
)

// zmonth is a month of the own clinic.
func (b *bench) zmonth(y int, m time.Month) work.Figures {
	b.t.Helper()
	x, err := b.d.MonthOf(y, m)
	b.check(err)
	return x.Sites[0]
}

// zsteal takes out the other devices of a clinic since a moment.
func (b *bench) zsteal(since time.Time) {
	b.t.Helper()
	devices, err := b.d.Devices()
	b.check(err)
	for _, dev := range devices {
		if s, err := b.d.SiteID(); err == nil && dev.Site == s && !dev.Own && !dev.Removed {
			b.check(b.d.RemoveDevice(dev.Stream, since, "stolen that day"))
		}
	}
}

// zvoid tells of a test once more: its control did not grow.
func (b *bench) zvoid(n byte, test model.ID) {
	b.t.Helper()
	read, err := b.d.SporeTest(test)
	b.check(err)
	b.put(b.manager(n), entry.Draft{Kind: model.KindSporeRead, Targets: read.ReadBy.Body().Refs(), Relies: []entry.ID{read.PlacedBy.ID()},
		Payload: model.SporeRead{Hours: 48, Degrees: 57, At: b.clk.Wall.UnixMilli()}})
	if read, err = b.d.SporeTest(test); err != nil || read.Said != model.SporeVoid {
		b.t.Fatal(read.Said, err)
	}
}
