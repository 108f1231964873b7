//! The chart, its print forms and its pictures.

pub(crate) mod chart;
pub(crate) mod chart_args;
pub(crate) mod chart_rows;
pub(crate) mod exercise;
pub(crate) mod idle;
pub(crate) mod print;
pub(crate) mod recipe;
