//! The face for developers: one refrigerant, pure or blend, and what can be asked of it.
//!
//! A [`Refrigerant`] resolves its name once, builds the mixture model once, and is then cheap to
//! clone and to share between threads. Everything behind it works in molar SI and in the model's
//! own order of components; here it becomes SI by mass in the user's order.

mod answers;
mod batch;
mod beside_lines;
mod coil;
mod curves;
mod ideal;
mod isobar_ends;
mod kept;
mod quick;
mod reference_state;
mod row;
mod saturation;
mod slices;
mod state;
mod tolerance;

use std::sync::{Arc, OnceLock};

use crate::Warning;
pub use answers::{
    CriticalPoint, Derived, Limits, LinePoint, PhaseProperties, Saturation, SaturationPoint, State,
};
pub use batch::Unanswered;
pub(crate) use batch::for_each_row;
pub use ideal::IdealPoint;
pub(crate) use quick::Quick;
pub use quick::Wanted;
pub use reference_state::ReferenceState;
pub use row::StateRow;
pub use slices::By;
pub use state::Given;
pub use tolerance::Band;

use crate::catalogue::records::{
    BlendRecord, MeasuredDeviation, MeasuredVapors, PairKind, PairRecord, PureRecord, Refit,
};
use crate::catalogue::{Basis, Catalogue, Component, Composition};
use crate::curve::{Between, Curve};
use crate::equilibrium::BlendLimits;
use crate::equilibrium::critical::critical_point;
use crate::equilibrium::envelope::Envelope;
use crate::equilibrium::line::BlendLine;
use crate::error::Result;
use crate::helmholtz::mixture::Pair;
use crate::helmholtz::{FixedComposition, Mixture, MoleFractions, PureEquation};
use crate::units::{Pressure, Temperature};
use reference_state::Shift;

/// Difference of mole fractions up to which two compositions are one.
const SAME: f64 = 1e-12;

/// A refrigerant, pure or blend, ready to be asked.
///
/// Cheap to clone, `Send` and `Sync`. Its lines are read from curves, which are built from the
/// equation where they are first asked for ([`crate::curve`]); [`Refrigerant::exact`] solves the
/// equation each time.
///
/// # Example
/// ```
/// use zeotrope::{Refrigerant, units::Temperature};
/// let r134a = Refrigerant::named("R-134a")?;
/// let pressure = r134a.dew_pressure(Temperature::celsius(5.0))?;
/// // Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657: 0.34966 MPa
/// assert!((pressure.in_bar() - 3.4966).abs() < 1e-4);
/// # Ok::<(), zeotrope::Error>(())
/// ```
#[derive(Debug, Clone)]
pub struct Refrigerant(Arc<Inner>, Way);

/// Where a point of a line comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    /// From the curve, and from the solver where that has no answer.
    Curve,
    /// From the solver.
    Solver,
}

#[derive(Debug)]
struct Inner {
    composition: Composition,
    /// Place in the model of each component in the user's order.
    places: Vec<usize>,
    mixture: Mixture,
    /// Mole fractions in the model's order.
    x: MoleFractions,
    molar_mass: f64,
    blend: Option<Arc<BlendRecord>>,
    pairs: Vec<PairTrust>,
    shifts: [OnceLock<Result<Shift>>; 6],
    line: BlendLine,
    corners: OnceLock<Option<Vec<tolerance::Corner>>>,
    critical_point: OnceLock<Option<CriticalPoint>>,
    limits: Limits,
    /// A pure refrigerant's one, a blend's bubble and dew.
    curves: Vec<Curve>,
    /// A blend's states between both.
    between: Between,
}

/// How a pair of components is known.
#[derive(Debug, Clone, PartialEq)]
pub struct PairTrust {
    /// First component's designation.
    pub first: String,
    /// Second component's designation.
    pub second: String,
    /// How the pair is known.
    pub kind: PairKind,
    /// The pair's record; `None` where nothing is known and all parameters are 1.
    pub record: Option<Arc<PairRecord>>,
}

impl PairTrust {
    /// The refit in use; `None` where the published parameters are.
    pub fn refit(&self) -> Option<&Refit> {
        self.record.as_ref()?.refitted.as_ref()
    }

    /// The distance of what is in use from measured bubble points; `None` where none is on record.
    pub fn measured(&self) -> Option<&MeasuredDeviation> {
        self.record.as_ref()?.measured.as_ref()
    }

    /// The same of measured vapors.
    pub fn measured_vapors(&self) -> Option<&MeasuredVapors> {
        self.record.as_ref()?.measured_vapors.as_ref()
    }
}

impl Refrigerant {
    /// A refrigerant by designation, any usual spelling, a common chemical name, or a composition
    /// in the standard's notation in mass %.
    ///
    /// # Errors
    /// [`crate::Error::UnknownRefrigerant`] with the nearest spellings;
    /// [`crate::Error::Refused`] for a blend that is not carried;
    /// [`crate::Error::Composition`] for a notation that says no composition.
    pub fn named(text: &str) -> Result<Self> {
        Self::from_catalogue(&Catalogue::embedded(), text, Basis::Mass)
    }

    /// As [`Refrigerant::named`], from a catalogue that may hold a user's own files, and with a
    /// composition counted by mass or by mole.
    ///
    /// # Errors
    /// As [`Refrigerant::named`], and [`crate::Error::Catalogue`] for a broken file.
    pub fn from_catalogue(catalogue: &Catalogue, text: &str, basis: Basis) -> Result<Self> {
        Self::from_composition(catalogue, catalogue.resolve(text, basis)?)
    }

    /// From names and fractions of one, as a program holds them: no text in between.
    ///
    /// # Units
    /// Fractions 0 to 1, by `basis`; their sum 1 within 1e-9 ([`crate::catalogue::normalized`]
    /// brings other amounts to that).
    ///
    /// # Errors
    /// As [`Catalogue::compose`].
    ///
    /// # Example
    /// ```
    /// use zeotrope::{Basis, Refrigerant};
    /// let parts = [("R-32", 0.23), ("R-125", 0.25), ("R-134a", 0.52)];
    /// let blend = Refrigerant::from_fractions(&parts, Basis::Mass)?;
    /// assert_eq!(blend.designation(), "R-407C");
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn from_fractions(fractions: &[(&str, f64)], basis: Basis) -> Result<Self> {
        let catalogue = Catalogue::embedded();
        let composition = catalogue.compose(fractions, basis)?;
        Self::from_composition(&catalogue, composition)
    }

    /// From a composition that is already resolved, of the same catalogue.
    ///
    /// # Errors
    /// [`crate::Error::Catalogue`] for a broken file of a component or pair.
    pub fn from_composition(catalogue: &Catalogue, composition: Composition) -> Result<Self> {
        // Sorted inside, so that the order of writing changes nothing.
        let components = composition.components();
        let mut order: Vec<usize> = (0..components.len()).collect();
        order.sort_by(|&a, &b| components[a].designation.cmp(&components[b].designation));
        let mut places = vec![0; order.len()];
        for (place, &user) in order.iter().enumerate() {
            places[user] = place;
        }
        let sorted: Vec<&Component> = order.iter().map(|&k| &components[k]).collect();
        let mut equations = Vec::with_capacity(sorted.len());
        for component in &sorted {
            equations.push(equation(catalogue.pure(&component.designation)?)?);
        }
        let mut pairs = Vec::new();
        let mut trust = Vec::new();
        for first in 0..sorted.len() {
            for second in first + 1..sorted.len() {
                let names = (&sorted[first].designation, &sorted[second].designation);
                let found = catalogue.pair(names.0, names.1)?;
                if let Some((record, swapped)) = &found {
                    let (first, second) = if *swapped {
                        (second, first)
                    } else {
                        (first, second)
                    };
                    let departure = match &record.departure {
                        Some(name) => Some((catalogue.departure(name)?, record.departure_factor)),
                        None => None,
                    };
                    let mut reducing = record.reducing;
                    if let Some(refit) = &record.refitted {
                        reducing.beta_t = refit.beta_t;
                        reducing.gamma_t = refit.gamma_t;
                    }
                    pairs.push(Pair {
                        first,
                        second,
                        reducing,
                        departure,
                    });
                }
                trust.push(PairTrust {
                    first: names.0.clone(),
                    second: names.1.clone(),
                    kind: found
                        .as_ref()
                        .map_or(PairKind::Estimated, |(record, _)| record.kind),
                    record: found.map(|(record, _)| record),
                });
            }
        }
        let mixture = Mixture::new(equations, &pairs)?;
        let fractions: Vec<f64> = sorted
            .iter()
            .map(|component| component.mole_fraction)
            .collect();
        let x = MoleFractions::new(&fractions);
        let molar_mass = mixture.at_composition(&x).molar_mass();
        let blend = match composition.designation() {
            Some(designation) if components.len() > 1 => Some(catalogue.blend(designation)?),
            _ => None,
        };
        let limits = limits(&mixture);
        let curves = curves::unbuilt_curves(&mixture, &x, &limits);
        let inner = Inner {
            composition,
            places,
            mixture,
            x,
            molar_mass,
            blend,
            pairs: trust,
            shifts: Default::default(),
            line: BlendLine::default(),
            corners: OnceLock::new(),
            critical_point: OnceLock::new(),
            limits,
            curves,
            between: Between::default(),
        };
        Ok(Self(Arc::new(inner), Way::Curve))
    }

    /// The designation, or the composition in the standard's notation.
    pub fn designation(&self) -> &str {
        self.0.composition.label()
    }

    /// Whether it has one component.
    pub fn is_pure(&self) -> bool {
        self.0.composition.is_pure()
    }

    /// The components in the user's order.
    pub fn components(&self) -> &[Component] {
        self.0.composition.components()
    }

    /// What was resolved.
    pub fn composition(&self) -> &Composition {
        &self.0.composition
    }

    /// The components' records in the user's order.
    pub fn records(&self) -> Vec<Arc<PureRecord>> {
        let components = self.0.mixture.components();
        self.0
            .places
            .iter()
            .map(|&place| components[place].record.clone())
            .collect()
    }

    /// The listed blend's record.
    pub fn blend(&self) -> Option<&BlendRecord> {
        self.0.blend.as_deref()
    }

    /// How each pair of components is known.
    pub fn pairs(&self) -> &[PairTrust] {
        &self.0.pairs
    }

    /// Molar mass, kg/mol.
    pub fn molar_mass(&self) -> f64 {
        self.0.molar_mass
    }

    /// Safety class of the standard; `None` where it is not assigned here.
    pub fn safety_class(&self) -> Option<String> {
        if let Some(blend) = &self.0.blend {
            return blend.safety_class.as_ref().map(|class| class.value.clone());
        }
        if !self.is_pure() {
            return None;
        }
        let record = &self.0.mixture.components()[0].record;
        record
            .safety_class
            .as_ref()
            .map(|class| class.value.clone())
    }

    /// Where it is answered: for a blend down to -60 °C or its components' common lowest
    /// temperature, whichever is lower, up to the lowest of the components' highest.
    pub fn limits(&self) -> Limits {
        self.0.limits
    }

    /// The critical point of a pure refrigerant's equation, or of a blend's traced envelope;
    /// `None` where the envelope could not be traced.
    pub fn critical_point(&self) -> Option<CriticalPoint> {
        *self.0.critical_point.get_or_init(|| {
            let (temperature, density) = if self.is_pure() {
                let critical = self.0.mixture.components()[0].critical;
                (critical.temperature, critical.density)
            } else {
                let critical = self.envelope().ok()?.critical;
                (critical.temperature, critical.density)
            };
            let isotherm = self.fixed().isotherm(temperature);
            Some(CriticalPoint {
                temperature: Temperature::kelvin(temperature),
                pressure: Pressure::pascal(isotherm.pressure(density)),
                density: density * self.0.molar_mass,
            })
        })
    }

    /// A blend's phase envelope, in the model's order of components; traced at the first call.
    ///
    /// # Errors
    /// [`crate::Error::NotConverged`] where the curve was lost.
    pub fn envelope(&self) -> Result<&Envelope> {
        self.0.line.envelope(&self.0.mixture, &self.0.x)
    }

    /// The mixture model behind the refrigerant, components in its own sorted order.
    pub fn model(&self) -> (&Mixture, &MoleFractions) {
        (&self.0.mixture, &self.0.x)
    }

    /// What is found out about the lines of a composition of this model: kept, where it is the
    /// refrigerant's own.
    pub(crate) fn with_line_of<T>(
        &self,
        z: &MoleFractions,
        ask: impl FnOnce(&BlendLine) -> T,
    ) -> T {
        let own = self.0.x.iter().zip(z.iter());
        if own.into_iter().all(|(own, z)| (own - z).abs() < SAME) {
            return ask(&self.0.line);
        }
        ask(&BlendLine::default())
    }

    /// What to know about every answer of this refrigerant.
    pub fn warnings(&self) -> Vec<Warning> {
        let mut warnings = Vec::new();
        if let Some(text) = self
            .0
            .blend
            .as_ref()
            .and_then(|blend| blend.warning.clone())
        {
            warnings.push(Warning::CompositionNotFixed(text));
        }
        let estimated: Vec<&PairTrust> = self
            .0
            .pairs
            .iter()
            .filter(|pair| pair.kind == PairKind::Estimated && pair.refit().is_none())
            .collect();
        if !estimated.is_empty() {
            // A fitted estimate has moved the reducing temperature.
            let is_fitted = |pair: &&PairTrust| {
                let record = pair.record.as_ref();
                record.is_some_and(|record| record.reducing.gamma_t != 1.0)
            };
            let names = |pair: &&PairTrust| (pair.first.clone(), pair.second.clone());
            warnings.push(Warning::EstimatedPair {
                is_fitted: estimated.iter().all(is_fitted),
                pairs: estimated.iter().map(names).collect(),
            });
        }
        warnings
    }

    fn fixed(&self) -> FixedComposition<'_> {
        self.0.mixture.at_composition(&self.0.x)
    }
}

fn limits(mixture: &Mixture) -> Limits {
    let blend = BlendLimits::of(mixture);
    let (coldest, highest) = match mixture.components() {
        [one] => {
            let alone = mixture.at_composition(&MoleFractions::new(&[1.0]));
            let critical = alone.isotherm(one.critical.temperature);
            let critical = critical.pressure(one.critical.density);
            let coldest = one.record.range.temperature_min_k;
            (coldest, blend.highest_pressure.max(critical))
        }
        _ => (blend.coldest, blend.highest_pressure),
    };
    Limits {
        temperature_min: Temperature::kelvin(coldest),
        temperature_max: Temperature::kelvin(blend.hottest),
        pressure_max: Pressure::pascal(highest),
    }
}

/// A component's equation, its critical point solved for where the file does not hold it.
fn equation(record: Arc<PureRecord>) -> Result<Arc<PureEquation>> {
    let known = record.critical_point.equation.is_some();
    let mut equation = PureEquation::new(record);
    if !known {
        let start = equation.critical;
        let alone = Mixture::new(vec![Arc::new(equation.clone())], &[])?;
        let fixed = alone.at_composition(&MoleFractions::new(&[1.0]));
        equation.critical = critical_point(&fixed, start)?;
    }
    Ok(Arc::new(equation))
}
