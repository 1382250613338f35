package exchange

import (
	"bytes"
	"cmp"
	"crypto/ed25519"
	"fmt"
	"slices"
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/model/trust"
	"mvuke/sync/bundle"
)

// memory is a register in memory with a waiting room: what a replica of a test holds.
type memory struct {
	set     *register.Set
	d       entry.District
	streams map[entry.Stream][]entry.Verified
	byID    map[entry.ID]bool
	waiting map[entry.ID]entry.Verified
	words   map[entry.Stream]bundle.Signed
	counter map[entry.Stream]uint64
}

func newMemory(d entry.District) *memory {
	return &memory{register.NewSet(d), d, map[entry.Stream][]entry.Verified{}, map[entry.ID]bool{}, map[entry.ID]entry.Verified{}, map[entry.Stream]bundle.Signed{}, map[entry.Stream]uint64{}}
}

func (m *memory) District() entry.District      { return m.d }
func (m *memory) Roster() (trust.Roster, error) { return m.set.Roster(), nil }
func (m *memory) Has(id entry.ID) (bool, error) { return m.byID[id], nil }

func (m *memory) Heads() (out []bundle.Head, err error) {
	for s, vs := range m.streams {
		followed := map[entry.ID]bool{}
		for _, v := range vs {
			followed[v.Body().Previous] = true
		}
		for _, v := range vs {
			if !followed[v.ID()] {
				out = append(out, bundle.Head{Stream: s, Seq: v.Body().Seq, ID: v.ID()})
			}
		}
	}
	slices.SortFunc(out, func(a, b bundle.Head) int {
		return cmp.Or(bytes.Compare(a.Stream[:], b.Stream[:]), bytes.Compare(a.ID[:], b.ID[:]))
	})
	return out, nil
}

func (m *memory) After(s entry.Stream, seq uint64, give func([]entry.Sealed, bool) error) error {
	var piece []entry.Sealed
	for _, v := range m.streams[s] {
		if v.Body().Seq > seq {
			piece = append(piece, v.Sealed())
		}
	}
	if len(piece) == 0 {
		return nil
	}
	return give(piece, false)
}

func (m *memory) Receive(vs, _ []entry.Verified) (t Took, err error) {
	for _, v := range vs {
		if m.byID[v.ID()] {
			t.Had++
			continue
		}
		m.waiting[v.ID()] = v
	}
	for again := true; again; {
		again = false
		for id, v := range m.waiting {
			if v.Body().Seq == 1 || m.byID[v.Body().Previous] {
				delete(m.waiting, id)
				if !m.byID[id] {
					m.take(v)
					t.New = append(t.New, v)
				}
				again = true
			}
		}
	}
	t.Waiting = len(m.waiting)
	return t, nil
}

func (m *memory) take(v entry.Verified) {
	s := v.Body().Stream
	m.byID[v.ID()] = true
	m.streams[s] = append(m.streams[s], v)
	slices.SortFunc(m.streams[s], func(a, b entry.Verified) int {
		ia, ib := a.ID(), b.ID()
		return cmp.Or(cmp.Compare(a.Body().Seq, b.Body().Seq), bytes.Compare(ia[:], ib[:]))
	})
	m.set.Add(v)
}

func (m *memory) Standings() (out []bundle.Signed, err error) {
	for _, s := range m.words {
		out = append(out, s)
	}
	slices.SortFunc(out, func(a, b bundle.Signed) int { return bytes.Compare(a.Key, b.Key) })
	return out, nil
}

func (m *memory) KeepStanding(x bundle.Standing, s bundle.Signed) error {
	if x.Counter > m.counter[x.Holder] {
		m.counter[x.Holder], m.words[x.Holder] = x.Counter, s
	}
	return nil
}

// digest is the state that a replica shows of every noun.
func (m *memory) digest() (sum [32]byte) {
	refs := map[model.Ref]bool{}
	for _, v := range m.set.All() {
		for _, r := range v.Body().Refs() {
			refs[r] = true
		}
	}
	for r := range refs {
		sum = register.AddDigest(sum, register.Of(m.set, r).Hash())
	}
	return sum
}

// device is a replica with a key of its own.
type device struct {
	*memory
	author *entry.Author
	key    ed25519.PrivateKey
	at     model.Moment
}

// district is a root, a site, and n certified devices that hold the grants.
type district struct {
	t       *testing.T
	devices []*device
	box     Box
	files   uint64
}

func seed(n byte, i int) ed25519.PrivateKey {
	return ed25519.NewKeyFromSeed(append(bytes.Repeat([]byte{n}, 31), byte(i)))
}

func newDistrict(t *testing.T, n int) *district {
	t.Helper()
	d := entry.DistrictOf(seed(1, 0).Public().(ed25519.PublicKey))
	root, site := entry.NewAuthor(seed(1, 0), d), entry.NewAuthor(seed(2, 0), d)
	var trust []entry.Verified
	sign := func(a *entry.Author, x entry.Draft) {
		v, err := a.Sign(x, model.Moment{}, model.ClockGood)
		if err != nil {
			t.Fatal(err)
		}
		a.Advance(v)
		trust = append(trust, v)
	}
	sign(root, entry.Draft{Kind: model.KindFounding, Payload: model.Founding{Name: "Ngareli"}})
	sign(root, entry.Draft{Kind: model.KindSiteGrant, Payload: model.SiteGrant{Site: model.ID{1}, Key: site.Key()}})
	out := &district{t: t}
	var err error
	if out.box, err = BoxOf([]byte("district")); err != nil {
		t.Fatal(err)
	}
	for i := range n {
		k := seed(3, i)
		sign(site, entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: model.ID{1}, Key: k.Public().(ed25519.PublicKey), Letter: "A", Caps: 7}})
		out.devices = append(out.devices, &device{memory: newMemory(d), author: entry.NewAuthor(k, d), key: k})
	}
	for _, x := range out.devices {
		if _, err := x.Receive(trust, nil); err != nil {
			t.Fatal(err)
		}
	}
	return out
}

// act lets a device sign one act.
func (x *device) act(d *district, draft entry.Draft) entry.Verified {
	x.at.Elapsed++
	v, err := x.author.Sign(draft, x.at, model.ClockGood)
	if err != nil {
		d.t.Fatal(err)
	}
	x.author.Advance(v)
	if _, err := x.Receive([]entry.Verified{v}, nil); err != nil {
		d.t.Fatal(err)
	}
	return v
}

// out writes the files that a device takes along for others.
func (d *district) out(x *device, everything bool, to ...*device) []File {
	d.files++
	e := Errand{Sender: bundle.Sender{District: x.d, Key: x.key, Recipients: Addresses([]string{d.box.Address()}), ID: [16]byte{byte(d.files), byte(d.files >> 8), 1}}, Everything: everything, Counter: x.author.Lamport}
	for _, y := range to {
		e.To = append(e.To, y.author.Stream)
	}
	files, _, err := Out(x, e)
	if err != nil {
		d.t.Fatal(err)
	}
	return files
}

// in takes a file in.
func (d *district) in(x *device, f File) Report {
	r := In(x, f.Data, d.box.Identity())
	for _, v := range r.New {
		x.author.Lamport = max(x.author.Lamport, v.Body().Lamport)
	}
	return r
}

func packOf(i int) model.Ref { return model.Ref{Noun: model.NounPack, ID: model.ID{9, byte(i)}} }

func name(i int) string { return fmt.Sprint("device ", i) }

func writtenFile(t *testing.T, s bundle.Sender, c bundle.Content) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := bundle.Write(&b, s, 1, 1, c); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
