//! `ansata lettering`: what is shipped, by its look and what it can do, under which
//! licence; and specimens of it.

use serde_json::{Value, json};

use crate::files::Failure;
use crate::layout::{LetteringChoice, Named};
use crate::lettering::{
    Catalogue, Entry, Face, Family, Filter, SmallCapitals, UnknownWord, catalogue, minima_row,
    nearest_entry, script_name,
};
use crate::units::digits::{fixed, trimmed};

use super::{LetteringArguments, Outcome, say, specimen};

/// Columns of the table: what a terminal shows on a small screen or a printed page.
const COLUMNS: usize = 100;
/// What 703.5.4 of the 2010 ADA Standards asks of O ÷ I.
const O_TO_I: std::ops::RangeInclusive<f64> = 0.55..=1.10;
/// What 703.5.7 of the same asks of the stroke of I ÷ its height.
const STROKE_OF_I: std::ops::RangeInclusive<f64> = 0.10..=0.30;
/// A cut that the list takes for an example, mm: a fine rotary cutter's. Common practice, no
/// source.
const FINE_CUT: f64 = 0.2;

pub(super) fn lettering(arguments: &LetteringArguments) -> Result<Outcome, Failure> {
    let catalogue = catalogue();
    let filter = filter(catalogue, arguments)?;
    if arguments.specimen.is_some() || arguments.layout.is_some() {
        return specimen::specimen(arguments, catalogue, &filter.entries(catalogue));
    }
    specimen::alone(arguments)?;
    let entries: Vec<&Entry> = match &arguments.name {
        None => filter.entries(catalogue),
        Some(name) => vec![named(catalogue, name)?],
    };
    if arguments.licence {
        licences(catalogue, &entries);
    } else if arguments.json {
        let list: Vec<_> = entries.iter().filter_map(|e| described(catalogue, e)).collect();
        let text = serde_json::to_string_pretty(&list).unwrap_or_default();
        say::out(&format!("{text}\n"));
    } else if entries.is_empty() {
        say::out("no shipped lettering is like that; fewer words find more\n");
    } else {
        say::out(&table(catalogue, &entries, arguments.name.is_some()));
    }
    Ok(Outcome::Clear)
}

/// What the arguments ask of a lettering.
fn filter(catalogue: &Catalogue, arguments: &LetteringArguments) -> Result<Filter, Failure> {
    let mut filter = Filter { small_capitals: arguments.small_capitals, ..Filter::default() };
    let told = |option: &'static str| move |unknown| unknown_word(option, &unknown);
    for word in &arguments.look {
        filter.with_look(catalogue, word).map_err(told("--look"))?;
    }
    for word in &arguments.script {
        filter.with_script(word).map_err(told("--script"))?;
    }
    for word in &arguments.axis {
        filter.with_axis(word).map_err(told("--axis"))?;
    }
    for word in &arguments.figures {
        filter.with_figures(word).map_err(told("--figures"))?;
    }
    Ok(filter)
}

fn unknown_word(option: &str, unknown: &UnknownWord) -> Failure {
    let help = match &unknown.nearest {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("it may be: {}", unknown.known.join(", ")),
    };
    Failure::Input(format!("error: {option} `{}`: no lettering is so; {help}", unknown.word))
}

fn named<'a>(catalogue: &'a Catalogue, name: &str) -> Result<&'a Entry, Failure> {
    catalogue.entries.iter().find(|entry| entry.name == name).ok_or_else(|| {
        let hint = nearest_entry(name)
            .map_or_else(String::new, |entry| format!("; did you mean `{}`?", entry.name));
        Failure::Input(format!("error: no shipped lettering is called `{name}`{hint}"))
    })
}

/// Families of entries, each once, in their order.
fn families<'c>(catalogue: &'c Catalogue, entries: &[&Entry]) -> Vec<&'c Family> {
    let mut families: Vec<&Family> = Vec::new();
    for family in entries.iter().filter_map(|entry| catalogue.family(entry)) {
        if families.iter().all(|known| known.name != family.name) {
            families.push(family);
        }
    }
    families
}

/// Prints the licence of each family, under its name where there are several.
fn licences(catalogue: &Catalogue, entries: &[&Entry]) {
    let families = families(catalogue, entries);
    for family in &families {
        if families.len() > 1 {
            say::out(&format!("\n===== {} ({}) =====\n\n", family.name, family.spdx));
        }
        // The Apache License names nobody: its copyright line goes before it.
        if !family.licence_text.contains(&family.copyright) {
            say::out(&format!("{}\n\n", family.copyright));
        }
        say::out(family.licence_text);
    }
}

fn opened(entry: &Entry) -> Option<std::sync::Arc<Face>> {
    Face::open(&LetteringChoice::shipped(entry.name.as_str())).ok()
}

/// To a thousandth, as far as shares of a cap height are measured.
fn share(value: f64) -> Value {
    json!((value * 1000.0).round() / 1000.0)
}

fn described(catalogue: &Catalogue, entry: &Entry) -> Option<Value> {
    let family = catalogue.family(entry)?;
    let face = opened(entry)?;
    let minima = minima_row(&entry.name);
    let axes: Vec<Value> = (entry.axes.iter())
        .map(|(tag, value)| {
            let range = family.axes.iter().find(|axis| axis.axis.tag() == tag);
            json!({
                "tag": tag, "value": value,
                "key": range.map(|axis| axis.axis.key()),
                "least": range.map(|axis| axis.least), "most": range.map(|axis| axis.most),
                "words": range.map(|axis| {
                    axis.words.iter().map(|(word, value)| ((*word).to_owned(), json!(value)))
                        .collect::<serde_json::Map<_, _>>()
                }),
            })
        })
        .collect();
    let scripts: Vec<Value> = (family.scripts.iter())
        .map(|(code, letter)| {
            let height = face.reference_units(code).map(|top| share(top / face.cap_units));
            json!({ "code": code, "name": script_name(code), "reference_letter": letter,
                "reference_height_share": height })
        })
        .collect();
    let o_to_i = face.o_to_i();
    Some(json!({
        "name": entry.name,
        "family": family.name,
        "group": family.group.word(),
        "look": family.look,
        "licence": family.spdx,
        "copyright": family.copyright,
        "source": family.source,
        "scripts": scripts,
        "file": entry.file,
        "axes": axes,
        "small_capitals": family.small_capitals.word(),
        "figures": family.figures.iter().map(|figures| figures.word()).collect::<Vec<_>>(),
        "cap_height_em": share(face.cap_em()),
        "x_height_share": face.x_units.map(|x| share(x / face.cap_units)),
        "thinnest_stroke_share": minima.map(|row| share(row.stroke)),
        "thinnest_stroke_in": minima.map(|row| row.stroke_in),
        "narrowest_counter_share": minima.map(|row| share(row.counter)),
        "narrowest_counter_in": minima.map(|row| row.counter_in),
        "stroke_of_i_share": minima.map(|row| share(row.stem)),
        "stroke_of_i_meets_ada_703_5_7": minima.map(|row| STROKE_OF_I.contains(&row.stem)),
        "o_to_i": o_to_i.map(share),
        "o_to_i_meets_ada_703_5_4": o_to_i.map(|ratio| O_TO_I.contains(&ratio)),
    }))
}

/// The list, by groups and families: styles at the left, what is true of the whole family
/// beside them, with the words for its axes or without.
fn table(catalogue: &Catalogue, entries: &[&Entry], words: bool) -> String {
    let widest = entries.iter().map(|entry| entry.name.chars().count()).max().unwrap_or(0) + 2;
    let mut text = format!("{:widest$}  x/cap    O/I     cut\n", "");
    let facts_at = widest + "  x/cap  100.0 %!  10.0  ".len();
    let mut group = None;
    for family in families(catalogue, entries) {
        if group != Some(family.group) {
            group = Some(family.group);
            text.push_str(&format!("{}\n", family.group.heading()));
        }
        let styles = entries
            .iter()
            .filter(|entry| catalogue.family(entry).is_some_and(|own| own.name == family.name));
        let styles: Vec<String> = styles.map(|entry| style_row(entry, widest)).collect();
        let facts = facts(family, words, COLUMNS.saturating_sub(facts_at).max(30));
        for row in 0..styles.len().max(facts.len()) {
            let style = styles.get(row).map_or("", String::as_str);
            let fact = facts.get(row).map_or("", String::as_str);
            text.push_str(format!("{style:facts_at$}{fact}").trim_end());
            text.push('\n');
        }
    }
    text.push_str(
        "\nx/cap: height of x in cap heights. O/I: width of O in heights of I; on signs the\n\
         2010 ADA Standards (703.5.4) ask for 55 % to 110 %: ! is outside. cut: the least cap\n\
         height, mm, at which no stroke of its letters is thinner than a cut of 0.2 mm.\n",
    );
    text
}

fn style_row(entry: &Entry, widest: usize) -> String {
    let face = opened(entry);
    let x = face.as_ref().and_then(|face| face.x_units.map(|x| fixed(x / face.cap_units, 2)));
    let o = face.and_then(|face| face.o_to_i());
    let mark = if o.is_some_and(|o| !O_TO_I.contains(&o)) { "!" } else { "" };
    let o = o.map_or_else(|| "-".to_owned(), |o| format!("{:>5} %{mark}", fixed(o * 100.0, 1)));
    let name = format!("  {}", entry.name);
    let cut = minima_row(&entry.name).map(|row| fixed(FINE_CUT / row.stroke, 1));
    let [x, cut] = [x, cut].map(|figure| figure.unwrap_or_else(|| "-".to_owned()));
    format!("{name:widest$}  {x:<5}  {o:<8}  {cut:>4}")
}

/// What is true of a family, in rows of a width; with the words for its axes or without.
fn facts(family: &Family, words: bool, width: usize) -> Vec<String> {
    let scripts: Vec<&str> = family.scripts.iter().map(|(code, _)| script_name(code)).collect();
    let mut can: Vec<String> = Vec::new();
    for axis in &family.axes {
        let number = |value: f32| trimmed(f64::from(value), 1);
        let (least, most) = (number(axis.least), number(axis.most));
        let named = axis.words.iter().filter(|_| words);
        let named: Vec<String> =
            named.map(|(word, value)| format!("{word} {}", number(*value))).collect();
        let named =
            if named.is_empty() { String::new() } else { format!(" ({})", named.join(", ")) };
        can.push(format!("{} {least} to {most}{named}", axis.axis.name()));
    }
    match family.small_capitals {
        SmallCapitals::Real => can.push("small capitals".to_owned()),
        SmallCapitals::LowerCase => can.push("lower case as small capitals".to_owned()),
        SmallCapitals::None => {}
    }
    let figures: Vec<&str> = family.figures.iter().map(|figures| figures.word()).collect();
    if !figures.is_empty() {
        can.push(format!("{} figures", figures.join(", ")));
    }
    let stands = format!("{} \u{b7} {}", scripts.join(", "), family.spdx);
    let said = [family.look.join(", "), stands, can.join("; ")];
    said.iter().filter(|said| !said.is_empty()).flat_map(|said| wrapped(said, width)).collect()
}

/// A text in rows of at most a width, broken at spaces; later rows stand in a little.
fn wrapped(text: &str, width: usize) -> Vec<String> {
    let mut rows: Vec<String> = Vec::new();
    for word in text.split(' ') {
        match rows.last_mut() {
            Some(row) if row.chars().count() + 1 + word.chars().count() <= width => {
                row.push(' ');
                row.push_str(word);
            }
            Some(_) => rows.push(format!("  {word}")),
            None => rows.push(word.to_owned()),
        }
    }
    rows
}
