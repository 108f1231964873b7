//! What the head of every generated file says.

use super::Maker;
use crate::Warning;
use crate::chart::lookup::{Lookup, LookupEntry};
use crate::page::words::lookup::*;
use crate::page::{Style, cautions, parts};
use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;
use crate::units::significant;

/// The lines of a head.
pub(super) fn head(
    found: &Lookup,
    refrigerant: &Refrigerant,
    maker: &Maker,
    style: &Style,
) -> Vec<String> {
    let facts = Facts::of_refrigerant(refrigerant);
    let kelvin = |value: f64| style.fixed(value, 4);
    let (from, to) = (kelvin(found.from.in_kelvin()), kelvin(found.to.in_kelvin()));
    let mut lines = vec![style.say(
        HEAD_SUBJECT,
        &[
            ("refrigerant", &found.refrigerant),
            ("from", &from),
            ("to", &to),
        ],
    )];
    if let (true, Some(critical)) = (found.ends_early, found.critical) {
        let critical = kelvin(critical.in_kelvin());
        lines.push(style.say(HEAD_ENDS, &[("to", &to), ("critical", &critical)]));
    }
    let shares: Vec<String> = refrigerant
        .components()
        .iter()
        .map(|one| {
            format!(
                "{} {} %",
                one.designation,
                style.fixed(one.mass_fraction * 100.0, 2)
            )
        })
        .collect();
    lines.push(style.say(HEAD_COMPOSITION, &[("shares", &shares.join(", "))]));
    lines.push(style.say(HEAD_CLASS, &[("class", &parts::class(&facts, style))]));
    lines.extend(parts::sources(&facts, style));
    if refrigerant
        .warnings()
        .iter()
        .any(|one| matches!(one, Warning::EstimatedPair { .. }))
    {
        lines.push(style.word(HEAD_ESTIMATED));
    }
    lines.push(style.word(HEAD_ABSOLUTE));
    lines.push(band(found, style));
    for entry in &found.entries {
        lines.extend(check(entry, style));
    }
    lines.push(style.word(HEAD_FUSED));
    lines.push(style.word(LOOKUP_NUMERICAL));
    lines.extend(cautions(&[refrigerant], None, style));
    lines.push(style.say(
        HEAD_VERSION,
        &[
            ("version", env!("CARGO_PKG_VERSION")),
            ("recipe", &maker.recipe),
        ],
    ));
    lines.extend(
        maker
            .date
            .as_ref()
            .map(|date| style.say(HEAD_DATE, &[("date", date)])),
    );
    lines.push(style.word(HEAD_LICENCE));
    // A comment must not end early, nor reach for the next line.
    let tame = |line: String| {
        line.replace("*/", "* /")
            .replace(['\n', '\r', '\\'], " ")
            .replace("??", "? ?")
    };
    lines.into_iter().map(tame).collect()
}

fn band(found: &Lookup, style: &Style) -> String {
    let Some((pressure, band)) = &found.band else {
        return style.word(HEAD_NO_BAND);
    };
    style.say(
        HEAD_BAND,
        &[
            ("pascal", &style.fixed(pressure.in_pascal(), 0)),
            ("low", &style.fixed(band.lowest.in_kelvin(), 2)),
            ("high", &style.fixed(band.highest.in_kelvin(), 2)),
        ],
    )
}

fn check(entry: &LookupEntry, style: &Style) -> Vec<String> {
    let check = &entry.check;
    let phrase = if check.every == 1 {
        HEAD_CHECK_ALL
    } else {
        HEAD_CHECK_PART
    };
    let monotonic = if check.monotonic {
        HEAD_MONOTONIC
    } else {
        HEAD_NOT_MONOTONIC
    };
    let unit = if entry.quantity.is_temperature() {
        "Pa"
    } else {
        "K"
    };
    let form = if entry.quadratic {
        LOOKUP_QUADRATIC
    } else {
        LOOKUP_LINEAR
    };
    let mut lines = vec![
        style.say(
            phrase,
            &[
                ("quantity", entry.quantity.name()),
                ("inputs", &thousands(check.inputs)),
                ("every", &check.every.to_string()),
                ("largest", &style.fixed(rounded_up(check.largest), 5)),
                (
                    "at",
                    &format!("{} {unit}", significant(check.largest_at, 9)),
                ),
                ("mean", &style.fixed(check.mean, 5)),
                ("monotonic", &style.word(monotonic)),
            ],
        ),
        style.say(
            HEAD_SIZE,
            &[
                ("bytes", &entry.bytes.to_string()),
                ("operations", &entry.operations.to_string()),
                ("intervals", &entry.intervals.to_string()),
                ("form", &style.word(form)),
            ],
        ),
    ];
    let quantity = ("quantity", entry.quantity.name());
    match check.round_trip {
        Some(kelvin) => {
            let kelvin = style.fixed(rounded_up(kelvin), 5);
            lines.push(style.say(HEAD_ROUND_TRIP, &[quantity, ("kelvin", &kelvin)]));
        }
        None if entry.quantity.is_temperature() => {
            lines.push(style.say(HEAD_NO_ROUND_TRIP, &[quantity]));
        }
        None => {}
    }
    lines
}

/// An error to five decimals, never below itself.
pub(super) fn rounded_up(kelvin: f64) -> f64 {
    (kelvin * 1e5).ceil() / 1e5
}

/// A count in groups of three digits.
pub(super) fn thousands(count: u64) -> String {
    let digits = count.to_string();
    let mut text = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}
