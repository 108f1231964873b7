//! Code and entries of a lookup: the files that an instrument's firmware is built with.

mod c;
mod fleet;
mod head;
mod index;
mod rust;

pub use fleet::Fleet;
pub use index::index;
use serde::Serialize;

use super::{Style, words::lookup as words};
use crate::chart::lookup::{Arithmetic, Check, Lookup, LookupEntry, Totals};
use crate::refrigerant::Refrigerant;
use crate::units::significant;

/// The language of the files.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Language {
    /// Freestanding C99.
    C,
    /// Rust without its standard library.
    Rust,
    /// The entries.
    Csv,
}

/// What a file says of its making.
#[derive(Debug, Clone, Default)]
pub struct Maker {
    /// The question as it was typed.
    pub recipe: String,
    /// The date, where it is to be said.
    pub date: Option<String>,
}

/// How many vectors a quantity has.
const VECTORS: u32 = 512;

/// The files of one refrigerant: names and texts.
pub fn files(
    found: &Lookup,
    refrigerant: &Refrigerant,
    language: Language,
    maker: &Maker,
    style: &Style,
) -> Vec<(String, String)> {
    let stem = stem(&found.refrigerant);
    let head = head::head(found, refrigerant, maker, style);
    let mut files = match language {
        Language::C => vec![
            (format!("{stem}.h"), c::header(found, &stem, &head)),
            (format!("{stem}.c"), c::source(found, &stem, &head)),
        ],
        Language::Rust => vec![(format!("{stem}.rs"), rust::source(found, &head))],
        Language::Csv => vec![(format!("{stem}.csv"), entries(found, &head))],
    };
    files.push((format!("{stem}_vectors.csv"), vectors(found)));
    files
}

/// A designation as an identifier and a file's name.
pub fn stem(designation: &str) -> String {
    let mut text = String::from("zeotrope_");
    for letter in designation.to_lowercase().chars() {
        match letter {
            '-' => {}
            letter if letter.is_ascii_alphanumeric() => text.push(letter),
            _ if text.ends_with('_') => {}
            _ => text.push('_'),
        }
    }
    text.trim_end_matches('_').to_owned()
}

/// The name of a function: the quantity and its unit.
fn function(found: &Lookup, entry: &LookupEntry) -> String {
    let unit = match (found.arithmetic, entry.quantity.is_temperature()) {
        (_, false) => "Pa",
        (Arithmetic::F32, true) => "K",
        (Arithmetic::Integer, true) => "mK",
    };
    format!("{}_{unit}", entry.quantity.name())
}

/// The name of a function's argument.
fn argument(found: &Lookup, entry: &LookupEntry) -> &'static str {
    match (found.arithmetic, entry.quantity.is_temperature()) {
        (_, true) => "pressure_Pa",
        (Arithmetic::F32, false) => "temperature_K",
        (Arithmetic::Integer, false) => "temperature_mK",
    }
}

/// Numbers as lines of a table.
fn numbers(values: &[u16]) -> String {
    let lines: Vec<String> = values
        .chunks(12)
        .map(|line| {
            let cells: Vec<String> = line.iter().map(u16::to_string).collect();
            format!("    {}", cells.join(", "))
        })
        .collect();
    lines.join(",\n")
}

fn vectors(found: &Lookup) -> String {
    let mut text = String::from("quantity,input,output,input_bits,output_bits\n");
    for entry in &found.entries {
        let form = &entry.form;
        let step = ((form.high - form.low) / VECTORS).max(1);
        let raws = (form.low..form.high)
            .step_by(step as usize)
            .chain([form.high]);
        for raw in raws {
            let row = match found.arithmetic {
                Arithmetic::F32 => form.f32(f32::from_bits(raw)).map(|(value, _)| {
                    format!(
                        "{},{value},0x{raw:08x},0x{:08x}",
                        f32::from_bits(raw),
                        value.to_bits()
                    )
                }),
                Arithmetic::Integer => form
                    .integer(raw)
                    .map(|value| format!("{raw},{value},0x{raw:08x},0x{value:08x}")),
            };
            if let Some(row) = row {
                text.push_str(&format!("{},{row}\n", function(found, entry)));
            }
        }
    }
    text
}

fn entries(found: &Lookup, head: &[String]) -> String {
    let mut text: String = head.iter().map(|line| format!("# {line}\n")).collect();
    text.push_str(
        "quantity,interval,node,curvature,base,unit_exponent,interval_bits,fraction_bits,first_key\n",
    );
    for entry in &found.entries {
        let form = &entry.form;
        for (at, node) in form.nodes.iter().enumerate() {
            let curvature = form.curvature.get(at).map(|one| i32::from(*one));
            let sign = if form.is_convex { -1 } else { 1 };
            let curvature = curvature.map_or_else(String::new, |one| (one * sign).to_string());
            text.push_str(&format!(
                "{},{at},{node},{curvature},{},{},{},{},{}\n",
                function(found, entry),
                form.base,
                form.unit,
                form.interval_bits,
                form.fraction_bits,
                form.first
            ));
        }
    }
    text
}

/// The page of what was made.
pub fn lookups(all: &Lookups<'_>, cautions: Vec<String>, style: &Style) -> super::Document {
    use super::{Document, Figures};
    let mut document = Document::new(all, Vec::new(), cautions);
    let resolution = all
        .lookups
        .first()
        .map_or(0.0, |one| one.resolution.in_kelvin());
    let arithmetic = match all.lookups.first().map(|one| one.arithmetic) {
        Some(Arithmetic::Integer) => "integer",
        _ => "f32",
    };
    document.title(style.say(
        words::LOOKUP_TITLE,
        &[
            ("resolution", &style.sign(resolution.to_string())),
            ("arithmetic", arithmetic),
        ],
    ));
    let mut rows = Vec::new();
    let mut lines = Vec::new();
    for (at, one) in all.lookups.iter().enumerate() {
        for (place, entry) in one.entries.iter().enumerate() {
            let mut figures = Figures::default();
            let field = |key: &str| format!("lookups/{at}/entries/{place}/{key}");
            let name = one.refrigerant.as_str();
            let head = format!("lookups/{at}/refrigerant");
            figures.named(style, words::LOOKUP_REFRIGERANT, name, head, name);
            let name = entry.quantity.name();
            figures.named(style, words::LOOKUP_QUANTITY, name, field("quantity"), name);
            for (label, key, value) in [
                (words::LOOKUP_BYTES, "bytes", entry.bytes),
                (words::LOOKUP_OPERATIONS, "operations", entry.operations),
                (
                    words::LOOKUP_INPUTS,
                    "check/inputs",
                    entry.check.inputs as usize,
                ),
            ] {
                figures.named(style, label, value.to_string(), field(key), value);
            }
            check(&mut figures, &entry.check, field, style);
            rows.push(figures);
        }
        if let (true, Some(critical)) = (one.ends_early, one.critical) {
            let (to, critical) = (one.to.in_kelvin(), critical.in_kelvin());
            lines.push(style.say(
                words::LOOKUP_ENDS_EARLY,
                &[
                    ("refrigerant", &one.refrigerant),
                    ("to", &style.fixed(to, 3)),
                    ("critical", &style.fixed(critical, 3)),
                ],
            ));
        }
    }
    document.rows(2, rows);
    document.sheet_of_rows();
    lines.push(style.say(words::LOOKUP_TOTAL, &[("bytes", &all.bytes.to_string())]));
    let totals = Totals::of(all.lookups);
    let inputs = head::thousands(totals.inputs);
    lines.push(if totals.every == 1 {
        style.say(words::LOOKUP_ALL_INPUTS, &[("inputs", &inputs)])
    } else {
        let every = totals.every.to_string();
        style.say(
            words::LOOKUP_SOME_INPUTS,
            &[("inputs", &inputs), ("every", &every)],
        )
    });
    lines.push(style.word(words::LOOKUP_ROUND_TRIP_OF));
    lines.push(style.word(words::LOOKUP_NUMERICAL));
    document.lines(lines);
    document.hazards();
    document
}

/// The figures of a check.
fn check(
    figures: &mut super::Figures,
    check: &Check,
    field: impl Fn(&str) -> String,
    style: &Style,
) {
    let kelvin = |value: f64| style.fixed(head::rounded_up(value), 5);
    let none = || "-".to_owned();
    let field = |key: &str| field(&format!("check/{key}"));
    let (largest, at, mean) = (check.largest, check.largest_at, check.mean);
    let label = style.word(words::LOOKUP_LARGEST);
    figures.add(label, kelvin(largest), field("largest_error_K"), largest);
    let label = style.word(words::LOOKUP_AT);
    figures.add(
        label,
        style.sign(significant(at, 9)),
        field("largest_at"),
        at,
    );
    let label = style.word(words::LOOKUP_MEAN);
    figures.add(label, style.fixed(mean, 5), field("mean_error_K"), mean);
    let told = if check.monotonic {
        words::LOOKUP_YES
    } else {
        words::LOOKUP_NO
    };
    let label = style.word(words::LOOKUP_MONOTONIC);
    figures.add(label, style.word(told), field("monotonic"), check.monotonic);
    let label = style.word(words::LOOKUP_ROUND_TRIP);
    let back = check.round_trip;
    figures.add(
        label,
        back.map_or_else(none, kelvin),
        field("round_trip_K"),
        back,
    );
}

/// What was made, all of it.
#[derive(Debug, Clone, Serialize)]
pub struct Lookups<'a> {
    /// The lookups, a refrigerant each.
    pub lookups: &'a [Lookup],
    /// Bytes of all entries.
    pub bytes: usize,
    /// Refrigerants without a lookup, and why.
    pub unanswered: Vec<(String, String)>,
}
