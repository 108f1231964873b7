//! `saturation`: bubble and dew point at a temperature or a pressure.

use std::io::Write;
use std::path::Path;

use csv::ByteRecord;
use serde_json::{Map, Value, json};

use crate::cli::args::meant;
use crate::cli::args::{BasisArgs, OutputArgs, RowArgs, SiteArgs, TeachingArgs, UnitArgs, ZeroArg};
use crate::cli::errors::Failure;
use crate::cli::io::rows::{self, Reply, Rows};
use crate::cli::page;
use crate::cli::verbs::charts::idle;
use crate::cli::verbs::properties::beside::Beside;
use crate::cli::verbs::properties::ideal::At;
use crate::cli::verbs::properties::tolerance::Tolerance;
use crate::cli::verbs::properties::working::Hand;
use crate::output::{identity, model, number_cell, optional, phase, warnings};
use crate::page::{Block, Document, Sheet, Table};
use crate::refrigerant::{Refrigerant, Saturation, SaturationPoint, Warning};
use crate::service::facts::Facts;
use crate::units::{
    Atmosphere, BareUnit, Measured, PressureUnit, Quantity, TemperatureDifference, UnitSet, fixed,
    parse_pressure, parse_temperature, significant,
};

#[derive(Debug, clap::Args)]
#[command(
    group = clap::ArgGroup::new("at").required(true).args(["temperature", "pressure", "csv"]),
    after_help = "Examples:\n  zeotrope saturation R-134a --temperature 5C\n  \
                  zeotrope saturation R-290 --pressure 70psig\n  \
                  zeotrope saturation R-717 --temperature -28F --format json\n  \
                  zeotrope saturation R-455A --temperature 40F --tolerance\n  \
                  zeotrope saturation R-407C --temperature 25C --model ideal --explain"
)]
pub(crate) struct SaturationArgs {
    /// Designation, chemical name or composition; one or several
    #[arg(value_name = "REFRIGERANT", required = true)]
    pub(crate) refrigerants: Vec<String>,
    /// Temperature, for example 5C or 41F
    #[arg(long, value_name = "TEMPERATURE")]
    pub(crate) temperature: Option<String>,
    /// Pressure, for example 70psig, 5.8barg or 681kPaa
    #[arg(long, value_name = "PRESSURE")]
    pub(crate) pressure: Option<String>,
    #[command(flatten)]
    pub(crate) rows: RowArgs,
    /// Zero of enthalpy and entropy; without it iir, else the first that there is
    #[arg(long, value_name = "ZERO")]
    pub(crate) zero: Option<ZeroArg>,
    /// Solve the equation for every question, instead of reading curves built from it where there
    /// are many; a single question always is solved
    #[arg(long)]
    pub(crate) exact: bool,
    /// Band of bubble and dew within the published tolerances of the contents
    #[arg(long)]
    pub(crate) tolerance: bool,
    #[command(flatten)]
    pub(crate) teaching: TeachingArgs,
    #[command(flatten)]
    pub(crate) basis: BasisArgs,
    #[command(flatten)]
    pub(crate) units: UnitArgs,
    #[command(flatten)]
    pub(crate) site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

pub(crate) fn answer(args: &SaturationArgs) -> Result<Document, Failure> {
    meant::check_output(&args.output)?;
    idle::check_teaching(&args.teaching, &args.output)?;
    rows::check_alone(&args.rows)?;
    let (site, site_warnings) = meant::site(&args.site)?;
    let Asked {
        at,
        words,
        typed_in,
        units,
    } = given(args, &site)?;
    let zero = meant::zero(args.zero);
    let catalogue = meant::catalogue(&args.basis.data)?;
    let mut answer = Document {
        sheet: Sheet {
            heads: heads(args.tolerance),
            rows: Vec::new(),
        },
        warnings: site_warnings.clone(),
        ..Document::default()
    };
    let mut objects = Vec::new();
    for text in &args.refrigerants {
        let refrigerant = meant::refrigerant(&catalogue, text, &args.basis)?;
        // what builds a curve takes longer than one answer
        let refrigerant = refrigerant.exact();
        let saturation = match at {
            At::Temperature(temperature) => {
                refrigerant.saturation_at_temperature(temperature, zero)
            }
            At::Pressure(pressure) => refrigerant.saturation_at_pressure(pressure, zero),
        }
        .map_err(|error| Failure::in_units(error, &units, &site))?;
        let facts = Facts::of(&refrigerant);
        let beside = Beside::of(args, &refrigerant, &saturation, at);
        let mut notes = saturation.warnings.clone();
        notes.extend(beside.warnings(&units, &site));
        let all = page::all_warnings(&refrigerant, &notes, &site_warnings);
        answer.blocks.push(Block::Title(format!(
            "{}, saturation at {words}",
            refrigerant.designation()
        )));
        answer
            .blocks
            .extend(tables(&refrigerant, &saturation, &units, &site));
        answer
            .blocks
            .extend(beside.blocks(&refrigerant, &saturation, &units, &site));
        let mut working = Vec::new();
        if args.teaching.explain {
            let hand = Hand {
                units: &units,
                site: &site,
            };
            if let (At::Pressure(pressure), Some(unit)) = (at, typed_in) {
                working.extend(hand.absolute(pressure, unit));
            }
            working.extend(hand.saturation(&refrigerant, &saturation));
            working.extend(beside.working(&refrigerant, &units));
            answer.blocks.push(Block::Title("Working".into()));
            answer.blocks.push(Block::Lines(working.clone()));
        }
        answer.blocks.extend(page::foot(
            &refrigerant,
            &facts,
            Some(saturation.zero),
            &all,
            &site,
        ));
        let mut cells = row(&refrigerant, &saturation);
        cells.extend(beside.tolerance.iter().flat_map(Tolerance::cells));
        answer.sheet.rows.push(cells);
        let mut object = json_of(&refrigerant, &saturation, &facts, &all);
        beside.add_to(&mut object);
        if args.teaching.explain {
            object.insert("working".into(), working.into());
        }
        objects.push(Value::Object(object));
        for warning in all {
            if !answer.warnings.contains(&warning) {
                answer.warnings.push(warning);
            }
        }
    }
    answer.json = match objects.len() {
        1 => objects.remove(0),
        _ => Value::Array(objects),
    };
    Ok(answer)
}

/// What was asked.
struct Asked {
    at: At,
    /// As typed, for a title.
    words: String,
    /// The unit in which a pressure was typed.
    typed_in: Option<PressureUnit>,
    units: UnitSet,
}

fn given(args: &SaturationArgs, site: &Atmosphere) -> Result<Asked, Failure> {
    if let Some(text) = &args.temperature {
        let typed = parse_temperature(text)?;
        return Ok(Asked {
            at: At::Temperature(typed.value),
            words: page::asked(typed.unit.read(typed.value), typed.unit.symbol()),
            typed_in: None,
            units: meant::units(&args.units, Some(typed.unit), None)?,
        });
    }
    let Some(text) = &args.pressure else {
        return Err(Failure::usage(
            "neither a temperature nor a pressure was given",
            "add --temperature 5C or --pressure 70psig",
        ));
    };
    let typed = parse_pressure(text, BareUnit::Absolute, site)?;
    Ok(Asked {
        at: At::Pressure(typed.value),
        words: page::asked(typed.unit.read(typed.value, site), typed.unit.words()),
        typed_in: Some(typed.unit),
        units: meant::units(&args.units, None, Some(typed.unit))?,
    })
}

/// Answers every row of a file.
pub(crate) fn rows(
    args: &SaturationArgs,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Failure> {
    rows::check_output(&args.output)?;
    if args.tolerance || args.teaching.explain || args.teaching.model.is_some() {
        return Err(Failure::usage(
            "rows of a file are answered without --tolerance, --model and --explain",
            "ask for one temperature or pressure to see them",
        ));
    }
    let (site, site_warnings) = meant::site(&args.site)?;
    let [text] = args.refrigerants.as_slice() else {
        return Err(Failure::usage(
            "rows of a file are answered for one refrigerant at a time",
            "run once for each refrigerant",
        ));
    };
    let zero = meant::zero(args.zero);
    let catalogue = meant::catalogue(&args.basis.data)?;
    let mut refrigerant = meant::refrigerant(&catalogue, text, &args.basis)?;
    if args.exact {
        refrigerant = refrigerant.exact();
    }
    let file = Rows::open(
        args.rows.csv.as_deref().unwrap_or(Path::new("-")),
        BareUnit::Absolute,
    )?;
    let wanted = [Quantity::Temperature, Quantity::Pressure];
    let places = file.choose(&wanted, 1, &args.rows)?;
    let [place] = places.as_slice() else {
        return Err(Failure::usage("no column was chosen", "add --column HEAD"));
    };
    let units = meant::units(
        &args.units,
        place.column.temperature_unit(),
        place.column.pressure_unit(),
    )?;
    let answer = |row: &ByteRecord| -> crate::Result<Reply> {
        let saturation = match place.read(row, &site)? {
            Measured::Pressure(pressure) => refrigerant.saturation_at_pressure(pressure, zero)?,
            Measured::Temperature(temperature) => {
                refrigerant.saturation_at_temperature(temperature, zero)?
            }
            _ => return Ok(Reply::default()),
        };
        // A branch that is missing is told in its row, not among the warnings.
        let (missing, warnings): (Vec<Warning>, Vec<Warning>) =
            page::all_warnings(&refrigerant, &saturation.warnings, &site_warnings)
                .into_iter()
                .partition(|warning| warning.code == "no_branch");
        let missing: Vec<String> = missing.into_iter().map(|warning| warning.text).collect();
        Ok(Reply {
            cells: figures(&saturation),
            error: missing.join("; "),
            warnings,
        })
    };
    let heads = figure_heads();
    let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
    file.answer(&heads, &args.output, out, err, |row| {
        answer(row).unwrap_or_else(|error| Reply::none(rows::error(error, &units, &site)))
    })
}

/// A point on a line with its name.
type Named<'a> = (&'static str, &'a SaturationPoint);

fn points<'a>(refrigerant: &Refrigerant, saturation: &'a Saturation) -> Vec<Named<'a>> {
    if refrigerant.is_pure()
        && let Some(point) = saturation.bubble.as_ref().or(saturation.dew.as_ref())
    {
        return vec![("", point)];
    }
    [
        ("bubble", saturation.bubble.as_ref()),
        ("dew", saturation.dew.as_ref()),
        ("retrograde dew", saturation.retrograde.as_ref()),
    ]
    .into_iter()
    .filter_map(|(name, point)| point.map(|point| (name, point)))
    .collect()
}

fn tables(
    refrigerant: &Refrigerant,
    saturation: &Saturation,
    units: &UnitSet,
    site: &Atmosphere,
) -> Vec<Block> {
    let points = points(refrigerant, saturation);
    let mut blocks = Vec::new();

    let mut place_rows: Vec<Vec<String>> = Vec::new();
    for (_, point) in &points {
        let latent = format!(
            "{} {}",
            significant(point.latent_heat / units.enthalpy.joule_per_kg(), 5),
            units.enthalpy.typed()
        );
        let rows = page::place((point.temperature, point.pressure), units, site)
            .into_iter()
            .chain([("latent heat", latent)]);
        add_column(
            &mut place_rows,
            rows.map(|(name, text)| (name.to_owned(), text)),
        );
    }
    if refrigerant.is_pure() {
        let pairs = place_rows.into_iter().filter_map(|mut row| {
            let text = row.pop()?;
            Some((row.pop()?, text))
        });
        blocks.push(Block::Pairs(pairs.collect()));
    } else {
        blocks.push(Block::Table(Table {
            groups: Vec::new(),
            heads: std::iter::once(String::new())
                .chain(points.iter().map(|(name, _)| (*name).to_owned()))
                .collect(),
            rows: place_rows,
            words: 1,
        }));
        let missing: Vec<String> = [
            ("bubble", saturation.bubble.is_none()),
            ("dew", saturation.dew.is_none()),
        ]
        .into_iter()
        .filter(|(_, missing)| *missing)
        .map(|(name, _)| format!("There is no {name} point here; the warnings say why."))
        .collect();
        if !missing.is_empty() {
            blocks.push(Block::Lines(missing));
        }
        if let Some(kelvin) = saturation.glide {
            let difference = TemperatureDifference::kelvin(kelvin);
            blocks.push(Block::Lines(vec![format!(
                "Glide at this pressure: {} {}.",
                fixed(units.temperature.read_difference(difference), 2),
                units.temperature.difference_symbol()
            )]));
        }
    }

    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut heads = vec![String::new()];
    let mut groups = vec![(String::new(), 1)];
    for (name, point) in &points {
        for (side, one) in [("liquid", &point.liquid), ("vapour", &point.vapor)] {
            let figures = page::properties(one, units, refrigerant.molar_mass())
                .into_iter()
                .map(|(name, text)| (name.to_owned(), text))
                .chain(page::shares(refrigerant, one));
            add_column(&mut rows, figures);
            heads.push(side.to_owned());
        }
        groups.push(((*name).to_owned(), 2));
    }
    if refrigerant.is_pure() {
        groups.clear();
    }
    blocks.push(Block::Table(Table {
        groups,
        heads,
        rows,
        words: 1,
    }));
    blocks
}

/// Adds a column to rows that begin with their names.
fn add_column(rows: &mut Vec<Vec<String>>, column: impl Iterator<Item = (String, String)>) {
    let fresh = rows.is_empty();
    for (index, (name, text)) in column.enumerate() {
        if fresh {
            rows.push(vec![name, text]);
        } else if let Some(row) = rows.get_mut(index) {
            row.push(text);
        }
    }
}

fn point_json(point: Option<&SaturationPoint>) -> Value {
    point.map_or(Value::Null, |point| {
        json!({
            "temperature_K": optional(Some(point.temperature.in_kelvin())),
            "pressure_Pa": optional(Some(point.pressure.in_pascal())),
            "liquid": phase(&point.liquid),
            "vapor": phase(&point.vapor),
            "latent_heat_J_kg": optional(Some(point.latent_heat)),
        })
    })
}

fn json_of(
    refrigerant: &Refrigerant,
    saturation: &Saturation,
    facts: &Facts,
    all: &[Warning],
) -> Map<String, Value> {
    let mut object = identity(refrigerant);
    object.insert("bubble".into(), point_json(saturation.bubble.as_ref()));
    object.insert("dew".into(), point_json(saturation.dew.as_ref()));
    if saturation.retrograde.is_some() {
        let retrograde = point_json(saturation.retrograde.as_ref());
        object.insert("retrograde".into(), retrograde);
    }
    object.insert("glide_K".into(), optional(saturation.glide));
    object.insert("reference".into(), saturation.zero.name().into());
    object.insert("model".into(), model(facts));
    object.insert("warnings".into(), warnings(all));
    object
}

/// The figures of a row of the sheet, for one point.
type Figure = (&'static str, fn(&SaturationPoint) -> f64);

const FIGURES: [Figure; 9] = [
    ("temperature_K", |point| point.temperature.in_kelvin()),
    ("pressure_Pa", |point| point.pressure.in_pascal()),
    ("liquid_density_kg_m3", |point| point.liquid.density),
    ("vapor_density_kg_m3", |point| point.vapor.density),
    ("liquid_enthalpy_J_kg", |point| point.liquid.enthalpy),
    ("vapor_enthalpy_J_kg", |point| point.vapor.enthalpy),
    ("liquid_entropy_J_kg_K", |point| point.liquid.entropy),
    ("vapor_entropy_J_kg_K", |point| point.vapor.entropy),
    ("latent_heat_J_kg", |point| point.latent_heat),
];

fn heads(tolerance: bool) -> Vec<String> {
    let mut heads = vec!["refrigerant".to_owned()];
    heads.extend(figure_heads());
    if tolerance {
        heads.extend(Tolerance::heads());
    }
    heads
}

fn figure_heads() -> Vec<String> {
    let mut heads = Vec::new();
    for branch in ["bubble", "dew"] {
        heads.extend(FIGURES.iter().map(|(name, _)| format!("{branch}_{name}")));
    }
    heads.push("glide_K".to_owned());
    heads.push("reference".to_owned());
    heads
}

fn row(refrigerant: &Refrigerant, saturation: &Saturation) -> Vec<String> {
    std::iter::once(refrigerant.designation().to_owned())
        .chain(figures(saturation))
        .collect()
}

fn figures(saturation: &Saturation) -> Vec<String> {
    let mut cells = Vec::with_capacity(2 * FIGURES.len() + 2);
    for point in [&saturation.bubble, &saturation.dew] {
        cells.extend(
            FIGURES
                .iter()
                .map(|(_, figure)| number_cell(point.as_ref().map(figure))),
        );
    }
    cells.push(number_cell(saturation.glide));
    cells.push(saturation.zero.name().to_owned());
    cells
}
