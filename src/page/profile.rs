//! What is known of one refrigerant.

use serde::Serialize;

use super::warning::told;
use super::words::refrigerants::*;
use super::{Document, Figures, Sheet, Style, azeotrope, cautions, parts};
use crate::Branch;
use crate::Warning;
use crate::catalogue::records::Sourced;
use crate::process::azeotrope::BlendKind;
use crate::refrigerant::{CriticalPoint, Refrigerant};
use crate::service::deviation::BlendDeviation;
use crate::service::facts::Facts;
use crate::service::hazard::gwp::{Bound, Gwp};
use crate::service::profile::{Blend, Profile, ProfileKind, Pure};
use crate::units::{Temperature, significant};

/// What a program reads: the profile, and of a blend its kind.
#[derive(Serialize)]
struct Whole<'a> {
    #[serde(flatten)]
    profile: &'a Profile,
    #[serde(skip_serializing_if = "Option::is_none")]
    blend: Option<&'a BlendKind>,
}

/// The page of what is known of a refrigerant.
pub fn profile(
    answer: &Profile,
    refrigerant: &Refrigerant,
    facts: &Facts,
    warnings: Vec<Warning>,
    style: &Style,
) -> Document {
    let hazards = cautions(&[refrigerant], None, style);
    let blend = BlendKind::for_refrigerant(refrigerant);
    let whole = Whole {
        profile: answer,
        blend: blend.as_ref(),
    };
    let mut document = Document::new(&whole, told(&warnings, style), hazards);
    let name = answer.identity.refrigerant.as_str();
    document.title(match &answer.kind {
        ProfileKind::Pure(pure) => style.say(
            PROFILE_TITLE,
            &[("refrigerant", name), ("name", &pure.name)],
        ),
        ProfileKind::Blend(_) => name.to_owned(),
    });
    let mut figures = Figures::default();
    common(&mut figures, answer, facts, style);
    match &answer.kind {
        ProfileKind::Pure(pure) => {
            of_pure(&mut figures, answer, pure, style);
        }
        ProfileKind::Blend(blend) => {
            of_blend(&mut figures, answer, blend, style);
            if let Some(kind) = &whole.blend {
                azeotrope::kind(&mut figures, kind, refrigerant, style);
            }
            potentials(&mut figures, &answer.gwp, style);
        }
    }
    document.sheet = Sheet {
        heads: ["fact", "value"].map(str::to_owned).to_vec(),
        rows: figures
            .pairs()
            .into_iter()
            .map(|(label, text)| vec![label, text])
            .collect(),
    };
    document.pairs(figures);
    parts::warnings(&mut document, style);
    let reference = parts::gauge_reference(&style.site, style);
    parts::notes(&mut document, vec![reference], style);
    document.hazards();
    let sources = parts::sources(facts, style);
    parts::notes(&mut document, sources, style);
    document
}

fn common(figures: &mut Figures, answer: &Profile, facts: &Facts, style: &Style) {
    let class = answer.safety_class.as_ref();
    let text = class.map_or_else(
        || parts::class(facts, style),
        |class| sourced(&class.value, &class.source, style),
    );
    match class {
        Some(class) => figures.named(
            style,
            SAFETY_CLASS,
            text,
            "safety_class/value",
            class.value.as_str(),
        ),
        None => figures.remark(style.word(SAFETY_CLASS), text),
    }
    figures.named(
        style,
        MOLAR_MASS,
        format!(
            "{} g/mol",
            style.sign(significant(answer.molar_mass * 1e3, 7))
        ),
        "molar_mass_kg_mol",
        answer.molar_mass,
    );
    if let Some(critical) = &answer.critical_point {
        let text = point(critical, answer, style);
        figures.remark(style.word(CRITICAL_OF_MODEL), text);
    }
    let range = &answer.range;
    let highest = style.pressure(range.pressure_max, style.units.absolute);
    let blanks = [
        ("low", style.temperature(range.temperature_min)),
        ("high", style.temperature(range.temperature_max)),
        ("pressure", highest),
    ];
    let blanks = blanks.each_ref().map(|(name, text)| (*name, text.as_str()));
    figures.remark(style.word(RANGE), style.say(RANGE_OF, &blanks));
}

fn of_pure(figures: &mut Figures, answer: &Profile, pure: &Pure, style: &Style) {
    let published = point(&pure.critical_point, answer, style);
    figures.remark(style.word(CRITICAL_PUBLISHED), published);
    figures.named(
        style,
        FORMULA,
        pure.formula.clone(),
        "formula",
        pure.formula.as_str(),
    );
    figures.named(style, CAS, pure.cas.clone(), "cas", pure.cas.as_str());
    if !pure.spellings.is_empty() {
        figures.remark(style.word(FOUND_ALSO_AS), pure.spellings.join(", "));
    }
    potentials(figures, &answer.gwp, style);
    let mut fact = |label, key: &str, unit: &str, fact: &Option<Sourced<f64>>| {
        let label = style.word(label);
        match fact {
            None => figures.remark(label, style.word(NOT_ON_RECORD)),
            Some(fact) => {
                let value = format!("{} {unit}", style.sign(fact.value.to_string()));
                let text = sourced(value.trim_end(), &fact.source, style);
                figures.add(label, text, format!("{key}/value"), fact.value);
            }
        }
    };
    fact(ODP, "odp", "", &pure.odp);
    fact(LOWER_FLAMMABILITY, "lfl_kg_m3", "kg/m3", &pure.lfl);
    if let Some(remark) = &pure.remark {
        figures.named(style, REMARK, remark.clone(), "remark", remark.as_str());
    }
}

fn of_blend(figures: &mut Figures, answer: &Profile, blend: &Blend, style: &Style) {
    for (place, share) in answer.identity.composition.iter().enumerate() {
        let percent = |share: f64| style.sign(significant(share * 100.0, 5));
        let (mass, mole) = (percent(share.mass_fraction), percent(share.mole_fraction));
        let mut text = style.say(SHARES, &[("mass", &mass), ("mole", &mole)]);
        let tolerance = blend.tolerances.as_ref().and_then(|all| all.get(place));
        match tolerance {
            None => {}
            Some(None) => text.push_str(&style.word(TOLERANCE_NONE)),
            Some(Some([below, above])) => {
                let [below, above] = [below, above].map(|one| style.sign(one.to_string()));
                let blanks = [("below", below.as_str()), ("above", &above)];
                text.push_str(&style.say(TOLERANCE_OF, &blanks));
            }
        }
        figures.add(
            share.refrigerant.clone(),
            text,
            format!("composition/{place}/mass_fraction"),
            share.mass_fraction,
        );
    }
    for one in &answer.model.deviations {
        let (label, key) = match one.branch {
            Branch::Bubble => (BUBBLE_PUBLISHED, "bubble_C_published/value"),
            Branch::Dew => (DEW_PUBLISHED, "dew_C_published/value"),
        };
        let published = style.temperature(Temperature::celsius(one.published));
        let text = format!(
            "{}; {}",
            sourced(&published, &one.source, style),
            model_beside(one, style)
        );
        figures.named(style, label, text, key, one.published);
    }
}

/// The model's deviation from a published point.
fn model_beside(one: &BlendDeviation, style: &Style) -> String {
    let Some(kelvin) = one.difference() else {
        return style.word(NOT_CALCULATED);
    };
    let phrase = match one.fitted_to_these_values {
        true => MODEL_MINUS_FITTED,
        false => MODEL_MINUS_PUBLISHED,
    };
    style.say(phrase, &[("difference", &style.degrees(kelvin, 2))])
}

/// Warming potentials, a line a report.
fn potentials(figures: &mut Figures, all: &[Gwp], style: &Style) {
    if all.is_empty() {
        figures.remark(style.word(GWP_LABEL), style.word(NOT_ON_RECORD));
    }
    for (at, one) in all.iter().enumerate() {
        let value = style.sign(match one.summed {
            true => significant(one.value, 4),
            false => one.value.to_string(),
        });
        let components = match one.bound() {
            Bound::AtLeast => one.missing.join(", "),
            _ => one.bounded.join(", "),
        };
        let blanks = [
            ("value", value.as_str()),
            ("report", &one.report),
            ("components", &components),
        ];
        let phrase = match (one.summed, one.bound()) {
            (true, Bound::AtLeast) => GWP_AT_LEAST,
            (true, Bound::AtMost) => GWP_AT_MOST,
            (true, Bound::Exact) => GWP_BY_MASS,
            (false, Bound::Exact) => GWP_OF_PURE,
            (false, _) => GWP_BELOW,
        };
        let years = one.horizon_years.unwrap_or_default().to_string();
        figures.add(
            style.say(GWP_OVER, &[("years", &years)]),
            style.say(phrase, &blanks),
            format!("gwp/{at}/value"),
            one.value,
        );
    }
}

fn sourced(value: &str, source: &str, style: &Style) -> String {
    style.say(SOURCED, &[("value", value), ("source", source)])
}

fn point(at: &CriticalPoint, answer: &Profile, style: &Style) -> String {
    [
        style.temperature(at.temperature),
        style.pressure(at.pressure, style.units.absolute),
        parts::density(at.density, answer.molar_mass, style),
    ]
    .join(", ")
}
