//! Bubble and dew of a refrigerant.

use super::Refrigerant;
use super::answers::{Derived, PhaseProperties, Saturation, SaturationPoint};
use super::reference_state::{
    ASHRAE_TEMPERATURE, BOILING_PRESSURE, IIR_TEMPERATURE, ReferenceState, Shift,
};
use crate::Warning;
use crate::equilibrium::bubble_dew::{Branch, PhasePair, TwoLiquids};
use crate::equilibrium::pure::{self, Coexistence};
use crate::equilibrium::slope::line_slope;
use crate::equilibrium::{FAR_FROM_CRITICAL, KnownLines};
use crate::error::{Blank, Error, RangeUnit, Reason, Result, finite, reasons};
use crate::helmholtz::MoleFractions;
use crate::state::SinglePhase;
use crate::units::{Pressure, Temperature};

/// Fraction of the critical temperature from which answers are marked as near critical.
const NEAR_CRITICAL: f64 = 1e-4;

impl Refrigerant {
    /// Bubble pressure at a temperature: where the first vapour appears in the liquid.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] off the line; [`Error::NotConverged`].
    pub fn bubble_pressure(&self, temperature: Temperature) -> Result<Pressure> {
        self.line_pressure(Branch::Bubble, temperature)
    }

    /// Dew pressure at a temperature: where the last liquid vanishes from the vapour.
    ///
    /// # Errors
    /// As [`Refrigerant::bubble_pressure`].
    pub fn dew_pressure(&self, temperature: Temperature) -> Result<Pressure> {
        self.line_pressure(Branch::Dew, temperature)
    }

    /// Bubble temperature at a pressure: from it subcooling is counted.
    ///
    /// # Errors
    /// As [`Refrigerant::bubble_pressure`].
    pub fn bubble_temperature(&self, pressure: Pressure) -> Result<Temperature> {
        self.line_temperature(Branch::Bubble, pressure)
    }

    /// Dew temperature at a pressure: from it superheat is counted.
    ///
    /// # Errors
    /// As [`Refrigerant::bubble_pressure`].
    pub fn dew_temperature(&self, pressure: Pressure) -> Result<Temperature> {
        self.line_temperature(Branch::Dew, pressure)
    }

    #[inline]
    pub(super) fn line_pressure(
        &self,
        branch: Branch,
        temperature: Temperature,
    ) -> Result<Pressure> {
        let quick = self
            .wanted(branch)
            .and_then(|curve| curve.pressure(temperature.in_kelvin(), || self.line(branch)));
        match quick {
            Some(pressure) => Ok(Pressure::pascal(pressure)),
            None => {
                let pair = self.solved_at_temperature(branch, temperature)?;
                Ok(Pressure::pascal(pair.pressure))
            }
        }
    }

    #[inline]
    pub(super) fn line_temperature(
        &self,
        branch: Branch,
        pressure: Pressure,
    ) -> Result<Temperature> {
        let quick = self
            .wanted(branch)
            .and_then(|curve| curve.temperature(pressure.in_pascal(), || self.line(branch)));
        match quick {
            Some(temperature) => Ok(Temperature::kelvin(temperature)),
            None => {
                let pair = self.solved_at_pressure(branch, pressure)?;
                Ok(Temperature::kelvin(pair.temperature))
            }
        }
    }

    /// Bubble and dew point at a temperature, with all properties of both phases.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] where there is neither; [`Error::ReferenceState`] for a zero that does not
    /// exist.
    pub fn saturation_at_temperature(
        &self,
        temperature: Temperature,
        zero: ReferenceState,
    ) -> Result<Saturation> {
        let (bubble, upper) = self.upper_at_temperature(temperature);
        let dew = self.pair_at_temperature(Branch::Dew, temperature);
        let mut answer = self.saturation(bubble, dew, false, zero)?;
        if let Some(upper) = upper {
            let shift = self.shift(zero)?;
            answer.retrograde = Some(self.point(Branch::Dew, &upper, &shift));
        }
        Ok(answer)
    }

    /// Bubble and dew point at a pressure, with all properties of both phases, and the glide.
    ///
    /// # Errors
    /// As [`Refrigerant::saturation_at_temperature`].
    pub fn saturation_at_pressure(
        &self,
        pressure: Pressure,
        zero: ReferenceState,
    ) -> Result<Saturation> {
        let bubble = self.pair_at_pressure(Branch::Bubble, pressure);
        let dew = self.pair_at_pressure(Branch::Dew, pressure);
        self.saturation(bubble, dew, true, zero)
    }

    fn saturation(
        &self,
        bubble: Result<PhasePair>,
        dew: Result<PhasePair>,
        by_pressure: bool,
        zero: ReferenceState,
    ) -> Result<Saturation> {
        if let (Err(error), Err(other)) = (&bubble, &dew) {
            // the one that says why
            let lost = matches!(error, Error::NotConverged { .. });
            return Err(if lost { other.clone() } else { error.clone() });
        }
        let shift = self.shift(zero)?;
        let mut warnings = self.warnings();
        for (branch, side) in [(Branch::Bubble, &bubble), (Branch::Dew, &dew)] {
            match side {
                Err(error) => warnings.push(Warning::NoBranch(branch, error.clone())),
                Ok(pair) => self.warn(pair, &mut warnings),
            }
        }
        warnings.dedup();
        let (bubble, dew) = (bubble.ok(), dew.ok());
        let glide = match (&bubble, &dew) {
            (Some(bubble), Some(dew)) if by_pressure => Some(dew.temperature - bubble.temperature),
            _ => None,
        };
        let bubble = bubble.map(|pair| self.point(Branch::Bubble, &pair, &shift));
        let dew = dew.map(|pair| self.point(Branch::Dew, &pair, &shift));
        let heat_bubble_to_dew = match (&bubble, &dew) {
            (Some(bubble), Some(dew)) if by_pressure => {
                Some(dew.vapor.enthalpy - bubble.liquid.enthalpy)
            }
            _ => None,
        };
        Ok(Saturation {
            bubble,
            dew,
            retrograde: None,
            glide,
            heat_bubble_to_dew,
            zero: shift.zero,
            warnings,
        })
    }

    fn warn(&self, pair: &PhasePair, warnings: &mut Vec<Warning>) {
        self.warn_at(pair.temperature, pair.liquids.as_ref(), warnings);
    }

    /// What to know about a point of a line at a temperature, K.
    pub(super) fn warn_at(
        &self,
        temperature: f64,
        liquids: Option<&TwoLiquids>,
        warnings: &mut Vec<Warning>,
    ) {
        if self.near_critical(temperature) {
            warnings.push(Warning::NearCritical(NEAR_CRITICAL));
        }
        if self.is_pure() {
            return;
        }
        if let Some(liquids) = liquids {
            let at = Temperature::kelvin(temperature);
            warnings.push(match liquids.are_all {
                true => Warning::TwoLiquids(at),
                false => Warning::UnstableLiquid(at),
            });
        }
        for component in self.0.mixture.components() {
            let coldest = component.record.range.temperature_min_k;
            if temperature < coldest {
                warnings.push(Warning::ExtrapolatedComponent(
                    component.record.designation.clone(),
                    Temperature::kelvin(coldest),
                ));
            }
        }
    }

    /// Whether a temperature in K lies near the critical one of the equation or blend.
    fn near_critical(&self, temperature: f64) -> bool {
        let from = 1.0 - NEAR_CRITICAL;
        if self.is_pure() {
            return temperature > from * self.0.mixture.components()[0].critical.temperature;
        }
        // the envelope is traced where the line was found by it
        let reducing = self.fixed().reducing_temperature;
        temperature > FAR_FROM_CRITICAL * reducing
            && self.envelope().is_ok_and(|envelope| {
                (temperature / envelope.critical.temperature - 1.0).abs() < NEAR_CRITICAL
            })
    }

    /// A point of the line at a temperature, molar and in the model's order.
    pub(super) fn pair_at_temperature(
        &self,
        branch: Branch,
        temperature: Temperature,
    ) -> Result<PhasePair> {
        match self.at_temperature(branch, temperature.in_kelvin()) {
            Some(pair) => Ok(pair),
            None => self.solved_at_temperature(branch, temperature),
        }
    }

    /// A point of the line at a pressure, molar and in the model's order.
    pub(super) fn pair_at_pressure(&self, branch: Branch, pressure: Pressure) -> Result<PhasePair> {
        match self.at_pressure(branch, pressure.in_pascal()) {
            Some(pair) => Ok(pair),
            None => self.solved_at_pressure(branch, pressure),
        }
    }

    fn solved_at_temperature(&self, branch: Branch, temperature: Temperature) -> Result<PhasePair> {
        let kelvin = finite("temperature", temperature.in_kelvin())?;
        if self.is_pure() {
            let found = pure::saturation_at_temperature(&self.fixed(), kelvin, None)?;
            return Ok(self.pure_pair(&found));
        }
        self.check_temperature(kelvin)?;
        let inner = &self.0;
        inner
            .line
            .at_temperature(&inner.mixture, &inner.x, branch, kelvin)
    }

    /// The bubble point at a temperature, or why there is none and the dew point of higher pressure.
    fn upper_at_temperature(
        &self,
        temperature: Temperature,
    ) -> (Result<PhasePair>, Option<PhasePair>) {
        let kelvin = temperature.in_kelvin();
        if let Some(pair) = self.at_temperature(Branch::Bubble, kelvin) {
            return (Ok(pair), None);
        }
        if self.is_pure() || self.check_temperature(kelvin).is_err() {
            return (
                self.solved_at_temperature(Branch::Bubble, temperature),
                None,
            );
        }
        let inner = &self.0;
        inner
            .line
            .upper_at_temperature(&inner.mixture, &inner.x, kelvin)
    }

    /// # Errors
    /// [`Error::OutOfRange`] for a temperature in K outside the range.
    fn check_temperature(&self, kelvin: f64) -> Result<()> {
        let limits = self.limits();
        let (low, high) = (
            limits.temperature_min.in_kelvin(),
            limits.temperature_max.in_kelvin(),
        );
        if !(kelvin >= low && kelvin <= high) {
            return Err(Error::OutOfRange {
                quantity: "temperature",
                value: kelvin,
                low,
                high,
                unit: RangeUnit::Kelvin,
                range: Reason::of(
                    reasons::RANGE_REFRIGERANT,
                    "refrigerant",
                    self.designation(),
                ),
            });
        }
        Ok(())
    }

    fn solved_at_pressure(&self, branch: Branch, pressure: Pressure) -> Result<PhasePair> {
        let pascal = finite("pressure", pressure.in_pascal())?;
        if self.is_pure() {
            let found = pure::saturation_at_pressure(&self.fixed(), pascal, None)?;
            return Ok(self.pure_pair(&found));
        }
        if pascal <= 0.0 {
            return Err(self.below_line(pascal, 0.0));
        }
        let inner = &self.0;
        let (mixture, z) = (&inner.mixture, &inner.x);
        // The line is answered from the blend's lowest temperature; what lies below is told so.
        let low = self.limits().temperature_min;
        let curve = self.wanted(branch);
        let bottom = curve.and_then(|it| it.pressure(low.in_kelvin(), || self.line(branch)));
        if let Some(bottom) = bottom
            && pascal < bottom * (1.0 - 1e-9)
            && inner.line.begins_lowest(mixture, z, branch)
        {
            return Err(self.below_line(pascal, bottom));
        }
        match inner.line.at_pressure(mixture, z, branch, pascal) {
            Ok(pair) if pair.temperature >= low.in_kelvin() * (1.0 - 1e-9) => Ok(pair),
            Ok(_) | Err(Error::BelowRange { .. }) => Err(self.below(branch, pascal)),
            Err(other) => Err(other),
        }
    }

    /// A pressure at which a blend's branch lies below its lowest temperature.
    fn below(&self, branch: Branch, pascal: f64) -> Error {
        let low = self.limits().temperature_min;
        let inner = &self.0;
        // not what takes a search, which would cost more than the answer
        let at = |part: f64| {
            let (mixture, z, kelvin) = (&inner.mixture, &inner.x, low.in_kelvin() * part);
            let point = match branch {
                Branch::Bubble => inner.line.bubble_at_once(mixture, z, kelvin),
                Branch::Dew => inner.line.at_temperature(mixture, z, branch, kelvin).ok(),
            };
            Some(point?.pressure)
        };
        match (at(1.0), at(1.001)) {
            (Some(bottom), Some(next)) if pascal < bottom && bottom < next => {
                self.below_line(pascal, bottom)
            }
            // beside a gas the line may lie above all pressures there, or fall
            _ => Error::BelowRange {
                point: branch.point(),
                pressure: pascal,
                temperature: low.in_kelvin(),
            },
        }
    }

    /// A pressure below a blend's line, or none at all.
    fn below_line(&self, pascal: f64, bottom: f64) -> Error {
        let limits = self.limits();
        let high = self
            .envelope()
            .map_or(limits.pressure_max.in_pascal(), |it| {
                it.cricondenbar.pressure
            });
        let low = limits.temperature_min;
        Error::OutOfRange {
            quantity: "pressure",
            value: pascal,
            low: bottom,
            high,
            unit: RangeUnit::Pascal,
            range: Reason::of(reasons::RANGE_LINE, "refrigerant", self.designation())
                .and("from", Blank::Quantity(low.in_kelvin(), RangeUnit::Kelvin)),
        }
    }

    fn pure_pair(&self, found: &Coexistence) -> PhasePair {
        PhasePair {
            temperature: found.temperature,
            pressure: found.pressure,
            liquid: self.0.x,
            vapor: self.0.x,
            liquid_density: found.liquid_density,
            vapor_density: found.vapor_density,
            liquids: None,
            steps: found.steps,
            residual: found.residual,
        }
    }

    fn point(&self, branch: Branch, pair: &PhasePair, shift: &Shift) -> SaturationPoint {
        let mixture = &self.0.mixture;
        let single = |x: &MoleFractions, density| {
            let fixed = mixture.at_composition(x);
            SinglePhase::at_density(&fixed, pair.temperature, density)
        };
        let phase = |x: &MoleFractions, density| {
            let mut properties = self.phase_properties(&single(x, density), shift);
            // the liquid's own pressure cancels to rounding; the pair has one pressure
            properties.pressure = Pressure::pascal(pair.pressure);
            properties
        };
        let both = pair.liquids.map(|liquids| {
            let [a, b] = liquids.phases.map(|(x, density)| single(&x, density));
            self.liquids((&a, &b), liquids.share, pair.pressure, shift)
        });
        let (liquid, liquids) = match both {
            Some((liquid, liquids)) => (liquid, Some(liquids)),
            None => (phase(&pair.liquid, pair.liquid_density), None),
        };
        let vapor = phase(&pair.vapor, pair.vapor_density);
        SaturationPoint {
            temperature: Temperature::kelvin(pair.temperature),
            pressure: Pressure::pascal(pair.pressure),
            latent_heat: vapor.enthalpy - liquid.enthalpy,
            slope: line_slope(mixture, &self.0.x, branch, pair),
            k_values: self
                .0
                .places
                .iter()
                .map(|&k| pair.vapor[k] / pair.liquid[k])
                .collect(),
            liquid,
            liquids,
            vapor,
        }
    }

    /// Molar in the model's order to by mass in the user's.
    pub(super) fn phase_properties(&self, phase: &SinglePhase, shift: &Shift) -> PhaseProperties {
        let fixed = self.0.mixture.at_composition(&phase.x);
        let mass = phase.molar_mass;
        let logs = phase.log_fugacity_coefficients(&fixed);
        let components = self.0.mixture.components();
        let own = |place: usize| components[place].record.molar_mass_kg_mol;
        let enthalpy = phase.enthalpy / mass + shift.enthalpy;
        let density = phase.density * mass;
        PhaseProperties {
            temperature: Temperature::kelvin(phase.temperature),
            pressure: Pressure::pascal(phase.pressure),
            density,
            enthalpy,
            entropy: phase.entropy / mass + shift.entropy,
            internal_energy: enthalpy - phase.pressure / density,
            cp: Some(phase.cp / mass),
            cv: Some(phase.cv / mass),
            speed_of_sound: Some(phase.speed_of_sound),
            compressibility_factor: Some(phase.compressibility_factor),
            joule_thomson: Some(phase.joule_thomson),
            derived: Derived {
                isothermal_compressibility: Some(1.0 / (phase.density * phase.pressure_by_density)),
                thermal_expansion: Some(
                    phase.pressure_by_temperature / (phase.density * phase.pressure_by_density),
                ),
                pressure_by_density: Some(phase.pressure_by_density / mass),
                pressure_by_temperature: Some(phase.pressure_by_temperature),
                isentropic_exponent: Some(density * phase.speed_of_sound.powi(2) / phase.pressure),
            },
            fugacity_coefficients: self.0.places.iter().map(|&k| logs[k].exp()).collect(),
            mole_fractions: self.0.places.iter().map(|&k| phase.x[k]).collect(),
            mass_fractions: self
                .0
                .places
                .iter()
                .map(|&k| phase.x[k] * own(k) / mass)
                .collect(),
        }
    }

    /// The shift of enthalpy and entropy for a zero.
    pub(super) fn shift(&self, zero: ReferenceState) -> Result<Shift> {
        let mut found = self.known_shift(zero);
        if let Err(Error::ReferenceState { available, .. }) = &mut found {
            // Filled in here, not where the shift is found: two missing zeros that each ask
            // for the other would wait for ever.
            *available = [
                ReferenceState::Iir,
                ReferenceState::Ashrae,
                ReferenceState::BoilingPoint,
                ReferenceState::IdealGas,
            ]
            .into_iter()
            .filter(|&other| other != zero && self.known_shift(other).is_ok())
            .map(ReferenceState::name)
            .collect();
        }
        found
    }

    fn known_shift(&self, zero: ReferenceState) -> Result<Shift> {
        self.0.shifts[zero.index()]
            .get_or_init(|| self.find_shift(zero))
            .clone()
    }

    fn find_shift(&self, zero: ReferenceState) -> Result<Shift> {
        // enthalpy and entropy of a mole of liquid
        let liquid = |pair: PhasePair| {
            let of = |x: &MoleFractions, density| {
                let fixed = self.0.mixture.at_composition(x);
                let phase = SinglePhase::at_density(&fixed, pair.temperature, density);
                [phase.enthalpy, phase.entropy]
            };
            let Some(TwoLiquids { phases, share, .. }) = pair.liquids else {
                return of(&pair.liquid, pair.liquid_density);
            };
            let [a, b] = phases.map(|(x, density)| of(&x, density));
            [0, 1].map(|k| (1.0 - share) * a[k] + share * b[k])
        };
        let to = |liquid: [f64; 2], enthalpy: f64, entropy: f64| Shift {
            zero,
            enthalpy: enthalpy - liquid[0] / self.0.molar_mass,
            entropy: entropy - liquid[1] / self.0.molar_mass,
        };
        let at = |temperature: Temperature| {
            self.solved_at_temperature(Branch::Bubble, temperature)
                .map(liquid)
        };
        let found = match zero {
            ReferenceState::Usual => {
                return Ok([ReferenceState::Iir, ReferenceState::BoilingPoint]
                    .into_iter()
                    .find_map(|zero| self.shift(zero).ok())
                    .unwrap_or(Shift {
                        zero: ReferenceState::IdealGas,
                        enthalpy: 0.0,
                        entropy: 0.0,
                    }));
            }
            ReferenceState::IdealGas => {
                return Ok(Shift {
                    zero,
                    enthalpy: 0.0,
                    entropy: 0.0,
                });
            }
            ReferenceState::Published => {
                // alpha0 gains constant + linear tau: h gains R T tau linear, s loses R constant
                let component = &self.0.mixture.components()[0];
                let scale = component.record.gas_constant_j_mol_k / self.0.molar_mass;
                let [value, slope] = component
                    .ideal
                    .published_shift(component.reducing.temperature);
                return if self.is_pure() {
                    Ok(Shift {
                        zero,
                        enthalpy: scale * component.reducing.temperature * slope,
                        entropy: -scale * (value - slope),
                    })
                } else {
                    Err(self.no_zero(zero, reasons::NO_PUBLISHED_ZERO.into()))
                };
            }
            ReferenceState::Iir => at(IIR_TEMPERATURE).map(|liquid| to(liquid, 200e3, 1e3)),
            ReferenceState::Ashrae => at(ASHRAE_TEMPERATURE).map(|liquid| to(liquid, 0.0, 0.0)),
            ReferenceState::BoilingPoint => self
                .solved_at_pressure(Branch::Bubble, BOILING_PRESSURE)
                .map(|pair| to(liquid(pair), 0.0, 0.0)),
        };
        found.map_err(|error| {
            let problem = Blank::Problem(Box::new(error));
            self.no_zero(
                zero,
                Reason::with(reasons::ANOTHER_ERROR, "problem", problem),
            )
        })
    }

    fn no_zero(&self, zero: ReferenceState, reason: Reason) -> Error {
        Error::ReferenceState {
            refrigerant: self.designation().into(),
            asked: zero.name(),
            reason,
            available: Vec::new(),
        }
    }
}
