package bound

import (
	"crypto/sha256"
	"encoding/binary"
	"math"
	"math/big"
	"math/rand/v2"
)

// Sampling says how a Monte Carlo analysis draws.
type Sampling struct {
	N    int
	Seed [32]byte
	// Normal is 0 for a uniform distribution between the limits; k > 0 for a
	// normal one whose limits are k standard deviations from the middle,
	// truncated there.
	Normal float64
	// Shape, if not nil, stands for Normal per program input.
	Shape []float64
	// Yield is the share of samples that has to hold, for Sampled.Outcome.
	Yield *big.Rat
}

// chunk is the number of samples that are drawn from one set of streams.
const chunk = 1 << 14

// sampler draws points of the spread inputs: one stream per program input and
// chunk, seeded by the hash of the seed, the input's place and the chunk's, so
// that another input does not disturb it.
type sampler struct {
	in      []Input
	top     []ival
	seeds   [][]byte
	streams []*rand.Rand
	shape   []float64
}

// newSampler serves the inputs of a part; from are their places among the
// program inputs. It draws nothing before start.
func newSampler(in []Input, from []int, mc Sampling) *sampler {
	s := &sampler{in: in, top: wideBox(in), streams: make([]*rand.Rand, len(in)), shape: make([]float64, len(in))}
	for i, at := range from {
		s.shape[i] = mc.Normal
		if mc.Shape != nil {
			s.shape[i] = mc.Shape[at]
		}
	}
	for i := range in {
		s.seeds = append(s.seeds, binary.BigEndian.AppendUint64(mc.Seed[:len(mc.Seed):len(mc.Seed)], uint64(from[i])))
	}
	return s
}

// start turns to the streams of a chunk.
func (s *sampler) start(chunk int) {
	for i, seed := range s.seeds {
		text := binary.BigEndian.AppendUint64(seed[:len(seed):len(seed)], uint64(chunk))
		s.streams[i] = rand.New(rand.NewChaCha8(sha256.Sum256(text)))
	}
}

// draw puts one sample at the places of the spread inputs.
func (s *sampler) draw(x []ival) {
	for i := range s.in {
		if s.in[i].Spread {
			v := s.value(i)
			x[i] = ival{lo: v, hi: v}
		}
	}
}

func (s *sampler) value(i int) float64 {
	lo, hi := s.top[i].lo, s.top[i].hi
	k := s.shape[i]
	if k <= 0 {
		return min(max(lo+float64(s.streams[i].Float64()*(hi-lo)), lo), hi)
	}
	for {
		z := s.streams[i].NormFloat64()
		if math.Abs(z) <= k {
			return min(max(lo/2+hi/2+float64(z*((hi-lo)/2/k)), lo), hi)
		}
	}
}
