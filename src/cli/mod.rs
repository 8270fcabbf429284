//! Commands, exit status and whole-file writing; no arithmetic.
//!
//! Exit status: 0 without a `stop`; 1 with one; 2 where the input could not be
//! understood (nothing is written); 3 where a file could not be written.

mod artwork;
mod bars;
mod compare;
mod desk;
mod fit;
mod lettering;
mod make;
mod manual;
mod new;
mod one;
mod placings;
mod say;
mod signoff;
mod specimen;

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Parser, Subcommand, ValueEnum};

use crate::files::Failure;
use crate::files::load::{self, Loaded};
use crate::files::sign;
use crate::layout::Diagnostic;

/// How a command that ran through ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Outcome {
    /// No `stop`: exit 0.
    Clear,
    /// A `stop` stands: exit 1.
    Stopped,
}

#[derive(Parser)]
#[command(
    name = "ansata",
    version,
    about = "Fits an inscription to a small engraved plate, proofs it, and draws the pattern to mount it by",
    after_help = "Examples:\n  ansata new cup.toml\n  ansata fit cup.toml\n  ansata make cup.toml\n  ansata lettering\n\nExit status: 0 no stop, 1 a stop stands, 2 input not understood, 3 could not write"
)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// Make everything into one folder: proof, pattern, mock-up, artwork, files for machines,
    /// a list of what each is for, report.
    #[command(
        after_help = "Examples:\n  ansata make cup.toml\n  ansata make cup.toml -o for-the-client --dpi 300\n  ansata make cup.toml --zip"
    )]
    Make {
        #[command(flatten)]
        layout: LayoutArguments,
        /// Folder to write into [default: out/<layout name>]
        #[arg(short, long, value_name = "DIR")]
        output: Option<PathBuf>,
        /// Resolution of the PNG, dots per inch [default: 200, less for very large plates]
        #[arg(long, value_name = "N", value_parser = dpi)]
        dpi: Option<f64>,
        /// All files in one archive as well, <layout name>.zip in the same folder
        #[arg(long)]
        zip: bool,
    },
    /// Show what the fit found, as a table or as JSON; writes nothing.
    #[command(after_help = "Examples:\n  ansata fit cup.toml\n  ansata fit - --json < cup.toml")]
    Fit {
        #[command(flatten)]
        layout: LayoutArguments,
        /// Print the report as JSON
        #[arg(long)]
        json: bool,
    },
    /// Make the proof alone, as SVG, PNG or PDF by the file's ending.
    #[command(
        after_help = "Examples:\n  ansata proof cup.toml -o cup.pdf\n  ansata proof cup.toml --only lettering -o letters.png --dpi 600"
    )]
    Proof {
        #[command(flatten)]
        layout: LayoutArguments,
        #[command(flatten)]
        file: FileArguments,
        /// Only this group: flat black on white, the page as large as the plate
        #[arg(long, value_name = "GROUP")]
        only: Option<Only>,
    },
    /// Make the artwork alone: what is cut at true size, and nothing else.
    #[command(
        long_about = "Make the artwork alone: what is cut at true size in mm, and nothing else.\n\nA name that ends in .svg, .pdf or .dxf becomes one file with all operations in groups of their own; any other a folder that holds them whole and by operation, in the three formats, and a text that says what they measure. Withheld, and with --replace removed, where a stop of the wording, the lettering, a photograph or an emblem stands or it is not as it was signed.",
        after_help = "Examples:\n  ansata artwork cup.toml -o cup-artwork\n  ansata artwork cup.toml -o cup.dxf --replace\n  ansata artwork cup.toml --only lettering -o letters.svg"
    )]
    Artwork(ArtworkArguments),
    /// Make the mount pattern alone, as SVG, PNG or PDF by the file's ending.
    #[command(
        after_help = "Examples:\n  ansata pattern cup.toml -o cup-pattern.pdf\n  ansata pattern cup.toml -o cup-corrected.pdf --printed-bars \"99.2 mm across, 100.4 mm along\""
    )]
    Pattern {
        #[command(flatten)]
        layout: LayoutArguments,
        #[command(flatten)]
        file: FileArguments,
        /// What the check bars measure on your print: makes a pattern that comes out true
        /// on that printer
        #[arg(
            long,
            value_name = "BARS",
            value_parser = bars::printed_bars,
            long_help = "What the check bars measure on your print: makes a pattern that comes out true on that printer, and on that one alone. In mm the length of the 100 mm sides, in inches of the 4 in sides; `across` is the bar that lies, `along` the one that stands. More than 3 % is refused: then the page was not printed at 100 %."
        )]
        printed_bars: Option<crate::sheets::PrintedBars>,
    },
    /// Sign for a layout as it is now: keeps a record beside it.
    #[command(
        long_about = "Sign for a layout as it is now.\n\nKeeps a small record beside it, cup.signed.toml for cup.toml: who signed, as what and when, for which proof and mark, what was accepted, and all that is cut. From then on every command holds the layout against it: where anything is cut otherwise, artwork and pattern are withheld. Several people may sign; who signs again in the same role replaces the earlier signature. Nothing is signed while a stop stands. To withdraw a sign-off, delete the record.",
        after_help = "Examples:\n  ansata signoff cup.toml --by \"Orla Penhallick\" --role \"For the ringers\" --date 2026-11-25\n  ansata compare cup.signed.toml cup.toml"
    )]
    Signoff {
        #[command(flatten)]
        layout: LayoutArguments,
        /// Who signs
        #[arg(long, value_name = "NAME", value_parser = sign::person)]
        by: String,
        /// As what, such as "For the client"
        #[arg(long, value_name = "ROLE", value_parser = sign::person)]
        role: String,
        /// The day of signing, year-month-day; never taken from a clock
        #[arg(long, value_name = "DATE", value_parser = sign::date)]
        date: String,
    },
    /// Tell what NEW has otherwise than OLD; draw both laid over each other.
    #[command(
        long_about = "Tell what NEW has otherwise than OLD: wording by word and letter, lettering, plate, holes, heights and places in mm.\n\nEach is a layout file or the record of a sign-off. With -o one sheet shows both side by side and laid over each other, old dashed and new continuous, with a table of all changes.",
        after_help = "Examples:\n  ansata compare cup.signed.toml cup.toml\n  ansata compare old.toml new.toml -o changes.pdf\n  ansata compare cup.signed.toml cup.toml --json\n\nExit status: 0, whether they differ or not"
    )]
    Compare(CompareArguments),
    /// Show ways to place a photograph, the best first; write the chosen one into the layout.
    #[command(
        long_about = "Show ways to place a photograph: at each side of the field, as large as the wording allows and smaller.\n\nThey are ranked by how well the letters are read, how large the photograph is, how even the white and how near the middle of what is seen to that of the plate; the order is our own, so look at the sheet. --choose writes place and size into the layout; remarks and order stay.",
        after_help = "Examples:\n  ansata placings cup.toml -o ways.pdf\n  ansata placings cup.toml --choose 2\n  ansata placings cup.toml --photo 2"
    )]
    Placings(placings::PlacingArguments),
    /// Do the whole job on a page in your browser, on this machine alone.
    #[command(
        long_about = "Do the whole job on a page in your browser, on this machine alone.\n\nThe page changes the same layout file that every other command reads: each change is saved at once, remarks and order stay, and earlier versions are kept in .earlier beside it. It listens on 127.0.0.1 only, under an address that nobody can guess, and holds the one folder that the layout is in. Ctrl-C closes it.",
        after_help = "Examples:\n  ansata desk\n  ansata desk cup.toml\n  ansata desk plaques --port 8080 --no-browser"
    )]
    Desk(desk::DeskArguments),
    /// Start a layout file: by a few plain questions, or from a shipped one.
    #[command(
        long_about = "Start a layout file: by a few plain questions, or from a shipped one.\n\nAsks for plate, wording, lettering, fixing and face, line by line on standard input; each answer is checked at once. The file is written after the last answer, and none is ever replaced.",
        after_help = "Examples:\n  ansata new cup.toml\n  ansata new --from dedication cup.toml\n  ansata new cup.toml < answers.txt\n\nStarters: dedication, long-dedication, oval, inches, ansate, replacement, wide-walnut"
    )]
    New {
        /// Shipped layout to copy, instead of asking
        #[arg(long, value_name = "STARTER")]
        from: Option<String>,
        /// File to write [default: layout.toml, or <starter>.toml]
        file: Option<PathBuf>,
    },
    /// List the shipped lettering by its look and what it can do, with licences.
    #[command(
        after_help = "Examples:\n  ansata lettering\n  ansata lettering --look script --script cyrillic\n  ansata lettering --axis width --figures old-style\n  ansata lettering \"EB Garamond\" --licence\n  ansata lettering --specimen \"Elowen Tarrant\" --look serif -o specimen.pdf\n  ansata lettering --layout cup.toml -o specimen.pdf"
    )]
    Lettering(LetteringArguments),
    /// Print the JSON Schema of layout files, by which editors complete and check keys.
    #[command(
        after_help = "Examples:\n  ansata layout-schema > layout.schema.json\n  ansata layout-schema --shop > shop.schema.json"
    )]
    LayoutSchema {
        /// The schema of shop.toml instead
        #[arg(long)]
        shop: bool,
    },
    /// Print completions for a shell.
    #[command(
        after_help = "Examples:\n  ansata completions bash > ~/.local/share/bash-completion/completions/ansata\n  ansata completions zsh > ~/.zfunc/_ansata      (with ~/.zfunc in fpath)\n  ansata completions fish > ~/.config/fish/completions/ansata.fish"
    )]
    Completions {
        /// Which shell
        shell: clap_complete::Shell,
    },
    /// Print the manual page, or write one for every command.
    #[command(
        after_help = "Examples:\n  ansata man make | man -l -\n  ansata man -o ~/.local/share/man/man1"
    )]
    Man {
        /// The page of this command [default: the program's own]
        #[arg(conflicts_with = "output")]
        command: Option<String>,
        /// Write all pages into this folder
        #[arg(short, long, value_name = "DIR")]
        output: Option<PathBuf>,
        /// Replace pages that are there
        #[arg(long, requires = "output")]
        replace: bool,
    },
}

/// Which layout, and with which shop's figures.
#[derive(clap::Args)]
struct LayoutArguments {
    /// Layout file, or - for standard input
    layout: PathBuf,
    /// The shop's own figures [default: shop.toml beside the layout, if there]
    #[arg(long, value_name = "FILE")]
    shop: Option<PathBuf>,
    /// Say nothing but mistakes
    #[arg(short, long)]
    quiet: bool,
}

/// Which lettering, and what is asked of it.
#[derive(clap::Args)]
struct LetteringArguments {
    /// One lettering by name
    #[arg(conflicts_with_all = ["look", "script", "axis", "small_capitals", "figures"])]
    name: Option<String>,
    /// Only of this look, such as serif, script, narrow; may be given several times
    #[arg(long, value_name = "WORD")]
    look: Vec<String>,
    /// Only with this script: latin, greek, cyrillic, hebrew, arabic, devanagari, or its code
    #[arg(long, value_name = "SCRIPT")]
    script: Vec<String>,
    /// Only where a layout can set this: weight, width or optical-size
    #[arg(long, value_name = "AXIS")]
    axis: Vec<String>,
    /// Only with small capitals drawn as such
    #[arg(long)]
    small_capitals: bool,
    /// Only with such figures: lining, old-style, proportional or tabular
    #[arg(long, value_name = "STYLE")]
    figures: Vec<String>,
    /// Print the licence texts
    #[arg(long)]
    licence: bool,
    /// Print as JSON
    #[arg(long, conflicts_with = "licence")]
    json: bool,
    /// Draw this wording in every such lettering, numbered; \n in it begins a row
    #[arg(long, value_name = "WORDING", conflicts_with_all = ["name", "licence", "json"])]
    specimen: Option<String>,
    /// Draw the wording of this layout file instead
    #[arg(long, value_name = "FILE", conflicts_with_all = ["name", "licence", "json", "specimen"])]
    layout: Option<PathBuf>,
    /// The specimen's cap height, such as "8 mm" [default: what the widest lettering allows]
    #[arg(long, value_name = "LENGTH")]
    cap_height: Option<String>,
    /// The specimen's paper: A4, A3, Letter or Tabloid [default: the layout's, or A4]
    #[arg(long, value_name = "PAPER")]
    paper: Option<String>,
    /// The specimen's file; its ending (.svg, .png, .pdf) says the format
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Replace the file if it is there
    #[arg(long)]
    replace: bool,
    /// Resolution of a PNG, dots per inch [default: 200, less for many pages]
    #[arg(long, value_name = "N", value_parser = dpi)]
    dpi: Option<f64>,
}

/// What is compared, and where the sheet goes.
#[derive(clap::Args)]
struct CompareArguments {
    /// Layout file or record of a sign-off, as it was
    old: PathBuf,
    /// Layout file or record of a sign-off, as it is; or - for a layout on standard input
    new: PathBuf,
    /// The shop's own figures [default: shop.toml beside each layout, if there]
    #[arg(long, value_name = "FILE")]
    shop: Option<PathBuf>,
    /// Print the changes as JSON
    #[arg(long)]
    json: bool,
    /// Draw the comparison sheet into this file; its ending (.svg, .png, .pdf) says the format
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Replace the file if it is there
    #[arg(long, requires = "output")]
    replace: bool,
    /// Resolution of a PNG, dots per inch [default: 200, less for very large plates]
    #[arg(long, value_name = "N", value_parser = dpi)]
    dpi: Option<f64>,
    /// Say nothing but mistakes
    #[arg(short, long)]
    quiet: bool,
}

/// Which artwork, and where it goes.
#[derive(clap::Args)]
struct ArtworkArguments {
    #[command(flatten)]
    layout: LayoutArguments,
    /// File to write, ending in .svg, .pdf or .dxf; or a folder for all of them
    #[arg(short, long, value_name = "FILE|DIR")]
    output: PathBuf,
    /// Replace artwork that is there
    #[arg(long)]
    replace: bool,
    /// Only this operation, into one file, such as lettering, border, outline or holes, as
    /// far as the layout has it
    #[arg(long, value_name = "OPERATION")]
    only: Option<String>,
}

/// Where one file goes.
#[derive(clap::Args)]
struct FileArguments {
    /// File to write; its ending (.svg, .png, .pdf) says the format
    #[arg(short, long, value_name = "FILE")]
    output: PathBuf,
    /// Replace the file if it is there
    #[arg(long)]
    replace: bool,
    /// Resolution of a PNG, dots per inch [default: 200, less for very large plates]
    #[arg(long, value_name = "N", value_parser = dpi)]
    dpi: Option<f64>,
}

/// Parts of the proof that can be had alone.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Only {
    /// The letters
    Lettering,
}

/// Resolutions that make sense for a plaque; beyond them a picture is useless or enormous.
fn dpi(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(value) if (10.0..=2400.0).contains(&value) => Ok(value),
        _ => Err("expected a number of dots per inch from 10 to 2400, such as 300".to_owned()),
    }
}

/// Runs the program on the process's arguments.
#[must_use]
pub fn run() -> ExitCode {
    // clap itself answers --help and --version (status 0) and mistakes (status 2).
    let arguments = Arguments::parse();
    let outcome = match arguments.command {
        Command::Make { layout, output, dpi, zip } => make::make(&layout, output, dpi, zip),
        Command::Fit { layout, json } => fit::fit(&layout, json),
        Command::Proof { layout, file, only } => one::proof(&layout, &file, only),
        Command::Artwork(arguments) => artwork::artwork(&arguments),
        Command::Pattern { layout, file, printed_bars } => {
            one::pattern(&layout, &file, printed_bars)
        }
        Command::Signoff { layout, by, role, date } => {
            signoff::signoff(&layout, sign::Signer { by, role, date })
        }
        Command::Placings(arguments) => placings::placings(&arguments),
        Command::Desk(arguments) => desk::desk(&arguments),
        Command::Compare(arguments) => compare::compare(&arguments),
        Command::New { from, file } => new::new(from.as_deref(), file),
        Command::Lettering(arguments) => lettering::lettering(&arguments),
        Command::LayoutSchema { shop } => Ok(manual::schema(shop)),
        Command::Completions { shell } => Ok(manual::completions(shell)),
        Command::Man { command, output, replace } => {
            manual::man(command.as_deref(), output.as_deref(), replace)
        }
    };
    match outcome {
        Ok(Outcome::Clear) => ExitCode::SUCCESS,
        Ok(Outcome::Stopped) => ExitCode::from(1),
        Err(Failure::Input(message)) => {
            say::mistake(&message);
            ExitCode::from(2)
        }
        Err(Failure::Mistakes(mistakes)) => {
            say::mistake(&told(&mistakes));
            ExitCode::from(2)
        }
        Err(Failure::Write(message)) => {
            say::mistake(&message);
            ExitCode::from(3)
        }
    }
}

/// All mistakes of a file with their places, and how many there are.
fn told(mistakes: &[Diagnostic]) -> String {
    let colour = say::colour_on_error();
    let messages: Vec<String> = mistakes.iter().map(|mistake| mistake.render(colour)).collect();
    let count = match mistakes.len() {
        1 => "1 mistake; nothing was written.".to_owned(),
        n => format!("{n} mistakes; nothing was written."),
    };
    format!("{}\n{count}", messages.join("\n"))
}

/// The layout that was asked for, read, with the job done.
fn loaded(arguments: &LayoutArguments) -> Result<Loaded, Failure> {
    load::loaded(&arguments.layout, arguments.shop.as_deref())
}
