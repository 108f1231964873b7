//! Vessels at rest, tests, vacuum, cylinders.

use super::Phrase;

phrases! {}
