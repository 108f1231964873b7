//! What is known about a refrigerant beside its numbers: class, equations and pairs with their sources.

use crate::Result;
use crate::catalogue::Catalogue;
use crate::catalogue::records::{PairKind, Reference, Sourced};
use crate::refrigerant::Refrigerant;

/// Shown where a safety class is not on record.
pub const CLASS_NOT_ASSIGNED: &str = "not assigned here";

/// The equation of one component.
#[derive(Debug, Clone, PartialEq)]
pub struct EquationFact {
    /// Designation of the component.
    pub refrigerant: String,
    /// The paper.
    pub source: String,
}

/// The model of one pair of components.
#[derive(Debug, Clone, PartialEq)]
pub struct PairFact {
    /// First component.
    pub first: String,
    /// Second component.
    pub second: String,
    /// `departure`, `reducing` or `estimated`.
    pub kind: &'static str,
    /// The paper, or how it was estimated.
    pub source: String,
}

/// What is known about one refrigerant beside its numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Facts {
    /// Safety class with its source, where one is on record.
    pub safety_class: Option<Sourced<String>>,
    /// Whether it is a listed refrigerant and not a composition of the user's own.
    pub listed: bool,
    /// The equation of each component, in the order of the composition.
    pub equations: Vec<EquationFact>,
    /// The model of each pair.
    pub pairs: Vec<PairFact>,
}

impl Facts {
    /// Gathers what is on record about a refrigerant.
    ///
    /// # Errors
    /// [`Error::Catalogue`](crate::Error::Catalogue) where a data file is broken.
    pub fn of(catalogue: &Catalogue, refrigerant: &Refrigerant) -> Result<Self> {
        let components = refrigerant.components();
        let mut equations = Vec::with_capacity(components.len());
        for component in components {
            let record = catalogue.pure(&component.designation)?;
            equations.push(EquationFact {
                refrigerant: component.designation.clone(),
                source: citation(&record.reference),
            });
        }
        let mut pairs = Vec::new();
        for (index, first) in components.iter().enumerate() {
            for second in &components[index + 1..] {
                pairs.push(pair_fact(
                    catalogue,
                    &first.designation,
                    &second.designation,
                )?);
            }
        }
        let designation = refrigerant.composition().designation.as_deref();
        let safety_class = match designation {
            Some(name) if refrigerant.is_pure() => catalogue.pure(name)?.safety_class.clone(),
            Some(name) => catalogue.blend(name)?.safety_class.clone(),
            None => None,
        };
        Ok(Self {
            safety_class,
            listed: designation.is_some(),
            equations,
            pairs,
        })
    }

    /// The class, or the words that none is on record.
    pub fn class_text(&self) -> &str {
        self.safety_class
            .as_ref()
            .map_or(CLASS_NOT_ASSIGNED, |class| class.value.as_str())
    }
}

fn pair_fact(catalogue: &Catalogue, first: &str, second: &str) -> Result<PairFact> {
    let (kind, source) = match catalogue.pair(first, second)? {
        Some((record, _)) => (
            match record.kind {
                PairKind::Departure => "departure",
                PairKind::Reducing => "reducing",
                PairKind::Estimated => "estimated",
            },
            record.source.clone(),
        ),
        None => (
            "estimated",
            "no parameters published: ideal combining rules".to_owned(),
        ),
    };
    Ok(PairFact {
        first: first.to_owned(),
        second: second.to_owned(),
        kind,
        source,
    })
}

/// A paper in one line.
///
/// # Example
/// ```
/// use zeotrope::catalogue::records::Reference;
/// use zeotrope::service::facts::citation;
/// let paper = Reference {
///     authors: "Span R., Wagner W.".into(),
///     title: None,
///     journal: "J. Phys. Chem. Ref. Data 25, 1509-1596".into(),
///     year: 1996,
///     doi: Some("10.1063/1.555991".into()),
/// };
/// assert_eq!(
///     citation(&paper),
///     "Span R., Wagner W., J. Phys. Chem. Ref. Data 25, 1509-1596 (1996), doi 10.1063/1.555991"
/// );
/// ```
pub fn citation(reference: &Reference) -> String {
    let year = reference.year.to_string();
    let mut text = format!("{}, {}", reference.authors, reference.journal);
    if !reference.journal.contains(&year) {
        text.push_str(&format!(" ({year})"));
    }
    if let Some(doi) = &reference.doi {
        text.push_str(&format!(", doi {doi}"));
    }
    text
}
