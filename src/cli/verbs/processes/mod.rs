//! What a refrigerant undergoes.

pub(crate) mod draw;
pub(crate) mod leak;
mod loss;
