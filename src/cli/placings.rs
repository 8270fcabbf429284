//! `ansata placings`: ways to place a photograph, and the chosen one written back.

use std::path::PathBuf;

use crate::files::load::Loaded;
use crate::files::{Failure, folder};
use crate::job::{Placing, at_source, chosen_few, job, placings as ways, written};
use crate::layout::{Edited, Named, Step};
use crate::photo::Standing;
use crate::sheets;
use crate::units::digits::trimmed;

use super::one::{format, write};
use super::{FileArguments, LayoutArguments, Outcome, loaded, say};

/// What is asked beside the layout.
#[derive(clap::Args)]
pub(super) struct PlacingArguments {
    #[command(flatten)]
    layout: LayoutArguments,
    /// Which photograph, from 1
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..))]
    photo: u32,
    /// Sheet to write, .svg, .png or .pdf
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Replace the sheet if it is there
    #[arg(long, requires = "output")]
    replace: bool,
    /// Resolution of a PNG, dots per inch [default: 200]
    #[arg(long, value_name = "N", value_parser = super::dpi, requires = "output")]
    dpi: Option<f64>,
    /// Write this way, by its number, into the layout; comments and order stay
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..))]
    choose: Option<u32>,
}

pub(super) fn placings(arguments: &PlacingArguments) -> Result<Outcome, Failure> {
    let format = arguments.output.as_deref().map(format).transpose()?;
    let Loaded { source, job: now, inputs, .. } = loaded(&arguments.layout)?;
    let shown = &source.name;
    let index = usize::try_from(arguments.photo - 1).unwrap_or(usize::MAX);
    let count = now.layout.photos.len();
    if index >= count {
        let has = match count {
            0 => "has no photograph".to_owned(),
            1 => "has one photograph".to_owned(),
            more => format!("has {more} photographs"),
        };
        let number = arguments.photo;
        return Err(Failure::Input(format!(
            "error: {shown}: there is no photograph {number}: the layout {has}"
        )));
    }
    let all = ways(&now.layout, index)
        .map_err(|mistakes| Failure::Mistakes(at_source(mistakes, &source)))?;
    let best = chosen_few(&all);
    let mut drawn = Vec::with_capacity(best.len());
    for (placing, layout) in best {
        let made =
            job(layout).map_err(|mistakes| Failure::Mistakes(at_source(mistakes, &source)))?;
        drawn.push((*placing, made));
    }
    if let (Some(output), Some(format)) = (&arguments.output, format) {
        let sheet = sheets::placings(&drawn, now.layout.proof.paper);
        let file = FileArguments {
            output: output.clone(),
            replace: arguments.replace,
            dpi: arguments.dpi,
        };
        write(&sheet.drawing, format, &file, &inputs)?;
    }
    if !arguments.layout.quiet {
        say::out(&table(&drawn, now.layout.inches));
        if let Some(output) = &arguments.output {
            say::out(&format!("wrote {}\n", output.display()));
        }
    }
    let Some(number) = arguments.choose else { return Ok(Outcome::Clear) };
    let place = usize::try_from(number - 1).unwrap_or(usize::MAX);
    let Some((placing, _)) = drawn.get(place) else {
        let few = drawn.len();
        return Err(Failure::Input(format!(
            "error: --choose {number}: there are {few} ways; nothing was changed"
        )));
    };
    let path = &arguments.layout.layout;
    if path.as_os_str() == "-" {
        return Err(Failure::Input(
            "error: --choose writes into the layout, and standard input is no file".to_owned(),
        ));
    }
    let text = edited(&source.text, index, placing, now.layout.inches)
        .map_err(|why| Failure::Input(format!("error: {shown}: {why}; nothing was changed")))?;
    folder::write_one(path, text.as_bytes(), true, &[])?;
    if !arguments.layout.quiet {
        say::out(&format!("wrote way {number} into {}\n", path.display()));
    }
    Ok(Outcome::Clear)
}

fn table(ways: &[(Placing, crate::job::Job)], inches: bool) -> String {
    if ways.is_empty() {
        return "No way to place it leaves every line its floor: shorten the wording, take a \
                larger plate, or a smaller photograph at a point.\n"
            .to_owned();
    }
    let mut text = String::new();
    for ((placing, _), number) in ways.iter().zip(1..) {
        let place = match placing.stand.spot {
            Standing::Side(side) => side.word().to_owned(),
            Standing::At(..) => "at its point".to_owned(),
        };
        let merit = trimmed((placing.merits.total() * 100.0).round(), 0);
        let (width, height) =
            (written(placing.stand.width, inches), written(placing.stand.height, inches));
        text.push_str(&format!(
            "{number}  {place:<7} {width:>9} x {height:<9}  {merit:>3} of 100\n"
        ));
    }
    text
}

/// The layout's text with a placing put into its photograph.
///
/// # Errors
/// A text whose photographs are not written as `[[photo]]` tables.
fn edited(text: &str, index: usize, placing: &Placing, inches: bool) -> Result<String, String> {
    let mut edited = Edited::of(text).map_err(|_| "the layout cannot be edited".to_owned())?;
    let to = |key: &str| {
        let photo = Step::Key("photo".to_owned());
        [photo, Step::Index(index), Step::Key(key.to_owned())]
    };
    let photo = edited.get(&to("place")[..2]);
    if !photo.is_some_and(|photo| photo.is_object()) {
        return Err("its photographs are not written as [[photo]] tables".to_owned());
    }
    let has = |key: &str| edited.get(&to(key)).is_some();
    let Some(keys) = placing.keys(inches, has) else { return Ok(text.to_owned()) };
    for (key, value) in keys.set {
        edited.set(&to(key), &value.into())?;
    }
    for key in keys.remove {
        edited.remove(&to(key));
    }
    Ok(edited.text())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::PhotoSide;
    use crate::photo::{Merits, Stand};

    fn placing(side: PhotoSide, width: f64, height: f64) -> Placing {
        let merits = Merits { letters: 1.0, photo: 1.0, white: 1.0, middle: 1.0 };
        let spot = Standing::Side(side);
        Placing { stand: Stand { spot, width, height, under: (0.0, 0.0) }, merits }
    }

    #[test]
    fn what_is_chosen_is_written_and_every_remark_stays() {
        let text = "ansata = 1\n# the tower\n[[photo]]\nfile = \"a.jpg\"\nplace = \"auto\"   # \
                    where it is best\nwidth = \"as large as the wording allows\" # for now\nkeeps \
                    = \"3 mm\"\nshape = \"oval\"\n\n[mount]\n";
        let chosen = placing(PhotoSide::Top, 22.5, 30.0);
        let wanted = "ansata = 1\n# the tower\n[[photo]]\nfile = \"a.jpg\"\nplace = \"top\"   # \
                      where it is best\nwidth = \"22.5 mm\" # for now\nshape = \"oval\"\n\n[mount]\n";
        assert_eq!(edited(text, 0, &chosen, false).unwrap(), wanted);
        assert!(edited(text, 1, &chosen, false).is_err());
        assert!(edited("photo = 1", 0, &chosen, false).is_err());
    }

    #[test]
    fn what_was_told_by_its_height_stays_so() {
        let text = "[[photo]]\nheight = \"1 in\"\n";
        let chosen = placing(PhotoSide::Left, 25.4, 50.8);
        let wanted = "[[photo]]\nheight = \"2 in\"\nplace = \"left\"\n";
        assert_eq!(edited(text, 0, &chosen, true).unwrap(), wanted);
    }
}
