//! All integration tests in one binary: a link is dear.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod batch;
mod blends;
mod catalogue_compositions;
mod catalogue_embedded;
mod catalogue_samples;
mod catalogue_spelling;
mod catalogue_user_files;
mod coil;
mod derivatives;
mod dual_equation;
mod ideal;
mod print;
mod print_cells;
mod print_choices;
mod print_digits;
mod print_layout;
mod print_pictures;
mod program;
mod program_answers;
mod program_csv;
mod program_errors;
mod program_files;
mod program_help;
mod program_random;
mod published_values;
mod saturation;
mod states_of_blends;
mod states_of_pures;
mod tolerance;
mod units;
