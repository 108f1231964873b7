//! `completions`: what a shell needs to complete this program's words.

use super::args::CompletionsArgs;

pub(super) fn answer(args: &CompletionsArgs) -> String {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut super::command(), "zeotrope", &mut script);
    String::from_utf8_lossy(&script).into_owned()
}
