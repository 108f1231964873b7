//! Warnings as sentences.

use crate::service::reasons::{WARNING_OUTDOOR_AIR, WARNING_RETURN_AIR};
use std::fmt;

use serde::{Serialize, Serializer};

use super::words::warnings::*;
use super::{Style, reason};
use crate::Branch;
use crate::catalogue::CompositionNote;
use crate::units::{Atmosphere, Temperature, UnitSet};
use crate::warning::Warning;

/// A warning as it is told: a short name for programs, a sentence for people.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Told {
    /// Short name, for programs.
    pub code: &'static str,
    /// A sentence, for people.
    pub text: String,
}

/// Warnings as they are told.
pub fn told<'a>(warnings: impl IntoIterator<Item = &'a Warning>, style: &Style) -> Vec<Told> {
    let each = warnings.into_iter().map(|warning| Told {
        code: warning.code(),
        text: sentence(warning, style),
    });
    each.collect()
}

impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let style = Style::new(UnitSet::SI, Atmosphere::SEA_LEVEL);
        f.write_str(&sentence(self, &style))
    }
}

impl Serialize for Warning {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let told = Told {
            code: self.code(),
            text: self.to_string(),
        };
        told.serialize(serializer)
    }
}

pub(super) fn sentence(warning: &Warning, style: &Style) -> String {
    match warning {
        Warning::CompositionNotFixed(text) => text.clone(),
        Warning::EstimatedPair { pairs, is_fitted } => {
            let names = pairs.iter().map(|(one, two)| format!("{one} + {two}"));
            let phrase = match is_fitted {
                true => WARNING_ESTIMATED_FITTED,
                false => WARNING_ESTIMATED,
            };
            let names = names.collect::<Vec<_>>().join(", ");
            style.say(phrase, &[("pairs", &names)])
        }
        Warning::CompositionRead(note) => match note {
            CompositionNote::Scaled(sum) => {
                style.say(WARNING_SCALED, &[("sum", &style.sign(sum.to_string()))])
            }
            CompositionNote::Dropped(name) => style.say(WARNING_DROPPED, &[("name", name)]),
            CompositionNote::Expanded(name) => style.say(WARNING_EXPANDED, &[("name", name)]),
            CompositionNote::ReadAsMole => style.word(WARNING_MOLE),
        },
        Warning::NoBranch(branch, error) => {
            let phrase = match branch {
                Branch::Bubble => WARNING_NO_BUBBLE,
                Branch::Dew => WARNING_NO_DEW,
            };
            style.say(phrase, &[("reason", &reason::reason(error, style))])
        }
        Warning::NearCritical(share) => {
            let percent = style.sign(format!("{}", share * 100.0));
            style.say(WARNING_NEAR_CRITICAL, &[("percent", &percent)])
        }
        Warning::UnstableLiquid(at) => {
            let temperature = style.temperature(*at);
            style.say(WARNING_UNSTABLE_LIQUID, &[("temperature", &temperature)])
        }
        Warning::TwoLiquids(at) => {
            let temperature = style.temperature(*at);
            style.say(WARNING_TWO_LIQUIDS, &[("temperature", &temperature)])
        }
        Warning::ExtrapolatedComponent(name, from) => {
            let blanks = [("name", name.as_str()), ("from", &style.temperature(*from))];
            style.say(WARNING_EXTRAPOLATED, &blanks)
        }
        Warning::StationPressure { given, standard } => {
            let kilopascal =
                |pressure: &crate::units::Pressure| style.fixed(pressure.in_kilopascal(), 1);
            let (given, standard) = (kilopascal(given), kilopascal(standard));
            let blanks = [("given", given.as_str()), ("standard", &standard)];
            style.say(WARNING_STATION_PRESSURE, &blanks)
        }
        Warning::ReturnAirTooCold(found, least) => cold(WARNING_RETURN_AIR, *found, *least, style),
        Warning::OutdoorAirTooCold(found, least) => {
            cold(WARNING_OUTDOOR_AIR, *found, *least, style)
        }
    }
}

fn cold(
    phrase: super::words::Phrase,
    found: Temperature,
    least: Temperature,
    style: &Style,
) -> String {
    // An error says the same without a style: both units, wherever it is read.
    let both = |value: Temperature| {
        let (fahrenheit, celsius) = (value.in_fahrenheit(), value.in_celsius());
        format!(
            "{} °F ({} °C)",
            style.fixed(fahrenheit, 1),
            style.fixed(celsius, 1)
        )
    };
    let (found, least) = (both(found), both(least));
    style.say(phrase, &[("found", found.as_str()), ("least", &least)])
}
