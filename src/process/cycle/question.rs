//! The question about a cycle.

use crate::phrase::Phrase;
use crate::process::reasons;
use serde::{Serialize, Serializer};

use super::answer::CycleAnswer;
use crate::refrigerant::Refrigerant;
use crate::units::{Pressure, Temperature, TemperatureDifference};
use crate::{Error, Result};

/// Which temperature of a coil is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CoilTemperature {
    /// (inlet + dew)/2, of an evaporator alone.
    InletMean,
    /// (bubble + dew)/2.
    Mean,
    /// The dew point.
    Dew,
    /// The bubble point.
    Bubble,
}

impl CoilTemperature {
    /// Its name, for programs.
    pub const fn name(self) -> &'static str {
        match self {
            Self::InletMean => "inlet-mean",
            Self::Mean => "mean",
            Self::Dew => "dew",
            Self::Bubble => "bubble",
        }
    }
}

impl Serialize for CoilTemperature {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        serializer.serialize_str(self.name())
    }
}

/// What sets the pressure of an evaporator or condenser.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Level {
    /// A temperature of a kind.
    Temperature(Temperature, CoilTemperature),
    /// The pressure itself.
    Pressure(Pressure),
}

impl Level {
    /// At a dew temperature.
    pub const fn dew(temperature: Temperature) -> Self {
        Self::Temperature(temperature, CoilTemperature::Dew)
    }
    /// At a bubble temperature.
    pub const fn bubble(temperature: Temperature) -> Self {
        Self::Temperature(temperature, CoilTemperature::Bubble)
    }
    /// At a mean of bubble and dew temperature.
    pub const fn mean(temperature: Temperature) -> Self {
        Self::Temperature(temperature, CoilTemperature::Mean)
    }
    /// At a mean of an evaporator's inlet and dew temperature.
    pub const fn inlet_mean(temperature: Temperature) -> Self {
        Self::Temperature(temperature, CoilTemperature::InletMean)
    }
}

/// Pressure of a gas cooler.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GasCoolerPressure {
    /// Given.
    At(Pressure),
    /// That at which the COP for cooling is highest.
    Best,
}

/// Where the heat is rejected.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Discharge {
    /// In a condenser.
    Condenser(Level),
    /// In a gas cooler, above the critical pressure.
    GasCooler {
        /// Its pressure, at its inlet.
        pressure: GasCoolerPressure,
        /// Temperature of what leaves it.
        outlet: Temperature,
    },
}

/// What enters the compressor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Suction {
    /// Superheat above the dew temperature at the suction pressure, the useful part included.
    Superheat(TemperatureDifference),
    /// The temperature itself.
    Temperature(Temperature),
}

/// What leaves the condenser.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Liquid {
    /// Subcooling below the bubble temperature at the condenser's outlet pressure.
    Subcooling(TemperatureDifference),
    /// The temperature itself.
    Temperature(Temperature),
}

/// How the vapor is compressed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stages {
    /// In one stage.
    One,
    /// In two stages with an open flash intercooler: the vapor of the first stage is cooled to
    /// saturation in the vessel in which the liquid is flashed.
    OpenFlash {
        /// Pressure of the vessel; the geometric mean of suction and discharge where not given.
        intermediate: Option<Pressure>,
    },
    /// In two stages with an economizer: a part of the liquid evaporates at the intermediate
    /// pressure, cools the rest, and joins the vapor of the first stage as saturated vapor.
    Economizer {
        /// Intermediate pressure; the geometric mean of suction and discharge where not given.
        intermediate: Option<Pressure>,
        /// How far above the evaporating part's inlet the liquid is cooled.
        approach: TemperatureDifference,
    },
}

/// The question: a vapor-compression cycle, in words of its own.
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::process::cycle::{Cycle, Level};
/// use zeotrope::units::{Temperature, TemperatureDifference};
/// let r407c = Refrigerant::named("R-407C")?;
/// let evaporating = Level::dew(Temperature::celsius(0.0));
/// let condensing = Level::bubble(Temperature::celsius(40.0));
/// let found = Cycle::between(evaporating, condensing)
///     .superheat(TemperatureDifference::kelvin(5.0))
///     .subcooling(TemperatureDifference::kelvin(3.0))
///     .efficiency(0.7)
///     .solve(&r407c)?;
/// // a general-purpose open library gives 3.325
/// assert!((found.cop_cooling - 3.325).abs() < 0.001);
/// # Ok::<(), zeotrope::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[must_use]
pub struct Cycle {
    pub(crate) evaporating: Level,
    pub(crate) discharge: Discharge,
    /// What is taken in place of a condenser above the critical point.
    pub(crate) beyond: Option<(GasCoolerPressure, Temperature)>,
    pub(crate) useful_superheat: Option<TemperatureDifference>,
    pub(crate) suction: Option<Suction>,
    pub(crate) liquid: Option<Liquid>,
    pub(crate) efficiency: f64,
    pub(crate) exchanger: Option<f64>,
    pub(crate) evaporator_drop: f64,
    pub(crate) condenser_drop: f64,
    pub(crate) stages: Stages,
    pub(crate) capacity: Option<f64>,
}

impl Cycle {
    /// A cycle without superheat, subcooling or pressure drop, compressed isentropically in one
    /// stage.
    pub const fn between(evaporating: Level, condensing: Level) -> Self {
        Self::with(evaporating, Discharge::Condenser(condensing))
    }

    /// As [`Cycle::between`], with a gas cooler above the critical pressure.
    pub const fn transcritical(
        evaporating: Level,
        pressure: GasCoolerPressure,
        outlet: Temperature,
    ) -> Self {
        Self::with(evaporating, Discharge::GasCooler { pressure, outlet })
    }

    /// A gas cooler in place of the condenser for a refrigerant whose critical point lies below the
    /// condensing level, for one question to refrigerants of both kinds.
    ///
    /// # Example
    /// ```
    /// use zeotrope::Refrigerant;
    /// use zeotrope::process::cycle::{Cycle, GasCoolerPressure, Level};
    /// use zeotrope::units::{Pressure, Temperature};
    /// let condensing = Level::dew(Temperature::celsius(40.0));
    /// let cycle = Cycle::between(Level::dew(Temperature::celsius(-5.0)), condensing)
    ///     .or_gas_cooler(GasCoolerPressure::At(Pressure::bar(90.0)), Temperature::celsius(35.0));
    /// let high = |name| Ok::<_, zeotrope::Error>(
    ///     cycle.solve(&Refrigerant::named(name)?)?.condensing_pressure.in_bar());
    /// assert!((high("R-744")? - 90.0).abs() < 1e-9);
    /// // CoolProp 8.0.0, a cross-check: 13.69 bar at 40 °C
    /// assert!((high("R-290")? - 13.69).abs() < 0.01);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub const fn or_gas_cooler(mut self, pressure: GasCoolerPressure, outlet: Temperature) -> Self {
        self.beyond = Some((pressure, outlet));
        self
    }

    /// The cycle as it is for a refrigerant: with its condenser, or with the gas cooler that stands
    /// for it.
    pub(super) fn settled(&self, refrigerant: &Refrigerant) -> Self {
        match (self.discharge, self.beyond) {
            (Discharge::Condenser(level), Some((pressure, outlet)))
                if is_above(refrigerant, level) =>
            {
                Self {
                    discharge: Discharge::GasCooler { pressure, outlet },
                    ..*self
                }
            }
            _ => *self,
        }
    }

    const fn with(evaporating: Level, discharge: Discharge) -> Self {
        Self {
            evaporating,
            discharge,
            beyond: None,
            useful_superheat: None,
            suction: None,
            liquid: None,
            efficiency: 1.0,
            exchanger: None,
            evaporator_drop: 0.0,
            condenser_drop: 0.0,
            stages: Stages::One,
            capacity: None,
        }
    }

    /// Superheat inside the evaporator: its heat counts as refrigerating effect. Where not given,
    /// all of a superheat at the suction is useful, and nothing of what a suction temperature
    /// makes.
    pub const fn useful_superheat(mut self, superheat: TemperatureDifference) -> Self {
        self.useful_superheat = Some(superheat);
        self
    }

    /// Superheat at the compressor's suction, the useful part included; that alone where not
    /// given.
    pub const fn superheat(mut self, superheat: TemperatureDifference) -> Self {
        self.suction = Some(Suction::Superheat(superheat));
        self
    }

    /// Temperature at the compressor's suction, instead of a superheat.
    pub const fn suction_temperature(mut self, temperature: Temperature) -> Self {
        self.suction = Some(Suction::Temperature(temperature));
        self
    }

    /// Subcooling at the condenser's outlet.
    pub const fn subcooling(mut self, subcooling: TemperatureDifference) -> Self {
        self.liquid = Some(Liquid::Subcooling(subcooling));
        self
    }

    /// Temperature of the liquid at the condenser's outlet, instead of a subcooling.
    pub const fn liquid_temperature(mut self, temperature: Temperature) -> Self {
        self.liquid = Some(Liquid::Temperature(temperature));
        self
    }

    /// Isentropic efficiency of the compression, of each stage; above 0 up to 1.
    pub const fn efficiency(mut self, efficiency: f64) -> Self {
        self.efficiency = efficiency;
        self
    }

    /// A heat exchanger between liquid and suction line, by its effectiveness, 0 to 1: the
    /// suction's rise in temperature as a share of the largest possible.
    pub const fn suction_line_exchanger(mut self, effectiveness: f64) -> Self {
        self.exchanger = Some(effectiveness);
        self
    }

    /// Pressure drop along the evaporator, Pa: its inlet lies that much above its outlet.
    pub const fn evaporator_drop(mut self, pascal: f64) -> Self {
        self.evaporator_drop = pascal;
        self
    }

    /// Pressure drop along the condenser or gas cooler, Pa.
    pub const fn condenser_drop(mut self, pascal: f64) -> Self {
        self.condenser_drop = pascal;
        self
    }

    /// Compression in more than one stage.
    pub const fn stages(mut self, stages: Stages) -> Self {
        self.stages = stages;
        self
    }

    /// Refrigerating capacity, W, for flow, power and displacement.
    pub const fn capacity(mut self, watt: f64) -> Self {
        self.capacity = Some(watt);
        self
    }

    /// Solves the cycle for a refrigerant.
    ///
    /// # Errors
    /// [`Error::CyclePoint`] for a point that has no state, with the reason, among them a suction
    /// below its dew temperature and a liquid above its bubble temperature; [`Error::NoAnswer`]
    /// for an efficiency not above 0 up to 1, an effectiveness not from 0 to 1, a negative
    /// superheat, subcooling, drop or approach, a capacity not above 0, a suction superheat
    /// smaller than the useful part or beside a suction-line heat exchanger, an inlet mean of a
    /// condenser, a condensing not above the evaporating pressure, an intermediate pressure not
    /// between them, an open flash intercooler for a blend with glide, and two stages with a
    /// suction-line heat exchanger, and a best pressure of the gas cooler that lies below the
    /// critical pressure or above three times it.
    pub fn solve(&self, refrigerant: &Refrigerant) -> Result<CycleAnswer> {
        self.check()?;
        let cycle = self.settled(refrigerant);
        match cycle.discharge {
            Discharge::GasCooler {
                pressure: GasCoolerPressure::Best,
                outlet,
            } => cycle.at_best_pressure(refrigerant, outlet),
            _ => cycle.solved(refrigerant)?.finish(refrigerant),
        }
    }

    /// The superheat inside the evaporator.
    pub fn useful(&self) -> TemperatureDifference {
        match (self.useful_superheat, self.suction) {
            (Some(given), _) => given,
            (None, Some(Suction::Superheat(all))) => all,
            (None, _) => TemperatureDifference::kelvin(0.0),
        }
    }

    fn check(&self) -> Result<()> {
        let kelvin = |amount: TemperatureDifference| amount.in_kelvin();
        let mut amounts = vec![
            kelvin(self.useful()),
            self.evaporator_drop,
            self.condenser_drop,
        ];
        if let Some(Suction::Superheat(superheat)) = self.suction {
            amounts.push(kelvin(superheat));
        }
        if let Some(Liquid::Subcooling(subcooling)) = self.liquid {
            amounts.push(kelvin(subcooling));
        }
        if let Stages::Economizer { approach, .. } = self.stages {
            amounts.push(kelvin(approach));
        }
        let is_amount = |amount: &f64| amount.is_finite() && *amount >= 0.0;
        if !amounts.iter().all(is_amount) {
            return Err(refused(reasons::CYCLE_NEGATIVE, "give 0 or more"));
        }
        if !(self.efficiency > 0.0 && self.efficiency <= 1.0) {
            return Err(refused(
                reasons::CYCLE_EFFICIENCY_OUTSIDE,
                "give for example 70 %",
            ));
        }
        if self
            .capacity
            .is_some_and(|watt| !(watt.is_finite() && watt > 0.0))
        {
            return Err(refused(
                reasons::CYCLE_CAPACITY_NOT_ABOVE,
                "give for example 10 kW",
            ));
        }
        if let Some(effectiveness) = self.exchanger {
            if !(0.0..=1.0).contains(&effectiveness) {
                return Err(refused(
                    reasons::CYCLE_EFFECTIVENESS_OUTSIDE,
                    "give for example 50 %",
                ));
            }
            if self.suction.is_some() {
                return Err(refused(
                    reasons::CYCLE_EXCHANGER_SETS_SUCTION,
                    "leave out the superheat or temperature at the suction; the useful superheat \
                     may stay",
                ));
            }
            if self.stages != Stages::One {
                return Err(refused(
                    reasons::CYCLE_EXCHANGER_OF_ONE_STAGE,
                    "leave out the exchanger or the second stage",
                ));
            }
        }
        if let Some(Suction::Superheat(superheat)) = self.suction
            && superheat < self.useful()
        {
            return Err(refused(
                reasons::CYCLE_SUPERHEAT_BELOW_USEFUL,
                "the superheat at the suction includes the useful superheat",
            ));
        }
        if let Discharge::Condenser(Level::Temperature(_, CoilTemperature::InletMean)) =
            self.discharge
        {
            return Err(refused(
                reasons::CYCLE_INLET_MEAN_OF_CONDENSER,
                "use the mean, dew or bubble temperature for the condenser",
            ));
        }
        Ok(())
    }
}

/// Whether a level lies above a refrigerant's critical point.
pub(super) fn is_above(refrigerant: &Refrigerant, level: Level) -> bool {
    let critical = refrigerant.critical_point();
    critical.is_some_and(|critical| match level {
        Level::Pressure(given) => given >= critical.pressure,
        Level::Temperature(given, _) => given >= critical.temperature,
    })
}

pub(super) fn refused(reason: Phrase, hint: &str) -> Error {
    Error::NoAnswer {
        reason: reason.into(),
        hint: hint.into(),
    }
}
