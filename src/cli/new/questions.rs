//! The questions, in the order in which a maker decides things. Each answer is put into
//! the layout so far and read by the reader of layouts, so that what it says of an answer
//! is what it would say of the file.

use crate::cli::say;
use crate::files::Failure;
use crate::files::load::vocabulary;
use crate::layout::{Layout, Shop, Source, read};
use crate::lettering::catalogue;

use super::answers::{Answers, Face, quoted};
use super::ask::{Asker, Question, Wrong};
use super::{fixing, told};

/// Lettering that is offered first: it goes with most plaques, and has all styles.
const USUAL_LETTERING: &str = "EB Garamond";

/// Words for the look of a lettering that are shown: as many as stand in one row.
const LOOKS: usize = 3;

/// What is said before the first question.
const OPENING: &str = "A few questions, then the layout is written.\n\
    Enter takes what stands in [brackets]; ? shows what may be answered.\n\n";

/// A measure of an outline: its key, what is asked, what is offered in mm and in inches.
type Measure = (&'static str, &'static str, &'static str, &'static str);

/// Outlines that are asked for: word, the measure that it needs.
const OUTLINES: [(&str, Option<Measure>); 7] = [
    ("rectangle", None),
    ("rounded", Some(("corner", "  Radius of its corners", "5 mm", "3/16 in"))),
    ("notched", Some(("corner", "  Radius of its notches", "5 mm", "3/16 in"))),
    ("oval", None),
    ("circle", None),
    ("arch", Some(("rise", "  Height of its round head", "15 mm", "5/8 in"))),
    ("ansate", None),
];

/// Asks everything.
pub(super) fn answers(asker: &mut Asker<'_>) -> Result<Answers, Failure> {
    say::out(OPENING);
    let mut answers = Answers::begun(USUAL_LETTERING);
    plate(asker, &mut answers)?;
    wording(asker, &mut answers)?;
    lettering(asker, &mut answers)?;
    fixing::fixing(asker, &mut answers)?;
    face(asker, &mut answers)?;
    Ok(answers)
}

/// The layout of the answers, or the first mistake in it.
pub(super) fn checked(answers: &Answers) -> Result<Layout, Wrong> {
    let source = Source { name: "answer".to_owned(), text: answers.layout() };
    let none = |_: &str| Err("it is not asked for".to_owned());
    read(&source, Shop::default(), &vocabulary(), &none).map_err(|mistakes| {
        let first = mistakes.into_iter().next();
        let (message, help) = first.map_or_else(Default::default, |m| (m.message, m.help));
        Wrong { message, help: help.unwrap_or_default() }
    })
}

/// Asks one thing and keeps the answer.
pub(super) fn keep(
    asker: &mut Asker<'_>,
    answers: &mut Answers,
    question: &Question<'_>,
    put: impl Fn(&mut Answers, &str),
) -> Result<Layout, Failure> {
    let (taken, layout) = asker.ask(question, |answer| {
        let mut tried = answers.clone();
        put(&mut tried, unquoted(answer));
        checked(&tried).map(|layout| (tried, layout))
    })?;
    *answers = taken;
    Ok(layout)
}

/// An answer without the quotes that a layout file would have.
fn unquoted(answer: &str) -> &str {
    answer.strip_prefix('"').and_then(|rest| rest.strip_suffix('"')).unwrap_or(answer)
}

fn plate(asker: &mut Asker<'_>, answers: &mut Answers) -> Result<(), Failure> {
    let question = Question {
        asked: "Plate, width x height",
        usual: None,
        help: "such as 120 x 80 mm, 12 x 8 cm or 4 3/4 x 3 in",
    };
    answers.inches =
        keep(asker, answers, &question, |a, answer| a.size = answer.to_owned())?.inches;
    outline(asker, answers)?;
    let help = told::told("plate.material");
    let question = Question { asked: "Material", usual: Some("brass"), help: &help };
    keep(asker, answers, &question, |a, answer| a.material = answer.to_owned())?;
    Ok(())
}

fn outline(asker: &mut Asker<'_>, answers: &mut Answers) -> Result<(), Failure> {
    let known = OUTLINES.map(|(word, _)| word).join(", ");
    let help =
        format!("{known}\nA polygon is written into the layout afterwards: shape = \"points\"");
    let question = Question { asked: "Outline", usual: Some("rectangle"), help: &help };
    let inches = answers.inches;
    let put = |a: &mut Answers, answer: &str, further: Option<&str>| {
        let needs = OUTLINES.iter().find(|(word, _)| *word == answer).and_then(|(_, n)| *n);
        a.outline = match answer {
            "rectangle" => Vec::new(),
            _ => vec![("shape", quoted(answer))],
        };
        if let Some((key, _, mm, inch)) = needs {
            let usual = if inches { inch } else { mm };
            a.outline.push((key, quoted(further.unwrap_or(usual))));
        }
    };
    keep(asker, answers, &question, |a, answer| put(a, answer, None))?;
    let shape = answers.shape().map(str::to_owned);
    let needs = OUTLINES.iter().find(|(word, _)| shape.as_deref() == Some(*word));
    if let Some((word, Some((_, asked, mm, inch)))) = needs {
        let usual = if inches { inch } else { mm };
        let question = Question { asked, usual: Some(usual), help: "a length, such as 5 mm" };
        keep(asker, answers, &question, |a, answer| put(a, word, Some(answer)))?;
    }
    Ok(())
}

fn wording(asker: &mut Asker<'_>, answers: &mut Answers) -> Result<(), Failure> {
    say::out("Wording, line by line; an empty line ends it.\n");
    let mut lines: Vec<String> = Vec::new();
    loop {
        let asked = format!("  {}", lines.len() + 1);
        let help = "the words to be engraved, letter for letter";
        let usual = if lines.is_empty() { None } else { Some("") };
        // A question mark may be a line of its own: only an empty line shows the help.
        let next = asker.ask_plainly(&Question { asked: &asked, usual, help }, |answer| {
            if answer.is_empty() {
                return Ok(None);
            }
            let mut tried = answers.clone();
            tried.lines.clone_from(&lines);
            tried.lines.push(answer.to_owned());
            checked(&tried).map(|_| Some(answer.to_owned()))
        })?;
        let Some(next) = next else { break };
        lines.push(next);
    }
    answers.lines = lines;
    let first = answers.lines.first().cloned().unwrap_or_default();
    let question = Question {
        asked: "Name of the work",
        usual: Some(&first),
        help: "what the sheets call it, in one line",
    };
    keep(asker, answers, &question, |a, answer| a.title = answer.to_owned())?;
    Ok(())
}

fn lettering(asker: &mut Asker<'_>, answers: &mut Answers) -> Result<(), Failure> {
    let catalogue = catalogue();
    let widest = catalogue.names().map(str::len).max().unwrap_or(0);
    let list: Vec<String> = catalogue
        .entries
        .iter()
        .map(|entry| {
            let look = catalogue.family(entry).map_or(&[][..], |family| &family.look);
            let look: Vec<&str> = look.iter().take(LOOKS).map(String::as_str).collect();
            format!("{:widest$}  {}", entry.name, look.join(", "))
        })
        .collect();
    let help = list.join("\n");
    let question = Question { asked: "Lettering", usual: Some(USUAL_LETTERING), help: &help };
    keep(asker, answers, &question, |a, answer| a.lettering = answer.to_owned())?;
    Ok(())
}

fn face(asker: &mut Asker<'_>, answers: &mut Answers) -> Result<(), Failure> {
    let question = Question {
        asked: "The face it goes on, width x height (Enter: not known)",
        usual: Some(""),
        help: "the front of the plinth or board, such as 150 x 110 mm",
    };
    let (material, thickness) = ("hardwood", if answers.inches { "3/4 in" } else { "19 mm" });
    let put = |a: &mut Answers, size: &str, material: &str, thickness: &str| {
        a.face = (!size.is_empty()).then(|| Face {
            size: quoted(size),
            material: quoted(material),
            thickness: quoted(thickness),
        });
    };
    keep(asker, answers, &question, |a, size| put(a, size, material, thickness))?;
    if answers.face.is_none() {
        return Ok(());
    }
    let help = told::told("face.material");
    let question = Question { asked: "  Its wood", usual: Some(material), help: &help };
    keep(asker, answers, &question, |a, wood| {
        if let Some(face) = &mut a.face {
            face.material = quoted(wood);
        }
    })?;
    let help = "thickness of the wood behind the plate";
    let question = Question { asked: "  Its thickness", usual: Some(thickness), help };
    keep(asker, answers, &question, |a, thickness| {
        if let Some(face) = &mut a.face {
            face.thickness = quoted(thickness);
        }
    })?;
    Ok(())
}
