//! `state`: all properties of one state, from two of them.

use std::io::Write;
use std::path::Path;

use csv::ByteRecord;
use serde_json::{Value, json};

use crate::Phase;
use crate::cli::args::meant;
use crate::cli::args::{BasisArgs, OutputArgs, PhaseArg, RowArgs, SiteArgs, UnitArgs, ZeroArg};
use crate::cli::errors::Failure;
use crate::cli::io::rows::{self, Reply, Rows};
use crate::cli::page;
use crate::output::{identity, model, number, number_cell, optional, phase, warnings};
use crate::page::{Block, Document, Sheet, Table};
use crate::refrigerant::{Given, Refrigerant, State, Warning};
use crate::service::facts::Facts;
use crate::units::{
    Atmosphere, BareUnit, Column, Density, Measured, Pressure, PressureUnit, Quantity, Temperature,
    TemperatureUnit, Typed, UnitSet, fixed, parse_density, parse_enthalpy, parse_entropy,
    parse_pressure, parse_quality, parse_temperature,
};

#[derive(Debug, clap::Args)]
#[command(
    group = clap::ArgGroup::new("given")
        .multiple(true)
        .args(["temperature", "pressure", "density", "enthalpy", "entropy", "quality"])
        .conflicts_with("csv"),
    after_help = "Examples:\n  zeotrope state R-134a --temperature 25C --pressure 300kPa\n  \
                  zeotrope state R-290 --pressure 70psig --quality 0.25\n  \
                  zeotrope state R-744 --temperature 40C --density 600kg/m3 --format json"
)]
pub(crate) struct StateArgs {
    /// Designation, chemical name or composition
    #[arg(value_name = "REFRIGERANT")]
    pub(crate) refrigerant: String,
    /// Temperature, for example 25C
    #[arg(long, value_name = "TEMPERATURE")]
    pub(crate) temperature: Option<String>,
    /// Pressure, for example 300kPa (absolute) or 70psig
    #[arg(long, value_name = "PRESSURE")]
    pub(crate) pressure: Option<String>,
    /// Density, for example 1200kg/m3 or 12.5mol/L
    #[arg(long, value_name = "DENSITY")]
    pub(crate) density: Option<String>,
    /// Enthalpy, for example 250kJ/kg or 110Btu/lb
    #[arg(long, value_name = "ENTHALPY")]
    pub(crate) enthalpy: Option<String>,
    /// Entropy, for example 1.2kJ/kg/K
    #[arg(long, value_name = "ENTROPY")]
    pub(crate) entropy: Option<String>,
    /// Vapour's share by mass, 0 to 1
    #[arg(long, value_name = "QUALITY")]
    pub(crate) quality: Option<String>,
    #[command(flatten)]
    pub(crate) rows: RowArgs,
    /// Which state, where two answer
    #[arg(long, value_name = "PHASE")]
    pub(crate) phase: Option<PhaseArg>,
    /// Zero of enthalpy and entropy; without it iir, else the first that there is
    #[arg(long, value_name = "ZERO")]
    pub(crate) zero: Option<ZeroArg>,
    #[command(flatten)]
    pub(crate) basis: BasisArgs,
    #[command(flatten)]
    pub(crate) units: UnitArgs,
    #[command(flatten)]
    pub(crate) site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

pub(crate) fn answer(args: &StateArgs) -> Result<Document, Failure> {
    meant::check_output(&args.output)?;
    rows::check_alone(&args.rows)?;
    let (site, site_warnings) = meant::site(&args.site)?;
    let typed = Properties::read(args, &site)?;
    let units = typed.units(args)?;
    let catalogue = meant::catalogue(&args.basis.data)?;
    let refrigerant = meant::refrigerant(&catalogue, &args.refrigerant, &args.basis)?;
    // what builds a curve takes longer than one answer
    let refrigerant = refrigerant.exact();
    let given = typed.given(refrigerant.molar_mass())?;
    let states = refrigerant
        .state(given, meant::zero(args.zero))
        .map_err(|error| Failure::in_units(error, &units, &site))?;
    let states = choose(states, args.phase)?;
    let facts = Facts::of(&refrigerant);

    let mut answer = Document::default();
    let mut objects = Vec::new();
    let several = states.len() > 1;
    for (index, state) in states.iter().enumerate() {
        let all = page::all_warnings(&refrigerant, &state.warnings, &site_warnings);
        let number = if several {
            format!(", state {} of {}", index + 1, states.len())
        } else {
            String::new()
        };
        answer.blocks.push(Block::Title(format!(
            "{}{number}: {}",
            refrigerant.designation(),
            phase_word(state.phase)
        )));
        answer
            .blocks
            .extend(tables(&refrigerant, state, &units, &site));
        if index + 1 == states.len() {
            answer.blocks.extend(page::foot(
                &refrigerant,
                &facts,
                Some(state.zero),
                &all,
                &site,
            ));
        }
        objects.push(json_of(&refrigerant, state, &facts, &all));
        for warning in all {
            if !answer.warnings.contains(&warning) {
                answer.warnings.push(warning);
            }
        }
    }
    if several {
        answer.blocks.push(Block::Lines(vec![
            if states.iter().all(|state| state.phase == states[0].phase) {
                "More than one state has these two properties; another pair may tell them apart."
            } else {
                "More than one state has these two properties; --phase chooses."
            }
            .to_owned(),
        ]));
    }
    answer.sheet = sheet(&objects);
    answer.json = match objects.len() {
        1 => objects.remove(0),
        _ => Value::Array(objects),
    };
    Ok(answer)
}

/// Answers every row of a file.
pub(crate) fn rows(
    args: &StateArgs,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Failure> {
    rows::check_output(&args.output)?;
    let (site, site_warnings) = meant::site(&args.site)?;
    let zero = meant::zero(args.zero);
    let catalogue = meant::catalogue(&args.basis.data)?;
    let refrigerant = meant::refrigerant(&catalogue, &args.refrigerant, &args.basis)?;
    let file = Rows::open(
        args.rows.csv.as_deref().unwrap_or(Path::new("-")),
        BareUnit::Absolute,
    )?;
    let places = file.choose(&Quantity::ALL, 2, &args.rows)?;
    if let [first, second] = places.as_slice()
        && first.column.quantity() == second.column.quantity()
    {
        return Err(Failure::usage(
            format!("'{}' and '{}' are one property", first.head, second.head),
            "a state is given by two different properties; --column names them",
        ));
    }
    let units = meant::units(
        &args.units,
        places
            .iter()
            .find_map(|place| place.column.temperature_unit()),
        places.iter().find_map(|place| place.column.pressure_unit()),
    )?;
    // A property that is given under the very name of the answer is not written twice.
    let figures: Vec<&Figure> = FIGURES
        .iter()
        .filter(|(head, _)| places.iter().all(|place| place.head != *head))
        .collect();
    let answer = |row: &ByteRecord| -> Result<Reply, Failure> {
        let in_units = |error| Failure::in_units(error, &units, &site);
        let mut given = Properties::default();
        for place in &places {
            given.set(&place.column, place.read(row, &site).map_err(in_units)?);
        }
        let given = given.given(refrigerant.molar_mass())?;
        let states = refrigerant.state(given, zero).map_err(in_units)?;
        let states = choose(states, args.phase)?;
        let [state] = states.as_slice() else {
            let phases: Vec<_> = states.iter().map(|state| phase_word(state.phase)).collect();
            return Ok(Reply::none(format!(
                "more than one state has these two properties: {}; --phase chooses",
                phases.join(", ")
            )));
        };
        Ok(Reply {
            cells: figures.iter().map(|(_, figure)| figure(state)).collect(),
            error: String::new(),
            warnings: page::all_warnings(&refrigerant, &state.warnings, &site_warnings),
        })
    };
    let heads: Vec<&str> = figures.iter().map(|(head, _)| *head).collect();
    file.answer(&heads, &args.output, out, err, |row| {
        answer(row).unwrap_or_else(|failure| Reply::none(failure.message()))
    })
}

/// A column of a row's answer.
type Figure = (&'static str, fn(&State) -> String);

/// The answer of a row: the figures and words at the top level of the JSON.
const FIGURES: [Figure; 14] = [
    ("phase", |state| phase_word(state.phase).to_owned()),
    ("temperature_K", |state| {
        number_cell(Some(state.properties.temperature.in_kelvin()))
    }),
    ("pressure_Pa", |state| {
        number_cell(Some(state.properties.pressure.in_pascal()))
    }),
    ("density_kg_m3", |state| {
        number_cell(Some(state.properties.density))
    }),
    ("enthalpy_J_kg", |state| {
        number_cell(Some(state.properties.enthalpy))
    }),
    ("entropy_J_kg_K", |state| {
        number_cell(Some(state.properties.entropy))
    }),
    ("internal_energy_J_kg", |state| {
        number_cell(Some(state.properties.internal_energy))
    }),
    ("cp_J_kg_K", |state| number_cell(state.properties.cp)),
    ("cv_J_kg_K", |state| number_cell(state.properties.cv)),
    ("speed_of_sound_m_s", |state| {
        number_cell(state.properties.speed_of_sound)
    }),
    ("compressibility_factor", |state| {
        number_cell(state.properties.compressibility_factor)
    }),
    ("joule_thomson_K_Pa", |state| {
        number_cell(state.properties.joule_thomson)
    }),
    ("quality", |state| number_cell(state.quality)),
    ("reference", |state| state.zero.name().to_owned()),
];

/// The properties that were given.
#[derive(Default)]
struct Properties {
    temperature: Option<Typed<Temperature, TemperatureUnit>>,
    pressure: Option<Typed<Pressure, PressureUnit>>,
    density: Option<Density>,
    enthalpy: Option<f64>,
    entropy: Option<f64>,
    quality: Option<f64>,
}

impl Properties {
    fn read(args: &StateArgs, site: &Atmosphere) -> Result<Self, Failure> {
        let pressure = |text: &str| parse_pressure(text, BareUnit::Absolute, site);
        let density = |text: &str| parse_density(text).map(|typed| typed.value);
        let enthalpy = |text: &str| parse_enthalpy(text).map(|typed| typed.value);
        let entropy = |text: &str| parse_entropy(text).map(|typed| typed.value);
        let properties = Self {
            temperature: args
                .temperature
                .as_deref()
                .map(parse_temperature)
                .transpose()?,
            pressure: args.pressure.as_deref().map(pressure).transpose()?,
            density: args.density.as_deref().map(density).transpose()?,
            enthalpy: args.enthalpy.as_deref().map(enthalpy).transpose()?,
            entropy: args.entropy.as_deref().map(entropy).transpose()?,
            quality: args.quality.as_deref().map(parse_quality).transpose()?,
        };
        let count = [
            properties.temperature.is_some(),
            properties.pressure.is_some(),
            properties.density.is_some(),
            properties.enthalpy.is_some(),
            properties.entropy.is_some(),
            properties.quality.is_some(),
        ]
        .into_iter()
        .filter(|given| *given)
        .count();
        if count == 2 {
            return Ok(properties);
        }
        Err(Failure::usage(
            format!("a state is given by two properties, not {count}"),
            "give two of --temperature --pressure --density --enthalpy --entropy --quality",
        ))
    }

    /// Takes the value of a column.
    fn set(&mut self, column: &Column, value: Measured) {
        match (value, column.temperature_unit(), column.pressure_unit()) {
            (Measured::Temperature(value), Some(unit), _) => {
                self.temperature = Some(Typed { value, unit });
            }
            (Measured::Pressure(value), _, Some(unit)) => {
                self.pressure = Some(Typed { value, unit });
            }
            (Measured::Density(value), ..) => self.density = Some(value),
            (Measured::Enthalpy(value), ..) => self.enthalpy = Some(value),
            (Measured::Entropy(value), ..) => self.entropy = Some(value),
            (Measured::Quality(value), ..) => self.quality = Some(value),
            _ => {}
        }
    }

    fn units(&self, args: &StateArgs) -> Result<UnitSet, Failure> {
        let temperature = self.temperature.map(|typed| typed.unit);
        let pressure = self.pressure.map(|typed| typed.unit);
        // Where neither is given, an enthalpy or density in inch-pound units asks for its kin.
        let inch_pound = [&args.enthalpy, &args.entropy, &args.density]
            .into_iter()
            .flatten()
            .any(|text| text.to_lowercase().contains("lb"));
        let neither = temperature.is_none() && pressure.is_none();
        let assumed = (neither && inch_pound).then_some(TemperatureUnit::Fahrenheit);
        meant::units(&args.units, temperature.or(assumed), pressure)
    }

    fn given(&self, molar_mass: f64) -> Result<Given, Failure> {
        let density = self.density.map(|density| density.in_kg_per_m3(molar_mass));
        let temperature = self.temperature.map(|typed| typed.value);
        let pressure = self.pressure.map(|typed| typed.value);
        let Self {
            enthalpy,
            entropy,
            quality,
            ..
        } = *self;
        use Given::*;
        Ok(
            match (temperature, pressure, density, enthalpy, entropy, quality) {
                (Some(t), Some(p), ..) => TemperaturePressure(t, p),
                (Some(t), _, Some(d), ..) => TemperatureDensity(t, d),
                (Some(t), _, _, Some(h), ..) => TemperatureEnthalpy(t, h),
                (Some(t), _, _, _, Some(s), _) => TemperatureEntropy(t, s),
                (Some(t), _, _, _, _, Some(q)) => TemperatureQuality(t, q),
                (_, Some(p), Some(d), ..) => PressureDensity(p, d),
                (_, Some(p), _, Some(h), ..) => PressureEnthalpy(p, h),
                (_, Some(p), _, _, Some(s), _) => PressureEntropy(p, s),
                (_, Some(p), _, _, _, Some(q)) => PressureQuality(p, q),
                (_, _, Some(d), Some(h), ..) => DensityEnthalpy(d, h),
                (_, _, Some(d), _, Some(s), _) => DensityEntropy(d, s),
                (_, _, Some(d), _, _, Some(q)) => DensityQuality(d, q),
                (_, _, _, Some(h), Some(s), _) => EnthalpyEntropy(h, s),
                (_, _, _, Some(h), _, Some(q)) => EnthalpyQuality(h, q),
                (_, _, _, _, Some(s), Some(q)) => EntropyQuality(s, q),
                _ => {
                    return Err(Failure::usage(
                        "a state is given by two properties",
                        "give two of --temperature --pressure --density --enthalpy --entropy --quality",
                    ));
                }
            },
        )
    }
}

/// Keeps the states of the phase asked for.
fn choose(states: Vec<State>, asked: Option<PhaseArg>) -> Result<Vec<State>, Failure> {
    let Some(asked) = asked else {
        return Ok(states);
    };
    let wanted = match asked {
        PhaseArg::Liquid => Phase::Liquid,
        PhaseArg::Vapor => Phase::Vapor,
        PhaseArg::Supercritical => Phase::Supercritical,
        PhaseArg::TwoPhase => Phase::TwoPhase,
    };
    let found: Vec<_> = states.iter().map(|state| phase_word(state.phase)).collect();
    let hint = format!("these properties have: {}", found.join(", "));
    let kept: Vec<State> = states
        .into_iter()
        .filter(|state| state.phase == wanted)
        .collect();
    if kept.is_empty() {
        return Err(Failure::no_answer(
            format!("no {} state has these two properties", phase_word(wanted)),
            hint,
        ));
    }
    Ok(kept)
}

/// The phase's name, as in JSON.
fn phase_word(phase: Phase) -> &'static str {
    match phase {
        Phase::Liquid => "liquid",
        Phase::Vapor => "vapor",
        Phase::Supercritical => "supercritical",
        Phase::TwoPhase => "two-phase",
    }
}

fn tables(
    refrigerant: &Refrigerant,
    state: &State,
    units: &UnitSet,
    site: &Atmosphere,
) -> Vec<Block> {
    let whole = &state.properties;
    let mut pairs: Vec<(String, String)> =
        page::place((whole.temperature, whole.pressure), units, site)
            .into_iter()
            .map(|(name, text)| (name.to_owned(), text))
            .collect();
    if let Some(quality) = state.quality {
        pairs.push(("quality".to_owned(), fixed(quality, 5)));
    }
    let mut columns = vec![("whole", whole)];
    columns.extend(state.liquid.as_ref().map(|phase| ("liquid", phase)));
    columns.extend(state.vapor.as_ref().map(|phase| ("vapour", phase)));
    if columns.len() == 1 {
        let figures = page::properties(whole, units, state.molar_mass);
        pairs.extend(
            figures
                .into_iter()
                .map(|(name, text)| (name.to_owned(), text)),
        );
        return vec![Block::Pairs(pairs)];
    }
    let mut rows: Vec<Vec<String>> = Vec::new();
    for (_, phase) in &columns {
        let figures = page::properties(phase, units, state.molar_mass)
            .into_iter()
            .map(|(name, text)| (name.to_owned(), text))
            .chain(page::shares(refrigerant, phase));
        for (index, (name, text)) in figures.enumerate() {
            match rows.get_mut(index) {
                Some(row) => row.push(text),
                None => rows.push(vec![name, text]),
            }
        }
    }
    let names = columns.iter().map(|(name, _)| (*name).to_owned());
    vec![
        Block::Pairs(pairs),
        Block::Table(Table {
            groups: Vec::new(),
            heads: std::iter::once(String::new()).chain(names).collect(),
            rows,
            words: 1,
        }),
    ]
}

fn json_of(refrigerant: &Refrigerant, state: &State, facts: &Facts, all: &[Warning]) -> Value {
    let mut object = identity(refrigerant);
    object.insert("molar_mass_kg_mol".into(), number(state.molar_mass));
    object.insert("phase".into(), phase_word(state.phase).into());
    object.extend(phase(&state.properties));
    object.insert("quality".into(), optional(state.quality));
    if let (Some(liquid), Some(vapor)) = (&state.liquid, &state.vapor) {
        object.insert("liquid".into(), Value::Object(phase(liquid)));
        object.insert("vapor".into(), Value::Object(phase(vapor)));
    }
    object.insert("reference".into(), state.zero.name().into());
    object.insert("model".into(), model(facts));
    object.insert("warnings".into(), warnings(all));
    Value::Object(object)
}

/// A row a state: every figure and word at the top level of its JSON.
fn sheet(objects: &[Value]) -> Sheet {
    let is_cell = |value: &Value| !matches!(value, Value::Array(_) | Value::Object(_));
    let heads: Vec<String> = objects
        .first()
        .and_then(Value::as_object)
        .map(|object| {
            object
                .iter()
                .filter(|(_, value)| is_cell(value))
                .map(|(key, _)| key.clone())
                .collect()
        })
        .unwrap_or_default();
    let empty = json!(null);
    let rows = objects
        .iter()
        .map(|object| {
            heads
                .iter()
                .map(|key| match object.get(key).unwrap_or(&empty) {
                    Value::String(text) => text.clone(),
                    Value::Number(number) => number.to_string(),
                    _ => String::new(),
                })
                .collect()
        })
        .collect();
    Sheet { heads, rows }
}
