//! The engine beside published values, measured points and its own check.

mod measured;

use std::collections::BTreeMap;

use super::words::validation::*;
use super::{Document, Figures, Style};
use crate::units::significant;
use crate::validation::{
    self, AZEOTROPES, AZEOTROPES_REASON, BlendDeviation, CheckOutcome, CheckedRow, Report,
    SourceSummary, exceptions,
};

/// Deviation from a published point of a blend from which it is listed by name, K.
const FAR: f64 = 1.0;

/// The page of all comparisons.
pub fn validation(report: &Report, style: &Style) -> Document {
    let mut document = Document::new(report, Vec::new(), Vec::new());
    document.title(style.word(BY_SOURCE));
    let sources = report.sources.iter().enumerate();
    let sources: Vec<Figures> = sources.map(|(at, one)| source(at, one, style)).collect();
    document.rows(3, sources);
    document.sheet_of_rows();
    document.lines(vec![
        style.say(ROWS, &[("rows", &report.comparisons.len().to_string())]),
        style.say(TIERS, &[("rows", &report.from_memory().to_string())]),
        style.word(TOLERANCES),
        style.say(PSEUDO_PURE, &[("reason", exceptions::PSEUDO_PURE_REASON)]),
    ]);
    document.title(style.word(NOT_JUDGED));
    document.lines(reasons(&report.comparisons, style));
    let outside: Vec<String> = report.outside().map(|one| line(one, style)).collect();
    if !outside.is_empty() {
        document.title(style.word(OUTSIDE_VALUES));
        document.lines(outside);
    }
    document.title(style.word(BLENDS));
    let (points, largest) = report.handbook_tables();
    let blanks = [
        ("points", points.to_string()),
        ("kelvin", style.fixed(largest, 3)),
    ];
    let mut lines = vec![style.say(
        HANDBOOK,
        &blanks.each_ref().map(|(name, text)| (*name, text.as_str())),
    )];
    lines.extend(blends(&report.blends, style));
    document.lines(lines);
    measured::sections(&mut document, report, style);
    document
}

fn source(at: usize, one: &SourceSummary, style: &Style) -> Figures {
    let mut figures = Figures::default();
    let field = |key: &str| format!("sources/{at}/{key}");
    let worst = match one.judged {
        0 => "-".to_owned(),
        _ => style.sign(significant(one.worst, 2)),
    };
    let tier = one.tier.name();
    figures.named(style, TIER, tier, field("tier"), tier);
    figures.named(
        style,
        SOURCE_OF,
        one.source.as_str(),
        field("source"),
        one.source.as_str(),
    );
    let row = one.worst_row.as_str();
    figures.named(style, WORST_ROW, row, field("worst_row"), row);
    figures.named(
        style,
        ROW_COUNT,
        one.rows.to_string(),
        field("rows"),
        one.rows,
    );
    figures.named(style, WORST, worst, field("worst_of_tolerance"), one.worst);
    for (label, key, value) in [
        (EXCEPTED, "excepted", one.excepted),
        (LISTED_ROWS, "listed", one.listed),
        (OUTSIDE_COUNT, "outside", one.outside),
    ] {
        figures.named(style, label, value.to_string(), field(key), value);
    }
    figures
}

fn line(one: &CheckedRow, style: &Style) -> String {
    let row = &one.row;
    let known = match &one.computed {
        Ok(value) => {
            let (value, share) = (significant(*value, 7), significant(one.deviation, 3));
            style.say(
                COMPUTED,
                &[("value", &style.sign(value)), ("share", &style.sign(share))],
            )
        }
        Err(problem) => style.say(NOT_ANSWERED, &[("problem", problem)]),
    };
    let value = style.sign(row.value.to_string());
    style.say(
        COMPARED,
        &[
            ("row", &row.name()),
            ("value", &value),
            ("unit", &row.unit),
            ("known", &known),
        ],
    )
}

/// A paragraph a reason, its rows below it.
fn reasons(comparisons: &[CheckedRow], style: &Style) -> Vec<String> {
    let mut by_reason: BTreeMap<(bool, &str), Vec<String>> = BTreeMap::new();
    for one in comparisons {
        let key = match one.verdict {
            CheckOutcome::Listed(reason) => (false, reason),
            CheckOutcome::Excepted(reason) => (true, reason),
            CheckOutcome::Within | CheckOutcome::Outside => continue,
        };
        by_reason.entry(key).or_default().push(line(one, style));
    }
    let mut lines = Vec::new();
    for ((is_outside, reason), rows) in by_reason {
        let phrase = if is_outside {
            REASON_OUTSIDE
        } else {
            REASON_NOT_JUDGED
        };
        lines.push(style.say(phrase, &[("reason", reason)]));
        lines.extend(rows.into_iter().map(|row| format!("- {row}")));
    }
    if lines.is_empty() {
        lines.push(style.word(NONE));
    }
    lines
}

fn blends(all: &[(BlendDeviation, String)], style: &Style) -> Vec<String> {
    let mut lines = Vec::new();
    for (fitted, phrase) in [(false, BLENDS_FREE), (true, BLENDS_FITTED)] {
        let part = || {
            all.iter()
                .filter(|(blend, _)| blend.fitted_to_these_values == fitted)
        };
        let sizes = part().filter_map(|(blend, _)| blend.difference());
        let Some(median) = validation::median(sizes) else {
            continue;
        };
        let blanks = [
            ("points", part().count().to_string()),
            ("median", style.fixed(median, 2)),
            ("far", style.sign(FAR.to_string())),
        ];
        lines.push(style.say(
            phrase,
            &blanks.each_ref().map(|(name, text)| (*name, text.as_str())),
        ));
        let far = |blend: &BlendDeviation| blend.difference().is_none_or(|one| one.abs() >= FAR);
        lines.extend(
            part()
                .filter(|(blend, _)| far(blend))
                .map(|(blend, reason)| {
                    let reason = blend.difference().map(|_| reason.as_str());
                    blend_line(blend, reason, style)
                }),
        );
    }
    lines.push(style.say(AZEOTROPES_LINE, &[("reason", AZEOTROPES_REASON)]));
    let listed = all
        .iter()
        .filter(|(blend, _)| AZEOTROPES.contains(&blend.designation.as_str()));
    lines.extend(listed.map(|(blend, _)| blend_line(blend, None, style)));
    lines
}

fn blend_line(blend: &BlendDeviation, reason: Option<&str>, style: &Style) -> String {
    let mut known = match (&blend.computed, blend.difference()) {
        (Err(problem), _) => style.say(NOT_ANSWERED, &[("problem", problem)]),
        (_, difference) => format!("{} K", style.fixed(difference.unwrap_or(f64::NAN), 2)),
    };
    if let Some(reason) = reason {
        known = format!("{known}; {reason}");
    }
    let published = style.sign(blend.published.to_string());
    let blanks = [
        ("blend", blend.designation.as_str()),
        ("line", blend.branch.name()),
        ("published", &published),
        ("known", &known),
    ];
    style.say(BLEND_LINE, &blanks)
}
