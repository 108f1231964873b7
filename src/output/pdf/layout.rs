//! One layout for every form with a face: what is read first, the table in the largest type that
//! its panels hold, then small print beside and below it. It is tried at sizes until one fits; the
//! same code sets wall, folded, wallet, sheet and strip, with other papers and limits.

use super::code;
use super::content::{Content, FEW, Part, Setting};
use super::element::Panel;
use super::face::Faces;
use super::grid::{Grid, Scale};
use super::header::{self, HeaderSizes};
use super::pen::Pen;
use super::place::Type;
use super::prose::{self, Paragraph};
use super::refused;
use super::sign::Sign;
use crate::Result;
use crate::page::{Block, Form};

/// Usual height of a row, in sizes of type, and the highest where paper is left.
pub(super) const ROW: f32 = 1.15;
const HIGHEST_ROW: f32 = 1.9;
/// Usual room between columns and blocks, in sizes of type, and the widest where paper is left.
pub(super) const GAP: f32 = 0.85;
const WIDEST_GAP: f32 = 6.0;
pub(super) const BLOCK_GAP: f32 = 2.0;
const WIDEST_BLOCK_GAP: f32 = 6.5;
/// How much smaller the type may become for blocks and paragraphs that are whole.
const TIDY_COST: [f32; 3] = [1.0, 0.975, 0.95];
/// What is tried: blocks that end with bands, notes below the blocks, whole paragraphs.
const TIDY: [(bool, bool, bool); 5] = [
    (true, true, true),
    (false, true, true),
    (true, false, true),
    (false, false, true),
    (true, false, false),
];
/// Rows are this share as high as they could be at the least.
const TIDY_ROWS: f32 = 0.93;
/// Most blocks side by side.
const BLOCKS: usize = 10;
/// Sizes that are looked at between the largest and the smallest.
const LOOKS: usize = 12;
/// Halvings of the span between two sizes of type.
const HALVINGS: usize = 6;

/// What a layout came to.
pub(super) struct Laid {
    pub(super) panels: Vec<Panel>,
    /// Size of the figures.
    pub(super) size: f32,
}

impl<'a> Content<'a> {
    pub(super) fn new(
        faces: &'a Faces,
        sign: Option<&'a Sign>,
        form: &'a Form,
        blocks: &'a [Block],
    ) -> Result<Option<Self>> {
        let found = blocks.iter().find_map(|block| match block {
            Block::Face(face) => Some(face.as_ref()),
            _ => None,
        });
        // Pictures are set part after part.
        let is_picture = |block: &Block| matches!(block, Block::Picture(_));
        let Some(face) = found.filter(|_| !blocks.iter().any(is_picture)) else {
            return Ok(None);
        };
        header::check(faces, face)?;
        let mut content = Self {
            faces,
            sign: sign.filter(|_| blocks.iter().any(|one| matches!(one, Block::Logo(_)))),
            form,
            face,
            parts: Vec::new(),
            prose: Vec::new(),
            code: None,
            writing: 0,
            limits: form.sizes(),
        };
        let mut heading = None;
        for block in blocks {
            match block {
                Block::Title(title) => heading = Some(title.as_str()),
                Block::Table(table) => content.parts.push(Part {
                    heading: heading.take(),
                    grid: Grid::new(faces, table)?,
                }),
                Block::Lines(lines) => content.say(lines, false),
                Block::Hazards(lines) => content.say(lines, true),
                Block::Code(text) => content.code = Some(code::matrix(text)?),
                Block::Blank(lines) => content.writing = *lines,
                _ => {}
            }
        }
        for part in &content.parts {
            part.heading.map_or(Ok(()), |text| faces.check(text))?;
        }
        prose::check(faces, &content.prose)?;
        Ok(Some(content))
    }

    fn say(&mut self, lines: &[String], bold: bool) {
        self.prose.extend(lines.iter().map(|text| Paragraph {
            text: text.clone(),
            bold,
        }));
    }

    /// Sets it on as few panels as hold it in a good type, in the largest type that these hold.
    pub(super) fn laid(&self) -> Result<Laid> {
        let (good, most) = self.form.panels();
        let Type {
            smallest,
            good: enough,
            ..
        } = self.limits;
        let mut found = None;
        for panels in 1..=most.min(good.max(60)) {
            let best = self
                .largest(panels, false)
                .or_else(|| self.largest(panels, true));
            if let Some((setting, _)) = best {
                // On further panels the type would have to gain.
                let gains =
                    |(before, _): &(Setting, usize)| setting.scale.size > before.scale.size * 1.05;
                if found.as_ref().is_none_or(gains) {
                    found = Some((setting, panels));
                }
                let is_enough = setting.scale.size >= enough;
                if is_enough || panels >= good {
                    break;
                }
            }
        }
        let Some((setting, panels)) = found.filter(|found| found.0.scale.size >= smallest - 0.01)
        else {
            return Err(refused::why(self));
        };
        let setting = self.tidied(setting, panels);
        let set = self.set(&setting, panels).unwrap_or_default();
        Ok(Laid {
            panels: set,
            size: setting.scale.size,
        })
    }

    /// The largest type in which everything stands on so many panels.
    fn largest(&self, panels: usize, is_loose: bool) -> Option<(Setting, usize)> {
        let (width, height) = self.form.panel();
        let groups = self.parts.first().map_or(1, |part| part.grid.groups());
        let mut tried: Vec<(f32, Setting)> = Vec::new();
        for parts in 1..=groups {
            // As many groups side by side by another count of parts is the same again.
            if parts > 1 && groups.div_ceil(parts) == groups.div_ceil(parts - 1) {
                continue;
            }
            for blocks in 1..=BLOCKS {
                let setting = Setting {
                    scale: Scale {
                        size: 1.0,
                        row: ROW,
                        gap: GAP,
                        block_gap: BLOCK_GAP,
                    },
                    parts,
                    blocks,
                    is_loose,
                    in_bands: false,
                    unbroken: false,
                    aligned: false,
                };
                let (wide, high) = self.needs(&setting);
                let size = (width / wide).min(height * panels as f32 / high);
                tried.push((size.min(self.limits.largest), setting));
            }
        }
        tried.sort_by(|one, two| two.0.total_cmp(&one.0));
        let mut best: Option<Setting> = None;
        for (bound, mut setting) in tried {
            let least = best.map_or(self.limits.smallest, |best| best.scale.size * 1.01);
            if bound < least {
                continue;
            }
            let mut fits = |size: f32| {
                setting.scale.size = size;
                self.set(&setting, panels).is_some()
            };
            // What fits need not fit a little smaller, where rows go on on a further panel: from
            // the largest downwards, then between the first that fits and the one before.
            let step = (least / bound).powf(1.0 / LOOKS as f32);
            let mut sizes = (0..=LOOKS).map(|look| bound * step.powi(look as i32));
            let Some(mut low) = sizes.find(|size| fits(*size)) else {
                continue;
            };
            let mut high = (low / step).min(bound);
            for _ in 0..HALVINGS {
                if high - low < 0.05 {
                    break;
                }
                let middle = (low + high) / 2.0;
                if fits(middle) {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            setting.scale.size = low;
            best = Some(setting);
        }
        best.map(|best| (best, panels))
    }

    /// Whether everything stands on so many panels in the smallest type.
    pub(super) fn fits(&self, panels: usize) -> bool {
        let groups = self.parts.first().map_or(1, |part| part.grid.groups());
        let all = (1..=groups).flat_map(|parts| (1..=BLOCKS).map(move |blocks| (parts, blocks)));
        all.into_iter().any(|(parts, blocks)| {
            let setting = Setting {
                scale: Scale {
                    size: self.limits.smallest,
                    row: ROW,
                    gap: GAP,
                    block_gap: BLOCK_GAP,
                },
                parts,
                blocks,
                is_loose: true,
                in_bands: false,
                unbroken: false,
                aligned: false,
            };
            self.set(&setting, panels).is_some()
        })
    }

    /// Width and height that the tables take at least, in sizes of type.
    fn needs(&self, setting: &Setting) -> (f32, f32) {
        let (mut wide, mut high) = (0.1_f32, 0.1);
        for part in &self.parts {
            let blocks = self.blocks(&part.grid, setting);
            let rows = part.grid.rows().div_ceil(blocks);
            for groups in part.grid.parts(setting.parts) {
                wide = wide.max(part.grid.width(&groups, blocks, &setting.scale));
                high += part.grid.head_height(&groups, &setting.scale);
                high += Grid::rows_height(rows, &setting.scale);
            }
        }
        (wide, high)
    }

    /// A short table has no more blocks than good rows.
    pub(super) fn blocks(&self, grid: &Grid<'_>, setting: &Setting) -> usize {
        setting.blocks.min(grid.rows().div_ceil(FEW)).max(1)
    }

    pub(super) fn header_sizes(&self, size: f32) -> HeaderSizes {
        let [low, high] = self.limits.name;
        let [least, most] = self.limits.face;
        HeaderSizes {
            name: (size * 1.5).clamp(low, high),
            words: (size * 0.62).clamp(least, most),
        }
    }

    pub(super) fn words(&self, size: f32) -> f32 {
        (size * self.limits.share).clamp(self.limits.least, self.limits.most)
    }

    /// Ends blocks where bands end and sets paragraphs whole below them, if a type hardly smaller
    /// and rows hardly lower allow it.
    fn tidied(&self, setting: Setting, panels: usize) -> Setting {
        let untidy = self.spread(setting, panels).unwrap_or(setting);
        for (in_bands, aligned, unbroken) in TIDY {
            for share in TIDY_COST {
                let mut tidy = Setting {
                    in_bands,
                    unbroken,
                    aligned,
                    ..setting
                };
                let least = self.limits.good.min(setting.scale.size);
                tidy.scale.size = (share * setting.scale.size).max(least);
                let Some(tidy) = self.spread(tidy, panels) else {
                    continue;
                };
                let high = |one: &Setting| one.scale.size * one.scale.row;
                if high(&tidy) > TIDY_ROWS * high(&untidy) {
                    return tidy;
                }
            }
        }
        untidy
    }

    /// Widens columns and rows over the paper that is left; none where it does not fit at all.
    fn spread(&self, mut setting: Setting, panels: usize) -> Option<Setting> {
        let (width, _) = self.form.panel();
        let is_wide = |setting: &Setting| self.needs(setting).0 <= width;
        let is_set = |setting: &Setting| self.set(setting, panels).is_some();
        let wider = |share: f32| Setting {
            scale: Scale {
                gap: GAP + share * (WIDEST_GAP - GAP),
                block_gap: BLOCK_GAP + share * (WIDEST_BLOCK_GAP - BLOCK_GAP),
                ..setting.scale
            },
            ..setting
        };
        // Over all of the width; else only as far as small print still stands beside it.
        let whole = wider(widest(|share| is_wide(&wider(share))));
        setting = match is_set(&whole) {
            true => whole,
            false => wider(widest(|share| {
                let setting = wider(share);
                is_wide(&setting) && is_set(&setting)
            })),
        };
        let higher = |share: f32| {
            let row = ROW + share * (HIGHEST_ROW - ROW);
            let scale = Scale {
                row,
                ..setting.scale
            };
            Setting { scale, ..setting }
        };
        let found = higher(widest(|share| is_set(&higher(share))));
        is_set(&found).then_some(found)
    }

    /// Sets everything at one setting; none where it takes more panels.
    fn set(&self, setting: &Setting, most: usize) -> Option<Vec<Panel>> {
        let (width, _) = self.form.panel();
        if self.needs(setting).0 > width + 0.05 {
            return None;
        }
        let mut pen = Pen::new(self, most);
        let sizes = self.header_sizes(setting.scale.size);
        let panel = self.form.panel();
        let all_names = setting.parts > 1;
        let (elements, high) =
            header::set(self.faces, self.face, self.sign, panel, sizes, all_names);
        if high > panel.1 {
            return None;
        }
        pen.push(elements);
        pen.used = high;
        for (place, part) in self.parts.iter().enumerate() {
            pen.part(part, place, setting)?;
        }
        pen.writing(setting.scale.size)?;
        pen.prose(self.words(setting.scale.size), setting)?;
        (pen.panels.len() <= most).then_some(pen.panels)
    }
}

/// The largest share up to 1 that fits, to a hundredth.
fn widest(fits: impl Fn(f32) -> bool) -> f32 {
    if fits(1.0) {
        return 1.0;
    }
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..7 {
        let middle = (low + high) / 2.0;
        if fits(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}
