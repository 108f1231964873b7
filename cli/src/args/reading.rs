//! The arguments of readings as typed: gauge, accuracy, target.

use std::path::PathBuf;

use clap::ValueEnum;

use crate::args::choices::choice;
use crate::args::{AskedArgs, ColumnArgs};
use zeotrope::service::reading::both_sides::Mode;

/// What a gauge counts from.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Gauge")]
pub(crate) struct GaugeArgs {
    /// vented (reads against the air around), sealed or absolute; without it by the unit
    #[arg(long, value_name = "KIND")]
    pub(crate) gauge: Option<String>,
    /// Where it was set to zero open to the air: here, factory or an elevation
    #[arg(long, value_name = "PLACE")]
    pub(crate) zeroed: Option<String>,
}

/// How accurate a gauge is.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Accuracy")]
pub(crate) struct GaugeAccuracyArgs {
    /// 0.25%span, 1%reading, 3.5psi, or a class: "B40.100 2A", "EN 837-1 class 1.0"
    #[arg(long, value_name = "LIMIT")]
    pub(crate) gauge_accuracy: Option<String>,
    /// Whole scale of the gauge, for example 500psi
    #[arg(long, value_name = "PRESSURE")]
    pub(crate) gauge_span: Option<String>,
}

/// How accurate the instruments at a vessel are.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Accuracy")]
pub(crate) struct VesselAccuracyArgs {
    #[command(flatten)]
    pub(crate) gauge: GaugeAccuracyArgs,
    /// Limit of error of the thermometer, for example 1F
    #[arg(long, value_name = "DIFFERENCE")]
    pub(crate) thermometer_accuracy: Option<String>,
}

/// Which gauge of a kit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum SideArg {
    /// The suction side's
    Low,
    /// The liquid side's
    High,
}

/// The kit at a vessel.
#[derive(Debug, Clone, Default, clap::Args)]
pub(crate) struct VesselKitArgs {
    #[command(flatten)]
    pub(crate) gauge: GaugeArgs,
    #[command(flatten)]
    pub(crate) accuracy: VesselAccuracyArgs,
    /// File with the kit's gauges and clamp; what is given beside it comes first
    #[arg(long, value_name = "FILE", help_heading = "Accuracy")]
    pub(crate) kit: Option<PathBuf>,
    /// Which of the kit's gauges is at the vessel, where they differ
    #[arg(long, value_name = "SIDE", requires = "kit", help_heading = "Accuracy")]
    pub(crate) side: Option<SideArg>,
}

/// How accurate the kit is.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Accuracy")]
pub(crate) struct AccuracyArgs {
    #[command(flatten)]
    pub(crate) gauge: GaugeAccuracyArgs,
    /// Limit of the clamp thermometer, for example 1F
    #[arg(long, value_name = "DIFFERENCE")]
    pub(crate) clamp_accuracy: Option<String>,
    /// Limit of its contact with the line, which makers do not count
    #[arg(long, value_name = "DIFFERENCE")]
    pub(crate) clamp_contact: Option<String>,
    /// Limit of the air's pressure at the site, for example 0.5kPa
    #[arg(long, value_name = "PRESSURE")]
    pub(crate) site_accuracy: Option<String>,
    /// Count a blend as exactly its nominal composition, not its tolerance
    #[arg(long)]
    pub(crate) nominal_composition: bool,
    /// File with the kit's gauges and clamp; what is given beside it comes first
    #[arg(long, value_name = "FILE")]
    pub(crate) kit: Option<PathBuf>,
}

#[derive(Debug, clap::Args)]
#[command(group = clap::ArgGroup::new("at").required(true).args(["line", "wanted"]))]
pub(crate) struct MeasureArgs {
    /// Designation, chemical name or composition
    #[arg(value_name = "REFRIGERANT")]
    pub(crate) refrigerant: String,
    /// Pressure read, for example 118psig or 8.1barg
    #[arg(short, long, value_name = "PRESSURE")]
    pub(crate) pressure: String,
    /// Temperature read on the line, for example 52F
    #[arg(short, long, value_name = "TEMPERATURE")]
    pub(crate) line: Option<String>,
    /// In place of --line: the superheat or subcooling wanted, for the line's temperature
    #[arg(long, value_name = "DIFFERENCE")]
    pub(crate) wanted: Option<String>,
    /// By how much the pressure at the clamp is lower than at the tap
    #[arg(long, value_name = "PRESSURE")]
    pub(crate) pressure_drop: Option<String>,
    /// Superheat or subcooling that it should be, with --band
    #[arg(long, value_name = "DIFFERENCE", requires = "band", conflicts_with = "wanted")]
    pub(crate) target: Option<String>,
    /// How far from the target is still within, for example 3F
    #[arg(long, value_name = "DIFFERENCE", requires = "target")]
    pub(crate) band: Option<String>,
    #[command(flatten)]
    pub(crate) gauge: GaugeArgs,
    #[command(flatten)]
    pub(crate) accuracy: AccuracyArgs,
    #[command(flatten)]
    pub(crate) asked: AskedArgs,
}

/// Gauges of two sides that are not alike.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Accuracy")]
pub(crate) struct SideArgs {
    /// Accuracy of the suction side's gauge, where it differs
    #[arg(long, value_name = "LIMIT")]
    pub(crate) low_accuracy: Option<String>,
    /// Whole scale of the suction side's gauge
    #[arg(long, value_name = "PRESSURE")]
    pub(crate) low_span: Option<String>,
    /// Accuracy of the liquid side's gauge, where it differs
    #[arg(long, value_name = "LIMIT")]
    pub(crate) high_accuracy: Option<String>,
    /// Whole scale of the liquid side's gauge
    #[arg(long, value_name = "PRESSURE")]
    pub(crate) high_span: Option<String>,
    /// Limit of the air thermometers, for example 1F
    #[arg(long, value_name = "DIFFERENCE")]
    pub(crate) air_accuracy: Option<String>,
}

#[derive(Debug, clap::Args)]
#[command(
    group = clap::ArgGroup::new("figures")
        .multiple(true)
        .args([
            "suction_pressure", "suction_line", "liquid_pressure", "liquid_line", "ambient",
            "return_air", "supply_air", "wet_bulb",
        ])
        .conflicts_with_all(["csv", "follow"]),
    after_help = "A log (--csv FILE) has heads such as time, suction_pressure_psig, \
                  suction_line_temperature_F, liquid_pressure_psig, liquid_line_temperature_F, \
                  ambient_temperature_F, return_air_temperature_F and supply_air_temperature_F. \
                  Rows come back with answers; --format text, markdown or json gives lowest, \
                  highest, mean and trend, html adds a drawing of the run, svg is \
                  that drawing alone.\n\nExamples:\n  \
                  zeotrope reading R-410A --suction-pressure 118psig --suction-line 50F \\\n    \
                  --liquid-pressure 340psig --liquid-line 95F\n  \
                  zeotrope reading R-454B --suction-pressure 7.4barg --suction-line 9C \\\n    \
                  --liquid-pressure 24barg --liquid-line 34C --ambient 30C --return-air 24C \\\n    \
                  --supply-air 13C --gauge-accuracy 1%span --low-span 17bar --high-span 55bar \\\n    \
                  --clamp-accuracy 0.5K --format json"
)]
pub(crate) struct ReadingArgs {
    /// Designation, chemical name or composition
    #[arg(value_name = "REFRIGERANT")]
    pub(crate) refrigerant: String,
    /// Pressure read on the suction side
    #[arg(long, value_name = "PRESSURE")]
    pub(crate) suction_pressure: Option<String>,
    /// Temperature read on the suction line
    #[arg(long, value_name = "TEMPERATURE")]
    pub(crate) suction_line: Option<String>,
    /// Pressure read on the liquid side
    #[arg(long, value_name = "PRESSURE")]
    pub(crate) liquid_pressure: Option<String>,
    /// Temperature read on the liquid line
    #[arg(long, value_name = "TEMPERATURE")]
    pub(crate) liquid_line: Option<String>,
    /// Temperature read on the discharge line at the compressor, for the cycle that runs
    #[arg(long, value_name = "TEMPERATURE", requires_all = [
        "suction_pressure", "suction_line", "liquid_pressure", "liquid_line"
    ])]
    pub(crate) discharge_line: Option<String>,
    /// Air that enters the outdoor coil: the condenser, in heating the evaporator
    #[arg(long, value_name = "TEMPERATURE")]
    pub(crate) ambient: Option<String>,
    /// Air that enters the indoor coil: the evaporator, in heating the condenser
    #[arg(long, value_name = "TEMPERATURE")]
    pub(crate) return_air: Option<String>,
    /// Air that leaves the indoor coil
    #[arg(long, value_name = "TEMPERATURE")]
    pub(crate) supply_air: Option<String>,
    /// Wet bulb of the air that enters an evaporative condenser
    #[arg(long, value_name = "TEMPERATURE")]
    pub(crate) wet_bulb: Option<String>,
    /// What the system does: cooling if not given
    #[arg(value_parser = choice::<Mode>(), long, value_name = "MODE")]
    pub(crate) mode: Option<Mode>,
    /// Superheat that it should be, with --band
    #[arg(long, value_name = "DIFFERENCE", requires = "band")]
    pub(crate) target: Option<String>,
    /// How far from the target superheat is still within, for example 3F
    #[arg(long, value_name = "DIFFERENCE", requires = "target")]
    pub(crate) band: Option<String>,
    /// Subcooling that it should be, with --subcooling-band
    #[arg(long, value_name = "DIFFERENCE", requires = "subcooling_band")]
    pub(crate) subcooling_target: Option<String>,
    /// How far from the target subcooling is still within
    #[arg(long, value_name = "DIFFERENCE", requires = "subcooling_target")]
    pub(crate) subcooling_band: Option<String>,
    /// Answer a log, - for standard input; its column headers name what was read and in which unit
    #[arg(long, value_name = "FILE")]
    pub(crate) csv: Option<PathBuf>,
    /// Answer a log that is still being written, a line for each row, until Ctrl-C; then its summary
    #[arg(long, value_name = "FILE", conflicts_with = "csv")]
    pub(crate) follow: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) columns: ColumnArgs,
    #[command(flatten)]
    pub(crate) gauge: GaugeArgs,
    #[command(flatten)]
    pub(crate) accuracy: AccuracyArgs,
    #[command(flatten)]
    pub(crate) sides: SideArgs,
    #[command(flatten)]
    pub(crate) asked: AskedArgs,
}
