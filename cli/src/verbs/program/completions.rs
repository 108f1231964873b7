//! `completions`: what a shell needs to complete this program's words.

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  zeotrope completions bash\n  zeotrope completions fish")]
pub(crate) struct CompletionsArgs {
    /// The shell
    #[arg(value_name = "SHELL")]
    pub(crate) shell: clap_complete::Shell,
}

pub(crate) fn answer(args: &CompletionsArgs) -> String {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut crate::command(), "zeotrope", &mut script);
    String::from_utf8_lossy(&script).into_owned()
}
