//! `at-rest`: a vessel that has stood for hours against what it is said to hold.

use serde_json::{Map, Value, json};

use super::args::{BasisArgs, OutputArgs, SiteArgs, UnitArgs};
use super::args_reading::VesselAccuracyArgs;
use super::failure::Failure;
use super::figures::Figures;
use super::moist_air::temperature;
use super::{instruments, page, request};
use crate::catalogue::Catalogue;
use crate::output::{
    Answer, Block, Sheet, Table, identity, model, number, number_cell, optional, warnings,
};
use crate::refrigerant::{Refrigerant, Warning};
use crate::service::at_rest::{Excess, Kit, at_rest, candidates, gauge_check};
use crate::service::cautions::{NO_VERDICT, NOT_IDENTIFIED, cautions};
use crate::service::date::parse_date;
use crate::service::facts::{CLASS_NOT_ASSIGNED, Facts};
use crate::units::{
    Atmosphere, BareUnit, Pressure, Temperature, TemperatureDifference, UnitSet, fixed,
    parse_pressure,
};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope at-rest R-134a --pressure 96psig --temperature 80F \\\n      \
                  --gauge-accuracy 1.25psi --thermometer-accuracy 1F\n  \
                  zeotrope at-rest --pressure 132psig --temperature 75F --gauge-accuracy 3psi \\\n      \
                  --thermometer-accuracy 2F\n  \
                  zeotrope at-rest R-134a --pressure 88psig --temperature 80F --open-reading 0.5psig \\\n      \
                  --date 2026-11-25 --gauge-accuracy 1.25psi --thermometer-accuracy 1F"
)]
pub(super) struct AtRestArgs {
    /// What the vessel is said to hold; without it, every refrigerant that would fit
    #[arg(value_name = "REFRIGERANT")]
    refrigerant: Option<String>,
    /// Gauge reading of the vessel, for example 96psig or 6.6barg
    #[arg(long, value_name = "PRESSURE")]
    pressure: String,
    /// Temperature of the vessel, even for hours, for example 80F
    #[arg(long, value_name = "TEMPERATURE")]
    temperature: String,
    /// What the gauge shows open to air: checks the gauge on a vessel of certain contents
    #[arg(long, value_name = "PRESSURE", requires = "date")]
    open_reading: Option<String>,
    /// Date of the gauge check, YYYY-MM-DD
    #[arg(long, value_name = "DATE", requires = "open_reading")]
    date: Option<String>,
    #[command(flatten)]
    accuracy: VesselAccuracyArgs,
    #[command(flatten)]
    basis: BasisArgs,
    #[command(flatten)]
    units: UnitArgs,
    #[command(flatten)]
    site: SiteArgs,
    #[command(flatten)]
    pub(super) output: OutputArgs,
}

pub(super) fn answer(args: &AtRestArgs) -> Result<Answer, Failure> {
    request::check_output(&args.output)?;
    let (site, site_warnings) = request::site(&args.site)?;
    let at = temperature("--temperature", &args.temperature)?;
    let (gauge, thermometer) = instruments::at_vessel(&args.accuracy)?;
    let read = instruments::read(&args.pressure, &gauge, &site)?;
    let units = request::units(&args.units, Some(at.unit), Some(read.unit))?;
    let catalogue = request::catalogue(&args.basis.data)?;
    let asked = Asked {
        read: read.pressure,
        at: at.value,
        kit: kit(read.limit, thermometer)?,
        units,
        site,
        site_warnings,
    };
    let Some(name) = &args.refrigerant else {
        if args.open_reading.is_some() {
            return Err(Failure::usage(
                "a gauge is checked on a vessel whose contents are certain, and none was named",
                "name the refrigerant, for example 'zeotrope at-rest R-134a ...'",
            ));
        }
        return asked.fitting(&catalogue);
    };
    let refrigerant = request::refrigerant(&catalogue, name, &args.basis)?;
    match (&args.open_reading, &args.date) {
        (Some(open), Some(date)) => asked.gauge(&refrigerant, open, date_of(date)?),
        _ => asked.against(&refrigerant),
    }
}

/// The limits of error, where both are given.
fn kit(gauge: Option<f64>, thermometer: Option<f64>) -> Result<Option<Kit>, Failure> {
    match (gauge, thermometer) {
        (None, None) => Ok(None),
        (Some(gauge), Some(thermometer)) => Ok(Some(Kit {
            gauge,
            thermometer: TemperatureDifference::kelvin(thermometer),
        })),
        _ => Err(Failure::usage(
            "one of the two limits of error is missing",
            "give both --gauge-accuracy 1.25psi and --thermometer-accuracy 1F, or neither",
        )),
    }
}

/// A date as the calendar has it.
fn date_of(text: &str) -> Result<&str, Failure> {
    parse_date(text).map(|_| text).ok_or_else(|| {
        Failure::usage(
            format!("--date: '{text}' is no date"),
            "write year, month and day, for example 2026-11-25",
        )
    })
}

struct Asked {
    read: Pressure,
    at: Temperature,
    kit: Option<Kit>,
    units: UnitSet,
    site: Atmosphere,
    site_warnings: Vec<Warning>,
}

impl Asked {
    fn gauge_text(&self, value: Pressure) -> String {
        page::pressure(value, self.units.gauge, &self.site)
    }

    fn difference(&self, pascal: f64) -> String {
        page::pressure_difference(pascal, &self.units)
    }

    fn reading(&self, list: &mut Figures) {
        list.number(
            "reading",
            self.gauge_text(self.read),
            "pressure_Pa",
            self.read.in_pascal(),
        );
        list.number(
            "temperature",
            page::temperature(self.at, &self.units),
            "temperature_K",
            self.at.in_kelvin(),
        );
    }

    /// What the instruments' limits make, and what that says of a difference.
    fn judged(&self, name: &str, excess: &Excess) -> (String, String) {
        let text = match (&excess.limit, excess.significance()) {
            (Some(limit), Some(significance)) => format!(
                "{} {}; {}",
                self.difference(excess.excess),
                page::limit(limit, &self.units),
                significance.words()
            ),
            _ => format!(
                "{}; significance not decidable without the instruments' accuracy",
                self.difference(excess.excess)
            ),
        };
        (format!("reading less {name}"), text)
    }

    fn against(&self, refrigerant: &Refrigerant) -> Result<Answer, Failure> {
        let facts = Facts::of(refrigerant);
        let found = at_rest(refrigerant, self.read, self.at, self.kit)
            .map_err(|error| Failure::in_units(error, &self.units, &self.site))?;
        let mut list = Figures::default();
        self.reading(&mut list);
        let lines: &[(&'static str, &Excess)] = match refrigerant.is_pure() {
            true => &[("saturation", &found.bubble)],
            false => &[("bubble", &found.bubble), ("dew", &found.dew)],
        };
        for (name, excess) in lines {
            list.add(
                format!("{name} pressure there"),
                self.gauge_text(excess.line),
                "",
                Value::Null,
            );
            let (name, text) = self.judged(name, excess);
            list.add(name, text, "", Value::Null);
        }
        list.add("so", found.place.words(), "place", found.place.name());
        if self.kit.is_some() {
            list.add("", "", "meaning", found.place.meaning());
        }
        let all = page::all_warnings(refrigerant, &[], &self.site_warnings);
        let mut notes = vec![
            "For a vessel that holds liquid and whose temperature has been even for hours. One \
             reading cannot part an error of the gauge's zero from one of its span."
                .to_owned(),
        ];
        if self.kit.is_some() {
            notes.insert(0, format!("Common practice: {}.", found.place.meaning()));
        }
        let excess_json = |excess: &Excess| {
            json!({
                "pressure_Pa": number(excess.line.in_pascal()),
                "excess_Pa": number(excess.excess),
                "root_sum_square_Pa": optional(excess.limit.map(|limit| limit.usual)),
                "worst_case_Pa": optional(excess.limit.map(|limit| limit.worst)),
                "significance": excess.significance().map(|found| found.name()),
            })
        };
        let mut object = identity(refrigerant);
        object.extend(list.object());
        object.insert("bubble".into(), excess_json(&found.bubble));
        object.insert("dew".into(), excess_json(&found.dew));
        self.close(&mut object, &facts, &all, self.words(refrigerant, &facts));
        let mut blocks = vec![
            Block::Title(format!("{}, at rest", refrigerant.designation())),
            list.block(),
            Block::Lines(notes),
        ];
        blocks.extend(page::foot(refrigerant, &facts, None, &all, &self.site));
        blocks.push(Block::Lines(vec![NOT_IDENTIFIED.into()]));
        let heads = [
            "refrigerant",
            "pressure_Pa",
            "temperature_K",
            "bubble_pressure_Pa",
            "bubble_excess_Pa",
            "dew_pressure_Pa",
            "dew_excess_Pa",
            "worst_case_Pa",
            "place",
        ];
        Ok(Answer {
            blocks,
            sheet: Sheet {
                heads: heads.map(str::to_owned).to_vec(),
                rows: vec![vec![
                    refrigerant.designation().to_owned(),
                    number_cell(Some(self.read.in_pascal())),
                    number_cell(Some(self.at.in_kelvin())),
                    number_cell(Some(found.bubble.line.in_pascal())),
                    number_cell(Some(found.bubble.excess)),
                    number_cell(Some(found.dew.line.in_pascal())),
                    number_cell(Some(found.dew.excess)),
                    number_cell(found.bubble.limit.map(|limit| limit.worst)),
                    found.place.name().to_owned(),
                ]],
            },
            json: Value::Object(object),
            warnings: all,
        })
    }

    fn words(&self, refrigerant: &Refrigerant, facts: &Facts) -> Vec<String> {
        let mut lines = cautions(&[(refrigerant, facts)]);
        lines.push(NOT_IDENTIFIED.to_owned());
        lines
    }

    /// The keys that close every answer about one refrigerant.
    fn close(
        &self,
        object: &mut Map<String, Value>,
        facts: &Facts,
        all: &[Warning],
        words: Vec<String>,
    ) {
        object.insert(
            "atmosphere_Pa".into(),
            number(self.site.pressure().in_pascal()),
        );
        object.insert("model".into(), model(facts));
        object.insert("warnings".into(), warnings(all));
        object.insert("cautions".into(), words.into());
    }

    fn fitting(&self, catalogue: &Catalogue) -> Result<Answer, Failure> {
        let Some(kit) = self.kit else {
            return Err(Failure::usage(
                "without the instruments' accuracy any refrigerant nearby would fit",
                "add --gauge-accuracy 3psi and --thermometer-accuracy 2F, or name a refrigerant",
            ));
        };
        let found = candidates(catalogue, self.read, self.at, kit)?;
        if found.is_empty() {
            return Err(Failure::no_answer(
                "no refrigerant carried here is at rest with liquid at this reading",
                "check gauge, thermometer and site; a vessel without liquid shows less",
            ));
        }
        let class = |class: &Option<String>| {
            class
                .clone()
                .unwrap_or_else(|| CLASS_NOT_ASSIGNED.to_owned())
        };
        let mut list = Figures::default();
        self.reading(&mut list);
        let (gauge, thermometer) = (
            self.difference(kit.gauge),
            format!(
                "{} {}",
                fixed(self.units.temperature.read_difference(kit.thermometer), 1),
                self.units.temperature.difference_symbol()
            ),
        );
        list.add(
            "limits of error",
            format!("{gauge}, ± {thermometer}").replace('+', "± "),
            "",
            Value::Null,
        );
        let table = Table {
            groups: Vec::new(),
            heads: ["refrigerant", "class", "dew there", "bubble there"]
                .map(str::to_owned)
                .to_vec(),
            rows: found
                .iter()
                .map(|one| {
                    vec![
                        one.refrigerant.designation().to_owned(),
                        class(&one.class),
                        self.gauge_text(one.lines.0),
                        self.gauge_text(one.lines.1),
                    ]
                })
                .collect(),
            words: 2,
        };
        let words = vec![
            NOT_IDENTIFIED.to_owned(),
            "Treat the contents as the most hazardous that fits. Refrigerants are under pressure, \
             freeze skin, displace air and break down in a flame to toxic gases: goggles, gloves, \
             ventilation, no ignition source."
                .to_owned(),
            NO_VERDICT.to_owned(),
        ];
        let mut notes: Vec<String> = self
            .site_warnings
            .iter()
            .map(|warning| format!("warning: {} ({})", warning.text, warning.code))
            .collect();
        notes.push(format!(
            "{} would fit, and so would mixtures without a designation. Listed from the most \
             hazardous class: not assigned, B3, A3, B2, A2, B2L, B1, A2L, A1 (an order of this \
             program's own).",
            found.len()
        ));
        notes.push(format!(
            "Gauge pressures count from {}.",
            self.site.in_words()
        ));
        let rows: Vec<Vec<String>> = found
            .iter()
            .map(|one| {
                vec![
                    one.refrigerant.designation().to_owned(),
                    class(&one.class),
                    number_cell(Some(one.lines.0.in_pascal())),
                    number_cell(Some(one.lines.1.in_pascal())),
                ]
            })
            .collect();
        let mut object = list.object();
        let fitting: Vec<Value> = found
            .iter()
            .map(|one| {
                json!({
                    "refrigerant": one.refrigerant.designation(),
                    "safety_class": one.class,
                    "dew_pressure_Pa": number(one.lines.0.in_pascal()),
                    "bubble_pressure_Pa": number(one.lines.1.in_pascal()),
                })
            })
            .collect();
        object.insert("would_fit".into(), fitting.into());
        object.insert(
            "atmosphere_Pa".into(),
            number(self.site.pressure().in_pascal()),
        );
        object.insert("warnings".into(), warnings(&self.site_warnings));
        object.insert("cautions".into(), words.clone().into());
        Ok(Answer {
            blocks: vec![
                Block::Title("Would fit a vessel at rest that holds liquid".into()),
                Block::Lines(vec![NOT_IDENTIFIED.to_owned()]),
                list.block(),
                Block::Table(table),
                Block::Lines(notes),
                Block::Lines(words.into_iter().skip(1).collect()),
            ],
            sheet: Sheet {
                heads: [
                    "refrigerant",
                    "safety_class",
                    "dew_pressure_Pa",
                    "bubble_pressure_Pa",
                ]
                .map(str::to_owned)
                .to_vec(),
                rows,
            },
            json: Value::Object(object),
            warnings: self.site_warnings.clone(),
        })
    }

    fn gauge(&self, refrigerant: &Refrigerant, open: &str, date: &str) -> Result<Answer, Failure> {
        let Some(kit) = self.kit else {
            return Err(Failure::usage(
                "a gauge check needs the gauge's class and the thermometer's accuracy",
                "add --gauge-accuracy 1.25psi and --thermometer-accuracy 1F",
            ));
        };
        let open = parse_pressure(open, BareUnit::Refused, &self.site)
            .map_err(|error| Failure::from(error).of_option("--open-reading"))?;
        let open = self.site.gauge_pascal(open.value);
        let read = self.site.gauge_pascal(self.read);
        let found = gauge_check(refrigerant, open, read, self.at, &self.site, kit)
            .map_err(|error| Failure::in_units(error, &self.units, &self.site))?;
        let facts = Facts::of(refrigerant);
        let all = page::all_warnings(refrigerant, &[], &self.site_warnings);
        let mut list = Figures::default();
        list.add("date", date, "date", date);
        self.reading(&mut list);
        list.number(
            "should show",
            self.gauge_text(self.site.from_gauge_pascal(found.expected)),
            "expected_gauge_Pa",
            found.expected,
        );
        list.number(
            "zero offset",
            self.difference(found.zero_offset),
            "zero_offset_Pa",
            found.zero_offset,
        );
        list.number(
            "error of the span there",
            self.difference(found.error),
            "span_error_Pa",
            found.error,
        );
        list.number(
            "span factor",
            fixed(found.span_factor, 4),
            "span_factor",
            found.span_factor,
        );
        list.number(
            "thermometer's part",
            self.difference(found.thermometer_part).replace('+', "± "),
            "thermometer_part_Pa",
            found.thermometer_part,
        );
        let smaller = found.error.abs() <= found.thermometer_part.abs();
        let offset = self.difference(found.zero_offset).replace(['+', ' '], "");
        let factor = match smaller {
            true => "1".to_owned(),
            false => fixed(found.span_factor, 4),
        };
        list.add(
            "for a kit file",
            format!("zero_offset: {offset}, span_factor: {factor}, checked: {date}"),
            "",
            Value::Null,
        );
        let notes = vec![
            "corrected = (reading - zero offset) x span factor, gauge.".to_owned(),
            format!(
                "Not a calibration: one point, at {} and on {date}, on a vessel taken for {}. {}",
                page::temperature(self.at, &self.units),
                refrigerant.designation(),
                if smaller {
                    "The thermometer explains the error of the span: leave the factor at 1."
                } else {
                    "A gauge changes with temperature and use."
                }
            ),
        ];
        let mut object = identity(refrigerant);
        object.extend(list.object());
        object.insert("calibration".into(), false.into());
        object.insert("thermometer_explains_span".into(), smaller.into());
        self.close(&mut object, &facts, &all, self.words(refrigerant, &facts));
        let mut blocks = vec![
            Block::Title(format!("Gauge check on {}", refrigerant.designation())),
            list.block(),
            Block::Lines(notes),
        ];
        blocks.extend(page::foot(refrigerant, &facts, None, &all, &self.site));
        Ok(Answer {
            blocks,
            sheet: list.sheet(),
            json: Value::Object(object),
            warnings: all,
        })
    }
}
