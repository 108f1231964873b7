//! `at-rest`: a vessel that has stood for hours against what it is said to hold.

use serde_json::{Map, Value, json};

use crate::catalogue::Catalogue;
use crate::cli::args::meant;
use crate::cli::args::reading::VesselKitArgs;
use crate::cli::args::{BasisArgs, OutputArgs, SiteArgs, UnitArgs};
use crate::cli::errors::Failure;
use crate::cli::figures::Figures;
use crate::cli::page;
use crate::cli::transition::{NO_VERDICT, NOT_IDENTIFIED, cautions};
use crate::cli::verbs::air::moist_air::temperature;
use crate::cli::verbs::readings::instruments::{self, Read};
use crate::output::{identity, model, number, number_cell, optional, warnings};
use crate::page::{Block, Document, Sheet, Table};
use crate::refrigerant::{Refrigerant, Warning};
use crate::service::date::parse_date;
use crate::service::facts::{CLASS_NOT_ASSIGNED, Facts};
use crate::service::measurement::gauge::Added;
use crate::service::measurement::kit::{Instrument, Kit};
use crate::service::vessel::at_rest::{Excess, VesselLimits, at_rest, candidates, gauge_check};
use crate::units::{Atmosphere, Pressure, Temperature, TemperatureDifference, UnitSet, fixed};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope at-rest R-134a --pressure 96psig --temperature 80F \\\n      \
                  --gauge-accuracy 1.25psi --thermometer-accuracy 1F\n  \
                  zeotrope at-rest --pressure 132psig --temperature 75F --gauge-accuracy 3psi \\\n      \
                  --thermometer-accuracy 2F\n  \
                  zeotrope at-rest R-134a --pressure 88psig --temperature 80F --open-reading 0.5psig \\\n      \
                  --date 2026-11-25 --gauge-accuracy 1.25psi --thermometer-accuracy 1F"
)]
pub(crate) struct AtRestArgs {
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
    kit: VesselKitArgs,
    #[command(flatten)]
    basis: BasisArgs,
    #[command(flatten)]
    units: UnitArgs,
    #[command(flatten)]
    site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

pub(crate) fn answer(args: &AtRestArgs) -> Result<Document, Failure> {
    meant::check_output(&args.output)?;
    let (site, site_warnings) = meant::site(&args.site)?;
    let at = temperature("--temperature", &args.temperature)?;
    let (kit, instrument) = instruments::kit_at_vessel(&args.kit)?;
    // A check looks for the gauge's own error: an earlier correction is set aside.
    let instrument = Instrument {
        correction: instrument
            .correction
            .filter(|_| args.open_reading.is_none()),
        ..instrument
    };
    let read = instruments::read(&args.pressure, &instrument, &site)
        .map_err(|error| Failure::from(error).of_option("--pressure"))?;
    let units = meant::units(&args.units, Some(at.unit), Some(read.unit))?;
    let catalogue = meant::catalogue(&args.basis.data)?;
    let asked = Asked {
        at: at.value,
        limits: limits(&kit, &read)?,
        read,
        kit,
        instrument,
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
    let refrigerant = meant::refrigerant(&catalogue, name, &args.basis)?;
    match (&args.open_reading, &args.date) {
        (Some(open), Some(date)) => asked.gauge(&refrigerant, open, date_of(date)?),
        _ => asked.against(&refrigerant),
    }
}

/// The limits of error, where gauge and thermometer both have one.
fn limits(kit: &Kit, read: &Read) -> Result<Option<VesselLimits>, Failure> {
    let known = instruments::limits(kit, read);
    match (known.pressure, known.clamp) {
        (None, None) => Ok(None),
        (Some(gauge), Some(thermometer)) => Ok(Some(VesselLimits {
            gauge,
            site: known.site.unwrap_or(0.0),
            thermometer: TemperatureDifference::kelvin(thermometer),
            contact: TemperatureDifference::kelvin(known.contact.unwrap_or(0.0)),
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
    read: Read,
    at: Temperature,
    limits: Option<VesselLimits>,
    kit: Kit,
    instrument: Instrument,
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
            self.gauge_text(self.read.pressure),
            "pressure_Pa",
            self.read.pressure.in_pascal(),
        );
        // Where the figure shown is not the reading, the sum tells how one became the other.
        if self.instrument.correction.is_some() || matches!(self.read.added, Added::Other(_)) {
            list.add(
                "as shown",
                instruments::sum(&self.read, &self.instrument, None, &self.units),
                "",
                Value::Null,
            );
        }
        list.number("", "", "shown_Pa", self.read.shown);
        list.number(
            "temperature",
            page::temperature(self.at, &self.units),
            "temperature_K",
            self.at.in_kelvin(),
        );
        let words = instruments::kit_words(&self.kit, &self.instrument);
        let name = words.as_ref().map(|_| self.kit.name.as_str());
        let checked = self.instrument.correction.as_ref();
        list.add(
            if words.is_some() { "kit" } else { "" },
            words.unwrap_or_default(),
            "kit",
            name,
        );
        list.add("", "", "checked", checked.map(|one| one.checked.as_str()));
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

    fn against(&self, refrigerant: &Refrigerant) -> Result<Document, Failure> {
        let facts = Facts::of(refrigerant);
        let found = at_rest(refrigerant, self.read.pressure, self.at, self.limits)
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
        if self.limits.is_some() {
            list.add("", "", "meaning", found.place.meaning());
        }
        let all = page::all_warnings(refrigerant, &[], &self.site_warnings);
        let mut notes = vec![
            "For a vessel that holds liquid and whose temperature has been even for hours. One \
             reading cannot part an error of the gauge's zero from one of its span."
                .to_owned(),
        ];
        if self.limits.is_some() {
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
        Ok(Document {
            blocks,
            sheet: Sheet {
                heads: heads.map(str::to_owned).to_vec(),
                rows: vec![vec![
                    refrigerant.designation().to_owned(),
                    number_cell(Some(self.read.pressure.in_pascal())),
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
            ..Document::default()
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

    fn fitting(&self, catalogue: &Catalogue) -> Result<Document, Failure> {
        let Some(limits) = self.limits else {
            return Err(Failure::usage(
                "without the instruments' accuracy any refrigerant nearby would fit",
                "add --gauge-accuracy 3psi and --thermometer-accuracy 2F or a --kit that has \
                 both, or name a refrigerant",
            ));
        };
        let found = candidates(catalogue, self.read.pressure, self.at, limits)?;
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
        let degrees = limits.thermometer.in_kelvin() + limits.contact.in_kelvin();
        list.add(
            "limits of error",
            format!(
                "{}, ± {} {}",
                self.difference(limits.gauge + limits.site),
                fixed(
                    self.units
                        .temperature
                        .read_difference(TemperatureDifference::kelvin(degrees)),
                    1
                ),
                self.units.temperature.difference_symbol()
            )
            .replace('+', "± "),
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
        Ok(Document {
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
            ..Document::default()
        })
    }

    fn gauge(
        &self,
        refrigerant: &Refrigerant,
        open: &str,
        date: &str,
    ) -> Result<Document, Failure> {
        let Some(limits) = self.limits else {
            return Err(Failure::usage(
                "a gauge check needs the gauge's class and the thermometer's accuracy",
                "add --gauge-accuracy 1.25psi and --thermometer-accuracy 1F, or a --kit that has \
                 both",
            ));
        };
        let unlimited = Instrument {
            gauge: self.instrument.gauge,
            ..Instrument::default()
        };
        let open = instruments::read(open, &unlimited, &self.site)
            .map_err(|error| Failure::from(error).of_option("--open-reading"))?;
        let of_site = |read: &Read| matches!(read.added, Added::Site(_));
        if !of_site(&self.read) || !of_site(&open) {
            return Err(Failure::usage(
                "a gauge check needs figures that count from the air of the site",
                "zero the gauge here and give both in a gauge unit, for example 88psig and 0.5psig",
            ));
        }
        let (open, read) = (open.shown, self.read.shown);
        let found = gauge_check(refrigerant, open, read, self.at, &self.site, limits)
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
            "within",
            self.difference(found.expected_limit.worst)
                .replace('+', "± "),
            "expected_limit_Pa",
            found.expected_limit.worst,
        );
        list.number(
            "zero offset",
            self.difference(found.zero_offset),
            "zero_offset_Pa",
            found.zero_offset,
        );
        list.number(
            "span error there",
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
        let explained = found.span_explained();
        let offset = self.difference(found.zero_offset).replace(['+', ' '], "");
        let factor = match explained {
            true => "1".to_owned(),
            false => fixed(found.span_factor, 4),
        };
        let kit_entry = format!("zero_offset: {offset}, span_factor: {factor}, checked: {date}");
        list.add("for a kit file", kit_entry.clone(), "kit_entry", kit_entry);
        let notes = vec![
            "corrected = (reading - zero offset) x span factor, gauge. In a kit file the entry stands \
             below low or high, in place of an earlier one."
                .to_owned(),
            format!(
                "Not a calibration: one point, at {} and on {date}, on a vessel taken for {}. {}",
                page::temperature(self.at, &self.units),
                refrigerant.designation(),
                if explained {
                    "What is not known of the pressure it should show explains the error of the span: \
                     leave the factor at 1."
                } else {
                    "A gauge changes with temperature and use."
                }
            ),
        ];
        let mut object = identity(refrigerant);
        object.extend(list.object());
        object.insert("calibration".into(), false.into());
        object.insert("span_explained".into(), explained.into());
        self.close(&mut object, &facts, &all, self.words(refrigerant, &facts));
        let mut blocks = vec![
            Block::Title(format!("Gauge check on {}", refrigerant.designation())),
            list.block(),
            Block::Lines(notes),
        ];
        blocks.extend(page::foot(refrigerant, &facts, None, &all, &self.site));
        Ok(Document {
            blocks,
            sheet: list.sheet(),
            json: Value::Object(object),
            warnings: all,
            ..Document::default()
        })
    }
}
