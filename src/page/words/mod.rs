//! Every label and sentence of a document, by name: English is edited and translated here.
//!
//! A phrase may have blanks, `{name}`; a translation has to have the same ones.

mod translation;

pub(crate) mod air;
pub(crate) mod charts;
pub(crate) mod cycle;
pub(crate) mod errors;
pub(crate) mod exercise;
pub(crate) mod hazards;
pub(crate) mod lookup;
pub(crate) mod pictures;
pub(crate) mod pipes;
pub(crate) mod print;
pub(crate) mod properties;
pub(crate) mod readings;
pub(crate) mod refrigerants;
pub(crate) mod sheet;
pub(crate) mod shift;
pub(crate) mod validation;
pub(crate) mod vessels_at_rest;
pub(crate) mod vessels_cylinder;
pub(crate) mod vessels_tests;
pub(crate) mod warnings;

pub use crate::phrase::Phrase;
pub use translation::Words;

phrases! {
    AIR_SEA_LEVEL = "{kilopascal} kPa ({psia} psia), sea level assumed";
    AIR_ELEVATION = "{kilopascal} kPa ({psia} psia), standard atmosphere at {metres} m ({feet} ft)";
    AIR_STATION = "{kilopascal} kPa ({psia} psia), as given for the site";
    DEFAULTS_USED = "Own defaults from {told}.";
    INHG_VACUUM = "{figure} inHg vacuum";
}

/// Every phrase with its name as YAML, to translate.
///
/// # Errors
/// [`Error::File`](crate::Error::File) where it cannot be written.
pub fn as_yaml() -> crate::Result<String> {
    let named = |name: &str, text: &str| (name.to_owned().into(), text.to_owned().into());
    let all = all_phrases();
    let phrases = all.iter().map(|one| named(&one.name(), one.english()));
    let first = std::iter::once(named("language", "en"));
    let mapping: serde_yaml::Mapping = first.chain(phrases).collect();
    serde_yaml::to_string(&mapping).map_err(|problem| crate::Error::File {
        file: "words".into(),
        problem: problem.to_string(),
        hint: "report it".into(),
    })
}

/// Every phrase there is.
///
/// # Example
/// ```
/// let all = zeotrope::page::words::all_phrases();
/// assert!(all.iter().any(|phrase| phrase.name() == "inhg_vacuum"));
/// ```
pub fn all_phrases() -> Vec<Phrase> {
    [
        ALL,
        crate::error::reasons::ALL,
        crate::chart::reasons::ALL,
        crate::process::reasons::ALL,
        crate::validation::reasons::ALL,
        crate::service::reasons::ALL,
        air::ALL,
        charts::ALL,
        cycle::ALL,
        errors::ALL,
        exercise::ALL,
        hazards::ALL,
        lookup::ALL,
        print::ALL,
        pictures::ALL,
        pipes::ALL,
        properties::ALL,
        readings::ALL,
        refrigerants::ALL,
        sheet::ALL,
        shift::ALL,
        validation::ALL,
        vessels_at_rest::ALL,
        vessels_cylinder::ALL,
        vessels_tests::ALL,
        warnings::ALL,
    ]
    .concat()
}
