//! All properties of a state.

use super::number_cell;
use super::warning::told;
use super::words::Phrase;
use super::words::properties::*;
use super::{Document, Figures, Style, cautions, parts};
use crate::Phase;
use crate::Warning;
use crate::refrigerant::{Refrigerant, State};
use crate::service::facts::Facts;
use crate::service::sheet::Value;
use crate::service::state::StateAnswer;

/// The page of the states that have the properties asked for.
pub fn state(
    answers: &[StateAnswer],
    (refrigerant, facts): (&Refrigerant, &Facts),
    site: &[Warning],
    style: &Style,
) -> Document {
    let name = refrigerant.designation();
    let mut documents = Vec::new();
    for (at, answer) in answers.iter().enumerate() {
        let found = &answer.state;
        let all = parts::all_warnings(refrigerant, &found.warnings, site);
        let hazards = cautions(&[refrigerant], None, style);
        let mut document = Document::new(answer, told(&all, style), hazards);
        let phase = style.word(phase_name(found.phase));
        let (number, count) = ((at + 1).to_string(), answers.len().to_string());
        let blanks = [
            ("refrigerant", name),
            ("phase", &phase),
            ("number", &number),
            ("count", &count),
        ];
        let title = match answers.len() {
            1 => STATE_TITLE,
            _ => STATE_TITLE_OF_SEVERAL,
        };
        document.title(style.say(title, &blanks));
        figures(&mut document, refrigerant, found, style);
        if at + 1 == answers.len() {
            let same = answers.iter().all(|one| one.state.phase == found.phase);
            let notes = match (answers.len(), same) {
                (1, _) => Vec::new(),
                (_, true) => vec![style.word(SEVERAL_OF_ONE_PHASE)],
                (_, false) => vec![style.word(SEVERAL_PHASES)],
            };
            parts::foot(&mut document, facts, Some(found.zero), notes, style);
        }
        let columns = || STATE_COLUMNS.iter();
        let mut heads = vec!["refrigerant".to_owned(), "molar_mass_kg_mol".to_owned()];
        heads.extend(columns().map(|(head, _)| (*head).to_owned()));
        let mut row = vec![name.to_owned(), number_cell(Some(found.molar_mass))];
        row.extend(columns().map(|(_, value)| value(found).text()));
        document.sheet.heads = heads;
        document.sheet.rows = vec![row];
        documents.push(document);
    }
    Document::joined(documents)
}

const fn phase_name(phase: Phase) -> Phrase {
    match phase {
        Phase::Liquid => LIQUID,
        Phase::Vapor => VAPOR,
        Phase::Supercritical => SUPERCRITICAL,
        Phase::TwoPhase => TWO_PHASE,
    }
}

fn figures(document: &mut Document, refrigerant: &Refrigerant, state: &State, style: &Style) {
    let whole = &state.properties;
    let mut place = Figures::default();
    parts::temperature_and_pressure(&mut place, (whole.temperature, whole.pressure), "", style);
    if let Some(quality) = state.quality {
        let text = style.fixed(quality, 5);
        place.named(style, QUALITY, text, "quality", quality);
    }
    if state.liquids.is_none() && state.vapor.is_none() {
        parts::properties(&mut place, whole, "", state.molar_mass, style);
        document.pairs(place);
        return;
    }
    document.pairs(place);
    let mut columns = vec![(WHOLE, "", whole)];
    columns.extend(
        state
            .liquid
            .iter()
            .map(|liquid| (LIQUID, "liquid/", liquid)),
    );
    columns.extend(state.vapor.iter().map(|vapor| (VAPOR, "vapor/", vapor)));
    if let Some([first, second]) = state.liquids.as_deref() {
        columns.extend([
            (FIRST_LIQUID, "liquids/0/", first),
            (SECOND_LIQUID, "liquids/1/", second),
        ]);
    }
    let columns = columns.into_iter().map(|(head, path, phase)| {
        let mut figures = Figures::default();
        parts::properties(&mut figures, phase, path, state.molar_mass, style);
        parts::shares(&mut figures, refrigerant, phase, path, style);
        (style.word(head), figures)
    });
    document.columns(Vec::new(), columns.collect());
}

/// A column for a state.
pub type StateColumn = (&'static str, fn(&State) -> Value);

/// The columns of a spreadsheet for a state: the figures and words at the top level of the JSON,
/// by value, since files of a million rows are answered with them.
pub const STATE_COLUMNS: &[StateColumn] = &[
    ("phase", |state| Value::Name(state.phase.name())),
    ("temperature_K", |state| {
        state.properties.temperature.in_kelvin().into()
    }),
    ("pressure_Pa", |state| {
        state.properties.pressure.in_pascal().into()
    }),
    ("density_kg_m3", |state| state.properties.density.into()),
    ("enthalpy_J_kg", |state| state.properties.enthalpy.into()),
    ("entropy_J_kg_K", |state| state.properties.entropy.into()),
    ("internal_energy_J_kg", |state| {
        state.properties.internal_energy.into()
    }),
    ("cp_J_kg_K", |state| state.properties.cp.into()),
    ("cv_J_kg_K", |state| state.properties.cv.into()),
    ("speed_of_sound_m_s", |state| {
        state.properties.speed_of_sound.into()
    }),
    ("compressibility_factor", |state| {
        state.properties.compressibility_factor.into()
    }),
    ("joule_thomson_K_Pa", |state| {
        state.properties.joule_thomson.into()
    }),
    ("quality", |state| state.quality.into()),
    ("reference", |state| Value::Name(state.zero.name())),
];
