//! `reading`: both sides of a machine at once.

use serde_json::{Map, Value, json};

use crate::cli::args::meant;
use crate::cli::args::meant::option;
use crate::cli::args::reading::ReadingArgs;
use crate::cli::errors::Failure;
use crate::cli::page;
use crate::cli::transition::cautions;
use crate::cli::verbs::readings::instruments::{self, Read};
use crate::cli::verbs::readings::measure;
use crate::cli::verbs::readings::uncertain::{self, degrees};
use crate::output::{identity, model, number, number_cell, optional, warnings};
use crate::page::{Block, Document, Sheet, Table};
use crate::process::coil::{Coil, Liquid};
use crate::refrigerant::{Refrigerant, Warning, Zero};
use crate::service::facts::Facts;
use crate::service::measurement::kit::{Instrument, Kit};
use crate::service::measurement::uncertainty::{Limits, Uncertainty};
use crate::service::reading::both_sides::{AirRead, Machine, Side, SideRead};
use crate::service::reading::superheat_subcooling::Measure;
use crate::units::{Atmosphere, Temperature, UnitSet, fixed, parse_temperature};

/// One side as read and as found.
struct Found {
    read: Read,
    instrument: Instrument,
    side: Side,
    limits: Limits,
    uncertainty: Option<Uncertainty>,
}

/// Everything that the page tells.
struct Page<'a> {
    refrigerant: &'a Refrigerant,
    machine: Machine,
    suction: Option<Found>,
    liquid: Option<Found>,
    /// (inlet + dew)/2 of the evaporator, where the liquid before the expansion device is known.
    inlet_mean: Option<Temperature>,
    ratio: Option<[f64; 2]>,
    over_ambient: Option<Uncertainty>,
    over_evaporating: Option<Uncertainty>,
    kit: Kit,
    units: UnitSet,
    site: Atmosphere,
    warnings: Vec<Warning>,
}

pub(crate) fn answer(args: &ReadingArgs) -> Result<Document, Failure> {
    meant::check_output(&args.output)?;
    let (site, site_warnings) = meant::site(&args.site)?;
    let (kit, air_limit) = instruments::kit_of_sides(&args.gauge, &args.accuracy, &args.sides)?;
    let both = &args.both;
    let temperature =
        |name: &str, text: &Option<String>| option(name, text.as_deref(), parse_temperature);
    let lines = [
        temperature("--suction-line", &both.suction_line)?,
        temperature("--liquid-line", &both.liquid_line)?,
    ];
    let airs = [
        temperature("--ambient", &both.ambient)?,
        temperature("--return-air", &both.return_air)?,
        temperature("--supply-air", &both.supply_air)?,
    ];
    let pressure = |name: &str, text: &Option<String>, instrument: &Instrument| {
        option(name, text.as_deref(), |text| {
            instruments::read(text, instrument, &site)
        })
    };
    let reads = [
        pressure("--suction-pressure", &both.suction_pressure, &kit.low)?,
        pressure("--liquid-pressure", &both.liquid_pressure, &kit.high)?,
    ];
    let Some(unit) = reads.iter().flatten().map(|read| read.unit).next() else {
        return Err(Failure::usage(
            "no pressure was given",
            "add --suction-pressure 118psig, --liquid-pressure 340psig or both, or --csv FILE",
        ));
    };
    for (line, read, names) in [
        (
            &lines[0],
            &reads[0],
            ["--suction-line", "--suction-pressure"],
        ),
        (&lines[1], &reads[1], ["--liquid-line", "--liquid-pressure"]),
    ] {
        if line.is_some() && read.is_none() {
            return Err(Failure::usage(
                format!("{} without {}", names[0], names[1]),
                format!("add {}, or leave {} out", names[1], names[0]),
            ));
        }
    }
    let typed = lines
        .iter()
        .chain(&airs)
        .flatten()
        .map(|line| line.unit)
        .next();
    let units = meant::units(&args.units, typed, Some(unit))?;
    let catalogue = meant::catalogue(&args.basis.data)?;
    let refrigerant = meant::refrigerant(&catalogue, &args.refrigerant, &args.basis)?;

    let mut all = page::all_warnings(&refrigerant, &[], &site_warnings);
    let mut side =
        |measure, read: &Option<Read>, line: Option<Temperature>, instrument: &Instrument| {
            let Some(read) = read else { return Ok(None) };
            let pressure = read.pressure;
            let side = Side::new(&refrigerant, measure, SideRead { pressure, line })
                .map_err(|error| Failure::in_units(error, &units, &site))?;
            let mut limits = instruments::limits(&kit, read);
            let mut uncertainty = None;
            if let Some(reading) = &side.reading {
                let nominal = args.accuracy.nominal_composition;
                limits = reading.with_refrigerant(&refrigerant, limits, nominal);
                uncertainty = measure::uncertainty(&refrigerant, reading, &limits, &mut all);
            }
            Ok::<_, Failure>(Some(Found {
                read: read.clone(),
                instrument: instrument.clone(),
                side,
                limits,
                uncertainty,
            }))
        };
    let value = |at: usize| lines[at].map(|line| line.value);
    let suction = side(Measure::Superheat, &reads[0], value(0), &kit.low)?;
    let liquid = side(Measure::Subcooling, &reads[1], value(1), &kit.high)?;
    let machine = Machine {
        suction: suction.as_ref().map(|found| found.side.clone()),
        liquid: liquid.as_ref().map(|found| found.side.clone()),
        air: AirRead {
            ambient: airs[0].map(|air| air.value),
            returning: airs[1].map(|air| air.value),
            supplied: airs[2].map(|air| air.value),
        },
    };
    let over_air = |found: &Option<Found>| {
        let found = found.as_ref()?;
        let limits = Limits {
            clamp: air_limit,
            contact: None,
            composition: None,
            equation: None,
            ..found.limits
        };
        limits.pressure?;
        found.side.mean_uncertainty(&refrigerant, &limits).ok()?
    };
    let ratio = match (&suction, &liquid) {
        (Some(suction), Some(liquid)) => match (suction.limits.pressure, liquid.limits.pressure) {
            (Some(low), Some(high)) => machine.pressure_ratio_uncertainty(low, high),
            _ => None,
        },
        _ => None,
    };
    let inlet_mean = match (&suction, value(1)) {
        (Some(suction), Some(temperature)) => {
            let liquid = Liquid {
                temperature,
                pressure: liquid.as_ref().map(|found| found.side.pressure),
            };
            Coil::evaporator(
                &refrigerant,
                suction.side.pressure,
                Some(liquid),
                Zero::Usual,
            )
            .ok()
            .and_then(|coil| coil.means.inlet_and_dew)
        }
        _ => None,
    };
    Ok(Page {
        refrigerant: &refrigerant,
        over_ambient: machine.air.ambient.and_then(|_| over_air(&liquid)),
        over_evaporating: machine.air.returning.and_then(|_| over_air(&suction)),
        machine,
        suction,
        liquid,
        inlet_mean,
        ratio,
        kit,
        units,
        site,
        warnings: all,
    }
    .answer())
}

impl Page<'_> {
    fn sides(&self) -> impl Iterator<Item = (&'static str, &Found)> {
        [("suction", &self.suction), ("liquid", &self.liquid)]
            .into_iter()
            .filter_map(|(name, found)| found.as_ref().map(|found| (name, found)))
    }

    fn marks(&self) -> Vec<&'static str> {
        let expanded = |found: &Option<Found>| {
            let found = found.as_ref()?.uncertainty.as_ref()?;
            Some(found.expanded)
        };
        self.machine
            .marks(expanded(&self.suction), expanded(&self.liquid))
    }

    fn answer(self) -> Document {
        let facts = Facts::of(self.refrigerant);
        let mut blocks = vec![
            Block::Title(format!("{}, both sides", self.refrigerant.designation())),
            self.table(),
            Block::Pairs(self.figures()),
        ];
        let mut lines = Vec::new();
        for (_, found) in self.sides() {
            if let Some(reading) = &found.side.reading {
                let expanded = found.uncertainty.as_ref().map(|one| one.expanded);
                lines.push(uncertain::meaning(reading, expanded, &self.units));
            }
        }
        lines.extend(
            self.marks()
                .iter()
                .map(|mark| format!("Look again: {mark}.")),
        );
        if !lines.is_empty() {
            blocks.push(Block::Lines(lines));
        }
        for (name, found) in self.sides() {
            if let Some(one) = &found.uncertainty {
                blocks.push(Block::Lines(vec![format!(
                    "Uncertainty of the {name} side:"
                )]));
                blocks.push(uncertain::table(one, &self.units));
                blocks.push(Block::Lines(vec![uncertain::method(one, &self.units)]));
            }
        }
        blocks.extend(page::foot(
            self.refrigerant,
            &facts,
            None,
            &self.warnings,
            &self.site,
        ));
        let (heads, row) = self.sheet();
        Document {
            blocks,
            sheet: Sheet {
                heads,
                rows: vec![row],
            },
            json: self.json(&facts),
            warnings: self.warnings,
            ..Document::default()
        }
    }

    fn table(&self) -> Block {
        let units = &self.units;
        let temperature = |value: Option<Temperature>| {
            value.map_or_else(|| "-".to_owned(), |value| page::temperature(value, units))
        };
        type Cell<'a> = (&'static str, &'a dyn Fn(&Found) -> String);
        let rows: [Cell<'_>; 6] = [
            ("pressure, absolute", &|found| {
                page::pressure(found.side.pressure, units.absolute, &self.site)
            }),
            ("bubble temperature", &|found| {
                temperature(found.side.bubble)
            }),
            ("dew temperature", &|found| temperature(found.side.dew)),
            ("(bubble + dew)/2", &|found| temperature(found.side.mean())),
            ("line", &|found| {
                temperature(found.side.reading.as_ref().map(|reading| reading.line))
            }),
            ("superheat, subcooling", &|found| {
                let Some(reading) = &found.side.reading else {
                    return "-".to_owned();
                };
                let decimals = uncertain::decimals(found.uncertainty.is_some());
                let mut text = degrees(reading.value, units, decimals);
                if let Some(one) = &found.uncertainty {
                    text.push_str(&format!(", {}", uncertain::sides(one.expanded, units)));
                }
                text
            }),
        ];
        let heads = std::iter::once(String::new())
            .chain(self.sides().map(|(name, _)| name.to_owned()))
            .collect();
        Block::Table(Table {
            groups: Vec::new(),
            heads,
            rows: rows
                .iter()
                .map(|(name, cell)| {
                    std::iter::once((*name).to_owned())
                        .chain(self.sides().map(|(_, found)| cell(found)))
                        .collect()
                })
                .collect(),
            words: 1,
        })
    }

    fn figures(&self) -> Vec<(String, String)> {
        let (units, machine) = (&self.units, &self.machine);
        let mut pairs = Vec::new();
        let mut put = |name: &str, text: Option<String>| {
            pairs.extend(text.map(|text| (name.to_owned(), text)));
        };
        for (name, found) in self.sides() {
            let sum = instruments::sum(&found.read, &found.instrument, None, units);
            put(&format!("{name} pressure"), Some(sum));
        }
        put(
            "pressure ratio",
            machine.pressure_ratio().map(|ratio| match self.ratio {
                Some([_, expanded]) => format!("{} ± {}", fixed(ratio, 2), fixed(expanded, 2)),
                None => fixed(ratio, 2),
            }),
        );
        let with = |value: f64, found: &Option<Uncertainty>| match found {
            Some(found) => format!(
                "{}, {}",
                degrees(value, units, 1),
                uncertain::sides(found.expanded, units)
            ),
            None => degrees(value, units, 1),
        };
        put(
            "evaporator, (inlet + dew)/2",
            self.inlet_mean.map(|mean| page::temperature(mean, units)),
        );
        put(
            "condenser's (bubble + dew)/2 over ambient",
            machine
                .condensing_over_ambient()
                .map(|value| with(value, &self.over_ambient)),
        );
        put(
            "return air over evaporator's (bubble + dew)/2",
            machine
                .air_over_evaporating()
                .map(|value| with(value, &self.over_evaporating)),
        );
        put(
            "return air over supply air",
            machine
                .air_difference()
                .map(|value| degrees(value, units, 1)),
        );
        if !self.kit.name.is_empty() {
            let mut text = self.kit.name.clone();
            for (name, found) in self.sides() {
                if let Some(correction) = &found.instrument.correction {
                    text.push_str(&format!(
                        "; {name} gauge's zero and span as checked {}, not a calibration",
                        correction.checked
                    ));
                }
            }
            put("kit", Some(text));
        }
        pairs
    }

    fn json(&self, facts: &Facts) -> Value {
        let machine = &self.machine;
        let mut object = identity(self.refrigerant);
        let kelvin = |value: Option<Temperature>| optional(value.map(Temperature::in_kelvin));
        let side = |measure: Measure, found: &Option<Found>| -> Value {
            let Some(found) = found else {
                return Value::Null;
            };
            let reading = found.side.reading.as_ref();
            let mut object = Map::new();
            object.insert(
                "pressure_Pa".into(),
                number(found.side.pressure.in_pascal()),
            );
            object.insert("added_Pa".into(), number(found.read.added.pascal()));
            object.insert("bubble_temperature_K".into(), kelvin(found.side.bubble));
            object.insert("dew_temperature_K".into(), kelvin(found.side.dew));
            object.insert("mean_temperature_K".into(), kelvin(found.side.mean()));
            object.insert(
                "line_temperature_K".into(),
                kelvin(reading.map(|reading| reading.line)),
            );
            object.insert("branch".into(), measure.branch_word().into());
            object.insert(
                format!("{}_K", measure.word()),
                optional(reading.map(|reading| reading.value)),
            );
            let expanded = found.uncertainty.as_ref().map(|one| one.expanded);
            object.insert(
                "meaning".into(),
                reading.map_or(Value::Null, |reading| {
                    uncertain::meaning_word(reading.meaning(expanded)).into()
                }),
            );
            object.insert("gauge_limit_Pa".into(), optional(found.read.limit));
            uncertain::insert(&mut object, found.uncertainty.as_ref());
            Value::Object(object)
        };
        let mut put = |key: &str, value: Value| {
            object.insert(key.to_owned(), value);
        };
        let expanded =
            |found: &Option<Uncertainty>| optional(found.as_ref().map(Uncertainty::expanded_half));
        put("suction", side(Measure::Superheat, &self.suction));
        put("liquid", side(Measure::Subcooling, &self.liquid));
        put("pressure_ratio", optional(machine.pressure_ratio()));
        put(
            "pressure_ratio_expanded_uncertainty",
            optional(self.ratio.map(|[_, expanded]| expanded)),
        );
        put("evaporating_inlet_dew_mean_K", kelvin(self.inlet_mean));
        put(
            "condensing_over_ambient_K",
            optional(machine.condensing_over_ambient()),
        );
        put(
            "condensing_over_ambient_expanded_uncertainty_K",
            expanded(&self.over_ambient),
        );
        put(
            "air_over_evaporating_K",
            optional(machine.air_over_evaporating()),
        );
        put(
            "air_over_evaporating_expanded_uncertainty_K",
            expanded(&self.over_evaporating),
        );
        put("air_difference_K", optional(machine.air_difference()));
        put("marks", json!(self.marks()));
        put("atmosphere_Pa", number(self.site.pressure().in_pascal()));
        put("model", model(facts));
        put("cautions", cautions(&[(self.refrigerant, facts)]).into());
        put("warnings", warnings(&self.warnings));
        Value::Object(object)
    }

    fn sheet(&self) -> (Vec<String>, Vec<String>) {
        let found = [&self.suction, &self.liquid]
            .map(|found| found.as_ref().and_then(|found| found.uncertainty.as_ref()));
        let cells = cells(&self.machine, found, &self.marks());
        let heads = std::iter::once("refrigerant".to_owned())
            .chain(HEADS.iter().map(|head| (*head).to_owned()));
        let row = std::iter::once(self.refrigerant.designation().to_owned()).chain(cells);
        (heads.collect(), row.collect())
    }
}

/// Columns of an answer of both sides.
pub(crate) const HEADS: [&str; 19] = [
    "suction_bubble_temperature_K",
    "suction_dew_temperature_K",
    "superheat_K",
    "superheat_standard_uncertainty_K",
    "superheat_expanded_uncertainty_K",
    "superheat_worst_case_K",
    "liquid_bubble_temperature_K",
    "liquid_dew_temperature_K",
    "subcooling_K",
    "subcooling_standard_uncertainty_K",
    "subcooling_expanded_uncertainty_K",
    "subcooling_worst_case_K",
    "evaporating_mean_temperature_K",
    "condensing_mean_temperature_K",
    "pressure_ratio",
    "condensing_over_ambient_K",
    "air_over_evaporating_K",
    "air_difference_K",
    "marks",
];

/// The cells of [`HEADS`].
pub(crate) fn cells(
    machine: &Machine,
    found: [Option<&Uncertainty>; 2],
    marks: &[&str],
) -> Vec<String> {
    let kelvin = |value: Option<Temperature>| value.map(Temperature::in_kelvin);
    let sides = [&machine.suction, &machine.liquid].map(Option::as_ref);
    let mut cells = Vec::with_capacity(HEADS.len());
    for (side, found) in sides.into_iter().zip(found) {
        let reading = side.and_then(|side| side.reading.as_ref());
        let figures = [
            side.and_then(|side| kelvin(side.bubble)),
            side.and_then(|side| kelvin(side.dew)),
            reading.map(|reading| reading.value),
            found.map(|one| one.standard),
            found.map(Uncertainty::expanded_half),
            found.map(Uncertainty::worst_case),
        ];
        cells.extend(figures.map(number_cell));
    }
    let figures = [
        sides[0].and_then(|side| kelvin(side.mean())),
        sides[1].and_then(|side| kelvin(side.mean())),
        machine.pressure_ratio(),
        machine.condensing_over_ambient(),
        machine.air_over_evaporating(),
        machine.air_difference(),
    ];
    cells.extend(figures.map(number_cell));
    cells.push(marks.join("; "));
    cells
}
