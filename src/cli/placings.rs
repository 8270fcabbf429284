//! `ansata placings`: ways to place a photograph, and the chosen one written back.

use std::path::PathBuf;

use toml_edit::{ArrayOfTables, DocumentMut, Item, Table, value};

use crate::files::load::Loaded;
use crate::files::{Failure, folder};
use crate::job::{Placing, at_source, job, placings as ways};
use crate::layout::Named;
use crate::photo::Standing;
use crate::sheets;
use crate::units::MM_PER_INCH;
use crate::units::digits::trimmed;

use super::one::{format, write};
use super::{FileArguments, LayoutArguments, Outcome, loaded, say};

/// Ways on the sheet, and of one side among them.
const SHOWN: usize = 6;
const OF_ONE_SIDE: usize = 2;

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

/// The best, not more than two of a side: what differs in size alone is hardly a choice.
fn chosen_few<L>(all: &[(Placing, L)]) -> Vec<&(Placing, L)> {
    let mut few: Vec<&(Placing, L)> = Vec::new();
    for way in all {
        let alike = few.iter().filter(|known| known.0.stand.spot == way.0.stand.spot).count();
        if few.len() < SHOWN && alike < OF_ONE_SIDE {
            few.push(way);
        }
    }
    few
}

/// A length as the layout's other lengths are written.
fn written(mm: f64, inches: bool) -> String {
    if inches {
        format!("{} in", trimmed(mm / MM_PER_INCH, 5))
    } else {
        format!("{} mm", trimmed(mm, 3))
    }
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
    let mut document: DocumentMut =
        text.parse().map_err(|_| "the layout cannot be edited".to_owned())?;
    let photo = document
        .get_mut("photo")
        .and_then(Item::as_array_of_tables_mut)
        .and_then(|all: &mut ArrayOfTables| all.get_mut(index))
        .ok_or("its photographs are not written as [[photo]] tables")?;
    let place = match placing.stand.spot {
        Standing::Side(side) => side.word(),
        Standing::At(..) => return Ok(text.to_owned()),
    };
    put(photo, "place", place);
    let by_height = photo.contains_key("height") && !photo.contains_key("width");
    if by_height {
        put(photo, "height", &written(placing.stand.height, inches));
    } else {
        put(photo, "width", &written(placing.stand.width, inches));
        if photo.contains_key("height") {
            put(photo, "height", &written(placing.stand.height, inches));
        }
    }
    photo.remove("keeps");
    Ok(document.to_string())
}

/// Sets a key; what stands round its value, such as a remark, stays.
fn put(table: &mut Table, key: &str, text: &str) {
    match table.get_mut(key).and_then(Item::as_value_mut) {
        Some(old) => {
            let decor = old.decor().clone();
            *old = text.into();
            *old.decor_mut() = decor;
        }
        None => table[key] = value(text),
    }
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

    #[test]
    fn of_one_side_no_more_than_two_are_shown() {
        let sides = [PhotoSide::Left, PhotoSide::Left, PhotoSide::Left, PhotoSide::Top];
        let all: Vec<_> = sides.iter().map(|side| (placing(*side, 20.0, 20.0), ())).collect();
        let few: Vec<Standing> = chosen_few(&all).iter().map(|way| way.0.stand.spot).collect();
        let side = Standing::Side;
        assert_eq!(few, [side(PhotoSide::Left), side(PhotoSide::Left), side(PhotoSide::Top)]);
    }
}
