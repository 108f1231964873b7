//! What the trials of one stability test came through.
//!
//! Substitution is a map of one phase to the next, and brings trials that start far apart to one path within
//! some steps: what comes to where another trial was goes on as that one did, and tells nothing new.

use std::cell::{Cell, RefCell};

use crate::helmholtz::MAX_COMPONENTS;

/// Differences of partial densities, in parts of their sum, within which a trial is where another was.
const BESIDE: f64 = 0.01;

type Densities = [f64; MAX_COMPONENTS];

/// Partial densities, mol/m3, of the trials so far.
#[derive(Default)]
pub(super) struct Trails {
    /// Of those brought nearer by substitution, whose densities are on their way.
    brought: RefCell<Vec<Densities>>,
    /// Where the last of these begins.
    begun: Cell<usize>,
    /// Of patient ones, at the tested pressure.
    patient: RefCell<Vec<Densities>>,
}

fn are_beside(all: &[Densities], trial: &Densities) -> bool {
    let is_beside = |other: &Densities| {
        let sum: f64 = other.iter().sum();
        let mut both = trial.iter().zip(other);
        both.all(|(n, other)| (n - other).abs() < BESIDE * sum)
    };
    all.iter().any(is_beside)
}

impl Trails {
    /// Begins the trail of a trial that is brought nearer.
    pub(super) fn begin(&self) {
        self.begun.set(self.brought.borrow().len());
    }

    /// Whether it has come to where another was.
    pub(super) fn meet(&self, trial: &Densities) -> bool {
        let brought = self.brought.borrow();
        are_beside(&brought[..self.begun.get()], trial) || are_beside(&self.patient.borrow(), trial)
    }

    /// Keeps where it is.
    pub(super) fn leave(&self, trial: &Densities) {
        self.brought.borrow_mut().push(*trial);
    }

    /// The same for a patient trial. Of one that goes nowhere both trails are forgotten: another may.
    pub(super) fn patiently<T>(&self, follow: impl FnOnce(&mut Trail<'_>) -> T) -> T {
        let mut all = self.patient.borrow_mut();
        let own = all.len();
        let mut trail = Trail { all: &mut all, own };
        let answer = follow(&mut trail);
        if trail.all.len() == own {
            self.brought.borrow_mut().truncate(self.begun.get());
        }
        answer
    }
}

/// What a patient trial came through.
pub(super) struct Trail<'a> {
    all: &'a mut Vec<Densities>,
    /// Where its own begins.
    own: usize,
}

impl Trail<'_> {
    /// Whether it has come to where another patient one was.
    pub(super) fn meets(&self, trial: &Densities) -> bool {
        are_beside(&self.all[..self.own], trial)
    }

    pub(super) fn leave(&mut self, trial: Densities) {
        self.all.push(trial);
    }

    /// Forgets it.
    pub(super) fn forget(&mut self) {
        self.all.truncate(self.own);
    }
}
