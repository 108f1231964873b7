//! Rows of a spreadsheet or a logger: how they are split, what their columns say, which answers
//! are asked for.

mod answers;
mod clock;
mod dialect;
mod file;
mod job;
mod record;
mod saturation;
mod states;
mod subjects;
mod table;
mod tally;

pub use answers::{Answers, Value};
pub use clock::{Clock, two_readings};
pub use dialect::{Decimal, Dialect};
pub(crate) use file::not_read;
pub use file::unreadable;
pub use file::{Progress, SheetFile, SheetQuestion, Source, columns_of_yaml};
pub use job::{Job, LineFormat, Reply};
pub use record::{Reader, Record, Slips};
pub use saturation::{SaturationRows, saturation_keys, saturation_values};
pub use states::StateRows;
pub use subjects::{Made, Subjects};
pub use table::table;
pub use tally::Tally;
