//! What is asked: one verb a file, in folders by subject.

pub(crate) mod air;
pub(crate) mod charts;
pub(crate) mod hazards;
pub(crate) mod instruments;
pub(crate) mod processes;
pub(crate) mod program;
pub(crate) mod properties;
pub(crate) mod readings;
pub(crate) mod refrigerants;
pub(crate) mod vessels;

use std::io::Write;

use clap::{Parser, Subcommand};

use crate::args::OutputArgs;
use crate::args::reading::{MeasureArgs, ReadingArgs};
use crate::errors::Failure;
use crate::io::deliver;
use zeotrope::page::{Document, words};
use zeotrope::service::reading::superheat_subcooling::Measure;

/// Refrigerant properties and blend behaviour from published equations of state, and
/// the charts made from them.
#[derive(Debug, Parser)]
#[command(
    name = "zeotrope",
    version,
    term_width = 92,
    arg_required_else_help = false,
    disable_help_subcommand = true,
    after_help = "Each command's --help has examples. A value has its unit: 5C, 41F, 70psig, 6.8bara.\n\
                  These are calculations, not a judgement of the equipment. Local codes, the manufacturer's\n\
                  instructions and licensed people decide."
)]
pub(crate) struct Args {
    #[command(subcommand)]
    pub(crate) verb: Verb,
    /// Leave a file of own defaults out
    #[arg(long, global = true, hide = true)]
    pub(crate) no_config: bool,
}

/// What is asked.
#[derive(Debug, Subcommand)]
pub(crate) enum Verb {
    /// List the refrigerants that are included
    List(refrigerants::list::ListArgs),
    /// Show what is known about one refrigerant, with sources
    Show(refrigerants::show::ShowArgs),
    /// Convert pressures and temperatures at a site, and other amounts
    Convert(properties::convert::ConvertArgs),
    /// Bubble and dew point at a temperature or a pressure
    Saturation(properties::saturation::SaturationArgs),
    /// Glide at a pressure, inlet and mean temperatures of a coil, and what changes along it
    Glide(properties::glide::GlideArgs),
    /// All properties of one state, from two of them
    State(properties::state::StateArgs),
    /// Superheat: suction line temperature minus dew temperature, with its uncertainty
    #[command(
        after_help = "Examples:\n  zeotrope superheat R-407C --pressure 65psig --line 52F\n  \
                      zeotrope superheat R-410A --pressure 118psig --line 50F \\\n    \
                      --gauge-accuracy 1%span --gauge-span 500psi --clamp-accuracy 1F --target 10F --band 5F\n  \
                      zeotrope superheat R-134a --pressure 18.4psig --wanted 10F --elevation 5280ft\n  \
                      zeotrope superheat R-290 --pressure 3.2barg --line 4C \\\n    \
                      --gauge sealed --zeroed factory --elevation 1600m"
    )]
    Superheat(MeasureArgs),
    /// Subcooling: bubble temperature minus liquid line temperature, with its uncertainty
    #[command(
        after_help = "Examples:\n  zeotrope subcooling R-407C --pressure 265psig --line 101F\n  \
                      zeotrope subcooling R-410A --pressure 340psig --line 96.5F \\\n    \
                      --target 10F --band 3F --gauge-accuracy 2%span --gauge-span 500psi\n  \
                      zeotrope subcooling R-454B --pressure 21barg --wanted 5K --format json"
    )]
    Subcooling(MeasureArgs),
    /// Both sides of a system at once, or a log of them
    Reading(Box<ReadingArgs>),
    /// Pressure-temperature chart of one refrigerant or of many side by side
    Chart(Box<charts::chart_args::ChartArgs>),
    /// Tasks for a class with their key, from a recipe
    Exercise(charts::exercise::ExerciseArgs),
    /// Moist air from two readings; the heat between two states
    MoistAir(air::moist_air::MoistAirArgs),
    /// Target superheat for a fixed orifice: an estimate, or from the manufacturer's chart
    TargetSuperheat(air::target_superheat::TargetSuperheatArgs),
    /// A vessel at rest compared with what it should hold; a gauge checked against a vessel
    AtRest(vessels::at_rest::AtRestArgs),
    /// Pressure of a nitrogen test, corrected for temperature
    PressureTest(vessels::pressure_test::PressureTestArgs),
    /// A vacuum compared with water and ice; the shape of a rise test
    Evacuation(vessels::evacuation::EvacuationArgs),
    /// Three figures for filling a cylinder, and the effect of warming
    Cylinder(vessels::cylinder::CylinderArgs),
    /// What a leak does to a blend, and what readings by the listed card then miss by
    #[command(
        after_help = "Examples:\n  zeotrope leak R-407C --temperature 75F --lost 33% --mass 30lb --filled 80%\n  \
                  zeotrope leak R-454B --temperature 24C --lost 10%,30%,50% --tolerance\n  \
                  zeotrope leak R-407C --temperature 75F --lost 30% --refill R-407C --rounds 5\n  \
                  zeotrope leak R-407C --temperature 75F --lost 30% --form wallet --output card.pdf\n  \
                  zeotrope leak R-454B --temperature 75F --picture path --output path.svg\n  \
                  zeotrope leak R-407C --temperature 75F --blank --output exercise.pdf"
    )]
    Leak(Box<processes::loss::LossArgs>),
    /// What drawing from a cylinder does to a blend, and how much stays within its tolerances
    #[command(
        after_help = "Examples:\n  zeotrope draw R-407C --temperature 75F --filled 80% --mass 25lb\n  \
                  zeotrope draw R-455A --temperature 20C --filled 75% --phase vapor --lost 5%,10%,20%"
    )]
    Draw(Box<processes::loss::LossArgs>),
    /// A vapor-compression cycle; several refrigerants side by side
    Cycle(Box<processes::cycle::CycleArgs>),
    /// Velocity and flow in a pipe, for a capacity
    Pipe(processes::pipe::PipeArgs),
    /// Static head of a liquid column, and what is left of the subcooling at its top
    Riser(processes::riser::RiserArgs),
    /// LFL, RCL and GWP in other units, with their sources
    Exposure(hazards::exposure::ExposureArgs),
    /// A table and its code for an instrument, its error checked over every input
    Lookup(instruments::lookup::LookupArgs),
    /// Compare the engine with published values, source by source
    Validate(program::validate::ValidateArgs),
    /// Asks for own defaults, such as elevation and units, and writes their file
    Setup(program::setup::SetupArgs),
    /// Every phrase of a print by name, to translate with chart --words
    #[command(after_help = "Examples:\n  zeotrope words")]
    Words,
    /// Completions for a shell
    Completions(program::completions::CompletionsArgs),
    /// The manual page, for man(1)
    #[command(after_help = "Examples:\n  zeotrope man")]
    Man,
}

/// Answers what was asked.
///
/// `defaults` says which own defaults were used, empty where none were.
pub(crate) fn run(
    args: &Args,
    defaults: &str,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Failure> {
    if let Some((found, output)) = document(&args.verb) {
        let mut found = found?;
        found.defaults(defaults);
        return deliver::answer(&found, output, out, err);
    }
    if !defaults.is_empty() {
        let _ = writeln!(err, "note: own defaults from {defaults}");
    }
    match &args.verb {
        Verb::Saturation(args) => properties::saturation::rows(args, out, err),
        Verb::State(args) => properties::state::rows(args, out, err),
        Verb::Reading(args) => readings::reading_log::answer(args, out, err),
        Verb::Chart(args) => charts::chart::run(args, out, err),
        Verb::Lookup(args) => instruments::lookup::run(args, out, err),
        Verb::Validate(args) => program::validate::run(args, out, err),
        Verb::Setup(args) => program::setup::run(args, out, err),
        Verb::Words => deliver::write_out(out, words::as_yaml()?.as_bytes()),
        Verb::Completions(args) => {
            deliver::write_out(out, program::completions::answer(args).as_bytes())
        }
        _ => deliver::write_out(out, program::man::answer()?.as_bytes()),
    }
}

/// The one document of a verb that has one; none where rows of a file, several files or a script
/// are asked for.
pub(crate) fn document(verb: &Verb) -> Option<(Result<Document, Failure>, &OutputArgs)> {
    let asked = |answer: &dyn Fn() -> Result<Document, Failure>, output| {
        let found = deliver::check_output(output).and_then(|()| answer());
        (found, output)
    };
    Some(match verb {
        Verb::List(args) => asked(&|| refrigerants::list::answer(args), &args.output),
        Verb::Show(args) => asked(&|| refrigerants::show::answer(args), &args.asked.output),
        Verb::Convert(args) => asked(&|| properties::convert::answer(args), &args.output),
        Verb::Saturation(args) if args.rows.csv.is_none() => {
            asked(&|| properties::saturation::answer(args), &args.asked.output)
        }
        Verb::State(args) if args.rows.csv.is_none() => {
            asked(&|| properties::state::answer(args), &args.asked.output)
        }
        Verb::Glide(args) => asked(&|| properties::glide::answer(args), &args.asked.output),
        Verb::Superheat(args) => asked(
            &|| readings::measure::answer(Measure::Superheat, args),
            &args.asked.output,
        ),
        Verb::Subcooling(args) => asked(
            &|| readings::measure::answer(Measure::Subcooling, args),
            &args.asked.output,
        ),
        Verb::Reading(args) if args.csv.is_none() && args.follow.is_none() => {
            asked(&|| readings::reading::answer(args), &args.asked.output)
        }
        Verb::Exercise(args) => asked(&|| charts::exercise::answer(args), &args.output),
        Verb::MoistAir(args) => asked(&|| air::moist_air::answer(args), &args.output),
        Verb::TargetSuperheat(args) => asked(&|| air::target_superheat::answer(args), &args.output),
        Verb::AtRest(args) => asked(&|| vessels::at_rest::answer(args), &args.asked.output),
        Verb::PressureTest(args) => asked(&|| vessels::pressure_test::answer(args), &args.output),
        Verb::Evacuation(args) => asked(&|| vessels::evacuation::answer(args), &args.output),
        Verb::Cylinder(args) => asked(&|| vessels::cylinder::answer(args), &args.asked.output),
        Verb::Leak(args) => asked(&|| processes::loss::answer(args, false), &args.asked.output),
        Verb::Draw(args) => asked(&|| processes::loss::answer(args, true), &args.asked.output),
        Verb::Cycle(args) => asked(&|| processes::cycle::answer(args), &args.asked.output),
        Verb::Pipe(args) => asked(&|| processes::pipe::answer(args), &args.asked.output),
        Verb::Riser(args) => asked(&|| processes::riser::answer(args), &args.asked.output),
        Verb::Exposure(args) => asked(&|| hazards::exposure::answer(args), &args.output),
        _ => return None,
    })
}
