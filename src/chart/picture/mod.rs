//! The pictures that go with a chart: what each shows, as numbers.

mod curves;

use super::Request;
use super::plot::Plot;
use crate::Result;

/// A kind of picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Saturation pressure against temperature, bubble and dew, on a logarithmic axis.
    Curves,
}

impl Kind {
    /// Every kind there is.
    pub const ALL: [Kind; 1] = [Kind::Curves];

    /// The name by which it is asked for.
    pub const fn name(self) -> &'static str {
        match self {
            Kind::Curves => "curves",
        }
    }
}

impl Plot {
    /// A picture of what a chart's request asks for.
    ///
    /// # Errors
    /// [`crate::Error::NoState`] where nothing of it can be drawn.
    pub fn new(kind: Kind, request: &Request) -> Result<Self> {
        match kind {
            Kind::Curves => curves::plot(request),
        }
    }
}
