//! `superheat`: a suction line's temperature above the dew temperature.

use crate::cli::args::reading::MeasureArgs;
use crate::cli::errors::Failure;
use crate::cli::verbs::readings::measure;
use crate::page::Document;
use crate::service::reading::superheat_subcooling::Measure;

pub(crate) fn answer(args: &MeasureArgs) -> Result<Document, Failure> {
    measure::answer(Measure::Superheat, args)
}
