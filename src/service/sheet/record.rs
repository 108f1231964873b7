//! Rows split at their separator, as they come.
//!
//! A cell in quotation marks ends at its closing mark, before a separator or the end of the line; it
//! may span lines. A mark that is not closed, or behind whose closing one other text follows, is
//! taken for a character of its cell, so that it swallows no rows; how often is counted.

use std::io::{self, Read};

/// A row: the bytes of its cells.
///
/// # Example
/// ```
/// use zeotrope::service::sheet::{Reader, Record};
/// let mut reader = Reader::new("time,note\n1,\"cold, open\"\n2,\"7/8\" line\n".as_bytes(), b',');
/// let mut row = Record::default();
/// let mut cells = Vec::new();
/// while reader.read(&mut row)? {
///     cells.push(String::from_utf8_lossy(row.get(1).unwrap_or_default()).into_owned());
/// }
/// assert_eq!(cells, ["note", "cold, open", "\"7/8\" line"]);
/// assert_eq!((reader.slips().count, reader.slips().first_line), (1, 3));
/// # Ok::<(), std::io::Error>(())
/// ```
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Record {
    bytes: Vec<u8>,
    ends: Vec<usize>,
    line: u64,
}

impl Record {
    /// A cell, as long as the row is long enough.
    pub fn get(&self, place: usize) -> Option<&[u8]> {
        let end = *self.ends.get(place)?;
        let start = match place {
            0 => 0,
            _ => self.ends[place - 1],
        };
        self.bytes.get(start..end)
    }

    /// How many cells there are.
    pub fn len(&self) -> usize {
        self.ends.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.ends.is_empty()
    }

    /// The cells in order.
    pub fn iter(&self) -> impl Iterator<Item = &[u8]> {
        (0..self.len()).map(|place| self.get(place).unwrap_or_default())
    }

    /// The line on which it begins, from 1.
    pub const fn line(&self) -> u64 {
        self.line
    }

    /// Writes the first `width` cells, missing ones empty, each in quotation marks where it needs
    /// them.
    pub fn write(&self, width: usize, separator: u8, out: &mut Vec<u8>) {
        for place in 0..width {
            if place > 0 {
                out.push(separator);
            }
            write_cell(self.get(place).unwrap_or_default(), separator, out);
        }
    }

    fn clear(&mut self) {
        self.bytes.clear();
        self.ends.clear();
    }

    fn end_cell(&mut self) {
        self.ends.push(self.bytes.len());
    }
}

/// Writes a cell, in quotation marks where it holds a separator, a mark or a line end.
pub(crate) fn write_cell(cell: &[u8], separator: u8, out: &mut Vec<u8>) {
    let needs = |byte: &u8| *byte == separator || matches!(byte, b'"' | b'\n' | b'\r');
    if !cell.iter().any(needs) {
        out.extend_from_slice(cell);
        return;
    }
    out.push(b'"');
    for byte in cell {
        if *byte == b'"' {
            out.push(b'"');
        }
        out.push(*byte);
    }
    out.push(b'"');
}

/// Quotation marks that were taken for characters.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Slips {
    /// In how many rows.
    pub count: u64,
    /// The line of the first, from 1.
    pub first_line: u64,
}

/// Most lines of one cell in quotation marks.
const MOST_LINES: usize = 64;

/// The longest line.
const LONGEST: usize = 1 << 24;

/// Bytes asked of the source at a time.
const PIECE: usize = 1 << 16;

/// What splitting a line came to.
enum Split {
    Whole,
    /// A cell's quotation mark is open at the end of the line.
    Open,
    /// A mark was taken for a character.
    Slip,
}

/// Splits a source into rows.
#[derive(Debug)]
pub struct Reader<Source> {
    source: Source,
    separator: u8,
    buffer: Vec<u8>,
    /// What of the buffer has not been used.
    start: usize,
    end: usize,
    /// Whether a line feed still belongs to the line end before it.
    skip_feed: bool,
    is_at_end: bool,
    /// Lines read ahead of their turn.
    ahead: std::collections::VecDeque<Vec<u8>>,
    line: u64,
    taken: u64,
    width: Option<usize>,
    slips: Slips,
    /// The line that is being split.
    scratch: Vec<u8>,
    whole_lines: bool,
}

impl<Source: Read> Reader<Source> {
    /// Reads rows with a separator.
    pub fn new(source: Source, separator: u8) -> Self {
        Self {
            source,
            separator,
            buffer: vec![0; PIECE],
            start: 0,
            end: 0,
            skip_feed: false,
            is_at_end: false,
            ahead: std::collections::VecDeque::new(),
            line: 0,
            taken: 0,
            width: None,
            slips: Slips::default(),
            scratch: Vec::new(),
            whole_lines: false,
        }
    }

    /// Leaves out a last line without its end: one that is still being written.
    pub fn whole_lines_only(&mut self) {
        self.whole_lines = true;
    }

    /// The separator from here on.
    pub fn set_separator(&mut self, separator: u8) {
        self.separator = separator;
    }

    /// The separator.
    pub const fn separator(&self) -> u8 {
        self.separator
    }

    /// Quotation marks that were taken for characters so far.
    pub const fn slips(&self) -> Slips {
        self.slips
    }

    /// Bytes used so far.
    pub const fn position(&self) -> u64 {
        self.taken
    }

    /// Whether a whole line can be read without waiting for the source.
    pub fn has_line(&self) -> bool {
        let rest = &self.buffer[self.start..self.end];
        let rest = match (self.skip_feed, rest.first()) {
            (true, Some(b'\n')) => &rest[1..],
            _ => rest,
        };
        self.is_at_end || !self.ahead.is_empty() || rest.iter().any(|byte| is_line_end(*byte))
    }

    /// The first line that is not blank, without using it up; none of an empty source.
    ///
    /// # Errors
    /// Those of the source.
    pub fn peek(&mut self) -> io::Result<Option<&[u8]>> {
        while self.ahead.is_empty() {
            let mut line = Vec::new();
            if !self.next_line(&mut line)? {
                return Ok(None);
            }
            self.line += 1;
            if self.line == 1 && line.starts_with(b"\xef\xbb\xbf") {
                line.drain(..3);
            }
            if !line.is_empty() {
                // It is counted again when it is read.
                self.line -= 1;
                self.ahead.push_back(line);
            }
        }
        Ok(self.ahead.front().map(Vec::as_slice))
    }

    /// Reads the next row; `false` at the end. Blank lines are passed over. The first row's width
    /// is that which a cell of several lines must leave to its row.
    ///
    /// # Errors
    /// Those of the source; a line longer than 16 MiB.
    pub fn read(&mut self, row: &mut Record) -> io::Result<bool> {
        loop {
            row.clear();
            if !self.split_next(row)? {
                return Ok(false);
            }
            if !row.is_empty() {
                self.width.get_or_insert(row.len());
                return Ok(true);
            }
        }
    }

    /// Splits the next line, or the lines of a cell that spans several.
    fn split_next(&mut self, row: &mut Record) -> io::Result<bool> {
        let mut line = std::mem::take(&mut self.scratch);
        line.clear();
        let found = self.take_line(&mut line).and_then(|found| match found {
            true if !line.is_empty() => self.split_lines(&line, row).map(|()| true),
            other => Ok(other),
        });
        self.scratch = line;
        found
    }

    fn split_lines(&mut self, line: &[u8], row: &mut Record) -> io::Result<()> {
        let begun = self.line;
        row.line = begun;
        match split(line, self.separator, row, false) {
            Split::Whole => return Ok(()),
            Split::Slip => {
                self.slip(begun);
                return Ok(());
            }
            Split::Open => (),
        }
        let mut whole = line.to_vec();
        for count in 1..MOST_LINES {
            if self.ahead.len() < count {
                let mut next = Vec::new();
                if !self.next_line(&mut next)? {
                    break;
                }
                self.ahead.push_back(next);
            }
            whole.push(b'\n');
            whole.extend_from_slice(&self.ahead[count - 1]);
            row.clear();
            match split(&whole, self.separator, row, false) {
                Split::Whole if self.width.is_none_or(|width| width == row.len()) => {
                    self.ahead.drain(..count);
                    self.line += count as u64;
                    return Ok(());
                }
                Split::Open => (),
                _ => break,
            }
        }
        row.clear();
        split(line, self.separator, row, true);
        self.slip(begun);
        Ok(())
    }

    fn slip(&mut self, line: u64) {
        if self.slips.count == 0 {
            self.slips.first_line = line;
        }
        self.slips.count += 1;
    }

    /// The next line, those read ahead first.
    fn take_line(&mut self, line: &mut Vec<u8>) -> io::Result<bool> {
        match self.ahead.pop_front() {
            Some(ahead) => *line = ahead,
            None if self.next_line(line)? => (),
            None => return Ok(false),
        }
        self.line += 1;
        if self.line == 1 && line.starts_with(b"\xef\xbb\xbf") {
            line.drain(..3);
        }
        Ok(true)
    }

    /// The next line of the source without its end.
    fn next_line(&mut self, line: &mut Vec<u8>) -> io::Result<bool> {
        let mut has_any = false;
        loop {
            if self.start == self.end {
                (self.start, self.end) = (0, 0);
                self.end = loop {
                    match self.source.read(&mut self.buffer) {
                        Err(error) if error.kind() == io::ErrorKind::Interrupted => (),
                        other => break other?,
                    }
                };
                if self.end == 0 {
                    self.is_at_end = true;
                    return Ok(has_any && !self.whole_lines);
                }
            }
            if std::mem::take(&mut self.skip_feed) && self.buffer[self.start] == b'\n' {
                self.start += 1;
                self.taken += 1;
                continue;
            }
            has_any = true;
            let rest = &self.buffer[self.start..self.end];
            let found = rest.iter().position(|byte| is_line_end(*byte));
            let count = found.unwrap_or(rest.len());
            line.extend_from_slice(&rest[..count]);
            self.skip_feed = found.is_some_and(|at| rest[at] == b'\r');
            self.start += count + usize::from(found.is_some());
            self.taken += (count + usize::from(found.is_some())) as u64;
            if found.is_some() {
                return Ok(true);
            }
            if line.len() > LONGEST {
                return Err(io::Error::other(format!(
                    "a line is longer than {} MiB",
                    LONGEST >> 20
                )));
            }
        }
    }
}

const fn is_line_end(byte: u8) -> bool {
    matches!(byte, b'\n' | b'\r')
}

/// Splits a line; an open mark is a character where `as_it_stands`.
fn split(line: &[u8], separator: u8, row: &mut Record, as_it_stands: bool) -> Split {
    let mut is_slip = false;
    let mut at = 0;
    loop {
        let rest = &line[at..];
        let used = match rest.first() {
            Some(b'"') => match quoted(rest, separator, row) {
                Quoted::Closed(used) => used,
                Quoted::Open if !as_it_stands => return Split::Open,
                Quoted::Open | Quoted::Slip => {
                    is_slip = true;
                    bare(rest, separator, row)
                }
            },
            _ => bare(rest, separator, row),
        };
        row.end_cell();
        at += used;
        if at >= line.len() {
            break;
        }
        // A separator, behind which there is a cell, be it empty.
        at += 1;
    }
    match is_slip {
        true => Split::Slip,
        false => Split::Whole,
    }
}

/// Copies a cell up to its separator; how many bytes it has.
fn bare(rest: &[u8], separator: u8, row: &mut Record) -> usize {
    let count = rest.iter().position(|byte| *byte == separator);
    let count = count.unwrap_or(rest.len());
    row.bytes.extend_from_slice(&rest[..count]);
    count
}

enum Quoted {
    Closed(usize),
    Open,
    Slip,
}

/// Copies a cell in quotation marks, a doubled one as one.
fn quoted(rest: &[u8], separator: u8, row: &mut Record) -> Quoted {
    let begun = row.bytes.len();
    let mut at = 1;
    loop {
        let Some(found) = rest[at..].iter().position(|byte| *byte == b'"') else {
            row.bytes.truncate(begun);
            return Quoted::Open;
        };
        row.bytes.extend_from_slice(&rest[at..at + found]);
        at += found + 1;
        match rest.get(at) {
            None => return Quoted::Closed(at),
            Some(next) if *next == separator => return Quoted::Closed(at),
            Some(b'"') => {
                row.bytes.push(b'"');
                at += 1;
            }
            Some(_) => {
                row.bytes.truncate(begun);
                return Quoted::Slip;
            }
        }
    }
}
