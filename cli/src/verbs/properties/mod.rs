//! Saturation, states and glide; units converted.

pub(crate) mod convert;
pub(crate) mod glide;
pub(crate) mod saturation;
pub(crate) mod state;
