package draw

import "math"

// quantile returns the empirical quantile of a sample at a share p above 0: the smallest
// of its values that at least this share does not pass. It orders the sample so that
// nothing before the quantile's place is larger and nothing after it smaller, which takes
// a few passes where sorting takes fifteen. A sample with a NaN has none.
func quantile(p float64, sample []float64) float64 {
	for _, v := range sample {
		if math.IsNaN(v) {
			return math.NaN()
		}
	}
	k := max(int(math.Ceil(p*float64(len(sample))))-1, 0)
	smallest(sample, k)
	return sample[k]
}

// smallest brings the k-th smallest value, counted from 0, to its place: C. A. R. Hoare,
// Algorithm 65: Find, Communications of the ACM 4 (1961) 321, with the median of three
// values as the pivot.
func smallest(v []float64, k int) {
	for low, high := 0, len(v)-1; low < high; {
		pivot := median(v[low], v[low+(high-low)/2], v[high])
		i, j := low, high
		for i <= j {
			for v[i] < pivot {
				i++
			}
			for pivot < v[j] {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			high = j
		case k >= i:
			low = i
		default:
			return // between the two parts all are the pivot
		}
	}
}

func median(a, b, c float64) float64 { return max(min(a, b), min(max(a, b), c)) }
