//! Refrigerant properties and blend behaviour from published equations of state.
//!
//! [`Refrigerant`] is the face; the modules behind it can be used by themselves. What follows is
//! the README, so that its example is tested.
//!
#![doc = include_str!("../README.md")]

pub mod catalogue;
pub mod chart;
#[cfg(feature = "cli")]
pub mod cli;
pub mod curve;
pub mod equilibrium;
pub mod error;
pub mod helmholtz;
pub mod numeric;
pub mod output;
pub mod page;
pub mod process;
pub mod refrigerant;
pub mod service;
pub mod state;
pub mod units;
#[cfg(feature = "cli")]
pub mod validation;
pub mod warning;

pub use catalogue::Basis;
pub use equilibrium::Phase;
pub use equilibrium::bubble_dew::Branch;
pub use error::{Error, Result};
pub use refrigerant::{Given, ReferenceState, Refrigerant, StateRow};
pub use warning::Warning;
