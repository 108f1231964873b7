//! `cylinder`: three figures for a filling, and what warmth does to one.

use crate::cli::args::meant;
use crate::cli::args::{BasisArgs, OutputArgs, SiteArgs, System, UnitArgs};
use crate::cli::errors::{Failure, OrFailure};
use crate::page::{self, Document, parts};
use crate::service::facts::Facts;
use crate::service::vessel::cylinder::{Cylinder, CylinderQuestion, WATER_KG_M3, rules, smallest};
use crate::units::{parse_mass, parse_volume};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope cylinder R-22 --water-capacity 47.7lb\n  \
                  zeotrope cylinder R-134a --water-capacity 27.2L --contents 20kg\n  \
                  zeotrope cylinder R-744 --water-capacity 10L --filling-ratio 0.66\n  \
                  zeotrope cylinder R-404A --water-capacity 20L --format svg"
)]
pub(crate) struct CylinderArgs {
    /// Designation, chemical name or composition
    #[arg(value_name = "REFRIGERANT")]
    refrigerant: String,
    /// Water capacity on the cylinder's collar, for example 47.7lb, 21.6kg or 21.6L
    #[arg(long, value_name = "CAPACITY")]
    water_capacity: Option<String>,
    /// Mass in the cylinder, to see what warmth does to it; without it the smallest figure
    #[arg(long, value_name = "MASS")]
    contents: Option<String>,
    /// Filling ratio of the law that applies, kg per litre of water capacity, for example 0.94
    #[arg(long, value_name = "RATIO")]
    filling_ratio: Option<String>,
    #[command(flatten)]
    basis: BasisArgs,
    #[command(flatten)]
    units: UnitArgs,
    #[command(flatten)]
    site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

pub(crate) fn answer(args: &CylinderArgs) -> Result<Document, Failure> {
    let (site, site_warnings) = meant::site(&args.site)?;
    let (volume, in_pounds) = capacity(args)?;
    let contents = meant::option("--contents", args.contents.as_deref(), parse_mass)?;
    let what = "the kilograms per litre of water capacity that the law allows";
    let ratio = args
        .filling_ratio
        .as_deref()
        .map(|text| meant::bare_number("--filling-ratio", text, what))
        .transpose()?;
    // The answer comes in the units of the capacity.
    let mut shown = args.units.clone();
    if shown.units.is_none() && in_pounds {
        shown.units = Some(System::Ip);
    }
    let units = meant::units(&shown, None, None)?;
    let catalogue = meant::catalogue(&args.basis.data)?;
    let refrigerant = meant::refrigerant(&catalogue, &args.refrigerant, &args.basis)?;
    let facts = Facts::of(&refrigerant);
    let style = args.output.style(units, site);
    let rules = rules(&refrigerant, volume, ratio)?;
    if contents.is_none() && smallest(&rules).is_none() {
        return Err(Failure::no_answer(
            page::no_filling(&refrigerant, &rules, &style),
            "give the filling ratio of the law that applies, --filling-ratio, or the mass in the \
             cylinder, --contents",
        ));
    }
    let question = CylinderQuestion {
        volume,
        contents,
        fahrenheit: units.feet,
        atmosphere: site,
    };
    let found = Cylinder::of(&refrigerant, &facts, rules, &question).in_units(&units, &site)?;
    let warnings = parts::all_warnings(&refrigerant, &[], &site_warnings);
    Ok(page::cylinder(
        &found,
        (&refrigerant, &facts),
        warnings,
        &style,
    ))
}

/// The water capacity in m3, and whether it was given in pounds.
fn capacity(args: &CylinderArgs) -> Result<(f64, bool), Failure> {
    let Some(text) = &args.water_capacity else {
        return Err(Failure::usage(
            "the cylinder's water capacity was not given, and without it there is no figure",
            "read the water capacity (WC) on the cylinder's collar and add --water-capacity \
             47.7lb; never fill a cylinder of unknown capacity",
        ));
    };
    let in_pounds = text.to_ascii_lowercase().contains("lb");
    match (parse_mass(text), parse_volume(text)) {
        (Ok(mass), _) => Ok((mass / WATER_KG_M3, in_pounds)),
        (_, Ok(volume)) => Ok((volume, text.contains("ft") || text.contains("in"))),
        _ => Err(Failure::usage(
            format!("--water-capacity: '{text}' is neither a mass of water nor a volume"),
            "read the water capacity (WC) on the cylinder's collar and write 47.7lb, 21.6kg or \
             21.6L; never fill a cylinder of unknown capacity",
        )),
    }
}
