//! All integration tests in one binary: a link is dear.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod catalogue_compositions;
mod catalogue_embedded;
mod catalogue_samples;
mod catalogue_spelling;
mod catalogue_user_files;
mod derivatives;
mod dual_equation;
mod published_values;
mod units;
