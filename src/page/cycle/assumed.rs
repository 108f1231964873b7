//! What a cycle was asked with, in words.

use super::super::Style;
use super::super::words::Phrase;
use super::super::words::cycle::*;
use crate::process::cycle::{
    CoilTemperature, Cycle, Discharge, Entry, GasCoolerPressure, Level, Liquid, Stages, Suction,
};
use crate::units::TemperatureDifference;

/// What stands for the high pressure of several: a condenser's, a gas cooler's or either.
pub(super) fn of_kinds(entries: &[Entry], [condenser, gas, either]: [Phrase; 3]) -> Phrase {
    let count = entries.iter().filter(|one| is_gas(&one.cycle)).count();
    match count {
        0 => condenser,
        _ if count == entries.len() => gas,
        _ => either,
    }
}

pub(super) const fn is_gas(cycle: &Cycle) -> bool {
    matches!(cycle.discharge, Discharge::GasCooler { .. })
}

/// Where it evaporates and where it condenses, or what leaves its gas cooler.
pub(super) fn levels(cycle: &Cycle, style: &Style) -> (String, String) {
    let high = match cycle.discharge {
        Discharge::Condenser(level) => self::level(level, style),
        Discharge::GasCooler { outlet, .. } => style.temperature(outlet),
    };
    (level(cycle.evaporating, style), high)
}

/// Where it evaporates and condenses without the kind of temperature, for a table.
pub(super) fn figures(cycle: &Cycle, style: &Style) -> (String, String) {
    let figure = |level: Level| match level {
        Level::Pressure(pressure) => style.pressure(pressure, style.units.pressure),
        Level::Temperature(temperature, _) => style.temperature(temperature),
    };
    let high = match cycle.discharge {
        Discharge::Condenser(level) => figure(level),
        Discharge::GasCooler { outlet, .. } => style.temperature(outlet),
    };
    (figure(cycle.evaporating), high)
}

/// Which temperatures a table means.
fn kinds(cycle: &Cycle) -> Vec<Phrase> {
    let low = match cycle.evaporating {
        Level::Pressure(_) => None,
        Level::Temperature(_, kind) => Some(match kind {
            CoilTemperature::InletMean => CYCLE_OF_INLET_MEAN,
            CoilTemperature::Mean => CYCLE_OF_LOW_MEAN,
            CoilTemperature::Dew => CYCLE_OF_LOW_DEW,
            CoilTemperature::Bubble => CYCLE_OF_LOW_BUBBLE,
        }),
    };
    let high = match cycle.discharge {
        Discharge::Condenser(Level::Temperature(_, kind)) => Some(match kind {
            CoilTemperature::InletMean | CoilTemperature::Mean => CYCLE_OF_HIGH_MEAN,
            CoilTemperature::Dew => CYCLE_OF_HIGH_DEW,
            CoilTemperature::Bubble => CYCLE_OF_HIGH_BUBBLE,
        }),
        _ => None,
    };
    low.into_iter().chain(high).collect()
}

fn level(level: Level, style: &Style) -> String {
    let (temperature, kind) = match level {
        Level::Pressure(pressure) => return style.pressure(pressure, style.units.pressure),
        Level::Temperature(temperature, kind) => (style.temperature(temperature), kind),
    };
    let phrase = match kind {
        CoilTemperature::InletMean => CYCLE_INLET_MEAN,
        CoilTemperature::Mean => CYCLE_MEAN,
        CoilTemperature::Dew => CYCLE_DEW,
        CoilTemperature::Bubble => CYCLE_BUBBLE,
    };
    style.say(phrase, &[("temperature", &temperature)])
}

/// Where heat is rejected in another way than from the first refrigerant.
pub(super) fn other(entry: &Entry, style: &Style) -> String {
    let name = entry.identity.refrigerant.as_str();
    match entry.cycle.discharge {
        Discharge::Condenser(level) => {
            let level = self::level(level, style);
            let blanks = [("refrigerant", name), ("condensing", &level)];
            style.say(CYCLE_CONDENSES, &blanks)
        }
        Discharge::GasCooler { pressure, outlet } => {
            let (outlet, pressure) = (style.temperature(outlet), gas_pressure(pressure, style));
            let blanks = [
                ("refrigerant", name),
                ("outlet", outlet.as_str()),
                ("pressure", &pressure),
            ];
            style.say(CYCLE_COOLS_GAS, &blanks)
        }
    }
}

fn gas_pressure(pressure: GasCoolerPressure, style: &Style) -> String {
    match pressure {
        GasCoolerPressure::Best => style.word(CYCLE_GAS_BEST),
        GasCoolerPressure::At(given) => {
            let given = style.pressure(given, style.units.pressure);
            style.say(CYCLE_GAS_AT, &[("pressure", &given)])
        }
    }
}

/// Every assumption, in a line; with the kinds of temperature where no title has them.
pub(super) fn list(cycle: &Cycle, with_kinds: bool, style: &Style) -> String {
    let degrees = |by: TemperatureDifference| style.degrees(by.in_kelvin(), 2);
    let percent = |share: f64| {
        let text = style.fixed(100.0 * share, 2);
        let text = text.trim_end_matches('0').trim_end_matches(['.', ',']);
        text.to_owned()
    };
    let useful = degrees(cycle.useful());
    let mut list: Vec<String> = Vec::new();
    if with_kinds {
        list.extend(kinds(cycle).into_iter().map(|kind| style.word(kind)));
    }
    list.push(match (cycle.exchanger, cycle.suction) {
        (Some(share), _) => {
            let blanks = [("useful", useful.as_str()), ("percent", &percent(share))];
            style.say(CYCLE_EXCHANGER, &blanks)
        }
        (None, Some(Suction::Temperature(given))) => {
            let given = style.temperature(given);
            let blanks = [("useful", useful.as_str()), ("temperature", &given)];
            style.say(CYCLE_SUCTION, &blanks)
        }
        (None, Some(Suction::Superheat(by))) if by != cycle.useful() => {
            let blanks = [("useful", useful.as_str()), ("superheat", &degrees(by))];
            style.say(CYCLE_SUPERHEAT, &blanks)
        }
        (None, _) if cycle.useful().in_kelvin() == 0.0 => style.word(CYCLE_NO_SUPERHEAT),
        (None, _) => style.say(CYCLE_USEFUL_ALL, &[("superheat", &useful)]),
    });
    if let Discharge::GasCooler { pressure, .. } = cycle.discharge {
        list.push(gas_pressure(pressure, style));
    }
    // beside a gas cooler where others condense
    if !is_gas(cycle) || cycle.beyond.is_some() {
        list.push(match cycle.liquid {
            Some(Liquid::Temperature(given)) => {
                style.say(CYCLE_LIQUID, &[("temperature", &style.temperature(given))])
            }
            Some(Liquid::Subcooling(by)) if by.in_kelvin() > 0.0 => {
                style.say(CYCLE_SUBCOOLING, &[("subcooling", &degrees(by))])
            }
            _ => style.word(CYCLE_NO_SUBCOOLING),
        });
    }
    list.push(match cycle.efficiency {
        1.0 => style.word(CYCLE_ISENTROPIC),
        efficiency => style.say(CYCLE_EFFICIENCY, &[("percent", &percent(efficiency))]),
    });
    list.push(match (cycle.evaporator_drop, cycle.condenser_drop) {
        (0.0, 0.0) => style.word(CYCLE_NO_DROPS),
        (low, high) => {
            let (low, high) = (style.pressure_size(low), style.pressure_size(high));
            let blanks = [("evaporator", low.as_str()), ("condenser", &high)];
            style.say(CYCLE_DROPS, &blanks)
        }
    });
    let intermediate = match cycle.stages {
        Stages::One => {
            list.push(style.word(CYCLE_ONE_STAGE));
            None
        }
        Stages::OpenFlash { intermediate } => {
            list.push(style.word(CYCLE_OPEN_FLASH));
            Some(intermediate)
        }
        Stages::Economizer {
            intermediate,
            approach,
        } => {
            list.push(style.say(CYCLE_ECONOMIZER, &[("approach", &degrees(approach))]));
            Some(intermediate)
        }
    };
    list.extend(intermediate.map(|given| match given {
        None => style.word(CYCLE_BETWEEN_MEAN),
        Some(given) => {
            let given = style.pressure(given, style.units.pressure);
            style.say(CYCLE_BETWEEN_AT, &[("pressure", &given)])
        }
    }));
    list.push(style.word(CYCLE_NO_LOSS));
    list.join("; ")
}
