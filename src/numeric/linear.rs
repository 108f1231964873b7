//! Small dense linear systems on the stack.
//!
//! The systems here have 3 to 25 unknowns, known only at run time. A matrix type of fixed size
//! would always pay for the largest, one on the heap for the allocation.

use super::largest;

/// Solves `matrix * x = right` in place by Gaussian elimination with row pivoting, each row
/// scaled by its largest element; the solution stands in `right`. Only the first `count` rows and
/// columns are used. False where the matrix is singular or holds what is not a number.
///
/// # Example
/// ```
/// let mut matrix = [[2.0, 1.0], [1.0, 3.0]];
/// let mut right = [3.0, 5.0];
/// assert!(zeotrope::numeric::solve_linear(&mut matrix, &mut right, 2));
/// assert!((right[0] - 0.8).abs() < 1e-15 && (right[1] - 1.4).abs() < 1e-15);
/// ```
pub fn solve_linear<const N: usize>(
    matrix: &mut [[f64; N]; N],
    right: &mut [f64; N],
    count: usize,
) -> bool {
    let mut scale = [0.0; N];
    for (scale, row) in scale.iter_mut().zip(matrix.iter()).take(count) {
        let largest = largest(&row[..count]);
        if !(largest > 0.0 && largest.is_finite()) {
            return false;
        }
        *scale = 1.0 / largest;
    }
    for k in 0..count {
        let mut pivot = k;
        for i in k + 1..count {
            if matrix[i][k].abs() * scale[i] > matrix[pivot][k].abs() * scale[pivot] {
                pivot = i;
            }
        }
        if matrix[pivot][k] == 0.0 || !matrix[pivot][k].is_finite() {
            return false;
        }
        if pivot != k {
            matrix.swap(pivot, k);
            right.swap(pivot, k);
            scale.swap(pivot, k);
        }
        let (above, below) = matrix.split_at_mut(k + 1);
        let (top, inverse) = (&above[k][k + 1..count], 1.0 / above[k][k]);
        let of_top = right[k];
        for (row, right) in below.iter_mut().zip(&mut right[k + 1..count]) {
            let factor = row[k] * inverse;
            if factor == 0.0 {
                continue;
            }
            for (cell, top) in row[k + 1..count].iter_mut().zip(top) {
                *cell -= factor * top;
            }
            *right -= factor * of_top;
        }
    }
    for k in (0..count).rev() {
        let mut sum = right[k];
        for j in k + 1..count {
            sum -= matrix[k][j] * right[j];
        }
        right[k] = sum / matrix[k][k];
    }
    right[..count].iter().all(|x| x.is_finite())
}
