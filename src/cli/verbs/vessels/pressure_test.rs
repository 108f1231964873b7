//! `pressure-test`: a standing test with nitrogen, corrected for temperature.

use serde_json::Value;

use crate::cli::args::meant;
use crate::cli::args::reading::VesselAccuracyArgs;
use crate::cli::args::{OutputArgs, SiteArgs, UnitArgs};
use crate::cli::errors::Failure;
use crate::cli::figures::Figures;
use crate::cli::page;
use crate::cli::transition::{NO_VERDICT, PRESSURE_TEST};
use crate::cli::verbs::air::moist_air::temperature;
use crate::cli::verbs::readings::instruments;
use crate::output::{optional, warnings};
use crate::page::{Block, Document};
use crate::refrigerant::Warning;
use crate::service::vessel::pressure_test::{Expected, Reading, expected};
use crate::units::{Atmosphere, Pressure, TemperatureDifference, UnitSet, parse_elevation};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope pressure-test --start-pressure 150psig --start-temperature 95F \\\n      \
                  --end-temperature 75F\n  \
                  zeotrope pressure-test --start-pressure 500psig --start-temperature 85F \\\n      \
                  --end-pressure 470psig --end-temperature 60F --gauge-accuracy 1psi \\\n      \
                  --thermometer-accuracy 1F"
)]
pub(crate) struct PressureTestArgs {
    /// Gauge reading at the start, for example 150psig or 10barg
    #[arg(long, value_name = "PRESSURE")]
    start_pressure: String,
    /// Temperature of the nitrogen at the start
    #[arg(long, value_name = "TEMPERATURE")]
    start_temperature: String,
    /// Gauge reading at the end
    #[arg(long, value_name = "PRESSURE")]
    end_pressure: Option<String>,
    /// Temperature of the nitrogen at the end
    #[arg(long, value_name = "TEMPERATURE")]
    end_temperature: String,
    /// Elevation where the end was read; a test does not change its place
    #[arg(long, value_name = "HEIGHT")]
    end_elevation: Option<String>,
    /// Barometer reading at the end, where the weather has changed
    #[arg(long, value_name = "PRESSURE")]
    end_station_pressure: Option<String>,
    #[command(flatten)]
    accuracy: VesselAccuracyArgs,
    #[command(flatten)]
    units: UnitArgs,
    #[command(flatten)]
    site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

/// More than the weather changes the air's pressure at one place, as a share of it.
const WEATHER: f64 = 0.05;

pub(crate) fn answer(args: &PressureTestArgs) -> Result<Document, Failure> {
    meant::check_output(&args.output)?;
    let (site, all) = meant::site(&args.site)?;
    let end_site = end_site(args, &site)?;
    let start_temperature = temperature("--start-temperature", &args.start_temperature)?;
    let end_temperature = temperature("--end-temperature", &args.end_temperature)?;
    let (gauge, thermometer) = instruments::at_vessel(&args.accuracy)?;
    let reading = |name: &str, text: &str, site: &Atmosphere| {
        instruments::read(text, &gauge, site).map_err(|error| Failure::from(error).of_option(name))
    };
    let start = reading("--start-pressure", &args.start_pressure, &site)?;
    let units = meant::units(&args.units, Some(start_temperature.unit), Some(start.unit))?;
    if start.pressure <= site.pressure() {
        return Err(Failure::no_answer(
            "the start is not above the air of the site: that is no pressure test",
            "'zeotrope evacuation' answers about a vacuum",
        ));
    }
    let end = args
        .end_pressure
        .as_deref()
        .map(|text| reading("--end-pressure", text, &end_site))
        .transpose()?;
    // A class may allow more at one end than at the other: the larger counts for both.
    let limit = [Some(&start), end.as_ref()]
        .into_iter()
        .flatten()
        .filter_map(|read| read.limit)
        .max_by(f64::total_cmp);
    let thermometer = thermometer.map(TemperatureDifference::kelvin);
    let begun = Reading {
        pressure: start.pressure,
        temperature: start_temperature.value,
    };
    let found = expected(begun, end_temperature.value)
        .map_err(|error| Failure::in_units(error, &units, &site))?;
    let asked = Asked {
        begun,
        ended: end.map(|read| read.pressure),
        end_temperature: end_temperature.value,
        limits: limit.zip(thermometer),
        half_limits: limit.is_some() != thermometer.is_some(),
        units,
        site,
        end_site,
    };
    Ok(asked.page(&found, all))
}

/// The air at the end: that of the start, unless the weather has changed.
fn end_site(args: &PressureTestArgs, site: &Atmosphere) -> Result<Atmosphere, Failure> {
    let moved = |what: String| {
        Failure::no_answer(
            format!("{what}: the test was not ended where it was started"),
            "a gauge is relative to other air there: read start and end at one place",
        )
    };
    if let Some(text) = &args.end_elevation {
        let end = parse_elevation(text)
            .map_err(|error| Failure::from(error).of_option("--end-elevation"))?;
        let start = match &args.site.elevation {
            Some(text) => parse_elevation(text)?,
            None => {
                return Err(Failure::usage(
                    "an elevation was given for the end and none for the start",
                    "add --elevation for the start",
                ));
            }
        };
        if (end - start).abs() > 1.0 {
            return Err(moved(format!(
                "the elevations are {start:.0} m and {end:.0} m"
            )));
        }
    }
    let Some(text) = &args.end_station_pressure else {
        return Ok(*site);
    };
    let (end, _) = meant::site(&SiteArgs {
        elevation: None,
        station_pressure: Some(text.clone()),
    })?;
    let share = end.pressure().in_pascal() / site.pressure().in_pascal() - 1.0;
    if share.abs() > WEATHER {
        return Err(moved(format!(
            "the air's pressure is {:.1} kPa at the start and {:.1} kPa at the end, more than \
             weather does",
            site.pressure().in_kilopascal(),
            end.pressure().in_kilopascal()
        )));
    }
    Ok(end)
}

struct Asked {
    begun: Reading,
    ended: Option<Pressure>,
    end_temperature: crate::units::Temperature,
    limits: Option<(f64, TemperatureDifference)>,
    half_limits: bool,
    units: UnitSet,
    site: Atmosphere,
    end_site: Atmosphere,
}

impl Asked {
    fn page(&self, found: &Expected, all: Vec<Warning>) -> Document {
        let units = &self.units;
        let gauge = |value: Pressure| page::pressure(value, units.gauge, &self.end_site);
        let mut list = Figures::default();
        list.number(
            "start",
            format!(
                "{} at {}",
                page::pressure(self.begun.pressure, units.gauge, &self.site),
                page::temperature(self.begun.temperature, units)
            ),
            "start_pressure_Pa",
            self.begun.pressure.in_pascal(),
        );
        list.number(
            "",
            "",
            "start_temperature_K",
            self.begun.temperature.in_kelvin(),
        );
        list.number(
            "end temperature",
            page::temperature(self.end_temperature, units),
            "end_temperature_K",
            self.end_temperature.in_kelvin(),
        );
        list.number(
            "expected if tight, real nitrogen",
            gauge(found.pressure),
            "expected_pressure_Pa",
            found.pressure.in_pascal(),
        );
        list.number(
            "expected if tight, ideal gas",
            gauge(found.ideal),
            "ideal_pressure_Pa",
            found.ideal.in_pascal(),
        );
        list.number("", "", "density_kg_m3", found.density);
        let excess = self
            .ended
            .map(|ended| ended.in_pascal() - found.pressure.in_pascal());
        let limit = self
            .limits
            .map(|(gauge, thermometer)| found.limit(gauge, thermometer));
        list.add(
            if self.ended.is_some() { "end" } else { "" },
            self.ended.map(gauge).unwrap_or_default(),
            "end_pressure_Pa",
            optional(self.ended.map(Pressure::in_pascal)),
        );
        list.add(
            if excess.is_some() {
                "end minus expected"
            } else {
                ""
            },
            excess.map_or_else(String::new, |excess| {
                page::pressure_difference(excess, units)
            }),
            "excess_Pa",
            optional(excess),
        );
        list.add(
            if limit.is_some() {
                "instruments' part"
            } else {
                ""
            },
            limit.map_or_else(String::new, |limit| page::limit(&limit, units)),
            "root_sum_square_Pa",
            optional(limit.map(|limit| limit.usual)),
        );
        list.add("", "", "worst_case_Pa", optional(limit.map(|l| l.worst)));
        let significance = excess.zip(limit).map(|(excess, limit)| limit.judge(excess));
        list.add(
            if significance.is_some() {
                "difference"
            } else {
                ""
            },
            significance.map_or("", |found| found.words()),
            "significance",
            significance.map(|found| found.name()),
        );
        let mut notes: Vec<String> = all
            .iter()
            .map(|warning| format!("warning: {} ({})", warning.text, warning.code))
            .collect();
        if self.half_limits {
            notes.push(
                "Significance needs both --gauge-accuracy and --thermometer-accuracy.".into(),
            );
        }
        if limit.is_some() {
            notes.push(
                "The errors at start and end count as independent; one gauge left in place errs \
                 less."
                    .into(),
            );
        }
        notes.push(format!(
            "Gauge pressures are relative to {}.",
            self.site.in_words()
        ));
        if self.end_site != self.site {
            notes.push(format!("At the end from {}.", self.end_site.in_words()));
        }
        notes.push(
            "The nitrogen keeps its density; the temperature meant is that of the gas, and of \
             metal and gas alike after hours. The vessel's stretch, moisture and refrigerant \
             left inside are not counted. Ideal gas: p2 = p1 T2/T1, absolute."
                .into(),
        );
        notes.push(
            "Equation of nitrogen (R-728): Span, Lemmon, Jacobsen, Wagner & Yokozeki, J. Phys. \
             Chem. Ref. Data 29 (2000) 1361."
                .into(),
        );
        let mut cautions: Vec<String> = PRESSURE_TEST.map(str::to_owned).to_vec();
        cautions.push(NO_VERDICT.to_owned());
        let mut object = list.object();
        object.insert(
            "atmosphere_Pa".into(),
            self.site.pressure().in_pascal().into(),
        );
        object.insert("warnings".into(), warnings(&all));
        object.insert("cautions".into(), cautions.clone().into());
        Document {
            blocks: vec![
                Block::Title("Pressure test with nitrogen".into()),
                list.block(),
                Block::Lines(notes),
                Block::Lines(cautions),
            ],
            sheet: list.sheet(),
            json: Value::Object(object),
            warnings: all,
            ..Document::default()
        }
    }
}
