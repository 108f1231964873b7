//! `glide`: bubble, dew and glide at a pressure, and what they make of a coil.

use serde_json::{Map, Value, json};

use crate::cli::args::meant;
use crate::cli::args::{BasisArgs, CoilArg, OutputArgs, SiteArgs, TeachingArgs, UnitArgs, ZeroArg};
use crate::cli::errors::Failure;
use crate::cli::page;
use crate::cli::verbs::charts::idle;
use crate::cli::verbs::properties::ideal::{At, Ideal};
use crate::cli::verbs::properties::working::Hand;
use crate::output::{identity, model, number, number_cell, optional, warnings};
use crate::page::{Block, Document, Sheet, Table};
use crate::process::coil::{Coil, CoilKind, CoilMeans, Liquid};
use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;
use crate::units::{Atmosphere, BareUnit, UnitSet, fixed, parse_pressure, parse_temperature};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope glide R-455A --pressure 64.7psig --liquid 100F\n  \
                  zeotrope glide R-407C --pressure 16barg --coil condenser\n  \
                  zeotrope glide R-454C --pressure 4.1barg --liquid 38C --explain\n  \
                  zeotrope glide R-744 --pressure 30barg --liquid 35C --liquid-pressure 90barg"
)]
pub(crate) struct GlideArgs {
    /// Designation, chemical name or composition
    #[arg(value_name = "REFRIGERANT")]
    pub(crate) refrigerant: String,
    /// Pressure of the coil, for example 64.7psig or 4.5barg
    #[arg(long, value_name = "PRESSURE")]
    pub(crate) pressure: String,
    /// Temperature of the liquid before the expansion device, for example 100F
    #[arg(long, value_name = "TEMPERATURE")]
    pub(crate) liquid: Option<String>,
    /// Pressure of that liquid; without it its bubble pressure
    #[arg(long, value_name = "PRESSURE", requires = "liquid")]
    pub(crate) liquid_pressure: Option<String>,
    /// Which coil has that pressure; with --liquid an evaporator, else both are shown
    #[arg(long, value_name = "COIL")]
    pub(crate) coil: Option<CoilArg>,
    /// Zero of enthalpy; without it iir, else the first that there is
    #[arg(long, value_name = "ZERO")]
    pub(crate) zero: Option<ZeroArg>,
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

pub(crate) fn answer(args: &GlideArgs) -> Result<Document, Failure> {
    meant::check_output(&args.output)?;
    idle::check_teaching(&args.teaching, &args.output)?;
    let (site, site_warnings) = meant::site(&args.site)?;
    let typed = parse_pressure(&args.pressure, BareUnit::Refused, &site)
        .map_err(|error| Failure::from(error).of_option("--pressure"))?;
    let (liquid, temperature_unit) = liquid(args, &site)?;
    let kinds = kinds(args.coil, liquid.is_some())?;
    let units = meant::units(&args.units, temperature_unit, Some(typed.unit))?;
    let catalogue = meant::catalogue(&args.basis.data)?;
    let refrigerant = meant::refrigerant(&catalogue, &args.refrigerant, &args.basis)?;
    let zero = meant::zero(args.zero);
    let coils = kinds
        .iter()
        .map(|kind| match kind {
            CoilKind::Evaporator => Coil::evaporator(&refrigerant, typed.value, liquid, zero),
            CoilKind::Condenser => Coil::condenser(&refrigerant, typed.value, zero),
        })
        .collect::<Result<Vec<Coil>, _>>()
        .map_err(|error| Failure::in_units(error, &units, &site))?;
    let Some(first) = coils.first() else {
        return Ok(Document::default());
    };

    let facts = Facts::of(&refrigerant);
    let ideal = args
        .teaching
        .model
        .map(|_| Ideal::at(&refrigerant, At::Pressure(typed.value)));
    let mut notes = first.warnings.clone();
    if let Some(ideal) = &ideal {
        notes.extend(ideal.warnings(&units, &site));
    }
    let all = page::all_warnings(&refrigerant, &notes, &site_warnings);
    let hand = Hand {
        units: &units,
        site: &site,
    };

    let mut blocks = ends(&refrigerant, first, &units, &site);
    let mut working: Vec<Vec<String>> = Vec::new();
    for coil in &coils {
        blocks.extend(of_coil(&refrigerant, coil, &units, &site));
        if args.teaching.explain {
            let lines: Vec<String> = hand
                .absolute(typed.value, typed.unit)
                .into_iter()
                .chain(hand.coil(coil))
                .collect();
            blocks.push(Block::Title(format!("Working, {}", name(coil.kind))));
            blocks.push(Block::Lines(lines.clone()));
            working.push(lines);
        }
        blocks.extend(along(&refrigerant, coil, &units));
    }
    if let Some(ideal) = &ideal {
        let real = [&first.bubble, &first.dew].map(|at| Some((at.temperature, at.pressure)));
        blocks.extend(ideal.blocks(&refrigerant, real, &units, &site));
        let lines = ideal.working(&refrigerant, &units);
        if args.teaching.explain && !lines.is_empty() {
            blocks.push(Block::Lines(lines));
        }
    }
    blocks.extend(page::foot(
        &refrigerant,
        &facts,
        Some(first.zero),
        &all,
        &site,
    ));

    let mut object = identity(&refrigerant);
    let (bubble, dew) = (first.bubble.temperature, first.dew.temperature);
    object.insert("pressure_Pa".into(), number(first.pressure.in_pascal()));
    object.insert("bubble_temperature_K".into(), number(bubble.in_kelvin()));
    object.insert("dew_temperature_K".into(), number(dew.in_kelvin()));
    object.insert("glide_K".into(), number(first.glide.in_kelvin()));
    for kind in [CoilKind::Evaporator, CoilKind::Condenser] {
        let place = coils.iter().position(|coil| coil.kind == kind);
        let value = place.map_or(Value::Null, |place| {
            let mut value = json_of(&coils[place]);
            if let Some(lines) = working.get(place) {
                value.insert("working".into(), lines.as_slice().into());
            }
            Value::Object(value)
        });
        object.insert(name(kind).into(), value);
    }
    if let Some(ideal) = &ideal {
        object.insert("ideal".into(), ideal.json());
    }
    let air = site.pressure().in_pascal();
    object.insert("atmosphere_Pa".into(), number(air));
    object.insert("reference".into(), first.zero.name().into());
    object.insert("model".into(), model(&facts));
    object.insert("warnings".into(), warnings(&all));
    Ok(Document {
        blocks,
        sheet: sheet(&refrigerant, &coils),
        json: Value::Object(object),
        warnings: all,
        ..Document::default()
    })
}

/// The liquid before the expansion device as typed, with the unit of its temperature.
fn liquid(
    args: &GlideArgs,
    site: &Atmosphere,
) -> Result<(Option<Liquid>, Option<crate::units::TemperatureUnit>), Failure> {
    let Some(text) = &args.liquid else {
        return Ok((None, None));
    };
    let temperature =
        parse_temperature(text).map_err(|error| Failure::from(error).of_option("--liquid"))?;
    let pressure = args
        .liquid_pressure
        .as_deref()
        .map(|text| parse_pressure(text, BareUnit::Refused, site))
        .transpose()
        .map_err(|error| Failure::from(error).of_option("--liquid-pressure"))?;
    let liquid = Liquid {
        temperature: temperature.value,
        pressure: pressure.map(|typed| typed.value),
    };
    Ok((Some(liquid), Some(temperature.unit)))
}

/// A liquid before an expansion device belongs to an evaporator; without it both are shown.
fn kinds(asked: Option<CoilArg>, has_liquid: bool) -> Result<Vec<CoilKind>, Failure> {
    match (asked, has_liquid) {
        (Some(CoilArg::Condenser), true) => Err(Failure::usage(
            "--liquid is what enters an evaporator; a condenser runs from dew to bubble",
            "leave --liquid out, or ask for --coil evaporator at the evaporator's pressure",
        )),
        (Some(CoilArg::Condenser), false) => Ok(vec![CoilKind::Condenser]),
        (Some(CoilArg::Evaporator), _) | (None, true) => Ok(vec![CoilKind::Evaporator]),
        (None, false) => Ok(vec![CoilKind::Evaporator, CoilKind::Condenser]),
    }
}

const fn name(kind: CoilKind) -> &'static str {
    match kind {
        CoilKind::Evaporator => "evaporator",
        CoilKind::Condenser => "condenser",
    }
}

/// Bubble, dew and glide.
fn ends(refrigerant: &Refrigerant, coil: &Coil, units: &UnitSet, site: &Atmosphere) -> Vec<Block> {
    let title = format!(
        "{}, glide at {}",
        refrigerant.designation(),
        page::pressure(coil.pressure, units.pressure, site)
    );
    let (bubble, dew) = (coil.bubble.temperature, coil.dew.temperature);
    let glide = units.temperature.read_difference(coil.glide);
    let mut pairs: Vec<(String, String)> = page::place((dew, coil.pressure), units, site)
        .into_iter()
        .skip(1)
        .map(|(name, text)| (name.to_owned(), text))
        .collect();
    pairs.push(("bubble".into(), page::temperature(bubble, units)));
    pairs.push(("dew".into(), page::temperature(dew, units)));
    pairs.push((
        "glide, dew less bubble".into(),
        format!(
            "{} {}",
            fixed(glide, 2),
            units.temperature.difference_symbol()
        ),
    ));
    let mut blocks = vec![Block::Title(title), Block::Pairs(pairs)];
    if refrigerant.is_pure() {
        blocks.push(Block::Lines(vec![
            "A pure refrigerant has no glide: bubble and dew are one temperature, and every mean \
             is that temperature."
                .into(),
        ]));
    }
    blocks
}

/// What enters, and what the coil's temperature may mean.
fn of_coil(
    refrigerant: &Refrigerant,
    coil: &Coil,
    units: &UnitSet,
    site: &Atmosphere,
) -> Vec<Block> {
    let mut pairs: Vec<(String, String)> = Vec::new();
    let mut add = |name: &str, text: String| pairs.push((name.to_owned(), text));
    if let Some(inlet) = &coil.inlet {
        let taken = if inlet.pressure_given {
            ""
        } else {
            " (bubble pressure, taken)"
        };
        add(
            "liquid before the device",
            format!(
                "{}, {}{taken}",
                page::temperature(inlet.liquid_temperature, units),
                page::pressure(inlet.liquid_pressure, units.pressure, site)
            ),
        );
        add("inlet", page::temperature(inlet.temperature, units));
        add(
            "inlet quality",
            format!("{} by mass", fixed(inlet.quality, 4)),
        );
        let effective = units.temperature.read_difference(inlet.effective_glide);
        add(
            "effective glide, dew less inlet",
            format!(
                "{} {}",
                fixed(effective, 2),
                units.temperature.difference_symbol()
            ),
        );
    }
    for (_, words, mean) in means(&coil.means) {
        if let Some(mean) = mean {
            add(words, page::temperature(mean, units));
        }
    }
    let heading = match (coil.kind, &coil.inlet) {
        (CoilKind::Evaporator, Some(_)) => "evaporator, from its inlet to dew",
        (CoilKind::Evaporator, None) => {
            "evaporator, from bubble to dew (--liquid tells where it enters)"
        }
        (CoilKind::Condenser, _) => "condenser, from dew to bubble",
    };
    let mut blocks = vec![
        Block::Title(format!("{}, {heading}", refrigerant.designation())),
        Block::Pairs(pairs),
    ];
    let mut lines = vec!["One pressure is taken for the whole coil.".to_owned()];
    if !refrigerant.is_pure() {
        lines.push(
            "\"Mid-point\" is used for each of these means: say which one is meant. 40 to 60 is a \
             rule taught for evaporators, half and half for condensers (common practice, no \
             source)."
                .to_owned(),
        );
    }
    blocks.push(Block::Lines(lines));
    blocks
}

/// JSON key, words and value of each mean.
fn means(
    means: &CoilMeans,
) -> [(
    &'static str,
    &'static str,
    Option<crate::units::Temperature>,
); 4] {
    [
        (
            "bubble_and_dew_K",
            "(bubble + dew)/2",
            Some(means.bubble_and_dew),
        ),
        ("inlet_and_dew_K", "(inlet + dew)/2", means.inlet_and_dew),
        ("by_enthalpy_K", "mean by enthalpy", Some(means.by_enthalpy)),
        (
            "bubble_40_dew_60_K",
            "40 % bubble + 60 % dew",
            means.forty_sixty,
        ),
    ]
}

/// Temperature and contents at equal steps of enthalpy.
fn along(refrigerant: &Refrigerant, coil: &Coil, units: &UnitSet) -> Vec<Block> {
    let components = refrigerant.components();
    let blend = !refrigerant.is_pure();
    let names = || components.iter().map(|one| one.designation.clone());
    let mut groups = vec![(String::new(), 3)];
    let mut heads = vec![
        "% of heat".to_owned(),
        units.temperature.symbol().to_owned(),
        "quality".to_owned(),
    ];
    if blend {
        for phase in ["liquid, % by mass", "vapour, % by mass"] {
            groups.push((phase.to_owned(), components.len()));
            heads.extend(names());
        }
    } else {
        groups.clear();
    }
    let rows = coil
        .stations
        .iter()
        .map(|station| {
            let mut row = vec![
                fixed(100.0 * station.position, 0),
                fixed(units.temperature.read(station.temperature), 2),
                fixed(station.quality, 4),
            ];
            if blend {
                for phase in [&station.liquid, &station.vapor] {
                    row.extend(phase.mass_fractions.iter().map(|w| fixed(100.0 * w, 2)));
                }
            }
            row
        })
        .collect();
    vec![Block::Table(Table {
        groups,
        heads,
        rows,
        words: 0,
    })]
}

fn json_of(coil: &Coil) -> Map<String, Value> {
    let mut object = Map::new();
    if coil.kind == CoilKind::Evaporator {
        let inlet = coil.inlet.as_ref();
        let mut add = |key: &str, value: Option<f64>| object.insert(key.into(), optional(value));
        add(
            "liquid_temperature_K",
            inlet.map(|inlet| inlet.liquid_temperature.in_kelvin()),
        );
        add(
            "liquid_pressure_Pa",
            inlet.map(|inlet| inlet.liquid_pressure.in_pascal()),
        );
        add(
            "inlet_temperature_K",
            inlet.map(|inlet| inlet.temperature.in_kelvin()),
        );
        add("inlet_quality", inlet.map(|inlet| inlet.quality));
        add(
            "effective_glide_K",
            inlet.map(|inlet| inlet.effective_glide.in_kelvin()),
        );
        object.insert(
            "liquid_pressure_given".into(),
            inlet.map(|inlet| inlet.pressure_given).into(),
        );
    }
    let means: Map<String, Value> = means(&coil.means)
        .into_iter()
        .map(|(key, _, mean)| (key.to_owned(), optional(mean.map(|mean| mean.in_kelvin()))))
        .collect();
    object.insert("means".into(), Value::Object(means));
    let list = |values: &[f64]| -> Value { values.iter().copied().map(number).collect() };
    let along: Vec<Value> = coil
        .stations
        .iter()
        .map(|station| {
            json!({
                "position": number(station.position),
                "temperature_K": number(station.temperature.in_kelvin()),
                "enthalpy_J_kg": number(station.enthalpy),
                "quality": number(station.quality),
                "liquid_mass_fractions": list(&station.liquid.mass_fractions),
                "liquid_mole_fractions": list(&station.liquid.mole_fractions),
                "vapor_mass_fractions": list(&station.vapor.mass_fractions),
                "vapor_mole_fractions": list(&station.vapor.mole_fractions),
            })
        })
        .collect();
    object.insert("along".into(), Value::Array(along));
    object
}

/// A row a place along the coil; what holds for the whole coil is repeated in each.
fn sheet(refrigerant: &Refrigerant, coils: &[Coil]) -> Sheet {
    let mut heads: Vec<String> = [
        "refrigerant",
        "coil",
        "pressure_Pa",
        "bubble_temperature_K",
        "dew_temperature_K",
        "glide_K",
        "liquid_temperature_K",
        "liquid_pressure_Pa",
        "inlet_temperature_K",
        "inlet_quality",
        "effective_glide_K",
    ]
    .map(str::to_owned)
    .to_vec();
    if let Some(coil) = coils.first() {
        heads.extend(means(&coil.means).map(|(key, _, _)| format!("mean_{key}")));
    }
    heads.extend(["position", "temperature_K", "enthalpy_J_kg", "quality"].map(str::to_owned));
    for phase in ["liquid", "vapor"] {
        let names = refrigerant.components().iter();
        heads.extend(names.map(|one| format!("{phase}_mass_fraction_{}", one.designation)));
    }
    let mut rows = Vec::new();
    for coil in coils {
        let inlet = coil.inlet.as_ref();
        let mut whole = vec![
            refrigerant.designation().to_owned(),
            name(coil.kind).to_owned(),
        ];
        let figures = [
            Some(coil.pressure.in_pascal()),
            Some(coil.bubble.temperature.in_kelvin()),
            Some(coil.dew.temperature.in_kelvin()),
            Some(coil.glide.in_kelvin()),
            inlet.map(|inlet| inlet.liquid_temperature.in_kelvin()),
            inlet.map(|inlet| inlet.liquid_pressure.in_pascal()),
            inlet.map(|inlet| inlet.temperature.in_kelvin()),
            inlet.map(|inlet| inlet.quality),
            inlet.map(|inlet| inlet.effective_glide.in_kelvin()),
        ];
        whole.extend(figures.map(number_cell));
        whole.extend(
            means(&coil.means).map(|(_, _, mean)| number_cell(mean.map(|mean| mean.in_kelvin()))),
        );
        for station in &coil.stations {
            let mut row = whole.clone();
            let figures = [
                station.position,
                station.temperature.in_kelvin(),
                station.enthalpy,
                station.quality,
            ];
            row.extend(figures.map(|value| number_cell(Some(value))));
            for phase in [&station.liquid, &station.vapor] {
                let shares = phase.mass_fractions.iter();
                row.extend(shares.map(|share| number_cell(Some(*share))));
            }
            rows.push(row);
        }
    }
    Sheet { heads, rows }
}
