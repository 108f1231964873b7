//! JSON, for programs: SI units, the unit in the key.

use super::Exporter;
use crate::Result;
use crate::page::Document;

pub(super) struct Json;

impl Exporter for Json {
    fn export(&self, answer: &Document) -> Result<Vec<u8>> {
        Ok((answer.json.text() + "\n").into_bytes())
    }
}
