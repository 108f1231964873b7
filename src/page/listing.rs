//! The refrigerants of a catalogue.

use super::json::Json;
use super::words::refrigerants::*;
use super::{Document, Figures, Sheet, Style};
use crate::service::listing::{ListEntry, RefrigerantKind};

/// The page of a list of refrigerants.
pub fn listing(entries: &[ListEntry], style: &Style) -> Document {
    let mut document = Document {
        json: Json(serde_json::to_value(entries).unwrap_or_default()),
        ..Document::default()
    };
    let rows = entries.iter().enumerate();
    let rows: Vec<Figures> = rows.map(|(at, one)| row(at, one, style)).collect();
    document.sheet = Sheet::of_rows(rows.iter().map(Figures::as_slice));
    document.rows(4, rows);
    let count = entries.len().to_string();
    document.lines(vec![match entries.len() {
        1 => style.word(LISTED_ONE),
        _ => style.say(LIST_COUNT, &[("count", &count)]),
    }]);
    document
}

fn row(at: usize, entry: &ListEntry, style: &Style) -> Figures {
    let mut figures = Figures::default();
    let mut add = |label, text: &str, key, datum: super::Datum| {
        figures.named(style, label, text, format!("{at}/{key}"), datum);
    };
    let name = entry.designation.as_str();
    add(DESIGNATION, name, "refrigerant", name.into());
    let class = entry.safety_class.clone();
    let text = class.clone().unwrap_or_else(|| style.word(CLASS_NONE));
    add(SAFETY_CLASS, &text, "safety_class", class.into());
    let kind = style.word(match entry.kind {
        RefrigerantKind::Pure => KIND_PURE,
        RefrigerantKind::Blend => KIND_BLEND,
    });
    add(KIND, &kind, "kind", entry.kind.name().into());
    add(NAME, &entry.name, "name", entry.name.as_str().into());
    figures
}
