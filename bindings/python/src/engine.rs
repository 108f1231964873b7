//! What is asked of the crate, over slices: the one file that knows how it answers.

use zeotrope::refrigerant::StateRow;
use zeotrope::units::{Pressure, Temperature};
use zeotrope::{Error, Given, Phase, ReferenceState, Refrigerant, Result};

/// A question with one number as its answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Number {
    BubblePressure,
    DewPressure,
    BubbleTemperature,
    DewTemperature,
    Glide,
    Density,
}

/// Where the lines are asked: at a temperature in K or a pressure in Pa.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Line {
    Temperature(f64),
    Pressure(f64),
}

/// The two properties of a state, in the order of [`Pair::ALL`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Pair(usize, usize);

impl Pair {
    /// The properties that a state may be asked by.
    pub(crate) const PROPERTIES: [&'static str; 6] = [
        "temperature_K",
        "pressure_Pa",
        "density_kg_m3",
        "enthalpy_J_kg",
        "entropy_J_kg_K",
        "quality",
    ];

    /// Two of the properties by their places, the first place being the smaller.
    pub(crate) fn new(first: usize, second: usize) -> Self {
        Self(first, second)
    }

    fn given(self, a: f64, b: f64) -> Given {
        use Given::*;
        let (t, p) = (Temperature::kelvin, Pressure::pascal);
        match (self.0, self.1) {
            (0, 1) => TemperaturePressure(t(a), p(b)),
            (0, 2) => TemperatureDensity(t(a), b),
            (0, 3) => TemperatureEnthalpy(t(a), b),
            (0, 4) => TemperatureEntropy(t(a), b),
            (0, _) => TemperatureQuality(t(a), b),
            (1, 2) => PressureDensity(p(a), b),
            (1, 3) => PressureEnthalpy(p(a), b),
            (1, 4) => PressureEntropy(p(a), b),
            (1, _) => PressureQuality(p(a), b),
            (2, 3) => DensityEnthalpy(a, b),
            (2, 4) => DensityEntropy(a, b),
            (2, _) => DensityQuality(a, b),
            (3, 4) => EnthalpyEntropy(a, b),
            (3, _) => EnthalpyQuality(a, b),
            _ => EntropyQuality(a, b),
        }
    }
}

/// What is asked about a state.
#[derive(Debug, Clone, Copy)]
pub(crate) struct StateQuestion {
    pub(crate) pair: Pair,
    pub(crate) reference: ReferenceState,
    pub(crate) phase: Option<Phase>,
}

/// A question about every row.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Question {
    Number(Number),
    State(StateQuestion),
}

/// The columns of numbers that a state answers with, under the keys of JSON.
pub(crate) const STATE_COLUMNS: [&str; 17] = [
    "temperature_K",
    "pressure_Pa",
    "density_kg_m3",
    "enthalpy_J_kg",
    "entropy_J_kg_K",
    "internal_energy_J_kg",
    "cp_J_kg_K",
    "cv_J_kg_K",
    "speed_of_sound_m_s",
    "compressibility_factor",
    "joule_thomson_K_Pa",
    "isothermal_compressibility_1_Pa",
    "thermal_expansion_1_K",
    "dp_drho_T_Pa_m3_kg",
    "dp_dT_rho_Pa_K",
    "isentropic_exponent",
    "quality",
];

/// Names of phases by the number that stands in an answer's column; the first for no answer.
pub(crate) const PHASES: [&str; 5] = ["", "liquid", "vapor", "supercritical", "two-phase"];

impl Question {
    /// Columns of numbers in the answer.
    pub(crate) fn columns(&self) -> usize {
        match self {
            Question::Number(_) => 1,
            Question::State(_) => STATE_COLUMNS.len(),
        }
    }

    /// Rows that are answered without a look at the clock: at most some milliseconds' worth.
    pub(crate) fn piece(&self) -> usize {
        match self {
            Question::Number(Number::Density) => 64,
            Question::Number(_) => 4096,
            Question::State(_) => 64,
        }
    }
}

/// One number of one refrigerant.
pub(crate) fn number(refrigerant: &Refrigerant, number: Number, a: f64, b: f64) -> Result<f64> {
    let (t, p) = (Temperature::kelvin, Pressure::pascal);
    match number {
        Number::BubblePressure => refrigerant.bubble_pressure(t(a)).map(Pressure::in_pascal),
        Number::DewPressure => refrigerant.dew_pressure(t(a)).map(Pressure::in_pascal),
        Number::BubbleTemperature => refrigerant
            .bubble_temperature(p(a))
            .map(Temperature::in_kelvin),
        Number::DewTemperature => refrigerant
            .dew_temperature(p(a))
            .map(Temperature::in_kelvin),
        Number::Glide => {
            let bubble = refrigerant.bubble_temperature(p(a))?;
            let dew = refrigerant.dew_temperature(p(a))?;
            Ok((dew - bubble).in_kelvin())
        }
        Number::Density => refrigerant.density(t(a), p(b)),
    }
}

/// Numbers of one refrigerant; NaN where a value is NaN, and where there is no answer: then its
/// row and reason are told.
pub(crate) fn numbers(
    refrigerant: &Refrigerant,
    question: Number,
    (a, b): (&[f64], &[f64]),
    answers: &mut [f64],
    failed: &mut dyn FnMut(usize, Error),
) {
    // counted, since a search that may end early is not made side by side
    let missing = |values: &[f64]| values.iter().filter(|value| value.is_nan()).count();
    if missing(a) + missing(b) == 0 {
        return all_given(refrigerant, question, (a, b), answers, failed);
    }
    // NaN is no question; what lies between is answered together
    let is_given = |row: &usize| !(a[*row].is_nan() || b.get(*row).is_some_and(|b| b.is_nan()));
    let rows: Vec<usize> = (0..a.len()).filter(is_given).collect();
    let [a, b] = [a, b].map(|values| -> Vec<f64> {
        rows.iter()
            .filter_map(|row| values.get(*row).copied())
            .collect()
    });
    let mut found = vec![f64::NAN; rows.len()];
    let mut told = |place: usize, reason| failed(rows[place], reason);
    all_given(refrigerant, question, (&a, &b), &mut found, &mut told);
    answers.fill(f64::NAN);
    rows.iter()
        .zip(found)
        .for_each(|(row, found)| answers[*row] = found);
}

/// As [`numbers`], without a NaN among the values.
fn all_given(
    refrigerant: &Refrigerant,
    question: Number,
    (a, b): (&[f64], &[f64]),
    answers: &mut [f64],
    failed: &mut dyn FnMut(usize, Error),
) {
    let unanswered = match question {
        Number::BubblePressure => refrigerant.bubble_pressures(a, answers),
        Number::DewPressure => refrigerant.dew_pressures(a, answers),
        Number::BubbleTemperature => refrigerant.bubble_temperatures(a, answers),
        Number::DewTemperature => refrigerant.dew_temperatures(a, answers),
        Number::Glide | Number::Density => {
            for (row, answer) in answers.iter_mut().enumerate() {
                let second = b.get(row).copied().unwrap_or_default();
                *answer = number(refrigerant, question, a[row], second).unwrap_or_else(|reason| {
                    failed(row, reason);
                    f64::NAN
                });
            }
            return;
        }
    };
    match unanswered {
        Ok(unanswered) => unanswered
            .into_iter()
            .for_each(|one| failed(one.row, one.reason)),
        Err(reason) => (0..a.len()).for_each(|row| failed(row, reason.clone())),
    }
}

/// States of one refrigerant, in columns as [`STATE_COLUMNS`] and one of phases as [`PHASES`].
pub(crate) fn states(
    refrigerant: &Refrigerant,
    question: &StateQuestion,
    (a, b): (&[f64], &[f64]),
    columns: &mut [&mut [f64]],
    phases: &mut [u8],
    failed: &mut dyn FnMut(usize, Error),
) {
    let given: Vec<Given> = a
        .iter()
        .zip(b)
        .map(|(a, b)| question.pair.given(*a, *b))
        .collect();
    let mut rows = vec![StateRow::NONE; given.len()];
    let is_missing = |row: usize| a[row].is_nan() || b[row].is_nan();
    match refrigerant.states(&given, question.reference, question.phase, &mut rows) {
        Ok(unanswered) => {
            let told = unanswered.into_iter().filter(|one| !is_missing(one.row));
            told.for_each(|one| failed(one.row, one.reason));
        }
        Err(reason) => (0..rows.len()).for_each(|row| failed(row, reason.clone())),
    }
    let numbers: Vec<[f64; STATE_COLUMNS.len()]> = rows.iter().map(numbers_of).collect();
    for (k, column) in columns.iter_mut().enumerate() {
        for (cell, numbers) in column.iter_mut().zip(&numbers) {
            *cell = numbers[k];
        }
    }
    for (phase, state) in phases.iter_mut().zip(&rows) {
        *phase = place(state.phase);
    }
}

fn numbers_of(state: &StateRow) -> [f64; STATE_COLUMNS.len()] {
    [
        state.temperature.in_kelvin(),
        state.pressure.in_pascal(),
        state.density,
        state.enthalpy,
        state.entropy,
        state.internal_energy,
        state.cp,
        state.cv,
        state.speed_of_sound,
        state.compressibility_factor,
        state.joule_thomson,
        state.isothermal_compressibility,
        state.thermal_expansion,
        state.pressure_by_density,
        state.pressure_by_temperature,
        state.isentropic_exponent,
        state.quality,
    ]
}

fn place(phase: Option<Phase>) -> u8 {
    match phase {
        None => 0,
        Some(Phase::Liquid) => 1,
        Some(Phase::Vapor) => 2,
        Some(Phase::Supercritical) => 3,
        Some(Phase::TwoPhase) => 4,
    }
}

/// The one state that has two properties, whole.
pub(crate) fn state(
    refrigerant: &Refrigerant,
    question: &StateQuestion,
    a: f64,
    b: f64,
) -> Result<zeotrope::refrigerant::State> {
    let given = question.pair.given(a, b);
    zeotrope::service::state::one_state(refrigerant, given, question.reference, question.phase)
}

/// Bubble and dew with all properties of their phases, at a temperature in K or a pressure in Pa.
pub(crate) fn saturation(
    refrigerant: &Refrigerant,
    at: Line,
    reference: ReferenceState,
) -> Result<zeotrope::refrigerant::Saturation> {
    match at {
        Line::Temperature(kelvin) => {
            refrigerant.saturation_at_temperature(Temperature::kelvin(kelvin), reference)
        }
        Line::Pressure(pascal) => {
            refrigerant.saturation_at_pressure(Pressure::pascal(pascal), reference)
        }
    }
}

/// A phase by its name.
pub(crate) fn phase(name: &str) -> Option<Phase> {
    [
        Phase::Liquid,
        Phase::Vapor,
        Phase::Supercritical,
        Phase::TwoPhase,
    ]
    .into_iter()
    .find(|phase| phase.name() == name)
}

/// A reference state by its name.
pub(crate) fn reference(name: &str) -> Option<ReferenceState> {
    use ReferenceState::*;
    [Usual, Iir, Ashrae, BoilingPoint, IdealGas, Published]
        .into_iter()
        .find(|one| one.name() == name)
}
