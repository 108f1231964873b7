//! What reasons of the comparison with published tables are called.

use crate::phrase::Phrase;

phrases! {
    TABLE_NO_PROPERTY = "property '{property}' is not one of the table's";
    TABLE_NO_ENVELOPE = "the envelope could not be traced";
    TABLE_SEVERAL_STATES = "{count} states answer";
    TABLE_BEYOND_RANGE = "beyond the equation's range, and not above its critical point";
    TABLE_NO_SUCH_ROW = "the table has no such row of a blend";
    TABLE_NO_SIDE = "no such side of the saturation line";
    TABLE_NO_STATE = "the row does not say its state";
}
