//! The columns of a sheet whose headers name quantities with their units: which one is meant.

use super::{BareUnit, ColumnHeader, ColumnQuantity};
use crate::{Error, Result};

/// A column that is read: its place, its header and what it says.
#[derive(Debug, Clone)]
pub struct ReadColumn {
    /// Columns left of it.
    pub index: usize,
    /// Its header, blanks aside.
    pub head: String,
    /// What it says.
    pub column: ColumnHeader,
}

/// The headers of a sheet.
///
/// # Example
/// ```
/// use zeotrope::units::{BareUnit, Heads, ColumnQuantity};
/// let heads = ["time_s", "suction_pressure_psig", "note"].map(str::to_owned);
/// let heads = Heads::new("log.csv", heads.to_vec(), BareUnit::Refused);
/// let found = heads.choose(&[ColumnQuantity::Pressure], 1, &[])?;
/// assert_eq!(found[0].index, 1);
/// # Ok::<(), zeotrope::Error>(())
/// ```
#[derive(Debug, Clone)]
pub struct Heads {
    name: String,
    heads: Vec<String>,
    /// What each column is called, where that was said apart from its header.
    names: Vec<Option<String>>,
    bare: BareUnit,
    /// What each column says, where it says a quantity.
    columns: Vec<Option<Result<ColumnHeader>>>,
}

fn wrong(problem: impl Into<String>, hint: impl Into<String>) -> Error {
    Error::Columns {
        problem: problem.into(),
        hint: hint.into(),
        choice: Vec::new(),
    }
}

impl Heads {
    /// Reads the headers of a sheet of some name, which errors say; `bare` says what a header with
    /// `kPa` or `MPa` means.
    pub fn new(name: impl Into<String>, heads: Vec<String>, bare: BareUnit) -> Self {
        let columns = heads
            .iter()
            .map(|head| ColumnHeader::named(head.trim(), bare));
        Self {
            name: name.into(),
            columns: columns.collect(),
            names: vec![None; heads.len()],
            bare,
            heads,
        }
    }

    /// Says what a column is: NAME=HEADER or NAME=HEADER:UNIT, the last colon counting only where
    /// a unit of the quantity follows. A name without a quantity, such as `time`, has no unit.
    ///
    /// # Errors
    /// [`Error::Columns`] where there is no such column, or its unit is not said.
    ///
    /// # Example
    /// ```
    /// use zeotrope::units::{BareUnit, Heads};
    /// let heads = ["Zeit", "PT101", "Line 1: wall [F]"].map(str::to_owned);
    /// let mut heads = Heads::new("log.csv", heads.to_vec(), BareUnit::Refused);
    /// heads.map("suction_pressure=PT101:barg")?;
    /// heads.map("suction_line_temperature=Line 1: wall [F]")?;
    /// assert_eq!(heads.meaning(&["suction_pressure"])?.unwrap().index, 1);
    /// assert_eq!(heads.meaning(&["suction_line_temperature"])?.unwrap().index, 2);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn map(&mut self, text: &str) -> Result<()> {
        let (name, header) = text.split_once('=').ok_or_else(|| {
            wrong(
                format!("'{text}' says no column"),
                "write NAME=HEADER or NAME=HEADER:UNIT",
            )
        })?;
        let (name, header) = (name.trim(), header.trim());
        let place = |header: &str| {
            let same = |own: &&String| own.trim().eq_ignore_ascii_case(header.trim());
            let exact = self
                .heads
                .iter()
                .position(|own| own.trim() == header.trim());
            exact.or_else(|| {
                let mut like = self.heads.iter().enumerate().filter(|(_, own)| same(own));
                like.next()
                    .filter(|_| like.next().is_none())
                    .map(|(at, _)| at)
            })
        };
        let with_unit = |unit: &str| {
            let head = match unit {
                "" => name.to_owned(),
                unit => format!("{name}_{unit}"),
            };
            ColumnHeader::named(&head, self.bare)
        };
        // A colon may be part of the header.
        let (index, unit) = match (place(header), header.rsplit_once(':')) {
            (Some(index), _) => (Some(index), None),
            (None, Some((before, unit))) => (place(before), Some(unit.trim())),
            (None, None) => (None, None),
        };
        let index = index.ok_or_else(|| {
            wrong(
                format!("{} has no column '{header}'", self.name),
                format!("there are: {}", self.list()),
            )
        })?;
        let head = self.heads[index].clone();
        let own_unit = || {
            let mut words = head.split(['_', ' ', '(', ')', '[', ']', ',']);
            let last = words.rfind(|word| !word.is_empty());
            last.unwrap_or_default().to_owned()
        };
        let column = match unit {
            Some(unit) => with_unit(unit),
            None => match with_unit("") {
                Some(Err(_)) => with_unit(&own_unit()),
                other => other,
            },
        };
        match column {
            Some(Err(_)) if unit.is_none() => {
                return Err(wrong(
                    format!("the unit of column '{head}' is not said"),
                    format!("write {name}={head}:UNIT, for example {name}={head}:psig or :F"),
                ));
            }
            Some(Err(error)) => return Err(error),
            Some(Ok(column)) => self.columns[index] = Some(Ok(column)),
            None => self.columns[index] = None,
        }
        self.names[index] = Some(name.to_owned());
        Ok(())
    }

    /// Whether a column's meaning was said apart from its header.
    fn is_mapped(&self, index: usize) -> bool {
        self.names[index].is_some()
    }

    /// The places of columns that say a quantity.
    pub fn of_quantities(&self) -> Vec<usize> {
        let says = |index: &usize| matches!(self.columns[*index], Some(Ok(_)));
        (0..self.heads.len()).filter(says).collect()
    }

    /// The headers as written.
    pub fn as_slice(&self) -> &[String] {
        &self.heads
    }

    /// The columns to read: those named, else the `count` that say one of the
    /// quantities; of more, those named by their quantity alone.
    pub fn choose(
        &self,
        wanted: &[ColumnQuantity],
        count: usize,
        named: &[String],
    ) -> Result<Vec<ReadColumn>> {
        let words = either(wanted);
        if !named.is_empty() {
            if named.len() != count {
                return Err(wrong(
                    format!("{} columns were named, {count} to be read", named.len()),
                    format!("name {count} of: {}", self.list()),
                ));
            }
            let found = named.iter().map(|head| {
                let place = self.named(head)?;
                match wanted.contains(&place.column.quantity()) {
                    true => Ok(place),
                    false => Err(wrong(
                        format!("column '{head}' is not a {words}"),
                        format!("name {count} of: {}", self.list()),
                    )),
                }
            });
            return found.collect();
        }
        let says = |index: &usize| match &self.columns[*index] {
            Some(Ok(column)) => wanted.contains(&column.quantity()),
            Some(Err(_)) => wanted
                .iter()
                .any(|quantity| self.heads[*index].to_lowercase().contains(quantity.name())),
            None => false,
        };
        let mut found: Vec<usize> = (0..self.heads.len()).filter(says).collect();
        if found.len() > count {
            let only = |fits: &dyn Fn(usize) -> bool| -> Vec<usize> {
                found.iter().copied().filter(|&index| fits(index)).collect()
            };
            let mapped = only(&|index| self.is_mapped(index));
            let alone = match mapped.len() == count {
                true => mapped,
                false => only(&|index| match &self.columns[index] {
                    Some(Ok(column)) => column.meaning() == column.quantity().name(),
                    _ => false,
                }),
            };
            if alone.len() != count {
                let heads: Vec<&str> = found.iter().map(|&at| self.heads[at].as_str()).collect();
                return Err(Error::Columns {
                    problem: format!(
                        "{} for a {words}, where {count} is to be read: {}",
                        columns(found.len()),
                        heads.join(", ")
                    ),
                    hint: format!("name {count} of them"),
                    choice: heads[..count].iter().map(|&head| head.to_owned()).collect(),
                });
            }
            found = alone;
        }
        if found.len() < count {
            return Err(wrong(
                format!(
                    "{} has {} for a {words}, where {count} is to be read",
                    self.name,
                    columns(found.len())
                ),
                format!(
                    "name columns by quantity and unit, for example temperature_C or \
                     suction_pressure_psig; there are: {}",
                    self.list()
                ),
            ));
        }
        found
            .into_iter()
            .map(|index| self.read_column(index))
            .collect()
    }

    /// The first column whose head fits; one that was mapped goes before others.
    pub fn find(&self, fits: impl Fn(&str) -> bool) -> Option<(usize, &str)> {
        let called = |index: usize| self.names[index].as_ref().unwrap_or(&self.heads[index]);
        let all = || 0..self.heads.len();
        let mapped = all().filter(|&index| self.is_mapped(index));
        let mut heads = mapped
            .chain(all())
            .map(|index| (index, called(index).as_str()));
        heads.find(|(_, head)| fits(head))
    }

    /// As [`Heads::find`], where no other column may have the same head.
    ///
    /// # Errors
    /// [`Error::Columns`] where another has it.
    pub fn find_alone(&self, fits: impl Fn(&str) -> bool) -> Result<Option<(usize, &str)>> {
        let found = self.find(fits);
        match found {
            Some((index, _)) => self.alone(index).map(|()| found),
            None => Ok(None),
        }
    }

    /// Refuses a column whose head another has too.
    fn alone(&self, index: usize) -> Result<()> {
        let head = &self.heads[index];
        let same = self.heads.iter().filter(|own| own.trim() == head.trim());
        match same.count() {
            0 | 1 => Ok(()),
            _ => Err(wrong(
                format!("more than one column is named '{head}'"),
                "give each column that is read a name of its own",
            )),
        }
    }

    /// The column that says a quantity by one of some names, without its unit.
    ///
    /// A head that begins with such a name and has no unit that can be read is an error.
    pub fn meaning(&self, names: &[&str]) -> Result<Option<ReadColumn>> {
        let says = |index: &usize| match &self.columns[*index] {
            Some(Ok(column)) => names.contains(&column.meaning()),
            Some(Err(_)) => {
                let head = self.heads[*index].trim().to_lowercase().replace(' ', "_");
                names.iter().any(|name| head.starts_with(name))
            }
            None => false,
        };
        let mut found: Vec<usize> = (0..self.heads.len()).filter(says).collect();
        if found.iter().any(|&index| self.is_mapped(index)) {
            found.retain(|&index| self.is_mapped(index));
        }
        match found.as_slice() {
            [] => Ok(None),
            [only] => self.read_column(*only).map(Some),
            [first, second, ..] => Err(wrong(
                format!(
                    "columns '{}' and '{}' say the same",
                    self.heads[*first], self.heads[*second]
                ),
                "leave one of the two out, or rename it",
            )),
        }
    }

    /// The column of a head as written, blanks aside.
    fn named(&self, head: &str) -> Result<ReadColumn> {
        let index = self.heads.iter().position(|own| own.trim() == head.trim());
        let index = index.ok_or_else(|| {
            wrong(
                format!("{} has no column '{head}'", self.name),
                format!("there are: {}", self.list()),
            )
        })?;
        self.read_column(index)
    }

    fn read_column(&self, index: usize) -> Result<ReadColumn> {
        self.alone(index)?;
        let head = &self.heads[index];
        match &self.columns[index] {
            Some(Ok(column)) => Ok(ReadColumn {
                index,
                head: head.trim().to_owned(),
                column: column.clone(),
            }),
            Some(Err(error)) => Err(error.clone()),
            None => Err(wrong(
                format!("column '{head}' names no quantity"),
                "name it by quantity and unit, for example temperature_C or suction_pressure_psig",
            )),
        }
    }

    /// The heads, for a hint; of a wide sheet the first.
    fn list(&self) -> String {
        const MOST: usize = 12;
        let heads: Vec<&str> = self.heads.iter().take(MOST).map(String::as_str).collect();
        let more = if self.heads.len() > MOST { ", ..." } else { "" };
        format!("{}{more}", heads.join(", "))
    }
}

/// Quantities in a sentence.
fn either(wanted: &[ColumnQuantity]) -> String {
    let names: Vec<&str> = wanted.iter().map(|quantity| quantity.name()).collect();
    match names.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        _ => names.concat(),
    }
}

/// A number of columns in a sentence.
fn columns(count: usize) -> String {
    match count {
        0 => "no columns".to_owned(),
        1 => "1 column".to_owned(),
        count => format!("{count} columns"),
    }
}
