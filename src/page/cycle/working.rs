//! A cycle step by step, in numbers that lead to the printed digit.

use super::super::Style;
use super::super::words::Phrase;
use super::super::words::cycle::*;
use super::figures;
use crate::process::cycle::{Cycle, CycleAnswer, Place, Stages};
use crate::units::Pressure;

/// Decimals of an enthalpy: two more than the page shows of a difference.
const DECIMALS: usize = 4;

fn say<const N: usize>(style: &Style, phrase: Phrase, blanks: [(&str, String); N]) -> String {
    style.say(
        phrase,
        &blanks.each_ref().map(|(name, text)| (*name, text.as_str())),
    )
}

// Long because it is one page read from top to bottom: a step a line, each with its own figures.
pub(super) fn lines(found: &CycleAnswer, cycle: &Cycle, style: &Style) -> Vec<String> {
    let per_kg = style.units.enthalpy;
    let unit = || ("unit", per_kg.typed().to_owned());
    let heat = |value: f64| style.fixed(value / per_kg.joule_per_kg(), DECIMALS);
    let absolute = |pressure: Pressure| style.pressure(pressure, style.units.absolute);
    let h = |place: Place| found.point(place).map(|point| heat(point.enthalpy));
    let get = |place: Place| h(place).unwrap_or_default();
    let mut lines = Vec::new();
    let (low, high) = (found.evaporating_pressure, found.condensing_pressure);
    let figure = |pressure: Pressure| {
        style.fixed(
            pressure.in_pascal() / style.units.absolute.pascal(),
            DECIMALS,
        )
    };
    lines.push(say(
        style,
        CYCLE_W_LEVELS,
        [
            ("low", absolute(low)),
            ("high", absolute(high)),
            ("low_figure", figure(low)),
            ("high_figure", figure(high)),
            ("ratio", style.fixed(found.pressure_ratio, 2)),
        ],
    ));
    let volume = figures::volume(style);
    if let (Some(one), Some(dew)) = (found.point(Place::Suction), found.suction_dew()) {
        let entropy = style.units.entropy;
        let figure = style.fixed(one.entropy / entropy.joule_per_kg_k(), 5);
        lines.push(say(
            style,
            CYCLE_W_SUPERHEAT,
            [
                ("dew", style.temperature(dew)),
                (
                    "superheat",
                    style.degrees(found.suction_superheat.in_kelvin(), 2),
                ),
                ("suction", style.temperature(one.temperature)),
                ("enthalpy", heat(one.enthalpy)),
                unit(),
                ("entropy", format!("{figure} {}", entropy.typed())),
                (
                    "volume",
                    format!(
                        "{} {}",
                        style.fixed(1.0 / one.density / volume.0, 6),
                        volume.1
                    ),
                ),
            ],
        ));
    }
    let compressed_to = found.intermediate_pressure.unwrap_or(high);
    lines.push(say(
        style,
        CYCLE_W_ISENTROPIC,
        [
            ("high", absolute(compressed_to)),
            ("ideal", get(Place::IdealDischarge)),
            unit(),
        ],
    ));
    if let Some(two) = found.point(Place::Discharge) {
        lines.push(say(
            style,
            CYCLE_W_DISCHARGE,
            [
                ("one", get(Place::Suction)),
                ("ideal", get(Place::IdealDischarge)),
                ("efficiency", style.fixed(cycle.efficiency, 4)),
                ("two", heat(two.enthalpy)),
                ("high", absolute(compressed_to)),
                ("temperature", style.temperature(two.temperature)),
                unit(),
            ],
        ));
    }
    if let Some(three) = found.point(Place::LiquidLine) {
        lines.push(say(
            style,
            CYCLE_W_LIQUID,
            [
                ("temperature", style.temperature(three.temperature)),
                ("three", heat(three.enthalpy)),
                unit(),
            ],
        ));
    }
    if let Some(cooled) = h(Place::SubcooledLiquid) {
        lines.push(say(
            style,
            CYCLE_W_EXCHANGER,
            [
                ("three", get(Place::LiquidLine)),
                ("one", get(Place::Suction)),
                ("zero", get(Place::EvaporatorOutlet)),
                ("cooled", cooled),
                unit(),
            ],
        ));
    }
    if let Some(four) = found.point(Place::EvaporatorInlet) {
        let quality = four.quality.map(|share| {
            let share = style.fixed(share, 4);
            style.say(CYCLE_W_QUALITY, &[("quality", &share)])
        });
        lines.push(say(
            style,
            CYCLE_W_INLET,
            [
                ("four", heat(four.enthalpy)),
                ("temperature", style.temperature(four.temperature)),
                ("quality", quality.unwrap_or_default()),
                unit(),
            ],
        ));
    }
    lines.push(say(
        style,
        CYCLE_W_EFFECT,
        [
            ("zero", get(Place::EvaporatorOutlet)),
            ("four", get(Place::EvaporatorInlet)),
            ("effect", heat(found.effect)),
            unit(),
        ],
    ));
    lines.extend(balance(found, cycle, style));
    let capacity = figures::volumetric(style);
    lines.push(say(
        style,
        CYCLE_W_VOLUMETRIC,
        [
            ("effect", heat(found.effect)),
            ("volume", style.fixed(found.suction_volume / volume.0, 6)),
            (
                "capacity",
                format!(
                    "{} {}",
                    figures::size(found.volumetric_capacity, capacity, style),
                    capacity.1
                ),
            ),
        ],
    ));
    lines
}

/// Work and both COPs, in one stage or in two.
fn balance(found: &CycleAnswer, cycle: &Cycle, style: &Style) -> Vec<String> {
    let per_kg = style.units.enthalpy;
    let heat = |value: f64| style.fixed(value / per_kg.joule_per_kg(), DECIMALS);
    let get = |place: Place| {
        let point = found.point(place);
        point.map_or_else(String::new, |point| heat(point.enthalpy))
    };
    let unit = || ("unit", per_kg.typed().to_owned());
    let cop = |value: f64| ("cop", style.fixed(value, 3));
    let work = heat(found.work);
    let cooling = say(
        style,
        CYCLE_W_COOLING,
        [
            ("effect", heat(found.effect)),
            ("work", work.clone()),
            cop(found.cop_cooling),
        ],
    );
    if cycle.stages == Stages::One {
        let (two, one) = (get(Place::Discharge), get(Place::Suction));
        let blanks = [
            ("two", two.clone()),
            ("one", one),
            ("work", work.clone()),
            unit(),
        ];
        let done = say(style, CYCLE_W_WORK, blanks);
        let heating = [
            ("two", two),
            ("three", get(Place::LiquidLine)),
            ("work", work),
            cop(found.cop_heating),
        ];
        return vec![done, cooling, say(style, CYCLE_W_HEATING, heating)];
    }
    let phrase = match cycle.stages {
        Stages::Economizer { .. } => CYCLE_W_ECONOMIZER,
        _ => CYCLE_W_FLASH,
    };
    let ratio = style.fixed(found.high_flow_ratio, 6);
    let between = [
        ("two", get(Place::Discharge)),
        ("three", get(Place::LiquidLine)),
        ("eight", get(Place::IntermediateLiquid)),
        ("nine", get(Place::IntermediateVapor)),
        ("ratio", ratio.clone()),
    ];
    let stages = [
        ("one", get(Place::Suction)),
        ("two", get(Place::Discharge)),
        ("five", get(Place::HighSuction)),
        ("six", get(Place::HighDischarge)),
        ("ratio", ratio.clone()),
        ("work", work.clone()),
        unit(),
    ];
    let heating = [
        ("three", get(Place::LiquidLine)),
        ("six", get(Place::HighDischarge)),
        ("ratio", ratio),
        ("work", work),
        cop(found.cop_heating),
    ];
    vec![
        say(style, phrase, between),
        say(style, CYCLE_W_STAGES, stages),
        cooling,
        say(style, CYCLE_W_STAGES_HEATING, heating),
    ]
}
