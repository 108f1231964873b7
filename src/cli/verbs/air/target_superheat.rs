//! `target-superheat`: an estimate from the field formula, or the plate's own chart.

use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::cli::args::meant;
use crate::cli::args::{OutputArgs, SiteArgs, UnitArgs};
use crate::cli::errors::Failure;
use crate::cli::figures::Figures;
use crate::cli::io::csv_in;
use crate::cli::page;
use crate::cli::transition::{CHARGING, NO_VERDICT};
use crate::cli::verbs::air::moist_air::{MoistureArgs, humidity, temperature};
use crate::cli::verbs::readings::instruments;
use crate::output::{number, optional, warnings};
use crate::page::{Block, Document};
use crate::refrigerant::Warning;
use crate::service::air::moist_air::MoistAir;
use crate::service::air::target_superheat::{
    CONDITIONS, OUTDOOR_LEAST, PlateChart, RETURN_LEAST, Target, estimate,
};
use crate::service::measurement::kit::parse_clamp;
use crate::units::{
    Atmosphere, Temperature, TemperatureDifference, TemperatureUnit, UnitSet, fixed,
};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope target-superheat --indoor-wet-bulb 64F --outdoor-dry-bulb 96F\n  \
                  zeotrope target-superheat --indoor-dry-bulb 75F --indoor-relative-humidity 50% \\\n      \
                  --outdoor-dry-bulb 90F --thermometer-accuracy 1F --elevation 5280ft\n\n\
                  A chart's CSV: first cell outdoor_dry_bulb_F or outdoor_dry_bulb_C, behind it \
                  the indoor wet bulbs; a row for each outdoor dry bulb, with target superheats; \
                  an empty cell forbids charging there."
)]
pub(crate) struct TargetSuperheatArgs {
    /// Wet bulb of the return air, for example 64F
    #[arg(long, value_name = "TEMPERATURE")]
    indoor_wet_bulb: Option<String>,
    /// Dry bulb of the return air; with one of the next two it gives the wet bulb at the site
    #[arg(long, value_name = "TEMPERATURE")]
    indoor_dry_bulb: Option<String>,
    /// Relative humidity of the return air, for example 50%
    #[arg(long, value_name = "PERCENT")]
    indoor_relative_humidity: Option<String>,
    /// Dew point of the return air
    #[arg(long, value_name = "TEMPERATURE")]
    indoor_dew_point: Option<String>,
    /// Dry bulb of the air at the condenser, for example 96F
    #[arg(long, value_name = "TEMPERATURE")]
    outdoor_dry_bulb: String,
    /// The chart on the machine, as CSV; it outranks the estimate
    #[arg(long, value_name = "FILE")]
    chart: Option<PathBuf>,
    /// Limit of error of both thermometers, for example 1F
    #[arg(long, value_name = "DIFFERENCE")]
    thermometer_accuracy: Option<String>,
    #[command(flatten)]
    units: UnitArgs,
    #[command(flatten)]
    site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

/// The indoor air as far as it is known.
struct Indoor {
    wet_bulb: Temperature,
    dry_bulb: Option<Temperature>,
    computed: bool,
}

pub(crate) fn answer(args: &TargetSuperheatArgs) -> Result<Document, Failure> {
    meant::check_output(&args.output)?;
    let (site, mut all) = meant::site(&args.site)?;
    let outdoor = temperature("--outdoor-dry-bulb", &args.outdoor_dry_bulb)?;
    let units = meant::units(&args.units, Some(outdoor.unit), None)?;
    let limit = meant::option(
        "--thermometer-accuracy",
        args.thermometer_accuracy.as_deref(),
        parse_clamp,
    )?
    .map(TemperatureDifference::kelvin);
    let indoor = indoor(args, &units, &site)?;
    let target = match &args.chart {
        Some(path) => {
            all.extend(unmet(&indoor, outdoor.value).map(|text| Warning {
                code: "condition_not_met",
                text,
            }));
            chart(path)?.target(indoor.wet_bulb, outdoor.value)?
        }
        None => {
            let found = estimate(indoor.wet_bulb, outdoor.value)?;
            if let Some(text) = unmet(&indoor, outdoor.value).next() {
                return Err(Failure::no_answer(text, "weigh the charge in"));
            }
            found
        }
    };
    Ok(page(
        args,
        &indoor,
        outdoor.value,
        &target,
        limit,
        (&units, &site, all),
    ))
}

fn indoor(
    args: &TargetSuperheatArgs,
    units: &UnitSet,
    site: &Atmosphere,
) -> Result<Indoor, Failure> {
    let dry_bulb = args
        .indoor_dry_bulb
        .as_deref()
        .map(|text| temperature("--indoor-dry-bulb", text))
        .transpose()?
        .map(|typed| typed.value);
    let moisture = MoistureArgs {
        wet_bulb: args.indoor_wet_bulb.clone(),
        relative_humidity: args.indoor_relative_humidity.clone(),
        dew_point: args.indoor_dew_point.clone(),
    };
    let humidity = humidity(&moisture, "indoor-")?;
    let computed = args.indoor_wet_bulb.is_none();
    let wet_bulb = match (&args.indoor_wet_bulb, dry_bulb) {
        // Where both bulbs are read, that they agree is checked as well.
        (_, Some(dry)) => {
            MoistAir::new(dry, humidity, site.pressure())
                .map_err(|error| Failure::in_units(error, units, site))?
                .wet_bulb
        }
        (Some(text), None) => temperature("--indoor-wet-bulb", text)?.value,
        (None, None) => {
            return Err(Failure::usage(
                "humidity or dew point alone do not give a wet bulb",
                "add --indoor-dry-bulb 75F",
            ));
        }
    };
    Ok(Indoor {
        wet_bulb,
        dry_bulb,
        computed,
    })
}

/// The conditions that the temperatures given are seen to miss.
fn unmet(indoor: &Indoor, outdoor: Temperature) -> impl Iterator<Item = String> {
    let cold_return = indoor
        .dry_bulb
        .filter(|dry| *dry < RETURN_LEAST)
        .map(|dry| {
            format!(
                "return air of {:.1} °F is colder than the 70 °F that the method needs",
                dry.in_fahrenheit()
            )
        });
    let cold_outdoors = (outdoor < OUTDOOR_LEAST).then(|| {
        format!(
            "outdoor air of {:.1} °F is colder than the 55 °F that the method needs",
            outdoor.in_fahrenheit()
        )
    });
    cold_return.into_iter().chain(cold_outdoors)
}

/// Reads the chart on a machine's plate.
fn chart(path: &Path) -> Result<PlateChart, Failure> {
    let rows = csv_in::rows(path)?;
    let wrong = |problem: String| {
        Failure::no_answer(
            format!("{}: {problem}", path.display()),
            "'zeotrope target-superheat --help' tells how a chart is written",
        )
    };
    let Some((heads, body)) = rows.split_first() else {
        return Err(wrong("holds no chart".into()));
    };
    let unit = match heads.first().map(String::as_str) {
        Some("outdoor_dry_bulb_F") => TemperatureUnit::Fahrenheit,
        Some("outdoor_dry_bulb_C") => TemperatureUnit::Celsius,
        other => {
            return Err(wrong(format!(
                "the first cell is '{}' and not outdoor_dry_bulb_F or outdoor_dry_bulb_C",
                other.unwrap_or_default()
            )));
        }
    };
    let difference = |value: f64| match unit {
        TemperatureUnit::Fahrenheit => TemperatureDifference::fahrenheit_degrees(value),
        _ => TemperatureDifference::kelvin(value),
    };
    let mut wet_bulb = Vec::new();
    for (column, text) in heads.iter().enumerate().skip(1) {
        wet_bulb.push(unit.write(csv_in::number(path, text, 1, column + 1)?));
    }
    let (mut outdoor, mut cells) = (Vec::new(), Vec::new());
    for (row, texts) in body.iter().enumerate() {
        let mut line = Vec::new();
        for (column, text) in texts.iter().enumerate() {
            let value = || csv_in::number(path, text, row + 2, column + 1);
            match (column, text.is_empty()) {
                (0, _) => outdoor.push(unit.write(value()?)),
                (_, true) => line.push(None),
                (_, false) => line.push(Some(difference(value()?))),
            }
        }
        cells.push(line);
    }
    PlateChart::new(outdoor, wet_bulb, cells).map_err(|error| match error {
        crate::Error::NoAnswer { reason, hint } => {
            Failure::no_answer(format!("{}: {reason}", path.display()), hint)
        }
        other => other.into(),
    })
}

fn page(
    args: &TargetSuperheatArgs,
    indoor: &Indoor,
    outdoor: Temperature,
    target: &Target,
    limit: Option<TemperatureDifference>,
    (units, site, all): (&UnitSet, &Atmosphere, Vec<Warning>),
) -> Document {
    let degrees = |difference: TemperatureDifference| {
        format!(
            "{} {}",
            fixed(units.temperature.read_difference(difference), 1),
            units.temperature.difference_symbol()
        )
    };
    let by_chart = args.chart.is_some();
    let mut list = Figures::default();
    list.add(
        "",
        "",
        "method",
        if by_chart { "chart" } else { "estimate" },
    );
    list.number(
        if indoor.computed {
            "indoor wet bulb, computed"
        } else {
            "indoor wet bulb"
        },
        page::temperature(indoor.wet_bulb, units),
        "indoor_wet_bulb_K",
        indoor.wet_bulb.in_kelvin(),
    );
    list.number(
        "outdoor dry bulb",
        page::temperature(outdoor, units),
        "outdoor_dry_bulb_K",
        outdoor.in_kelvin(),
    );
    list.number(
        if by_chart {
            "target superheat, from the chart"
        } else {
            "target superheat, an estimate"
        },
        degrees(target.superheat),
        "target_superheat_K",
        target.superheat.in_kelvin(),
    );
    list.number(
        "for one degree more wet bulb",
        format!("{:+.2} degrees", target.per_wet_bulb),
        "per_wet_bulb_K_K",
        target.per_wet_bulb,
    );
    list.number(
        "for one degree more outdoors",
        format!("{:+.2} degrees", target.per_outdoor),
        "per_outdoor_dry_bulb_K_K",
        target.per_outdoor,
    );
    let spread = limit.map(|limit| target.spread(limit));
    list.add(
        if spread.is_some() {
            "from the thermometers"
        } else {
            ""
        },
        spread.map_or_else(String::new, |(usual, worst)| {
            format!(
                "± {} (root of the sum of squares), ± {} worst case",
                degrees(usual),
                degrees(worst)
            )
        }),
        "root_sum_square_K",
        optional(spread.map(|(usual, _)| usual.in_kelvin())),
    );
    list.add(
        "",
        "",
        "worst_case_K",
        optional(spread.map(|(_, worst)| worst.in_kelvin())),
    );
    let source = if by_chart {
        "the chart given, linear between its cells and never beyond them"
    } else {
        "(3 WB - 80 - DB)/2 in °F, common practice, no source"
    };
    let mut notes: Vec<String> = all
        .iter()
        .map(|warning| format!("warning: {} ({})", warning.text, warning.code))
        .collect();
    notes.push(format!("For a fixed orifice. From {source}."));
    if !by_chart {
        notes.push(
            "An estimate: printed charts differ from it by -7.5 to +3 °F (-4.2 to +1.7 K). The \
             chart on the machine outranks it (--chart FILE)."
                .into(),
        );
    }
    if indoor.computed && limit.is_some() {
        notes.push("The hygrometer's error comes on top of the thermometers'.".into());
    }
    if indoor.dry_bulb.is_some() {
        notes.push(format!("Indoor air at {}.", site.in_words()));
    }
    let mut cautions: Vec<String> = CHARGING.map(str::to_owned).to_vec();
    cautions.push(NO_VERDICT.to_owned());
    let mut object = list.object();
    object.insert("atmosphere_Pa".into(), number(site.pressure().in_pascal()));
    object.insert("source".into(), source.into());
    object.insert("conditions".into(), CONDITIONS.to_vec().into());
    object.insert("warnings".into(), warnings(&all));
    object.insert("cautions".into(), cautions.clone().into());
    let first = format!(
        "First (common practice): {}. Where one fails, weigh the charge in.",
        CONDITIONS.join("; ")
    );
    Document {
        blocks: vec![
            Block::Title("Target superheat".into()),
            Block::Lines(vec![first]),
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
