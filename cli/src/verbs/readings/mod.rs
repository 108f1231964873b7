//! Superheat and subcooling, one side or both, once or as a log.

pub(crate) mod instruments;
pub(crate) mod measure;
pub(crate) mod reading;
pub(crate) mod reading_log;
