//! How far a phase is from its spinodal, where it would part by itself.

use super::bubble_dew::PhasePair;
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};

/// Smallest eigenvalue, of 1 in an ideal mixture, from which a phase is far from its spinodal.
pub(super) const FAR: f64 = 0.5;

/// Whether the liquid of a pair is far from where it would part into two by itself.
///
/// A change of composition costs a liquid sum_ij D_ij u_i u_j / 2 of energy, in units of R T, where
///
/// ```text
/// D_ij = [i = j] + sqrt(n_i n_j) G_ij / R_i          u_i = change of n_i / sqrt(n_i)
/// ```
///
/// An ideal mixture has 1 as the smallest eigenvalue of D, a liquid on its spinodal 0; one of
/// `FAR` and more counts as far, where the elimination of D - FAR meets no negative pivot. Two
/// liquids in equilibrium have a spinodal between them, so that no two are among compositions that
/// are all far from it.
pub fn is_far_from_parting(mixture: &Mixture, pair: &PhasePair) -> bool {
    let amounts = amounts(&pair.liquid, pair.liquid_density);
    let at = mixture.potential(pair.temperature, &amounts[..mixture.count()]);
    bends_more_than(FAR, mixture, &amounts, &at.hessian)
}

/// Whether the smallest eigenvalue of D, as in [`is_far_from_parting`], is larger than `least`, at
/// partial densities in mol/m3 and the second derivatives G_ij there.
pub(super) fn bends_more_than(
    least: f64,
    mixture: &Mixture,
    amounts: &[f64; MAX_COMPONENTS],
    hessian: &[[f64; MAX_COMPONENTS]; MAX_COMPONENTS],
) -> bool {
    let mut matrix = [[0.0; MAX_COMPONENTS]; MAX_COMPONENTS];
    let mut count = 0;
    let is_there = |k: &usize| amounts[*k] > 0.0;
    for i in (0..mixture.count()).filter(is_there) {
        let r = mixture.components()[i].record.gas_constant_j_mol_k;
        for (column, j) in (0..mixture.count()).filter(is_there).enumerate() {
            matrix[count][column] = (amounts[i] * amounts[j]).sqrt() * hessian[i][j] / r;
        }
        matrix[count][count] += 1.0 - least;
        count += 1;
    }
    for pivot in 0..count {
        let above = matrix[pivot];
        if above[pivot].is_nan() || above[pivot] <= 0.0 {
            return false;
        }
        for row in &mut matrix[pivot + 1..count] {
            let factor = row[pivot] / above[pivot];
            for (cell, above) in row.iter_mut().zip(above) {
                *cell -= factor * above;
            }
        }
    }
    true
}

/// Partial densities, mol/m3, of a composition at a density.
pub(super) fn amounts(x: &MoleFractions, density: f64) -> [f64; MAX_COMPONENTS] {
    let mut amounts = [0.0; MAX_COMPONENTS];
    for (n, x) in amounts.iter_mut().zip(x.iter()) {
        *n = x * density;
    }
    amounts
}
