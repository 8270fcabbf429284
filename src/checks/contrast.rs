//! Whether letters stand out from their ground, by the colours of the proof; and what the
//! side they are made from asks of the plate.

use crate::finding::{Finding, Quantity, Scope, Severity};
use crate::layout::{Colours, Cut, Fill, Finish, Named, Process, Side};
use crate::plate::{Look, fill_row, look};
use crate::units::digits::fixed;

use super::{COMMON, Facts, GEOMETRY, at_key};

/// Least contrast ratio of letters to their ground.
const LEAST: f64 = 3.0;
const WCAG: &str = "W3C, WCAG 2.2, success criterion 1.4.11 (3 to 1), by the proof's colours";

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let all = [not_clear(facts), clear(facts), low(facts), no_ink(facts), on_satin(facts)];
    all.into_iter().flatten().collect()
}

/// A finding of the lettering at a key without figures.
fn plain(
    code: &'static str,
    severity: Severity,
    key: &str,
    message: String,
    (rule, source): (&str, &str),
) -> Finding {
    Finding {
        code,
        severity,
        scope: Scope::Lettering,
        place: at_key(key),
        message,
        measured: None,
        required: None,
        rule: rule.to_owned(),
        source: source.to_owned(),
    }
}

/// Letters in the back of a plate that nobody sees through.
fn not_clear(facts: &Facts<'_>) -> Option<Finding> {
    let plate = &facts.layout.plate;
    (facts.layout.engraving.from == Side::Behind && !plate.see_through()).then(|| {
        let message = format!(
            "The plate is engraved from behind, and {} is not clear: nothing of the lettering \
             is seen from the front.",
            plate.made_of()
        );
        let rule = ("letters in the back are read through the plate", GEOMETRY);
        plain("not-clear", Severity::Stop, "engraving.from", message, rule)
    })
}

/// The ground of a clear plate is what lies behind it.
fn clear(facts: &Facts<'_>) -> Option<Finding> {
    facts.layout.plate.clear().then(|| {
        let message = "The plate is clear: whether its letters stand out depends on what lies \
                       behind it, which is not known here, and tape, glue and studs behind it \
                       show. Hold a scrap against the face."
            .to_owned();
        let rule = ("letters stand out from their ground", COMMON);
        plain("clear-plate", Severity::Note, "plate.material", message, rule)
    })
}

/// Two colours of letters and ground that are too alike.
fn low(facts: &Facts<'_>) -> Option<Finding> {
    let plate = &facts.layout.plate;
    if plate.clear() {
        return None;
    }
    let look = look(plate);
    let fill = facts.layout.engraving.fill;
    let (colour, letters) = match (fill_row(fill), plate.colours) {
        (Some(paint), _) => (paint.rgb, format!("{} letters", fill.word())),
        (None, _) if facts.layout.engraving.process == Process::Printed => return None,
        (None, Colours::Coat(_)) => {
            (look.cut, format!("letters that show the {} beneath", plate.material.word()))
        }
        (None, Colours::Layers { core, .. }) => {
            (look.cut, format!("letters that show the {} core", core.word()))
        }
        (None, _) => return None,
    };
    let ratio = look.contrast(colour);
    (ratio < LEAST).then(|| Finding {
        code: "low-contrast",
        severity: Severity::Caution,
        scope: Scope::Lettering,
        place: at_key("engraving.fill"),
        message: format!(
            "Letters and ground are too alike: {letters} on {} stand at {} to 1 by the proof's \
             colours, {} to 1 is the least.{}",
            plate.made_of(),
            floored(ratio),
            fixed(LEAST, 0),
            better(&look)
        ),
        measured: Some(Quantity { value: ratio, unit: "to 1" }),
        required: Some(Quantity { value: LEAST, unit: "to 1" }),
        rule: "contrast of letters to their ground".to_owned(),
        source: WCAG.to_owned(),
    })
}

/// Two decimals, never rounded up over the bound that is missed.
fn floored(ratio: f64) -> String {
    fixed((ratio * 100.0).floor() / 100.0, 2)
}

/// The paint that stands out most, where one does enough.
fn better(look: &Look) -> String {
    let paints = Fill::ALL.iter().filter_map(|(word, fill)| {
        let ratio = look.contrast(fill_row(*fill)?.rgb);
        (ratio >= LEAST).then_some((*word, ratio))
    });
    let best = paints.max_by(|one, other| one.1.total_cmp(&other.1));
    best.map_or_else(String::new, |(word, ratio)| {
        format!(" Paint in {word} would stand at {} to 1.", floored(ratio))
    })
}

/// Printed letters without a colour.
fn no_ink(facts: &Facts<'_>) -> Option<Finding> {
    let engraving = &facts.layout.engraving;
    (engraving.process == Process::Printed && engraving.fill == Fill::None).then(|| {
        let message = "The letters are printed, and no colour is told: name it as the fill, so \
                       that it can be proofed and its contrast worked out."
            .to_owned();
        let rule = ("printed letters have a colour", COMMON);
        plain("no-ink-colour", Severity::Caution, "engraving.fill", message, rule)
    })
}

/// Bare cuts in brushed metal: cut and ground catch the light alike.
fn on_satin(facts: &Facts<'_>) -> Option<Finding> {
    let (plate, engraving) = (&facts.layout.plate, &facts.layout.engraving);
    let metal = plate.material.is_metal() && plate.colours == Colours::Own;
    // A laser marks dark, and what is cast or blasted has another surface.
    let bare = matches!(
        engraving.process,
        Process::Rotary | Process::Drag | Process::Burnished | Process::HandCut
    );
    let unfilled = engraving.fill == Fill::None && engraving.cut == Cut::Incised;
    (metal && bare && unfilled && plate.finish == Finish::Satin).then(|| {
        let message = format!(
            "Unfilled letters in {} catch the light much as its brushed ground does, and are hard \
             to read from some sides. The proof draws them darker than they may look: fill them, \
             or show a sample.",
            plate.made_of()
        );
        let rule = ("letters in satin metal are filled", COMMON);
        plain("unfilled-on-satin", Severity::Caution, "engraving.fill", message, rule)
    })
}
