//! The cycle that runs, added to the page of a reading.

use serde_json::Value;

use super::words::{Phrase, cycle::*};
use super::{Block, Datum, Document, Figures, Style, parts};
use crate::Result;
use crate::process::cycle::{Estimate, Place, RunningCycle};

/// Adds the cycle that runs to the page of both sides, or why there is none.
pub fn running_cycle(document: &mut Document, found: &Result<RunningCycle>, style: &Style) {
    let mut page = Document::default();
    let value = match found {
        Ok(found) => {
            page.title(style.word(RUNNING_TITLE));
            page.pairs(figures(found, style));
            let unsure = match found.contributions.is_empty() {
                true => RUNNING_UNKNOWN,
                false => RUNNING_LIMITS,
            };
            let notes = [RUNNING_SHELL, RUNNING_PRESSURES, unsure];
            parts::notes(&mut page, notes.map(|one| style.word(one)).into(), style);
            serde_json::to_value(found).unwrap_or(Value::Null)
        }
        Err(error) => {
            let text = super::reason::reason(error, style);
            page.lines(vec![style.say(RUNNING_NONE, &[("error", &text)])]);
            Value::Null
        }
    };
    document.json.set("running_cycle", value);
    for figure in &page.figures {
        document.sheet.heads.push(figure.column());
        if let Some(row) = document.sheet.rows.first_mut() {
            row.push(figure.datum.cell());
        }
    }
    document.figures.append(&mut page.figures);
    // Behind the figures of both sides, ahead of what they rest on.
    let is_figures = |block: &Block| matches!(block, Block::Pairs(_));
    let at = document.blocks.iter().position(is_figures);
    let at = at.map_or(document.blocks.len(), |at| at + 1);
    document.blocks.splice(at..at, page.blocks);
}

fn figures(found: &RunningCycle, style: &Style) -> Figures {
    let mut figures = Figures::default();
    let mut add = |label: Phrase, key: &str, text: String, value: f64| {
        let field = format!("running_cycle/{key}");
        figures.named(style, label, text, field, Datum::Number(value));
    };
    let between = |one: &Estimate, text: &dyn Fn(f64) -> String| match one.expanded {
        Some(expanded) => {
            let (value, expanded) = (text(one.value), text(expanded));
            style.say(
                RUNNING_BETWEEN,
                &[("value", &value), ("expanded", &expanded)],
            )
        }
        None => text(one.value),
    };
    let percent = |share: f64| style.fixed(100.0 * share, 1);
    let text = between(&found.efficiency, &percent);
    let key = "isentropic_efficiency";
    add(RUNNING_EFFICIENCY, key, text, found.efficiency.value);
    let text = between(&found.cop, &|cop| style.fixed(cop, 2));
    add(RUNNING_COP, "cop_cooling", text, found.cycle.cop_cooling);
    let text = between(&found.effect, &|effect| parts::heat(effect, style));
    let effect = found.cycle.effect;
    add(CYCLE_EFFECT, "refrigerating_effect_J_kg", text, effect);
    for (label, place) in [
        (RUNNING_DISCHARGE, Place::Discharge),
        (RUNNING_IDEAL, Place::IdealDischarge),
    ] {
        let at = found.cycle.points.iter().position(|one| one.place == place);
        let Some(at) = at else { continue };
        let temperature = found.cycle.points[at].temperature;
        let field = format!("running_cycle/points/{at}/temperature_K");
        figures.temperature(style, label, field, temperature);
    }
    figures
}
