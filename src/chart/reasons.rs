//! What reasons of charts, pictures and lookups are called.

use crate::phrase::Phrase;

phrases! {
    CELLS_ALL_EMPTY = "no cell of this chart lies on a saturation line";
    DRAWN_NO_LINE = "no saturation line crosses the rows of this picture";
    DRAWN_NOTHING_OF_COIL = "no point of this coil has an answer";
    DRAWN_NOTHING_OF_DOME = "no point of this dome has an answer";
    DRAWN_NOTHING_OF_LENS = "no point of this lens has an answer";
    DRAWN_NOTHING_OF_TRIANGLE = "no point of this triangle has an answer";
    DRAWN_SAME_COMPONENTS = "two components are the same";
    LOOKUP_ESTIMATED = "{warning}";
    LOOKUP_LINES = "lines of {refrigerant}, up to its critical point";
    LOOKUP_NO_LINE = "the line of {refrigerant} is not answered at {at}";
    LOOKUP_NO_FORM = "no form of {quantity} of {refrigerant} holds the resolution";
}
