//! Saturation, states, glide, conversions.

use super::Phrase;

phrases! {}
