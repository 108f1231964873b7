//! Bubble points of pairs at trial reducing parameters of the temperature; `tools/refit.py` asks
//! it.
//!
//! Standard input: CSV with the columns `first,second,beta_t,gamma_t,T_K,x_first`, in the order of
//! the pair's file. Standard output: a line a row, the pressure in Pa, the mole fraction of the
//! first in the vapor and the temperature over the reducing one, or `nan nan nan` where the model has no bubble point. All else of the pair
//! (volumes, departure function) is as its file has it; of a pair without a file all is 1.

use std::error::Error;
use std::io::Write;
use std::{collections::HashMap, io};

use serde::Deserialize;
use zeotrope::Refrigerant;
use zeotrope::catalogue::records::PairReducing;
use zeotrope::catalogue::{Basis, Catalogue};
use zeotrope::equilibrium::bubble_dew::{self, Branch};
use zeotrope::helmholtz::mixture::Pair;
use zeotrope::helmholtz::{Mixture, MoleFractions};

/// What a pair without a file is taken as.
const UNKNOWN: PairReducing = PairReducing {
    beta_t: 1.0,
    gamma_t: 1.0,
    beta_v: 1.0,
    gamma_v: 1.0,
};

#[derive(Deserialize)]
struct Row {
    first: String,
    second: String,
    beta_t: f64,
    gamma_t: f64,
    #[serde(rename = "T_K")]
    temperature: f64,
    x_first: f64,
}

fn main() -> Result<(), Box<dyn Error>> {
    let mut known: HashMap<String, Mixture> = HashMap::new();
    let mut out = io::BufWriter::new(io::stdout().lock());
    for row in csv::Reader::from_reader(io::stdin().lock()).deserialize() {
        let row: Row = row?;
        let key = format!(
            "{} {} {} {}",
            row.first, row.second, row.beta_t, row.gamma_t
        );
        if !known.contains_key(&key) {
            known.insert(key.clone(), mixture(&row)?);
        }
        let z = MoleFractions::checked(&[row.x_first, 1.0 - row.x_first])?;
        let found =
            bubble_dew::at_temperature(&known[&key], &z, Branch::Bubble, row.temperature, None);
        match found {
            Ok(point) => {
                let mixture = &known[&key];
                let place = usize::from(mixture.components()[0].record.designation != row.first);
                let part = row.temperature / mixture.at_composition(&z).reducing_temperature;
                writeln!(out, "{} {} {part}", point.pressure, point.vapor[place])?;
            }
            Err(_) => writeln!(out, "nan nan nan")?,
        }
    }
    Ok(())
}

/// The pair's model with the row's parameters in place of the file's.
fn mixture(row: &Row) -> Result<Mixture, Box<dyn Error>> {
    let catalogue = Catalogue::embedded();
    let equation = |name: &str| -> zeotrope::Result<_> {
        let pure = Refrigerant::from_catalogue(&catalogue, name, Basis::Mole)?;
        Ok(pure.model().0.components()[0].clone())
    };
    let (mut reducing, departure) = match catalogue.pair(&row.first, &row.second)? {
        Some((_, true)) => {
            let names = format!("{} + {}", row.first, row.second);
            return Err(format!("the file of {names} is in the other order").into());
        }
        Some((record, false)) => {
            let departure = match &record.departure {
                Some(name) => Some((catalogue.departure(name)?, record.departure_factor)),
                None => None,
            };
            (record.reducing, departure)
        }
        None => (UNKNOWN, None),
    };
    reducing.beta_t = row.beta_t;
    reducing.gamma_t = row.gamma_t;
    let pair = Pair {
        first: 0,
        second: 1,
        reducing,
        departure,
    };
    let components = vec![equation(&row.first)?, equation(&row.second)?];
    Ok(Mixture::new(components, &[pair])?)
}
