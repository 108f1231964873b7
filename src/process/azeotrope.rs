//! Azeotropes of two or three components: compositions whose vapor is that of the liquid.
//!
//! Sought is y(x) = x on the bubble line at a temperature or a pressure: with two components by
//! the changes of sign of y - x along x; with three by Newton's method on y - x, derivatives by
//! differences, from a grid of starts. One that lies closer to a pure component than a thousandth
//! counts as that component.

use crate::error::{Blank, RangeUnit, Reason};
use crate::process::reasons;
use serde::Serialize;

use crate::equilibrium::bubble_dew::{self, Branch, PhasePair};
use crate::error::{Error, Result};
use crate::helmholtz::{Mixture, MoleFractions};
use crate::numeric::{bracketed_root, solve_linear};
use crate::refrigerant::Refrigerant;
use crate::service::facts::{Facts, Identity, Model};
use crate::units::{Pressure, Temperature};

/// Least mole fraction of a component of an azeotrope.
const LEAST: f64 = 1e-3;
/// Intervals between which a change of sign is sought.
const INTERVALS: usize = 50;
/// Parts of the grid of starts for three components.
const GRID: usize = 6;
const MOST_STEPS: usize = 25;
/// Step of a mole fraction for derivatives.
const DIFFERENCE: f64 = 1e-6;
/// What of y - x counts as none.
const SETTLED: f64 = 1e-9;
/// Distance within which two found are one.
const SAME: f64 = 1e-4;
/// y - x beneath which vapor and liquid are alike all along, as of one component.
const ALIKE: f64 = 1e-9;

/// Where azeotropes are sought.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum AzeotropeAt {
    /// At a temperature.
    Temperature(Temperature),
    /// At a pressure.
    Pressure(Pressure),
}

/// An azeotrope; fractions in the order of the refrigerant's components.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Azeotrope {
    /// Temperature.
    #[serde(rename = "temperature_K")]
    pub temperature: Temperature,
    /// Pressure.
    #[serde(rename = "pressure_Pa")]
    pub pressure: Pressure,
    /// Mole fractions.
    pub mole_fractions: Vec<f64>,
    /// Mass fractions.
    pub mass_fractions: Vec<f64>,
}

/// The azeotropes that all components of a refrigerant form together, at any composition.
///
/// # Errors
/// [`Error::NoAnswer`] for one component and for more than three.
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::process::azeotrope::{AzeotropeAt, azeotropes};
/// use zeotrope::units::Temperature;
/// let pair = Refrigerant::named("R-1234yf/R-600a (50/50)")?;
/// let found = azeotropes(&pair, AzeotropeAt::Temperature(Temperature::kelvin(283.15)))?;
/// // doi 10.1016/j.fluid.2013.12.015, measured: 446 kPa
/// assert!((found[0].pressure.in_kilopascal() / 446.0 - 1.0).abs() < 0.02);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn azeotropes(refrigerant: &Refrigerant, at: AzeotropeAt) -> Result<Vec<Azeotrope>> {
    let mixture = refrigerant.model().0;
    let search = Search { mixture, at };
    let found = match mixture.count() {
        2 => search.of_two()?,
        3 => search.of_three(),
        count => {
            return Err(Error::NoAnswer {
                reason: Reason::with(
                    reasons::AZEOTROPE_COMPONENTS,
                    "count",
                    Blank::Quantity(count as f64, RangeUnit::None),
                ),
                hint: "ask about two or three components".into(),
            });
        }
    };
    Ok(found.iter().map(|pair| told(refrigerant, pair)).collect())
}

/// What kind of blend a number of the standard stands for (ANSI/ASHRAE 34).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum BlendSeries {
    /// The 400 series.
    Zeotrope,
    /// The 500 series.
    Azeotrope,
}

/// What kind of blend a blend is, by its number and by the model.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct BlendKind {
    /// By its number; none of a composition of one's own.
    pub by_number: Option<BlendSeries>,
    /// Glide at 101.325 kPa, K; none where a point is missing there.
    #[serde(rename = "glide_K")]
    pub glide: Option<f64>,
    /// Azeotropes of all its components at 101.325 kPa, at any composition; none where there are
    /// more than three.
    pub azeotropes: Option<Vec<Azeotrope>>,
}

impl BlendKind {
    /// Looks at a blend; none of one component.
    ///
    /// # Example
    /// ```
    /// use zeotrope::Refrigerant;
    /// use zeotrope::process::azeotrope::{BlendKind, BlendSeries};
    /// let found = BlendKind::for_refrigerant(&Refrigerant::named("R-507A")?).unwrap();
    /// assert_eq!(found.by_number, Some(BlendSeries::Azeotrope));
    /// // AHRI 700, from memory: one boiling point, no glide to tell
    /// assert!(found.glide.unwrap() < 0.1);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn for_refrigerant(refrigerant: &Refrigerant) -> Option<Self> {
        if refrigerant.is_pure() {
            return None;
        }
        let number = refrigerant
            .blend()
            .and_then(|record| record.designation.strip_prefix("R-"));
        let by_number = number.and_then(|number| match number.chars().next() {
            Some('4') => Some(BlendSeries::Zeotrope),
            Some('5') => Some(BlendSeries::Azeotrope),
            _ => None,
        });
        let at = Pressure::kilopascal(101.325);
        let ends = (
            refrigerant.bubble_temperature(at),
            refrigerant.dew_temperature(at),
        );
        let glide = match ends {
            (Ok(bubble), Ok(dew)) => Some(dew.in_kelvin() - bubble.in_kelvin()),
            _ => None,
        };
        Some(Self {
            by_number,
            glide,
            azeotropes: azeotropes(refrigerant, AzeotropeAt::Pressure(at)).ok(),
        })
    }
}

/// The azeotropes of a refrigerant's components, as an answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Azeotropes {
    /// What was asked about; its amounts play no part.
    #[serde(flatten)]
    pub identity: Identity,
    /// What the numbers rest on.
    pub model: Model,
    /// Those found.
    pub azeotropes: Vec<Azeotrope>,
}

impl Azeotropes {
    /// Looks for them.
    ///
    /// # Errors
    /// As [`azeotropes`].
    pub fn new(refrigerant: &Refrigerant, at: AzeotropeAt) -> Result<Self> {
        Ok(Self {
            identity: Identity::of_refrigerant(refrigerant),
            model: Facts::of_refrigerant(refrigerant).model,
            azeotropes: azeotropes(refrigerant, at)?,
        })
    }
}

fn told(refrigerant: &Refrigerant, pair: &PhasePair) -> Azeotrope {
    let components = refrigerant.model().0.components();
    let own = refrigerant.components().iter().map(|one| {
        let mut places = components.iter().zip(pair.liquid.iter());
        let found = places.find(|(other, _)| other.record.designation == one.designation);
        (found.map_or(0.0, |(_, x)| *x), one.molar_mass)
    });
    let own: Vec<(f64, f64)> = own.collect();
    let molar: f64 = own.iter().map(|(x, mass)| x * mass).sum();
    Azeotrope {
        temperature: Temperature::kelvin(pair.temperature),
        pressure: Pressure::pascal(pair.pressure),
        mole_fractions: own.iter().map(|(x, _)| *x).collect(),
        mass_fractions: own.iter().map(|(x, mass)| x * mass / molar).collect(),
    }
}

struct Search<'a> {
    mixture: &'a Mixture,
    at: AzeotropeAt,
}

impl Search<'_> {
    fn bubble(&self, x: &[f64], near: Option<&PhasePair>) -> Result<PhasePair> {
        let z = MoleFractions::new(x);
        let (mixture, branch) = (self.mixture, Branch::Bubble);
        match self.at {
            AzeotropeAt::Temperature(at) => {
                bubble_dew::at_temperature(mixture, &z, branch, at.in_kelvin(), near)
            }
            AzeotropeAt::Pressure(at) => {
                bubble_dew::at_pressure(mixture, &z, branch, at.in_pascal(), near)
            }
        }
    }

    fn of_two(&self) -> Result<Vec<PhasePair>> {
        let mut found = Vec::new();
        let mut before: Option<(f64, f64, PhasePair)> = None;
        for place in 0..=INTERVALS {
            let x = LEAST + (1.0 - 2.0 * LEAST) * place as f64 / INTERVALS as f64;
            let near = before.as_ref().map(|(.., pair)| *pair);
            let Ok(pair) = self.bubble(&[x, 1.0 - x], near.as_ref()) else {
                before = None;
                continue;
            };
            let apart = pair.vapor[0] - x;
            if let Some((low, other, near)) = &before
                && apart * other < 0.0
                && apart.abs().max(other.abs()) > ALIKE
            {
                let error = |x: f64| Ok(self.bubble(&[x, 1.0 - x], Some(near))?.vapor[0] - x);
                let root = bracketed_root(error, *low, x, 1e-10)?;
                found.push(self.bubble(&[root, 1.0 - root], Some(near))?);
            }
            before = Some((x, apart, pair));
        }
        Ok(found)
    }

    fn of_three(&self) -> Vec<PhasePair> {
        let mut found: Vec<PhasePair> = Vec::new();
        for i in 1..GRID {
            for j in 1..GRID - i {
                let start = [i as f64 / GRID as f64, j as f64 / GRID as f64];
                let Some(pair) = self.newton(start) else {
                    continue;
                };
                let known = found.iter().any(|other| {
                    let mut both = other.liquid.iter().zip(pair.liquid.iter());
                    both.all(|(a, b)| (a - b).abs() < SAME)
                });
                if !known {
                    found.push(pair);
                }
            }
        }
        found
    }

    fn newton(&self, start: [f64; 2]) -> Option<PhasePair> {
        let mut x = start;
        let mut near: Option<PhasePair> = None;
        for _ in 0..MOST_STEPS {
            let at = |a: f64, b: f64, near: Option<&PhasePair>| {
                self.bubble(&[a, b, 1.0 - a - b], near).ok()
            };
            let pair = at(x[0], x[1], near.as_ref())?;
            let apart = |pair: &PhasePair| [0, 1].map(|k| pair.vapor[k] - pair.liquid[k]);
            let own = apart(&pair);
            if own.iter().all(|part| part.abs() < SETTLED) {
                return pair.liquid.iter().all(|x| *x > LEAST).then_some(pair);
            }
            let mut matrix = [[0.0; 2]; 2];
            for k in 0..2 {
                let mut moved = x;
                moved[k] += DIFFERENCE;
                let other = apart(&at(moved[0], moved[1], Some(&pair))?);
                for (row, (other, own)) in matrix.iter_mut().zip(other.iter().zip(&own)) {
                    row[k] = (other - own) / DIFFERENCE;
                }
            }
            let mut step = own.map(|part| -part);
            if !solve_linear(&mut matrix, &mut step, 2) {
                return None;
            }
            let longest = step
                .iter()
                .fold(0.0, |most: f64, part| most.max(part.abs()));
            let shrink = (0.1 / longest).min(1.0);
            for (x, step) in x.iter_mut().zip(&step) {
                *x += shrink * step;
            }
            if x.iter().any(|x| *x <= 0.0) || x[0] + x[1] >= 1.0 {
                return None;
            }
            near = Some(pair);
        }
        None
    }
}
