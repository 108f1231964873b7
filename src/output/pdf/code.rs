//! A QR code (ISO/IEC 18004) as squares.

use qrcode::{Color, EcLevel, QrCode};

use crate::{Error, Result};

/// Modules of quiet zone that the standard asks for around a code.
const QUIET: usize = 4;
/// Side of a module that a telephone reads with ease, points (our own limit, 0.35 mm).
const MODULE: f32 = 1.0;

/// The dark modules of a code.
#[derive(Debug, Clone)]
pub(super) struct Matrix {
    count: usize,
    dark: Vec<bool>,
    /// What it says.
    pub(super) text: String,
}

/// The code of a text.
pub(super) fn matrix(text: &str) -> Result<Matrix> {
    let code = QrCode::with_error_correction_level(text, EcLevel::M);
    let code = code.map_err(|_| Error::Value {
        quantity: "QR code",
        text: text.chars().take(40).collect(),
        problem: format!(
            "holds {} characters, more than a code can",
            text.chars().count()
        ),
        hint: "give a shorter text, at most some 300 characters for print this small".into(),
    })?;
    Ok(Matrix {
        count: code.width(),
        dark: code
            .to_colors()
            .iter()
            .map(|one| *one == Color::Dark)
            .collect(),
        text: text.to_owned(),
    })
}

impl Matrix {
    /// Side of the code with its quiet zone on a panel of some height, points.
    pub(super) fn side(&self, height: f32) -> f32 {
        let modules = (self.count + 2 * QUIET) as f32;
        (modules * MODULE).max((height * 0.1).min(110.0))
    }

    /// Left, top and width of each run of dark modules in a code of one point of side.
    pub(super) fn runs(&self) -> Vec<(f32, f32, f32)> {
        let module = 1.0 / (self.count + 2 * QUIET) as f32;
        let at = |modules: usize| (modules + QUIET) as f32 * module;
        let mut found = Vec::new();
        for (y, row) in self.dark.chunks(self.count.max(1)).enumerate() {
            let mut x = 0;
            while x < row.len() {
                let run = row[x..].iter().take_while(|dark| **dark).count();
                if run > 0 {
                    found.push((at(x), at(y), run as f32 * module));
                }
                x += run.max(1);
            }
        }
        found
    }

    /// Height of a module in a code of one point of side.
    pub(super) fn module(&self) -> f32 {
        1.0 / (self.count + 2 * QUIET) as f32
    }
}
