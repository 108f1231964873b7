//! Random refrigerants and random questions about them, from a fixed seed.

use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::{Rng, SeedableRng};

use crate::catalogue::{Basis, Catalogue, normalized};
use crate::refrigerant::Refrigerant;

/// A component of a lower critical temperature is counted as a permanent gas, K: nitrogen, oxygen,
/// argon, methane and lighter ones.
const GAS_BELOW: f64 = 200.0;

/// Kinds of blends that are counted apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Class {
    /// A listed blend.
    Listed,
    /// A user's blend of refrigerants.
    Refrigerants,
    /// A user's blend with water or a permanent gas.
    WithWaterOrGas,
}

impl Class {
    /// Every class.
    pub const ALL: &'static [Self] = &[Self::Listed, Self::Refrigerants, Self::WithWaterOrGas];

    /// That of a user's blend.
    pub(super) fn of(refrigerant: &Refrigerant) -> Self {
        let hard = refrigerant.records().iter().any(|record| {
            let critical = record.critical_point.published.temperature_k;
            record.designation == "R-718" || critical < GAS_BELOW
        });
        if hard {
            Self::WithWaterOrGas
        } else {
            Self::Refrigerants
        }
    }

    /// What the class is called.
    pub fn name(self) -> &'static str {
        match self {
            Self::Listed => "listed blends",
            Self::Refrigerants => "other blends of refrigerants",
            Self::WithWaterOrGas => "other blends with water or a permanent gas",
        }
    }
}

/// A source of random numbers of a fixed seed.
pub(super) struct Random(Pcg64Mcg);

impl Random {
    pub(super) fn new(seed: u64) -> Self {
        Self(Pcg64Mcg::seed_from_u64(seed))
    }

    /// At or above 0 and below 1.
    pub(super) fn unit(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(super) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// Equal chances in the logarithm.
    pub(super) fn scale(&mut self, low: f64, high: f64) -> f64 {
        self.between(low.ln(), high.ln()).exp()
    }

    pub(super) fn below(&mut self, count: usize) -> usize {
        ((self.unit() * count as f64) as usize).min(count - 1)
    }
}

/// A blend with the text that names it, by mole.
pub(super) struct Drawn {
    pub(super) class: Class,
    pub(super) name: String,
    pub(super) refrigerant: Refrigerant,
}

/// Draws blends from a catalogue.
pub(super) struct Blends<'a> {
    catalogue: &'a Catalogue,
    listed: Vec<String>,
    pures: Vec<String>,
}

impl<'a> Blends<'a> {
    pub(super) fn new(catalogue: &'a Catalogue) -> Self {
        Self {
            catalogue,
            listed: catalogue.blend_designations(),
            pures: catalogue.pure_designations(),
        }
    }

    /// A listed blend one time in three, else two to eight of all components.
    pub(super) fn draw(&self, random: &mut Random) -> Option<Drawn> {
        let listed = random.below(3) == 0;
        let (name, composition) = if listed {
            let name = self.listed[random.below(self.listed.len())].clone();
            let composition = self.catalogue.resolve(&name, Basis::Mole).ok()?;
            (name, composition)
        } else {
            let percents = self.users(random);
            let composition = self
                .catalogue
                .compose(&normalized(&percents).ok()?, Basis::Mole);
            (notation(&percents), composition.ok()?)
        };
        let refrigerant = Refrigerant::from_composition(self.catalogue, composition).ok()?;
        if refrigerant.is_pure() {
            return None;
        }
        let class = if listed {
            Class::Listed
        } else {
            Class::of(&refrigerant)
        };
        Some(Drawn {
            class,
            name,
            refrigerant,
        })
    }

    /// A composition in mole %; one in four has extreme fractions. Few components are likelier than
    /// many.
    fn users(&self, random: &mut Random) -> Vec<(&str, f64)> {
        let count = (2 + (7.0 * random.unit().powi(2)) as usize).min(8);
        let mut names: Vec<&str> = Vec::new();
        while names.len() < count {
            let name = self.pures[random.below(self.pures.len())].as_str();
            if !names.contains(&name) {
                names.push(name);
            }
        }
        let extreme = random.below(4) == 0;
        let mut amounts: Vec<f64> = (0..count)
            .map(|_| {
                let amount = random.between(0.02, 1.0);
                if extreme {
                    amount * random.scale(1e-4, 1.0)
                } else {
                    amount
                }
            })
            .collect();
        let sum: f64 = amounts.iter().sum();
        for amount in &mut amounts {
            *amount = (*amount / sum * 1e8).round().max(1.0) / 1e6;
        }
        names.into_iter().zip(amounts).collect()
    }
}

/// The text by which the program can be asked for the same blend.
fn notation(percents: &[(&str, f64)]) -> String {
    let names: Vec<&str> = percents.iter().map(|(name, _)| *name).collect();
    let amounts: Vec<String> = percents
        .iter()
        .map(|(_, amount)| format!("{amount:.6}"))
        .collect();
    format!("{} ({})", names.join("/"), amounts.join("/"))
}
