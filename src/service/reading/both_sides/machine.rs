//! The sides of a system and its air, and what they say together.

use serde::Serialize;

use crate::Result;
use crate::refrigerant::Refrigerant;
use crate::service::measurement::uncertainty::{
    Direction, ErrorLimits, ReadBranch, Uncertainty, uncertainty,
};
use crate::service::reading::superheat_subcooling::{Measure, Reading, ReadingMeaning};
use crate::units::{Pressure, Temperature};

/// Which way heat is pumped, so which coil does what.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Mode {
    /// The indoor coil evaporates, the outdoor coil condenses.
    #[default]
    Cooling,
    /// The indoor coil condenses, the outdoor coil evaporates.
    Heating,
}

/// What makes no sense for a machine that runs; a machine at rest may be read rightly and bear it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Doubt {
    /// The liquid pressure is not above the suction pressure.
    PressuresNotApart,
    /// The suction line is hotter than the liquid line.
    LinesSwapped,
    /// The suction line is colder than its bubble temperature.
    SuctionTooCold,
    /// The liquid line is hotter than its dew temperature.
    LiquidTooHot,
    /// Condensing below the air that cools it.
    CondensingBelowAir,
    /// Evaporating above the air that heats it.
    EvaporatingAboveAir,
}

impl Doubt {
    /// For programs.
    pub const fn name(self) -> &'static str {
        match self {
            Self::PressuresNotApart => "pressures_not_apart",
            Self::LinesSwapped => "lines_swapped",
            Self::SuctionTooCold => "suction_too_cold",
            Self::LiquidTooHot => "liquid_too_hot",
            Self::CondensingBelowAir => "condensing_below_air",
            Self::EvaporatingAboveAir => "evaporating_above_air",
        }
    }
}

/// What was read on one side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SideRead {
    /// Pressure.
    pub pressure: Pressure,
    /// Temperature of the line, where it was read.
    pub line: Option<Temperature>,
}

/// What was read of the air.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct AirRead {
    /// Entering the outdoor coil.
    pub ambient: Option<Temperature>,
    /// Entering the indoor coil.
    pub returning: Option<Temperature>,
    /// Leaving the indoor coil.
    pub supplied: Option<Temperature>,
    /// Wet bulb of the air that enters an evaporative condenser.
    pub wet_bulb: Option<Temperature>,
}

/// A side with its saturation temperatures.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadSide {
    /// Pressure.
    pub pressure: Pressure,
    /// Bubble temperature, where there is one.
    pub bubble: Option<Temperature>,
    /// Dew temperature, where there is one.
    pub dew: Option<Temperature>,
    /// Temperature of the line, where it was read.
    pub line: Option<Temperature>,
    /// Superheat or subcooling, where the line and the branch are known.
    pub reading: Option<Reading>,
    /// Whether this is heat rejected above the critical pressure: by a gas cooler, whose outlet the
    /// line is, and without a saturation temperature.
    pub is_supercritical: bool,
}

impl ReadSide {
    /// A side of which superheat (suction) or subcooling (liquid) is the measure.
    ///
    /// # Errors
    /// As [`Measure::saturation`] where the branch that the measure is relative to does not exist; a
    /// liquid side above the critical pressure is that of a gas cooler.
    pub fn new(refrigerant: &Refrigerant, measure: Measure, read: SideRead) -> Result<Self> {
        let critical = refrigerant.critical_point();
        let is_above = critical.is_some_and(|critical| read.pressure >= critical.pressure);
        if measure == Measure::Subcooling && is_above {
            return Ok(Self {
                pressure: read.pressure,
                bubble: None,
                dew: None,
                line: read.line,
                reading: None,
                is_supercritical: true,
            });
        }
        let saturation = measure.saturation(refrigerant, read.pressure)?;
        // A pure refrigerant has one saturation temperature.
        let other = match refrigerant.is_pure() {
            true => Some(saturation),
            false => measure.other(refrigerant, read.pressure),
        };
        let (bubble, dew) = match measure {
            Measure::Superheat => (other, Some(saturation)),
            Measure::Subcooling => (Some(saturation), other),
        };
        let reading = read
            .line
            .map(|line| Reading::with_branches(measure, read.pressure, line, saturation, other));
        Ok(Self {
            pressure: read.pressure,
            bubble,
            dew,
            line: read.line,
            reading,
            is_supercritical: false,
        })
    }

    /// The uncertainty of [`ReadSide::mean`] minus a thermometer's reading is; `limits.clamp` is that
    /// thermometer's.
    ///
    /// # Errors
    /// As [`uncertainty`].
    pub fn mean_uncertainty(
        &self,
        refrigerant: &Refrigerant,
        limits: &ErrorLimits,
    ) -> Result<Option<Uncertainty>> {
        let Some(nominal) = self.mean() else {
            return Ok(None);
        };
        let temperature = |pascal: f64| {
            let pressure = Pressure::pascal(pascal);
            let bubble = refrigerant.bubble_temperature(pressure)?;
            let dew = refrigerant.dew_temperature(pressure)?;
            Ok(0.5 * (bubble.in_kelvin() + dew.in_kelvin()))
        };
        let branch = ReadBranch {
            temperature: &temperature,
            pressure: self.pressure.in_pascal(),
            nominal: nominal.in_kelvin(),
            direction: Direction::Rises,
        };
        uncertainty(&branch, limits).map(Some)
    }

    /// (bubble + dew)/2.
    pub fn mean(&self) -> Option<Temperature> {
        let (bubble, dew) = (self.bubble?, self.dew?);
        Some(Temperature::kelvin(
            0.5 * (bubble.in_kelvin() + dew.in_kelvin()),
        ))
    }
}

/// What both sides and the air say together.
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::service::reading::both_sides::{AirRead, Machine, ReadSide, SideRead};
/// use zeotrope::service::reading::superheat_subcooling::Measure;
/// use zeotrope::units::{Pressure, Temperature};
/// let r134a = Refrigerant::named("R-134a")?;
/// let read = |bar, celsius| SideRead {
///     pressure: Pressure::bar(bar),
///     line: Some(Temperature::celsius(celsius)),
/// };
/// let machine = Machine {
///     suction: Some(ReadSide::new(&r134a, Measure::Superheat, read(3.4966, 12.0))?),
///     liquid: Some(ReadSide::new(&r134a, Measure::Subcooling, read(10.166, 35.0))?),
///     air: AirRead { ambient: Some(Temperature::celsius(30.0)), ..AirRead::default() },
///     ..Machine::default()
/// };
/// // Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657: 0.34966 MPa at 5 °C; 1.0166 MPa
/// // at 40 °C
/// assert!((machine.superheat().unwrap() - 7.0).abs() < 0.01);
/// assert!((machine.subcooling().unwrap() - 5.0).abs() < 0.02);
/// assert!((machine.pressure_ratio().unwrap() - 2.9074).abs() < 1e-4);
/// assert!((machine.condensing_over_air().unwrap() - 10.0).abs() < 0.02);
/// assert!(machine.marks(None, None).is_empty());
/// # Ok::<(), zeotrope::Error>(())
/// ```
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Machine {
    /// The suction side.
    pub suction: Option<ReadSide>,
    /// The liquid side.
    pub liquid: Option<ReadSide>,
    /// The air.
    pub air: AirRead,
    /// Which way heat is pumped.
    pub mode: Mode,
}

impl Machine {
    /// Superheat, K.
    pub fn superheat(&self) -> Option<f64> {
        Some(self.suction.as_ref()?.reading.as_ref()?.value)
    }

    /// Subcooling, K.
    pub fn subcooling(&self) -> Option<f64> {
        Some(self.liquid.as_ref()?.reading.as_ref()?.value)
    }

    /// Liquid pressure over suction pressure, both absolute.
    pub fn pressure_ratio(&self) -> Option<f64> {
        let (suction, liquid) = (self.suction.as_ref()?, self.liquid.as_ref()?);
        Some(liquid.pressure.in_pascal() / suction.pressure.in_pascal())
    }

    /// Standard and expanded uncertainty of the pressure ratio from limits of both pressures, Pa.
    ///
    /// u/r = sqrt(u_liquid^2/p_liquid^2 + u_suction^2/p_suction^2), GUM eq. 12, u = a/sqrt(3); the
    /// expanded figure is 2 u and never above the worst case.
    pub fn pressure_ratio_uncertainty(&self, suction: f64, liquid: f64) -> Option<[f64; 2]> {
        let ratio = self.pressure_ratio()?;
        let low = self.suction.as_ref()?.pressure.in_pascal();
        let high = self.liquid.as_ref()?.pressure.in_pascal();
        if suction >= low {
            return None;
        }
        let relative = ((liquid / high).powi(2) + (suction / low).powi(2)) / 3.0;
        let standard = ratio * relative.sqrt();
        let worst = (high + liquid) / (low - suction) - ratio;
        Some([standard, worst.min(2.0 * standard)])
    }

    /// Air that enters the condenser or gas cooler: of the outdoor coil in cooling, of the indoor
    /// coil in heating.
    pub const fn condenser_air(&self) -> Option<Temperature> {
        match self.mode {
            Mode::Cooling => self.air.ambient,
            Mode::Heating => self.air.returning,
        }
    }

    /// Air that enters the evaporator.
    pub const fn evaporator_air(&self) -> Option<Temperature> {
        match self.mode {
            Mode::Cooling => self.air.returning,
            Mode::Heating => self.air.ambient,
        }
    }

    /// (bubble + dew)/2 of the condenser above the air that enters it, K.
    pub fn condensing_over_air(&self) -> Option<f64> {
        Some((self.liquid.as_ref()?.mean()? - self.condenser_air()?).in_kelvin())
    }

    /// (bubble + dew)/2 of an evaporative condenser above the wet bulb that enters it, K.
    pub fn condensing_over_wet_bulb(&self) -> Option<f64> {
        Some((self.liquid.as_ref()?.mean()? - self.air.wet_bulb?).in_kelvin())
    }

    /// The outlet of a gas cooler, where there is one.
    pub fn gas_cooler_outlet(&self) -> Option<Temperature> {
        let side = self.liquid.as_ref().filter(|side| side.is_supercritical)?;
        side.line
    }

    /// The outlet of a gas cooler above the air that enters it, K.
    pub fn gas_cooler_approach(&self) -> Option<f64> {
        Some((self.gas_cooler_outlet()? - self.condenser_air()?).in_kelvin())
    }

    /// Whether the indoor coil warms its air.
    pub fn air_is_heated(&self) -> bool {
        let air = &self.air;
        air.supplied
            .zip(air.returning)
            .is_some_and(|(supplied, returning)| supplied > returning)
    }

    /// Air that enters the evaporator above its (bubble + dew)/2, K.
    pub fn air_over_evaporating(&self) -> Option<f64> {
        Some((self.evaporator_air()? - self.suction.as_ref()?.mean()?).in_kelvin())
    }

    /// By how much the indoor coil cools its air, or in heating warms it, K.
    pub fn air_difference(&self) -> Option<f64> {
        let cooled = (self.air.returning? - self.air.supplied?).in_kelvin();
        Some(match self.mode {
            Mode::Cooling => cooled,
            Mode::Heating => -cooled,
        })
    }

    /// What makes no sense for a machine that runs.
    ///
    /// A machine at rest may be read rightly and still bear a mark. The expanded intervals of
    /// superheat and subcooling, below and above, keep what is only unsure from being marked.
    pub fn marks(&self, superheat: Option<[f64; 2]>, subcooling: Option<[f64; 2]>) -> Vec<Doubt> {
        let mut marks = Vec::new();
        if self.pressure_ratio().is_some_and(|ratio| ratio <= 1.0) {
            marks.push(Doubt::PressuresNotApart);
        }
        let line = |side: &Option<ReadSide>| side.as_ref()?.line;
        let (suction, liquid) = (line(&self.suction), line(&self.liquid));
        let beyond = |value: Option<f64>| value.is_some_and(|value| value < 0.0);
        if let (Some(suction), Some(liquid)) = (suction, liquid)
            && suction > liquid
            && (beyond(self.superheat()) || beyond(self.subcooling()) || self.far_superheated())
        {
            marks.push(Doubt::LinesSwapped);
        }
        let not_possible = |side: &Option<ReadSide>, expanded| {
            side.as_ref()
                .and_then(|side| side.reading.as_ref())
                .is_some_and(|reading| reading.meaning(expanded) == ReadingMeaning::NotPossible)
        };
        if not_possible(&self.suction, superheat) {
            marks.push(Doubt::SuctionTooCold);
        }
        if not_possible(&self.liquid, subcooling) {
            marks.push(Doubt::LiquidTooHot);
        }
        if self.condensing_over_air().is_some_and(|over| over < 0.0) {
            marks.push(Doubt::CondensingBelowAir);
        }
        if self.air_over_evaporating().is_some_and(|over| over < 0.0) {
            marks.push(Doubt::EvaporatingAboveAir);
        }
        marks
    }

    /// A suction line nearer to the condenser's saturation temperature than to the evaporator's.
    fn far_superheated(&self) -> bool {
        let mean = |side: &Option<ReadSide>| side.as_ref().and_then(ReadSide::mean);
        let line = self
            .suction
            .as_ref()
            .and_then(|side| Some(side.reading.as_ref()?.line));
        match (line, mean(&self.suction), mean(&self.liquid)) {
            (Some(line), Some(low), Some(high)) => {
                (high - line).in_kelvin() < (line - low).in_kelvin()
            }
            _ => false,
        }
    }
}
