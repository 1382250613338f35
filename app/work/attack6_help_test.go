package work_test

import (
	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
)

func demoPacks(n, first int) []model.LoadPack { return demo.Packs(n, first) }

func demoChecks(d *work.Desk, id model.ID) ([]model.PackCheck, error) { return demo.GoodChecks(d, id) }
