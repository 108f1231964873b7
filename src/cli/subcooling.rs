//! `subcooling`: a liquid line's temperature below the bubble temperature.

use super::args_reading::MeasureArgs;
use super::failure::Failure;
use super::measure;
use crate::output::Answer;
use crate::service::reading::Measure;

pub(super) fn answer(args: &MeasureArgs) -> Result<Answer, Failure> {
    measure::answer(Measure::Subcooling, args)
}
