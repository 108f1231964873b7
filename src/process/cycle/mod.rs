//! Vapor-compression cycles: what pressures, discharge temperature, effect and COP become with a
//! refrigerant at given temperatures.
//!
//! ```text
//! single stage   T0 = T_dew(p_e) + useful superheat       T1 from the suction superheat
//!                h2 = h1 + (h2s - h1)/eta                 T3 = T_bubble(p_3) - subcooling
//!                h4 = h3                                  q = h0 - h4
//! exchanger      T1 = T0 + eps (T3 - T0)                  h3' = h3 - (h1 - h0), h4 = h3'
//! open flash     m (h6v - h3) = h2 - h8                   m: flow of the high per kg of the low stage
//! economizer     (m - 1)(h9 - h3) = h3 - h8               m h5 = h2 + (m - 1) h9
//! COP cooling    q/w,  w = h2 - h1 or w = (h2 - h1) + m (h6 - h5)
//! COP heating    m (h of discharge - h3)/w
//! ```
//!
//! Steady flow, no kinetic energy, no heat lost by the compressor's shell (ASHRAE Handbook
//! Fundamentals, chapter 2). The evaporating pressure is that of the evaporator's outlet, the
//! condensing pressure that of the condenser's inlet; pressure drops lie between.

mod answer;
mod best;
mod comparison;
mod dome;
mod level;
mod levels;
mod options;
mod question;
mod running;
mod running_read;
mod single;
mod two_stage;

pub use answer::{Capacity, CycleAnswer, Place, Point, WetCompression};
pub use comparison::{Comparison, Entry, Relative, Stated, compare};
pub use levels::{HighSide, Levels, cycles, level_kinds, parse_gas_cooler};
pub use options::CycleOptions;
pub use question::{
    CoilTemperature, Cycle, Discharge, GasCoolerPressure, Level, Liquid, Stages, Suction,
};
pub use running::{
    Estimate, RunningContribution, RunningCycle, RunningLimits, RunningRead, RunningSource,
    running_cycle,
};
