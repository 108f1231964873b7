//! Moist air and target superheat.

use super::Phrase;

phrases! {}
