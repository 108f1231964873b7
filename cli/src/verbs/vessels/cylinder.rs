//! `cylinder`: three figures for a filling, and what warmth does to one.

use crate::args::meant::{self, value_of};
use crate::args::{AskedArgs, System};
use crate::errors::{Failure, OrFailure};
use zeotrope::page::{self, Document, all_warnings};
use zeotrope::service::facts::Facts;
use zeotrope::service::vessel::cylinder::{
    Cylinder, CylinderQuestion, parse_water_capacity, rules, smallest,
};
use zeotrope::units::{parse_bare, parse_mass};

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  zeotrope cylinder R-22 --water-capacity 47.7lb\n  \
                  zeotrope cylinder R-134a --water-capacity 27.2L --contents 20kg\n  \
                  zeotrope cylinder R-744 --water-capacity 10L --filling-ratio 0.66\n  \
                  zeotrope cylinder R-404A --water-capacity 20L --format svg")]
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
    pub(crate) asked: AskedArgs,
}

pub(crate) fn answer(args: &CylinderArgs) -> Result<Document, Failure> {
    let (site, site_warnings) = meant::site(&args.asked.site)?;
    let capacity = value_of!(args.water_capacity, parse_water_capacity)?;
    let capacity = capacity.ok_or_else(|| {
        Failure::usage(
            "the cylinder's water capacity was not given, and without it there is no figure",
            "read the water capacity (WC) on the cylinder's collar and add --water-capacity \
             47.7lb; never fill a cylinder of unknown capacity",
        )
    })?;
    let contents = value_of!(args.contents, parse_mass)?;
    let what = "give the kilograms per litre of water capacity that the law allows, a bare number";
    let ratio = value_of!(args.filling_ratio, |text| parse_bare(
        "filling ratio",
        text,
        what
    ))?;
    // The answer comes in the units of the capacity.
    let mut asked = args.asked.clone();
    if asked.units.units.is_none() && capacity.in_pounds {
        asked.units.units = Some(System::Ip);
    }
    let style = asked.style(None, None, site)?;
    let refrigerant = asked.basis.refrigerant(&args.refrigerant)?;
    let facts = Facts::of_refrigerant(&refrigerant);
    let rules = rules(&refrigerant, capacity.volume, ratio)?;
    if contents.is_none() && smallest(&rules).is_none() {
        return Err(Failure::no_answer(
            page::no_filling(&refrigerant, &rules, &style),
            "give the filling ratio of the law that applies, --filling-ratio, or the mass in the \
             cylinder, --contents",
        ));
    }
    let question = CylinderQuestion {
        volume: capacity.volume,
        contents,
        fahrenheit: style.units.feet,
        atmosphere: site,
    };
    let found = Cylinder::for_question(&refrigerant, &facts, rules, &question).in_style(&style)?;
    let warnings = all_warnings(&refrigerant, &[], &site_warnings);
    let subject = (&refrigerant, &facts);
    Ok(page::cylinder(&found, subject, warnings, &style))
}
