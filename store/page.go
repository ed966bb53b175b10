package store

import (
	"encoding/binary"
	"fmt"
	"hash/fnv"
	"io"
)

// bbolt trusts its pages: it follows a damaged length or page number through mapped
// memory, and the process dies of it before anyone could say why. So pages are
// looked at here first, by reading the file and believing nothing. Numbers are in the
// order of the machine, as bbolt writes them.
//
// Source: bbolt v1.5.0, internal/common/page.go, meta.go, bucket.go.
const (
	pageHead     = 16 // id 8, flags 2, count 2, overflow 4
	elementSize  = 16 // branch: pos 4, key size 4, page 8; leaf: flags 4, pos 4, key size 4, value size 4
	bucketHead   = 16 // root page 8, sequence 8
	branchPage   = 0x01
	leafPage     = 0x02
	freelistPage = 0x10
	bucketFlag   = 0x01
	metaSummed   = 56     // bytes of the meta below its checksum
	countBeyond  = 0xffff // the count of a freelist is its first number instead
	anyDepth     = 1 << 30
)

var ne = binary.NativeEndian

// pages reads the pages of one file.
type pages struct {
	f        io.ReaderAt
	size     int64 // of a page
	root     uint64
	freelist uint64
	high     uint64 // pages from here on are not in use
	seen     map[uint64]bool
}

// readPages reads the later of the two metas that is sound, as bbolt does.
func readPages(f io.ReaderAt, fileSize, pageSize int64) (*pages, error) {
	var latest *pages
	var latestTx uint64
	for i := range int64(2) {
		b := make([]byte, pageHead+metaSummed+8)
		if _, err := f.ReadAt(b, i*pageSize); err != nil {
			continue // cut short; the other one decides
		}
		m := b[pageHead:]
		h := fnv.New64a()
		_, _ = h.Write(m[:metaSummed]) // a hash never fails
		tx := ne.Uint64(m[48:])
		if h.Sum64() != ne.Uint64(m[metaSummed:]) || latest != nil && tx < latestTx {
			continue
		}
		latestTx = tx
		latest = &pages{f: f, size: pageSize, root: ne.Uint64(m[16:]), freelist: ne.Uint64(m[32:]), high: ne.Uint64(m[40:]), seen: map[uint64]bool{}}
	}
	if latest == nil {
		return nil, fmt.Errorf("neither root page is sound: %w", ErrCorrupt)
	}
	if have := uint64(fileSize / pageSize); have < latest.high {
		return nil, fmt.Errorf("%d pages are left of %d: %w", have, latest.high, ErrCorrupt)
	}
	return latest, nil
}

// page is one page with what it runs over into.
type page struct {
	id    uint64
	flags uint16
	count int
	b     []byte
}

func (p *pages) read(id uint64) (page, error) {
	bad := func(why string) (page, error) { return page{}, fmt.Errorf("page %d %s: %w", id, why, ErrCorrupt) }
	if id < 2 || id >= p.high {
		return bad("is named and not in use")
	}
	head := make([]byte, pageHead)
	if _, err := p.f.ReadAt(head, int64(id)*p.size); err != nil {
		return page{}, err
	}
	overflow := uint64(ne.Uint32(head[12:]))
	if ne.Uint64(head) != id || id+overflow >= p.high {
		return bad("doesn't know itself")
	}
	for i := id; i <= id+overflow; i++ {
		if p.seen[i] {
			return bad("is used twice")
		}
		p.seen[i] = true
	}
	pg := page{id: id, flags: ne.Uint16(head[8:]), count: int(ne.Uint16(head[10:])), b: make([]byte, int64(1+overflow)*p.size)}
	_, err := p.f.ReadAt(pg.b, int64(id)*p.size)
	return pg, err
}

// checkFreelist sees that the list of free pages is one; bbolt reads it at opening.
func (p *pages) checkFreelist() error {
	pg, err := p.read(p.freelist)
	if err != nil {
		return err
	}
	ids, count := pg.b[pageHead:], uint64(pg.count)
	if count == countBeyond {
		count, ids = ne.Uint64(ids), ids[8:]
	}
	if pg.flags != freelistPage || count > uint64(len(ids)/8) {
		return fmt.Errorf("the list of free pages is not one: %w", ErrCorrupt)
	}
	for i := range count {
		free := ne.Uint64(ids[i*8:])
		if free < 2 || free >= p.high || p.seen[free] {
			return fmt.Errorf("page %d can't be free: %w", free, ErrCorrupt)
		}
		p.seen[free] = true
	}
	return nil
}

// checkTop sees that the first pages of the buckets are sound: what opening reads.
func (p *pages) checkTop() error { return p.checkTree(p.root, 2) }

// checkAll goes through all pages in use.
func (p *pages) checkAll() error { return p.checkTree(p.root, anyDepth) }

// checkTree goes through the pages from one down, as deep as it may.
func (p *pages) checkTree(id uint64, depth int) error {
	if depth == 0 {
		return nil
	}
	pg, err := p.read(id)
	if err != nil {
		return err
	}
	if pg.flags != leafPage && pg.flags != branchPage || pg.flags == branchPage && pg.count == 0 {
		return fmt.Errorf("page %d is neither branch nor leaf: %w", id, ErrCorrupt)
	}
	return p.checkElements(pg, depth-1)
}

func (p *pages) checkElements(pg page, depth int) error {
	bad := func(i int) error { return fmt.Errorf("page %d: element %d is not whole: %w", pg.id, i, ErrCorrupt) }
	for i := range pg.count {
		at := pageHead + i*elementSize
		if at+elementSize > len(pg.b) {
			return bad(i)
		}
		e := pg.b[at:]
		if pg.flags == branchPage {
			if !within(e, ne.Uint32(e), ne.Uint32(e[4:])) {
				return bad(i)
			}
			if err := p.checkTree(ne.Uint64(e[8:]), depth); err != nil {
				return err
			}
			continue
		}
		pos, key, value := ne.Uint32(e[4:]), ne.Uint32(e[8:]), ne.Uint32(e[12:])
		if !within(e, pos, key, value) {
			return bad(i)
		}
		if ne.Uint32(e)&bucketFlag != 0 {
			if err := p.checkBucket(pg.id, e[pos+key:pos+key+value], depth); err != nil {
				return err
			}
		}
	}
	return nil
}

// checkBucket follows a bucket to its root page, or into the small page that lies in its value.
func (p *pages) checkBucket(in uint64, value []byte, depth int) error {
	if len(value) < bucketHead {
		return fmt.Errorf("page %d: a bucket is cut short: %w", in, ErrCorrupt)
	}
	if root := ne.Uint64(value); root != 0 {
		return p.checkTree(root, depth)
	}
	b := value[bucketHead:]
	if len(b) < pageHead || ne.Uint16(b[8:]) != leafPage {
		return fmt.Errorf("page %d: a small bucket holds no leaf: %w", in, ErrCorrupt)
	}
	return p.checkElements(page{id: in, flags: leafPage, count: int(ne.Uint16(b[10:])), b: b}, depth)
}

// within reports whether pieces of the given sizes, one after the other from pos
// on, lie in b.
func within(b []byte, pos uint32, sizes ...uint32) bool {
	end := uint64(pos)
	for _, s := range sizes {
		end += uint64(s)
	}
	return end <= uint64(len(b))
}
