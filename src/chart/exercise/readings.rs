//! Tasks about a reading: superheat and subcooling, on the right branch and on the wrong one, within a
//! band or not.

use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::{Rng, SeedableRng};

use super::recipe::{self, wrong};
use crate::refrigerant::Refrigerant;
use crate::service::measurement::decision::{Target, Verdict};
use crate::service::measurement::uncertainty::ErrorLimits;
use crate::service::reading::superheat_subcooling::{Measure, Reading};
use crate::units::{Atmosphere, Pressure, Temperature, TemperatureDifference, UnitSet};
use crate::{Branch, Result};

/// Numbers drawn from a seed.
pub(super) struct Draws(Pcg64Mcg);

impl Draws {
    pub(super) fn new(seed: u64) -> Self {
        Self(Pcg64Mcg::seed_from_u64(seed))
    }

    /// Evenly between two numbers, by the 53 bits of a double.
    fn between(&mut self, from: f64, to: f64) -> f64 {
        let share = (self.0.next_u64() >> 11) as f64 * 2f64.powi(-53);
        from + share * (to - from)
    }

    /// An error within a limit on either side; none where no limit is known.
    fn error(&mut self, limit: Option<f64>) -> f64 {
        let limit = limit.unwrap_or(0.0);
        self.between(-limit, limit)
    }
}

/// A task about a reading, with its solution.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct ReadingTask {
    /// The refrigerant.
    pub refrigerant: String,
    /// The reading and what it leads to on the right branch.
    pub reading: Reading,
    /// How far below and above the result the expanded interval reaches, K; none where no limit of an
    /// instrument is known.
    pub expanded: Option<[f64; 2]>,
    /// What the wrong branch leads to, K, where that was asked for and is another.
    pub wrong: Option<f64>,
    /// Whether the wrong branch is asked for.
    pub asks_wrong: bool,
    /// The target that is judged.
    pub target: Option<Target>,
    /// Whether it is met.
    pub verdict: Option<Verdict>,
    /// What superheat or subcooling truly was, K, where the reading was drawn.
    pub drawn: Option<f64>,
}

impl ReadingTask {
    /// From a recipe.
    pub(super) fn new(
        measure: Measure,
        (refrigerant, written): (&Refrigerant, &recipe::Reading),
        limits: &ErrorLimits,
        (units, site, draws): (&UnitSet, &Atmosphere, &mut Draws),
    ) -> Result<Self> {
        let branch = match measure {
            Measure::Superheat => Branch::Dew,
            Measure::Subcooling => Branch::Bubble,
        };
        let ranges = written.saturation.as_deref().zip(written.value.as_deref());
        let typed = written.pressure.as_deref().zip(written.line.as_deref());
        let (pressure, line, drawn) = match (typed, ranges) {
            (Some((pressure, line)), None) => {
                let pressure = recipe::pressure(pressure, site)?.value;
                (pressure, recipe::temperature(line)?, None)
            }
            (None, Some((saturation, value))) => {
                let [from, to] = recipe::temperatures(saturation)?.map(Temperature::in_kelvin);
                let saturation = Temperature::kelvin(draws.between(from, to));
                let [from, to] = recipe::differences(value)?.map(TemperatureDifference::in_kelvin);
                let value = draws.between(from, to);
                let pressure = match branch {
                    Branch::Bubble => refrigerant.bubble_pressure(saturation)?,
                    Branch::Dew => refrigerant.dew_pressure(saturation)?,
                };
                let true_line = measure.line_with(TemperatureDifference::kelvin(value), saturation);
                let off = draws.error(limits.pressure);
                let shown = read(Pressure::pascal(pressure.in_pascal() + off), units, site);
                let off = TemperatureDifference::kelvin(draws.error(limits.clamp));
                (shown, to_half_a_degree(true_line + off, units), Some(value))
            }
            _ => {
                return Err(wrong(
                    &written.refrigerant,
                    "has neither pressure and line nor the ranges saturation and value",
                    "give 'pressure: 65psig, line: 52F', or 'saturation: 35F..45F, value: 4F..15F'",
                ));
            }
        };
        let reading = Reading::new(measure, refrigerant, pressure, line)?;
        let (found, _) = reading.bounded(refrigerant, limits);
        let expanded = found.map(|found| found.expanded);
        let target = match (&written.target, &written.band) {
            (None, None) => None,
            (Some(target), Some(band)) => Some(Target {
                value: recipe::difference(Some(target))?.map_or(0.0, |one| one.in_kelvin()),
                band: recipe::difference(Some(band))?.map_or(0.0, |one| one.in_kelvin()),
            }),
            _ => {
                let hint = "give both, for example 'target: 10F, band: 3F'";
                return Err(wrong(
                    &written.refrigerant,
                    "has a target without a band",
                    hint,
                ));
            }
        };
        Ok(Self {
            refrigerant: refrigerant.designation().to_owned(),
            wrong: reading.wrong_branch(None).filter(|_| written.wrong_branch),
            asks_wrong: written.wrong_branch,
            verdict: target
                .zip(expanded)
                .map(|(target, expanded)| target.judge(reading.value, expanded)),
            target,
            expanded,
            drawn,
            reading,
        })
    }
}

/// A pressure as a gauge shows it, to the whole psi or a twentieth of a bar.
fn read(pressure: Pressure, units: &UnitSet, site: &Atmosphere) -> Pressure {
    let unit = units.gauge;
    let step = if units.feet { 1.0 } else { 0.05 };
    let shown = (unit.read(pressure, site) / step).round() * step;
    unit.write(shown, site)
}

/// A temperature as a thermometer shows it, to half a degree.
fn to_half_a_degree(temperature: Temperature, units: &UnitSet) -> Temperature {
    let unit = units.temperature;
    unit.write((2.0 * unit.read(temperature)).round() / 2.0)
}
