//! Refrigerant properties and blend behavior from published equations of state: saturation, states,
//! what is read at a machine, cycles, leaks, charts.
//!
//! [`Refrigerant`] is where a question begins. What is asked of it comes back as typed answers
//! ([`service`], [`process`], [`chart`]), which [`page`] turns into documents and [`output`] into text,
//! CSV, JSON, HTML, SVG and PDF.
//!
//! # A line
//! ```
//! use zeotrope::{Refrigerant, units::Temperature};
//! let r134a = Refrigerant::named("R-134a")?;
//! let pressure = r134a.dew_pressure(Temperature::celsius(5.0))?;
//! // Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657: 0.34966 MPa
//! assert!((pressure.in_bar() - 3.4966).abs() < 1e-4);
//! # Ok::<(), zeotrope::Error>(())
//! ```
//!
//! # A state
//! ```
//! use zeotrope::{Given, ReferenceState, Refrigerant, units::{Pressure, Temperature}};
//! let r290 = Refrigerant::named("propane")?;
//! let given = Given::TemperaturePressure(Temperature::kelvin(300.0), Pressure::bar(5.0));
//! let state = &r290.state(given, ReferenceState::Iir)?[0];
//! assert_eq!(state.phase.name(), "vapor");
//! // an ideal gas would have 8.84 kg/m3; a real one at this pressure is denser
//! assert!(state.properties.density > 8.84 && state.properties.density < 11.0);
//! # Ok::<(), zeotrope::Error>(())
//! ```
//!
//! # A blend of one's own
//! ```
//! use zeotrope::{Basis, Refrigerant, units::Pressure};
//! let parts = [("R-32", 0.23), ("R-125", 0.25), ("R-134a", 0.52)];
//! let blend = Refrigerant::from_fractions(&parts, Basis::Mass)?;
//! assert_eq!(blend.designation(), "R-407C");
//! let at = Pressure::bar(1.01325);
//! let glide = blend.dew_temperature(at)? - blend.bubble_temperature(at)?;
//! // ASHRAE Handbook Fundamentals 2021, ch. 29, Table 2: -43.8 and -36.7 °C
//! assert!((glide.in_kelvin() - 7.1).abs() < 0.15);
//! # Ok::<(), zeotrope::Error>(())
//! ```
//!
//! # Units
//! SI by mass throughout: K, Pa, kg/m3, J/kg, J/(kg K). [`units::Temperature`] and
//! [`units::Pressure`] keep their unit inside; a pressure is absolute, and a gauge's reading becomes
//! one with an [`units::Atmosphere`]. Enthalpy and entropy count from a [`ReferenceState`] that every
//! answer names.
//!
//! # Errors
//! Every question answers with a [`Result`]. An [`Error`] says what is wrong and
//! [`Error::hint`] what to do about it; [`Error::kind`] decides without text. NaN is refused by name,
//! nothing panics, and what is not known is an error or a [`Warning`], never a guess in silence.
//!
//! # Features
//! `parallel` (columns on all cores), `pdf` (cards and walls), both on;
//! `serde` is always so: answers implement `Serialize` with the keys that the program's JSON has.

/// The README's example, so that it is tested.
#[cfg(doctest)]
#[doc = include_str!("../README.md")]
pub struct Readme;

#[macro_use]
mod phrase;

pub mod catalogue;
pub mod chart;
pub mod error;
pub mod output;
pub mod page;
pub mod process;
pub mod refrigerant;
pub mod service;
pub mod units;
pub mod validation;
pub mod warning;

// The engine's rooms: for the tests and benches of this package, and no part of its face.
#[doc(hidden)]
pub mod curve;
#[doc(hidden)]
pub mod equilibrium;
#[doc(hidden)]
pub mod helmholtz;
#[doc(hidden)]
pub mod numeric;
#[doc(hidden)]
pub mod state;

pub use catalogue::Basis;
pub use equilibrium::Phase;
pub use equilibrium::bubble_dew::Branch;
pub use error::{Error, ErrorKind, Result};
pub use refrigerant::{Given, ReferenceState, Refrigerant, StateRow};
pub use warning::Warning;
