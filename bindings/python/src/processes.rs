//! `zeotrope.cycle`, `zeotrope.leak` and `zeotrope.draw`.

#![allow(non_snake_case)] // the unit in every name

use pyo3::prelude::*;
use pyo3::types::PyTuple;
use zeotrope::chart::picture::Plane;
use zeotrope::output::Format;
use zeotrope::page::{self, CycleParts, all_warnings};
use zeotrope::process::cycle::{
    CoilTemperature, Comparison, Cycle, GasCoolerPressure, Level, Stages, Stated, compare,
};
use zeotrope::process::shift::{Leaving, LossQuestion, Refill, Until, loss};
use zeotrope::service::hazard::hazards::Work;
use zeotrope::units::{Pressure, Temperature, TemperatureDifference};

use crate::charts::{refrigerant, refrigerants};
use crate::document::{Document, Reading};
use crate::failure::{raised, wrong_value};

/// Most refrigerants that a picture tells apart.
const MOST_DRAWN: usize = 3;

/// One value, or a sweep of them.
#[derive(FromPyObject)]
pub(crate) enum OneOrMore {
    One(f64),
    More(Vec<f64>),
}

impl OneOrMore {
    fn levels(&self, level: impl Fn(f64) -> Level) -> Vec<Level> {
        match self {
            Self::One(value) => vec![level(*value)],
            Self::More(values) => values.iter().map(|value| level(*value)).collect(),
        }
    }
}

fn kind(name: &str, argument: &str) -> PyResult<CoilTemperature> {
    let kinds = [
        CoilTemperature::InletMean,
        CoilTemperature::Mean,
        CoilTemperature::Dew,
        CoilTemperature::Bubble,
    ];
    let found = kinds.into_iter().find(|kind| kind.name() == name);
    found.ok_or_else(|| {
        wrong_value(format!(
            "{argument} is inlet-mean (of an evaporator), mean, dew or bubble, not '{name}'"
        ))
    })
}

fn levels(
    place: &str,
    temperatures: Option<&OneOrMore>,
    pressure: Option<f64>,
    kind: CoilTemperature,
) -> PyResult<Vec<Level>> {
    match (temperatures, pressure) {
        (Some(all), None) => {
            Ok(all.levels(|kelvin| Level::Temperature(Temperature::kelvin(kelvin), kind)))
        }
        (None, Some(pascal)) => Ok(vec![Level::Pressure(Pressure::pascal(pascal))]),
        _ => Err(wrong_value(format!("give either {place}_K or {place}_Pa"))),
    }
}

/// Vapor-compression cycle of one or more refrigerants side by side, as a Document.
///
/// Evaporating and condensing are temperatures in K (`evaporating_K`, `condensing_K`; a list makes
/// rows) or absolute pressures in Pa. `evaporating_at`: inlet-mean, mean, dew or bubble;
/// `condensing_at`: mean, dew or bubble. Differences in K, drops in Pa, shares from 0 to 1,
/// `capacity_W` in W. `gas_cooler_outlet_K` in place of a condenser, at `gas_cooler_Pa` or at the
/// pressure of the highest COP. `stages=2` with an open flash intercooler, or an economizer by
/// `economizer_approach_K`, between them `intermediate_Pa` or the geometric mean. `picture`: ph or
/// ts. `.data["results"]` holds the numbers.
///
/// Raises: NoAnswer for a value that cannot be; ValueError for arguments that exclude each other. A
/// refrigerant without such a cycle is shown with the reason.
///
/// >>> zeotrope.cycle("R-407C", evaporating_K=273.15, condensing_K=313.15, efficiency=0.7)
#[pyfunction]
#[pyo3(signature = (
    *refrigerants, evaporating_K=None, evaporating_Pa=None, condensing_K=None, condensing_Pa=None,
    evaporating_at="inlet-mean", condensing_at="mean", gas_cooler_outlet_K=None,
    gas_cooler_Pa=None, superheat_K=None, suction_K=None, useful_superheat_K=None,
    subcooling_K=None, liquid_K=None, efficiency=1.0, suction_line_effectiveness=None,
    evaporator_drop_Pa=0.0, condenser_drop_Pa=0.0, stages=1, economizer_approach_K=None,
    intermediate_Pa=None, capacity_W=None, explain=false, picture=None, units="si",
    temperature_unit=None, pressure_unit=None, atmosphere_Pa=None
))]
#[allow(clippy::too_many_arguments)] // what a cycle can be
pub(crate) fn cycle(
    py: Python<'_>,
    refrigerants: &Bound<'_, PyTuple>,
    evaporating_K: Option<OneOrMore>,
    evaporating_Pa: Option<f64>,
    condensing_K: Option<OneOrMore>,
    condensing_Pa: Option<f64>,
    evaporating_at: &str,
    condensing_at: &str,
    gas_cooler_outlet_K: Option<f64>,
    gas_cooler_Pa: Option<f64>,
    superheat_K: Option<f64>,
    suction_K: Option<f64>,
    useful_superheat_K: Option<f64>,
    subcooling_K: Option<f64>,
    liquid_K: Option<f64>,
    efficiency: f64,
    suction_line_effectiveness: Option<f64>,
    evaporator_drop_Pa: f64,
    condenser_drop_Pa: f64,
    stages: u8,
    economizer_approach_K: Option<f64>,
    intermediate_Pa: Option<f64>,
    capacity_W: Option<f64>,
    explain: bool,
    picture: Option<&str>,
    units: &str,
    temperature_unit: Option<&str>,
    pressure_unit: Option<&str>,
    atmosphere_Pa: Option<f64>,
) -> PyResult<Document> {
    let reading = Reading::new(py, units, temperature_unit, pressure_unit, atmosphere_Pa)?;
    let kind_of = (
        kind(evaporating_at, "evaporating_at")?,
        kind(condensing_at, "condensing_at")?,
    );
    let low = levels(
        "evaporating",
        evaporating_K.as_ref(),
        evaporating_Pa,
        kind_of.0,
    )?;
    let cycles = match gas_cooler_outlet_K {
        Some(_) if condensing_K.is_some() || condensing_Pa.is_some() => {
            return Err(wrong_value("a gas cooler takes the place of a condenser"));
        }
        Some(outlet) => transcritical(&low, outlet, gas_cooler_Pa),
        None => {
            let high = levels(
                "condensing",
                condensing_K.as_ref(),
                condensing_Pa,
                kind_of.1,
            )?;
            let each = low.iter();
            each.flat_map(|low| high.iter().map(|high| Cycle::between(*low, *high)))
                .collect()
        }
    };
    let around = Around {
        superheat: either(superheat_K, suction_K, "superheat_K or suction_K")?,
        useful_superheat: useful_superheat_K,
        liquid: either(subcooling_K, liquid_K, "subcooling_K or liquid_K")?,
        efficiency,
        exchanger: suction_line_effectiveness,
        drops: (evaporator_drop_Pa, condenser_drop_Pa),
        stages: self::stages(stages, economizer_approach_K, intermediate_Pa)?,
        capacity: capacity_W,
    };
    let cycles: Vec<Cycle> = cycles.into_iter().map(|one| around.of(one)).collect();
    let is_sweep = cycles.len() > 1;
    let picture = match picture {
        None => None,
        Some("ph") => Some(Plane::PressureEnthalpy),
        Some("ts") => Some(Plane::TemperatureEntropy),
        Some(other) => {
            return Err(wrong_value(format!(
                "picture is 'ph' or 'ts', not '{other}'"
            )));
        }
    };
    let refrigerants = self::refrigerants(py, refrigerants)?;
    let found = py
        .detach(|| compare(&refrigerants, &cycles, Stated::default()))
        .map_err(|error| raised(py, &error, None))?;
    let has_picture = refrigerants.len() <= MOST_DRAWN;
    let made = MadeCycle {
        found,
        refrigerants,
        explain,
        is_sweep,
        picture,
        reading,
    };
    Ok(Document::new(has_picture, move |format| {
        Ok(made.document(format))
    }))
}

/// Cycles with a gas cooler, at its pressure or at the best one.
fn transcritical(low: &[Level], outlet: f64, pressure: Option<f64>) -> Vec<Cycle> {
    let pressure = pressure.map_or(GasCoolerPressure::Best, |pascal| {
        GasCoolerPressure::At(Pressure::pascal(pascal))
    });
    let outlet = Temperature::kelvin(outlet);
    let each = low.iter();
    each.map(|low| Cycle::transcritical(*low, pressure, outlet))
        .collect()
}

fn stages(count: u8, approach: Option<f64>, intermediate: Option<f64>) -> PyResult<Stages> {
    let intermediate = intermediate.map(Pressure::pascal);
    match (approach.map(TemperatureDifference::kelvin), count) {
        (Some(approach), _) => Ok(Stages::Economizer {
            intermediate,
            approach,
        }),
        (None, 2) => Ok(Stages::OpenFlash { intermediate }),
        (None, 1) => Ok(Stages::One),
        (None, other) => Err(wrong_value(format!("stages is 1 or 2, not {other}"))),
    }
}

/// A difference or a temperature, K.
enum Either {
    Neither,
    Difference(f64),
    Temperature(f64),
}

fn either(difference: Option<f64>, temperature: Option<f64>, names: &str) -> PyResult<Either> {
    match (difference, temperature) {
        (Some(_), Some(_)) => Err(wrong_value(format!("give {names}, not both"))),
        (Some(kelvin), None) => Ok(Either::Difference(kelvin)),
        (None, Some(kelvin)) => Ok(Either::Temperature(kelvin)),
        (None, None) => Ok(Either::Neither),
    }
}

/// What is said about a cycle next to its temperatures.
struct Around {
    superheat: Either,
    useful_superheat: Option<f64>,
    liquid: Either,
    efficiency: f64,
    exchanger: Option<f64>,
    drops: (f64, f64),
    stages: Stages,
    capacity: Option<f64>,
}

impl Around {
    fn of(&self, cycle: Cycle) -> Cycle {
        let difference = TemperatureDifference::kelvin;
        let mut one = cycle
            .efficiency(self.efficiency)
            .evaporator_drop(self.drops.0)
            .condenser_drop(self.drops.1)
            .stages(self.stages);
        one = match self.superheat {
            Either::Neither => one,
            Either::Difference(kelvin) => one.superheat(difference(kelvin)),
            Either::Temperature(kelvin) => one.suction_temperature(Temperature::kelvin(kelvin)),
        };
        one = match self.liquid {
            Either::Neither => one,
            Either::Difference(kelvin) => one.subcooling(difference(kelvin)),
            Either::Temperature(kelvin) => one.liquid_temperature(Temperature::kelvin(kelvin)),
        };
        if let Some(kelvin) = self.useful_superheat {
            one = one.useful_superheat(difference(kelvin));
        }
        if let Some(share) = self.exchanger {
            one = one.suction_line_exchanger(share);
        }
        if let Some(watt) = self.capacity {
            one = one.capacity(watt);
        }
        one
    }
}

/// A cycle as it was found.
struct MadeCycle {
    found: Comparison,
    refrigerants: Vec<zeotrope::Refrigerant>,
    explain: bool,
    is_sweep: bool,
    picture: Option<Plane>,
    reading: Reading,
}

impl MadeCycle {
    fn document(&self, format: Format) -> page::Document {
        let usual = match format {
            Format::Svg => Some(Plane::PressureEnthalpy),
            _ => None,
        };
        let parts = CycleParts {
            refrigerants: &self.refrigerants,
            site: &[],
            explain: self.explain,
            worksheet: false,
            as_rows: self.is_sweep,
            picture: self
                .picture
                .or(usual)
                .filter(|_| self.refrigerants.len() <= MOST_DRAWN),
        };
        page::cycle(&self.found, parts, &self.reading.style())
    }
}

/// What is asked about a loss, next to refrigerant and temperature.
struct Loss<'a, 'py> {
    lost: Option<Vec<f64>>,
    filled: Option<f64>,
    refill: Option<&'a Bound<'py, PyAny>>,
    rounds: usize,
    mass: Option<f64>,
    suction: Option<f64>,
    liquid: Option<f64>,
    tolerance: bool,
}

fn shift(
    py: Python<'_>,
    (listed, temperature): (&Bound<'_, PyAny>, f64),
    (phase, is_draw): (&str, bool),
    asked: Loss<'_, '_>,
    reading: Reading,
) -> PyResult<Document> {
    let listed = refrigerant(py, listed)?;
    let mut question = LossQuestion::vapor(Temperature::kelvin(temperature));
    question.leaving = match phase {
        "vapor" => Leaving::Vapor,
        "liquid" => Leaving::Liquid,
        other => {
            return Err(wrong_value(format!(
                "phase is 'vapor' or 'liquid', not '{other}'"
            )));
        }
    };
    question.until = if is_draw {
        Until::Drawn
    } else {
        Until::SitePressure(reading.site.pressure())
    };
    question.filled = asked.filled;
    question.lost = asked.lost.unwrap_or_default();
    question.mass = asked.mass;
    question.suction = asked.suction.map(Pressure::pascal);
    question.liquid = asked.liquid.map(Pressure::pascal);
    question.tolerance = asked.tolerance;
    if let Some(refill) = asked.refill {
        let refill = refrigerant(py, refill)?;
        let catalogue = zeotrope::catalogue::Catalogue::embedded();
        let made = Refill::new(&catalogue, &listed, refill, asked.rounds);
        question.refill = Some(made.map_err(|error| raised(py, &error, None))?);
    }
    let found = py
        .detach(|| loss(&listed, &question))
        .map_err(|error| raised(py, &error, None))?;
    let mut warnings = all_warnings(&listed, &[], &[]);
    if let Some(refill) = &question.refill {
        let more = all_warnings(&refill.refrigerant, &[], &[]).into_iter();
        let more: Vec<_> = more.filter(|one| !warnings.contains(one)).collect();
        warnings.extend(more);
    }
    let work = if is_draw { Work::Draw } else { Work::Loss };
    Ok(Document::new(false, move |_| {
        let style = reading.style();
        Ok(page::shift(
            &found,
            &listed,
            &question,
            work,
            warnings.clone(),
            &style,
        ))
    }))
}

/// What a leak leaves of a blend: composition, lines, glide and what a reading then misses by, as a
/// Document.
///
/// `temperature_K` of the vessel; `phase`: vapor or liquid; `lost`: shares of the mass, 0 to 1
/// (every tenth without it), down to the pressure of the site; `filled`: the liquid's share of a
/// rigid vessel's volume at the start; `refill` tops up with a refrigerant `rounds` times; `mass_kg`
/// at the start; `suction_pressure_Pa` and `liquid_pressure_Pa`, absolute, where readings are looked
/// at. `.data["rows"]` holds the numbers.
///
/// Raises: NoAnswer for a value that cannot be; OutOfRange.
///
/// >>> zeotrope.leak("R-407C", temperature_K=297.0, lost=[0.1, 0.3, 0.5])
#[pyfunction]
#[pyo3(signature = (
    refrigerant, temperature_K, *, phase="vapor", lost=None, filled=None, refill=None, rounds=5,
    mass_kg=None, suction_pressure_Pa=None, liquid_pressure_Pa=None, tolerance=false, units="si",
    temperature_unit=None, pressure_unit=None, atmosphere_Pa=None
))]
#[allow(clippy::too_many_arguments)] // what a leak can be
pub(crate) fn leak(
    py: Python<'_>,
    refrigerant: &Bound<'_, PyAny>,
    temperature_K: f64,
    phase: &str,
    lost: Option<Vec<f64>>,
    filled: Option<f64>,
    refill: Option<&Bound<'_, PyAny>>,
    rounds: usize,
    mass_kg: Option<f64>,
    suction_pressure_Pa: Option<f64>,
    liquid_pressure_Pa: Option<f64>,
    tolerance: bool,
    units: &str,
    temperature_unit: Option<&str>,
    pressure_unit: Option<&str>,
    atmosphere_Pa: Option<f64>,
) -> PyResult<Document> {
    let reading = Reading::new(py, units, temperature_unit, pressure_unit, atmosphere_Pa)?;
    let asked = Loss {
        lost,
        filled,
        refill,
        rounds,
        mass: mass_kg,
        suction: suction_pressure_Pa,
        liquid: liquid_pressure_Pa,
        tolerance,
    };
    shift(
        py,
        (refrigerant, temperature_K),
        (phase, false),
        asked,
        reading,
    )
}

/// What drawing from a cylinder leaves of a blend, as a Document: as `leak`, of liquid unless
/// `phase` says vapor, down to a thousandth of the mass.
///
/// Raises: NoAnswer for a value that cannot be; OutOfRange.
///
/// >>> zeotrope.draw("R-407C", temperature_K=297.0, filled=0.8)
#[pyfunction]
#[pyo3(signature = (
    refrigerant, temperature_K, *, phase="liquid", lost=None, filled=None, refill=None, rounds=5,
    mass_kg=None, suction_pressure_Pa=None, liquid_pressure_Pa=None, tolerance=false, units="si",
    temperature_unit=None, pressure_unit=None, atmosphere_Pa=None
))]
#[allow(clippy::too_many_arguments)] // what a draw can be
pub(crate) fn draw(
    py: Python<'_>,
    refrigerant: &Bound<'_, PyAny>,
    temperature_K: f64,
    phase: &str,
    lost: Option<Vec<f64>>,
    filled: Option<f64>,
    refill: Option<&Bound<'_, PyAny>>,
    rounds: usize,
    mass_kg: Option<f64>,
    suction_pressure_Pa: Option<f64>,
    liquid_pressure_Pa: Option<f64>,
    tolerance: bool,
    units: &str,
    temperature_unit: Option<&str>,
    pressure_unit: Option<&str>,
    atmosphere_Pa: Option<f64>,
) -> PyResult<Document> {
    let reading = Reading::new(py, units, temperature_unit, pressure_unit, atmosphere_Pa)?;
    let asked = Loss {
        lost,
        filled,
        refill,
        rounds,
        mass: mass_kg,
        suction: suction_pressure_Pa,
        liquid: liquid_pressure_Pa,
        tolerance,
    };
    shift(
        py,
        (refrigerant, temperature_K),
        (phase, true),
        asked,
        reading,
    )
}
