//! What random questions found, counted.

use std::collections::BTreeMap;

use super::question::Class;

/// What is wrong with an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fault {
    /// One phase where there are two, or a vapor where there is a liquid.
    WrongPhase,
    /// Not the stable phases, and no warning says that the liquid parts.
    Metastable,
    /// Phases that are not in equilibrium with each other or not at their pressure.
    Unbalanced,
    /// Refused though stability shows that there is an answer, below 0.99 of the critical
    /// temperature.
    Lost,
    /// The same nearer to the top.
    LostNearTheTop,
    /// Asked back by what was answered, another state comes.
    Open,
    /// Dew points of one temperature that are equal or in the wrong order.
    DewOrder,
    /// Through curves another answer than from the solver, or none, or one where it has none.
    Unlike,
}

impl Fault {
    /// Every fault.
    pub const ALL: &'static [Self] = &[
        Self::WrongPhase,
        Self::Metastable,
        Self::Unbalanced,
        Self::Lost,
        Self::LostNearTheTop,
        Self::Open,
        Self::DewOrder,
        Self::Unlike,
    ];

    /// What the fault is called.
    pub fn name(self) -> &'static str {
        match self {
            Self::WrongPhase => "wrong phase",
            Self::Metastable => "metastable without a warning",
            Self::Unbalanced => "not in equilibrium",
            Self::Lost => "lost below 0.99 of the critical temperature",
            Self::LostNearTheTop => "lost near the top",
            Self::Open => "does not close",
            Self::DewOrder => "dew points equal or in the wrong order",
            Self::Unlike => "not alike through curves",
        }
    }
}

/// What became of the questions about one class of blends.
#[derive(Debug, Clone, Default)]
pub struct Counts {
    /// Questions asked.
    pub questions: usize,
    /// Answered, every part of the answer being there.
    pub answered: usize,
    /// Refused in whole or in part, by the kind of reason.
    pub refused: BTreeMap<String, usize>,
    /// Answers that warn of two liquids.
    pub warned: usize,
    /// Faults by kind.
    pub faults: BTreeMap<Fault, usize>,
}

impl Counts {
    /// Questions refused in whole or in part.
    pub fn refusals(&self) -> usize {
        self.refused.values().sum()
    }

    /// How often a fault was found.
    pub fn count(&self, fault: Fault) -> usize {
        self.faults.get(&fault).copied().unwrap_or(0)
    }
}

/// One fault, with what shows it again.
#[derive(Debug, Clone)]
pub struct Finding {
    /// Which kind of blend.
    pub class: Class,
    /// What is wrong.
    pub fault: Fault,
    /// The blend by mole, the question and what was found.
    pub text: String,
}

/// What random questions found.
#[derive(Debug, Clone, Default)]
pub struct RandomReport {
    /// Counts by class.
    pub counts: BTreeMap<Class, Counts>,
    /// The first findings.
    pub findings: Vec<Finding>,
    /// The slowest question and how long it took, s.
    pub slowest: (f64, String),
    /// Seconds spent in the engine.
    pub seconds: f64,
}

impl RandomReport {
    /// How often a fault was found in any class.
    pub fn count(&self, fault: Fault) -> usize {
        self.counts.values().map(|counts| counts.count(fault)).sum()
    }

    /// Questions asked in all.
    pub fn questions(&self) -> usize {
        self.counts.values().map(|counts| counts.questions).sum()
    }
}
