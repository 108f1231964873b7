//! Superheat, subcooling, both sides, logs.

use super::Phrase;

phrases! {}
