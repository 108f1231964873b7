//! `man`: the manual page, verbs and all.

use crate::errors::Failure;

pub(crate) fn answer() -> Result<String, Failure> {
    let mut page = Vec::new();
    let mut command = crate::command();
    command.build();
    let unwritten = |problem: std::io::Error| {
        Failure::no_answer(
            format!("the manual page could not be written: {problem}"),
            "'zeotrope --help' says the same",
        )
    };
    let whole = clap_mangen::Man::new(command.clone());
    whole.render_title(&mut page).map_err(unwritten)?;
    whole.render_name_section(&mut page).map_err(unwritten)?;
    whole
        .render_synopsis_section(&mut page)
        .map_err(unwritten)?;
    whole
        .render_description_section(&mut page)
        .map_err(unwritten)?;
    whole.render_options_section(&mut page).map_err(unwritten)?;
    for verb in command.get_subcommands().filter(|verb| !verb.is_hide_set()) {
        let man = clap_mangen::Man::new(verb.clone().display_order(0));
        let name = verb.get_name().to_uppercase();
        page.extend(format!(".SH VERB {name}\n").into_bytes());
        man.render_synopsis_section(&mut page).map_err(unwritten)?;
        man.render_description_section(&mut page)
            .map_err(unwritten)?;
        man.render_options_section(&mut page).map_err(unwritten)?;
        man.render_extra_section(&mut page).map_err(unwritten)?;
    }
    whole.render_extra_section(&mut page).map_err(unwritten)?;
    whole.render_version_section(&mut page).map_err(unwritten)?;
    Ok(String::from_utf8_lossy(&page).into_owned())
}
