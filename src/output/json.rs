//! JSON, for programs: SI units, the unit in the key.

use super::{Answer, Exporter};
use crate::{Error, Result};

pub(super) struct Json;

impl Exporter for Json {
    fn export(&self, answer: &Answer) -> Result<Vec<u8>> {
        let text = serde_json::to_string_pretty(&answer.json).map_err(|problem| Error::File {
            file: "JSON".into(),
            problem: problem.to_string(),
            hint: "choose another --format".into(),
        })?;
        Ok((text + "\n").into_bytes())
    }
}
