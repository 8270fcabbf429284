//! `ansata desk`: the whole job on a page of this machine.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use crate::desk::{Opening, serve};
use crate::files::Failure;
use crate::files::load::text_of;

use super::{Outcome, say};

/// What is asked of a desk.
#[derive(clap::Args)]
pub(super) struct DeskArguments {
    /// Layout file to begin with, or a folder of layouts [default: the folder one is in]
    #[arg(value_name = "LAYOUT|DIR")]
    layout: Option<PathBuf>,
    /// Port to listen on [default: one that is free]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..))]
    port: Option<u16>,
    /// Only print the address, open no browser
    #[arg(long)]
    no_browser: bool,
}

pub(super) fn desk(arguments: &DeskArguments) -> Result<Outcome, Failure> {
    let opening = opening(arguments)?;
    let browse = !arguments.no_browser;
    serve(opening, |address| {
        say::out(&format!("the desk is open at\n  {address}\nclose it with Ctrl-C\n"));
        if browse {
            open(address);
        }
    })?;
    say::out("the desk is closed\n");
    Ok(Outcome::Clear)
}

/// The folder, and the layout in it where one is named.
fn opening(arguments: &DeskArguments) -> Result<Opening, Failure> {
    let port = arguments.port;
    let Some(path) = &arguments.layout else {
        return Ok(Opening { folder: PathBuf::from("."), layout: None, port });
    };
    if path.is_dir() {
        return Ok(Opening { folder: path.clone(), layout: None, port });
    }
    // What cannot be read is told here rather than on the page.
    text_of(path)?;
    let name = path.file_name().and_then(|name| name.to_str());
    let Some(name) = name.filter(|_| path.extension().is_some_and(|ending| ending == "toml"))
    else {
        return Err(Failure::Input(format!(
            "error: {}: expected a layout, whose name ends in .toml, or a folder",
            path.display()
        )));
    };
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
    let folder = folder.unwrap_or(Path::new(".")).to_owned();
    Ok(Opening { folder, layout: Some(name.to_owned()), port })
}

/// Asks the system to show an address; where it cannot, the address stands in print.
fn open(address: &str) {
    let (program, before): (&str, &[&str]) = if cfg!(target_os = "macos") {
        ("open", &[])
    } else if cfg!(windows) {
        ("cmd", &["/C", "start", ""])
    } else {
        ("xdg-open", &[])
    };
    let mut command = Command::new(program);
    command.args(before).arg(address);
    let _ = command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).spawn();
}
