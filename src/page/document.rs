//! A document: an answer as people read it, as a spreadsheet and as a program reads it, before any
//! format.

use std::sync::Arc;

use serde::Serialize;
use serde_json::{Map, Value, json};

use super::figure::{Figure, Figures};
use super::form::Form;
use super::json::Json;
use super::warning::Told;
use super::words::Words;
use crate::chart::plot::{Plot, Stroke};
use crate::service::date::Day;
use crate::{Error, Result};

/// A black drawing that goes with a hazard's words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Symbol {
    /// A flame in a triangle, after ISO 7010, W021.
    Flammable,
    /// A skull and bones in a triangle, after ISO 7010, W016.
    Toxic,
}

/// What is read first on a print.
#[derive(Debug, Clone, Default, PartialEq)]
#[non_exhaustive]
pub struct Face {
    /// The shop's own line.
    pub shop: Option<String>,
    /// A title of the user's own.
    pub title: Option<String>,
    /// What the figures are, where the names do not say it.
    pub usual: String,
    /// The refrigerants, each with its class.
    pub names: Vec<String>,
    /// The hazards that apply, in a few words each, with their drawings.
    pub hazards: Vec<(Vec<Symbol>, String)>,
    /// What pressures are relative to.
    pub reference: String,
    /// What is uncertain: estimates, extrapolation, a composition that is not listed.
    pub remarks: Vec<String>,
    /// Boxes for targets: label, value; blank to write in where there is none.
    pub boxes: Vec<(String, String)>,
    /// A light tint for the bands of a table, red, green and blue; grey where there is none.
    pub tint: Option<[u8; 3]>,
}

impl Face {
    /// Its title and lines, for a format that has no room for the rest.
    fn plain(&self) -> Vec<Block> {
        let mut blocks = Vec::new();
        blocks.extend(self.shop.clone().map(|shop| Block::Lines(vec![shop])));
        match &self.title {
            Some(title) => {
                blocks.push(Block::Title(title.clone()));
                blocks.push(Block::Lines(vec![self.usual.clone()]));
            }
            None => blocks.push(Block::Title(self.usual.clone())),
        }
        blocks
    }
}

/// A table whose cells are texts already.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Table {
    /// Heads above the column heads: text, number of columns it spans.
    pub groups: Vec<(String, usize)>,
    /// Heads of the columns.
    pub heads: Vec<String>,
    /// Rows of as many cells as there are heads.
    pub rows: Vec<Vec<String>>,
    /// How many columns at the left are words and not figures.
    pub words: usize,
    /// The stroke under each column's head, that of its line in pictures; none where empty.
    pub strokes: Vec<Option<Stroke>>,
}

/// A part of an answer as people read it.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// What is read first on a print: names, hazards, what pressures are relative to.
    Face(Box<Face>),
    /// A title.
    Title(String),
    /// A table.
    Table(Table),
    /// Names with their values.
    Pairs(Vec<(String, String)>),
    /// Paragraphs, a line each.
    Lines(Vec<String>),
    /// The hazards that apply, a sentence each; in every format that people read.
    Hazards(Vec<String>),
    /// A picture; left out by formats that cannot draw.
    Picture(Plot),
    /// The paper for what follows; left out by formats that are not printed.
    Paper(Form),
    /// The shop's own logo; left out by formats that cannot show it.
    Logo(Logo),
    /// A text as a QR code; left out by formats that are not printed.
    Code(String),
    /// Lines to write on by hand, so many; left out by formats that are not printed.
    Blank(usize),
    /// What a file says about itself; left out by formats that say nothing.
    About(About),
}

/// A picture of the user's own.
#[derive(Debug, Clone, PartialEq)]
pub struct Logo {
    /// The file as it was read.
    pub bytes: Arc<[u8]>,
    /// Whether it is an SVG document; else it is a PNG picture.
    pub is_svg: bool,
}

impl Logo {
    /// A logo from the bytes of its file.
    ///
    /// # Errors
    /// [`Error::File`] where it is larger than 2 MB, or neither PNG nor SVG.
    pub fn new(bytes: Vec<u8>) -> Result<Self> {
        let is_png = bytes.starts_with(b"\x89PNG\r\n\x1a\n");
        let is_svg = std::str::from_utf8(&bytes).is_ok_and(|text| text.contains("<svg"));
        let problem = match bytes.len() > 2_000_000 {
            true => "is larger than 2 MB",
            false if !is_png && !is_svg => "is neither PNG nor SVG",
            false => {
                let bytes = bytes.into();
                return Ok(Self { bytes, is_svg });
            }
        };
        Err(Error::File {
            file: "logo".into(),
            problem: problem.into(),
            hint: LOGO_HINT.into(),
        })
    }
}

/// What a logo may be.
pub const LOGO_HINT: &str = "give a PNG picture or an SVG document of at most 2 MB";

/// What a file says about itself.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct About {
    /// The words of what formats say themselves, and their language.
    pub words: Words,
    /// Year, month and day on which it was made, where that is to be told.
    pub date: Option<Day>,
    /// Whether a CSV sheet begins with what stands around the table, each line after a '#'.
    pub csv_header: bool,
}

/// The flat rows of an answer, for CSV.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Sheet {
    /// Names of the columns.
    pub heads: Vec<String>,
    /// Rows of as many cells as there are heads.
    pub rows: Vec<Vec<String>>,
}

/// An answer as it is shown, ready for every format.
#[derive(Debug, Clone, Default)]
pub struct Document {
    /// As people read it.
    pub blocks: Vec<Block>,
    /// Every figure that the blocks show, each with the field of the answer that it stands for.
    pub figures: Vec<Figure>,
    /// As a spreadsheet reads it.
    pub sheet: Sheet,
    /// As a program reads it.
    pub json: Json,
    /// What to know about the answer; where a format has no room for it, it is said apart.
    pub warnings: Vec<Told>,
    /// The hazards that apply, a sentence each.
    pub cautions: Vec<String>,
}

impl Document {
    /// Begins the document of an answer: its fields, then `warnings` and `cautions`, are what a
    /// program reads.
    pub fn new(answer: &impl Serialize, warnings: Vec<Told>, cautions: Vec<String>) -> Self {
        let mut object = match serde_json::to_value(answer) {
            Ok(Value::Object(object)) => object,
            // Every answer is a struct of numbers, texts and lists, which always is an object.
            _ => Map::new(),
        };
        let told = warnings.iter();
        let told = told.map(|one| json!({"code": one.code, "text": one.text}));
        object.insert("warnings".into(), told.collect());
        object.insert("cautions".into(), cautions.as_slice().into());
        Self {
            json: object.into(),
            warnings,
            cautions,
            ..Self::default()
        }
    }

    /// Several documents as one: one below the other, and a list of what programs read of each.
    pub fn joined(mut documents: Vec<Self>) -> Self {
        if documents.len() == 1 {
            return documents.remove(0);
        }
        let mut whole = Self::default();
        let mut objects = Vec::new();
        for (at, document) in documents.into_iter().enumerate() {
            whole.blocks.extend(document.blocks);
            let figures = document.figures.into_iter().map(|mut figure| {
                if !figure.field.is_empty() {
                    figure.field = format!("{at}/{}", figure.field);
                }
                figure
            });
            whole.figures.extend(figures);
            if whole.sheet.heads.is_empty() {
                whole.sheet.heads = document.sheet.heads;
            }
            whole.sheet.rows.extend(document.sheet.rows);
            objects.push(document.json.0);
            for warning in document.warnings {
                if !whole.warnings.contains(&warning) {
                    whole.warnings.push(warning);
                }
            }
            for caution in document.cautions {
                if !whole.cautions.contains(&caution) {
                    whole.cautions.push(caution);
                }
            }
        }
        whole.json = Json(Value::Array(objects));
        whole
    }

    /// Adds the working, also to what programs read: in the object at a path, empty for the whole.
    pub(super) fn working(&mut self, path: &str, lines: Vec<String>) {
        self.json.add(path, "working", lines.clone());
        self.lines(lines);
    }

    /// The parts for a format without room for a face: its title and its lines alone.
    pub(crate) fn plain(&self) -> Vec<Block> {
        let each = self.blocks.iter().flat_map(|block| match block {
            Block::Face(face) => face.plain(),
            other => vec![other.clone()],
        });
        each.collect()
    }

    /// Whether something is read first on it.
    pub(crate) fn has_face(&self) -> bool {
        self.blocks
            .iter()
            .any(|block| matches!(block, Block::Face(_)))
    }

    /// What the file says about itself.
    pub(crate) fn about(&self) -> About {
        let about = self.blocks.iter().find_map(|block| match block {
            Block::About(about) => Some(about.clone()),
            _ => None,
        });
        about.unwrap_or_default()
    }

    /// Says which own defaults the answer used; nothing where there are none.
    pub fn defaults(&mut self, told: &str) {
        if !told.is_empty() {
            let line = Words::default().fill(super::words::DEFAULTS_USED, &[("told", told)]);
            self.json.add("", "defaults", vec![told.to_owned()]);
            self.blocks.push(Block::Lines(vec![line]));
        }
    }

    /// Adds a title.
    pub fn title(&mut self, text: impl Into<String>) {
        self.blocks.push(Block::Title(text.into()));
    }

    /// Adds paragraphs; none where there is nothing to say.
    pub fn lines(&mut self, lines: Vec<String>) {
        if !lines.is_empty() {
            self.blocks.push(Block::Lines(lines));
        }
    }

    /// Adds figures as names with their values.
    pub fn pairs(&mut self, figures: Figures) {
        let pairs = figures.pairs();
        if !pairs.is_empty() {
            self.blocks.push(Block::Pairs(pairs));
        }
        self.figures.extend(figures.0);
    }

    /// Adds a table whose columns are lists of the same figures, under a head each. The labels of
    /// the first name the rows.
    pub fn columns(&mut self, groups: Vec<(String, usize)>, columns: Vec<(String, Figures)>) {
        let mut rows: Vec<Vec<String>> = Vec::new();
        let mut heads = vec![String::new()];
        for (head, figures) in columns {
            heads.push(head);
            for (place, (label, text)) in figures.pairs().into_iter().enumerate() {
                match rows.get_mut(place) {
                    Some(row) => row.push(text),
                    None => rows.push(vec![label, text]),
                }
            }
            self.figures.extend(figures.0);
        }
        self.blocks.push(Block::Table(Table {
            groups,
            heads,
            rows,
            words: 1,
            ..Table::default()
        }));
    }

    /// Adds a table of rows under the labels of their figures, one row a list; a figure's words
    /// stand in the first `words` columns.
    pub fn rows(&mut self, words: usize, rows: Vec<Figures>) {
        let heads = rows.first().map_or_else(Vec::new, |first| {
            first
                .pairs()
                .into_iter()
                .map(|(label, _)| label.trim().to_owned())
                .collect()
        });
        let texts = |figures: &Figures| figures.pairs().into_iter().map(|(_, text)| text).collect();
        self.blocks.push(Block::Table(Table {
            groups: Vec::new(),
            heads,
            rows: rows.iter().map(texts).collect(),
            words,
            ..Table::default()
        }));
        self.figures.extend(rows.into_iter().flat_map(|row| row.0));
    }

    /// One row for a spreadsheet: the figures added so far that stand for one field each.
    pub fn sheet_of_figures(&mut self) {
        self.sheet_of_figures_from(0);
    }

    /// As [`Document::sheet_of_figures`], of the figures from a place on.
    pub fn sheet_of_figures_from(&mut self, first: usize) {
        self.sheet = Sheet::of_rows(self.figures.get(first..));
    }

    /// The rows of the table added last, for a spreadsheet, under the names of their fields.
    pub fn sheet_of_rows(&mut self) {
        let columns = match self.blocks.last() {
            Some(Block::Table(table)) if !table.rows.is_empty() => {
                self.figures.len() / table.rows.len()
            }
            _ => return,
        };
        self.sheet = Sheet::of_rows(self.figures.chunks(columns));
    }

    /// Ends the page with the hazards that apply.
    pub fn hazards(&mut self) {
        if !self.cautions.is_empty() {
            self.blocks.push(Block::Hazards(self.cautions.clone()));
        }
    }
}

impl Sheet {
    /// Rows of figures under the names of their fields; the first row says which columns there are.
    pub fn of_rows<'a>(rows: impl IntoIterator<Item = &'a [Figure]>) -> Self {
        let mut sheet = Self::default();
        for row in rows {
            let cells: Vec<_> = row.iter().filter(|figure| figure.is_cell()).collect();
            if sheet.heads.is_empty() {
                sheet.heads = cells.iter().map(|figure| figure.column()).collect();
            }
            let texts = cells.iter().map(|figure| figure.datum.cell());
            sheet.rows.push(texts.collect());
        }
        sheet
    }
}
