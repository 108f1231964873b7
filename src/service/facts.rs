//! What is known about a refrigerant beside its numbers: class, equations and pairs with their sources.

use serde::{Serialize, Serializer};

use crate::catalogue::Component;
use crate::catalogue::records::{
    MeasuredDeviation, MeasuredVapors, PairKind, Reference, Refit, Sourced,
};
use crate::refrigerant::{PairTrust, Refrigerant};
use crate::service::deviation::{BlendDeviation, deviations};
use crate::service::reasons::PAIR_NO_PARAMETERS;

/// The equation of one component.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct EquationFact {
    /// Designation of the component.
    pub refrigerant: String,
    /// The paper.
    pub source: String,
}

/// The model of one pair of components.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PairFact {
    /// First component.
    pub first: String,
    /// Second component.
    pub second: String,
    /// How it is known.
    pub kind: PairKind,
    /// The paper, or how it was estimated; `None` where all four parameters are taken as 1.
    #[serde(serialize_with = "source_or_none")]
    pub source: Option<String>,
    /// The refit to measured bubble points in use, if any.
    #[serde(rename = "refitted")]
    pub refit: Option<Refit>,
    /// How far what is in use lies from measured bubble points, where some are on record.
    pub measured: Option<MeasuredDeviation>,
    /// How far it lies from measured vapors, where some are on record.
    pub measured_vapors: Option<MeasuredVapors>,
}

/// A pair without published parameters, and how far off its estimate is known to be.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct PairEstimate {
    /// First component.
    pub first: String,
    /// Second component.
    pub second: String,
    /// Root mean square deviation from measured bubble temperatures, K; none where none is on
    /// record: about 3 K then.
    #[serde(rename = "rms_K")]
    pub rms: Option<f64>,
}

/// The estimated pairs that a refrigerant rests on, those refitted to measurements left out.
pub fn estimates(refrigerant: &Refrigerant) -> Vec<PairEstimate> {
    let pairs = refrigerant.pairs().iter();
    let estimated = pairs.filter(|pair| pair.kind == PairKind::Estimated && pair.refit().is_none());
    let told = estimated.map(|pair| PairEstimate {
        first: pair.first.clone(),
        second: pair.second.clone(),
        rms: pair.measured().map(|measured| measured.rms_k),
    });
    told.collect()
}

/// What a refrigerant is called and made of.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Identity {
    /// Designation, or the composition in the standard's notation.
    pub refrigerant: String,
    /// The components in the user's order.
    pub composition: Vec<ComponentShare>,
}

/// One component's share.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ComponentShare {
    /// Its designation.
    pub refrigerant: String,
    /// Its share of the mass.
    pub mass_fraction: f64,
    /// Its share of the moles.
    pub mole_fraction: f64,
}

impl Identity {
    /// The identity of a refrigerant.
    pub fn of_refrigerant(refrigerant: &Refrigerant) -> Self {
        let share = |component: &Component| ComponentShare {
            refrigerant: component.designation.clone(),
            mass_fraction: component.mass_fraction,
            mole_fraction: component.mole_fraction,
        };
        Self {
            refrigerant: refrigerant.designation().to_owned(),
            composition: refrigerant.components().iter().map(share).collect(),
        }
    }
}

/// What the numbers of a refrigerant rest on.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Model {
    /// The equation of each component, in the order of the composition.
    pub equations: Vec<EquationFact>,
    /// The model of each pair.
    pub pairs: Vec<PairFact>,
    /// A listed blend's published points at 101.325 kPa beside the model's.
    #[serde(rename = "published_points")]
    pub deviations: Vec<BlendDeviation>,
}

impl Model {
    /// The papers of equations and pairs in short, each once: "Lemmon 2009".
    ///
    /// # Example
    /// ```
    /// use zeotrope::Refrigerant;
    /// use zeotrope::service::facts::Facts;
    /// let facts = Facts::of_refrigerant(&Refrigerant::named("R-744")?);
    /// // Span & Wagner, J. Phys. Chem. Ref. Data 25 (1996) 1509
    /// assert_eq!(facts.model.papers(), ["Span 1996"]);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn papers(&self) -> Vec<String> {
        let equations = self.equations.iter().map(|one| one.source.as_str());
        let pairs = self.pairs.iter().filter_map(|one| one.source.as_deref());
        let mut found: Vec<String> = Vec::new();
        for source in equations.chain(pairs) {
            found.extend(in_short(source).filter(|short| !found.contains(short)));
        }
        found
    }
}

/// First author and year of a paper: a number of four digits in brackets or after a comma.
fn in_short(source: &str) -> Option<String> {
    let author = source.split([',', ' ', ';']).next()?;
    let is_year =
        |word: &&str| word.len() == 4 && (word.starts_with("19") || word.starts_with("20"));
    let mut words = source.split(|one: char| !one.is_alphanumeric());
    // A year stands in brackets where pages could be taken for one.
    let bracketed = source
        .split('(')
        .skip(1)
        .filter_map(|rest| rest.get(..4))
        .find(is_year);
    let year = bracketed.or_else(|| words.rfind(is_year))?;
    let is_name = author.starts_with(char::is_uppercase) && author != "Estimated:";
    is_name.then(|| format!("{author} {year}"))
}

/// What is known about one refrigerant beside its numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Facts {
    /// What it is called and made of.
    pub identity: Identity,
    /// Safety class with its source, where one is on record.
    pub safety_class: Option<Sourced<String>>,
    /// Whether it is a listed refrigerant and not a composition of the user's own.
    pub listed: bool,
    /// What its numbers rest on.
    pub model: Model,
}

impl Facts {
    /// Gathers what is on record about a refrigerant.
    ///
    /// # Example
    /// ```
    /// use zeotrope::Refrigerant;
    /// use zeotrope::service::facts::Facts;
    /// let facts = Facts::of_refrigerant(&Refrigerant::named("R-134a")?);
    /// assert_eq!(facts.safety_class.unwrap().value, "A1");
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn of_refrigerant(refrigerant: &Refrigerant) -> Self {
        let records = refrigerant.records();
        let safety_class = match (refrigerant.blend(), records.as_slice()) {
            (Some(blend), _) => blend.safety_class.clone(),
            (None, [only]) => only.safety_class.clone(),
            (None, _) => None,
        };
        Self {
            safety_class,
            identity: Identity::of_refrigerant(refrigerant),
            listed: refrigerant.composition().designation().is_some(),
            model: Model {
                equations: records
                    .iter()
                    .map(|record| EquationFact {
                        refrigerant: record.designation.clone(),
                        source: citation(&record.reference),
                    })
                    .collect(),
                pairs: refrigerant.pairs().iter().map(pair_fact).collect(),
                deviations: deviations(refrigerant),
            },
        }
    }
}

fn source_or_none<S: Serializer>(
    source: &Option<String>,
    serializer: S,
) -> std::result::Result<S::Ok, S::Error> {
    match source {
        Some(source) => source.serialize(serializer),
        None => PAIR_NO_PARAMETERS.serialize(serializer),
    }
}

fn pair_fact(pair: &PairTrust) -> PairFact {
    PairFact {
        first: pair.first.clone(),
        second: pair.second.clone(),
        kind: pair.kind,
        source: pair.record.as_ref().map(|record| record.source.clone()),
        refit: pair.refit().cloned(),
        measured: pair.measured().copied(),
        measured_vapors: pair.measured_vapors().copied(),
    }
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
