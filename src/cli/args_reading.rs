//! The arguments of readings as typed: gauge, accuracy, target.

use std::path::PathBuf;

use super::args::{BasisArgs, OutputArgs, SiteArgs, UnitArgs};

/// What a gauge counts from.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Gauge")]
pub(super) struct GaugeArgs {
    /// vented (reads against the air around), sealed or absolute; without it by the unit
    #[arg(long, value_name = "KIND")]
    pub(super) gauge: Option<String>,
    /// Where it was set to zero open to the air: here, factory or an elevation
    #[arg(long, value_name = "PLACE")]
    pub(super) zeroed: Option<String>,
}

/// How accurate the kit is.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Accuracy")]
pub(super) struct AccuracyArgs {
    /// 0.25%span, 1%reading, 3.5psi, or a class: "B40.100 2A", "EN 837-1 class 1.0"
    #[arg(long, value_name = "LIMIT")]
    pub(super) gauge_accuracy: Option<String>,
    /// Whole scale of the gauge, for example 500psi
    #[arg(long, value_name = "PRESSURE")]
    pub(super) gauge_span: Option<String>,
    /// Limit of the clamp thermometer, for example 1F
    #[arg(long, value_name = "DIFFERENCE")]
    pub(super) clamp_accuracy: Option<String>,
    /// Limit of its contact with the line, which makers do not count
    #[arg(long, value_name = "DIFFERENCE")]
    pub(super) clamp_contact: Option<String>,
    /// Limit of the air's pressure at the site, for example 0.5kPa
    #[arg(long, value_name = "PRESSURE")]
    pub(super) site_accuracy: Option<String>,
    /// File with the kit's gauges and clamp; what is given beside it comes first
    #[arg(long, value_name = "FILE")]
    pub(super) kit: Option<PathBuf>,
}

#[derive(Debug, clap::Args)]
#[command(group = clap::ArgGroup::new("at").required(true).args(["line", "wanted"]))]
pub(super) struct MeasureArgs {
    /// Designation, chemical name or composition
    #[arg(value_name = "REFRIGERANT")]
    pub(super) refrigerant: String,
    /// Pressure read, for example 118psig or 8.1barg
    #[arg(long, value_name = "PRESSURE")]
    pub(super) pressure: String,
    /// Temperature read on the line, for example 52F
    #[arg(long, value_name = "TEMPERATURE")]
    pub(super) line: Option<String>,
    /// In place of --line: the superheat or subcooling wanted, for the line's temperature
    #[arg(long, value_name = "DIFFERENCE")]
    pub(super) wanted: Option<String>,
    /// By how much the pressure at the clamp is lower than at the tap
    #[arg(long, value_name = "PRESSURE")]
    pub(super) pressure_drop: Option<String>,
    /// Superheat or subcooling that it should be, with --band
    #[arg(
        long,
        value_name = "DIFFERENCE",
        requires = "band",
        conflicts_with = "wanted"
    )]
    pub(super) target: Option<String>,
    /// How far from the target is still within, for example 3F
    #[arg(long, value_name = "DIFFERENCE", requires = "target")]
    pub(super) band: Option<String>,
    #[command(flatten)]
    pub(super) gauge: GaugeArgs,
    #[command(flatten)]
    pub(super) accuracy: AccuracyArgs,
    #[command(flatten)]
    pub(super) basis: BasisArgs,
    #[command(flatten)]
    pub(super) units: UnitArgs,
    #[command(flatten)]
    pub(super) site: SiteArgs,
    #[command(flatten)]
    pub(super) output: OutputArgs,
}
