//! The figures of cycles.

use super::super::words::Phrase;
use super::super::words::cycle::*;
use super::super::{Figures, Style, parts};
use super::assumed;
use crate::process::cycle::{Comparison, CycleAnswer, Discharge, Entry, Level, Relative};
use crate::units::{
    KG_PER_POUND, M3_PER_CUBIC_FOOT, Temperature, TemperatureDifference, WATT_PER_BTU_PER_HOUR,
    significant,
};

/// Joule in a Btu, International Table.
const JOULE_PER_BTU: f64 = 3600.0 * WATT_PER_BTU_PER_HOUR;

/// A size of unit in SI, and its name.
type Size = (f64, &'static str);

pub(super) const fn volume(style: &Style) -> Size {
    match style.units.feet {
        true => (M3_PER_CUBIC_FOOT / KG_PER_POUND, "ft3/lb"),
        false => (1.0, "m3/kg"),
    }
}

pub(super) const fn volumetric(style: &Style) -> Size {
    match style.units.feet {
        true => (JOULE_PER_BTU / M3_PER_CUBIC_FOOT, "Btu/ft3"),
        false => (1e3, "kJ/m3"),
    }
}

const fn flow(style: &Style) -> Size {
    match style.units.feet {
        true => (KG_PER_POUND / 3600.0, "lb/h"),
        false => (1.0 / 3600.0, "kg/h"),
    }
}

const fn swept(style: &Style) -> Size {
    match style.units.feet {
        true => (M3_PER_CUBIC_FOOT / 60.0, "cfm"),
        false => (1.0 / 3600.0, "m3/h"),
    }
}

/// A heat flow, in Btu/h next to kW where lengths are feet.
pub(super) fn watts(watt: f64, style: &Style) -> String {
    let kilowatt = style.sign(significant(watt / 1e3, 4));
    match style.units.feet {
        true => format!(
            "{kilowatt} kW ({} Btu/h)",
            style.fixed(watt / WATT_PER_BTU_PER_HOUR, 0)
        ),
        false => format!("{kilowatt} kW"),
    }
}

/// A size as a number alone, its unit in the label.
pub(super) fn size(value: f64, (unit, _): Size, style: &Style) -> String {
    style.sign(significant(value / unit, 4))
}

fn sized(
    figures: &mut Figures,
    (label, unit): (Phrase, Size),
    field: String,
    value: f64,
    style: &Style,
) {
    let label = style.say(label, &[("unit", unit.1)]);
    figures.add(label, size(value, unit, style), field, value);
}

/// What the high pressure of entries is called.
pub(super) fn high_pressure(entries: &[Entry]) -> Phrase {
    let kinds = [
        CYCLE_CONDENSING_PRESSURE,
        CYCLE_GAS_PRESSURE,
        CYCLE_HIGH_PRESSURE,
    ];
    assumed::of_kinds(entries, kinds)
}

/// What is shown of a cycle in a column; `high` names its high pressure.
pub(super) fn column(path: &str, high: Phrase, found: &CycleAnswer, style: &Style) -> Figures {
    let mut figures = Figures::default();
    let field = |key: &str| format!("{path}{key}");
    figures.pressure(
        style,
        CYCLE_EVAPORATING_PRESSURE,
        field("evaporating_pressure_Pa"),
        found.evaporating_pressure,
    );
    figures.pressure(
        style,
        high,
        field("condensing_pressure_Pa"),
        found.condensing_pressure,
    );
    if let Some(between) = found.intermediate_pressure {
        let key = field("intermediate_pressure_Pa");
        figures.pressure(style, CYCLE_BETWEEN_PRESSURE, key, between);
    }
    let mut number = |label, key: &str, value: f64, decimals| {
        let text = style.fixed(value, decimals);
        figures.named(style, label, text, field(key), value);
    };
    number(CYCLE_RATIO, "pressure_ratio", found.pressure_ratio, 2);
    number(CYCLE_COP_COOLING, "cop_cooling", found.cop_cooling, 3);
    number(CYCLE_COP_HEATING, "cop_heating", found.cop_heating, 3);
    figures.temperature(
        style,
        CYCLE_DISCHARGE,
        field("discharge_temperature_K"),
        found.discharge_temperature,
    );
    figures.named(
        style,
        CYCLE_EFFECT,
        parts::heat(found.effect, style),
        field("refrigerating_effect_J_kg"),
        found.effect,
    );
    let key = field("suction_volume_m3_kg");
    let label = (CYCLE_SUCTION_VOLUME, volume(style));
    sized(&mut figures, label, key, found.suction_volume, style);
    let key = field("volumetric_capacity_J_m3");
    let label = (CYCLE_VOLUMETRIC, volumetric(style));
    sized(&mut figures, label, key, found.volumetric_capacity, style);
    let glide = |by: TemperatureDifference| style.degrees(by.in_kelvin(), 2);
    figures.named(
        style,
        CYCLE_EVAPORATOR_GLIDE,
        glide(found.evaporator_glide),
        field("evaporator_glide_K"),
        found.evaporator_glide,
    );
    figures.named(
        style,
        CYCLE_CONDENSER_GLIDE,
        found.condenser_glide.map_or_else(|| "-".to_owned(), glide),
        field("condenser_glide_K"),
        found.condenser_glide,
    );
    figures
}

/// What a capacity takes.
pub(super) fn capacity(path: &str, found: &CycleAnswer, style: &Style) -> Option<Figures> {
    let taken = found.capacity?;
    let mut figures = Figures::default();
    let field = |key: &str| format!("{path}{key}");
    for (label, key, watt) in [
        (CYCLE_POWER, "power_W", taken.power),
        (CYCLE_REJECTED, "heat_rejected_W", taken.rejected),
    ] {
        figures.named(style, label, watts(watt, style), field(key), watt);
    }
    let (flow, swept) = (flow(style), swept(style));
    let mut add = |label, unit, key: &str, value| {
        sized(&mut figures, (label, unit), field(key), value, style);
    };
    add(CYCLE_FLOW, flow, "mass_flow_kg_s", taken.mass_flow);
    add(
        CYCLE_DISPLACEMENT,
        swept,
        "displacement_m3_s",
        taken.displacement,
    );
    if let Some(high) = taken.high_displacement {
        let key = "high_mass_flow_kg_s";
        add(CYCLE_HIGH_FLOW, flow, key, taken.high_mass_flow);
        add(
            CYCLE_HIGH_DISPLACEMENT,
            swept,
            "high_displacement_m3_s",
            high,
        );
    }
    Some(figures)
}

/// A cycle against the first one.
pub(super) fn relative(path: &str, relative: &Relative, style: &Style) -> Figures {
    let mut figures = Figures::default();
    for (label, key, value) in [
        (
            CYCLE_RELATIVE_CAPACITY,
            "volumetric_capacity",
            relative.volumetric_capacity,
        ),
        (CYCLE_RELATIVE_FLOW, "mass_flow", relative.mass_flow),
        (CYCLE_RELATIVE_COOLING, "cop_cooling", relative.cop_cooling),
        (CYCLE_RELATIVE_HEATING, "cop_heating", relative.cop_heating),
        (
            CYCLE_RELATIVE_LOW,
            "evaporating_pressure",
            relative.evaporating_pressure,
        ),
        (
            CYCLE_RELATIVE_HIGH,
            "condensing_pressure",
            relative.condensing_pressure,
        ),
    ] {
        let text = style.fixed(100.0 * value, 1);
        figures.named(style, label, text, format!("{path}{key}"), value);
    }
    let by = relative.discharge.in_kelvin();
    let sign = if by < 0.0 { "" } else { "+" };
    let text = format!("{sign}{}", style.degrees(by, 1));
    figures.named(
        style,
        CYCLE_RELATIVE_DISCHARGE,
        text,
        format!("{path}discharge_temperature_difference_K"),
        relative.discharge,
    );
    figures
}

/// A row a condition and refrigerant; one without a cycle is left out and told below.
pub(super) fn rows(answer: &Comparison, style: &Style) -> Vec<Figures> {
    let several = answer.refrigerants > 1;
    let kinds = [CYCLE_CONDENSING, CYCLE_OUTLET, CYCLE_CONDENSING_OR_OUTLET];
    let outlet = assumed::of_kinds(&answer.entries, kinds);
    let entries = answer.entries.iter().enumerate();
    let row = |(at, entry): (usize, &Entry)| {
        let found = entry.found.as_ref().ok()?;
        let mut figures = Figures::default();
        let field = |key: &str| format!("results/{at}/{key}");
        let name = entry.identity.refrigerant.as_str();
        figures.named(style, CYCLE_REFRIGERANT, name, field("refrigerant"), name);
        let (low, high) = assumed::figures(&entry.cycle, style);
        figures.remark(style.word(CYCLE_EVAPORATING), low);
        figures.remark(style.word(outlet), high);
        for (label, key, value) in [
            (
                CYCLE_EVAPORATING_PRESSURE,
                "evaporating_pressure_Pa",
                found.evaporating_pressure,
            ),
            (
                CYCLE_CONDENSING_PRESSURE,
                "condensing_pressure_Pa",
                found.condensing_pressure,
            ),
        ] {
            figures.pressure(style, label, field(key), value);
        }
        let mut number = |label, key: &str, value: f64, decimals| {
            let text = style.fixed(value, decimals);
            figures.named(style, label, text, field(key), value);
        };
        number(CYCLE_RATIO, "pressure_ratio", found.pressure_ratio, 2);
        number(CYCLE_COP_COOLING, "cop_cooling", found.cop_cooling, 3);
        if let (true, Some(relative)) = (several, entry.relative) {
            let (text, key) = (
                style.fixed(100.0 * relative.cop_cooling, 1),
                field("relative/cop_cooling"),
            );
            let label = style.word(CYCLE_RELATIVE_ROW);
            figures.add(label, text, key, relative.cop_cooling);
        } else if several {
            figures.remark(style.word(CYCLE_RELATIVE_ROW), "-");
        }
        figures.temperature(
            style,
            CYCLE_DISCHARGE,
            field("discharge_temperature_K"),
            found.discharge_temperature,
        );
        let key = field("volumetric_capacity_J_m3");
        let label = (CYCLE_VOLUMETRIC, volumetric(style));
        sized(&mut figures, label, key, found.volumetric_capacity, style);
        if let Some(taken) = found.capacity {
            let text = watts(taken.power, style);
            figures.named(style, CYCLE_POWER, text, field("power_W"), taken.power);
            let label = (CYCLE_DISPLACEMENT, swept(style));
            let key = field("displacement_m3_s");
            sized(&mut figures, label, key, taken.displacement, style);
        }
        Some(figures)
    };
    entries.filter_map(row).collect()
}

/// Every point of a cycle, a row each.
pub(super) fn points(path: &str, found: &CycleAnswer, style: &Style) -> Vec<Figures> {
    let units = &style.units;
    let density = parts::density_unit(style);
    let points = found.points.iter().enumerate();
    let row = |(at, point): (usize, &crate::process::cycle::Point)| {
        let mut figures = Figures::default();
        let field = |key: &str| format!("{path}/{at}/{key}");
        let (name, place) = (point.place.name(), point.place.phrase().english());
        figures.named(style, CYCLE_POINT, name, field("name"), name);
        let shown = style.word(point.place.phrase());
        figures.named(style, CYCLE_POINT_PLACE, shown, field("place"), place);
        let key = field("temperature_K");
        figures.temperature(style, CYCLE_POINT_TEMPERATURE, key, point.temperature);
        let key = field("pressure_Pa");
        figures.pressure(style, CYCLE_POINT_PRESSURE, key, point.pressure);
        for (label, key, value, shown, unit) in [
            (
                CYCLE_POINT_ENTHALPY,
                "enthalpy_J_kg",
                point.enthalpy,
                point.enthalpy / units.enthalpy.joule_per_kg(),
                units.enthalpy.typed(),
            ),
            (
                CYCLE_POINT_ENTROPY,
                "entropy_J_kg_K",
                point.entropy,
                point.entropy / units.entropy.joule_per_kg_k(),
                units.entropy.typed(),
            ),
            (
                CYCLE_POINT_DENSITY,
                "density_kg_m3",
                point.density,
                // Neither of the two units is molar.
                density.read(point.density, 1.0),
                density.typed(),
            ),
        ] {
            let label = style.say(label, &[("unit", unit)]);
            let text = style.sign(significant(shown, 5));
            figures.add(label, text, field(key), value);
        }
        let quality = point.quality;
        let text = quality.map_or_else(|| "-".to_owned(), |share| style.fixed(share, 4));
        figures.named(style, CYCLE_POINT_QUALITY, text, field("quality"), quality);
        figures
    };
    points.map(row).collect()
}

/// Everything of a cycle but its points, for a spreadsheet.
pub(super) fn cells(entry: &Entry) -> Figures {
    let mut cells = Figures::default();
    cells.cell("refrigerant", entry.identity.refrigerant.as_str());
    let of = |level: Level| match level {
        Level::Temperature(temperature, kind) => (Some(temperature), Some(kind.name())),
        Level::Pressure(_) => (None, None),
    };
    let low = of(entry.cycle.evaporating);
    let (high, outlet): (_, Option<Temperature>) = match entry.cycle.discharge {
        Discharge::Condenser(level) => (of(level), None),
        Discharge::GasCooler { outlet, .. } => ((None, None), Some(outlet)),
    };
    cells.cell("evaporating_temperature_K", low.0);
    cells.cell("evaporating_at", low.1);
    cells.cell("condensing_temperature_K", high.0);
    cells.cell("condensing_at", high.1);
    cells.cell("gas_cooler_outlet_K", outlet);
    let found = entry.found.as_ref().ok();
    let mut number = |key: &str, read: &dyn Fn(&CycleAnswer) -> Option<f64>| {
        cells.cell(key, found.and_then(read));
    };
    number("evaporating_pressure_Pa", &|one| {
        Some(one.evaporating_pressure.in_pascal())
    });
    number("condensing_pressure_Pa", &|one| {
        Some(one.condensing_pressure.in_pascal())
    });
    number("pressure_ratio", &|one| Some(one.pressure_ratio));
    number("refrigerating_effect_J_kg", &|one| Some(one.effect));
    number("suction_volume_m3_kg", &|one| Some(one.suction_volume));
    number("volumetric_capacity_J_m3", &|one| {
        Some(one.volumetric_capacity)
    });
    number("discharge_temperature_K", &|one| {
        Some(one.discharge_temperature.in_kelvin())
    });
    number("cop_cooling", &|one| Some(one.cop_cooling));
    number("cop_heating", &|one| Some(one.cop_heating));
    number("evaporator_glide_K", &|one| {
        Some(one.evaporator_glide.in_kelvin())
    });
    number("condenser_glide_K", &|one| {
        Some(one.condenser_glide?.in_kelvin())
    });
    number("mass_flow_kg_s", &|one| Some(one.capacity?.mass_flow));
    number("power_W", &|one| Some(one.capacity?.power));
    number("displacement_m3_s", &|one| Some(one.capacity?.displacement));
    number("dry_superheat_K", &|one| {
        Some(one.wet_compression?.dry_superheat?.in_kelvin())
    });
    cells.cell(
        "cop_cooling_relative",
        entry.relative.map(|one| one.cop_cooling),
    );
    let relative = entry.relative.map(|one| one.volumetric_capacity);
    cells.cell("volumetric_capacity_relative", relative);
    let error = entry.found.as_ref().err();
    cells.cell("error", error.map(ToString::to_string));
    cells
}
