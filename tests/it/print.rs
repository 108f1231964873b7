//! What print tests share: the program's bytes, folders of their own, poppler's reading of a PDF.

use std::process::Command;

use zeotrope_cli::{Streams, run};

pub(crate) use crate::folder::Folder;

/// The bytes of an answer, dated so that they do not change from day to day.
pub(crate) fn bytes(arguments: &[&str]) -> Vec<u8> {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let all = ["zeotrope", "chart", "--date", "2026-05-31"];
    let exit = run(
        all.iter().chain(arguments).copied(),
        Streams {
            out: &mut out,
            err: &mut err,
            colour: false,
        },
    );
    let words = String::from_utf8_lossy(&err);
    assert_eq!(exit.code(), 0, "{arguments:?}: {words}");
    out
}

/// What a program of poppler says about a PDF. It must be there: a comparison that is not made
/// would pass without having been one.
fn poppler(program: &str, options: &[&str], pdf: &[u8]) -> String {
    let folder = Folder::new(&format!("poppler-{:x}", pdf.as_ptr() as usize));
    let file = folder.file("print.pdf");
    std::fs::write(&file, pdf).unwrap();
    let mut command = Command::new(program);
    command.args(options).arg(&file);
    if program == "pdftotext" {
        command.arg("-");
    }
    let output = command.output().unwrap_or_else(|problem| {
        panic!("{program}: {problem}; install it, for example: apt-get install poppler-utils")
    });
    assert!(output.status.success(), "{program}: {output:?}");
    String::from_utf8(output.stdout).unwrap()
}

/// The lines of text in a PDF, in the order in which they were written, with ASCII minus signs.
pub(crate) fn lines(pdf: &[u8]) -> Vec<String> {
    poppler("pdftotext", &["-raw", "-enc", "UTF-8"], pdf)
        .replace('\u{2212}', "-")
        .lines()
        .map(str::to_owned)
        .collect()
}

/// The pictures in a PDF, a line each below two lines of heads.
pub(crate) fn pictures(pdf: &[u8]) -> Vec<String> {
    let told = poppler("pdfimages", &["-list"], pdf);
    told.lines().skip(2).map(str::to_owned).collect()
}

/// What poppler tells about a PDF.
pub(crate) fn info(pdf: &[u8]) -> String {
    poppler("pdfinfo", &[], pdf)
}

/// The first page of a PDF as it is seen, 150 dots an inch.
pub(crate) struct Page {
    pub(crate) width: usize,
    pub(crate) height: usize,
    colours: Vec<u8>,
}

impl Page {
    pub(crate) fn at(&self, (x, y): (usize, usize)) -> [u8; 3] {
        let from = 3 * (y * self.width + x);
        self.colours[from..from + 3].try_into().unwrap()
    }

    pub(crate) fn places(&self) -> impl Iterator<Item = (usize, usize)> {
        let width = self.width;
        (0..width * self.height).map(move |at| (at % width, at / width))
    }
}

/// Draws the first page with poppler, which writes a portable pixmap: "P6", width, height, 255.
pub(crate) fn pixels(pdf: &[u8]) -> Page {
    let folder = Folder::new(&format!("pixels-{:x}", pdf.as_ptr() as usize));
    let file = folder.file("print.pdf");
    std::fs::write(&file, pdf).unwrap();
    let output = Command::new("pdftoppm")
        .args(["-r", "150", "-f", "1", "-l", "1", &file])
        .output()
        .unwrap_or_else(|problem| panic!("pdftoppm: {problem}; install poppler-utils"));
    let (mut head, mut from) = (Vec::new(), 0);
    while head.len() < 4 {
        let length = output.stdout[from..]
            .iter()
            .position(u8::is_ascii_whitespace);
        let to = from + length.unwrap();
        head.push(std::str::from_utf8(&output.stdout[from..to]).unwrap());
        from = to + 1;
    }
    assert_eq!((head[0], head[3]), ("P6", "255"));
    Page {
        width: head[1].parse().unwrap(),
        height: head[2].parse().unwrap(),
        colours: output.stdout[from..].to_vec(),
    }
}

/// A word on a page: page, left, top, right, bottom in points, text.
pub(crate) struct Word {
    pub(crate) page: usize,
    pub(crate) place: [f64; 4],
    pub(crate) text: String,
}

/// Width and height of the pages, and every word with its place.
pub(crate) fn placed_words(pdf: &[u8]) -> (Vec<[f64; 2]>, Vec<Word>) {
    let told = poppler("pdftotext", &["-bbox"], pdf);
    let value = |line: &str, key: &str| -> f64 {
        let from = line.find(&format!("{key}=\"")).unwrap() + key.len() + 2;
        let rest = &line[from..];
        rest[..rest.find('"').unwrap()].parse().unwrap()
    };
    let (mut pages, mut words) = (Vec::new(), Vec::new());
    for line in told.lines().map(str::trim) {
        if line.starts_with("<page ") {
            pages.push([value(line, "width"), value(line, "height")]);
        } else if line.starts_with("<word ") {
            let text = line.split_once('>').unwrap().1;
            words.push(Word {
                page: pages.len() - 1,
                place: ["xMin", "yMin", "xMax", "yMax"].map(|key| value(line, key)),
                text: text.trim_end_matches("</word>").to_owned(),
            });
        }
    }
    (pages, words)
}
