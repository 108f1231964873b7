//! Charts, cards and pictures.

use super::Phrase;

phrases! {}
