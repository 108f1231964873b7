//! Two phases: the saturation line of a pure refrigerant, bubble and dew of a blend, flashes,
//! critical points and the phase envelope. A question a file.

pub mod critical;
pub mod pure;
