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
mod moist_air;
mod nitrogen_and_vacuum;
mod program;
mod program_answers;
mod program_csv;
mod program_csv_streams;
mod program_errors;
mod program_files;
mod program_help;
mod program_random;
mod published_values;
mod readings;
mod readings_log;
mod readings_unsure;
mod saturation;
mod service_questions;
mod states_of_blends;
mod states_of_pures;
mod target_superheat;
mod tolerance;
mod trust;
mod units;
mod vessels;
