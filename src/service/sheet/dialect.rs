//! How a file of rows is written: its separator, its decimal sign, its dates.

use super::clock::{Clock, two_readings};
use super::record::Record;
use crate::units::{Atmosphere, CellValue, DateOrder, ReadColumn};
use crate::{Error, Result};

/// What stands between the whole and the decimals of a number.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Decimal {
    /// A point; commas part thousands.
    #[default]
    Point,
    /// A comma; points part thousands.
    Comma,
}

impl Decimal {
    /// What the cells of columns of numbers say; `Err` with a cell that has two readings, such as
    /// `1,234`, where no other decides.
    ///
    /// # Errors
    /// The first cell with two readings.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::sheet::Decimal;
    /// assert_eq!(Decimal::from_cells(["65,2", "1,234"]), Ok(Decimal::Comma));
    /// assert_eq!(Decimal::from_cells(["1,234.5", "1,234"]), Ok(Decimal::Point));
    /// assert_eq!(Decimal::from_cells(["1,234"]), Err("1,234"));
    /// assert_eq!(Decimal::from_cells(["65.2"]), Ok(Decimal::Point));
    /// ```
    pub fn from_cells<'a>(
        cells: impl IntoIterator<Item = &'a str>,
    ) -> std::result::Result<Self, &'a str> {
        let mut open = None;
        let mut votes = [0_u64; 2];
        for cell in cells {
            let cell = cell.trim();
            let (comma, point) = (cell.rfind(','), cell.rfind('.'));
            match (comma, point) {
                (Some(comma), Some(point)) => votes[usize::from(comma > point)] += 1,
                (Some(at), None) => {
                    let groups = cell.matches(',').count();
                    let last = cell.len() - at - 1;
                    let first = cell.find(',').unwrap_or_default();
                    let whole = cell[..first].trim_start_matches(['-', '+', '\u{2212}']);
                    let could_be_thousands =
                        last == 3 && (1..=3).contains(&whole.len()) && whole != "0";
                    match (could_be_thousands, groups) {
                        (true, 1) => open = open.or(Some(cell)),
                        (true, _) => votes[0] += 1,
                        (false, 1) => votes[1] += 1,
                        // No number: its row says so.
                        (false, _) => (),
                    }
                }
                (None, Some(_)) => votes[0] += u64::from(cell.matches('.').count() == 1),
                (None, None) => (),
            }
        }
        match (votes, open) {
            ([0, 0], Some(open)) => Err(open),
            ([point, comma], _) if comma > point => Ok(Self::Comma),
            _ => Ok(Self::Point),
        }
    }

    /// A cell with a point as its decimal sign and no thousands separators; `None` where its signs
    /// do not stand as they should.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::sheet::Decimal;
    /// assert_eq!(Decimal::Comma.plain("1.234,5").as_deref(), Some("1234.5"));
    /// assert_eq!(Decimal::Point.plain("1,234").as_deref(), Some("1234"));
    /// assert_eq!(Decimal::Comma.plain("65.2"), None);
    /// ```
    pub fn plain(self, cell: &str) -> Option<String> {
        let (thousands, decimal) = match self {
            Self::Point => (',', '.'),
            Self::Comma => ('.', ','),
        };
        let (whole, rest) = match cell.split_once(decimal) {
            Some((whole, rest)) => (whole, Some(rest)),
            None => (cell, None),
        };
        let mut groups = whole.split(thousands);
        let first = groups.next().unwrap_or_default();
        let rest_is_right = groups.clone().all(|group| group.len() == 3);
        let is_grouped = groups.next().is_some();
        let digits = first
            .trim()
            .trim_start_matches(['-', '+', '\u{2212}'])
            .len();
        if !rest_is_right || (is_grouped && !(1..=3).contains(&digits)) {
            return None;
        }
        if rest.is_some_and(|rest| rest.contains([thousands, decimal])) {
            return None;
        }
        let whole = whole.replace(thousands, "");
        Some(match rest {
            Some(rest) => format!("{whole}.{rest}"),
            None => whole,
        })
    }
}

/// How a file of rows is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dialect {
    /// What parts cells: a comma, a semicolon or a tab.
    pub separator: u8,
    /// Its decimal sign, where that is known.
    pub decimal: Option<Decimal>,
    /// The order of day and month.
    pub dates: DateOrder,
}

impl Dialect {
    /// The separator of a line of column headers: the tab, semicolon or comma that it has most of
    /// outside quotation marks; a comma where it has none.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::sheet::Dialect;
    /// assert_eq!(Dialect::separator_of(b"Zeit;Druck, psig;Linie"), b';');
    /// assert_eq!(Dialect::separator_of(b"time,\"a;b;c\",x"), b',');
    /// ```
    pub fn separator_of(line: &[u8]) -> u8 {
        let mut counts = [(b'\t', 0_u32), (b';', 0), (b',', 0)];
        let mut is_quoted = false;
        for byte in line {
            is_quoted ^= *byte == b'"';
            if !is_quoted {
                for (separator, count) in &mut counts {
                    *count += u32::from(*byte == *separator);
                }
            }
        }
        // Of as many the first: a tab or a semicolon is seldom part of a name, a comma often.
        let most = counts.iter().map(|(_, count)| *count).max().unwrap_or(0);
        let found = counts.iter().find(|(_, count)| *count == most && most > 0);
        found.map_or(b',', |(separator, _)| *separator)
    }

    /// A cell's number with a decimal point; another text as it is.
    pub fn plain(&self, cell: &str) -> String {
        let plain = self.decimal.and_then(|decimal| decimal.plain(cell));
        plain.unwrap_or_else(|| cell.to_owned())
    }

    /// How many decimals a cell is written with.
    pub fn decimals(&self, cell: &str) -> usize {
        let plain = self.plain(cell);
        let decimals = plain.split_once('.').map(|(_, after)| after);
        let digits = decimals.unwrap_or("").bytes();
        digits.take_while(u8::is_ascii_digit).count()
    }

    /// The value of a column in a row.
    ///
    /// # Errors
    /// As [`ColumnHeader::read`](crate::units::ColumnHeader::read).
    pub fn read(&self, place: &ReadColumn, row: &Record, site: &Atmosphere) -> Result<CellValue> {
        let cell = String::from_utf8_lossy(row.get(place.index).unwrap_or_default());
        let has_signs = cell.contains(',') || self.decimal == Some(Decimal::Comma);
        let plain = match self.decimal {
            Some(decimal) if has_signs => decimal.plain(&cell),
            _ => None,
        };
        match plain {
            Some(plain) => place.column.read(&plain, site),
            // A point among decimal commas is no number there.
            None if self.decimal == Some(Decimal::Comma) && cell.contains('.') => {
                Err(Error::Value {
                    quantity: place.column.quantity().name(),
                    text: cell.chars().take(40).collect(),
                    problem: "has a decimal point among decimal commas".into(),
                    hint: "write all numbers of a file alike".into(),
                })
            }
            None => place.column.read(&cell, site),
        }
    }

    /// What cells of a column of times say of the order of their dates.
    ///
    /// # Errors
    /// The first cell with two readings, where no other decides.
    pub fn dates_of<'a>(
        cells: impl IntoIterator<Item = &'a str>,
    ) -> std::result::Result<DateOrder, &'a str> {
        let mut open = None;
        for cell in cells {
            match Clock::order_of(cell) {
                DateOrder::Unknown if open.is_none() && two_readings(cell) => open = Some(cell),
                DateOrder::Unknown => (),
                known => return Ok(known),
            }
        }
        open.map_or(Ok(DateOrder::Unknown), Err)
    }
}
