//! Small dense factorisations, written out so that the same input gives the same bits on every machine.
//!
//! Why not a library: the order of elimination *is* the rank of the demands (see [`RankedFactor`]), and a library
//! that picks its kernels by processor gives other last bits on another machine.
#![allow(
    clippy::indexing_slicing,
    reason = "sizes are fixed by the constructors of this module"
)]

/// Lower triangle of `A = L L^T`, rows packed one after another.
#[derive(Debug, Clone)]
pub(super) struct Factor {
    size: usize,
    lower: Vec<f64>,
}

impl Factor {
    /// Factorises a symmetric positive definite matrix given row by row (`size * size` values).
    ///
    /// A pivot that is not positive is lifted to a tiny positive one: the quadratic of a degenerate piece then still
    /// has one minimum instead of none.
    pub(super) fn new(size: usize, matrix: &[f64]) -> Self {
        let mut lower = vec![0.0; size * (size + 1) / 2];
        let largest = (0..size)
            .map(|i| matrix[i * size + i].abs())
            .fold(1e-300, f64::max);
        for i in 0..size {
            let row = i * (i + 1) / 2;
            for j in 0..=i {
                let other = j * (j + 1) / 2;
                let dot = dot(&lower[row..row + j], &lower[other..other + j]);
                let rest = matrix[i * size + j] - dot;
                lower[row + j] = if i == j {
                    rest.max(largest * 1e-14).sqrt()
                } else {
                    rest / lower[other + j]
                };
            }
        }
        Self { size, lower }
    }

    /// Solves `L y = b` in place. Entries of `b` before `first` must be zero.
    pub(super) fn forward(&self, first: usize, b: &mut [f64]) {
        for i in first..self.size {
            let row = i * (i + 1) / 2;
            let rest = b[i] - dot(&self.lower[row + first..row + i], &b[first..i]);
            b[i] = rest / self.lower[row + i];
        }
    }

    /// Solves `L^T x = y` in place.
    pub(super) fn backward(&self, y: &mut [f64]) {
        for i in (0..self.size).rev() {
            let row = i * (i + 1) / 2;
            let value = y[i] / self.lower[row + i];
            y[i] = value;
            for (rest, l) in y[..i].iter_mut().zip(&self.lower[row..row + i]) {
                *rest -= l * value;
            }
        }
    }
}

/// Factor of the demands' matrix, taken in order of rank: a demand that the better ranked ones already settle is left
/// out, so it is always the lower rank that gives way.
#[derive(Debug, Clone)]
pub(super) struct RankedFactor {
    factor: Factor,
    /// Which rows are kept, in order.
    pub(super) kept: Vec<usize>,
}

/// A row whose own part is below this share of the largest demands nothing at all (an edge sewn to its own mirror image).
const NOTHING: f64 = 1e-18;

/// A row whose own part is below this share of its size depends on the rows before it.
const DEPENDENT: f64 = 1e-9;

impl RankedFactor {
    /// Factorises `matrix` (`size * size`, row by row), rows already in order of rank; `give` is added to the diagonal.
    pub(super) fn new(size: usize, matrix: &[f64], give: &[f64]) -> Self {
        let mut lower: Vec<f64> = Vec::with_capacity(size * (size + 1) / 2);
        let mut kept: Vec<usize> = Vec::with_capacity(size);
        let mut row = Vec::with_capacity(size);
        let largest = (0..size)
            .map(|i| matrix[i * size + i] + give[i])
            .fold(0.0, f64::max);
        for i in 0..size {
            row.clear();
            for (k, &j) in kept.iter().enumerate() {
                let other = k * (k + 1) / 2;
                let rest = matrix[i * size + j] - dot(&row, &lower[other..other + k]);
                row.push(rest / lower[other + k]);
            }
            let own = matrix[i * size + i] + give[i];
            let pivot = own - row.iter().map(|v| v * v).sum::<f64>();
            if pivot > DEPENDENT * own && pivot > NOTHING * largest {
                lower.append(&mut row);
                lower.push(pivot.sqrt());
                kept.push(i);
            }
        }
        Self {
            factor: Factor {
                size: kept.len(),
                lower,
            },
            kept,
        }
    }

    /// Solves for the forces of the kept rows, from their right-hand sides.
    pub(super) fn solve(&self, right: &[f64]) -> Vec<f64> {
        let mut forces: Vec<f64> = self.kept.iter().map(|&i| right[i]).collect();
        self.factor.forward(0, &mut forces);
        self.factor.backward(&mut forces);
        forces
    }
}

/// Sum of products over the shorter of both.
pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    // Four running sums let the processor add side by side; the order is fixed, so the bits are too.
    let mut sums = [0.0; 4];
    let (a4, a_rest) = a.as_chunks::<4>();
    let (b4, b_rest) = b.as_chunks::<4>();
    for (x, y) in a4.iter().zip(b4) {
        for k in 0..4 {
            sums[k] += x[k] * y[k];
        }
    }
    let rest: f64 = a_rest.iter().zip(b_rest).map(|(x, y)| x * y).sum();
    (sums[0] + sums[1]) + (sums[2] + sums[3]) + rest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_factor_solves_its_own_matrix() {
        // A = M^T M + I for a fixed M; x known; b = A x.
        let n = 7;
        let m: Vec<f64> = (0..n * n)
            .map(|k| ((k * 37 + 11) % 17) as f64 / 17.0 - 0.4)
            .collect();
        let mut a = vec![0.0; n * n];
        for i in 0..n {
            for j in 0..n {
                a[i * n + j] = (0..n).map(|k| m[k * n + i] * m[k * n + j]).sum::<f64>()
                    + if i == j { 1.0 } else { 0.0 };
            }
        }
        let x: Vec<f64> = (0..n).map(|k| k as f64 - 2.5).collect();
        let mut b: Vec<f64> = (0..n)
            .map(|i| (0..n).map(|j| a[i * n + j] * x[j]).sum())
            .collect();
        let factor = Factor::new(n, &a);
        factor.forward(0, &mut b);
        factor.backward(&mut b);
        for (got, wanted) in b.iter().zip(&x) {
            approx::assert_abs_diff_eq!(got, wanted, epsilon = 1e-10);
        }
    }

    #[test]
    fn the_later_of_two_equal_demands_is_left_out() {
        // Rows 0 and 2 are the same demand; row 1 is independent.
        let matrix = [2.0, 0.5, 2.0, 0.5, 1.0, 0.5, 2.0, 0.5, 2.0];
        let factor = RankedFactor::new(3, &matrix, &[0.0; 3]);
        assert_eq!(factor.kept, [0, 1]);
    }
}
