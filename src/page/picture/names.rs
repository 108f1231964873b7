//! What the lines and points of a picture are called.

use super::super::Style;
use super::super::words::charts::{COLUMN_BUBBLE, COLUMN_DEW};
use super::super::words::pictures::*;
use crate::chart::picture::{AxisQuantity, FluidKind, Isoline, Name, Part, Picture};
use crate::chart::plot::Ink;
use crate::units::{Pressure, Temperature, TemperatureDifference, fixed, short};

/// The words of a picture, in a style.
pub(super) struct Names<'a> {
    pub(super) answer: &'a Picture,
    pub(super) style: &'a Style,
}

impl Names<'_> {
    /// A name; empty where a line has none of its own.
    pub(super) fn text_of(&self, name: &Name) -> String {
        let style = self.style;
        match name {
            Name::None => String::new(),
            Name::Refrigerant(name) => name.clone(),
            Name::At(pressure) => self.pressure(*pressure),
            Name::AtTemperature(value) => self.degrees(*value, 4),
            Name::RefrigerantAt(name, pressure) => {
                let at = self.pressure(*pressure);
                let blanks = [("refrigerant", name.as_str()), ("pressure", &at)];
                style.say(PICTURE_NAME_AT, &blanks)
            }
            Name::Difference(value) => {
                let unit = self.answer.temperature_unit.difference_symbol();
                format!("{} {unit}", style.sign(short(*value, 4)))
            }
            Name::Isoline(kind, value) | Name::IsolineOf(_, kind, value) => {
                self.isoline(*kind, *value)
            }
            Name::Bubble => style.word(COLUMN_BUBBLE),
            Name::Dew => style.word(COLUMN_DEW),
            Name::CriticalPoint => style.word(PICTURE_CRITICAL),
            Name::Point(name, part, value) => {
                let phrase = match part {
                    Part::Bubble => PICTURE_POINT_BUBBLE,
                    _ => PICTURE_POINT_DEW,
                };
                let value = self.upward(*value);
                style.say(phrase, &[("refrigerant", name), ("value", &value)])
            }
            Name::Glide(value) => match self.answer.up {
                AxisQuantity::Temperature(unit) => {
                    let value = format!("{} {}", self.fixed(*value, 1), unit.difference_symbol());
                    style.say(PICTURE_GLIDE_NAME, &[("value", &value)])
                }
                _ => {
                    let unit = self.answer.pressure_unit.difference_symbol();
                    let value = format!("{} {unit}", style.sign(short(*value, 3)));
                    style.say(PICTURE_DISTANCE_NAME, &[("value", &value)])
                }
            },
            Name::Share(part, percent) => {
                let phrase = match part {
                    Part::Bubble => PICTURE_SHARE_LIQUID,
                    _ => PICTURE_SHARE_VAPOR,
                };
                style.say(phrase, &[("percent", &self.fixed(*percent, 1))])
            }
            Name::Azeotrope(percent, value) => {
                let (percent, value) = (self.fixed(*percent, 1), self.upward(*value));
                style.say(
                    PICTURE_AZEOTROPE,
                    &[("percent", &percent), ("value", &value)],
                )
            }
            Name::Fluid(kind) => self.fluid(*kind),
            Name::Approach(value) => {
                let unit = self.answer.temperature_unit.difference_symbol();
                let value = format!("{} {unit}", self.fixed(*value, 1));
                style.say(PICTURE_APPROACH, &[("value", &value)])
            }
        }
    }

    pub(super) fn fluid(&self, kind: FluidKind) -> String {
        self.style.word(match kind {
            FluidKind::Water => FLUID_WATER,
            _ => FLUID_AIR,
        })
    }

    fn isoline(&self, kind: Isoline, value: f64) -> String {
        let style = self.style;
        let value = style.sign(short(value, 4));
        let unit = self.answer.pressure_unit.absolute().typed();
        match kind {
            Isoline::Temperature => {
                format!("{value} {}", self.answer.temperature_unit.symbol())
            }
            Isoline::Pressure => format!("{value} {unit}"),
            Isoline::Enthalpy => style.say(PICTURE_ENTHALPY, &[("value", &value)]),
            Isoline::Entropy => style.say(PICTURE_ENTROPY, &[("value", &value)]),
            Isoline::Density => value,
            _ => style.say(PICTURE_QUALITY, &[("value", &value)]),
        }
    }

    /// A pressure as the picture was asked for it.
    pub(super) fn pressure(&self, pressure: Pressure) -> String {
        let unit = self.answer.pressure_unit;
        let value = short(unit.read(pressure, &self.answer.site), 4);
        format!("{} {}", self.style.sign(value), unit.typed())
    }

    /// A temperature in the picture's unit.
    pub(super) fn temperature(&self, at: Temperature) -> String {
        self.degrees(self.answer.temperature_unit.read(at), 4)
    }

    /// A difference of temperatures, to a tenth.
    pub(super) fn difference(&self, value: TemperatureDifference) -> String {
        let unit = self.answer.temperature_unit;
        let value = self.fixed(unit.read_difference(value), 1);
        format!("{value} {}", unit.difference_symbol())
    }

    fn degrees(&self, value: f64, digits: usize) -> String {
        let unit = self.answer.temperature_unit.symbol();
        format!("{} {unit}", self.style.sign(short(value, digits)))
    }

    /// A value on the vertical axis.
    pub(super) fn upward(&self, value: f64) -> String {
        match self.answer.up {
            AxisQuantity::Temperature(unit) => {
                format!("{} {}", self.fixed(value, 1), unit.symbol())
            }
            AxisQuantity::Pressure(unit) => {
                format!("{} {}", self.style.sign(short(value, 4)), unit.typed())
            }
            _ => self.style.sign(short(value, 4)),
        }
    }

    pub(super) fn fixed(&self, value: f64, decimals: usize) -> String {
        self.style.sign(fixed(value, decimals))
    }
}

/// The color of a kind of lines.
pub(in crate::page) const fn ink_of(kind: Isoline) -> Ink {
    match kind {
        Isoline::Temperature => Ink::Red,
        Isoline::Entropy | Isoline::Enthalpy => Ink::Green,
        Isoline::Density => Ink::Violet,
        Isoline::Quality => Ink::Blue,
        _ => Ink::Brown,
    }
}
