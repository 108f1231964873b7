//! Composition shift: what a leak, a draw or a top-up does to a blend.
//!
//! Vapor or liquid is lost slowly at one temperature, in equilibrium with what is left: from a
//! rigid vessel, whose vapor space grows, or without vapor space (Rayleigh's distillation, Phil.
//! Mag. 4 (1902) 521). A running system loses what circulates in it, which is nearer to the whole
//! (common practice, no source).

mod answer;
mod book;
mod deviations;
mod flammable;
mod left;
mod lines;
mod question;
mod refill;
mod tilt;
mod tolerance;
mod trace;
mod uncertainty;
mod vessel;

pub use answer::{Peak, Peaks, Shift, loss};
pub use book::{Round, Row, VaporUncertainty};
pub use left::{Was, lens};
pub use question::{End, Leaving, LossQuestion, Refill, Until};
pub use tolerance::{Corners, OverCorners, Range};
pub use uncertainty::VaporPairs;
