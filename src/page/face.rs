//! What is read first on a print: whose figures they are, which hazard applies, what pressures are
//! relative to, what is uncertain.

use super::print::Print;
use super::warning::told;
use super::words::Phrase;
use super::words::print::*;
use super::{Face, Style, Symbol, parts};
use crate::Warning;
use crate::catalogue::records::PairKind;
use crate::chart::{Chart, Reason};
use crate::refrigerant::{PairTrust, Refrigerant};
use crate::service::facts::Facts;
use crate::service::hazard::hazards::{Hazard, hazards};
use crate::units::{Atmosphere, AtmosphereSource, PressureUnit, short};

/// Metres in a foot.
const METRE_PER_FOOT: f64 = 0.3048;

/// The face of a picture: `usual` says what it shows, `units` name its figures and what these are
/// by, pressures among them in a unit of which the site is the zero where it is a gauge's.
pub(super) fn of_picture(
    refrigerants: &[(&Refrigerant, &Facts)],
    (usual, units): (String, [&str; 2]),
    (unit, site): (PressureUnit, &Atmosphere),
    print: &Print,
    style: &Style,
) -> Face {
    let several = refrigerants.len() > 1;
    let remarks = refrigerants.iter().filter_map(|(refrigerant, facts)| {
        of_subject(
            refrigerant,
            unsure(refrigerant, facts, style),
            several,
            style,
        )
    });
    let names = refrigerants
        .iter()
        .map(|(refrigerant, facts)| name(refrigerant, facts, print, style));
    let all: Vec<&Refrigerant> = refrigerants.iter().map(|one| one.0).collect();
    Face {
        shop: print.shop.clone(),
        title: print.title.clone(),
        usual,
        names: names.collect(),
        hazards: hazard_words(&all, style),
        reference: zeroed(units, unit, site, style),
        remarks: remarks.collect(),
        ..Face::default()
    }
}

/// The face of a chart.
pub(super) fn face(chart: &Chart, usual: String, print: &Print, style: &Style) -> Face {
    let refrigerants: Vec<_> = chart.subjects.iter().map(|one| &one.refrigerant).collect();
    Face {
        shop: print.shop.clone(),
        title: print.title.clone(),
        usual,
        names: chart
            .subjects
            .iter()
            .map(|subject| name(&subject.refrigerant, &subject.facts, print, style))
            .collect(),
        hazards: hazard_words(&refrigerants, style),
        reference: reference(chart, style),
        remarks: remarks(chart, style),
        boxes: print
            .boxes
            .iter()
            .map(|(target, value)| {
                let value = value.map(|value| {
                    let unit = chart.temperature_unit;
                    let figure = short(unit.read_difference(value), 3);
                    format!("{} {}", style.sign(figure), unit.difference_symbol())
                });
                (style.word(target.phrase()), value.unwrap_or_default())
            })
            .collect(),
        tint: print.tint,
    }
}

/// A refrigerant with its class, as it is read on a print.
pub(super) fn name(
    refrigerant: &Refrigerant,
    facts: &Facts,
    print: &Print,
    style: &Style,
) -> String {
    let class = match &facts.safety_class {
        Some(class) => class.value.clone(),
        None => style.word(FACE_NO_CLASS),
    };
    let named = print.name.as_deref().filter(|_| !facts.listed);
    let name = named.unwrap_or_else(|| refrigerant.designation());
    let blanks = [("refrigerant", name), ("class", &class)];
    style.say(FACE_NAME, &blanks)
}

/// The hazards that apply in a few words, with their drawings.
pub(super) fn hazard_words(
    refrigerants: &[&Refrigerant],
    style: &Style,
) -> Vec<(Vec<Symbol>, String)> {
    let mut found: Vec<(Vec<Symbol>, String)> = Vec::new();
    let both = [Symbol::Flammable, Symbol::Toxic];
    for hazard in hazards(refrigerants, None) {
        let (symbols, phrase, names): (&[Symbol], Phrase, Vec<String>) = match hazard {
            Hazard::Flammable(names) => (&both[..1], FACE_FLAMMABLE, names),
            Hazard::Toxic(names) => (&both[1..], FACE_TOXIC, names),
            Hazard::HighPressure(names) => (&[], FACE_HIGH_PRESSURE, names),
            Hazard::Oxidizing(names) => (&[], FACE_OXIDIZING, names),
            Hazard::NoClass(names) => (&both, FACE_NO_CLASS_HAZARD, names),
            Hazard::Unlisted => (&both, FACE_NO_CLASS_HAZARD, Vec::new()),
            _ => continue,
        };
        let mut words = style.word(phrase);
        if refrigerants.len() > 1 && names.len() < refrigerants.len() && !names.is_empty() {
            let names = names.join(", ");
            words = style.say(FACE_OF, &[("hazard", &words), ("names", &names)]);
        }
        found.push((symbols.to_vec(), words));
    }
    found
}

/// What the figures are and what pressures are relative to.
fn reference(chart: &Chart, style: &Style) -> String {
    let also = |unit: &str| match &chart.also {
        Some((also, _)) if also.typed() != unit => format!("{unit}, {}", also.typed()),
        _ => unit.to_owned(),
    };
    let pressure = chart.pressure_unit.typed();
    let temperature = chart.temperature_unit.symbol();
    let (cells, rows) = match chart.by_temperature {
        true => (also(pressure), temperature),
        false => (temperature.to_owned(), pressure),
    };
    zeroed([&cells, rows], chart.pressure_unit, &chart.site, style)
}

/// What figures are by, and where a gauge that shows the pressures among them was zeroed.
fn zeroed(
    [cells, rows]: [&str; 2],
    unit: PressureUnit,
    site: &Atmosphere,
    style: &Style,
) -> String {
    let metres = match site.source() {
        AtmosphereSource::Elevation(metres) => metres,
        _ => 0.0,
    };
    let elevation = match style.units.feet {
        true => format!("{} ft", style.fixed(metres / METRE_PER_FOOT, 0)),
        false => format!("{} m", style.fixed(metres, 0)),
    };
    let station = style.pressure(site.pressure(), style.units.absolute);
    let blanks = [
        ("cells", cells),
        ("rows", rows),
        ("elevation", &elevation),
        ("pressure", &station),
    ];
    let phrase = match site.source() {
        _ if !unit.is_gauge() => FACE_ABSOLUTE,
        AtmosphereSource::SeaLevel => FACE_GAUGE_SEA_LEVEL,
        AtmosphereSource::Elevation(_) => FACE_GAUGE_ELEVATION,
        AtmosphereSource::Station => FACE_GAUGE_STATION,
    };
    style.say(phrase, &blanks)
}

/// What is uncertain about the figures.
fn remarks(chart: &Chart, style: &Style) -> Vec<String> {
    let mut found = Vec::new();
    let several = chart.subjects.len() > 1;
    for note in &chart.notes {
        if let (
            false,
            Reason::AboveCritical {
                temperature,
                pressure,
                ..
            },
        ) = (several, note)
        {
            let unit = chart.temperature_unit;
            let at = format!(
                "{} {}",
                style.fixed(unit.read(*temperature), 1),
                unit.symbol()
            );
            let pressure = style.sign(chart.pressure_unit.text(*pressure, &chart.site));
            let blanks = [("temperature", at.as_str()), ("pressure", &pressure)];
            found.push(style.say(FACE_CRITICAL, &blanks));
        }
    }
    for subject in &chart.subjects {
        let refrigerant = &subject.refrigerant;
        let mut own = unsure(refrigerant, &subject.facts, style);
        let limits = subject.extrapolated.iter().map(|(_, limit)| *limit);
        if let Some(limit) = limits.max_by(|one, two| one.in_kelvin().total_cmp(&two.in_kelvin())) {
            let unit = chart.temperature_unit;
            let limit = format!("{} {}", style.fixed(unit.read(limit), 0), unit.symbol());
            own.push(style.say(FACE_EXTRAPOLATED, &[("limit", &limit)]));
        }
        found.extend(of_subject(refrigerant, own, several, style));
    }
    found
}

/// What is uncertain about a refrigerant, whatever is shown of it.
fn unsure(refrigerant: &Refrigerant, facts: &Facts, style: &Style) -> Vec<String> {
    let mut own = estimated(refrigerant, style);
    for warning in refrigerant.warnings() {
        match &warning {
            Warning::EstimatedPair { .. } => {}
            Warning::CompositionNotFixed(_) => own.push(style.word(FACE_NOT_FIXED)),
            other => own.extend(told([other], style).into_iter().map(|one| one.text)),
        }
    }
    if !facts.listed && !refrigerant.is_pure() {
        let composition = parts::composition(refrigerant, style);
        own.push(style.say(FACE_UNLISTED, &[("composition", &composition)]));
    }
    own
}

/// The estimated pairs with their distance from what was measured, the largest; about 3 K where
/// nothing is on record.
fn estimated(refrigerant: &Refrigerant, style: &Style) -> Vec<String> {
    let pairs = refrigerant.pairs().iter();
    let (fitted, guessed): (Vec<&PairTrust>, Vec<&PairTrust>) = pairs
        .filter(|pair| pair.kind == PairKind::Estimated)
        .partition(|pair| pair.measured().is_some());
    let mut own = Vec::new();
    if !guessed.is_empty() {
        let count = guessed.len().to_string();
        own.push(style.say(FACE_ESTIMATED, &[("count", &count)]));
    }
    let measured = fitted.iter().filter_map(|pair| pair.measured());
    let worst = measured.map(|one| one.rms_k).reduce(f64::max);
    if let Some(worst) = worst {
        let (count, difference) = (fitted.len().to_string(), style.degrees(worst, 1));
        let blanks = [("count", count.as_str()), ("difference", &difference)];
        own.push(style.say(FACE_ESTIMATED_FITTED, &blanks));
    }
    own
}

/// Remarks on one line, under its name where there are several refrigerants.
fn of_subject(
    refrigerant: &Refrigerant,
    own: Vec<String>,
    several: bool,
    style: &Style,
) -> Option<String> {
    if own.is_empty() {
        return None;
    }
    let words = own.join("; ");
    let name = refrigerant.designation();
    Some(match several {
        true => style.say(FACE_OF, &[("hazard", name), ("names", &words)]),
        false => words,
    })
}
