//! What pages of readings share: the sum behind a pressure, uncertainty, meaning, verdict.

use super::style::Detail;
use super::warning::Told;
use super::words::{Phrase, readings::*};
use super::{Document, Figures, Style};
use crate::Error;
use crate::service::measurement::decision::{Deciding, Decision, Verdict};
use crate::service::measurement::gauge::Added;
use crate::service::measurement::gauge_reading::GaugeReading;
use crate::service::measurement::kit::{Instrument, Kit};
use crate::service::measurement::uncertainty::{
    CombinationMethod, DRAWS, SEED, Source, Uncertainty,
};
use crate::service::reading::superheat_subcooling::{
    Measure, NEAR_SATURATION, Reading, ReadingMeaning,
};
use crate::units::{
    PASCAL_PER_INCH_OF_MERCURY, Pressure, PressureUnit, TemperatureDifference, significant,
};

/// A size of pressure without what it is relative to: `psi` of psig.
fn difference_unit(unit: PressureUnit) -> (f64, &'static str) {
    match unit {
        PressureUnit::PsiGauge | PressureUnit::PsiAbsolute => (unit.pascal(), "psi"),
        PressureUnit::BarGauge | PressureUnit::BarAbsolute => (unit.pascal(), "bar"),
        PressureUnit::MegapascalGauge | PressureUnit::MegapascalAbsolute => (unit.pascal(), "MPa"),
        PressureUnit::InchesOfMercuryAbsolute | PressureUnit::InchesOfMercuryVacuum => {
            (PASCAL_PER_INCH_OF_MERCURY, "inHg")
        }
        PressureUnit::Micron | PressureUnit::Torr | PressureUnit::Millibar => {
            (unit.pascal(), unit.typed())
        }
        _ => (1e3, "kPa"),
    }
}

/// A difference of pressures in Pa with its unit.
pub(crate) fn difference(pascal: f64, style: &Style) -> String {
    let (size, word) = difference_unit(style.units.absolute);
    // Digits for a thousandth of a psi, whatever the unit.
    let decimals = (size.log10() - 0.8).round().clamp(0.0, 6.0) as usize;
    format!("{} {word}", style.fixed(pascal / size, decimals))
}

/// The sum by which an absolute pressure was found.
pub(crate) fn sum(
    read: &GaugeReading,
    instrument: &Instrument,
    drop: Option<f64>,
    total: Pressure,
    style: &Style,
) -> String {
    let style = &style.of_reading(read.unit);
    let figure = |phrase, pascal| style.say(phrase, &[("figure", &difference(pascal, style))]);
    let mut text = match &instrument.correction {
        Some(correction) => {
            let factor = style.sign(correction.span_factor.to_string());
            let offset = difference(correction.zero_offset, style);
            let blanks = [
                ("factor", factor.as_str()),
                ("figure", &difference(read.shown, style)),
                ("offset", &offset),
            ];
            style.say(SHOWN_CORRECTED, &blanks)
        }
        // A vacuum is typed without a sign, and taken off the air.
        None if read.unit == PressureUnit::InchesOfMercuryVacuum
            && style.as_typed
            && !matches!(read.added, Added::Nothing) =>
        {
            let phrase = match read.added {
                Added::Site(_) => VACUUM_BELOW_SITE,
                _ => VACUUM_BELOW_OTHER,
            };
            let figures = [
                difference(read.added.pascal(), style),
                difference(-read.shown, style),
            ];
            let blanks = [("air", figures[0].as_str()), ("figure", &figures[1])];
            let text = style.say(phrase, &blanks);
            return summed(text, drop, total, style);
        }
        None => figure(SHOWN, read.shown),
    };
    match read.added {
        Added::Site(_) => text.push_str(&figure(ADDED_SITE, read.added.pascal())),
        Added::Other(_) => text.push_str(&figure(ADDED_OTHER, read.added.pascal())),
        Added::Nothing => (),
    }
    summed(text, drop, total, style)
}

/// The end of such a sum.
fn summed(mut text: String, drop: Option<f64>, total: Pressure, style: &Style) -> String {
    let figure = |phrase, pascal| style.say(phrase, &[("figure", &difference(pascal, style))]);
    match drop {
        Some(drop) if drop < 0.0 => text.push_str(&figure(DROP_ADDED, -drop)),
        Some(drop) => text.push_str(&figure(DROP_TAKEN_OFF, drop)),
        None => (),
    }
    let total = difference(total.in_pascal(), style);
    style.say(SUM_ABSOLUTE, &[("sum", &text), ("figure", &total)])
}

/// A kit's name, with the correction of the gauge used.
pub(crate) fn kit(kit: &Kit, instrument: &Instrument, style: &Style) -> Option<String> {
    match &instrument.correction {
        Some(correction) => {
            let blanks = [("name", kit.name.as_str()), ("date", &correction.checked)];
            Some(style.say(KIT_CHECKED, &blanks))
        }
        None => (!kit.name.is_empty()).then(|| kit.name.clone()),
    }
}

pub(super) const fn name(measure: Measure) -> Phrase {
    match measure {
        Measure::Superheat => SUPERHEAT,
        Measure::Subcooling => SUBCOOLING,
    }
}

/// The warning that nothing bounds a figure.
pub(super) fn unbounded(measure: Measure, error: &Error, style: &Style) -> Told {
    let (measure, error) = (
        style.word(name(measure)),
        super::reason::reason(error, style),
    );
    let blanks = [("measure", measure.as_str()), ("error", &error)];
    Told {
        code: "uncertainty_unbounded",
        text: style.say(UNCERTAINTY_UNBOUNDED, &blanks),
    }
}

/// `±1.3 °F`, or `+1.3 / -1.6 °F` where the sides differ as shown.
pub(super) fn sides([below, above]: [f64; 2], style: &Style) -> String {
    let (down, up) = (style.degrees(below, 1), style.degrees(above, 1));
    if down == up {
        format!("±{up}")
    } else {
        let bare = up.split(' ').next().unwrap_or_default();
        format!("+{bare} / -{down}")
    }
}

/// A difference in K, to a tenth and with its expanded uncertainty where that is known.
pub(super) fn value(kelvin: f64, found: Option<&Uncertainty>, style: &Style) -> String {
    match found {
        Some(found) => format!(
            "{}, {}",
            style.degrees(kelvin, 1),
            sides(found.expanded, style)
        ),
        None => style.degrees(kelvin, 2),
    }
}

/// Adds what each source does and how the expanded figure was made. `path` is the field that has
/// the uncertainty, with a `/` behind it where it is not the answer itself.
pub(super) fn uncertainty(document: &mut Document, found: &Uncertainty, path: &str, style: &Style) {
    if style.detail == Detail::Brief {
        return;
    }
    let mut rows = Vec::new();
    for (at, one) in found.contributions.iter().enumerate() {
        let source = style.word(source(one.source));
        let limits = match one.sides {
            Some(pair) => sides(pair, style),
            None => style.word(NOT_COUNTED),
        };
        let standard = one.standard.map(|kelvin| style.degrees(kelvin, 2));
        let mut row = Figures::default();
        row.remark(style.word(UNCERTAINTY_FROM), source);
        row.remark(style.word(LIMITS), limits);
        row.named(
            style,
            STANDARD,
            standard.unwrap_or_else(|| "-".to_owned()),
            format!("{path}contributions/{at}/standard_K"),
            one.standard,
        );
        rows.push(row);
    }
    let mut row = Figures::default();
    let worst = sides(found.worst, style);
    row.remark(style.word(UNCERTAINTY_FROM), style.word(TOGETHER));
    row.named(
        style,
        LIMITS,
        style.say(AT_WORST, &[("sides", &worst)]),
        format!("{path}worst_case_K"),
        found.worst_case(),
    );
    row.named(
        style,
        STANDARD,
        style.degrees(found.standard, 2),
        format!("{path}standard_uncertainty_K"),
        found.standard,
    );
    rows.push(row);
    document.rows(1, rows);
    let expanded = sides(found.expanded, style);
    document.lines(vec![match found.method {
        CombinationMethod::Squares => style.say(EXPANDED_SQUARES, &[("sides", &expanded)]),
        CombinationMethod::MonteCarlo => {
            let (draws, seed) = (DRAWS.to_string(), SEED.to_string());
            let blanks = [
                ("sides", expanded.as_str()),
                ("draws", &draws),
                ("seed", &seed),
            ];
            style.say(EXPANDED_DRAWS, &blanks)
        }
    }]);
}

const fn source(source: Source) -> Phrase {
    match source {
        Source::Pressure => SOURCE_PRESSURE,
        Source::Site => SOURCE_SITE,
        Source::Clamp => SOURCE_CLAMP,
        Source::Contact => SOURCE_CONTACT,
        Source::Equation => SOURCE_EQUATION,
        Source::Composition => SOURCE_COMPOSITION,
    }
}

/// What the reading says about the clamp.
pub(super) fn meaning(reading: &Reading, expanded: Option<[f64; 2]>, style: &Style) -> String {
    let decimals = if expanded.is_some() { 1 } else { 2 };
    let value = style.degrees(reading.value.abs(), decimals);
    let near = style.degrees(NEAR_SATURATION, 1);
    let phrase = match (reading.meaning(expanded), reading.measure) {
        (ReadingMeaning::OnePhase, Measure::Superheat) => ONE_PHASE_SUPERHEAT,
        (ReadingMeaning::OnePhase, Measure::Subcooling) => ONE_PHASE_SUBCOOLING,
        (ReadingMeaning::AtSaturation, measure) => match (measure, expanded.is_some()) {
            (Measure::Superheat, true) => AT_DEW,
            (Measure::Superheat, false) => NEAR_DEW,
            (Measure::Subcooling, true) => AT_BUBBLE,
            (Measure::Subcooling, false) => NEAR_BUBBLE,
        },
        (ReadingMeaning::TwoPhase, Measure::Superheat) => TWO_PHASE_SUPERHEAT,
        (ReadingMeaning::TwoPhase, Measure::Subcooling) => TWO_PHASE_SUBCOOLING,
        (ReadingMeaning::NotPossible, Measure::Superheat) => NOT_POSSIBLE_SUPERHEAT,
        (ReadingMeaning::NotPossible, Measure::Subcooling) => NOT_POSSIBLE_SUBCOOLING,
    };
    style.say(phrase, &[("value", &value), ("near", &near)])
}

/// A verdict and what it rests on, a sentence each.
pub(super) fn decision(
    one: &Decision,
    reading: &Reading,
    found: Option<&Uncertainty>,
    style: &Style,
) -> Vec<String> {
    let target = &one.target;
    let texts = [
        style.word(name(reading.measure)),
        style.degrees(reading.value, 1),
        style.degrees(target.value, 1),
        style.degrees(target.band, 1),
    ];
    let [measure, value, wanted, band] = texts.each_ref().map(String::as_str);
    let blanks = [
        ("measure", measure),
        ("value", value),
        ("target", wanted),
        ("band", band),
    ];
    let against = style.say(AGAINST, &blanks);
    let (Some(verdict), Some(found)) = (one.verdict, found) else {
        let phrase = match target.holds(reading.value) {
            true => UNKNOWN_INSIDE,
            false => UNKNOWN_OUTSIDE,
        };
        return vec![style.say(phrase, &[("against", &against)])];
    };
    let phrase = match verdict {
        Verdict::Within => WITHIN,
        Verdict::Outside => OUTSIDE,
        Verdict::NotDecidable => NOT_DECIDABLE,
    };
    let expanded = sides(found.expanded, style);
    let blanks = [("against", against.as_str()), ("sides", &expanded)];
    let mut lines = vec![style.say(phrase, &blanks)];
    let open = found.not_counted().into_iter();
    let open: Vec<String> = open
        .filter(|source| !matches!(source, Source::Equation | Source::Composition))
        .map(|one| style.word(source(one)))
        .collect();
    if !open.is_empty() {
        lines.push(style.say(ACCURACY_NOT_GIVEN, &[("sources", &open.join(", "))]));
    }
    lines.extend(
        one.deciding
            .map(|deciding| decides(&deciding, one.span, style)),
    );
    if verdict == Verdict::Outside {
        // Common practice, no source.
        lines.push(
            style.word(match (reading.measure, reading.value > target.value) {
                (Measure::Superheat, true) => HIGH_SUPERHEAT,
                (Measure::Superheat, false) => LOW_SUPERHEAT,
                (Measure::Subcooling, true) => HIGH_SUBCOOLING,
                (Measure::Subcooling, false) => LOW_SUBCOOLING,
            }),
        );
    }
    lines
}

/// What would have decided; limits are rounded down, so that what is printed does decide.
fn decides(deciding: &Deciding, span: Option<f64>, style: &Style) -> String {
    let down = |value: f64| style.sign(significant(floor_significant(value, 2), 2));
    let mut ways = Vec::new();
    if let Some(limit) = deciding.gauge {
        let (size, unit) = difference_unit(style.units.absolute);
        let figure = down(limit / size);
        let share = span.and_then(|span| deciding.gauge_share(span));
        let percent = share.map(|share| down(100.0 * share));
        let blanks = [("limit", figure.as_str()), ("unit", unit)];
        ways.push(match percent {
            Some(percent) => style.say(
                GAUGE_DECIDES_SPAN,
                &[&blanks[..], &[("percent", &percent)]].concat(),
            ),
            None => style.say(GAUGE_DECIDES, &blanks),
        });
    }
    if let Some(limit) = deciding.clamp {
        let unit = style.units.temperature;
        let figure = down(unit.read_difference(TemperatureDifference::kelvin(limit)));
        let blanks = [
            ("limit", figure.as_str()),
            ("unit", unit.difference_symbol()),
        ];
        ways.push(style.say(CLAMP_DECIDES, &blanks));
    }
    if let Some(part) = deciding.both {
        ways.push(style.say(BOTH_DECIDE, &[("percent", &down(100.0 * part))]));
    }
    if ways.is_empty() {
        return style.word(NOTHING_DECIDES);
    }
    style.say(DECIDES, &[("ways", &ways.join(&style.word(OR)))])
}

/// Rounds down to a count of significant digits.
fn floor_significant(value: f64, digits: i32) -> f64 {
    let scale = 10f64.powi(digits - 1 - value.abs().log10().floor() as i32);
    if scale.is_finite() && scale > 0.0 {
        (value * scale).floor() / scale
    } else {
        value
    }
}
