//! JSON, for programs: SI units, the unit in the key.

use super::Exporter;
use crate::page::Document;
use crate::{Error, Result};

pub(super) struct Json;

impl Exporter for Json {
    fn export(&self, answer: &Document) -> Result<Vec<u8>> {
        let text = serde_json::to_string_pretty(&answer.json).map_err(|problem| Error::File {
            file: "JSON".into(),
            problem: problem.to_string(),
            hint: "choose another format".into(),
        })?;
        Ok((text + "\n").into_bytes())
    }
}
