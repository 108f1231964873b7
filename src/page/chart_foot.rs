//! What stands below a chart: why cells have no number, what it is relative to and rests on.

use super::chart_words::{column_in_words, gap_in_words};
use super::warning::told;
use super::words::charts::*;
use super::words::print::*;
use super::{Style, parts};
use crate::chart::{Chart, ColumnLine, Gap, Reason, RowAt, Spot, Subject};
use crate::units::{Pressure, PressureUnit, Temperature};

/// Why cells have no number, a line each.
pub(super) fn reasons(chart: &Chart, style: &Style) -> Vec<String> {
    let each = chart.notes.iter();
    each.map(|reason| reason_in_words(reason, chart, style))
        .collect()
}

fn reason_in_words(reason: &Reason, chart: &Chart, style: &Style) -> String {
    let say = |phrase, gap: Gap, blanks: &[(&str, &str)]| {
        let gap = gap_in_words(gap, style);
        style.say(phrase, &[&[("gap", gap.as_str())], blanks].concat())
    };
    match reason {
        Reason::AboveCritical {
            refrigerant,
            temperature: at,
            pressure: high,
        } => say(
            REASON_ABOVE_CRITICAL,
            Gap::AboveCritical,
            &[
                ("refrigerant", refrigerant),
                ("temperature", &temperature(*at, chart, style)),
                ("pressure", &pressure(*high, chart, style)),
            ],
        ),
        Reason::Range {
            refrigerant,
            gap,
            limit,
        } => {
            let limit = row_value(*limit, chart, style);
            let phrase = match gap {
                Gap::BelowRange => REASON_BEGINS,
                _ => REASON_ENDS,
            };
            say(
                phrase,
                *gap,
                &[("refrigerant", refrigerant), ("limit", &limit)],
            )
        }
        Reason::NoTolerance { refrigerant } => say(
            REASON_NO_TOLERANCE,
            Gap::NotKnown,
            &[("refrigerant", refrigerant)],
        ),
        Reason::AbovePressures {
            refrigerant,
            highest,
        } => say(
            REASON_ABOVE_PRESSURES,
            Gap::NoAnswer,
            &[
                ("refrigerant", refrigerant),
                ("pressure", &pressure(*highest, chart, style)),
            ],
        ),
        Reason::BelowTemperatures {
            refrigerant,
            lowest,
        } => say(
            REASON_BELOW_TEMPERATURES,
            Gap::NoAnswer,
            &[
                ("refrigerant", refrigerant),
                ("temperature", &temperature(*lowest, chart, style)),
            ],
        ),
        Reason::NotFound { refrigerant } => say(
            REASON_NOT_FOUND,
            Gap::NoAnswer,
            &[("refrigerant", refrigerant)],
        ),
        Reason::Failed {
            refrigerant,
            problem,
        } => say(
            REASON_FAILED,
            Gap::NoAnswer,
            &[
                ("refrigerant", refrigerant),
                ("problem", &super::reason::reason(problem, style)),
            ],
        ),
    }
}

fn temperature(at: Temperature, chart: &Chart, style: &Style) -> String {
    let unit = chart.temperature_unit;
    format!("{} {}", style.fixed(unit.read(at), 1), unit.symbol())
}

fn row_value(at: RowAt, chart: &Chart, style: &Style) -> String {
    match at {
        RowAt::Temperature(at) => temperature(at, chart, style),
        RowAt::Pressure(at) => pressure(at, chart, style),
    }
}

fn pressure(at: Pressure, chart: &Chart, style: &Style) -> String {
    style.sign(chart.pressure_unit.text(at, &chart.site))
}

/// What a chart is relative to and rests on, a line each.
pub(super) fn lines(chart: &Chart, style: &Style) -> Vec<String> {
    let mut lines = reference(chart, style);
    lines.extend(purposes(chart, style));
    lines.extend(errors(chart, style));
    for subject in &chart.subjects {
        lines.push(about(subject, style));
        let vapors = parts::vapors_in_short(&subject.facts, style);
        lines.extend(vapors.map(|text| {
            let name = subject.refrigerant.designation();
            style.say(CHART_VAPORS, &[("refrigerant", name), ("text", &text)])
        }));
        lines.extend(of_subject(chart, subject, style));
    }
    lines
}

/// What an exercise asks for, so that it stands on its key alone: what the columns are for, and the
/// glide of each blend.
pub(super) fn solutions(chart: &Chart, style: &Style) -> Vec<String> {
    let mut lines = purposes(chart, style);
    for subject in &chart.subjects {
        lines.extend(glide(chart, subject, style));
        lines.extend(subject.glide.map(|_| composition(chart, subject, style)));
    }
    lines
}

/// What the columns are for.
fn purposes(chart: &Chart, style: &Style) -> Vec<String> {
    let mut lines = Vec::new();
    let shows = |wanted: ColumnLine| chart.columns.iter().any(|column| column.line == wanted);
    if shows(ColumnLine::Bubble) || shows(ColumnLine::Dew) {
        lines.push(style.word(CHART_LINES));
    }
    // Where one column stands for a narrow glide, the line about that glide says so.
    if chart.choices.lines.contains(&ColumnLine::Mean) && shows(ColumnLine::Mean) {
        lines.push(style.word(CHART_MEAN));
    }
    if chart.choices.tolerance {
        lines.push(style.word(CHART_TOLERANCE));
    }
    lines
}

/// Glide, band and warnings of one refrigerant.
fn of_subject(chart: &Chart, subject: &Subject, style: &Style) -> Vec<String> {
    let mut lines: Vec<String> = glide(chart, subject, style).into_iter().collect();
    let name = subject.refrigerant.designation();
    if let Some(band) = subject.wide_band {
        let resolution = chart.choices.resolution.in_kelvin();
        let blanks = [
            ("refrigerant", name),
            ("band", &style.degrees(band.in_kelvin(), 2)),
            ("resolution", &style.degrees(resolution, 2)),
        ];
        lines.push(style.say(CHART_WIDE_BAND, &blanks));
    }
    for (component, limit) in &subject.extrapolated {
        let limit = temperature(*limit, chart, style);
        let blanks = [
            ("refrigerant", name),
            ("limit", &limit),
            ("component", component),
        ];
        lines.push(style.say(CHART_EXTRAPOLATED, &blanks));
    }
    for warning in told(&subject.refrigerant.warnings(), style) {
        let blanks = [("refrigerant", name), ("text", warning.text.as_str())];
        lines.push(style.say(CHART_WARNING, &blanks));
    }
    lines
}

/// What stands next to a table with short marks: what its columns are for, what the marks mean,
/// where it ends.
pub(super) fn compact(tables: &[&Chart], style: &Style) -> Vec<String> {
    let mut lines = Vec::new();
    for chart in tables {
        let is_vacuum =
            |chart: &Chart| chart.pressure_unit == PressureUnit::PsiGauge && chart.has_vacuum();
        let also = match &chart.also {
            Some((_, crate::chart::Beside::Cells(other))) => is_vacuum(other),
            _ => false,
        };
        let vacuum = (is_vacuum(chart) || also).then(|| style.word(VACUUM_MARK_MEANS));
        let reasons = chart
            .notes
            .iter()
            .map(|one| short_reason(one, chart, style));
        for line in purposes(chart, style)
            .into_iter()
            .chain(vacuum)
            .chain(reasons)
        {
            if !lines.contains(&line) {
                lines.push(line);
            }
        }
    }
    lines
}

/// Why a table ends, or what its mark for a cell without a figure means.
fn short_reason(reason: &Reason, chart: &Chart, style: &Style) -> String {
    let has_mark = chart.rows.iter().any(|row| {
        let filled = row.cells.iter().filter(|cell| cell.value.is_some()).count();
        filled > 0 && filled < row.cells.len()
    });
    let mark = [("gap", style.word(GAP_MARK))];
    let (phrase, blanks) = match reason {
        Reason::AboveCritical {
            refrigerant,
            temperature: at,
            pressure: high,
        } => {
            let phrase = match has_mark {
                true => REASON_ABOVE_CRITICAL,
                false => REASON_TABLE_ENDS,
            };
            let blanks = vec![
                ("refrigerant", refrigerant.clone()),
                ("temperature", temperature(*at, chart, style)),
                ("pressure", pressure(*high, chart, style)),
            ];
            (phrase, blanks)
        }
        Reason::Range {
            refrigerant,
            gap,
            limit,
        } => {
            let limit = row_value(*limit, chart, style);
            let phrase = match gap {
                Gap::BelowRange if has_mark => REASON_BEGINS,
                Gap::BelowRange => REASON_TABLE_BEGINS,
                _ => REASON_ENDS,
            };
            let blanks = vec![("refrigerant", refrigerant.clone()), ("limit", limit)];
            (phrase, blanks)
        }
        other => return reason_in_words(other, chart, style),
    };
    let blanks: Vec<(&str, &str)> = mark
        .iter()
        .chain(&blanks)
        .map(|(name, text)| (*name, text.as_str()))
        .collect();
    style.say(phrase, &blanks)
}

/// The lines below a table without what stands next to it already.
pub(super) fn without(lines: Vec<String>, said: &[String], style: &Style) -> Vec<String> {
    let vacuum = style.word(CHART_VACUUM);
    let short = |line: String| match line.strip_suffix(&vacuum) {
        Some(line) => line.trim_end().to_owned(),
        None => line,
    };
    let fresh = lines.into_iter().filter(|line| !said.contains(line));
    fresh.map(short).collect()
}

/// Whether a small print says a blend's glide next to its composition.
const fn has_own_glide(subject: &Subject) -> bool {
    subject.glide.is_some() && subject.one_column.is_none()
}

/// What a blend is made of, on a small print, with its glide where both columns stand.
fn composition(chart: &Chart, subject: &Subject, style: &Style) -> String {
    let composition = parts::composition(&subject.refrigerant, style);
    let mut blanks = vec![
        ("refrigerant", subject.refrigerant.designation().to_owned()),
        ("composition", composition),
    ];
    let phrase = match subject.glide.filter(|_| has_own_glide(subject)) {
        Some(glide) => {
            blanks.push(("glide", style.degrees(glide.glide.in_kelvin(), 1)));
            blanks.push(("pressure", pressure(glide.pressure, chart, style)));
            CHART_COMPOSITION_GLIDE
        }
        None => CHART_COMPOSITION,
    };
    let blanks: Vec<(&str, &str)> = blanks
        .iter()
        .map(|(name, text)| (*name, text.as_str()))
        .collect();
    style.say(phrase, &blanks)
}

/// What a small print rests on: what it is made of, how it is rounded, the papers in one line.
pub(super) fn short(chart: &Chart, style: &Style) -> Vec<String> {
    let mut lines = Vec::new();
    for subject in &chart.subjects {
        let mut own = of_subject(chart, subject, style);
        if !subject.refrigerant.is_pure() {
            // With both columns the glide takes no line of its own.
            if has_own_glide(subject) {
                own.remove(0);
            }
            lines.push(composition(chart, subject, style));
        }
        lines.append(&mut own);
    }
    lines.extend(errors(chart, style));
    let mut papers: Vec<String> = Vec::new();
    for subject in &chart.subjects {
        for paper in subject.facts.model.papers() {
            if !papers.contains(&paper) {
                papers.push(paper);
            }
        }
    }
    let names: Vec<&str> = chart
        .subjects
        .iter()
        .map(|one| one.refrigerant.designation())
        .collect();
    let version = super::print::signature(style);
    let version = version.strip_prefix("zeotrope ").unwrap_or(&version);
    let blanks = [
        ("papers", papers.join(", ")),
        ("names", names.join(" ")),
        ("version", version.to_owned()),
    ];
    let blanks = blanks.each_ref().map(|(name, text)| (*name, text.as_str()));
    let phrase = match names.len() {
        0..=3 => SOURCES_LINE,
        _ => SOURCES_OF_MANY,
    };
    lines.push(style.say(phrase, &blanks));
    lines
}

/// What the pressures are relative to, those of a second unit too.
fn reference(chart: &Chart, style: &Style) -> Vec<String> {
    let line = |chart: &Chart| {
        let unit = chart.pressure_unit;
        let site = parts::air(&chart.site, style);
        let blanks = [("unit", unit.typed()), ("site", site.as_str())];
        if !unit.is_gauge() {
            return style.say(CHART_ABSOLUTE, &blanks[..1]);
        }
        let mut line = style.say(CHART_GAUGE, &blanks);
        if unit == PressureUnit::PsiGauge && chart.has_vacuum() {
            line.push(' ');
            line.push_str(&style.word(CHART_VACUUM));
        }
        line
    };
    let mut lines = vec![line(chart)];
    if let Some((_, crate::chart::Beside::Cells(other))) = &chart.also {
        let more = line(other);
        lines.extend(Some(more).filter(|more| *more != lines[0]));
    }
    lines
}

/// What the print leaves in error.
fn errors(chart: &Chart, style: &Style) -> Option<String> {
    let (cell, spot) = chart.errors.cell.as_ref()?;
    let place = spot_in_words(spot, chart, style);
    let between = chart.errors.between.as_ref();
    let blanks = [
        (
            "resolution",
            style.degrees(chart.choices.resolution.in_kelvin(), 2),
        ),
        ("error", style.degrees(*cell, 3)),
        ("place", place),
        (
            "between",
            between.map_or_else(String::new, |(error, _)| style.degrees(*error, 3)),
        ),
        (
            "rows",
            between.map_or_else(String::new, |(_, spot)| {
                self::spot_in_words(spot, chart, style)
            }),
        ),
    ];
    let blanks = blanks.each_ref().map(|(name, text)| (*name, text.as_str()));
    let phrase = match between {
        Some(_) => CHART_ROUNDED_BETWEEN,
        None => CHART_ROUNDED,
    };
    let mut parts = vec![style.say(phrase, &blanks), style.word(CHART_EQUATION_ERROR)];
    if !chart.errors.kept {
        parts.push(style.word(CHART_NOT_KEPT));
    }
    Some(parts.join(" "))
}

fn spot_in_words(spot: &Spot, chart: &Chart, style: &Style) -> String {
    let unit = match chart.by_temperature {
        true => chart.temperature_unit.symbol(),
        false => chart.pressure_unit.typed(),
    };
    let column = format!("{} {}", spot.refrigerant, column_in_words(spot.line, style));
    let row = |place: usize| {
        let row = chart.rows.get(place);
        row.map_or_else(String::new, |row| row.label.text.clone())
    };
    let (from, next) = (row(spot.row), row(spot.row + 1));
    let blanks = [
        ("column", column.trim()),
        ("row", &from),
        ("next", &next),
        ("unit", unit),
    ];
    let phrase = match spot.is_between {
        true => CHART_PLACE_BETWEEN,
        false => CHART_PLACE,
    };
    style.say(phrase, &blanks)
}

/// The glide of a blend at a stated pressure, and whether one column stands for two lines.
fn glide(chart: &Chart, subject: &Subject, style: &Style) -> Option<String> {
    let glide = subject.glide?;
    let most = subject.one_column;
    let blanks = [
        ("refrigerant", subject.refrigerant.designation().to_owned()),
        ("glide", style.degrees(glide.glide.in_kelvin(), 1)),
        ("pressure", pressure(glide.pressure, chart, style)),
        (
            "most",
            most.map_or_else(String::new, |most| style.degrees(most.in_kelvin(), 1)),
        ),
    ];
    let blanks = blanks.each_ref().map(|(name, text)| (*name, text.as_str()));
    let phrase = match most {
        Some(_) => CHART_ONE_COLUMN,
        None => CHART_GLIDE,
    };
    Some(style.say(phrase, &blanks))
}

/// Class, contents and what the numbers rest on.
fn about(subject: &Subject, style: &Style) -> String {
    let name = subject.refrigerant.designation();
    let facts = &subject.facts;
    let class = parts::class(facts, style);
    if subject.refrigerant.is_pure() {
        let equation = facts.model.equations.first();
        let source = equation.map_or("-", |equation| equation.source.as_str());
        let blanks = [("refrigerant", name), ("class", &class), ("source", source)];
        return style.say(CHART_PURE, &blanks);
    }
    let composition = parts::composition(&subject.refrigerant, style);
    let model = &facts.model;
    let pairs = parts::pairs_counted(facts, style);
    let published = parts::deviations(&model.deviations, style);
    let blanks = [
        ("refrigerant", name),
        ("class", &class),
        ("composition", &composition),
        ("pairs", &pairs),
        ("published", published.as_deref().unwrap_or_default()),
    ];
    let phrase = match published {
        Some(_) => CHART_BLEND_PUBLISHED,
        None => CHART_BLEND,
    };
    style.say(phrase, &blanks)
}
