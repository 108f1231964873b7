//! Exercises for a class: readings drawn from a seed with a gauge's error, lenses to read, coils to
//! fill in, cycles to draw, each with its solution.

mod keys;
mod readings;
mod recipe;
mod table;

pub use readings::ReadingTask;
pub use table::{PressureTable, TableColumn};

use self::readings::Draws;
use super::picture::{Isoline, Picture, PictureKind};
use super::{Choices, Request, Rows};
use crate::Result;
use crate::catalogue::{Basis, Catalogue};
use crate::process::coil::{Coil, LiquidFeed};
use crate::process::cycle::{Comparison, Cycle, Level, Stated, compare};
use crate::refrigerant::{ReferenceState, Refrigerant, Saturation};
use crate::service::facts::{PairEstimate, estimates};
use crate::service::measurement::uncertainty::ErrorLimits;
use crate::service::reading::superheat_subcooling::Measure;
use crate::units::{
    Atmosphere, Pressure, PressureUnit, Temperature, TemperatureDifference, Typed, UnitSet,
};

/// What may be misread on the grid of a picture, in parts of an axis.
pub const READ_OFF: f64 = 0.01;

/// A lens to read, with its solution.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct LensTask {
    /// The mixture.
    pub refrigerant: String,
    /// The pressure, in the unit of the recipe.
    pub pressure: Typed<Pressure, PressureUnit>,
    /// Its bubble and dew point.
    pub found: Saturation,
    /// The lens without the mixture.
    pub asked: Picture,
    /// The lens with it.
    pub solved: Picture,
}

/// A coil to fill in, with its solution.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct CoilTask {
    /// The refrigerant.
    pub refrigerant: String,
    /// The coil.
    pub coil: Coil,
    /// The unit of its pressure in the recipe.
    pub pressure_unit: PressureUnit,
    /// All of the way from bubble to dew, for the table that the coil is filled in from.
    pub boiling: Coil,
    /// Its temperatures along the heat.
    pub solved: Picture,
}

/// A cycle to draw, with its solution.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct CycleTask {
    /// The refrigerant.
    pub refrigerant: Refrigerant,
    /// What is given: evaporating dew and condensing bubble temperature.
    pub levels: [Temperature; 2],
    /// Superheat and subcooling.
    pub differences: [TemperatureDifference; 2],
    /// Isentropic efficiency.
    pub efficiency: f64,
    /// The dome to draw on.
    pub asked: Picture,
    /// The cycle.
    pub solved: Comparison,
}

/// A task with its solution.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub enum Task {
    /// Superheat or subcooling.
    Reading(Box<ReadingTask>),
    /// A lens to read.
    Lens(Box<LensTask>),
    /// A coil to fill in.
    Coil(Box<CoilTask>),
    /// A cycle to draw.
    Cycle(Box<CycleTask>),
}

/// An exercise with its solutions.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Exercise {
    /// Its own title.
    pub title: Option<String>,
    /// The seed of what was drawn.
    pub seed: u64,
    /// Units of its figures.
    pub units: UnitSet,
    /// Limit of error of the gauge, Pa, and of the thermometer, K.
    pub limits: [Option<f64>; 2],
    /// The tasks in order.
    pub tasks: Vec<Task>,
    /// Saturation pressures that readings are looked up in; none without readings.
    pub table: Option<PressureTable>,
    /// The refrigerants in the order of the tasks, each once.
    pub refrigerants: Vec<Refrigerant>,
    /// The estimated pairs that solutions rest on.
    pub estimates: Vec<PairEstimate>,
}

impl Exercise {
    /// Draws and solves the exercise of a recipe, named as in messages; a seed given here outranks the
    /// recipe's.
    ///
    /// # Errors
    /// [`Error::File`](crate::Error::File) for a text that is no recipe,
    /// [`Error::Value`](crate::Error::Value) for a task without what it needs, and what its tasks
    /// have no answer for.
    ///
    /// # Example
    /// ```
    /// use zeotrope::catalogue::Catalogue;
    /// use zeotrope::chart::exercise::{Exercise, Task};
    /// use zeotrope::units::Atmosphere;
    /// let text = "tasks:\n- superheat: {refrigerant: R-407C, pressure: 80psig, line: 60F}";
    /// let site = Atmosphere::SEA_LEVEL;
    /// let found = Exercise::new("x.yaml", text, None, &Catalogue::embedded(), &site)?;
    /// let Task::Reading(task) = &found.tasks[0] else { panic!() };
    /// // taught: 50.8 °F dew at 80 psig (from memory), so 9.2 °F of superheat
    /// assert!((task.reading.value * 1.8 - 9.2).abs() < 0.3);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn new(
        name: &str,
        text: &str,
        seed: Option<u64>,
        catalogue: &Catalogue,
        site: &Atmosphere,
    ) -> Result<Self> {
        let recipe = recipe::Recipe::parse(name, text)?;
        let units = match recipe.units.as_deref() {
            Some("si") => UnitSet::SI,
            None | Some("ip") => UnitSet::INCH_POUND,
            Some(other) => return Err(recipe::wrong(other, "is no units", "use ip or si")),
        };
        let seed = seed.or(recipe.seed).unwrap_or(1);
        let limits = [
            recipe::limit_of_gauge(recipe.gauge.as_deref())?,
            recipe::difference(recipe.clamp.as_deref())?.map(TemperatureDifference::in_kelvin),
        ];
        let mut making = Making {
            catalogue,
            site,
            units,
            limits: ErrorLimits {
                pressure: limits[0],
                clamp: limits[1],
                ..ErrorLimits::default()
            },
            draws: Draws::new(seed),
            refrigerants: Vec::new(),
        };
        let tasks = recipe.tasks.iter().map(|task| making.task(task));
        let tasks = tasks.collect::<Result<Vec<_>>>()?;
        let mut estimated: Vec<PairEstimate> = Vec::new();
        for one in making.refrigerants.iter().flat_map(estimates) {
            if !estimated.contains(&one) {
                estimated.push(one);
            }
        }
        Ok(Self {
            title: recipe.title,
            seed,
            table: PressureTable::of(&tasks, &making.refrigerants, &units),
            units,
            limits,
            tasks,
            refrigerants: making.refrigerants,
            estimates: estimated,
        })
    }
}

/// What tasks are made with.
struct Making<'a> {
    catalogue: &'a Catalogue,
    site: &'a Atmosphere,
    units: UnitSet,
    limits: ErrorLimits,
    draws: Draws,
    refrigerants: Vec<Refrigerant>,
}

impl Making<'_> {
    fn task(&mut self, written: &recipe::Task) -> Result<Task> {
        match written {
            recipe::Task {
                superheat: Some(one),
                ..
            } => self.reading(Measure::Superheat, one),
            recipe::Task {
                subcooling: Some(one),
                ..
            } => self.reading(Measure::Subcooling, one),
            recipe::Task {
                lens: Some(one), ..
            } => self.lens(one),
            recipe::Task {
                coil: Some(one), ..
            } => self.coil(one),
            recipe::Task {
                cycle: Some(one), ..
            } => self.cycle(one),
            _ => Err(recipe::wrong(
                "task",
                "has no kind",
                "begin it with superheat, subcooling, lens, coil or cycle",
            )),
        }
    }

    fn refrigerant(&mut self, text: &str) -> Result<Refrigerant> {
        let found = Refrigerant::from_catalogue(self.catalogue, text, Basis::Mass)?;
        let name = found.designation();
        if !self
            .refrigerants
            .iter()
            .any(|one| one.designation() == name)
        {
            self.refrigerants.push(found.clone());
        }
        Ok(found)
    }

    fn reading(&mut self, measure: Measure, written: &recipe::Reading) -> Result<Task> {
        let refrigerant = self.refrigerant(&written.refrigerant)?;
        let with = (&self.units, self.site, &mut self.draws);
        let of = (&refrigerant, written);
        let task = ReadingTask::new(measure, of, &self.limits, with)?;
        Ok(Task::Reading(Box::new(task)))
    }

    fn request(&self, refrigerants: Vec<Refrigerant>, rows: Rows, unit: PressureUnit) -> Request {
        Request {
            refrigerants,
            rows,
            temperature_unit: self.units.temperature,
            pressure_unit: unit,
            site: *self.site,
            choices: Choices::default(),
        }
    }

    /// Rows at one pressure in its own unit.
    fn rows_at(&self, typed: Typed<Pressure, PressureUnit>) -> Rows {
        Rows::Pressures(vec![typed.unit.read(typed.value, self.site)])
    }

    fn lens(&mut self, written: &recipe::Lens) -> Result<Task> {
        let mixture = self.refrigerant(&written.refrigerant)?;
        let pressure = recipe::pressure(&written.pressure, self.site)?;
        let found = mixture
            .exact()
            .saturation_at_pressure(pressure.value, ReferenceState::Usual)?;
        let request = self.request(vec![mixture.clone()], self.rows_at(pressure), pressure.unit);
        let solved = Picture::new(PictureKind::Lens, &request, self.catalogue)?;
        Ok(Task::Lens(Box::new(LensTask {
            refrigerant: mixture.designation().to_owned(),
            pressure,
            found,
            asked: solved.unsolved(),
            solved,
        })))
    }

    fn coil(&mut self, written: &recipe::Coil) -> Result<Task> {
        let refrigerant = self.refrigerant(&written.refrigerant)?;
        let typed = recipe::pressure(&written.pressure, self.site)?;
        let pressure = typed.value;
        let liquid = written
            .liquid
            .as_deref()
            .map(recipe::temperature)
            .transpose()?;
        let liquid = liquid.map(|temperature| LiquidFeed {
            temperature,
            pressure: None,
        });
        let coil = Coil::evaporator(&refrigerant, pressure, liquid, ReferenceState::Usual)?;
        let boiling = Coil::evaporator(&refrigerant, pressure, None, ReferenceState::Usual)?;
        let mut request = self.request(vec![refrigerant.clone()], self.rows_at(typed), typed.unit);
        request.choices.picture.liquid = liquid;
        Ok(Task::Coil(Box::new(CoilTask {
            refrigerant: refrigerant.designation().to_owned(),
            coil,
            pressure_unit: typed.unit,
            boiling,
            solved: Picture::new(PictureKind::Coil, &request, self.catalogue)?,
        })))
    }

    fn cycle(&mut self, written: &recipe::Cycle) -> Result<Task> {
        let refrigerant = self.refrigerant(&written.refrigerant)?;
        let evaporating = recipe::temperature(&written.evaporating)?;
        let condensing = recipe::temperature(&written.condensing)?;
        let none = TemperatureDifference::kelvin(0.0);
        let superheat = recipe::difference(written.superheat.as_deref())?.unwrap_or(none);
        let subcooling = recipe::difference(written.subcooling.as_deref())?.unwrap_or(none);
        let efficiency = written.efficiency.unwrap_or(1.0);
        let cycle = Cycle::between(Level::dew(evaporating), Level::bubble(condensing))
            .superheat(superheat)
            .subcooling(subcooling)
            .efficiency(efficiency);
        let solved = compare(
            std::slice::from_ref(&refrigerant),
            &[cycle],
            Stated::default(),
        )?;
        let unit = self.units.temperature;
        let below = evaporating - TemperatureDifference::kelvin(20.0);
        let rows = Rows::Temperatures([below, condensing].map(|at| unit.read(at)).to_vec());
        let mut request = self.request(vec![refrigerant.clone()], rows, self.units.pressure);
        // Compression is drawn along a line of one entropy.
        request.choices.picture.isolines = Some(vec![Isoline::Temperature, Isoline::Entropy]);
        Ok(Task::Cycle(Box::new(CycleTask {
            refrigerant,
            levels: [evaporating, condensing],
            differences: [superheat, subcooling],
            efficiency,
            asked: Picture::new(PictureKind::Dome, &request, self.catalogue)?,
            solved,
        })))
    }
}
