//! `cycle`: a vapor-compression cycle, of several refrigerants side by side.

use super::cycle_levels::{self, LevelArg};
use crate::cli::args::{BasisArgs, OutputArgs, PlaneArg, SiteArgs, UnitArgs, meant};
use crate::cli::errors::{Failure, OrFailure};
use crate::page::{self, CycleParts, Document};
use crate::process::cycle::{Cycle, Stages, Stated, compare};
use crate::units::{
    Atmosphere, BareUnit, TemperatureDifference, parse_heat_flow, parse_percent, parse_pressure,
    parse_pressure_difference, parse_temperature, parse_temperature_difference,
};

/// Most refrigerants that are drawn: a stroke each.
const MOST_DRAWN: usize = 3;

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope cycle R-134a --evaporating -10C --condensing 40C\n\
                  \x20 zeotrope cycle R-404A R-448A R-449A --evaporating -15F --evaporating-at dew \\\n\
                  \x20   --condensing 105F --suction-temperature 40F --liquid 95F --efficiency 70% \\\n\
                  \x20   --discharge-limit 225F\n\
                  \x20 zeotrope cycle R-410A R-454B --evaporating 45F --condensing 115F --efficiency 70% \\\n\
                  \x20   --compare-at dew,mean,bubble\n\
                  \x20 zeotrope cycle R-290 --evaporating -5C --condensing 30C..50C --step 5C --capacity 10kW\n\
                  \x20 zeotrope cycle R-744 --evaporating -8C --gas-cooler-outlet 35C --efficiency 70%\n\
                  \x20 zeotrope cycle R-744 R-290 --evaporating -8C --condensing 40C --gas-cooler-outlet 35C\n\
                  \x20 zeotrope cycle R-717 --evaporating -35C --condensing 35C --stages 2 --explain\n\
                  \x20 zeotrope cycle R-407C --evaporating 0C --condensing 40C --picture ph --format svg"
)]
pub(crate) struct CycleArgs {
    /// Designations or compositions; each is shown relative to the first
    #[arg(value_name = "REFRIGERANT", required = true)]
    refrigerants: Vec<String>,
    /// Evaporating temperature or pressure, or temperatures from..to
    #[arg(long, value_name = "VALUE")]
    evaporating: String,
    /// Condensing temperature or pressure, or temperatures from..to
    #[arg(
        long,
        value_name = "VALUE",
        required_unless_present = "gas_cooler_outlet"
    )]
    condensing: Option<String>,
    /// Which evaporating temperature is meant: inlet-mean (inlet and dew), mean, dew or bubble;
    /// inlet-mean if not said
    #[arg(long, value_name = "KIND")]
    evaporating_at: Option<LevelArg>,
    /// Which condensing temperature is meant: mean (bubble and dew), dew or bubble; mean if not
    /// said
    #[arg(long, value_name = "KIND")]
    condensing_at: Option<LevelArg>,
    /// The same at equal dew, mean and bubble temperatures, for example dew,mean,bubble
    #[arg(
        long,
        value_name = "KINDS",
        value_delimiter = ',',
        conflicts_with_all = ["evaporating_at", "condensing_at"]
    )]
    compare_at: Vec<LevelArg>,
    /// Step of temperatures from..to, for example 5C
    #[arg(long, value_name = "DIFFERENCE")]
    step: Option<String>,
    /// Superheat at the suction; all of it useful, if --useful-superheat says nothing else
    #[arg(
        long,
        value_name = "DIFFERENCE",
        conflicts_with = "suction_temperature"
    )]
    superheat: Option<String>,
    /// Temperature at the suction; nothing of that superheat useful, if not said
    #[arg(long, value_name = "TEMPERATURE")]
    suction_temperature: Option<String>,
    /// Superheat inside the evaporator, which counts as refrigerating effect
    #[arg(long, value_name = "DIFFERENCE")]
    useful_superheat: Option<String>,
    /// Subcooling at the condenser's outlet
    #[arg(
        long,
        value_name = "DIFFERENCE",
        conflicts_with = "liquid",
        requires = "condensing"
    )]
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
    gas_cooler_pressure: Option<String>,
    /// Temperature at the outlet of a gas cooler in place of a condenser; beside --condensing, of
    /// refrigerants whose critical point lies below that
    #[arg(long, value_name = "TEMPERATURE")]
    gas_cooler_outlet: Option<String>,
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
    #[arg(long, value_name = "PLANE")]
    picture: Option<PlaneArg>,
    #[command(flatten)]
    basis: BasisArgs,
    #[command(flatten)]
    units: UnitArgs,
    #[command(flatten)]
    site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

pub(crate) fn answer(args: &CycleArgs) -> Result<Document, Failure> {
    let (site, site_warnings) = meant::site(&args.site)?;
    if args.picture.is_some() && args.refrigerants.len() > MOST_DRAWN {
        return Err(Failure::usage(
            format!("--picture: more than {MOST_DRAWN} refrigerants cannot be told apart"),
            format!("name up to {MOST_DRAWN}"),
        ));
    }
    let asked = cycle_levels::conditions(
        (&args.evaporating, args.condensing.as_deref()),
        (
            args.gas_cooler_pressure.as_deref(),
            args.gas_cooler_outlet.as_deref(),
        ),
        (args.evaporating_at, args.condensing_at),
        (&args.compare_at, args.step.as_deref()),
        &site,
    )?;
    let cycles: Result<Vec<Cycle>, Failure> = asked
        .cycles
        .iter()
        .map(|cycle| with_options(*cycle, args, &site))
        .collect();
    let stated = Stated {
        discharge_limit: meant::option(
            "--discharge-limit",
            args.discharge_limit.as_deref(),
            parse_temperature,
        )?
        .map(|typed| typed.value),
        pressure_rating: meant::option(
            "--pressure-rating",
            args.pressure_rating.as_deref(),
            |text| parse_pressure(text, BareUnit::Refused, &site),
        )?
        .map(|typed| typed.value),
    };
    let units = meant::units(&args.units, asked.temperature_unit, asked.pressure_unit)?;
    let catalogue = meant::catalogue(&args.basis.data)?;
    let named = |text: &String| meant::refrigerant(&catalogue, text, &args.basis);
    let refrigerants = args.refrigerants.iter().map(named);
    let refrigerants = refrigerants.collect::<Result<Vec<_>, Failure>>()?;
    let found = compare(&refrigerants, &cycles?, stated).in_units(&units, &site)?;
    let parts = CycleParts {
        refrigerants: &refrigerants,
        site: &site_warnings,
        explain: args.explain || args.worksheet,
        worksheet: args.worksheet,
        as_rows: asked.is_sweep,
        picture: args.picture.map(Into::into),
    };
    Ok(page::cycle(&found, parts, &args.output.style(units, site)))
}

/// A cycle with what the options say beside its temperatures.
fn with_options(cycle: Cycle, args: &CycleArgs, site: &Atmosphere) -> Result<Cycle, Failure> {
    let by =
        |name: &str, text: &Option<String>| -> Result<Option<TemperatureDifference>, Failure> {
            let typed = meant::option(name, text.as_deref(), parse_temperature_difference)?;
            Ok(typed.map(|typed| typed.value))
        };
    let at = |name: &str, text: &Option<String>| {
        let typed = meant::option(name, text.as_deref(), parse_temperature)?;
        Ok::<_, Failure>(typed.map(|typed| typed.value))
    };
    let share = |name: &str, text: &Option<String>| {
        meant::option(name, text.as_deref(), |text| parse_percent("share", text))
    };
    let drop = |name: &str, text: &Option<String>| {
        meant::option(name, text.as_deref(), parse_pressure_difference)
    };
    let mut cycle = cycle;
    if let Some(superheat) = by("--superheat", &args.superheat)? {
        cycle = cycle.superheat(superheat);
    }
    if let Some(temperature) = at("--suction-temperature", &args.suction_temperature)? {
        cycle = cycle.suction_temperature(temperature);
    }
    if let Some(superheat) = by("--useful-superheat", &args.useful_superheat)? {
        cycle = cycle.useful_superheat(superheat);
    }
    if let Some(subcooling) = by("--subcooling", &args.subcooling)? {
        cycle = cycle.subcooling(subcooling);
    }
    if let Some(temperature) = at("--liquid", &args.liquid)? {
        cycle = cycle.liquid_temperature(temperature);
    }
    if let Some(efficiency) = share("--efficiency", &args.efficiency)? {
        cycle = cycle.efficiency(efficiency);
    }
    let name = "--suction-line-effectiveness";
    if let Some(effectiveness) = share(name, &args.suction_line_effectiveness)? {
        cycle = cycle.suction_line_exchanger(effectiveness);
    }
    if let Some(pascal) = drop("--evaporator-drop", &args.evaporator_drop)? {
        cycle = cycle.evaporator_drop(pascal);
    }
    if let Some(pascal) = drop("--condenser-drop", &args.condenser_drop)? {
        cycle = cycle.condenser_drop(pascal);
    }
    let name = "--intermediate-pressure";
    let intermediate = meant::option(name, args.intermediate_pressure.as_deref(), |text| {
        parse_pressure(text, BareUnit::Refused, site)
    })?;
    let intermediate = intermediate.map(|typed| typed.value);
    let approach = by("--economizer", &args.economizer)?;
    let stages = match (approach, args.stages) {
        (Some(_), Some(1)) => {
            return Err(Failure::usage(
                "--economizer needs two stages, and --stages says 1",
                "leave out one of the two",
            ));
        }
        (Some(approach), _) => Stages::Economizer {
            intermediate,
            approach,
        },
        (None, Some(2)) => Stages::OpenFlash { intermediate },
        _ if intermediate.is_some() => {
            return Err(Failure::usage(
                "--intermediate-pressure lies between two stages",
                "add --stages 2 or --economizer",
            ));
        }
        _ => Stages::One,
    };
    cycle = cycle.stages(stages);
    if let Some(watt) = meant::option("--capacity", args.capacity.as_deref(), parse_heat_flow)? {
        cycle = cycle.capacity(watt);
    }
    Ok(cycle)
}
