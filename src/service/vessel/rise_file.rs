//! The readings of a rise test from a file of rows.

use super::rise::Resolution;
use crate::error::{Blank, Reason};
use crate::service::reasons;
use crate::service::sheet::SheetFile;
use crate::units::{Atmosphere, CellValue, Pressure};
use crate::{Error, Result};

/// Time in s and pressure of each row, and the last digit of the pressures as they are written.
///
/// # Errors
/// [`Error::NoAnswer`] where a column of times or pressures is missing, or a row holds neither; as
/// [`SheetFile::dates`].
pub fn rise_readings(
    file: SheetFile,
    site: &Atmosphere,
) -> Result<(Vec<(f64, Pressure)>, Resolution)> {
    let name = file.name().to_owned();
    let within = |line: Option<u64>, error: Error| {
        let hint = error.hint().unwrap_or_default();
        let problem = Blank::Problem(Box::new(error));
        let reason = match line {
            Some(line) => Reason::of(reasons::FILE_LINE_PROBLEM, "file", &name)
                .and("line", Blank::Name(line.to_string())),
            None => Reason::of(reasons::FILE_PROBLEM, "file", &name),
        };
        Error::NoAnswer {
            reason: reason.and("problem", problem),
            hint,
        }
    };
    let lacks = |what: &str| Error::NoAnswer {
        reason: Reason::of(reasons::FILE_NO_COLUMN, "file", &name)
            .and("columns", Blank::Name(what.to_owned())),
        hint: "name them time_min and pressure_micron, or say which they are: time=HEADER and \
               pressure=HEADER:micron"
            .into(),
    };
    file.dates()?;
    let (times, clock) = file
        .clock()
        .ok_or_else(|| lacks("time_s, time_min, time_h or time"))?;
    let place = file.heads.meaning(&["pressure"]);
    let place = place.map_err(|error| within(None, error))?;
    let place = place.and_then(|place| Some((place.column.pressure_unit()?, place)));
    let (unit, place) = place
        .ok_or_else(|| lacks("pressure_micron, pressure_Pa, pressure_mbar or pressure_torr"))?;
    let dialect = file.dialect;
    let (mut found, mut decimals) = (Vec::new(), 0);
    file.each(|row| {
        let wrong = |error: Error| within(Some(row.line()), error);
        let is_blank = row.iter().all(|cell| cell.trim_ascii().is_empty());
        if is_blank || row.get(0).is_some_and(|cell| cell.starts_with(b"#")) {
            return Ok(());
        }
        if let CellValue::Pressure(pressure) = dialect.read(&place, row, site).map_err(wrong)? {
            let time = String::from_utf8_lossy(row.get(times).unwrap_or_default());
            let time = dialect.plain(&time);
            found.push((clock.seconds(&time).map_err(wrong)?, pressure));
            let cell = String::from_utf8_lossy(row.get(place.index).unwrap_or_default());
            decimals = decimals.max(dialect.decimals(&cell));
        }
        Ok(())
    })?;
    let step = unit.pascal() * 10f64.powi(-(decimals.min(12) as i32));
    Ok((found, Resolution::Written(Pressure::pascal(step))))
}
