//! The rows of a chart as typed, and the units that follow from them.

use crate::args::meant;
use crate::errors::Failure;
use crate::verbs::charts::chart_args::ChartArgs;
use zeotrope::chart::{Rows, RowsError, RowsPart, TypedRows};
use zeotrope::units::{Atmosphere, PressureUnit, UnitSet};

fn typed(args: &ChartArgs) -> TypedRows<'_> {
    TypedRows {
        from: args.from.as_deref(),
        to: args.to.as_deref(),
        step: args.step.as_deref(),
        temperatures: &args.temperatures,
        pressures: &args.pressures,
    }
}

/// What the rows are, and the units that follow from how they were typed.
pub(crate) fn rows(args: &ChartArgs, site: &Atmosphere) -> Result<(Rows, UnitSet), Failure> {
    let asked = &args.asked.units;
    let units = |scale, unit| meant::units(asked, scale, unit);
    typed(args).rows(units, asked.units.is_none(), site)
}

/// The rows of a second table, by pressure, where both kinds are asked for.
pub(crate) fn second(
    args: &ChartArgs,
    rows: &Rows,
    unit: PressureUnit,
    site: &Atmosphere,
) -> Result<Option<Rows>, Failure> {
    Ok(typed(args).second(rows, unit, site)?)
}

impl From<RowsError> for Failure {
    fn from(error: RowsError) -> Self {
        match error {
            RowsError::Part(part, error) => Self::from(error).of_option(match part {
                RowsPart::From => "--from",
                RowsPart::To => "--to",
                RowsPart::Step => "--step",
                RowsPart::Temperatures => "--temperatures",
                RowsPart::Pressures => "--pressures",
            }),
            RowsError::OneEnd => Self::usage(
                "--from and --to go together",
                "give both, for example --from -40F --to 150F --step 5F",
            ),
            RowsError::Reversed(from) => Self::usage(
                format!("--from {from} lies above --to"),
                "give the lower end as --from and the upper end as --to",
            ),
            RowsError::NoStep => Self::usage(
                "rows by pressure need a --step",
                "give it as a difference of pressures, for example --step 10psi or --step 0.5bar",
            ),
            RowsError::CountsDown => Self::usage(
                "rows in inches of mercury vacuum would count downwards",
                "give the rows in psig, psia or inHga",
            ),
            RowsError::Rows(error) => error.into(),
        }
    }
}
