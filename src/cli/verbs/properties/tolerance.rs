//! `--tolerance`: the band of bubble and dew within the tolerances of a blend's contents.

use serde_json::{Map, Value, json};

use crate::Error;
use crate::cli::errors::Failure;
use crate::cli::page;
use crate::equilibrium::bubble_dew::Branch;
use crate::output::{number, number_cell};
use crate::page::{Block, Table};
use crate::refrigerant::{Band, Refrigerant, SaturationPoint, Warning};
use crate::units::{Atmosphere, Pressure, Temperature, UnitSet};

/// Names of the figures of a branch in a sheet and in JSON.
const FIGURES: [&str; 4] = [
    "lowest_pressure_Pa",
    "highest_pressure_Pa",
    "lowest_temperature_K",
    "highest_temperature_K",
];

/// The bands at one point.
type Both = (Band<Pressure>, Band<Temperature>);

/// The bands of a branch with its name; none where the branch has no point.
type Named = (&'static str, Result<Option<Both>, Error>);

/// The bands around a bubble and a dew point.
pub(crate) struct Tolerance {
    /// None where no tolerance is published.
    branches: Option<[Named; 2]>,
    pure: bool,
    designation: String,
}

impl Tolerance {
    pub(crate) fn around(
        refrigerant: &Refrigerant,
        bubble: Option<&SaturationPoint>,
        dew: Option<&SaturationPoint>,
    ) -> Self {
        let of = |branch, point: Option<&SaturationPoint>| {
            let Some(point) = point else {
                return Ok(None);
            };
            let pressure = refrigerant.pressure_band(branch, point.temperature)?;
            let temperature = refrigerant.temperature_band(branch, point.pressure)?;
            Ok(pressure.zip(temperature))
        };
        Self {
            branches: refrigerant.has_tolerance().then(|| {
                [
                    ("bubble", of(Branch::Bubble, bubble)),
                    ("dew", of(Branch::Dew, dew)),
                ]
            }),
            pure: refrigerant.is_pure(),
            designation: refrigerant.designation().to_owned(),
        }
    }

    /// Why there is no band, where there is none.
    pub(crate) fn warnings(&self, units: &UnitSet, site: &Atmosphere) -> Vec<Warning> {
        let warning = |text| Warning {
            code: "no_tolerance",
            text,
        };
        let Some(branches) = &self.branches else {
            let reason = if self.pure {
                "is pure: no tolerance of contents applies"
            } else {
                "has no published tolerance of its contents on record: the band is not known"
            };
            return vec![warning(format!("{} {reason}", self.designation))];
        };
        branches
            .iter()
            .filter_map(|(name, band)| Some((name, band.as_ref().err()?)))
            .map(|(name, error)| {
                let reason = Failure::in_units(error.clone(), units, site);
                warning(format!(
                    "the {name} band is not known: for a composition within the tolerances no \
                     such point was found ({})",
                    reason.message()
                ))
            })
            .collect()
    }

    pub(crate) fn blocks(&self, units: &UnitSet, site: &Atmosphere) -> Vec<Block> {
        let found = self.found();
        let Some((_, (first, _))) = found.first() else {
            return Vec::new();
        };
        let title = Block::Title(format!(
            "{} within the published tolerances of its contents ({} corners)",
            self.designation, first.corners
        ));
        let row = |name: &str, text: &dyn Fn(&Both) -> String| {
            std::iter::once(name.to_owned())
                .chain(found.iter().map(|(_, both)| text(both)))
                .collect::<Vec<String>>()
        };
        let pressure = |at: Pressure| page::pressure(at, units.pressure, site);
        let table = Table {
            groups: Vec::new(),
            heads: std::iter::once(String::new())
                .chain(found.iter().map(|(name, _)| (*name).to_owned()))
                .collect(),
            rows: vec![
                row("pressure at this temperature, lowest", &|both| {
                    pressure(both.0.lowest)
                }),
                row("pressure at this temperature, highest", &|both| {
                    pressure(both.0.highest)
                }),
                row("temperature at this pressure, lowest", &|both| {
                    page::temperature(both.1.lowest, units)
                }),
                row("temperature at this pressure, highest", &|both| {
                    page::temperature(both.1.highest, units)
                }),
            ],
            words: 1,
        };
        vec![title, Block::Table(table)]
    }

    fn found(&self) -> Vec<(&'static str, Both)> {
        let branches = self.branches.iter().flatten();
        branches
            .filter_map(|(name, band)| Some((*name, (*band.as_ref().ok()?)?)))
            .collect()
    }

    fn figures(both: &Both) -> [f64; 4] {
        [
            both.0.lowest.in_pascal(),
            both.0.highest.in_pascal(),
            both.1.lowest.in_kelvin(),
            both.1.highest.in_kelvin(),
        ]
    }

    /// Null where no tolerance is published; a branch is null where its band is not known.
    pub(crate) fn json(&self) -> Value {
        let found = self.found();
        if self.branches.is_none() {
            return Value::Null;
        }
        let branch = |wanted: &str| {
            let both = found.iter().find(|(name, _)| *name == wanted);
            both.map_or(Value::Null, |(_, both)| {
                let figures = FIGURES.iter().zip(Self::figures(both));
                let pairs = figures.map(|(key, value)| ((*key).to_owned(), number(value)));
                Value::Object(pairs.collect::<Map<String, Value>>())
            })
        };
        json!({
            "corners": found.first().map(|(_, both)| both.0.corners),
            "bubble": branch("bubble"),
            "dew": branch("dew"),
        })
    }

    /// Heads of its columns in a sheet.
    pub(crate) fn heads() -> impl Iterator<Item = String> {
        ["bubble", "dew"]
            .into_iter()
            .flat_map(|branch| FIGURES.map(|figure| format!("{branch}_{figure}")))
    }

    /// Its cells in a sheet.
    pub(crate) fn cells(&self) -> Vec<String> {
        let found = self.found();
        ["bubble", "dew"]
            .into_iter()
            .flat_map(|wanted| {
                let both = found.iter().find(|(name, _)| *name == wanted);
                match both {
                    Some((_, both)) => Self::figures(both).map(|value| number_cell(Some(value))),
                    None => [const { String::new() }; 4],
                }
            })
            .collect()
    }
}
