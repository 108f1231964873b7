//! Pressures, temperatures and other amounts in other units.

use super::warning::told;
use super::words::properties::{CONVERTED, CONVERTED_AMOUNT};
use super::words::refrigerants::WARNING;
use super::{Document, Figures, Sheet, Style, parts};
use crate::Warning;
use crate::service::conversion::{Conversion, Converted, ConvertedQuantity, Unit};
use crate::units::{PressureUnit, short};

/// Digits of a converted figure: more than any gauge has, fewer than would be noise.
const DIGITS: usize = 6;

/// The page of values in other units.
pub fn conversion(answer: &Conversion, warnings: Vec<Warning>, style: &Style) -> Document {
    let mut document = Document::new(answer, told(&warnings, style), Vec::new());
    let mut lines = Vec::new();
    let several = answer.values.len() > 1;
    let mut rows = Vec::new();
    for (at, one) in answer.values.iter().enumerate() {
        let text = text(one, style);
        let blanks = [("value", one.written.as_str()), ("result", &text)];
        lines.push(match one.quantity {
            ConvertedQuantity::Amount(amount) => {
                let named = [blanks[0], blanks[1], ("quantity", amount.unit.kind.name())];
                style.say(CONVERTED_AMOUNT, &named)
            }
            _ => style.say(CONVERTED, &blanks),
        });
        let path = match several {
            true => format!("conversion/{at}/result"),
            false => "conversion/result".to_owned(),
        };
        let mut figures = Figures::default();
        figures.add(&one.written, &text, path, one.value);
        document.figures.extend(figures.0);
        let mut row = Figures::default();
        row.cell("value", one.written.as_str());
        row.cell("to", one.unit.typed());
        row.cell("result", one.value);
        rows.push(row);
    }
    document.lines(lines);
    for warning in &document.warnings.clone() {
        let blanks = [("text", warning.text.as_str()), ("code", warning.code)];
        document.lines(vec![style.say(WARNING, &blanks)]);
    }
    if answer.has_gauge() {
        let reference = parts::gauge_reference(&answer.atmosphere, style);
        parts::notes(&mut document, vec![reference], style);
    }
    document.sheet = Sheet::of_rows(rows.iter().map(Figures::as_slice));
    document
}

fn text(one: &Converted, style: &Style) -> String {
    let (value, unit) = match one.unit {
        Unit::Temperature(unit) => (one.value, unit.symbol()),
        Unit::Pressure(unit @ PressureUnit::InchesOfMercuryVacuum) => {
            (one.value.max(0.0), unit.words())
        }
        Unit::Pressure(unit) => (one.value, unit.typed()),
        Unit::Amount(unit) => (one.value, unit.name),
    };
    format!("{} {unit}", style.sign(short(value, DIGITS)))
}
