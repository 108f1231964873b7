//! Superheat from a gauge and a clamp: what a firmware's loop does at every turn.
//!
//! Next to this file stands that of
//! `zeotrope lookup R-407C --for rust --output lookups`; nothing else is needed.
#![no_std]
#![allow(non_snake_case)]

pub mod zeotrope_r407c;

/// What the board's sensors read, and its display.
pub trait Board {
    /// Suction pressure above the atmosphere's.
    fn gauge_pressure_Pa(&mut self) -> f32;
    /// A barometer's, or that of the elevation set.
    fn atmospheric_pressure_Pa(&mut self) -> f32;
    /// The clamp on the suction line.
    fn line_temperature_K(&mut self) -> f32;
    /// Shows a superheat; none where the pressure is outside the range.
    fn show_superheat_K(&mut self, superheat: Option<f32>);
}

/// One turn. Superheat is relative to the dew temperature, never to the bubble temperature.
pub fn turn(board: &mut impl Board) {
    let pressure = board.gauge_pressure_Pa() + board.atmospheric_pressure_Pa();
    let dew = zeotrope_r407c::dew_temperature_K(pressure);
    let superheat = board.line_temperature_K() - dew;
    // Outside the range, or from a broken sensor, the dew temperature is NaN.
    board.show_superheat_K((!superheat.is_nan()).then_some(superheat));
}
