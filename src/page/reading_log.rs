//! A log of both sides: lowest, highest, mean, trend, and a drawing of the run.

use super::warning::told;
use super::words::{Phrase, readings::*};
use super::{Block, Document, Figures, Style, cautions, parts};
use crate::Warning;
use crate::chart::plot::{Axis, Ink, Plot, PlotCurve, Stroke};
use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;
use crate::service::reading::both_sides::Mode;
use crate::service::reading::log::{Log, LogQuantity, Thinned};
use crate::units::{Temperature, TemperatureDifference, significant};

/// The page of a log.
pub fn reading_log(
    answer: &Log,
    refrigerant: &Refrigerant,
    warnings: Vec<Warning>,
    style: &Style,
) -> Document {
    let mut document = Document::new(
        answer,
        told(&warnings, style),
        cautions(&[refrigerant], None, style),
    );
    document.title(title(answer, style));
    let rows = LogQuantity::ALL.iter().copied();
    document.rows(2, rows.filter_map(|one| row(answer, one, style)).collect());
    let told = shares(answer, style)
        .into_iter()
        .chain(swings(answer, style));
    document.lines(told.chain(counts(answer, style)).collect());
    parts::notes(&mut document, vec![style.word(LOG_NOTES)], style);
    let facts = Facts::of_refrigerant(refrigerant);
    parts::foot(&mut document, &facts, None, Vec::new(), style);
    document.blocks.push(Block::Picture(picture(answer, style)));
    document
}

fn title(answer: &Log, style: &Style) -> String {
    let rows = answer.rows.to_string();
    let blanks = [
        ("refrigerant", answer.identity.refrigerant.as_str()),
        ("rows", &rows),
    ];
    match answer.rows {
        1 => style.say(LOG_TITLE_ONE, &blanks[..1]),
        _ => style.say(LOG_TITLE, &blanks),
    }
}

/// Each row in one class, and what the air says.
fn counts(answer: &Log, style: &Style) -> Vec<String> {
    let counts = [
        answer.answered,
        answer.partial,
        answer.marked,
        answer.unanswered(),
    ];
    let [answered, partial, marked, unanswered] = counts.map(|count| count.to_string());
    let blanks = [
        ("answered", answered.as_str()),
        ("partial", &partial),
        ("marked", &marked),
        ("unanswered", &unanswered),
    ];
    let mut lines = vec![style.say(LOG_COUNTS, &blanks)];
    if answer.air_says_heating() {
        lines.push(style.word(LOOKS_LIKE_HEATING));
    }
    lines
}

/// How superheat and subcooling swing.
fn swings(answer: &Log, style: &Style) -> Vec<String> {
    let swings = answer.swings().iter().zip([SUPERHEAT, SUBCOOLING]);
    let told = swings.filter_map(|(swing, measure)| {
        let (size, period) = (swing.size()?, swing.period()?);
        let texts = [
            style.word(measure),
            style.degrees(size, 1),
            match answer.has_times() {
                true => span(period, style),
                false => style.say(SPAN_ROWS, &[("count", &significant(period, 3))]),
            },
            swing.peaks().to_string(),
        ];
        let [measure, size, period, count] = texts.each_ref().map(String::as_str);
        let blanks = [
            ("measure", measure),
            ("size", size),
            ("period", period),
            ("count", count),
        ];
        Some(style.say(LOG_SWING, &blanks))
    });
    told.collect()
}

/// A length of time in the unit in which people say it.
fn span(seconds: f64, style: &Style) -> String {
    let (size, unit) = match seconds {
        long if long >= 3.0 * 3600.0 => (3600.0, "h"),
        middle if middle >= 180.0 => (60.0, "min"),
        _ => (1.0, "s"),
    };
    format!("{} {unit}", style.sign(significant(seconds / size, 3)))
}

/// How long superheat and subcooling lie below, within and above their bands.
fn shares(answer: &Log, style: &Style) -> Vec<String> {
    let shares = answer.shares().iter().zip([SUPERHEAT, SUBCOOLING]);
    let told = shares.filter_map(|(share, measure)| {
        let share = share.as_ref()?;
        let percent = share.fractions()?.map(|part| style.fixed(100.0 * part, 0));
        let texts = [
            style.word(measure),
            style.degrees(share.target.value, 1),
            style.degrees(share.target.band, 1),
        ];
        let [measure, target, band] = texts.each_ref().map(String::as_str);
        let [below, within, above] = percent.each_ref().map(String::as_str);
        let blanks = [
            ("measure", measure),
            ("target", target),
            ("band", band),
            ("below", below),
            ("within", within),
            ("above", above),
        ];
        let phrase = match answer.has_times() {
            true => LOG_SHARE,
            false => LOG_SHARE_ROWS,
        };
        Some(style.say(phrase, &blanks))
    });
    told.collect()
}

const fn name(quantity: LogQuantity, mode: Mode) -> Phrase {
    match (quantity, mode) {
        (LogQuantity::OverAmbient, Mode::Heating) => CONDENSING_OVER_RETURN,
        (LogQuantity::OverEvaporating, Mode::Heating) => AMBIENT_OVER_EVAPORATING,
        (LogQuantity::GasCoolerApproach, Mode::Heating) => GAS_COOLER_APPROACH_HEATING,
        _ => name_in_cooling(quantity),
    }
}

const fn name_in_cooling(quantity: LogQuantity) -> Phrase {
    match quantity {
        LogQuantity::GasCoolerApproach => GAS_COOLER_APPROACH,
        LogQuantity::SuctionDew => SUCTION_DEW,
        LogQuantity::Superheat => SUPERHEAT,
        LogQuantity::LiquidBubble => LIQUID_BUBBLE,
        LogQuantity::Subcooling => SUBCOOLING,
        LogQuantity::EvaporatingMean => EVAPORATOR_MEAN,
        LogQuantity::CondensingMean => CONDENSER_MEAN,
        LogQuantity::PressureRatio => PRESSURE_RATIO,
        LogQuantity::OverAmbient => OVER_AMBIENT,
        LogQuantity::OverEvaporating => OVER_EVAPORATING,
    }
}

/// The figures of a quantity; `None` where no row had it.
fn row(answer: &Log, quantity: LogQuantity, style: &Style) -> Option<Figures> {
    use LogQuantity::{CondensingMean, EvaporatingMean, LiquidBubble, PressureRatio, SuctionDew};
    let seen = answer.statistics(quantity);
    let unit = style.units.temperature;
    let of_difference = |kelvin: f64| unit.read_difference(TemperatureDifference::kelvin(kelvin));
    let is_temperature = matches!(
        quantity,
        SuctionDew | LiquidBubble | EvaporatingMean | CondensingMean
    );
    let (symbol, trend_decimals) = match quantity {
        PressureRatio => ("", 3),
        _ if is_temperature => (unit.symbol(), 2),
        _ => (unit.difference_symbol(), 2),
    };
    let figure = |value: f64| match quantity {
        PressureRatio => style.fixed(value, 2),
        _ if is_temperature => style.fixed(unit.read(Temperature::kelvin(value)), 1),
        _ => style.fixed(of_difference(value), 1),
    };
    let slope = |slope: f64| match quantity {
        PressureRatio => style.fixed(slope, trend_decimals),
        _ => style.fixed(of_difference(slope), trend_decimals),
    };
    let mode = answer.mode.unwrap_or_default();
    let field = |key: &str| format!("statistics/{}/{key}", quantity.key(mode));
    let mut figures = Figures::default();
    figures.remark(" ", style.word(name(quantity, mode)));
    figures.remark(style.word(UNIT), symbol);
    let count = seen.count() as usize;
    figures.named(style, LOG_ROWS, count.to_string(), field("count"), count);
    for (label, key, value) in [
        (LOWEST, "min", seen.min()?),
        (HIGHEST, "max", seen.max()?),
        (LOG_MEAN, "mean", seen.mean()?),
    ] {
        figures.named(style, label, figure(value), field(key), value);
    }
    let (label, key, trend) = match (answer.has_times(), answer.spans_an_hour()) {
        (true, true) => (TREND_PER_HOUR, "trend_per_h", answer.trend(quantity)),
        (true, false) => (TREND_OVER_RUN, "drift", seen.drift()),
        (false, _) => (TREND_PER_ROW, "trend_per_row", answer.trend(quantity)),
    };
    let text = trend.map_or_else(|| "-".to_owned(), slope);
    figures.named(style, label, text, field(key), trend);
    Some(figures)
}

fn picture(answer: &Log, style: &Style) -> Plot {
    let unit = style.units.temperature;
    let drawn = answer.curves();
    let times = drawn.iter().flat_map(Thinned::points).map(|point| point.0);
    let longest = times.fold(0.0, f64::max);
    let (size, word) = match answer.has_times() {
        false => (1.0, None),
        true if longest > 3.0 * 3600.0 => (3600.0, Some("h")),
        true if longest > 180.0 => (60.0, Some("min")),
        true => (1.0, Some("s")),
    };
    let label = word.map_or_else(
        || style.word(ROW),
        |word| style.say(TIME, &[("unit", word)]),
    );
    let point = |&(time, kelvin): &(f64, f64)| {
        let difference = TemperatureDifference::kelvin(kelvin);
        (time / size, unit.read_difference(difference))
    };
    let curves: Vec<PlotCurve> = drawn
        .iter()
        .zip([(SUPERHEAT, Stroke::Solid), (SUBCOOLING, Stroke::Dashed)])
        .filter(|(curve, _)| !curve.points().is_empty())
        .map(|(curve, (label, stroke))| PlotCurve {
            label: style.word(label),
            points: curve.points().iter().map(point).collect(),
            stroke,
            ink: Ink::Black,
        })
        .collect();
    let numbers = |at: fn(&(f64, f64)) -> f64| -> Vec<f64> {
        let points = curves.iter().flat_map(|curve| &curve.points);
        points.map(at).collect()
    };
    let most = drawn.iter().map(Thinned::every).max().unwrap_or(1);
    let mut notes = counts(answer, style);
    notes.push(style.word(LINE_BRIDGES));
    if most > 1 {
        notes.push(style.say(ROWS_DRAWN, &[("count", &most.to_string())]));
    }
    Plot {
        title: title(answer, style),
        x: Axis::spanning(label, numbers(|point| point.0)),
        y: Axis::spanning(
            style.say(DIFFERENCE, &[("unit", unit.difference_symbol())]),
            numbers(|point| point.1).into_iter().chain([0.0]),
        ),
        curves,
        marks: Vec::new(),
        notes,
    }
}
