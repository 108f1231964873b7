//! Flow in a pipe, and the static head of a column of liquid.

use super::warning::told;
use super::words::pipes::*;
use super::{Document, Figures, Style, cautions, parts};
use crate::Warning;
use crate::process::pipe::{PipeFlow, PipeLine};
use crate::process::riser::Riser;
use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;
use crate::units::{AmountKind, PASCAL_PER_PSI, significant};

const FOOT: f64 = 0.3048;

/// A figure in SI to four digits, in the unit of an amount that the style wants.
fn amount(kind: AmountKind, si: f64, [ip, metric]: [&str; 2], style: &Style) -> String {
    let name = if style.units.feet { ip } else { metric };
    let unit = kind.units().find(|unit| unit.name == name);
    let size = unit.map_or(1.0, |unit| unit.si);
    format!("{} {name}", style.sign(significant(si / size, 4)))
}

fn density(value: f64, style: &Style) -> String {
    let unit = style.units.density;
    // Neither of the two units that a style has needs the molar mass.
    let figure = style.sign(significant(unit.read(value, 1.0), 4));
    format!("{figure} {}", unit.typed())
}

/// The page of a flow in a pipe.
pub fn pipe(
    answer: &PipeFlow,
    refrigerant: &Refrigerant,
    warnings: Vec<Warning>,
    style: &Style,
) -> Document {
    let hazards = cautions(&[refrigerant], None, style);
    let mut document = Document::new(answer, told(&warnings, style), hazards);
    let line = style.word(match answer.asked.line {
        PipeLine::Suction => PIPE_SUCTION,
        PipeLine::Discharge => PIPE_DISCHARGE,
        PipeLine::Liquid => PIPE_LIQUID,
    });
    let name = answer.identity.refrigerant.as_str();
    document.title(style.say(PIPE_TITLE, &[("refrigerant", name), ("line", &line)]));
    let mut list = Figures::default();
    let units = [
        (
            PIPE_VELOCITY,
            "velocity_m_s",
            answer.velocity,
            AmountKind::Velocity,
            ["ft/min", "m/s"],
        ),
        (
            PIPE_MASS_FLOW,
            "mass_flow_kg_s",
            answer.mass_flow,
            AmountKind::MassFlow,
            ["lb/h", "kg/h"],
        ),
        (
            PIPE_VOLUME_FLOW,
            "volume_flow_m3_s",
            answer.volume_flow,
            AmountKind::VolumeFlow,
            ["cfm", "m3/h"],
        ),
    ];
    for (label, field, value, kind, names) in units {
        let text = amount(kind, value, names, style);
        list.named(style, label, text, field, value);
    }
    let text = density(answer.density, style);
    list.named(style, PIPE_DENSITY, text, "density_kg_m3", answer.density);
    list.temperature(style, PIPE_TEMPERATURE, "temperature_K", answer.temperature);
    list.pressure(style, PIPE_PRESSURE, "pressure_Pa", answer.pressure);
    let unit = style.units.enthalpy;
    let effect = style.fixed(answer.effect / unit.joule_per_kg(), 2);
    let text = format!("{effect} {}", unit.typed());
    list.named(
        style,
        PIPE_EFFECT,
        text,
        "refrigerating_effect_J_kg",
        answer.effect,
    );
    document.pairs(list);
    document.sheet_of_figures();
    let facts = Facts::of_refrigerant(refrigerant);
    parts::foot(
        &mut document,
        &facts,
        None,
        vec![style.word(PIPE_METHOD)],
        style,
    );
    document
}

/// The page of a column of liquid.
pub fn riser(
    answer: &Riser,
    refrigerant: &Refrigerant,
    warnings: Vec<Warning>,
    style: &Style,
) -> Document {
    let hazards = cautions(&[refrigerant], None, style);
    let mut document = Document::new(answer, told(&warnings, style), hazards);
    let name = answer.identity.refrigerant.as_str();
    document.title(style.say(RISER_TITLE, &[("refrigerant", name)]));
    let mut list = Figures::default();
    let in_feet = style.units.feet;
    let pressure = |pascal: f64| match in_feet {
        true => format!(
            "{} psi",
            style.sign(significant(pascal / PASCAL_PER_PSI, 4))
        ),
        false => format!("{} kPa", style.sign(significant(pascal / 1e3, 4))),
    };
    list.named(
        style,
        RISER_HEAD,
        pressure(answer.head),
        "static_head_Pa",
        answer.head,
    );
    let (length, unit) = if in_feet { (FOOT, "ft") } else { (1.0, "m") };
    let text = format!("{} per {unit}", pressure(answer.gradient() * length));
    list.named(
        style,
        RISER_GRADIENT,
        text,
        "static_head_Pa_m",
        answer.gradient(),
    );
    let text = density(answer.density, style);
    list.named(style, RISER_DENSITY, text, "density_kg_m3", answer.density);
    if let (Some(top), Some([bottom, at_top])) = (answer.top, answer.subcooling) {
        list.pressure(style, RISER_TOP, "top_pressure_Pa", top);
        let text = style.degrees(bottom, 2);
        list.named(
            style,
            RISER_BOTTOM_SUBCOOLING,
            text,
            "bottom_subcooling_K",
            bottom,
        );
        let text = style.degrees(at_top, 2);
        list.named(
            style,
            RISER_TOP_SUBCOOLING,
            text,
            "top_subcooling_K",
            at_top,
        );
    }
    document.pairs(list);
    document.sheet_of_figures();
    let mut lines = Vec::new();
    match answer.subcooling {
        Some([_, top]) if top < 0.0 => lines.push(style.word(RISER_FLASHES)),
        Some(_) => (),
        None => lines.push(style.word(RISER_SATURATED)),
    }
    document.lines(lines);
    let facts = Facts::of_refrigerant(refrigerant);
    parts::foot(
        &mut document,
        &facts,
        None,
        vec![style.word(RISER_METHOD)],
        style,
    );
    document
}
