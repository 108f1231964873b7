//! Both sides of a cycle and the compression in one stage.

use super::answer::{Capacity, CycleAnswer, Place, Point};
use super::level::{error, inlet_mean, naming_point, outside, point, pressure, saturated};
use super::question::{
    CoilTemperature, Cycle, Discharge, GasCoolerPressure, Level, Liquid, Stages, Suction, is_above,
    refused,
};
use crate::process::reasons;
use crate::refrigerant::{Given, ReferenceState, Refrigerant};
use crate::units::{Pressure, Temperature, TemperatureDifference};
use crate::{Error, Result, Warning};

/// The side of the high pressure.
pub(super) struct High {
    pub(super) pressure: Pressure,
    pub(super) three: Point,
    /// Glide at the inlet's pressure and subcooling; `None` in a gas cooler.
    glide: Option<TemperatureDifference>,
    subcooling: Option<TemperatureDifference>,
    warnings: Vec<Warning>,
}

/// The evaporator and the suction line.
pub(super) struct Low {
    pub(super) pressure: Pressure,
    pub(super) zero: Point,
    pub(super) one: Point,
    pub(super) dew: Temperature,
    /// Entropy of the saturated vapor, J/(kg K).
    pub(super) dew_entropy: f64,
    reference: ReferenceState,
    warnings: Vec<Warning>,
}

/// What the compression makes of both sides.
pub(super) struct Compressed {
    /// Flow of the high stage per flow of the low one.
    pub(super) ratio: f64,
    /// Work per kg through the evaporator, J/kg.
    pub(super) work: f64,
    pub(super) intermediate: Option<Pressure>,
    /// Specific volume at the suction of the high stage, m3/kg.
    pub(super) high_volume: Option<f64>,
    /// What leaves the last stage.
    pub(super) last: Point,
    /// The points from the suction to the last discharge.
    pub(super) points: Vec<Point>,
    /// The points between condenser and evaporator.
    pub(super) between: Vec<Point>,
}

/// A cycle before the check of its compression.
pub(super) struct Solved {
    pub(super) high: High,
    pub(super) low: Low,
    four: Point,
    pub(super) compressed: Compressed,
    cycle: Cycle,
}

impl Cycle {
    pub(super) fn solved(&self, refrigerant: &Refrigerant) -> Result<Solved> {
        let high = self.high(refrigerant)?;
        let (at_outlet, four, cooled) = self.inlet(refrigerant, &high)?;
        let low = self.evaporator(refrigerant, &high, at_outlet)?;
        let compressed = match self.stages {
            Stages::One => {
                let one = low.one;
                let places = (Place::IdealDischarge, Place::Discharge);
                let (ideal, two) = self.compress(refrigerant, &one, high.pressure, places)?;
                Compressed {
                    ratio: 1.0,
                    work: two.enthalpy - one.enthalpy,
                    intermediate: None,
                    high_volume: None,
                    last: two,
                    points: vec![one, ideal, two],
                    between: cooled.into_iter().collect(),
                }
            }
            _ => self.in_two_stages(refrigerant, &high, &low)?,
        };
        Ok(Solved {
            high,
            low,
            four,
            compressed,
            cycle: *self,
        })
    }

    /// The evaporating pressure, what enters the evaporator, and the liquid behind a suction-line
    /// heat exchanger.
    fn inlet(
        &self,
        refrigerant: &Refrigerant,
        high: &High,
    ) -> Result<(Pressure, Point, Option<Point>)> {
        let below = |at_outlet: Pressure| {
            if at_outlet < high.pressure {
                return Ok(());
            }
            Err(refused(
                reasons::CYCLE_PRESSURES_EXCHANGED,
                "exchange them, or see which temperature of a coil is meant",
            ))
        };
        // where the inlet's enthalpy depends on no evaporating pressure
        if let Level::Temperature(mean, CoilTemperature::InletMean) = self.evaporating
            && (self.exchanger, self.stages) == (None, Stages::One)
            && let enthalpy = high.three.enthalpy
            && let Some((at_outlet, four)) =
                inlet_mean(refrigerant, mean, enthalpy, self.evaporator_drop)
        {
            below(at_outlet)?;
            return Ok((at_outlet, four, None));
        }
        // A mean is reached at no lower pressure than the dew point is; where that is too high
        // already, what enters would be no two phases.
        if let Level::Temperature(mean, CoilTemperature::InletMean) = self.evaporating
            && let Ok(dew) = refrigerant.dew_pressure(mean)
        {
            below(Pressure::pascal(dew.in_pascal() - self.evaporator_drop))?;
        }
        let inlet = |found: Pressure| {
            let (entering, _) = self.entering(refrigerant, high, found)?;
            Ok(entering.temperature)
        };
        let at_outlet = pressure(
            refrigerant,
            Place::EvaporatorOutlet,
            self.evaporating,
            self.evaporator_drop,
            inlet,
        )?;
        below(at_outlet)?;
        let (four, cooled) = self.entering(refrigerant, high, at_outlet)?;
        Ok((at_outlet, four, cooled))
    }

    fn high(&self, refrigerant: &Refrigerant) -> Result<High> {
        let three = Place::LiquidLine;
        let behind = |at_inlet: Pressure| {
            let left = at_inlet.in_pascal() - self.condenser_drop;
            if left > 0.0 {
                return Ok(Pressure::pascal(left));
            }
            Err(refused(
                reasons::CYCLE_DROP_AS_LARGE,
                "give a pressure difference, for example 10 kPa",
            ))
        };
        let level = match self.discharge {
            Discharge::Condenser(level) => level,
            Discharge::GasCooler { pressure, outlet } => {
                let GasCoolerPressure::At(at_inlet) = pressure else {
                    return Err(refused(reasons::CYCLE_NO_GAS_COOLER_PRESSURE, "give one"));
                };
                let given = Given::TemperaturePressure(outlet, behind(at_inlet)?);
                let three = point(refrigerant, three, given)?;
                self.above_critical(refrigerant, three.pressure)?;
                return Ok(High {
                    pressure: at_inlet,
                    three,
                    glide: None,
                    subcooling: None,
                    warnings: Vec::new(),
                });
            }
        };
        let unused = |_| Ok(Temperature::kelvin(0.0));
        let condensed = pressure(refrigerant, three, level, 0.0, unused)
            .and_then(|at_inlet| Ok((at_inlet, saturated(refrigerant, three, behind(at_inlet)?)?)));
        let (at_inlet, ends) = condensed.map_err(|failure| match failure {
            Error::CyclePoint { cause, .. } if is_above(refrigerant, level) => {
                let hint = "above the critical point nothing condenses: give the pressure and the \
                            outlet temperature of a gas cooler";
                error(three, *cause, Some(hint))
            }
            other => other,
        })?;
        let bubble = &ends.bubble;
        let glide = if self.condenser_drop == 0.0 {
            ends.glide()
        } else {
            let dew = naming_point(three, refrigerant.dew_temperature(at_inlet))?;
            dew - naming_point(three, refrigerant.bubble_temperature(at_inlet))?
        };
        let temperature = match self.liquid {
            None => bubble.temperature,
            Some(Liquid::Subcooling(by)) => bubble.temperature - by,
            Some(Liquid::Temperature(given)) => given,
        };
        if temperature > bubble.temperature {
            let coldest = refrigerant.limits().temperature_min;
            return Err(outside(
                three,
                "liquid temperature",
                temperature,
                (coldest, bubble.temperature),
                reasons::RANGE_TO_BUBBLE_OF_CONDENSER,
            ));
        }
        let liquid = if temperature == bubble.temperature {
            *bubble
        } else {
            let given = Given::TemperaturePressure(temperature, bubble.pressure);
            point(refrigerant, three, given)?
        };
        Ok(High {
            pressure: at_inlet,
            three: liquid,
            glide: Some(glide),
            subcooling: Some(bubble.temperature - temperature),
            warnings: ends.warnings,
        })
    }

    fn above_critical(&self, refrigerant: &Refrigerant, left: Pressure) -> Result<()> {
        match refrigerant.critical_point() {
            Some(critical) if left < critical.pressure => Err(refused(
                reasons::CYCLE_OUTLET_BELOW_CRITICAL,
                "give a condensing temperature or pressure instead",
            )),
            _ => Ok(()),
        }
    }

    /// What enters the evaporator at a pressure of its outlet, and the liquid behind a suction-line
    /// heat exchanger.
    fn entering(
        &self,
        refrigerant: &Refrigerant,
        high: &High,
        at_outlet: Pressure,
    ) -> Result<(Point, Option<Point>)> {
        let at_inlet = Pressure::pascal(at_outlet.in_pascal() + self.evaporator_drop);
        let (enthalpy, cooled) = match (self.exchanger, self.stages) {
            (Some(_), _) => {
                let low = self.evaporator(refrigerant, high, at_outlet)?;
                let enthalpy = high.three.enthalpy - (low.one.enthalpy - low.zero.enthalpy);
                let given = Given::PressureEnthalpy(high.three.pressure, enthalpy);
                let cooled = point(refrigerant, Place::SubcooledLiquid, given)?;
                (enthalpy, Some(cooled))
            }
            (None, Stages::One) => (high.three.enthalpy, None),
            (None, _) => (self.liquid_between(refrigerant, high, at_outlet)?, None),
        };
        let given = Given::PressureEnthalpy(at_inlet, enthalpy);
        Ok((point(refrigerant, Place::EvaporatorInlet, given)?, cooled))
    }

    /// The evaporator's outlet and the suction.
    fn evaporator(
        &self,
        refrigerant: &Refrigerant,
        high: &High,
        at_outlet: Pressure,
    ) -> Result<Low> {
        let ends = saturated(refrigerant, Place::EvaporatorOutlet, at_outlet)?;
        let dew = ends.dew;
        let vapor = |place, temperature: Temperature| {
            if temperature == dew.temperature {
                return Ok(Point { place, ..dew });
            }
            let given = Given::TemperaturePressure(temperature, at_outlet);
            point(refrigerant, place, given)
        };
        let leaving = dew.temperature + self.useful();
        let zero = vapor(Place::EvaporatorOutlet, leaving)?;
        let temperature = match (self.exchanger, self.suction) {
            (Some(effectiveness), _) => {
                let room = high.three.temperature - leaving;
                if room.in_kelvin() < 0.0 {
                    return Err(refused(
                        reasons::CYCLE_LIQUID_NOT_WARMER,
                        "leave out the exchanger, or the superheat or subcooling",
                    ));
                }
                leaving + TemperatureDifference::kelvin(effectiveness * room.in_kelvin())
            }
            (None, None) => leaving,
            (None, Some(Suction::Superheat(by))) => dew.temperature + by,
            (None, Some(Suction::Temperature(given))) => given,
        };
        if temperature < leaving {
            let hottest = refrigerant.limits().temperature_max;
            return Err(outside(
                Place::Suction,
                "suction temperature",
                temperature,
                (leaving, hottest),
                reasons::RANGE_FROM_EVAPORATOR_OUTLET,
            ));
        }
        let one = if temperature == leaving {
            Point {
                place: Place::Suction,
                ..zero
            }
        } else {
            vapor(Place::Suction, temperature)?
        };
        Ok(Low {
            pressure: at_outlet,
            zero,
            one,
            dew: dew.temperature,
            dew_entropy: dew.entropy,
            reference: ends.zero,
            warnings: ends.warnings,
        })
    }

    /// Isentropic and real state after a compression.
    pub(super) fn compress(
        &self,
        refrigerant: &Refrigerant,
        from: &Point,
        to: Pressure,
        (ideal, real): (Place, Place),
    ) -> Result<(Point, Point)> {
        let given = Given::PressureEntropy(to, from.entropy);
        let ideal = point(refrigerant, ideal, given)?;
        if self.efficiency == 1.0 {
            return Ok((
                ideal,
                Point {
                    place: real,
                    ..ideal
                },
            ));
        }
        let enthalpy = from.enthalpy + (ideal.enthalpy - from.enthalpy) / self.efficiency;
        let given = Given::PressureEnthalpy(to, enthalpy);
        Ok((ideal, point(refrigerant, real, given)?))
    }
}

impl Solved {
    /// Effect, J/kg.
    pub(super) fn effect(&self) -> f64 {
        self.low.zero.enthalpy - self.four.enthalpy
    }

    /// COP for cooling.
    pub(super) fn cop(&self) -> f64 {
        self.effect() / self.compressed.work
    }

    /// The answer, its compression checked.
    pub(super) fn finish(self, refrigerant: &Refrigerant) -> Result<CycleAnswer> {
        let wet_compression = self.cycle.wet_compression(refrigerant, &self)?;
        let (effect, cop) = (self.effect(), self.cop());
        if effect <= 0.0 {
            return Err(refused(
                reasons::CYCLE_NO_EFFECT,
                "cool the liquid further, or lower the condensing or gas-cooler temperature",
            ));
        }
        let Self {
            high,
            low,
            four,
            compressed,
            cycle,
        } = self;
        let Low { zero, one, .. } = low;
        let (three, last) = (high.three, compressed.last);
        let mean = |from: &Point, to: &Point| {
            let (h, s) = (to.enthalpy - from.enthalpy, to.entropy - from.entropy);
            Temperature::kelvin(h / s)
        };
        let rejected = compressed.ratio * (last.enthalpy - three.enthalpy);
        let flows = cycle.capacity.map(|watt| {
            let flow = watt / effect;
            let high_flow = compressed.ratio * flow;
            Capacity {
                capacity: watt,
                mass_flow: flow,
                high_mass_flow: high_flow,
                power: flow * compressed.work,
                rejected: flow * rejected,
                displacement: flow / one.density,
                high_displacement: compressed.high_volume.map(|volume| high_flow * volume),
            }
        });
        let mut warnings = refrigerant.warnings();
        for warning in high.warnings.into_iter().chain(low.warnings) {
            if !warnings.contains(&warning) {
                warnings.push(warning);
            }
        }
        let mut points = vec![zero];
        points.extend(&compressed.points);
        points.push(three);
        points.extend(&compressed.between);
        points.push(four);
        Ok(CycleAnswer {
            evaporating_pressure: low.pressure,
            condensing_pressure: high.pressure,
            intermediate_pressure: compressed.intermediate,
            pressure_ratio: high.pressure.in_pascal() / low.pressure.in_pascal(),
            effect,
            work: compressed.work,
            rejected,
            high_flow_ratio: compressed.ratio,
            suction_volume: 1.0 / one.density,
            volumetric_capacity: effect * one.density,
            discharge_temperature: last.temperature,
            cop_cooling: cop,
            cop_heating: rejected / compressed.work,
            evaporator_glide: low.dew - four.temperature,
            condenser_glide: high.glide,
            suction_superheat: one.temperature - low.dew,
            subcooling: high.subcooling,
            evaporator_entropic_mean: mean(&four, &zero),
            condenser_entropic_mean: mean(&three, &last),
            wet_compression,
            capacity: flows,
            points,
            reference: low.reference,
            warnings,
        })
    }
}
