//! Both sides of a system read at once: what the pressures, lines and air mean together.

use serde::{Serialize, Serializer};

use crate::refrigerant::Refrigerant;
use crate::service::facts::{Facts, Identity, Model};
use crate::service::measurement::decision::{Decision, Target};
use crate::service::measurement::gauge_reading::GaugeReading;
use crate::service::measurement::kit::Kit;
use crate::service::measurement::uncertainty::{ErrorLimits, Uncertainty, UncertaintyKeys};
use crate::service::reading::measured::Value;
use crate::service::reading::superheat_subcooling::{Measure, ReadingMeaning};
use crate::units::{Atmosphere, Pressure, Temperature};
use crate::{Error, Result};

mod machine;

pub use machine::{AirRead, Doubt, Machine, Mode, ReadSide, SideRead};

/// A side as its gauge and clamp showed it.
#[derive(Debug, Clone, PartialEq)]
pub struct SideAsked {
    /// The pressure.
    pub read: GaugeReading,
    /// Temperature of the line, where it was read.
    pub line: Option<Temperature>,
    /// The superheat or subcooling that is wanted, and its band.
    pub target: Option<Target>,
}

/// Both sides as they were read.
#[derive(Debug, Clone, PartialEq)]
pub struct BothSidesQuestion {
    /// The suction side.
    pub suction: Option<SideAsked>,
    /// The liquid side.
    pub liquid: Option<SideAsked>,
    /// The air.
    pub air: AirRead,
    /// Which way heat is pumped; cooling where it was not said.
    pub mode: Option<Mode>,
    /// Limit of the air thermometers, K.
    pub air_limit: Option<f64>,
    /// Whether a blend counts as exactly its nominal composition.
    pub nominal_composition: bool,
    /// The kit they were read with.
    pub kit: Kit,
    /// The local atmospheric pressure.
    pub site: Atmosphere,
}

/// A side as read and as found.
#[derive(Debug, Clone, PartialEq)]
pub struct SideFound {
    /// The pressure.
    pub read: GaugeReading,
    /// What it says.
    pub side: ReadSide,
    /// The uncertainty of the superheat or subcooling, where any accuracy is known.
    pub uncertainty: Option<Uncertainty>,
    /// Why nothing bounds it, where an accuracy is known and there is no uncertainty.
    pub unbounded: Option<Error>,
    /// The verdict, where there is a target.
    pub decision: Option<Decision>,
    limits: ErrorLimits,
}

impl SideFound {
    fn new(
        refrigerant: &Refrigerant,
        measure: Measure,
        asked: &SideAsked,
        question: &BothSidesQuestion,
    ) -> Result<Self> {
        let read = SideRead {
            pressure: asked.read.pressure,
            line: asked.line,
        };
        let side = ReadSide::new(refrigerant, measure, read)?;
        let mut limits = asked.read.limits(&question.kit);
        let (mut uncertainty, mut unbounded, mut decision) = (None, None, None);
        if let Some(reading) = &side.reading {
            limits = reading.with_refrigerant(refrigerant, limits, question.nominal_composition);
            (uncertainty, unbounded) = reading.bounded(refrigerant, &limits);
            let span = match measure {
                Measure::Superheat => question.kit.low.span,
                Measure::Subcooling => question.kit.high.span,
            };
            decision = asked.target.map(|target| {
                reading.judge(refrigerant, &limits, uncertainty.as_ref(), target, span)
            });
        }
        Ok(Self {
            read: asked.read.clone(),
            side,
            uncertainty,
            unbounded,
            decision,
            limits,
        })
    }

    /// How far below and above the value the expanded interval reaches, K.
    pub fn expanded(&self) -> Option<[f64; 2]> {
        self.uncertainty.as_ref().map(|found| found.expanded)
    }

    /// The uncertainty of the mean of bubble and dew minus an air temperature.
    fn over_air(&self, refrigerant: &Refrigerant, air: Option<f64>) -> Option<Uncertainty> {
        let limits = ErrorLimits {
            clamp: air,
            contact: None,
            composition: None,
            equation: None,
            ..self.limits
        };
        limits.pressure?;
        self.side.mean_uncertainty(refrigerant, &limits).ok()?
    }
}

/// Both sides of a system with what they say together.
#[derive(Debug, Clone, PartialEq)]
pub struct BothSides {
    /// What the refrigerant is called and made of.
    pub identity: Identity,
    /// The sides and the air.
    pub machine: Machine,
    /// The suction side.
    pub suction: Option<SideFound>,
    /// The liquid side.
    pub liquid: Option<SideFound>,
    /// (inlet + dew)/2 of the evaporator, once [`BothSides::find_inlet_mean`] has found it.
    pub inlet_mean: Option<Temperature>,
    /// Expanded uncertainty of the pressure ratio.
    pub ratio_expanded: Option<f64>,
    /// Whether the air says heating and no mode was given.
    pub looks_like_heating: bool,
    /// The uncertainty of the condenser's mean minus the air that enters it.
    pub over_air: Option<Uncertainty>,
    /// The uncertainty of the air that enters the evaporator minus its mean.
    pub over_evaporating: Option<Uncertainty>,
    /// The kit they were read with.
    pub kit: Kit,
    /// The local atmospheric pressure.
    pub site: Atmosphere,
    /// What the numbers rest on.
    pub model: Model,
}

/// Reads both sides of a system, with their uncertainties.
///
/// # Errors
/// As [`ReadSide::new`].
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::service::measurement::gauge_reading::GaugeReading;
/// use zeotrope::service::measurement::kit::Kit;
/// use zeotrope::service::reading::both_sides::{AirRead, BothSidesQuestion, SideAsked, both_sides};
/// use zeotrope::units::{Atmosphere, Temperature};
/// let (kit, site) = (Kit::default(), Atmosphere::SEA_LEVEL);
/// let read = GaugeReading::parse("0.34966MPaa", &kit.low, &site)?;
/// let question = BothSidesQuestion {
///     suction: Some(SideAsked { read, line: Some(Temperature::celsius(12.0)), target: None }),
///     liquid: None,
///     air: AirRead::default(),
///     mode: None,
///     air_limit: None,
///     nominal_composition: false,
///     kit,
///     site,
/// };
/// let found = both_sides(&Refrigerant::named("R-134a")?, question)?;
/// // Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657: 0.34966 MPa at 5 °C
/// assert!((found.machine.superheat().unwrap() - 7.0).abs() < 0.01);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn both_sides(refrigerant: &Refrigerant, asked: BothSidesQuestion) -> Result<BothSides> {
    let side = |measure, one: &Option<SideAsked>| {
        one.as_ref()
            .map(|one| SideFound::new(refrigerant, measure, one, &asked))
            .transpose()
    };
    let suction = side(Measure::Superheat, &asked.suction)?;
    let liquid = side(Measure::Subcooling, &asked.liquid)?;
    let machine = Machine {
        suction: suction.as_ref().map(|found| found.side.clone()),
        liquid: liquid.as_ref().map(|found| found.side.clone()),
        air: asked.air,
        mode: asked.mode.unwrap_or_default(),
    };
    let limit = |found: &Option<SideFound>| found.as_ref()?.limits.pressure;
    let ratio = match (limit(&suction), limit(&liquid)) {
        (Some(low), Some(high)) => machine.pressure_ratio_uncertainty(low, high),
        _ => None,
    };
    let over = |air: Option<Temperature>, found: &Option<SideFound>| {
        air.and_then(|_| found.as_ref()?.over_air(refrigerant, asked.air_limit))
    };
    let facts = Facts::of_refrigerant(refrigerant);
    Ok(BothSides {
        identity: facts.identity,
        looks_like_heating: asked.mode.is_none() && machine.air_is_heated(),
        over_air: over(machine.condenser_air(), &liquid),
        over_evaporating: over(machine.evaporator_air(), &suction),
        machine,
        suction,
        liquid,
        inlet_mean: None,
        ratio_expanded: ratio.map(|[_, expanded]| expanded),
        kit: asked.kit,
        site: asked.site,
        model: facts.model,
    })
}

impl BothSides {
    /// What makes no sense for a system that runs.
    pub fn marks(&self) -> Vec<Doubt> {
        let expanded = |found: &Option<SideFound>| found.as_ref()?.expanded();
        self.machine
            .marks(expanded(&self.suction), expanded(&self.liquid))
    }
}

#[derive(Serialize)]
#[allow(non_snake_case)]
struct SideKeys<'a> {
    pressure_Pa: Pressure,
    added_Pa: f64,
    bubble_temperature_K: Option<Temperature>,
    dew_temperature_K: Option<Temperature>,
    mean_temperature_K: Option<Temperature>,
    line_temperature_K: Option<Temperature>,
    branch: &'static str,
    #[serde(flatten)]
    value: Value,
    meaning: Option<ReadingMeaning>,
    supercritical: bool,
    gas_cooler_outlet_temperature_K: Option<Temperature>,
    decision: Option<Decision>,
    gauge_limit_Pa: Option<f64>,
    #[serde(flatten)]
    uncertainty: UncertaintyKeys<'a>,
}

impl<'a> SideKeys<'a> {
    fn from_side(measure: Measure, found: &'a Option<SideFound>) -> Option<Self> {
        let found = found.as_ref()?;
        let side = &found.side;
        let reading = side.reading.as_ref();
        Some(Self {
            pressure_Pa: side.pressure,
            added_Pa: found.read.added.pascal(),
            bubble_temperature_K: side.bubble,
            dew_temperature_K: side.dew,
            mean_temperature_K: side.mean(),
            line_temperature_K: side.line,
            branch: measure.branch_word(),
            value: Value::from_kelvin(measure, reading.map(|reading| reading.value)),
            meaning: reading.map(|reading| reading.meaning(found.expanded())),
            supercritical: side.is_supercritical,
            gas_cooler_outlet_temperature_K: side.line.filter(|_| side.is_supercritical),
            decision: found.decision,
            gauge_limit_Pa: found.read.limit,
            uncertainty: found.uncertainty.as_ref().into(),
        })
    }
}

impl Serialize for BothSides {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)]
        struct Keys<'a> {
            #[serde(flatten)]
            identity: &'a Identity,
            suction: Option<SideKeys<'a>>,
            liquid: Option<SideKeys<'a>>,
            mode: Mode,
            air_says_heating: bool,
            pressure_ratio: Option<f64>,
            pressure_ratio_expanded_uncertainty: Option<f64>,
            evaporating_inlet_dew_mean_K: Option<Temperature>,
            condensing_over_ambient_K: Option<f64>,
            condensing_over_return_air_K: Option<f64>,
            condensing_over_ambient_expanded_uncertainty_K: Option<f64>,
            condensing_over_return_air_expanded_uncertainty_K: Option<f64>,
            air_over_evaporating_K: Option<f64>,
            ambient_over_evaporating_K: Option<f64>,
            air_over_evaporating_expanded_uncertainty_K: Option<f64>,
            ambient_over_evaporating_expanded_uncertainty_K: Option<f64>,
            gas_cooler_approach_K: Option<f64>,
            condensing_over_wet_bulb_K: Option<f64>,
            air_difference_K: Option<f64>,
            marks: Vec<Doubt>,
            atmosphere_Pa: Pressure,
            model: &'a Model,
        }
        let machine = &self.machine;
        let half = |found: &Option<Uncertainty>| found.as_ref().map(Uncertainty::expanded_half);
        let cooling = |value: Option<f64>| value.filter(|_| machine.mode == Mode::Cooling);
        let heating = |value: Option<f64>| value.filter(|_| machine.mode == Mode::Heating);
        let (over_air, over_air_half) = (machine.condensing_over_air(), half(&self.over_air));
        let air_over = machine.air_over_evaporating();
        let air_over_half = half(&self.over_evaporating);
        Keys {
            identity: &self.identity,
            suction: SideKeys::from_side(Measure::Superheat, &self.suction),
            liquid: SideKeys::from_side(Measure::Subcooling, &self.liquid),
            mode: machine.mode,
            air_says_heating: self.looks_like_heating,
            pressure_ratio: machine.pressure_ratio(),
            pressure_ratio_expanded_uncertainty: self.ratio_expanded,
            evaporating_inlet_dew_mean_K: self.inlet_mean,
            condensing_over_ambient_K: cooling(over_air),
            condensing_over_return_air_K: heating(over_air),
            condensing_over_ambient_expanded_uncertainty_K: cooling(over_air_half),
            condensing_over_return_air_expanded_uncertainty_K: heating(over_air_half),
            air_over_evaporating_K: cooling(air_over),
            ambient_over_evaporating_K: heating(air_over),
            air_over_evaporating_expanded_uncertainty_K: cooling(air_over_half),
            ambient_over_evaporating_expanded_uncertainty_K: heating(air_over_half),
            gas_cooler_approach_K: machine.gas_cooler_approach(),
            condensing_over_wet_bulb_K: machine.condensing_over_wet_bulb(),
            air_difference_K: machine.air_difference(),
            marks: self.marks(),
            atmosphere_Pa: self.site.pressure(),
            model: &self.model,
        }
        .serialize(serializer)
    }
}
