//! Superheat and subcooling, both sides of a system at once, and logs of them.

pub mod both_sides;
pub mod log;
pub mod measured;
pub mod superheat_subcooling;
