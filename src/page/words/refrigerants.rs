//! Lists and what is known of a refrigerant; sources.

use super::Phrase;

phrases! {}
