//! Exposure and warming figures.

pub(crate) mod exposure;
