//! Rows of a spreadsheet or a logger: how they are split, what their columns say, which answers
//! are asked for.

mod answers;
mod dialect;
mod record;
mod saturation;

pub use answers::{Answers, Value};
pub use dialect::{Decimal, Dialect};
pub(crate) use record::write_cell;
pub use record::{Reader, Record, Slips};
pub use saturation::{SaturationRows, saturation_keys, saturation_values};
