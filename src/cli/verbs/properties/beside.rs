//! What `saturation` shows beside the real lines: the band of tolerances, Raoult's law.

use serde_json::{Map, Value};

use crate::cli::verbs::properties::ideal::{At, Ideal};
use crate::cli::verbs::properties::saturation::SaturationArgs;
use crate::cli::verbs::properties::tolerance::Tolerance;
use crate::page::Block;
use crate::refrigerant::{Refrigerant, Saturation, Warning};
use crate::units::{Atmosphere, UnitSet};

/// What was asked for beside the real lines.
pub(crate) struct Beside {
    pub(crate) tolerance: Option<Tolerance>,
    ideal: Option<Ideal>,
}

impl Beside {
    pub(crate) fn of(
        args: &SaturationArgs,
        refrigerant: &Refrigerant,
        saturation: &Saturation,
        at: At,
    ) -> Self {
        let (bubble, dew) = (saturation.bubble.as_ref(), saturation.dew.as_ref());
        Self {
            tolerance: args
                .tolerance
                .then(|| Tolerance::around(refrigerant, bubble, dew)),
            ideal: args.teaching.model.map(|_| Ideal::at(refrigerant, at)),
        }
    }

    pub(crate) fn warnings(&self, units: &UnitSet, site: &Atmosphere) -> Vec<Warning> {
        let mut all = Vec::new();
        all.extend(
            self.tolerance
                .iter()
                .flat_map(|one| one.warnings(units, site)),
        );
        all.extend(self.ideal.iter().flat_map(|one| one.warnings(units, site)));
        all
    }

    pub(crate) fn blocks(
        &self,
        refrigerant: &Refrigerant,
        saturation: &Saturation,
        units: &UnitSet,
        site: &Atmosphere,
    ) -> Vec<Block> {
        let real = [&saturation.bubble, &saturation.dew]
            .map(|point| point.as_ref().map(|at| (at.temperature, at.pressure)));
        let mut blocks = Vec::new();
        blocks.extend(
            self.tolerance
                .iter()
                .flat_map(|one| one.blocks(units, site)),
        );
        if let Some(ideal) = &self.ideal {
            blocks.extend(ideal.blocks(refrigerant, real, units, site));
        }
        blocks
    }

    pub(crate) fn working(&self, refrigerant: &Refrigerant, units: &UnitSet) -> Vec<String> {
        let ideal = self.ideal.iter();
        ideal
            .flat_map(|one| one.working(refrigerant, units))
            .collect()
    }

    pub(crate) fn add_to(&self, object: &mut Map<String, Value>) {
        if let Some(tolerance) = &self.tolerance {
            object.insert("tolerance".into(), tolerance.json());
        }
        if let Some(ideal) = &self.ideal {
            object.insert("ideal".into(), ideal.json());
        }
    }
}
