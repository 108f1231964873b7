//! Bubble, dew and glide at a pressure, and what they make of a coil.

use super::warning::told;
use super::words::Phrase;
use super::words::properties::*;
use super::{Block, Document, Figures, Sheet, Style, cautions, parts, raoult, working};
use crate::Warning;
use crate::process::coil::{Coil, CoilKind, CoilMeans};
use crate::process::glide::Glide;
use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;
use crate::units::Temperature;

/// The page of glide; `site` holds what to know about the site, `explain` shows the working.
pub fn glide(
    answer: &Glide,
    (refrigerant, facts): (&Refrigerant, &Facts),
    site: &[Warning],
    explain: bool,
    style: &Style,
) -> Document {
    let all = parts::all_warnings(refrigerant, &answer.warnings, site);
    let mut all = told(&all, style);
    let ideal = answer.ideal.as_ref();
    all.extend(ideal.map_or_else(Vec::new, |ideal| raoult::warnings(ideal, style)));
    let mut document = Document::new(answer, all, cautions(&[refrigerant], None, style));
    ends(&mut document, refrigerant, answer, style);
    if let (true, false, Some(coil)) = (explain, refrigerant.is_pure(), answer.coils.first()) {
        let lines = working::k_values(refrigerant, &coil.bubble, style);
        document.working("", lines);
    }
    for coil in &answer.coils {
        of_coil(&mut document, refrigerant, coil, style);
        if explain {
            let mut lines = Vec::new();
            lines.extend(working::absolute(answer.pressure, style));
            lines.extend(working::coil(coil, style));
            document.title(style.word(match coil.kind {
                CoilKind::Evaporator => WORKING_EVAPORATOR,
                CoilKind::Condenser => WORKING_CONDENSER,
            }));
            document.working(&format!("/{}", key(coil.kind)), lines);
        }
        along(&mut document, refrigerant, coil, style);
    }
    if let Some(ideal) = ideal {
        raoult::table(&mut document, ideal, refrigerant, style);
        if explain {
            document.lines(raoult::working(ideal, refrigerant, style));
        }
    }
    let notes = match refrigerant.is_pure() {
        true => vec![style.word(ONE_PRESSURE)],
        false => vec![style.word(ONE_PRESSURE), style.word(MID_POINTS)],
    };
    parts::foot(&mut document, facts, Some(answer.reference), notes, style);
    document.sheet = sheet(answer, refrigerant);
    document
}

const fn key(kind: CoilKind) -> &'static str {
    match kind {
        CoilKind::Evaporator => "evaporator",
        CoilKind::Condenser => "condenser",
    }
}

/// Bubble, dew and glide.
fn ends(document: &mut Document, refrigerant: &Refrigerant, answer: &Glide, style: &Style) {
    let at = style.pressure(answer.pressure.value, style.units.pressure);
    let name = refrigerant.designation();
    let blanks = [("refrigerant", name), ("pressure", at.as_str())];
    document.title(style.say(GLIDE_TITLE, &blanks));
    let mut figures = Figures::default();
    let pressure = answer.pressure.value;
    figures.remark(
        style.word(PRESSURE_GAUGE),
        style.pressure(pressure, style.units.gauge),
    );
    figures.named(
        style,
        PRESSURE_ABSOLUTE,
        style.pressure(pressure, style.units.absolute),
        "pressure_Pa",
        pressure,
    );
    figures.temperature(style, BUBBLE, "bubble_temperature_K", answer.bubble);
    figures.temperature(style, DEW, "dew_temperature_K", answer.dew);
    figures.named(
        style,
        GLIDE,
        style.degrees(answer.glide.in_kelvin(), 2),
        "glide_K",
        answer.glide,
    );
    document.pairs(figures);
    if refrigerant.is_pure() {
        document.lines(vec![style.word(NO_GLIDE)]);
    } else {
        why(document, answer, style);
    }
}

/// Glide in K from which on a liquid is said to change as it boils.
const SOME_GLIDE: f64 = 0.5;

/// Why there is a glide, or hardly any: in one sentence with the components' own numbers.
fn why(document: &mut Document, answer: &Glide, style: &Style) {
    let rows = answer.components.iter().enumerate().map(|(place, one)| {
        let field = |name: &str| format!("components/{place}/{name}");
        let mut row = Figures::default();
        let name = one.refrigerant.clone();
        row.named(style, COMPONENT, name.clone(), field("refrigerant"), name);
        row.temperature(
            style,
            ALONE_BOILS_AT,
            field("boiling_temperature_K"),
            one.alone,
        );
        let k = style.fixed(one.k_value, 3);
        row.named(style, K_VALUE, k, field("k_value"), one.k_value);
        row
    });
    document.rows(1, rows.collect());
    let of = |wanted: fn(f64, f64) -> f64| {
        let all = answer.components.iter();
        all.reduce(
            |best, one| match wanted(best.k_value, one.k_value) == one.k_value {
                true => one,
                false => best,
            },
        )
    };
    let (Some(rich), Some(poor)) = (of(f64::max), of(f64::min)) else {
        return;
    };
    let k = |value: f64| style.fixed(value, 2);
    let glide = style.degrees(answer.glide.in_kelvin(), 2);
    let phrase = match answer.glide.in_kelvin() >= SOME_GLIDE {
        true => WHY_GLIDE,
        false => WHY_HARDLY_ANY_GLIDE,
    };
    let blanks = [
        ("rich", rich.refrigerant.as_str()),
        ("poor", &poor.refrigerant),
        ("highest", &k(rich.k_value)),
        ("lowest", &k(poor.k_value)),
        ("glide", &glide),
    ];
    parts::notes(document, vec![style.say(phrase, &blanks)], style);
}

/// What enters, and what the coil's temperature may mean.
fn of_coil(document: &mut Document, refrigerant: &Refrigerant, coil: &Coil, style: &Style) {
    let field = |name: &str| format!("{}/{name}", key(coil.kind));
    let mut figures = Figures::default();
    if let Some(inlet) = &coil.inlet {
        let phrase = match inlet.pressure_given {
            true => LIQUID_AT,
            false => LIQUID_AT_ASSUMED,
        };
        let pressure = style.pressure(inlet.liquid_pressure, style.units.pressure);
        let temperature = style.temperature(inlet.liquid_temperature);
        let blanks = [
            ("temperature", temperature.as_str()),
            ("pressure", &pressure),
        ];
        figures.named(
            style,
            LIQUID_BEFORE_DEVICE,
            style.say(phrase, &blanks),
            field("liquid_temperature_K"),
            inlet.liquid_temperature,
        );
        figures.temperature(
            style,
            INLET,
            field("inlet_temperature_K"),
            inlet.temperature,
        );
        let quality = style.fixed(inlet.quality, 4);
        figures.named(
            style,
            INLET_QUALITY,
            style.say(BY_MASS, &[("quality", &quality)]),
            field("inlet_quality"),
            inlet.quality,
        );
        figures.named(
            style,
            EFFECTIVE_GLIDE,
            style.degrees(inlet.effective_glide.in_kelvin(), 2),
            field("effective_glide_K"),
            inlet.effective_glide,
        );
    }
    for (name, label, mean) in means(&coil.means) {
        if let Some(mean) = mean {
            figures.temperature(style, label, field(&format!("means/{name}")), mean);
        }
    }
    let heading = match (coil.kind, &coil.inlet) {
        (CoilKind::Evaporator, Some(_)) => EVAPORATOR_FROM_INLET,
        (CoilKind::Evaporator, None) => EVAPORATOR_FROM_BUBBLE,
        (CoilKind::Condenser, _) => CONDENSER_FROM_DEW,
    };
    let name = refrigerant.designation();
    document.title(style.say(heading, &[("refrigerant", name)]));
    document.pairs(figures);
}

/// Key, label and value of each mean.
fn means(means: &CoilMeans) -> [(&'static str, Phrase, Option<Temperature>); 4] {
    [
        (
            "bubble_and_dew_K",
            MEAN_OF_BUBBLE_AND_DEW,
            Some(means.bubble_and_dew),
        ),
        (
            "inlet_and_dew_K",
            MEAN_OF_INLET_AND_DEW,
            means.inlet_and_dew,
        ),
        ("by_enthalpy_K", MEAN_BY_ENTHALPY, Some(means.by_enthalpy)),
        ("bubble_40_dew_60_K", MEAN_FORTY_SIXTY, means.forty_sixty),
    ]
}

/// Temperature and composition at equal steps of enthalpy.
fn along(document: &mut Document, refrigerant: &Refrigerant, coil: &Coil, style: &Style) {
    let components = refrigerant.components();
    let unit = style.units.temperature;
    let mut rows = Vec::new();
    for (at, station) in coil.stations.iter().enumerate() {
        let field = |name: &str| format!("{}/along/{at}/{name}", key(coil.kind));
        let mut row = Figures::default();
        row.named(
            style,
            PERCENT_OF_HEAT,
            style.fixed(100.0 * station.position, 0),
            field("position"),
            station.position,
        );
        row.add(
            unit.symbol(),
            style.fixed(unit.read(station.temperature), 2),
            field("temperature_K"),
            station.temperature,
        );
        row.named(
            style,
            QUALITY,
            style.fixed(station.quality, 4),
            field("quality"),
            station.quality,
        );
        if !refrigerant.is_pure() {
            for (side, phase) in [("liquid", &station.liquid), ("vapor", &station.vapor)] {
                let shares = components.iter().zip(&phase.mass_fractions).enumerate();
                for (place, (component, share)) in shares {
                    row.add(
                        component.designation.clone(),
                        style.fixed(100.0 * share, 2),
                        field(&format!("{side}_mass_fractions/{place}")),
                        *share,
                    );
                }
            }
        }
        rows.push(row);
    }
    document.rows(0, rows);
    if let Some(Block::Table(table)) = document.blocks.last_mut()
        && !refrigerant.is_pure()
    {
        table.groups = vec![
            (String::new(), 3),
            (style.word(LIQUID_BY_MASS), components.len()),
            (style.word(VAPOR_BY_MASS), components.len()),
        ];
    }
}

/// A row a place along the coil; what holds for the whole coil is repeated in each.
fn sheet(answer: &Glide, refrigerant: &Refrigerant) -> Sheet {
    let mut rows = Vec::new();
    for coil in &answer.coils {
        let inlet = coil.inlet.as_ref();
        let mut whole = Figures::default();
        whole.cell("refrigerant", refrigerant.designation());
        whole.cell("coil", key(coil.kind));
        whole.cell("pressure_Pa", answer.pressure.value);
        whole.cell("bubble_temperature_K", answer.bubble);
        whole.cell("dew_temperature_K", answer.dew);
        whole.cell("glide_K", answer.glide);
        whole.cell(
            "liquid_temperature_K",
            inlet.map(|one| one.liquid_temperature),
        );
        whole.cell("liquid_pressure_Pa", inlet.map(|one| one.liquid_pressure));
        whole.cell("inlet_temperature_K", inlet.map(|one| one.temperature));
        whole.cell("inlet_quality", inlet.map(|one| one.quality));
        whole.cell("effective_glide_K", inlet.map(|one| one.effective_glide));
        for (name, _, mean) in means(&coil.means) {
            whole.cell(format!("mean_{name}"), mean);
        }
        for station in &coil.stations {
            let mut row = whole.clone();
            row.cell("position", station.position);
            row.cell("temperature_K", station.temperature);
            row.cell("enthalpy_J_kg", station.enthalpy);
            row.cell("quality", station.quality);
            for (side, phase) in [("liquid", &station.liquid), ("vapor", &station.vapor)] {
                let shares = refrigerant.components().iter().zip(&phase.mass_fractions);
                for (component, share) in shares {
                    let name = &component.designation;
                    row.cell(format!("{side}_mass_fraction_{name}"), *share);
                }
            }
            rows.push(row);
        }
    }
    Sheet::of_rows(rows.iter().map(Figures::as_slice))
}
