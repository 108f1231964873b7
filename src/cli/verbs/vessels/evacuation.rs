//! `evacuation`: a vacuum against water and ice; the shape of a rise test.

use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use crate::cli::args::meant;
use crate::cli::args::{OutputArgs, SiteArgs, UnitArgs};
use crate::cli::errors::Failure;
use crate::cli::figures::Figures;
use crate::cli::io::csv_in;
use crate::cli::page;
use crate::cli::transition::{NO_VERDICT, VACUUM};
use crate::cli::verbs::air::moist_air::temperature;
use crate::output::{number, optional, warnings};
use crate::page::{Block, Document};
use crate::service::reading::log::Clock;
use crate::service::vessel::evacuation::{
    Rise, TRIPLE_POINT, Water, rise, saturation_pressure, saturation_temperature,
};
use crate::units::{
    Atmosphere, BareUnit, Pressure, PressureUnit, Temperature, UnitSet, fixed, parse_pressure,
    significant,
};

#[derive(Debug, clap::Args)]
#[command(
    group = clap::ArgGroup::new("vacuum").required(true).multiple(true).args(["pressure", "rise", "temperature"]),
    after_help = "Examples:\n  zeotrope evacuation --pressure 500micron\n  \
                  zeotrope evacuation --pressure 5000micron --temperature 70F\n  \
                  zeotrope evacuation --temperature 10C\n\n\
                  A rise test's CSV: columns time_s, time_min or time_h, and pressure_micron, \
                  pressure_Pa, pressure_mbar or pressure_torr, from when the pump was shut off."
)]
pub(crate) struct EvacuationArgs {
    /// Vacuum reached, for example 500micron, 67Pa, 0.67mbar or 0.5torr
    #[arg(long, value_name = "PRESSURE")]
    pressure: Option<String>,
    /// Temperature of the coldest part, for example 70F
    #[arg(long, value_name = "TEMPERATURE")]
    temperature: Option<String>,
    /// Readings of a rise test, as CSV
    #[arg(long, value_name = "FILE")]
    rise: Option<PathBuf>,
    #[command(flatten)]
    units: UnitArgs,
    #[command(flatten)]
    site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

const SOURCE: &str = "water: equation of R-718 (Wagner & Pruss, J. Phys. Chem. Ref. Data 31 (2002) \
                      387); ice: IAPWS R14-08(2011)";

/// The units in which a vacuum is told.
const UNITS: [PressureUnit; 4] = [
    PressureUnit::Micron,
    PressureUnit::Pascal,
    PressureUnit::Millibar,
    PressureUnit::Torr,
];

pub(crate) fn answer(args: &EvacuationArgs) -> Result<Document, Failure> {
    meant::check_output(&args.output)?;
    let (site, all) = meant::site(&args.site)?;
    let at = args
        .temperature
        .as_deref()
        .map(|text| temperature("--temperature", text))
        .transpose()?;
    let pressure = args
        .pressure
        .as_deref()
        .map(|text| {
            parse_pressure(text, BareUnit::Absolute, &site).map_err(|error| {
                // A bare number on a vacuum gauge is micron far more often than psi.
                match text.trim().parse::<f64>() {
                    Ok(_) => meant::hinted(error, &bare_vacuum(text.trim())),
                    Err(_) => error,
                }
            })
        })
        .transpose()
        .map_err(|error| Failure::from(error).of_option("--pressure"))?;
    let units = meant::units(
        &args.units,
        at.map(|typed| typed.unit),
        pressure.map(|typed| typed.unit),
    )?;
    let page = Page {
        units: &units,
        site: &site,
    };
    let mut list = Figures::default();
    let mut notes: Vec<String> = all
        .iter()
        .map(|warning| format!("warning: {} ({})", warning.text, warning.code))
        .collect();
    let at = at.map(|typed| typed.value);
    if let Some(typed) = pressure {
        page.vacuum(typed.value, &mut list)?;
        // One inch of mercury absolute: above it a gauge in inHg still tells something.
        if typed.value.in_pascal() < PressureUnit::InchesOfMercuryAbsolute.pascal() {
            notes.push(inches(&site));
        }
    }
    if let Some(at) = at {
        page.water(at, pressure.map(|typed| typed.value), &mut list)?;
    }
    if let Some(path) = &args.rise {
        let found = rise(&readings(path, &site)?, at).map_err(|error| match error {
            crate::Error::NoAnswer { reason, hint } => {
                Failure::no_answer(format!("{}: {reason}", path.display()), hint)
            }
            other => Failure::in_units(other, &units, &site),
        })?;
        page.rise(&found, &mut list);
        notes.push(
            "The shape is common practice, no source: an indication, not a finding. Straight: last slope \
             above 0.7 of the first; levelling off: below 0.3; near water: 0.7 to 1.1 of its \
             saturation; these bounds are this program's own."
                .into(),
        );
    }
    notes.push(format!("Source: {SOURCE}."));
    let mut cautions: Vec<String> = VACUUM.map(str::to_owned).to_vec();
    cautions.push(NO_VERDICT.to_owned());
    let mut object = list.object();
    object.insert("atmosphere_Pa".into(), number(site.pressure().in_pascal()));
    object.insert("source".into(), SOURCE.into());
    object.insert("warnings".into(), warnings(&all));
    object.insert("cautions".into(), json!(cautions));
    Ok(Document {
        blocks: vec![
            Block::Title("Evacuation".into()),
            list.block(),
            Block::Lines(notes),
            Block::Lines(cautions),
        ],
        sheet: list.sheet(),
        json: Value::Object(object),
        warnings: all,
        ..Document::default()
    })
}

/// The units of a vacuum that a number may have meant.
fn bare_vacuum(number: &str) -> String {
    let [first, middle @ .., last] = UNITS.map(|unit| format!("{number}{}", unit.typed()));
    format!("write {first}, {} or {last}", middle.join(", "))
}

/// Why a gauge in inches of mercury does not show a vacuum.
fn inches(site: &Atmosphere) -> String {
    let unit = PressureUnit::InchesOfMercuryVacuum;
    format!(
        "Half an inch of mercury is {} micron: a gauge in inHg of vacuum cannot show this; a \
         perfect vacuum is {} inHg vacuum at this site.",
        fixed(0.5 * unit.pascal() / PressureUnit::Micron.pascal(), 0),
        fixed(unit.read(Pressure::pascal(0.0), site), 2)
    )
}

/// The readings of a rise test: time in s, pressure.
fn readings(path: &Path, site: &Atmosphere) -> Result<Vec<(f64, Pressure)>, Failure> {
    let rows = csv_in::rows(path)?;
    let wrong = |problem: String| {
        Failure::no_answer(
            format!("{}: {problem}", path.display()),
            "'zeotrope evacuation --help' tells how a rise test is written",
        )
    };
    let Some((heads, body)) = rows.split_first() else {
        return Err(wrong("holds no readings".into()));
    };
    let mut places = heads.iter().enumerate();
    let clock = places
        .clone()
        .find_map(|(column, head)| Some((column, Clock::named(head)?)));
    let Some((time_column, clock)) = clock else {
        return Err(wrong("has no column time_s, time_min or time_h".into()));
    };
    let pressure =
        places.find_map(|(column, head)| Some((column, head.strip_prefix("pressure_")?)));
    let Some((pressure_column, unit)) = pressure else {
        return Err(wrong(
            "has no column pressure_micron, pressure_Pa, pressure_mbar or pressure_torr".into(),
        ));
    };
    let unit = PressureUnit::named(unit).map_err(|error| wrong(error.to_string()))?;
    let mut found = Vec::new();
    for (row, cells) in body.iter().enumerate() {
        let cell = |column: usize| cells.get(column).map_or("", String::as_str);
        let shown = csv_in::number(path, cell(pressure_column), row + 2, pressure_column + 1)?;
        let time = clock
            .seconds(cell(time_column))
            .map_err(|error| wrong(format!("row {}: {error}", row + 2)))?;
        found.push((time, unit.write(shown, site)));
    }
    Ok(found)
}

const fn name(water: Water) -> &'static str {
    match water {
        Water::Liquid => "liquid",
        Water::Ice => "ice",
    }
}

struct Page<'a> {
    units: &'a UnitSet,
    site: &'a Atmosphere,
}

impl Page<'_> {
    /// A vacuum in every unit, in one line.
    fn everywhere(&self, pressure: Pressure) -> String {
        UNITS
            .map(|unit| {
                format!(
                    "{} {}",
                    significant(unit.read(pressure, self.site), 4),
                    unit.typed()
                )
            })
            .join(", ")
    }

    fn vacuum(&self, pressure: Pressure, list: &mut Figures) -> Result<(), Failure> {
        if pressure >= self.site.pressure() {
            return Err(Failure::no_answer(
                "this pressure is not below the air of the site: it is no vacuum",
                "'zeotrope pressure-test' answers about pressures above it",
            ));
        }
        let (temperature, water) = saturation_temperature(pressure)
            .map_err(|error| Failure::in_units(error, self.units, self.site))?;
        list.number(
            "vacuum",
            self.everywhere(pressure),
            "pressure_Pa",
            pressure.in_pascal(),
        );
        list.number(
            match water {
                Water::Liquid => "water boils above",
                Water::Ice => "ice turns to vapor above",
            },
            page::temperature(temperature, self.units),
            "water_saturation_temperature_K",
            temperature.in_kelvin(),
        );
        list.add(
            "water at rest there",
            match water {
                Water::Liquid => "liquid".to_owned(),
                Water::Ice => format!(
                    "ice: liquid water cannot exist below {}",
                    self.everywhere(TRIPLE_POINT.1)
                ),
            },
            "water",
            name(water),
        );
        Ok(())
    }

    fn water(
        &self,
        at: Temperature,
        vacuum: Option<Pressure>,
        list: &mut Figures,
    ) -> Result<(), Failure> {
        let (pressure, water) = saturation_pressure(at)
            .map_err(|error| Failure::in_units(error, self.units, self.site))?;
        list.number(
            "temperature",
            page::temperature(at, self.units),
            "temperature_K",
            at.in_kelvin(),
        );
        list.number(
            match water {
                Water::Liquid => "water's saturation there",
                Water::Ice => "ice's saturation there",
            },
            self.everywhere(pressure),
            "water_saturation_pressure_Pa",
            pressure.in_pascal(),
        );
        let share = vacuum.map(|vacuum| vacuum.in_pascal() / pressure.in_pascal());
        list.add(
            if share.is_some() {
                "vacuum over saturation"
            } else {
                ""
            },
            share.map_or_else(String::new, |share| {
                let side = if share < 1.0 {
                    "below: water there turns to vapor"
                } else {
                    "not below: water there stays"
                };
                format!("{}, {side}", significant(share, 3))
            }),
            "vacuum_over_saturation",
            optional(share),
        );
        Ok(())
    }

    fn rise(&self, found: &Rise, list: &mut Figures) {
        let micron = |pressure: Pressure| {
            let figure = PressureUnit::Micron.read(pressure, self.site);
            format!("{} micron", significant(figure, 4))
        };
        list.number(
            "rise test, first reading",
            micron(found.ends.0),
            "first_pressure_Pa",
            found.ends.0.in_pascal(),
        );
        list.number(
            "rise test, last reading",
            format!(
                "{} after {} min",
                micron(found.ends.1),
                significant(found.duration / 60.0, 3)
            ),
            "last_pressure_Pa",
            found.ends.1.in_pascal(),
        );
        list.number("", "", "duration_s", found.duration);
        let rate = |pascal_per_s: f64| {
            let figure = pascal_per_s * 60.0 / PressureUnit::Micron.pascal();
            format!("{} micron/min", significant(figure, 3))
        };
        list.number(
            "slope in the first third",
            rate(found.slopes.0),
            "first_slope_Pa_s",
            found.slopes.0,
        );
        list.number(
            "slope in the last third",
            rate(found.slopes.1),
            "last_slope_Pa_s",
            found.slopes.1,
        );
        list.add(
            if found.share_of_water.is_some() {
                "last reading over water's saturation"
            } else {
                ""
            },
            found
                .share_of_water
                .map_or_else(String::new, |share| significant(share, 3)),
            "last_over_saturation",
            optional(found.share_of_water),
        );
        list.add("shape", found.shape.words(), "shape", found.shape.name());
    }
}
