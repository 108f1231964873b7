//! Moist air, one state or two with the heat between.

use super::style::Style;
use super::warning::told;
use super::words::air::*;
use super::words::hazards::HAZARD_END;
use super::{Document, Figures, parts};
use crate::Warning;
use crate::service::air::moist_air::{MoistAir, OneState, SOURCE, TwoStates};
use crate::units::{
    KG_PER_POUND, M3_PER_CUBIC_FOOT, Temperature, WATT_PER_BTU_PER_HOUR, significant,
};

/// The page of one state.
pub fn moist_air(answer: &OneState, warnings: Vec<Warning>, style: &Style) -> Document {
    let mut document = Document::new(answer, told(&warnings, style), vec![style.word(HAZARD_END)]);
    document.title(style.word(MOIST_AIR));
    document.pairs(figures(&answer.air, "", style));
    document.sheet_of_figures();
    foot(&mut document, style);
    document
}

/// The page of the heat between two states.
pub fn air_heat(answer: &TwoStates, warnings: Vec<Warning>, style: &Style) -> Document {
    let mut document = Document::new(answer, told(&warnings, style), vec![style.word(HAZARD_END)]);
    document.title(style.word(MOIST_AIR_TWO));
    let column = |head, air, path| (style.word(head), figures(air, path, style));
    let columns = vec![
        column(ENTERING, &answer.entering, "entering/"),
        column(LEAVING, &answer.leaving, "leaving/"),
    ];
    document.columns(Vec::new(), columns);
    let side = &answer.side;
    let mass = |kg_per_s: f64| match style.units.feet {
        true => format!("{} lb/h", significant(kg_per_s * 3600.0 / KG_PER_POUND, 4)),
        false => format!("{} kg/h", significant(kg_per_s * 3600.0, 4)),
    };
    let heat = |watt: f64| match style.units.feet {
        true => format!("{} Btu/h", style.fixed(watt / WATT_PER_BTU_PER_HOUR, 0)),
        false => format!("{} kW", style.sign(significant(watt / 1e3, 4))),
    };
    let mut list = Figures::default();
    list.cell("flow_m3_s", answer.flow);
    for (label, text, key, value) in [
        (DRY_AIR, mass(side.dry_air), "dry_air_kg_s", side.dry_air),
        (WATER_OUT, mass(side.water), "water_kg_s", side.water),
        (CAPACITY, heat(side.total), "capacity_W", side.total),
        (SENSIBLE, heat(side.sensible), "sensible_W", side.sensible),
        (LATENT, heat(side.latent), "latent_W", side.latent),
    ] {
        list.named(style, label, style.sign(text), key, value);
    }
    match (answer.sea_level_capacity, answer.altitude_part) {
        (Some(sea), Some(part)) => {
            list.named(style, AT_SEA_LEVEL, heat(sea), "sea_level_capacity_W", sea);
            list.named(style, ALTITUDE_PART, heat(part), "altitude_part_W", part);
        }
        _ => list.cell("sea_level_capacity_W", answer.sea_level_capacity),
    }
    let share = answer.density_over_standard_air;
    list.cell("density_over_standard_air", share);
    let from = document.figures.len();
    document.pairs(list);
    document.sheet_of_figures_from(from);
    let [share, capacity, sensible] = [(share, 3), (4.5 * share, 2), (1.08 * share, 3)]
        .map(|(value, decimals)| style.fixed(value, decimals));
    let blanks = [
        ("share", share.as_str()),
        ("capacity", &capacity),
        ("sensible", &sensible),
    ];
    let rules = vec![style.word(CAPACITY_RULE), style.say(RULE_OF_THUMB, &blanks)];
    parts::notes(&mut document, rules, style);
    foot(&mut document, style);
    document
}

fn figures(air: &MoistAir, path: &str, style: &Style) -> Figures {
    let feet = style.units.feet;
    let shown = |value: Temperature| style.temperature(value);
    let field = |key: &str| format!("{path}{key}");
    let mut list = Figures::default();
    list.temperature(style, DRY_BULB, field("dry_bulb_K"), air.dry_bulb);
    list.temperature(style, WET_BULB, field("wet_bulb_K"), air.wet_bulb);
    match air.frozen_wet_bulb {
        Some(frozen) => {
            list.temperature(style, FROZEN_WET_BULB, field("frozen_wet_bulb_K"), frozen);
        }
        None => list.cell(field("frozen_wet_bulb_K"), air.frozen_wet_bulb),
    }
    list.named(
        style,
        DEW_POINT,
        air.dew_point
            .map_or_else(|| style.word(NO_DEW_POINT), shown),
        field("dew_point_K"),
        air.dew_point,
    );
    let ratio = air.humidity_ratio;
    // Tables in °F take dry air of 0 °F as reference, those in °C of 0 °C.
    let enthalpy = (air.enthalpy + 1006.0 * 32.0 / 1.8) / 2326.0;
    let volume = air.specific_volume;
    let (ratio_text, enthalpy_text, volume_text) = match feet {
        true => (
            format!(
                "{} lb/lb, {} gr/lb",
                style.fixed(ratio, 5),
                style.fixed(ratio * 7000.0, 1)
            ),
            format!("{} Btu/lb", style.fixed(enthalpy, 2)),
            format!(
                "{} ft3/lb",
                style.fixed(volume * KG_PER_POUND / M3_PER_CUBIC_FOOT, 3)
            ),
        ),
        false => (
            format!("{} g/kg", style.fixed(ratio * 1e3, 2)),
            format!("{} kJ/kg", style.fixed(air.enthalpy / 1e3, 2)),
            format!("{} m3/kg", style.fixed(volume, 4)),
        ),
    };
    let humidity = air.relative_humidity;
    let humidity_text = format!("{} %", style.fixed(humidity * 100.0, 2));
    for (label, text, key, value) in [
        (
            RELATIVE_HUMIDITY,
            humidity_text,
            "relative_humidity",
            humidity,
        ),
        (HUMIDITY_RATIO, ratio_text, "humidity_ratio", ratio),
        (
            AIR_ENTHALPY,
            enthalpy_text,
            "enthalpy_J_kg_dry_air",
            air.enthalpy,
        ),
        (
            SPECIFIC_VOLUME,
            volume_text,
            "specific_volume_m3_kg_dry_air",
            volume,
        ),
    ] {
        list.named(style, label, text, field(key), value);
    }
    list
}

fn foot(document: &mut Document, style: &Style) {
    parts::warnings(document, style);
    let reference = if style.units.feet { "0 °F" } else { "0 °C" };
    let lines = vec![
        style.say(AIR_PRESSURE, &[("site", &parts::air(&style.site, style))]),
        style.say(PER_DRY_AIR, &[("reference", reference)]),
        style.say(AIR_SOURCE, &[("source", SOURCE)]),
    ];
    parts::notes(document, lines, style);
    document.hazards();
}
