//! The answer about a cycle.

use crate::phrase::Phrase;
use crate::process::reasons;
use serde::{Serialize, Serializer};

use crate::Warning;
use crate::refrigerant::ReferenceState;
use crate::units::{Pressure, Temperature, TemperatureDifference};

/// Where a point of a cycle lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs)] // `text` says where each lies
pub enum Place {
    EvaporatorOutlet,
    Suction,
    IdealDischarge,
    Discharge,
    LiquidLine,
    SubcooledLiquid,
    EvaporatorInlet,
    HighSuction,
    IdealHighDischarge,
    HighDischarge,
    IntermediateInlet,
    IntermediateLiquid,
    IntermediateVapor,
}

impl Place {
    /// Short name of the point.
    pub const fn name(self) -> &'static str {
        match self {
            Self::EvaporatorOutlet => "0",
            Self::Suction => "1",
            Self::IdealDischarge => "2s",
            Self::Discharge => "2",
            Self::LiquidLine => "3",
            Self::SubcooledLiquid => "3'",
            Self::EvaporatorInlet => "4",
            Self::HighSuction => "5",
            Self::IdealHighDischarge => "6s",
            Self::HighDischarge => "6",
            Self::IntermediateInlet => "7",
            Self::IntermediateLiquid => "8",
            Self::IntermediateVapor => "9",
        }
    }

    /// Where it lies.
    pub const fn phrase(self) -> Phrase {
        match self {
            Self::EvaporatorOutlet => reasons::CYCLE_AT_EVAPORATOR_OUTLET,
            Self::Suction => reasons::CYCLE_AT_SUCTION,
            Self::IdealDischarge => reasons::CYCLE_AT_IDEAL_DISCHARGE,
            Self::Discharge => reasons::CYCLE_AT_DISCHARGE,
            Self::LiquidLine => reasons::CYCLE_AT_LIQUID_LINE,
            Self::SubcooledLiquid => reasons::CYCLE_AT_SUBCOOLED_LIQUID,
            Self::EvaporatorInlet => reasons::CYCLE_AT_EVAPORATOR_INLET,
            Self::HighSuction => reasons::CYCLE_AT_HIGH_SUCTION,
            Self::IdealHighDischarge => reasons::CYCLE_AT_IDEAL_HIGH_DISCHARGE,
            Self::HighDischarge => reasons::CYCLE_AT_HIGH_DISCHARGE,
            Self::IntermediateInlet => reasons::CYCLE_AT_INTERMEDIATE_INLET,
            Self::IntermediateLiquid => reasons::CYCLE_AT_INTERMEDIATE_LIQUID,
            Self::IntermediateVapor => reasons::CYCLE_AT_INTERMEDIATE_VAPOR,
        }
    }
}

/// One point of a cycle: a full state.
///
/// # Units
/// SI by mass; enthalpy and entropy from the reference state of the answer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Where it lies.
    pub place: Place,
    /// Temperature.
    pub temperature: Temperature,
    /// Pressure.
    pub pressure: Pressure,
    /// Enthalpy, J/kg.
    pub enthalpy: f64,
    /// Entropy, J/(kg K).
    pub entropy: f64,
    /// Density, kg/m3.
    pub density: f64,
    /// Vapor's share of the mass in two phases.
    pub quality: Option<f64>,
}

/// A compression that passes through two phases.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WetCompression {
    /// The smallest superheat at the suction with which it stays dry; `None` where none was found
    /// in the range of the equations.
    pub dry_superheat: Option<TemperatureDifference>,
}

/// What a refrigerating capacity takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Capacity {
    /// The capacity, W.
    pub capacity: f64,
    /// Mass flow through the evaporator, kg/s.
    pub mass_flow: f64,
    /// Mass flow through the high stage, kg/s; that of the evaporator in one stage.
    pub high_mass_flow: f64,
    /// Power of the compression, W.
    pub power: f64,
    /// Heat rejected in the condenser or gas cooler, W.
    pub rejected: f64,
    /// Volume flow at the suction, m3/s.
    pub displacement: f64,
    /// Volume flow at the suction of the high stage, m3/s, in two stages.
    pub high_displacement: Option<f64>,
}

/// A cycle solved.
#[derive(Debug, Clone, PartialEq)]
pub struct CycleAnswer {
    /// Pressure at the evaporator's outlet.
    pub evaporating_pressure: Pressure,
    /// Pressure at the inlet of condenser or gas cooler.
    pub condensing_pressure: Pressure,
    /// Pressure between two stages.
    pub intermediate_pressure: Option<Pressure>,
    /// Condensing by evaporating pressure.
    pub pressure_ratio: f64,
    /// Refrigerating effect per kg through the evaporator, J/kg.
    pub effect: f64,
    /// Work of compression per kg through the evaporator, J/kg.
    pub work: f64,
    /// Heat rejected per kg through the evaporator, J/kg.
    pub rejected: f64,
    /// Flow of the high stage per flow of the evaporator; 1 in one stage.
    pub high_flow_ratio: f64,
    /// Specific volume at the suction, m3/kg.
    pub suction_volume: f64,
    /// Effect per suction volume, J/m3.
    pub volumetric_capacity: f64,
    /// Discharge temperature, of the high stage in two stages.
    pub discharge_temperature: Temperature,
    /// Effect by work.
    pub cop_cooling: f64,
    /// Heat rejected by work.
    pub cop_heating: f64,
    /// Dew temperature at the evaporator's outlet minus temperature at its inlet.
    pub evaporator_glide: TemperatureDifference,
    /// Dew minus bubble temperature at the condensing pressure; `None` in a gas cooler.
    pub condenser_glide: Option<TemperatureDifference>,
    /// Superheat at the suction.
    pub suction_superheat: TemperatureDifference,
    /// Subcooling at the condenser's outlet; `None` in a gas cooler.
    pub subcooling: Option<TemperatureDifference>,
    /// Entropic mean temperature dh/ds of the heat taken up in the evaporator.
    pub evaporator_entropic_mean: Temperature,
    /// Entropic mean temperature dh/ds of the heat rejected.
    pub condenser_entropic_mean: Temperature,
    /// Where the compression passes through two phases.
    pub wet_compression: Option<WetCompression>,
    /// What the capacity takes, where one was given.
    pub capacity: Option<Capacity>,
    /// The points, from the evaporator's outlet along the flow.
    pub points: Vec<Point>,
    /// The reference state of enthalpy and entropy.
    pub reference: ReferenceState,
    /// What to know about this answer.
    pub warnings: Vec<Warning>,
}

impl CycleAnswer {
    /// The dew temperature at the compressor's suction.
    pub fn suction_dew(&self) -> Option<Temperature> {
        let suction = self.point(Place::Suction)?;
        Some(suction.temperature - self.suction_superheat)
    }

    /// The point at a place, where the cycle has one.
    pub fn point(&self, place: Place) -> Option<&Point> {
        self.points.iter().find(|point| point.place == place)
    }
}

impl Serialize for Point {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)] // the keys as programs read them
        struct Keys {
            name: &'static str,
            place: &'static str,
            temperature_K: Temperature,
            pressure_Pa: Pressure,
            enthalpy_J_kg: f64,
            entropy_J_kg_K: f64,
            density_kg_m3: f64,
            quality: Option<f64>,
        }
        Keys {
            name: self.place.name(),
            place: self.place.phrase().english(),
            temperature_K: self.temperature,
            pressure_Pa: self.pressure,
            enthalpy_J_kg: self.enthalpy,
            entropy_J_kg_K: self.entropy,
            density_kg_m3: self.density,
            quality: self.quality,
        }
        .serialize(serializer)
    }
}

impl Serialize for CycleAnswer {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)] // the keys as programs read them
        struct Flows {
            capacity_W: f64,
            mass_flow_kg_s: f64,
            high_mass_flow_kg_s: f64,
            power_W: f64,
            heat_rejected_W: f64,
            displacement_m3_s: f64,
            high_displacement_m3_s: Option<f64>,
        }
        #[derive(Serialize)]
        #[allow(non_snake_case)] // the keys as programs read them
        struct Keys<'a> {
            evaporating_pressure_Pa: Pressure,
            condensing_pressure_Pa: Pressure,
            intermediate_pressure_Pa: Option<Pressure>,
            pressure_ratio: f64,
            refrigerating_effect_J_kg: f64,
            work_J_kg: f64,
            heat_rejected_J_kg: f64,
            high_flow_ratio: f64,
            suction_volume_m3_kg: f64,
            volumetric_capacity_J_m3: f64,
            discharge_temperature_K: Temperature,
            cop_cooling: f64,
            cop_heating: f64,
            evaporator_glide_K: TemperatureDifference,
            condenser_glide_K: Option<TemperatureDifference>,
            suction_superheat_K: TemperatureDifference,
            subcooling_K: Option<TemperatureDifference>,
            evaporator_entropic_mean_K: Temperature,
            condenser_entropic_mean_K: Temperature,
            wet_compression: bool,
            dry_superheat_K: Option<TemperatureDifference>,
            #[serde(flatten)]
            flows: Option<Flows>,
            points: &'a [Point],
            reference: ReferenceState,
        }
        Keys {
            evaporating_pressure_Pa: self.evaporating_pressure,
            condensing_pressure_Pa: self.condensing_pressure,
            intermediate_pressure_Pa: self.intermediate_pressure,
            pressure_ratio: self.pressure_ratio,
            refrigerating_effect_J_kg: self.effect,
            work_J_kg: self.work,
            heat_rejected_J_kg: self.rejected,
            high_flow_ratio: self.high_flow_ratio,
            suction_volume_m3_kg: self.suction_volume,
            volumetric_capacity_J_m3: self.volumetric_capacity,
            discharge_temperature_K: self.discharge_temperature,
            cop_cooling: self.cop_cooling,
            cop_heating: self.cop_heating,
            evaporator_glide_K: self.evaporator_glide,
            condenser_glide_K: self.condenser_glide,
            suction_superheat_K: self.suction_superheat,
            subcooling_K: self.subcooling,
            evaporator_entropic_mean_K: self.evaporator_entropic_mean,
            condenser_entropic_mean_K: self.condenser_entropic_mean,
            wet_compression: self.wet_compression.is_some(),
            dry_superheat_K: self.wet_compression.and_then(|wet| wet.dry_superheat),
            flows: self.capacity.map(|of| Flows {
                capacity_W: of.capacity,
                mass_flow_kg_s: of.mass_flow,
                high_mass_flow_kg_s: of.high_mass_flow,
                power_W: of.power,
                heat_rejected_W: of.rejected,
                displacement_m3_s: of.displacement,
                high_displacement_m3_s: of.high_displacement,
            }),
            points: &self.points,
            reference: self.reference,
        }
        .serialize(serializer)
    }
}
