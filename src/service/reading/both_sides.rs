//! Both sides of a system read at once: what the pressures, lines and air mean together.

use serde::{Serialize, Serializer};

use crate::process::coil::{Coil, Liquid};
use crate::refrigerant::{ReferenceState, Refrigerant};
use crate::service::facts::{Facts, Identity, Model};
use crate::service::measurement::gauge_reading::GaugeReading;
use crate::service::measurement::kit::Kit;
use crate::service::measurement::uncertainty::{
    Branch, Direction, Limits, Uncertainty, UncertaintyKeys, uncertainty,
};
use crate::service::reading::measured::Value;
use crate::service::reading::superheat_subcooling::{Meaning, Measure, Reading};
use crate::units::{Atmosphere, Pressure, Temperature};
use crate::{Error, Result};

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
    /// Entering the condenser.
    pub ambient: Option<Temperature>,
    /// Entering the evaporator.
    pub returning: Option<Temperature>,
    /// Leaving the evaporator.
    pub supplied: Option<Temperature>,
}

/// A side with its saturation temperatures.
#[derive(Debug, Clone, PartialEq)]
pub struct Side {
    /// Pressure.
    pub pressure: Pressure,
    /// Bubble temperature, where there is one.
    pub bubble: Option<Temperature>,
    /// Dew temperature, where there is one.
    pub dew: Option<Temperature>,
    /// Superheat or subcooling, where the line and the branch are known.
    pub reading: Option<Reading>,
}

impl Side {
    /// A side of which superheat (suction) or subcooling (liquid) is the measure.
    ///
    /// # Errors
    /// As [`Measure::saturation`] where the branch that the measure counts from does not exist.
    pub fn new(refrigerant: &Refrigerant, measure: Measure, read: SideRead) -> Result<Self> {
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
            .map(|line| Reading::on(measure, read.pressure, line, saturation, other));
        Ok(Self {
            pressure: read.pressure,
            bubble,
            dew,
            reading,
        })
    }

    /// The uncertainty of [`Side::mean`] minus a thermometer's reading is; `limits.clamp` is that
    /// thermometer's.
    ///
    /// # Errors
    /// As [`uncertainty`].
    pub fn mean_uncertainty(
        &self,
        refrigerant: &Refrigerant,
        limits: &Limits,
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
        let branch = Branch {
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
/// use zeotrope::service::reading::both_sides::{AirRead, Machine, Side, SideRead};
/// use zeotrope::service::reading::superheat_subcooling::Measure;
/// use zeotrope::units::{Pressure, Temperature};
/// let r134a = Refrigerant::named("R-134a")?;
/// let read = |bar, celsius| SideRead {
///     pressure: Pressure::bar(bar),
///     line: Some(Temperature::celsius(celsius)),
/// };
/// let machine = Machine {
///     suction: Some(Side::new(&r134a, Measure::Superheat, read(3.4966, 12.0))?),
///     liquid: Some(Side::new(&r134a, Measure::Subcooling, read(10.166, 35.0))?),
///     air: AirRead { ambient: Some(Temperature::celsius(30.0)), ..AirRead::default() },
/// };
/// // Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657: 0.34966 MPa at 5 °C; 1.0166 MPa
/// // at 40 °C
/// assert!((machine.superheat().unwrap() - 7.0).abs() < 0.01);
/// assert!((machine.subcooling().unwrap() - 5.0).abs() < 0.02);
/// assert!((machine.pressure_ratio().unwrap() - 2.9074).abs() < 1e-4);
/// assert!((machine.condensing_over_ambient().unwrap() - 10.0).abs() < 0.02);
/// assert!(machine.marks(None, None).is_empty());
/// # Ok::<(), zeotrope::Error>(())
/// ```
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Machine {
    /// The suction side.
    pub suction: Option<Side>,
    /// The liquid side.
    pub liquid: Option<Side>,
    /// The air.
    pub air: AirRead,
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

    /// (bubble + dew)/2 of the condenser above the air that enters it, K.
    pub fn condensing_over_ambient(&self) -> Option<f64> {
        Some((self.liquid.as_ref()?.mean()? - self.air.ambient?).in_kelvin())
    }

    /// Air that enters the evaporator above its (bubble + dew)/2, K.
    pub fn air_over_evaporating(&self) -> Option<f64> {
        Some((self.air.returning? - self.suction.as_ref()?.mean()?).in_kelvin())
    }

    /// Air that enters the evaporator above air that leaves it, K.
    pub fn air_difference(&self) -> Option<f64> {
        Some((self.air.returning? - self.air.supplied?).in_kelvin())
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
        let line = |side: &Option<Side>| Some(side.as_ref()?.reading.as_ref()?.line);
        let (suction, liquid) = (line(&self.suction), line(&self.liquid));
        let beyond = |value: Option<f64>| value.is_some_and(|value| value < 0.0);
        if let (Some(suction), Some(liquid)) = (suction, liquid)
            && suction > liquid
            && (beyond(self.superheat()) || beyond(self.subcooling()) || self.far_superheated())
        {
            marks.push(Doubt::LinesSwapped);
        }
        let not_possible = |side: &Option<Side>, expanded| {
            side.as_ref()
                .and_then(|side| side.reading.as_ref())
                .is_some_and(|reading| reading.meaning(expanded) == Meaning::NotPossible)
        };
        if not_possible(&self.suction, superheat) {
            marks.push(Doubt::SuctionTooCold);
        }
        if not_possible(&self.liquid, subcooling) {
            marks.push(Doubt::LiquidTooHot);
        }
        if self
            .condensing_over_ambient()
            .is_some_and(|over| over < 0.0)
        {
            marks.push(Doubt::CondensingBelowAir);
        }
        if self.air_over_evaporating().is_some_and(|over| over < 0.0) {
            marks.push(Doubt::EvaporatingAboveAir);
        }
        marks
    }

    /// A suction line nearer to the condenser's saturation temperature than to the evaporator's.
    fn far_superheated(&self) -> bool {
        let mean = |side: &Option<Side>| side.as_ref().and_then(Side::mean);
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

/// A side as its gauge and clamp showed it.
#[derive(Debug, Clone, PartialEq)]
pub struct SideAsked {
    /// The pressure.
    pub read: GaugeReading,
    /// Temperature of the line, where it was read.
    pub line: Option<Temperature>,
}

/// Both sides as they were read.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    /// The suction side.
    pub suction: Option<SideAsked>,
    /// The liquid side.
    pub liquid: Option<SideAsked>,
    /// The air.
    pub air: AirRead,
    /// Limit of the air thermometers, K.
    pub air_limit: Option<f64>,
    /// Whether a blend counts as exactly its nominal composition.
    pub nominal_composition: bool,
    /// The kit they were read with.
    pub kit: Kit,
    /// The air of the site.
    pub site: Atmosphere,
}

/// A side as read and as found.
#[derive(Debug, Clone, PartialEq)]
pub struct SideFound {
    /// The pressure.
    pub read: GaugeReading,
    /// What it says.
    pub side: Side,
    /// The uncertainty of the superheat or subcooling, where any accuracy is known.
    pub uncertainty: Option<Uncertainty>,
    /// Why nothing bounds it, where an accuracy is known and there is no uncertainty.
    pub unbounded: Option<Error>,
    limits: Limits,
}

impl SideFound {
    fn new(
        refrigerant: &Refrigerant,
        measure: Measure,
        asked: &SideAsked,
        question: &Question,
    ) -> Result<Self> {
        let read = SideRead {
            pressure: asked.read.pressure,
            line: asked.line,
        };
        let side = Side::new(refrigerant, measure, read)?;
        let mut limits = asked.read.limits(&question.kit);
        let (mut uncertainty, mut unbounded) = (None, None);
        if let Some(reading) = &side.reading {
            limits = reading.with_refrigerant(refrigerant, limits, question.nominal_composition);
            (uncertainty, unbounded) = reading.bounded(refrigerant, &limits);
        }
        Ok(Self {
            read: asked.read.clone(),
            side,
            uncertainty,
            unbounded,
            limits,
        })
    }

    /// How far below and above the value the expanded interval reaches, K.
    pub fn expanded(&self) -> Option<[f64; 2]> {
        self.uncertainty.as_ref().map(|found| found.expanded)
    }

    /// The uncertainty of the mean of bubble and dew minus an air temperature.
    fn over_air(&self, refrigerant: &Refrigerant, air: Option<f64>) -> Option<Uncertainty> {
        let limits = Limits {
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
    /// (inlet + dew)/2 of the evaporator, where the liquid before the expansion device is known.
    pub inlet_mean: Option<Temperature>,
    /// Expanded uncertainty of the pressure ratio.
    pub ratio_expanded: Option<f64>,
    /// The uncertainty of the condenser's mean minus ambient.
    pub over_ambient: Option<Uncertainty>,
    /// The uncertainty of the return air minus the evaporator's mean.
    pub over_evaporating: Option<Uncertainty>,
    /// The kit they were read with.
    pub kit: Kit,
    /// The air of the site.
    pub site: Atmosphere,
    /// What the numbers rest on.
    pub model: Model,
}

/// Reads both sides of a system, with their uncertainties.
///
/// # Errors
/// As [`Side::new`].
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::service::measurement::gauge_reading::GaugeReading;
/// use zeotrope::service::measurement::kit::Kit;
/// use zeotrope::service::reading::both_sides::{AirRead, Question, SideAsked, both_sides};
/// use zeotrope::units::{Atmosphere, Temperature};
/// let (kit, site) = (Kit::default(), Atmosphere::SEA_LEVEL);
/// let read = GaugeReading::parse("0.34966MPaa", &kit.low, &site)?;
/// let question = Question {
///     suction: Some(SideAsked { read, line: Some(Temperature::celsius(12.0)) }),
///     liquid: None,
///     air: AirRead::default(),
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
pub fn both_sides(refrigerant: &Refrigerant, asked: Question) -> Result<BothSides> {
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
    };
    let limit = |found: &Option<SideFound>| found.as_ref()?.limits.pressure;
    let ratio = match (limit(&suction), limit(&liquid)) {
        (Some(low), Some(high)) => machine.pressure_ratio_uncertainty(low, high),
        _ => None,
    };
    let over = |air: Option<Temperature>, found: &Option<SideFound>| {
        air.and_then(|_| found.as_ref()?.over_air(refrigerant, asked.air_limit))
    };
    let line = asked.liquid.as_ref().and_then(|one| one.line);
    let inlet = line.map(|temperature| Liquid {
        temperature,
        pressure: liquid.as_ref().map(|found| found.side.pressure),
    });
    let inlet_mean = inlet.and_then(|inlet| {
        let pressure = suction.as_ref()?.side.pressure;
        let coil =
            Coil::evaporator(refrigerant, pressure, Some(inlet), ReferenceState::Usual).ok()?;
        coil.means.inlet_and_dew
    });
    let facts = Facts::of(refrigerant);
    Ok(BothSides {
        identity: facts.identity,
        over_ambient: over(asked.air.ambient, &liquid),
        over_evaporating: over(asked.air.returning, &suction),
        machine,
        suction,
        liquid,
        inlet_mean,
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
    meaning: Option<Meaning>,
    gauge_limit_Pa: Option<f64>,
    #[serde(flatten)]
    uncertainty: UncertaintyKeys<'a>,
}

impl<'a> SideKeys<'a> {
    fn of(measure: Measure, found: &'a Option<SideFound>) -> Option<Self> {
        let found = found.as_ref()?;
        let side = &found.side;
        let reading = side.reading.as_ref();
        Some(Self {
            pressure_Pa: side.pressure,
            added_Pa: found.read.added.pascal(),
            bubble_temperature_K: side.bubble,
            dew_temperature_K: side.dew,
            mean_temperature_K: side.mean(),
            line_temperature_K: reading.map(|reading| reading.line),
            branch: measure.branch_word(),
            value: Value::of(measure, reading.map(|reading| reading.value)),
            meaning: reading.map(|reading| reading.meaning(found.expanded())),
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
            pressure_ratio: Option<f64>,
            pressure_ratio_expanded_uncertainty: Option<f64>,
            evaporating_inlet_dew_mean_K: Option<Temperature>,
            condensing_over_ambient_K: Option<f64>,
            condensing_over_ambient_expanded_uncertainty_K: Option<f64>,
            air_over_evaporating_K: Option<f64>,
            air_over_evaporating_expanded_uncertainty_K: Option<f64>,
            air_difference_K: Option<f64>,
            marks: Vec<Doubt>,
            atmosphere_Pa: Pressure,
            model: &'a Model,
        }
        let machine = &self.machine;
        let half = |found: &Option<Uncertainty>| found.as_ref().map(Uncertainty::expanded_half);
        Keys {
            identity: &self.identity,
            suction: SideKeys::of(Measure::Superheat, &self.suction),
            liquid: SideKeys::of(Measure::Subcooling, &self.liquid),
            pressure_ratio: machine.pressure_ratio(),
            pressure_ratio_expanded_uncertainty: self.ratio_expanded,
            evaporating_inlet_dew_mean_K: self.inlet_mean,
            condensing_over_ambient_K: machine.condensing_over_ambient(),
            condensing_over_ambient_expanded_uncertainty_K: half(&self.over_ambient),
            air_over_evaporating_K: machine.air_over_evaporating(),
            air_over_evaporating_expanded_uncertainty_K: half(&self.over_evaporating),
            air_difference_K: machine.air_difference(),
            marks: self.marks(),
            atmosphere_Pa: self.site.pressure(),
            model: &self.model,
        }
        .serialize(serializer)
    }
}
