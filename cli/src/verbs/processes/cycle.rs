//! `cycle`: a vapor-compression cycle, of several refrigerants side by side.

use super::cycle_levels::conditions;
use crate::args::AskedArgs;
use crate::args::choices::choice;
use crate::args::meant::{self, value_of};
use crate::errors::{Failure, OrFailure};
use zeotrope::chart::picture::Plane;
use zeotrope::page::{self, CycleParts, Document};
use zeotrope::process::cycle::{CoilTemperature, Cycle, CycleOptions, Stages, Stated, compare};
use zeotrope::units::{
    Atmosphere, BareUnit, Pressure, parse_heat_flow, parse_percent, parse_pressure,
    parse_pressure_difference, parse_temperature, parse_temperature_difference,
};

/// Most refrigerants that are drawn: a stroke each.
const MOST_DRAWN: usize = 3;

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  zeotrope cycle R-134a --evaporating -10C --condensing 40C\n\
                  \x20 zeotrope cycle R-404A R-448A R-449A --evaporating -15F --evaporating-at dew \\\n\
                  \x20   --condensing 105F --suction-temperature 40F --liquid 95F --efficiency 70% \\\n\
                  \x20   --discharge-limit 225F\n\
                  \x20 zeotrope cycle R-410A R-454B --evaporating 45F --condensing 115F --efficiency 70% \\\n\
                  \x20   --compare-at dew,mean,bubble\n\
                  \x20 zeotrope cycle R-290 --evaporating -5C --condensing 30C..50C --step 5C --capacity 10kW\n\
                  \x20 zeotrope cycle R-744 --evaporating -8C --gas-cooler-outlet 35C --efficiency 70%\n\
                  \x20 zeotrope cycle R-744 R-290 --evaporating -8C --condensing 40C --gas-cooler-outlet 35C\n\
                  \x20 zeotrope cycle R-717 --evaporating -35C --condensing 35C --stages 2 --explain\n\
                  \x20 zeotrope cycle R-407C --evaporating 0C --condensing 40C --picture ph --format svg")]
pub(crate) struct CycleArgs {
    /// Designations or compositions; each is shown relative to the first
    #[arg(value_name = "REFRIGERANT", required = true)]
    pub(super) refrigerants: Vec<String>,
    /// Evaporating temperature or pressure, or temperatures from..to
    #[arg(long, value_name = "VALUE")]
    pub(super) evaporating: String,
    /// Condensing temperature or pressure, or temperatures from..to
    #[arg(long, value_name = "VALUE", required_unless_present = "gas_cooler_outlet")]
    pub(super) condensing: Option<String>,
    /// Which evaporating temperature is meant: inlet-mean (inlet and dew), mean, dew or bubble;
    /// inlet-mean if not said
    #[arg(value_parser = choice::<CoilTemperature>(), long, value_name = "KIND")]
    pub(super) evaporating_at: Option<CoilTemperature>,
    /// Which condensing temperature is meant: mean (bubble and dew), dew or bubble; mean if not
    /// said
    #[arg(value_parser = choice::<CoilTemperature>(), long, value_name = "KIND")]
    pub(super) condensing_at: Option<CoilTemperature>,
    /// The same at equal dew, mean and bubble temperatures, for example dew,mean,bubble
    #[arg(
        value_parser = choice::<CoilTemperature>(),
        long,
        value_name = "KINDS",
        value_delimiter = ',',
        conflicts_with_all = ["evaporating_at", "condensing_at"]
    )]
    pub(super) compare_at: Vec<CoilTemperature>,
    /// Step of temperatures from..to, for example 5C
    #[arg(long, value_name = "DIFFERENCE")]
    pub(super) step: Option<String>,
    /// Superheat at the suction; all of it useful, if --useful-superheat says nothing else
    #[arg(long, value_name = "DIFFERENCE", conflicts_with = "suction_temperature")]
    superheat: Option<String>,
    /// Temperature at the suction; nothing of that superheat useful, if not said
    #[arg(long, value_name = "TEMPERATURE")]
    suction_temperature: Option<String>,
    /// Superheat inside the evaporator, which counts as refrigerating effect
    #[arg(long, value_name = "DIFFERENCE")]
    useful_superheat: Option<String>,
    /// Subcooling at the condenser's outlet
    #[arg(long, value_name = "DIFFERENCE", conflicts_with = "liquid", requires = "condensing")]
    subcooling: Option<String>,
    /// Temperature of the liquid at the condenser's outlet
    #[arg(long, value_name = "TEMPERATURE", requires = "condensing")]
    liquid: Option<String>,
    /// Isentropic efficiency, for example 70%; 100% if not said
    #[arg(long, value_name = "SHARE")]
    efficiency: Option<String>,
    /// Heat exchanger between liquid and suction line, by its effectiveness, for example 50%
    #[arg(long, value_name = "SHARE")]
    suction_line_effectiveness: Option<String>,
    /// Pressure drop of the evaporator, for example 20kPa
    #[arg(long, value_name = "DIFFERENCE")]
    evaporator_drop: Option<String>,
    /// Pressure drop of condenser or gas cooler
    #[arg(long, value_name = "DIFFERENCE")]
    condenser_drop: Option<String>,
    /// Pressure of a gas cooler, above the critical one, or best: that of the highest COP for
    /// cooling; best if not said
    #[arg(long, value_name = "PRESSURE", requires = "gas_cooler_outlet")]
    pub(super) gas_cooler_pressure: Option<String>,
    /// Temperature at the outlet of a gas cooler in place of a condenser; beside --condensing, of
    /// refrigerants whose critical point lies below that
    #[arg(long, value_name = "TEMPERATURE")]
    pub(super) gas_cooler_outlet: Option<String>,
    /// 1, or 2 with an open flash intercooler
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u8).range(1..=2))]
    stages: Option<u8>,
    /// Two stages with an economizer, its approach 5K if not said
    #[arg(long, value_name = "APPROACH", num_args = 0..=1, default_missing_value = "5K")]
    economizer: Option<String>,
    /// Pressure between two stages; the geometric mean if not said
    #[arg(long, value_name = "PRESSURE")]
    intermediate_pressure: Option<String>,
    /// Refrigerating capacity, for flow, power and displacement, for example 10kW or 3ton
    #[arg(long, value_name = "CAPACITY")]
    capacity: Option<String>,
    /// A discharge temperature that is compared with those found
    #[arg(long, value_name = "TEMPERATURE")]
    discharge_limit: Option<String>,
    /// A pressure rating of the high side that is compared with the pressures found
    #[arg(long, value_name = "PRESSURE")]
    pressure_rating: Option<String>,
    /// The working, step by step
    #[arg(long)]
    explain: bool,
    /// A sheet for class: points and results as blanks, then their key with the working
    #[arg(long)]
    worksheet: bool,
    /// The cycle on pressure and enthalpy or on temperature and entropy, as SVG, HTML or PDF
    #[arg(value_parser = choice::<Plane>(), long, value_name = "PLANE")]
    picture: Option<Plane>,
    #[command(flatten)]
    pub(crate) asked: AskedArgs,
}

pub(crate) fn answer(args: &CycleArgs) -> Result<Document, Failure> {
    let (site, site_warnings) = meant::site(&args.asked.site)?;
    if args.picture.is_some() && args.refrigerants.len() > MOST_DRAWN {
        return Err(Failure::usage(
            format!("--picture: more than {MOST_DRAWN} refrigerants cannot be told apart"),
            format!("name up to {MOST_DRAWN}"),
        ));
    }
    let asked = conditions(args, &site)?;
    let options = options(args, &site)?;
    let cycles = asked.cycles.iter();
    let cycles: Vec<Cycle> = cycles.map(|cycle| cycle.with_options(&options)).collect();
    let limit = value_of!(args.discharge_limit, parse_temperature)?;
    let rating = value_of!(args.pressure_rating, |text| pressure(text, &site))?;
    let stated = Stated {
        discharge_limit: limit.map(|typed| typed.value),
        pressure_rating: rating,
    };
    let style = (args.asked).style(asked.temperature_unit, asked.pressure_unit, site)?;
    let catalogue = meant::catalogue(&args.asked.basis.data)?;
    let named = |text: &String| meant::refrigerant(&catalogue, text, &args.asked.basis);
    let refrigerants = args.refrigerants.iter().map(named);
    let refrigerants = refrigerants.collect::<Result<Vec<_>, Failure>>()?;
    let found = compare(&refrigerants, &cycles, stated).in_style(&style)?;
    let parts = CycleParts {
        refrigerants: &refrigerants,
        site: &site_warnings,
        explain: args.explain || args.worksheet,
        worksheet: args.worksheet,
        as_rows: asked.is_sweep,
        picture: args.picture,
    };
    Ok(page::cycle(&found, parts, &style))
}

fn pressure(text: &str, site: &Atmosphere) -> zeotrope::Result<Pressure> {
    parse_pressure(text, BareUnit::Refused, site).map(|typed| typed.value)
}

/// What the options say beside the temperatures.
fn options(args: &CycleArgs, site: &Atmosphere) -> Result<CycleOptions, Failure> {
    let by = |text: &str| parse_temperature_difference(text).map(|typed| typed.value);
    let at = |text: &str| parse_temperature(text).map(|typed| typed.value);
    let share = |text: &str| parse_percent("share", text);
    Ok(CycleOptions {
        superheat: value_of!(args.superheat, by)?,
        suction_temperature: value_of!(args.suction_temperature, at)?,
        useful_superheat: value_of!(args.useful_superheat, by)?,
        subcooling: value_of!(args.subcooling, by)?,
        liquid_temperature: value_of!(args.liquid, at)?,
        efficiency: value_of!(args.efficiency, share)?,
        suction_line_exchanger: value_of!(args.suction_line_effectiveness, share)?,
        evaporator_drop: value_of!(args.evaporator_drop, parse_pressure_difference)?,
        condenser_drop: value_of!(args.condenser_drop, parse_pressure_difference)?,
        capacity: value_of!(args.capacity, parse_heat_flow)?,
        stages: Some(stages(args, site)?),
    })
}

/// How the vapor is compressed.
fn stages(args: &CycleArgs, site: &Atmosphere) -> Result<Stages, Failure> {
    let intermediate = value_of!(args.intermediate_pressure, |text| pressure(text, site))?;
    let approach = value_of!(args.economizer, parse_temperature_difference)?;
    match (approach, args.stages) {
        (Some(_), Some(1)) => Err(Failure::usage(
            "--economizer needs two stages, and --stages says 1",
            "leave out one of the two",
        )),
        (Some(approach), _) => Ok(Stages::Economizer {
            intermediate,
            approach: approach.value,
        }),
        (None, Some(2)) => Ok(Stages::OpenFlash { intermediate }),
        _ if intermediate.is_some() => Err(Failure::usage(
            "--intermediate-pressure lies between two stages",
            "add --stages 2 or --economizer",
        )),
        _ => Ok(Stages::One),
    }
}
