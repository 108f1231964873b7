//! `exposure`: flammability, concentration and warming figures in other units; no verdict.

use serde_json::{Value, json};

use crate::cli::args::meant;
use crate::cli::args::{BasisArgs, OutputArgs};
use crate::cli::errors::Failure;
use crate::cli::page;
use crate::output::{identity, number, number_cell, optional, warnings};
use crate::page::{Block, Document, Sheet, Table};
use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;
use crate::cli::transition::cautions;
use crate::service::hazard::exposure::{Concentration, Warming, potentials};
use crate::units::{InAir, parse_concentration, parse_mass, short, significant};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope exposure R-32\n  zeotrope exposure R-410A --mass 12lb\n  \
                  zeotrope exposure R-454B --rcl 19000ppm --source \"data sheet of the maker, 2024\""
)]
pub(crate) struct ExposureArgs {
    /// Designation, chemical name or composition
    #[arg(value_name = "REFRIGERANT")]
    refrigerant: String,
    /// Lower flammability limit that you have: 14.4%, 0.307kg/m3, 19lb/1000ft3
    #[arg(long, value_name = "CONCENTRATION", requires = "source")]
    lfl: Option<String>,
    /// Refrigerant concentration limit that you have: 36000ppm, 77g/m3, 4.8lb/1000ft3 or lb/Mcf
    #[arg(long, value_name = "CONCENTRATION", requires = "source")]
    rcl: Option<String>,
    /// Global warming potential that you have, a bare number
    #[arg(long, value_name = "NUMBER", requires = "source")]
    gwp: Option<String>,
    /// Where your figures come from, with the edition
    #[arg(long, value_name = "TEXT")]
    source: Option<String>,
    /// Mass of refrigerant, for its carbon dioxide equivalent, for example 10kg
    #[arg(long, value_name = "MASS")]
    mass: Option<String>,
    #[command(flatten)]
    basis: BasisArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

/// A concentration with its name and where it comes from.
struct Limit {
    name: &'static str,
    key: &'static str,
    value: Concentration,
    source: String,
}

pub(crate) fn answer(args: &ExposureArgs) -> Result<Document, Failure> {
    meant::check_output(&args.output)?;
    let catalogue = meant::catalogue(&args.basis.data)?;
    let refrigerant = meant::refrigerant(&catalogue, &args.refrigerant, &args.basis)?;
    let mass = args
        .mass
        .as_deref()
        .map(parse_mass)
        .transpose()
        .map_err(|error| Failure::from(error).of_option("--mass"))?;
    if args
        .source
        .as_ref()
        .is_some_and(|text| text.trim().is_empty())
    {
        return Err(Failure::usage(
            "--source: names nothing",
            "name the paper, standard or data sheet and its edition",
        ));
    }
    let limits = limits(args, &refrigerant)?;
    let warming = warming(args, &refrigerant)?;
    if limits.is_empty() && warming.is_empty() {
        return Err(Failure::no_answer(
            format!(
                "no flammability limit and no warming potential of {} is on record here",
                refrigerant.designation()
            ),
            "give your own: --lfl, --rcl or --gwp with --source",
        ));
    }
    let facts = Facts::of(&refrigerant);
    let all = page::all_warnings(&refrigerant, &[], &[]);
    let molar_mass = refrigerant.molar_mass();
    let mut blocks = vec![Block::Title(format!(
        "{}, figures in other units",
        refrigerant.designation()
    ))];
    if !limits.is_empty() {
        blocks.push(Block::Table(limits_table(&limits, molar_mass)));
    }
    if !warming.is_empty() {
        blocks.push(Block::Table(warming_table(&warming, mass)));
    }
    let mut lines: Vec<String> = all
        .iter()
        .map(|warning| format!("warning: {} ({})", warning.text, warning.code))
        .collect();
    lines.extend(
        limits
            .iter()
            .map(|one| format!("{}: {}.", one.name, one.source)),
    );
    lines.push(
        "Shares by volume count as an ideal gas at 25 °C and 101.325 kPa. A concentration limit \
         is not shown where none is given: none is on record here."
            .into(),
    );
    if warming.iter().any(|one| one.summed) {
        lines.push("The blend's potential is the sum of its components' by mass.".into());
    }
    lines.push(format!("Class: {}.", facts.class_text()));
    let verdict = "Nothing here says whether a room, a charge or a leak is permitted or safe.";
    let mut words = cautions(&[(&refrigerant, &facts)]);
    words.insert(0, verdict.to_owned());
    blocks.push(Block::Lines(lines));
    blocks.push(Block::Lines(words.clone()));
    let mut object = identity(&refrigerant);
    object.insert(
        "limits".into(),
        limits
            .iter()
            .map(|one| {
                json!({
                    "figure": one.key,
                    "concentration_kg_m3": number(one.value.in_kg_m3()),
                    "volume_fraction": number(one.value.by_volume(molar_mass)),
                    "source": one.source,
                })
            })
            .collect(),
    );
    object.insert(
        "gwp".into(),
        warming
            .iter()
            .map(|one| {
                json!({
                    "value": number(one.value),
                    "horizon_years": one.horizon_years,
                    "below": one.below,
                    "summed": one.summed,
                    "source": one.source,
                    "carbon_dioxide_kg": optional(mass.map(|mass| one.carbon_dioxide(mass))),
                })
            })
            .collect(),
    );
    object.insert("mass_kg".into(), optional(mass));
    object.insert(
        "safety_class".into(),
        facts
            .safety_class
            .as_ref()
            .map(|class| class.value.clone())
            .into(),
    );
    object.insert("warnings".into(), warnings(&all));
    object.insert("cautions".into(), json!(words));
    Ok(Document {
        blocks,
        sheet: sheet(&limits, &warming, molar_mass, mass),
        json: Value::Object(object),
        warnings: all,
        ..Document::default()
    })
}

fn limits(args: &ExposureArgs, refrigerant: &Refrigerant) -> Result<Vec<Limit>, Failure> {
    let given =
        |name, key, option: &str, text: &Option<String>| -> Result<Option<Limit>, Failure> {
            let Some(text) = text else { return Ok(None) };
            let typed = parse_concentration(text)
                .map_err(|error| Failure::from(error).of_option(option))?;
            let value = match typed {
                InAir::Mass(kg_m3) => Concentration::by_mass(kg_m3),
                InAir::Volume(share) => Concentration::of_volume(share, refrigerant.molar_mass()),
            };
            Ok(Some(Limit {
                name,
                key,
                value,
                source: format!("{}, as given", args.source.as_deref().unwrap_or_default()),
            }))
        };
    let held = match refrigerant.records().as_slice() {
        [record] => record.lfl_kg_m3.as_ref().map(|fact| Limit {
            name: "lower flammability limit",
            key: "lfl",
            value: Concentration::by_mass(fact.value),
            source: format!("{}, on record here", fact.source),
        }),
        _ => None,
    };
    let lfl = given("lower flammability limit", "lfl", "--lfl", &args.lfl)?;
    let rcl = given("concentration limit (RCL)", "rcl", "--rcl", &args.rcl)?;
    Ok(held.into_iter().chain(lfl).chain(rcl).collect())
}

fn warming(args: &ExposureArgs, refrigerant: &Refrigerant) -> Result<Vec<Warming>, Failure> {
    let mut found = potentials(refrigerant);
    if let Some(text) = &args.gwp {
        let what = "the potential relative to carbon dioxide";
        let value = meant::bare_number("--gwp", text, what)?;
        found.push(Warming {
            source: format!("{}, as given", args.source.as_deref().unwrap_or_default()),
            horizon_years: None,
            value,
            below: false,
            summed: false,
        });
    }
    Ok(found)
}

fn limits_table(limits: &[Limit], molar_mass: f64) -> Table {
    Table {
        groups: Vec::new(),
        heads: [
            "",
            "kg/m3",
            "g/m3",
            "lb/1000 ft3",
            "ft3/lb",
            "% by volume",
            "ppm by volume",
        ]
        .map(str::to_owned)
        .to_vec(),
        rows: limits
            .iter()
            .map(|one| {
                let share = one.value.by_volume(molar_mass);
                let mut row = vec![one.name.to_owned()];
                row.extend(
                    [
                        one.value.in_kg_m3(),
                        one.value.in_kg_m3() * 1e3,
                        one.value.in_lb_1000ft3(),
                        1e3 / one.value.in_lb_1000ft3(),
                        share * 1e2,
                        share * 1e6,
                    ]
                    .map(three_digits),
                );
                row
            })
            .collect(),
        words: 1,
    }
}

/// Three significant digits, zeros after them.
fn three_digits(figure: f64) -> String {
    let rounded = format!("{figure:.2e}").parse().unwrap_or(figure);
    significant(rounded, 3)
}

fn warming_table(warming: &[Warming], mass: Option<f64>) -> Table {
    let mut heads = vec!["GWP", "horizon", "source"];
    if mass.is_some() {
        heads.extend(["kg of CO2", "t of CO2"]);
    }
    Table {
        groups: Vec::new(),
        heads: heads.into_iter().map(str::to_owned).collect(),
        rows: warming
            .iter()
            .map(|one| {
                let sign = if one.below { "below " } else { "" };
                let mut row = vec![
                    format!("{sign}{}", short(one.value, 4)),
                    one.horizon_years
                        .map_or_else(|| "not given".to_owned(), |years| format!("{years} years")),
                    one.source.clone(),
                ];
                row.extend(mass.into_iter().flat_map(|mass| {
                    let kg = one.carbon_dioxide(mass);
                    [kg, kg / 1e3].map(|figure| format!("{sign}{}", short(figure, 4)))
                }));
                row
            })
            .collect(),
        words: 3,
    }
}

fn sheet(limits: &[Limit], warming: &[Warming], molar_mass: f64, mass: Option<f64>) -> Sheet {
    let mut rows: Vec<Vec<String>> = limits
        .iter()
        .map(|one| {
            vec![
                one.key.to_owned(),
                number_cell(Some(one.value.in_kg_m3())),
                number_cell(Some(one.value.by_volume(molar_mass))),
                String::new(),
                String::new(),
                one.source.clone(),
            ]
        })
        .collect();
    rows.extend(warming.iter().map(|one| {
        vec![
            "gwp".to_owned(),
            String::new(),
            String::new(),
            number_cell(Some(one.value)),
            number_cell(mass.map(|mass| one.carbon_dioxide(mass))),
            one.source.clone(),
        ]
    }));
    Sheet {
        heads: [
            "figure",
            "concentration_kg_m3",
            "volume_fraction",
            "gwp",
            "carbon_dioxide_kg",
            "source",
        ]
        .map(str::to_owned)
        .to_vec(),
        rows,
    }
}
