//! What is left as a refrigerant of its own, and the lens of two components that a loss goes
//! through.

use super::answer::Shift;
use super::book::Row;
use super::question::LossQuestion;
use crate::catalogue::{Basis, Catalogue, normalized};
use crate::equilibrium::bubble_dew::Branch;
use crate::equilibrium::line::BlendLine;
use crate::error::{Error, Result};
use crate::helmholtz::MoleFractions;
use crate::process::reasons;
use crate::refrigerant::Refrigerant;
use crate::units::{Pressure, Temperature, fixed};

/// After what the composition is meant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Was {
    /// A loss of this share of the mass.
    Lost(f64),
    /// So many losses of this share and top-ups.
    ToppedUp(f64, usize),
}

impl Shift {
    /// What there is after the largest loss asked for, or after the last round of top-up, as an
    /// unlisted mixture: without class and tolerances, even if it is very near to the listed blend.
    ///
    /// # Errors
    /// [`Error::NoAnswer`] where no share lost was asked for or the loss ends before it.
    pub fn left(
        &self,
        question: &LossQuestion,
        catalogue: &Catalogue,
    ) -> Result<(Refrigerant, Was)> {
        let asked = question.lost.iter().copied().reduce(f64::max);
        let last = asked.and_then(|lost| {
            let mut rows = self.rows.iter();
            rows.find(|row| row.lost_mass_fraction == lost)
        });
        let Some(last) = last else {
            return Err(Error::NoAnswer {
                reason: reasons::LOSS_NOT_SAID.into(),
                hint: "give a share lost, for example 30 %".into(),
            });
        };
        let lost = last.lost_mass_fraction;
        let (row, was) = match self.rounds.last() {
            Some(round) => (&round.row, Was::ToppedUp(lost, self.rounds.len())),
            None => (last, Was::Lost(lost)),
        };
        Ok((self.mixture(row, catalogue)?, was))
    }

    fn mixture(&self, row: &Row, catalogue: &Catalogue) -> Result<Refrigerant> {
        let names: Vec<&str> = self
            .identity
            .composition
            .iter()
            .map(|one| one.refrigerant.as_str())
            .collect();
        let shares = &row.remaining_mass_fractions;
        let percents: Vec<String> = shares.iter().map(|w| fixed(w * 100.0, 2)).collect();
        let label = format!("{} ({})", names.join("/"), percents.join("/"));
        let parts: Vec<(&str, f64)> = names.into_iter().zip(shares.iter().copied()).collect();
        let composition = catalogue.compose(&normalized(&parts)?, Basis::Mass)?;
        Refrigerant::from_composition(catalogue, composition.as_unlisted(label))
    }
}

/// Compositions at which a lens is drawn.
const LENS: usize = 50;

/// Bubble and dew pressure of two components at a temperature, against the mass share of the
/// user's first; compositions without both are left out, and all of other counts of components.
pub fn lens(refrigerant: &Refrigerant, at: Temperature) -> Vec<(f64, [Pressure; 2])> {
    let mixture = refrigerant.model().0;
    let [first, second] = refrigerant.components() else {
        return Vec::new();
    };
    let leads = mixture.components()[0].record.designation == first.designation;
    let mut found = Vec::new();
    for step in 0..=LENS {
        let mass = step as f64 / LENS as f64;
        let moles = [mass / first.molar_mass, (1.0 - mass) / second.molar_mass];
        let z = match leads {
            true => MoleFractions::new(&moles),
            false => MoleFractions::new(&[moles[1], moles[0]]),
        };
        let line = |branch| {
            let line = BlendLine::default();
            let pair = line
                .at_temperature(mixture, &z, branch, at.in_kelvin())
                .ok()?;
            Some(Pressure::pascal(pair.pressure))
        };
        if let (Some(bubble), Some(dew)) = (line(Branch::Bubble), line(Branch::Dew)) {
            found.push((mass, [bubble, dew]));
        }
    }
    found
}
