//! What a refrigerant undergoes.

pub(crate) mod cycle;
pub(crate) mod cycle_levels;
pub(crate) mod loss;
pub(crate) mod pipe;
pub(crate) mod riser;
