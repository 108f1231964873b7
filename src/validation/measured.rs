//! Measured bubble points of binary pairs.
