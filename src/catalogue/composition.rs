//! What a refrigerant consists of, and how a text becomes that.

use std::collections::BTreeMap;

use super::records::BlendRecord;
use super::{Catalogue, SpellingMeaning, literal};
use crate::{Error, Result};

/// Most components of a composition, after equal ones are merged.
pub const MOST_COMPONENTS: usize = 8;

/// How far amounts may sum beside 100 %, in percent.
pub(super) const SUM_TOLERANCE: f64 = 0.05 + 1e-9;

/// How far fractions given as numbers may sum beside 1: the rounding of a sum of eight.
const FRACTION_TOLERANCE: f64 = 1e-9;

/// Up to this difference of each mass fraction a composition is a listed blend.
const SAME: f64 = 1e-6;

/// What the amounts of a written composition count.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Basis {
    /// Mass, as the standard's notation has it.
    #[default]
    Mass,
    /// Moles; a blend inside counts as moles of that blend.
    Mole,
}

/// One component of a composition.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Component {
    /// Designation of the pure refrigerant.
    pub designation: String,
    /// Share of the mass, 0 to 1.
    pub mass_fraction: f64,
    /// Share of the moles, 0 to 1.
    pub mole_fraction: f64,
    /// Molar mass, kg/mol.
    pub molar_mass: f64,
}

/// What was done to the amounts of a composition as typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum CompositionNote {
    /// They sum to this, in %, and were scaled to 100 %.
    Scaled(String),
    /// A component at 0 % was dropped.
    Dropped(String),
    /// A blend was expanded into its components.
    Expanded(String),
    /// They were read by mole, while the notation shows them by mass.
    ReadAsMole,
}

/// What a refrigerant consists of; from [`Catalogue::resolve`] or [`Catalogue::compose`] alone, so
/// that its fractions by mass and by mole always belong together.
#[derive(Debug, Clone, PartialEq)]
pub struct Composition {
    designation: Option<String>,
    label: String,
    components: Vec<Component>,
    notes: Vec<CompositionNote>,
}

impl Composition {
    /// The listed pure refrigerant or blend that this is, if it is one.
    pub fn designation(&self) -> Option<&str> {
        self.designation.as_deref()
    }

    /// As printed: the designation, else the standard's notation in mass %, rounded to four
    /// decimals.
    pub fn label(&self) -> &str {
        &self.label
    }

    /// One to [`MOST_COMPONENTS`] different components, in the order asked for.
    pub fn components(&self) -> &[Component] {
        &self.components
    }

    /// What was done to the amounts as typed.
    pub fn notes(&self) -> &[CompositionNote] {
        &self.notes
    }

    /// The same contents under a label of their own and as no listed refrigerant: without class,
    /// tolerance and published points, as what is left of a blend.
    #[must_use]
    pub fn as_unlisted(mut self, label: String) -> Self {
        self.designation = None;
        self.label = label;
        self.notes.clear();
        self
    }

    /// Molar mass of the whole.
    ///
    /// # Units
    /// kg/mol.
    pub fn molar_mass(&self) -> f64 {
        self.components
            .iter()
            .map(|component| component.mole_fraction * component.molar_mass)
            .sum()
    }

    /// Whether it has a single component.
    pub fn is_pure(&self) -> bool {
        self.components.len() == 1
    }
}

impl Catalogue {
    /// Says what a refrigerant consists of: a designation, any usual spelling of
    /// one, a chemical name, or a composition in the standard's notation.
    ///
    /// A composition names components, also listed blends, which are expanded.
    /// Its amounts, in percent by `basis`, are brought to a sum of exactly 100;
    /// a component of 0 % is dropped, equal ones are merged. One that equals a
    /// listed blend within 1e-6 of each mass fraction bears its designation.
    ///
    /// # Errors
    /// - [`Error::UnknownRefrigerant`] where nothing has such a spelling;
    /// - [`Error::Refused`] where the blend, or one inside, is known but not carried;
    /// - [`Error::Composition`] where a notation cannot be read, an amount is below
    ///   zero, the amounts are more than 0.05 off 100, or more than
    ///   [`MOST_COMPONENTS`] components remain;
    /// - [`Error::Catalogue`] where a data file asked for is broken.
    ///
    /// # Example
    /// ```
    /// use zeotrope::{Basis, catalogue::Catalogue};
    /// let catalogue = Catalogue::embedded();
    /// let own = catalogue.resolve("R-32/125/134a (20/25/55)", Basis::Mass)?;
    /// assert_eq!(own.label(), "R-32/R-125/R-134a (20/25/55)");
    /// assert_eq!(own.components()[2].mass_fraction, 0.55);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn resolve(&self, text: &str, basis: Basis) -> Result<Composition> {
        if literal::is_literal(text) {
            return self.resolve_literal(text, basis);
        }
        let found = self.find(text)?;
        let masses = self.masses(&found)?;
        let designation = found.into_designation();
        let components = self.components(&masses)?;
        Ok(Composition {
            label: designation.clone(),
            designation: Some(designation),
            components,
            notes: Vec::new(),
        })
    }

    fn resolve_literal(&self, text: &str, basis: Basis) -> Result<Composition> {
        let entries = literal::entries(text)?;
        let mut notes = Vec::new();
        let sum: f64 = entries.iter().map(|(_, amount)| amount).sum();
        let exact = (sum - 100.0).abs() <= 1e-9;
        if (sum - 100.0).abs() > SUM_TOLERANCE {
            return Err(Error::Composition {
                literal: text.to_owned(),
                problem: format!("the amounts sum to {} %", decimals(sum)),
                hint: "let the amounts sum to 100 %".into(),
            });
        }
        if !exact {
            notes.push(CompositionNote::Scaled(decimals(sum)));
        }
        self.composed(text, &entries, basis, notes)
    }

    /// Says what a refrigerant consists of from names and fractions of one, which a program holds
    /// as numbers.
    ///
    /// Names are spelled as in [`Catalogue::resolve`], listed blends among them; equal components
    /// are merged and a fraction of 0 is dropped. [`normalized`] brings amounts of any sum to
    /// fractions.
    ///
    /// # Units
    /// Fractions 0 to 1, by `basis`.
    ///
    /// # Errors
    /// - [`Error::Composition`] where a fraction is not finite or below zero, their sum is more than
    ///   1e-9 off 1, or more than [`MOST_COMPONENTS`] components remain;
    /// - else as [`Catalogue::resolve`].
    ///
    /// # Example
    /// ```
    /// use zeotrope::{Basis, catalogue::Catalogue};
    /// let parts = [("R-32", 0.23), ("R-125", 0.25), ("R-134a", 0.52)];
    /// let blend = Catalogue::embedded().compose(&parts, Basis::Mass)?;
    /// assert_eq!(blend.designation(), Some("R-407C"));
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn compose(&self, fractions: &[(&str, f64)], basis: Basis) -> Result<Composition> {
        let text = as_text(fractions);
        let sum = checked_sum(&text, fractions)?;
        if (sum - 1.0).abs() > FRACTION_TOLERANCE {
            return Err(Error::Composition {
                literal: text,
                problem: format!("the fractions sum to {sum}"),
                hint: "let the fractions sum to 1, or normalize them".into(),
            });
        }
        let entries: Vec<(String, f64)> = fractions
            .iter()
            .map(|(name, fraction)| ((*name).to_owned(), *fraction))
            .collect();
        self.composed(&text, &entries, basis, Vec::new())
    }

    /// Names and amounts, none below zero and not all of them 0, to a composition.
    fn composed(
        &self,
        text: &str,
        entries: &[(String, f64)],
        basis: Basis,
        mut notes: Vec<CompositionNote>,
    ) -> Result<Composition> {
        let mut masses: Vec<(String, f64)> = Vec::new();
        for (name, amount) in entries {
            let found = self.find(name)?;
            let inside = self.masses(&found)?;
            if *amount == 0.0 {
                notes.push(CompositionNote::Dropped(found.designation().to_owned()));
                continue;
            }
            let weight = match basis {
                Basis::Mass => *amount,
                Basis::Mole => amount * self.molar_mass_of(&inside)?,
            };
            if let SpellingMeaning::Blend(blend) = &found {
                notes.push(CompositionNote::Expanded(blend.clone()));
            }
            for (component, mass) in inside {
                match masses.iter_mut().find(|(other, _)| *other == component) {
                    Some((_, before)) => *before += weight * mass,
                    None => masses.push((component, weight * mass)),
                }
            }
        }
        if masses.len() > MOST_COMPONENTS {
            return Err(Error::Composition {
                literal: text.to_owned(),
                problem: format!("it has {} different components", masses.len()),
                hint: format!("a composition has at most {MOST_COMPONENTS} components"),
            });
        }
        scale(&mut masses);
        let designation = self.listed(&masses)?;
        if basis == Basis::Mole && designation.is_none() {
            notes.push(CompositionNote::ReadAsMole);
        }
        Ok(Composition {
            label: designation.clone().unwrap_or_else(|| notation(&masses)),
            designation,
            components: self.components(&masses)?,
            notes,
        })
    }

    /// Designations and mass fractions of what a spelling means.
    fn masses(&self, found: &SpellingMeaning) -> Result<Vec<(String, f64)>> {
        match found {
            SpellingMeaning::Pure(designation) => Ok(vec![(designation.clone(), 1.0)]),
            SpellingMeaning::Blend(designation) => {
                let record = self.blend(designation)?;
                carried(&record)?;
                Ok(masses_of(&record))
            }
        }
    }

    fn molar_mass_of(&self, masses: &[(String, f64)]) -> Result<f64> {
        let mut moles = 0.0;
        for (designation, mass) in masses {
            moles += mass / self.pure(designation)?.molar_mass_kg_mol;
        }
        Ok(1.0 / moles)
    }

    fn components(&self, masses: &[(String, f64)]) -> Result<Vec<Component>> {
        let whole = self.molar_mass_of(masses)?;
        let mut components = Vec::with_capacity(masses.len());
        for (designation, mass) in masses {
            let molar_mass = self.pure(designation)?.molar_mass_kg_mol;
            components.push(Component {
                designation: designation.clone(),
                mass_fraction: *mass,
                mole_fraction: if masses.len() == 1 {
                    1.0
                } else {
                    mass * whole / molar_mass
                },
                molar_mass,
            });
        }
        Ok(components)
    }

    /// The listed refrigerant that equals a composition, if there is one.
    fn listed(&self, masses: &[(String, f64)]) -> Result<Option<String>> {
        if let [(designation, _)] = masses {
            return Ok(Some(designation.clone()));
        }
        let asked: BTreeMap<&str, f64> = masses.iter().map(|(d, m)| (d.as_str(), *m)).collect();
        let names: Vec<&str> = asked.keys().copied().collect();
        for record in self.blends_of(&names)? {
            let listed = masses_of(&record);
            let same = listed.len() == asked.len()
                && listed.iter().all(|(designation, mass)| {
                    asked
                        .get(designation.as_str())
                        .is_some_and(|other| (other - mass).abs() <= SAME)
                });
            if same {
                carried(&record)?;
                return Ok(Some(record.designation.clone()));
            }
        }
        Ok(None)
    }
}

/// Amounts of any sum above zero as fractions of one, for [`Catalogue::compose`].
///
/// # Errors
/// [`Error::Composition`] where an amount is not finite or below zero, or all are 0.
///
/// # Example
/// ```
/// use zeotrope::catalogue::normalized;
/// // kg in a cylinder
/// let parts = normalized(&[("R-32", 7.0), ("R-125", 3.0)])?;
/// assert_eq!(parts, [("R-32", 0.7), ("R-125", 0.3)]);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn normalized<'a>(amounts: &[(&'a str, f64)]) -> Result<Vec<(&'a str, f64)>> {
    let text = as_text(amounts);
    let sum = checked_sum(&text, amounts)?;
    if !(sum > 0.0 && sum.is_finite()) {
        return Err(Error::Composition {
            literal: text,
            problem: format!("the amounts sum to {sum}"),
            hint: "give at least one amount above zero".into(),
        });
    }
    Ok(amounts
        .iter()
        .map(|(name, amount)| (*name, amount / sum))
        .collect())
}

/// Names and numbers for a message.
fn as_text(amounts: &[(&str, f64)]) -> String {
    let parts: Vec<String> = amounts
        .iter()
        .map(|(name, amount)| format!("{name} {amount}"))
        .collect();
    parts.join(", ")
}

/// The sum of amounts, each finite and not below zero.
fn checked_sum(text: &str, amounts: &[(&str, f64)]) -> Result<f64> {
    for (name, amount) in amounts {
        if !(amount.is_finite() && *amount >= 0.0) {
            return Err(Error::Composition {
                literal: text.to_owned(),
                problem: format!("{amount} of {name} is no amount"),
                hint: "give finite amounts, none below zero".into(),
            });
        }
    }
    Ok(amounts.iter().map(|(_, amount)| amount).sum())
}

/// An error where a blend is known but not carried.
fn carried(record: &BlendRecord) -> Result<()> {
    match &record.refused {
        Some(reason) => Err(Error::Refused {
            designation: record.designation.clone(),
            reason: reason.clone(),
        }),
        None => Ok(()),
    }
}

/// Designations and mass fractions of a blend, in the standard's order.
fn masses_of(record: &BlendRecord) -> Vec<(String, f64)> {
    let mut masses: Vec<(String, f64)> = record
        .components
        .iter()
        .map(|component| (component.refrigerant.clone(), component.mass_percent))
        .collect();
    scale(&mut masses);
    masses
}

/// Brings amounts to a sum of 1.
fn scale(masses: &mut [(String, f64)]) {
    let sum: f64 = masses.iter().map(|(_, mass)| mass).sum();
    for (_, mass) in masses {
        *mass /= sum;
    }
}

/// The standard's notation, mass % to four decimals.
fn notation(masses: &[(String, f64)]) -> String {
    let names: Vec<&str> = masses.iter().map(|(name, _)| name.as_str()).collect();
    let amounts: Vec<String> = masses
        .iter()
        .map(|(_, mass)| decimals(100.0 * mass))
        .collect();
    format!("{} ({})", names.join("/"), amounts.join("/"))
}

/// At most four decimals, without idle zeros; a trace keeps four figures.
fn decimals(value: f64) -> String {
    let text = format!("{value:.4}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "0" && value > 0.0 {
        format!("{value:.3e}")
    } else {
        text.to_owned()
    }
}
