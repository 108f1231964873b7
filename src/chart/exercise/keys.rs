//! An exercise as programs read it.

use serde::ser::SerializeMap;
use serde::{Serialize, Serializer};

use super::{CoilTask, CycleTask, Exercise, LensTask, ReadingTask, Task};
use crate::service::reading::superheat_subcooling::Measure;

impl Serialize for Exercise {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(None)?;
        map.serialize_entry("title", &self.title)?;
        map.serialize_entry("seed", &self.seed)?;
        map.serialize_entry("gauge_limit_Pa", &self.limits[0])?;
        map.serialize_entry("clamp_limit_K", &self.limits[1])?;
        map.serialize_entry("tasks", &self.tasks)?;
        map.serialize_entry("estimated_pairs", &self.estimates)?;
        map.end()
    }
}

impl Serialize for Task {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Task::Reading(task) => task.serialize(serializer),
            Task::Lens(task) => task.serialize(serializer),
            Task::Coil(task) => task.serialize(serializer),
            Task::Cycle(task) => task.serialize(serializer),
        }
    }
}

impl Serialize for ReadingTask {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(None)?;
        let (kind, key) = match self.reading.measure {
            Measure::Superheat => ("superheat", "superheat_K"),
            Measure::Subcooling => ("subcooling", "subcooling_K"),
        };
        map.serialize_entry("task", kind)?;
        map.serialize_entry("refrigerant", &self.refrigerant)?;
        map.serialize_entry("pressure_Pa", &self.reading.pressure)?;
        map.serialize_entry("line_temperature_K", &self.reading.line)?;
        map.serialize_entry("saturation_temperature_K", &self.reading.saturation)?;
        map.serialize_entry(key, &self.reading.value)?;
        map.serialize_entry("expanded_uncertainty_K", &self.half())?;
        map.serialize_entry("wrong_branch_K", &self.wrong)?;
        map.serialize_entry("target_K", &self.target.map(|target| target.value))?;
        map.serialize_entry("band_K", &self.target.map(|target| target.band))?;
        map.serialize_entry("verdict", &self.verdict)?;
        map.serialize_entry("drawn_K", &self.drawn)?;
        map.end()
    }
}

impl ReadingTask {
    /// The larger side of the expanded interval, K.
    pub fn half(&self) -> Option<f64> {
        self.expanded.map(|[below, above]| below.max(above))
    }
}

impl Serialize for LensTask {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(None)?;
        let bubble = self.found.bubble.as_ref();
        let dew = self.found.dew.as_ref();
        map.serialize_entry("task", "lens")?;
        map.serialize_entry("refrigerant", &self.refrigerant)?;
        map.serialize_entry("pressure_Pa", &self.pressure.value)?;
        map.serialize_entry("bubble_temperature_K", &bubble.map(|one| one.temperature))?;
        map.serialize_entry("dew_temperature_K", &dew.map(|one| one.temperature))?;
        map.serialize_entry("glide_K", &self.found.glide)?;
        let vapor = bubble.map(|one| &one.vapor.mass_fractions);
        map.serialize_entry("first_vapor_mass_fractions", &vapor)?;
        let liquid = dew.map(|one| &one.liquid.mass_fractions);
        map.serialize_entry("last_liquid_mass_fractions", &liquid)?;
        map.end()
    }
}

impl Serialize for CoilTask {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(None)?;
        map.serialize_entry("task", "coil")?;
        map.serialize_entry("refrigerant", &self.refrigerant)?;
        map.serialize_entry("pressure_Pa", &self.coil.pressure)?;
        let all = self.coil.stations.iter();
        let along: Vec<_> = all.map(|one| (one.position, one.temperature)).collect();
        map.serialize_entry("along", &along)?;
        let inlet = self.coil.inlet.as_ref();
        map.serialize_entry("inlet_quality", &inlet.map(|one| one.quality))?;
        map.end()
    }
}

impl Serialize for CycleTask {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(None)?;
        map.serialize_entry("task", "cycle")?;
        map.serialize_entry("refrigerant", self.refrigerant.designation())?;
        map.serialize_entry("evaporating_dew_temperature_K", &self.levels[0])?;
        map.serialize_entry("condensing_bubble_temperature_K", &self.levels[1])?;
        map.serialize_entry("cycle", &self.solved)?;
        map.end()
    }
}
