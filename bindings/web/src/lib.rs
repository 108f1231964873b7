//! The program's questions for a page in a browser.
//!
//! The page hands over the arguments that a shell would, and gets back what the program would have
//! written: standard output, standard error, the exit code. Both sides share the module's memory:
//! [`room`] makes the place for a text, an export answers it, [`answer`] and [`words`] name the
//! place of what came of it. Nothing here computes; there is no clock, no file and no network.
#![allow(
    unsafe_code,
    reason = "a name that is exported unchanged counts as unsafe"
)]

mod forms;

use std::cell::RefCell;

use serde_json::{Value, json};
use zeotrope::chart::plot::{Axis, Scale};
use zeotrope::page::Block;
use zeotrope_cli::{Streams, document, recipe, run};

/// What is handed over, and what came of it.
#[derive(Default)]
struct Desk {
    question: Vec<u8>,
    answer: Vec<u8>,
    words: Vec<u8>,
}

impl Desk {
    /// The text in the room, lines of arguments behind the program's name.
    fn arguments(&self) -> Vec<String> {
        let question = String::from_utf8_lossy(&self.question);
        let arguments = question.split('\n').map(str::to_owned);
        std::iter::once("zeotrope".to_owned())
            .chain(arguments)
            .collect()
    }

    fn streams(&mut self) -> Streams<'_> {
        self.answer.clear();
        self.words.clear();
        Streams {
            out: &mut self.answer,
            err: &mut self.words,
            colour: false,
        }
    }

    fn say(&mut self, value: &Value) {
        self.answer = value.to_string().into_bytes();
        self.words.clear();
    }
}

thread_local! {
    static DESK: RefCell<Desk> = RefCell::default();
}

/// Address and length of bytes, as one number: the address in the upper half.
fn place(bytes: &[u8]) -> u64 {
    let [address, length] = [bytes.as_ptr() as usize as u64, bytes.len() as u64];
    address << 32 | length
}

/// Makes room for a text of so many bytes.
#[unsafe(no_mangle)]
pub extern "C" fn room(length: usize) -> u64 {
    DESK.with_borrow_mut(|desk| {
        desk.question = vec![0; length];
        place(&desk.question)
    })
}

/// Answers the question in the room: the program's arguments without its name, UTF-8, an end of
/// line (`\n`) between two. Returns the exit code of the program.
#[unsafe(no_mangle)]
pub extern "C" fn ask() -> u32 {
    DESK.with_borrow_mut(|desk| {
        let arguments = desk.arguments();
        u32::from(run(arguments, desk.streams()).code())
    })
}

/// Reads the recipe in the room: its first line names the file, the rest is the file. The answer
/// is the question it stands for, arguments as in [`ask`]. Returns the exit code.
#[unsafe(no_mangle)]
pub extern "C" fn open() -> u32 {
    DESK.with_borrow_mut(|desk| {
        let text = String::from_utf8_lossy(&desk.question).into_owned();
        let (name, text) = text.split_once('\n').unwrap_or((&text, ""));
        u32::from(recipe(name, text, desk.streams()).code())
    })
}

/// The commands and options that a page can ask, as JSON.
#[unsafe(no_mangle)]
pub extern "C" fn forms() {
    DESK.with_borrow_mut(|desk| desk.say(&forms::forms()));
}

/// The axes of the first picture that the question in the room is answered with, as JSON, so that
/// a point that is dragged can be told in the picture's numbers; `null` where there is no picture.
#[unsafe(no_mangle)]
pub extern "C" fn axes() {
    let axis = |axis: &Axis| {
        json!({
            "label": axis.label,
            "from": axis.from,
            "to": axis.to,
            "logarithmic": axis.scale == Scale::Logarithmic,
        })
    };
    DESK.with_borrow_mut(|desk| {
        let found = document(desk.arguments());
        let blocks = found.iter().flat_map(|document| &document.blocks);
        let picture = blocks.filter_map(|block| match block {
            Block::Picture(plot) => Some(json!({"x": axis(&plot.x), "y": axis(&plot.y)})),
            _ => None,
        });
        let first = picture.take(1).next().unwrap_or(Value::Null);
        desk.say(&first);
    });
}

/// Where the last answer lies: what the program writes to standard output.
#[unsafe(no_mangle)]
pub extern "C" fn answer() -> u64 {
    DESK.with_borrow(|desk| place(&desk.answer))
}

/// Where the words about the last answer lie: errors, hints, warnings.
#[unsafe(no_mangle)]
pub extern "C" fn words() -> u64 {
    DESK.with_borrow(|desk| place(&desk.words))
}
