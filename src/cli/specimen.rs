//! `ansata lettering --specimen`: one wording in many letterings, into one file.

use crate::files::Failure;
use crate::files::load::{Loaded, vocabulary};
use crate::layout::{Layout, Named, Paper, Shop, Source, read};
use crate::lettering::{Catalogue, Entry};
use crate::sheets::{self, LeftOut, Specimen, SpecimenWishes};
use crate::units::Length;
use crate::units::digits::trimmed;

use super::one::{format, write};
use super::{FileArguments, LayoutArguments, LetteringArguments, Outcome, loaded, say};

/// Cap heights that may be asked for, mm: what a page can show.
const CAP_HEIGHT: std::ops::RangeInclusive<f64> = 0.5..=200.0;

/// Letterings that are named where something is said of many.
const NAMED: usize = 6;

pub(super) fn specimen(
    arguments: &LetteringArguments,
    catalogue: &Catalogue,
    entries: &[&Entry],
) -> Result<Outcome, Failure> {
    let Some(output) = &arguments.output else {
        let message = "error: where is the specimen to go? write -o specimen.pdf (or .svg, .png)";
        return Err(Failure::Input(message.to_owned()));
    };
    let format = format(output)?;
    let cap_height = arguments.cap_height.as_deref().map(cap_height).transpose()?;
    let paper = arguments.paper.as_deref().map(paper).transpose()?;
    if entries.is_empty() {
        let message = "error: no shipped lettering is like that; fewer words find more";
        return Err(Failure::Input(message.to_owned()));
    }
    let (layout, inputs) = match (&arguments.layout, &arguments.specimen) {
        (Some(layout), _) => {
            let arguments = LayoutArguments { layout: layout.clone(), shop: None, quiet: false };
            let Loaded { job, inputs, .. } = loaded(&arguments)?;
            (job.layout, inputs)
        }
        (None, wording) => (typed(wording.as_deref().unwrap_or_default())?, Vec::new()),
    };
    let wishes = SpecimenWishes {
        title: arguments.layout.is_some().then_some(layout.title.as_str()),
        lines: &layout.lines,
        entries,
        cap_height,
        paper: paper.unwrap_or(layout.proof.paper),
    };
    let specimen = sheets::specimen(&wishes, catalogue);
    let Some(sheet) = &specimen.sheet else {
        let message = format!(
            "error: none of these letterings has every character of the wording\n{}",
            left_out(&specimen.left_out)
        );
        return Err(Failure::Input(message));
    };
    let file =
        FileArguments { output: output.clone(), replace: arguments.replace, dpi: arguments.dpi };
    write(&sheet.drawing, format, &file, &inputs)?;
    say::out(&summary(&specimen, cap_height));
    say::out(&format!("wrote {}\n", output.display()));
    Ok(Outcome::Clear)
}

/// Options of a specimen without one are a mistake, not passed over.
pub(super) fn alone(arguments: &LetteringArguments) -> Result<(), Failure> {
    let given = [
        ("--output", arguments.output.is_some()),
        ("--cap-height", arguments.cap_height.is_some()),
        ("--paper", arguments.paper.is_some()),
        ("--dpi", arguments.dpi.is_some()),
        ("--replace", arguments.replace),
    ];
    match given.iter().find(|(_, given)| *given) {
        Some((option, _)) => Err(Failure::Input(format!(
            "error: {option} goes with --specimen \"Wording\" or --layout FILE"
        ))),
        None => Ok(()),
    }
}

/// The wording as a layout has it: read by the reader of layouts, so that the same is
/// allowed and the same is said.
fn typed(wording: &str) -> Result<Layout, Failure> {
    let text = toml::Value::String(wording.replace("\\n", "\n"));
    let source = Source {
        name: "--specimen".to_owned(),
        text: format!(
            "ansata = 1\ntitle = \"Specimen\"\nplate.size = \"100 x 100 mm\"\n\
             plate.material = \"brass\"\nlettering.default = \"Cinzel\"\n[[line]]\ntext = {text}\n"
        ),
    };
    read(&source, Shop::default(), &vocabulary(), &|_| Err(String::new()))
        .map_err(Failure::Mistakes)
}

fn cap_height(text: &str) -> Result<f64, Failure> {
    let wrong = |message: String| Failure::Input(format!("error: --cap-height: {message}"));
    let length =
        Length::parse(text).map_err(|error| wrong(format!("{}; {}", error.message, error.help)))?;
    if CAP_HEIGHT.contains(&length.mm) {
        return Ok(length.mm);
    }
    let (least, most) = (trimmed(*CAP_HEIGHT.start(), 1), trimmed(*CAP_HEIGHT.end(), 1));
    Err(wrong(format!("it may be {least} mm to {most} mm")))
}

fn paper(text: &str) -> Result<Paper, Failure> {
    let found = Paper::ALL.iter().find(|(word, _)| word.eq_ignore_ascii_case(text));
    found.map(|(_, paper)| *paper).ok_or_else(|| {
        let words: Vec<&str> = Paper::ALL.iter().map(|(word, _)| *word).collect();
        let message = format!("error: --paper `{text}`: it may be {}", words.join(", "));
        Failure::Input(message)
    })
}

fn summary(specimen: &Specimen, asked: Option<f64>) -> String {
    let height = trimmed(specimen.cap_height, 2);
    let mut text = format!("{} letterings at {height} mm cap height\n", specimen.shown.len());
    if let Some(asked) = asked.filter(|asked| specimen.cap_height < asked - 1e-9) {
        let asked = trimmed(asked, 2);
        text.push_str(&format!("{asked} mm were asked for: more than the page holds\n"));
    }
    text.push_str(&left_out(&specimen.left_out));
    text
}

/// What was left out, those with the same lack together.
fn left_out(all: &[LeftOut]) -> String {
    let mut groups: Vec<(&[char], Vec<&str>)> = Vec::new();
    for out in all {
        match groups.iter_mut().find(|(lacks, _)| *lacks == out.lacks) {
            Some((_, names)) => names.push(&out.name),
            None => groups.push((&out.lacks, vec![&out.name])),
        }
    }
    let row = |(lacks, names): &(&[char], Vec<&str>)| {
        let lacks: Vec<String> =
            lacks.iter().take(NAMED).map(|c| format!("{c} (U+{:04X})", u32::from(*c))).collect();
        let many = names.len().saturating_sub(NAMED);
        let more = if many > 0 { format!(" and {many} more") } else { String::new() };
        let names: Vec<&str> = names.iter().copied().take(NAMED).collect();
        format!("left out for want of {}: {}{more}\n", lacks.join(", "), names.join(", "))
    };
    groups.iter().map(row).collect()
}
