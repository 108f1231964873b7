//! What to know about an answer that was given; the pages say it in words.

use crate::Branch;
use crate::catalogue::CompositionNote;
use crate::error::Error;
use crate::units::{Pressure, Temperature};

/// Something to know about an answer.
///
/// `Display` says it in an English sentence, without a full stop.
///
/// # Example
/// ```
/// use zeotrope::{Refrigerant, Warning};
/// let pair = Refrigerant::named("R-32/R-1224yd(Z) (50/50)")?;
/// let warnings = pair.warnings();
/// assert!(matches!(warnings[0], Warning::EstimatedPair { .. }));
/// assert_eq!(warnings[0].code(), "estimated_pair");
/// # Ok::<(), zeotrope::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Warning {
    /// The standard leaves the composition open; what its record says of it.
    CompositionNotFixed(String),
    /// Pairs of components without published parameters.
    EstimatedPair {
        /// Both designations of each pair.
        pairs: Vec<(String, String)>,
        /// Whether every one rests on measured points after all.
        is_fitted: bool,
    },
    /// How a composition was read.
    CompositionRead(CompositionNote),
    /// A bubble or dew point that is missing, and why.
    NoBranch(Branch, Error),
    /// Closer to the critical temperature than this share of it.
    NearCritical(f64),
    /// The liquid is two at this temperature and pressure, and both are answered.
    TwoLiquids(Temperature),
    /// Another liquid belongs beside the phases answered at this temperature and pressure.
    UnstableLiquid(Temperature),
    /// Below this temperature the equation of a component is extrapolated.
    ExtrapolatedComponent(String, Temperature),
    /// A station pressure far from the standard atmosphere of the elevation.
    StationPressure {
        /// The station pressure.
        given: Pressure,
        /// The standard atmosphere of the elevation.
        standard: Pressure,
    },
    /// Return air colder than the method allows: its temperature, the lowest allowed.
    ReturnAirTooCold(Temperature, Temperature),
    /// Outdoor air colder than the method allows: its temperature, the lowest allowed.
    OutdoorAirTooCold(Temperature, Temperature),
}

impl Warning {
    /// Short name, for programs.
    pub const fn code(&self) -> &'static str {
        match self {
            Self::CompositionNotFixed(_) => "composition_not_fixed",
            Self::EstimatedPair { .. } => "estimated_pair",
            Self::CompositionRead(_) => "composition_read",
            Self::NoBranch(..) => "no_branch",
            Self::NearCritical(_) => "near_critical",
            Self::TwoLiquids(_) | Self::UnstableLiquid(_) => "two_liquids",
            Self::ExtrapolatedComponent(..) => "extrapolated_component",
            Self::StationPressure { .. } => "station_pressure",
            Self::ReturnAirTooCold(..) | Self::OutdoorAirTooCold(..) => "condition_not_met",
        }
    }
}
