package picture

// A point is a place in a picture, x to the right and y down, or on a flank,
// x = s and y = t.
type point struct{ x, y float64 }

// contour returns the closed lines inside which the ink reaches level, as places
// on the flank. Lines are closed along the edges of the flank; a hole in the
// pattern is a line of its own, turning the other way.
//
// The method is marching squares on the cell centers, with the outermost values
// carried out to the edge of the flank and a ring of nothing around it.
func (f flank) contour(level float64) [][]point {
	if f.ink == nil {
		return nil
	}
	nx, ny := f.cols+4, f.rows+4
	xs, ys := nodes(f.cols), nodes(f.rows)
	ink := func(i, j int) float64 {
		if i == 0 || j == 0 || i == nx-1 || j == ny-1 {
			return 0
		}
		col, row := min(max(i-2, 0), f.cols-1), min(max(j-2, 0), f.rows-1)
		return f.ink[row*f.cols+col]
	}
	// Edges of the node grid are numbered: first those along x, then along y.
	across := func(i, j int) int { return j*nx + i }
	upward := func(i, j int) int { return nx*ny + j*nx + i }
	next := make([]int, 2*nx*ny)
	at := make([]point, 2*nx*ny)
	for i := range next {
		next[i] = -1
	}
	cross := func(a, b, za, zb float64) float64 {
		if a == b {
			return a
		}
		return a + (b-a)*(level-za)/(zb-za)
	}
	for j := range ny - 1 {
		for i := range nx - 1 {
			z := [4]float64{ink(i, j), ink(i+1, j), ink(i+1, j+1), ink(i, j+1)}
			edge := [4]int{across(i, j), upward(i+1, j), across(i, j+1), upward(i, j)}
			in := [4]bool{z[0] >= level, z[1] >= level, z[2] >= level, z[3] >= level}
			// Going round the square, the inside is left at some edges and entered at
			// others; a line runs from each way out to the next way in, keeping the
			// inside on one side. Where two corners across from each other are inside,
			// they are joined if the middle is inside too.
			joined := z[0]+z[1]+z[2]+z[3] >= 4*level
			for k := range 4 {
				l := (k + 1) % 4
				if !in[k] || in[l] {
					continue
				}
				to := (k + 1) % 4
				if joined {
					for !(!in[to] && in[(to+1)%4]) {
						to = (to + 1) % 4
					}
				} else {
					// Back round to the edge by which this inside stretch was entered.
					to = (k + 3) % 4
					for !(!in[to] && in[(to+1)%4]) {
						to = (to + 3) % 4
					}
				}
				next[edge[k]] = edge[to]
			}
			if in[0] != in[1] {
				at[edge[0]] = point{cross(xs[i], xs[i+1], z[0], z[1]), ys[j]}
			}
			if in[1] != in[2] {
				at[edge[1]] = point{xs[i+1], cross(ys[j], ys[j+1], z[1], z[2])}
			}
			if in[3] != in[2] {
				at[edge[2]] = point{cross(xs[i], xs[i+1], z[3], z[2]), ys[j+1]}
			}
			if in[0] != in[3] {
				at[edge[3]] = point{xs[i], cross(ys[j], ys[j+1], z[0], z[3])}
			}
		}
	}
	var loops [][]point
	for start := range next {
		var loop []point
		for e := start; next[e] >= 0; {
			p := at[e]
			if n := len(loop); n == 0 || loop[n-1] != p {
				loop = append(loop, p)
			}
			e, next[e] = next[e], -1
		}
		if len(loop) > 2 {
			loops = append(loops, loop)
		}
	}
	return loops
}

// nodes are the places of n cells' centers with both ends of 0..1 added twice.
func nodes(n int) []float64 {
	x := make([]float64, n+4)
	for i := range n {
		x[i+2] = (float64(i) + 0.5) / float64(n)
	}
	x[n+2], x[n+3] = 1, 1
	return x
}
