//! Hazards, exposure and warming.

use super::Phrase;

phrases! {}
