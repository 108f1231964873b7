//! Answers of the crate to be compared with those of its faces: lines of standard input hold
//! refrigerant, question and value, separated by tabs; lines of standard output the answer's 64 bits
//! in hexadecimal, or `-`.

use std::io::{BufRead, Write};

use zeotrope::units::{Pressure, Temperature};
use zeotrope::{Refrigerant, Result};

fn answer(refrigerant: &Refrigerant, question: &str, value: f64) -> Result<f64> {
    let (temperature, pressure) = (Temperature::kelvin(value), Pressure::pascal(value));
    match question {
        "bubble_pressure_Pa" => Ok(refrigerant.bubble_pressure(temperature)?.in_pascal()),
        "dew_pressure_Pa" => Ok(refrigerant.dew_pressure(temperature)?.in_pascal()),
        "bubble_temperature_K" => Ok(refrigerant.bubble_temperature(pressure)?.in_kelvin()),
        _ => Ok(refrigerant.dew_temperature(pressure)?.in_kelvin()),
    }
}

fn main() -> std::io::Result<()> {
    let mut known: Option<(String, Refrigerant)> = None;
    let mut out = std::io::stdout().lock();
    for line in std::io::stdin().lock().lines() {
        let line = line?;
        let mut fields = line.split('\t');
        let mut field = || fields.next().unwrap_or_default().to_owned();
        let (name, question, value) = (field(), field(), field());
        if known.as_ref().is_none_or(|(same, _)| *same != name) {
            let found = Refrigerant::named(&name).map_err(std::io::Error::other)?;
            known = Some((name, found));
        }
        let value = value.parse().map_err(std::io::Error::other)?;
        let found = known.as_ref().map(|(_, one)| answer(one, &question, value));
        match found {
            Some(Ok(number)) => writeln!(out, "{:016x}", number.to_bits())?,
            _ => writeln!(out, "-")?,
        }
    }
    Ok(())
}
