//! `ansata completions`, `ansata man` and `ansata layout-schema`: what the program tells
//! of itself, for shells, manuals and editors.

use std::path::Path;

use clap::{Command, CommandFactory};
use clap_complete::Shell;
use clap_mangen::Man;

use crate::files::{Failure, folder, load};
use crate::layout::{layout_schema, shop_schema};

use super::{Arguments, Outcome, say};

/// Prints the schema of layouts, or of shop files.
pub(super) fn schema(shop: bool) -> Outcome {
    say::out(&if shop { shop_schema() } else { layout_schema(&load::vocabulary()) });
    Outcome::Clear
}

/// Prints a script of completions.
pub(super) fn completions(shell: Shell) -> Outcome {
    let mut command = Arguments::command();
    let name = command.get_name().to_owned();
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut command, name, &mut script);
    say::out(&String::from_utf8_lossy(&script));
    Outcome::Clear
}

/// Prints the manual page of the program or of one command; or writes all of them, each
/// under the name that `man` looks for.
pub(super) fn man(
    command: Option<&str>,
    output: Option<&Path>,
    replace: bool,
) -> Result<Outcome, Failure> {
    let all = pages()?;
    let Some(output) = output else {
        let name = page_name(command);
        let page = all.iter().find(|(known, _)| *known == name);
        let Some((_, page)) = page else {
            let known: Vec<&str> =
                all.iter().filter_map(|(name, _)| Some(name.split_once('-')?.1)).collect();
            return Err(Failure::Input(unknown(command.unwrap_or_default(), &known)));
        };
        say::out(&String::from_utf8_lossy(page));
        return Ok(Outcome::Clear);
    };
    let files: Vec<_> =
        all.iter().map(|(name, page)| (output.join(format!("{name}.1")), page)).collect();
    folder::create(output)?;
    if !replace {
        folder::refuse_existing(files.iter().map(|(path, _)| path.as_path()))?;
    }
    for (path, page) in files {
        folder::write_one(&path, page, replace, &[])?;
        say::out(&format!("wrote {}\n", path.display()));
    }
    Ok(Outcome::Clear)
}

fn page_name(command: Option<&str>) -> String {
    command.map_or_else(|| "ansata".to_owned(), |command| format!("ansata-{command}"))
}

fn unknown(command: &str, known: &[&str]) -> String {
    let nearest = known
        .iter()
        .min_by_key(|name| strsim::damerau_levenshtein(name, command))
        .map_or("", |name| *name);
    format!("error: there is no command `{command}`; the nearest is `{nearest}`")
}

/// Name and text of each page: the program's own, then one a command. No page bears a
/// date, so that the same program prints the same page.
fn pages() -> Result<Vec<(String, Vec<u8>)>, Failure> {
    let mut root = Arguments::command().disable_help_subcommand(true);
    root.build();
    let commands: Vec<Command> = root.get_subcommands().cloned().collect();
    let mut pages = vec![(page_name(None), page(root)?)];
    for command in commands {
        pages.push((page_name(Some(command.get_name())), page(command)?));
    }
    Ok(pages)
}

/// One page: what the command's arguments say of themselves, then the paragraphs that
/// stand under its help, each as a section of its own.
fn page(command: Command) -> Result<Vec<u8>, Failure> {
    let further = command.get_after_help().map(ToString::to_string).unwrap_or_default();
    let mut text = Vec::new();
    Man::new(command.after_help(None))
        .source(concat!("ansata ", env!("CARGO_PKG_VERSION")))
        .render(&mut text)
        .map_err(|error| Failure::Write(format!("error: {}", load::why(&error))))?;
    for paragraph in further.split("\n\n") {
        text.extend_from_slice(section(paragraph).as_bytes());
    }
    Ok(text)
}

/// A paragraph `Heading: text`, or a heading with lines under it, as a section whose
/// lines stay as they are.
fn section(paragraph: &str) -> String {
    let Some((heading, lines)) = paragraph.split_once(':') else { return String::new() };
    let heading = match heading {
        "Example" => "EXAMPLES".to_owned(),
        heading => heading.to_uppercase(),
    };
    let mut text = format!(".SH \"{heading}\"\n.nf\n");
    for line in lines.trim_start_matches('\n').lines() {
        // A full stop or an apostrophe at the start of a line would be a command.
        let line = line.trim().replace('\\', "\\e").replace('-', "\\-").replace('\'', "\\(aq");
        text.push_str(&format!("\\&{line}\n"));
    }
    text.push_str(".fi\n");
    text
}

#[cfg(test)]
mod tests {
    use super::section;

    #[test]
    fn what_stands_under_the_help_becomes_sections() {
        assert_eq!(
            section("Example:\n  ansata new --from oval"),
            ".SH \"EXAMPLES\"\n.nf\n\\&ansata new \\-\\-from oval\n.fi\n"
        );
        assert_eq!(section("Exit status: 0"), ".SH \"EXIT STATUS\"\n.nf\n\\&0\n.fi\n");
    }
}
