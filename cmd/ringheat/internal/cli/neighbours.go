package cli

import (
	"os"
	"path/filepath"
	"sync"

	"ringheat/analyze/ingest"
)

// neighbours finds the date order that other logs of the same folder settle, for logs whose own dates leave
// it even. It looks at the call's logs of a folder in their order and takes the first that settles it by
// itself, so that its answer depends on nothing but the list of logs.
type neighbours struct {
	logs   []input
	lock   sync.Mutex
	orders map[string]ingest.DateOrder
}

// most is how many logs of a folder are looked at.
const mostNeighbours = 20

// order gives the order for a log's folder; AnyOrder when no other log settles it.
func (n *neighbours) order(path string) ingest.DateOrder {
	dir := filepath.Dir(path)
	n.lock.Lock()
	defer n.lock.Unlock()
	if o, known := n.orders[dir]; known {
		return o
	}
	found := ingest.AnyOrder
	looked := 0
	for _, l := range n.logs {
		if l.path == "" || filepath.Dir(l.path) != dir {
			continue
		}
		if looked++; looked > mostNeighbours {
			break
		}
		if found = ownOrder(l.path); found != ingest.AnyOrder {
			break
		}
	}
	if n.orders == nil {
		n.orders = map[string]ingest.DateOrder{}
	}
	n.orders[dir] = found
	return found
}

// ownOrder is the date order that a log settles by itself.
func ownOrder(path string) ingest.DateOrder {
	file, err := os.Open(path)
	if err != nil {
		return ingest.AnyOrder
	}
	defer file.Close()
	r, err := ingest.Read(path, file, ingest.Options{})
	if err != nil || r.Reading.DateOrderEven || r.Reading.DateOrder == ingest.YMD {
		return ingest.AnyOrder
	}
	return r.Reading.DateOrder
}
