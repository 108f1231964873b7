//! Random questions, answered by the engine and held against a judge that shares no solver with it.
//!
//! Blends listed and drawn from all components, with extreme fractions, permanent gases, water and
//! ammonia, are asked for saturation by temperature and by pressure and for states by pairs of
//! properties. What is answered must be in equilibrium and stable ([`judge`]); what is refused is
//! looked for by stability alone.

mod again;
pub mod judge;
mod look;
mod question;
mod refusal;
mod report;
mod through_curves;

use std::time::{Duration, Instant};

pub use again::{Question, ask_again};
pub use question::Class;
pub use report::{Counts, Fault, Finding, RandomReport};

use crate::Warning;
use crate::catalogue::Catalogue;
use crate::error::Error;
use crate::helmholtz::{MAX_COMPONENTS, MoleFractions};
use crate::refrigerant::{
    Given, PhaseProperties, ReferenceState, Refrigerant, Saturation, SaturationPoint, State,
};
use crate::units::{Pressure, Temperature};
use judge::{Judge, JudgedPhase};
use question::{Blends, Drawn, Random};
use refusal::{kind, missing};
use through_curves::{are_apart, are_states_apart, differ};

/// Questions asked of one blend.
const A_BLEND: usize = 8;
/// What potentials of two phases may differ by.
const BALANCED: f64 = 1e-6;
/// What a pressure may miss, in parts of itself and of rho R T.
const PRESSURE_MISSED: f64 = 1e-6;
/// What a question asked back may miss, in parts of the temperature.
const CLOSED: f64 = 1e-6;
/// About that of refrigerants by mass, J/(kg K): what enthalpies and entropies are told apart by.
const GAS_CONSTANT: f64 = 100.0;
/// Findings of one kind about one class that are kept in full.
const KEPT: usize = 12;
/// Part of the critical temperature up to which a refused answer counts as lost.
const BELOW_THE_TOP: f64 = 0.99;

/// Asks `questions` random questions from a seed about blends of every class.
pub fn ask(catalogue: &Catalogue, questions: usize, seed: u64) -> RandomReport {
    ask_about(catalogue, Class::ALL, questions, seed)
}

/// As [`ask`], about blends of some classes.
pub fn ask_about(
    catalogue: &Catalogue,
    classes: &[Class],
    questions: usize,
    seed: u64,
) -> RandomReport {
    let blends = Blends::new(catalogue);
    let mut random = Random::new(seed);
    let mut report = RandomReport::default();
    while report.questions() < questions {
        let Some(drawn) = blends.draw(&mut random) else {
            continue;
        };
        if !classes.contains(&drawn.class) {
            continue;
        }
        let mut asked = Asked::new(&drawn, &mut report);
        for _ in 0..A_BLEND {
            asked.ask(&mut random);
        }
    }
    report
}

/// One blend that is asked.
struct Asked<'a> {
    drawn: &'a Drawn,
    refrigerant: Refrigerant,
    report: &'a mut RandomReport,
    /// The critical temperature, or where none was found the reducing temperature, K.
    top: Option<f64>,
}

/// What is found out about one answer.
type Found = Vec<(Fault, String)>;

impl<'a> Asked<'a> {
    fn new(drawn: &'a Drawn, report: &'a mut RandomReport) -> Self {
        Self {
            drawn,
            refrigerant: drawn.refrigerant.exact(),
            report,
            top: None,
        }
    }

    fn judge(&self, temperature: Temperature) -> Judge<'_> {
        Judge::new(self.refrigerant.model().0, temperature.in_kelvin())
    }

    fn limits(&self) -> (f64, f64, f64) {
        let limits = self.refrigerant.limits();
        (
            limits.temperature_min.in_kelvin(),
            limits.temperature_max.in_kelvin(),
            limits.pressure_max.in_pascal(),
        )
    }

    fn reducing(&self) -> f64 {
        let (mixture, z) = self.refrigerant.model();
        mixture.at_composition(z).reducing_temperature
    }

    fn top(&mut self) -> f64 {
        let refrigerant = &self.refrigerant;
        let reducing = self.reducing();
        *self.top.get_or_insert_with(|| {
            refrigerant
                .envelope()
                .map_or(reducing, |envelope| envelope.critical.temperature)
        })
    }

    fn timed<T>(&mut self, question: &str, ask: impl FnOnce(&Refrigerant) -> T) -> T {
        let start = Instant::now();
        let answer = ask(&self.refrigerant);
        let took: Duration = start.elapsed();
        let seconds = took.as_secs_f64();
        self.report.seconds += seconds;
        if seconds > self.report.slowest.0 {
            self.report.slowest = (seconds, format!("{} {question}", self.drawn.name));
        }
        answer
    }

    fn counts(&mut self) -> &mut Counts {
        self.report.counts.entry(self.drawn.class).or_default()
    }

    fn refuse(&mut self, error: &Error) {
        *self.counts().refused.entry(kind(error)).or_default() += 1;
    }

    fn note(&mut self, question: &str, found: Found) {
        for (fault, what) in found {
            *self.counts().faults.entry(fault).or_default() += 1;
            let class = self.drawn.class;
            let alike = |one: &&Finding| one.class == class && one.fault == fault;
            if self.report.findings.iter().filter(alike).count() < KEPT {
                self.report.findings.push(Finding {
                    class: self.drawn.class,
                    fault,
                    text: format!("{} {question}: {what}", self.drawn.name),
                });
            }
        }
    }

    fn ask(&mut self, random: &mut Random) {
        self.counts().questions += 1;
        let (low, high, most) = self.limits();
        let temperature = match random.below(4) {
            0 => random.between(0.9, 1.03) * self.reducing(),
            _ => random.between(low, (1.1 * self.reducing()).max(low + 1.0)),
        };
        let temperature = temperature.clamp(low, high);
        let pressure = random.scale(1e3, most.min(5e7));
        match random.below(10) {
            0..=2 => self.by_temperature(temperature),
            3 | 4 => self.by_pressure(pressure),
            _ => self.by_two(temperature, pressure, random.below(9)),
        }
    }

    fn by_temperature(&mut self, kelvin: f64) {
        let question = format!("saturation at {kelvin} K");
        let temperature = Temperature::kelvin(kelvin);
        let ask = |refrigerant: &Refrigerant| {
            refrigerant.saturation_at_temperature(temperature, ReferenceState::IdealGas)
        };
        let mut found = Vec::new();
        let answer = self.ask_both(&question, ask, are_apart, &mut found);
        match answer {
            Ok(answer) => {
                let (warned, marked) = (parted(&answer.warnings), marked(&answer.warnings));
                for (name, point, bubble) in points(&answer) {
                    self.judge_point(name, point, (bubble, marked), &mut found);
                    if name != "retrograde" {
                        self.close(name, point, bubble, &mut found);
                    }
                }
                if let (Some(dew), Some(upper)) = (&answer.dew, &answer.retrograde) {
                    let rise = upper.pressure.in_pascal() / dew.pressure.in_pascal();
                    if rise.is_nan() || rise <= 1.0 + 1e-9 {
                        let what = format!(
                            "{} and {} Pa",
                            dew.pressure.in_pascal(),
                            upper.pressure.in_pascal()
                        );
                        found.push((Fault::DewOrder, what));
                    }
                }
                let upper = answer.bubble.is_some() || answer.retrograde.is_some();
                if !upper || answer.dew.is_none() {
                    self.look_at_temperature(kelvin, Some(&answer), &mut found);
                    let reason = missing(&answer.warnings);
                    *self.counts().refused.entry(reason.into()).or_default() += 1;
                } else {
                    self.counts().answered += 1;
                }
                self.counts().warned += usize::from(warned);
            }
            Err(error) => {
                self.refuse(&error);
                self.look_at_temperature(kelvin, None, &mut found);
            }
        }
        self.note(&question, found);
    }

    fn by_pressure(&mut self, pascal: f64) {
        let question = format!("saturation at {pascal} Pa");
        let ask = |refrigerant: &Refrigerant| {
            refrigerant.saturation_at_pressure(Pressure::pascal(pascal), ReferenceState::IdealGas)
        };
        let mut found = Vec::new();
        let answer = self.ask_both(&question, ask, are_apart, &mut found);
        match answer {
            Ok(answer) => {
                let (warned, marked) = (parted(&answer.warnings), marked(&answer.warnings));
                for (name, point, bubble) in points(&answer) {
                    self.judge_point(name, point, (bubble, marked), &mut found);
                }
                if answer.bubble.is_some() && answer.dew.is_some() {
                    self.counts().answered += 1;
                } else {
                    self.look_at_pressure(pascal, Some(&answer), &mut found);
                    let reason = missing(&answer.warnings);
                    *self.counts().refused.entry(reason.into()).or_default() += 1;
                }
                self.counts().warned += usize::from(warned);
            }
            Err(error) => {
                self.refuse(&error);
                self.look_at_pressure(pascal, None, &mut found);
            }
        }
        self.note(&question, found);
    }

    /// A state by temperature and pressure, and the same by another pair of its properties.
    fn by_two(&mut self, kelvin: f64, pascal: f64, pair: usize) {
        let (temperature, pressure) = (Temperature::kelvin(kelvin), Pressure::pascal(pascal));
        let question = format!("state at {kelvin} K, {pascal} Pa");
        let first = Given::TemperaturePressure(temperature, pressure);
        let ask = |refrigerant: &Refrigerant| refrigerant.state(first, ReferenceState::IdealGas);
        let mut found = Vec::new();
        let apart = |a: &Vec<State>, b: &Vec<State>| are_states_apart(a, b);
        let answer = self.ask_both(&question, ask, apart, &mut found);
        let state = match answer {
            Ok(mut states) => states.remove(0),
            Err(error) => {
                self.refuse(&error);
                let solid = matches!(error, Error::NoState { .. }) && {
                    let (_, z) = self.refrigerant.model();
                    self.judge(temperature).lacks_a_liquid(z, pascal)
                };
                if !solid && !matches!(error, Error::OutOfRange { .. }) {
                    let near = kelvin > BELOW_THE_TOP * self.top();
                    found.push((lost(near), error.to_string()));
                }
                return self.note(&question, found);
            }
        };
        self.judge_state(&state, &mut found);
        if !found.is_empty() || pair == 0 {
            self.counts().answered += 1;
            return self.note(&question, found);
        }
        let own = &state.properties;
        let (h, s, rho) = (own.enthalpy, own.entropy, own.density);
        let (name, given) = match (pair, state.quality) {
            (1, Some(q)) => ("p, q", Given::PressureQuality(pressure, q)),
            (2, Some(q)) => ("T, q", Given::TemperatureQuality(temperature, q)),
            (1 | 3, _) => ("p, h", Given::PressureEnthalpy(pressure, h)),
            (2 | 4, _) => ("p, s", Given::PressureEntropy(pressure, s)),
            (5, _) => ("T, rho", Given::TemperatureDensity(temperature, rho)),
            (6, _) => ("T, s", Given::TemperatureEntropy(temperature, s)),
            (7, _) => ("p, rho", Given::PressureDensity(pressure, rho)),
            _ => ("h, s", Given::EnthalpyEntropy(h, s)),
        };
        let question = format!("{question} by {name}");
        let ask = |refrigerant: &Refrigerant| refrigerant.state(given, ReferenceState::IdealGas);
        let back = self.ask_both(&question, ask, apart, &mut found);
        match back {
            Ok(states) => {
                self.counts().answered += 1;
                self.judge_state(&states[0], &mut found);
                let there = states[0].properties.temperature.in_kelvin();
                // of two temperatures with one quality either is an answer
                let by_quality = name.ends_with('q')
                    && states[0]
                        .quality
                        .zip(state.quality)
                        .is_some_and(|(a, b)| (a - b).abs() < 1e-9);
                let moved = (there / kelvin - 1.0).abs() > CLOSED;
                let settled = marked(&state.warnings) && is_instead(name, &state, &states[0]);
                // water is densest at some temperature, and colder as dense as hotter
                let own = states[0].properties.density;
                let by_density = name == "p, rho" && (own / rho - 1.0).abs() < CLOSED;
                if found.is_empty() && moved && !by_quality && !by_density && !settled {
                    let own = states[0].properties.pressure.in_pascal();
                    found.push((Fault::Open, format!("comes back at {there} K, {own} Pa")));
                }
            }
            Err(error) => {
                self.refuse(&error);
                let near = kelvin > BELOW_THE_TOP * self.top();
                found.push((lost(near), error.to_string()));
            }
        }
        self.note(&question, found);
    }

    fn fractions(&self, phase: &PhaseProperties) -> MoleFractions {
        let (mixture, _) = self.refrigerant.model();
        let mut x = [0.0; MAX_COMPONENTS];
        let own = self.refrigerant.components();
        for (component, fraction) in own.iter().zip(&phase.mole_fractions) {
            let place = mixture
                .components()
                .iter()
                .position(|other| other.record.designation == component.designation);
            if let Some(place) = place {
                x[place] = *fraction;
            }
        }
        MoleFractions::new(&x[..mixture.count()])
    }

    fn phase(&self, judge: &Judge<'_>, phase: &PhaseProperties) -> JudgedPhase {
        let (mixture, _) = self.refrigerant.model();
        let x = self.fractions(phase);
        judge.phase(&x, phase.density / mixture.at_composition(&x).molar_mass())
    }

    /// Whether two phases are in equilibrium and stable.
    fn judge_pair(
        &self,
        name: &str,
        (liquid, vapor): (&PhaseProperties, &PhaseProperties),
        marked: bool,
        found: &mut Found,
    ) {
        let judge = self.judge(vapor.temperature);
        let pressure = vapor.pressure.in_pascal();
        let [l, v] = [liquid, vapor].map(|phase| self.phase(&judge, phase));
        let rt = 8.314 * vapor.temperature.in_kelvin();
        let missed = (judge.pressure(&v) - pressure).abs();
        if missed > PRESSURE_MISSED * pressure.max(1e-3 * v.density * rt) {
            found.push((
                Fault::Unbalanced,
                format!("{name}: vapor misses its pressure"),
            ));
        }
        // of a phase that is none no trial proves anything
        let slope = judge.slope(&v);
        if pressure <= 0.0 || slope <= 0.0 {
            let what = format!("{name} at {pressure} Pa: vapor with a slope of {slope:.1e}");
            found.push((Fault::WrongPhase, what));
            return;
        }
        let missed = (judge.pressure(&l) - pressure).abs();
        let apart = judge.imbalance(&l, &v);
        if missed > PRESSURE_MISSED * (l.density * rt) || apart > BALANCED {
            let what = format!("{name}: potentials {apart:.1e}, pressure {missed:.1e} Pa");
            found.push((Fault::Unbalanced, what));
            return;
        }
        if let Some(proof) = judge.proof(&v, pressure) {
            // a liquid that parts and says so
            if !(marked && judge.is_dense(&proof.trial)) {
                let what = format!("{name} at {pressure} Pa: D {:.1e}", proof.distance);
                found.push((Fault::Metastable, what));
            }
        }
    }

    fn judge_point(
        &self,
        name: &str,
        point: &SaturationPoint,
        (bubble, marked): (bool, bool),
        found: &mut Found,
    ) {
        match &point.liquids {
            Some(liquids) => {
                let both = (&point.liquid, Some(&point.vapor));
                self.judge_liquids(name, liquids, both, marked, found);
            }
            None => self.judge_pair(name, (&point.liquid, &point.vapor), false, found),
        }
        let own = if bubble { &point.liquid } else { &point.vapor };
        let (x, (_, z)) = (self.fractions(own), self.refrigerant.model());
        if x.iter().zip(z.iter()).any(|(x, z)| (x - z).abs() > 1e-9) {
            found.push((Fault::Unbalanced, format!("{name}: another composition")));
        }
    }

    /// Whether two liquids are in equilibrium with each other, with their vapor where there is one, and
    /// together what is said to be both.
    fn judge_liquids(
        &self,
        name: &str,
        [a, b]: &[PhaseProperties; 2],
        (both, vapor): (&PhaseProperties, Option<&PhaseProperties>),
        marked: bool,
        found: &mut Found,
    ) {
        match vapor {
            Some(vapor) => {
                self.judge_pair(name, (a, vapor), marked, found);
                self.judge_pair(name, (b, vapor), marked, found);
            }
            None => self.judge_pair(name, (a, b), marked, found),
        }
        // the share of the mass by which the liquids' volumes add up
        let volume = |phase: &PhaseProperties| 1.0 / phase.density;
        let share = (volume(both) - volume(a)) / (volume(b) - volume(a));
        if !are_together(both, (a, b), share) {
            found.push((Fault::Unbalanced, format!("{name}: not both together")));
        }
    }

    fn judge_state(&self, state: &State, found: &mut Found) {
        let marked = marked(&state.warnings);
        let own = &state.properties;
        let vapor = state.vapor.as_ref();
        if let Some(liquids) = &state.liquids {
            let both = state.liquid.as_ref().unwrap_or(own);
            self.judge_liquids("liquids", liquids, (both, vapor), marked, found);
        }
        if let (Some(liquid), Some(vapor), Some(quality)) = (&state.liquid, vapor, state.quality) {
            if state.liquids.is_none() {
                self.judge_pair("two phases", (liquid, vapor), marked, found);
            }
            if !are_together(own, (liquid, vapor), quality) {
                found.push((Fault::Unbalanced, "phases are not the blend".into()));
            }
        }
        if state.liquids.is_some() || vapor.is_some() {
            return;
        }
        let judge = self.judge(own.temperature);
        let phase = self.phase(&judge, own);
        let pressure = own.pressure.in_pascal();
        let missed = (judge.pressure(&phase) - pressure).abs();
        let rt = 8.314 * own.temperature.in_kelvin();
        if missed > PRESSURE_MISSED * pressure.max(phase.density * rt * 1e-3) {
            found.push((
                Fault::Unbalanced,
                format!("misses its pressure by {missed} Pa"),
            ));
        }
        if let Some(proof) = judge.proof(&phase, pressure) {
            let ratio = proof.trial.density / phase.density;
            let fault = if judge.is_dense(&phase) && judge.is_dense(&proof.trial) {
                Fault::Metastable
            } else {
                Fault::WrongPhase
            };
            if fault == Fault::WrongPhase || !marked {
                let what = format!(
                    "{} of {:.4} kg/m3: D {:.1e} at {ratio:.3} of its density",
                    state.phase.name(),
                    own.density,
                    proof.distance
                );
                found.push((fault, what));
            }
        }
    }

    /// From the pressure answered back to the temperature, below the top of the line.
    fn close(&mut self, name: &str, point: &SaturationPoint, bubble: bool, found: &mut Found) {
        let kelvin = point.temperature.in_kelvin();
        let pascal = point.pressure.in_pascal();
        if kelvin > BELOW_THE_TOP * self.top() {
            return;
        }
        let question = format!("{name} at {pascal} Pa");
        let ask = |refrigerant: &Refrigerant| {
            if bubble {
                refrigerant.bubble_temperature(point.pressure)
            } else {
                refrigerant.dew_temperature(point.pressure)
            }
        };
        let apart = |a: &Temperature, b: &Temperature| differ(a.in_kelvin(), b.in_kelvin());
        let back = self.ask_both(&question, ask, apart, found);
        match back {
            Ok(back) if (back.in_kelvin() / kelvin - 1.0).abs() < CLOSED => {}
            Ok(back) => {
                // of two temperatures the lower, where it has that pressure
                let there = self.timed(&question, |refrigerant| {
                    if bubble {
                        refrigerant.bubble_pressure(back)
                    } else {
                        refrigerant.dew_pressure(back)
                    }
                });
                let same = there.is_ok_and(|p| (p.in_pascal() / pascal - 1.0).abs() < CLOSED);
                if !same || back.in_kelvin() > kelvin {
                    let back = back.in_kelvin();
                    let what = format!("{name} at {pascal} Pa comes back at {back} K");
                    found.push((Fault::Open, what));
                }
            }
            Err(error) => found.push((Fault::Open, format!("{name} at {pascal} Pa: {error}"))),
        }
    }
}

/// Whether a state has the two properties of another that is marked as no equilibrium, and is one.
fn is_instead(pair: &str, marked: &State, state: &State) -> bool {
    let (a, b) = (&marked.properties, &state.properties);
    let temperature = a.temperature.in_kelvin();
    let off = |name: &str| match name {
        "p" => b.pressure.in_pascal() / a.pressure.in_pascal() - 1.0,
        "T" => b.temperature.in_kelvin() / temperature - 1.0,
        "h" => (b.enthalpy - a.enthalpy) / (GAS_CONSTANT * temperature),
        "s" => (b.entropy - a.entropy) / GAS_CONSTANT,
        _ => b.density / a.density - 1.0,
    };
    !self::marked(&state.warnings) && pair.split(", ").all(|name| off(name).abs() < CLOSED)
}

/// Whether of two phases a share of the mass being the second makes a whole.
fn are_together(
    whole: &PhaseProperties,
    (a, b): (&PhaseProperties, &PhaseProperties),
    share: f64,
) -> bool {
    let mean = |of: fn(&PhaseProperties) -> f64| (1.0 - share) * of(a) + share * of(b);
    let parts = a.mass_fractions.iter().zip(&b.mass_fractions);
    let mut all = parts.zip(&whole.mass_fractions);
    let heat = GAS_CONSTANT * whole.temperature.in_kelvin();
    all.all(|((a, b), whole)| ((1.0 - share) * a + share * b - whole).abs() < 1e-8)
        && (mean(|phase| phase.enthalpy) - whole.enthalpy).abs() < 1e-6 * heat
}

fn lost(near_the_top: bool) -> Fault {
    if near_the_top {
        Fault::LostNearTheTop
    } else {
        Fault::Lost
    }
}

/// The points of an answer, with names and whether the liquid is the blend.
fn points(answer: &Saturation) -> Vec<(&'static str, &SaturationPoint, bool)> {
    [
        ("bubble", &answer.bubble, true),
        ("dew", &answer.dew, false),
        ("retrograde", &answer.retrograde, false),
    ]
    .into_iter()
    .filter_map(|(name, point, bubble)| Some((name, point.as_ref()?, bubble)))
    .collect()
}

/// Whether an answer is marked as no equilibrium.
fn marked(warnings: &[Warning]) -> bool {
    let is_mark = |one: &Warning| matches!(one, Warning::UnstableLiquid(_));
    warnings.iter().any(is_mark)
}

fn parted(warnings: &[Warning]) -> bool {
    warnings.iter().any(|one| one.code() == "two_liquids")
}
